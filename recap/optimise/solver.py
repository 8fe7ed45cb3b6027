"""Run a PuLP program with HiGHS or with the CBC that PuLP brings, and say truly what came of it.

PuLP calls a solve that ran out of time "Optimal"; here only a solve that closed the gap is
:attr:`Found.PROVEN`. Both gaps are set to zero (HiGHS would stop at 1e-4 of the total).
"""

from __future__ import annotations

import re
import tempfile
import threading
import time
from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum
from pathlib import Path
from typing import TYPE_CHECKING, Any

import highspy
import numpy as np
import pulp

if TYPE_CHECKING:
    from collections.abc import Mapping

Program = Any
"""A ``pulp.LpProblem``; PuLP has no types."""

Event = Any
"""What highspy hands to a callback."""

Report = Callable[[float, float], None]
"""Called on long solves with the best objective so far and the bound, both in the program's units."""

TOLERANCE = 1e-7
"""How far from whole a variable may be, and from its side a row (largest coefficients are about 1e6)."""


class Found(StrEnum):
    """What a solve came to."""

    PROVEN = "proven"
    FEASIBLE = "feasible"
    INFEASIBLE = "infeasible"
    NOTHING = "nothing"


@dataclass(frozen=True, slots=True)
class Answer:
    """``bound`` is in the program's units; the values stand in the program's variables.

    ``interrupted``: the user pressed Ctrl-C.
    """

    found: Found
    objective: float | None
    bound: float
    interrupted: bool = False


def run(
    program: Program,
    solver: str = "highs",
    time_limit: float | None = None,
    report: Report | None = None,
    start: Mapping[str, float] | None = None,
) -> Answer:
    """Solve ``program`` to the optimum or the time limit (seconds). Raises ValueError for an unknown solver.

    ``start``: values of all variables by name, a feasible solution to begin with.
    """
    if time_limit is not None and time_limit <= 0:
        return Answer(Found.NOTHING, None, float("-inf"))
    if solver == "highs":
        return _run_highs(program, time_limit, report, start)
    if solver == "cbc":
        return _run_cbc(program, time_limit)
    raise ValueError(f"unknown solver {solver!r}: highs or cbc")


class Highs(pulp.HiGHS):  # type: ignore[misc]
    """PuLP's HiGHS with the whole model passed at once, a first solution, progress and Ctrl-C."""

    def __init__(self, report: Report | None, start: Mapping[str, float] | None, **options: float | None) -> None:
        """Keep the callbacks beside PuLP's own options."""
        super().__init__(**options)
        self.report = report
        self.start = start
        self.stopped = threading.Event()

    def buildSolverModel(self, lp: Program) -> None:
        """Hand the model over in one piece: PuLP's own loop over columns takes seconds on large orders."""
        model = as_arrays(lp)
        lp.solverModel.passModel(model)
        if self.start is not None:
            solution = highspy.HighsSolution()
            solution.col_value = [self.start[var.name] for var in lp.variables()]
            lp.solverModel.setSolution(solution)

    def callSolver(self, lp: Program) -> None:
        """Run in a thread, so that Ctrl-C reaches us; it stops the solver, which keeps its best solution."""
        highs = lp.solverModel
        highs.cbMipInterrupt += self._interrupt
        if self.report is not None:
            highs.cbMipLogging += self._log
        worker = threading.Thread(target=highs.run, daemon=True)
        worker.start()
        while worker.is_alive():
            try:
                worker.join(0.1)
            except KeyboardInterrupt:
                self.stopped.set()

    def _interrupt(self, event: Event) -> None:
        if self.stopped.is_set():
            event.data_in.user_interrupt = True

    def _log(self, event: Event) -> None:
        if self.report is not None:
            self.report(event.data_out.mip_primal_bound, event.data_out.mip_dual_bound)


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


def _run_highs(
    program: Program,
    time_limit: float | None,
    report: Report | None,
    start: Mapping[str, float] | None,
) -> Answer:
    options = {
        "mip_feasibility_tolerance": TOLERANCE,
        "primal_feasibility_tolerance": TOLERANCE,
        "dual_feasibility_tolerance": TOLERANCE,
    }
    adapter = Highs(report, start, msg=False, gapRel=0.0, gapAbs=0.0, timeLimit=time_limit, threads=1, **options)
    program.solve(adapter)
    highs = program.solverModel
    info, status = highs.getInfo(), highs.getModelStatus()
    has_solution = info.primal_solution_status == highspy.SolutionStatus.kSolutionStatusFeasible
    whole = any(var.cat == pulp.LpInteger for var in program.variables())
    objective = info.objective_function_value if has_solution else None
    if status == highspy.HighsModelStatus.kOptimal:
        bound = info.mip_dual_bound if whole else info.objective_function_value
        return Answer(Found.PROVEN, objective, bound)
    if status in {highspy.HighsModelStatus.kInfeasible, highspy.HighsModelStatus.kUnboundedOrInfeasible}:
        return Answer(Found.INFEASIBLE, None, float("inf"))
    bound = info.mip_dual_bound if whole else float("-inf")
    found = Found.FEASIBLE if has_solution else Found.NOTHING
    return Answer(found, objective, bound, interrupted=adapter.stopped.is_set())


def _run_cbc(program: Program, time_limit: float | None) -> Answer:
    with tempfile.TemporaryDirectory() as folder:
        log = Path(folder) / "cbc.log"
        adapter = pulp.PULP_CBC_CMD(msg=False, gapRel=0.0, gapAbs=0.0, timeLimit=time_limit, logPath=str(log))
        began = time.monotonic()
        program.solve(adapter)
        text = log.read_text(encoding="utf-8", errors="replace") if log.exists() else ""
    in_time = time_limit is None or time.monotonic() - began < time_limit
    if program.sol_status == pulp.LpSolutionInfeasible:
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
