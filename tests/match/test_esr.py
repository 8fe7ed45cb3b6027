"""tan δ and ESR: worked limits of published sheets, the formula both ways, and the judgement of measured parts."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from recap.match.condition import Condition, Measured, Rated, assess, overall
from recap.match.esr import RADIAL, SNAP_IN, esr_of, new_part, tan_delta_limit, tan_delta_of
from recap.model import Mount

D = Decimal
POSITIVE = st.decimals(D("0.1"), D(10000), places=3)


# tan δ: radial series SU (dtsheet.com 1530872), 120 Hz, 20 °C; ESR = tan δ / (2π f C) as in Vishay 28309;
# the ohm figures are own arithmetic from those two.
@pytest.mark.parametrize(
    ("volts", "tan_delta", "at_100_uF", "at_1000_uF", "at_1000_uF_100_Hz"),
    [
        ("6.3", ".22", "2.9178", "0.29178", "0.35014"),
        ("10", ".19", "2.5200", "0.25200", "0.30239"),
        ("16", ".16", "2.1221", "0.21221", "0.25465"),
        ("25", ".14", "1.8568", "0.18568", "0.22282"),
        ("35", ".12", "1.5915", "0.15915", "0.19099"),
        ("50", ".10", "1.3263", "0.13263", "0.15915"),
    ],
)
def test_esr_limits_of_a_new_radial_part(
    volts: str, tan_delta: str, at_100_uF: str, at_1000_uF: str, at_1000_uF_100_Hz: str
) -> None:
    assert tan_delta_limit(D(100), D(volts))[0] == D(tan_delta)
    assert new_part(D(100), D(volts)).esr_ohm == pytest.approx(D(at_100_uF), rel=D("1e-4"))
    assert new_part(D(1000), D(volts)).esr_ohm == pytest.approx(D(at_1000_uF), rel=D("1e-4"))
    at_100_Hz = new_part(D(1000), D(volts), frequency_Hz=D(100))
    assert at_100_Hz.esr_ohm == pytest.approx(D(at_1000_uF_100_Hz), rel=D("1e-4"))


@pytest.mark.parametrize(
    ("value", "between"), [("2200", (".180", ".200")), ("3300", (".200", ".220")), ("4700", (".220", ".240"))]
)
def test_large_values_add_to_the_limit_between_the_two_readings_of_the_sheet(
    value: str, between: tuple[str, str]
) -> None:
    # SU: "+0.02 per 1000 µF for 1000 µF or more"; steps up or down are both read into it. 16 V.
    low, high = map(D, between)
    assert low <= tan_delta_limit(D(value), D(16))[0] <= high


def test_at_whole_thousands_every_reading_of_the_sheet_agrees() -> None:
    assert tan_delta_limit(D(10_000), D(16))[0] == D(".34")


def test_a_rating_between_two_listed_ones_takes_the_larger_limit() -> None:
    assert tan_delta_limit(D(100), D(40)) == (D(".12"), D(35))
    assert tan_delta_limit(D(100), D(125)) == (D(".16"), D(160))
    assert tan_delta_limit(D(100), D(500)) == (D(".20"), D(450))
    assert tan_delta_limit(D(100), D(4)) == (D(".22"), D("6.3"))


def test_snap_in_cans_have_their_own_sheet() -> None:
    # EPCOS B41505/B43505, November 2008: 100 Hz, 20 °C.
    assert new_part(D(220), D(400), mount=Mount.SNAP_IN).limits is SNAP_IN
    assert new_part(D(220), D(400), mount=Mount.SNAP_IN).tan_delta == D(".13")
    assert new_part(D(220), D(400), mount=Mount.RADIAL).limits is RADIAL


@given(POSITIVE, POSITIVE, st.sampled_from([D(50), D(100), D(120), D(1000)]))
def test_loss_factor_and_esr_are_each_others_inverse(tan_delta: D, value: D, frequency: D) -> None:
    back = tan_delta_of(esr_of(tan_delta, value, frequency), value, frequency)
    assert back == pytest.approx(tan_delta, rel=D("1e-20"))


def grade(rated: Rated, **measured: D) -> Condition:
    return overall(assess(rated, Measured(**measured)))


# IEC 60384-4, 4.13 and CECC 30301, 1.8.1 as printed in Vishay 28318 and 28340: 1.3 x and 3 x; ±45 % to 100 V,
# ±30 % above, -50/+45 % to 6.3 V. Limits met exactly are on the good side.
SOUND = Rated(D(470), D(25))
LIMIT = new_part(D(470), D(25)).esr_ohm


@pytest.mark.parametrize(
    ("times", "said"),
    [("1", "good"), ("1.3", "good"), ("1.31", "tired"), ("3", "tired"), ("3.01", "bad")],
)
def test_esr_is_good_to_1_3_times_and_worn_out_beyond_3_times_the_limit(times: str, said: str) -> None:
    assert grade(SOUND, esr_ohm=LIMIT * D(times)) == said


@pytest.mark.parametrize(
    ("volts", "share", "said"),
    [
        ("25", "0.80", "good"),
        ("25", "0.79", "tired"),
        ("25", "0.55", "tired"),
        ("25", "0.54", "bad"),
        ("6.3", "0.50", "tired"),
        ("6.3", "0.49", "bad"),
        ("100", "0.55", "tired"),
        ("160", "0.70", "tired"),
        ("160", "0.69", "bad"),
        ("25", "1.20", "good"),
        ("25", "1.21", "tired"),
        ("25", "1.46", "bad"),
    ],
)
def test_capacitance_is_good_in_tolerance_and_worn_out_beyond_useful_life(volts: str, share: str, said: str) -> None:
    assert grade(Rated(D(470), D(volts)), value_uF=470 * D(share)) == said


@pytest.mark.parametrize(
    ("volts", "drift", "said"),
    [("25", "0.85", "good"), ("25", "0.84", "tired"), ("200", "0.90", "good"), ("200", "0.89", "tired")],
)
def test_against_its_own_first_value_the_endurance_limit_counts(volts: str, drift: str, said: str) -> None:
    rated = Rated(D(470), D(volts), was_uF=D(500))
    assert grade(rated, value_uF=500 * D(drift)) == said


def test_a_part_as_in_the_help_text_is_good() -> None:
    assert grade(SOUND, value_uF=D(410), esr_ohm=D("0.35")) is Condition.GOOD


def test_at_100_kHz_low_esr_proves_nothing_but_high_esr_does() -> None:
    # common practice: ESR does not rise with frequency, so the 120 Hz limit is an upper one
    high = D(100_000)
    assert grade(SOUND, esr_ohm=LIMIT, frequency_Hz=high) is Condition.UNDECIDED
    assert grade(SOUND, esr_ohm=LIMIT * 2, frequency_Hz=high) is Condition.TIRED
    assert grade(SOUND, esr_ohm=LIMIT * 4, frequency_Hz=high) is Condition.BAD


@pytest.mark.parametrize(("ohm", "said"), [("0.24", "good"), ("0.36", "tired"), ("0.37", "bad")])
def test_at_100_kHz_the_sheets_impedance_decides(ohm: str, said: str) -> None:
    # Z <= 2 x after endurance, <= 3 x in useful life: Vishay 28318, 28340
    rated = Rated(D(470), D(25), impedance_ohm=D("0.12"))
    assert grade(rated, esr_ohm=D(ohm), frequency_Hz=D(100_000)) == said


def test_leakage_above_the_limit_is_bad_until_re_formed() -> None:
    # KEMET ESL, SU: 0.01 CV or 3 µA; 1000 µF 16 V -> 160 µA
    rated = Rated(D(1000), D(16))
    assert grade(rated, leakage_uA=D(160)) is Condition.GOOD
    (found,) = assess(rated, Measured(leakage_uA=D(161)))
    assert found.condition is Condition.BAD
    assert "re-form" in found.reason


def test_the_worst_quantity_decides_and_nothing_measured_decides_nothing() -> None:
    assert grade(SOUND, value_uF=D(470), esr_ohm=LIMIT * 5) is Condition.BAD
    assert grade(SOUND) is Condition.UNDECIDED


@given(st.decimals(D("0.01"), D(5000), places=2), st.decimals(D(0), D(1000), places=2))
def test_more_esr_is_never_a_better_condition(esr: D, more: D) -> None:
    for frequency in (D(120), D(100_000)):
        before = grade(SOUND, esr_ohm=esr, frequency_Hz=frequency)
        after = grade(SOUND, esr_ohm=esr + more, frequency_Hz=frequency)
        assert after.rank >= before.rank
