"""Bring a parcel up to a shipping tier or a minimum for as little as can be: a subset-sum, solved in bits.

Every line may be bought from any offer of the supplier that serves its groups, in any quantity from its need up;
offers that serve no line may be bought besides. Sums that can be reached so are the set bits of one large whole
number, shifted and joined line by line; the lowest bit at or above the target is the cheapest. (Where a
line costs a fee, lines besides are left to the program.)
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence

    from recap.optimise.instance import Instance, Offer

MOST_BITS = 4_000_000
"""Wider than this (tiny prices, a far target) is left to the program."""


@dataclass(frozen=True, slots=True)
class Line:
    """One offer bought for some groups: ``pieces`` wanted of it after what the ``lot`` in the drawer gives."""

    offer: int
    groups: tuple[int, ...]
    pieces: int
    lot: int = -1
    drawn: int = 0
    quantity: int = 0


@dataclass(frozen=True, slots=True)
class Way:
    """To buy ``first`` pieces of an offer for ``base`` units, and up to ``count`` times ``goods`` units more."""

    offer: int
    first: int
    base: int
    goods: int
    count: int


def top_up(instance: Instance, supplier: int, lines: Sequence[Line], target: int) -> list[Line] | None:
    """Return lines whose goods are at least ``target`` and as near as can be; None where this way leads nowhere.

    Once offers that serve no line are all kept for lines besides, once they are ways to buy a line; the nearer counts.
    """
    kept = _nearest(instance, _choices(instance, supplier, lines, swap=False), lines, target)
    if kept is not None and kept[0] == target:
        return kept[1]
    swapped = _nearest(instance, _choices(instance, supplier, lines, swap=True), lines, target)
    found = [each for each in (kept, swapped) if each is not None]
    return min(found, key=lambda each: each[0])[1] if found else None


def _nearest(
    instance: Instance, choices: list[list[Way]], lines: Sequence[Line], target: int
) -> tuple[int, list[Line]] | None:
    """Return the least goods from ``target`` on that one way of each choice comes to, and the lines so bought."""
    least = sum(min(way.base for way in ways) for ways in choices)
    missing = max(target - least, 0)
    width = _enough(choices, missing)
    if width > MOST_BITS:
        return None
    reached = [1]
    for ways in choices:
        reached.append(_add(reached[-1], ways, width))
    over = reached[-1] >> missing
    if not over:
        return None
    amount = missing + (over & -over).bit_length() - 1
    goods = least + amount
    taken: list[tuple[Way, int]] = []
    for ways, before in zip(reversed(choices), reversed(reached[:-1]), strict=True):
        way, count, amount = _take(before, ways, amount)
        taken.append((way, count))
    taken.reverse()
    filled = []
    for i, (way, count) in enumerate(taken):
        quantity = way.first + count * instance.offers[way.offer].multiple if way.offer >= 0 else 0
        if i < len(lines):
            line = lines[i]
            filled.append(Line(way.offer, line.groups, line.pieces, line.lot, line.drawn, quantity))
        elif quantity:
            filled.append(Line(way.offer, (), 0, quantity=quantity))
    return goods, filled


def _enough(choices: list[list[Way]], missing: int) -> int:
    """Return how much ``missing`` becomes at most: by one way alone, or where none will do, by some in a row."""
    alone, largest = [], 0
    for ways in choices:
        cheapest = min(way.base for way in ways)
        for way in ways:
            jump = way.base - cheapest
            count = -(-max(missing - jump, 0) // way.goods) if way.goods else 0
            largest = max(largest, jump, way.goods)
            if count <= way.count and jump + count * way.goods >= missing:
                alone.append(jump + count * way.goods)
    return min(alone, default=missing + largest)


def _choices(instance: Instance, supplier: int, lines: Sequence[Line], *, swap: bool) -> list[list[Way]]:
    """Return the ways to buy each line, then those for lines besides (where one is to buy nothing)."""
    claimed = {line.offer for line in lines}
    others = [o for o in instance.offers if o.supplier == supplier and o.index not in claimed and o.steps]
    choices = []
    for line in lines:
        ways = _ways(instance.offers[line.offer], line.pieces)
        for offer in others if swap else ():
            if offer.index not in claimed and not line.drawn and set(line.groups) <= set(offer.groups):
                more = _ways(offer, line.pieces)
                if more:
                    claimed.add(offer.index)
                    ways += more
        choices.append(ways)
    if not instance.suppliers[supplier].line_fee:
        nothing = Way(-1, 0, 0, 0, 0)
        choices += [[nothing, *_ways(offer, 0)] for offer in others if offer.index not in claimed]
    return choices


def _ways(offer: Offer, pieces: int) -> list[Way]:
    """Return one way for each price step that has room for the pieces."""
    ways = []
    for step in offer.steps:
        first = max(step.low, -(-pieces // offer.multiple) * offer.multiple)
        if first <= step.high:
            count = (step.high - first) // offer.multiple if step.price else 0
            ways.append(Way(offer.index, first, first * step.price, offer.multiple * step.price, count))
    return ways


def _add(reached: int, ways: Sequence[Way], width: int) -> int:
    """Return the sums reached with one of the ways, from its cheapest base up, not above ``width``."""
    mask = (1 << width + 1) - 1
    least = min(way.base for way in ways)
    joined = 0
    for way in ways:
        if way.base - least > width:
            continue
        joined |= multiplied(reached << (way.base - least) & mask, way.goods, way.count, width)
    return joined


def multiplied(sums: int, goods: int, count: int, width: int) -> int:
    """Return the sums, and each with ``goods`` up to ``count`` times more, not above ``width``."""
    mask = (1 << width + 1) - 1
    left, step = count, 1
    while left > 0 and goods * step <= width:
        step = min(step, left)
        sums |= sums << goods * step & mask
        left -= step
        step *= 2
    return sums


def _take(before: int, ways: Sequence[Way], amount: int) -> tuple[Way, int, int]:
    """Return the way and count that lead from a sum reached before to ``amount``, and that sum."""
    least = min(way.base for way in ways)
    for way in ways:
        for count in range(way.count + 1):
            rest = amount - (way.base - least) - count * way.goods
            if rest < 0:
                break
            if before >> rest & 1:
                return way, count, rest
    raise AssertionError("a sum that was reached has a way")
