"""Goods in against kept orders: what came, what is owed, and so which piece goes where.

Pieces that came serve the line's positions first, in the order of the work; what is over goes to
the drawer. A substitute serves the places of the part it stands for.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, NamedTuple

from recap.audit.codec import decode
from recap.audit.events import Event, EventKind
from recap.audit.kept import Assignment, KeptOrder, assignments
from recap.audit.state import live
from recap.model import DRAWER, Part

if TYPE_CHECKING:
    from collections.abc import Collection, Iterable, Mapping, Sequence
    from datetime import datetime

    from recap.audit.events import PlaceKey


class LineKey(NamedTuple):
    """One line of one kept order."""

    order: str
    supplier: str
    part: str


@dataclass(frozen=True, slots=True)
class Arrival:
    """``qty`` pieces of ``part`` that came for a line; ``when`` they came."""

    part: Part
    qty: int
    when: datetime


@dataclass(frozen=True, slots=True)
class Line:
    """One line of a kept order with all that came for it.

    ``assigned`` are the positions it serves, ``for_extras`` its pieces that were ordered for themselves.
    """

    key: LineKey
    part: Part
    ordered: int
    assigned: tuple[Assignment, ...]
    for_extras: int = 0
    arrivals: tuple[Arrival, ...] = ()
    closed: bool = False

    @property
    def received(self) -> int:
        """Pieces that came, substitutes included."""
        return sum(arrival.qty for arrival in self.arrivals)

    @property
    def owed(self) -> int:
        """Pieces still to come; none once the order is closed."""
        return 0 if self.closed else max(0, self.ordered - self.received)

    @property
    def lacks(self) -> bool:
        """Whether fewer pieces came than were ordered."""
        return self.received < self.ordered

    @property
    def needed(self) -> int:
        """Pieces that positions and extras wait for; the rest of the line is spares."""
        return sum(assignment.qty for assignment in self.assigned) + self.for_extras


def lines(orders: Iterable[KeptOrder], events: Iterable[Event]) -> tuple[Line, ...]:
    """Return every line of every kept order, oldest order first, with what came for it."""
    standing = live(events)
    closed = {str(e.data.get("order")) for e in standing if e.kind is EventKind.CLOSED}
    found: list[Line] = []
    for kept in sorted(orders, key=lambda o: o.kept):
        dealt = assignments(kept)
        extras = {group.id for group in kept.groups if group.extra is not None}
        for parcel in kept.order.suppliers:
            for line in parcel.lines:
                key = LineKey(kept.id, parcel.terms.supplier, line.part.number)
                mine = tuple(a for a in dealt if (a.supplier, a.part.number) == key[1:])
                came = _arrivals(standing, key, line.part)
                alone = sum(use.qty for use in line.uses if use.group in extras)
                found.append(Line(key, line.part, line.qty, mine, alone, came, kept.id in closed))
    return tuple(found)


def dealt_out(line: Line, without: Collection[PlaceKey] = ()) -> tuple[tuple[Assignment, ...], tuple[Arrival, ...]]:
    """Deal what came to the line's places and return what each gets, and what is over.

    A place gets pieces that came before pieces that are still owed. Places in ``without`` got
    something else and need nothing.
    """
    pile = line.arrivals
    served: list[Assignment] = []
    for assignment in line.assigned:
        if assignment.place not in without:
            taken, pile = _off(pile, assignment.qty)
            missing = assignment.qty - sum(arrival.qty for arrival in taken)
            served += [replace(assignment, part=arrival.part, qty=arrival.qty) for arrival in taken]
            served += [replace(assignment, qty=missing)] if missing else []
    return tuple(served), _off(pile, line.for_extras)[1]


def lacking(line: Line) -> frozenset[PlaceKey]:
    """Return the places whose pieces of a closed line never came, or not all of them."""
    left, found = line.received, set()
    for assignment in line.assigned if line.closed else ():
        if assignment.qty > left:
            found.add(assignment.place)
        left = max(0, left - assignment.qty)
    return frozenset(found)


def _off(pile: tuple[Arrival, ...], wanted: int) -> tuple[tuple[Arrival, ...], tuple[Arrival, ...]]:
    """Take up to ``wanted`` pieces off a pile; return them and the rest."""
    taken: list[Arrival] = []
    rest: list[Arrival] = []
    for arrival in pile:
        now = min(wanted, arrival.qty)
        wanted -= now
        taken += [replace(arrival, qty=now)] if now else []
        rest += [replace(arrival, qty=arrival.qty - now)] if arrival.qty > now else []
    return tuple(taken), tuple(rest)


@dataclass(frozen=True, slots=True)
class Plan:
    """What each position was meant to get, by the moment its order was kept, oldest first."""

    by_place: Mapping[PlaceKey, tuple[tuple[datetime, tuple[Assignment, ...]], ...]]

    def latest(self) -> dict[PlaceKey, tuple[Assignment, ...]]:
        """Return what each position gets by the latest order that names it."""
        return {key: plans[-1][1] for key, plans in self.by_place.items()}

    def at(self, key: PlaceKey, when: datetime) -> tuple[Assignment, ...]:
        """Return what the position was meant to get at that moment; by its first order where none was kept yet."""
        plans = self.by_place.get(key, ())
        earlier = [pieces for kept, pieces in plans if kept <= when]
        return earlier[-1] if earlier else plans[0][1] if plans else ()


def plan(orders: Sequence[KeptOrder], events: Iterable[Event]) -> Plan:
    """Return which position gets which pieces, substitutes in place of what they stand for.

    An order that was closed before anything of it came means nothing to any position.
    """
    came = lines(orders, events)
    by_place: dict[PlaceKey, list[tuple[datetime, tuple[Assignment, ...]]]] = {}
    for kept in sorted(orders, key=lambda o: o.kept):
        mine = [line for line in came if line.key.order == kept.id]
        if mine and all(line.closed and not line.arrivals for line in mine):
            continue
        pieces = [a for a in assignments(kept) if a.supplier == DRAWER]
        pieces += [a for line in mine for a in dealt_out(line)[0]]
        places: dict[PlaceKey, list[Assignment]] = {}
        for piece in pieces:
            places.setdefault(piece.place, []).append(piece)
        for key, got in places.items():
            by_place.setdefault(key, []).append((kept.kept, tuple(got)))
    return Plan({key: tuple(plans) for key, plans in by_place.items()})


def line_of(event: Event) -> LineKey:
    """Return the line that a received event belongs to."""
    data = event.data
    return LineKey(str(data.get("order")), str(data.get("supplier")), str(data.get("instead_of") or data.get("part")))


def _arrivals(events: Iterable[Event], key: LineKey, ordered: Part) -> tuple[Arrival, ...]:
    return tuple(
        Arrival(_part(event, ordered), int(event.data["qty"]), event.when)
        for event in events
        if event.kind is EventKind.RECEIVED and line_of(event) == key
    )


def _part(event: Event, ordered: Part) -> Part:
    if not event.data.get("instead_of"):
        return ordered
    spec = event.data.get("spec")
    return decode(Part, spec) if spec else Part(ordered.supplier, str(event.data["part"]))
