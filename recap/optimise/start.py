"""A good order to begin with where groups may be split: the cheapest one of one part for each group.

That order is legal where groups may be split too, is found by columns in a part of the time, and is seldom dearer by
more than a hundredth: whatever can't be as cheap is never looked at. Spares that groups may share are bought for each.
"""

from __future__ import annotations

import time
from dataclasses import replace
from typing import TYPE_CHECKING

from recap.optimise import columns, search
from recap.optimise import instance as instances
from recap.optimise.rebuild import Choice
from recap.optimise.relaxation import LARGE, scale_of
from recap.optimise.solver import Patience

if TYPE_CHECKING:
    from recap.optimise.instance import Instance

NEAR, BRIEF = 1e-3, 1.0
"""An order this near to the best, as a share of the usual total, is good enough after so many seconds."""

SHARE = 0.25
"""How much of the time there is may go into it."""


def first_choice(instance: Instance, deadline: float | None) -> Choice | None:
    """Return the cheapest order of one part for each group as far as time allows; None where there is none.

    It is only to begin with: the last thousandth isn't looked for long.
    """
    now = time.monotonic()
    until = None if deadline is None else now + SHARE * (deadline - now)
    problem = instance.problem
    needs = tuple(replace(need, pieces=need.pieces + need.spares, spares=0) for need in problem.needs)
    apart = instances.build(replace(problem, needs=needs, one_part_per_group=True))
    try:
        listed = columns.build(apart)
        near = NEAR * scale_of(apart, listed.all) * LARGE
        found = search.search(apart, listed, Patience(until, near, now + BRIEF)).choice
    except (ValueError, RuntimeError):
        return None  # too many columns, or too hard on floating point: then without
    return None if found is None else _needed(instance, found)


def _needed(instance: Instance, choice: Choice) -> Choice:
    """Return the choice with the spares left lying: no group uses more than it needs."""
    left = list(instance.needs)
    kept: tuple[dict[tuple[int, int], int], dict[tuple[int, int], int]] = {}, {}
    for uses, given in zip(kept, (choice.uses, choice.taken), strict=True):
        for (g, place), pieces in sorted(given.items()):
            if used := min(pieces, left[g]):
                uses[g, place] = used
                left[g] -= used
    return Choice(choice.bought, *kept)
