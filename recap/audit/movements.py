"""What went into the drawer and out of it, event by event."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from typing import TYPE_CHECKING

from recap.audit.deliveries import Plan, dealt_out, lines, plan
from recap.audit.events import Event, EventKind
from recap.model import DRAWER

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from recap.audit.deliveries import Line
    from recap.audit.events import PlaceKey
    from recap.audit.kept import KeptOrder


@dataclass(frozen=True, slots=True)
class Movement:
    """``qty`` pieces into (or, below zero, out of) the drawer by the event of number ``seq``."""

    seq: int
    part: str
    qty: int


def movements(orders: Sequence[KeptOrder], events: Iterable[Event]) -> tuple[Movement, ...]:
    """Return every movement in the order it was recorded.

    A tick taken back puts its piece back, at that moment; a part fitted instead of the planned one
    makes the planned one's piece surplus.
    """
    flow = _Flow(orders)
    found: list[Movement] = []
    for number, event in enumerate(events, start=1):
        changes = flow.apply(event)
        found += [Movement(event.seq or number, part, qty) for part, qty in sorted(changes.items()) if qty]
    return tuple(found)


class _Flow:
    """The drawer as the events up to now leave it. Dealing out is slow, so it is done anew after deliveries only."""

    def __init__(self, orders: Sequence[KeptOrder]) -> None:
        self.orders = orders
        self.undone: set[str] = set()
        self.moving: dict[str, Event] = {}
        self.meant: Plan = plan(orders, ())
        self.lines: tuple[Line, ...] = lines(orders, ())
        self.fitted: dict[PlaceKey, list[Event]] = {}
        self.taken: dict[PlaceKey, tuple[Counter[str], bool]] = {}
        self.over: Counter[str] = Counter()

    def apply(self, event: Event) -> Counter[str]:
        """Take in one more event and return how the pieces in the drawer change by part number."""
        if event.kind is EventKind.UNDONE:
            return self._undo(event)
        if event.id in self.undone or event.kind not in _MOVING:
            return Counter()
        self.moving[event.id] = event
        return self._change(event, 1)

    def _undo(self, event: Event) -> Counter[str]:
        changes: Counter[str] = Counter()
        for identity in map(str, event.data.get("undoes") or ()):
            self.undone.add(identity)
            gone = self.moving.pop(identity, None)
            if gone is not None:
                changes = _sum(changes, self._change(gone, -1))
        return changes

    def _change(self, event: Event, sign: int) -> Counter[str]:
        """Put an event in force, or (``sign`` -1) out of it."""
        if event.kind is EventKind.MOVED:
            return Counter({str(event.data["part"]): sign * int(event.data["qty"])})
        if event.kind is EventKind.IN:
            return self._fit(event, sign)
        deliveries = [e for e in self.moving.values() if e.kind is not EventKind.IN]
        self.meant, self.lines = plan(self.orders, deliveries), lines(self.orders, deliveries)
        changes: Counter[str] = Counter()
        for place in self.fitted:
            changes = _sum(changes, self._refresh(place))
        return _sum(changes, self._surplus())

    def _fit(self, event: Event, sign: int) -> Counter[str]:
        if event.place is None:
            return Counter()
        ticks = self.fitted.setdefault(event.place, [])
        ticks.append(event) if sign > 0 else ticks.remove(event)
        before = self._elsewhere()
        changes = self._refresh(event.place)
        return changes if before == self._elsewhere() else _sum(changes, self._surplus())

    def _elsewhere(self) -> frozenset[PlaceKey]:
        return frozenset(place for place, (_, other) in self.taken.items() if other)

    def _refresh(self, place: PlaceKey) -> Counter[str]:
        """Work out anew what a place took from the drawer, and return the difference to the drawer."""
        before, _ = self.taken.pop(place, (Counter(), False))
        ticks = self.fitted.get(place)
        if not ticks:
            return before
        self.taken[place] = _taken(ticks, self.meant, place)
        return _sum(before, self.taken[place][0], -1)

    def _surplus(self) -> Counter[str]:
        before, elsewhere = self.over, self._elsewhere()
        self.over = Counter()
        for line in self.lines:
            for arrival in dealt_out(line, elsewhere)[1]:
                self.over[arrival.part.number] += arrival.qty
        return _sum(self.over, before, -1)


_MOVING = frozenset({EventKind.IN, EventKind.RECEIVED, EventKind.CLOSED, EventKind.MOVED})


def _taken(ticks: Sequence[Event], meant: Plan, place: PlaceKey) -> tuple[Counter[str], bool]:
    """Return the pieces from the drawer that sit in a place, and whether it got another part than planned."""
    pieces = meant.at(place, ticks[-1].when)
    said = [str(tick.data["part"]) for tick in ticks if tick.data.get("part")]
    if not said or any(piece.part.number == said[-1] for piece in pieces):
        used: Counter[str] = Counter()
        for piece in pieces:
            if piece.supplier == DRAWER:
                used[piece.part.number] += piece.qty
        return used, False
    return Counter({said[-1]: sum(piece.qty for piece in pieces) or 1}), True


def _sum(first: Counter[str], second: Counter[str], sign: int = 1) -> Counter[str]:
    """Add counts, below zero too, which Counter's own addition drops."""
    total = Counter(first)
    for part, qty in second.items():
        total[part] += sign * qty
    return total
