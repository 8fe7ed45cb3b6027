"""The drawer: the user's ``drawer.csv`` and, on top of it, the movements that the record tells of.

``drawer.csv`` is the user's file: the tool reads it and never writes it. What the tool knows lies in
the record: surplus and spares of deliveries went in, parts fitted from the drawer came out, pieces
were moved by hand. Effective quantity of a part = what the file says + the movements since it was
last counted. When the tool books, it notes what the file said (``rows`` of a counted event). If the file
then says something else for a part that has moved, nobody but the user knows whether the new number
includes the movements: until that is settled, the smaller of the two readings counts, and it is told.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date
from typing import TYPE_CHECKING

from recap.audit.codec import decode
from recap.audit.deliveries import Arrival, lines, plan
from recap.audit.events import EventKind, new_event
from recap.audit.movements import movements
from recap.audit.state import live
from recap.diagnostics import Diagnostic, Source, warning
from recap.model import DRAWER, DrawerPart, Part

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping, Sequence

    from recap.audit.events import Event, PlaceKey
    from recap.audit.kept import KeptOrder

FILE_NAME = "drawer.csv"


@dataclass(frozen=True, slots=True)
class Balance:
    """One part number: what the file says, what moved since it was counted, and what lies there, as far as known.

    ``edited``: the file changed after movements and the user has not yet said what that means.
    """

    part: str
    in_file: int
    moved: int
    edited: bool = False
    seen: int | None = None

    @property
    def qty(self) -> int:
        """Pieces that may be counted on: never below zero; the smaller reading where two are possible."""
        return max(0, min(self.in_file, self.in_file + self.moved) if self.edited else self.in_file + self.moved)


def balances(in_file: Mapping[str, int], orders: Sequence[KeptOrder], events: Sequence[Event]) -> dict[str, Balance]:
    """Return the balance of every part that the file or the record knows. ``in_file``: pieces by part number."""
    seen: dict[str, int] | None = None
    counted_at: dict[str, int] = {}
    for event in live(events):
        if event.kind is EventKind.COUNTED:
            seen = {str(part): int(qty) for part, qty in event.data["rows"].items()}
            counted_at |= {str(part): event.seq or 0 for part in event.data.get("settled", ())}
    moved: dict[str, int] = {}
    for movement in movements(orders, events):
        if movement.seq > counted_at.get(movement.part, 0):
            moved[movement.part] = moved.get(movement.part, 0) + movement.qty
    found: dict[str, Balance] = {}
    for part in sorted({*in_file, *moved}):
        now, change = in_file.get(part, 0), moved.get(part, 0)
        noted = None if seen is None else seen.get(part, 0)
        edited = change != 0 and noted is not None and noted != now
        found[part] = Balance(part, now, change, edited, noted)
    return found


def noted(in_file: Mapping[str, int], orders: Sequence[KeptOrder], events: Sequence[Event]) -> Event | None:
    """Return the event that notes what the file says now, None where that is known already.

    An edit that waits to be settled stays noted as it was, so that it goes on being told.
    """
    known = balances(in_file, orders, events)
    rows = {part: (b.seen or 0) if b.edited else b.in_file for part, b in known.items()}
    rows = {part: qty for part, qty in rows.items() if qty}
    last = [e for e in live(events) if e.kind is EventKind.COUNTED]
    if last and {str(k): int(v) for k, v in last[-1].data["rows"].items()} == rows:
        return None
    return new_event(EventKind.COUNTED, data={"rows": rows})


def settled(
    in_file: Mapping[str, int],
    orders: Sequence[KeptOrder],
    events: Sequence[Event],
    parts: Iterable[str],
    *,
    counted: bool,
) -> Event:
    """Return the event that settles an edit of these parts.

    ``counted``: the file's number is what lies there now, earlier movements are in it. Otherwise the
    file was only corrected, and the movements count on top of it.
    """
    chosen = set(parts)
    known = balances(in_file, orders, events)
    rows = {part: (b.seen or 0) if b.edited and part not in chosen else b.in_file for part, b in known.items()}
    data: dict[str, object] = {"rows": {part: qty for part, qty in rows.items() if qty}}
    if counted:
        data["settled"] = sorted(chosen)
    return new_event(EventKind.COUNTED, data=data)


def rows_of(drawer: Iterable[DrawerPart]) -> dict[str, int]:
    """Return the pieces by part number; rows of one number add up."""
    rows: dict[str, int] = {}
    for lying in drawer:
        rows[lying.part.number] = rows.get(lying.part.number, 0) + lying.qty
    return rows


def effective(
    drawer: Sequence[DrawerPart], orders: Sequence[KeptOrder], events: Sequence[Event], set_aside: Mapping[str, int]
) -> tuple[tuple[DrawerPart, ...], list[Diagnostic]]:
    """Return what lies in the drawer, and what must be settled first.

    ``set_aside``: pieces by part number that a kept order needs for places outside the job at hand.
    """
    known = balances(rows_of(drawer), orders, events)
    specs = {a.part.number: a for line in lines(orders, events) for a in line.arrivals}
    specs |= {a.part.number: a for a in _put_in(events)}
    found: list[DrawerPart] = []
    for part, balance in known.items():
        rows = [lying for lying in drawer if lying.part.number == part]
        left = max(0, balance.qty - set_aside.get(part, 0))
        found += _spread(rows, left, balance, specs.get(part))
    told = [_told(balance) for balance in known.values() if balance.edited]
    return tuple(lying for lying in found if lying.qty), told


def set_aside(orders: Sequence[KeptOrder], events: Sequence[Event], on_job: Iterable[PlaceKey]) -> dict[str, int]:
    """Return the drawer's pieces that kept orders mean for places neither fitted yet nor on the job at hand."""
    jobs = set(on_job)
    fitted = {e.place for e in live(events) if e.kind is EventKind.IN}
    aside: dict[str, int] = {}
    for place, pieces in plan(orders, events).latest().items():
        if place not in jobs and place not in fitted:
            for piece in pieces:
                if piece.supplier == DRAWER:
                    aside[piece.part.number] = aside.get(piece.part.number, 0) + piece.qty
    return aside


def _put_in(events: Iterable[Event]) -> Iterator[Arrival]:
    for event in live(events):
        if event.kind is EventKind.MOVED and event.data.get("spec"):
            yield Arrival(decode(Part, event.data["spec"]), int(event.data["qty"]), event.when)


def _spread(rows: list[DrawerPart], left: int, balance: Balance, came: Arrival | None) -> list[DrawerPart]:
    """Spread ``left`` pieces over the file's rows, the newest keeping theirs; what is more came with a delivery."""
    found: list[DrawerPart] = []
    for lying in sorted(rows, key=lambda r: r.bought or date.min, reverse=True):
        qty = min(left, lying.qty)
        left -= qty
        found.append(replace(lying, qty=qty))
    if left and came is not None:
        part = replace(came.part, supplier=DRAWER, prices=(), minimum=1, multiple=1, stock=None)
        found.append(DrawerPart(part, left, came.when.date()))
    elif left and rows:
        found[0] = replace(found[0], qty=found[0].qty + left)
    elif left:
        found.append(DrawerPart(Part(DRAWER, balance.part), left))
    return found[::-1]


def _told(balance: Balance) -> Diagnostic:
    said = balance.in_file
    return warning(
        "drawer-edited",
        f"{balance.part}: the file said {balance.seen} when {balance.moved:+} pieces were booked, and now says {said}; "
        f"{balance.qty} are counted on until you settle it",
        Source(FILE_NAME),
        f"recap drawer BENCH --counted {balance.part} if {said} lie there now; "
        f"--corrected {balance.part} if {max(0, said + balance.moved)} do",
    )
