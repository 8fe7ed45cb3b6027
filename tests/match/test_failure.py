"""MIL-HDBK-217F failure rates, base edition and Notice 2, against the handbook's own figures."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from recap.match.failure import ENVIRONMENTS, PI_E, PI_Q, Edition, Style, base_edition, notice_2, rate, stress


# Base edition: the parts-count table's generic rates come from these conditions at quality M.
@pytest.mark.parametrize(
    ("environment", "temp", "printed"), [("GB", 30, 0.029), ("GF", 40, 0.081), ("GM", 45, 0.58), ("NS", 40, 0.24)]
)
def test_base_edition_dry_parts_give_the_parts_count_rates(environment: str, temp: int, printed: float) -> None:
    found = base_edition(1600, 0.5, temp, quality="M", environment=environment)
    assert found.per_million_h == pytest.approx(printed, rel=0.02)


@pytest.mark.parametrize(("environment", "temp", "printed"), [("GB", 30, 0.024), ("GF", 40, 0.061), ("GM", 45, 0.42)])
def test_base_edition_wet_parts_give_the_parts_count_rates(environment: str, temp: int, printed: float) -> None:
    found = base_edition(1700, 0.5, temp, style=Style.WET, rated_temp_C=125, quality="M", environment=environment)
    assert found.per_million_h == pytest.approx(printed, rel=0.02)


def test_base_edition_worked_part() -> None:
    # MIL-HDBK-217F 10.15; the numbers are own arithmetic.
    found = base_edition(1000, 0.5, 50)
    assert found.factors["λb"] == pytest.approx(0.045558, rel=1e-4)
    assert found.factors["πCV"] == pytest.approx(1.18891, rel=1e-4)
    assert found.per_million_h == pytest.approx(0.54164, rel=1e-4)
    assert base_edition(1000, 0.6, 40).per_million_h == pytest.approx(0.48731, rel=1e-4)


def test_notice_2_worked_parts() -> None:
    # MIL-HDBK-217F Notice 2, 10.1; the numbers are own arithmetic.
    found = notice_2(1000, 0.5, 50)
    assert found.factors["πT"] == pytest.approx(2.87184, rel=1e-4)
    assert found.factors["πC"] == pytest.approx(4.89779, rel=1e-4)
    assert found.factors["πV"] == pytest.approx(1.40188, rel=1e-4)
    assert found.per_million_h == pytest.approx(0.023662, rel=1e-3)
    assert notice_2(1000, 0.5, 40).per_million_h == pytest.approx(0.015833, rel=1e-3)
    assert notice_2(100, 0.8, 60).per_million_h == pytest.approx(0.075599, rel=1e-3)
    assert notice_2(1000, 0, 25).per_million_h == pytest.approx(0.0058773, rel=1e-3)


def test_notice_2_at_its_reference_point_is_a_product_of_round_numbers() -> None:
    # 1 µF, S 0.6, 25 °C: πT 1, πC 1, πV 2.
    assert notice_2(1, 0.6, 25).per_million_h == pytest.approx(0.0024, rel=1e-12)


def test_the_stress_of_the_handbooks_own_example() -> None:
    # Notice 2, section 10.2: 200 V DC and 50 V AC rms on a 400 V rating: S = 0.68.
    assert stress(200, 400, 50) == pytest.approx(0.68, abs=0.005)


def test_the_editions_differ_twentyfold_for_the_same_part() -> None:
    ratio = rate(Edition.BASE, 1000, 0.5, 50).per_million_h / rate(Edition.NOTICE_2, 1000, 0.5, 50).per_million_h
    assert 15 < ratio < 30


def test_both_editions_know_fourteen_environments_and_end_with_commercial_at_ten() -> None:
    for edition in Edition:
        assert tuple(PI_E[edition]) == ENVIRONMENTS
        assert len(ENVIRONMENTS) == 14
        assert PI_Q[edition]["commercial"] == 10


def test_the_chance_of_a_failure_among_many() -> None:
    # 1 - e^-x with x = 0.5 per 10^6 h x 10 pieces x 20,000 h = 0.1
    found = rate(Edition.BASE, 1000, 0.5, 50)
    hours = 0.1 / (found.per_million_h * 1e-6 * 10)
    assert found.chance(hours, 10) == pytest.approx(0.0951626, rel=1e-5)


@pytest.mark.parametrize("edition", list(Edition))
def test_what_the_tables_do_not_have_is_refused(edition: Edition) -> None:
    with pytest.raises(ValueError, match="no quality"):
        rate(edition, 100, 0.5, 40, quality="gold")
    with pytest.raises(ValueError, match="no environment"):
        rate(edition, 100, 0.5, 40, environment="attic")
    with pytest.raises(ValueError, match="above 0"):
        rate(edition, 0, 0.5, 40)


@given(
    st.sampled_from(list(Edition)),
    st.floats(0.01, 1.2),
    st.floats(0, 0.5),
    st.floats(-20, 100),
    st.floats(0, 20),
)
def test_more_stress_or_heat_never_fails_less(edition: Edition, s: float, more: float, t: float, hotter: float) -> None:
    here = rate(edition, 100, s, t).per_million_h
    assert rate(edition, 100, s + more, t).per_million_h >= here
    assert rate(edition, 100, s, t + hotter).per_million_h >= here
