"""A leaf with one supplier to be counted piece by piece: its cheapest order by all sums that its goods can come to.

Where only one parcel has to reach a threshold, and it is reached by buying beyond need, what is left is a subset-sum:
to a solver a puzzle without end where prices have many decimals. Here all sums are had at once, as the set bits of
large whole numbers: cluster by cluster, every way to cover its groups shifts what was reached before, and every
multiple beyond need shifts it again. Ways differ also in what they cost besides the supplier's goods: that is their
*level*, and each level has sums of its own. The least of

    fixed charges + level + goods cost * sum,  over all sums from the threshold on

is the cheapest order with these suppliers and tiers, exactly.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import gcd
from typing import TYPE_CHECKING

import numpy as np

from recap.optimise.covers import find
from recap.optimise.decode import topped_up
from recap.optimise.fill import multiplied

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Sequence

    from recap.optimise.columns import Column
    from recap.optimise.covers import Choice, Cover, Way
    from recap.optimise.fill import Line
    from recap.optimise.leaf import Leaf
    from recap.optimise.rebuild import Choice as Bought

MOST_BITS = 40_000_000
"""Wider sums than this are left to the solver."""

MOST_PARCEL = 3 * 10**9
"""Bits shifted for one parcel alone."""

MOST_WORK, MOST_KEPT = 3 * 10**10, 4 * 10**9
"""Bits shifted in all, some seconds' work, and bits kept: what takes more is left to the solver."""

MANY_ZEROS = 99

NEAR = (1e-5, 1e-3, 1e-1)
"""How far above what no order is below they are looked for, as a share, one after the other."""

Found = tuple[int, "Bought", tuple["Line", ...]]
"""The total of an order, in total units, and the order."""

Sums = dict[int, int]
"""By level, the sums reached: bits of a whole number."""

Taken = list[tuple["Way", int]]
"""Ways with how many of their multiples are bought."""


@dataclass(frozen=True, slots=True)
class Effort:
    """The ``share`` of the usual work after which counting is given up; ``check`` is called meanwhile, to raise."""

    share: float = 1.0
    check: Callable[[], object] = lambda: None


USUAL = Effort()


@dataclass(frozen=True, slots=True)
class Limits:
    """Sums are counted in ``unit`` units of goods, from the ``target`` on, up to ``width``; totals up to ``most``."""

    unit: int
    target: int
    width: int
    most: int


def cheapest(leaf: Leaf, supplier: int, value: float, best: int | None, effort: Effort = USUAL) -> Found | bool:
    """Return the leaf's cheapest order; False where none costs up to ``best``.

    True where this isn't the way to find out: other parcels have thresholds too, the drawer is shared, or it takes more
    ``effort``. Orders near ``value``, which none is below, are looked for first.
    """
    return nearest(value, best, lambda most: _up_to(leaf, supplier, most, effort))


def nearest(value: float, best: int | None, up_to: Callable[[int], Found | bool]) -> Found | bool:
    """Look for an order that costs little more than ``value``, then for dearer ones up to ``best``.

    Where no order is known to be beaten, True if none is found not far above.
    """
    for share in NEAR:
        most = int(value * (1 + share))
        answer = up_to(most if best is None else min(best, most))
        if answer is not False or (best is not None and most >= best):
            return answer
    return True if best is None else up_to(best)


def _up_to(leaf: Leaf, supplier: int, most: int, effort: Effort) -> Found | bool:
    terms = leaf.frame.instance.suppliers[supplier]
    least = terms.tiers[leaf.tiers[supplier]].least
    alone = _alone(leaf, supplier) and terms.goods_cost
    covers = find(leaf, frozenset([supplier]), most - leaf.bound) if alone else None
    if covers is None:
        return True
    if not all(covers):
        return False
    left = most - leaf.fixed - sum(min(cover.level for cover in each) for each in covers)
    if left < terms.goods_cost * least:
        return False
    unit = _unit(way for each in covers for way in _ways(each)) or 1
    width = left // (terms.goods_cost * unit)
    if width > MOST_BITS:
        return True
    return _best(leaf, supplier, covers, Limits(unit, -(-least // unit), width, most), effort)


def _best(leaf: Leaf, supplier: int, covers: list[list[Cover]], limits: Limits, effort: Effort) -> Found | bool:
    goods_cost = leaf.frame.instance.suppliers[supplier].goods_cost
    highest = limits.most - leaf.fixed - goods_cost * limits.unit * limits.target
    later = _least_later(covers)
    reached: list[Sums] = [{0: 1}]
    work = kept = 0
    for each, rest in zip(covers, later, strict=True):
        joined: Sums = {}
        work += len(reached[-1]) * _work([choice for cover in each for choice in cover.choices[supplier]], limits.width)
        kept += len(reached[-1]) * limits.width
        if work > effort.share * MOST_WORK or kept > MOST_KEPT:
            return True
        for cover in each:
            effort.check()
            begun = _begun(reached[-1], cover, highest - rest)
            for level, sums in _steps(begun, cover.choices[supplier], limits, highest - rest)[-1].items():
                joined[level] = joined.get(level, 0) | sums
        reached.append(joined)
    total, level, goods = _least(reached[-1], goods_cost, limits)
    total += leaf.fixed
    if total > limits.most:
        return False
    others: list[Column] = []
    taken: Taken = []
    for each, before, rest in zip(reversed(covers), reversed(reached[:-1]), reversed(later), strict=True):
        end, left = (level, goods), highest - rest
        cover, ways, level, goods = _traced(each, supplier, before, end, limits=limits, highest=left)
        others += cover.others
        taken += ways
    return total, *bought(leaf, others, taken)


def bought(leaf: Leaf, others: Iterable[Column], taken: Taken) -> tuple[Bought, tuple[Line, ...]]:
    """Return the order of columns that aren't counted and of what is taken of counted suppliers."""
    picked = [(column, -1) for column in others] + [way.column for way, _ in taken if way.column is not None]
    beyond = {way.column[0].offer: count for way, count in taken if way.column is not None and count}
    decoded = topped_up(leaf.frame.instance, leaf.tiers, picked, beyond)
    assert decoded.choice is not None, "sums from the threshold on are an order"
    return decoded.choice, decoded.lines


def parcel(choices: Sequence[Choice], least: int, goods_cost: int, most: int) -> tuple[int, Taken] | None:
    """Return the cheapest way to take one of each choice with goods from ``least`` on, and what it costs.

    None where it costs more than ``most``. Raises OverflowError where sums would be too wide.
    """
    lows = [min(way.goods for way in choice) for choice in choices]
    base = sum(lows)
    above = [tuple(replace(way, goods=way.goods - low) for way in c) for c, low in zip(choices, lows, strict=True)]
    whole = {id(up): way for c, raised in zip(choices, above, strict=True) for up, way in zip(raised, c, strict=True)}
    target, left = max(least - base, 0), most - goods_cost * base
    if left < goods_cost * target:
        return None
    stages = _stages(above)
    limits = [Limits(unit, -(-target // unit), left // (goods_cost * unit), left) for unit, _ in stages]
    if sum(_work(own, each.width) for each, (_, own) in zip(limits, stages, strict=True)) > MOST_PARCEL:
        raise OverflowError
    steps: list[list[Sums]] = []
    begun, before = {0: 1}, stages[0][0]
    for each, (unit, own) in zip(limits, stages, strict=True):
        begun = {level: _spread(sums, before // unit) for level, sums in begun.items()}
        steps.append(_steps(begun, own, each, left - goods_cost * target))
        begun, before = steps[-1][-1], unit
    cost, level, goods = _least(begun, goods_cost, limits[-1])
    if cost > left:
        return None
    taken: Taken = []
    goods *= before
    for (unit, own), each_steps in zip(reversed(stages), reversed(steps), strict=True):
        ways, level, rest = _back(each_steps, own, (level, goods // unit), unit)
        taken += [(whole[id(way)], count) for way, count in ways]
        goods = rest * unit
    return cost + goods_cost * base, taken


def _stages(choices: Sequence[Choice]) -> list[tuple[int, list[Choice]]]:
    """Return choices by the unit in which sums of them and of those before can be counted, the coarsest first.

    A few prices of many decimals then don't make sums of all others as wide as they need.
    """
    ordered = sorted(((_unit(choice), choice) for choice in choices), key=lambda each: -_zeros(each[0]))
    unit = next((own for own, _ in ordered if own), 1)
    stages: list[tuple[int, list[Choice]]] = [(unit, [])]
    for own, choice in ordered:
        unit = gcd(unit, own)
        if stages[-1][0] != unit:
            stages.append((unit, []))
        stages[-1][1].append(choice)
    return stages


def _zeros(number: int) -> int:
    """Return how many zeros a number ends in; nothing ends in more than a whole price."""
    return len(str(number)) - len(str(number).rstrip("0")) if number else MANY_ZEROS


def _work(choices: Sequence[Choice], width: int) -> int:
    return width * sum(2 + way.count.bit_length() for choice in choices for way in choice)


def _spread(sums: int, factor: int) -> int:
    """Return sums counted in a unit finer by ``factor``."""
    if factor == 1:
        return sums
    packed = np.frombuffer(sums.to_bytes(sums.bit_length() // 8 + 1, "little"), np.uint8)
    bits = np.unpackbits(packed, bitorder="little")
    wide = np.zeros(len(bits) * factor, dtype=np.uint8)
    wide[::factor] = bits
    return int.from_bytes(np.packbits(wide, bitorder="little").tobytes(), "little")


def _unit(ways: Iterable[Way]) -> int:
    """Return what all that the ways come to is a multiple of; 0 where they come to nothing."""
    return gcd(*(n for way in ways for n in (way.goods, way.more * bool(way.count))))


def _least(reached: Sums, goods_cost: int, limits: Limits) -> tuple[int, int, int]:
    """Return what the cheapest of the sums from the target on costs with its level, its level, and the sum."""
    found = []
    for level, sums in reached.items():
        over = sums >> limits.target
        if over:
            goods = limits.target + (over & -over).bit_length() - 1
            found.append((level + goods_cost * goods * limits.unit, level, goods))
    return min(found, default=(limits.most + 1, 0, 0))


def _alone(leaf: Leaf, supplier: int) -> bool:
    """Tell whether no other parcel must reach or keep below anything, nor this one keep below."""
    for s, k in leaf.tiers.items():
        terms = leaf.frame.instance.suppliers[s]
        tier = terms.tiers[k]
        if (tier.most is not None and terms.rising) or (s != supplier and tier.least):
            return False
    return True


def _ways(covers: Iterable[Cover]) -> list[Way]:
    choices = [choice for cover in covers for own in cover.choices.values() for choice in own]
    return [way for choice in choices for way in choice]


def _least_later(covers: Sequence[Sequence[Cover]]) -> list[int]:
    """Return for each cluster the least level of all clusters after it."""
    lows = [min(cover.level for cover in each) for each in covers]
    return [sum(lows[i + 1 :]) for i in range(len(lows))]


def _begun(before: Sums, cover: Cover, highest: int) -> Sums:
    """Return the sums after the cover's level; above ``highest`` nothing is kept."""
    return {level + cover.level: sums for level, sums in before.items() if level + cover.level <= highest}


def _steps(begun: Sums, choices: Sequence[Choice], limits: Limits, highest: int) -> list[Sums]:
    """Return the sums before and after each of the choices; above the level ``highest`` nothing is kept."""
    steps = [begun]
    for choice in choices:
        joined: Sums = {}
        for level, sums in steps[-1].items():
            for way in choice:
                if level + way.level <= highest:
                    reached = joined.get(level + way.level, 0)
                    joined[level + way.level] = reached | _shifted(sums, way, limits)
        steps.append(joined)
    return steps


def _shifted(sums: int, way: Way, limits: Limits) -> int:
    """Return the sums with the way's goods, and any number of its multiples, up to the widest."""
    unit, width = limits.unit, limits.width
    if way.goods // unit > width:
        return 0
    mask = (1 << width + 1) - 1
    return multiplied(sums << way.goods // unit & mask, way.more // unit, way.count, width)


def _traced(
    covers: Sequence[Cover], supplier: int, before: Sums, end: tuple[int, int], *, limits: Limits, highest: int
) -> tuple[Cover, list[tuple[Way, int]], int, int]:
    """Return the cover and ways that lead to a level and sum, and the level and sum before them."""
    for cover in covers:
        choices = cover.choices[supplier]
        steps = _steps(_begun(before, cover, highest), choices, limits, highest)
        level, goods = end
        if not steps[-1].get(level, 0) >> goods & 1:
            continue
        taken, level, goods = _back(steps, choices, (level, goods), limits.unit)
        return cover, taken, level - cover.level, goods
    raise AssertionError("a sum that was reached has a way")


def _back(
    steps: Sequence[Sums], choices: Sequence[Choice], end: tuple[int, int], unit: int
) -> tuple[list[tuple[Way, int]], int, int]:
    """Return the ways, last choice first, that lead to a level and sum, and the level and sum before them."""
    level, goods = end
    taken = []
    for choice, earlier in zip(reversed(choices), reversed(steps[:-1]), strict=True):
        way, count, level, goods = _taken(choice, earlier, level, goods, unit)
        taken.append((way, count))
    return taken, level, goods


def _taken(choice: Choice, earlier: Sums, level: int, goods: int, unit: int) -> tuple[Way, int, int, int]:
    for way in choice:
        sums = earlier.get(level - way.level, 0)
        for count in range(way.count + 1):
            rest = goods - (way.goods + count * way.more) // unit
            if rest < 0:
                break
            if sums >> rest & 1:
                return way, count, level - way.level, rest
    raise AssertionError("a sum that was reached has a way")
