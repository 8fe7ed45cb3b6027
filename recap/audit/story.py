"""Events in words, the same on the page, in the history and in the audit."""

from __future__ import annotations

from typing import TYPE_CHECKING

from recap.audit.events import Event, EventKind, Work

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping
    from typing import Any

_WORK = {
    Work.BORROWED: "module borrowed from {other}",
    Work.RETURNED: "module given back to {other}",
    Work.ADDED: "added",
    Work.ADJUSTED: "adjusted",
    Work.SYMPTOM: "symptom",
    Work.REPAIRED: "repaired",
}


def in_words(event: Event) -> str:
    """Tell what happened on one line, without the time: ``C12 (AUDIO): in, fitted NL-47, by K``."""
    where = _where(event)
    told = " ".join(_what(event).split())
    who = f", by {event.by}" if event.by else ""
    return f"{where}: {told}{who}" if where else f"{told}{who}"


def remark(event: Event) -> str | None:
    """Return what a position's event says beyond its tick: what was found, fitted, measured, noted."""
    data = event.data
    if event.kind is EventKind.NOTE:
        return f"note: {data.get('text', '')}"
    if event.kind is EventKind.MEASURED:
        return _measured(data)
    if event.kind is EventKind.OUT and data.get("found"):
        return f"old part was marked: {data['found']}"
    if event.kind is EventKind.IN and data.get("part"):
        return f"fitted: {data['part']}"
    return None


def _where(event: Event) -> str:
    if event.ref and event.board:
        return f"{event.ref} ({event.board})"
    return event.ref or event.board or ""


def _what(event: Event) -> str:
    if event.kind in _TELLERS:
        return _TELLERS[event.kind](event.data)
    said = remark(event)
    if said and event.kind in {EventKind.NOTE, EventKind.MEASURED}:
        return said
    return f"{event.kind.value}, {said}" if said else event.kind.value


def _hours(data: Mapping[str, Any]) -> str:
    weekly = f", {data['per_week']} h a week" if data.get("per_week") is not None else ""
    return f"has run {data.get('hours', '?')} h{weekly}"


def _received(data: Mapping[str, Any]) -> str:
    instead = f" instead of {data['instead_of']}" if data.get("instead_of") else ""
    source = f"{data.get('supplier')}, order {data.get('order')}"
    return f"received {data.get('qty')} of {data.get('part')}{instead} from {source}"


def _moved(data: Mapping[str, Any]) -> str:
    why = f", {data['why']}" if data.get("why") else ""
    return f"drawer: {data.get('qty', 0):+} of {data.get('part')}{why}"


def _counted(data: Mapping[str, Any]) -> str:
    return "drawer.csv taken as counted" if data.get("settled") else "drawer.csv noted"


def _work(data: Mapping[str, Any]) -> str:
    try:
        words = _WORK[Work(str(data.get("what")))]
    except ValueError:
        words = str(data.get("what", "work"))
    return f"{words.format(other=data.get('with') or 'another set')}: {data.get('text', '')}"


def _measured(data: Mapping[str, Any]) -> str:
    which = f"{data['of']} part measured" if data.get("of") else "measured"
    quantity = f" ({data['quantity']})" if data.get("quantity") else ""
    return f"{which}: {data.get('value', '?')} {data.get('unit', '')}{quantity}"


_TELLERS: Mapping[EventKind, Callable[[Mapping[str, Any]], str]] = {
    EventKind.UNDONE: lambda _: "taken back",
    EventKind.WORK: _work,
    EventKind.HOURS: _hours,
    EventKind.RECEIVED: _received,
    EventKind.CLOSED: lambda data: f"order {data.get('order')}: what is still owed won't come",
    EventKind.MOVED: _moved,
    EventKind.COUNTED: _counted,
    EventKind.PHOTO: lambda _: "photo of the board",
    EventKind.PINNED: lambda _: "pinned on the photo",
}
