"""Looking ahead: what it costs, in money and hours, to leave a set, do its suspects, one board, or everything.

Money comes from real orders for just that work, extras of the set with everything; hours from minutes per part.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from decimal import Decimal
from typing import TYPE_CHECKING, Final

from recap.audit.events import EventKind, Work
from recap.audit.kept import place_key
from recap.audit.pace import Pace
from recap.audit.state import fitted_places, live
from recap.match.condition import Condition, Measured, Rated, assess, overall
from recap.match.groups import gather
from recap.match.jobs import on_set
from recap.model import Kind, Role, Status
from recap.order.compare import drawer_left
from recap.order.run import OrderOptions, run_order

if TYPE_CHECKING:
    from collections.abc import Callable, Container, Iterable, Sequence

    from recap.audit.events import Event, PlaceKey
    from recap.bench import Bench
    from recap.model import Order, Position, SetOnBench

LEAVE, SUSPECTS, EVERYTHING = "leave it", "suspects only", "everything"
FIRST_TO_FAIL: Final = frozenset({Role.SMOOTHING, Role.SWITCHING})
"""Capacitors that work hot and under ripple fail first (common practice)."""
SUPPLY_V: Final = Decimal(160)
"""An electrolytic rated so high smooths a mains supply, whether the list says so or not (common practice)."""
SECONDS: Final = 8.0
"""For one order of an estimate: the best one found by then will do."""


@dataclass(frozen=True, slots=True)
class Choice:
    """One way to go with a set alone, the whole drawer at hand. ``cost`` None where no order can be had.

    ``proven``: no order costs less. ``without``: positions on it that nothing can be bought for.
    """

    set: str
    name: str
    parts: int
    cost: Decimal | None
    hours: Decimal
    proven: bool = True
    without: int = 0
    order: Order | None = None


@dataclass(frozen=True, slots=True)
class Purchase:
    """Everything for all sets bought in one order, against an order for each set.

    ``together`` is None where there is none to name: nothing can be had, or the time ran out before anything
    was found that costs no more than one by one.
    """

    sets: tuple[str, ...]
    together: Decimal | None
    apart: Decimal | None
    proven: bool = True

    @property
    def saved(self) -> Decimal | None:
        """What buying together saves."""
        return None if self.together is None or self.apart is None else self.apart - self.together


def choices(
    bench: Bench,
    unit: SetOnBench,
    events: Sequence[Event],
    pace: Pace,
    *,
    boards: Sequence[str] = (),
    paid: frozenset[PlaceKey] = frozenset(),
    seconds: float = SECONDS,
    said: Callable[[str], None] = lambda _: None,
) -> tuple[Choice, ...]:
    """Return the ways to go with one set: leave it, its suspects, each of ``boards``, everything that isn't in yet.

    For places in ``paid`` a kept order has bought already: they take hours and no money.
    """
    positions = _open(bench, unit, fitted_places(events))
    suspected = suspects(unit, positions, events)
    found = [Choice(unit.name, LEAVE, 0, Decimal(0), Decimal(0))]
    ways: list[tuple[str, tuple[Position, ...]]] = [
        (SUSPECTS, tuple(p for p in positions if place_key(unit.name, p) in suspected))
    ]
    ways += [(f"board {board}", tuple(p for p in positions if (p.board or "") == board)) for board in boards]
    for name, chosen in [*ways, (EVERYTHING, positions)]:
        said(f"{unit.name}: {name}")
        found.append(_choice(_only(bench, unit, chosen, name), unit.name, name, pace, _options(seconds, paid)))
    return tuple(found)


def suspects(unit: SetOnBench, positions: Iterable[Position], events: Iterable[Event]) -> frozenset[PlaceKey]:
    """Return the places to do first: those that work hardest, measured bad, or on a board with a symptom told."""
    standing = [e for e in live(events) if e.set == unit.name]
    sick = {
        e.board.casefold()
        for e in standing
        if e.kind is EventKind.WORK and e.data.get("what") == Work.SYMPTOM and e.board
    }
    measured: dict[PlaceKey, list[Event]] = {}
    for event in standing:
        if event.kind is EventKind.MEASURED and event.place is not None and event.data.get("of") != "new":
            measured.setdefault(event.place, []).append(event)
    found = set()
    for position in positions:
        key = place_key(unit.name, position)
        hard = _works_hard(position)
        told = (position.board or "").casefold() in sick
        if hard or told or any(_worn(event, position) for event in measured.get(key, ())):
            found.add(key)
    return frozenset(found)


def purchase(
    bench: Bench,
    names: Sequence[str],
    singles: Sequence[Choice],
    events: Sequence[Event] = (),
    *,
    paid: frozenset[PlaceKey] = frozenset(),
    seconds: float = SECONDS,
) -> Purchase:
    """Compare one order for everything in these sets that isn't ``paid`` with orders for one after the other.

    ``singles`` are what the sets cost alone. One after the other, what one set took from the drawer is gone for
    the next: such a set is worked out again. Extras of no set are in neither.
    """
    done = fitted_places(events)
    units = tuple(replace(unit, job=("full",)) for unit in bench.sets if unit.name in names)
    extras = tuple(e for e in bench.extras if e.set in names)
    run = run_order(replace(bench, sets=units, extras=extras), _options(seconds, done | paid))
    report = run.report if run.report.order is not None else run.part
    together = report.order.total if report is not None and report.order is not None else None
    apart = _one_after_the_other(bench, units, singles, done, _options(seconds, paid))
    return comparison(names, together, apart, proven=run.outcome.status is Status.OPTIMAL)


def _one_after_the_other(
    bench: Bench,
    units: Iterable[SetOnBench],
    singles: Sequence[Choice],
    done: Container[PlaceKey],
    options: OrderOptions,
) -> Decimal | None:
    alone = {choice.set: choice for choice in singles}
    total, drawer = Decimal(0), bench.drawer
    for unit in units:
        choice = alone[unit.name]
        if drawer != bench.drawer:
            left = replace(bench, drawer=drawer)
            everything = _open(bench, unit, done)
            choice = _choice(_only(left, unit, everything, EVERYTHING), unit.name, EVERYTHING, Pace(), options)
        if choice.cost is None:
            return None
        total += choice.cost
        drawer = drawer if choice.order is None else drawer_left(drawer, choice.order)
    return total


def _open(bench: Bench, unit: SetOnBench, done: Container[PlaceKey]) -> tuple[Position, ...]:
    """Return the positions of a set whose new part isn't in yet."""
    return tuple(p for p in on_set(unit, bench.caplists[unit.chassis]) if place_key(unit.name, p) not in done)


def comparison(names: Sequence[str], together: Decimal | None, apart: Decimal | None, *, proven: bool) -> Purchase:
    """Return the totals beside each other; one for all that is dearer only for want of time is left out."""
    if not proven and together is not None and apart is not None and together > apart:
        together = None
    return Purchase(tuple(names), together, apart, proven)


def _only(bench: Bench, unit: SetOnBench, chosen: tuple[Position, ...], name: str) -> Bench:
    """Return the bench with this set alone and just these positions on its list."""
    caplist = replace(bench.caplists[unit.chassis], positions=chosen)
    mine = replace(unit, job=("full",), boards=())
    extras = tuple(e for e in bench.extras if e.set == unit.name) if name == EVERYTHING else ()
    return replace(bench, sets=(mine,), caplists={unit.chassis: caplist}, extras=extras)


def _choice(bench: Bench, set_name: str, name: str, pace: Pace, options: OrderOptions) -> Choice:
    work = gather(bench)
    parts = sum(g.positions_count for g in work.groups if g.extra is None) + sum(h.position.qty for h in work.held)
    if not parts and not bench.extras:
        return Choice(set_name, name, 0, Decimal(0), Decimal(0))
    run = run_order(bench, options)
    report = run.report if run.report.order is not None else run.part
    order = report.order if report is not None else None
    lost = {need.group for need in run.report.unmet}
    missing = sum(g.positions_count for g in run.report.groups if g.id in lost)
    bought = sum(g.positions_count for g in run.report.groups) < parts  # some of them before
    cost = None if order is None or (missing >= parts and not bench.extras) else order.total
    cost = Decimal(0) if order is None and bought else cost
    proven = run.outcome.status is Status.OPTIMAL
    return Choice(set_name, name, parts, cost, pace.hours(parts), proven, missing, order)


def _options(seconds: float, without: frozenset[PlaceKey]) -> OrderOptions:
    return OrderOptions(time_limit=seconds, leave_out=lambda name, position: place_key(name, position) in without)


def _works_hard(position: Position) -> bool:
    if position.kind not in {Kind.ELECTROLYTIC, Kind.UNKNOWN} or position.safety:
        return False
    if position.role is not None:
        return position.role in FIRST_TO_FAIL
    return position.kind is Kind.ELECTROLYTIC and position.volts is not None and position.volts >= SUPPLY_V


def _worn(event: Event, position: Position) -> bool:
    """Tell whether a reading of the old part is beyond what a sound one shows."""
    reading, quantity = Decimal(str(event.data.get("value"))), event.data.get("quantity")
    if reading == 0 and quantity == "capacitance":
        return True  # open
    if position.value_uF is None or position.volts is None or reading <= 0 or quantity not in {"capacitance", "ESR"}:
        return False
    measured = Measured(
        value_uF=reading if quantity == "capacitance" else None, esr_ohm=reading if quantity == "ESR" else None
    )
    judged = overall(assess(Rated(position.value_uF, position.volts, position.mount), measured))
    return judged in {Condition.TIRED, Condition.BAD}
