"""Work out an order for a bench: gather the needs, find what suits, solve, and say what can't be had."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from datetime import date
from typing import TYPE_CHECKING

from recap.match import candidates as matching
from recap.match.groups import gather
from recap.model import Group, Placed, Problem, Status, Verdict
from recap.optimise.solve import solve
from recap.order.report import NearMiss, Report, UnmetNeed, shares

if TYPE_CHECKING:
    from collections.abc import Callable
    from decimal import Decimal

    from recap.bench import Bench
    from recap.diagnostics import Diagnostic
    from recap.match.candidates import Candidates
    from recap.match.groups import Held
    from recap.match.nearest import Unfit
    from recap.model import Order, Outcome


@dataclass(frozen=True, slots=True)
class OrderOptions:
    """What a person may ask of one order; None leaves it to ``bench.toml``."""

    only_sets: frozenset[str] | None = None
    without: frozenset[str] = frozenset()
    max_suppliers: int | None = None
    spares: int | None = None
    allow_care: bool | None = None
    split_groups: bool | None = None
    use_drawer: bool | None = None
    accept_doubts: bool = False
    time_limit: float | None = None
    solver: str = "highs"
    today: date | None = None


@dataclass(frozen=True, slots=True)
class Run:
    """One order worked out: what was asked, what was found, and the report that people get.

    With status impossible, ``part`` is the report of the cheapest order for all that can be had
    (None where nothing can).
    """

    bench: Bench
    options: OrderOptions
    candidates: Candidates
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
    work = gather(asked_bench, asked.only_sets, accept_doubts=asked.accept_doubts)
    found = matching.problem(asked_bench, work.groups, without=asked.without, today=asked.today)
    unmet = [*(_unfit(u) for u in found.unfit.values()), *(_held_need(h) for h in work.held)]
    groups = (*work.groups, *(_held_group(h) for h in work.held))
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
        )

    outcome = solve(
        _without(found.problem, set(found.unfit)), solver=asked.solver, time_limit=asked.time_limit, progress=progress
    )
    report = answer(outcome, groups, tuple(unmet))
    part = None
    if unmet:
        lost = {need.group for need in unmet}
        covered = tuple(g for g in groups if g.id not in lost)
        part = answer(outcome, covered, tuple(unmet)) if outcome.order else None
        report = replace(report, status=Status.IMPOSSIBLE, order=None, bound=None)
    return Run(asked_bench, asked, found, outcome, report, part, work.diagnostics, work.held)


def _with_options(bench: Bench, options: OrderOptions) -> Bench:
    settings = bench.settings
    if options.max_suppliers is not None:
        settings = replace(settings, max_suppliers=options.max_suppliers)
    if options.spares is not None:
        settings = replace(settings, spares=replace(settings.spares, pieces=options.spares))
    if options.allow_care is not None:
        settings = replace(settings, allow_care=options.allow_care)
    if options.split_groups is not None:
        settings = replace(settings, one_part_per_group=not options.split_groups)
    if options.use_drawer is not None:
        settings = replace(settings, use_drawer=options.use_drawer)
    return replace(bench, settings=settings)


def _without(problem: Problem, lost: set[str]) -> Problem:
    return replace(problem, needs=tuple(need for need in problem.needs if need.group not in lost))


def _unfit(unfit: Unfit) -> UnmetNeed:
    helps = "".join(f"; {h.text}" for h in unfit.helps)
    nearest = tuple(NearMiss(n.part.supplier, n.part.number, n.judgement.verdict, n.reason) for n in unfit.nearest)
    return UnmetNeed(unfit.group.id, unfit.group.need, unfit.reason + helps, nearest, unfit.joined)


def _held_id(held: Held) -> str:
    return f"in doubt: {held.set} {held.position.ref or held.position.text or 'without designator'}"


def _held_group(held: Held) -> Group:
    return Group(_held_id(held), held.position, (Placed(held.set, held.position),))


def _held_need(held: Held) -> UnmetNeed:
    reason = f"the list is in doubt here ({', '.join(held.doubts)}): settle it in the cap list"
    return UnmetNeed(_held_id(held), held.position.qty, reason)


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
