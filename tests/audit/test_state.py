"""State is derived: what stands after ticks, takings back and two phones at once."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from recap.audit.deliveries import plan
from recap.audit.events import TICKS, Event, EventKind, PlaceKey
from recap.audit.places import boards_of, places_of
from recap.audit.state import BoardPhoto, Pin, Progress, fitted_places, live, photos, pins, place_states, progress
from recap.model import CapList, SetOnBench
from tests.audit.stories import group, kept, line, order, part, position, tick

C12 = PlaceKey("S1", "AUDIO", "C12")


def undo(*events: Event, at: float = 0) -> Event:
    return tick(EventKind.UNDONE, events[0].ref or "", at, undoes=[e.id for e in events])


def test_a_tick_taken_back_is_open_again_and_may_be_ticked_anew() -> None:
    first = tick(EventKind.IN, "C12")
    story = [first, undo(first)]
    assert fitted_places(story) == frozenset()
    assert fitted_places([*story, tick(EventKind.IN, "C12")]) == {C12}


def test_when_two_phones_ticked_the_same_stage_taking_back_one_leaves_the_other() -> None:
    ours, theirs = tick(EventKind.IN, "C12"), tick(EventKind.IN, "C12")
    assert fitted_places([ours, theirs, undo(ours)]) == {C12}
    assert fitted_places([ours, theirs, undo(ours, theirs)]) == frozenset()


def test_what_was_found_and_what_was_fitted_is_what_was_said_last() -> None:
    state = place_states(
        [
            tick(EventKind.OUT, "C12"),
            tick(EventKind.OUT, "C12", found="33 µF 16 V"),
            tick(EventKind.IN, "C12", part="NL-47"),
        ]
    )[C12]
    assert (state.found, state.part) == ("33 µF 16 V", "NL-47")


def test_progress_counts_places_not_ticks() -> None:
    story = [tick(EventKind.OUT, "C12"), tick(EventKind.OUT, "C12"), tick(EventKind.IN, "C12")]
    places = [C12, PlaceKey("S1", "AUDIO", "C13")]
    assert progress(places, place_states(story)) == Progress(total=2, out=1, fitted=1, checked=0)


def test_a_pin_moves_and_goes() -> None:
    there = tick(EventKind.PINNED, "C12", x=0.25, y=0.5)
    assert pins([there]) == {C12: Pin(0.25, 0.5)}
    assert pins([there, tick(EventKind.PINNED, "C12", x=0.3, y=0.5)]) == {C12: Pin(0.3, 0.5)}
    assert pins([there, tick(EventKind.PINNED, "C12")]) == {}


def test_the_latest_photo_counts() -> None:
    story = [tick(EventKind.PHOTO, "", photo=name, width=40, height=30) for name in ("a", "b")]
    assert photos(story) == {("S1", "AUDIO"): BoardPhoto("b", 40, 30)}


def test_a_set_has_the_places_of_its_boards_and_those_that_were_ordered_for() -> None:
    placed = kept(order(line(part("NL-47"), 1, ("g", 1))), group("g", ("S1", position("C99"))))
    meant = plan([placed], ()).latest()
    caplist = CapList("x", (position("C10"), position("C2"), position("C301", board="PSU"), position("C1", board=None)))
    places = places_of(SetOnBench("S1", "x", ("audio",), ("C2",)), caplist, meant)
    assert [(p.key.ref, p.on_job) for p in places] == [("C1", False), ("C2", True), ("C10", False), ("C99", True)]
    assert boards_of(places) == ("", "AUDIO")
    assert places[-1].part == part("NL-47")


def test_two_rows_of_one_name_are_one_place_with_the_pieces_of_both() -> None:
    rows = (position(None, qty=2), position(None, qty=2, doubts=("unit-missing",)))
    (place,) = places_of(SetOnBench("S1", "x"), CapList("x", rows), {})
    assert (place.position.qty, place.position.doubts) == (4, ("unit-missing",))


@given(st.lists(st.tuples(st.sampled_from(TICKS), st.sampled_from("AB"), st.booleans()), max_size=12))
@settings(max_examples=80, deadline=None)
def test_what_is_taken_back_leaves_no_trace_in_the_state(steps: list[tuple[EventKind, str, bool]]) -> None:
    story: list[Event] = []
    kept_ticks: list[Event] = []
    for kind, ref, taken_back in steps:
        event = tick(kind, ref)
        story.append(event)
        if taken_back:
            story.append(undo(event))
        else:
            kept_ticks.append(event)
    assert list(live(story)) == kept_ticks
    assert place_states(story) == place_states(kept_ticks)
