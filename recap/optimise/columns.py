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

if TYPE_CHECKING:
    from collections.abc import Iterator

    from recap.optimise.instance import Instance, Offer

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
    """All columns worth having while thresholds may be topped up freely; ``mergeable`` by offer."""

    all: tuple[Column, ...]
    mergeable: tuple[bool, ...]


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
    plain: list[Column] = []
    drawn: list[Column] = list(_wholly_drawn(instance))
    for offer in instance.offers:
        if len(offer.groups) > WIDEST:
            raise ValueError(f"{offer.number} suits {len(offer.groups)} groups")
        plain += _own(instance, offer, mergeable[offer.index])
        if offer.number in lots:
            drawn += _with_drawer(instance, offer, lots[offer.number])
    return Columns(tuple(_undominated(instance, plain, mergeable) + drawn), mergeable)


def _own(instance: Instance, offer: Offer, mergeable: bool) -> Iterator[Column]:
    """Yield the offer's columns; where mergeable, without sets that cost as little in two parts."""
    terms = instance.suppliers[offer.supplier]
    fee = terms.line_fee * terms.charge_cost
    needs = instance.needs
    cost: dict[int, int] = {}
    groups = offer.groups
    pieces = [0]
    for i, group in enumerate(groups):
        pieces += [pieces[mask] + needs[group] for mask in range(1 << i)]
    for mask in range(1, 1 << len(groups)):
        quoted = quote(offer, pieces[mask])
        if quoted is None:
            continue
        cost[mask] = quoted[0] * terms.goods_cost + fee
        if mergeable and mask & (mask - 1) and _splits(mask, cost):
            continue
        members = tuple(group for i, group in enumerate(groups) if mask >> i & 1)
        yield Column(offer.index, offer.supplier, members, *quoted)


def _splits(mask: int, cost: dict[int, int]) -> bool:
    """Tell whether the set costs as little in two parts (each of which has a cost, for both are smaller)."""
    whole = cost[mask]
    lowest = mask & -mask
    rest = mask ^ lowest
    part = (rest - 1) & rest
    while True:
        if cost[part | lowest] + cost[rest ^ part] <= whole:
            return True
        if part == 0:
            return False
        part = (part - 1) & rest


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
    """Drop what another offer, or two, of the same supplier give for as little, where those are mergeable."""
    best: dict[tuple[int, tuple[int, ...]], Column] = {}
    for column in columns:
        key = (column.supplier, column.groups)
        if mergeable[column.offer] and (key not in best or column.goods < best[key].goods):
            best[key] = column
    kept: list[Column] = []
    by_size: defaultdict[int, list[Column]] = defaultdict(list)
    for column in columns:
        leader = best.get((column.supplier, column.groups))
        if leader is column or (not mergeable[column.offer] and (leader is None or column.goods < leader.goods)):
            by_size[len(column.groups)].append(column)
    for size in sorted(by_size):
        kept += [c for c in by_size[size] if size == 1 or not _cheaper_apart(instance, c, best)]
    return kept


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
