"""Dates stamped on parts: every year they can mean, none that they can't, and the likeliest first.

Year and week in four digits: IEC 60062. The other ways are common practice; sets that are recapped are mostly of the
decades around 1998 (common practice), which ranks dates and excludes none.
"""

from __future__ import annotations

from decimal import Decimal

import pytest

from recap.normalise.markings import decode
from recap.normalise.standard_marks import tolerance_letter

YEAR = 2026


def dates(marking: str, year: int = YEAR) -> list[str]:
    """The dates, the likeliest first."""
    return [str(reading.value) for reading in decode(marking, year) if reading.kind == "date"]


@pytest.mark.parametrize(
    ("mark", "expected"),
    [
        ("1208", ["2012-W08", "2012-08", "2008-W12"]),
        ("8523", ["1985-W23"]),
        ("8512", ["1985-W12", "1985-12"]),  # a month where it is one
        ("8513", ["1985-W13"]),
        ("8501", ["1985-W01", "1985-01"]),  # no year has 85 weeks
        ("8500", []),
        ("8553", ["1985-W53"]),
        ("8554", []),
        ("2705", ["2005-W27"]),  # not week 5 of 1927, nor of 2027
        ("2605", ["2026-W05", "2026-05", "2005-W26"]),
        ("6001", ["1960-W01", "1960-01"]),
        ("5953", []),
        ("1112", ["2011-W12", "2011-12", "2012-W11"]),
        ("0053", ["2000-W53"]),
    ],
)
def test_four_digits_are_year_and_week_year_and_month_or_week_and_year(mark: str, expected: list[str]) -> None:
    assert dates(mark) == expected


@pytest.mark.parametrize(
    ("mark", "expected"),
    [
        ("412", ["1994-W12", "2004-W12", "1974-W12", "1984-W12", "2014-W12", "2024-W12"]),
        ("053", ["1990-W53", "2000-W53", "1970-W53", "1980-W53", "2010-W53", "2020-W53"]),
        ("801", ["1988-W01", "1998-W01", "2008-W01", "1978-W01", "2018-W01"]),
        ("454", []),
        ("400", []),
    ],
)
def test_three_digits_are_the_last_of_the_year_and_the_week(mark: str, expected: list[str]) -> None:
    assert dates(mark) == expected


@pytest.mark.parametrize(
    ("mark", "expected"),
    [
        ("D5", ["1993-05", "1973-05", "2013-05"]),
        ("XO", ["1989-10", "2009-10"]),
        ("A1", ["1990-01", "1970-01", "2010-01"]),
        ("PN", ["2002-11", "1982-11", "2022-11"]),
        ("JD", ["1997-12", "1977-12", "2017-12"]),
    ],
)
def test_a_letter_and_a_character_are_year_and_month(mark: str, expected: list[str]) -> None:
    """IEC 60062: A is 1990 and every twentieth year from there."""
    assert dates(mark) == expected


def test_the_bench_s_own_year_bounds_all_of_them() -> None:
    assert dates("D5", 2012) == ["1993-05", "1973-05"]
    assert dates("D5", 2013) == ["1993-05", "1973-05", "2013-05"]
    assert dates("1208", 2011) == ["2008-W12"]
    assert "2024-W12" not in dates("412", 2023)


def test_beside_a_value_a_mark_that_could_be_one_is_the_date() -> None:
    """``475 1208``: 4.7 µF, made in week 8 of 2012; 1208 µF comes last of all."""
    found = [(reading.kind, reading.text) for reading in decode("475 1208", YEAR)]
    assert found[:2] == [("capacitance", "4.7 µF"), ("date", "2012 week 08")]
    assert found[-1] == ("capacitance", "1208 µF")
    # in front of a value three digits are no date of common practice
    assert [reading.kind for reading in decode("106 25V", YEAR)] == ["capacitance", "voltage"]


@pytest.mark.parametrize("mark", ["0R0", "0R00", "00R0"])
def test_no_part_has_no_capacitance(mark: str) -> None:
    assert not [reading for reading in decode(mark, YEAR) if reading.kind == "capacitance"]


@pytest.mark.parametrize(
    ("mark", "texts"),
    [
        ("475", ["4.7 µF"]),  # 475 is no value of a series, and 4,700,000 µF no part
        ("220", ["220 µF", "22 pF", "22 µF"]),
        ("102", ["1 nF", "1000 µF"]),
        ("047", ["47 µF"]),
        ("479", ["4.7 pF", "47000 µF"]),
        ("R47", ["0.47 µF", "0.47 pF"]),
        ("4R7", ["4.7 µF", "4.7 pF"]),
        ("1m0", ["1000 µF", "1 µF"]),
        ("2m2", ["2200 µF", "2.2 µF"]),
    ],
)
def test_values_in_few_characters_with_the_likeliest_first(mark: str, texts: list[str]) -> None:
    assert [reading.text for reading in decode(mark, YEAR) if reading.kind == "capacitance"] == texts


def test_a_letter_behind_a_small_value_may_count_in_picofarads() -> None:
    """Below 10 pF letters count in pF, above in percent (IEC 60062): 4R7D is 4.7 pF ±0.5 pF, or 4.7 µF ±0.5 %."""
    spreads = [(r.text, r.hint) for r in decode("479D", YEAR) if r.kind == "tolerance"]
    assert spreads == [("±0.5 pF", "below 10 pF"), ("±0.5 %", None)]
    assert [r.text for r in decode("475D", YEAR) if r.kind == "tolerance"] == ["±0.5 %"]
    whole = [(r.text, r.hint) for r in decode("P", YEAR)]
    assert whole[0] == ("-0/+100 %", "on an electrolytic only -0/+100 % makes sense")
    assert [r.hint for r in decode("K", YEAR)] == [None]


@pytest.mark.parametrize(
    ("low", "high", "letter"), [("-0.5", "0.5", "D"), ("-0.05", "0.05", "A"), ("-0.3", "0.3", None)]
)
def test_tolerances_in_picofarads_have_letters_of_their_own(low: str, high: str, letter: str | None) -> None:
    assert tolerance_letter(Decimal(low), Decimal(high), "pF") == letter
