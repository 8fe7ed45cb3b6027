"""How capacitances are written, and what each writing means. The source stands beside each table."""

from __future__ import annotations

import time
from decimal import Decimal

import pytest
from hypothesis import assume, example, given, settings
from hypothesis import strategies as st
from rkm_codes import from_rkm

from recap.codes import LISTS
from recap.normalise.caplist import read_cap_text
from recap.normalise.preferred import E24
from recap.normalise.values import (
    UNITS,
    capacitance,
    capacitance_and_voltage,
    format_capacitance,
    format_voltage,
    letter_code,
    sections,
    three_digit_code,
    voltage,
)


def reads(text: str, microfarads: str, *doubts: str) -> None:
    found = capacitance(text)
    assert found is not None, text
    assert (found.value, found.doubts) == (Decimal(microfarads), doubts), text


@pytest.mark.parametrize(
    "text", ["4u7", "4µ7", "4μ7", "4.7uF", "4,7 µF", "4700n", "475", "4.7 MFD", "4·7 mfd", "４．７μＦ", "4.7 ㎌"]
)
def test_one_value_in_many_writings(text: str) -> None:
    # common practice: old and new lists, British raised point, full-width Japanese typing
    reads(text, "4.7")


@pytest.mark.parametrize(
    ("text", "microfarads"),
    [
        ("4N7", "0.0047"),
        ("2U2", "2.2"),
        ("4n7", "0.0047"),  # PyPI rkm-codes, project page
        ("µ47", "0.47"),  # encyclopedia article on ceramic capacitor marking, as copied by primidi.com
        ("4µ7", "4.7"),  # same
        ("47µ", "47"),  # same
        ("p33", "0.00000033"),  # EN 60062 table, from memory, with the rest
        ("3p3", "0.0000033"),
        ("33p", "0.000033"),
        ("330p", "0.00033"),
        ("n33", "0.00033"),
        ("3n3", "0.0033"),
        ("33n", "0.033"),
        ("330n", "0.33"),
        ("µ1", "0.1"),
        ("1µ5", "1.5"),
        ("33µ2", "33.2"),
        ("m10", "100"),
        ("1m0", "1000"),
        ("R47", "0.47"),  # common practice: R is the point of a number in µF
        ("0R47", "0.47"),
    ],
)
def test_the_prefix_letter_stands_for_the_decimal_point(text: str, microfarads: str) -> None:
    """IEC 60062, clause on the marking of capacitance."""
    reads(text, microfarads)


@given(st.from_regex(r"(?:[1-9][0-9]{0,2})?[pnµum][0-9]{1,2}|[1-9][0-9]{0,2}[pnµu]", fullmatch=True))
def test_letter_codes_agree_with_an_independent_reader(text: str) -> None:
    """IEC 60062, as PyPI rkm-codes reads it."""
    farads = float(from_rkm(text))
    found = capacitance(text)
    if farads == 0:
        assert found is None
    else:
        assert found is not None
        assert float(found.value or 0) == pytest.approx(farads * 1e6, rel=1e-9)


@pytest.mark.parametrize(
    ("text", "microfarads"),
    [
        ("105", "1"),  # primidi.com; MIL-PRF-49137E para 3.21 marks 105K
        ("473", "0.047"),  # primidi.com
        ("103", "0.01"),  # eestudenthelp and oriedza hobby tables, with the four below
        ("104", "0.1"),
        ("474", "0.47"),
        ("475", "4.7"),
        ("476", "47"),
        ("106", "10"),  # KEMET ESL/ESK/ESH part-number pages: 106 is 10 µF, 107 is 100 µF
        ("107", "100"),
    ],
)
def test_three_digits_are_a_code_in_picofarad(text: str, microfarads: str) -> None:
    reads(text, microfarads)
    assert three_digit_code(Decimal(microfarads)) == text


@pytest.mark.parametrize(
    ("text", "readings"),
    [
        ("220", "220 22 0.000022"),  # µF digits (Rubycon part numbers), µF code (Japanese catalogue), pF code
        ("100", "100 10 0.00001"),
        ("330", "330 33 0.000033"),
        ("101", "0.0001 100"),  # pF code; the Japanese radial catalogue counts 101 as 100 µF
        ("102", "0.001 1000"),
        ("222", "0.0022 2200"),
    ],
)
def test_a_three_digit_number_with_several_readings_is_doubted(text: str, readings: str) -> None:
    found = capacitance(text)
    assert found is not None
    assert found.doubts
    assert found.readings == tuple(map(Decimal, readings.split()))
    assert found.value == found.readings[0]


@pytest.mark.parametrize("text", ["478", "479"])
def test_a_last_digit_8_or_9_has_no_first_reading(text: str) -> None:
    """oriedza.blogspot.com: 478 is 0.47 pF, 479 is 4.7 pF; by the power of ten they would be 4700 and 47,000 µF."""
    found = capacitance(text)
    assert found is not None
    assert (found.value, found.doubts) == (None, ("three-digit-code",))
    assert min(found.readings) == Decimal("47e-8") * 10 ** (int(text[-1]) - 8)


@pytest.mark.parametrize(
    ("text", "microfarads"),
    [
        ("8 mfd", "8"),
        ("16 MFD.", "16"),
        ("25 mF", "25"),
        ("25 MF", "25"),
        ("50mf", "50"),
        ("0.22 M.F.D.", "0.22"),
        (".01 mfd", "0.01"),
        ("500 mmf", "0.0005"),
        ("250 MMFD", "0.00025"),
        ("100 µµF", "0.0001"),
        ("100uuF", "0.0001"),
        ("47 ufd", "47"),
        ("10 UF", "10"),
        ("22 microfarad", "22"),
        ("5 kpF", "0.005"),
        ("10 мкФ", "10"),
        ("2200 pF", "0.0022"),
        ("47ÂµF", "47"),
        ("47&micro;F", "47"),
        ("47\u00a0µF", "47"),
        ("470 U", "470"),
        ("22 u.F.", "22"),
        ("330 p.F.", "0.00033"),
    ],
)
def test_old_and_foreign_units(text: str, microfarads: str) -> None:
    # common practice of lists before and beside the SI: mfd and mF are µF, mmf and µµF are pF
    reads(text, microfarads)


@pytest.mark.parametrize(
    ("text", "microfarads"),
    [("4R7uF", "4.7"), ("2R2 µF", "2.2"), ("R47uF", "0.47"), ("R47 µF", "0.47"), ("4r7 uF", "4.7")],
)
def test_r_for_the_decimal_point_and_the_unit_as_well(text: str, microfarads: str) -> None:
    # IEC 60062 has R in place of the decimal point; that the unit is written behind it is common practice
    reads(text, microfarads)
    positions, said = read_cap_text(f"C5 {text} 63V\n", "list")
    assert [(p.ref, p.value_uF, p.doubts) for p in positions] == [("C5", Decimal(microfarads), ())]
    assert said == []


def test_two_points_in_a_number_are_none() -> None:
    assert capacitance("1R2R3uF") is None


@pytest.mark.parametrize(
    ("text", "microfarads"),
    [
        ("0,47 µF", "0.47"),
        ("0,047µF", "0.047"),
        ("10,000 uF", "10000"),
        ("1,000µF", "1000"),
        ("10 000 uF", "10000"),
        ("1 000 uF", "1000"),
        ("10'000 µF", "10000"),
        ("10.000,0 µF", "10000"),
        ("0.100 uF", "0.1"),
        ("1.00 uF", "1"),
        ("47. uF", "47"),
        (".47uF", "0.47"),
        ("2,2uF", "2.2"),
        ("1000.0 uF", "1000"),
    ],
)
def test_decimal_comma_and_thousands(text: str, microfarads: str) -> None:
    # common practice: a comma before exactly three digits groups thousands unless a zero stands in front
    reads(text, microfarads)


@pytest.mark.parametrize(("text", "microfarads"), [("0.1", "0.1"), (".047", "0.047"), ("0,22", "0.22"), ("R1", "0.1")])
def test_a_bare_number_below_one_is_microfarad(text: str, microfarads: str) -> None:
    reads(text, microfarads)


@pytest.mark.parametrize(
    ("text", "microfarads"), [("47", "47"), ("1", "1"), ("4,7", "4.7"), ("2200", "2200"), ("4R7", "4.7")]
)
def test_a_bare_number_from_one_up_lacks_its_unit(text: str, microfarads: str) -> None:
    reads(text, microfarads, "unit-missing")


@pytest.mark.parametrize(
    ("text", "unit", "microfarads"),
    [("47", "µF", "47"), ("220", "MFD", "220"), ("47", "nF", "0.047"), ("22", "pF", "22e-6")],
)
def test_a_header_gives_the_unit(text: str, unit: str, microfarads: str) -> None:
    found = capacitance(text, unit)
    assert found is not None
    assert (found.value, found.doubts) == (Decimal(microfarads), ())


@pytest.mark.parametrize("text", ["10uH", "10 µH", "1mH", "100nH", "2.2 mH", "10 µHenry", "22uHy", "3.3 H"])
def test_an_inductance_is_no_capacitance(text: str) -> None:
    """H is also the letter of a tolerance of ±3 % (IEC 60062), but only behind F or a letter code."""
    assert capacitance(text) is None


def test_the_tolerance_letter_H_is_still_one() -> None:
    found = capacitance("10uF H")
    assert found is not None
    assert (found.value, found.tolerance, found.doubts) == (Decimal(10), "H", ())


def test_a_unit_in_the_cell_is_stronger_than_the_header() -> None:
    found = capacitance("470 nF", "µF")
    assert found is not None
    assert found.value == Decimal("0.47")


@pytest.mark.parametrize(
    ("text", "readings", "doubt"),
    [
        ("1.000uF", "1 1000", "thousands-or-decimal"),
        ("2.200 µF", "2.2 2200", "thousands-or-decimal"),
        ("47-100uF", "47 100", "alternatives"),
        ("47 – 100 µF", "47 100", "alternatives"),
        ("47uF or 100uF", "47 100", "alternatives"),
        ("10µF oder 22µF", "10 22", "alternatives"),
        ("47/100uF", "47 100", "alternatives"),
        ("1/2 µF", "1 2", "alternatives"),
        ("100m", "100 100000", "milli-or-micro"),
        ("0.1F", "0.1 100000", "prefix-missing"),
    ],
)
def test_where_nothing_decides_there_is_no_value(text: str, readings: str, doubt: str) -> None:
    found = capacitance(text)
    assert found is not None
    assert (found.value, found.doubts) == (None, (doubt,))
    assert found.readings == tuple(map(Decimal, readings.split()))


@pytest.mark.parametrize(
    ("text", "microfarads", "doubt"),
    [
        ("l00uF", "100", "ocr-digit"),
        ("47OuF", "470", "ocr-digit"),
        ("I0 µF", "10", "ocr-digit"),
        ("4.7uF?", "4.7", "marked-uncertain"),
        ("4u7H", "4.7", "henry-or-tolerance"),
        ("2µ2H", "2.2", "henry-or-tolerance"),
        ("~47uF", "47", "marked-uncertain"),
        ("ca. 10 µF", "10", "marked-uncertain"),
        ("47F", "47", "prefix-missing"),
        ("47 ?F", "47", "prefix-missing"),
        ("47\ufffdF", "47", "prefix-missing"),
        ("2 200 µF", "2200", "count-or-thousands"),
        ("178.3 nF", "0.1783", "looks-measured"),
        ("46.8 µF", "46.8", "looks-measured"),
        ("102 µF", "102", "looks-measured"),
        ("46 µF", "46", "no-preferred-value"),
        ("74uF", "74", "no-preferred-value"),
        ("470000000 µF", "470000000", "implausible-value"),
    ],
)
def test_one_reading_comes_first_and_is_doubted(text: str, microfarads: str, doubt: str) -> None:
    reads(text, microfarads, doubt)


@pytest.mark.parametrize(
    "number", "2 4 5 8 16 20 25 30 32 40 50 60 64 80 100 125 160 200 250 300 400 500 640 800".split()
)
def test_old_practice_is_no_doubt(number: str) -> None:
    # common practice of the valve and early transistor years
    reads(f"{number}µF", number)


@pytest.mark.parametrize(
    ("text", "microfarads", "tolerance"),
    [
        ("105K", "1", "K"),  # MIL-PRF-49137E para 3.21 marking example
        ("474J", "0.47", "J"),  # oriedza.blogspot.com, within 2A474J
        ("102K", "0.001", "K"),  # jestineyong.com, within 2A102K
        ("4n7M", "0.0047", "M"),
        ("100nF J", "0.1", "J"),
        ("47µF ±20%", "47", "±20%"),
        ("47uF +/-20 %", "47", "+/-20%"),
        ("10µF (10%)", "10", "10%"),
        ("100µF -10/+50%", "100", "-10/+50%"),
    ],
)
def test_a_tolerance_may_follow(text: str, microfarads: str, tolerance: str) -> None:
    found = capacitance(text)
    assert found is not None
    assert (found.value, found.tolerance, found.doubts) == (Decimal(microfarads), tolerance, ())


@pytest.mark.parametrize(
    "text",
    [
        "",
        " ",
        "C12",
        "C-10",
        "radial",
        "47k",
        "4K7",
        "220K",
        "10K",
        "1M",
        "47 ohm",
        "16V",
        "100/16",
        "50+50µF",
        "R",
        "u",
        "-47uF",
        "nan",
        "inf",
        "1e5",
        "47uF16",
        "1N60",  # a diode
        "1N4148",
        "2N2222",
        "U3",
        "P5",
        "0",
        "0 µF",
        "uF",
        "47 uF 16 V",
        "1,2,3",
        "٤٧uF",
        "²²µF",
        "10²µF",
        "9" * 5000 + "uF",
        "1" * 70 + "uF",
        "(" * 60,
        "1-" * 30,
        "?" * 70,
    ],
)
def test_what_is_no_capacitance(text: str) -> None:
    assert capacitance(text) is None


def test_the_same_value_twice_is_one_value() -> None:
    reads("0.1uF/100nF", "0.1")


# --- voltages --------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "volts"),
    [
        ("16V", "16"),
        ("16 v", "16"),
        ("6v3", "6.3"),
        ("6V3", "6.3"),
        ("2V5", "2.5"),
        ("6,3 V", "6.3"),
        ("16WV", "16"),
        ("450 WVDC", "450"),
        ("25VDC", "25"),
        ("25 V DC", "25"),
        ("16 W.V.", "16"),
        ("63 volts", "63"),
        ("450 VW", "450"),
        ("1kV", "1000"),
        ("1,6 kV", "1600"),
        ("1,000V", "1000"),
        ("385V=", "385"),
        ("64V", "64"),
        ("35 v.", "35"),
        ("450 DCWV", "450"),
        ("450VDCW", "450"),
        ("50 DCV", "50"),
        ("450V DC W", "450"),
        ("25 voltios", "25"),
    ],
)
def test_rated_voltages(text: str, volts: str) -> None:
    # common practice
    found = voltage(text)
    assert found is not None
    assert (found.value, found.doubts, found.ac) == (Decimal(volts), (), False)


@pytest.mark.parametrize(
    "text", ["275VAC", "275 V AC", "AC 275V", "275V~", "275 V~", "275 volts AC", "275VAC rms", "275 ACV", "275 WVAC"]
)
def test_alternating_voltages(text: str) -> None:
    found = voltage(text)
    assert found is not None
    assert (found.value, found.ac) == (Decimal(275), True)


@pytest.mark.parametrize(
    ("text", "readings", "doubts"),
    [
        ("25/50 V", "25 50", ("alternatives",)),
        ("25V/50V", "25 50", ("alternatives",)),
        ("10V or 16V?", "10 16", ("alternatives",)),
        ("350-385V", "350 385", ("alternatives",)),
        ("1.000V", "1 1000", ("thousands-or-decimal",)),
    ],
)
def test_two_voltages_are_none(text: str, readings: str, doubts: tuple[str, ...]) -> None:
    found = voltage(text)
    assert found is not None
    assert (found.value, found.doubts, found.readings) == (None, doubts, tuple(map(Decimal, readings.split())))


@pytest.mark.parametrize(
    ("text", "volts", "doubt"),
    [
        ("2SV", "25", "ocr-digit"),
        ("l6V", "16", "ocr-digit"),
        ("16V?", "16", "marked-uncertain"),
        ("61V", "61", "odd-voltage"),
    ],
)
def test_doubted_voltages(text: str, volts: str, doubt: str) -> None:
    found = voltage(text)
    assert found is not None
    assert (found.value, found.doubts) == (Decimal(volts), (doubt,))


def test_a_naked_number_is_a_voltage_only_where_the_column_says_so() -> None:
    assert voltage("25") is None
    found = voltage("25", bare=True)
    assert found is not None
    assert (found.value, found.doubts) == (Decimal(25), ())


@pytest.mark.parametrize("text", ["V", "0V", "", "V16V", "105C", "47uF", "-5V", "5mV", "1" * 100 + "V"])
def test_what_is_no_voltage(text: str) -> None:
    assert voltage(text) is None


@pytest.mark.parametrize(
    "text",
    ["100/16", "100µ/16V", "100uF/16V", "100 / 16 V", "100uF 16V", "16V 100µF", "100µF, 16V", "100uF@16V", "100uF-16V"],
)
def test_pairs_of_value_and_voltage(text: str) -> None:
    # common practice: 100/16 is 100 µF 16 V, and no unit is missing in it
    pair = capacitance_and_voltage(text)
    assert pair is not None
    assert [(found.value, found.doubts) for found in pair] == [(Decimal(100), ()), (Decimal(16), ())]


@pytest.mark.parametrize(
    ("text", "value", "volts", "doubts"),
    [
        ("4,7/50", "4.7", "50", ()),
        ("0.1/400", "0.1", "400", ()),
        ("1000/6v3", "1000", "6.3", ()),
        ("475/25", "4.7", "25", ()),
        ("10,000/16", "10000", "16", ()),
        ("l00/16V", "100", "16", ("ocr-digit",)),
        ("50/50", "50", "50", ("pair-or-sections",)),
        ("100 16V", "100", "16", ("unit-missing",)),
        ("47/22", "47", "22", ("odd-voltage",)),
        ("25/50", "25", "50", ()),  # without a V it is a pair like 100/16
        ("10/16V", "10", "16", ()),
        ("8/450V", "8", "450", ()),
        ("25µ/50V", "25", "50", ()),
    ],
)
def test_pairs_with_something_to_say(text: str, value: str, volts: str, doubts: tuple[str, ...]) -> None:
    pair = capacitance_and_voltage(text)
    assert pair is not None
    assert [found.value for found in pair] == [Decimal(value), Decimal(volts)]
    assert pair[0].doubts + pair[1].doubts == doubts


@pytest.mark.parametrize(
    "text",
    [
        "C401/402",
        "100-16",
        "10-16",
        "220/25/50",
        "47/100uF",
        "25/50 V",
        "16/25V",
        "40/63 V",
        "100",
        "",
        "/",
        "16V/25V",
        "1" * 99,
    ],
)
def test_what_is_no_pair(text: str) -> None:
    assert capacitance_and_voltage(text) is None


@pytest.mark.parametrize(
    ("text", "parts"),
    [
        ("50+50µF", "50 50"),
        ("50µF+30µF", "50 30"),
        ("32 + 32 + 16 mfd", "32 32 16"),
        ("8+8", "8 8"),
        ("20/20/20", "20 20 20"),
        ("40-20-20 MFD", "40 20 20"),
        ("32/32uF", "32 32"),
        ("100n+10µ", "0.1 10"),
    ],
)
def test_sections_of_a_can(text: str, parts: str) -> None:
    # common practice
    assert sections(text) == tuple(map(Decimal, parts.split()))


@pytest.mark.parametrize(
    "text", ["100/16/105", "470/35/10", "47/100uF", "47-100uF", "10-16", "C1+C2", "50µF", "", "+", "1+" * 39]
)
def test_what_are_no_sections(text: str) -> None:
    assert sections(text) is None


# --- writing ---------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("microfarads", "trade", "letters", "digits"),
    [
        ("4.7", "4.7 µF", "4µ7", "475"),
        ("0.47", "0.47 µF", "470n", "474"),
        ("0.047", "47 nF", "47n", "473"),
        ("1000", "1000 µF", "1m0", None),
        ("10000", "10000 µF", "10m0", None),
        ("100", "100 µF", "100µ", "107"),
        ("0.00047", "470 pF", "470p", "471"),
        ("0.0000047", "4.7 pF", "4p7", "4R7"),
        ("0.00000033", "0.33 pF", "p33", None),
        ("1.234", "1.2340 µF", "1µ234", None),
        ("33.2", "33.2 µF", "33µ2", None),
    ],
)
def test_written_values(microfarads: str, trade: str, letters: str, digits: str | None) -> None:
    value = Decimal(microfarads)
    assert (format_capacitance(value), letter_code(value), three_digit_code(value)) == (trade, letters, digits)


POSITIVE = st.builds(
    lambda figures, power: Decimal(figures).scaleb(power),
    st.integers(1, 10**8),
    st.integers(-12, 3),
).filter(lambda value: Decimal("1e-9") < value < Decimal("1e9"))


@given(POSITIVE)
@example(Decimal("1.234"))
@example(Decimal("999.999"))
@example(Decimal("0.1"))
def test_what_is_written_is_read_back(value: Decimal) -> None:
    for text in (format_capacitance(value), letter_code(value)):
        found = capacitance(text)
        assert found is not None, text
        assert found.value == value, text


@given(POSITIVE)
def test_a_written_letter_code_is_read_alike_by_an_independent_reader(value: Decimal) -> None:
    """IEC 60062, as PyPI rkm-codes reads it."""
    assert float(from_rkm(letter_code(value))) == pytest.approx(float(value) * 1e-6, rel=1e-9)


@given(
    st.sampled_from(
        [f"{f}e{p}" for f in ("1", "1.5", "2.2", "3.3", "4.7", "6.8", "8.2", "5", "2.5") for p in range(-5, 5)]
    )
)
def test_made_values_are_read_back_without_doubt(number: str) -> None:
    value = Decimal(number)
    for text in (format_capacitance(value), letter_code(value)):
        found = capacitance(text)
        assert found is not None
        assert (found.value, found.doubts) == (value, ()), text


@pytest.mark.parametrize("mantissa", E24)
@pytest.mark.parametrize("power", range(-5, 3))
def test_a_three_digit_code_has_its_value_among_the_readings(mantissa: Decimal, power: int) -> None:
    value = mantissa.scaleb(power)
    code = three_digit_code(value)
    found = capacitance(code) if code else None
    assert found is not None
    assert value in (found.value, *found.readings)
    assert found.doubts or found.value == value


@given(st.integers(1, 10**6).map(lambda number: Decimal(number) / 10))
def test_a_voltage_written_is_read_back(volts: Decimal) -> None:
    found = voltage(format_voltage(volts))
    assert found is not None
    assert found.value == volts


WORDS = [
    *"0123456789",
    *".,'/-+ ~?%()±",
    "µF",
    "uF",
    "nF",
    "mf",
    "V",
    "VDC",
    "k",
    "K",
    "R",
    "l",
    "O",
    "S",
    "or",
    "\u00a0",
    "²",
    "m",
]
SCRAPS = st.lists(st.sampled_from(WORDS), max_size=14).map("".join)


@given(st.one_of(SCRAPS, st.text(max_size=90)))
@settings(max_examples=400)
def test_reading_never_fails_and_every_doubt_is_registered(text: str) -> None:
    for found in (capacitance(text), capacitance(text, "nF"), voltage(text), voltage(text, bare=True)):
        if found is not None:
            assert found.value is None or found.value > 0
            assert found.value is not None or found.doubts
            assert set(found.doubts) <= set(LISTS)
            assert all(LISTS[code].blocks for code in found.doubts)
    capacitance_and_voltage(text)
    sections(text)


@given(SCRAPS)
@settings(max_examples=300)
def test_white_space_around_changes_nothing(text: str) -> None:
    assert capacitance(f"  {text}\t") == capacitance(text)
    assert voltage(f"\u00a0{text} ") == voltage(text)


@given(POSITIVE, st.sampled_from(sorted(UNITS)))
def test_the_decimal_mark_does_not_change_the_meaning(value: Decimal, unit: str) -> None:
    number = f"{value:f}".rstrip("0").rstrip(".") if "." in f"{value:f}" else f"{value:f}"
    whole, _, part = number.partition(".")
    assume(len(part) != 3 or whole == "0")
    with_point, with_comma = capacitance(f"{number} {unit}"), capacitance(f"{number.replace('.', ',')} {unit}")
    assert with_point is not None
    assert with_point == with_comma
    assert with_point.value == value * UNITS[unit]


@pytest.mark.parametrize("scrap", ["1", "1,", "1.", " 1", "1-", "O", "V", "u", "?", "(", "10/", "1 0", "µF ", "or "])
def test_hostile_repetition_is_answered_at_once(scrap: str) -> None:
    for text in ((scrap * 80)[:80], scrap * 100_000):
        start = time.process_time()
        for read in (capacitance, voltage, capacitance_and_voltage, sections):
            read(text)
        assert time.process_time() - start < 0.5


@pytest.mark.parametrize(
    ("text", "microfarads"), [("255", "2.5"), ("405", "4"), ("505", "5"), ("605", "6"), ("805", "8")]
)
def test_old_round_values_are_coded_too(text: str, microfarads: str) -> None:
    # 2.5, 4, 5, 6, 8 µF: what valve sets hold beside the E series (common practice)
    reads(text, microfarads)


def test_125_is_an_old_value_or_a_code_and_a_tolerance_letter_settles_it() -> None:
    found = capacitance("125")
    assert found is not None
    assert (found.value, found.doubts) == (Decimal(125), ("unit-missing",))
    assert found.readings == (Decimal(125), Decimal("1.2"))
    lettered = capacitance("125K")
    assert lettered is not None
    assert (lettered.value, lettered.doubts, lettered.tolerance) == (Decimal("1.2"), (), "K")


@pytest.mark.parametrize(("text", "microfarads"), [("1R0", "1"), ("1R5", "1.5"), ("4R7", "4.7")])
def test_r_from_one_up_may_be_an_ohm_value(text: str, microfarads: str) -> None:
    reads(text, microfarads, "unit-missing")


@pytest.mark.parametrize("text", ["0.1pF", "10000000uF"])
def test_the_smallest_and_the_largest_that_is_believed(text: str) -> None:
    found = capacitance(text)
    assert found is not None
    assert found.doubts == ()


@pytest.mark.parametrize("text", ["0.09pF", "11000000uF"])
def test_what_is_beyond_is_doubted(text: str) -> None:
    found = capacitance(text)
    assert found is not None
    assert found.doubts == ("implausible-value",)


@pytest.mark.parametrize(
    ("text", "volts"), [("1kV6", "1600"), ("2KV5", "2500"), ("6V3", "6.3"), ("1 V", "1"), ("1.6 V", "1.6")]
)
def test_a_letter_may_stand_for_the_point_of_a_voltage(text: str, volts: str) -> None:
    found = voltage(text)
    assert found is not None
    assert (found.value, found.doubts) == (Decimal(volts), ())


def test_three_voltages_are_three_readings() -> None:
    found = voltage("16/25/35 V")
    assert found is not None
    assert (found.value, found.readings) == (None, (Decimal(16), Decimal(25), Decimal(35)))


def test_a_column_of_volts_says_nothing_of_alternating_current() -> None:
    found = voltage("275", bare=True)
    assert found is not None
    assert not found.ac


@pytest.mark.parametrize(("text", "microfarads"), [("4R7uF", "4.7"), ("4R7 nF", "0.0047"), ("0R1 MFD", "0.1")])
def test_r_may_be_the_point_before_a_unit(text: str, microfarads: str) -> None:
    reads(text, microfarads)


def test_more_than_four_voltages_are_a_list_and_no_choice() -> None:
    four = voltage("10/16/25/35 V")
    assert four is not None
    assert (four.value, len(four.readings)) == (None, 4)
    assert voltage("10/16/25/35/50 V") is None
