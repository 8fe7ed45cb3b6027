"""What lists from workshops and layout programs hold beside capacitors, and what must never be made of it.

Each case is a fault once found on a list of this shape; names and numbers are invented. What the reader should make
of them is common practice of the trade: designators name places, packages and part numbers don't.
"""

from __future__ import annotations

import pytest

from tests.normalise.facts import codes, facts


def table(header: str, *rows: str) -> str:
    """Return a Markdown table."""
    rule = "|".join("---" for _ in header.split("|"))
    return "\n".join([f"| {header} |", f"|{rule}|", *(f"| {row} |" for row in rows)])


# --- the column of designators ------------------------------------------------------------------


def test_designators_are_found_in_a_column_headed_part_among_other_parts() -> None:
    found = facts(
        table(
            "Part | Qty | Description",
            "_1 | 1 | Controller board",
            "Sockets for _1 | 2 | Sockets 2.54 mm",
            "C3 | 1 | Axial electrolytic capacitor, 105°C, 16x36 mm, 3300 µF/25 V",
            "C5 | 1 | Pulse capacitor, 2.2µF, 400V, RM27.5",
            "D1 | 1 | Switching diode, 100 V, 150 mA, DO-35",
        )
    )
    assert found == ["C3 3300 µF 25 V 105 °C axial electrolytic D16 H36", "C5 2.2 µF 400 V P27.5"]


def test_a_parts_column_of_a_layout_program_holds_designators() -> None:
    found = facts(
        table(
            "Qty | Value | Device | Package | Parts | Description",
            "1 | LCD | PINHD-2X7 | 2X07 | JP1 | PIN HEADER",
            "1 | POTI | MA03-1 | MA03-1 | SV1 | PIN HEADER",
            "1 | VN9999 N-CH | VN9999 | TO237 | Q1 | MOSFET",
            "1 | 4.7µF 10V | CPOL-EUE2.5-6 | E2,5-6 | C1 | POLARIZED CAPACITOR",
            "2 | 470µF 16V | CPOL-EUE3.5-10 | E3,5-10 | C2, C5 | POLARIZED CAPACITOR,",
            "1 | 68k | R-EU_0207/10 | 0207/10 | R5 | RESISTOR,",
        )
    )
    assert found == [
        "C1 4.7 µF 10 V",
        "C2 470 µF 16 V",
        "C5 470 µF 16 V",
    ]


def test_letters_of_a_diagram_are_designators() -> None:
    found = facts(
        table("Identifier in diagram | Value and Rating | Example", "D | 1uF, 50V | x", "A, J, K | 10uF, 50V | Acme 7")
    )
    assert found == ["D 1 µF 50 V", "A 10 µF 50 V", "J 10 µF 50 V", "K 10 µF 50 V"]


def test_designators_may_bear_their_assembly() -> None:
    found = facts(
        table("Reference | Old | New", "A10C18 | 24000uF/25V | 22000uF/25V", "A10C19, A10C20 | 3300uF/40V | -")
    )
    assert found == ["A10C18 24000 µF 25 V", "A10C19 3300 µF 40 V", "A10C20 3300 µF 40 V"]


def test_of_two_headers_for_designators_the_cells_decide() -> None:
    found = facts(
        table(
            "Pos | Menge | Referenz | Bauteil / Bezeichnung",
            "x | 1 | C7 | Elko 100 µF",
            "x | 1 | R15 | Widerstand 1,8 kΩ",
        )
    )
    assert found == ["C7 100 µF electrolytic"]


def test_a_column_of_row_numbers_is_no_voltage() -> None:
    text = (
        "Id  Designator  Package  Quantity  Designation\n"
        "[M] 4  C30,C29  CP_EIA-3528  2  10uF\n"
        "[M] 6  C8,C9  C1206  2  22uF"
    )
    assert [fact.split(" smd")[0] for fact in facts(text)] == ["C30 10 µF", "C29 10 µF", "C8 22 µF", "C9 22 µF"]


# --- packages -----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("package", "stated"),
    [
        ("0805", " smd"),
        ("1206", " smd"),
        ("C1206", " smd"),
        ("SMD D", " smd"),
        ("7343", " smd"),
        ("E2,5-6", ""),
        ("C050-030X075", ""),
        ("3216_POLAR", " smd"),
        ("SOT-23", ""),
        ("see drawing", ""),
    ],
)
def test_a_package_states_the_mount_and_is_no_doubt(package: str, stated: str) -> None:
    assert facts(table("Ref | Value | Package", f"C1 | 10uF | {package}")) == [f"C1 10 µF{stated}"]


def test_a_package_column_holds_no_designators() -> None:
    assert facts(table("Reference | Value | Package | Qtd", "C1-C2 | 100nF | C1206 | 2")) == [
        "C1 0.1 µF smd",
        "C2 0.1 µF smd",
    ]


def test_a_count_in_its_column_makes_no_can() -> None:
    assert facts(table("Ref | Value | Volts | Qty", "C33 | 4700pF | 250V | 2x")) == ["C33 4.7 nF 250 V ?count-mismatch"]


def test_a_column_of_ratings_holds_volts() -> None:
    assert facts(
        table("Ref | Value | Type | Rating", "C4 | 1u | film; 25 V or more | 50 V", "C5 | 10n | film | 100 V")
    ) == [
        "C4 1 µF 50 V film",
        "C5 10 nF 100 V film",
    ]


def test_a_column_of_a_shop_is_no_original() -> None:
    text = table("Qty | Ref | MPN | Stock @ lookup", "1 | C1 | ABC-1 | 15 960", "1 | C2 | ABC-2 | 38 769")
    assert facts(text) == ["C1 ? ?value-missing", "C2 ? ?value-missing"]


# --- further designators and values on the row ----------------------------------------------------


def test_a_type_code_beside_the_designator_is_none() -> None:
    found = facts(table("Pos | Description | Param", "C3 | Cm-3-500B-r-1600 nF±5% | 1600nF ±5% 500V"))
    assert found == ["C3 1.6 µF 500 V"]


@pytest.mark.parametrize("row", ["C3 | 4n7 | ceramic, C0G preferred", "C3 | 4n7 | C0G"])
def test_a_dielectric_is_no_designator(row: str) -> None:
    assert facts(table("Ref | Value | Type", row)) == ["C3 4.7 nF ceramic"]


def test_codes() -> None:
    assert codes("") == [(None, "list-empty")]


# --- records with more on the line ------------------------------------------------------------------


def test_a_second_capacitance_behind_the_designators_is_a_remark() -> None:
    found = facts("| 2 || 3300µF / 10V || 23x13 || radial || C401, C402 (may be changed to 1000µF)")
    assert [fact.split(" D")[0] for fact in found] == ["C401 3300 µF 10 V radial", "C402 3300 µF 10 V radial"]
    assert all("?remark-unclear" in fact for fact in found)


@pytest.mark.parametrize(
    ("line", "expected"),
    [
        ("1 6u8 tantalum C15 Shop# 12-1919-ND TANTAL 6,8/35 x5 x", ["C15 6.8 µF tantalum"]),
        (
            "3 6u8 Al, use 10u C1, C2, C49 Shop# P5148-ND RAD 10/35 x15 x",
            [f"C{n} 6.8 µF ?remark-unclear" for n in (1, 2, 49)],
        ),
        ("2 1000p poly C7, C8 Shop# 495-2456-ND (=1NF)  10x 5mm mks  x", ["C7 1 nF film", "C8 1 nF film"]),
        ("1 10p cer C0G C9 Shop# 445-4714-ND x5 x", ["C9 10 pF ceramic"]),
    ],
)
def test_what_a_shop_calls_the_part_is_no_position(line: str, expected: list[str]) -> None:
    assert facts(line) == expected


def test_a_count_sign_apart_from_its_number_makes_no_size() -> None:
    assert facts("4 100n poly C12, C13, C18, C19 5mm x20 x")[0] == "C12 0.1 µF film ?size-unclear"


def test_a_package_beside_designators_is_none_of_them() -> None:
    assert facts("6   100nF   C-EUC0805   C0805   C102, C111  CAPACITOR")[0].startswith("C102 0.1 µF")
    assert facts("C0805 47uF 25V\nC0806 47uF 25V") == ["C0805 47 µF 25 V", "C0806 47 µF 25 V"]
    assert facts("C1206 47uF 25V, C1207 22uF 25V") == ["C1206 47 µF 25 V", "C1207 22 µF 25 V"]


def test_a_trailing_count_is_no_voltage() -> None:
    assert facts("| C2, C3 | Kondensator, Keramik | 100 nF | 2 |") == ["C2 0.1 µF ceramic", "C3 0.1 µF ceramic"]
    assert facts("| C4 | Elko | 100 µF | 16 |") == ["C4 100 µF 16 V electrolytic ?volts-unit-missing"]


def test_a_count_against_the_designators_is_doubted() -> None:
    assert facts("1 uF, 16V 4 C6-C8 Ceramic unpolarized")[0] == "C6 1 µF 16 V ceramic ?count-mismatch"


# --- other parts -------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "line",
    [
        "120R 1/8 Watt Metal Film Resistor",
        "100 Ohm 1/2 Watt",
        "2 4052N IC2, IC6",
        "Switch 2P",
        "- MODULE 8266-12F socket",
        "relay 12/24v",
        "battery clip 9V 1x",
    ],
)
def test_figures_of_other_parts_are_no_capacitances(line: str) -> None:
    assert facts(f"{line}\nC1 10uF 25V") == ["C1 10 µF 25 V"]


@pytest.mark.parametrize(
    "row",
    [
        "J2 | SCREW-TERMINAL-2P | x",
        "D1 | 1n4007 | Diode",
        "R15 | 1/4W | x",
        "V11,12 | D 814 D | zener 12V",
        "NEO1 | SK6813b | x",
        "Push1 | Tactile Button | x",
        "L01 | 150nH | coil",
        "D01, D03 | BZX46C | x",
        "PS1 | AC-DC 5V 0.6A | x",
        "J3 terminal block, 2 poles | 12 V | x",
    ],
)
def test_rows_of_other_parts_are_passed_over(row: str) -> None:
    text = table("Part | Value | Package", "C1 | 100u | E2,5-6", row, "C2 | 10u | x")
    assert facts(text) == ["C1 100 µF", "C2 10 µF"]
    assert (4, "other-part") in codes(text)


def test_a_word_for_another_part_beside_a_capacitance_takes_nothing_away() -> None:
    assert facts("2x 47uF 25V relay driver") == ["- x2 47 µF 25 V"]
    assert facts(table("Value (µF) | Volts | Where", "100 | 16 | relay")) == ["- 100 µF 16 V"]
    assert codes("100/16 near the relay\nC1 10uF")[0] == (1, "prose-names-part")


# --- voltages and sizes ------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("line", "expected"),
    [
        ("CAPACITOR 12 MFD 250VCA", "- 12 µF 250 V"),
        ("CAPACITOR 15 + 2.5 MFD 370 VCA", "- 15 µF 370 V ?can-sections"),
        ("CAPACITOR 12 MFD 110 125 VAC", "- 12 µF ?alternatives"),
        ("CAPACITOR 15 MDF 250V", "- 15 µF 250 V ?unit-misread"),
        ("C1 100uF 6.3V SMD, D6.3xL5.8mm (for 5mm large size)", "C1 100 µF 6.3 V smd D6.3 H5.8 ?size-unclear"),
    ],
)
def test_voltages_and_sizes_of_real_shops(line: str, expected: str) -> None:
    assert facts(line)[0] == expected


# --- headings ------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "stray",
    [
        "Relay - bulb 220v",
        "Plug-in adaptor, 12 W, 5 V, 2.4 A",
        "- Breadboard",
        "shipped v0.1 board.)*",
        "BS999\t\t1\tQ1\tN channel MOSFET",
        "120R 1/8 Watt Metal Film Resistor",
    ],
)
def test_a_stray_line_says_nothing_of_the_rows_below(stray: str) -> None:
    assert facts(f"Some text.\n\n{stray}\nC1 47uF\nC2 22uF") == ["C1 47 µF", "C2 22 µF"]


def test_a_line_of_a_paragraph_is_no_board() -> None:
    text = "The tubes are\n1Z9ZZ oscillator\n1Z8ZZ demodulator, first audio stage\nand a power amp.\nC1 .1mf 200v"
    assert facts(text) == ["C1 0.1 µF 200 V"]


def test_a_board_may_stand_over_items_of_a_list() -> None:
    assert facts("- PSU board\n  - C1 10uF\n- Audio board:\n  - C2 22uF") == [
        "C1 10 µF @ PSU board",
        "C2 22 µF @ Audio board",
    ]


def test_a_heading_ends_those_of_its_own_rank_even_if_it_sets_nothing() -> None:
    assert facts("Widget board PU-9\n=====\n\nTested sets\n-----\nZX-1\n\nParts list\n-----\nC317 22uF") == [
        "C317 22 µF @ Widget board PU-9"
    ]
    text = "## Capacitors\n### Polarized\nElectrolytic capacitors.\n\nC1 100uF\n\n## More parts\nC9 1uF"
    assert facts(text) == ["C1 100 µF electrolytic", "C9 1 µF"]


@pytest.mark.parametrize("name", ["5. Passives", "Active / modules", "Connectors", "Summary", "Errata"])
def test_a_family_of_parts_or_a_section_is_no_board(name: str) -> None:
    assert facts(f"## {name}\nC1 47uF") == ["C1 47 µF"]


def test_under_a_heading_of_other_parts_nothing_is_a_capacitor_but_what_is_named_so() -> None:
    text = "## Inductors\n2x 150n\n1x 350\nC9 10uF\n## Capacitors\n2x 10uF"
    assert facts(text) == ["C9 10 µF", "- x2 10 µF"]
    assert (2, "prose-names-part") in codes(text)


@pytest.mark.parametrize(
    ("said", "stated"),
    [
        ("I changed these, they're all aluminum electrolytics:", "electrolytic"),
        ("Caps: they're all aluminum electrolytic radial ones.", "radial electrolytic"),
        ("Replace with Tantalum:", "tantalum"),
        ("Replace with Axial Electrolytic:", "axial electrolytic"),
    ],
)
def test_a_sentence_that_says_what_all_are_is_a_heading(said: str, stated: str) -> None:
    assert facts(f"{said}\n\nC1 47uF 16V") == [f"C1 47 µF 16 V {stated}"]


def test_wide_blanks_part_a_count_from_its_value() -> None:
    assert facts("2   100pF   C103, C131") == ["C103 100 pF", "C131 100 pF"]
    assert facts("2 200uF 16V") == ["- 2200 µF 16 V ?count-or-thousands"]


def test_a_mere_mention_of_a_designator_leaves_its_record_alone() -> None:
    text = f"{table('Ref | Value', 'C1 | 47uF', 'C2 | 10uF')}\n\n{table('Ref | MPN', 'C1 | ABC-1')}"
    assert facts(text) == ["C1 47 µF", "C2 10 µF"]


# --- service sheets ------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("line", "expected"),
    [
        (
            "C1, C2  Electrolytic  100 uF  63 V  EC-1004-50",
            ["C1 100 µF 63 V electrolytic", "C2 100 µF 63 V electrolytic"],
        ),
        ("C17 - 50+50µF 385V", ["C17a 50 µF 385 V ?can-sections", "C17b 50 µF 385 V ?can-sections"]),
        ("C16 a C18: 22 µF 16 V", ["C16 22 µF 16 V", "C17 22 µF 16 V", "C18 22 µF 16 V"]),
        ("C15: 47 µF 16 V, cambiado por 100 µF 16 V", ["C15 47 µF 16 V"]),
        ("C1  was 47uF 16V, now 47uF 25V", ["C1 47 µF 16 V"]),
        ("C601 100/16 or 25, C602 22/16", ["C601 100 µF ?alternatives", "C602 22 µF 16 V"]),
        ("C701 ???/50, C702 10/50", ["C701 ? 50 V ?marked-uncertain ?value-missing", "C702 10 µF 50 V"]),
        ("C204 ... .O47 MFD, 100 V, Mylar", ["C204 47 nF 100 V film ?ocr-digit"]),
        ("C1, C2 4 700 µF 40 V", ["C1 4700 µF 40 V", "C2 4700 µF 40 V"]),
        ("C1, C2, C3, C4 4 700 µF 40 V", [f"C{n} 4700 µF 40 V ?count-or-thousands" for n in range(1, 5)]),
        ("CX1 0.22uF film 275VAC 18x11x5 mm", ["CX1 0.22 µF 275 V film"]),
        ("C52 2200µF axial (no modern axial that short: the new one is 5 mm longer)", ["C52 2200 µF axial"]),
    ],
)
def test_lines_of_service_sheets(line: str, expected: list[str]) -> None:
    assert facts(line) == expected


def test_the_word_do_is_no_ditto() -> None:
    assert facts("C1 10uF 16V\nC2 do.\n\nDo what you like with it.") == ["C1 10 µF 16 V", "C2 10 µF 16 V"]


def test_revisions_are_boards_of_their_own() -> None:
    assert facts(
        "== Rev 5 motherboard ==\nC1 10uF\n== Rev 6A motherboard ==\nC1 22uF\n== Power supply, type B ==\nC1 1uF"
    ) == [
        "C1 10 µF @ Rev 5 motherboard",
        "C1 22 µF @ Rev 6A motherboard",
        "C1 1 µF @ Power supply, type B",
    ]


def test_a_board_named_after_one_part_is_a_board_and_several_are_a_class_of_parts() -> None:
    assert facts("# Thistlewick set\n\n## SPEAKER\nC41 6.8 µF 50V bipolar\n## SPEAKERS\nS1 8 ohm\n") == [
        "C41 6.8 µF 50 V bipolar @ SPEAKER"
    ]


# --- tables whose headers say little ---------------------------------------------------------------------


def test_a_rule_makes_the_line_above_it_a_header_whatever_it_says() -> None:
    text = (
        "**Item**|**Qty**|**Part Num**\n:-----:|:-----:|:-----:\n"
        "+3.3V LDO|1|X (DPAK)\n10uF 16V Axial Electrolytic Capacitor|2|Acme VX\n"
    )
    assert facts(text) == ["- x2 10 µF 16 V axial electrolytic"]


def test_each_cell_of_a_row_stands_for_itself() -> None:
    found = facts(
        table(
            "Componente | Modello | Pin",
            "Relay | RS-05 (lampadina 220v) | GPIO5",
            "Step-Up | MX9999 | 5 V -> 12 V",
            "Condensatore elettrolitico | 4700 µF, 16 V - bulk lato 5 V (ingresso) | tra 5 V e GND",
            "Condensatori ceramici bypass | 100 nF, 50 V | uno per elettrolitico",
        )
    )
    assert found == ["- 4700 µF 16 V electrolytic", "- 0.1 µF 50 V ceramic"]


def test_a_table_of_footprints_holds_no_capacitors() -> None:
    text = table(
        "Type | Footprint", "5/2.5 | Capacitor_THT:CP_Radial_D5.0mm_P2.50mm", "8/3.5 | CP_Radial_D8.0mm_P3.50mm"
    )
    assert facts(f"{text}\n\nC1 10uF") == ["C1 10 µF"]


def test_links_of_a_wiki_page_head_no_columns() -> None:
    text = (
        "[edit | edit source]| Label | Capacitance | Voltage | Quantity |\n|---|---|---|---|\n| C1 | 3.9µF | 35V | 1x |"
    )
    assert facts(text) == ["C1 3.9 µF 35 V"]


def test_designators_in_a_column_that_is_not_read_as_such_are_doubted() -> None:
    rows = [f"{n} pieces of wire | - | x" for n in range(9)]
    text = table("Part number | Value | Note", *rows, "C3 | 10uF | y")
    assert facts(text) == ["- 10 µF ?ref-unread"]


def test_parts_headed_by_a_word_for_parts_are_described_not_named() -> None:
    text = table("Bauteil | Menge | Preis", "**AB-A 10U 50**<br>Elko, radial, 10 µF, 50 V, RM 2,5 | 1 | 0,15 €")
    assert facts(text) == ["- 10 µF 50 V radial electrolytic P2.5"]


def test_a_remark_in_the_cell_of_designators_is_no_value() -> None:
    text = "{|\n! Antal !! Beteckning !! Komponenter\n|-\n| 2 || 3300µF / 10V || C401, C402 (kan bytas mot 1000µF)\n|}"
    assert facts(text) == ["C401 3300 µF 10 V ?remark-unclear", "C402 3300 µF 10 V ?remark-unclear"]


# --- lists of items, records over several lines ------------------------------------------------------------


def test_an_indented_line_that_names_the_value_again_is_a_remark() -> None:
    text = (
        "1. Elko, radial, 47µF, 35V\n   Suchbegriff: `Elko 47µF 35V`\n\n"
        "2. **Elko, radial, 4,7µF, 450V** (baugleich zu Nr. 1, zweimal auf der Platine verbaut)"
    )
    assert facts(text) == ["- 47 µF 35 V radial electrolytic", "- 4.7 µF 450 V radial electrolytic"]


def test_what_a_shop_calls_the_part_in_front_of_it_is_the_same_part() -> None:
    text = "- 2   TPX 3216 22/6,3   Tantal, 22µF, 6,3V\n- 1   ABC 10U   Kerko, 10µF, 10V\n- 2   TASTER   12V"
    assert facts(text) == ["- x2 22 µF 6.3 V tantalum", "- 10 µF 10 V ceramic"]


def test_values_above_designators_without_value_are_doubted() -> None:
    text = "  Funktion: 100nf\n  Wert: 100N\n  Toleranz: 10%\n   c20,c22\n"
    found = facts(text)
    assert all("?" in fact for fact in found)
    assert {fact for fact in found if fact.startswith("- ")} == {"- 0.1 µF ?ref-missing"}


def test_a_name_of_a_set_with_numbers_is_the_title() -> None:
    assert facts("Widget 128K/512K Capacitor List\nC1 10uF") == ["C1 10 µF"]


def test_a_type_that_looks_like_a_designator_is_left_to_somebody() -> None:
    assert facts("* CC9999 module 868MHz\n* Elko 22µF (2x)") == ["- x2 22 µF electrolytic"]
    assert codes("* CC9999 module 868MHz\n* Elko 22µF (2x)")[0] == (1, "prose-names-part")


def test_a_capacitance_among_other_parts_is_doubted() -> None:
    assert facts('- Resistors (7x "220 Ohm"; "47 uF")') == ["- x7 47 µF ?remark-unclear"]


def test_a_part_number_agrees_if_any_of_its_figures_do() -> None:
    assert facts("C3 10uF X31CR61E106KA12") == ["C3 10 µF"]


def test_a_flat_radial_can_may_stand_in_reverse() -> None:
    assert facts("C1 10uF 50V radial 11x5") == ["C1 10 µF 50 V radial D11 H5 ?size-reversed"]
    assert facts("C1 10uF 50V radial 8x5") == ["C1 10 µF 50 V radial D8 H5"]


def test_a_heading_for_unpolarised_parts_makes_no_electrolytic_of_a_small_value() -> None:
    assert facts("### Non polarized\nC1 47nF\nC2 2.2uF") == ["C1 47 nF", "C2 2.2 µF bipolar"]
