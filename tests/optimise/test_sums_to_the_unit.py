"""Counting one parcel by all its sums is exact to the last unit: what it finds is found with no money to spare."""

from __future__ import annotations

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from recap.optimise import sums
from tests.optimise.test_residue import KINDS, opened


@pytest.mark.parametrize("kind", KINDS)
@settings(max_examples=30, suppress_health_check=[HealthCheck.filter_too_much])
@given(st.data())
def test_an_order_is_found_for_just_its_price_and_none_for_a_unit_less(kind: str, data: st.DataObject) -> None:
    """A bound on what later groups cost that is too high by anything would lose the order, and call another proven."""
    here, _ = opened(data.draw(KINDS[kind]), data)
    assume(here.tiers)
    supplier = data.draw(st.sampled_from(sorted(here.tiers)))
    answer = sums.cheapest(here, supplier, here.bound, int(here.bound + here.highest + 10**13))
    assume(not isinstance(answer, bool))
    assert not isinstance(answer, bool)
    total = answer[0]
    again = sums.cheapest(here, supplier, here.bound, total)
    assert not isinstance(again, bool)
    assert again[0] == total
    assert sums.cheapest(here, supplier, here.bound, total - 1) is False
    assert sums.cheapest(here, supplier, here.bound, int(here.fixed) - 1) is False
