"""When the parts of a set come due: their life by the published formulas against the hours the set has run."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal
from itertools import pairwise
from typing import TYPE_CHECKING, Final

from recap.audit.events import EventKind
from recap.audit.state import live
from recap.match.life import CAP_YEARS, estimate

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence
    from datetime import datetime

    from recap.audit.events import Event, PlaceKey
    from recap.audit.trace import Step
    from recap.model import Part, Position

INSIDE_C: Final = Decimal(45)
"""Air inside a closed set on a warm day, assumed where nobody measured it (common practice)."""
_WEEK = timedelta(days=7)


@dataclass(frozen=True, slots=True)
class Usage:
    """Hours on the set's meter (or by the owner's word) at moments, and hours a week from the last of them on."""

    readings: tuple[tuple[datetime, Decimal], ...] = ()
    per_week: Decimal | None = None

    def since(self, start: datetime, now: datetime) -> Decimal | None:
        """Return the hours run between two moments, as far as readings and habit tell; None where neither does."""
        at_start, at_now = self._meter(start), self._meter(now)
        return None if at_start is None or at_now is None else max(Decimal(0), at_now - at_start)

    def _meter(self, when: datetime) -> Decimal | None:
        """Return what the meter showed then: between two readings in proportion, outside them by the weekly hours."""
        readings = self.readings
        if not readings:
            return None if self.per_week is None else self.per_week * _weeks(when)
        for (t0, h0), (t1, h1) in pairwise(readings):
            if t0 <= when <= t1 and t1 > t0:
                return h0 + (h1 - h0) * Decimal((when - t0) / (t1 - t0))
        nearest = readings[0] if when < readings[0][0] else readings[-1]
        if when == nearest[0]:
            return nearest[1]
        if self.per_week is None:
            return None
        return nearest[1] + self.per_week * (_weeks(when) - _weeks(nearest[0]))


@dataclass(frozen=True, slots=True)
class Due:
    """One part's life. ``left_h`` may be below zero; ``on`` is None where nobody said how much the set runs."""

    key: PlaceKey
    part: Part
    life_h: Decimal
    model: str
    run_h: Decimal | None
    on: date | None

    @property
    def left_h(self) -> Decimal | None:
        """Hours left, None where the hours run aren't known."""
        return None if self.run_h is None else self.life_h - self.run_h


def usage_of(events: Iterable[Event], set_name: str) -> Usage:
    """Return the hours of use told of a set."""
    readings: list[tuple[datetime, Decimal]] = []
    weekly: Decimal | None = None
    for event in live(events):
        if event.kind is EventKind.HOURS and event.set == set_name:
            if event.data.get("hours") is not None:
                readings.append((event.when, Decimal(str(event.data["hours"]))))
            if event.data.get("per_week") is not None:
                weekly = Decimal(str(event.data["per_week"]))
    return Usage(tuple(sorted(readings)), weekly)


def due(steps: Sequence[Step], usage: Usage, now: datetime, ambient_C: Decimal = INSIDE_C) -> tuple[Due, ...]:
    """Return when each fitted part of known life comes due, the soonest first."""
    found = [one for step in steps if (one := _one(step, usage, now, ambient_C)) is not None]
    return tuple(sorted(found, key=lambda one: (one.left_h if one.left_h is not None else one.life_h, one.key)))


def _one(step: Step, usage: Usage, now: datetime, ambient_C: Decimal) -> Due | None:
    part, tick = step.fitted, step.state.fitted[-1] if step.state.fitted else None
    if part is None or tick is None or part.life_h is None or part.temp_C is None or part.life_h <= 0:
        return None
    hours = estimate(
        part.life_h,
        part.temp_C,
        ambient_C,
        ripple_ratio=_ratio(step.position, "ripple_mA", part, "ripple_mA"),
        voltage_ratio=_ratio(step.position, "operating_V", part, "volts"),
    )
    life = Decimal(round(hours.hours))
    run = usage.since(tick.when, now)
    on: date | None = None
    if usage.per_week and run is not None:
        years = tick.when.date() + timedelta(days=365 * int(CAP_YEARS))
        # Hours of a part that hardly runs would outlast its seal: makers stand for fifteen years at most.
        weeks = min(float((life - run) / usage.per_week), (years - now.date()) / _WEEK)
        on = now.date() + timedelta(days=round(weeks * 7))
    return Due(step.key, part, life, hours.model, run, on)


def _ratio(asked: Position | None, name: str, part: Part, rated: str) -> Decimal | None:
    actual: Decimal | None = getattr(asked, name) if asked is not None else None
    rating: Decimal | None = getattr(part, rated)
    return None if actual is None or not rating else actual / rating


def _weeks(when: datetime) -> Decimal:
    return Decimal(str(when.timestamp())) / Decimal(str(_WEEK.total_seconds()))
