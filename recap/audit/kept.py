"""An order as it was kept, and which position gets which piece of it.

The document holds the order and its groups whole, so that an audit years later sees the list and the
catalogue as they stood on the day, whatever the files say by then.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime  # noqa: TC003 - the codec reads the annotations

from recap.audit.events import PlaceKey
from recap.model import Group, Order, Part, Position  # noqa: TC001 - the codec reads the annotations
from recap.order.allot import allot, natural, place_name


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


def place_key(set_name: str, position: Position) -> PlaceKey:
    """Return the key of a position: its ref, or value and voltage where the list gives no designators."""
    return PlaceKey(set_name, position.board or "", place_name(position))


def assignments(kept: KeptOrder) -> tuple[Assignment, ...]:
    """Hand out the order's pieces: per group, by set, board and ref, the drawer's pieces first.

    What is left of a line afterwards is its spares. A position without designators may get pieces
    of several parts; it then appears once for each.
    """
    return tuple(
        Assignment(kept.id, place_key(a.set, a.position), a.position, a.group, a.part, a.supplier, a.qty)
        for a in allot(kept.groups, kept.order)
        if a.part is not None and a.supplier is not None
    )


def order_of_work(key: PlaceKey) -> tuple[object, ...]:
    """Return a sort key: by set, then board, then ref, numbers by size."""
    return (natural(key.set), natural(key.board), natural(key.ref))
