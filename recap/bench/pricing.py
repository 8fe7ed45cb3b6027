"""The prices of a whole catalogue: proven for all rows at once, made exact for one row when asked for."""

from __future__ import annotations

import re
from dataclasses import dataclass, field, replace
from decimal import Decimal
from typing import TYPE_CHECKING

import numpy as np
import pyarrow as pa
import pyarrow.compute as pc

from recap.bench.arrow import to_arrow, to_numpy
from recap.bench.findings import tell_rows
from recap.bench.ladders import LadderError, dearer_break, price_breaks, read_ladder, simple_breaks
from recap.bench.numerals import ENOUGH, decimal_mark
from recap.bench.pricecheck import check_prices
from recap.bench.texts import blanks, bytes_of
from recap.diagnostics import Diagnostic, Severity
from recap.model import PriceBreak
from recap.read.sheet_words import FROM_PRICE, NO_PRICE

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    from numpy.typing import NDArray

    from recap.bench.texts import TextColumn, TextTable

_NINE = (0x30, 0x39)
"""The digits, in ASCII."""
_Fault = tuple[Severity, str, str, str | None, str | None]


@dataclass(frozen=True, slots=True)
class Prices:
    """One price in each distinct text of a column: ``odd`` ones were read, plain ones are made when asked for.

    ``numbers`` are all of them for comparing, NaN where there is none.
    """

    texts: pa.Array
    odd: Mapping[int, Decimal | None]
    numbers: NDArray[np.float64]

    def __getitem__(self, code: int) -> Decimal | None:
        """Return the price in the text with this code."""
        return self.odd[code] if code in self.odd else Decimal(str(self.texts[code].as_py()).replace(",", "."))


@dataclass(frozen=True, slots=True)
class Priced:
    """All price ladders of a catalogue.

    ``least`` is the first quantity of each row, 0 where there is no price. ``currencies`` are the
    marks seen beside prices. ``column`` holds ladders as text, ``wide`` one price column per quantity.
    """

    least: NDArray[np.int64]
    mark: str | None = None
    column: TextColumn | None = None
    wide: tuple[tuple[int, TextColumn, Prices], ...] = ()
    currencies: frozenset[str] = frozenset()

    def breaks(self, row: int, minimum: int = 1) -> tuple[PriceBreak, ...]:
        """Return the exact ladder of ``row``; a lone price holds from ``minimum`` on. Empty where there is none."""
        if self.column is not None:
            text = self.column.text(row)
            simple = simple_breaks(text, self.mark)
            if simple is not None:
                return simple
            return price_breaks(read_ladder(text, self.mark), minimum) if text.strip() else ()
        steps = ((quantity, prices[_code(column, row)]) for quantity, column, prices in self.wide)
        return tuple(PriceBreak(quantity, price) for quantity, price in steps if price is not None)


def _code(column: TextColumn, row: int) -> int:
    return row if column.codes is None else int(column.codes[row])


@dataclass(slots=True)
class _Told:
    """What is wrong with distinct texts, by their index."""

    faults: dict[int, _Fault] = field(default_factory=dict)
    currencies: set[str] = field(default_factory=set)


def read_prices(table: TextTable) -> tuple[Priced, list[Diagnostic]]:
    """Return the prices of ``table`` and every row whose prices are wrong, odd or missing."""
    if "prices" in table.columns:
        return _from_ladders(table, table.columns["prices"])
    return _from_columns(table)


def proven_prices(table: TextTable, least: NDArray[np.int64], mark: str | None, currencies: frozenset[str]) -> Priced:
    """Return the prices of a table that :func:`read_prices` has found in order before."""
    if "prices" not in table.columns:
        return replace(read_prices(table)[0], least=least)
    return Priced(least, mark, table.columns["prices"], (), currencies)


def _from_ladders(table: TextTable, column: TextColumn) -> tuple[Priced, list[Diagnostic]]:
    texts = column.texts
    mark = decimal_mark(texts[:ENOUGH].to_pylist())
    check = check_prices(texts, mark)
    least = check.least.copy()
    told = _Told()
    for index in np.flatnonzero(~check.plain):
        least[index] = _odd_ladder(str(texts[int(index)].as_py()), mark, int(index), told)
    for index in np.flatnonzero(check.dearer):
        breaks = price_breaks(read_ladder(str(texts[int(index)].as_py()), mark))
        _note_rise(breaks, int(index), told)
    for index in np.flatnonzero(check.free):
        text = str(texts[int(index)].as_py())
        if any(step.unit_price == 0 for step in price_breaks(read_ladder(text, mark))):
            told.faults.setdefault(int(index), _free(text))
    found = _tell(table, column, told.faults)
    return Priced(column.by_row(least), mark, column, (), frozenset(told.currencies)), found


def _odd_ladder(text: str, mark: str | None, index: int, told: _Told) -> int:
    """Read a text that the quick check could not prove; returns its first quantity, 0 where there is none."""
    if not text.strip():
        return 0
    try:
        ladder = read_ladder(text, mark)
        breaks = price_breaks(ladder)
    except LadderError as fault:
        told.faults[index] = (Severity.ERROR, fault.code, fault.message, fault.hint, text.strip()[:80])
        return 1
    told.currencies |= ladder.currencies
    _note_rise(breaks, index, told)
    if ladder.doubt is not None:
        told.faults[index] = _doubted(ladder.doubt, text)
    if any(step.unit_price == 0 for step in breaks):
        told.faults.setdefault(index, _free(text))
    return breaks[0].quantity


def _note_rise(breaks: tuple[PriceBreak, ...], index: int, told: _Told) -> None:
    rise = dearer_break(breaks)
    if rise is not None:
        low, high = rise
        message = f"{high.quantity} pieces cost {high.unit_price} each, {low.quantity} only {low.unit_price}"
        hint = "an odd price, or that of all pieces together: check it with the supplier"
        told.faults[index] = (Severity.WARNING, "price-rises", message, hint, None)


def _free(text: str) -> _Fault:
    message = "a price of 0: nothing is free; it may stand for a price on request"
    return (Severity.WARNING, "price-zero", message, "type the price, or delete the row", text.strip()[:80])


def _doubted(doubt: str, text: str) -> _Fault:
    return (Severity.WARNING, "price-doubted", doubt, "write the price of one piece alone: 0.42", text.strip()[:80])


def is_no_price(text: str) -> bool:
    """Tell whether ``text`` stands in the place of a price that isn't said: on request, ``-``, ``from 0.22``."""
    return NO_PRICE.fullmatch(text) is not None or FROM_PRICE.fullmatch(text) is not None


def without_price(texts: pa.Array) -> NDArray[np.bool_]:
    """Tell which texts hold no price: blank ones, and words in the place of one. What begins with a digit is one."""
    none = blanks(texts)
    line, starts = bytes_of(texts)
    if not len(line):
        return none
    first = line[np.minimum(starts[:-1], len(line) - 1)]
    for index in np.flatnonzero(~none & ((first < _NINE[0]) | (first > _NINE[1]))).tolist():
        none[index] = is_no_price(str(texts[index].as_py()).strip())
    return none


def _tell(table: TextTable, column: TextColumn, faults: dict[int, _Fault]) -> list[Diagnostic]:
    if not faults:
        return []
    found: list[Diagnostic] = []
    for code in dict.fromkeys(fault[1] for fault in faults.values()):
        alike = {index: fault for index, fault in faults.items() if fault[1] == code}
        rows = _rows_with(column, alike)
        found += tell_rows(table, rows, column.header, _sayer(column, alike))
    return found


def _sayer(column: TextColumn, faults: dict[int, _Fault]) -> Callable[[int], _Fault]:
    return lambda row: faults[_code(column, row)]


def _rows_with(column: TextColumn, faults: dict[int, _Fault]) -> NDArray[np.int64]:
    if column.codes is None:
        return np.array(sorted(faults), np.int64)
    bad = np.zeros(len(column.texts), bool)
    bad[list(faults)] = True
    return np.flatnonzero(bad[column.codes])


def _from_columns(table: TextTable) -> tuple[Priced, list[Diagnostic]]:
    sample = [text for _, column in table.breaks for text in column.texts[:ENOUGH].to_pylist()]
    mark = decimal_mark(sample)
    wide: list[tuple[int, TextColumn, Prices]] = []
    found: list[Diagnostic] = []
    currencies: set[str] = set()
    for quantity, column in table.breaks:
        told = _Told()
        wide.append((quantity, column, _single(column.texts, mark, told)))
        found += _tell(table, column, told.faults)
        currencies |= told.currencies
    least, rising = _walk(wide, len(table))
    priced = Priced(least, mark, None, tuple(wide), frozenset(currencies))
    if len(rising):
        header = table.breaks[-1][1].header
        found += tell_rows(table, rising, header, lambda row: _rise_in(priced, row))
    return priced, found


def _single(texts: pa.Array, mark: str | None, told: _Told) -> Prices:
    """Return the one price in each text; only those that aren't plain, or are 0, are looked at singly."""
    point = mark or "."
    shaped = pc.match_substring_regex(texts, rf"^[0-9]{{1,9}}(?:{re.escape(point)}[0-9]{{1,9}})?$")
    plain = np.flatnonzero(to_numpy(shaped))
    numbers = np.full(len(texts), np.nan)
    numbers[plain] = to_numpy(pc.replace_substring(texts.take(to_arrow(plain)), point, ".").cast(pa.float64()))
    odd: dict[int, Decimal | None] = {}
    for index in np.flatnonzero(np.isnan(numbers) | (numbers == 0)).tolist():
        price = odd[index] = _lone(str(texts[index].as_py()), mark, index, told)
        numbers[index] = np.nan if price is None else float(price)
    return Prices(texts, odd, numbers)


def _lone(text: str, mark: str | None, index: int, told: _Told) -> Decimal | None:
    """Return the one price in a cell under a quantity."""
    text = text.strip()
    if not text or is_no_price(text):
        if any(map(str.isalpha, text)):
            message = f"no price here ({text[:40]!r}); the one for fewer pieces, if there is one, goes on"
            hint = "delete the offer's row, or type the price, if that is wrong"
            told.faults[index] = (Severity.NOTE, "price-step-missing", message, hint, text[:80])
        return None
    try:
        ladder = read_ladder(text, mark)
    except LadderError as fault:
        told.faults[index] = (Severity.ERROR, fault.code, fault.message, fault.hint, text[:80])
        return None
    if not ladder.lone:
        message = f"{text[:40]!r} is not one price"
        told.faults[index] = (Severity.ERROR, "price-unreadable", message, "write one price in each cell", text[:80])
        return None
    told.currencies |= ladder.currencies
    price = ladder.steps[0][1]
    if ladder.doubt is not None:
        told.faults[index] = _doubted(ladder.doubt, text)
    if price == 0:
        told.faults[index] = _free(text)
    return price


def _walk(
    wide: list[tuple[int, TextColumn, Prices]], count: int
) -> tuple[NDArray[np.int64], NDArray[np.int64]]:
    """Return the first quantity with a price of each row, and the rows where a price may rise."""
    least = np.zeros(count, np.int64)
    before = np.full(count, np.inf)
    rising = np.zeros(count, bool)
    for quantity, column, prices in wide:
        here = column.by_row(prices.numbers)
        given = ~np.isnan(here)
        least[given & (least == 0)] = quantity
        rising |= given & (here > before)
        before = np.where(given, here, before)
    return least, np.flatnonzero(rising)


def rows_with_money(table: TextTable, priced: Priced, signs: set[str]) -> list[int]:
    """Return the file's numbers of the rows whose prices bear one of ``signs``; slow, for telling what is wrong."""
    found: set[int] = set()
    columns = [priced.column] if priced.column is not None else [column for _, column, _ in priced.wide]
    for column in columns:
        texts = enumerate(column.texts.to_pylist())
        bearing = {index for index, text in texts if _signs_in(str(text), priced.mark) & signs}
        found |= {int(table.rows[row]) for row in range(len(table)) if _code(column, row) in bearing}
    return sorted(found)


def _signs_in(text: str, mark: str | None) -> frozenset[str]:
    try:
        return read_ladder(text, mark).currencies
    except LadderError:
        return frozenset()


def _rise_in(priced: Priced, row: int) -> _Fault:
    told = _Told()
    _note_rise(priced.breaks(row), 0, told)
    return told.faults.get(0, (Severity.WARNING, "price-rises", "prices rise with quantity", None, None))
