"""How long the work takes: sessions at the bench, and minutes per part as the record shows them."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta
from decimal import Decimal
from itertools import pairwise
from statistics import median
from typing import TYPE_CHECKING, Final

from recap.audit.events import TICKS, Event, EventKind
from recap.audit.state import live

if TYPE_CHECKING:
    from collections.abc import Iterable

MINUTES_PER_PART: Final = Decimal(4)
"""Old part out, holes clear, new part in, checked. Common practice: everything on one picture monitor, some fifty
parts, takes three to four hours."""
MINUTES_PER_SET: Final = Decimal(15)
"""Opening, discharging, taking boards out and putting them back. Common practice, of the same source."""

PAUSE: Final = timedelta(minutes=20)
"""A longer gap between ticks is a pause, not one part's work."""
ENOUGH: Final = 10
"""Fewer gaps than this teach nothing."""


@dataclass(frozen=True, slots=True)
class Pace:
    """Minutes per part and per set; ``learnt_from`` counts the gaps behind the former, 0 where it was not learnt."""

    per_part: Decimal = MINUTES_PER_PART
    per_set: Decimal = MINUTES_PER_SET
    learnt_from: int = 0

    def hours(self, parts: int) -> Decimal:
        """Return the hours for so many parts in one set; none for no parts."""
        return (self.per_set + self.per_part * parts) / 60 if parts else Decimal(0)


@dataclass(frozen=True, slots=True)
class Session:
    """A stretch of work without a long pause."""

    set: str
    start: datetime
    end: datetime
    fitted: int

    @property
    def minutes(self) -> int:
        """Its length, rounded."""
        return round((self.end - self.start).total_seconds() / 60)


def learnt(events: Iterable[Event]) -> Pace:
    """Return the pace by the middle gap between two parts fitted one after the other, or the usual one."""
    gaps: list[float] = []
    for ticks in _by_set(e for e in live(events) if e.kind is EventKind.IN).values():
        for before, after in pairwise(ticks):
            gap = after.when - before.when
            if timedelta(0) < gap <= PAUSE and before.place != after.place:
                gaps.append(gap.total_seconds() / 60)
    if len(gaps) < ENOUGH:
        return Pace()
    return Pace(per_part=Decimal(str(round(median(gaps), 1))), learnt_from=len(gaps))


def sessions(events: Iterable[Event], set_name: str) -> tuple[Session, ...]:
    """Return the stretches of work on one set, oldest first."""
    ticks = _by_set(e for e in live(events) if e.kind in TICKS and e.set == set_name).get(set_name, [])
    runs: list[list[Event]] = []
    for tick in ticks:
        if runs and tick.when - runs[-1][-1].when <= PAUSE:
            runs[-1].append(tick)
        else:
            runs.append([tick])
    return tuple(Session(set_name, run[0].when, run[-1].when, sum(e.kind is EventKind.IN for e in run)) for run in runs)


def _by_set(events: Iterable[Event]) -> dict[str, list[Event]]:
    found: dict[str, list[Event]] = {}
    for event in sorted(events, key=lambda e: e.when):
        if event.set is not None:
            found.setdefault(event.set, []).append(event)
    return found
