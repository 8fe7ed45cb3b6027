"""A supplier's new price list against the old one: what changed, and both as one list.

The new list counts for every part it names, field by field: what it doesn't state stays as it was.
Parts it doesn't name stay too, unless they are to be dropped.
"""

from __future__ import annotations

from dataclasses import dataclass, fields, replace
from enum import StrEnum
from typing import TYPE_CHECKING

from recap.model import Kind

if TYPE_CHECKING:
    from collections.abc import Sequence
    from datetime import date
    from decimal import Decimal

    from recap.bench.offers import Catalogue
    from recap.model import Part, PriceBreak


class What(StrEnum):
    """What became of one part; the first that holds."""

    ADDED = "added"
    GONE = "gone"
    DEARER = "dearer"
    CHEAPER = "cheaper"
    BOTH = "dearer and cheaper"
    STOCK = "stock"
    OTHER = "otherwise changed"


@dataclass(frozen=True, slots=True)
class Change:
    """One part that differs: as it was and as it is (None: not there)."""

    what: What
    old: Part | None
    new: Part | None

    @property
    def number(self) -> str:
        """The part number."""
        part = self.new or self.old
        assert part is not None
        return part.number


@dataclass(frozen=True, slots=True)
class Merge:
    """All changes, in the order of the lists, and the parts of the merged list.

    ``differs`` tells whether it holds anything else than the old list did, a newer date included.
    """

    changes: tuple[Change, ...]
    parts: tuple[Part, ...]
    unchanged: int
    differs: bool


_KEPT = frozenset({"supplier", "number", "source", "prices", "minimum", "multiple"})


def merge(old: Catalogue, new: Catalogue, today: date, *, drop_gone: bool = False) -> Merge:
    """Return ``new`` laid over ``old``; rows of ``new`` without a date get ``today``'s."""
    before = {part.number: part for part in _parts(old)}
    after = {part.number: part for part in _parts(new)}
    changes: list[Change] = []
    parts: list[Part] = []
    unchanged = 0
    for number, was in before.items():
        now = after.get(number)
        if now is None:
            changes.append(Change(What.GONE, was, None))
            if not drop_gone:
                parts.append(was)
            continue
        both = replace(_laid_over(was, now, new), updated=now.updated or today)
        parts.append(both)
        what = _difference(was, both)
        if what is None:
            unchanged += 1
        else:
            changes.append(Change(what, was, both))
    for number, now in after.items():
        if number not in before:
            added = replace(now, updated=now.updated or today)
            parts.append(added)
            changes.append(Change(What.ADDED, None, added))
    bare = [replace(part, source=None) for part in parts]
    differs = bare != [replace(part, source=None) for part in before.values()]
    return Merge(tuple(changes), tuple(parts), unchanged, differs)


def _parts(catalogue: Catalogue) -> list[Part]:
    return [catalogue.part(row) for row in range(len(catalogue))]


def _laid_over(was: Part, now: Part, new: Catalogue) -> Part:
    """Return ``now`` with the fields that it leaves open taken from ``was``; the prices are the new ones."""
    columns = set(new.fields)
    filled = {
        field.name: getattr(was, field.name)
        for field in fields(now)
        if field.name not in _KEPT and getattr(now, field.name) in {None, Kind.UNKNOWN}
    }
    if "stock" in columns:
        filled.pop("stock", None)  # a blank stock says that there is no limit any more
    if "multiple" not in columns:
        filled["multiple"] = was.multiple
    return replace(now, **filled)


def _difference(was: Part, now: Part) -> What | None:
    dearer = cheaper = False
    for quantity in {step.quantity for step in (*was.prices, *now.prices)}:
        old, new = _price_at(was.prices, quantity), _price_at(now.prices, quantity)
        if old is not None and new is not None:
            dearer |= new > old
            cheaper |= new < old
    if dearer or cheaper:
        return What.BOTH if dearer and cheaper else What.DEARER if dearer else What.CHEAPER
    if was.stock != now.stock:
        return What.STOCK
    same = replace(now, source=was.source, updated=was.updated)
    return None if same == was else What.OTHER


def _price_at(prices: Sequence[PriceBreak], quantity: int) -> Decimal | None:
    reached = [step.unit_price for step in prices if step.quantity <= quantity]
    return reached[-1] if reached else None


def price_change(change: Change) -> tuple[Decimal, Decimal, int] | None:
    """Return the old and new price a piece where they differ first, and the quantity; None where they don't."""
    if change.old is None or change.new is None:
        return None
    for quantity in sorted({step.quantity for step in (*change.old.prices, *change.new.prices)}):
        old, new = _price_at(change.old.prices, quantity), _price_at(change.new.prices, quantity)
        if old is not None and new is not None and old != new:
            return old, new, quantity
    return None
