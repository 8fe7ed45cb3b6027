"""One step of the work as record and lists tell it: what was there, what was meant, what was fitted, by whom."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from recap.audit.state import PlaceState, place_states
from recap.normalise.one_part import read_part

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Mapping, Sequence
    from datetime import datetime
    from decimal import Decimal

    from recap.audit.deliveries import Plan
    from recap.audit.events import Event, EventKind, PlaceKey
    from recap.audit.kept import Assignment
    from recap.audit.places import Place
    from recap.model import Part, Position


@dataclass(frozen=True, slots=True)
class Marked:
    """What the old part was marked with: as said, and what could be read of it."""

    text: str
    value_uF: Decimal | None = None
    volts: Decimal | None = None


@dataclass(frozen=True, slots=True)
class Step:
    """Everything known of one position of one set.

    ``listed`` is the list's row of today (None: it has none), ``ordered`` the row as it stood when the
    order was kept, ``pieces`` what was meant for it. ``fitted`` is the part that is in, as far as its number
    is known; ``said`` is that number where somebody named another than planned.
    """

    key: PlaceKey
    listed: Position | None
    ordered: Position | None
    on_job: bool
    pieces: tuple[Assignment, ...]
    state: PlaceState
    fitted: Part | None = None
    said: str | None = None
    marked: Marked | None = None

    @property
    def position(self) -> Position | None:
        """The list's row, or else the one that was ordered for."""
        return self.listed if self.listed is not None else self.ordered

    @property
    def when(self) -> datetime | None:
        """When something was last ticked here."""
        ticks = [*self.state.out, *self.state.fitted, *self.state.checked]
        return max((tick.when for tick in ticks), default=None)

    def first(self, kind: EventKind) -> Event | None:
        """Return the earliest tick of a stage that stands."""
        return min(self.state.ticks(kind), key=lambda tick: tick.when, default=None)

    def last(self, kind: EventKind) -> Event | None:
        """Return the latest tick of a stage that stands."""
        return max(self.state.ticks(kind), key=lambda tick: tick.when, default=None)


def steps(
    places: Sequence[Place], meant: Plan, events: Iterable[Event], find: Callable[[str], Part | None]
) -> tuple[Step, ...]:
    """Return the step of every place, in the order of the places. ``find`` gives the part of a number."""
    states = place_states(events)
    there = [_step(place, meant, states, find) for place in places]
    known = {place.key for place in places}
    # Ticks on a place that list and orders no longer name are part of the story all the same.
    strays = sorted(key for key in states if key not in known and any(key.set == p.key.set for p in places))
    return (*there, *(Step(key, None, None, False, (), states[key]) for key in strays))


def _step(place: Place, meant: Plan, states: Mapping[PlaceKey, PlaceState], find: Callable[[str], Part | None]) -> Step:
    state = states.get(place.key, PlaceState())
    ticks = state.fitted
    pieces = meant.at(place.key, ticks[-1].when) if ticks else place.pieces
    said = state.part
    planned = pieces[0].part if pieces else None
    if said is not None and said not in {piece.part.number for piece in pieces}:
        fitted = find(said)
    else:
        fitted = next((piece.part for piece in pieces if piece.part.number == said), planned) if ticks else None
    ordered = pieces[0].position if pieces else None
    return Step(place.key, place.listed, ordered, place.on_job, pieces, state, fitted, said, _marked(state.found))


def _marked(text: str | None) -> Marked | None:
    """Read what somebody wrote down of an old part; what can't be read stays words."""
    if text is None:
        return None
    read = read_part(text, "the record").positions
    return Marked(text, read[0].value_uF, read[0].volts) if len(read) == 1 else Marked(text)
