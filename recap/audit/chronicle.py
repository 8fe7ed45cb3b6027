"""The whole story of one set: what happened, how far the work is, what was lent, what comes due."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from recap.audit.deliveries import plan
from recap.audit.due import INSIDE_C, Due, Usage, due, usage_of
from recap.audit.events import EventKind
from recap.audit.pace import Session, sessions
from recap.audit.places import places_of
from recap.audit.review import lacking
from recap.audit.state import Progress, live, place_states, progress
from recap.audit.trace import steps

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence
    from datetime import datetime
    from decimal import Decimal

    from recap.audit.events import Event
    from recap.audit.kept import KeptOrder
    from recap.audit.places import Lists
    from recap.model import Part


@dataclass(frozen=True, slots=True)
class Chronicle:
    """``events`` are those that stand, oldest first; pins and photos are no story."""

    set: str
    done: Progress
    events: tuple[Event, ...]
    sessions: tuple[Session, ...]
    lacks: tuple[str, ...]
    usage: Usage
    due: tuple[Due, ...]


def chronicle(
    name: str,
    lists: Lists,
    orders: Sequence[KeptOrder],
    events: Sequence[Event],
    *,
    find: Callable[[str], Part | None],
    now: datetime,
    ambient_C: Decimal = INSIDE_C,
    start: datetime | None = None,
) -> Chronicle:
    """Tell the story of a set up to ``now``, its events from ``start`` on."""
    meant = plan(orders, events)
    unit = next(unit for unit in lists.sets if unit.name == name)
    caplist = lists.caplists.get(unit.chassis)
    places = places_of(unit, caplist, meant.latest()) if caplist is not None else ()
    quiet = {EventKind.PHOTO, EventKind.PINNED}
    told = [e for e in live(events) if name in {e.set, e.data.get("with")} and e.kind not in quiet]
    usage = usage_of(events, name)
    return Chronicle(
        set=name,
        done=progress((place.key for place in places if place.on_job), place_states(events)),
        events=tuple(sorted((e for e in told if start is None or e.when >= start), key=lambda e: e.when)),
        sessions=sessions(events, name),
        lacks=lacking(events, name),
        usage=usage,
        due=due(steps(places, meant, events, find), usage, now, ambient_C),
    )
