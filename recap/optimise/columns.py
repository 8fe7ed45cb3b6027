"""Columns: an offer together with the set of groups it serves, whose goods value is a constant.

For offer o and set A the least goods value is

    g = min over price steps b of  p_ob * max(low_ob, needs of A rounded up to the multiple)

With columns the price ladder, minimum and multiple leave the program: what a linear relaxation would
smear over the ladder is counted outright. A set costs at most what its parts cost bought apart, unless
stock runs out or prices rise; offers of which that can be said are *mergeable*: two columns of one offer may then
stand side by side, for bought together they cost no more. So a mergeable offer needs only the sets that are cheaper
together than in any two parts, and only where no other offer of the supplier serves the set for less. (What
that leaves out in goods value, a threshold may miss: :mod:`recap.optimise.leaf` brings it back.)

Drawer: a column may take pieces of the same part number from the drawer, and buy the fewer; and a group
may lie wholly in the drawer.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from recap.optimise import quotes

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from recap.optimise.instance import Instance, Offer, Supplier
    from recap.optimise.quotes import Quotes

WIDEST = 10
"""Most groups of one offer for which all sets are listed."""


@dataclass(frozen=True, slots=True)
class Column:
    """``groups`` served by ``offer`` (-1: wholly from the drawer) of ``supplier`` for ``goods`` units.

    ``quantity`` pieces are bought, ``drawn`` come from the drawer's ``lot`` (-1: none).
    """

    offer: int
    supplier: int
    groups: tuple[int, ...]
    goods: int
    quantity: int
    lot: int = -1
    drawn: int = 0


@dataclass(frozen=True, slots=True)
class Columns:
    """All columns worth having while thresholds may be topped up freely; ``mergeable`` by offer.

    ``quotes``: what every offer costs for every set of its groups, worth having or not.
    """

    all: tuple[Column, ...]
    mergeable: tuple[bool, ...]
    quotes: tuple[Quotes, ...]

    def lone(self, column: Column) -> int:
        """Return the column's offer where it can't be merged, so that no other column of it may be chosen; else -1."""
        return column.offer if column.offer >= 0 and not self.mergeable[column.offer] else -1


def sets_of(groups: tuple[int, ...]) -> list[tuple[int, ...]]:
    """Return every non-empty subset, in the order of binary counting."""
    found: list[tuple[int, ...]] = []
    for group in groups:
        found += [(group,), *((*each, group) for each in found)]
    return found


def is_mergeable(instance: Instance, offer: Offer) -> bool:
    """Tell whether buying two needs together can't cost more than apart: stock for all, prices that don't rise."""
    part = instance.problem.offers[offer.index]
    falling = all(b.price <= a.price for a, b in zip(offer.steps, offer.steps[1:], strict=False))
    wanted = sum(instance.needs[g] for g in offer.groups)
    return falling and (part.stock is None or offer.most >= wanted)


def drawer_lots(instance: Instance) -> dict[str, int]:
    """Return the drawer lot of each part number. Raises ValueError where a number lies in several lots."""
    lots: dict[str, int] = {}
    for lot, (number, _) in enumerate(instance.lots):
        if instance.lot_groups[lot]:
            if number in lots:
                raise ValueError(f"{number} lies in the drawer more than once")
            lots[number] = lot
    return lots


def quote(offer: Offer, pieces: int) -> tuple[int, int] | None:
    """Return (goods, quantity) of the cheapest way to buy at least ``pieces``; None where stock is short."""
    best: tuple[int, int] | None = None
    need = -(-pieces // offer.multiple) * offer.multiple
    for step in offer.steps:
        quantity = max(step.low, need)
        if quantity <= step.high and (best is None or quantity * step.price < best[0]):
            best = (quantity * step.price, quantity)
    return best


def build(instance: Instance) -> Columns:
    """List the columns. Raises ValueError where an offer serves more than :data:`WIDEST` groups."""
    lots = drawer_lots(instance)
    mergeable = tuple(is_mergeable(instance, offer) for offer in instance.offers)
    for offer in instance.offers:
        if len(offer.groups) > WIDEST:
            raise ValueError(f"{offer.number} suits {len(offer.groups)} groups")
    quoted = tuple(quotes.quotes(instance, instance.offers))
    plain = _undominated(instance, _own(instance, quoted, mergeable), mergeable)
    drawn = list(_wholly_drawn(instance))
    for offer in instance.offers if lots else ():
        if offer.number in lots:
            drawn += _with_drawer(instance, offer, lots[offer.number])
    return Columns(tuple(plain + drawn), mergeable, quoted)


def _own(instance: Instance, quoted: Iterable[Quotes], mergeable: tuple[bool, ...]) -> list[Column]:
    """Return the offers' columns, small sets first: the cheapest of each supplier for a set, and what can't be merged.

    Where mergeable, without sets that cost as little in two parts.
    """
    listed: defaultdict[int, list[Listed]] = defaultdict(list)
    for each in quoted:
        suppliers = np.array([offer.supplier for offer in each.offers])
        merging = np.array([mergeable[offer.index] for offer in each.offers])
        fees = _fees(instance, suppliers.tolist(), each)
        goods, quantity = each.cheapest()
        for mask, places in enumerate(quotes.members(each.groups.shape[1])):
            if places:
                kept = goods[:, mask] < each.never
                if len(places) > 1:
                    kept &= ~(merging & _splits(goods, fees, mask))
                rows = np.flatnonzero(kept)
                numbers = np.array([each.offers[n].index for n in rows.tolist()], dtype=np.int64)
                groups = each.groups[rows][:, list(places)]
                mine = Listed(numbers, suppliers[rows], groups, goods[rows, mask], quantity[rows, mask], merging[rows])
                listed[len(places)].append(mine)
    return [column for size in sorted(listed) for column in _leading(listed[size])]


@dataclass(frozen=True, slots=True)
class Listed:
    """Columns of as many groups each, one row a column."""

    offer: np.ndarray
    supplier: np.ndarray
    groups: np.ndarray
    goods: np.ndarray
    quantity: np.ndarray
    merging: np.ndarray


def _leading(parts: list[Listed]) -> Iterator[Column]:
    """Yield of columns of one supplier for the same groups the cheapest, and cheaper ones that can't be merged."""
    offer, supplier, groups, goods, quantity, merging = (
        np.concatenate([getattr(part, name) for part in parts])
        for name in ("offer", "supplier", "groups", "goods", "quantity", "merging")
    )
    same = supplier
    for column in groups.T:
        same = np.unique(same * (groups.max(initial=0) + 1) + column, return_inverse=True)[1]
    rank = np.unique(goods, return_inverse=True)[1]
    order = np.lexsort((offer, rank, ~merging, same))
    first = order[np.flatnonzero(np.diff(same[order], prepend=-1))]
    first = first[merging[first]]
    least = np.full(len(offer), len(offer))
    least[same[first]] = rank[first]
    kept = ~merging & (rank < least[same])
    kept[first] = True
    rows = np.flatnonzero(kept)
    columns = zip(*(each[rows].tolist() for each in (offer, supplier, groups, goods, quantity)), strict=True)
    for o, s, own, amount, pieces in columns:
        yield Column(o, s, tuple(own), amount, pieces)


def _fees(instance: Instance, suppliers: list[int], quoted: Quotes) -> np.ndarray:
    """Return for suppliers how many units of goods cost as much as one line more, as far as that matters."""
    never = quoted.never
    return np.array([min(_fee(instance.suppliers[s], never), never) for s in suppliers], quoted.goods.dtype)


def _fee(terms: Supplier, never: int) -> int:
    """Return how many units of goods cost as much as one line more, rounded up."""
    fee = terms.line_fee * terms.charge_cost
    return -(-fee // terms.goods_cost) if terms.goods_cost else never * (fee > 0)


def _splits(goods: np.ndarray, fees: np.ndarray, mask: int) -> np.ndarray:
    """Tell by offer whether the set costs as little in two parts (each of which has a cost, for both are smaller)."""
    found = np.zeros(len(goods), dtype=bool)
    lowest = mask & -mask
    rest = part = mask ^ lowest
    while part:
        part = (part - 1) & rest
        found |= goods[:, part | lowest] + goods[:, rest ^ part] + fees <= goods[:, mask]
    return found


def _with_drawer(instance: Instance, offer: Offer, lot: int) -> Iterator[Column]:
    """Yield columns that draw some pieces and buy the rest: for each goods value the fewest drawn."""
    lying = instance.lots[lot][1]
    groups = tuple(g for g in offer.groups if g in set(instance.lot_groups[lot]))
    others = tuple(g for g in offer.groups if g not in set(groups))
    for drawers in sets_of(groups):
        most = sum(instance.needs[g] for g in drawers)
        for bought in [(), *sets_of(others)]:
            members = tuple(sorted(drawers + bought))
            wanted = sum(instance.needs[g] for g in members)
            before = quote(offer, wanted)
            for pieces in range(1, min(lying, most) + 1):
                if pieces == wanted:
                    break
                quoted = quote(offer, wanted - pieces)
                if quoted is not None and (before is None or quoted[0] < before[0]):
                    yield Column(offer.index, offer.supplier, members, *quoted, lot, pieces)
                    before = quoted


def _wholly_drawn(instance: Instance) -> Iterator[Column]:
    for lot, (_, lying) in enumerate(instance.lots):
        for group in instance.lot_groups[lot]:
            if instance.needs[group] <= lying:
                yield Column(-1, -1, (group,), 0, 0, lot, instance.needs[group])


def _undominated(instance: Instance, columns: list[Column], mergeable: tuple[bool, ...]) -> list[Column]:
    """Drop what two other offers of the same supplier give for as little, where those are mergeable."""
    best = {(c.supplier, c.groups): c for c in columns if mergeable[c.offer]}
    return [c for c in columns if len(c.groups) == 1 or not _cheaper_apart(instance, c, best)]


def _cheaper_apart(instance: Instance, column: Column, best: dict[tuple[int, tuple[int, ...]], Column]) -> bool:
    terms = instance.suppliers[column.supplier]
    if terms.line_fee and terms.target:
        return False  # towards a threshold, one line of as much money is more goods, and one fee less
    most = column.goods * terms.goods_cost - terms.line_fee * terms.charge_cost
    first, *others = column.groups
    for mask in range((1 << len(others)) - 1):
        one = (first, *(g for i, g in enumerate(others) if mask >> i & 1))
        two = tuple(g for i, g in enumerate(others) if not mask >> i & 1)
        a, b = best.get((column.supplier, one)), best.get((column.supplier, two))
        if a is not None and b is not None and (a.goods + b.goods) * terms.goods_cost <= most:
            return True
    return False
