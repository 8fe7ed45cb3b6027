"""Finding one's own mistake: small stories, and what must stand first on the list of suspects."""

from __future__ import annotations

from decimal import Decimal
from typing import TYPE_CHECKING, Any

import pytest

from recap.audit.events import Event, EventKind, new_event
from recap.audit.faults import about_board, about_role, about_text
from recap.audit.places import Lists
from recap.audit.review import Question, Review, lacking, review
from recap.model import CapList, Kind, Role, SetOnBench, Settings
from tests.audit.stories import group, kept, line, minutes, order, part, position, tick

if TYPE_CHECKING:
    from recap.audit.kept import KeptOrder
    from recap.model import Position

ROWS = (
    position("C1"),
    position("C2"),
    position("C3", "100", "16", "POWER", role=Role.SMOOTHING),
    position("C4", "1", "50", "AUDIO", kind=Kind.BIPOLAR, role=Role.COUPLING),
)
PARTS = {
    "HRN-47": part("HRN-47"),
    "HRN-100": part("HRN-100", "100", "25"),
    "BP-1": part("BP-1", "1", "50", kind=Kind.BIPOLAR),
    "LOW-47": part("LOW-47", "47", "16"),
    "FOR-S2": part("FOR-S2"),
}
ORDER = kept(
    order(
        line(PARTS["HRN-47"], 3, ("47 µF", 3)),
        line(PARTS["HRN-100"], 1, ("100 µF", 1)),
        line(PARTS["BP-1"], 1, ("1 µF", 1)),
        line(PARTS["FOR-S2"], 1, ("47 µF S2", 1)),
    ),
    group("47 µF", ("S1", ROWS[0]), ("S1", ROWS[1]), spares=1),
    group("100 µF", ("S1", ROWS[2])),
    group("1 µF", ("S1", ROWS[3])),
    group("47 µF S2", ("S2", ROWS[0])),
)


def done(ref: str, at: float, board: str = "AUDIO", **fitted: Any) -> list[Event]:
    """A position done properly: out, in, and later checked."""
    return [
        tick(EventKind.OUT, ref, at, board=board),
        tick(EventKind.IN, ref, at + 1, board=board, **fitted),
        tick(EventKind.CHECKED, ref, at + 60, board=board),
    ]


def whole_job() -> list[Event]:
    return [*done("C1", 0), *done("C2", 5), *done("C3", 10, "POWER"), *done("C4", 15)]


def ask(
    *events: Event, rows: tuple[Position, ...] = ROWS, orders: tuple[KeptOrder, ...] = (ORDER,), **asked: Any
) -> Review:
    sets = (SetOnBench("S1", "x", job=("full",)), SetOnBench("S2", "x", job=("C1",)))
    lists = Lists(sets, {"x": CapList("x", rows)}, Settings())
    return review(Question("S1", **asked), lists, orders, events, find=PARTS.get)


def suspects(found: Review) -> list[tuple[str, str]]:
    """Ref and weightiest reason of every suspect worth a look."""
    return [(s.step.key.ref, s.reasons[0].kind) for s in found.suspects if s.reasons and s.reasons[0].weight >= 10]


def test_work_done_as_planned_and_checked_leaves_no_suspects() -> None:
    assert suspects(ask(*whole_job())) == []


def test_a_hole_without_a_part_comes_first() -> None:
    story = [e for e in whole_job() if not (e.ref == "C2" and e.kind is not EventKind.OUT)]
    assert suspects(ask(*story))[0] == ("C2", "unfinished")


def test_polarity_that_nobody_checked_counts_more_than_an_unchecked_bipolar_part() -> None:
    story = [e for e in whole_job() if e.kind is not EventKind.CHECKED or e.ref not in {"C1", "C4"}]
    assert suspects(ask(*story)) == [("C1", "polarity"), ("C4", "unchecked")]


def test_a_part_below_the_lists_voltage_is_told_with_the_reason() -> None:
    found = ask(*whole_job()[3:], *done("C1", 0, part="LOW-47"))
    first = found.suspects[0]
    assert (first.step.key.ref, first.reasons[0].kind) == ("C1", "voltage")
    assert "LOW-47 doesn't fit" in first.reasons[0].text


def test_a_part_meant_for_another_board_is_told() -> None:
    found = ask(*whole_job()[3:], *done("C1", 0, part="HRN-100"))
    kinds = {reason.kind: reason.text for reason in found.suspects[0].reasons}
    assert "POWER" in kinds["board"]
    assert "planned was HRN-47" in kinds["board"]


def test_a_part_from_another_sets_bag_is_told() -> None:
    assert suspects(ask(*whole_job()[3:], *done("C1", 0, part="FOR-S2"))) == [("C1", "bag")]


def test_an_old_part_marked_otherwise_than_the_list_is_told() -> None:
    story = [tick(EventKind.OUT, "C1", found="33 µF 25 V"), *whole_job()[1:]]
    found = ask(*story)
    assert suspects(found) == [("C1", "marking")]
    assert found.suspects[0].reasons[0].text == "the old part was marked 33 µF 25 V: another value than the list's"


def test_what_another_set_of_the_chassis_had_in_that_place_is_told() -> None:
    theirs = tick(EventKind.OUT, "C1", set_name="S2", found="33 µF 25 V")
    assert ("C1", "revision") in suspects(ask(*whole_job(), theirs))


def test_a_list_that_was_changed_after_the_order_is_told() -> None:
    changed = (position("C1", "220"), *ROWS[1:])
    reasons = {reason.kind for reason in ask(*whole_job(), rows=changed).suspects[0].reasons}
    assert {"capacitance", "revision"} <= reasons


def test_a_doubt_in_the_list_stays_a_reason() -> None:
    doubted = (position("C1", doubts=("unit-missing",)), *ROWS[1:])
    assert suspects(ask(*whole_job(), rows=doubted)) == [("C1", "doubt")]


@pytest.mark.parametrize(
    ("story", "text"),
    [
        ([tick(EventKind.IN, "C1", 0), tick(EventKind.CHECKED, "C1", 60)], "never ticked as out"),
        ([tick(EventKind.IN, "C1", 0), tick(EventKind.OUT, "C1", 5), tick(EventKind.CHECKED, "C1", 60)], "before out"),
        (
            [tick(EventKind.OUT, "C1", 0), tick(EventKind.CHECKED, "C1", 5), tick(EventKind.IN, "C1", 60)],
            "checked before the part",
        ),
    ],
)
def test_steps_out_of_order_are_told(story: list[Event], text: str) -> None:
    found = ask(*whole_job()[3:], *story)
    assert any(text in reason.text for reason in found.suspects[0].reasons)


def test_checks_ticked_in_one_sweep_were_no_checks() -> None:
    story = [e for e in whole_job() if e.kind is not EventKind.CHECKED]
    boards = {"C1": "AUDIO", "C2": "AUDIO", "C3": "POWER", "C4": "AUDIO"}
    story += [tick(EventKind.CHECKED, ref, 90 + n / 60, board=b) for n, (ref, b) in enumerate(boards.items())]
    assert {kind for _, kind in suspects(ask(*story))} == {"burst"}


def test_more_fitted_than_came_puts_every_place_of_that_part_on_the_list() -> None:
    came = new_event(
        EventKind.RECEIVED,
        minutes(-100),
        data={"order": ORDER.id, "supplier": "Norlicht", "part": "HRN-47", "qty": 1},
    )
    assert suspects(ask(came, *whole_job())) == [("C1", "count"), ("C2", "count")]


def test_a_new_part_that_measures_bad_is_nearly_certain() -> None:
    reading = tick(EventKind.MEASURED, "C2", 70, quantity="capacitance", value="9.5", unit="µF", of="new")
    assert suspects(ask(*whole_job(), reading)) == [("C2", "measured")]


def test_a_fault_in_words_brings_up_what_it_points_to() -> None:
    found = ask(*whole_job(), about="hum on the left channel")
    first = found.suspects[0]
    assert first.step.key.ref == "C3"
    assert [m.reason for m in first.matches] == [
        "'hum' goes with smoothing capacitors",
        "'hum' goes with the board POWER",
    ]
    assert {s.step.key.ref for s in found.suspects if s.matches} == {"C1", "C2", "C3", "C4"}


def test_a_symptom_told_of_a_board_brings_up_its_positions() -> None:
    told = new_event(EventKind.WORK, minutes(3), set="S1", board="AUDIO", data={"what": "symptom", "text": "whistles"})
    assert {s.step.key.ref for s in ask(*whole_job(), told, about="whistles").suspects if s.matches} == {
        "C1",
        "C2",
        "C4",
    }


def test_a_fault_that_was_noted_comes_before_one_that_is_only_likely() -> None:
    note = new_event(EventKind.NOTE, minutes(3), set="S1", board="AUDIO", ref="C2", data={"text": "pad lifted, hum?"})
    assert ask(*whole_job(), note, about="hum").suspects[0].step.key.ref == "C2"


def test_board_and_time_narrow_the_list() -> None:
    assert [s.step.key.ref for s in ask(*whole_job(), board="power").suspects] == ["C3"]
    assert {s.step.key.ref for s in ask(*whole_job(), since=minutes(70)).suspects} == {"C3", "C4"}


def test_other_work_stands_beside_the_suspects() -> None:
    turned = new_event(EventKind.WORK, minutes(2), set="S1", data={"what": "adjusted", "text": "B+ to 112 V"})
    theirs = new_event(EventKind.WORK, minutes(2), set="S2", data={"what": "added", "text": "jumper"})
    assert ask(*whole_job(), turned, theirs).other_work == (turned,)


def test_a_lent_module_is_missing_until_it_comes_back() -> None:
    def work(what: str, text: str) -> Event:
        return new_event(EventKind.WORK, minutes(0), set="S2", data={"what": what, "text": text, "with": "S1"})

    story = [work("borrowed", "sound module"), work("borrowed", "remote board")]
    assert lacking(story, "S1") == ("sound module: in S2 since 2025-03-03", "remote board: in S2 since 2025-03-03")
    assert lacking([*story, work("returned", "Sound module, tested")], "S1") == (
        "remote board: in S2 since 2025-03-03",
    )
    assert lacking(story, "S2") == ()


def test_a_tick_on_a_place_that_no_list_has_is_not_lost() -> None:
    assert ("C99", "revision") in suspects(ask(*whole_job(), *done("C99", 0)))


def test_fault_words_survive_a_slip_of_the_finger_but_not_another_word() -> None:
    assert about_role("distorsion in both channels", Role.COUPLING) is not None
    assert about_role("humidity was high", Role.SMOOTHING) is None
    assert about_board("no sound at all", "AUDIO") is not None
    assert about_board("no sound at all", "NECK") is None
    assert about_board("vertical jitter", "Vert") is not None
    assert about_board("no sound at all", "Aud. L") is not None
    assert about_board("vertical jitter", "Verstärker") is None
    assert about_text("crackle when warm", ["nothing"]) is None


def test_the_rank_of_a_place_grows_with_its_reasons() -> None:
    lone = ask(tick(EventKind.IN, "C1", 0), tick(EventKind.OUT, "C1", -1)).suspects[0]
    doubted = (position("C1", doubts=("unit-missing",), operating_V=Decimal(24)), *ROWS[1:])
    more = ask(tick(EventKind.IN, "C1", 0), tick(EventKind.OUT, "C1", -1), rows=doubted).suspects[0]
    assert more.score > lone.score
