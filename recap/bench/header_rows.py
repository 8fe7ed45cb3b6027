"""The rows of a price list's header put together: a header may stand over several columns, and over several rows.

``Price EUR`` over ``1+ | 10+``, ``Size`` over ``D | L``, units in a row of their own, quantities in a row above:
of each column the texts from top to bottom. What stands above it all are titles.
"""

from __future__ import annotations

import itertools
import re
from dataclasses import dataclass
from typing import TYPE_CHECKING

from recap.bench.explicit import explicit_field
from recap.bench.price_heads import price_head
from recap.read.headers import HEADER_ROWS, goes_with, key, meaning, price_quantity, words_of
from recap.read.sheet_headers import BREAK_QUANTITIES, DESCRIPTIONS, PRICE_SHEET, SIZES
from recap.read.sheet_words import CURRENCIES
from recap.read.vocabulary import DESCRIPTION, SIZE

if TYPE_CHECKING:
    from collections.abc import Sequence

    from recap.read.cells import Row, Table

LOOKED_AT = 250
"""So many columns are enough to know a header by."""
MOST_ROWS = 4
"""A header has no more rows than these."""
SIZE_KEYS = frozenset(map(key, (*SIZE, *SIZES)))
DESCRIPTION_KEYS = frozenset(map(key, (*DESCRIPTION, *DESCRIPTIONS)))
BREAK_KEYS = frozenset(map(key, BREAK_QUANTITIES))
SHORTEST = 4
"""Of a word that is broken off so many letters must be left."""
_TOO_SHORT = frozenset(map(key, ("name", "text", "title", "product", "produkt", "spec", "opis", "details")))
"""Words of a description that begin other headers too."""
_OFFERED = frozenset({"value", "size"})
"""What stands in offers only."""
_SIDES = frozenset("d l h ø w b t lg len dia".split())


@dataclass(frozen=True, slots=True)
class HeaderRows:
    """A header: rows ``first`` to ``last`` of its table, and for each column its texts from top to bottom."""

    first: int
    last: int
    columns: tuple[tuple[str, ...], ...]

    @property
    def several(self) -> bool:
        """Tell whether it has more than one row."""
        return self.last > self.first


def header_rows(table: Table) -> HeaderRows | None:
    """Return the header of ``table``, None where no row is one."""
    at = _main_row(table)
    if at is None:
        return None
    first, last = at, at
    while first and at - first < MOST_ROWS and _belongs_above(table.rows[first - 1], table.rows[at]):
        first -= 1
    while last + 1 < len(table.rows) and last - first + 1 < MOST_ROWS:
        above = _columns(table.rows[first : last + 1])
        if not _belongs_below(table.rows[last + 1], above):
            break
        last += 1
    return HeaderRows(first, last, _columns(table.rows[first : last + 1]))


def _texts(row: Row) -> list[str]:
    return [cell.text for cell in row.cells]


def _main_row(table: Table) -> int | None:
    """Return the first row in which two cells head different things; one alone only where no row has more cells."""
    looked_at = 0
    widest = max((len(row.cells) for row in table.rows[: 4 * HEADER_ROWS]), default=0)
    for index, row in enumerate(table.rows):
        texts = list(dict.fromkeys(text for text in _texts(row)[:LOOKED_AT] if text))
        if not texts:
            continue
        looked_at += 1
        if looked_at > HEADER_ROWS:
            return None
        if explicit_field(texts) is not None or any(explicit_field([text]) in _OFFERED for text in texts):
            continue  # an offer, or a row of voltages
        meant = {_heads(text) for text in texts} - {None}
        known = len(meant)
        if meant - {"prices"} or any(price_quantity(text) is None and price_head(text) for text in texts):
            known += sum(1 for text in texts if price_quantity(text) is not None)
        if known >= min(2, widest):
            return index
    return None


def _heads(text: str) -> str | None:
    """Return what the text of one cell heads, as far as that alone tells it."""
    field = meaning(text, PRICE_SHEET)[0]
    if field is not None or (field := shortened(text)) is not None:
        return field
    if price_quantity(text) is None and price_head(text) is not None:
        return "prices"
    return "description" if is_description(text) and price_quantity(text) is None else None


def shortened(text: str) -> str | None:
    """Return the field of a word that is broken off (``Grenztemp.``), where only one begins so."""
    start = key(text)
    if not text.rstrip().endswith(".") or len(start) < SHORTEST:
        return None
    found = {field for spelling, field in words_of(PRICE_SHEET).items() if spelling.startswith(start)}
    return found.pop() if len(found) == 1 else None


def is_description(text: str) -> bool:
    """Tell whether a header is that of a description: ``Descrizione``, ``Descrizione articolo``."""
    plain = key(re.sub(r"[()\[\]]", " ", text))
    return plain in DESCRIPTION_KEYS or plain.partition(" ")[0] in DESCRIPTION_KEYS - _TOO_SHORT


def _belongs_above(above: Row, main: Row) -> bool:
    """Tell whether the row over the main one goes with it: quantities over prices, or a word over several columns."""
    upper, lower = _texts(above), _texts(main)
    filled = [index for index, text in enumerate(upper) if text]
    alone = len({upper[index] for index in filled}) == 1
    if not filled or (alone and (0 in filled or not _spans(upper[filled[0]]))):
        return False  # nothing, or a title
    known = [_fits_above(upper, lower, index) for index in filled]
    fills = [not (index < len(lower) and lower[index]) or _spans_blank(upper, lower, index) for index in filled]
    return any(known) and all(one or other for one, other in zip(known, fills, strict=True))


def _fits_above(upper: Sequence[str], lower: Sequence[str], index: int) -> bool:
    text, under = upper[index], lower[index] if index < len(lower) else ""
    over_price = price_quantity(text) is not None and price_head(under) is not None
    over_span = bool(under) and (_spans(text) or text == under)
    before_numbers = key(text) in BREAK_KEYS and not any(upper[:index])
    return over_price or over_span or before_numbers or _heads(text) is not None


def _spans_blank(upper: Sequence[str], lower: Sequence[str], index: int) -> bool:
    """Tell whether a cell stands over several columns, the others of it blank, each with a header of its own below."""
    if not len(lower) > index + 1 < len(upper):
        return False
    return upper[index + 1] in {"", upper[index]} and bool(lower[index] and lower[index + 1])


def _spans(text: str) -> bool:
    return price_head(text) is not None or key(text) in SIZE_KEYS or key(text) in BREAK_KEYS


def _belongs_below(row: Row, above: Sequence[tuple[str, ...]]) -> bool:
    """Tell whether a row goes on with the header above it: units, sides, quantities, money, and nothing else."""
    filled = [(index, text) for index, text in enumerate(_texts(row)) if text]
    fresh = [(i, text) for i, text in filled if not (i < len(above) and text in above[i])]
    if not fresh or not all(index < len(above) and _goes_on(text, above[index]) for index, text in fresh):
        return False
    numbers = [int(text) for _, text in fresh if text.isdecimal() and text.isascii()]
    # bare numbers alone could be the prices of a row without a part number
    return len(numbers) < len(fresh) or (len(numbers) > 1 and numbers == sorted(set(numbers)))


def _goes_on(text: str, above: tuple[str, ...]) -> bool:
    field = next((found for part in above if (found := meaning(part, PRICE_SHEET)[0])), None)
    bare = text.strip("()[] ")
    if any(_is_price(part) for part in above):
        return price_quantity(text) is not None or bare.casefold() in CURRENCIES or price_head(text) is not None
    if field is not None and goes_with(bare, field):
        return True
    if any(key(part) in SIZE_KEYS for part in above):
        return (
            key(text) in _SIDES or goes_with(bare, "height") or meaning(text, PRICE_SHEET)[0] in {"diameter", "height"}
        )
    return field is None and (_heads(text) is not None or key(text) in SIZE_KEYS or price_quantity(text) is not None)


def _is_price(text: str) -> bool:
    return price_head(text) is not None and (price_quantity(text) is None or not text.isdigit())


def _columns(rows: Sequence[Row]) -> tuple[tuple[str, ...], ...]:
    """Return the texts of each column; one that stands over several columns goes with each of them."""
    width = max(len(row.cells) for row in rows)
    grid = [_texts(row) + [""] * (width - len(row.cells)) for row in rows]
    for above, below in itertools.pairwise(grid):
        for index in range(1, width):
            if not above[index] and below[index] and _spans(above[index - 1]) and _continues(below, index):
                above[index] = above[index - 1]
    return tuple(tuple(dict.fromkeys(text for text in column if text)) for column in zip(*grid, strict=True))


def _continues(below: Sequence[str], index: int) -> bool:
    """Tell whether the cell below goes on with its neighbour: of one sort, and not a header of its own."""
    mine, left = below[index], below[index - 1]
    if price_quantity(mine) is not None or mine.casefold() in CURRENCIES:
        return True
    return bool(left) and key(mine) in _SIDES
