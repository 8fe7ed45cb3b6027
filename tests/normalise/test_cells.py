"""Cells of tables: what each holds under its header, to the last digit, and what is doubted (common practice)."""

from __future__ import annotations

import pytest

from recap.normalise.caplist import read_cap_text
from recap.normalise.columns import understand
from recap.normalise.values import plain
from tests.normalise.facts import fact, facts


def under(header: str, cell: str, value: str = "10uF", ref: str = "C1") -> str:
    """Return the facts of one row with a further column, and what the facts leave out behind a bar."""
    positions, _ = read_cap_text(f"Ref\tValue\t{header}\n{ref}\t{value}\t{cell}\n", "list.txt")
    shown = []
    for p in positions:
        further = [f"at {plain(p.operating_V)} V"] if p.operating_V is not None else []
        further += [f"{plain(p.ripple_mA)} mA"] if p.ripple_mA is not None else []
        further += [p.role.value] if p.role else []
        further += [f"({p.note})"] if p.note else []
        shown.append(" | ".join([fact(p), *further]))
    return "; ".join(shown)


@pytest.mark.parametrize(
    ("header", "cell", "expected"),
    [
        ("Value (nF)", "10", "C1 10 nF"),
        ("Value (nF)", "4.7/16", "C1 4.7 nF 16 V"),
        ("Value (nF)", "100/63V", "C1 0.1 µF 63 V"),
        ("Value (nF)", "4.7 / 63V 5%", "C1 4.7 nF 63 V"),
        ("Value (pF)", "220/63", "C1 220 pF 63 V"),
        ("Value nF / Voltage", "100/63", "C1 0.1 µF 63 V"),
        ("Value (nF/V)", "10/63", "C1 10 nF 63 V"),
        ("Cap pF/V", "220 63", "C1 220 pF 63 V ?volts-unit-missing"),
        ("Value (µF)", "105/16", "C1 105 µF 16 V ?looks-measured"),  # no code, where the header states the unit
        ("Value (nF)", "4n7/63", "C1 4.7 nF 63 V"),  # its own unit counts
        ("Value (nF)", "4.7µ/63", "C1 4.7 µF 63 V"),
        ("Value (nF)", "10uF", "C1 10 µF"),
        ("Value (nF)", "10 or 22", "C1 ? ?alternatives"),
        ("Value (nF)", "1.000", "C1 ? ?thousands-or-decimal"),
        ("Value (nF)", "10 16V", "C1 10 nF 16 V"),
        ("Value (nanofarad)", "10", "C1 10 nF"),
        ("Value (picofarads)", "10", "C1 10 pF"),
        # a list in farads, or one that has lost its µ: nothing decides
        ("Value (F)", "0.00047", "C1 ? ?prefix-missing"),
        ("Value in F", "0.5", "C1 ? ?prefix-missing"),
        ("Value (farad)", "0.00047 16V", "C1 ? 16 V ?prefix-missing"),
        ("Value (F)", "470", "C1 470 µF ?prefix-missing"),
        ("Value (F)", "470uF", "C1 470 µF"),
        ("Value", "100/63", "C1 100 µF 63 V"),
        ("Value and rating", "100/63", "C1 100 µF 63 V"),
    ],
)
def test_a_value_has_the_unit_of_its_header(header: str, cell: str, expected: str) -> None:
    assert facts(f"Ref\t{header}\nC1\t{cell}") == [expected]


@pytest.mark.parametrize(
    ("header", "cell", "a", "b"),
    [
        ("Value (nF)", "10+22", "10 nF", "22 nF"),
        ("Value (nF)", "10+22 16V", "10 nF 16 V", "22 nF 16 V"),
        ("Value (nF)", "10+22uF", "10 µF", "22 µF"),
        ("Value (µF)", "10+22", "10 µF", "22 µF"),
        ("Value (mfd.)", "10+22", "10 µF", "22 µF"),
        ("Value", "10+22", "10 µF", "22 µF"),
    ],
)
def test_so_have_the_sections_of_a_can(header: str, cell: str, a: str, b: str) -> None:
    assert facts(f"Ref\t{header}\nC1\t{cell}") == [f"C1a {a} ?can-sections", f"C1b {b} ?can-sections"]


def test_a_line_that_states_the_unit_of_all_values_goes_for_pairs_and_sections_too() -> None:
    assert facts("All values in nF\nC1 10/16\nC2 22/16") == ["C1 10 nF 16 V", "C2 22 nF 16 V"]
    assert facts("Values in pF\nRef,Value\nC1,220/500") == ["C1 220 pF 500 V"]
    assert facts("Capacitance in pF\nC1 100/500V\nC3 10+22 500V")[1:] == [
        "C3a 10 pF 500 V ?can-sections",
        "C3b 22 pF 500 V ?can-sections",
    ]


@pytest.mark.parametrize(
    ("value", "expected"),
    [
        ("?", "C1 ? ?marked-uncertain ?value-missing"),
        ("-", "C1 ? ?value-missing"),
        ("-10", "C1 10 µF ?cell-unread ?unit-missing"),
        ("10 or 22", "C1 ? ?alternatives"),
        ("10-22", "C1 ? ?alternatives"),
        ("0805", "C1 ? smd ?value-missing"),
        ("radial", "C1 ? radial ?value-missing"),
        ("film", "C1 ? film ?value-missing"),
        ("0805 / THT", "C1 ? ?value-missing | (0805 / THT)"),
        ("10uF/16V", "C1 10 µF 16 V"),
        ("foo", "C1 ? ?cell-unread ?value-missing"),
        ("10mH", "C1 ? ?cell-unread ?value-missing"),
        ("10 (22)", "C1 10 µF ?count-mismatch ?unit-missing"),
    ],
)
def test_values(value: str, expected: str) -> None:
    assert under("Note", "", value) == expected


@pytest.mark.parametrize(
    ("value", "volts", "expected"),
    [
        ("10 / 22", "50V", "C1 ? 50 V ?alternatives"),  # two values: the row's own voltage is another
        ("10 / 22", "22V", "C1 10 µF 22 V ?odd-voltage"),
        ("10uF", "?", "C1 10 µF ?marked-uncertain"),
        ("10uF", "-", "C1 10 µF"),
        ("10uF", "-16", "C1 10 µF 16 V ?cell-unread"),
        ("10uF", "16/25", "C1 10 µF ?alternatives"),
        ("10uF", "35V 105C", "C1 10 µF 35 V 105 °C"),
        ("10uF", "25 85", "C1 10 µF 25 V 85 °C"),
        ("10uF", "16V film", "C1 10 µF 16 V film"),
        ("10uF", "16V C9", "C1 10 µF 16 V"),
        ("10uF", "foo", "C1 10 µF ?cell-unread"),
        ("10uF", "5O", "C1 10 µF 50 V ?ocr-digit"),
    ],
)
def test_voltages(value: str, volts: str, expected: str) -> None:
    assert under("Voltage", volts, value) == expected


@pytest.mark.parametrize(("cell", "volts"), [("1.6", "1600"), ("2", "2000"), ("800 V", "800")])
def test_voltages_in_kilovolts(cell: str, volts: str) -> None:
    assert under("Voltage [kV]", cell) == f"C1 10 µF {volts} V"


@pytest.mark.parametrize(
    ("header", "cell", "expected"),
    [
        ("Operating voltage", "42", " | at 42 V"),
        ("Operating voltage (kV)", "1.2", " | at 1200 V"),
        ("Operating voltage (mV)", "1200", ""),
        ("Operating voltage", "24/28", " | (Operating voltage: 24/28)"),
        ("Operating voltage", "?", " | (Operating voltage: ?)"),
        ("Ripple", "500 mA", " | 500 mA"),
        ("Ripple", "1,25 A", " | 1250 mA"),
        ("Ripple", "1.250 mA", " ?thousands-or-decimal"),
        ("Ripple", "foo", " ?cell-unread"),
        ("Ripple [mA]", "500", " | 500 mA"),
        ("Ripple (A)", "1.2", " | 1200 mA"),
        ("Ripple (µA)", "500", ""),
        ("Ripple [mA]", "1.2 A", " | 1200 mA"),
        ("Temp", "85", " 85 °C"),
        ("Temp (°F)", "185", ""),  # told as a header that isn't known
        ("Temp (K)", "378", ""),
        ("Temp", "85/105", " ?alternatives"),
        ("Temp", "105 radial", " radial ?cell-unread"),
        ("Pitch [mm]", "2,5", " P2.5"),
        ("Pitch (1/10 inch)", "2", " P5.08"),
        ("Pitch mil", "200", " P5.08"),
        ("Pitch", "7.5/10", " ?cell-unread"),  # two pitches, no value with its voltage
        ("Diameter [inch]", "0.25", " D6.35"),
        ("Diameter [inch]", "1/4", " D6.35"),
        ("Diameter cm", "0.8", " D8"),
        ("Diameter (m)", "0.008", ""),
        ("Diameter (inch)", "5 mm", " D5"),
        ("Size (inch)", "0.2x0.4", " D5.08 H10.16"),
        ("Height (see drawing)", "11", " H11"),
        ("Height", "11 mm", " H11"),
        ("Height", "11 max", " ?cell-unread"),
        ("Size", "5x11", " D5 H11"),
        ("Size", "5-11", " D5 H11"),
        ("Size", "11", " ?cell-unread"),
        ("Size [mm]", "11", " ?size-unclear"),
        ("Size", "-", ""),
        ("Height x Diameter", "11x5", " D5 H11"),
        ("Package", "5x11", " D5 H11"),
        ("Package", "0805", " smd"),
        ("Package", "CP_Radial_D5.0mm_P2.00mm", " radial D5 P2"),
        ("Package", "foo", " | (foo)"),
        ("Package", "-", ""),
        ("Mount", "R", " radial"),
        ("Mount", "SMD", " smd"),
        ("Mount", "foo", " | (foo)"),
        ("Kind", "BP", " bipolar"),
        ("Safety", "x2", " safety X2"),
        ("Safety", "no", ""),
        ("Safety", "-", ""),
        ("Role", "coupling", " | coupling"),
        ("Role", "main filter", " | smoothing"),
        ("Role", "rail", " | (rail)"),
        ("Role", "-", ""),
        ("Part", "ABC-123", " | (Part: ABC-123)"),
        ("Part", "-", ""),
        ("Doubts", "volts-conflict, ocr-digit", " ?ocr-digit ?volts-conflict"),
    ],
)
def test_what_further_columns_add(header: str, cell: str, expected: str) -> None:
    assert under(header, cell) == f"C1 10 µF{expected}"


@pytest.mark.parametrize(
    ("header", "cell", "fitted"),
    [("Fitted", "yes", True), ("Fitted", "no", False), ("DNP", "yes", False), ("DNP", "no", True), ("DNP", "x", False)],
)
def test_what_is_not_fitted_is_no_part(header: str, cell: str, fitted: bool) -> None:
    assert under(header, cell) == ("C1 10 µF" if fitted else "")


@pytest.mark.parametrize(
    ("cell", "expected"),
    [
        ("1", "- 10 µF"),
        ("x2", "- x2 10 µF"),
        ("3x", "- x3 10 µF"),
        ("2 pcs", "- x2 10 µF"),
        ("2.0", "- x2 10 µF"),  # as a spreadsheet shows it
        ("1.200", "- x1200 10 µF"),
        ("1,000", "- 10 µF ?cell-unread ?ref-missing"),  # one piece, or a thousand
        ("12.000", "- 10 µF ?cell-unread ?ref-missing"),
        ("two", "- 10 µF ?cell-unread ?ref-missing"),
        ("-", "- 10 µF ?ref-missing"),
        ("0", ""),
    ],
)
def test_counts(cell: str, expected: str) -> None:
    assert under("Qty", cell, ref="") == expected


@pytest.mark.parametrize(
    ("line", "expected"),
    [
        ("2 Elkos 100µF 16V", "- x2 100 µF 16 V electrolytic"),
        ("3 capacitors 100µF 16V", "- x3 100 µF 16 V"),
        ("four 100µF 16V", "- x4 100 µF 16 V"),
        ("100µF 16V, four of", "- x4 100 µF 16 V"),
        ("half a dozen 100µF 16V", "- x6 100 µF 16 V"),
        # a number at the end is doubted: it may be a count
        ("100µF 16V - 4", "- x4 100 µF 16 V ?number-unread"),
        ("100µF 16V times 4", "- x4 100 µF 16 V ?number-unread"),
        ("100/16 - 4", "- x4 100 µF 16 V ?number-unread"),
        ("2   100pF", "- x2 100 pF"),
        ("n. 4 da 100µF", "- x4 100 µF"),
        ("3 von 10µF 16V", "- x3 10 µF 16 V"),
    ],
)
def test_counts_in_lines(line: str, expected: str) -> None:
    assert facts(line) == [expected]


@pytest.mark.parametrize(
    ("header", "field", "unit", "side"),
    [
        ("Ref. No.", "ref", None, ""),
        ("Symbol no.", "ref", None, ""),
        ("Line no.", "item", None, ""),
        ("Part No.", "part", None, ""),
        ("Order #", "part", None, ""),
        ("Qty3", "qty", None, ""),  # a footnote, or a count of boards
        ("Value and Rating", "text", None, ""),
        ("Value / Voltage / Temp", "text", None, ""),
        ("Value µF/V", "text", "µF", ""),
        ("Value, Voltage, Size, Temp", "unknown", None, ""),
        ("Size / Pitch", "unknown", None, ""),
        ("C [µF]", "value", "µF", ""),  # letter symbols of IEC 60027-1
        ("C/nF", "value", "nF", ""),
        ("U/V", "volts", "V", ""),
        ("T in °C", "temp", "°C", ""),
        ("C", "unknown", None, ""),
        ("V", "volts", "V", ""),
        ("kV", "volts", "kV", ""),
        ("Measured µF", "measured", None, ""),
        ("ESR (Ω)", "passed over", None, ""),
        ("Size (LxD)", "size reversed", None, ""),
        ("Size (DxL)", "size", None, ""),
        ("L x D", "size reversed", None, ""),
        ("Original value", "value", None, "original"),
        ("New value", "value", None, "replacement"),
        ("Replacement", "text", None, "replacement"),
        ("Old voltage", "volts", None, "original"),
        ("Value in diagram", "value", None, ""),
        ("Value (see text)", "value", None, ""),
        ("Temp (°F)", "unknown", None, ""),
    ],
)
def test_what_headers_mean(header: str, field: str, unit: str | None, side: str) -> None:
    column = understand(header, 3)
    assert (column.index, column.field, column.unit, column.side) == (3, field, unit, side)


@pytest.mark.parametrize(
    ("value", "polarity", "expected"),
    [
        ("10uF", "yes", "C1 10 µF"),
        ("10uF", "no", "C1 10 µF bipolar ?polarity-no"),  # it may only say that the part is no electrolytic
        ("10uF", "NP", "C1 10 µF bipolar"),
        ("10uF film", "no", "C1 10 µF film"),
        ("22pF", "no", "C1 22 pF"),
    ],
)
def test_polarity(value: str, polarity: str, expected: str) -> None:
    assert under("Polarity", polarity, value) == expected
