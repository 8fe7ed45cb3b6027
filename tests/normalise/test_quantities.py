"""Sizes, temperatures, hours, currents, ohms and tolerances as lists and catalogues write them."""

from __future__ import annotations

import time
from decimal import Decimal
from typing import TYPE_CHECKING

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from recap.normalise.quantities import (
    current_mA,
    hours,
    length_mm,
    resistance_ohm,
    temperature_C,
    tolerance_percent,
)

if TYPE_CHECKING:
    from collections.abc import Callable

    from recap.normalise.reading import Reading

    Reader = Callable[..., Reading | None]

READERS: tuple[Reader, ...] = (length_mm, temperature_C, hours, current_mA, resistance_ohm)


@pytest.mark.parametrize(
    ("text", "mm"),
    [
        ("7,5 mm", "7.5"),
        ("7.50mm", "7.5"),
        ("12.500 mm", "12.5"),  # no size has thousands of millimetres
        ("12,500mm", "12.5"),
        ("1 cm", "10"),
        ('0.3"', "7.62"),  # 1 inch is 25.4 mm exactly (ISO 31-1, from memory)
        (".2 in", "5.08"),
        ("200 mil", "5.08"),
        ("200mils", "5.08"),
        ("3/8 in", "9.525"),
        ('1 3/8"', "34.925"),
        ("1-3/8 inch", "34.925"),
        ("0,2 Zoll", "5.08"),
    ],
)
def test_lengths(text: str, mm: str) -> None:
    found = length_mm(text)
    assert found is not None
    assert (found.value, found.doubts) == (Decimal(mm), ())


@pytest.mark.parametrize(
    ("text", "degrees"),
    [
        ("105C", 105),
        ("85°", 85),
        ("105 °C", 105),
        ("105℃", 105),
        ("105º C", 105),
        ("85 deg C", 85),
        ("130 degrees", 130),
        ("-40~105°C", 105),
        ("-55/125 °C", 125),
        ("-40 to +85°C", 85),
        ("-25…85C", 85),
    ],
)
def test_temperatures(text: str, degrees: int) -> None:
    found = temperature_C(text)
    assert found is not None
    assert (found.value, found.doubts) == (Decimal(degrees), ())


def test_two_temperatures_are_none() -> None:
    found = temperature_C("85/105°C")
    assert found is not None
    assert (found.value, found.doubts, found.readings) == (None, ("alternatives",), (Decimal(85), Decimal(105)))


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("2000 h", 2000),
        ("5,000 hrs", 5000),
        ("2.000 Std", 2000),
        ("10 000h", 10000),
        ("2000h @ 105°C", 2000),
        ("5kh", 5000),
        ("3000 hours at 105 C", 3000),
    ],
)
def test_hours(text: str, value: int) -> None:
    found = hours(text)
    assert found is not None
    assert (found.value, found.doubts) == (Decimal(value), ())


@pytest.mark.parametrize(
    ("text", "milliamperes"),
    [("780mA", "780"), ("1,250 mA", "1250"), ("1.25 A", "1250"), ("1.250A", "1250"), ("780 mA rms", "780")],
)
def test_ripple_currents(text: str, milliamperes: str) -> None:
    found = current_mA(text)
    assert found is not None
    assert (found.value, found.doubts) == (Decimal(milliamperes), ())


def test_a_ripple_current_with_a_point_before_three_digits_is_unclear() -> None:
    found = current_mA("1.250 mA")
    assert found is not None
    assert (found.value, found.doubts) == (None, ("thousands-or-decimal",))


@pytest.mark.parametrize(
    ("text", "ohms"),
    [
        ("0.12 Ω", "0.12"),
        ("0.12Ω", "0.12"),
        ("120 mΩ", "0.12"),
        ("0R12", "0.12"),
        ("R12", "0.12"),
        ("0,025 Ohm", "0.025"),
        ("1.5 kOhm", "1500"),
    ],
)
def test_impedances(text: str, ohms: str) -> None:
    found = resistance_ohm(text)
    assert found is not None
    assert (found.value, found.doubts) == (Decimal(ohms), ())


@pytest.mark.parametrize(
    ("text", "low", "high"),
    [
        ("±20 %", -20, 20),
        ("20%", -20, 20),
        ("+/-10%", -10, 10),
        ("-10/+50%", -10, 50),
        ("+80-20%", -20, 80),
        ("-10...+30 %", -10, 30),
    ],
)
def test_tolerances(text: str, low: int, high: int) -> None:
    assert tolerance_percent(text) == (Decimal(low), Decimal(high))


@pytest.mark.parametrize("read", READERS)
@pytest.mark.parametrize("text", ["", "abc", "mm", "4..7 mm", "-5 mm", "47uF", "1" * 90, "NaN", "0x10", "1e5"])
def test_what_is_no_quantity(read: Reader, text: str) -> None:
    assert read(text) is None
    assert read(text, bare=True) is None
    assert tolerance_percent(text) is None


@pytest.mark.parametrize("read", READERS)
def test_a_naked_number_needs_a_column_that_names_its_unit(read: Reader) -> None:
    assert read("105") is None
    found = read("105", bare=True)
    assert found is not None
    assert found.value == 105


@pytest.mark.parametrize("text", ["39 °C", "850C", "1050", "261C"])
def test_no_part_is_rated_at_such_temperatures(text: str) -> None:
    assert temperature_C(text, bare=True) is None


@given(st.integers(1, 10**6).map(lambda number: Decimal(number) / 1000))
def test_a_length_reads_alike_with_point_and_comma(mm: Decimal) -> None:
    for text in (f"{mm} mm", f"{mm} mm".replace(".", ",")):
        found = length_mm(text)
        assert found is not None
        assert found.value == mm


SCRAPS = st.lists(
    st.sampled_from([*"0123456789.,/-+ °±%", "mm", "in", '"', "C", "h", "mA", "Ω", "@"]), max_size=12
).map("".join)


@given(st.one_of(SCRAPS, st.text(max_size=90)))
@settings(max_examples=300)
def test_reading_never_fails(text: str) -> None:
    for read in READERS:
        for found in (read(text), read(text, bare=True)):
            assert found is None or found.value is None or found.value >= 0
    tolerance_percent(text)


@pytest.mark.parametrize("scrap", ["1", "1 ", "1,", "-", "1/", "°", "@ ", "mm"])
def test_hostile_repetition_is_answered_at_once(scrap: str) -> None:
    start = time.process_time()
    for text in ((scrap * 80)[:80], scrap * 100_000):
        for read in READERS:
            read(text, bare=True)
        tolerance_percent(text)
    assert time.process_time() - start < 0.5


@pytest.mark.parametrize(("text", "degrees"), [("40 °C", 40), ("39 °C", None), ("260 °C", 260), ("261 °C", None)])
def test_the_coldest_and_the_hottest_rating(text: str, degrees: int | None) -> None:
    # common practice
    found = temperature_C(text)
    assert (found.value if found else None) == degrees


def test_a_range_from_below_the_coldest_rating_is_a_range() -> None:
    for text, readings in (("39/85 °C", ()), ("40/85 °C", (Decimal(40), Decimal(85)))):
        found = temperature_C(text)
        assert found is not None
        assert found.readings == readings


@pytest.mark.parametrize("text", ["7 500 mm", "1.2.3 mm", "1,2,3 mm"])
def test_no_size_has_thousands_of_millimetres(text: str) -> None:
    assert length_mm(text) is None


def test_text_of_eighty_letters_is_read_and_no_longer_one() -> None:
    assert length_mm("7" + " " * 77 + "mm") is not None
    assert length_mm("7" + " " * 78 + "mm") is None
