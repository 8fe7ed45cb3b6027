"""Work out an order for a bench: gather the needs, find what suits, solve, and say what can't be had."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from datetime import date
from decimal import Decimal
from functools import partial
from typing import TYPE_CHECKING

from recap.bench.ages import is_old
from recap.match import candidates as matching
from recap.match.groups import gather
from recap.model import Group, Outcome, Problem, Status, Verdict
from recap.optimise.solve import solve
from recap.order.compare import alternatives, within
from recap.order.levels import out_of_scale
from recap.order.prefer import fewer_parcels, longer_life
from recap.order.report import Report, UnmetNeed, shares
from recap.order.unmet import held_group, held_need, together_needs, unfit_need

if TYPE_CHECKING:
    from collections.abc import Callable

    from recap.bench import Bench
    from recap.diagnostics import Diagnostic
    from recap.match.candidates import Candidates
    from recap.match.groups import Held
    from recap.model import Order, Position
    from recap.order.impossible import Impossible


SHARED = (
    "spares are shared: for each group so many pieces that suit it are left over, in the parcels or in the drawer, "
    "whichever other groups count on them too"
)
UNSETTLED = (
    "there may be an order of the same total with fewer suppliers or lines, or longer rated life: "
    "the time was too short"
)

REASON_SECONDS, ONE_REASON_SECONDS = 20.0, 5.0
"""What looking for the reasons of an impossible order may take, all and each, and what for the most that can be had."""


@dataclass(frozen=True, slots=True)
class OrderOptions:
    """What a person may ask of one order; None leaves it to ``bench.toml``.

    ``pay_for_parcels`` and ``pay_for_life``: percent that the order may cost more for fewer
    parcels, and then for longer rated life. ``leave_out`` tells of positions (set, position) that are done.
    """

    only_sets: frozenset[str] | None = None
    without: frozenset[str] = frozenset()
    max_suppliers: int | None = None
    spares: int | None = None
    allow_care: bool | None = None
    care_if_needed: bool | None = None
    split_groups: bool | None = None
    use_drawer: bool | None = None
    accept_doubts: bool = False
    leave_out: Callable[[str, Position], bool] | None = None
    pay_for_parcels: Decimal = Decimal(0)
    pay_for_life: Decimal = Decimal(0)
    time_limit: float | None = None
    solver: str = "highs"
    today: date | None = None


@dataclass(frozen=True, slots=True)
class Run:
    """One order worked out: what was asked, what was found, and the report that people get.

    With status impossible, ``part`` is the report of the cheapest order for all that can be had
    (None where nothing can). ``problem`` is what was solved: without the groups that nothing serves.
    """

    bench: Bench
    options: OrderOptions
    candidates: Candidates
    problem: Problem
    outcome: Outcome
    report: Report
    part: Report | None = None
    diagnostics: tuple[Diagnostic, ...] = ()
    held: tuple[Held, ...] = field(default=())


def run_order(
    bench: Bench,
    options: OrderOptions | None = None,
    progress: Callable[[Decimal | None, Decimal, float], None] | None = None,
) -> Run:
    """Return the cheapest order for what the bench's sets need, with everything there is to say of it."""
    asked = options or OrderOptions()
    asked_bench = _with_options(bench, asked)
    work = gather(asked_bench, asked.only_sets, accept_doubts=asked.accept_doubts, leave_out=asked.leave_out)
    found = matching.problem(asked_bench, work.groups, without=asked.without, today=asked.today)
    unmet = [*(unfit_need(u) for u in found.unfit.values()), *(held_need(h) for h in work.held)]
    groups = (*work.groups, *(held_group(h) for h in work.held))
    day = asked.today or date.today()  # noqa: DTZ011 - the user's own calendar day

    def answer(outcome: Outcome, covered: tuple[Group, ...], missing: tuple[UnmetNeed, ...]) -> Report:
        return Report(
            currency=bench.settings.currency,
            status=outcome.status,
            made_on=day,
            order=outcome.order,
            groups=covered,
            bound=outcome.bound,
            unmet=missing,
            care=_care(found, outcome.order),
            remarks=remarks,
            old=_old(outcome.order, day, bench.settings.offer_days),
        )

    problem = _without(found.problem, set(found.unfit))
    solve_one = partial(solve, solver=asked.solver, time_limit=asked.time_limit, progress=progress)
    outcome = solve_one(problem)
    if outcome.status is Status.IMPOSSIBLE:
        from recap.order.impossible import look_into  # seldom wanted

        some = within(REASON_SECONDS, asked.solver, any_order=True)
        why = look_into(problem, within(REASON_SECONDS, asked.solver, each=ONE_REASON_SECONDS), some)
        unmet += together_needs(why, problem, care=asked_bench.settings.allow_care)
        problem, outcome = why.problem, _all_that_can_be_had(why, solve_one)
    outcome, remarks = _preferred(problem, outcome, asked)
    remarks += _about(problem, outcome)
    report = answer(outcome, groups, tuple(unmet))
    part = None
    if unmet:
        lost = {need.group for need in unmet}
        covered = tuple(g for g in groups if g.id not in lost)
        part = answer(outcome, covered, tuple(unmet)) if outcome.order and covered else None
        report = replace(report, status=Status.IMPOSSIBLE, order=None, bound=None)
    told = (*work.diagnostics, *out_of_scale(found.problem))
    return Run(asked_bench, asked, found, problem, outcome, report, part, told, work.held)


def compared(run: Run, seconds: float | None = None) -> Run:
    """Return the run with what other ways to buy the same would cost, worked out within so many seconds."""
    shown = run.report if run.report.order else run.part
    if shown is None or shown.order is None:
        return run
    solve_one = within(seconds, run.options.solver)
    found = alternatives(run.problem, shown.order, shown.groups, run.bench.settings.spares, solve_one)
    part = replace(run.part, alternatives=found) if run.part else None
    return replace(run, report=replace(run.report, alternatives=found), part=part)


def _all_that_can_be_had(why: Impossible, solve_one: Callable[[Problem], Outcome]) -> Outcome:
    """Return the preferred of the cheapest orders for what can be had, which was looked into but briefly."""
    if why.outcome.order is None:
        return why.outcome
    again = solve_one(why.problem)
    return again if again.order is not None else why.outcome


def _about(problem: Problem, outcome: Outcome) -> tuple[str, ...]:
    """Return in words what a reader of the order must know of how it came about."""
    words = []
    if any(need.spares for need in problem.needs):
        words.append(SHARED)
    if outcome.status is Status.OPTIMAL and not outcome.preferred:
        words.append(UNSETTLED)
    return tuple(words)


def _preferred(problem: Problem, best: Outcome, options: OrderOptions) -> tuple[Outcome, tuple[str, ...]]:
    """Return the order that the user's extra percents pay for, and in words what they bought."""
    if best.status is not Status.OPTIMAL or best.order is None:
        return best, ()
    solve_one = within(options.time_limit, options.solver, prefer=True)
    narrowed, outcome = fewer_parcels(problem, best, options.pay_for_parcels, solve_one)
    outcome, hours = longer_life(narrowed, outcome, options.pay_for_life, solve_one)
    if outcome is best or outcome.order is None:
        return best, ()
    more = outcome.order.total - best.order.total
    words = [f"{more:.2f} more than the cheapest order of all, {best.order.total:.2f}, as you allowed"]
    if hours is not None:
        words.append(f"every wet part is rated for {hours.normalize():f} h or as long as is sold")
    return outcome, tuple(words)


def _with_options(bench: Bench, options: OrderOptions) -> Bench:
    settings = bench.settings
    if options.max_suppliers is not None:
        settings = replace(settings, max_suppliers=options.max_suppliers)
    if options.spares is not None:
        settings = replace(settings, spares=replace(settings.spares, pieces=options.spares))
    if options.allow_care is not None:
        settings = replace(settings, allow_care=options.allow_care, care_if_needed=False)
    if options.care_if_needed is not None:
        settings = replace(settings, care_if_needed=options.care_if_needed)
    if options.split_groups is not None:
        settings = replace(settings, one_part_per_group=not options.split_groups)
    if options.use_drawer is not None:
        settings = replace(settings, use_drawer=options.use_drawer)
    return replace(bench, settings=settings)


def _without(problem: Problem, lost: set[str]) -> Problem:
    return replace(problem, needs=tuple(need for need in problem.needs if need.group not in lost))


def _old(order: Order | None, today: date, days: int) -> frozenset[tuple[str, str]]:
    return frozenset(
        (line.part.supplier, line.part.number)
        for parcel in (order.suppliers if order else ())
        for line in parcel.lines
        if is_old(line.part.updated, today, days)
    )


def _care(found: Candidates, order: Order | None) -> dict[str, tuple[str, ...]]:
    """Return, by group, what "with care" means for the parts that the order gives it."""
    care: dict[str, tuple[str, ...]] = {}
    for group, served in shares(order).items():
        reasons = [
            f"{finding.rule}: {finding.reason}"
            for share in served
            if (judgement := found.judgement(group, share.part)) is not None
            for finding in judgement.findings
            if finding.verdict is Verdict.CARE
        ]
        if reasons:
            care[group] = tuple(dict.fromkeys(reasons))
    return care
