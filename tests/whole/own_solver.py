"""The cheapest order, found a second time: by trying everything, or by a program of our own for scipy's solver.

Neither looks at how the project does it. The first is exact in whole numbers; of the second only whole quantities are
taken, and what they cost is reckoned again in fractions.
"""

from __future__ import annotations

import itertools
import math
from dataclasses import dataclass
from fractions import Fraction
from functools import reduce
from typing import TYPE_CHECKING, Any

import numpy as np

from tests.whole.own_pricing import total

if TYPE_CHECKING:
    from collections.abc import Iterator

    from tests.whole.own_files import Offer, Workshop
    from tests.whole.own_matching import Need

MOST_STATES = 400_000
MOST_CELLS = 1_000_000
RANK = 10_000
"""Room below one unit of money for suppliers (hundreds) and lines (ones), the later preferences."""
FINE = 1000
"""The solver stops within a millionth of its objective; this makes that a thousandth of a millionth of money."""


@dataclass(frozen=True)
class Best:
    """An order's total with its parcels and lines, None where there is none; ``bound`` is proven from below.

    ``fewest``: no order of that total has fewer parcels, or as many and fewer lines.
    """

    total: Fraction | None
    suppliers: int = 0
    lines: int = 0
    bound: float = math.inf
    fewest: bool = False


def most_sensible(shop: Workshop, wants: list[Need], index: int) -> int:
    """A quantity of an offer above which nothing can get better: past every need, break and threshold."""
    offer = shop.offers[index]
    terms = shop.terms[offer.supplier]
    need = sum(want.qty for want in wants if index in want.offers)
    enough = max(need, offer.ladder[-1][0], offer.least())
    goal = max(terms.minimum, *(least for least, _ in terms.shipping))
    cheapest = min((price for _, price in offer.ladder if price > 0), default=None)
    if cheapest is not None:
        enough = max(enough, math.ceil(goal / cheapest))
    enough = -(-enough // offer.multiple) * offer.multiple
    return enough if offer.stock is None else min(enough, offer.stock)


def useful(shop: Workshop, wants: list[Need]) -> list[int]:
    """Offers that fit something on the job and can be bought at all."""
    fitting = sorted(set().union(*(want.offers for want in wants)) if wants else set())
    return [i for i in fitting if most_sensible(shop, wants, i) >= shop.offers[i].least()]


@dataclass(frozen=True)
class Ways:
    """The pieces one need may take: pairs of (resource, how many), resources being offers then drawer lots."""

    shop: Workshop
    offers: list[int]

    def of(self, need: Need) -> Iterator[tuple[tuple[int, int], ...]]:
        mine = [at for at, i in enumerate(self.offers) if i in need.offers]
        lots = [len(self.offers) + i for i in sorted(need.lots)]
        if not self.shop.settings.get("one_part_per_group", True):
            yield from ways_to_split(need.qty, [*mine, *lots])
            return
        for number in sorted({self.number(at) for at in [*mine, *lots]}):
            own = [at for at in lots if self.number(at) == number]
            for offer in [None, *(at for at in mine if self.number(at) == number)]:
                for rest in [0] if offer is None else range(1, need.qty + 1):
                    for drawn in ways_to_split(need.qty - rest, own):
                        yield drawn if offer is None else (*drawn, (offer, rest))

    def number(self, at: int) -> str:
        known = len(self.offers)
        return self.shop.offers[self.offers[at]].number if at < known else self.shop.drawer[at - known].number


def ways_to_split(qty: int, among: list[int]) -> Iterator[tuple[tuple[int, int], ...]]:
    """Every way to make up a number from the resources."""
    if qty == 0:
        yield ()
    elif among:
        for taken in range(qty + 1):
            for rest in ways_to_split(qty - taken, among[1:]):
                yield ((among[0], taken), *rest) if taken else rest


def demands(shop: Workshop, wants: list[Need], offers: list[int]) -> set[tuple[int, ...]]:
    """Every vector of pieces that the needs may ask of the offers, the drawer's limits kept."""
    ways = Ways(shop, offers)
    most = [most_sensible(shop, wants, i) for i in offers] + [lot.qty for lot in shop.drawer]
    states = {(0,) * len(most)}
    for need in wants:
        following: set[tuple[int, ...]] = set()
        for way in ways.of(need):
            for state in states:
                after = list(state)
                for at, qty in way:
                    after[at] += qty
                if all(have <= top for have, top in zip(after, most, strict=True)):
                    following.add(tuple(after))
        states = following
        if len(states) > MOST_STATES:
            raise OverflowError("too large to try everything")
    return {state[: len(offers)] for state in states}


def parcel_table(shop: Workshop, wants: list[Need], mine: list[int], scale: int) -> Any:
    """Least ranked cost of a parcel that holds at least so many of each of the supplier's offers."""
    terms = shop.terms[shop.offers[mine[0]].supplier]
    cents = scale_of_goods(shop)
    top = [most_sensible(shop, wants, i) for i in mine]
    if math.prod(most + 1 for most in top) > MOST_CELLS:
        raise OverflowError("too large to try everything")
    goods = np.zeros([1] * len(mine), dtype=object)
    lines = np.zeros([1] * len(mine), dtype=object)
    broken = np.zeros([1] * len(mine), dtype=bool)
    for axis, i in enumerate(mine):
        offer = shop.offers[i]
        shape = [-1 if axis == a else 1 for a in range(len(mine))]
        bad = [qty > 0 and not offer.legal(qty) for qty in range(top[axis] + 1)]
        worth = [0 if not qty or bad[qty] else int(qty * offer.price(qty) * cents) for qty in range(top[axis] + 1)]
        goods = goods + np.array(worth, dtype=object).reshape(shape)
        lines = lines + np.array([0] + [1] * top[axis], dtype=object).reshape(shape)
        broken = broken | np.array(bad).reshape(shape)
    shipping = np.zeros(goods.shape, dtype=object)
    for least, fee in terms.shipping:
        shipping = np.where(goods >= int(least * cents), int(fee * cents), shipping)
    factor = terms.rate * (1 + terms.tax) * scale / cents
    on_goods, on_fees = factor * (1 + terms.duty), factor
    assert on_goods.denominator == on_fees.denominator == 1
    fees = int(terms.handling * cents) + int(terms.line_fee * cents) * lines
    cost = (int(on_goods) * goods + int(on_fees) * (shipping + fees)) * RANK + 100 + lines
    broken = broken | (goods < int(terms.minimum * cents))
    endless = 10**60
    cost = np.where(broken, endless, cost)
    cost[(0,) * len(mine)] = 0
    for axis in range(len(mine)):
        cost = np.flip(np.minimum.accumulate(np.flip(cost, axis), axis=axis), axis)
    return np.where(cost >= endless, -1, cost)


def scale_of_goods(shop: Workshop) -> int:
    """A factor that makes every price, fee and threshold whole."""
    amounts = [price for offer in shop.offers for _, price in offer.ladder]
    for terms in shop.terms.values():
        amounts += [terms.minimum, terms.handling, terms.line_fee, *itertools.chain(*terms.shipping)]
    return reduce(math.lcm, (amount.denominator for amount in amounts), 1)


def brute_force(shop: Workshop, wants: list[Need]) -> Best:
    """The best order by trying every way; preferences: total, then parcels, then lines."""
    offers = useful(shop, wants)
    names = sorted({shop.offers[i].supplier for i in offers})
    cents = scale_of_goods(shop)
    factors = [t.rate * (1 + t.tax) * f for t in shop.terms.values() for f in (Fraction(1), 1 + t.duty)]
    scale = cents * reduce(math.lcm, (factor.denominator for factor in factors), 1)
    at = {name: [k for k, i in enumerate(offers) if shop.offers[i].supplier == name] for name in names}
    tables = {name: parcel_table(shop, wants, [offers[k] for k in at[name]], scale) for name in names}
    most = int(shop.settings.get("max_suppliers", 0)) or len(names)
    best: int | None = None
    for state in demands(shop, wants, offers):
        used = [name for name in names if any(state[k] for k in at[name])]
        if len(used) > most:
            continue
        costs = [tables[name][tuple(state[k] for k in at[name])] for name in used]
        if any(cost < 0 for cost in costs):
            continue
        cost = sum(costs)
        best = cost if best is None else min(best, cost)
    if best is None:
        return Best(None)
    found = Fraction(best // RANK, scale)
    return Best(found, best % RANK // 100, best % 100, float(found), fewest=True)


class Program:
    """A mixed-integer program in the form that scipy.optimize.milp takes, built up row by row."""

    def __init__(self) -> None:
        self.cost: list[float] = []
        self.low: list[float] = []
        self.high: list[float] = []
        self.rows: list[tuple[dict[int, float], float, float]] = []

    def variable(self, high: float, cost: Fraction | int = 0, low: float = 0) -> int:
        self.cost.append(float(cost))
        self.low.append(low)
        self.high.append(high)
        return len(self.cost) - 1

    def row(self, terms: list[tuple[int, Fraction | int]], low: float = -math.inf, high: float = math.inf) -> None:
        gathered: dict[int, float] = {}
        for at, factor in terms:
            gathered[at] = gathered.get(at, 0.0) + float(factor)
        self.rows.append((gathered, low, high))

    def solve(self, seconds: float) -> Any:
        from scipy.optimize import Bounds, LinearConstraint, milp
        from scipy.sparse import csr_array

        place = [(r, at, value) for r, (row, _, _) in enumerate(self.rows) for at, value in row.items()]
        at_row, at_column, value = zip(*place, strict=True)
        where = np.array(at_row, dtype=np.int32), np.array(at_column, dtype=np.int32)  # SciPy 1.14 takes no wider ones
        matrix = csr_array((value, where), shape=(len(self.rows), len(self.cost)))
        lows, highs = [low for _, low, _ in self.rows], [high for _, _, high in self.rows]
        return milp(
            c=[FINE * cost for cost in self.cost],
            constraints=LinearConstraint(matrix, lows, highs),
            bounds=Bounds(self.low, self.high),
            integrality=np.ones(len(self.cost), dtype=np.int64),
            options={"time_limit": seconds, "mip_rel_gap": 0.0},
        )


@dataclass
class Model:
    """The variables by what they stand for."""

    shop: Workshop
    wants: list[Need]
    program: Program
    lots: dict[tuple[int, int], list[tuple[int, int]]]
    steps: dict[int, list[tuple[int, Fraction]]]
    line: dict[int, int]


def supplier_rows(model: Model, name: str, mine: list[int]) -> int:
    """Lines, breaks, tiers and the minimum of one supplier; gives the variable "this supplier is used"."""
    program, terms = model.program, model.shop.terms[name]
    factor = terms.rate * (1 + terms.tax)
    used = program.variable(1, factor * terms.handling)
    goods: list[tuple[int, Fraction | int]] = []
    for i in mine:
        offer, top = model.shop.offers[i], most_sensible(model.shop, model.wants, i)
        bought = program.variable(1, factor * terms.line_fee)
        model.line[i] = bought
        program.row([(bought, 1), (used, -1)], high=0)
        chosen: list[tuple[int, Fraction | int]] = []
        model.steps[i] = []
        ends = [least - 1 for least, _ in offer.ladder[1:]] + [top]
        for (least, price), end in zip(offer.ladder, ends, strict=True):
            first, last = lots_between(offer, least, min(end, top))
            if last < first:
                continue
            here = program.variable(1)
            packs = program.variable(last, factor * (1 + terms.duty) * price * offer.multiple)
            program.row([(packs, 1), (here, -first)], low=0)
            program.row([(packs, 1), (here, -last)], high=0)
            chosen.append((here, 1))
            goods.append((packs, price * offer.multiple))
            model.steps[i].append((packs, price))
        program.row([*chosen, (bought, -1)], low=0, high=0)
    if terms.minimum:
        program.row([*goods, (used, -terms.minimum)], low=0)
    tiers = [(program.variable(1, factor * fee), least) for least, fee in terms.shipping]
    program.row([*((tier, 1) for tier, _ in tiers), (used, -1)], low=0, high=0)
    program.row([*goods, *((tier, -least) for tier, least in tiers)], low=0)
    if any(later > earlier for (_, earlier), (_, later) in itertools.pairwise(terms.shipping)):
        grain = Fraction(1, scale_of_goods(model.shop))
        most = sum((most_sensible(model.shop, model.wants, i) * model.shop.offers[i].ladder[0][1] for i in mine), grain)
        caps = [least - grain for least, _ in terms.shipping[1:]] + [2 * most]
        program.row([*goods, *((tier, -end) for (tier, _), end in zip(tiers, caps, strict=True))], high=0)
    return used


def lots_between(offer: Offer, least: int, most: int) -> tuple[int, int]:
    """The fewest and the most packs whose quantity lies in a price step."""
    return -(-max(least, offer.least()) // offer.multiple), most // offer.multiple


def need_rows(model: Model, at: int, offers: list[int]) -> list[tuple[int, int, int]]:
    """Choices of one part for one need; gives (offer, choice variable, pieces asked) and adds drawer variables."""
    program, need = model.program, model.wants[at]
    lots = sorted(need.lots)
    asked: list[tuple[int, int, int]] = []
    choices: list[int] = []
    numbers = {model.shop.offers[i].number for i in offers} | {model.shop.drawer[k].number for k in lots}
    for number in sorted(numbers):
        own = [k for k in lots if model.shop.drawer[k].number == number]
        sources: list[int | None] = [i for i in offers if model.shop.offers[i].number == number]
        if own:
            sources.append(None)
        for source in sources:
            choice = program.variable(1)
            choices.append(choice)
            drawn = [program.variable(min(need.qty, model.shop.drawer[k].qty)) for k in own]
            for k, variable in zip(own, drawn, strict=True):
                model.lots.setdefault((at, k), []).append((variable, 1))
            taken: list[tuple[int, Fraction | int]] = [(variable, 1) for variable in drawn]
            if source is None:
                program.row([*taken, (choice, -need.qty)], low=0, high=0)
                continue
            if drawn:
                program.row([*taken, (choice, 1 - need.qty)], high=0)
            program.row([(choice, 1), (model.line[source], -1)], high=0)
            asked.append((source, choice, need.qty))
            asked += [(source, variable, -1) for variable in drawn]
    program.row([(choice, 1) for choice in choices], low=1, high=1)
    return asked


def split_rows(model: Model, at: int, offers: list[int]) -> list[tuple[int, int, int]]:
    """Pieces of one need from any mix of offers and lots."""
    program, need = model.program, model.wants[at]
    asked: list[tuple[int, int, int]] = []
    pieces: list[tuple[int, Fraction | int]] = []
    for i in offers:
        taken = program.variable(need.qty)
        program.row([(taken, 1), (model.line[i], -need.qty)], high=0)
        pieces.append((taken, 1))
        asked.append((i, taken, 1))
    for k in sorted(need.lots):
        drawn = program.variable(min(need.qty, model.shop.drawer[k].qty))
        model.lots.setdefault((at, k), []).append((drawn, 1))
        pieces.append((drawn, 1))
    program.row(pieces, low=need.qty, high=need.qty)
    return asked


def own_program(shop: Workshop, wants: list[Need], fillers: list[Need]) -> Model | None:
    """The whole program, or None where a need has no part at all; parts for the fillers may be bought besides."""
    offers = useful(shop, fillers)
    model = Model(shop, wants, Program(), {}, {}, {})
    if any(not (need.lots or need.offers & set(offers)) for need in wants):
        return None
    names = sorted({shop.offers[i].supplier for i in offers})
    used = [supplier_rows(model, name, [i for i in offers if shop.offers[i].supplier == name]) for name in names]
    most = int(shop.settings.get("max_suppliers", 0))
    if most and used:
        model.program.row([(one, 1) for one in used], high=most)
    fill = need_rows if shop.settings.get("one_part_per_group", True) else split_rows
    asked: dict[int, list[tuple[int, Fraction | int]]] = {i: [] for i in offers}
    for at, need in enumerate(wants):
        for i, variable, pieces in fill(model, at, [i for i in offers if i in need.offers]):
            asked[i].append((variable, -pieces))
    for i in offers:
        packs: list[tuple[int, Fraction | int]] = [(step, shop.offers[i].multiple) for step, _ in model.steps[i]]
        model.program.row([*packs, *asked[i]], low=0)
    for k, lot in enumerate(shop.drawer):
        drawn = [term for (_, j), terms in model.lots.items() if j == k for term in terms]
        if drawn:
            model.program.row([(variable, one) for variable, one in drawn], high=lot.qty)
    return model


def own_optimum(
    shop: Workshop, wants: list[Need], seconds: float = 60, fillers: list[Need] | None = None
) -> Best | None:
    """The best order by our own program, re-priced in fractions.

    None where the time was too short for any, or where the solver's tolerance took a minimum for met that isn't.
    """
    if not wants:
        return Best(Fraction(0), bound=0.0)
    model = own_program(shop, wants, wants if fillers is None else fillers)
    if model is None:
        return Best(None)
    answer = model.program.solve(seconds)
    if answer.status == 2:  # infeasible
        return Best(None)
    if answer.x is None:
        return None
    bought = {
        i: shop.offers[i].multiple * sum(round(answer.x[packs]) for packs, _ in steps)
        for i, steps in model.steps.items()
    }
    try:
        whole = total(shop, bought)
    except AssertionError:
        return None
    return Best(
        whole,
        len({shop.offers[i].supplier for i, qty in bought.items() if qty}),
        sum(1 for qty in bought.values() if qty),
        float(answer.mip_dual_bound) / FINE,
    )
