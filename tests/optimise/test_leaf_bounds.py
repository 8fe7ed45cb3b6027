"""Bounds of orders whose suppliers and tiers are given: below every such order, whatever the multipliers, and tight.

A bound that is too high calls an order proven that isn't; one that is too low costs time only.
"""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from typing import TYPE_CHECKING

import numpy as np
import pytest
from hypothesis import assume, given, reject, settings
from hypothesis import strategies as st

from recap import money
from recap.optimise import columns, instance, leaf, relaxation
from recap.optimise.relaxation import Point, Relaxation
from tests.optimise.oracle import _Parcels, _requirements, best
from tests.optimise.problems import offer, problem, small_problems, terms

if TYPE_CHECKING:
    from recap.model import Problem
    from recap.optimise.instance import Instance
    from recap.optimise.leaf import Frame, Leaf

ROUNDING = 1e-9
MANY = 150
"""Parcels that are tried for one supplier; problems with more of them are passed over, for trying them takes long."""
PROBLEMS = st.one_of(small_problems(), small_problems(rising=True)).map(
    lambda asked: replace(asked, one_part_per_group=True, max_suppliers=0)
)


def framed(asked: Problem) -> Frame:
    built = instance.build(asked)
    listed = columns.build(built)
    if not listed.all:
        reject()
    return leaf.frame_of(built, listed, relaxation.scale_of(built, listed.all))


def cheapest_with(built: Instance, tiers: dict[int, int], *, useful: bool = False) -> Fraction | None:
    """Return the least total, in total units, of all orders from just these suppliers in these tiers.

    ``useful``: only orders that buy of each offer what may be of use, by its steps. Where neither a break, a minimum
    nor a later tier rewards it, a piece beyond need is in no cheapest order, and the instance doesn't offer it.
    """
    asked, found = built.problem, []
    parcels: dict[int, list[tuple[Fraction, dict[int, int]]]] = {}
    for s, k in tiers.items():
        terms, listed = built.suppliers[s], _Parcels(asked, built.suppliers[s].name)
        assume(len(listed.parcels) <= MANY)
        tier, unit, parcels[s] = terms.tiers[k], Fraction(terms.unit), []
        for cost, _, quantities in listed.parcels:
            bought = dict(zip(listed.offers, quantities, strict=True))
            lines = ((asked.offers[o], quantity) for o, quantity in bought.items() if quantity)
            goods = sum(Fraction(quantity * money.unit_price(part, quantity)) for part, quantity in lines) / unit
            of_use = (any(t.low <= q <= t.high for t in built.offers[o].steps) for o, q in bought.items() if q)
            if (not useful or all(of_use)) and tier.least <= goods and (tier.most is None or goods <= tier.most):
                parcels[s].append((cost, bought))
    for required, _, _ in _requirements(asked):
        if {built.offers[o].supplier for o in required} <= set(tiers):
            each = [
                next(
                    (cost for cost, bought in parcels[s] if all(bought.get(o, n) >= n for o, n in required.items())), -1
                )
                for s in tiers
            ]  # the parcels stand cheapest first
            found += [sum(each, Fraction(0))] if -1 not in each else []
    return min(found) / Fraction(built.unit) if found else None


def any_tiers(data: st.DataObject, built: Instance) -> dict[int, int]:
    chosen = [s for s in range(len(built.suppliers)) if data.draw(st.booleans())]
    return {s: data.draw(st.sampled_from(range(len(built.suppliers[s].tiers)))) for s in chosen}


def any_point(data: st.DataObject, frame: Frame) -> Point:
    """Draw multipliers: none negative, goods never worth more than they cost."""
    built, share = frame.instance, st.sampled_from([0.0, 0.3, 1.0])
    units = [terms.goods_cost / frame.scale for terms in built.suppliers]
    stay = [data.draw(share) * unit * terms.rising for unit, terms in zip(units, built.suppliers, strict=True)]
    apart = [each.index for each in built.offers if not frame.columns.mergeable[each.index]]
    worth = max(units, default=1.0)
    return Point(
        value=0.0,
        terms={},
        turning={},
        reach=[data.draw(share) * (unit + more) for unit, more in zip(units, stay, strict=True)],
        stay=stay,
        lot={lot: data.draw(share) * 40 * worth for lot in range(len(built.lots))},
        single={o: data.draw(share) * 40 * worth for o in apart},
        chosen=np.zeros(0),
        reduced=np.zeros(0),
        worth=np.zeros(0),
        basis=None,  # type: ignore[arg-type]
    )


@settings(max_examples=25)
@given(PROBLEMS, st.data())
def test_no_order_is_below_the_bound_whatever_the_multipliers(asked: Problem, data: st.DataObject) -> None:
    frame = framed(asked)
    tiers = any_tiers(data, frame.instance)
    opened = leaf.open_leaf(frame, tiers, any_point(data, frame))
    least = cheapest_with(frame.instance, tiers)
    if opened is None:
        assert least is None
        return
    assert opened.fixed == sum(
        (frame.instance.suppliers[s].handling + frame.instance.suppliers[s].tiers[k].charge)
        * frame.instance.suppliers[s].charge_cost
        for s, k in tiers.items()
    )
    assert least is None or opened.bound <= float(least) * (1 + ROUNDING) + ROUNDING


@settings(max_examples=15)
@given(PROBLEMS, st.data())
def test_each_excess_is_that_of_the_column_and_the_cheapest_partition_has_none(
    asked: Problem, data: st.DataObject
) -> None:
    frame = framed(asked)
    tiers = any_tiers(data, frame.instance)
    opened = leaf.open_leaf(frame, tiers, any_point(data, frame))
    assume(opened is not None)
    assert opened is not None
    near = ROUNDING * max(abs(opened.bound), 1.0) + 1e-6
    least = [float("inf")] * len(frame.instance.needs)
    for column, excess in zip(frame.columns.all, opened.excesses.tolist(), strict=True):
        if column.supplier >= 0 and column.supplier not in tiers:
            assert excess == float("inf")
            continue
        assert excess >= -near
        if excess < float("inf"):
            assert opened.value(column) + opened.rest(column.groups) <= excess + near
        alike = opened.rests(np.array([column.groups]))[0, -1]  # all sets of these groups, the whole one last
        assert opened.rest(column.groups) == pytest.approx(alike, abs=near)
        for group in column.groups:
            least[group] = min(least[group], excess)
    assert all(abs(each) <= near for each in least)
    assert opened.rest(()) == 0
    for s, each in enumerate(frame.instance.suppliers):
        worth = (opened.point.reach[s] - opened.point.stay[s]) * frame.scale
        assert opened.net(s) >= 0
        assert opened.net(s) == pytest.approx(each.goods_cost - worth, abs=near)
    assert opened.highest == max(each for each in [0.0, *opened.excesses.tolist()] if each < float("inf"))


Valued = tuple[float, frozenset[int], int]


def cheapest_cover(of: list[Valued], groups: frozenset[int]) -> float:
    """Return the least sum of values of columns that hold each group once, no offer twice that can't be merged."""
    if not groups:
        return 0.0
    first, found = min(groups), float("inf")
    for value, each, lone in of:
        if first in each and each <= groups:
            left = [other for other in of if lone < 0 or other[2] != lone]
            found = min(found, value + cheapest_cover(left, groups - each))
    return found


@settings(max_examples=40)
@given(PROBLEMS, st.sampled_from([1, 7]), st.data())
def test_the_bound_is_the_documented_sum(asked: Problem, scale: int, data: st.DataObject) -> None:
    frame = replace(framed(asked), scale=scale)
    built = frame.instance
    tiers, point = any_tiers(data, built), any_point(data, frame)
    values = []
    for column in frame.columns.all:
        s = column.supplier
        if s < 0 or s in tiers:
            worth = point.stay[s] - point.reach[s] if s >= 0 else 0.0
            paid = worth * column.goods + point.lot.get(column.lot, 0.0) * column.drawn
            value = relaxation.column_cost(built, column) + paid * scale
            values.append((value, frozenset(column.groups), frame.columns.lone(column)))
    expected = cheapest_cover(values, frozenset(built.groups))
    for s, k in tiers.items():
        each, tier = built.suppliers[s], built.suppliers[s].tiers[k]
        expected += (each.handling + tier.charge) * each.charge_cost + point.reach[s] * scale * tier.least
        expected -= point.stay[s] * scale * (frame.most_goods(s) if tier.most is None else tier.most)
    expected -= sum(worth * scale * built.lots[lot][1] for lot, worth in point.lot.items())
    opened = leaf.open_leaf(frame, tiers, point)
    if opened is None:
        assert expected == float("inf")
    else:
        assert opened.bound == pytest.approx(expected, rel=1e-9, abs=1e-3)


def leaf_of_relaxation(frame: Frame, relaxed: Relaxation, tiers: dict[int, int]) -> tuple[Point, Leaf | None] | None:
    fixed = {place: int(s in tiers) for s, place in relaxed.used.items()}
    fixed |= {place: int(tiers.get(s) == k) for (s, k), place in relaxed.tier.items()}
    point = relaxed.solve(fixed, None)
    return None if point is None else (point, leaf.open_leaf(frame, tiers, point))


@settings(max_examples=15)
@given(PROBLEMS, st.data())
def test_by_the_relaxations_own_multipliers_the_bound_is_no_worse_than_the_relaxation(
    asked: Problem, data: st.DataObject
) -> None:
    frame = framed(asked)
    relaxed = Relaxation(frame.instance, frame.columns)
    tiers = any_tiers(data, frame.instance)
    least = cheapest_with(frame.instance, tiers)
    found = leaf_of_relaxation(frame, relaxed, tiers)
    if found is None or found[1] is None:
        assert least is None
        return
    point, opened = found
    assert opened is not None
    near = 1e-6 * max(abs(opened.bound), float(frame.scale))
    assert opened.bound >= point.value * frame.scale - near
    assert least is None or opened.bound <= float(least) + near
    assert all(each >= 0 for each in [*point.reach, *point.stay, *point.lot.values(), *point.single.values()])


@settings(max_examples=15)
@given(PROBLEMS, st.sampled_from([0, 1]))
def test_the_relaxation_is_below_the_best_order(asked: Problem, most: int) -> None:
    asked = replace(asked, max_suppliers=most)
    frame = framed(asked)
    assume(all(len(_Parcels(asked, name).parcels) <= MANY for name in asked.suppliers))
    expected = best(asked)
    point = Relaxation(frame.instance, frame.columns).solve({}, None)
    if point is None:
        assert expected is None
    elif expected is not None:
        total = float(expected[0] / Fraction(frame.instance.unit))
        assert point.value * frame.scale <= total + 1e-6 * max(total, frame.scale)


def test_the_most_goods_are_all_columns_and_the_last_tier() -> None:
    asked = problem({"g": 2}, [offer("A", "p", "1:0.33")], {"g": "p"}, [terms("A", "0:1 5:2"), terms("B")])
    assert framed(asked).most_goods(0) == 66 + 500
