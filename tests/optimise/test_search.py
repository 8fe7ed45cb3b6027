"""What is rough is never taken for proven: each choice of suppliers and tiers is solved to the end, or waits for it."""

from __future__ import annotations

import itertools
from dataclasses import replace
from fractions import Fraction
from typing import TYPE_CHECKING

import pytest
from hypothesis import assume, given, settings

from recap.optimise import columns, instance, leaf, search
from recap.optimise.decode import total_of
from recap.optimise.nodes import Node, Tried
from recap.optimise.relaxation import Relaxation
from recap.optimise.search import Search
from recap.optimise.solver import UNTIRING
from tests.optimise.oracle import best
from tests.optimise.problems import offer, problem, small_problems, terms

if TYPE_CHECKING:
    from recap.model import Problem
    from recap.optimise.leaf import Leaf

TWO_OF_EACH = problem(
    {"g": 2, "h": 3},
    [offer("A", "p", "1:0.30"), offer("A", "q", "1:0.40"), offer("A", "r", "1:0.20"), offer("A", "s", "1:0.25")],
    {"g": "p q", "h": "r s"},
    [terms("A", "0:5")],
)
CHEAPEST, DEARER = 500 + 2 * 30 + 3 * 20, 500 + 2 * 40 + 3 * 20


def begun(asked: Problem) -> tuple[Search, Leaf]:
    """A search of one supplier with one tier, and its one leaf."""
    built = instance.build(asked)
    listed = columns.build(built)
    relaxed = Relaxation(built, listed)
    frame = leaf.frame_of(built, listed, relaxed.scale)
    point = relaxed.solve({}, None)
    assert point is not None
    opened = leaf.open_leaf(frame, {0: 0}, point)
    assert opened is not None
    return Search(built, relaxed, frame, UNTIRING, None), opened


@pytest.mark.parametrize("proven", [False, True])
def test_a_rough_value_within_what_was_looked_at_is_not_the_least(proven: bool) -> None:
    state, here = begun(TWO_OF_EACH)
    width = here.highest if not proven else (DEARER - CHEAPEST) / 2  # narrower than what lies below the value
    tried = Tried(width, float(DEARER), proven, DEARER, frozenset(), (), {})
    state.best = DEARER
    search._settle(state, Node(here.bound, 0, {}, leaf=here, tried=tried), itertools.count(1))
    assert state.best == CHEAPEST
    assert state.choice is not None
    assert total_of(state.instance, state.choice.bought) == CHEAPEST


def test_what_was_proven_goes_with_the_bound_that_it_was_proven_from() -> None:
    state, here = begun(TWO_OF_EACH)
    before = replace(here, bound=here.bound - 7)
    state.dived = before, Tried(20.0, float(DEARER), True, DEARER, frozenset(), (), {})
    known = search._known(state, here)
    assert known is not None
    assert known.width == 13
    assert here.bound + known.width == before.bound + 20
    assert search._known(state, replace(here, tiers={0: 1})) is None


@settings(max_examples=25)
@given(small_problems())
def test_counting_piece_by_piece_is_to_the_end_however_short_the_patience(asked: Problem) -> None:
    asked = replace(asked, one_part_per_group=True)
    built = instance.build(asked)
    listed = columns.build(built)
    assume(len({g for column in listed.all for g in column.groups}) == len(built.needs))
    patience, search.PATIENCE = search.PATIENCE, 1e-6
    try:
        state = search.search(built, listed)
    finally:
        search.PATIENCE = patience
    expected = best(asked)
    assert state.proven
    assert (state.best is None) == (expected is None)
    if expected is not None:
        assert state.best == int(expected[0] / Fraction(built.unit))
