"""What can happen at the bench, as plain facts that are only ever added to.

An event says what happened, when, to which set and (where it has one) board and position. Nothing is
changed afterwards: a tick taken back is one more event. Every state is worked out from the events by
the pure functions of :mod:`recap.audit.state`, :mod:`recap.audit.drawer` and :mod:`recap.audit.trace`.
"""

from __future__ import annotations

import json
import uuid
from dataclasses import dataclass, field
from datetime import UTC, datetime
from enum import StrEnum
from typing import TYPE_CHECKING, Any, NamedTuple

if TYPE_CHECKING:
    from collections.abc import Mapping


class EventKind(StrEnum):
    """What happened. The words are those of the file, the exports and the page."""

    OUT = "out"
    """The old part is out; ``found`` may say what it was marked with."""
    IN = "in"
    """The new part is soldered in; ``part`` names it where it isn't the planned one."""
    CHECKED = "checked"
    """Value, place and polarity were looked at again."""
    UNDONE = "undone"
    """Ticks were taken back: ``undoes`` lists their ids."""
    MEASURED = "measured"
    """A reading: ``quantity``, ``value``, ``unit``."""
    NOTE = "note"
    """Free words in ``text``."""
    WORK = "work"
    """Other work on the set: ``what`` is one of :class:`Work`, ``text`` tells it, ``with`` names another set."""
    HOURS = "hours"
    """Hours the set has run (``hours``), and how many a week it runs (``per_week``)."""
    RECEIVED = "received"
    """Goods came: ``order``, ``part``, ``supplier``, ``qty``; ``instead_of`` for a substitute."""
    CLOSED = "closed"
    """What an order still owes won't come any more: ``order``."""
    MOVED = "moved"
    """Pieces put into (``qty`` > 0) or taken out of (``qty`` < 0) the drawer by hand, with ``why``."""
    COUNTED = "counted"
    """drawer.csv was seen to say ``rows`` (part: pieces); see :mod:`recap.audit.drawer`."""
    PHOTO = "photo"
    """A photo of the board: ``photo`` is its digest."""
    PINNED = "pinned"
    """Where the position lies on the photo: ``x``, ``y`` from 0 to 1; both absent: no pin."""


class Work(StrEnum):
    """Other work on a set than changing its capacitors."""

    BORROWED = "borrowed"
    """A module came over from the set named in ``with``, which now lacks it."""
    RETURNED = "returned"
    """A borrowed module went back to the set named in ``with``."""
    ADDED = "added"
    """A connector, jumper or part that the set didn't have."""
    ADJUSTED = "adjusted"
    """A control turned, an alignment done."""
    SYMPTOM = "symptom"
    """A fault seen or heard."""
    REPAIRED = "repaired"
    """Any other repair."""


TICKS = (EventKind.OUT, EventKind.IN, EventKind.CHECKED)
"""What a position goes through, in the order of the work."""

EARLIEST_YEAR = 1900
LONGEST_TEXT = 2000
"""Characters of one free text; longer ones are refused, not cut."""


class PlaceKey(NamedTuple):
    """A position of a set; ``board`` is empty where the list has none. See :func:`recap.audit.kept.place_key`."""

    set: str
    board: str
    ref: str


@dataclass(frozen=True, slots=True)
class Event:
    """One fact. ``at`` is the clock of the device that made it, ``recorded`` that of the record, both UTC.

    ``id`` is a UUID made where the event was made: delivered twice, it counts once. ``seq`` is the
    order of arrival, None before it has arrived.
    """

    id: str
    kind: EventKind
    at: datetime
    set: str | None = None
    board: str | None = None
    ref: str | None = None
    by: str | None = None
    data: Mapping[str, Any] = field(default_factory=dict)
    seq: int | None = None
    recorded: datetime | None = None

    @property
    def when(self) -> datetime:
        """When it happened: the device's clock, but never later than the event arrived."""
        return self.at if self.recorded is None else min(self.at, self.recorded)

    @property
    def place(self) -> PlaceKey | None:
        """The position it belongs to, if it belongs to one."""
        if self.set is None or self.ref is None:
            return None
        return PlaceKey(self.set, self.board or "", self.ref)


def new_event(kind: EventKind, at: datetime | None = None, **rest: Any) -> Event:  # noqa: ANN401 - Event's own fields
    """Return an event with a fresh id, happening now where no time is given."""
    return Event(id=str(uuid.uuid4()), kind=kind, at=at or datetime.now(UTC), **rest)


class EventError(ValueError):
    """Something that claims to be an event and isn't one; the text says why."""


def event_from_document(document: object) -> Event:
    """Return the event a JSON object tells of; raise :class:`EventError` where it doesn't tell one."""
    if not isinstance(document, dict):
        raise EventError("an event is a JSON object")
    if not whole_letters(document):
        raise EventError(HALF_A_CHARACTER)
    try:
        kind = EventKind(str(document.get("kind")))
    except ValueError:
        raise EventError(f"no such kind of event: {document.get('kind')!r}") from None
    data = document.get("data") or {}
    if not isinstance(data, dict):
        raise EventError("data is a JSON object")
    recorded = document.get("recorded")
    return Event(
        id=_identity(document.get("id")),
        kind=kind,
        at=moment(document.get("at")),
        set=_text(document, "set"),
        board=_text(document, "board"),
        ref=_text(document, "ref"),
        by=_text(document, "by"),
        data=data,
        recorded=None if recorded is None else moment(recorded),
    )


HALF_A_CHARACTER = "half a character in its text (a lone surrogate), which nothing can write down"


def whole_letters(document: object) -> bool:
    """Tell whether every text in a JSON document can be written as UTF-8: a lone surrogate is half a character."""
    try:
        json.dumps(document, ensure_ascii=False, default=str).encode()
    except UnicodeEncodeError:
        return False
    return True


def document_of_event(event: Event) -> dict[str, Any]:
    """Return the event as the JSON object :func:`event_from_document` reads."""
    return {
        "id": event.id,
        "kind": event.kind.value,
        "at": stamp(event.at),
        "set": event.set,
        "board": event.board,
        "ref": event.ref,
        "by": event.by,
        "data": dict(event.data),
        "recorded": None if event.recorded is None else stamp(event.recorded),
    }


def stamp(when: datetime) -> str:
    """Return a moment as UTC text that sorts: ``2025-03-01T12:00:00.000000Z``."""
    return when.astimezone(UTC).strftime("%Y-%m-%dT%H:%M:%S.%fZ")


def moment(text: object) -> datetime:
    """Return the moment that ISO 8601 text tells; text without a zone is UTC."""
    if not isinstance(text, str):
        raise EventError("a time is ISO 8601 text")
    try:
        read = datetime.fromisoformat(text)
        when = (read.replace(tzinfo=UTC) if read.tzinfo is None else read).astimezone(UTC)
    except (ValueError, OverflowError):
        raise EventError(f"not a time: {text!r}") from None
    if when.year < EARLIEST_YEAR:  # years of fewer than four figures are written in a way that can't be read back
        raise EventError(f"not a time at which anybody recorded anything: {text!r}")
    return when


def _identity(text: object) -> str:
    try:
        return str(uuid.UUID(str(text)))
    except ValueError:
        raise EventError(f"not a UUID: {text!r}") from None


def _text(document: Mapping[str, Any], key: str) -> str | None:
    value = document.get(key)
    if value is None:
        return None
    if not isinstance(value, str) or len(value) > LONGEST_TEXT:
        raise EventError(f"{key} is text of at most {LONGEST_TEXT} characters")
    return value
