"""Of orders of the same total: fewer suppliers, then fewer lines, then longer rated life; worked by hand."""

from __future__ import annotations

import time
from decimal import Decimal
from typing import TYPE_CHECKING

import pytest

from recap.optimise import solver, ties
from recap.optimise.solve import solve
from tests.optimise.problems import lying, offer, problem, terms

if TYPE_CHECKING:
    from recap.model import Order, Problem

EVERY_WAY = pytest.mark.parametrize(("one_part", "solver"), [(True, "highs"), (False, "highs"), (True, "cbc")])


def best(asked: Problem, solver: str = "highs") -> Order:
    outcome = solve(asked, solver=solver)
    assert outcome.order is not None
    assert outcome.preferred
    return outcome.order


@EVERY_WAY
def test_one_parcel_rather_than_two_of_the_same_total(one_part: bool, solver: str) -> None:
    # A: 2.00 + 3.00 for both; B has the second for 2.00 and ships for 1.00
    asked = problem(
        {"g": 2, "h": 1},
        [offer("A", "p", "1:1.00"), offer("A", "q", "1:3.00"), offer("B", "r", "1:2.00")],
        {"g": "p", "h": "q r"},
        [terms("A"), terms("B", "0:1.00")],
        one_part=one_part,
    )
    order = best(asked, solver)
    assert order.total == Decimal(5)
    assert [parcel.terms.supplier for parcel in order.suppliers] == ["A"]


@EVERY_WAY
def test_one_line_rather_than_two_of_the_same_total(one_part: bool, solver: str) -> None:
    # all at 1.50, and "both" suits both groups
    asked = problem(
        {"g": 1, "h": 1},
        [offer("A", "low", "1:1.50"), offer("A", "high", "1:1.50"), offer("A", "both", "1:1.50")],
        {"g": "low both", "h": "high both"},
        [terms("A", "0:4.90")],
        one_part=one_part,
    )
    order = best(asked, solver)
    assert order.total == Decimal("7.90")
    assert [line.part.number for parcel in order.suppliers for line in parcel.lines] == ["both"]


@EVERY_WAY
def test_of_parts_at_one_price_the_one_rated_longer(one_part: bool, solver: str) -> None:
    asked = problem(
        {"g": 10},
        [
            offer("A", "short", "1:0.42 10:0.31", life_h=Decimal(2000)),
            offer("A", "long", "1:0.42 10:0.31", life_h=Decimal(10000)),
            offer("A", "unstated", "1:0.42 10:0.31"),
        ],
        {"g": "short long unstated"},
        [terms("A", "0:5.90", tax_percent="19")],
        one_part=one_part,
    )
    (parcel,) = best(asked, solver).suppliers
    assert [line.part.number for line in parcel.lines] == ["long"]


def test_no_preference_is_worth_the_smallest_coin() -> None:
    # a tenth of a millionth cheaper, in two parcels, and of the shorter life: cheaper all the same
    asked = problem(
        {"g": 1, "h": 1},
        [
            offer("A", "p", "1:1000.0000000", life_h=Decimal(10000)),
            offer("A", "q", "1:1000.0000000", life_h=Decimal(10000)),
            offer("B", "r", "1:999.9999999", life_h=Decimal(1000)),
        ],
        {"g": "p", "h": "q r"},
        [terms("A"), terms("B")],
    )
    order = best(asked)
    assert order.total == Decimal("1999.9999999")
    assert len(order.suppliers) == 2


def test_fewer_lines_come_before_longer_life() -> None:
    asked = problem(
        {"g": 1, "h": 1},
        [
            offer("A", "one", "1:1.00", life_h=Decimal(1000)),
            offer("A", "two", "1:1.00", life_h=Decimal(9000)),
            offer("A", "three", "1:1.00", life_h=Decimal(9000)),
        ],
        {"g": "one two", "h": "one three"},
        [terms("A")],
    )
    (parcel,) = best(asked).suppliers
    assert [(line.part.number, line.qty) for line in parcel.lines] == [("one", 2)]


def test_nothing_is_bought_where_the_drawer_has_it_all_and_the_longer_lived_lot_is_taken() -> None:
    old, new = lying("old", 2), lying("new", 2)
    asked = problem(
        {"g": 2}, [offer("A", "new", "1:0.50", life_h=Decimal(5000))], {"g": "old new"}, [terms("A")], drawer=[old, new]
    )
    order = best(asked)
    assert order.total == 0
    assert [drawn.part.part.number for drawn in order.drawer] == ["new"]


@pytest.mark.parametrize("names", ["AB", "BA"])
@pytest.mark.parametrize("cents", [0, 1, 4])
def test_one_parcel_of_more_lines_rather_than_two_of_fewer(names: str, cents: int) -> None:
    """Three parts of the first shop, or one of them and one of the other shop that suits the rest: the same total."""
    first, second = names
    asked = problem(
        {"g": 1, "h": 1, "k": 1},
        [
            offer(first, "p", "1:1.00"),
            offer(first, "q", f"1:1.0{2 * cents}"),
            offer(first, "r", "1:1.00"),
            offer(second, "both", f"2:1.0{cents}"),
        ],
        {"g": "p", "h": "q both", "k": "r both"},
        [terms(first), terms(second)],
    )
    order = best(asked)
    assert order.total == Decimal(3) + Decimal(2 * cents) / 100
    assert [parcel.terms.supplier for parcel in order.suppliers] == [first]
    assert sum(len(parcel.lines) for parcel in order.suppliers) == 3


@pytest.mark.parametrize("names", ["AB", "BA"])
def test_of_two_shops_of_the_same_total_the_one_with_fewer_lines(names: str) -> None:
    """Both sell all for 3.00; at the second one part suits two places, though its life is the shorter."""
    first, second = names
    asked = problem(
        {"g": 1, "h": 1, "k": 1},
        [
            *(offer(first, part, "1:1.00", life_h=Decimal(9000)) for part in "pqr"),
            offer(second, "s", "1:1.00", life_h=Decimal(1000)),
            offer(second, "both", "1:1.00", life_h=Decimal(1000)),
        ],
        {"g": "p s", "h": "q both", "k": "r both"},
        [terms(first), terms(second)],
    )
    (parcel,) = best(asked).suppliers
    assert (parcel.terms.supplier, len(parcel.lines)) == (second, 2)


@pytest.mark.parametrize("postage", ["0:4.90", "0:0"])
def test_a_dearer_order_of_fewer_lines_or_longer_life_is_no_rival(postage: str) -> None:
    """The look for the preferred order keeps to the least total, postage and all, and comes to its end."""
    asked = problem(
        {"g": 1, "h": 1},
        [
            offer("A", "low", "1:1.50", life_h=Decimal(1000)),
            offer("A", "high", "1:1.50", life_h=Decimal(1000)),
            offer("A", "both", "1:1.60", life_h=Decimal(9000)),
        ],
        {"g": "low both", "h": "high both"},
        [terms("A", postage)],
    )
    (parcel,) = best(asked).suppliers
    assert sorted(line.part.number for line in parcel.lines) == ["high", "low"]


def test_that_nothing_is_to_be_preferred_is_asked_again_without_presolve(monkeypatch: pytest.MonkeyPatch) -> None:
    """HiGHS's presolve was seen to call a program infeasible whose order was at hand."""
    asked: list[bool] = []

    def run(*_: object, presolve: bool = True, **__: object) -> solver.Answer:
        asked.append(presolve)
        found = solver.Found.INFEASIBLE if presolve else solver.Found.PROVEN
        return solver.Answer(found, None if presolve else 1.0, 1.0)

    monkeypatch.setattr(solver, "run", run)
    contest = object.__new__(ties.Contest)
    contest.until = time.monotonic() + 60
    assert contest.least(None, "highs")
    assert asked == [True, False]
