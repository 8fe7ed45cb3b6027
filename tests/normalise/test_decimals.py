"""Numbers as people type them: which mark is the decimal point, what groups thousands, and where nothing decides.

ISO 80000-1 (from memory): the decimal sign is a point or a comma, and groups of three are set apart by a small space,
by neither of them; lists group by point, comma and apostrophe all the same (common practice).
"""

from __future__ import annotations

from decimal import Decimal

import pytest

from recap.normalise.decimals import Number, misread_number, number, tidy, without_exponent
from recap.normalise.values import capacitance, capacitance_and_voltage, plain, sections, voltage


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("47", "47"),
        ("4.7", "4.7"),
        ("4,7", "4.7"),
        (".47", "0.47"),
        (",47", "0.47"),
        ("47.", "47"),
        ("0.100", "0.100"),
        ("0,100", "0.100"),
        ("10,000", "10000"),
        ("1,234,567", "1234567"),
        ("1,234.5", "1234.5"),
        ("1.234,5", "1234.5"),
        ("1.234.567", "1234567"),
        ("1 000", "1000"),
        ("1 234 567", "1234567"),
        ("1'000", "1000"),
        ("1'234,5", "1234.5"),
        ("  47 ", "47"),
        ("123456789012345678901234", "123456789012345678901234"),
    ],
)
def test_numbers(text: str, value: str) -> None:
    assert number(text) == Number(Decimal(value))


@pytest.mark.parametrize(
    ("text", "value", "doubt", "readings"),
    [
        ("1.000", None, "thousands-or-decimal", "1.000 1000"),
        ("2.200", None, "thousands-or-decimal", "2.200 2200"),
        ("2 200", "2200", "count-or-thousands", "2200 200"),
        ("2 200,5", "2200.5", "count-or-thousands", "2200.5 200.5"),
    ],
)
def test_numbers_of_two_readings(text: str, value: str | None, doubt: str, readings: str) -> None:
    expected = None if value is None else Decimal(value)
    assert number(text) == Number(expected, (doubt,), tuple(map(Decimal, readings.split())))


@pytest.mark.parametrize(
    "text",
    ["", ".", ",", "4,7,2", "1.2.3", "12 34", "1 00", "-47", "4e3", "1,23.4", "47k", "1234567890123456789012345"],
)
def test_what_is_no_number(text: str) -> None:
    assert number(text) is None


@pytest.mark.parametrize(
    ("text", "value"),
    [("l00", "100"), ("47O", "470"), ("2Z0", "220"), ("S6", "56"), ("B2", "82"), ("I0", "10"), ("9|", "91")],
)
def test_letters_that_a_scanner_gives_for_digits(text: str, value: str) -> None:
    # common practice
    assert misread_number(text) == Number(Decimal(value), ("ocr-digit",))


def test_a_misread_number_keeps_its_other_doubts() -> None:
    found = misread_number("2 2OO")
    assert found == Number(Decimal(2200), ("count-or-thousands", "ocr-digit"), (Decimal(2200), Decimal(200)))


@pytest.mark.parametrize("text", ["100", "lOO", "SO", "l.OOO", "4x7", ""])
def test_without_a_true_digit_or_a_misread_one_nothing_was_misread(text: str) -> None:
    assert misread_number(text) is None


@pytest.mark.parametrize(
    ("text", "tidied"),
    [
        ("！４７～", "!47~"),  # the first and the last of the full-width forms
        ("4·7 \u03bcF", "4.7 \u00b5F"),
        ("47 \u338c", "47 \u00b5F"),
        ("1\u20441", "1/1"),
        ("\u22124\u00a0\u2009V\u200b ", "-4 V"),
        ("4.7 &micro;F \u00c2\u00b5", "4.7 \u00b5F \u00b5"),
    ],
)
def test_look_alikes_become_one_character(text: str, tidied: str) -> None:
    assert tidy(text) == tidied


def test_text_of_eighty_letters_is_read_and_no_longer_one() -> None:
    for blanks, read in ((75, True), (76, False)):
        assert (capacitance("4.7" + " " * blanks + "uF") is not None) is read
        assert (voltage("16 " + " " * blanks + "V ") is not None) is read
        assert (sections("8+8" + " " * blanks + "uF") is not None) is read
        assert (capacitance_and_voltage("4u7" + " " * (blanks - 1) + "16V") is not None) is read


@pytest.mark.parametrize(
    ("value", "written"),
    [
        ("1.234", "1.2340"),
        ("12.345", "12.3450"),
        ("123.456", "123.4560"),
        ("1234.567", "1234.567"),
        ("0.123", "0.123"),
        ("1.23", "1.23"),
        ("4.70", "4.7"),
        ("1E+3", "1000"),
    ],
)
def test_no_number_is_written_so_that_its_decimals_read_as_thousands(value: str, written: str) -> None:
    assert plain(Decimal(value)) == written
    assert number(written) == Number(Decimal(value))


@pytest.mark.parametrize(
    ("text", "written_out"),
    [
        ("2.20E+03", "2200"),
        ("4,70E+00", "4.7"),
        ("1E+05 h", "100000 h"),
        ("C1 2.2E+02 uF 2.50E+01V", "C1 220 uF 25V"),
        ("4.70E-05 F", "4.70E-05 F"),
        ("1E3", "1E3"),
        ("47E", "47E"),
        ("10E-25", "10E-25"),
        ("2E-3.5", "2E-3.5"),
        ("C2E-3", "C2E-3"),
        ("KX-4E-05A", "KX-4E-05A"),
    ],
)
def test_numbers_with_an_exponent_are_written_out(text: str, written_out: str) -> None:
    """As spreadsheets show large and small numbers (ECMA-376, format 0.00E+00); codes that look alike stay."""
    assert without_exponent(text) == written_out
