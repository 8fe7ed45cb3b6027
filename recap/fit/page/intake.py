"""What a phone may tell: each event looked at on its own, refused ones with the reason, the rest recorded."""

from __future__ import annotations

import math
import re
from dataclasses import replace
from typing import TYPE_CHECKING, Any

from recap.audit.events import TICKS, Event, EventError, EventKind, Work, event_from_document
from recap.audit.record import EventConflictError

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from recap.audit.record import Record
    from recap.fit.page.workshop import Unit

MOST_EVENTS = 500
MOST_BYTES = 400_000

_NUMBER = re.compile(r"-?\d{1,9}([.,]\d{1,9})?")
_PLACED = frozenset({*TICKS, EventKind.UNDONE, EventKind.MEASURED, EventKind.PINNED})
_ACCEPTED = _PLACED | {EventKind.NOTE, EventKind.WORK}
_WORDS = {
    EventKind.OUT: ("found",),
    EventKind.IN: ("part",),
    EventKind.MEASURED: ("quantity", "unit", "of"),
    EventKind.NOTE: ("text",),
    EventKind.WORK: ("text", "with"),
}
_LONGEST_WORD = 200
_LONGEST_NOTE = 2000


def take_in(documents: Sequence[object], units: Mapping[str, Unit], record: Record) -> list[dict[str, Any]]:
    """Record what is sound, in order, and tell for each whether it is recorded or refused and why."""
    return [_take(document, units, record) for document in documents]


def _take(document: object, units: Mapping[str, Unit], record: Record) -> dict[str, Any]:
    identity = document.get("id") if isinstance(document, dict) else None
    try:
        event = checked_event(document, units)
        (there,) = record.append([event])
    except (EventError, EventConflictError) as fault:
        return {"id": identity, "status": "refused", "reason": str(fault)}
    return {"id": identity, "status": "recorded", "seq": there.seq}


def checked_event(document: object, units: Mapping[str, Unit]) -> Event:
    """Return the event with nothing in it but what its kind knows; raise :class:`EventError` where it can't be."""
    event = replace(event_from_document(document), recorded=None)
    if event.kind not in _ACCEPTED:
        raise EventError(f"{event.kind.value} can't be told from the page")
    unit = units.get(event.set or "")
    if unit is None:
        raise EventError(f"no set {event.set!r} on this bench")
    if event.kind in _PLACED or event.ref is not None:
        _known_place(event, unit)
    elif event.board is not None and unit.board(event.board) is None:
        raise EventError(f"{unit.name} has no board {event.board!r}")
    if event.by is not None and len(event.by) > _LONGEST_WORD:
        raise EventError("a name that long is no name")
    return replace(event, data=_data(event))


def _known_place(event: Event, unit: Unit) -> None:
    if not any(event.place == card.key for board in unit.boards for card in board.cards):
        raise EventError(f"{unit.name} has no position {event.ref!r} on board {event.board!r}")


def _data(event: Event) -> dict[str, Any]:
    data: dict[str, Any] = {
        key: _word(event, key) for key in _WORDS.get(event.kind, ()) if event.data.get(key) is not None
    }
    if event.kind is EventKind.UNDONE:
        data["undoes"] = _undoes(event)
    if event.kind is EventKind.MEASURED:
        data["value"] = _number(event)
    if event.kind is EventKind.PINNED and ("x" in event.data or "y" in event.data):
        data |= {axis: _fraction(event.data.get(axis)) for axis in ("x", "y")}
    if event.kind is EventKind.WORK:
        data["what"] = _what(event)
    if event.kind in {EventKind.NOTE, EventKind.WORK} and not str(data.get("text", "")).strip():
        raise EventError("a note without words")
    return data


def _word(event: Event, key: str) -> str:
    longest = _LONGEST_NOTE if key == "text" else _LONGEST_WORD
    value = event.data[key]
    if not isinstance(value, str) or len(value) > longest:
        raise EventError(f"{key} is text of at most {longest} characters")
    return value


def _undoes(event: Event) -> list[str]:
    ids = event.data.get("undoes")
    if not isinstance(ids, list) or not 0 < len(ids) <= MOST_EVENTS or not all(isinstance(i, str) for i in ids):
        raise EventError("undoes is a list of ids")
    return [identity[:40] for identity in ids]


def _number(event: Event) -> str:
    value = str(event.data.get("value", "")).strip()
    if not _NUMBER.fullmatch(value):
        raise EventError(f"not a reading: {value[:40]!r}")
    return value.replace(",", ".")


def _fraction(value: object) -> float:
    if isinstance(value, bool) or not isinstance(value, int | float) or not math.isfinite(value) or not 0 <= value <= 1:
        raise EventError("a pin lies on the photo: x and y from 0 to 1")
    return round(float(value), 4)


def _what(event: Event) -> str:
    try:
        return Work(str(event.data.get("what"))).value
    except ValueError:
        raise EventError(f"no such kind of work: {event.data.get('what')!r}") from None
