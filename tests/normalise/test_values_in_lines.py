"""Values inside list lines: what the whole reader makes of the writings of ``recap.normalise.values``."""

from __future__ import annotations

from decimal import Decimal

import pytest

from recap.normalise.caplist import read_cap_text
from tests.normalise.facts import facts


def read(line: str) -> list[tuple[Decimal | None, Decimal | None, tuple[str, ...]]]:
    positions, _ = read_cap_text(f"PSU board\n{line}\n", "list.txt")
    return [(position.value_uF, position.volts, position.doubts) for position in positions]


@pytest.mark.parametrize(
    ("line", "microfarads", "volts"),
    [
        ("C1 475 16V", "4.7", "16"),
        ("C2 104 50V", "0.1", "50"),
        ("C4 100/16", "100", "16"),
        ("C5 10,000uF 25V", "10000", "25"),
        ("C10 R47 50V", "0.47", "50"),
        ("C10 0R47 50V", "0.47", "50"),
        ("C11 4n7 400V", "0.0047", "400"),
        ("C11 4n7J 400V", "0.0047", "400"),
        ("C12 0.047 400V", "0.047", "400"),
        ("C13 8 mfd 450 WVDC", "8", "450"),
        ("C13 8µF 450 VDCW", "8", "450"),
        ("C14 500 mmf 1kV", "0.0005", "1000"),
        ("C15 1000u 6v3", "1000", "6.3"),
        ("C15 6v3 1000u", "1000", "6.3"),
        ("C16 2V5 470uF", "470", "2.5"),
        ("C20 1m0 16V", "1000", "16"),
        ("C23 473J 630V", "0.047", "630"),
        ("C29 .1/400", "0.1", "400"),
        ("C32 4,7µF/63V", "4.7", "63"),
        ("C33 100/16/105", "100", "16"),
        ("C34 1000/6.3", "1000", "6.3"),
        ("C36 0.22 M.F.D. 600V", "0.22", "600"),
        ("C38 10uF/16", "10", "16"),
        ("C41 33µ2 100V", "33.2", "100"),
        ("C43 100 µF, 16 V, 105°C", "100", "16"),
    ],
)
def test_plain_lines_are_read_without_doubt(line: str, microfarads: str, volts: str) -> None:
    # common practice
    assert read(line) == [(Decimal(microfarads), Decimal(volts), ())]


@pytest.mark.parametrize(
    ("line", "microfarads", "volts", "doubt"),
    [
        ("C3 220 16V", "220", "16", "unit-missing"),
        ("C6 1.000uF 25V", None, "25", "thousands-or-decimal"),
        ("C7 l00uF 2SV", "100", "25", "ocr-digit"),
        ("C8 47-100uF 25V", None, "25", "alternatives"),
        ("C9 25/50 V 10uF", "10", None, "alternatives"),
        ("C27 10µF 10V or 16V?", "10", None, "alternatives"),
        ("C26 102 1kV", "0.001", "1000", "three-digit-code"),
        ("C18 178.3 nF 63V", "0.1783", "63", "looks-measured"),
        ("C39 46uF 16V", "46", "16", "no-preferred-value"),
        ("C40 47uF 61V", "47", "61", "odd-voltage"),
        ("C22 47F 25V", "47", "25", "prefix-missing"),
        ("C46 0.1F 5.5V", None, "5.5", "prefix-missing"),
        ("C44 ~47uF 25V", "47", "25", "marked-uncertain"),
        ("C45 47uF 25V?", "47", "25", "marked-uncertain"),
    ],
)
def test_doubtful_lines_carry_their_doubt(line: str, microfarads: str | None, volts: str | None, doubt: str) -> None:
    ((value, rated, doubts),) = read(line)
    assert value == (None if microfarads is None else Decimal(microfarads))
    assert rated == (None if volts is None else Decimal(volts))
    assert doubt in doubts


def test_sections_become_positions() -> None:
    # common practice: a can of several sections is one position for each
    assert [(value, volts) for value, volts, _ in read("C16 50+30µF 350V")] == [
        (Decimal(50), Decimal(350)),
        (Decimal(30), Decimal(350)),
    ]


@pytest.mark.parametrize(
    ("line", "expected"),
    [
        ("C196+C197, 0,47MF @ 10VDC", ["C196 0.47 µF 10 V", "C197 0.47 µF 10 V"]),
        ("C93/0,47MF - 35V", ["C93 0.47 µF 35 V"]),
        ("C1, 4,7/50", ["C1 4.7 µF 50 V"]),
        ("C48, 35 volts, 330u", ["C48 330 µF 35 V"]),
        ("C66 / 400 volts / 470uF", ["C66 470 µF 400 V"]),
        ("C6 - 10 volts – 1UF", ["C6 1 µF 10 V"]),
        ("220µF 160V C82, C83 / 5000h", ["C82 220 µF 160 V", "C83 220 µF 160 V"]),
        ("470 mF 250v C18 -40..105°C", ["C18 470 µF 250 V 105 °C"]),
        ("4700UF 50V C28, 12/2021", ["C28 4700 µF 50 V"]),
        ("2200uF/16 V C41 / 85 C", ["C41 2200 µF 16 V 85 °C"]),
        ("3.3µF 25V C36 / 2021", ["C36 3.3 µF 25 V ?number-unread"]),
        ("C30 / cap 0,47 uF / 25v", ["C30 0.47 µF 25 V"]),
        ("C95; cap 450V 1 µF", ["C95 1 µF 450 V"]),
        ("330 uF: cap 250 VDC - C87", ["C87 330 µF 250 V"]),
        ("12x 400V 330MF", ["- x12 330 µF 400 V"]),
        ("9 x 63 VDC @ 0,47u", ["- x9 0.47 µF 63 V"]),
        ("330u 6.3v x8, old", ["- x8 330 µF 6.3 V"]),
        ("2× 3,3µ / 250 VDC, Q5 side", ["- x2 3.3 µF 250 V"]),
    ],
)
def test_what_stands_beside_designators_is_none_of_them(line: str, expected: list[str]) -> None:
    """A decimal comma, a voltage in words, a life, a date: each was once taken for a further designator."""
    assert facts(line) == expected


def test_a_voltage_that_opens_lines_is_no_designator() -> None:
    assert facts("250 V 220 µF\n400 V 47 µF\n160 V 10 µF") == ["- 220 µF 250 V", "- 47 µF 400 V", "- 10 µF 160 V"]


@pytest.mark.parametrize(
    ("written", "temp"),
    [
        ("-40..105", 105),
        ("-40...+85C", 85),
        ("-55/+125", 125),
        ("-40/85°", 85),
        ("-40 to 105", 105),
        ("-40-105C", 105),
        ("-20/+80%", None),
    ],
)
def test_of_a_range_of_temperatures_the_upper_end_counts(written: str, temp: int | None) -> None:
    """Data sheets state a category temperature range (IEC 60384-1, from memory); -20/+80 % is a tolerance."""
    (found,), _ = read_cap_text(f"C1 10uF 16V {written}\n", "list")
    assert (found.value_uF, found.volts, found.temp_C, found.doubts) == (10, 16, temp, ())


@pytest.mark.parametrize("name", ["KX100/16", "B100/16"])
def test_a_pair_of_numbers_that_hangs_on_letters_is_a_name(name: str) -> None:
    (found,), _ = read_cap_text(f"C1 {name}\n", "list")
    assert (found.value_uF, found.volts, found.doubts) == (None, None, ("value-missing",))


@pytest.mark.parametrize(
    ("line", "value", "doubts"),
    [
        ("C2,1,10uF,50V", None, ["alternatives"]), ("C2,2,47uF", None, ["alternatives"]),
        ("C2,4,7uF,16V", "4.7", []), ("C2, 1,10uF, 50V", "1.10", []), ("C2,0,47uF,16V", "0.47", []),
    ],
)  # fmt: skip
def test_a_comma_among_commas_may_part_cells(line: str, value: str | None, doubts: list[str]) -> None:
    """1 piece of 10 µF or 1.10 µF: what stands behind the comma is a value of E12 (IEC 60063) by itself."""
    (position,), _ = read_cap_text(line, "list.txt")
    assert (position.value_uF, list(position.doubts)) == (value and Decimal(value), doubts)
