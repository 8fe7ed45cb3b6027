"""What is left to choose in a leaf: a small program, written in PuLP.

Only columns whose excess is within the gap are in it, so few remain.

    min  sum cost_c x_c + sum_s goods cost_s T_s + sum_ob goods cost_s m_o p_ob e_ob
    L1   every group in exactly one column
    L2   one column of an offer that can't be merged
    L3   goods_s + T_s >= least_s  (and <= most_s where a later tier is dearer)
    L4   the drawer holds so much

T_s stands for whatever is bought beyond need to reach the tier. It is a relaxation: pieces come in whole. For
suppliers that are *exact* it is left away. Their columns are listed for every offer, per price step, also for no group
at all, and e_ob counts multiples beyond, which is all that can be bought:

    L5   one column of each offer of an exact supplier
    L6   m_o e_ob <= sum_c (high_ob - quantity_c) x_c,  its goods counting to L3
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

import numpy as np
import pulp

from recap.optimise import quotes
from recap.optimise.clusters import NEVER
from recap.optimise.columns import Column, drawer_lots, sets_of
from recap.optimise.relaxation import column_cost
from recap.optimise.rows import Terms, Variable, at_least_zero, minus, total

if TYPE_CHECKING:
    from collections.abc import Iterator

    from recap.optimise.instance import Instance, Offer
    from recap.optimise.leaf import Leaf
    from recap.optimise.solver import Program

FINE = 1e-9
"""Share of the bound that floating point may be wrong by; columns this much beyond the gap stay in."""


@dataclass(slots=True)
class Residue:
    """The program with its variables: chosen columns, multiples beyond (by offer and step), free topping up.

    Topping up counts in shares of the tier (:func:`_size`): a solver drops coefficients as small as one unit's share.
    """

    leaf: Leaf
    exact: frozenset[int]
    lp: Program
    one: Variable
    chosen: list[tuple[Column, int, Variable]] = field(default_factory=list)
    beyond: dict[tuple[int, int], Variable] = field(default_factory=dict)
    top: dict[int, Variable] = field(default_factory=dict)

    def costs(self) -> Terms:
        """Return the terms of the total, in total units, without the leaf's fixed charges."""
        instance = self.leaf.frame.instance
        terms: Terms = [(column_cost(instance, column), x) for column, _, x in self.chosen]
        terms += [(instance.suppliers[s].goods_cost * _size(self.leaf, s), x) for s, x in self.top.items()]
        for (o, b), x in self.beyond.items():
            offer = instance.offers[o]
            cost = instance.suppliers[offer.supplier].goods_cost
            terms.append((offer.multiple * offer.steps[b].price * cost, x))
        return terms

    def goods(self, supplier: int) -> Terms:
        """Return the terms of the supplier's goods, topping up left aside."""
        offers = self.leaf.frame.instance.offers
        terms: Terms = [(column.goods, x) for column, _, x in self.chosen if column.supplier == supplier]
        for (o, b), x in self.beyond.items():
            if offers[o].supplier == supplier:
                terms.append((offers[o].multiple * offers[o].steps[b].price, x))
        return terms


def build(leaf: Leaf, width: float, exact: frozenset[int]) -> Residue:
    """Write the program with all columns whose excess is at most ``width``, without its objective."""
    lp = pulp.LpProblem("residue", pulp.LpMinimize)
    residue = Residue(leaf, exact, lp, lp.add_variable("one", 1, 1, pulp.LpInteger))
    width += FINE * max(abs(leaf.bound), 1.0)
    for i in np.flatnonzero((leaf.excesses <= width) & (leaf.excesses < NEVER)).tolist():
        column = leaf.frame.columns.all[i]
        if column.supplier not in exact:
            residue.chosen.append((column, -1, lp.add_variable(f"column|{i}", 0, 1, pulp.LpInteger)))
    for s in leaf.tiers:
        if s in exact:
            _add_exact(residue, s, width)
        else:
            residue.top[s] = lp.add_variable(f"top|{s}", 0, None)
    _add_cover(residue)
    _add_single(residue)
    _add_tiers(residue)
    _add_lots(residue)
    return residue


def _add(residue: Residue, terms: Terms, sense: int, right: int, name: str) -> None:
    residue.lp.addConstraint(pulp.LpConstraint(total(terms), sense, name, right))


def _add_exact(residue: Residue, supplier: int, width: float) -> None:
    """L6, and the columns of an exact supplier."""
    leaf, lp = residue.leaf, residue.lp
    instance = leaf.frame.instance
    net = leaf.net(supplier)
    room: defaultdict[tuple[int, int], Terms] = defaultdict(list)
    for i, (column, b, excess) in enumerate(within(leaf, supplier, width)):
        x = lp.add_variable(f"exact|{supplier}|{i}", 0, 1, pulp.LpInteger)
        residue.chosen.append((column, b, x))
        offer = instance.offers[column.offer]
        price = offer.steps[b].price * offer.multiple * net
        count = (offer.steps[b].high - column.quantity) // offer.multiple
        if price > 0 and width < NEVER:
            count = min(count, int((width - excess) / price + 1e-6))
        if count > 0:
            room[offer.index, b].append((count, x))
    for (o, b), terms in room.items():
        most = max(count for count, _ in terms)
        e = residue.beyond[o, b] = lp.add_variable(f"beyond|{o}|{b}", 0, most, pulp.LpInteger)
        _add(residue, [(1, e), *minus(terms)], pulp.LpConstraintLE, 0, f"within|{o}|{b}")


def within(leaf: Leaf, supplier: int, width: float) -> Iterator[tuple[Column, int, float]]:
    """Yield the columns of a supplier, with price step and excess, whose excess is at most ``width``."""
    lots = drawer_lots(leaf.frame.instance)
    for quoted in leaf.frame.columns.quotes:
        chosen = [n for n, offer in enumerate(quoted.offers) if offer.supplier == supplier]
        if not chosen:
            continue
        excesses = leaf.excesses_at(quoted, chosen)
        members = quotes.members(quoted.groups.shape[1])
        for n, mask, b in np.argwhere((excesses <= width) & (excesses < NEVER)).tolist():
            offer = quoted.offers[chosen[n]]
            if offer.number in lots:
                continue
            groups = tuple([offer.groups[i] for i in members[mask]])
            goods, quantity = (int(each[chosen[n], mask, b]) for each in (quoted.goods, quoted.quantity))
            yield Column(offer.index, supplier, groups, goods, quantity), b, float(excesses[n, mask, b])
        for n in chosen:
            offer = quoted.offers[n]
            if offer.number in lots:
                yield from _drawing(leaf, offer, lots[offer.number], width)


def _drawing(leaf: Leaf, offer: Offer, lot: int, width: float) -> Iterator[tuple[Column, int, float]]:
    """Yield the same of one offer of which some lie in the drawer."""
    value = leaf.valued(offer)
    for groups in [(), *sets_of(offer.groups)]:
        rest = leaf.rest(groups)
        for b, quantity, drawn in _quantities(leaf.frame.instance, offer, lot, groups):
            goods, used = quantity * offer.steps[b].price, lot if drawn else -1
            excess = rest + value(goods, used, drawn)
            if excess <= width:
                yield Column(offer.index, offer.supplier, groups, goods, quantity, used, drawn), b, excess


def _quantities(instance: Instance, offer: Offer, lot: int, groups: tuple[int, ...]) -> Iterator[tuple[int, int, int]]:
    """Yield price step, pieces bought at least, and pieces drawn, of all columns of an offer for these groups."""
    wanted = sum(instance.needs[g] for g in groups)
    drawers = sum(instance.needs[g] for g in groups if g in instance.lot_groups[lot])
    most = min(instance.lots[lot][1], drawers, max(wanted - 1, 0))
    for b, step in enumerate(offer.steps):
        before = -1
        for drawn in range(most + 1):
            quantity = max(step.low, -(-(wanted - drawn) // offer.multiple) * offer.multiple)
            if quantity <= step.high and quantity != before:
                before = quantity
                yield b, quantity, drawn


def _add_cover(residue: Residue) -> None:
    """L1."""
    cover: list[Terms] = [[] for _ in residue.leaf.frame.instance.needs]
    for column, _, x in residue.chosen:
        for group in column.groups:
            cover[group].append((1, x))
    for group, terms in enumerate(cover):
        _add(residue, terms or [(0, residue.one)], pulp.LpConstraintEQ, 1, f"cover|{group}")


def _add_single(residue: Residue) -> None:
    """L2 and L5."""
    by_offer: defaultdict[int, Terms] = defaultdict(list)
    for column, b, x in residue.chosen:
        if column.offer >= 0 and (b >= 0 or not residue.leaf.frame.columns.mergeable[column.offer]):
            by_offer[column.offer].append((1, x))
    for offer, terms in by_offer.items():
        if len(terms) > 1:
            _add(residue, terms, pulp.LpConstraintLE, 1, f"single|{offer}")


def _add_tiers(residue: Residue) -> None:
    """L3: exactly for exact suppliers, in shares of the tier for the others."""
    instance = residue.leaf.frame.instance
    for s, k in residue.leaf.tiers.items():
        tier = instance.suppliers[s].tiers[k]
        goods = residue.goods(s)
        if s in residue.exact:
            if tier.least:
                at_least_zero(residue.lp, [*goods, (-tier.least, residue.one)], f"reached|{s}")
            if tier.most is not None and instance.suppliers[s].rising:
                at_least_zero(residue.lp, [*minus(goods), (tier.most, residue.one)], f"below|{s}")
            continue
        size = _size(residue.leaf, s)
        shares = [*((c / size, x) for c, x in goods), (1.0, residue.top[s])]
        if tier.least:
            row = pulp.LpConstraint(total(shares), pulp.LpConstraintGE, f"reached|{s}", tier.least / size)
            residue.lp.addConstraint(row)
        if tier.most is not None and instance.suppliers[s].rising:
            row = pulp.LpConstraint(total(shares), pulp.LpConstraintLE, f"below|{s}", tier.most / size)
            residue.lp.addConstraint(row)


def _size(leaf: Leaf, supplier: int) -> int:
    """Return how many units of goods one unit of a supplier's topping up stands for, about a thousandth of its tier."""
    return max(leaf.frame.instance.suppliers[supplier].tiers[leaf.tiers[supplier]].least // 1000, 1)


def _add_lots(residue: Residue) -> None:
    """L4."""
    by_lot: defaultdict[int, Terms] = defaultdict(list)
    for column, _, x in residue.chosen:
        if column.drawn:
            by_lot[column.lot].append((column.drawn, x))
    for lot, terms in by_lot.items():
        _add(residue, terms, pulp.LpConstraintLE, residue.leaf.frame.instance.lots[lot][1], f"lot|{lot}")
