"""The order as an integer program over price steps: holds for every problem, groups split or not.

Sets: groups g with need n_g; offers o of supplier s(o), with price steps b (pieces low_ob to high_ob
in multiples m_o at price p_ob); suppliers s with shipping tiers k (from goods least_sk on); drawer lots l.

Variables: y_ob the line of offer o is in step b; e_ob multiples beyond low_ob; x_go group g takes
offer o; f_go pieces of it bought for g; t_gl pieces from lot l for g; w_gn group g takes number n wholly from the
drawer; z_s supplier used; v_sk its tier. Then q_o = sum_b (low_ob y_ob + m_o e_ob) pieces are bought.

Least total:  sum_s [ goods_s * goods cost + (charge_k v_sk + handling z_s + line fee y_ob) * charge cost ],
goods_s = sum p_ob (low_ob y_ob + m_o e_ob), subject to

R1  each group is covered:       one part:  sum_o x_go + sum_n w_gn = 1;   split:  sum_o f_go + sum_l t_gl = n_g
R2  within a price step:         m_o e_ob <= (high_ob - low_ob) y_ob
R3  one step a line, supplier used:   sum_b y_ob <= z_s
R4  enough is bought:            q_o >= sum_g f_go   (more is allowed: to reach a break, a tier, the minimum)
R5  a used offer has a line:     x_go <= sum_b y_ob  and  sum_{o of s} x_go <= z_s;   split: f_go <= n_g sum_b y_ob
R6  bought or from the drawer:   f_go = n_g x_go - pieces of the same number from the drawer
R7  the drawer holds so much:    sum_g t_gl <= pieces of l;  only what g takes:  t_gl <= n_g (w_gn + sum_{o is n} x_go)
R8  one tier, and it is reached: sum_k v_sk = z_s,  goods_s >= sum_k least_sk v_sk;
    a cheaper tier is not kept:  goods_s <= sum_k most_sk v_sk, where a later one costs more
R9  at most so many suppliers:   sum_s z_s <= max

The bounds high_ob are in :mod:`recap.optimise.instance`; no big numbers occur.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

import pulp

from recap.optimise.rebuild import Choice
from recap.optimise.rows import Expression, Terms, Variable, at_least_zero, minus, total

if TYPE_CHECKING:
    from recap.optimise.instance import Instance
    from recap.optimise.solver import Program


@dataclass(slots=True)
class Model:
    """The program and its variables by what they mean (indexes as in the instance)."""

    instance: Instance
    lp: Program
    step: dict[tuple[int, int], Variable] = field(default_factory=dict)
    beyond: dict[tuple[int, int], Variable] = field(default_factory=dict)
    takes: dict[tuple[int, int], Variable] = field(default_factory=dict)
    pieces: dict[tuple[int, int], Variable] = field(default_factory=dict)
    drawn: dict[tuple[int, int], Variable] = field(default_factory=dict)
    from_drawer: dict[tuple[int, str], Variable] = field(default_factory=dict)
    used: dict[int, Variable] = field(default_factory=dict)
    tier: dict[tuple[int, int], Variable] = field(default_factory=dict)

    def line(self, offer: int) -> Terms:
        """Return the terms of sum_b y_ob: 1 where the offer has a line."""
        return [(1, self.step[offer, b]) for b in range(len(self.instance.offers[offer].steps))]

    def quantity(self, offer: int) -> Terms:
        """Return the terms of q_o."""
        each = self.instance.offers[offer]
        terms: Terms = [(step.low, self.step[offer, b]) for b, step in enumerate(each.steps)]
        return terms + [(each.multiple, self.beyond[offer, b]) for b in self._open(offer)]

    def goods(self, supplier: int) -> Terms:
        """Return the terms of goods_s in the supplier's units."""
        terms: Terms = []
        for each in self.instance.offers:
            if each.supplier == supplier:
                terms += [(s.low * s.price, self.step[each.index, b]) for b, s in enumerate(each.steps)]
                terms += [
                    (each.multiple * each.steps[b].price, self.beyond[each.index, b]) for b in self._open(each.index)
                ]
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
        if not instance.problem.one_part_per_group:
            uses = {key: value for key, var in self.pieces.items() if (value := rounded(var))}
        else:
            uses = {}
            for (g, o), var in self.takes.items():
                if rounded(var):
                    own = sum(v for (h, lot), v in taken.items() if h == g)
                    uses[g, o] = max(needs[g] - own, 0)
        bought = {}
        for each in instance.offers:
            if quantity := sum(c * rounded(x) for c, x in self.quantity(each.index)):
                bought[each.index] = quantity
        return Choice(bought, uses, trimmed(taken, uses, needs))

    def _open(self, offer: int) -> list[int]:
        steps = self.instance.offers[offer].steps
        return [b for b, step in enumerate(steps) if step.high > step.low]


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


def build(instance: Instance) -> Model:
    """Write the program for an instance, without its objective."""
    model = Model(instance, pulp.LpProblem("order", pulp.LpMinimize))
    _add_suppliers(model)
    _add_offers(model)
    _add_drawer(model)
    if instance.problem.one_part_per_group:
        _add_one_part(model)
    else:
        _add_split(model)
    _add_supply(model)
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
    """R7, the part that is the same for both modes."""
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
    """R1, R5, R6, R7 where a group takes one part from one place."""
    instance = model.instance
    lots = _lots(instance)
    takers: defaultdict[tuple[int, str], Terms] = defaultdict(list)
    cover: dict[int, Terms] = {g: [] for g in instance.groups}
    by_supplier: defaultdict[tuple[int, int], Terms] = defaultdict(list)
    for each in instance.offers:
        o = each.index
        for g in each.groups if each.steps else ():
            need, own = instance.needs[g], lots.get((g, each.number), [])
            takes = model.takes[g, o] = binary(model, f"takes|{g}|{o}")
            cover[g].append((1, takes))
            by_supplier[each.supplier, g].append((1, takes))
            add(model, total([(1, takes), *minus(model.line(o))]), pulp.LpConstraintLE, 0, f"has-line|{g}|{o}")
            if own:
                takers[g, each.number].append((1, takes))
                model.pieces[g, o] = whole(model, f"pieces|{g}|{o}", need)
                row: Terms = [(1, model.pieces[g, o]), (-need, takes), *((1, model.drawn[g, lot]) for lot in own)]
                add(model, total(row), pulp.LpConstraintGE, 0, f"bought|{g}|{o}")
    for (g, number), own in lots.items():
        wholly = model.from_drawer[g, number] = binary(model, f"wholly|{g}|{own[0]}")
        cover[g].append((1, wholly))
        row = [*((1, model.drawn[g, lot]) for lot in own), (-instance.needs[g], wholly)]
        add(model, total(row), pulp.LpConstraintGE, 0, f"enough-drawn|{g}|{own[0]}")
        for lot in own:
            most = min(instance.needs[g], instance.lots[lot][1])
            row = [(1, model.drawn[g, lot]), *((-most, x) for _, x in [*takers[g, number], (1, wholly)])]
            add(model, total(row), pulp.LpConstraintLE, 0, f"only-taken|{g}|{lot}")
    for g, row in cover.items():
        add(model, total(row), pulp.LpConstraintEQ, 1, f"cover|{g}")
    for (s, g), row in by_supplier.items():
        add(model, total([*row, (-1, model.used[s])]), pulp.LpConstraintLE, 0, f"from|{s}|{g}")


def _add_split(model: Model) -> None:
    """R1 and R5 where a group may mix parts."""
    instance = model.instance
    cover: dict[int, Terms] = {g: [] for g in instance.groups}
    for each in instance.offers:
        o = each.index
        for g in each.groups if each.steps else ():
            most = min(instance.needs[g], each.most)
            model.pieces[g, o] = whole(model, f"pieces|{g}|{o}", most)
            cover[g].append((1, model.pieces[g, o]))
            row: Terms = [(1, model.pieces[g, o]), *((-most, y) for _, y in model.line(o))]
            add(model, total(row), pulp.LpConstraintLE, 0, f"has-line|{g}|{o}")
    for (g, _), var in model.drawn.items():
        cover[g].append((1, var))
    for g, row in cover.items():
        add(model, total(row), pulp.LpConstraintEQ, instance.needs[g], f"cover|{g}")


def _add_supply(model: Model) -> None:
    """R4."""
    for each in model.instance.offers:
        row = model.quantity(each.index)
        for g in each.groups if each.steps else ():
            if (g, each.index) in model.pieces:
                row.append((-1, model.pieces[g, each.index]))
            else:
                row.append((-model.instance.needs[g], model.takes[g, each.index]))
        if row:
            add(model, total(row), pulp.LpConstraintGE, 0, f"supply|{each.index}")


def _add_tiers(model: Model) -> None:
    """R8."""
    for s, terms in enumerate(model.instance.suppliers):
        tiers: Terms = [(1, model.tier[s, k]) for k in range(len(terms.tiers))]
        add(model, total([*tiers, (-1, model.used[s])]), pulp.LpConstraintEQ, 0, f"one-tier|{s}")
        goods = model.goods(s)
        reached: Terms = [(-tier.least, model.tier[s, k]) for k, tier in enumerate(terms.tiers)]
        at_least_zero(model.lp, goods + reached, f"reached|{s}")
        if terms.rising:
            most = sum(c * x.upBound for c, x in goods)
            below: Terms = [
                (most if tier.most is None else tier.most, model.tier[s, k]) for k, tier in enumerate(terms.tiers)
            ]
            at_least_zero(model.lp, below + minus(goods), f"below|{s}")
