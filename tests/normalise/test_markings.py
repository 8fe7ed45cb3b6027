"""What is printed on parts. Conflicts between sources are offered, never chosen."""

from __future__ import annotations

import time
from decimal import Decimal

import eseries
import pytest
import renard
from hypothesis import given, settings
from hypothesis import strategies as st

from recap.normalise.markings import decode, decode_marks
from recap.normalise.preferred import R10
from recap.normalise.standard_marks import (
    MONTH_CHARACTERS,
    TOLERANCES,
    TWO_CHARACTER_MANTISSAS,
    VOLTAGE_MANTISSAS,
    YEAR_LETTERS,
    date_mark,
    rated_voltage,
    rated_voltage_code,
    tolerance_letter,
    two_character_value,
    week_mark,
)

YEAR = 2026


def texts(marking: str, kind: str | None = None) -> list[str]:
    """The readings in words, the likeliest first."""
    return [reading.text for reading in decode(marking, YEAR) if kind in (None, reading.kind)]


# --- two-character rated voltages ------------------------------------------------------------

VOLTAGE_TABLE = (  # oriedza.blogspot.com 2014-04-17, "EIA voltage code table"
    "0G=4 0L=5.5 0J=6.3 1A=10 1C=16 1E=25 1H=50 1J=63 1K=80 2A=100 2Q=110 2B=125 2C=160 2Z=180 2D=200 2P=220 "
    "2E=250 2F=315 2V=350 2G=400 2W=450 2H=500 2J=630 3A=1000"
)
CATALOGUE_VOLTAGES = (  # a Japanese radial-lead catalogue, part-number page, pdf.jiepei.com item 49937809
    "0J=6.3 1A=10 1C=16 1E=25 1V=35 1H=50 1J=63 2A=100 2C=160 2D=200 2E=250 2V=350 2G=400 2W=450"
)


@pytest.mark.parametrize("entry", sorted({*VOLTAGE_TABLE.split(), *CATALOGUE_VOLTAGES.split()}))
def test_rated_voltage_codes(entry: str) -> None:
    code, volts = entry.split("=")
    assert rated_voltage(code) == Decimal(volts)
    assert rated_voltage_code(Decimal(volts)) == code
    readings = decode(code, YEAR)
    assert [(r.kind, r.value, r.unit) for r in readings if r.rank == 0] == [("voltage", Decimal(volts), "V")]


def test_voltage_letters_a_to_k_are_the_r10_series() -> None:
    """ISO 3, as PyPI renard has it."""
    letters = [float(VOLTAGE_MANTISSAS[letter]) for letter in "ABCDEFGHJK"]
    assert letters == pytest.approx([float(number) for number in R10])
    assert letters == pytest.approx(sorted(n / 10 ** (len(str(int(n))) - 1) for n in renard.series(renard.R10)))


def test_a_disputed_code_gets_both_voltages() -> None:
    # one hobby table has 3L = 1200 V, the rule that explains the others gives 5500 V
    assert texts("3L") == ["1200 V", "5500 V"]
    assert rated_voltage("3L") is None


# --- tolerances ------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("letter", "text"),
    [
        ("F", "±1 %"),  # eestudenthelp and many tables, with G
        ("G", "±2 %"),
        ("H", "±3 %"),  # oriedza.blogspot.com
        ("J", "±5 %"),  # oriedza.blogspot.com
        ("K", "±10 %"),  # Illinois Capacitor special-order suffix, dtsheet.com 1258169
        ("M", "±20 %"),  # Vishay 021 ASM, KEMET, TDK: "per IEC 60062"
        ("N", "±30 %"),  # a TV service manual's code chart
        ("Q", "-10/+30 %"),  # Illinois Capacitor suffix Q, dtsheet.com 1258169
        ("T", "-10/+50 %"),  # Vishay 030/031 AS, 28327, and 132/133 ALL-DIN: "per IEC 60062"
        ("Z", "-20/+80 %"),  # several tables
    ],
)
def test_tolerance_letters(letter: str, text: str) -> None:
    assert texts(letter, "tolerance")[0] == text
    assert texts(f"475{letter}", "tolerance") == [text]


@pytest.mark.parametrize(("letter", "spread"), [("B", "0.1"), ("C", "0.25"), ("D", "0.5"), ("F", "1"), ("G", "2")])
def test_below_ten_picofarad_letters_count_in_picofarad(letter: str, spread: str) -> None:
    """eestudenthelp; many makers' tables of ceramic capacitors."""
    reading = next(r for r in decode(f"4p7{letter}", YEAR) if r.kind == "tolerance")
    assert (reading.value, reading.unit, reading.text) == (Decimal(spread), "pF", f"±{spread} pF")


def test_the_letter_p_is_offered_both_ways() -> None:
    """A service manual's chart and oriedza.blogspot.com: -0/+100 %; IEC 60062 (from memory): ±0.02 %."""
    assert texts("P", "tolerance") == ["-0/+100 %", "±0.02 %"]


def test_an_asymmetric_tolerance_has_two_ends() -> None:
    reading = decode("Z", YEAR)[0]
    assert (reading.value, reading.unit) == ((Decimal(-20), Decimal(80)), "%")


@pytest.mark.parametrize("letter", sorted(TOLERANCES))
def test_tolerance_letters_are_written_as_they_are_read(letter: str) -> None:
    for meaning in TOLERANCES[letter]:
        assert tolerance_letter(meaning.low, meaning.high, meaning.unit) == letter


# --- dates -----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("letter", "year"),
    [(letter, 2003 + place) for place, letter in enumerate("RSTUVWX")]  # primidi.com, ceramic capacitor marking
    + [(letter, 1994 + place) for place, letter in enumerate("EFHJKLM")],  # newtoncbraga.com.br almanac, article 202
)
def test_year_letters_repeat_every_twenty_years(letter: str, year: int) -> None:
    years = [int(r.value[:4]) for r in decode(f"{letter}1", YEAR) if r.kind == "date" and isinstance(r.value, str)]
    assert year in years
    assert all((found - year) % 20 == 0 for found in years)
    assert len(years) >= 2
    assert max(years) <= YEAR


def test_r1_is_january_of_three_years() -> None:
    """qeeebo.com: R + 1 is January 2003, or 1983, or 2023."""
    assert sorted(texts("R1", "date")) == ["1983-01", "2003-01", "2023-01"]


@pytest.mark.parametrize(("character", "month"), list(zip("123456789OND", range(1, 13), strict=True)))
def test_months(character: str, month: int) -> None:
    """newtoncbraga.com.br; qeeebo.com: 1 to 9, then O, N, D."""
    assert f"2004-{month:02d}" in texts(f"S{character}", "date")


def test_four_digits_are_year_and_week() -> None:
    """primidi.com and qeeebo.com: 1208 is week 8 of 2012."""
    assert texts("1208")[0] == "2012 week 08"
    assert decode("1208", YEAR)[0].value == "2012-W08"


def test_four_digits_of_the_last_century() -> None:
    assert texts("8523", "date")[0] == "1985 week 23"


def test_no_date_lies_in_the_future() -> None:
    assert texts("3010", "date") == ["2010 week 30"]  # not 2030
    assert texts("R1", "date") != [*texts("R1", "date"), "2043-01"]
    assert "2003-01" not in [r.text for r in decode("R1", 2002)]


@given(st.integers(1970, YEAR), st.integers(1, 12))
def test_date_codes_are_written_as_they_are_read(year: int, month: int) -> None:
    assert f"{year}-{month:02d}" in texts(date_mark(year, month), "date")


@given(st.integers(1970, YEAR), st.integers(1, 53))
def test_week_codes_are_written_as_they_are_read(year: int, week: int) -> None:
    assert f"{year} week {week:02d}" in texts(week_mark(year, week), "date")


def test_the_letters_that_no_year_has() -> None:
    assert len(YEAR_LETTERS) == 20
    assert not set("GIOQYZ") & set(YEAR_LETTERS)
    assert not texts("G1", "date")
    assert len(MONTH_CHARACTERS) == 12


# --- values and several marks ----------------------------------------------------------------


def test_two_character_values_are_e24_in_order() -> None:
    """EIA-198 (from memory): capitals stand for E24, held here against PyPI eseries."""
    capitals = [float(number) for letter, number in TWO_CHARACTER_MANTISSAS.items() if letter.isupper()]
    assert capitals == [number / 10 for number in eseries.series(eseries.E24)]
    assert two_character_value("A5") == Decimal("0.1")
    assert two_character_value("S3") == Decimal("0.0047")
    assert two_character_value("S9") == Decimal("0.00000047")
    assert "0.1 µF" in texts("A5", "capacitance")


def test_106_is_a_value_or_a_date() -> None:
    kinds = [reading.kind for reading in decode("106", YEAR)]
    assert texts("106")[0] == "10 µF"
    assert kinds[0] == "capacitance"
    assert "date" in kinds


def test_behind_a_value_106_is_a_date_first() -> None:
    assert [reading.kind for reading in decode("47µF 106", YEAR) if reading.rank == 0 and reading.mark == "106"] == [
        "date",
        "date",
    ]
    assert {reading.kind for reading in decode("106 16V", YEAR)} == {"capacitance", "voltage"}


@pytest.mark.parametrize("mark", ["X1", "X2", "Y1", "Y2"])
def test_a_safety_class_is_told_before_a_date(mark: str) -> None:
    """IEC 60384-14 names the classes."""
    first = decode(f"0.1µF {mark} 275V~", YEAR)[1]
    assert (first.kind, first.value) == ("safety", mark)
    assert "approved" in (first.hint or "")


@pytest.mark.parametrize("mark", ["NP", "BP", "N.P.", "B.P.", "np", "BIPOLAR"])
def test_a_part_without_polarity_says_so(mark: str) -> None:
    """Common practice: NP (non-polar) or BP (bipolar) stands on electrolytics without plus and minus."""
    (found,) = (reading for reading in decode(f"4.7µF 50V {mark}", YEAR) if reading.kind == "polarity")
    assert (found.value, found.unit) == ("bipolar", None)
    assert decode_marks(f"4.7µF 50V {mark}", YEAR).unread == ()


def test_np0_is_no_polarity() -> None:
    """NP0 names a temperature characteristic of ceramic (from memory: EIA class I)."""
    assert not any(reading.kind == "polarity" for reading in decode("100p NP0", YEAR))


def test_105c_is_a_temperature_before_a_value() -> None:
    # common practice: 85 and 105 °C stand on most electrolytics
    assert [(r.kind, r.text) for r in decode("105C", YEAR)][:2] == [("temperature", "105 °C"), ("capacitance", "1 µF")]
    assert texts("105°C") == ["105 °C"]


def test_220_is_three_values() -> None:
    """µF digits (Rubycon part numbers), pF code (EIA), µF code (a Japanese radial-lead catalogue)."""
    assert texts("220", "capacitance") == ["220 µF", "22 pF", "22 µF"]


@pytest.mark.parametrize(
    ("code", "value"),
    [
        ("1R5", "1.5 µF"),
        ("4R7", "4.7 µF"),
        ("100", "10 µF"),
        ("101", "100 µF"),
        ("471", "470 µF"),
        ("102", "1000 µF"),
        ("222", "2200 µF"),
        ("103", "10000 µF"),
    ],
)
def test_part_numbers_of_electrolytics_count_in_microfarad(code: str, value: str) -> None:
    """A Japanese radial-lead catalogue, part-number page, pdf.jiepei.com item 49937809."""
    assert value in texts(code, "capacitance")


@pytest.mark.parametrize(
    ("code", "value"),
    [
        ("3R9", "3.9 pF"),  # oriedza.blogspot.com, eestudenthelp
        ("4R7", "4.7 pF"),
        ("0R5", "0.5 pF"),
        ("478", "0.47 pF"),  # oriedza.blogspot.com: third digit 8 is x 0.01, 9 is x 0.1
        ("479", "4.7 pF"),
        ("105", "1 µF"),  # primidi.com
        ("473", "47 nF"),
        ("106", "10 µF"),  # KEMET ESL/ESK/ESH part-number pages
        ("107", "100 µF"),
    ],
)
def test_codes_count_in_picofarad(code: str, value: str) -> None:
    assert value in texts(code, "capacitance")


def test_m_is_milli_by_the_standard_and_micro_in_old_lists() -> None:
    """IEC 60062 (from memory): 1m0 is 1000 µF, 100m is 0.1 F; common practice of old lists: µF."""
    assert texts("1m0") == ["1000 µF", "1 µF"]
    assert texts("100m") == ["100000 µF", "100 µF"]
    assert texts("m10")[0] == "100 µF"


@pytest.mark.parametrize(
    ("marking", "first"),
    [
        ("475K 1H", ["4.7 µF", "±10 %", "50 V"]),
        ("475K1H", ["4.7 µF", "±10 %", "50 V"]),
        ("2A474J", ["0.47 µF", "±5 %", "100 V"]),  # oriedza.blogspot.com
        ("2A102K", ["1 nF", "±10 %", "100 V"]),  # jestineyong.com
        ("104K 50", ["0.1 µF", "±10 %", "50 V"]),
        ("104J630V", ["0.1 µF", "±5 %", "630 V"]),
        ("47µ 16V", ["47 µF", "16 V"]),
        ("47µ16V", ["47 µF", "16 V"]),
        ("µ47K400", ["0.47 µF", "±10 %", "400 V"]),
        ("0.1K400", ["0.1 µF", "±10 %", "400 V"]),
        ("1000 µF 6V3", ["1000 µF", "6.3 V"]),
        ("10/16", ["10 µF", "16 V"]),
        ("4.7 µF ±20% 25 VDC", ["4.7 µF", "±20 %", "25 V"]),
        ("105K", ["1 µF", "±10 %"]),  # MIL-PRF-49137E para 3.21
    ],
)
def test_marks_together(marking: str, first: list[str]) -> None:
    likeliest = {r.text for r in decode(marking, YEAR) if r.rank == 0}
    assert likeliest == set(first)
    assert decode_marks(marking, YEAR).unread == ()


def test_a_capacitance_is_in_farad() -> None:
    reading = decode("475", YEAR)[0]
    assert reading.value == Decimal("4.7e-6")
    assert (reading.kind, reading.unit, reading.text) == ("capacitance", "F", "4.7 µF")


@pytest.mark.parametrize("marking", ["XQ9", "ABC", "Ω", "10K", "hello world", "x" * 200, "9" * 24])
def test_what_no_table_knows_is_named(marking: str) -> None:
    decoded = decode_marks(marking, YEAR)
    assert decoded.readings == ()
    assert decoded.unread


def test_no_part_is_exact() -> None:
    assert decode_marks("0%", YEAR).unread == ("0%",)


def test_one_unknown_mark_hides_nothing() -> None:
    decoded = decode_marks("475K FROG", YEAR)
    assert decoded.unread == ("FROG",)
    assert [reading.text for reading in decoded.readings] == ["4.7 µF", "±10 %"]


SCRAPS = st.lists(st.sampled_from([*"0123456789RKMPZµupnmVHAX .,/-±%", "1H", "2A", "474J", "16V", "µF"]), max_size=12)


@given(st.one_of(SCRAPS.map("".join), st.text(max_size=90)))
@settings(max_examples=300)
def test_decoding_never_fails_and_accounts_for_every_mark(marking: str) -> None:
    decoded = decode_marks(marking, YEAR)
    ranks = [reading.rank for reading in decoded.readings]
    assert ranks == sorted(ranks)
    for reading in decoded.readings:
        assert reading.kind in {"capacitance", "tolerance", "voltage", "date", "temperature", "safety"}
        assert reading.text
        assert reading.source
        if isinstance(reading.value, Decimal):
            assert reading.value > 0
    assert not set(decoded.unread) & {reading.mark for reading in decoded.readings}


@pytest.mark.parametrize("scrap", ["1", "1H", "K", "475K", "1 ", "µ", "10/", "0.1K4"])
def test_hostile_repetition_is_answered_at_once(scrap: str) -> None:
    start = time.process_time()
    for text in ((scrap * 80)[:80], scrap * 100_000):
        decode(text, YEAR)
    assert time.process_time() - start < 0.5
