"""What the checklist says at each position, and in which order."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from recap.fit.checklist import checklist, remarks, where
from recap.fit.worklist import NOTHING, by_board, by_part, polarity_mark, task
from recap.model import Kind, Mount, Part, Position, Role, Settings
from recap.order.allot import Allotment, allot
from tests.order.sample import a_report, part

REPORT = a_report("HRN-47-35")
TASKS = [task(piece, Settings()) for piece in allot(REPORT.groups, REPORT.order)]


def one(position: Position, fitted: Part | None) -> Allotment:
    return Allotment("set-1", position, "g", position.qty, fitted, fitted.supplier if fitted else None)


def test_by_board_goes_designator_by_designator_and_nine_comes_before_ten() -> None:
    found = [(section.set, section.title, [t.ref for t in section.tasks]) for section in by_board(TASKS)]
    assert found == [
        ("set-1", "no board named", ["C30"]),
        ("set-1", "AUDIO", ["C2"]),
        ("set-1", "POWER", ["C9", "C10"]),
        ("set-2", "AUDIO", ["0.47 µF 350 V ×2"]),
        ("set-2", "POWER", ["C9", "C77"]),
    ]


def test_by_part_uses_up_one_part_before_the_next_and_what_is_missing_comes_last() -> None:
    found = [(section.set, section.title.split(":")[0], [t.ref for t in section.tasks]) for section in by_part(TASKS)]
    assert found == [
        ("set-1", "AX 0.47/450", ["C30"]),
        ("set-1", "HRN-47-35", ["C10"]),
        ("set-1", "OLD-1", ["C2", "C9"]),
        ("set-2", "AX 0.47/450", ["0.47 µF 350 V ×2"]),
        ("set-2", "HRN-47-35", ["C9"]),
        ("set-2", NOTHING, ["C77"]),
    ]


@given(st.permutations(TASKS))
def test_the_order_of_the_work_does_not_hang_on_the_order_of_the_list(shuffled: list[object]) -> None:
    assert by_board(shuffled) == by_board(TASKS)  # type: ignore[arg-type]
    assert by_part(shuffled) == by_part(TASKS)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("kind", "mount", "words"),
    [
        # TDK B41505/B43505, B41856: "minus pole marking" on radial and snap-in cans
        (Kind.ELECTROLYTIC, Mount.RADIAL, "stripe = minus"),
        (Kind.ELECTROLYTIC, Mount.SNAP_IN, "stripe = minus"),
        # Vishay 021 ASM, doc 28325: axial, the band marks the negative end
        (Kind.ELECTROLYTIC, Mount.AXIAL, "band = minus"),
        # MIL-PRF-49137E, 3.21: the mark is at the positive terminal
        (Kind.TANTALUM, Mount.RADIAL, "bar = PLUS"),
        # common practice: these have no polarity
        (Kind.BIPOLAR, Mount.AXIAL, "bipolar: no polarity"),
        (Kind.FILM, Mount.RADIAL, "no polarity"),
        (Kind.SAFETY, Mount.RADIAL, "no polarity"),
    ],
)
def test_what_the_mark_on_the_part_means(kind: Kind, mount: Mount, words: str) -> None:
    assert polarity_mark(Position(), part("X", kind=kind, mount=mount)) == words


def test_polarity_is_that_of_the_new_part_not_of_the_old() -> None:
    old = Position(kind=Kind.TANTALUM, mount=Mount.RADIAL)
    assert polarity_mark(old, part("X")) == "stripe = minus"
    assert polarity_mark(old, None) == "bar = PLUS"


def test_a_kind_nobody_knows_is_not_given_a_polarity() -> None:
    assert "not known" in polarity_mark(Position(), part("X", kind=Kind.UNKNOWN))


def test_with_care_says_what_it_means_here() -> None:
    position = Position(ref="C1", value_uF=Decimal(47), volts=Decimal(10), kind=Kind.ELECTROLYTIC)
    (said,) = (text for text in remarks(task(one(position, part("X")), Settings())) if "CARE" in text)
    assert said.startswith("WITH CARE: ")
    assert "35 V" in said


def test_a_part_that_does_not_fit_is_called_so() -> None:
    position = Position(ref="C1", value_uF=Decimal(47), volts=Decimal(63), kind=Kind.ELECTROLYTIC)
    assert any(text.startswith("DOES NOT FIT: ") for text in remarks(task(one(position, part("X")), Settings())))


def test_a_wider_hole_spacing_asks_for_forming_and_a_high_voltage_for_discharge() -> None:
    position = Position(ref="C1", volts=Decimal(250), pitch_mm=Decimal(5), mount=Mount.RADIAL, role=Role.DEFLECTION)
    said = remarks(task(one(position, part("X", volts=Decimal(250))), Settings()))
    assert any(text.startswith("Leads: leads 2.5 mm, holes 5 mm") for text in said)
    assert any(text.startswith("DANGER: May hold 250 V") for text in said)
    assert any("deflection" in text for text in said)


def test_doubts_of_the_list_stand_on_the_checklist() -> None:
    position = Position(ref="C1", doubts=("some-doubt",), note="read off the can")
    said = remarks(task(one(position, None), Settings()))
    assert said == ("DOUBT: some-doubt", "List says: read off the can")


def test_a_missing_part_is_not_left_out() -> None:
    made = task(one(Position(ref="C77", value_uF=Decimal(8)), None), Settings())
    assert (made.new, made.source) == (NOTHING, "")


def test_places_are_counted_only_where_one_line_stands_for_several() -> None:
    made = checklist(TASKS, date(2025, 11, 25), "test", part_by_part=True)
    names = [where(t, made) for section in made.sections for t in section.tasks]
    assert names[0] == "C30 (no board named)"
    assert "0.47 µF 350 V ×2 (AUDIO)" in names
    assert made.tasks_count == 7
