"""Remarks on another edition of the set, on a part that didn't fit, on totals: they never replace what is listed.

All are ways in which people write such remarks in lists (common practice).
"""

from __future__ import annotations

from decimal import Decimal
from typing import TYPE_CHECKING

import pytest

from recap.diagnostics import Severity
from recap.normalise.caplist import read_cap_text

if TYPE_CHECKING:
    from recap.model import Position

TABLE = "| Ref | uF | Volts | Note |\n|---|---|---|---|\n| C5 | {} |\n| C8 | 1 | 50 | |\n"


def first(line: str) -> Position:
    positions, _ = read_cap_text(f"{line}\nC8 1uF 50V\n", "list.txt")
    assert [p.ref for p in positions] == ["C5", "C8"]
    return positions[0]


def in_table(cells: str) -> Position:
    positions, _ = read_cap_text(TABLE.format(cells), "list.md")
    assert [p.ref for p in positions] == ["C5", "C8"]
    return positions[0]


@pytest.mark.parametrize(
    "line",
    [
        "C5   220uF  16V   was 100uF on rev A",
        "C5 220uF 16V (was 100uF on rev A)",
        "C5 220uF 16V was 10V in early version",
        "C5 220uF 16V - early sets 10V",
        "C5 220uF 16V (rev A: 100uF)",
        "C5 220uF/16V war 100uF in Version A",
        "C5 220uF 16V in early sets 100uF",
        "C5 220uF 16V were 100uF in older models",
    ],
)
def test_what_another_edition_had_doesnt_replace_what_stands_first(line: str) -> None:
    got = first(line)
    assert (got.value_uF, got.volts) == (Decimal(220), Decimal(16))
    assert got.doubts


@pytest.mark.parametrize("line", ["C5 220uF 16V, 100uF on rev A", "C5 220uF 16V était 100uF sur la première série"])
def test_what_stands_without_a_word_that_tells_is_left_open(line: str) -> None:
    got = first(line)
    assert got.value_uF is None
    assert "value-conflict" in got.doubts


@pytest.mark.parametrize(
    "line",
    [
        "C5 33uF 10V (35V one is too tall)",
        "C5 33uF 10V (35V won't fit)",
        "C5 33uF 10V (the 16V type is taller)",
        "C5 33uF 10V (25V also fits)",
        "C5 33uF 10V, 35V is too big",
        "C5 33uF 10V (35V zu hoch)",
        "C5 33uF 10V (35V trop grand)",
        "C5 33uF 10V (use 50V if it fits)",
    ],
)
def test_a_voltage_in_a_remark_leaves_the_stated_one(line: str) -> None:
    got = first(line)
    assert (got.value_uF, got.volts, got.doubts) == (Decimal(33), Decimal(10), ())


@pytest.mark.parametrize("line", ["C5 33uF 10V (16V)", "C5 33uF 10V (or 16V)", "C5 33uF 10V (16V, nicht 10V)"])
def test_a_second_voltage_without_a_reason_is_never_passed_over(line: str) -> None:
    assert first(line).doubts


@pytest.mark.parametrize(
    ("cells", "value", "volts"),
    [
        ("10 / 22 | 16 | ", None, 16),
        ("10/22 | 16 V | ", None, 16),
        ("100 / 10 | 25 | ", None, 25),
        ("10 or 22 | 16 | ", None, 16),
        ("10 oder 22 | 16 | ", None, 16),
        ("10-22 | 16 | ", None, 16),
    ],
)
def test_two_values_in_one_cell_are_left_open_and_the_voltage_stays(cells: str, value: int | None, volts: int) -> None:
    got = in_table(cells)
    assert (got.value_uF, got.volts) == (value, volts)
    assert "alternatives" in got.doubts


def test_a_pair_whose_second_number_is_the_voltage_is_plain() -> None:
    got = in_table("47/16 | 16 | ")
    assert (got.value_uF, got.volts, got.doubts) == (Decimal(47), Decimal(16), ())


@pytest.mark.parametrize(
    "note", ["marking gone, 35V I think", "35V?", "probably 35 V", "maybe 35V", "vermutlich 35 V", "illisible, 35 V ?"]
)
def test_a_guessed_voltage_in_a_note_is_doubted(note: str) -> None:
    assert "marked-uncertain" in in_table(f"220uF | | {note}").doubts


@pytest.mark.parametrize(
    "remark",
    [
        "(2 of these in late sets)",
        "(two of these in later sets)",
        "(only one in early models)",
        "(x2 on rev B)",
        "(zwei davon in späteren Geräten)",
        "(2 pcs on some boards)",
    ],
)
def test_another_number_in_other_sets_is_doubted(remark: str) -> None:
    assert "count-mismatch" in first(f"C5 10uF 25V {remark}").doubts


def test_two_small_parts_at_one_designator_are_no_can() -> None:
    got = first("C5 2 x 10nF 400V")
    assert got.value_uF == Decimal("0.01")
    assert "count-mismatch" in got.doubts


@pytest.mark.parametrize(
    "sentence",
    [
        "All SMD cans unless it says otherwise.",
        "All are SMD unless I say so.",
        "Everything is SMD except where noted.",
        "Alles SMD, sofern nicht anders angegeben.",
        "Tous CMS sauf mention contraire",
        "Unless otherwise noted all are SMD",
    ],
)
def test_what_all_are_unless_the_list_says_otherwise_holds_for_all_boards(sentence: str) -> None:
    listed = "--- Board A ---\nC2 100uF 6.3V\nC4 10uF 16V axial\n\n--- Board B ---\nC2 1uF 50V\n"
    positions, _ = read_cap_text(f"Game console - caps\n{sentence}\n\n{listed}", "list.txt")
    assert [p.mount and p.mount.value for p in positions] == ["smd", "axial", "smd"]
    assert [p.board for p in positions] == ["Board A", "Board A", "Board B"]


@pytest.mark.parametrize(
    "heading", ["Totals", "Sum:", "**Total**", "Stückliste gesamt", "Totale", "TOTALI", "Insgesamt:", "Total needed:"]
)
def test_lines_under_totals_are_no_positions_and_are_named(heading: str) -> None:
    text = f"Main board\nC1 10uF 16V\nC2 10uF 16V\nC3 22uF 25V\n\n{heading}\n10uF 16V x2\n22uF 25V x3\n"
    positions, told = read_cap_text(text, "list.txt")
    assert [p.ref for p in positions] == ["C1", "C2", "C3"]
    named = {d.source.row: d.severity for d in told if d.source.row in {7, 8}}
    assert named == {7: Severity.NOTE, 8: Severity.WARNING}  # three of 22 µF don't agree with the one that is listed


def test_a_board_behind_the_totals_is_read_again() -> None:
    text = "Main board\nC1 10uF 16V\n\nTotals\n10uF 16V x1\n\nPower board\n2x 100uF 25V\n"
    positions, _ = read_cap_text(text, "list.txt")
    assert [(p.ref, p.board, p.qty) for p in positions] == [("C1", "Main board", 1), (None, "Power board", 2)]


LISTED = "| Ref | uF | Volts | Board |\n|---|---|---|---|\n| C5 | 220 | 6.3 | Top |\n| C8 | 1 | 50 | Left |"
SENTENCE = "C5 must be changed to a bipolar type, since a polarised"


def test_a_sentence_on_a_place_listed_below_is_laid_on_it_and_makes_no_position() -> None:
    positions, told = read_cap_text(f"{SENTENCE}\n\n{LISTED}\n", "list.md")
    assert [(p.ref, p.value_uF) for p in positions] == [("C5", 220), ("C8", 1)]
    assert (positions[0].note, positions[0].doubts) == (SENTENCE, ("remark-unclear",))
    assert [d.code for d in told if d.source.row == 1] == ["prose-names-part"]


def test_a_sentence_on_what_a_place_listed_above_should_be_is_warned_of() -> None:
    positions, told = read_cap_text(f"{LISTED}\n\n{SENTENCE}\n", "list.md")
    assert [(p.ref, p.value_uF) for p in positions] == [("C5", 220), ("C8", 1)]
    assert [(d.code, d.severity) for d in told if d.source.row == 6] == [("prose-names-part", Severity.WARNING)]


def test_a_place_without_a_value_and_without_a_word_is_no_remark() -> None:
    positions, _ = read_cap_text("C5\nC8 1uF 50V\nC5 220uF 6.3V\n", "list.txt")
    assert [(p.ref, p.value_uF) for p in positions] == [("C5", None), ("C8", 1), ("C5", 220)]


@pytest.mark.parametrize(
    "note", ["actually 220uF", "typo, 22uF", "schematic says 10uF", "Schaltplan: 100 µF", "wrong, 35V", "manual: 22uF"]
)
def test_a_note_that_names_another_value_as_the_right_one_is_doubted(note: str) -> None:
    assert in_table(f"47uF | 16 | {note}").doubts == ("remark-unclear",)


@pytest.mark.parametrize("note", ["schematic: 47uF 16V", "wrong way round on the board", "replaced with 100uF 25V"])
def test_a_note_that_agrees_or_names_no_value_is_not(note: str) -> None:
    assert in_table(f"47uF | 16 | {note}").doubts == ()
