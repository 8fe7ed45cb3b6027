"""What is left to choose once suppliers and tiers are: no order that might be the cheapest is missing from the program.

Counted piece by piece, its solution is an order as it stands; topped up freely, it is a bound between the leaf's own
and the cheapest order's total.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from recap.optimise import leaf, rebuild, residue, rows, solver, verify
from recap.optimise.decode import Decoded, decode, total_of
from recap.optimise.relaxation import Relaxation
from tests.optimise.problems import small_problems
from tests.optimise.test_leaf_bounds import any_tiers, cheapest_with, framed, leaf_of_relaxation

if TYPE_CHECKING:
    from recap.model import Problem
    from recap.optimise.leaf import Leaf


def of_one_part(problems: st.SearchStrategy[Problem]) -> st.SearchStrategy[Problem]:
    return problems.map(lambda asked: replace(asked, one_part_per_group=True, max_suppliers=0))


KINDS = {
    "falling": of_one_part(small_problems()),
    "rising": of_one_part(small_problems(rising=True)),
    "alike": of_one_part(small_problems(coarse=True)),
}


def solved(here: Leaf, width: float, exact: frozenset[int]) -> tuple[float, Decoded] | None:
    """Solve the program; its value in total units, and the order it stands for."""
    program, scale = residue.build(here, width, exact), here.frame.scale
    program.lp.setObjective(rows.total([(c / scale, x) for c, x in program.costs()]))
    answer = solver.run(program.lp)
    if answer.found is solver.Found.INFEASIBLE:
        return None
    assert answer.found is solver.Found.PROVEN
    assert answer.objective is not None
    return here.fixed + answer.objective * scale, decode(program)


def opened(asked: Problem, data: st.DataObject) -> tuple[Leaf, float | None]:
    """A leaf of the problem, and the least total of all orders with its suppliers and tiers."""
    frame = framed(asked)
    tiers = any_tiers(data, frame.instance)
    least = cheapest_with(frame.instance, tiers, useful=True)
    found = leaf_of_relaxation(frame, Relaxation(frame.instance, frame.columns), tiers)
    assume(found is not None)
    assert found is not None
    here = found[1]
    assert isinstance(here, leaf.Leaf)
    return here, None if least is None else float(least)


@pytest.mark.parametrize("kind", KINDS)
@settings(max_examples=30)
@given(st.data())
def test_counted_piece_by_piece_the_solution_is_an_order_and_none_cheaper_is_missing(
    kind: str, data: st.DataObject
) -> None:
    asked = data.draw(KINDS[kind])
    here, least = opened(asked, data)
    width = here.highest if least is None else max(here.highest, least - here.bound)
    found = solved(here, width, frozenset(here.tiers))
    near = 1e-6 * max(abs(here.bound), float(here.frame.scale))
    if found is None:
        assert least is None
        return
    value, decoded = found
    assert least is None or value <= least + near
    assert not decoded.short
    assert decoded.choice is not None
    instance = here.frame.instance
    assert total_of(instance, decoded.choice.bought) <= value + near
    assert not verify.faults(asked, rebuild.order_of(instance, decoded.choice))


@pytest.mark.parametrize("kind", KINDS)
@settings(max_examples=30)
@given(st.data(), st.sampled_from([0.0, 0.3, 1.0]))
def test_columns_too_dear_are_in_no_order_as_cheap_as_was_looked_for(
    kind: str, data: st.DataObject, share: float
) -> None:
    here, least = opened(data.draw(KINDS[kind]), data)
    assume(least is not None)
    assert least is not None
    width = share * here.highest
    exact = frozenset(here.tiers) if data.draw(st.booleans()) else frozenset()
    found = solved(here, width, exact)
    near = 1e-6 * max(abs(here.bound), float(here.frame.scale))
    if least <= here.bound + width:
        assert found is not None
        assert found[0] <= least + near
    if found is not None:
        assert found[0] >= here.bound - near
