"""Run a PuLP program with HiGHS or with the CBC that PuLP brings, and say truly what came of it.

PuLP calls a solve that ran out of time "Optimal"; here only a solve that closed the gap is
:attr:`Found.PROVEN`. Both gaps are set to zero (HiGHS would stop at 1e-4 of the total).
"""

from __future__ import annotations

import re
import tempfile
import threading
import time
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from enum import StrEnum
from pathlib import Path
from typing import Any, Final

import highspy
import numpy as np
import pulp

Program = Any
"""A ``pulp.LpProblem``; PuLP has no types."""

Event = Any
"""What highspy hands to a callback."""

Report = Callable[[float, float], None]
"""Called on long solves with the best objective so far and the bound, both in the program's units."""

TOLERANCE = 1e-7
"""How far from whole a variable may be, and from its side a row (largest coefficients are about 1e6)."""


INFINITE = 1e30
"""Beyond this a solver's best objective stands for none."""

BETWEEN_REPORTS = 0.1
"""Seconds between two reports of progress."""

EXACT: Final[Mapping[str, float]] = {
    "mip_rel_gap": 0.0,
    "mip_abs_gap": 0.0,
    "threads": 1,
    "mip_feasibility_tolerance": TOLERANCE,
    "primal_feasibility_tolerance": TOLERANCE,
    "dual_feasibility_tolerance": TOLERANCE,
}
"""Gaps of nothing, tight tolerances, and one thread: more don't help here."""

SEARCHES = ("mip_heuristic_run_rins", "mip_heuristic_run_rens", "mip_heuristic_run_root_reduced_cost")
"""HiGHS's searches for better solutions: most of its time where a good one is known already."""


NONE = frozenset(
    {
        highspy.HighsModelStatus.kInfeasible,
        highspy.HighsModelStatus.kUnboundedOrInfeasible,
        highspy.HighsModelStatus.kObjectiveBound,
    }
)
"""What HiGHS says where there is no solution, or none good enough."""


@dataclass(frozen=True, slots=True)
class Patience:
    """Until when to search (:func:`time.monotonic`; None: without end).

    Not beyond ``brief`` once best and bound are within a ``hair``: nobody would wait for what is left.
    """

    deadline: float | None = None
    hair: float = 0.0
    brief: float | None = None

    def seconds(self, best: float | None = None, bound: float = 0.0) -> float | None:
        """Return the time left; raises TimeoutError where there is none."""
        close = best is not None and best - bound <= self.hair
        end = min((each for each in (self.deadline, self.brief if close else None) if each is not None), default=None)
        if end is None:
            return None
        left = end - time.monotonic()
        if left <= 0:
            raise TimeoutError
        return left


UNTIRING = Patience()
"""To the end, however long it takes."""


class Found(StrEnum):
    """What a solve came to."""

    PROVEN = "proven"
    FEASIBLE = "feasible"
    INFEASIBLE = "infeasible"
    NOTHING = "nothing"


@dataclass(frozen=True, slots=True)
class Answer:
    """``bound`` is in the program's units; the values stand in the program's variables.

    ``interrupted``: the user pressed Ctrl-C, maybe when the solver was just done.
    """

    found: Found
    objective: float | None
    bound: float
    interrupted: bool = False


def run(
    program: Program,
    solver: str = "highs",
    time_limit: float | None = None,
    *,
    report: Report | None = None,
    start: Mapping[str, float] | None = None,
    rough: bool = False,
    beyond: float | None = None,
    presolve: bool = True,
) -> Answer:
    """Solve ``program`` to the optimum or the time limit (seconds). Raises ValueError for an unknown solver.

    ``start``: values by name (0 where missing) of a good solution to begin with; HiGHS then doesn't look for others.
    ``rough``: HiGHS looks at the root of its search only. ``beyond``: solutions above this are none to HiGHS.
    Without ``presolve`` it takes longer, and may tell more truly that there is none.
    """
    if time_limit is not None and time_limit <= 0:
        return Answer(Found.NOTHING, None, float("-inf"))
    if solver == "highs":
        adapter = Highs(report, start, rough, beyond, presolve=presolve, msg=False, timeLimit=time_limit)
        return _run_highs(program, adapter)
    if solver == "cbc":
        return _run_cbc(program, time_limit)
    raise ValueError(f"unknown solver {solver!r}: highs or cbc")


class Quiet(highspy.Highs):
    """HiGHS without its banner: standard output is for the order alone."""

    def __init__(self) -> None:
        """Make a solver."""
        super().__init__()  # type: ignore[no-untyped-call]

    def enableCallbacks(self) -> None:
        """Turn the output off first: it is this call, made on construction, that prints the banner."""
        self.setOptionValue("output_flag", False)
        super().enableCallbacks()  # type: ignore[no-untyped-call]


def exact_solver(model: highspy.HighsLp) -> Quiet:
    """Return HiGHS with a program, to be solved without any gap."""
    highs = Quiet()
    for option, value in EXACT.items():
        highs.setOptionValue(option, value)
    passed = highs.passModel(model)
    assert passed is not highspy.HighsStatus.kError, "HiGHS takes the program"
    return highs


class Highs(pulp.HiGHS):  # type: ignore[misc]
    """PuLP's HiGHS with the whole model passed at once, a first solution, progress and Ctrl-C."""

    def __init__(
        self,
        report: Report | None,
        start: Mapping[str, float] | None,
        rough: bool,
        beyond: float | None,
        *,
        presolve: bool = True,
        **options: float | None,
    ) -> None:
        """Keep the callbacks beside PuLP's own options."""
        super().__init__(**options)
        self.rough = rough
        self.presolve = presolve and not rough and start is None
        self.beyond = beyond
        self.report = report
        self.start = start
        self.interrupted = False

    def createAndConfigureSolver(self, lp: Program) -> None:
        """Make the solver, with presolve and a search for better solutions only where they pay."""
        lp.solverModel = Quiet()
        options: dict[str, float | str] = {
            **EXACT,
            "presolve": "choose" if self.presolve else "off",
            "mip_max_nodes": 1 if self.rough else highspy.kHighsIInf,
        }
        if self.timeLimit is not None:
            options["time_limit"] = float(self.timeLimit)
        if self.beyond is not None:
            options["objective_bound"] = self.beyond
        for name, value in options.items():
            lp.solverModel.setOptionValue(name, value)
        for name in SEARCHES if self.start is not None else ():
            lp.solverModel.setOptionValue(name, False)

    def buildSolverModel(self, lp: Program) -> None:
        """Hand the model over in one piece: PuLP's own loop over columns takes seconds on large orders."""
        model = as_arrays(lp)
        lp.solverModel.passModel(model)
        if self.start is not None:
            solution = highspy.HighsSolution()
            solution.col_value = [self.start.get(var.name, 0.0) for var in lp.variables()]
            lp.solverModel.setSolution(solution)

    def callSolver(self, lp: Program) -> None:
        """Run it, heeding Ctrl-C."""
        self.interrupted = watched(lp.solverModel, self.report)

    def findSolutionValues(self, lp: Program) -> tuple[int, int]:
        """Set the variables; PuLP's own status words are not used, for they call a stopped solve optimal."""
        values = lp.solverModel.getSolution().col_value
        for var in lp.variables():
            var.varValue = values[var.index] if len(values) else None
        return pulp.LpStatusNotSolved, pulp.LpSolutionNoSolutionFound


def watched(highs: Quiet, report: Report | None) -> bool:
    """Run in a thread, so that Ctrl-C reaches us; tell whether it came. The solver keeps its best solution then.

    How far the solver is, is told from the event that asks whether to stop: its own events for that are off with its
    output.
    """
    stopped, ended = threading.Event(), threading.Event()
    next_report = 0.0

    def asked(event: Event) -> None:
        nonlocal next_report
        if stopped.is_set():
            event.data_in.user_interrupt = True
        now = time.monotonic()
        if report is not None and now >= next_report:
            next_report = now + BETWEEN_REPORTS
            report(event.data_out.mip_primal_bound, event.data_out.mip_dual_bound)

    def work() -> None:
        try:
            highs.run()
        finally:
            ended.set()  # an interrupted join() may take a thread for ended that runs on

    highs.cbMipInterrupt += asked
    threading.Thread(target=work, daemon=True).start()
    while not ended.is_set():
        try:
            ended.wait(0.1)
        except KeyboardInterrupt:
            stopped.set()
    return stopped.is_set()


def as_arrays(lp: Program) -> highspy.HighsLp:
    """Return the program as HiGHS takes it: columns in the order of ``lp.variables()``, rows by row."""
    variables = lp.variables()
    place = {id(var): i for i, var in enumerate(variables)}
    for i, var in enumerate(variables):
        var.index = i
    model = highspy.HighsLp()
    model.num_col_ = len(variables)
    costs = np.zeros(len(variables))
    for var, cost in lp.objective.items():
        costs[place[id(var)]] = cost
    model.col_cost_ = costs
    model.offset_ = float(lp.objective.constant)
    model.col_lower_ = np.array([_or(var.lowBound, -highspy.kHighsInf) for var in variables])
    model.col_upper_ = np.array([_or(var.upBound, highspy.kHighsInf) for var in variables])
    kinds = (highspy.HighsVarType.kContinuous, highspy.HighsVarType.kInteger)
    model.integrality_ = [kinds[var.cat == pulp.LpInteger] for var in variables]
    starts, columns, values, lower, upper = [0], [], [], [], []
    for i, row in enumerate(lp._constraints.values()):  # noqa: SLF001 - PuLP's own adapter reads it too
        row.index = i
        columns.extend([place[id(var)] for var in row])
        values.extend(row.values())
        starts.append(len(columns))
        lower.append(_or(row.getLb(), -highspy.kHighsInf))
        upper.append(_or(row.getUb(), highspy.kHighsInf))
    model.num_row_ = len(lower)
    model.row_lower_, model.row_upper_ = np.array(lower), np.array(upper)
    model.a_matrix_.format_ = highspy.MatrixFormat.kRowwise
    model.a_matrix_.start_ = np.array(starts)
    model.a_matrix_.index_ = np.array(columns, dtype=np.int32)
    model.a_matrix_.value_ = np.array(values, dtype=np.float64)
    return model


def _or(value: float | None, default: float) -> float:
    return default if value is None else float(value)


def _run_highs(program: Program, adapter: Highs) -> Answer:
    program.solve(adapter)
    highs = program.solverModel
    info, status = highs.getInfo(), highs.getModelStatus()
    has_solution = info.primal_solution_status == highspy.SolutionStatus.kSolutionStatusFeasible
    whole = any(var.cat == pulp.LpInteger for var in program.variables())
    objective = info.objective_function_value if has_solution else None
    if status == highspy.HighsModelStatus.kOptimal:
        bound = info.mip_dual_bound if whole else info.objective_function_value
        return Answer(Found.PROVEN, objective, bound, interrupted=adapter.interrupted)
    if status in NONE:
        return Answer(Found.INFEASIBLE, None, float("inf"), interrupted=adapter.interrupted)
    bound = info.mip_dual_bound if whole else float("-inf")
    found = Found.FEASIBLE if has_solution else Found.NOTHING
    return Answer(found, objective, bound, interrupted=adapter.interrupted)


def _run_cbc(program: Program, time_limit: float | None) -> Answer:
    with tempfile.TemporaryDirectory() as folder:
        log = Path(folder) / "cbc.log"
        adapter = pulp.PULP_CBC_CMD(msg=False, gapRel=0.0, gapAbs=0.0, timeLimit=time_limit, logPath=str(log))
        began = time.monotonic()
        program.solve(adapter)
        text = log.read_text(encoding="utf-8", errors="replace") if log.exists() else ""
    in_time = time_limit is None or time.monotonic() - began < time_limit
    if program.sol_status == pulp.LpSolutionInfeasible or program.status == pulp.LpStatusInfeasible:
        if in_time or "infeasible" in text:
            return Answer(Found.INFEASIBLE, None, float("inf"))
        return Answer(Found.NOTHING, None, float("-inf"))
    if program.sol_status not in {pulp.LpSolutionOptimal, pulp.LpSolutionIntegerFeasible}:
        return Answer(Found.NOTHING, None, float("-inf"))
    objective = float(pulp.value(program.objective) or 0.0)
    if program.sol_status == pulp.LpSolutionOptimal and "Stopped on time" not in text:
        return Answer(Found.PROVEN, objective, objective)
    lower = re.search(r"Lower bound:\s*(\S+)", text)
    return Answer(Found.FEASIBLE, objective, float(lower.group(1)) if lower else float("-inf"))
