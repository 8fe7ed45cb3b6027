"""Problems in whole numbers, topping up to a threshold, and back to an order: worked by hand, and against money."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from itertools import product
from typing import TYPE_CHECKING

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from recap import money
from recap.model import DrawerUse, Need, Use
from recap.optimise import fill, rebuild
from recap.optimise.decode import total_of
from recap.optimise.fill import Line
from recap.optimise.instance import Offer, Step, Tier, build, decimals, whole
from tests.optimise.problems import lying, offer, problem, small_problems, terms

if TYPE_CHECKING:
    from recap.model import Part, Problem, SupplierTerms
    from recap.optimise.instance import Instance

D = Decimal


def steps_of(part: Part, wanted: int, of: SupplierTerms | None = None) -> tuple[Step, ...]:
    return build(problem({"g": wanted}, [part], {"g": part.number}, [of or terms("A")])).offers[0].steps


def tiers_of(of: SupplierTerms) -> tuple[Tier, ...]:
    return build(problem({"g": 1}, [offer("A", "p", "1:0.01")], {"g": "p"}, [of])).suppliers[0].tiers


def test_the_places_that_hold_all_amounts() -> None:
    assert decimals([D("0.42"), D("0.3100"), D(5), D(0)]) == 2
    assert decimals([D("0.0125"), D("1.5")]) == 4
    assert decimals([]) == 0
    assert whole(D("4.20"), 3) == 4200


def test_each_money_has_the_unit_that_holds_it_and_the_bench_the_one_that_holds_the_landed_cost() -> None:
    # cents at the supplier; 1.17 × 1.19 has four places, × 1.037 seven: nine in all
    abroad = terms("A", rate="1.17", tax_percent="19", duty_percent="3.7")
    asked = problem({"g": 1}, [offer("A", "p", "1:0.42")], {"g": "p"}, [abroad])
    built = build(asked)
    (supplier,) = built.suppliers
    assert (supplier.unit, built.unit) == (D("0.01"), D("1e-9"))
    assert supplier.charge_cost == 13_923_000  # 0.01 × 1.3923
    assert supplier.goods_cost == 14_438_151  # 0.01 × 1.3923 × 1.037
    assert built.amount(42 * supplier.goods_cost) == D("0.606402342")


def test_an_offer_of_an_unknown_supplier_is_refused() -> None:
    asked = problem({"g": 1}, [offer("C", "p", "1:1"), offer("B", "p", "1:1")], {"g": "p"}, [terms("A")])
    with pytest.raises(ValueError, match="no terms for supplier B"):
        build(asked)


@pytest.mark.parametrize(
    ("of", "expected"),
    [
        (terms("A"), [Tier(0, None, 0)]),
        (terms("A", "0:9 50:4.50 100:0"), [Tier(0, 4999, 900), Tier(5000, 9999, 450), Tier(10000, None, 0)]),
        (terms("A", "100:0 0:9"), [Tier(0, 9999, 900), Tier(10000, None, 0)]),
        (terms("A", "20:9 50:3"), [Tier(0, 4999, 900), Tier(5000, None, 300)]),  # below the lowest its charge holds
        (terms("A", "0:9 50:9 100:0"), [Tier(0, 9999, 900), Tier(10000, None, 0)]),  # equal neighbours are one
        # the minimum order ends what lies below it: 49.99 can't be ordered, 50.00 can
        (terms("A", "0:9 50:4.50 100:0", minimum="50"), [Tier(5000, 9999, 450), Tier(10000, None, 0)]),
        (terms("A", "0:9 50:4.50", minimum="49.99"), [Tier(4999, 4999, 900), Tier(5000, None, 450)]),
        (terms("A", "0:9 50:4.50", minimum="70"), [Tier(7000, None, 450)]),
    ],
)
def test_tiers_with_the_minimum_order_folded_in(of: SupplierTerms, expected: list[Tier]) -> None:
    assert tiers_of(of) == tuple(expected)


@pytest.mark.parametrize(
    ("of", "target", "rising"),
    [
        (terms("A"), 0, False),
        (terms("A", "0:9 50:4.50 100:0"), 10000, False),
        (terms("A", "0:3 10:5 20:1"), 2000, True),
        (terms("A", "0:3 10:1 20:5"), 1000, True),  # beyond 20.00 nothing is to be gained
        (terms("A", "0:3 10:5"), 0, True),
        (terms("A", "0:3", minimum="4"), 400, False),
        (terms("A", "0:3 10:1", minimum="15"), 1500, False),
    ],
)
def test_the_goods_worth_reaching(of: SupplierTerms, target: int, rising: bool) -> None:
    (supplier,) = build(problem({"g": 1}, [offer("A", "p", "1:0.01")], {"g": "p"}, [of])).suppliers
    assert (supplier.target, supplier.rising) == (target, rising)


TWO_PRICES = "1:0.30 10:0.25"


@pytest.mark.parametrize(
    ("part", "wanted", "of", "expected"),
    [
        (offer("A", "p", TWO_PRICES), 4, None, [Step(1, 4, 30), Step(10, 10, 25)]),
        (offer("A", "p", TWO_PRICES), 12, None, [Step(1, 9, 30), Step(10, 12, 25)]),
        # 5.00 worth reaching: 17 at 0.30 (but the step ends at 9), 20 at 0.25
        (offer("A", "p", TWO_PRICES), 4, terms("A", "0:1 5:0"), [Step(1, 9, 30), Step(10, 20, 25)]),
        (offer("A", "p", TWO_PRICES), 4, terms("A", "0:1 5.01:0"), [Step(1, 9, 30), Step(10, 21, 25)]),
        (offer("A", "p", TWO_PRICES, multiple=4), 5, None, [Step(4, 8, 30), Step(12, 12, 25)]),
        (offer("A", "p", TWO_PRICES, minimum=6), 4, None, [Step(6, 6, 30), Step(10, 10, 25)]),
        (offer("A", "p", TWO_PRICES, minimum=10), 4, None, [Step(10, 10, 25)]),
        (offer("A", "p", TWO_PRICES, stock=9), 12, None, [Step(1, 9, 30)]),
        (offer("A", "p", TWO_PRICES, stock=10), 12, None, [Step(1, 9, 30), Step(10, 10, 25)]),
        (offer("A", "p", TWO_PRICES, stock=14, multiple=5), 20, None, [Step(5, 5, 30), Step(10, 10, 25)]),
        (offer("A", "p", TWO_PRICES, stock=0), 4, None, []),
        (offer("A", "p", "1:0"), 3, terms("A", "0:1 5:0"), [Step(1, 3, 0)]),  # what is free tops nothing up
        (offer("A", "p", ""), 3, None, []),
    ],
)
def test_sensible_quantities_of_each_price(
    part: Part, wanted: int, of: SupplierTerms | None, expected: list[Step]
) -> None:
    of = replace(of or terms("A"), handling=D("0.01"))  # so that the unit is a cent
    assert steps_of(part, wanted, of) == tuple(expected)


def test_spares_count_to_what_may_be_wanted() -> None:
    asked = problem(
        {"g": 2, "h": 1}, [offer("A", "p", "1:0.30")], {"g": "p", "h": "p x"}, [terms("A")], drawer=[lying("x", 4)]
    )
    asked = replace(asked, needs=(Need("g", 2, 3), Need("h", 1)))
    built = build(asked)
    assert built.offers[0].steps == (Step(1, 6, 3),)
    assert (built.needs, built.spares, built.offers[0].groups) == ((2, 1), (3, 0), (0, 1))
    assert (built.lots, built.lot_groups) == ((("x", 4),), ((1,),))


def test_what_a_number_of_pieces_costs_at_least() -> None:
    shelf = Offer(0, 0, "p", 1, (Step(1, 9, 30), Step(10, 20, 25)), (0,))
    assert [shelf.goods(pieces) for pieces in (1, 7, 8, 9, 10, 20, 21)] == [30, 210, 240, 250, 250, 500, None]
    assert shelf.most == 20
    pairs = Offer(0, 0, "p", 2, (Step(2, 8, 30),), (0,))
    assert [pairs.goods(pieces) for pieces in (1, 2, 3, 8)] == [60, 60, 120, 240]
    assert Offer(0, 0, "p", 1, (), (0,)).most == 0


@settings(max_examples=25)
@given(small_problems(rising=True))
def test_a_line_costs_in_whole_numbers_what_it_costs_in_money(asked: Problem) -> None:
    built = build(asked)
    for part, each in zip(asked.offers, built.offers, strict=True):
        of = built.suppliers[each.supplier]
        for quantity in range(1, 13):
            held = [step for step in each.steps if step.low <= quantity <= step.high]
            if not held or not money.is_legal(part, quantity):
                # what is left out can't be bought, or is more than is wanted
                assert not money.is_legal(part, quantity) or quantity > sum(built.needs[g] for g in each.groups)
                continue
            priced = money.parcel(asked.suppliers[part.supplier], [money.line(part, quantity)])
            goods = quantity * held[0].price
            assert goods * of.unit == priced.goods
            if money.meets_minimum(priced.terms, priced.goods):
                assert built.amount(total_of(built, {each.index: quantity})) == priced.landed
            else:
                assert goods < of.tiers[0].least


# Topping up


def all_sums(built: Instance, lines: list[Line], besides: list[int]) -> set[int]:
    """Every goods value that the lines, and offers besides, can come to."""
    ways: list[list[int]] = []
    for index, pieces in [(line.offer, line.pieces) for line in lines] + [(index, 0) for index in besides]:
        each = built.offers[index]
        legal = [
            quantity * step.price
            for step in each.steps
            for quantity in range(step.low, step.high + 1, each.multiple)
            if quantity >= pieces
        ]
        ways.append(legal + ([0] if index in besides else []))
    return {sum(chosen) for chosen in product(*ways)}


LADDERS = st.sampled_from(["1:0.07", "1:0.11 3:0.09", "2:0.05", "1:0.13 4:0.06", "1:0"])


@settings(max_examples=80)
@given(
    st.lists(
        st.tuples(LADDERS, st.integers(1, 3), st.integers(1, 2), st.sampled_from([None, 4, 7])), min_size=1, max_size=3
    ),
    st.integers(0, 2),
    st.integers(0, 90),
)
def test_topping_up_comes_as_near_as_trying_everything(
    drawn: list[tuple[str, int, int, int | None]], besides: int, target: int
) -> None:
    offers = [
        offer("A", f"p{i}", prices, multiple=multiple, stock=stock)
        for i, (prices, _, multiple, stock) in enumerate(drawn)
    ]
    names = {f"g{i}": each.number for i, each in enumerate(offers)}
    asked = problem(
        {f"g{i}": need for i, (_, need, _, _) in enumerate(drawn)}, offers, names, [terms("A", "0:1 0.60:0")]
    )
    built = build(asked)
    lines = [Line(i, (i,), built.needs[i]) for i in range(len(offers))][: max(1, len(offers) - besides)]
    if not all(any(step.high >= line.pieces for step in built.offers[line.offer].steps) for line in lines):
        return
    others = [i for i in range(len(lines), len(offers)) if built.offers[i].steps]
    sums = all_sums(built, lines, others)
    enough = [each for each in sums if each >= target]
    found = fill.top_up(built, 0, lines, target)
    if found is None:
        step = min(s.price * o.multiple for o in built.offers for s in o.steps)
        assert not enough or min(enough) > max(target, min(sums)) + step
        return
    goods = 0
    for line in found:
        assert money.is_legal(offers[line.offer], line.quantity) or not line.quantity
        assert line.quantity >= line.pieces
        goods += sum(
            line.quantity * s.price for s in built.offers[line.offer].steps if s.low <= line.quantity <= s.high
        )
    assert goods == min(enough)
    assert [(line.offer, line.groups, line.pieces) for line in found[: len(lines)]] == [
        (line.offer, line.groups, line.pieces) for line in lines
    ]


def filled(asked: Problem, lines: list[Line], target: int) -> list[tuple[int, int]] | None:
    found = fill.top_up(build(asked), 0, lines, target)
    return None if found is None else [(line.offer, line.quantity) for line in found]


def test_a_dearer_part_for_the_same_group_may_come_nearer() -> None:
    # four of p are 0.40, of q 0.52; 0.50 is to be reached: five of p are 0.50, and nothing is nearer
    asked = problem(
        {"g": 4}, [offer("A", "p", "1:0.10"), offer("A", "q", "1:0.13")], {"g": "p q"}, [terms("A", "0:1 0.60:0")]
    )
    lines = [Line(0, (0,), 4)]
    assert filled(asked, lines, 50) == [(0, 5)]
    # 0.52 exactly by four of q; with p it would be 0.53 (four and one of q), by lines besides
    assert filled(asked, lines, 52) == [(1, 4)]
    assert filled(asked, lines, 53) == [(0, 4), (1, 1)]


def test_what_the_drawer_gives_keeps_a_line_at_its_own_part() -> None:
    asked = problem(
        {"g": 4},
        [offer("A", "p", "1:0.10"), offer("A", "q", "1:0.13")],
        {"g": "p q"},
        [terms("A", "0:1 0.60:0")],
        drawer=[lying("p", 1)],
    )
    line = Line(0, (0,), 3, 0, 1)
    assert filled(asked, [line], 39) == [(0, 4)]  # not three of q, though these come to 0.39
    (found,) = fill.top_up(build(asked), 0, [line], 39) or []
    assert (found.lot, found.drawn) == (0, 1)


def test_no_offer_is_on_two_lines() -> None:
    # six of q would be 0.78, but five are the most that is sensible: not five in the place of p and one besides
    asked = problem(
        {"g": 4}, [offer("A", "p", "1:0.10"), offer("A", "q", "1:0.13")], {"g": "p q"}, [terms("A", "0:1 0.60:0")]
    )
    assert filled(asked, [Line(0, (0,), 4)], 78) == [(0, 4), (1, 3)]


def test_an_offer_takes_the_place_of_one_line_only() -> None:
    # q for both would be 0.26, but on two lines of one number; two and one of the parts themselves are 0.30
    offers = [offer("A", "p", "1:0.10"), offer("A", "r", "1:0.10"), offer("A", "q", "1:0.13")]
    asked = problem({"g": 1, "h": 1}, offers, {"g": "p q", "h": "r q"}, [terms("A", "0:1 0.60:0")])
    found = filled(asked, [Line(0, (0,), 1), Line(1, (1,), 1)], 26)
    assert found is not None
    assert sorted(quantity for _, quantity in found) == [1, 2]
    assert {index for index, _ in found} == {0, 1}


def test_the_other_suppliers_offers_top_nothing_up() -> None:
    offers = [offer("A", "p", "1:0.11"), offer("B", "q", "1:0.13")]
    asked = problem({"g": 1, "h": 1}, offers, {"g": "p", "h": "q"}, [terms("A", "0:1 0.60:0"), terms("B")])
    assert filled(asked, [Line(0, (0,), 1)], 24) == [(0, 3)]


@pytest.mark.parametrize(
    ("prices", "target", "bought"),
    [
        ("1:0.30 10:0.25", 300, 12),  # not ten at 0.30, which cost 0.25 each
        ("1:0.30 10:0.25", 270, 9),
        ("1:0.30 10:0.19", 209, 11),
    ],
)
def test_what_tops_up_is_bought_at_its_own_price(prices: str, target: int, bought: int) -> None:
    asked = problem({"g": 1}, [offer("A", "p", prices)], {"g": "p"}, [terms("A", "0:1 5:0")])
    assert filled(asked, [Line(0, (0,), 1)], target) == [(0, bought)]


def test_where_a_line_costs_a_fee_nothing_is_bought_besides() -> None:
    offers = [offer("A", "p", "1:0.10"), offer("A", "q", "1:0.13")]
    asked = problem({"g": 4, "h": 1}, offers, {"g": "p", "h": "q"}, [terms("A", "0:1 0.60:0")])
    assert filled(asked, [Line(0, (0,), 4)], 53) == [(0, 4), (1, 1)]
    dear = replace(asked, suppliers={"A": terms("A", "0:1 0.60:0", line_fee="0.05")})
    assert filled(dear, [Line(0, (0,), 4)], 53) == [(0, 6)]


def test_a_tier_out_of_reach_is_not_filled() -> None:
    asked = problem({"g": 2}, [offer("A", "p", "1:0.10", stock=3)], {"g": "p"}, [terms("A", "0:1 0.55:0")])
    assert filled(asked, [Line(0, (0,), 2)], 55) is None
    assert filled(asked, [Line(0, (0,), 2)], 30) == [(0, 3)]


# Back to an order


def test_a_choice_is_written_as_an_order() -> None:
    offers = [offer("B", "q", "1:2.00"), offer("A", "p", "1:1.00"), offer("A", "r", "1:3.00")]
    asked = problem(
        {"g": 2, "h": 3}, offers, {"g": "q p", "h": "p r"}, [terms("A", "0:4.90"), terms("B")], drawer=[lying("p", 4)]
    )
    choice = rebuild.Choice({0: 1, 1: 4, 2: 0}, {(0, 0): 1, (0, 1): 0, (1, 1): 2}, {(1, 0): 1, (0, 0): 1, (0, 1): 0})
    order = rebuild.order_of(build(asked), choice)
    told = [(p.terms.supplier, [(line.part.number, line.qty, line.uses) for line in p.lines]) for p in order.suppliers]
    assert told == [("A", [("p", 4, (Use("h", 2),))]), ("B", [("q", 1, (Use("g", 1),))])]
    assert order.drawer == (DrawerUse(asked.drawer[0], (Use("g", 1), Use("h", 1))),)
    assert order.total == D("10.90")
