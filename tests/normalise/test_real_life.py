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
