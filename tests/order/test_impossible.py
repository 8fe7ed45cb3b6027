"""An order that can't be is explained as a person would, and the most that can be had is offered."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from functools import partial

from hypothesis import given, settings

from recap.model import Need, Outcome, Problem, Status, Verdict
from recap.optimise.solve import solve
from recap.order.impossible import look_into
from recap.order.report import NearMiss, UnmetNeed
from recap.order.unmet import near_misses, together_needs
from tests.optimise.problems import lying, offer, problem, small_problems, terms


def test_too_little_in_every_shop_is_said_with_the_most_there_is() -> None:
    short = problem(
        {"a": 9, "b": 1},
        [
            offer("north", "A1", "1:1.00", stock=5),
            offer("south", "A1", "1:1.00", stock=4),
            offer("north", "B1", "1:2.00"),
        ],
        {"a": "A1", "b": "B1"},
        [terms("north"), terms("south")],
        drawer=[lying("A1", 2)],
    )
    why = look_into(short, solve)
    (found,) = why.shortages
    assert (found.group, found.pieces, found.most) == ("a", 9, 7)
    assert found.reason == "the most that can be had of one part is 7 (north A1)"
    assert why.left_out == ("a",)
    assert why.outcome.order is not None
    assert why.outcome.order.total == Decimal("2.00")


def test_split_groups_count_all_shops_and_the_drawer_together() -> None:
    short = problem(
        {"a": 12},
        [offer("north", "A1", "1:1.00", stock=5), offer("south", "A2", "1:1.00", stock=4)],
        {"a": "A1 A2"},
        [terms("north"), terms("south")],
        drawer=[lying("A3", 9), lying("A2", 2)],
        one_part=False,
    )
    (found,) = look_into(short, solve).shortages
    assert (found.most, found.reason) == (11, "all shops and the drawer together have 11")


def test_too_few_suppliers_names_the_least_number_that_works_and_its_total() -> None:
    given_two = problem(
        {"a": 1, "b": 1},
        [offer("north", "A1", "1:1.00"), offer("south", "B1", "1:2.00")],
        {"a": "A1", "b": "B1"},
        [terms("north", "0:1.00"), terms("south", "0:3.00")],
        max_suppliers=1,
    )
    why = look_into(given_two, solve)
    assert [(way.text, way.total) for way in why.ways] == [
        ("with 2 suppliers instead of 1 it can be done", Decimal("7.00"))
    ]
    assert why.left_out == ("b",)
    assert why.outcome.status is Status.OPTIMAL


def test_a_minimum_order_out_of_reach_is_named() -> None:
    poor = problem({"a": 1}, [offer("north", "A1", "1:1.00", stock=3)], {"a": "A1"}, [terms("north", minimum="5.00")])
    why = look_into(poor, solve)
    assert [way.text for way in why.ways] == ["without the minimum order of north, 5.00 EUR, it can be done"]
    assert why.left_out == ("a",)
    assert why.outcome.order is not None
    assert why.outcome.order.total == 0


def test_stock_that_groups_share_is_named() -> None:
    shared = problem(
        {"a": 2, "b": 2}, [offer("north", "A1", "1:1.00", stock=3)], {"a": "A1", "b": "A1"}, [terms("north")]
    )
    why = look_into(shared, solve)
    assert "with more than 3 pieces of north A1 it can be done" in [way.text for way in why.ways]
    assert len(why.left_out) == 1


@settings(max_examples=40, deadline=None)
@given(small_problems())
def test_what_is_left_out_is_really_out_of_reach_and_the_rest_is_covered(given_problem: Problem) -> None:
    if solve(given_problem).status is not Status.IMPOSSIBLE:
        return
    why = look_into(given_problem, solve)
    assert why.left_out
    assert why.outcome.status is Status.OPTIMAL
    covered = {need.group for need in why.problem.needs}
    assert covered | set(why.left_out) == {need.group for need in given_problem.needs}
    for need in given_problem.needs:
        if need.group in why.left_out:
            more = tuple(n for n in given_problem.needs if n.group in covered or n == need)
            assert solve(_replaced(given_problem, more)).status is Status.IMPOSSIBLE


def _replaced(given_problem: Problem, needs: tuple[Need, ...]) -> Problem:
    return replace(given_problem, needs=needs)


def test_parts_that_fail_alike_are_named_together_and_no_reason_twice() -> None:
    low, small = "voltage: 25 V is below the old rating of 250 V", "size: height 11 mm for 5 mm"
    need = UnmetNeed(
        "100 µF 250 V",
        2,
        f"nothing fits; nearest is A-1 (north): {low}",
        (
            NearMiss("north", "A-1", Verdict.NO, low),
            NearMiss("south", "B-2", Verdict.NO, low),
            NearMiss("north", "C-3", Verdict.NO, f"{low}; {small}"),
            NearMiss("south", "D-4", Verdict.NO, f"{low}; {small}"),
        ),
    )
    assert near_misses(need) == (
        ("south B-2 (no)", "likewise"),
        ("north C-3, south D-4 (no)", f"{low}; {small}"),
    )


def test_only_ways_out_that_are_not_taken_yet_are_named() -> None:
    short = problem({"a": 9}, [offer("north", "A1", "1:1.00", stock=5)], {"a": "A1"}, [terms("north")])
    (told,) = together_needs(look_into(short, solve), short)
    assert told.reason.endswith("more parts come in with --care, with --split, or with another shop's price list")
    split = replace(short, one_part_per_group=False)
    (told,) = together_needs(look_into(split, solve), split, care=True)
    assert told.reason.endswith("have 5; more parts come in with another shop's price list")


def test_what_a_change_would_cost_is_said_as_people_pay_it() -> None:
    both = problem(
        {"a": 1, "b": 1},
        [offer("north", "A1", "1:1.123456789"), offer("south", "B1", "1:2")],
        {"a": "A1", "b": "B1"},
        [terms("north"), terms("south")],
        max_suppliers=1,
    )
    (told,) = together_needs(look_into(both, solve), both)
    assert "with 2 suppliers instead of 1 it can be done (total 3.12)" in told.reason


def test_a_part_of_the_drawer_without_a_number_is_named_once() -> None:
    need = UnmetNeed("1 µF", 1, "nothing fits", (NearMiss("drawer", "drawer row 4", Verdict.NO, "too small"),))
    assert near_misses(need) == (("drawer row 4 (no)", "too small"),)


def two_shops() -> Problem:
    """Two groups that only different shops have, and one parcel allowed."""
    return problem(
        {"a": 1, "b": 1},
        [offer("north", "A1", "1:1.00"), offer("south", "B1", "1:2.00")],
        {"a": "A1", "b": "B1"},
        [terms("north"), terms("south")],
        max_suppliers=1,
    )


def test_what_can_be_had_is_looked_for_by_any_order_and_then_priced() -> None:
    """Only the order told of need be the cheapest: whether groups go together is told by any order of theirs."""
    apart = problem(
        {"a": 1, "b": 1, "c": 1},
        [offer("north", "A1", "1:1.00"), offer("south", "B1", "1:2.00"), offer("north", "C1", "1:1.00")],
        {"a": "A1", "b": "B1", "c": "C1"},
        [terms("north", "0:1.00"), terms("south", "0:3.00")],
        max_suppliers=1,
    )
    asked: list[int] = []

    def cheapest(given: Problem) -> Outcome:
        asked.append(len(given.needs))
        return solve(given)

    why = look_into(apart, cheapest, partial(solve, any_order=True))
    assert why.left_out == ("b",)
    assert why.outcome.order is not None
    assert why.outcome.order.total == Decimal("3.00")
    assert asked == [2, 3, 3], "the order for a and c, then with two suppliers, then with groups of several parts"
    assert not why.hurried


def test_where_the_time_was_too_short_that_is_said() -> None:
    """Nothing found in time is not the same as nothing there."""
    apart = two_shops()
    why = look_into(apart, lambda _: Outcome(Status.FEASIBLE), solve)
    assert why.hurried
    assert why.ways == ()
    (told,) = together_needs(why, apart)
    assert told.reason.endswith("no single change was found that helps; the time was too short to try everything")


def test_a_way_out_whose_order_is_not_proven_may_cost_less() -> None:
    apart = replace(two_shops(), one_part_per_group=False)
    why = look_into(apart, lambda given: replace(solve(given), status=Status.FEASIBLE))
    (told,) = together_needs(why, apart)
    assert "with 2 suppliers instead of 1 it can be done (total 3.00 or less)" in told.reason
