"""The order as an integer program over price steps: holds for every problem, groups split or not.

Sets: groups g with need n_g (and s_g shared spares); offers o of supplier s(o), with price steps b (pieces low_ob to
high_ob in multiples m_o at price p_ob); suppliers s with shipping tiers k (from goods least_sk on); drawer lots l.

Variables: y_ob the line of offer o is in step b; e_ob multiples beyond low_ob; x_gob group g takes
offer o there; f_gob pieces of it bought for g; t_gl pieces from lot l for g; w_gn group g takes number n wholly from
the drawer; z_s supplier used; v_sk its tier. Then q_ob = low_ob y_ob + m_o e_ob pieces are bought.

Least total:  sum_s [ goods_s * goods cost + (charge_k v_sk + handling z_s + line fee y_ob) * charge cost ],
goods_s = sum p_ob q_ob, subject to

R1  each group is covered:       one part:  sum_ob x_gob + sum_n w_gn = 1;   split:  sum_ob f_gob + sum_l t_gl = n_g
R2  within a price step:         m_o e_ob <= (high_ob - low_ob) y_ob
R3  one step a line, supplier used:   sum_b y_ob <= z_s
R4  enough is bought:            q_ob >= sum_g f_gob   (more is allowed: to reach a break, a tier, the minimum)
R5  a used step has a line:      x_gob <= y_ob  and  sum_{ob of s} x_gob <= z_s;
                        split:   f_gob <= min(n_g, high_ob) y_ob  and  sum_{ob of s} f_gob <= n_g z_s
R6  bought or from the drawer:   sum_{ob is n} f_gob + sum_{l is n} t_gl = n_g (sum_{ob is n} x_gob + w_gn),
                                 f_gob <= n_g x_gob;   without pieces in the drawer  f_gob = n_g x_gob
R7  the drawer holds so much:    sum_g t_gl <= pieces of l
R8  one tier, and it is reached: sum_k v_sk = z_s,  goods_s >= sum_k least_sk v_sk;
    a cheaper tier is not kept:  goods_s <= sum_k most_sk v_sk, where a later one costs more
R9  at most so many suppliers:   sum_s z_s <= max
R10 shared spares:               what is bought or lies in the drawer, suits g and is put to no use is >= s_g pieces

That a group's pieces are counted step by step (R4, R5) is what makes the linear relaxation good: a step of 100
pieces can't be opened by a fifth to buy 20 of them at its price. For the same reason an offer sold in few multiples has
a step for each (:func:`by_multiples`): half a bag can't be bought. The bounds high_ob are in
:mod:`recap.optimise.instance`; no big numbers occur.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING

import pulp

from recap.optimise.rebuild import Choice
from recap.optimise.rows import Expression, Row, Terms, Variable, at_least_zero, minus, total

if TYPE_CHECKING:
    from collections.abc import Iterator

    from recap.optimise.instance import Instance, Offer, Step
    from recap.optimise.solver import Program


@dataclass(slots=True)
class Model:
    """The program and its variables by what they mean (indexes as in the instance; (group, offer, step)).

    ``reached`` has R8's rows from the lowest digits to the topmost.
    """

    instance: Instance
    lp: Program
    step: dict[tuple[int, int], Variable] = field(default_factory=dict)
    beyond: dict[tuple[int, int], Variable] = field(default_factory=dict)
    takes: dict[tuple[int, int, int], Variable] = field(default_factory=dict)
    pieces: dict[tuple[int, int, int], Variable] = field(default_factory=dict)
    drawn: dict[tuple[int, int], Variable] = field(default_factory=dict)
    from_drawer: dict[tuple[int, str], Variable] = field(default_factory=dict)
    used: dict[int, Variable] = field(default_factory=dict)
    tier: dict[tuple[int, int], Variable] = field(default_factory=dict)
    reached: dict[int, tuple[Row, ...]] = field(default_factory=dict)
    scale: float = 1.0

    def minimise(self, costs: Terms, scale: float) -> None:
        """Set the objective: the ``costs`` in units of ``scale`` units of the total."""
        self.scale = scale
        self.lp.setObjective(total([(c / scale, x) for c, x in costs]))

    def line(self, offer: int) -> Terms:
        """Return the terms of sum_b y_ob: 1 where the offer has a line."""
        return [(1, self.step[offer, b]) for b in range(len(self.instance.offers[offer].steps))]

    def quantity(self, offer: int, b: int) -> Terms:
        """Return the terms of q_ob."""
        each = self.instance.offers[offer]
        terms: Terms = [(each.steps[b].low, self.step[offer, b])]
        return [*terms, (each.multiple, self.beyond[offer, b])] if (offer, b) in self.beyond else terms

    def served(self, group: int, offer: int, b: int) -> Terms:
        """Return the terms of f_gob; none where that step is of no use to the group."""
        key = group, offer, b
        if key in self.pieces:
            return [(1, self.pieces[key])]
        return [(self.instance.needs[group], self.takes[key])] if key in self.takes else []

    def goods(self, supplier: int) -> Terms:
        """Return the terms of goods_s in the supplier's units."""
        terms: Terms = []
        for each in self.instance.offers:
            if each.supplier == supplier:
                for b, step in enumerate(each.steps):
                    terms += [(c * step.price, x) for c, x in self.quantity(each.index, b)]
        return terms

    def costs(self) -> Terms:
        """Return the terms of the total in total units."""
        terms: Terms = []
        for s, terms_of in enumerate(self.instance.suppliers):
            terms += [(c * terms_of.goods_cost, x) for c, x in self.goods(s)]
            terms += [(t.charge * terms_of.charge_cost, self.tier[s, k]) for k, t in enumerate(terms_of.tiers)]
            terms.append((terms_of.handling * terms_of.charge_cost, self.used[s]))
        for (offer, _), var in self.step.items():
            terms_of = self.instance.suppliers[self.instance.offers[offer].supplier]
            terms.append((terms_of.line_fee * terms_of.charge_cost, var))
        return merged(terms)

    def choice(self) -> Choice:
        """Read the solved variables, rounded to whole pieces."""
        instance, needs = self.instance, self.instance.needs
        taken = {key: value for key, var in self.drawn.items() if (value := rounded(var))}
        uses: defaultdict[tuple[int, int], int] = defaultdict(int)
        if not instance.problem.one_part_per_group:
            for (g, o, _), var in self.pieces.items():
                uses[g, o] += rounded(var)
        else:
            for (g, o, _), var in self.takes.items():
                if rounded(var):
                    own = sum(v for (h, _), v in taken.items() if h == g)
                    uses[g, o] = max(needs[g] - own, 0)
        bought: defaultdict[int, int] = defaultdict(int)
        for o, b in self.step:
            bought[o] += sum(c * rounded(x) for c, x in self.quantity(o, b))
        kept = {key: pieces for key, pieces in uses.items() if pieces}
        return Choice({o: q for o, q in bought.items() if q}, kept, trimmed(taken, kept, needs))


def rounded(var: Variable) -> int:
    """Return the whole number nearest to the variable's value."""
    return round(var.varValue or 0.0)


def trimmed(
    taken: dict[tuple[int, int], int], uses: dict[tuple[int, int], int], needs: tuple[int, ...]
) -> dict[tuple[int, int], int]:
    """Return what is taken from the drawer, without pieces beyond a group's need."""
    left = list(needs)
    for (g, _), pieces in uses.items():
        left[g] -= pieces
    kept = {}
    for (g, lot), pieces in sorted(taken.items()):
        kept[g, lot] = min(pieces, left[g])
        left[g] -= kept[g, lot]
    return {key: pieces for key, pieces in kept.items() if pieces > 0}


def merged(terms: Terms) -> Terms:
    """Return the terms with each variable once."""
    sums: defaultdict[int, int] = defaultdict(int)
    variables = {}
    for c, x in terms:
        sums[id(x)] += c
        variables[id(x)] = x
    return [(c, variables[key]) for key, c in sums.items()]


FEW_MULTIPLES = 12
"""Offers that meet all needs with so many multiples have a step for each."""


def by_multiples(instance: Instance) -> Instance:
    """Return the instance with a step for each multiple of the offers that are sold in few of them."""
    offers = []
    for each in instance.offers:
        wanted = sum(instance.needs[g] + instance.spares[g] for g in each.groups)
        multiples = -(-wanted // each.multiple)
        if each.multiple > 1 and multiples <= FEW_MULTIPLES:
            parts = [part for step in each.steps for part in _parts(step, each.multiple, multiples * each.multiple)]
            offers.append(replace(each, steps=tuple(parts)))
        else:
            offers.append(each)
    return replace(instance, offers=tuple(offers))


def _parts(step: Step, multiple: int, wanted: int) -> Iterator[Step]:
    """Yield the step's quantities up to ``wanted`` one by one, and what is beyond in one."""
    for pieces in range(step.low, min(step.high, wanted) + 1, multiple):
        yield replace(step, low=pieces, high=pieces)
    beyond = max(step.low, wanted + multiple)
    if beyond <= step.high:
        yield replace(step, low=beyond)


def build(instance: Instance) -> Model:
    """Write the program for an instance, without its objective."""
    model = Model(by_multiples(instance), pulp.LpProblem("order", pulp.LpMinimize))
    _add_suppliers(model)
    _add_offers(model)
    _add_drawer(model)
    if instance.problem.one_part_per_group:
        _add_one_part(model)
    else:
        _add_split(model)
    _add_supply(model)
    _add_spares(model)
    _add_tiers(model)
    return model


def add(model: Model, expression: Expression, sense: int, right: int, name: str) -> None:
    """Add one row under its name ``family|index|index``."""
    model.lp.addConstraint(pulp.LpConstraint(expression, sense, name, right))


def binary(model: Model, name: str) -> Variable:
    """Return a new variable that is 0 or 1."""
    return whole(model, name, 1)


def whole(model: Model, name: str, most: int) -> Variable:
    """Return a new whole variable from 0 to ``most``."""
    return model.lp.add_variable(name, 0, most, pulp.LpInteger)


def _add_suppliers(model: Model) -> None:
    """R9."""
    for s, terms in enumerate(model.instance.suppliers):
        model.used[s] = binary(model, f"used|{s}")
        for k in range(len(terms.tiers)):
            model.tier[s, k] = binary(model, f"tier|{s}|{k}")
    most = model.instance.problem.max_suppliers
    if most:
        add(model, total([(1, z) for z in model.used.values()]), pulp.LpConstraintLE, most, "suppliers")


def _add_offers(model: Model) -> None:
    """R2 and R3."""
    for each in model.instance.offers:
        o = each.index
        for b, step in enumerate(each.steps):
            model.step[o, b] = binary(model, f"step|{o}|{b}")
            if step.high > step.low:
                most = (step.high - step.low) // each.multiple
                model.beyond[o, b] = whole(model, f"beyond|{o}|{b}", most)
                row = total([(1, model.beyond[o, b]), (-most, model.step[o, b])])
                add(model, row, pulp.LpConstraintLE, 0, f"within|{o}|{b}")
        if each.steps:
            row = total([*model.line(o), (-1, model.used[each.supplier])])
            add(model, row, pulp.LpConstraintLE, 0, f"line|{o}")


def _add_drawer(model: Model) -> None:
    """R7."""
    for lot, (_, pieces) in enumerate(model.instance.lots):
        for g in model.instance.lot_groups[lot]:
            model.drawn[g, lot] = whole(model, f"drawn|{g}|{lot}", min(pieces, model.instance.needs[g]))
        row: Terms = [(1, model.drawn[g, lot]) for g in model.instance.lot_groups[lot]]
        if row:
            add(model, total(row), pulp.LpConstraintLE, pieces, f"lot|{lot}")


def _lots(instance: Instance) -> dict[tuple[int, str], list[int]]:
    """Return the drawer lots by group and part number."""
    found: defaultdict[tuple[int, str], list[int]] = defaultdict(list)
    for lot, (number, _) in enumerate(instance.lots):
        for g in instance.lot_groups[lot]:
            found[g, number].append(lot)
    return found


def _add_one_part(model: Model) -> None:
    """R1, R5, R6 where a group takes one part from one place."""
    instance = model.instance
    lots = _lots(instance)
    covers: defaultdict[int, Terms] = defaultdict(list)
    by_supplier: defaultdict[tuple[int, int], Terms] = defaultdict(list)
    by_number: defaultdict[tuple[int, str], Terms] = defaultdict(list)
    for each, g, b in _uses(instance):
        o, need, own = each.index, instance.needs[g], lots.get((g, each.number), [])
        if each.steps[b].high + sum(instance.lots[lot][1] for lot in own) < need:
            continue
        takes = model.takes[g, o, b] = binary(model, f"takes|{g}|{o}|{b}")
        covers[g].append((1, takes))
        by_supplier[each.supplier, g].append((1, takes))
        add(model, total([(1, takes), (-1, model.step[o, b])]), pulp.LpConstraintLE, 0, f"has-line|{g}|{o}|{b}")
        if own:
            pieces = model.pieces[g, o, b] = whole(model, f"pieces|{g}|{o}|{b}", need)
            add(model, total([(1, pieces), (-need, takes)]), pulp.LpConstraintLE, 0, f"bought|{g}|{o}|{b}")
            by_number[g, each.number] += [(1, pieces), (-need, takes)]
    for (g, number), own in lots.items():
        wholly = model.from_drawer[g, number] = binary(model, f"wholly|{g}|{own[0]}")
        covers[g].append((1, wholly))
        row = [*by_number[g, number], *((1, model.drawn[g, lot]) for lot in own), (-instance.needs[g], wholly)]
        add(model, total(row), pulp.LpConstraintEQ, 0, f"together|{g}|{own[0]}")
    for g in instance.groups:
        add(model, total(covers[g]), pulp.LpConstraintEQ, 1, f"cover|{g}")
    for (s, g), row in by_supplier.items():
        add(model, total([*row, (-1, model.used[s])]), pulp.LpConstraintLE, 0, f"from|{s}|{g}")


def _uses(instance: Instance) -> Iterator[tuple[Offer, int, int]]:
    """Yield every offer with each of its groups and price steps."""
    for each in instance.offers:
        for g in each.groups:
            for b in range(len(each.steps)):
                yield each, g, b


def _add_split(model: Model) -> None:
    """R1 and R5 where a group may mix parts."""
    instance = model.instance
    covers: defaultdict[int, Terms] = defaultdict(list)
    by_supplier: defaultdict[tuple[int, int], Terms] = defaultdict(list)
    for each, g, b in _uses(instance):
        o = each.index
        most = min(instance.needs[g], each.steps[b].high)
        pieces = model.pieces[g, o, b] = whole(model, f"pieces|{g}|{o}|{b}", most)
        covers[g].append((1, pieces))
        by_supplier[each.supplier, g].append((1, pieces))
        add(model, total([(1, pieces), (-most, model.step[o, b])]), pulp.LpConstraintLE, 0, f"has-line|{g}|{o}|{b}")
    for (g, _), var in model.drawn.items():
        covers[g].append((1, var))
    for g in instance.groups:
        add(model, total(covers[g]), pulp.LpConstraintEQ, instance.needs[g], f"cover|{g}")
    for (s, g), row in by_supplier.items():
        add(model, total([*row, (-instance.needs[g], model.used[s])]), pulp.LpConstraintLE, 0, f"from|{s}|{g}")


def _add_supply(model: Model) -> None:
    """R4."""
    for each in model.instance.offers:
        for b in range(len(each.steps)):
            served = [term for g in each.groups for term in model.served(g, each.index, b)]
            row = [*model.quantity(each.index, b), *minus(served)]
            add(model, total(row), pulp.LpConstraintGE, 0, f"supply|{each.index}|{b}")


def _add_spares(model: Model) -> None:
    """R10."""
    instance = model.instance
    for g, spares in enumerate(instance.spares):
        if not spares:
            continue
        row: Terms = []
        for each in instance.offers:
            for b in range(len(each.steps)) if g in each.groups else ():
                row += model.quantity(each.index, b)
                row += minus([term for h in each.groups for term in model.served(h, each.index, b)])
        lying = 0
        for lot, (_, pieces) in enumerate(instance.lots):
            if g in instance.lot_groups[lot]:
                lying += pieces
                row += [(-1, model.drawn[h, lot]) for h in instance.lot_groups[lot]]
        add(model, total(merged(row)), pulp.LpConstraintGE, spares - lying, f"spares|{g}")


def _add_tiers(model: Model) -> None:
    """R8."""
    for s, terms in enumerate(model.instance.suppliers):
        tiers: Terms = [(1, model.tier[s, k]) for k in range(len(terms.tiers))]
        add(model, total([*tiers, (-1, model.used[s])]), pulp.LpConstraintEQ, 0, f"one-tier|{s}")
        goods = model.goods(s)
        reached: Terms = [(-tier.least, model.tier[s, k]) for k, tier in enumerate(terms.tiers)]
        model.reached[s] = at_least_zero(model.lp, goods + reached, f"reached|{s}")
        if terms.rising:
            most = sum(c * x.upBound for c, x in goods)
            below: Terms = [
                (most if tier.most is None else tier.most, model.tier[s, k]) for k, tier in enumerate(terms.tiers)
            ]
            at_least_zero(model.lp, below + minus(goods), f"below|{s}")
