"""What the search looks into next: the order of what waits, and the term that is turned."""

from __future__ import annotations

import pytest

from recap.optimise.gains import LEAST, Gains, Turn
from recap.optimise.nodes import Node, Tried

WHOLE = 1e-6


def tried(value: float) -> Tried:
    return Tried(1.0, value, False, None, frozenset(), (), {})


def test_parts_of_the_search_come_before_leaves_and_leaves_to_be_counted_piece_by_piece_last() -> None:
    part, later = Node(9.0, 1, {}), Node(9.0, 2, {})
    near, far = Node(1.0, 3, {}, tried=tried(5.0)), Node(0.0, 4, {}, tried=tried(6.0))
    counted = Node(1.0, 5, {}, tried=tried(4.0), exact=frozenset({0}))
    assert sorted([counted, far, near, later, part]) == [part, later, near, far, counted]
    assert min([Node(9.0, 1, {}), Node(8.0, 2, {})]).bound == 8.0


def test_only_terms_that_are_not_whole_are_turned() -> None:
    gains = Gains()
    assert gains.choose([0, 1, 2], {0: 0.0, 1: 1.0, 2: 1 - WHOLE / 2}, WHOLE) is None
    assert gains.choose([0, 1, 2], {0: 0.0, 1: 2 * WHOLE, 2: 1.0}, WHOLE) == 1


def test_as_long_as_nothing_was_seen_the_most_doubtful_term_is_turned() -> None:
    assert Gains().choose([0, 1, 2], {0: 0.2, 1: 0.45, 2: 0.7}, WHOLE) == 1


def test_the_term_of_which_both_sides_were_seen_to_cost_much_is_turned() -> None:
    gains = Gains()
    for side in (0, 1):
        gains.note(Turn(7, side, 0.5), 10.0)  # 20 for a whole turn
        gains.note(Turn(8, side, 0.5), 1.0)
    gains.note(Turn(9, 0, 0.5), 1000.0)
    gains.note(Turn(9, 1, 0.5), 0.0)  # one side is for nothing: half of the search is left as it was
    halves = {7: 0.5, 8: 0.5, 9: 0.5}
    assert gains.choose(halves, halves, WHOLE) == 7
    assert gains.choose([8, 9], halves, WHOLE) == 8


def test_a_turn_costs_by_how_far_it_is_and_times_are_evened_out() -> None:
    gains = Gains()
    for side in (0, 1):
        gains.note(Turn(1, side, 0.25), 3.0)
        gains.note(Turn(1, side, 0.5), 2.0)  # 12 and 4 for a whole turn: 8
        gains.note(Turn(2, side, 1.0), 9.0)
    assert gains.choose([1, 2], {1: 0.5, 2: 0.5}, WHOLE) == 2
    assert gains.choose([1, 2], {1: 0.5, 2: 0.9}, WHOLE) == 1  # to 0 it costs 8.1, to 1 only 0.9: less than 4 and 4


def test_a_term_not_seen_yet_counts_as_the_usual_one() -> None:
    gains = Gains()
    for side in (0, 1):
        gains.note(Turn(1, side, 1.0), 2.0)
        gains.note(Turn(1, side, 1.0), 2.0)  # seen twice, it still costs 2
        gains.note(Turn(2, side, 1.0), 6.0)
    halves = {1: 0.5, 2: 0.5, 3: 0.5}  # the usual one costs 4
    assert gains.choose([1, 3], halves, WHOLE) == 3
    assert gains.choose([2, 3], halves, WHOLE) == 2


def test_a_cost_below_nothing_is_a_solvers_rounding() -> None:
    gains = Gains()
    gains.note(Turn(1, 0, 0.5), -1e-9)
    assert gains.seen[1, 0] == (0.0, 1)


@pytest.mark.parametrize("dear", [0, 1])
def test_a_side_for_nothing_does_not_make_the_other_forgotten(dear: int) -> None:
    gains = Gains()
    for term, cost in ((1, 5.0), (2, 50.0)):
        gains.note(Turn(term, dear, 0.5), cost)
        gains.note(Turn(term, 1 - dear, 0.5), 0.0)
    assert LEAST > 0
    assert gains.choose([1, 2], {1: 0.5, 2: 0.5}, WHOLE) == 2
