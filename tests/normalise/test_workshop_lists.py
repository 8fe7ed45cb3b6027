"""What hobbyists and service shops type: parts lists of makers, notebooks, logs, stock lists, pages saved whole.

Each case is a fault once found on a list of this shape; names and numbers are invented. What the reader should make
of them is common practice of the trade.
"""

from __future__ import annotations

import pytest

from recap.normalise.caplist import read_cap_text
from tests.normalise.facts import codes, facts

# --- service parts lists ------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("line", "expected"),
    [
        ("C3 CAPACITOR, FXD, CER DI 0.01uF +80-20% 100VDC", "C3 10 nF 100 V ceramic"),
        ("C4 CAPACITOR, FXD, AL ELECT 47uF -10+75% 25VDC", "C4 47 µF 25 V electrolytic"),
        ("A4A1C3 4.7uF 35V tantalum", "A4A1C3 4.7 µF 35 V tantalum"),
        ("C 101    Elko 100 µF / 35 V, stehend        8211-031", "C101 100 µF 35 V radial electrolytic"),
        ("C 103    Folienkond. 0,1 µF / 100 V         8230-100", "C103 0.1 µF 100 V film"),
        ("C 109    Keramik-Kond. 10 nF / 50 V", "C109 10 nF 50 V ceramic"),
        ("C110 Papierkondensator 0,1 µF / 400 V", "C110 0.1 µF 400 V other"),
        ("C5 2n2 styro", "C5 2.2 nF film"),
    ],
)
def test_descriptions_of_parts_lists(line: str, expected: str) -> None:
    assert facts(line) == [expected]


def test_an_order_number_behind_a_value_is_no_range_of_values() -> None:
    assert facts("C1 100-220uF 16V")[0].startswith("C1 ? 16 V ?alternatives")
    assert facts("C1 1000-2200 uF 16V")[0].startswith("C1 ? 16 V ?alternatives")


@pytest.mark.parametrize("said", ["C 107    wie C 106", "C107 wie C106", "C107 same as C106", "C107 = C106"])
def test_the_same_part_as_another_designator_with_a_blank_in_it(said: str) -> None:
    """``106`` must not be read as a code of 10 µF."""
    assert facts(f"C 106    Elko 47 µF / 25 V\n{said}") == [
        "C106 47 µF 25 V electrolytic",
        "C107 47 µF 25 V electrolytic",
    ]


@pytest.mark.parametrize("word", ["NOT ASSIGNED", "entfällt", "supprimé", "vervallen", "soppresso", "suprimido"])
def test_a_place_that_a_list_gave_up_is_no_position(word: str) -> None:
    assert facts(f"C1 10uF 16V\nC2 {word}\nC3 22uF 16V") == ["C1 10 µF 16 V", "C3 22 µF 16 V"]
    assert (2, "not-fitted") in codes(f"C1 10uF 16V\nC2 {word}\nC3 22uF 16V")


def test_headers_that_number_the_designators() -> None:
    text = (
        "Ref. No.\tPart No.\tPart Name & Description\tQ'ty\tRemarks\n"
        "C101\tKXA1C101MB\tELECTROLYTIC 100µF 16V\t1\t\n"
        "C105,106\tKMY1H223JB\tMYLAR 0.022µF 50V\t2\t\n"
    )
    assert facts(text) == ["C101 100 µF 16 V electrolytic", "C105 22 nF 50 V film", "C106 22 nF 50 V film"]


def test_a_capacity_in_centimetres_is_left_to_somebody() -> None:
    """Old sheets count small values in cm of the CGS system (1 cm = 1.11 pF, from memory): no microfarads."""
    assert facts("C15 : mica 200 cm") == ["C15 ? other ?value-missing"]


# --- names of sets and boards, neighbours ----------------------------------------------------------------


def test_a_board_in_front_of_each_designator() -> None:
    assert facts("PC-3 C5 47/25\nPC-3 C6, C7 2.2/50\nPC-4 C5 100/16\nZ2 C1 0.1uF 100V") == [
        "C5 47 µF 25 V @ PC-3",
        "C6 2.2 µF 50 V @ PC-3",
        "C7 2.2 µF 50 V @ PC-3",
        "C5 100 µF 16 V @ PC-4",
        "C1 0.1 µF 100 V @ Z2",
    ]


@pytest.mark.parametrize("name", ["# Nimbus Pocket NP-03 recap", "Korven MP-40 caps", "BP-2 radio, capacitor list"])
def test_a_number_joined_to_short_letters_makes_the_name_of_a_set(name: str) -> None:
    assert facts(f"{name}\nC1 10uF 16V\nC2 4.7uF 50V NP\nC3 NP-10uF 25V") == [
        "C1 10 µF 16 V",
        "C2 4.7 µF 50 V bipolar",
        "C3 10 µF 25 V bipolar",
    ]


@pytest.mark.parametrize("said", ["pad 2 lifted, wire to R44", "near R12", "sits beside R5", "neben R10"])
def test_a_neighbour_is_no_lead_pitch(said: str) -> None:
    assert facts(f"C13 22µF 6.3V {said}") == ["C13 22 µF 6.3 V"]
    assert facts("C13 22µF 6.3V R5") == ["C13 22 µF 6.3 V P5"]


def test_a_capacitor_behind_another_part_is_not_lost() -> None:
    assert facts("U5 C18 10uF 16V\nCN1 C5 100uF 10V\nR7, R8 10k  C3 22uF 25V") == [
        "C18 10 µF 16 V",
        "C5 100 µF 10 V",
        "C3 22 µF 25 V",
    ]


def test_a_capacitance_behind_the_designator_of_another_part_is_pointed_out() -> None:
    assert codes("C1 10uF\nR6 100nF\nR5 4k7")[:2] == [(2, "prose-names-part"), (3, "other-part")]


# --- summaries ---------------------------------------------------------------------------------------------

_BY_REF = "C1 10uF 25V\nC2 10uF 25V\nC3 22uF 16V\n"
_LISTED = ["C1 10 µF 25 V", "C2 10 µF 25 V", "C3 22 µF 16 V"]


@pytest.mark.parametrize("heading", ["Summary:", "## Total", "Shopping list", "Zusammenfassung", "Riepilogo", "TOTAUX"])
def test_a_summary_of_the_list_is_counted_once(heading: str) -> None:
    text = f"{_BY_REF}\n{heading}\n2x 10uF 25V\n1x 22uF 16V"
    assert facts(text) == _LISTED
    assert {(6, "line-passed-over"), (7, "line-passed-over")} <= set(codes(text))


def test_a_summary_in_a_table_is_counted_once() -> None:
    rows = "| Ref | Value | V |\n|---|---|---|\n| C1, C2 | 10uF | 25 |\n| C3 | 22uF | 16 |"
    total = "| Qty | Value | V |\n|---|---|---|\n| 2 | 10uF | 25 |\n| 1 | 22uF | 16 |"
    assert facts(f"## List\n{rows}\n\n## Total\n{total}") == _LISTED


def test_a_summary_that_does_not_agree_is_doubted() -> None:
    found = facts(f"{_BY_REF}\nSummary:\n3x 10uF 25V\n1x 22uF 16V")
    assert found[3:] == ["- x3 10 µF 25 V ?counted-twice", "- 22 µF 16 V ?counted-twice"]


def test_quantities_that_add_up_to_the_list_without_saying_so_are_doubted() -> None:
    assert facts(f"{_BY_REF}\nAlso:\n2x 10uF 25V\n1x 22uF 16V")[3:] == [
        "- x2 10 µF 25 V ?counted-twice",
        "- 22 µF 16 V ?counted-twice",
    ]


def test_quantities_of_another_board_are_its_own() -> None:
    text = f"Main board\n{_BY_REF}\nRelay board\n2x 10uF 25V\n1x 22uF 16V"
    assert facts(text)[3:] == ["- x2 10 µF 25 V @ Relay board", "- 22 µF 16 V @ Relay board"]
    assert facts(f"{_BY_REF}\nAlso on the back:\n1x 10uF 25V")[3:] == ["- 10 µF 25 V"]


# --- pages saved or copied with their markup -----------------------------------------------------------------


def test_a_table_in_tags_is_read_by_its_columns() -> None:
    text = (
        "<h3>Regulator board</h3>\n<table>\n"
        "<tr><th>Ref</th><th>Value</th><th>Voltage</th><th>Lead spacing</th></tr>\n"
        "<tr><td>C1</td><td>2200&micro;F</td><td>63V</td><td>7.5</td></tr>\n"
        "<tr><td>C3, C4</td><td><b>4.7</b>&micro;F</td><td>50V</td><td>2</td></tr>\n"
        "</table>\n<p>Last edited by the owner</p>\n"
    )
    assert facts(text) == [
        "C1 2200 µF 63 V P7.5 @ Regulator board",
        "C3 4.7 µF 50 V P2 @ Regulator board",
        "C4 4.7 µF 50 V P2 @ Regulator board",
    ]
    assert (7, "line-passed-over") in codes(text)


def test_rows_in_tags_may_stand_on_many_lines_and_text_behind_them_counts() -> None:
    text = (
        "<table><caption>Audio board</caption>\n<tr><th>Ref</th>\n<th>Value</th><th>Volts</th></tr>\n"
        "<tr>\n <td>C11</td>\n <td rowspan=2>10\n  &micro;F</td>\n <td>16 V</td>\n</tr>\n"
        "<tr><td>C12</td><td>25 V</td></tr>\n"
        '<tr><td>C13</td><td colspan="2">47 &micro;F / 35 V</td></tr>\n</table> C14 22uF 25V\nC15 10uF 25V\n'
    )
    assert facts(text) == [
        "C11 10 µF 16 V @ Audio board",
        "C12 10 µF 25 V @ Audio board",
        "C13 47 µF 35 V @ Audio board",
        "C14 22 µF 25 V",
        "C15 10 µF 25 V",
    ]


def _wiki(caption: str, *rows: str) -> str:
    body = "\n|-\n".join(f"| {row}" for row in rows)
    return f"{{|\n|+ {caption}\n! Ref !! Value !! Voltage\n|-\n{body}\n|}}\n"


def test_the_caption_of_a_table_names_its_board_and_ends_with_it() -> None:
    first = _wiki("Rev. 5", "C1 || 22 µF || 35 V")
    second = _wiki("Rev. 6A", "C1 || 47 µF || 16 V")
    assert facts(f"{first}\n{second}\nC9 1uF") == ["C1 22 µF 35 V @ Rev. 5", "C1 47 µF 16 V @ Rev. 6A", "C9 1 µF"]
    assert facts(_wiki("Power supply board", "C1 || 22 µF || 35 V")) == ["C1 22 µF 35 V @ Power supply board"]
    assert facts(_wiki("Table 3", "C1 || 22 µF || 35 V")) == ["C1 22 µF 35 V"]


def test_a_cell_that_reaches_down_holds_for_the_rows_below() -> None:
    text = _wiki("Caps", 'C1 || rowspan="2" | 100 µF || 25 V', "C2 || 16 V", "C3 || 22 µF || 50 V")
    assert facts(text) == ["C1 100 µF 25 V", "C2 100 µF 16 V", "C3 22 µF 50 V"]


@pytest.mark.parametrize("opening", ["{|", "<table", "<table><tr>", "<tr>", "<td>"])
def test_tables_without_end_take_no_time(opening: str) -> None:
    assert facts("\n".join(["C1 10uF", *[opening] * 5000, "C2 22uF"]))[0] == "C1 10 µF"


# --- diaries, stock lists, parts lists by assembly ---------------------------------------------------


def test_the_day_of_a_diary_is_no_value_and_no_part_of_a_board_s_name() -> None:
    diary = (
        "Recap log\n\n2021-02-06 started with the power supply board\n2021-02-06 C801 4700uF 50V -> 4700uF 63V\n"
        "14/02/21 C404 3.3uF 50V NP, fitted 3.3uF 63V NP\n20.02.21 C201 1uF 50V, C202 0.47uF 50V"
    )
    assert facts(diary) == [
        "C801 4700 µF 50 V @ power supply board",
        "C404 3.3 µF 50 V bipolar @ power supply board",
        "C201 1 µF 50 V @ power supply board",
        "C202 0.47 µF 50 V @ power supply board",
    ]


def test_an_assembly_names_the_board_of_the_designators_that_begin_with_its_own() -> None:
    parts = (
        "SYMBOL   DESCRIPTION                       PART NO.\n"
        "A2       BOARD ASSY, POWER SUPPLY          1180-6002\n"
        "A2C1     CAPACITOR, AL ELECT 47uF 25VDC    0410-0471\n"
        "A2C2     SAME AS A2C1                      0410-0471\n"
        "A3       BOARD ASSY, SWEEP                 1180-6003\n"
        "A3C1     CAPACITOR, TANT 22uF 15VDC        0430-2252\n"
    )
    assert facts(parts) == [
        "A2C1 47 µF 25 V electrolytic @ BOARD ASSY, POWER SUPPLY",
        "A2C2 47 µF 25 V electrolytic @ BOARD ASSY, POWER SUPPLY",
        "A3C1 22 µF 15 V tantalum @ BOARD ASSY, SWEEP",
    ]


@pytest.mark.parametrize(
    ("cell", "expected"),
    [("1.200", "- x1200 1 µF 63 V"), ("2,00", "- x2 1 µF 63 V"), ("1.000", "- 1 µF 63 V ?cell-unread")],
)
def test_a_count_of_pieces_is_whole_so_a_point_in_it_groups_thousands(cell: str, expected: str) -> None:
    assert facts(f"Kapazität (µF);Spannung (V);Stück\n1;63;{cell}") == [expected]


@pytest.mark.parametrize(
    ("line", "expected"),
    [
        ("n. 4 da 100µF 16V", "- x4 100 µF 16 V"),
        ("3 condensateurs de 10µF 63V", "- x3 10 µF 63 V"),
        ("10 x 493-1234-XY 100uF 25V", "- x10 100 µF 25 V"),
        ("n° 3 10µF 50V", "- 10 µF 50 V ?number-unread"),
        ("C1 100uF 25V -40..105", "C1 100 µF 25 V 105 °C"),
        ("C1 100uF +80-20% 25V", "C1 100 µF 25 V"),
        ("- [x] C2 470uF 25V", "C2 470 µF 25 V"),
    ],
)
def test_counts_and_ranges_as_people_write_them(line: str, expected: str) -> None:
    assert facts(line) == [expected]


def test_the_voltages_of_a_can_are_no_order_number() -> None:
    assert facts("C4 40-40-20 mfd 450-450-25 V")[2].startswith("C4c 20 µF 25 V")


def test_two_lists_beside_each_other_say_nothing_of_one_another() -> None:
    assert facts("Ref\tValue\tRef\tValue\nC1\t10uF 16V\tC2\t22uF 16V bipolar")[0] == "C1 10 µF 16 V"


def test_a_heading_may_rate_all_parts_unless_noted() -> None:
    text = "Audio board (all 16V unless noted)\nC601 10uF\nC603 47uF 25V"
    assert facts(text) == ["C601 10 µF 16 V @ Audio board", "C603 47 µF 25 V @ Audio board"]


@pytest.mark.parametrize(
    "said",
    ["All 10uF are bipolar.", "Note: the 10uF caps are bipolar", "Alle 10µF sind bipolar", "10uF caps are all bipolar"],
)
def test_what_is_said_of_all_of_one_value_is_no_part_but_laid_on_them(said: str) -> None:
    listed = ["C1 10 µF 16 V bipolar", "C2 22 µF 16 V", "C3 10 µF 50 V bipolar"]
    assert facts(f"{said}\nC1 10uF 16V\nC2 22uF 16V\nC3 10uF 50V") == listed
    assert facts(f"C1 10uF 16V\nC2 22uF 16V\nC3 10uF 50V\n{said}") == listed


def test_a_lone_value_in_a_list_of_designators_is_doubted() -> None:
    """Neither designator nor voltage nor count: a remark more likely than a part."""
    assert facts("C1 10uF 16V\nC2 22uF 16V\nC3 10uF 50V\n10uF = bipolar")[3] == "- 10 µF bipolar ?ref-missing"
    assert facts("C1 10uF 16V\nC2 22uF 16V\nC3 10uF 50V\n2x 10uF bipolar")[3] == "- x2 10 µF bipolar"


def test_a_last_line_may_rate_all() -> None:
    assert facts("C1 100uF\nC2 47uF 63V\nAll caps 25V, 105C") == ["C1 100 µF 25 V 105 °C", "C2 47 µF 63 V 105 °C"]


def test_shortened_designators_are_filled_in_and_doubted() -> None:
    assert facts("C705,6 10µF 50V x2") == ["C705 10 µF 50 V ?range-shortened", "C706 10 µF 50 V ?range-shortened"]
    assert facts("C3, 7 10uF 16V") == ["C3 10 µF 16 V", "C7 10 µF 16 V"]


def test_a_voltage_behind_a_times_sign_is_no_count() -> None:
    assert facts("100 uF x 25 V") == ["- 100 µF 25 V"]
    assert facts("10uF 16V x 4") == ["- x4 10 µF 16 V"]


def test_a_column_of_locations_holds_boards_where_words_stand_in_it() -> None:
    text = "LOCATION\tVALUE\tVOLTAGE\tQTY\nMain\t100uF\t25V\t4\nPSU\t47uF\t16V\t2"
    assert facts(text) == ["- x4 100 µF 25 V @ Main", "- x2 47 µF 16 V @ PSU"]
    assert facts("Position\tValue\n2101\t10uF\n2102\t22uF") == ["2101 10 µF", "2102 22 µF"]


def test_a_voltage_in_front_of_several_values_is_that_of_all() -> None:
    assert facts("35V: 1000µF (C1,C2), 470µF (C3)") == ["C1 1000 µF 35 V", "C2 1000 µF 35 V", "C3 470 µF 35 V"]


def test_a_line_of_what_replaces_the_part_above_is_no_part() -> None:
    text = "* C1 - 1000 µF / 25 V\n  * Replacement: 1000 µF / 35 V\n* C2 - 470 µF / 16 V"
    assert facts(text) == ["C1 1000 µF 25 V", "C2 470 µF 16 V"]
    assert (2, "line-passed-over") in codes(text)
    assert facts("Replacement: 1000 µF / 35 V") == ["- 1000 µF 35 V"]


@pytest.mark.parametrize(("line", "expected"), [("0.047 600V", "- 47 nF 600 V"), (".05-400V", "- 50 nF 400 V")])
def test_old_values_below_one_need_no_unit(line: str, expected: str) -> None:
    """Radio lists of the valve years write microfarads without saying so (common practice)."""
    assert facts(line) == [expected]


def test_a_dash_behind_designators_leaves_their_place_empty() -> None:
    assert facts("C8 - 22uF 16V\nC9 -\nC10 - 10uF 16V")[1:] == ["C9 ? ?value-missing", "C10 10 µF 16 V"]


def test_fields_joined_by_dashes_are_all_read() -> None:
    assert facts("C5-22uF-16V-105C-Radial") == ["C5 22 µF 16 V 105 °C radial"]


# --- what a spreadsheet made of numbers ---------------------------------------------------------------


def test_numbers_that_a_spreadsheet_shows_with_an_exponent() -> None:
    text = "Ref,Value (µF),Voltage,Pitch\nC1,2.20E+03,2.50E+01,7.50E+00\nC2,4.70E-01,5.00E+01,5\n"
    assert facts(text) == ["C1 2200 µF 25 V P7.5", "C2 0.47 µF 50 V P5"]
    assert facts("C1 2.20E+03 µF 25 V") == ["C1 2200 µF 25 V"]


def test_no_number_is_cut_at_its_point() -> None:
    """``4.7q`` read as 4 would burn a set as surely as 47."""
    assert facts("C1 4.7q 25V") == ["C1 ? 25 V ?value-missing"]
    assert facts("C1 2.2E 50V") == ["C1 ? 50 V ?value-missing"]


@pytest.mark.parametrize("name", ["C1E2", "C2A1", "C12AB"])
def test_a_name_that_begins_as_a_designator_is_not_dropped_in_silence(name: str) -> None:
    assert facts(f"{name} 10uF 16V\nC3 22uF 16V")[0].endswith("?ref-unread")


# --- several boards of one kind -----------------------------------------------------------------------


@pytest.mark.parametrize(
    ("heading", "board"),
    [
        ("Main amp L/R (x2)", "Main amp L/R"),
        ("Power amp x2", "Power amp"),
        ("2x driver board", "driver board"),
        ("Main amp - 2 off", "Main amp"),
        ("Amp boards (2 of):", "Amp boards"),
        ("Main amp (both channels)", "Main amp"),
        ("Endstufe (2 Stk)", "Endstufe"),
        ("Endstufe, beide Kanäle:", "Endstufe"),
    ],
)
def test_a_heading_that_says_there_are_several_of_its_board(heading: str, board: str) -> None:
    """Its parts may be needed as often: they are counted once, and that is said."""
    text = f"Tone board\nC607 1uF 50V\n\n{heading}\nC701 220uF 10V\nC702 100uF 63V\n"
    assert facts(text)[1:] == [f"C701 220 µF 10 V @ {board}", f"C702 100 µF 63 V @ {board}"]
    assert (4, "heading-times") in codes(text)


@pytest.mark.parametrize("line", ["2x 7805", "Fuse x2", "Main amp L/R", "Power amp", "Replaced on both channels"])
def test_a_line_that_says_no_such_thing(line: str) -> None:
    text = f"Tone board\nC607 1uF 50V\n\n{line}\nC701 220uF 10V\n"
    assert "heading-times" not in {code for _, code in codes(text)}


# --- what a remark says a part does -------------------------------------------------------------------


@pytest.mark.parametrize(
    ("remark", "role"),
    [
        ("coupling", "coupling"),
        ("Coupling; old one leaked", "coupling"),
        ("timing cap", "timing"),
        ("S-cap", "deflection"),
        ("S-cap, do not change value", "deflection"),
        ("this is the s-correction, careful", "deflection"),
        ("near the transformer", None),
        ("was leaking", None),
    ],
)
def test_a_remark_that_names_what_a_part_does(remark: str, role: str | None) -> None:
    """A part that shapes or tunes a deflection is replaced by the same value only: it is recognised anywhere."""
    table = f'Ref,Value,V,Note\nC303,0.39uF,400,"{remark}"\nC1,10uF,16,\n'
    (first, second), _ = read_cap_text(table, "list.csv")
    assert (first.role and first.role.value, second.role) == (role, None)
    (line,), _ = read_cap_text(f"C303 0.39uF 400V ({remark})", "list.txt")
    assert (line.role and line.role.value) == role


def test_a_column_of_roles_counts_before_a_remark() -> None:
    for header, row in (("Note,Role", "S-cap,timing"), ("Role,Note", "timing,S-cap")):
        (position,), _ = read_cap_text(f"Ref,Value,V,{header}\nC1,10nF,400,{row}\n", "list.csv")
        assert position.role == "timing"
