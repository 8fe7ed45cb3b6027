"""What an event from outside must hold, so that the record can still be read once it is in.

The record only grows: an event that can't be read would stand in the way of every command for good.
"""

from __future__ import annotations

from decimal import Decimal, InvalidOperation
from typing import TYPE_CHECKING, Any

from recap.audit.codec import DocumentError, decode
from recap.audit.events import Event, EventError, EventKind
from recap.model import Part

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    Data = Mapping[str, Any]

MOST = 1_000_000_000
"""Pieces, hours, or a reading in its unit; more is no count of anything at a bench."""

_WORDS = ("part", "found", "text", "what", "with", "order", "supplier", "instead_of", "why", "of", "unit", "quantity")


def checked(event: Event) -> Event:
    """Return the event itself; raise :class:`EventError` where its data is not what its kind holds."""
    for key in _WORDS:
        if not isinstance(event.data.get(key), str | None):
            raise EventError(f"{event.kind.value}: {key} is text, not {event.data[key]!r}")
    look = _LOOKS.get(event.kind)
    if look is not None:
        try:
            look(event.data)
        except (DocumentError, EventError) as fault:
            raise EventError(f"{event.kind.value} at {event.at.isoformat()}: {fault}") from fault
    return event


def _received(data: Data) -> None:
    _word(data, "part")
    _count(data, "qty", 1)
    _spec(data)


def _moved(data: Data) -> None:
    _word(data, "part")
    _count(data, "qty", -MOST)
    _spec(data)


def _counted(data: Data) -> None:
    rows, settled = data.get("rows"), data.get("settled", ())
    if not isinstance(rows, dict):
        raise EventError("rows are pieces by part")
    for part in rows:
        _count(rows, part, 0)
    if not isinstance(settled, list | tuple) or not all(isinstance(part, str) for part in settled):
        raise EventError("settled is a list of parts")


def _measured(data: Data) -> None:
    _number(data, "value", -MOST)


def _hours(data: Data) -> None:
    for key in ("hours", "per_week"):
        if data.get(key) is not None:
            _number(data, key, 0)


def _photo(data: Data) -> None:
    _word(data, "photo")
    for key in ("width", "height"):
        if key in data:
            _count(data, key, 1)


def _pinned(data: Data) -> None:
    if "x" in data or "y" in data:
        for axis in ("x", "y"):
            if not 0 <= _number(data, axis, 0) <= 1:
                raise EventError("a pin lies on the photo: x and y from 0 to 1")


def _undone(data: Data) -> None:
    ids = data.get("undoes") or []
    if not isinstance(ids, list) or not all(isinstance(identity, str) for identity in ids):
        raise EventError("undoes is a list of ids")


def _word(data: Data, key: str) -> None:
    if not isinstance(data.get(key), str):
        raise EventError(f"{key} is missing")


def _count(data: Data, key: str, least: int) -> None:
    value = data.get(key)
    if isinstance(value, bool) or not isinstance(value, int) or not least <= value <= MOST:
        raise EventError(f"{key} is a whole number from {least} to {MOST}, not {value!r}")


def _number(data: Data, key: str, least: int) -> Decimal:
    value = data.get(key)
    try:
        number = Decimal("NaN") if isinstance(value, bool) else Decimal(str(value))
    except InvalidOperation:
        number = Decimal("NaN")
    if not number.is_finite() or not least <= number <= MOST:
        raise EventError(f"{key} is a number from {least} to {MOST}, not {value!r}")
    return number


def _spec(data: Data) -> None:
    if data.get("spec"):
        decode(Part, data["spec"])


_LOOKS: Mapping[EventKind, Callable[[Data], None]] = {
    EventKind.RECEIVED: _received,
    EventKind.MOVED: _moved,
    EventKind.COUNTED: _counted,
    EventKind.MEASURED: _measured,
    EventKind.HOURS: _hours,
    EventKind.PHOTO: _photo,
    EventKind.PINNED: _pinned,
    EventKind.UNDONE: _undone,
}
