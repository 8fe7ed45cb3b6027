"""What the columns of a price list are: whose field each is, which hold prices and how, which say things in words."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Mapping

    from recap.bench.discounts import Discount


@dataclass(frozen=True, slots=True)
class PriceColumns:
    """Where the prices stand.

    ``breaks`` pairs a quantity with its column. ``pairs`` are columns of quantities, each with that of its prices.
    ``lone`` is one column of whole ladders or of one price each; beside pairs it has the price of one piece. ``per``:
    of how many pieces the prices of a column are, where it isn't one; ``per_at``: the column that says it row by row;
    ``packed``: the prices are those of packs, and it says how large; ``money_at``: that of currencies. ``discounts``:
    columns by which prices from a quantity on are worked out of those of one piece.
    """

    breaks: tuple[tuple[int, int], ...] = ()
    pairs: tuple[tuple[int, int], ...] = ()
    lone: int | None = None
    per: Mapping[int, int] = field(default_factory=dict)
    per_at: int | None = None
    packed: bool = False
    money_at: int | None = None
    discounts: tuple[tuple[Discount, int], ...] = ()

    @property
    def all(self) -> tuple[int, ...]:
        """All columns that hold prices."""
        lone = () if self.lone is None else (self.lone,)
        return (*(at for _, at in self.breaks), *(at for _, at in self.pairs), *lone)


@dataclass(frozen=True, slots=True)
class Layout:
    """A price list's header, understood.

    ``last`` is its last row in the table, ``rows`` its rows as they stand (to know them again further down), ``texts``
    the header of each column. ``columns`` maps a field to its column, ``units`` a field to the unit in its header.
    ``words`` maps a field without a column to those that may state it in words. ``made``: the columns that a part
    number is made of where none is given. ``stated``: what titles say of all rows. ``unknown`` are the columns not
    understood, ``described`` those that say in words what a part is, ``noted`` those of remarks, ``status`` the one
    that says whether it is still sold (``by_yes``: where it isn't, it says yes).
    """

    last: int
    rows: tuple[tuple[str, ...], ...]
    texts: tuple[str, ...]
    columns: Mapping[str, int]
    units: Mapping[str, str]
    words: Mapping[str, tuple[int, ...]]
    prices: PriceColumns
    made: tuple[int, ...] = ()
    stated: Mapping[str, str] = field(default_factory=dict)
    unknown: tuple[int, ...] = ()
    described: tuple[int, ...] = ()
    noted: tuple[int, ...] = ()
    status: int | None = None
    by_yes: bool = False

    @property
    def used(self) -> tuple[int, ...]:
        """All columns that are read."""
        found = [*self.columns.values(), *self.prices.all, *self.made]
        found += [at for columns in self.words.values() for at in columns]
        found += [*self.described, *self.noted]
        found += [*(at for at, _ in self.prices.pairs), *(at for _, at in self.prices.discounts)]
        found += [at for at in (self.prices.per_at, self.prices.money_at, self.status) if at is not None]
        return tuple(dict.fromkeys(found))
