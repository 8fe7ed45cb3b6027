"""What programs and scanners make of lists: objects, templates, statements, columns side by side, misread figures.

Each case is a fault once found on a list of this shape; names and numbers are invented. What the reader should make
of them is common practice of the trade.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from openpyxl import Workbook

from recap.normalise.caplist import read_cap_list
from tests.normalise.facts import codes, fact, facts

if TYPE_CHECKING:
    from pathlib import Path

THREE = ["C1 10 µF 25 V electrolytic @ preamp", "C2 4.7 µF 50 V bipolar @ preamp", "C3 0.1 µF film @ preamp"]


# --- records whose fields are named -------------------------------------------------------------------


def test_a_statement_for_each_part() -> None:
    head = "INSERT INTO caps (ref, value, volts, kind, board) VALUES "
    text = (
        f"-- set: Trelawney\n{head}('C1', '10uF', 25, 'electrolytic', 'preamp');\n"
        f"{head}('C2', '4.7uF', 50, 'bipolar', 'preamp');\n{head}('C3', '100nF', NULL, 'film', 'preamp');\n"
    )
    assert facts(text) == THREE


def test_one_statement_for_all_parts() -> None:
    text = (
        "insert into caps (ref, value, volts, kind, board) values\n('C1', '10uF', 25, 'electrolytic', 'preamp'),\n"
        "('C2', '4.7uF', 50, 'bipolar', 'preamp'),\n('C3', '100nF', NULL, 'film', 'preamp');\n"
    )
    assert facts(text) == THREE


def test_an_object_to_the_line() -> None:
    text = (
        '{"ref": "C1", "value": "10uF", "voltage": "25V", "type": "electrolytic", "board": "preamp"}\n'
        '{"ref": "C2", "value": "4.7uF", "voltage": "50V", "type": "bipolar", "board": "preamp"}\n'
        '{"ref": ["C3"], "value": "0.1uF", "voltage": null, "type": "film", "board": "preamp"}\n'
    )
    assert facts(text) == THREE


def test_templates_of_a_wiki_name_their_fields_in_any_order() -> None:
    text = (
        "Set 9\n== Tuner ==\n{{cap|ref=C21|value=47 µF|volts=10 V}}\n{{cap|volts=50 V|value=1 µF|ref=C5}}\n"
        "{{cap|ref=C24|value=|volts=16 V|note=print worn off}}\n"
    )
    assert facts(text) == [
        "C21 47 µF 10 V @ Tuner", "C5 1 µF 50 V @ Tuner", "C24 ? 16 V @ Tuner ?value-missing",
    ]  # fmt: skip


def test_a_line_that_only_looks_like_an_object_stays_a_line() -> None:
    assert facts("C1 10uF 25V\n{C2 47uF 16V}") == ["C1 10 µF 25 V", "C2 47 µF 16 V"]


# --- columns ------------------------------------------------------------------------------------------


def test_columns_named_in_passing_over_bare_numbers() -> None:
    assert facts("Tuner 9 (C no. / uF / V)\n\n1  10  16\n3  4.7  25\n5  0.47  50") == [
        "C1 10 µF 16 V", "C3 4.7 µF 25 V", "C5 0.47 µF 50 V",
    ]  # fmt: skip


def test_bare_numbers_that_nothing_explains_are_warned_of() -> None:
    told = codes("C9 22uF 16V\n\n1  10  16\n3  4.7  25\n4  100  10\n\n12  1990  14")
    assert [row for row, code in told if code == "line-spoilt"] == [3, 4, 5]


def test_counts_below_the_names_of_revisions() -> None:
    text = "value        rev A   rev B   total\n22uF 6.3V      4       2       6\n220uF 4V       2       -       2\n"
    assert facts(text + "330uF 4V       -       2       2\n") == [
        "- x4 22 µF 6.3 V @ rev A", "- x2 22 µF 6.3 V @ rev B", "- x2 220 µF 4 V @ rev A", "- x2 330 µF 4 V @ rev B",
    ]  # fmt: skip


def test_two_lists_beside_each_other_with_a_name_over_each(tmp_path: Path) -> None:
    book = Workbook()
    sheet = book.worksheets[0]
    for row in (
        ["Netzteil", None, None, None, "Verstärker", None, None],
        ["Ref", "Wert", "V", None, "Ref", "Wert", "V"],
        ["C1", "4700µ", 50, None, "C101", "10µ", 25],
        [None, None, None, None, "C102", "4,7µ", 25],
    ):
        sheet.append(row)
    sheet.merge_cells("A1:C1")
    sheet.merge_cells("E1:G1")
    book.save(tmp_path / "list.xlsx")
    assert [fact(position) for position in read_cap_list(tmp_path / "list.xlsx")[0]] == [
        "C1 4700 µF 50 V @ Netzteil", "C101 10 µF 25 V @ Verstärker", "C102 4.7 µF 25 V @ Verstärker",
    ]  # fmt: skip


def test_marks_of_items_in_front_of_designators_in_cells(tmp_path: Path) -> None:
    text = "Ref;Value;V\n- C1;10uF;16\n• C2;47uF;25\n3. C3, C4;1uF;50\nNo 5 C5;22uF;35\n"
    (tmp_path / "list.csv").write_text(text, encoding="utf-8")
    assert [fact(position) for position in read_cap_list(tmp_path / "list.csv")[0]] == [
        "C1 10 µF 16 V", "C2 47 µF 25 V", "C3 1 µF 50 V", "C4 1 µF 50 V", "C5 22 µF 35 V",
    ]  # fmt: skip


def test_a_short_row_of_a_workbook_repeats_what_stands_above(tmp_path: Path) -> None:
    """A row is as long as its last filled cell, and blank cells mean the same as above where the list says so."""
    book = Workbook()
    sheet = book.worksheets[0]
    for row in (["leere Felder = wie darüber"], ["Pos", "Wert", "V"], ["C1", "10 µF", 25], ["C2"]):
        sheet.append(row)
    book.save(tmp_path / "list.xlsx")
    positions, _ = read_cap_list(tmp_path / "list.xlsx")
    assert [fact(position) for position in positions] == ["C1 10 µF 25 V", "C2 10 µF 25 V"]


# --- scans --------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("line", "expected"),
    [
        ("C2 1O uf 4O v", "C2 10 µF 40 V ?ocr-digit"),
        ("C4 .l uf 160 v", "C4 0.1 µF 160 V ?ocr-digit"),
        ("C5 47 uf 2S v", "C5 47 µF 25 V ?ocr-digit"),
        ("C13 33 uf l6 v", "C13 33 µF 16 V ?ocr-digit"),
        ("C1 1O mF 25 V", "C1 10 µF 25 V ?ocr-digit"),
        ("Cll 22 uf 16 v", "C11 22 µF 16 V ?ref-misread"),
        ("C l2 22 uF 16 V", "C12 22 µF 16 V ?ref-misread"),
        ("C 1O ..... 470 mF ...... 16 V", "C10 470 µF 16 V ?ref-misread"),
        ("CIOl  ELECT.  1000uF  16V", "C101 1000 µF 16 V electrolytic ?ref-misread"),
    ],
)
def test_letters_for_figures_in_small_letters_and_in_designators(line: str, expected: str) -> None:
    """Common practice of scanners: O for 0, l and I for 1, S for 5; the likely one is taken, and doubted."""
    assert facts(line) == [expected]


@pytest.mark.parametrize("line", ["Col 3, 16 V supply", "Coil 10 V", "C1 10uF 16V\nRadio 5 válvulas"])
def test_words_are_no_misread_designators_or_voltages(line: str) -> None:
    assert all("misread" not in fact and " 5 V" not in fact for fact in facts(f"C7 1uF\n{line}"))


@pytest.mark.parametrize("text", ["4 pcs 10 0uF 16V", "C1 10 0uF 16V", "10 0uF 16V: C4"])
def test_a_blank_in_front_of_a_lone_nought_tore_a_number(text: str) -> None:
    (found,) = facts(f"C9 1uF 50V\n{text}")[1:]
    assert " 100 µF 16 V" in found
    assert "?ocr-digit" in found


def test_thousands_set_off_by_a_blank_are_not_torn() -> None:
    assert facts("C1 10 000 µF 63 V") == ["C1 10000 µF 63 V"]


def test_a_point_lost_between_two_figures_is_doubted() -> None:
    """Nobody makes 2 µF beside the 2.2 of the E6 series (IEC 60063), so ``2 2uF`` may be either."""
    assert all("?number-unread" in fact for fact in facts("2 2uF 50V: C7, C8"))
    assert facts("2 22uF 50V: C7, C8") == ["C7 22 µF 50 V", "C8 22 µF 50 V"]
    assert "x0" not in facts("C9 1uF 50V\n3 x 0 1uF 50V")[1]


def test_a_misread_voltage_that_heads_parts_ends_the_one_above_and_is_warned_of() -> None:
    text = "25 V:\nC1 10uF\nS0 V:\nC3 47uF\n"
    assert facts(text) == ["C1 10 µF 25 V", "C3 47 µF 50 V"]
    assert (3, "ocr-digit") in codes(text)


# --- designators, remarks -----------------------------------------------------------------------------


def test_dashes_in_front_of_further_numbers() -> None:
    assert facts("C108,-109,-110 1uF 50V") == ["C108 1 µF 50 V", "C109 1 µF 50 V", "C110 1 µF 50 V"]


def test_a_part_that_was_never_there_is_no_position() -> None:
    text = "; the test generator\n[oscillator]\nC1 = 100n, 63V, film\n; C24 = 22u, 63V  was never there\n"
    assert facts(text) == ["C1 0.1 µF 63 V film @ oscillator"]


# --- capitals, small letters, quotes ------------------------------------------------------------------


def test_a_spreadsheet_s_capital_mu() -> None:
    """``UPPER("µF")`` gives a Greek capital letter, U+039C."""
    assert facts("C1 10 \u039cF 25 V\nC2 4,7\u039cF 50V") == ["C1 10 µF 25 V", "C2 4.7 µF 50 V"]


@pytest.mark.parametrize(
    ("line", "expected"),
    [
        ("10UF 16V X4", "- x4 10 µF 16 V"),  # there is no class X4 (IEC 60384-14)
        ("10UF 16V X2", "- x2 10 µF 16 V ?count-or-class"),  # nor one for 16 V
        ("0.1UF 275VAC X2", "- 0.1 µF 275 V safety X2"),
        ("0.1uf 275vac x2", "- 0.1 µF 275 V safety X2 ?count-or-class"),
        ("4700pF 250V~ Y2", "- 4.7 nF 250 V safety Y2"),
    ],
)
def test_classes_and_counts_written_alike(line: str, expected: str) -> None:
    assert facts(line) == [expected]


def test_channels_in_small_letters() -> None:
    """The ``l`` of ``c3l`` is a side where there is a ``c3r``, and doubted elsewhere."""
    assert facts("c1l, c1r 10uf 16v\nc2l/r 47uf 16v\nc3l 1uf 50v\nc3r 1uf 50v\nc6l 10uf 25v") == [
        "C1L 10 µF 16 V", "C1R 10 µF 16 V", "C2L 47 µF 16 V", "C2R 47 µF 16 V", "C3L 1 µF 50 V", "C3R 1 µF 50 V",
        "C6L 10 µF 25 V ?ref-misread",
    ]  # fmt: skip


def test_two_lists_in_one_quoted_mail_are_both_read() -> None:
    """What a quoted line repeats must stand in a line that isn't quoted itself."""
    text = "> Rev 1 board\n> C1 10uF 16V\n> C2 1uF 50V\n>\n> Rev 2 board\n> C1 10uF 16V\n> C2 1uF 50V\n"
    assert [fact.split(" @ ")[0] for fact in facts(text)] == ["C1 10 µF 16 V", "C2 1 µF 50 V"] * 2
    assert len(facts("C1 10uF 16V\nC2 1uF 50V\n\nOle wrote:\n> C1 10uF 16V\n> C2 1uF 50V\n")) == 2


def test_a_type_of_film_and_its_voltage() -> None:
    assert facts("C5 3,3 µF MKT 100 volts\nC6 0.1uF MKP 10 630V") == ["C5 3.3 µF 100 V film", "C6 0.1 µF 630 V film"]


def test_a_decimal_comma_that_parts_a_cell_is_doubted(tmp_path: Path) -> None:
    text = "Ref,Value,Volts,Note\nC1,10uF,16V,\nC2,22uF,16V,\nC3,47uF,16V,\nC4,0,1uF,50V,\n"
    (tmp_path / "list.csv").write_text(text, encoding="utf-8")
    positions, _ = read_cap_list(tmp_path / "list.csv")
    assert [bool(position.doubts) for position in positions] == [False, False, False, True]


def test_assemblies_in_small_letters() -> None:
    assert facts("a2c1 3.3uF 50V\na2c2 10uF 25V") == ["A2C1 3.3 µF 50 V", "A2C2 10 µF 25 V"]
