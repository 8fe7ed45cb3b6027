"""One bag per set: what goes into it, by board, sorted by value, so that it can be filled and checked."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import groupby
from typing import TYPE_CHECKING

from recap.fit.worklist import part_key
from recap.model import DRAWER
from recap.order.allot import NO_BOARD, natural, place_name
from recap.order.wording import marked_text, thing_text

if TYPE_CHECKING:
    from recap.fit.plan import ExtraPiece, Leftover, Plan
    from recap.model import Part
    from recap.order.allot import Allotment


@dataclass(frozen=True, slots=True)
class Content:
    """Pieces of one part for one board: ``source`` is the supplier, or the drawer and the place in it.

    ``value`` is short, for labels; ``part`` None where nothing could be had.
    """

    part: Part | None
    value: str
    description: str
    qty: int
    refs: tuple[str, ...]
    source: str


@dataclass(frozen=True, slots=True)
class Compartment:
    """What one board of the set gets. ``board`` is empty where the list names none."""

    board: str
    contents: tuple[Content, ...]

    @property
    def title(self) -> str:
        """The board's name for people."""
        return self.board or NO_BOARD


@dataclass(frozen=True, slots=True)
class Bag:
    """One set's bag."""

    set: str
    compartments: tuple[Compartment, ...]
    extras: tuple[ExtraPiece, ...] = ()

    @property
    def pieces(self) -> int:
        """How many pieces are in it, extras too."""
        inside = sum(c.qty for comp in self.compartments for c in comp.contents if c.part is not None)
        return inside + sum(piece.qty for piece in self.extras if piece.part is not None)


@dataclass(frozen=True, slots=True)
class Sorting:
    """All bags, and what goes into none: extras of no set, pieces left over for the drawer."""

    bags: tuple[Bag, ...]
    extras: tuple[ExtraPiece, ...] = ()
    leftovers: tuple[Leftover, ...] = ()


def sort_into_bags(plan: Plan) -> Sorting:
    """Return what goes where; every piece of the plan is in exactly one place."""
    of_set: dict[str, list[Allotment]] = {}
    for allotment in plan.allotments:
        of_set.setdefault(allotment.set, []).append(allotment)
    names = sorted({*of_set, *(piece.extra.set for piece in plan.extras if piece.extra.set)}, key=natural)
    bags = tuple(
        Bag(
            name,
            _compartments(of_set.get(name, []), plan),
            tuple(piece for piece in plan.extras if piece.extra.set == name),
        )
        for name in names
    )
    return Sorting(bags, tuple(piece for piece in plan.extras if not piece.extra.set), plan.leftovers)


def _compartments(allotments: list[Allotment], plan: Plan) -> tuple[Compartment, ...]:
    ordered = sorted(allotments, key=lambda a: natural(a.position.board or ""))
    return tuple(
        Compartment(board, _contents(list(run), plan))
        for board, run in groupby(ordered, lambda a: a.position.board or "")
    )


def _contents(allotments: list[Allotment], plan: Plan) -> tuple[Content, ...]:
    alike: dict[tuple[str, ...], list[Allotment]] = {}
    for allotment in allotments:
        part = allotment.part
        key = (part.number, allotment.supplier or "") if part else ("", thing_text(allotment.position))
        alike.setdefault((str(part is None), *key), []).append(allotment)
    ordered = sorted(alike.values(), key=lambda run: part_key(run[0].part))
    return tuple(_content(run, plan) for run in ordered)


def _content(run: list[Allotment], plan: Plan) -> Content:
    first = run[0]
    refs = sorted((place_name(a.position) for a in run), key=natural)
    shown = first.part or first.position
    return Content(
        part=first.part,
        value=marked_text(shown),
        description=thing_text(shown),
        qty=sum(a.qty for a in run),
        refs=tuple(dict.fromkeys(refs)),
        source=source_text(first.supplier, first.part, plan),
    )


def source_text(supplier: str | None, part: Part | None, plan: Plan) -> str:
    """Return where pieces come from: the supplier, or the drawer and the place in it; empty for nothing."""
    if supplier != DRAWER or part is None:
        return supplier or ""
    place = plan.drawer_places.get(part.number, DRAWER)
    return DRAWER if place == DRAWER else f"{DRAWER}: {place}"
