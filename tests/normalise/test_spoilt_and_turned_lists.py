"""Lists that lie on their side, have no header, or were spoilt on their way: what is read of them, and what is told.

Expected readings follow the reading rules of the cap list; the habits themselves are common practice of lists.
"""

from __future__ import annotations

from decimal import Decimal
from typing import TYPE_CHECKING

import pytest

from recap.diagnostics import Severity
from recap.model import Kind, Mount, Position
from recap.normalise import turned_tables
from recap.normalise.caplist import read_cap_list, read_cap_text

if TYPE_CHECKING:
    from pathlib import Path


def read(text: str, name: str = "list.txt") -> list[Position]:
    return list(read_cap_text(text, name)[0])


def rated(positions: list[Position]) -> list[tuple[str | None, str, str]]:
    return [(p.ref, f"{p.value_uF:g}", f"{p.volts:g}") for p in positions if p.value_uF and p.volts]


def test_a_table_with_a_column_for_each_part() -> None:
    found = read("Ref   | C1   | C2\nValue | 10uF | 1uF\nVolts | 16V  | 50V\nNote  |      | NP\n")
    assert rated(found) == [("C1", "10", "16"), ("C2", "1", "50")]
    assert [p.kind for p in found][1] is Kind.BIPOLAR
    assert not any(p.doubts for p in found)


def test_the_same_as_comma_separated_values(tmp_path: Path) -> None:
    path = tmp_path / "turned.csv"
    path.write_text("Designator,C1,C2\nCapacitance,4.7uF,220uF\nVoltage,50V,16V\nSize,5x11,8x11.5\n", encoding="utf-8")
    found = list(read_cap_list(path)[0])
    assert rated(found) == [("C1", "4.7", "50"), ("C2", "220", "16")]
    assert [p.height_mm for p in found] == [Decimal(11), Decimal("11.5")]


def test_values_down_and_voltages_across_with_counts() -> None:
    found = read("Kit      16V   25V   50V\n\n1 uF      -     -     6\n10 uF     8     4     -\n")
    assert [(p.value_uF, p.volts, p.qty) for p in found] == [(1, 50, 6), (10, 16, 8), (10, 25, 4)]
    assert {p.ref for p in found} == {None}


def test_values_down_and_voltages_across_with_designators() -> None:
    found = read("      | 16V    | 25V\n10uF  | C1, C2 | C9\n47uF  |        | C3\n")
    assert rated(found) == [("C1", "10", "16"), ("C2", "10", "16"), ("C9", "10", "25"), ("C3", "47", "25")]


def test_commas_without_blanks_part_cells_where_all_lines_are_cut_alike() -> None:
    found = read("C1,10,16V\nC2,4.7,50V\nC3,1000,35V\n", "list.csv")
    assert rated(found) == [("C1", "10", "16"), ("C2", "4.7", "50"), ("C3", "1000", "35")]
    assert all("unit-missing" in p.doubts for p in found)


def test_nor_do_they_where_one_is_a_decimal_comma() -> None:
    found = read("C1,4,7uF,50V\nC2,10uF,25V\nC3,2,2uF,50V\n")
    assert [p.value_uF for p in found if p.ref == "C2"] == [10]
    assert all(p.doubts or p.value_uF in {Decimal("4.7"), Decimal("2.2"), 10} for p in found)


@pytest.mark.parametrize("line", ["C13100uF 25V", "C141uF50V", "CSOl  ELECT.  lO  16V"])
def test_a_spoilt_line_is_warned_of(line: str) -> None:
    positions, told = read_cap_text(f"C12 10uF 50V\n{line}\nC15 4.7uF 50V\n", "list")
    assert [p.ref for p in positions] == ["C12", "C15"]
    assert [d.code for d in told if d.severity is Severity.WARNING and d.source.row == 2] == ["line-spoilt"]


def test_values_copied_column_by_column_are_doubted() -> None:
    found = read("Ref\nC1\nC2\nC3\nValue\n10uF\n47uF\n100uF\n")
    assert all(p.doubts for p in found)


def test_a_number_that_no_part_bears_is_no_value_without_its_unit() -> None:
    assert [p.value_uF for p in read("C1  XE 674  35V\nC2 10uF 25V\n")] == [None, 10]


def test_thousands_behind_a_letter_are_left_open() -> None:
    found = read("C1 10uF 25V\nC6  2.2K   25\n")[1]
    assert found.value_uF is None
    assert found.doubts


def test_a_torn_number_is_left_open() -> None:
    for line in ("C1 ELECT. 4 .7 50V", "C1 ELECT. 2 2 25V"):
        found = read(line)[0]
        assert found.value_uF is None, line
        assert found.doubts, line


def test_scanned_letters_in_bare_values_where_the_unit_is_said() -> None:
    found = read("CAPACITORS (all in uF unless noted)\nC1 ELECT. 1OO 10V\nC2 ELECT. O.47 50V\nC3 ELECT. 22 16 V\n")
    assert [p.value_uF for p in found] == [100, Decimal("0.47"), 22]
    assert [bool(p.doubts) for p in found] == [True, True, False]


def test_sections_in_letter_codes() -> None:
    assert [p.value_uF for p in read("C7+C8 = 1u + 2u2, 50V")] == [1, Decimal("2.2")]


def test_sections_that_do_not_match_their_letters_are_left_open() -> None:
    found = read("C-2A,B,C,D  80/40/30 MFD 400V, 20 MFD 25V")
    assert [(p.ref, p.value_uF) for p in found] == [("C2A", None), ("C2B", None), ("C2C", None), ("C2D", None)]
    assert all("can-sections" in p.doubts for p in found)


@pytest.mark.parametrize("line", ["C8 68uF 450V, surge 500V", "C8 68uF 450V surge 500V", "C8 68uF 500V surge, 450V"])
def test_a_surge_voltage_is_no_rating(line: str) -> None:
    assert rated(read(line)) == [("C8", "68", "450")]


def test_a_commented_line_is_doubted() -> None:
    found = read("[psu]\nC1=1000u/35V\n; C3=10u/16V\n")
    assert [bool(p.doubts) for p in found] == [False, True]


@pytest.mark.parametrize(
    ("line", "value"),
    [
        ("C9 470/16 ersätts med 1000/25", 470),
        ("C9 1000uF 25V trocado por 2200uF", 1000),
        ("C9 22uF 16V wymieniony na 47uF", 22),
        ("C9 220 mikrofaradów 10 woltów", 220),
        ("C9 100 mu 12,5 V", 100),
        ("C9 К50-16 - 25 В - 200 мкФ", 200),
        ("C9, C10: 2 chimiques de 47 microfarads 25 volts", 47),
    ],
)
def test_words_of_further_languages(line: str, value: int) -> None:
    found = read(line)
    assert {p.value_uF for p in found} == {value}
    assert all(p.volts and not p.doubts for p in found)


def test_russian_in_its_old_encoding(tmp_path: Path) -> None:
    path = tmp_path / "spisok.txt"
    path.write_bytes("Конденсаторы блока питания:\nC1 неполярный 1 мкФ 16 В\n".encode("cp1251"))
    found, told = read_cap_list(path)
    assert [(p.value_uF, p.volts, p.kind) for p in found] == [(1, 16, Kind.BIPOLAR)]
    assert "encoding-cp1251" in {d.code for d in told}


def test_german_umlauts_are_no_russian(tmp_path: Path) -> None:
    path = tmp_path / "liste.txt"
    path.write_bytes("Stückliste für Verstärker\nC1 Elko 10 µF 25 V stehend, größer\n".encode("cp1252"))
    assert "encoding-cp1252" in {d.code for d in read_cap_list(path)[1]}


def test_tables_of_tickets() -> None:
    found = read("h3. AMP board\n||Ref||Value||V||\n|C11|{color:red}100uF{color}|16|\n|C14|4\\.7uF|50|\n")
    assert rated(found) == [("C11", "100", "16"), ("C14", "4.7", "50")]
    assert {p.board for p in found} == {"AMP board"}


def test_a_column_of_check_digits_is_no_diameter() -> None:
    text = "Ref | Part | D | Description\nC1 | 0190-2141 | 6 | 3.3UF 50V\nC2 | 0190-3012 | 1 | 22UF 25V\n"
    assert [p.diameter_mm for p in read(text)] == [None, None]


def test_sums_of_money_are_no_counts() -> None:
    text = "Description;Qty;Amount\n470uF 25V;20;3.60\n47uF 50V;50;4.50\n"
    found = read(text, "quote.csv")
    assert [(p.qty, p.doubts) for p in found] == [(20, ()), (50, ())]


def test_the_other_channel_in_brackets() -> None:
    assert [p.ref for p in read("C103(203)  47uF 10V\nC105 1uF 50V")] == ["C103", "C203", "C105"]


def test_designators_go_on_below_beside_the_rest_of_a_remark() -> None:
    text = (
        "Designators      Value     Volt   Remark\n"
        "C1, C2,          100 uF    16 V   near the heat\n"
        "C8, C11                           sink\n"
        "C3               47 uF     25 V\n"
    )
    assert rated(read(text)) == [(ref, "100", "16") for ref in ("C1", "C2", "C8", "C11")] + [("C3", "47", "25")]


def test_a_square_base_and_a_height() -> None:
    found = read("C106 47uF 16V SMD 6.6x6.6x5.4mm")[0]
    assert (found.mount, found.diameter_mm, found.height_mm) == (Mount.SMD, Decimal("6.6"), Decimal("5.4"))


def test_a_record_that_text_recognition_put_behind_another() -> None:
    found = read("Ref   Value    Rating\nC1    10 uF    16 V C2 47 uF 25 V\nC3    1 uF     50 V\n")
    assert sorted(rated(found)) == [("C1", "10", "16"), ("C2", "47", "25"), ("C3", "1", "50")]


@pytest.mark.parametrize("line", ["C2 047uF 400V", "C2 01 µF 400V", "C2 0047 mfd 400V", "C2 O22 uF 400V"])
def test_a_zero_in_front_of_a_whole_number_may_have_lost_its_point(line: str) -> None:
    found = read(line)[0]
    assert (found.value_uF, found.volts) == (None, 400)
    assert "point-lost" in found.doubts


def test_points_at_half_height() -> None:
    found = read("C1  0·1 µF  350 V\nC4  ·01 µF  500 V\n· C5 10uF 16V\n")
    assert [p.value_uF for p in found] == [Decimal("0.1"), Decimal("0.01"), 10]
    assert not any(p.doubts for p in found)


def test_counted_part_numbers_are_warned_of() -> None:
    told = read_cap_text("2x ZZU-FR1V102\n5x ZZA-1HM100\n3x 10uF 50V\n", "kit")[1]
    assert [d.source.row for d in told if d.code == "line-spoilt" and d.severity is Severity.WARNING] == [1, 2]


def test_counts_below_the_names_of_boards() -> None:
    found = read("Value,Volts,PSU,Left amp,Total\n10uF,50,2,4,6\n470uF,25,1,0,1\n", "shopping.csv")
    assert [(p.value_uF, p.qty, p.board) for p in found] == [(10, 2, "PSU"), (10, 4, "Left amp"), (470, 1, "PSU")]


def test_counts_in_portuguese() -> None:
    assert [(p.qty, p.value_uF, p.doubts) for p in read("02 un. 4700uF x 63V\n10 un. 10uF x 50V\n")] == [
        (2, 4700, ()), (10, 10, ()),
    ]  # fmt: skip


def test_in_place_of_is_the_original() -> None:
    found = read("C4 1000 µF 35 V (al posto di 470 µF 35 V)\nC6 2200 uF 40 V à 2,50 p/st\n")
    assert [p.value_uF for p in found] == [470, 2200]


# --- what scanners tear apart or misread: never another value in silence -------------------------


@pytest.mark.parametrize(
    "line",
    [
        "C3: 2 20uF x 63V",
        "C1 3 .3 uF 63 V film 5%",
        "C2 3 3UF 63V",
        "C4 0 33uF x 63V film",
        "C16   .0 1 MFD., 63 V. PAPER",
        "C33 (2 2uF 63V)",
        "C7 0.0 47UF 5% 63VDC",
        "C8 0;33 µF 63V",
        "C13 1 5uF 63V",
        "C-30  2 2uF/63V/tant",
        "C5 0 1/63",
    ],
)
def test_a_torn_value_is_left_open(line: str) -> None:
    found = read(line)[0]
    assert (found.value_uF, found.volts) == (None, 63), line
    assert "alternatives" in found.doubts


@pytest.mark.parametrize(
    ("line", "value"),
    [("C13 1 100uF 25V", 100), ("C14, C15 2 100uF 25V", 100), ("C1 1 4.7uF 50V", Decimal("4.7"))],
)
def test_a_number_that_counts_the_designators_is_no_part_of_the_value(line: str, value: Decimal) -> None:
    found = read(line)
    assert {p.value_uF for p in found} == {value}
    assert not any(p.doubts for p in found)


def test_any_other_number_in_front_of_a_value_is_doubted() -> None:
    for line in ("C17 2 100uF 25V", "C22 22 100uF"):
        assert "number-unread" in read(line)[0].doubts, line


@pytest.mark.parametrize("line", ["C9 10 µF 1b V", "C9 10uF b3V", "C9 10 µF b,3 V", "C910V 10uF", "C9 10uF/b3V film"])
def test_a_voltage_that_cannot_be_read_is_doubted(line: str) -> None:
    assert read(line)[0].doubts, line


def test_letters_run_into_a_voltage() -> None:
    assert rated(read("C15 16 µF NP50V\nC12 10uF x35V\nC4 250 mmfd mica500V\n")) == [
        ("C15", "16", "50"), ("C12", "10", "35"), ("C4", "0.00025", "500"),
    ]  # fmt: skip


def test_cells_that_a_scanner_spoilt() -> None:
    head = "| Ref | Value | V |\n|---|---|---|\n"
    rows = "| C8 | O,47 µF | 63 V |\n| C9 | 0;1uF | 63 V |\n| C1 0 | 1 µF | 63 V |\n| C12 | 10 µF | b,3 V |\n"
    found = read(head + rows)
    assert found[0].value_uF == Decimal("0.47")
    assert all(p.doubts for p in found)


def test_a_row_that_goes_on_behind_the_last_column_is_doubted() -> None:
    found = read("Ref,Value,Volts\nC1,10uF,16\nC2,10uF,25,C3,22uF,50\nC4,1uF,50,hot\n", "list.csv")
    assert [bool(p.doubts) for p in found] == [False, True, False]


def test_a_designator_of_which_a_scanner_left_no_figure() -> None:
    rows = "".join(f"C{n},{n}uF,25V\n" for n in (10, 22, 33, 47, 15, 18, 27, 39, 56, 68, 82))
    assert [(p.ref, p.doubts) for p in read(f"Ref,Value,Volts\n{rows}CB,470uF,25V\n")][-1] == ("C8", ("ref-misread",))
    assert read(f"{rows}CB,470uF,25V\n")[-1].doubts


def test_a_value_behind_a_semicolon_is_the_next_designators() -> None:
    found = read("C1 10uF 16V; C2 A7uF 25V; C6 100uF")
    assert [(p.ref, p.value_uF) for p in found] == [("C1", 10), ("C2", None), ("C6", 100)]


def test_a_remark_among_rows_does_not_hide_what_their_column_holds(tmp_path: Path) -> None:
    path = tmp_path / "list.csv"
    path.write_text("C,Value (uF),Volts\n1,10,16\n2,4.7,50\nHope this helps\n3,100,10\n", encoding="utf-8")
    assert [p.ref for p in read_cap_list(path)[0]] == ["C1", "C2", "C3"]


def test_a_torn_nought_is_doubted() -> None:
    assert all(p.value_uF == Decimal("0.1") and p.doubts for p in read("0. 1uF 63V film  C50, C51\n"))


def test_a_line_like_the_one_below_it_begins_no_such_table() -> None:
    """Otherwise each of ten thousand alike would be tried with all that follow it."""
    assert not turned_tables.may_begin("Ref | C1 | C2", "Ref | C3 | C4")
    assert not turned_tables.may_begin("Kit 16V 25V", "Kit 35V 50V")
    assert turned_tables.may_begin("Ref | C1 | C2", "Value | 10uF | 47uF")
    assert turned_tables.may_begin("Kit 16V 25V", "10uF  2  4")


@pytest.mark.parametrize(
    ("line", "value", "volts"),
    [
        ("C15  4u710V", Decimal("4.7"), 10),
        ("C17  2u250V", Decimal("2.2"), 50),
        ("C16  1u250V", None, None),
        ("C18  10u16V", 10, 16),
        ("C19  47u100V", 47, 100),
    ],
)
def test_a_letter_code_and_a_voltage_run_together(line: str, value: Decimal | None, volts: int | None) -> None:
    found = read(line)[0]
    assert (found.value_uF, found.volts) == (value, volts)
    assert bool(found.doubts) == (value not in {10, 47})


def test_a_voltage_broken_off_its_line_heads_nothing() -> None:
    text = "C1 10uF 16V\nC2 47uF\n25V\nC3 4u7 50V\nC4 1uF\n" + "".join(f"C{n} 100uF 10V\n" for n in range(5, 9))
    assert [(p.ref, p.volts) for p in read(text)][1:4] == [("C2", 25), ("C3", 50), ("C4", None)]
    headed = read("16V\nC1 10uF\nC2 47uF\n25V\nC3 4u7\nC4 1uF\n")
    assert [p.volts for p in headed] == [16, 16, 25, 25]


def test_a_spoilt_value_takes_none_from_the_line_above() -> None:
    found = read("* C1, C2 - 1000uF 25V,\n  105 degrees\n* C3 - A7uF\n* C4 - 10uF\n")
    assert [(p.ref, p.value_uF) for p in found] == [("C1", 1000), ("C2", 1000), ("C3", None), ("C4", 10)]


def test_a_torn_value_in_a_cell_of_text() -> None:
    found = read("Ref | Description\nC1 | CAP, TANT 2 2uF 15V\nC2 | CAP, TANT 22uF 15V\n")
    assert [p.value_uF for p in found] == [None, 22]


def test_a_letter_in_front_of_a_decimal_comma_is_doubted_in_cells() -> None:
    found = read("Ref | Value | V\nC104 | Z,2 µF | 35 V\nC105 | 10 µF | 1Z,5 V\nC106 | 1 µF | 50 V\n")
    assert [bool(p.doubts) for p in found] == [True, True, False]


def test_nanofarads_and_a_voltage_run_together() -> None:
    assert rated(read("C6 4n7100V")) == [("C6", "0.0047", "100")]
