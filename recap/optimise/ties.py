"""Among the orders of the least total, the preferred one: fewer suppliers, then fewer lines, then longer life.

The total is held by a row in whole numbers (:func:`recap.optimise.rows.at_least_zero`), so that no preference is bought
with the smallest unit of money. Each step keeps what the steps before reached. What comes out is counted again from the
pieces, and only taken where it is as cheap as before, to the unit, and better.
"""

from __future__ import annotations

import time
from dataclasses import dataclass
from typing import TYPE_CHECKING

import pulp

from recap.optimise import residue, rows, solver
from recap.optimise.decode import decode, total_of
from recap.optimise.merits import lives_of, merits_of
from recap.optimise.program import merged

if TYPE_CHECKING:
    from collections.abc import Sequence

    from recap.optimise.instance import Instance
    from recap.optimise.leaf import Leaf
    from recap.optimise.merits import Lives, Merits
    from recap.optimise.program import Model
    from recap.optimise.rebuild import Choice
    from recap.optimise.residue import Residue
    from recap.optimise.rows import Terms, Variable
    from recap.optimise.search import Search
    from recap.optimise.solver import Program

LARGEST = 2500
"""Variables of a program over price steps in which preferences are still looked into."""

SUPPLIERS, LINES, LIFE = 0, 1, 2
"""Places in the merits."""


@dataclass(frozen=True, slots=True)
class Settled:
    """The preferred order as far as time allowed; ``all``: no order of the same total is to be preferred to it."""

    choice: Choice
    all: bool


class Undecided(Exception):  # noqa: N818 - not an error: the order stands as it is
    """The time is up, or the solver's answer did not hold when counted again."""


@dataclass(slots=True)
class Contest:
    """The best order so far, and its merits; all others must cost ``total`` as well."""

    instance: Instance
    lives: Lives
    choice: Choice
    total: int
    merits: Merits
    until: float

    def enter(self, choice: Choice) -> None:
        """Take the order where it is as cheap and better; raises Undecided where it isn't as cheap."""
        if total_of(self.instance, choice.bought) != self.total:
            raise Undecided
        merits = merits_of(self.instance, self.lives, choice)
        if merits < self.merits:
            self.choice, self.merits = choice, merits

    def least(self, program: Program, engine: str) -> bool:
        """Solve; False where nothing is feasible, with presolve and without.

        With the total held to the unit, presolve was seen to lose orders that are there.
        """
        answer = solver.run(program, engine, self.until - time.monotonic())
        if answer.found is solver.Found.INFEASIBLE and not answer.interrupted:
            answer = solver.run(program, engine, self.until - time.monotonic(), presolve=False)
        if answer.interrupted:
            raise Undecided
        if answer.found is solver.Found.INFEASIBLE:
            return False
        if answer.found is not solver.Found.PROVEN:
            raise Undecided
        return True


def _contest(instance: Instance, choice: Choice, until: float) -> Contest:
    lives = lives_of(instance)
    return Contest(
        instance, lives, choice, total_of(instance, choice.bought), merits_of(instance, lives, choice), until
    )


def settle_columns(state: Search, until: float) -> Settled:
    """Look through the leaves in which an order as cheap as the best may be, those of fewest suppliers first."""
    assert state.choice is not None, "the least total is known"
    contest = _contest(state.instance, state.choice, until)
    leaves = [leaf for lower, leaf in state.leaves if not state.hopeless(lower)]
    try:
        for leaf in sorted(leaves, key=lambda each: len(each.tiers)):
            if len(leaf.tiers) <= contest.merits[SUPPLIERS]:
                _look_into(contest, leaf)
    except (Undecided, KeyboardInterrupt):
        return Settled(contest.choice, all=False)
    return Settled(contest.choice, all=True)


def _look_into(contest: Contest, leaf: Leaf) -> None:
    """Find the leaf's order of fewest lines, and of these the one of longest life, if they are to be preferred."""
    found = residue.build(leaf, max(contest.total - leaf.bound, 0.0), frozenset(leaf.tiers))
    _hold_total(found.lp, found.one, found.costs(), contest.total - leaf.fixed)
    lines: Terms = [(1, x) for column, _, x in found.chosen if column.offer >= 0]
    for s in leaf.tiers:
        own = [(1, x) for column, _, x in found.chosen if column.supplier == s]
        found.lp.addConstraint(pulp.LpConstraint(rows.total(own), pulp.LpConstraintGE, f"used|{s}", 1))
    if len(leaf.tiers) == contest.merits[SUPPLIERS]:
        _at_most(found.lp, lines, contest.merits[LINES], "lines")
    wanted = _lives(contest, found)
    reached = -_longest(contest, found, wanted)
    same = len(leaf.tiers) == contest.merits[SUPPLIERS]
    if same and contest.merits[LINES] == len(leaf.tiers) and contest.merits[LIFE] <= reached:
        return

    def entered() -> bool:
        if not contest.least(found.lp, "highs"):
            return False
        decoded = decode(found)
        if decoded.choice is None or decoded.short:
            raise Undecided
        contest.enter(decoded.choice)
        return True

    found.lp.setObjective(rows.total(lines))
    if not entered():
        return
    _at_most(found.lp, lines, sum(round(x.varValue or 0.0) for _, x in lines), "fewest-lines")
    if contest.merits[LIFE] > reached:
        found.lp.setObjective(rows.total(rows.minus(wanted)))
        entered()


def _lives(contest: Contest, found: Residue) -> Terms:
    """Return the terms of the rated life."""
    needs, terms = contest.instance.needs, []
    for column, _, x in found.chosen:
        hours = contest.lives.offer[column.offer] if column.offer >= 0 else contest.lives.lot[column.lot]
        terms.append((hours * sum(needs[g] for g in column.groups), x))
    return terms


def _longest(contest: Contest, found: Residue, wanted: Terms) -> int:
    """Return more rated life than any order in the program can have."""
    most = [0] * len(contest.instance.needs)
    for (column, _, _), _ in zip(found.chosen, wanted, strict=True):
        hours = contest.lives.offer[column.offer] if column.offer >= 0 else contest.lives.lot[column.lot]
        for g in column.groups:
            most[g] = max(most[g], hours * contest.instance.needs[g])
    return sum(most)


def settle_steps(model: Model, choice: Choice, engine: str, until: float) -> Settled:
    """Solve the program over price steps again for each preference; rows are added to it.

    Not where it is large: with the total held to the unit it wouldn't come to an end.
    """
    contest = _contest(model.instance, choice, until)
    if model.lp.numVariables() > LARGEST:
        return Settled(choice, all=False)
    one = model.lp.add_variable("one", 1, 1, pulp.LpInteger)
    _hold_total(model.lp, one, model.costs(), contest.total)
    try:
        for place, terms, best in _preferences(model, contest):
            if contest.merits[place] > best:
                model.lp.setObjective(rows.total(terms))
                _improve(contest, model, engine)
            _at_most(model.lp, terms, contest.merits[place], f"preferred|{place}")
    except (Undecided, KeyboardInterrupt):
        return Settled(contest.choice, all=False)
    return Settled(contest.choice, all=True)


def _improve(contest: Contest, model: Model, engine: str) -> None:
    if not contest.least(model.lp, engine):
        raise Undecided
    contest.enter(model.choice())


def _preferences(model: Model, contest: Contest) -> Sequence[tuple[int, Terms, int]]:
    """Return each merit with the terms that count it, and a value that it can't be better than."""
    some = 1 if contest.choice.bought else 0
    life = _step_lives(model, contest.lives)
    needs = contest.instance.needs
    most = [0] * len(needs)
    for offer in contest.instance.offers:
        for g in offer.groups:
            most[g] = max(most[g], needs[g] * contest.lives.offer[offer.index])
    for lot, groups in enumerate(contest.instance.lot_groups):
        for g in groups:
            most[g] = max(most[g], needs[g] * contest.lives.lot[lot])
    return (
        (SUPPLIERS, [(1, z) for z in model.used.values()], some),
        (LINES, [(1, y) for y in model.step.values()], some),
        (LIFE, rows.minus(life), -sum(most)),
    )


def _step_lives(model: Model, lives: Lives) -> Terms:
    """Return the terms of the rated life: pieces, or the whole need of a group that takes one part."""
    instance = model.instance
    if not instance.problem.one_part_per_group:
        bought: Terms = [(lives.offer[o], x) for (_, o, _), x in model.pieces.items()]
        return merged(bought + [(lives.lot[lot], x) for (_, lot), x in model.drawn.items()])
    numbers = {number: lives.lot[lot] for lot, (number, _) in enumerate(instance.lots)}
    terms: Terms = [(instance.needs[g] * lives.offer[o], x) for (g, o, _), x in model.takes.items()]
    return terms + [(instance.needs[g] * numbers[number], x) for (g, number), x in model.from_drawer.items()]


def _hold_total(lp: Program, one: Variable, costs: Terms, total: int) -> None:
    """Add the row: not dearer than ``total``."""
    rows.at_least_zero(lp, [*rows.minus(costs), (total, one)], "no-dearer")


def _at_most(lp: Program, terms: Terms, most: int, name: str) -> None:
    lp.addConstraint(pulp.LpConstraint(rows.total(terms), pulp.LpConstraintLE, name, most))
