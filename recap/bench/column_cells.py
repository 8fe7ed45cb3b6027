"""What the columns of a price list hold, told by their cells where a header says nothing, or something else."""

from __future__ import annotations

import re
from dataclasses import replace
from decimal import Decimal
from typing import TYPE_CHECKING

from recap.bench.discounts import are_percents, holds_prices
from recap.bench.explicit import MOST, explicit_field
from recap.bench.fields import FIELDS, POLARITY
from recap.bench.in_words import IN_WORDS
from recap.bench.price_heads import PriceHead, pieces_of_cell
from recap.bench.taking import take
from recap.diagnostics import Diagnostic, note, warning
from recap.normalise.preferred import is_rated_voltage
from recap.read.headers import key
from recap.read.sheet_headers import COUNTS
from recap.read.vocabulary import PASSED_OVER

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping, Sequence

    from recap.bench.column_heads import Column

_COUNTS = frozenset(map(key, COUNTS))
_PASSED = frozenset(map(key, PASSED_OVER))
_NUMBERS = frozenset(map(key, ("nr", "no")))
"""Headers of running numbers; where letters stand with them they are the numbers that parts are ordered by."""
_MISLEADING = re.compile(
    r"surge|peak|spitze|crest|ripple|leakage|leck|test|insul|isol|storage|lager|\bmin\b|surtension|picco|pico|piek",
    re.IGNORECASE,
)
"""Voltages and temperatures under such headers are not the rated ones."""
RATED_TEMPERATURES = frozenset(map(Decimal, (70, 85, 100, 105, 110, 115, 125, 130, 135, 140, 145, 150)))
"""Upper category temperatures of capacitors, °C (common practice)."""
_SYMBOLS: Mapping[str, tuple[str, Callable[[Decimal], bool]]] = {
    "u": ("volts", lambda number: number > 2 and is_rated_voltage(number)),  # noqa: PLR2004 - below, none is rated
    "t": ("temp", lambda number: number in RATED_TEMPERATURES),
}
"""Symbols of quantities (ISO 80000, IEC 60027) that are words or other things too."""
_NUMBER = re.compile(r"\d{1,4}(?:[.,]\d{1,2})?")
_CURRENT = re.compile(r"\s*[~=⎓≈]\s*$")
FEWEST_CODES = 3
"""So many cells must be codes for a column to be taken for part numbers."""
_CODE = re.compile(r"(?=\S*[A-Za-z])(?=\S*\d)(?!\d+(?:[.,]\d+)?[A-Za-zµΩ°%]{1,3}$)[\w./+-]{2,30}")
_BY_CELLS = frozenset({"part", "value", "volts", "temp", "life", "prices"})
FEWEST_TEXTS = 2
_RATED = re.compile(r"\d\s?(?:[µμunp]F|mfd)\b.*\d\s?V", re.IGNORECASE)


def told_by_cells(
    columns: Sequence[Column], cells: Mapping[int, Sequence[str]]
) -> tuple[list[Column], list[Diagnostic]]:
    """Return the columns with those of unknown headers told by their cells, where just one column holds such cells."""
    columns = [_if_any(_discount(column, cells.get(column.at, ())), cells) for column in columns]
    columns = _numbered_lots(_described_twice(columns, cells), cells)
    stated = {field for column in columns for field in column.fields}
    columns = [_other_of_two(column, cells.get(column.at, ()), stated) for column in columns]
    taken = {field for column in columns for field in column.fields} | {"prices" for one in columns if one.price}
    guesses: dict[str, list[int]] = {}
    for column in columns:
        guess = _guess(column, cells.get(column.at, ()))
        if guess is not None:
            guesses.setdefault(guess, []).append(column.at)
    found, told = _told_by_symbol(columns, cells, taken | set(guesses))
    for guess, at in guesses.items():
        for index in at:
            column = columns[index]
            if guess in {"size", "description"}:
                found[index] = replace(column, role=guess)
            elif guess in _BY_CELLS - taken and len(at) == 1 and column.text:
                found[index] = _guessed(column, guess)
                why = "each of its cells is another code" if guess == "part" else "its cells are that by their units"
                message = f"column {column.text!r} was taken for {guess}: {why}"
                told.append(note("header-by-cells", message, column.source, f"if so, head it {guess}", column.text))
    found, said = _left_over(found)
    return [_as_unit(_only_sizes(column, cells), cells) for column in found], told + said


def _left_over(columns: Sequence[Column]) -> tuple[list[Column], list[Diagnostic]]:
    """Take a bare ``Qty`` for the stock where least and multiple have columns of their own, and no price follows it."""
    stated = {field for column in columns for field in column.fields}
    found = list(columns)
    told: list[Diagnostic] = []
    if "stock" in stated or not stated & {"minimum", "multiple"}:
        return found, told
    bare = [one for one in columns if key(one.text) in _COUNTS and not one.fields and one.price is None]
    if len(bare) == 1:
        (column,) = bare
        found[columns.index(column)] = replace(column, fields=("stock",), role=None)
        message = f"column {column.text!r} was taken for stock: the least and the multiple have columns of their own"
        told.append(warning("header-by-cells", message, column.source, "if so, head it stock", column.text))
    return found, told


def _described_twice(columns: Sequence[Column], cells: Mapping[int, Sequence[str]]) -> list[Column]:
    """Take the second of two columns of part numbers (``Art.-Nr. | Artikel``) for words where its cells describe."""
    numbers = [column.at for column in columns if column.fields == ("part",)]
    telling = {at for at in numbers if describe(cells.get(at, ()))}
    if not 0 < len(telling) < len(numbers):
        return list(columns)
    return [replace(column, fields=(), role="description") if column.at in telling else column for column in columns]


def _numbered_lots(columns: Sequence[Column], cells: Mapping[int, Sequence[str]]) -> list[Column]:
    """Take lots that are counted through, 1, 2, 3, for numbers of offers: no pack holds one more than the row above."""
    named = any(column.fields == ("part",) for column in columns)
    found = []
    for column in columns:
        texts = [text.strip() for text in cells.get(column.at, ()) if text.strip()]
        counted = len(texts) >= FEWEST_CODES and texts == [str(number) for number in range(1, len(texts) + 1)]
        if counted and column.fields == ("multiple",) and key(column.text) not in {"multiple", "multiples"}:
            column = replace(column, fields=() if named else ("part",), role="passed" if named else None)  # noqa: PLW2901
        found.append(column)
    return found


def _told_by_symbol(
    columns: Sequence[Column], cells: Mapping[int, Sequence[str]], taken: set[str]
) -> tuple[list[Column], list[Diagnostic]]:
    """Take a column headed by the symbol of a quantity alone (``U``, ``T``) where all its numbers are such ratings."""
    found = list(columns)
    told: list[Diagnostic] = []
    for index, column in enumerate(columns):
        symbol = _SYMBOLS.get(_CURRENT.sub("", column.text).strip().casefold())
        stated = [text.strip() for text in cells.get(column.at, ()) if text.strip() not in {"", "-"}]
        if symbol is None or symbol[0] in taken or column.fields or column.price or len(stated) < FEWEST_TEXTS:
            continue
        field, is_one = symbol
        if all(_NUMBER.fullmatch(text) and is_one(Decimal(text.replace(",", "."))) for text in stated):
            found[index] = replace(column, fields=(field,), role=None)
            message = f"column {column.text!r} was taken for {field}: its symbol, and all its cells are such ratings"
            told.append(warning("header-by-cells", message, column.source, f"if so, head it {field}", column.text))
    return found, told


def _guess(column: Column, texts: Sequence[str]) -> str | None:
    """Return what the cells of a column tell, whose header says nothing or only that it may be a size."""
    known = column.fields or column.price or column.discount or column.role not in {None, "no kind", "size"}
    if known or _MISLEADING.search(column.text):
        return None
    guess = explicit_field(texts)
    if guess is not None or column.role == "size" or not column.text:
        return guess
    if describe(texts):
        return "description"
    return "part" if key(column.text) not in _PASSED - _NUMBERS and are_codes(texts) else None


def describe(texts: Sequence[str]) -> bool:
    """Tell whether nearly all cells name a kind of capacitor, or a capacitance and a voltage."""
    stated = [text for text in texts if text.strip()]
    telling = sum(_RATED.search(text) is not None or take("kind", text, IN_WORDS).value is not None for text in stated)
    return len(stated) >= FEWEST_TEXTS and telling >= MOST * len(stated)


def are_codes(texts: Sequence[str]) -> bool:
    """Tell whether cells look like part numbers: each another one, of letters and digits, without blanks."""
    stated = [text.strip() for text in texts if text.strip()]
    if len(stated) < FEWEST_CODES or len(set(stated)) < len(stated):
        return False
    return all(_CODE.fullmatch(text) for text in stated)


def _discount(column: Column, texts: Sequence[str]) -> Column:
    """Take what stands below a discount for prices where it is that; for nothing where it is no percentage either."""
    if column.discount is None:
        return column
    if holds_prices(texts, column.discount):
        return replace(column, discount=None, price=PriceHead(column.discount.quantity))
    known = column.discount.percent is not None or are_percents(texts, column.text)
    return column if known else replace(column, discount=None)


def _guessed(column: Column, guess: str) -> Column:
    found = replace(column, role=None)
    return replace(found, price=PriceHead()) if guess == "prices" else replace(found, fields=(guess,))


def _if_any(column: Column, cells: Mapping[int, Sequence[str]]) -> Column:
    """Take ``Art``, ``Type`` or a price for what it says only where any cell is that."""
    stated = {text.strip() for text in cells.get(column.at, ()) if text.strip()}
    old = column.price is not None and not column.price.paid
    if old and stated and not any(re.search(r"\d", text) for text in stated):
        return replace(column, price=None)  # ``Was`` is an old price, or German
    if column.fields not in {("kind",), ("mount",)} or key(column.text) in column.fields or column.unit == POLARITY:
        return column
    (field,) = column.fields
    if len(stated) < FEWEST_CODES or any(FIELDS[field](text, None, None).value is not None for text in stated):
        return column
    return replace(column, fields=(), role="no kind")


def _other_of_two(column: Column, texts: Sequence[str], stated: set[str]) -> Column:
    """Take ``Type`` for ways of mounting where its cells are these alone and no other column states them."""
    of_kind = column.role == "no kind" or (column.fields == ("kind",) and key(column.text) != "kind")
    told = {text.strip() for text in texts if text.strip()}
    if not of_kind or not told or "mount" in stated or column.unit == POLARITY:
        return column
    kinds = [text for text in told if FIELDS["kind"](text, None, None).value is not None]
    mounts = [text for text in told if FIELDS["mount"](text, None, None).value is not None]
    return replace(column, fields=("mount",), role=None) if not kinds and len(mounts) >= MOST * len(told) else column


def _as_unit(column: Column, cells: Mapping[int, Sequence[str]]) -> Column:
    """Take a column of units for one that says of how many pieces prices are, where any cell is more than a piece."""
    if column.role != "unit":
        return column
    several = any(pieces_of_cell(text) != 1 for text in cells.get(column.at, ()) if text.strip())
    return replace(column, role="pieces" if several else "passed")


def _only_sizes(column: Column, cells: Mapping[int, Sequence[str]]) -> Column:
    """Take a case for a size only where its cells are sizes: it may be the packaging."""
    if column.role == "size" and key(column.text) in _PASSED and explicit_field(cells.get(column.at, ())) != "size":
        return replace(column, role=None)
    return column
