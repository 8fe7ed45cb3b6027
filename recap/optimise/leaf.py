"""A leaf of the search: suppliers and tiers are given, and orders with them have a bound.

With the multipliers of the linear relaxation each cluster of groups is priced on its own
(:mod:`recap.optimise.clusters`); the sum bounds every order with these suppliers and tiers, and each column
gets its excess over it. All money here is in total units.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from recap.optimise import clusters as cluster_tools
from recap.optimise import quotes
from recap.optimise.relaxation import column_cost

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    from recap.optimise.clusters import Clusters, Parted, Prices
    from recap.optimise.columns import Column, Columns
    from recap.optimise.instance import Instance, Offer
    from recap.optimise.quotes import Quotes
    from recap.optimise.relaxation import Point


@dataclass(frozen=True, slots=True)
class Table:
    """The columns' figures, one row a column; ``supplier`` is -1 for what lies wholly in the drawer."""

    supplier: np.ndarray
    offer: np.ndarray
    lot: np.ndarray
    cost: np.ndarray
    goods: np.ndarray
    drawn: np.ndarray


@dataclass(frozen=True, slots=True)
class Frame:
    """What all leaves of one search share; ``scale`` is that of the relaxation.

    ``crowded``: the offers of clusters too large for all partitions to be weighed.
    """

    instance: Instance
    columns: Columns
    clusters: Clusters
    parted: Parted
    table: Table
    scale: int
    crowded: frozenset[int]

    def most_goods(self, supplier: int) -> int:
        """Return more goods than any sensible order has of the supplier."""
        bought = sum(c.goods for c in self.columns.all if c.supplier == supplier)
        return bought + self.instance.suppliers[supplier].tiers[-1].least

    def single(self, point: Point) -> dict[int, float]:
        """Return what one more column is worth of offers that can't be merged, where that must be said by a worth."""
        return {offer: worth for offer, worth in point.single.items() if offer in self.crowded}


def frame_of(instance: Instance, columns: Columns, scale: int) -> Frame:
    """Sort the columns into clusters and their figures into a table."""
    clusters = cluster_tools.find(instance)
    every = columns.all
    table = Table(
        supplier=np.array([c.supplier for c in every], dtype=np.int64),
        offer=np.array([c.offer for c in every], dtype=np.int64),
        lot=np.array([c.lot for c in every], dtype=np.int64),
        cost=np.array([float(column_cost(instance, c)) for c in every]),
        goods=np.array([float(c.goods) for c in every]),
        drawn=np.array([float(c.drawn) for c in every]),
    )
    large = {i for i, members in enumerate(clusters.members) if len(members) > cluster_tools.LARGEST}
    crowded = frozenset(o.index for o in instance.offers if o.groups and clusters.of[o.groups[0]] in large)
    return Frame(instance, columns, clusters, cluster_tools.part(clusters, columns), table, scale, crowded)


@dataclass(frozen=True, slots=True)
class Leaf:
    """Chosen tiers by supplier, their charges ``fixed``, and the ``bound`` on any order with them.

    ``excesses`` go with the columns; infinite for those of suppliers that aren't used. ``scale`` is that of the
    relaxation the ``point`` comes from.
    """

    frame: Frame
    tiers: Mapping[int, int]
    point: Point
    fixed: int
    bound: float
    prices: tuple[Prices, ...]
    excesses: np.ndarray

    @property
    def highest(self) -> float:
        """The largest excess of a column that can be chosen at all: within it, all are in."""
        return float(self.excesses[self.excesses < cluster_tools.NEVER].max(initial=0.0))

    def net(self, supplier: int) -> float:
        """Return what one more unit of goods costs, less its worth towards the tier; never negative."""
        point = self.point
        worth = (point.reach[supplier] - point.stay[supplier]) * self.frame.scale
        return max(self.frame.instance.suppliers[supplier].goods_cost - worth, 0.0)

    def valued(self, offer: Offer) -> Callable[[int, int, int], float]:
        """Return what gives a column of the offer its value, from goods, lot and pieces drawn.

        That is its cost less the worth of its goods, plus what it takes of drawer and single offers.
        """
        frame, point, s = self.frame, self.point, offer.supplier
        terms = frame.instance.suppliers[s]
        cost, fee, lots = terms.goods_cost, terms.line_fee * terms.charge_cost, point.lot
        worth = (point.reach[s] - point.stay[s]) * frame.scale
        single = frame.single(point).get(offer.index, 0.0) * frame.scale

        def value(goods: int, lot: int, drawn: int) -> float:
            taken = lots.get(lot, 0.0) * frame.scale * drawn if drawn else 0.0
            return goods * cost + fee - worth * goods + single + taken

        return value

    def value(self, column: Column) -> float:
        """Return a column's cost less the worth of its goods, plus what it takes of drawer and single offers."""
        if column.offer >= 0:
            return self.valued(self.frame.instance.offers[column.offer])(column.goods, column.lot, column.drawn)
        return self.point.lot.get(column.lot, 0.0) * self.frame.scale * column.drawn

    def rest(self, groups: tuple[int, ...]) -> float:
        """Return by how much the best order with a column of value 0 for these groups lies above the bound."""
        if not groups:
            return 0.0
        cluster = self.frame.clusters.of[groups[0]]
        return self.prices[cluster].excess(0.0, self.frame.clusters.mask(groups))

    def rests(self, groups: np.ndarray) -> np.ndarray:
        """Return :meth:`rest` for every set of groups: n x k groups of one cluster each, n x 2^k sets."""
        clusters = self.frame.clusters
        of = np.array(clusters.of)[groups[:, 0]]
        bits = quotes.sums(1 << np.array(clusters.bit, dtype=np.int64)[groups])
        found = np.zeros(bits.shape)
        for cluster in np.unique(of).tolist():
            rows, price = of == cluster, self.prices[cluster]
            if price.rest is not None:
                found[rows] = price.rest[0, (price.rest.shape[1] - 1) ^ bits[rows]] - price.cheapest
            else:
                places = np.array(clusters.bit, dtype=np.int64)[groups[rows]]
                found[rows] = -quotes.sums(np.array(price.duals)[places])
        return found

    def excesses_at(self, quoted: Quotes, chosen: list[int]) -> np.ndarray:
        """Return the excess of every set at every step of some offers, all of one supplier, nothing drawn."""
        first = quoted.offers[chosen[0]]
        terms, point = self.frame.instance.suppliers[first.supplier], self.point
        worth = (point.reach[first.supplier] - point.stay[first.supplier]) * self.frame.scale
        goods = quoted.goods[chosen].astype(np.float64)
        value = goods * (terms.goods_cost - worth) + terms.line_fee * terms.charge_cost
        single = self.frame.single(point)
        if single:
            own = [single.get(quoted.offers[n].index, 0.0) * self.frame.scale for n in chosen]
            value += np.array(own)[:, None, None]
        found: np.ndarray = value + self.rests(quoted.groups[chosen])[..., None]
        found[goods >= quoted.never] = cluster_tools.NEVER
        return found


def open_leaf(frame: Frame, tiers: Mapping[int, int], point: Point) -> Leaf | None:
    """Bound the orders with these suppliers and tiers; None where there is none."""
    instance, scale = frame.instance, frame.scale
    fixed = 0
    bound = 0.0
    for s, k in tiers.items():
        terms = instance.suppliers[s]
        tier = terms.tiers[k]
        fixed += (terms.handling + tier.charge) * terms.charge_cost
        bound += point.reach[s] * scale * tier.least
        bound -= point.stay[s] * scale * (frame.most_goods(s) if tier.most is None else tier.most)
    bound -= sum(worth * scale * instance.lots[lot][1] for lot, worth in point.lot.items())
    bound -= sum(frame.single(point).values()) * scale
    weighed = cluster_tools.weigh(frame.clusters, frame.parted, _values(frame, tiers, point))
    if weighed is None:
        return None
    prices, excesses = weighed
    bound += fixed + sum(price.cheapest for price in prices)
    return Leaf(frame, tiers, point, fixed, bound, tuple(prices), excesses)


def _values(frame: Frame, tiers: Mapping[int, int], point: Point) -> np.ndarray:
    """Return every column's value as :meth:`Leaf.value` does; infinite where its supplier isn't used."""
    table, instance = frame.table, frame.instance
    net = np.zeros(len(instance.suppliers) + 1)
    net[:-1] = np.array(point.reach) - np.array(point.stay)
    unused = np.ones(len(instance.suppliers) + 1, dtype=bool)
    unused[[*tiers, -1]] = False
    single = np.zeros(len(instance.offers) + 1)
    for offer, worth in frame.single(point).items():
        single[offer] = worth
    lot = np.zeros(len(instance.lots) + 1)
    for place, worth in point.lot.items():
        lot[place] = worth
    apart = single[table.offer] + lot[table.lot] * table.drawn - net[table.supplier] * table.goods
    values: np.ndarray = np.where(unused[table.supplier], cluster_tools.NEVER, table.cost + apart * frame.scale)
    return values
