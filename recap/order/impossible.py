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
    """One thing that, changed alone, makes an order possible, and what the order then costs."""

    text: str
    total: Decimal


@dataclass(frozen=True, slots=True)
class Impossible:
    """Everything there is to say: shortages, ways out, and the groups left out of the order that can be had."""

    shortages: tuple[Shortage, ...]
    ways: tuple[WayOut, ...]
    left_out: tuple[str, ...]
    problem: Problem
    outcome: Outcome


def look_into(problem: Problem, solve_one: Solve) -> Impossible:
    """Return why ``problem`` has no order, and the cheapest order for as many groups as can be had together.

    No further group could be added to that order's groups. Meant for problems found impossible.
    """
    short = tuple(found for need in problem.needs if (found := _shortage(problem, need)) is not None)
    lacking = [found.group for found in short]  # in the order of the needs, the same every time
    rest = _only(problem, [need for need in problem.needs if need.group not in lacking])
    outcome = solve_one(rest) if short else Outcome(Status.IMPOSSIBLE)
    if not short or outcome.status is Status.IMPOSSIBLE:
        ways = tuple(_ways(rest, solve_one))
        kept = _together(rest, solve_one)
        left = tuple(need.group for need in rest.needs if need not in kept)
        rest = _only(rest, kept)
        outcome = solve_one(rest)
        return Impossible(short, ways, (*lacking, *left), rest, outcome)
    return Impossible(short, (), tuple(lacking), rest, outcome)


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
    if problem.max_suppliers:
        for allowed in range(problem.max_suppliers + 1, len(problem.suppliers) + 1):
            total = _total(replace(problem, max_suppliers=allowed), solve_one)
            if total is not None:
                yield WayOut(f"with {allowed} suppliers instead of {problem.max_suppliers} it can be done", total)
                break
    for name, terms in problem.suppliers.items():
        if terms.minimum > 0:
            eased = {**problem.suppliers, name: replace(terms, minimum=Decimal(0))}
            total = _total(replace(problem, suppliers=eased), solve_one)
            if total is not None:
                yield WayOut(
                    f"without the minimum order of {name}, {terms.minimum} {terms.currency}, it can be done", total
                )
    for i, part in enumerate(problem.offers):
        if part.stock is not None and _shared(problem, i):
            offers = (*problem.offers[:i], replace(part, stock=None), *problem.offers[i + 1 :])
            total = _total(replace(problem, offers=offers), solve_one)
            if total is not None:
                yield WayOut(
                    f"with more than {part.stock} pieces of {part.supplier} {part.number} it can be done", total
                )
    if problem.one_part_per_group:
        total = _total(replace(problem, one_part_per_group=False), solve_one)
        if total is not None:
            yield WayOut("with groups made up of several parts (--split) it can be done", total)


def _shared(problem: Problem, offer: int) -> bool:
    return sum(offer in rows for rows in problem.suits.values()) > 1


def _total(problem: Problem, solve_one: Solve) -> Decimal | None:
    order = solve_one(problem).order
    return None if order is None else order.total


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
