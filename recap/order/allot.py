"""Which piece goes where: the order's parts dealt out to the positions of every set.

An order says how many pieces of a part serve a group; the bench needs to know which part belongs
in C12 of which set. The dealing is the same every time: sets, boards, designators in natural order.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING

from recap.model import DRAWER, Group, Order, Part, Placed, Position
from recap.order.report import Share, shares

if TYPE_CHECKING:
    from collections.abc import Iterable

_DIGITS = re.compile(r"(\d+)")

NO_BOARD = "no board named"
"""Shown where a list names no board."""


@dataclass(frozen=True, slots=True)
class Allotment:
    """Pieces for one position of one set: ``part`` and ``supplier`` None where nothing could be had.

    ``qty`` is 1 for a position with a designator. ``group`` is the id of its group.
    """

    set: str
    position: Position
    group: str
    qty: int
    part: Part | None
    supplier: str | None

    @property
    def board(self) -> str:
        """The position's board, or words saying that none is named."""
        return self.position.board or NO_BOARD

    @property
    def from_drawer(self) -> bool:
        """Tell whether the pieces come from the drawer."""
        return self.supplier == DRAWER


def natural(text: str) -> tuple[tuple[int, int, str], ...]:
    """Return a sort key by which C2 comes before C10."""
    # isdecimal and not isdigit: "²" is a digit that int() doesn't read
    return tuple((0, int(part), "") if part.isdecimal() else (1, 0, part) for part in _DIGITS.split(text) if part)


def place_name(position: Position) -> str:
    """Return the designator, or value, voltage and count where the list gives none."""
    if position.ref is not None:
        return position.ref
    value = "? µF" if position.value_uF is None else f"{position.value_uF.normalize():f} µF"
    volts = "" if position.volts is None else f" {position.volts.normalize():f} V"
    return f"{value}{volts} ×{position.qty}"


def order_of_work(placed: Placed) -> tuple[object, ...]:
    """Return a sort key: by set, then board, then designator, numbers by size."""
    position = placed.position
    return (natural(placed.set), natural(position.board or ""), natural(place_name(position)))


def allot(groups: Iterable[Group], order: Order | None) -> tuple[Allotment, ...]:
    """Deal the parts of ``order`` to the positions of ``groups``; sorted by set, board, designator.

    A group served by several parts uses up one after the other. Spares and extras have no position.
    """
    served = shares(order)
    dealt: list[tuple[tuple[object, ...], Allotment]] = []
    for group in groups:
        piles = served.get(group.id, ())
        left = [pile.qty for pile in piles]
        for placed in sorted(group.placed, key=order_of_work):
            dealt += [(order_of_work(placed), piece) for piece in _deal(group.id, placed, piles, left)]
    return tuple(allotment for _, allotment in sorted(dealt, key=lambda pair: pair[0]))


def _deal(group: str, placed: Placed, piles: tuple[Share, ...], left: list[int]) -> list[Allotment]:
    """Take the pieces of one position off the piles; ``left`` says how much each still holds."""
    wanted, found = placed.position.qty, []
    for index, pile in enumerate(piles):
        taken = min(wanted, left[index])
        if taken:
            left[index] -= taken
            wanted -= taken
            found.append(Allotment(placed.set, placed.position, group, taken, pile.part, pile.supplier))
    if wanted:
        found.append(Allotment(placed.set, placed.position, group, wanted, None, None))
    return found
