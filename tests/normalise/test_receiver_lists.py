"""What owners of receivers and monitors type: stages that are English words, working voltages, second thoughts."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pytest

from recap.model import Role
from recap.normalise.canonical import rows_of
from recap.normalise.caplist import read_cap_text
from tests.normalise.facts import facts


@pytest.mark.parametrize(
    "heading",
    [
        "AM/FM board",
        "** AM/FM board **",
        "FM/AM tuner board",
        "fm/am board",
        "AM board",
        "AM section",
        "IF board",
        "FM IF / MPX board",
        "TUNER / IF BOARD",
    ],
)
def test_am_and_if_are_stages_of_a_receiver(heading: str) -> None:
    told = heading.strip("* ")
    assert facts(f"PSU\nC1 10uF 16V\n\n{heading}\nC2 22uF 16V") == ["C1 10 µF 16 V @ PSU", f"C2 22 µF 16 V @ {told}"]


@pytest.mark.parametrize("line", ["I AM missing a board", "what i am after is the board", "if it has a board, skip it"])
def test_am_and_if_stay_words_in_a_sentence(line: str) -> None:
    assert "@" not in facts(f"C1 10uF 16V\n\n{line}\nC2 22uF 16V")[1]


@pytest.mark.parametrize(
    ("line", "volts", "works_at"),
    [
        ("C1 220uF 385V snap-in operating 325V", 385, "325"),
        ("C1 220uF 385V, operating voltage: 325 V", 385, "325"),
        ("C1 220uF 385V (operating 325V)", 385, "325"),
        ("C1 220uF 385V runs at 325V", 385, "325"),
        ("C1 220uF 385V (sits at 2,5V)", 385, "2.5"),
        ("C1 220uF 385V in circuit 310 V", 385, "310"),
        ("C1 220uF 385V Betriebsspannung 325V", 385, "325"),
        ("C1 2200pF 1kV sits at 0.6 kV", 1000, "600"),
        ("C1 220uF 385V runs at 310V, works at 325V", 385, "325"),
        ("C1 220uF operating 325V", None, "325"),
        ("C1 220uF 385V", 385, None),
    ],
)
def test_a_working_voltage_in_a_line_is_kept_and_is_no_rating(
    line: str, volts: int | None, works_at: str | None
) -> None:
    ((position,), _) = read_cap_text(line, "list.txt")
    assert position.volts == volts
    assert position.operating_V == (None if works_at is None else Decimal(works_at))
    assert position.doubts == ()


def test_working_is_how_many_write_the_rating() -> None:
    ((position,), _) = read_cap_text("C1 16uF 450V working", "list.txt")  # common practice of the valve years
    assert (position.volts, position.operating_V) == (450, None)


@pytest.mark.parametrize(
    ("line", "note"),
    [
        ("C6 1000uF 25V 105C 10x20 low ESR, ripple 1.2A", "low ESR"),
        ("C6 1000uF 25V low-ESR", "low-ESR"),
        ("C6 1000uF 25V (low impedance)", "low impedance"),
        ("C7 2.2uF 50V low leakage", "low leakage"),
        ("C6 1000uF 25V ripple 1200mA", None),
        ("C22 1uF 50V bipolar (S-corr, not electrolytic type in the S)", "S-corr, not electrolytic type in the S"),
        ("C22 1uF 50V film, not tantalum", "not tantalum"),
    ],
)
def test_what_a_line_asks_for_beside_the_part_stays_as_its_note(line: str, note: str | None) -> None:
    ((position,), _) = read_cap_text(line, "list.txt")
    assert position.note == note


@pytest.mark.parametrize(
    "said", ["S-corr", "(S-correction, width)", "tuning, flyback", "tuning cap of the flyback", "flyback / tuning"]
)
def test_what_tunes_a_deflection_is_known_anywhere_on_its_line(said: str) -> None:
    ((position,), _) = read_cap_text(f"C21 0.39uF 400V MKP {said}", "list.txt")
    assert position.role is Role.DEFLECTION


@pytest.mark.parametrize(
    ("line", "doubted"),
    [
        ("C11 22uF 16V (some have 33)", True),
        ("C11 22uF 16V (mine is 25)", True),
        ("C11 22uF 16V - schematic says 4,7", True),
        ("C11 22uF 16V (some have 22)", False),
        ("C11 22uF 16V (this is pin 33)", False),
        ("C11 22uF 16V (some have 29)", False),
    ],
)
def test_a_bare_number_in_a_remark_may_be_another_value(line: str, doubted: bool) -> None:
    assert ("?" in facts(line)[0]) is doubted


LISTED = "PSU\nC801 4700/35 snap-in\nC802 10uF 16V\n\nAmp\nC301 1uF 50V\nC302 1uF 50V\nC303 10uF 16V\n"


def test_a_designator_said_again_on_a_board_to_whose_numbers_it_does_not_belong() -> None:
    found = facts(LISTED + "C801 - 4700uF 35V is big, check it fits")
    assert [fact.endswith("?ref-twice") for fact in found] == [False] * 5 + [True]


def test_once_settled_in_the_stored_list_it_stays_settled() -> None:
    """Both boards may have such a part after all: then the code is deleted from the column of doubts."""
    positions, _ = read_cap_text(LISTED + "C801 - 4700uF 35V is big, check it fits", "list.txt")
    rows = rows_of([replace(position, doubts=()) for position in positions])
    stored = "\n".join(",".join(f'"{cell}"' for cell in row) for row in rows)
    assert [position.doubts for position in read_cap_text(stored, "list.csv")[0]] == [()] * 6


@pytest.mark.parametrize("line", ["C801 2200uF 35V", "C304 4700uF 35V"])
def test_another_value_or_a_number_of_its_own_is_another_part(line: str) -> None:
    assert not any("?" in fact for fact in facts(LISTED + line))


def test_boards_that_number_on_their_own_share_numbers() -> None:
    listed = "Left\nC1 10uF 16V\nC2 22uF 16V\nC3 47uF 16V\n\nRight\nC1 10uF 16V\nC2 22uF 16V\nC3 47uF 16V"
    assert not any("?" in fact for fact in facts(listed))


@pytest.mark.parametrize(
    "heading",
    [
        "-- Voice boards x6 --",
        "** VOICE BOARDS (x6) **",
        "-- VOICE BOARDS x6 (chips not listed) --",
        "VOICE BOARDS x6 (chips)",
    ],
)
def test_a_framed_heading_of_several_boards_is_said(heading: str) -> None:
    _, told = read_cap_text(f"PSU\nC1 10uF 16V\n\n{heading}\nC2 22uF 16V", "list.txt")
    assert [d.code for d in told if d.severity == "warning"] == ["heading-times"]


@pytest.mark.parametrize(
    ("line", "alternating"),
    [
        ("C7 0.1uF 275VAC MKP", True),
        ("C7 0.1uF 250V~ Netzfilter", True),
        ("C7 0.1uF 250~ across the mains", True),
        ("C7 0.1/250~", True),
        ("C7 100~220uF 25V", False),
        ("C7 0.1uF 275VAC X2", False),  # its class says it
        ("C7 0.1uF 250V MKP", False),
        ("C7 0.1uF 250VDC", False),
    ],
)
def test_a_rating_in_alternating_voltage_is_kept_where_no_class_is_stated(line: str, alternating: bool) -> None:
    ((position,), _) = read_cap_text(line, "list.txt")
    assert position.volts_ac is alternating


def test_a_mains_filter_smooths_nothing() -> None:
    ((position,), _) = read_cap_text("C7 0.1uF 250VAC mains filter", "list.txt")
    assert position.role is None
