"""Ripple by frequency and the heat of it, against the sheets and the equation they stand in."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from recap.match.ripple import ambient_from_case, equivalent_ripple, frequency_factor


@pytest.mark.parametrize(
    ("frequency", "volts", "factor"),
    [
        (100, 16, 1.00),
        (50, 16, 0.93),  # Vishay 056/057 (28340) is the least: .93 to 25 V; 021 ASM and 048 RML have .95
        (10_000, 16, 1.18),  # Vishay 056/057, 10 to 25 V
        (1000, 400, 1.29),  # Vishay 056/057, above 100 V
        (10_000, 400, 1.40),
        (100_000, 63, 1.22),  # beyond the sheets nothing more is claimed
        (120, 63, 1.00),  # between two listed frequencies the lower one counts
    ],
)
def test_the_least_factor_of_the_sheets_counts(frequency: float, volts: float, factor: float) -> None:
    assert frequency_factor(frequency, volts) == factor


def test_currents_of_two_frequencies_heat_like_one() -> None:
    # I = sqrt(sum (In/kn)^2), "Life of Alum Caps", equation 4.6; the numbers are own arithmetic.
    assert equivalent_ripple([(0.30, 1.00), (0.50, 1.20)]) == pytest.approx(0.5134, abs=5e-5)
    assert equivalent_ripple([(0.30, 1.00), (0.50, 1.60)]) == pytest.approx(0.4332, abs=5e-5)


@pytest.mark.parametrize(
    ("diameter", "alpha"), [(8, 1.0), (10, 1.1), (12.5, 1.1), (16, 1.2), (18, 1.2), (22, 1.3), (25, 1.4), (35, 1.6)]
)
def test_the_case_is_cooler_than_the_core_by_the_makers_ratio(diameter: float, alpha: float) -> None:
    # Rubycon Engineering Division, Lifetime calculation formula, section 2
    assert ambient_from_case(60, 5, diameter) == pytest.approx(60 - 5 / alpha)


@given(st.floats(1, 1e6), st.floats(1, 1e6), st.sampled_from([None, 6.3, 25.0, 63.0, 400.0, 2000.0]))
def test_a_higher_frequency_never_allows_less(a: float, b: float, volts: float | None) -> None:
    low, high = sorted((a, b))
    assert frequency_factor(low, volts) <= frequency_factor(high, volts)


@given(st.lists(st.tuples(st.floats(0, 1e4), st.floats(0.5, 2)), min_size=1, max_size=4))
def test_together_they_heat_at_least_like_the_largest(currents: list[tuple[float, float]]) -> None:
    assert equivalent_ripple(currents) >= max(i / k for i, k in currents) * (1 - 1e-12)
