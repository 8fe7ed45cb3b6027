"""Why no order meets every need though parts fit, and the most that can be had.

In the order in which a person would look: a group for which no lot is large enough; then what only
fails together: too few suppliers allowed, minimum orders out of reach, stock that several groups
share, one part per group. A way out is named only after it was tried.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from decimal import Decimal
from typing import TYPE_CHECKING

from recap import money
from recap.model import Outcome, Status

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from recap.model import Need, Part, Problem

    Solve = Callable[[Problem], Outcome]


@dataclass(frozen=True, slots=True)
class Shortage:
    """A group of which too little can be had, however the rest is bought: the most there is, and where."""

    group: str
    pieces: int
    most: int
    reason: str


@dataclass(frozen=True, slots=True)
class WayOut:
    """One thing that, changed alone, makes an order possible, and what the order then costs; ``proven``: at least."""

    text: str
    total: Decimal
    proven: bool = True


@dataclass(frozen=True, slots=True)
class Impossible:
    """Everything there is to say: shortages, ways out, and the groups left out of the order that can be had.

    ``hurried``: the time was too short for all of it, and there may be more ways out, or groups that could be had.
    """

    shortages: tuple[Shortage, ...]
    ways: tuple[WayOut, ...]
    left_out: tuple[str, ...]
    problem: Problem
    outcome: Outcome
    hurried: bool = False


def look_into(problem: Problem, solve_one: Solve, some: Solve | None = None) -> Impossible:
    """Return why ``problem`` has no order, and the cheapest order for as many groups as can be had together.

    No further group could be added to that order's groups. Meant for problems found impossible. ``some`` finds any
    order of a problem that has one, where that is faster than ``solve_one``, which finds the cheapest.
    """
    short = tuple(found for need in problem.needs if (found := _shortage(problem, need)) is not None)
    lacking = [found.group for found in short]  # in the order of the needs, the same every time
    rest = _only(problem, [need for need in problem.needs if need.group not in lacking])
    outcome = solve_one(rest) if short else Outcome(Status.IMPOSSIBLE)
    if not short or outcome.status is Status.IMPOSSIBLE:
        in_time = Watched(some or solve_one)
        kept = _together(rest, in_time)
        left = tuple(need.group for need in rest.needs if need not in kept)
        outcome = solve_one(_only(rest, kept))
        priced = Watched(solve_one)
        ways = tuple(_ways(rest, priced))  # last, so that it takes no time from what can be had
        hurried = in_time.hurried or priced.hurried
        return Impossible(short, ways, (*lacking, *left), _only(rest, kept), outcome, hurried)
    return Impossible(short, (), tuple(lacking), rest, outcome)


NAMED = 3
"""So many parts are named where all are sold out."""


class Watched:
    """A way to solve that remembers whether the time was too short to tell of some problem if it has an order."""

    def __init__(self, solve_one: Solve) -> None:
        """Begin with nothing solved."""
        self._solve = solve_one
        self.hurried = False

    def __call__(self, problem: Problem) -> Outcome:
        """Solve one problem."""
        outcome = self._solve(problem)
        self.hurried |= outcome.order is None and outcome.status is not Status.IMPOSSIBLE
        return outcome


def _only(problem: Problem, needs: list[Need]) -> Problem:
    return replace(problem, needs=tuple(needs))


def _shortage(problem: Problem, need: Need) -> Shortage | None:
    lots = [(_most(part), part) for i in problem.suits.get(need.group, ()) if (part := problem.offers[i])]
    lying: dict[str, int] = {}
    for i in problem.drawer_suits.get(need.group, ()):
        number = problem.drawer[i].part.number
        lying[number] = lying.get(number, 0) + problem.drawer[i].qty
    if any(most is None for most, _ in lots):
        return None
    everything = sum(most or 0 for most, _ in lots) + sum(lying.values())
    if problem.one_part_per_group and (not need.spares or everything >= need.pieces + need.spares):
        given = {f"{p.supplier} {p.number}": (most or 0) + lying.get(p.number, 0) for most, p in lots}
        given |= {f"{number} in the drawer": qty for number, qty in lying.items()}
        most = max(given.values(), default=0)
        where = max(given, key=lambda name: given[name], default="nowhere")
        reason = f"the most that can be had of one part is {most} ({where})"
        if given and not most and all(part.stock == 0 for _, part in lots):
            more = " …" if len(given) > NAMED else ""
            reason = f"all that fits is sold out ({', '.join([*given][:NAMED])}{more})"
        return Shortage(need.group, need.pieces, most, reason) if most < need.pieces else None
    wanted = need.pieces + need.spares
    reason = f"all shops and the drawer together have {everything}"
    return Shortage(need.group, wanted, everything, reason) if everything < wanted else None


def _most(part: Part) -> int | None:
    """Return the most that can be bought of an offer; None where there is no limit."""
    if part.stock is None:
        return None
    most = part.stock - part.stock % part.multiple
    return most if money.is_legal(part, most) else 0


def _ways(problem: Problem, solve_one: Solve) -> Iterator[WayOut]:
    """Yield the single changes that make an order possible, each tried."""

    def tried(text: str, changed: Problem) -> Iterator[WayOut]:
        outcome = solve_one(changed)
        if outcome.order is not None:
            yield WayOut(f"{text} it can be done", outcome.order.total, outcome.status is Status.OPTIMAL)

    most = problem.max_suppliers
    for allowed in range(most + 1, len(problem.suppliers) + 1) if most else ():
        way = next(tried(f"with {allowed} suppliers instead of {most}", replace(problem, max_suppliers=allowed)), None)
        if way is not None:
            yield way
            break
    for name, terms in problem.suppliers.items():
        if terms.minimum > 0:
            eased = {**problem.suppliers, name: replace(terms, minimum=Decimal(0))}
            text = f"without the minimum order of {name}, {terms.minimum} {terms.currency},"
            yield from tried(text, replace(problem, suppliers=eased))
    for i, part in enumerate(problem.offers):
        if part.stock is not None and _shared(problem, i):
            offers = (*problem.offers[:i], replace(part, stock=None), *problem.offers[i + 1 :])
            text = f"with more than {part.stock} pieces of {part.supplier} {part.number}"
            yield from tried(text, replace(problem, offers=offers))
    if problem.one_part_per_group:
        yield from tried("with groups made up of several parts (--split)", replace(problem, one_part_per_group=False))


def _shared(problem: Problem, offer: int) -> bool:
    return sum(offer in rows for rows in problem.suits.values()) > 1


def _together(problem: Problem, solve_one: Solve) -> list[Need]:
    """Return needs that can be met together, such that no other of the problem's can be added to them.

    Blocks of needs are added whole where that goes, and halved where it doesn't. What was refused early
    is tried again at the end: more needs may have lifted a parcel over its minimum order.
    """
    kept: list[Need] = []
    blocks = [list(problem.needs)]
    while blocks:
        block = blocks.pop(0)
        if _possible(problem, [*kept, *block], solve_one):
            kept += block
        elif len(block) > 1:
            half = len(block) // 2
            blocks[:0] = [block[:half], block[half:]]
    grown = True
    while grown:
        refused = [need for need in problem.needs if need not in kept]
        added = next((need for need in refused if _possible(problem, [*kept, need], solve_one)), None)
        grown = added is not None
        if added is not None:
            kept.append(added)
    return [need for need in problem.needs if need in kept]


def _possible(problem: Problem, needs: list[Need], solve_one: Solve) -> bool:
    return solve_one(_only(problem, needs)).order is not None
