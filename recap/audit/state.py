"""What is done where: worked out from the events, kept nowhere.

Order is the order of arrival. A tick counts while it has not been taken back; two phones may have
ticked the same stage, and then both ticks must be taken back before it is open again.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from recap.audit.events import TICKS, Event, EventKind, PlaceKey

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping
    from datetime import datetime


@dataclass(frozen=True, slots=True)
class PlaceState:
    """What stands for one position, each in the order it arrived; ticks taken back are gone."""

    out: tuple[Event, ...] = ()
    fitted: tuple[Event, ...] = ()
    checked: tuple[Event, ...] = ()
    measured: tuple[Event, ...] = ()
    notes: tuple[Event, ...] = ()

    def ticks(self, kind: EventKind) -> tuple[Event, ...]:
        """Return the ticks that stand for one stage."""
        return {EventKind.OUT: self.out, EventKind.IN: self.fitted, EventKind.CHECKED: self.checked}[kind]

    @property
    def found(self) -> str | None:
        """What the old part was marked with, as last said."""
        return _last(self.out, "found")

    @property
    def part(self) -> str | None:
        """The part number fitted, where somebody said it; otherwise it is the planned one."""
        return _last(self.fitted, "part")


@dataclass(frozen=True, slots=True)
class Progress:
    """How many of so many positions are out, in, checked."""

    total: int = 0
    out: int = 0
    fitted: int = 0
    checked: int = 0


@dataclass(frozen=True, slots=True)
class Pin:
    """Where a position lies on the photo of its board, from the upper left, 0 to 1."""

    x: float
    y: float


@dataclass(frozen=True, slots=True)
class BoardPhoto:
    """The photo of a board: its digest in the record, and its shape in pixels."""

    digest: str
    width: int
    height: int


def live(events: Iterable[Event]) -> tuple[Event, ...]:
    """Return the events that stand: without those taken back and without the taking back."""
    events = tuple(events)
    undone = {identity for e in events if e.kind is EventKind.UNDONE for identity in _ids(e)}
    return tuple(e for e in events if e.kind is not EventKind.UNDONE and e.id not in undone)


def place_states(events: Iterable[Event]) -> dict[PlaceKey, PlaceState]:
    """Return the state of every position that has any."""
    kinds = {*TICKS, EventKind.MEASURED, EventKind.NOTE}
    found: dict[PlaceKey, dict[EventKind, list[Event]]] = {}
    for event in live(events):
        if event.place is not None and event.kind in kinds:
            found.setdefault(event.place, {kind: [] for kind in kinds})[event.kind].append(event)
    return {
        key: PlaceState(
            out=tuple(kinds[EventKind.OUT]),
            fitted=tuple(kinds[EventKind.IN]),
            checked=tuple(kinds[EventKind.CHECKED]),
            measured=tuple(kinds[EventKind.MEASURED]),
            notes=tuple(kinds[EventKind.NOTE]),
        )
        for key, kinds in found.items()
    }


def progress(places: Iterable[PlaceKey], states: Mapping[PlaceKey, PlaceState]) -> Progress:
    """Count what is done of the places given."""
    there = [states.get(key, PlaceState()) for key in places]
    return Progress(
        total=len(there),
        out=sum(bool(state.out) for state in there),
        fitted=sum(bool(state.fitted) for state in there),
        checked=sum(bool(state.checked) for state in there),
    )


def pins(events: Iterable[Event]) -> dict[PlaceKey, Pin]:
    """Return the pins as last placed; a pin without x and y was taken away."""
    found: dict[PlaceKey, Pin] = {}
    for event in live(events):
        if event.kind is EventKind.PINNED and event.place is not None:
            found.pop(event.place, None)
            if "x" in event.data and "y" in event.data:
                found[event.place] = Pin(float(event.data["x"]), float(event.data["y"]))
    return found


def photos(events: Iterable[Event]) -> dict[tuple[str, str], BoardPhoto]:
    """Return the latest photo of each (set, board)."""
    return {
        (event.set, event.board or ""): BoardPhoto(
            str(event.data["photo"]), int(event.data.get("width", 4)), int(event.data.get("height", 3))
        )
        for event in live(events)
        if event.kind is EventKind.PHOTO and event.set is not None and "photo" in event.data
    }


def fitted_places(events: Iterable[Event]) -> frozenset[PlaceKey]:
    """Return the positions whose new part is in."""
    return frozenset(key for key, state in place_states(events).items() if state.fitted)


def since(events: Iterable[Event], start: datetime) -> tuple[Event, ...]:
    """Return the events that happened at ``start`` or later."""
    return tuple(event for event in events if event.when >= start)


def _ids(event: Event) -> list[str]:
    ids = event.data.get("undoes")
    return [str(identity) for identity in ids] if isinstance(ids, list | tuple) else []


def _last(events: tuple[Event, ...], key: str) -> str | None:
    said = [str(event.data[key]) for event in events if event.data.get(key)]
    return said[-1] if said else None
