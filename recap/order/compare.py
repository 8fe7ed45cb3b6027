"""What other orders for the same needs would cost: the ways people buy, each worked out for real.

Every figure is a whole order, solved and priced like the one it stands beside. A series (by
parcels, by rated life) is a list of the cheapest orders under one more condition each.
"""

from __future__ import annotations

import time
from dataclasses import dataclass, replace
from decimal import Decimal
from typing import TYPE_CHECKING

from recap import money
from recap.match.spares import spares_for
from recap.model import Kind, Need, Outcome, Problem, Status
from recap.optimise.solve import solve
from recap.order.report import THIS_ORDER, Alternative

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping, Sequence

    from recap.model import DrawerPart, Group, Order, Part, SparesRule

    Solve = Callable[[Problem], Outcome]

WET = frozenset({Kind.ELECTROLYTIC, Kind.BIPOLAR})
FREE = Decimal(0)


@dataclass(frozen=True, slots=True)
class Step:
    """The cheapest order under one condition: at most ``at`` parcels, or rated for ``at`` hours where that is sold."""

    at: Decimal
    outcome: Outcome


def within(
    seconds: float | None,
    solver: str = "highs",
    *,
    each: float | None = None,
    prefer: bool = False,
    any_order: bool = False,
) -> Solve:
    """Return a way to solve that spends at most so many seconds on all its problems together, and on ``each``.

    Totals are for comparing, so any order of the least total will do, unless ``prefer``; with ``any_order`` the first
    one that is found, whatever it costs.
    """
    until = None if seconds is None else time.monotonic() + seconds

    def one(problem: Problem) -> Outcome:
        left = None if until is None else max(0.0, until - time.monotonic())
        if left == 0:
            return Outcome(Status.FEASIBLE)
        left = min((limit for limit in (left, each) if limit is not None), default=None)
        return solve(problem, solver=solver, time_limit=left, prefer=prefer, any_order=any_order)

    return one


def by_parcels(problem: Problem, most: int, solve_one: Solve, best: Outcome | None = None) -> tuple[Step, ...]:
    """Return the cheapest order with at most 1, 2 … ``most`` parcels.

    ``best`` is the problem's own cheapest order, where it is known: with as many parcels as it has, or more, none
    is cheaper.
    """
    enough = most + 1
    if best is not None and best.order is not None and best.status is Status.OPTIMAL and not problem.max_suppliers:
        enough = max(1, len(best.order.suppliers))
    return tuple(
        Step(Decimal(k), best if best is not None and k >= enough else solve_one(replace(problem, max_suppliers=k)))
        for k in range(1, most + 1)
    )


def rated_lives(problem: Problem) -> tuple[Decimal, ...]:
    """Return the rated lives that wet parts are offered with, in hours, shortest first."""
    return tuple(sorted({p.life_h for p in problem.offers if p.kind in WET and p.life_h is not None}))


def by_life(problem: Problem, lives: Sequence[Decimal], solve_one: Solve) -> tuple[Step, ...]:
    """Return, for each of ``lives``, the cheapest order whose wet parts last that long wherever such parts are sold."""
    return tuple(Step(hours, solve_one(lasting(problem, hours))) for hours in lives)


def lasting(problem: Problem, hours: Decimal) -> Problem:
    """Return the problem with the wet parts that are rated for ``hours``, sold or in the drawer.

    A group that has none of these keeps the longest rated ones it has; one of no stated life counts as the shortest.
    """
    offered = [_lasts(part) for part in problem.offers]
    lying = [_lasts(kept.part) for kept in problem.drawer]
    suits, drawer_suits = {}, {}
    for need in problem.needs:
        rows, lots = problem.suits.get(need.group, ()), problem.drawer_suits.get(need.group, ())
        longest = max((*(offered[i] for i in rows), *(lying[i] for i in lots)), default=hours)
        least = min(hours, longest)
        suits[need.group] = tuple(i for i in rows if offered[i] >= least)
        drawer_suits[need.group] = tuple(i for i in lots if lying[i] >= least)
    return replace(problem, suits=suits, drawer_suits=drawer_suits)


def _lasts(part: Part) -> Decimal:
    """Return a part's rated life in hours: without end where it can't dry out, nothing where none is stated."""
    if part.kind not in WET:
        return Decimal("Infinity")
    return part.life_h if part.life_h is not None else Decimal(0)


def alternatives(
    problem: Problem, best: Order, groups: Sequence[Group], spares: SparesRule, solve_one: Solve
) -> tuple[Alternative, ...]:
    """Return the other ways to buy, each with its total, parcels and lines, for a table beside the best order."""
    found = [_alternative(THIS_ORDER, Outcome(Status.OPTIMAL, best))]
    found += [
        _alternative(
            "one parcel: the best single supplier" if step.at == 1 else f"at most {step.at} parcels", step.outcome
        )
        for step in by_parcels(problem, max(1, len(best.suppliers) - 1), solve_one)
        if step.at < len(best.suppliers)
    ]
    found.append(_line_by_line(problem, solve_one))
    single = _set_by_set(problem, groups, spares, solve_one)
    return (*found, single) if single else tuple(found)


def _alternative(name: str, outcome: Outcome) -> Alternative:
    if outcome.status is Status.IMPOSSIBLE:
        return Alternative(name, None, "can't meet every need")
    if outcome.order is None:
        return Alternative(name, None, "not worked out in time")
    order = outcome.order
    note = "" if outcome.status is Status.OPTIMAL else "best found in time, not proven"
    return Alternative(name, order.total, note, len(order.suppliers), sum(len(p.lines) for p in order.suppliers))


def _line_by_line(problem: Problem, solve_one: Solve) -> Alternative:
    """Return what comes of taking the cheapest part for each group without a thought for postage and fees."""
    name = "cheapest part, line by line"
    bare = {
        s: replace(t, shipping=(), minimum=FREE, handling=FREE, line_fee=FREE) for s, t in problem.suppliers.items()
    }
    outcome = solve_one(replace(problem, suppliers=bare, max_suppliers=0))
    if outcome.order is None:
        return _alternative(name, outcome)
    parcels = [money.parcel(problem.suppliers[p.terms.supplier], p.lines) for p in outcome.order.suppliers]
    low = [p.terms.supplier for p in parcels if not money.meets_minimum(p.terms, p.goods)]
    whole = _alternative(name, replace(outcome, order=money.order(parcels, outcome.order.drawer)))
    return replace(whole, note=f"below the minimum order of {', '.join(low)}") if low else whole


def _set_by_set(problem: Problem, groups: Sequence[Group], spares: SparesRule, solve_one: Solve) -> Alternative | None:
    """Return what it costs to order for one set after the other, each with its own spares and postage.

    Sets are taken in their order; what one takes from the drawer is gone for the next. Extras for no
    set go with the first. None where there are fewer than two sets.
    """
    name = "each set ordered on its own"
    wanted = _needs_by_set(groups, spares)
    if len(wanted) < 2:  # noqa: PLR2004 - one set on its own is this order
        return None
    drawer: tuple[DrawerPart, ...] = problem.drawer
    total, parcels, lines, note = FREE, 0, 0, ""
    for needs in wanted.values():
        outcome = solve_one(replace(problem, needs=needs, drawer=drawer))
        if outcome.order is None:
            return _alternative(name, outcome)
        if outcome.status is not Status.OPTIMAL:
            note = "best found in time, not proven"
        total += outcome.order.total
        parcels += len(outcome.order.suppliers)
        lines += sum(len(p.lines) for p in outcome.order.suppliers)
        drawer = drawer_left(drawer, outcome.order)
    return Alternative(name, total, note, parcels, lines)


def _needs_by_set(groups: Sequence[Group], spares: SparesRule) -> Mapping[str, tuple[Need, ...]]:
    found: dict[str, dict[str, int]] = {}
    for group in groups:
        for placed in group.placed:
            pieces = found.setdefault(placed.set, {})
            pieces[group.id] = pieces.get(group.id, 0) + placed.position.qty
    first = next(iter(found), "")
    needs = {name: [_need(group, count, spares) for group, count in pieces.items()] for name, pieces in found.items()}
    for group in groups:
        if group.extra is not None:
            needs.setdefault(group.extra.set or first, []).append(Need(group.id, group.extra.qty))
    return {name: tuple(wanted) for name, wanted in needs.items()}


def _need(group: str, count: int, rule: SparesRule) -> Need:
    spares = spares_for(count, rule)
    return Need(group, count, spares) if rule.share_spares else Need(group, count + spares)


def drawer_left(drawer: Sequence[DrawerPart], order: Order) -> tuple[DrawerPart, ...]:
    """Return the drawer, place by place, without what the order takes; an emptied place stays, with nothing in it."""
    taken = {id(use.part): sum(u.qty for u in use.uses) for use in order.drawer}
    return tuple(replace(kept, qty=kept.qty - taken.get(id(kept), 0)) for kept in drawer)
