"""Writings of numbers with all that is read from them: value, doubts, and the readings between which nothing decides.

A doubt is no help where the readings beside it are wrong: who answers it picks one of them. The writings are common
practice where no source stands beside them.
"""

from __future__ import annotations

from decimal import Decimal
from typing import TYPE_CHECKING

import pytest

from recap.normalise.preferred import is_rated_voltage, looks_measured
from recap.normalise.quantities import current_mA, resistance_ohm, temperature_C
from recap.normalise.values import capacitance, capacitance_and_voltage, plain, sections, voltage
from tests.normalise.facts import facts

if TYPE_CHECKING:
    from recap.normalise.reading import Reading


def said(found: Reading | None) -> str:
    """``4.7 ?doubt [4.7 4700]``: the value, the doubts, the readings; ``-`` where the text is no such quantity."""
    if found is None:
        return "-"
    parts = ["none" if found.value is None else plain(found.value), *(f"?{doubt}" for doubt in found.doubts)]
    return " ".join([*parts, *([f"[{' '.join(map(plain, found.readings))}]"] if found.readings else [])])


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("475N", "none ?three-digit-code [4.7 0.475]"),  # 47 and five zeros of pF, ±30 % (IEC 60062); or 475 nF
        ("104P", "none ?three-digit-code [0.1 0.000104]"),
        ("450", "450 ?unit-missing ?no-preferred-value [450 45 0.000045]"),
        ("4.7?F", "4.7 ?prefix-missing"),  # a letter was there and is lost: a farad sign alone would be 4.7 F
        ("4.7F", "none ?prefix-missing [4.7 4700000]"),
        ("22F", "22 ?prefix-missing"),
        ("1.250m", "-"),
        ("100m", "none ?milli-or-micro [100 100000]"),
        ("1.250nF", "none ?thousands-or-decimal [0.00125 1.25]"),
        ("1.250 uF", "none ?thousands-or-decimal [1.25 1250]"),
        ("10 kµF", "10000"),  # old power supplies
        ("10 k", "-"),
        ("10 knF", "-"),
        ("254u7", "254.7 ?looks-measured"),  # a letter code of four figures
        ("33u2", "33.2"),
    ],
)
def test_capacitances(text: str, expected: str) -> None:
    assert said(capacitance(text)) == expected


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("1/2 nF", "none ?alternatives [0.001 0.002]"),  # the unit behind the last is that of all
        ("22 / 47 / 100 pF", "none ?alternatives [0.000022 0.000047 0.0001]"),
        ("1 or 2.2 or 3.3 or 4.7 uF", "none ?alternatives [1 2.2 3.3 4.7]"),
        ("1 or 2.2 or 3.3 or 4.7 or 10 uF", "-"),  # five are a list
        ("1000uF/4u7", "none ?alternatives [1000 4.7]"),
        ("4u7 to 4R7uF", "4.7"),
        ("4u7 / 25", "-"),  # the last has no unit
        ("250uF/l6V", "-"),
        ("1.250 / 250 mF", "-"),
    ],
)
def test_several_capacitances(text: str, expected: str) -> None:
    assert said(capacitance(text)) == expected


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("25/50", "none ?alternatives [25 50]"),
        ("5O", "50 ?ocr-digit"),  # a letter O from a scanner, in a column of voltages
        ("l6", "16 ?ocr-digit"),
        ("1.600 kV", "none ?thousands-or-decimal [1600 1600000]"),
        ("16 / 1.250", "-"),
        ("0.25", "0.25 ?odd-voltage"),  # no part is rated below a volt
        ("1", "1"),
    ],
)
def test_voltages_in_a_column_of_them(text: str, expected: str) -> None:
    assert said(voltage(text, bare=True)) == expected


def test_a_bare_number_outside_such_a_column_is_no_voltage() -> None:
    assert [said(voltage(text)) for text in ("25/50", "5O", "16")] == ["-", "-", "-"]
    assert said(voltage("25/50 V")) == "none ?alternatives [25 50]"


@pytest.mark.parametrize(
    ("text", "value", "volts"),
    [
        ("4.7 VDC 100 pF", "0.0001", "4.7 ?odd-voltage"),
        ("22F/16V", "22 ?prefix-missing", "16"),
        ("475/16V", "4.7", "16"),  # a code in pF, not 475 µF
        ("25m/100V", "none ?milli-or-micro [25 25000]", "100"),
        ("1.600/100", "none ?thousands-or-decimal [1.6 1600]", "100"),
        ("4u7 25/50 V", "4.7", "none ?alternatives [25 50]"),
        ("50/50", "50 ?pair-or-sections", "50"),
        ("220 u/220 V", "220", "220"),  # with units there is nothing to doubt
        ("l0/16V", "10 ?ocr-digit", "16"),
    ],
)
def test_pairs(text: str, value: str, volts: str) -> None:
    found = capacitance_and_voltage(text)
    assert found is not None
    assert (said(found[0]), said(found[1])) == (value, volts)


@pytest.mark.parametrize("text", ["l0/16", "25/50V", "40/100V", "1206/3216"])
def test_no_pairs(text: str) -> None:
    """Letters for figures with no unit at all; two ratings up to 2.5 apart; a chip's size in inches and in mm."""
    assert capacitance_and_voltage(text) is None


def test_two_ratings_lie_near_to_each_other() -> None:
    """``40/100V``: 40 is in no E series and 2.5 times is the farthest; ``40/160V`` is 40 µF of the valve years."""
    found = capacitance_and_voltage("40/160V")
    assert found is not None
    assert (said(found[0]), said(found[1])) == ("40", "160")
    same = capacitance_and_voltage("50/50V")
    assert same is not None
    assert (said(same[0]), said(same[1])) == ("50", "50")


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("10+100", "10 100"),
        ("10+1 nF", "0.01 0.001"),  # the unit behind the last is that of all
        ("32-32", None),  # two without a unit: a range
        ("32/32", None),
        ("32/32/32", "32 32 32"),
        ("32-32-32", None),
        ("32/32 uF", "32 32"),
        ("32-32 uF", "32 32"),
        ("0.1uF/100nF", None),  # one value, written twice
        ("32uF/32uF", "32 32"),
        ("0.1uF+100nF", "0.1 0.1"),
        ("1+1/2+1/4 uF", None),
        ("0+50", None),
        ("0.5+1 uF", "0.5 1"),
        ("7F+10", None),
        ("8+8+8+8+8+8 uF", "8 8 8 8 8 8"),
        ("8+8+8+8+8+8+8 uF", None),
        ("8++8 uF", None),
    ],
)
def test_sections_of_one_can(text: str, expected: str | None) -> None:
    found = sections(text)
    assert (None if found is None else " ".join(map(plain, found))) == expected


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("85/105 °C", "none ?alternatives [85 105]"),
        ("+85/+105 °C", "none ?alternatives [85 105]"),
        ("+85/105°C", "none ?alternatives [85 105]"),
        ("-40/+85 °C", "85"),  # the category temperatures of IEC 60384-1: lower and upper
        ("±40/105C", "105"),
    ],
)
def test_of_two_temperatures_one_below_zero_makes_a_range(text: str, expected: str) -> None:
    assert said(temperature_C(text)) == expected


@pytest.mark.parametrize(
    ("text", "expected"),
    [("R12", "0.12"), ("0R12", "0.12"), ("1R5", "1.5"), ("12R5", "12.5"), ("45 mΩ", "0.045"), ("1,2 kOhm", "1200")],
)
def test_resistances(text: str, expected: str) -> None:
    assert said(resistance_ohm(text)) == expected


@pytest.mark.parametrize(
    ("text", "expected"),
    [("250 µA", "0.25"), ("250 uA", "0.25"), ("1.250 µA", "none ?thousands-or-decimal [0.00125 1.25]")],
)
def test_small_currents(text: str, expected: str) -> None:
    assert said(current_mA(text)) == expected


def test_close_tolerances_end_at_a_microfarad() -> None:
    """E96 (IEC 60063) is made up to 1 µF; above it 1.02 was measured (common practice)."""
    measured = [looks_measured(Decimal(value)) for value in ("0.102", "1.02", "1.2", "102")]
    assert measured == [False, True, False, True]


def test_fives_of_volts_end_at_a_hundred() -> None:
    """Ratings go by 5 V up to 100 V and by 10 or 25 V above (common practice)."""
    rated = [is_rated_voltage(Decimal(volts)) for volts in ("95", "100", "105", "115", "110")]
    assert rated == [True, True, False, False, True]


BOARD = "C1 10uF 16V\nC2 10uF 25V film\nC3 10uF 25V\nC4 22uF\nC5 10uF 85C smd\n"


@pytest.mark.parametrize(
    ("said_of_all", "c1", "c2", "c3", "c5"),
    [
        ("radial 105C", "16 V 105 °C radial", "25 V 105 °C radial film", "25 V 105 °C radial", "85 °C smd"),
        ("63V", "16 V", "25 V film", "25 V", "63 V 85 °C smd"),
        ("electrolytic", "16 V electrolytic", "25 V film", "25 V electrolytic", "85 °C smd electrolytic"),
    ],
)
def test_what_is_said_of_all_of_a_value_adds_to_what_each_states(
    said_of_all: str, c1: str, c2: str, c3: str, c5: str
) -> None:
    parts = [f"C1 10 µF {c1}", f"C2 10 µF {c2}", f"C3 10 µF {c3}", "C4 22 µF", f"C5 10 µF {c5}"]
    assert facts(f"{BOARD}All 10uF are {said_of_all}") == parts


def test_what_is_said_of_a_value_and_a_voltage_is_of_those_only() -> None:
    found = facts(f"{BOARD}All 10uF 25V are 105C")
    assert [fact for fact in found if "105" in fact] == ["C2 10 µF 25 V 105 °C film", "C3 10 µF 25 V 105 °C"]


@pytest.mark.parametrize(
    "remark",
    [
        "10uF are bipolar",  # not said of all
        "The 10uF 16V 25V are bipolar",
        "All 10uF 22uF are bipolar",
        "All 10uF C7 are bipolar",
        "All 10uF are 63V 105C 85C",
        "All 10uF are bipolar but not these",
        "All 10uF are",
    ],
)
def test_a_remark_that_says_more_or_less_is_laid_on_nothing(remark: str) -> None:
    assert facts(BOARD + remark)[:5] == facts(BOARD)


def test_of_two_rules_the_later_adds_what_the_former_left_open() -> None:
    rules = "All 10uF are 105C\nAll 10uF are 85C\nAll 10uF are smd\n"
    assert facts("C1 10uF\n" + rules) == ["C1 10 µF 105 °C smd"]


@pytest.mark.parametrize(
    ("line", "expected"),
    [
        ("C4 4.7 µF 63 -", "C4 4.7 µF 63 V ?volts-unit-missing"),  # a dash leaves the next place empty
        ("C4 47µF 16V 85 -", "C4 47 µF 16 V 85 °C"),
        ("4 x 330u 6.3V", "- x4 330 µF 6.3 V"),
        ("10 x 47/25", "- x10 47 µF 25 V"),
        ("2.2uf 50V NP, qty 6", "- x6 2.2 µF 50 V bipolar"),
        ("4u7 4pcs", "- x4 4.7 µF"),
        ("C4 50uF, 4pcs", "C4 50 µF ?count-mismatch"),
        ("C4 22OuF l0V", "C4 220 µF 10 V ?ocr-digit"),
        ("C4 22uF l0V 50V", "C4 22 µF ?ocr-digit ?volts-conflict"),
        ("C401 100uF 10V, was leaking, R455, all good", "C401 100 µF 10 V"),
        ("C17 Capacitor, ceramic disc, .01 MFD, 1400 WV     C14-103", "C17 10 nF 1400 V ceramic"),
    ],
)
def test_numbers_in_lines(line: str, expected: str) -> None:
    assert facts(line) == [expected]
