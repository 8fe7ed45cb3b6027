"""Lists as owners and shops pass them on: logs of a repair, chats, quoted mail, scans, exports, shopping lists.

Each case is a fault once found on a list of this shape; names and numbers are invented. What the reader should make
of them is common practice of the trade unless a source stands beside the case.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import openpyxl
import pytest

from recap.normalise.caplist import read_cap_list
from tests.normalise.facts import codes, fact, facts

if TYPE_CHECKING:
    from pathlib import Path

# --- part numbers and stock numbers -------------------------------------------------------------------


def test_a_part_number_behind_a_record_is_no_range_of_designators() -> None:
    """``C60-117`` under PART NO. was once 58 capacitors."""
    text = (
        "C-3     Capacitor, paper, .05 MFD, 600 WV      C20-503\n"
        "C-4     Same as C-3                            C20-503\n"
        "C-5     Capacitor, mica, 270 MMF, 500 WV       C61-101\n"
    )
    assert facts(text) == ["C3 50 nF 600 V other", "C4 50 nF 600 V other", "C5 270 pF 500 V other"]


def test_a_long_range_of_designators_stays_one() -> None:
    assert len(facts("C60-117 100nF 50V")) == 58
    assert len(facts("100nF 50V C20-24")) == 5


def test_a_can_whose_voltages_stand_on_the_next_line_with_its_part_number() -> None:
    text = "C-2     Capacitor, electrolytic, 40/20/20 MFD,\n        450/350/25 WV                C60-118"
    found = [fact.removesuffix(" electrolytic ?can-sections") for fact in facts(text)]
    assert found == ["C2a 40 µF 450 V", "C2b 20 µF 350 V", "C2c 20 µF 25 V"]


@pytest.mark.parametrize("number", ["41-2210", "28-l0016", "28-2R250", "22-103S0"])
def test_a_stock_number_behind_value_and_voltage_says_nothing(number: str) -> None:
    assert facts(f"C1 ..... 10 mfd, 25V, axial ..... {number}") == ["C1 10 µF 25 V axial"]


def test_without_a_voltage_two_numbers_with_a_dash_are_doubted() -> None:
    assert "?number-unread" in facts("C1 10uF 25-1000")[0]


# --- repair logs --------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("line", "expected"),
    [
        ("C603 100uF 160V  meas. 96uF ESR 0.4, left in", "C603 100 µF 160 V"),
        ("C604 47/160 meas 12uF (!!)", "C604 47 µF 160 V"),
        ("C801 10uF 16V   8.7uF  ESR 2.6   new", "C801 10 µF 16 V"),
        ("C802 22uF 16V   0.3uF  ESR off the scale", "C802 22 µF 16 V"),
        ("C12 47/16 ESR 3.2", "C12 47 µF 16 V"),
        ("C404 100uF/25V sits at 21V, replaced by 100uF 35V", "C404 100 µF 25 V"),
        ("C405 100uF/25V runs at 23 V when hot", "C405 100 µF 25 V"),
        ("C12 100uF 25V 12/2021", "C12 100 µF 25 V"),
        ("vertical: C401 1000/35 dead", "C401 1000 µF 35 V"),
    ],
)
def test_what_a_meter_showed_is_no_second_value(line: str, expected: str) -> None:
    assert facts(line) == [expected]


@pytest.mark.parametrize("line", ["C803 10uF 16V 22uF ESR 2.6", "C804 10uF 16V low ESR 8.7uF"])
def test_more_than_is_printed_no_meter_shows(line: str) -> None:
    assert "?value-conflict" in facts(line)[0]


def test_twelve_over_a_year_is_a_date_but_over_two_thousand_volts() -> None:
    assert facts("C17 10/2000") == ["C17 10 µF 2000 V"]


@pytest.mark.parametrize("day", ["15 Feb", "Monday 12 May", "Dienstag"])
def test_a_day_of_a_diary_is_no_board(day: str) -> None:
    assert facts(f"{day}\nC401 1000/35\nC402 47uF 16V") == ["C401 1000 µF 35 V", "C402 47 µF 16 V"]


# --- values beside designators, alternatives, what is to be looked up ---------------------------------


@pytest.mark.parametrize(
    ("line", "expected"),
    [
        ("C506: 1 nF / 2 kV ceramic", "C506 1 nF 2000 V ceramic"),
        ("C705 .01 2kv disc ceramic - leave that one alone", "C705 10 nF 2000 V ceramic"),
        ("C706 33 something, can't see the voltage, it's glued", "C706 33 µF ?marked-uncertain ?unit-missing"),
        ("C509 cant read it, 4.7 or 47?? 25v", "C509 ? 25 V ?alternatives ?marked-uncertain"),
        ("elko 33µF, spanning nog nakijken!!", "- 33 µF electrolytic ?marked-uncertain"),
        ("2x 47µF 16V (Wert prüfen)", "- x2 47 µF 16 V ?marked-uncertain"),
    ],
)
def test_records_in_the_words_of_their_owner(line: str, expected: str) -> None:
    assert facts(line) == [expected]


def test_a_check_of_something_else_is_no_doubt() -> None:
    assert facts("3x 10uF 25V check polarity") == ["- x3 10 µF 25 V"]


@pytest.mark.parametrize(
    "said", ["zie C8", "igual que C8", "uguale a C8", "identique à C8", "idem C8", "dito wie C8", "identical to C8"]
)
def test_the_same_as_another_in_words(said: str) -> None:
    assert facts(f"C8 10 µF 25V\nC9 {said}") == ["C8 10 µF 25 V", "C9 10 µF 25 V"]


def test_a_ditto_within_a_sentence_repeats_nothing() -> None:
    assert facts("left and right are the same, right in brackets\nC1 10uF 25V\nC2 same") == [
        "C1 10 µF 25 V",
        "C2 10 µF 25 V",
    ]


@pytest.mark.parametrize("written", ["C701 L/R", "C701 (L/R)", "C701 L & R", "C701L/R"])
def test_one_designator_for_both_channels_is_two_parts(written: str) -> None:
    assert facts(f"{written} 10uF 25V") == ["C701L 10 µF 25 V", "C701R 10 µF 25 V"]


# --- sizes --------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("line", "expected"),
    [
        ("C12 100uF 25V h 12", "C12 100 µF 25 V H12"),
        ("C13 100uF 25V H: 11", "C13 100 µF 25 V H11"),
        ("C14 100uF 25V D 8 H 12", "C14 100 µF 25 V D8 H12"),
        ("C38 1000uF 25V (16mm dia max!)", "C38 1000 µF 25 V"),
        ("C41 4700uF 16V snap-in, 10mm pins", "C41 4700 µF 16 V snap-in P10"),
        ("C6 100nF 250V~ RM 15 X2", "C6 0.1 µF 250 V safety P15 X2"),
    ],
)
def test_sizes_beside_a_record(line: str, expected: str) -> None:
    assert facts(line) == [expected]


def test_a_left_channel_is_no_length() -> None:
    assert facts("L: 10/25 C5") == ["C5 10 µF 25 V"]


def test_a_sentence_that_names_the_fields_tells_what_the_last_number_is() -> None:
    text = (
        "Format: ref, value, voltage, size, lead pitch.\nC1 100nF 250V~ 15 X2\nC2 47uF 16V 5x11 2\nC3 47uF 16V 5x11 3"
    )
    assert facts(text) == [
        "C1 0.1 µF 250 V safety P15 X2",
        "C2 47 µF 16 V D5 H11 P2",
        "C3 47 µF 16 V D5 H11 ?number-unread",
    ]


# --- scans --------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("line", "expected"),
    [
        ("C203,2O4 Mylar 0.015 uF 50V", ["C203", "C204"]),
        ("C209,21O Electrolytic 1 uF 50V", ["C209", "C210"]),
        ("C308,3l9 Electrolytic 220 uF 35V", ["C308", "C319"]),
    ],
)
def test_a_further_designator_with_letters_for_digits(line: str, expected: list[str]) -> None:
    found = facts(line)
    assert [fact.split()[0] for fact in found] == expected
    assert all("?ref-misread" in fact for fact in found)


@pytest.mark.parametrize(("word", "kind"), [("Cerarnic", "ceramic"), ("Tantalurn", "tantalum")])
def test_rn_for_m(word: str, kind: str) -> None:
    assert facts(f"C5 {word} 1 uF 50V") == [f"C5 1 µF 50 V {kind} ?word-misspelt"]


# --- what programs put in front of lines --------------------------------------------------------------


def test_a_chat_with_clock_and_names() -> None:
    text = (
        "[21:03] <ann> C601 2.2uF 50v\n[21:03] <ann> C602 same\n[21:04] <bob> go on\n"
        "[21:07] <ann> psu board now\n[21:08] <ann> C701 C702 12000uF 50v"
    )
    assert facts(text) == [
        "C601 2.2 µF 50 V",
        "C602 2.2 µF 50 V",
        "C701 12000 µF 50 V @ psu board",
        "C702 12000 µF 50 V @ psu board",
    ]


def test_messages_with_date_and_name() -> None:
    text = "\n".join(f"[3/12/2024, 21:02:1{i}] Ann Lee: C{i} 10uF 2{i}V" for i in range(3, 6))
    assert [fact.split()[0] for fact in facts(text)] == ["C3", "C4", "C5"]


def test_mail_quoted_twice() -> None:
    text = (
        "> On the monitors:\n>\n>> Deflection board\n>> C11   1uF 50V          C21  47uF 16V\n"
        "> Power board\n> C12 10uF 25V"
    )
    assert facts(text) == [
        "C11 1 µF 50 V @ Deflection board",
        "C21 47 µF 16 V @ Deflection board",
        "C12 10 µF 25 V @ Power board",
    ]


def test_a_heading_between_pointers() -> None:
    text = ">> Alimentation <<\nC1 : 10 µF 25 V\n\n>> Étage de puissance (x2) <<\nC2 : 10 µF 25 V"
    assert facts(text) == ["C1 10 µF 25 V @ Alimentation", "C2 10 µF 25 V @ Étage de puissance"]


# --- what holds for all -------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "said",
    [
        "Took me till two with the loupe. Everything is radial 105C unless I say so.",
        "These are the parts I replaced. All radial, all 105 °C unless noted.",
        "alles radiaal, 105 graden tenzij anders vermeld",
    ],
)
def test_a_sentence_among_others_says_what_all_are(said: str) -> None:
    assert facts(f"{said}\n\nC1 10uF 25V\nC2 22uF 25V axial") == [
        "C1 10 µF 25 V 105 °C radial",
        "C2 22 µF 25 V 105 °C axial",
    ]


def test_what_is_said_of_electrolytics_is_not_said_of_others() -> None:
    text = "alle Elkos radial, Raster 5 mm, 85 °C\nC1 10u 25V\nC2 10u 25V axial\nC3 100n 63V Folie\nC4 10u 25V RM 7,5"
    assert facts(text) == [
        "C1 10 µF 25 V 85 °C radial electrolytic P5",
        "C2 10 µF 25 V 85 °C axial electrolytic",
        "C3 0.1 µF 63 V film",
        "C4 10 µF 25 V 85 °C radial electrolytic P7.5",
    ]


def test_all_electrolytics_are_radial_says_not_what_is_an_electrolytic() -> None:
    text = "All electrolytics are radial, 85C originals.\nC1 10uF 25V electrolytic\nC2 10uF 25V\nC3 10uF 25V NP axial"
    assert facts(text) == [
        "C1 10 µF 25 V 85 °C radial electrolytic",
        "C2 10 µF 25 V",
        "C3 10 µF 25 V 85 °C axial bipolar",
    ]


def test_a_sheet_in_front_says_it_for_the_book(tmp_path: Path) -> None:
    book = openpyxl.Workbook()
    front = book.active
    assert front is not None
    front.title = "Read me"
    front.append(["made from my own unit. All electrolytics are radial, 85C originals."])
    sheet = book.create_sheet("Tone")
    for row in (["Ref", "uF", "V", "Type"], ["C1", 10, 25, "electrolytic"], ["C2", 0.1, 100, "film"]):
        sheet.append(row)
    book.save(tmp_path / "list.xlsx")
    positions, _ = read_cap_list(tmp_path / "list.xlsx")
    assert [fact(p) for p in positions] == [
        "C1 10 µF 25 V 85 °C radial electrolytic @ Tone",
        "C2 0.1 µF 100 V film @ Tone",
    ]


# --- boards -------------------------------------------------------------------------------------------


def test_a_board_in_front_of_a_record_holds_for_the_lines_right_below() -> None:
    text = "Main board\nC1 10u 25V\nPhono: C2 10u 25V\nC3 10u 25V\n\nC4 22uF 16V"
    boards = [fact.split(" @ ")[1] for fact in facts(text)]
    assert boards == ["Main board", "Phono", "Phono", "Main board"]


def test_a_number_of_the_board_in_brackets_belongs_to_its_name() -> None:
    assert facts("Power supply board (P100)\nC1 10u 25V") == ["C1 10 µF 25 V @ Power supply board (P100)"]


def test_what_a_list_is_for_is_no_board() -> None:
    assert facts("voor de grote ontvanger (printplaat eindtrap + voeding)\n10x 10µF 50V\n8x 47µF 25V") == [
        "- x10 10 µF 50 V",
        "- x8 47 µF 25 V",
    ]


def test_others_beside_boards_are_on_none_of_them() -> None:
    text = "Tone board\nC1 10u 25V\nPower board\nC2 10u 25V\nOther\nC3 10u 25V"
    assert [fact.partition(" @ ")[2] for fact in facts(text)] == ["Tone board", "Power board", ""]


# --- columns ------------------------------------------------------------------------------------------


def test_the_other_channel_in_a_column_of_its_own() -> None:
    text = (
        "| Left | (Right) | Value | Volts |\n|---|---|---|---|\n| C501 | (C502) | 2.2uF | 50 |\n| C520 | | 22uF | 16 |"
    )
    assert facts(text) == ["C501 2.2 µF 50 V", "C502 2.2 µF 50 V", "C520 22 µF 16 V"]


def test_designators_in_a_column_that_is_not_understood_are_doubted() -> None:
    text = "Ref | Near | Value | Volts\nC1 | C21 | 10uF | 25V\nC2 | C22 | 47uF | 25V"
    assert facts(text) == ["C1 10 µF 25 V ?ref-unread", "C2 47 µF 25 V ?ref-unread"]


def test_a_shops_number_in_such_a_column_is_no_designator() -> None:
    text = "Ref | Value | Volts | MLCC\nC1 | 10uF | 25V | C98190\nC2 | 47uF | 25V | C12891"
    assert facts(text) == ["C1 10 µF 25 V", "C2 47 µF 25 V"]


@pytest.mark.parametrize(("header", "there", "free"), [("Fit", "Y", "N"), ("Fitted", "yes", "no"), ("DNP", "", "x")])
def test_a_column_that_says_whether_a_place_is_fitted(header: str, there: str, free: str) -> None:
    text = f"Ref;Value;Volts;{header}\nC1;10uF;25;{there}\nC2;47uF;16;{free}\nC3;22uF;16;{there}"
    assert facts(text) == ["C1 10 µF 25 V", "C3 22 µF 16 V"]
    assert (3, "not-fitted") in codes(text)


def test_letter_symbols_with_their_units_head_columns() -> None:
    """C is capacitance and U is voltage (IEC 60027-1)."""
    assert facts("Pos;C [µF];U [V];Art\nC1;10;25;Elko\nC2;wie C1;;\nC3;2,2;63;Folie") == [
        "C1 10 µF 25 V electrolytic",
        "C2 10 µF 25 V electrolytic",
        "C3 2.2 µF 63 V film",
    ]


def test_empty_cells_that_mean_the_same_as_above_where_the_list_says_so() -> None:
    rows = "Board;Ref;Value;Volts;Size\nPSU;C1;10uF;25;5x11\n;C2;;;\nAudio;C4;47uF;16;6x11\n;C5;100uF;;\n"
    assert facts(f"Blank cells mean the same as above.\n{rows}") == [
        "C1 10 µF 25 V D5 H11 @ PSU",
        "C2 10 µF 25 V D5 H11 @ PSU",
        "C4 47 µF 16 V D6 H11 @ Audio",
        "C5 100 µF 16 V D6 H11 @ Audio",
    ]
    assert facts(rows)[1] == "C2 ? @ PSU ?value-missing"


@pytest.mark.parametrize(
    ("name", "said"),
    [
        ("RADIAL_P3.5_D8_H12", "radial D8 H12 P3.5"),
        ("FILMBOX_P15", "film P15"),
        ("ALCAP_SMD_D5.0_H5.4", "smd electrolytic D5 H5.4"),
        ("DISC_P10_Y2", "safety P10 Y2"),
    ],
)
def test_names_of_footprints_hold_sizes_and_classes(name: str, said: str) -> None:
    assert facts(f"Ref;Value;Volts;Pattern\nC1;10u;25V;{name}\nC2;10u;25V;{name}")[0] == f"C1 10 µF 25 V {said}"
