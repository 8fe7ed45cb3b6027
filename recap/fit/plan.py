"""Which part is meant for which position: from the orders kept in the record, or from an order just worked out."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from recap.audit.deliveries import dealt_out, lines
from recap.audit.deliveries import plan as delivered_plan
from recap.audit.places import places_of
from recap.model import DRAWER
from recap.order.allot import Allotment, allot
from recap.order.report import shares

if TYPE_CHECKING:
    from collections.abc import Collection, Iterable, Mapping

    from recap.audit.deliveries import Line
    from recap.audit.events import Event, PlaceKey
    from recap.audit.kept import KeptOrder
    from recap.model import CapList, Extra, Group, Order, Part, SetOnBench


@dataclass(frozen=True, slots=True)
class ExtraPiece:
    """Pieces of a part bought for an extra; ``part`` None where nothing was."""

    extra: Extra
    qty: int
    part: Part | None
    supplier: str | None


@dataclass(frozen=True, slots=True)
class Leftover:
    """Pieces that belong to no position: spares, and what a multiple or a price break brought along."""

    part: Part
    supplier: str
    qty: int


@dataclass(frozen=True, slots=True)
class Plan:
    """Everything that bags, labels and checklist are made from. ``origin`` says where it comes from.

    ``drawer_places``: where parts taken from the drawer lie, by part number.
    """

    allotments: tuple[Allotment, ...]
    origin: str
    extras: tuple[ExtraPiece, ...] = ()
    leftovers: tuple[Leftover, ...] = ()
    drawer_places: Mapping[str, str] = field(default_factory=dict)

    def for_sets(self, names: Collection[str]) -> Plan:
        """Return the plan of these sets only; leftovers belong to no set and are dropped."""
        return Plan(
            tuple(a for a in self.allotments if a.set in names),
            self.origin,
            tuple(piece for piece in self.extras if piece.extra.set in names),
            (),
            self.drawer_places,
        )


def plan_of_order(groups: Iterable[Group], order: Order | None, origin: str) -> Plan:
    """Return the plan of one order: what ``allot`` deals out, its extras, what is left over."""
    groups = tuple(groups)
    allotments, extras = allot(groups, order), _extras(groups, order)
    return Plan(allotments, origin, extras, _leftovers(order, allotments, extras), _drawer_places(order))


def plan_of_record(
    sets: Iterable[SetOnBench],
    caplists: Mapping[str, CapList],
    kept: Iterable[KeptOrder],
    events: Iterable[Event] = (),
    done: Collection[PlaceKey] = (),
) -> Plan:
    """Return the plan of all orders kept, the latest counting for each position; positions in ``done`` are left out.

    ``events`` tell what came: a substitute stands in place of what was ordered. A position on the job
    that no order names is there too, with no part.
    """
    orders = sorted(kept, key=lambda order: order.kept)
    events = tuple(events)
    plan = delivered_plan(orders, events).latest()
    allotments: list[Allotment] = []
    for unit in sets:
        caplist = caplists.get(unit.chassis)
        for place in places_of(unit, caplist, plan) if caplist is not None else ():
            if not place.on_job or place.key in done:
                continue
            pieces = [Allotment(unit.name, place.position, p.group, p.qty, p.part, p.supplier) for p in place.pieces]
            missing = place.position.qty - sum(piece.qty for piece in pieces)
            if missing > 0:
                pieces.append(Allotment(unit.name, place.position, "", missing, None, None))
            allotments += pieces
    extras = tuple(piece for order in orders for piece in _extras(order.groups, order.order))
    leftovers = tuple(left for line in lines(orders, events) for left in _left_of_line(line))
    places = {number: where for order in orders for number, where in _drawer_places(order.order).items()}
    names = ", ".join(order.id for order in orders)
    return Plan(tuple(allotments), f"parts as ordered ({names})", extras, leftovers, places)


def _left_of_line(line: Line) -> tuple[Leftover, ...]:
    """Return what is left of a line that came, or will be left of one that is awaited; nothing of one closed before."""
    if line.arrivals:
        return tuple(Leftover(over.part, line.key.supplier, over.qty) for over in dealt_out(line)[1])
    over = 0 if line.closed else line.ordered - line.needed
    return (Leftover(line.part, line.key.supplier, over),) if over > 0 else ()


def _extras(groups: Iterable[Group], order: Order | None) -> tuple[ExtraPiece, ...]:
    served = shares(order)
    found: list[ExtraPiece] = []
    for group in groups:
        if group.extra is None:
            continue
        wanted = group.extra.qty
        for share in served.get(group.id, ()):
            taken = min(wanted, share.qty)
            wanted -= taken
            if taken:
                found.append(ExtraPiece(group.extra, taken, share.part, share.supplier))
        if wanted:
            found.append(ExtraPiece(group.extra, wanted, None, None))
    return tuple(found)


def _leftovers(
    order: Order | None, allotments: Iterable[Allotment], extras: Iterable[ExtraPiece]
) -> tuple[Leftover, ...]:
    used: Counter[tuple[str, str]] = Counter()
    pieces = [(a.supplier, a.part, a.qty) for a in allotments] + [(e.supplier, e.part, e.qty) for e in extras]
    for supplier, part, qty in pieces:
        if part is not None and supplier is not None:
            used[supplier, part.number] += qty
    bought = [
        (line.part, parcel.terms.supplier, line.qty)
        for parcel in (order.suppliers if order else ())
        for line in parcel.lines
    ]
    return tuple(
        Leftover(part, supplier, qty - used[supplier, part.number])
        for part, supplier, qty in bought
        if qty > used[supplier, part.number]
    )


def _drawer_places(order: Order | None) -> dict[str, str]:
    places: dict[str, list[str]] = {}
    for drawn in order.drawer if order is not None else ():
        places.setdefault(drawn.part.part.number, []).append(drawn.part.place or DRAWER)
    return {number: ", ".join(dict.fromkeys(where)) for number, where in places.items()}
