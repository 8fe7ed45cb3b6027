"""From a solved residue to pieces: who buys what, what the drawer gives, and what tops a parcel up."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from recap.optimise import fill
from recap.optimise.columns import quote
from recap.optimise.fill import Line
from recap.optimise.rebuild import Choice

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from recap.optimise.columns import Column
    from recap.optimise.instance import Instance
    from recap.optimise.residue import Residue


@dataclass(frozen=True, slots=True)
class Decoded:
    """The order chosen, topped up; None where topping up by whole pieces doesn't reach a minimum.

    ``short`` are the suppliers that needed topping up beyond what the program bought, ``lines`` all that are bought.
    """

    choice: Choice | None
    short: frozenset[int]
    lines: tuple[Line, ...]


def decode(residue: Residue) -> Decoded:
    """Read the solved variables, rounded to whole columns and pieces, and top parcels up."""
    picked = [(column, b) for column, b, x in residue.chosen if round(x.varValue or 0.0)]
    counts = {o: count for (o, _), e in residue.beyond.items() if (count := round(e.varValue or 0.0))}
    return topped_up(residue.leaf.frame.instance, residue.leaf.tiers, picked, counts)


def topped_up(
    instance: Instance, tiers: Mapping[int, int], picked: Iterable[tuple[Column, int]], beyond: Mapping[int, int]
) -> Decoded:
    """Turn columns, each with its price step or -1 for the cheapest, and multiples beyond into an order."""
    columns = list(picked)
    wholly = {(column.groups[0], column.lot): column.drawn for column, _ in columns if column.offer < 0}
    by_supplier: defaultdict[int, list[Line]] = defaultdict(list)
    for line in _lines(instance, columns, beyond):
        by_supplier[instance.offers[line.offer].supplier].append(line)
    short: set[int] = set()
    for s, own in by_supplier.items():
        terms = instance.suppliers[s]
        least = terms.tiers[tiers[s]].least
        goods = goods_of(instance, {line.offer: line.quantity for line in own})
        if goods >= least:
            continue
        short.add(s)
        topped = fill.top_up(instance, s, own, least)
        if topped is not None:
            by_supplier[s] = topped
        elif goods < terms.tiers[0].least:
            return Decoded(None, frozenset(short), ())
    lines = [line for each in by_supplier.values() for line in each]
    return Decoded(choice_of(instance, lines, wholly), frozenset(short), tuple(lines))


def start_of(residue: Residue, lines: Iterable[Line], values: Mapping[str, float]) -> dict[str, float] | None:
    """Return values for the residue's variables: as before, and for exact suppliers from their lines.

    None where a line has no column in the residue.
    """
    offers = residue.leaf.frame.instance.offers
    columns = {
        (column.offer, b, column.groups, column.drawn, column.quantity): x for column, b, x in residue.chosen if b >= 0
    }
    start = {name: value for name, value in values.items() if not name.startswith(("exact|", "beyond|"))}
    start["one"] = 1.0
    for line in lines:
        offer = offers[line.offer]
        if offer.supplier not in residue.exact:
            continue
        b = next(i for i, step in enumerate(offer.steps) if step.low <= line.quantity <= step.high)
        first = max(offer.steps[b].low, -(-line.pieces // offer.multiple) * offer.multiple)
        x = columns.get((line.offer, b, tuple(sorted(line.groups)), line.drawn, first))
        count = (line.quantity - first) // offer.multiple
        if x is None or (count and (line.offer, b) not in residue.beyond):
            return None
        start[x.name] = 1.0
        if count:
            start[residue.beyond[line.offer, b].name] = float(count)
    return start


def _lines(instance: Instance, picked: Iterable[tuple[Column, int]], beyond: Mapping[int, int]) -> list[Line]:
    """Return the lines bought; columns of a mergeable offer are bought together, for at most their sum."""
    lines: dict[int, Line] = {}
    for column, b in picked:
        if column.offer < 0:
            continue
        before = lines.get(column.offer, Line(column.offer, (), 0))
        pieces = before.pieces + sum(instance.needs[g] for g in column.groups) - column.drawn
        lines[column.offer] = Line(
            column.offer,
            before.groups + column.groups,
            pieces,
            max(before.lot, column.lot),
            before.drawn + column.drawn,
            column.quantity if b >= 0 else 0,
        )
    for o, count in beyond.items():
        lines[o] = replace(lines[o], quantity=lines[o].quantity + count * instance.offers[o].multiple)
    for o, line in lines.items():
        if not line.quantity:
            quoted = quote(instance.offers[o], line.pieces)
            assert quoted is not None, "a column has a price"
            lines[o] = replace(line, quantity=quoted[1])
    return list(lines.values())


def choice_of(instance: Instance, lines: Iterable[Line], wholly: Mapping[tuple[int, int], int]) -> Choice:
    """Share each line out to its groups, and what it draws to those that the lot suits."""
    bought: dict[int, int] = {}
    uses: dict[tuple[int, int], int] = {}
    taken = dict(wholly)
    for line in lines:
        bought[line.offer] = line.quantity
        left = line.drawn
        for group in line.groups:
            need = instance.needs[group]
            drawn = min(left, need) if left and group in instance.lot_groups[line.lot] else 0
            left -= drawn
            if drawn:
                taken[group, line.lot] = drawn
            uses[group, line.offer] = need - drawn
    return Choice(bought, uses, taken)


def goods_of(instance: Instance, bought: Mapping[int, int]) -> int:
    """Return the goods value of quantities per offer of one supplier, in its units."""
    goods = 0
    for o, quantity in bought.items():
        for step in instance.offers[o].steps:
            if step.low <= quantity <= step.high:
                goods += quantity * step.price
    return goods


def total_of(instance: Instance, bought: Mapping[int, int]) -> int:
    """Return what the quantities cost in total units: goods, the tier they reach, fees."""
    by_supplier: defaultdict[int, dict[int, int]] = defaultdict(dict)
    for o, quantity in bought.items():
        if quantity:
            by_supplier[instance.offers[o].supplier][o] = quantity
    total = 0
    for s, own in by_supplier.items():
        terms = instance.suppliers[s]
        goods = goods_of(instance, own)
        tier = next(t for t in reversed(terms.tiers) if t.least <= goods)
        charges = tier.charge + terms.handling + terms.line_fee * len(own)
        total += goods * terms.goods_cost + charges * terms.charge_cost
    return total
