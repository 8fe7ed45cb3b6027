"""Habits of lists that are published with open designs, sold kits and repair notes: exports, shopping lists, nets.

The lines are our own; the habits are common practice of such lists, from memory.
"""

from __future__ import annotations

import pytest

from recap.normalise.caplist import read_cap_text
from tests.normalise.facts import codes, facts


@pytest.mark.parametrize(
    ("line", "expected"),
    [
        ("C1 100n SMD 1206", "C1 0.1 µF SMD"),
        ("C1 100n SMD0805", "C1 0.1 µF SMD"),
        ("C1 100n 0603", "C1 0.1 µF SMD"),
        ("C1 10uF/16V SMD (1206)", "C1 10 µF 16 V SMD"),
        ("C1 22uF 1210 X5R 10V", "C1 22 µF 10 V SMD ceramic"),
        ("C1 22uF 1206", "C1 22 µF SMD"),
        ("C1 22 1206", "C1 22 µF ?number-unread ?unit-missing"),  # by itself it may be anything
        ("C1 1206 pF 50V", "C1 1.2060 nF 50 V ?looks-measured"),
        ("C1 100n 2221 SMD", "C1 0.1 µF SMD ?number-unread"),  # no size of a chip
    ],
)
def test_the_size_of_a_chip_says_how_it_is_mounted(line: str, expected: str) -> None:
    # sizes in hundredths of an inch: EIA; common practice
    assert [fact.replace("smd", "SMD") for fact in facts(line)] == [expected]


@pytest.mark.parametrize(
    ("line", "expected"),
    [
        ("C1 820uF 6.3V 10mm Poly", "C1 820 µF 6.3 V other ?size-unclear"),
        ("C1 470uF 16V poly", "C1 470 µF 16 V other"),
        ("C1 0.1uF 63V poly", "C1 0.1 µF 63 V film"),
        ("C1 12uF 100V poly", "C1 12 µF 100 V film"),  # of a crossover
        ("C1 12uF poly", "C1 12 µF film"),
    ],
)
def test_poly_is_a_polymer_where_no_film_could_be_so_large(line: str, expected: str) -> None:
    assert facts(line) == [expected]


@pytest.mark.parametrize(
    ("line", "expected"),
    [
        ("1x crystal 32.768 kHz 12.5pF", []),
        ("1x Quarz 4 MHz 30pF", []),
        ("1x 水晶振動子 32.768KHz-12.5pF-20ppm", []),
        ("2x 22pF for the 4 MHz crystal", ["- x2 22 pF"]),
        ("2x 22pF ceramic, crystal 4 MHz", ["- x2 22 pF ceramic"]),
    ],
)
def test_the_load_of_a_crystal_is_no_capacitor(line: str, expected: list[str]) -> None:
    assert [fact for fact in facts(f"C1 100uF 16V\n{line}") if not fact.startswith("C1")] == expected


def test_shop_numbers_among_designators_are_doubted() -> None:
    listed = facts("C1 100uF 25V\nC2 10uF 16V\n0805 parts of the assembler: 100nF C49678, 1uF C28323, 22uF C45783")
    assert listed[:2] == ["C1 100 µF 25 V", "C2 10 µF 16 V"]
    assert all(fact.endswith("?ref-unread") for fact in listed[2:])
    assert facts("C1 100uF\nC12001 10uF\nC12002 22uF") == ["C1 100 µF", "C12001 10 µF", "C12002 22 µF"]


def test_a_column_of_order_codes_is_none_of_designators() -> None:
    text = "|No|Part|Kiosk|\n|-|-|-|\n|13|SMD 0.1uF 2012|P-355|\n|14|100ohm|R-6101|\n|17|TH 100uF/16V|P-5002|\n"
    assert facts(text) == ["- 0.1 µF smd", "- 100 µF 16 V"]


def test_a_column_of_prices_is_none_of_values() -> None:
    text = (
        "Quantidade;Componentes;Especificações;Valor\n1;Capacitor;470uF / 25V;R$ 0,50\n"
        "1;Fusível;1,25A 250V;R$ 0,23\n4;Diodo;1A 1000V;R$ 0,23\n"
    )
    assert facts(text) == ["- 470 µF 25 V"]


def test_what_a_library_calls_a_symbol_is_no_designator() -> None:
    positions, told = read_cap_text(
        '"Comment","Designator","Footprint","LibRef","Quantity"\n"100K","R38,R88","R0603","Res_0603","2"\n'
        '"22uF","C7","C1206","CAP_1206","1"\n',
        "bom.txt",
    )
    assert [(p.ref, p.doubts) for p in positions] == [("C7", ())]
    assert not [d for d in told if d.code == "ref-unread"]


def test_the_category_of_a_part_tells_what_it_is() -> None:
    text = "RefDes,Value,Quantity,Name,Category\n24V,,1,KK-2,Connector\nC1,470u 35V,1,CAP300,Capacitor\n"
    assert facts(text) == ["C1 470 µF 35 V"]
    assert facts("Ref,Value,Category\nC1,10uF,Aluminium electrolytic capacitors\n") == ["C1 10 µF electrolytic"]


@pytest.mark.parametrize(
    ("remark", "expected"),
    [
        ("Tension max : 400 V", "C1 10 µF 400 V"),
        ("rated 63V", "C1 10 µF 63 V"),
        ("16V max", "C1 10 µF 16 V"),
        ("400 V", "C1 10 µF 400 V"),
        ("12 V", "C1 10 µF ?rail-voltage"),  # as likely the supply's
        ("at 40 V it failed", "C1 10 µF"),
    ],
)
def test_a_remark_that_is_a_rating_is_taken_for_one(remark: str, expected: str) -> None:
    assert facts(f"Ref;Value;Comment\nC1;10 µF;{remark}\n") == [expected]


def test_a_rating_in_a_cell_stands_against_one_in_a_remark() -> None:
    assert facts("Ref;Value;Volts;Comment\nC1;10 µF;25;max 400 V\n") == ["C1 10 µF 25 V"]


def test_values_said_again_without_their_designators_are_doubted() -> None:
    text = (
        "|Description|Designator|Quantity|\n|-|-|-|\n|CAP 0.1UF 16V|C2|1|\n|CAP 100UF 6.3V|C3|1|\n|CAP 68UF|C4|1|\n\n"
        "|Footprint|Comment|\n|-|-|\n|FP-A|0.1uF 16V|\n|FP-B|100uF|\n|FP-C|68uF|\n"
    )
    assert [fact.split(" ?")[-1] for fact in facts(text) if fact.startswith("-")] == ["ref-missing"] * 3


def test_a_page_of_one_part_says_it_once() -> None:
    text = "# Electrolytic 1µF\n\n|Property|Value|\n|--|--|\n| Designator | C1 |\n| Value | 1µF |\n| Voltage | 25V |\n"
    listed = facts(text)
    assert listed[1] == "C1 1 µF 25 V"
    assert listed[0].endswith("?counted-twice")


def test_the_supply_in_a_description_is_no_second_rating() -> None:
    table = "Ref;Value;Description\nC9;1000µF 16V;Power buffer 5V\nC10;470µF 25V;Power buffer 12V\n"
    assert facts(table) == ["C9 1000 µF 16 V", "C10 470 µF 25 V"]
    other = facts("Ref;Value;Description\nC9;1000µF 16V;1000µF 10V buffer\n")
    assert other == ["C9 1000 µF 16 V ?columns-disagree"]


def test_the_nets_of_a_part_are_no_ratings() -> None:
    table = "Ref;Value;Pin to net\nC6;10µF;+3V3, GND at U2\nC8;10µF;+5V, GND at U3\n"
    assert facts(table) == ["C6 10 µF", "C8 10 µF"]


def test_no_part_is_rated_for_one_volt() -> None:
    assert facts("C2 47n 1") == ["C2 47 nF ?number-unread"]


def test_left_out_in_one_of_two_versions() -> None:
    assert facts("C6 150pF / (omit)\nC7 100pF (omit)\nC8 100uF 16V") == [
        "C6 150 pF ?fitted-sometimes",
        "C8 100 µF 16 V",
    ]


def test_a_heading_of_classes_of_parts_names_no_board() -> None:
    text = (
        "# VOX board\n\n**Capacitors, Inductors**\n\n2 10u C14, C16\n\n**Resistors**\n\n2 1K R1, R2\n\n"
        "**Capacitors and coils**\n\n1 100u C99\n"
    )
    assert facts(text) == ["C14 10 µF @ VOX board", "C16 10 µF @ VOX board", "C99 100 µF @ VOX board"]


def test_places_of_parts_in_bold_are_no_board() -> None:
    assert facts("C1 10uF 16V\n\n**GR1,GR2,GR3**\n\nC2 22uF 16V\n") == ["C1 10 µF 16 V", "C2 22 µF 16 V"]


def test_an_enumeration_goes_on_until_all_are_counted() -> None:
    text = "8 100n C1, C2, C3, C4, Kiosk# 1276-1003 x\n\nC17,C18,\n\nC19,C20\n\n2 100u C13, C15 Kiosk# 5182\n"
    refs = ["C1", "C2", "C3", "C4", "C17", "C18", "C19", "C20"]
    assert facts(text) == [*(f"{ref} 0.1 µF" for ref in refs), "C13 100 µF", "C15 100 µF"]
    assert "count-mismatch" in {code for _, code in codes(text.replace("8 100n", "7 100n"))}


@pytest.mark.parametrize(
    ("line", "expected"),
    [
        ("C1 100uF 16V Ø5mm, grid 2.5mm", "C1 100 µF 16 V D5 P2.5"),
        ("C1 47uF 25V Ø~6", "C1 47 µF 25 V D6"),
        ("C1 10uF 25V at the grid 1 of V2", "C1 10 µF 25 V"),
    ],
)
def test_sizes_said_in_other_words(line: str, expected: str) -> None:
    assert [fact.split(" ?")[0] for fact in facts(line)] == [expected]


def test_designators_of_two_letters_in_their_column() -> None:
    assert facts("Ref;Value;Volts\nCk;25uF;25\nCb;10uF;450\n") == ["Ck 25 µF 25 V", "Cb 10 µF 450 V"]


def test_a_printed_table_is_cut_where_its_headers_begin() -> None:
    text = (
        "Qty Value  Device      Package Parts\n\n"
        "3   100nF  C-EUC0805   C0805   C1, C2, C3\n"
        "1          PIN-1X2     1X02    X1\n"
        "2   10µF   ELKO-25-70  E2570   C10, C11\n"
    )
    assert [fact.split(" ?")[0].replace(" SMD", "").replace(" smd", "") for fact in facts(text)] == [
        "C1 0.1 µF",
        "C2 0.1 µF",
        "C3 0.1 µF",
        "C10 10 µF",
        "C11 10 µF",
    ]
    assert not [code for _, code in codes(text) if code in {"cell-unread", "count-mismatch", "line-unread"}]


def test_words_across_the_place_of_a_header_are_not_cut() -> None:
    text = "Ref Value Note\nC1  10uF 16V axial\nC2  1000uF 16V radial\n"
    assert facts(text) == ["C1 10 µF 16 V axial", "C2 1000 µF 16 V radial"]


def test_rows_of_buttons_plugs_and_nets_are_no_parts() -> None:
    table = (
        "Part;Value;Package\nBTNA;SKX1234;SKX\nU$1;POWER;1X06\nCAM;161-9999-EX;PCB\nMOTOR0;22-23-9999;x\n+;9V;1X01\n"
        "+5V;;pad\nC1;100u;E5\nC2;10u;E5\nC3;22u;E5\nR1;10k;E5\n"
    )
    assert facts(table) == ["C1 100 µF", "C2 10 µF", "C3 22 µF"]
    assert [code for _, code in codes(table)].count("other-part") == 6


@pytest.mark.parametrize(
    ("row", "expected"),
    [
        ("filter;100u;E5", "100 µF ?ref-missing ?ref-unread"),  # a capacitance is a capacitor's, whatever its name
        ("C4;22-23-9999;x", "C4 ?cell-unread ?value-missing"),
        ("C$5;100n;x", "C$5 0.1 µF"),
    ],
)
def test_a_name_alone_makes_no_part_another(row: str, expected: str) -> None:
    listed = facts(f"Part;Value;Package\nC1;10u;E5\n{row}\n")
    assert len(listed) == 2
    assert set(expected.split()) <= set(listed[1].split())


def test_where_a_part_stands_on_the_board_in_mm_is_no_designator() -> None:
    assert facts("Part;Value;Position (mm)\nC1;100u;(3 4.5)\nC2;10u;(3 9)\n") == ["C1 100 µF", "C2 10 µF"]


@pytest.mark.parametrize(
    ("line", "expected"),
    [
        ("C5 left of u6", "C5 ? ?value-missing"),
        ("C5 right of u6 10uF", "C5 10 µF"),
        ("C5 near U7 10u 16V", "C5 10 µF 16 V"),
        ("C5 u47 63V", "C5 0.47 µF 63 V"),
    ],
)
def test_the_neighbour_of_a_part_is_no_value(line: str, expected: str) -> None:
    assert facts(line) == [expected]


def test_what_is_installed_beside_what_the_schematic_says() -> None:
    head = "ID | Installed | Schematic | Notes\n--- | --- | --- | ---\n"
    table = head + "C1 | 1uF 50V | 1uF 50V | x\nC2 | 47uF 16V | 4.7uF 16V | x\nC3 | 22uF 16V | | x\n"
    listed = facts(table + "--- | 3.3uF 50V | | on no diagram\n")
    assert listed[0] == "C1 1 µF 50 V"
    assert listed[1].endswith("?columns-disagree")  # for the owner of the set
    assert listed[2:] == ["C3 22 µF 16 V", "- 3.3 µF 50 V ?ref-missing"]


def test_what_was_fitted_beside_the_original_took_its_place() -> None:
    table = "ID | Original | Fitted\n--- | --- | ---\nC1 | 1uF 50V | 2.2uF 63V\n"
    assert facts(table) == ["C1 1 µF 50 V"]


def test_designators_behind_what_took_the_parts_place() -> None:
    text = "- replaced the 10uF 50V electrolytics with film capacitors x2 (C203, C204)\n- C5 10uF\n"
    assert facts(text) == [
        "C203 10 µF 50 V electrolytic",
        "C204 10 µF 50 V electrolytic",
        "C5 10 µF",
    ]


def test_a_resistance_and_its_place_head_nothing() -> None:
    assert facts("C1 10p\n\n33R +R20\n\nC2 47p\n\n2K7 R17\n\nC3 10u\n") == ["C1 10 pF", "C2 47 pF", "C3 10 µF"]


@pytest.mark.parametrize("sides", [("Left amp:", "Right amp:"), ("Linker Kanal:", "Rechter Kanal:")])
def test_the_first_of_two_channels_is_no_title(sides: tuple[str, str]) -> None:
    left, right = (side.rstrip(":") for side in sides)
    listed = facts(f"{sides[0]}\nC1 10uF 16V\n\n{sides[1]}\nC1 10uF 16V\n")
    assert listed == [f"C1 10 µF 16 V @ {left}", f"C1 10 µF 16 V @ {right}"]


def test_designators_that_name_the_rail() -> None:
    text = "CIN_5V1| 22uF 50V X7R | x\nCOUT_5V3| 100uF 16V | y\n"
    assert [fact.split()[0] for fact in facts(text)] == ["CIN_5V1", "COUT_5V3"]
    assert [fact.split()[0] for fact in facts("Ref;Value\nCIN_5V1;10uF\nC9;22uF\n")] == ["CIN_5V1", "C9"]
    assert "ref-unread" in {code for _, code in codes("Ref;Value\nCASE_A;10uF\nC9;22uF\n")}


def test_the_side_of_the_board_is_no_board() -> None:
    table = "Ref;Value;Location\nC1;10uF;Top\nC2;22uF;Bottom left\n"
    assert facts(table) == ["C1 10 µF", "C2 22 µF"]
    assert facts(table.replace("Top", "PSU")) == ["C1 10 µF @ PSU", "C2 22 µF @ Bottom left"]


def test_further_voltages_of_one_value() -> None:
    assert facts("10uF: 16V C1, C2; 25V C3") == ["C1 10 µF 16 V", "C2 10 µF 16 V", "C3 10 µF 25 V"]
    mixed = facts("10uF C1 16V; 25V C3 22uF")
    assert all("?" in fact for fact in mixed)


def test_a_voltage_that_was_misread_is_said() -> None:
    assert facts("C1 10uF A0 V") == ["C1 10 µF ?number-unread"]
    assert facts("C1 10uF X7R") == ["C1 10 µF ceramic"]


@pytest.mark.parametrize("day", ["2008/10/14 12:01", "3/28/13 10:46 AM", "02.02.2014 15:29:42"])
def test_the_day_of_an_export_is_no_part(day: str) -> None:
    text = f"Partlist exported from board.sch at {day}\nC1 10uF 16V\n"
    assert facts(text) == ["C1 10 µF 16 V"]
    assert "prose-names-part" not in {code for _, code in codes(text)}


def test_codes_of_a_shop_beside_designators() -> None:
    table = "Qty;Description;Order code;Where\n2;Elko 470uF 35V;C-4711;C1, C2\n1;Elko 10uF 63V;C-4702;C7\n"
    assert facts(table) == [
        "C1 470 µF 35 V electrolytic",
        "C2 470 µF 35 V electrolytic",
        "C7 10 µF 63 V electrolytic",
    ]
    alone = facts("Part;Value\nC1001;470uF 35V\nC1002;10uF 63V\n")  # designators of a large set
    assert alone == ["C1001 470 µF 35 V", "C1002 10 µF 63 V"]


@pytest.mark.parametrize("row", ["Y1;crystal 12MHz 20pF;HC49", "Y1;晶振 12MHz 20pF;HC49", "CAM;161-9999-EX;PCB"])
def test_a_crystal_and_its_load_in_a_table(row: str) -> None:
    table = f"Ref;Value;Package\nC1;10u;E5\n{row}\nC2;22u;E5\n"
    assert facts(table) == ["C1 10 µF", "C2 22 µF"]
    assert "other-part" in {code for _, code in codes(table)}


@pytest.mark.parametrize("package", ["7343-31", "CASE-A_3216", "SMC_B", "TANT_C", "3528-21"])
def test_moulded_cases(package: str) -> None:
    # metric codes of moulded tantalum chips: EIA-535BAAC, from memory
    listed = facts(f"Ref;Value;Package\nC1;10uF 16V;{package}\nC2;1u;x\n")
    assert listed[0].replace("smd", "SMD") == "C1 10 µF 16 V SMD"


def test_bars_in_front_of_rows_under_a_header_without() -> None:
    table = "Refs | Valor | Uds\n-----|-----|-----\n| R1, R2 | 4.7 k | 2\n| C3, C4 | 33 uF 50V | 2\nC1 | 100 nF | 1\n"
    assert facts(table) == ["C3 33 µF 50 V", "C4 33 µF 50 V", "C1 0.1 µF"]
    blank = facts("Ref | Value\n---|---\n| 33 uF 50V\nC1 | 100 nF\n")  # a blank cell, no further one
    assert set(blank) == {"- 33 µF 50 V", "C1 0.1 µF"}


def test_counted_parts_printed_bold_end_no_board() -> None:
    text = (
        "# OX\n\n**VOX board**\n\n**12 KX-156 AR1,AR2,AR3,AR4, Kiosk #26-48-1031 x**\n\n"
        "**CR1,CR2,CR3,**\n\n**Capacitors**\n\n2 10u C14, C16\n"
    )
    assert facts(text) == ["C14 10 µF @ VOX board", "C16 10 µF @ VOX board"]


def test_the_name_of_a_supply_is_no_designator() -> None:
    table = "Ref;Part;Remark\n12V;power jack;5.5mm\n5V;male header - 4 pins;2.54mm\nC1;10uF 16V;x\nC2;22uF 16V;x\n"
    assert facts(table) == ["C1 10 µF 16 V", "C2 22 µF 16 V"]
    kept = facts("Ref;Part\n5V;100uF 16V\nC2;22uF 16V\n")
    assert kept[0] == "- 100 µF 16 V ?ref-missing ?ref-unread"


def test_how_parts_are_turned_are_no_designators() -> None:
    table = (
        "Part;Value;Position (mm);Orientation\n+;9V;(6 15);R90\nC1+;220µF;(4 11);R180\nC2;470nF;(3 19);R90\n"
        "OPX21;DUAL;(2 7);R180\nR3;1k;(4 20);R0\nU$1;pot;(2 4);R0\n"
    )
    assert facts(table) == ["C1 220 µF", "C2 0.47 µF"]


def test_shop_numbers_alone_have_no_neighbours() -> None:
    shop = "100nF C49671\n1uF C28323\n22uF C45783\n10uF C17408\n47uF C17530\n"
    assert all("?ref-unread" in fact for fact in facts(shop))
    board = "".join(f"1uF C{number}\n" for number in (10001, 10004, 10012, 20003, 20007, 30001))
    assert not any("?" in fact for fact in facts(board))


def test_an_electrolytics_letter_in_brackets() -> None:
    assert facts("1000uF 16V (E102)\n10uF 50V (E103)") == ["E102 1000 µF 16 V", "E103 10 µF 50 V"]
    assert facts("47uF 16V (E12)") == ["- 47 µF 16 V"]  # a series of values, IEC 60063
