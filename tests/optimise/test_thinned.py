"""Offers that another always replaces are left out of a relaxation, never of an order."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from fractions import Fraction
from typing import TYPE_CHECKING

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from recap.model import Need, Status
from recap.optimise import instance, program
from recap.optimise.branching import Branching, Node, search_steps
from recap.optimise.residue import FINE
from recap.optimise.solve import solve
from recap.optimise.solver import UNTIRING
from recap.optimise.thinned import replaceable
from tests.optimise.oracle import best
from tests.optimise.problems import offer, problem, small_problems, terms

if TYPE_CHECKING:
    from recap.model import Part, Problem
    from recap.optimise.program import Model

ENDLESS = float("inf")
SPLIT = st.one_of(small_problems(), small_problems(rising=True)).map(
    lambda asked: replace(asked, one_part_per_group=False, max_suppliers=0)
)


def left_out(*offers: Part, suits: str = "A B") -> set[str]:
    """Return the numbers left out of those that suit group g; all but B suit group h too."""
    numbers = {each.number for each in offers}
    suits_of = {"g": suits, "h": " ".join(sorted(numbers - {"B"}))}
    shops = [terms(name, "0:5.90 50:0") for name in sorted({each.supplier for each in offers})]
    asked = problem({"g": 4, "h": 8}, list(offers), suits_of, shops, one_part=False)
    return {asked.offers[index].number for index in replaceable(instance.build(asked))}


def test_what_costs_more_at_the_same_shop_and_serves_no_more_is_left_out() -> None:
    assert left_out(offer("Alder", "A", "1:0.40 10:0.30"), offer("Alder", "B", "1:0.41 10:0.30")) == {"B"}


def test_of_two_alike_one_stays() -> None:
    same = offer("Alder", "A", "1:0.40"), offer("Alder", "C", "1:0.40")
    assert len(left_out(*same, suits="A C")) == 1


@pytest.mark.parametrize(
    ("better", "why"),
    [
        (offer("Birch", "A", "1:0.10"), "another shop's"),
        (offer("Alder", "A", "1:0.50 3:0.30"), "dearer for one piece"),
        (offer("Alder", "A", "1:0.10", multiple=10), "ten must be bought for one"),
        (offer("Alder", "A", "1:0.10", minimum=10), "and so here"),
        (offer("Alder", "A", "1:0.10", stock=11), "not enough for all that it would serve"),
        (offer("Alder", "A", "1:0.10 5:0.20"), "prices that rise: two lots cost more together"),
    ],
)
def test_what_may_be_better_or_the_only_one_stays(better: Part, why: str) -> None:
    assert left_out(better, offer("Alder", "B", "1:0.40")) == set(), why


def test_what_serves_more_groups_stays() -> None:
    cheap, wide = offer("Alder", "B", "1:0.10"), offer("Alder", "A", "1:0.40")
    assert left_out(wide, cheap) == set()


def test_nothing_is_left_out_where_pieces_left_over_count_or_a_group_takes_one_part() -> None:
    asked = problem(
        {"g": 4}, [offer("Alder", "A", "1:0.40"), offer("Alder", "B", "1:0.50")], {"g": "A B"}, [terms("Alder")],
        one_part=False,
    )  # fmt: skip
    assert replaceable(instance.build(asked))
    assert not replaceable(instance.build(replace(asked, one_part_per_group=True)))
    shared = replace(asked, needs=(Need("g", 4, spares=1),))
    assert not replaceable(instance.build(shared))


def test_the_dearer_offer_that_reaches_free_shipping_is_bought() -> None:
    """A at 49.90 always replaces B at 50.00, and B is best: shipping of 5.90 is free from 50.00 on."""
    offers = [offer("Alder", "A", "1:49.90", stock=1), offer("Alder", "B", "1:50.00", stock=1)]
    asked = problem({"g": 1}, offers, {"g": "A B"}, [terms("Alder", "0:5.90 50:0")], one_part=False)
    assert replaceable(instance.build(asked)) == {1}
    outcome = solve(asked)
    assert outcome.status is Status.OPTIMAL
    assert outcome.order is not None
    assert outcome.order.total == Decimal(50)


def written(asked: Problem, scale: float) -> Model:
    model = program.build(instance.build(asked))
    model.minimise(model.costs(), scale / float(model.instance.unit))
    return model


@settings(max_examples=60)
@given(SPLIT, st.sampled_from([1e-4, 1e-2]), st.data())
def test_no_order_is_below_what_is_found_without_them(asked: Problem, scale: float, data: st.DataObject) -> None:
    model = written(asked, scale)
    assume(model.step)
    answer = search_steps(model)
    assume(answer.objective is not None)
    assert answer.objective is not None
    places = [*model.used.values(), *model.tier.values()]
    fixed = {var.index: program.rounded(var) for var in places if data.draw(st.booleans())}
    search = Branching(model, UNTIRING, None, ENDLESS)
    seen, whole = search.look(Node(0.0, 0, fixed)), search.relax(Node(0.0, 0, fixed))
    assert seen is not None
    assert whole is not None
    assert seen.value <= whole.value * (1 + 1e-9) + 1e-6
    assert whole.value <= answer.objective * (1 + 1e-9) + 1e-6


@settings(max_examples=60)
@given(SPLIT, st.sampled_from(["1", "1.000000001", "0.333333333333333333"]))
def test_dearer_copies_of_offers_change_no_total_for_the_worse(asked: Problem, times: str) -> None:
    """Of every offer a copy that costs a little more: nearly all are replaceable, and some are what meets a minimum."""
    copies = tuple(
        replace(
            each,
            number=f"{each.number}'",
            prices=tuple(replace(b, unit_price=b.unit_price * Decimal("1.07") * Decimal(times)) for b in each.prices),
        )
        for each in asked.offers
    )
    count = len(asked.offers)
    assume(count <= 3)
    suits = {group: (*own, *(index + count for index in own)) for group, own in asked.suits.items()}
    doubled = replace(asked, offers=asked.offers + copies, suits=suits)
    outcome, truth = solve(doubled), best(doubled)
    assert (None if outcome.order is None else Fraction(outcome.order.total)) == (None if truth is None else truth[0])


def test_what_falls_short_without_them_is_solved_with_all() -> None:
    """The bench above at the leaf of free shipping: 49.90 topped up by 0.10 would do, and nobody sells that."""
    offers = [offer("Alder", "A", "1:49.90", stock=1), offer("Alder", "B", "1:50.00", stock=1)]
    model = written(problem({"g": 1}, offers, {"g": "A B"}, [terms("Alder", "0:5.90 50:0")], one_part=False), 1.0)
    search = Branching(model, UNTIRING, None, ENDLESS)
    free = {model.used[0].index: 1, model.tier[0, 0].index: 0, model.tier[0, 1].index: 1}
    assert search.thinned.thinner
    assert search.solve(free, {}, 0.0, {"time_limit": 10.0}, search.thinned) is None
    assert search.best == ENDLESS, "an order that falls short is none"
    assert search.settle(Node(0.0, 0, free), 10.0, 0.0) == ENDLESS
    assert search.best == pytest.approx(50.0, rel=1e-9)


def test_an_order_that_needs_no_topping_up_is_found_without_them() -> None:
    offers = [offer("Alder", "A", "1:0.40"), offer("Alder", "B", "1:0.50")]
    model = written(problem({"g": 4}, offers, {"g": "A B"}, [terms("Alder", "0:5.90 50:0")], one_part=False), 1.0)
    search = Branching(model, UNTIRING, None, ENDLESS)
    fixed = {model.used[0].index: 1, model.tier[0, 0].index: 1, model.tier[0, 1].index: 0}
    assert search.solve(fixed, {}, 0.0, {"time_limit": 10.0}, search.thinned) == ENDLESS
    assert search.best == pytest.approx(7.50, rel=1e-9)


@settings(max_examples=60)
@given(SPLIT)
def test_thinned_or_not_the_search_comes_to_the_same(asked: Problem) -> None:
    model, other = written(asked, 1e-4), written(asked, 1e-4)
    assume(model.step)
    found = search_steps(model)
    search = Branching(other, UNTIRING, None, ENDLESS)
    whole = search.solve({}, {}, 0.0, {"time_limit": 30.0})
    assert whole == ENDLESS
    assert found.objective == (None if search.best == ENDLESS else pytest.approx(search.best, rel=1e-9, abs=1e-6))


@pytest.mark.parametrize("places", [0, 9, 15])
def test_topping_up_costs_what_is_short_and_no_carry_more(places: int) -> None:
    """Amounts of many decimals are split into digits: what is short by little costs little, not a whole carry."""
    price = Decimal("1.25") - Decimal(10) ** -places if places else Decimal(1)
    offers = [offer("Alder", "A", f"1:{price}", stock=4), offer("Alder", "B", "1:1.25", stock=4)]
    asked = problem({"g": 4}, offers, {"g": "A B"}, [terms("Alder", "0:1.00", "5.00")], one_part=False)
    model = written(asked, 1e-4)
    search = Branching(model, UNTIRING, None, ENDLESS)
    assert search.thinned.thinner
    highs = search.thinned.in_whole_numbers(search.kinds)
    highs.run()
    assert highs.getInfo().objective_function_value == pytest.approx(6.0 / 1e-4, rel=FINE)
    outcome = solve(asked)
    assert outcome.order is not None
    assert outcome.order.total == Decimal(6)
