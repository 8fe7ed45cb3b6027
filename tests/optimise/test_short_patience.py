"""Where groups may be split, a program that takes long waits its turn: what was put off is never taken for done."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from typing import TYPE_CHECKING, Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from recap.model import Status
from recap.optimise import branching, start
from recap.optimise.solve import solve
from tests.optimise.oracle import best
from tests.optimise.problems import sharing_problems, small_problems

if TYPE_CHECKING:
    from recap.model import Problem

NODE = branching.Node
BRIEF = 1e-6
"""Seconds: nothing is solved in so short a time."""


def hasty(*told: Any, **more: Any) -> branching.Node:
    """Return a node that at first has no time to speak of, and has it doubled as often as it takes."""
    node = NODE(*told, **more)
    node.patience = node.patience if len(told) > 4 else BRIEF
    return node


@settings(max_examples=25)
@given(st.one_of(small_problems(coarse=True), small_problems(rising=True, coarse=True), sharing_problems()))
def test_the_proof_is_the_same_however_little_patience_each_program_has(asked: Problem) -> None:
    asked = replace(asked, one_part_per_group=False)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(branching, "Node", hasty)
        patch.setattr(branching, "BRIEF", BRIEF)
        patch.setattr(start, "first_choice", lambda *_: None)
        outcome = solve(asked, prefer=False)
    expected = best(asked)
    if expected is None:
        assert outcome.status is Status.IMPOSSIBLE
        return
    assert outcome.order is not None
    assert (outcome.status, Fraction(outcome.order.total)) == (Status.OPTIMAL, expected[0])
