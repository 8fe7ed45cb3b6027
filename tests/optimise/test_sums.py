"""One parcel counted piece by piece by all sums it can come to: the same as the program says, and worked by hand."""

from __future__ import annotations

import time
from dataclasses import replace
from decimal import Decimal
from typing import TYPE_CHECKING

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from recap.model import Status
from recap.optimise import rebuild, sums, verify
from recap.optimise.decode import total_of
from recap.optimise.solve import solve
from tests.optimise.problems import lying, offer, problem, terms
from tests.optimise.test_residue import KINDS, opened, solved

if TYPE_CHECKING:
    from recap.model import Problem
    from recap.optimise.leaf import Leaf


@pytest.mark.parametrize("kind", KINDS)
@settings(max_examples=40, suppress_health_check=[HealthCheck.filter_too_much])  # few have but one parcel to fill
@given(st.data())
def test_all_sums_come_to_what_the_program_says(kind: str, data: st.DataObject) -> None:
    asked = data.draw(KINDS[kind])
    here, _ = opened(asked, data)
    assume(here.tiers)
    supplier = data.draw(st.sampled_from(sorted(here.tiers)))
    most = int(here.bound + here.highest + data.draw(st.sampled_from([0, 10**9, 10**13]))) + 1
    answer = sums.cheapest(here, supplier, here.bound, most)
    assume(answer is not True)
    as_the_program_says(here, frozenset({supplier}), most, answer)


def as_the_program_says(here: Leaf, exact: frozenset[int], most: int, answer: sums.Found | bool) -> None:
    """The answer is what the leaf's program comes to with these suppliers counted: an order, or none up to ``most``."""
    expected = solved(here, most - here.bound, exact)
    near = 1e-6 * max(abs(here.bound), float(here.frame.scale))
    if isinstance(answer, bool):
        assert expected is None or expected[0] > most - near
        return
    total, choice, _ = answer
    assert expected is not None
    assert total == pytest.approx(expected[0], abs=near)
    built = here.frame.instance
    assert not verify.faults(built.problem, rebuild.order_of(built, choice))
    assert total_of(built, choice.bought) <= total


def puzzle(**drawer: int) -> Problem:
    """Twelve groups at one shop with a minimum order, and prices of six decimals."""
    prices = (
        "1:0.57", "1:0.799 5:0.619", "1:0.25 10:0.19", "1:0.4097 10:0.3929", "1:0.077", "1:0.131", "1:0.07 10:0.03",
        "5:0.439906 10:0.246412", "1:1.654025", "1:0.13 5:0.08", "1:0.14 10:0.08", "1:0.112357",
    )  # fmt: skip
    return problem(
        {f"g{i}": 1 + i % 3 for i in range(12)},
        [offer("A", f"p{i}", price) for i, price in enumerate(prices)],
        {f"g{i}": f"p{i}" for i in range(12)},
        [replace(terms("A", "0:3.54"), minimum=Decimal("14.48"), duty_percent=Decimal("2.7"))],
        drawer=[lying(number, pieces) for number, pieces in drawer.items()],
    )


@pytest.mark.parametrize("drawer", [{}, {"p8": 1, "p3": 2}])
def test_a_minimum_order_that_no_sum_of_many_decimals_meets_is_proven_soon(drawer: dict[str, int]) -> None:
    began = time.process_time()
    found = solve(puzzle(**drawer))
    assert found.status is Status.OPTIMAL
    assert found.order is not None
    goods = (found.order.total - Decimal("3.54")) / Decimal("1.027")
    assert Decimal("14.48") <= goods < Decimal("14.481")
    assert time.process_time() - began < 20


def test_by_hand() -> None:
    """Two at 0.70 and one at 0.15 are needed, and 3.00 is the minimum: 1.45 more, by 0.70 and 0.15 as it goes.

    3.00 takes n at 0.70 and m at 0.15 with 14 n + 3 m = 60: three and six.
    """
    asked = problem(
        {"g": 2, "h": 1},
        [offer("A", "p", "1:0.70"), offer("A", "q", "1:0.15")],
        {"g": "p", "h": "q"},
        [replace(terms("A", "0:1"), minimum=Decimal(3))],
    )
    found = solve(asked)
    assert found.order is not None
    assert found.order.total == 4
