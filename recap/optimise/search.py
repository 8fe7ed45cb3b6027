"""Branch on what suppliers cost: who is used, and at which shipping tier. The rest nearly falls apart.

Best bound first. Each node is the linear relaxation with some suppliers and tiers fixed; where these come out
whole, the node is a leaf with a small program of its own (:mod:`recap.optimise.residue`). It is solved roughly at once,
and to the proof only when no other nodes are left: by then the best total is known so well that most leaves are soon
done with. A node is dropped only when its bound is above the best total by more than floating point can be wrong.
"""

from __future__ import annotations

import heapq
import itertools
import time
from collections.abc import Callable
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING

import numpy as np

from recap.optimise import clusters, leaf, parcels, polish, residue, rows, solver, sums
from recap.optimise.decode import decode, start_of, total_of
from recap.optimise.gains import Gains, Turn
from recap.optimise.nodes import Node, Tried
from recap.optimise.relaxation import Relaxation
from recap.optimise.residue import FINE
from recap.optimise.solver import UNTIRING

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from recap.optimise.columns import Columns
    from recap.optimise.decode import Decoded
    from recap.optimise.instance import Instance
    from recap.optimise.leaf import Leaf
    from recap.optimise.rebuild import Choice
    from recap.optimise.relaxation import Point
    from recap.optimise.solver import Patience

FIRST_WIDTH = 1e-5
"""Share of a leaf's bound within which columns are tried first."""

ROUGH_COLUMNS = 200
"""A leaf isn't looked into roughly over more columns than these and two for each group."""

WIDER = 6
"""How much wider each next look for an order is."""

WHOLE = 1e-6
"""A supplier or tier this near to 0 or 1 counts as chosen."""

NARROWER = 0.5
"""Share of the columns that must be left for it to be worth while to begin anew with them."""

DIVE_AFTER = 1
"""Nodes without any order after which one is looked for by fixing terms in a row."""

FEW, MANY = 20, 400
"""Orders tried by chance before pieces are counted by a program, and again where that takes long."""

BRIEFLY, PATIENCE = 0.15, 2.0
"""The share of its effort that counting may take at first, and the seconds of the program and of trying by chance."""

Told = Callable[[float | None, float], None]
"""Called with the best total so far and the bound, in total units."""


@dataclass(slots=True)
class Search:
    """One search over one instance: the best order so far, and leaves with the least that any of their orders costs.

    Once it is proven, every order as cheap as the best is in one of the leaves. ``low`` is the bound where the search
    is now; ``least`` is, by column, a bound on all orders with it. ``dived``: the leaf come to first, tried roughly.
    """

    instance: Instance
    relaxation: Relaxation
    frame: leaf.Frame
    patience: Patience
    told: Told | None
    best: int | None = None
    choice: Choice | None = None
    low: float = 0.0
    bound: float = 0.0
    leaves: list[tuple[float, Leaf]] = field(default_factory=list)
    proven: bool = False
    least: np.ndarray | None = None
    gains: Gains = field(default_factory=Gains)
    dived: tuple[Leaf, Tried] | None = None

    def seconds(self) -> float | None:
        """Return the time left; raises TimeoutError where there is none."""
        return self.patience.seconds(self.best, self.low)

    def keep(self, choice: Choice) -> int:
        """Remember the order if it is the cheapest so far; return its total."""
        total = total_of(self.instance, choice.bought)
        if self.best is None or total < self.best:
            self.best, self.choice = total, choice
        return total

    def hopeless(self, bound: float) -> bool:
        """Tell whether nothing with this bound can be as cheap as the best."""
        return self.best is not None and bound > self.best + FINE * self.best


def search(
    instance: Instance, columns: Columns, patience: Patience = UNTIRING, told: Told | None = None
) -> Search:
    """Search to the end or as long as there is patience; ``proven`` tells which.

    Without any legal order, ``best`` is None and ``proven`` is true.
    """
    relaxation = Relaxation(instance, columns)
    frame = leaf.frame_of(instance, columns, relaxation.scale)
    state = Search(instance, relaxation, frame, patience, told)
    heap = [Node(0.0, 0, {})]
    try:
        _explore(state, heap)
        state.proven = True
        state.bound = float(state.best or 0)
    except (TimeoutError, KeyboardInterrupt):
        state.bound = min([node.bound for node in heap] + ([float(state.best)] if state.best is not None else []))
    return state


def _explore(state: Search, heap: list[Node]) -> None:
    turns = itertools.count(1)
    visited = 0
    while heap:
        node = heap[0]
        if state.hopeless(node.bound):
            heapq.heappop(heap)
            continue
        state.low = min(each.bound for each in heap)
        if state.told is not None:
            state.told(state.best, state.low)
        if state.best is None and visited == DIVE_AFTER:
            _dive(state, node)
        visited += 1
        children = _settle(state, node, turns) if node.leaf is not None else _branch(state, node, turns)
        if _narrowed(state):
            for each in (*heap, *children):
                each.basis = None
        for child in children:
            child.bound = max(child.bound, node.bound)  # rounding must not put it before its parent
            heapq.heappush(heap, child)
        heap.remove(node)  # only now, so that an interruption loses nothing
        heapq.heapify(heap)


def _branch(state: Search, node: Node, turns: Iterator[int]) -> list[Node]:
    """Solve the relaxation here: nothing is left, a leaf and what lies around it, or two halves."""
    beyond = clusters.NEVER if state.best is None else state.best * (1 + 2 * FINE) / state.relaxation.scale
    point = state.relaxation.solve(node.fixed, node.basis, state.seconds(), beyond)
    if point is None:
        if node.turned is not None and state.best is not None:
            state.gains.note(node.turned, state.best - node.bound)
        return []
    lifts = _lifts(state, point)
    bound = max(node.bound, (point.value + float(lifts.sum())) * state.relaxation.scale)
    if node.turned is not None:
        state.gains.note(node.turned, bound - node.bound)
    if state.least is None:
        own = lifts[state.frame.parted.of]  # a column may spare its cluster what being covered whole would cost
        state.least = bound + (point.reduced - own) * state.relaxation.scale
    if state.hopeless(bound):
        return []
    place = _doubtful(state, point)
    if place is None:
        opened, tried = _open(state, point), None
        if opened is not None and not state.hopeless(opened.bound):
            tried = _first_order(state, opened, again=True)
        around = _around(state, node, point, bound, turns)  # only now: with the order just found, less is left of it
        if opened is None or tried is None or state.hopeless(opened.bound):
            return around
        return [Node(max(bound, opened.bound), next(turns), node.fixed, leaf=opened, tried=tried), *around]
    turned = [Turn(place, side, abs(side - point.terms[place])) for side in (0, 1)]
    return [Node(bound, next(turns), {**node.fixed, place: t.side}, point.basis, turned=t) for t in turned]


def _lifts(state: Search, point: Point) -> np.ndarray:
    """Return by how much each cluster costs more than the relaxation says, if torn by offers that can't be merged.

    Where no term is doubtful, all that are torn; where some are, nearly all clusters are torn by them.
    """
    frame = state.frame
    torn = np.unique(frame.parted.of[(point.chosen > WHOLE) & (point.chosen < 1 - WHOLE)]).tolist()
    if _doubtful(state, point) is not None:
        offers = state.instance.offers
        single = {frame.clusters.of[offers[o].groups[0]] for o, worth in point.single.items() if worth > WHOLE}
        torn = [cluster for cluster in torn if cluster in single]
    return clusters.lifts(frame.clusters, frame.parted, torn, point.chosen, point.worth)


def _narrowed(state: Search) -> bool:
    """Leave out columns that no order as cheap as the best has, where that leaves much fewer; tell whether it was done.

    Any legal order is a solution of the relaxation, so what the relaxation says of a column holds for orders as well.
    """
    if state.best is None or state.least is None:
        return False
    every = state.frame.columns
    kept = np.flatnonzero(state.least <= state.best + 2 * FINE * state.best)
    if len(kept) > NARROWER * len(every.all):
        return False
    columns = replace(every, all=tuple(every.all[i] for i in kept.tolist()))
    state.least = state.least[kept]
    state.relaxation = Relaxation(state.instance, columns, state.frame.scale)
    state.frame = leaf.frame_of(state.instance, columns, state.frame.scale)
    return True


def _around(state: Search, node: Node, point: Point, bound: float, turns: Iterator[int]) -> list[Node]:
    """Return the node without its leaf: each term in turn turned over, those before it as in the leaf.

    A supplier is turned over by its use, then a used one by its tier.
    """
    fixed = dict(node.fixed)
    nodes = []
    used = [place for place in state.relaxation.used.values() if place not in fixed]
    tiers = [place for place in state.relaxation.tier.values() if round(point.terms[place]) and place not in fixed]
    for place in used + tiers:
        value = round(point.terms[place])
        beyond = bound + point.turning[place] * state.relaxation.scale
        nodes.append(Node(beyond, next(turns), {**fixed, place: 1 - value}, point.basis))
        fixed[place] = value
    return [each for each in nodes if not state.hopeless(each.bound)]


def _open(state: Search, point: Point) -> Leaf | None:
    tiers = {s: k for (s, k), place in state.relaxation.tier.items() if round(point.terms[place])}
    return leaf.open_leaf(state.frame, tiers, point)


def _doubtful(state: Search, point: Point) -> int | None:
    """Return the variable to branch on: a supplier or a tier; None where all are whole."""
    return state.gains.choose(point.terms, point.terms, WHOLE)


def _dive(state: Search, node: Node) -> None:
    """Fix the surest doubtful term again and again, to have an order soon."""
    fixed, basis = dict(node.fixed), node.basis
    while True:
        point = state.relaxation.solve(fixed, basis, state.seconds())
        if point is None:
            return
        basis = point.basis
        doubtful = [(abs(v - round(v)), p) for p, v in point.terms.items() if abs(v - round(v)) > WHOLE]
        if not doubtful:
            opened = _open(state, point)
            tried = None if opened is None else _first_order(state, opened, again=False)
            if opened is not None and tried is not None:
                state.dived = opened, tried
            return
        _, place = min(doubtful)
        fixed[place] = round(point.terms[place])


def _first_order(state: Search, here: Leaf, again: bool) -> Tried | None:
    """Solve the leaf roughly over ever more of its best columns until there is an order.

    ``again``: over more of them as long as that order is far above what they allow, and they aren't many.
    """
    most = ROUGH_COLUMNS + 2 * len(state.instance.needs)
    width = max(here.bound * FIRST_WIDTH, 1.0)  # a bound of nothing must not keep it from growing
    tried = _known(state, here)
    if tried is not None:
        width = max(width, tried.width)
    while True:
        width = min(width, here.highest)
        if tried is None or width > tried.width:
            tried = _try(state, here, width, before=tried, rough=True) or tried
        if width >= here.highest:
            return tried or _try(state, here, width)
        many = np.count_nonzero(here.excesses <= WIDER * width) > most
        if tried is not None and (not again or many or tried.value <= here.bound + WIDER * width):
            return tried
        width *= WIDER


def _known(state: Search, here: Leaf) -> Tried | None:
    """Return what trying the same choice of suppliers and tiers roughly gave before, over the same columns.

    What its width proves goes with the bound that it had; here it reaches as far as that.
    """
    if state.dived is None:
        return None
    leaf, tried = state.dived
    if leaf.tiers != here.tiers or leaf.frame is not here.frame:
        return None
    return replace(tried, width=leaf.bound + tried.width - here.bound)


def _settle(state: Search, node: Node, turns: Iterator[int]) -> list[Node]:
    """Find the cheapest order with the leaf's suppliers and tiers, or learn that there is none cheaper than the best.

    Where topping up overshoots, the leaf comes back as a node with the suppliers to count exactly.
    """
    here, tried = node.leaf, node.tried
    assert here is not None
    assert tried is not None
    slack = FINE * here.bound
    room = clusters.NEVER if state.best is None else state.best - here.bound
    if room <= slack:
        state.leaves.append((here.bound, here))
        return []
    if node.exact:
        tried = _exactly(state, here, room, node.exact, tried)
    elif not tried.proven or tried.value > here.bound + tried.width + slack:
        tried = _try(state, here, min(room, tried.value - here.bound, here.highest), before=tried)
    if tried is None or state.hopeless(tried.value):
        return []
    if tried.total is not None and tried.total <= tried.value + slack:
        state.leaves.append((tried.value, here))
        return []
    if tried.short <= node.exact:
        raise RuntimeError("rounding: a parcel counted piece by piece misses its threshold")
    exact = node.exact | tried.short
    return [Node(tried.value, next(turns), node.fixed, leaf=here, exact=exact, tried=tried)]


def _exactly(state: Search, here: Leaf, room: float, exact: frozenset[int], before: Tried) -> Tried | None:
    """Solve the leaf with pieces counted, by all sums where that goes; None where nothing is as cheap as the best."""
    chances = polish.tries(here, before.value - here.bound + FINE * here.bound)
    found: Tried | None = before
    for share, many, seconds in ((BRIEFLY, FEW, PATIENCE), (1.0, MANY, None)):
        answer = parcels.counted(here, exact, before.value, state.best, sums.Effort(share, state.seconds))
        if not isinstance(answer, bool):
            value, choice, lines = answer
            return Tried(room, float(value), True, state.keep(choice), frozenset(), lines, {})
        if not answer:
            return None
        hit = _hit(state, before, itertools.islice(chances, many))
        if hit is not None:
            return replace(before, total=hit)
        found = _try(state, here, room, exact=exact, before=before, seconds=seconds)
        if found is None or found.proven:
            break
    return found


def _hit(state: Search, tried: Tried, chances: Iterable[Decoded | None]) -> int | None:
    """Keep what is tried by chance; return the total of an order that costs no more than the leaf's program says."""
    until = time.monotonic() + PATIENCE
    for decoded in chances:
        state.seconds()
        if time.monotonic() > until:
            break
        if decoded is None or decoded.choice is None:
            continue
        total = state.keep(decoded.choice)
        if total <= tried.value + FINE * tried.value:
            return total
    return None


def _try(
    state: Search,
    here: Leaf,
    width: float,
    *,
    exact: frozenset[int] = frozenset(),
    before: Tried | None = None,
    rough: bool = False,
    seconds: float | None = None,
) -> Tried | None:
    """Solve the leaf's program over the columns within ``width``; None where nothing as cheap as the best is feasible.

    With ``seconds`` it may end without a proof; what is found is then ``before`` or better.
    """
    program = residue.build(here, width, exact)
    scale = state.frame.scale
    program.lp.setObjective(rows.total([(c / scale, x) for c, x in program.costs()]))
    start = None
    if before is not None and not rough and not state.hopeless(before.value):
        start = start_of(program, before.lines, before.values)
    left = state.seconds()
    limit = min((each for each in (left, seconds) if each is not None), default=None)
    beyond = None if rough or state.best is None else (state.best * (1 + 2 * FINE) - here.fixed) / scale
    answer = solver.run(program.lp, "highs", limit, start=start, rough=rough, beyond=beyond)
    if answer.interrupted and answer.found in {solver.Found.INFEASIBLE, solver.Found.NOTHING}:
        raise KeyboardInterrupt
    if answer.found is solver.Found.INFEASIBLE or (answer.found is solver.Found.NOTHING and rough):
        state.seconds()
        return None
    brief = seconds is not None and not answer.interrupted
    if answer.found is solver.Found.NOTHING and brief and before is not None:
        state.seconds()
        return replace(before, proven=False)
    if answer.found is solver.Found.NOTHING:
        raise TimeoutError
    decoded = decode(program)
    total = state.keep(decoded.choice) if decoded.choice is not None else None
    proven = answer.found is solver.Found.PROVEN
    if answer.interrupted or not (proven or rough or brief):
        raise TimeoutError
    assert answer.objective is not None
    values = {x.name: x.varValue for x in program.lp.variables() if x.varValue}
    value = here.fixed + answer.objective * scale
    return Tried(width, value, proven, total, decoded.short, decoded.lines, values)
