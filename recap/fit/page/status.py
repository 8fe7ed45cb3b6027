"""The state of a set as the page's JavaScript reads it."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from recap.audit.events import TICKS, Event, EventKind, stamp
from recap.audit.state import PlaceState, live, photos, pins, place_states, progress
from recap.audit.story import in_words, remark

if TYPE_CHECKING:
    from collections.abc import Sequence

    from recap.audit.events import PlaceKey
    from recap.audit.state import Pin
    from recap.fit.page.workshop import Unit

LAST_LINES = 25


def state_document(unit: Unit, events: Sequence[Event], seq: int) -> dict[str, Any]:
    """Return what stands for each position of a set; keys are board and ref with a line feed between."""
    states = place_states(events)
    pinned = pins(events)
    return {
        "seq": seq,
        "places": {
            f"{key.board}\n{key.ref}": _place(states.get(key, PlaceState()), pinned.get(key))
            for key in sorted({*states, *pinned})
        },
        "photos": {
            board: {"digest": photo.digest, "ratio": photo.width / photo.height}
            for (_, board), photo in photos(events).items()
        },
        "progress": {
            board.name: _progress([card.key for card in board.cards if card.on_job], states) for board in unit.boards
        },
        "story": story_lines(events),
    }


def story_lines(events: Sequence[Event]) -> list[dict[str, str]]:
    """Return the latest events in words, the last one first, local time of this machine."""
    told = [e for e in live(events) if e.kind not in {EventKind.PHOTO, EventKind.PINNED}]
    return [
        {"when": event.when.astimezone().strftime("%Y-%m-%d %H:%M"), "text": in_words(event)}
        for event in reversed(told[-LAST_LINES:])
    ]


def _place(state: PlaceState, pin: Pin | None) -> dict[str, Any]:
    events = [*state.out, *state.fitted, *state.measured, *state.notes]
    said = [(event, remark(event)) for event in sorted(events, key=lambda e: e.seq or 0)]
    ticks = {kind.value: [{"id": e.id, "at": stamp(e.when)} for e in state.ticks(kind)] for kind in TICKS}
    return {
        **ticks,
        "told": [{"id": event.id, "text": text} for event, text in said if text],
        "pin": None if pin is None else [pin.x, pin.y],
    }


def _progress(keys: Sequence[PlaceKey], states: dict[PlaceKey, PlaceState]) -> dict[str, int]:
    done = progress(keys, states)
    return {"total": done.total, "out": done.out, "in": done.fitted, "checked": done.checked}
