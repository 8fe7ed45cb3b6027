"""An order as it was kept, and which position gets which piece of it.

The document holds the order and its groups whole, so that an audit years later sees the list and the
catalogue as they stood on the day, whatever the files say by then.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import datetime  # noqa: TC003 - the codec reads the annotations
from typing import TYPE_CHECKING

from recap.audit.events import PlaceKey
from recap.model import DRAWER, Group, Order, Part, Position

if TYPE_CHECKING:
    from collections.abc import Iterable


_Pieces = tuple[Part, str, int]


@dataclass(frozen=True, slots=True)
class KeptOrder:
    """An order that was placed. ``id`` is a date and a number, ``2025-03-01-1``."""

    id: str
    kept: datetime
    order: Order
    groups: tuple[Group, ...]
    currency: str = ""


@dataclass(frozen=True, slots=True)
class Assignment:
    """``qty`` pieces of ``part``, from ``supplier`` (or the drawer), meant for one position of one set."""

    order: str
    place: PlaceKey
    position: Position
    group: str
    part: Part
    supplier: str
    qty: int


def natural(text: str) -> tuple[tuple[int, int, str], ...]:
    """Return a sort key by which C2 comes before C10."""
    pieces = re.split(r"(\d+)", text)
    return tuple((0, int(piece), "") if piece.isdecimal() else (1, 0, piece) for piece in pieces if piece)


def place_key(set_name: str, position: Position) -> PlaceKey:
    """Return the key of a position: its ref, or value and voltage where the list gives no designators."""
    ref = position.ref
    if ref is None:
        value = "? µF" if position.value_uF is None else f"{position.value_uF.normalize():f} µF"
        volts = "" if position.volts is None else f" {position.volts.normalize():f} V"
        ref = f"{value}{volts} ×{position.qty}"
    return PlaceKey(set_name, position.board or "", ref)


def assignments(kept: KeptOrder) -> tuple[Assignment, ...]:
    """Hand out the order's pieces: per group, by set, board and ref, the drawer's pieces first.

    What is left of a line afterwards is its spares. A position without designators may get pieces
    of several parts; it then appears once for each.
    """
    found: list[Assignment] = []
    sources = _sources(kept.order)
    for group in kept.groups:
        pool = sources.get(group.id, [])
        for placed in sorted(group.placed, key=lambda p: order_of_work(place_key(p.set, p.position))):
            key = place_key(placed.set, placed.position)
            pieces, pool = _take(pool, placed.position.qty)
            found += [Assignment(kept.id, key, placed.position, group.id, *piece) for piece in pieces]
    return tuple(found)


def order_of_work(key: PlaceKey) -> tuple[object, ...]:
    """Return a sort key: by set, then board, then ref, numbers by size."""
    return (natural(key.set), natural(key.board), natural(key.ref))


def planned(orders: Iterable[KeptOrder]) -> dict[PlaceKey, tuple[Assignment, ...]]:
    """Return what each position is to get; where several orders name it, the latest one counts."""
    plan: dict[PlaceKey, tuple[Assignment, ...]] = {}
    for kept in sorted(orders, key=lambda o: o.kept):
        mine: dict[PlaceKey, list[Assignment]] = {}
        for assignment in assignments(kept):
            mine.setdefault(assignment.place, []).append(assignment)
        plan.update({key: tuple(pieces) for key, pieces in mine.items()})
    return plan


def _sources(order: Order) -> dict[str, list[_Pieces]]:
    sources: dict[str, list[_Pieces]] = {}
    for taken in order.drawer:
        for use in taken.uses:
            sources.setdefault(use.group, []).append((taken.part.part, DRAWER, use.qty))
    for parcel in order.suppliers:
        for line in parcel.lines:
            for use in line.uses:
                sources.setdefault(use.group, []).append((line.part, parcel.terms.supplier, use.qty))
    return sources


def _take(pool: list[_Pieces], wanted: int) -> tuple[list[_Pieces], list[_Pieces]]:
    """Split a pool into the ``wanted`` first pieces and the rest."""
    taken: list[_Pieces] = []
    rest: list[_Pieces] = []
    for part, supplier, qty in pool:
        now = min(wanted, qty)
        wanted -= now
        if now:
            taken.append((part, supplier, now))
        if qty > now:
            rest.append((part, supplier, qty - now))
    return taken, rest
