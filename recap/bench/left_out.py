"""Rows of a price list whose price, pack or stock can't be read: left out and named, where they are few.

An offer that is missing can only make an order dearer, never wrong. Where more than a few can't be read it is the list
that isn't understood, and nothing of it is to be trusted.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from recap.bench.ladders import LadderError, price_breaks, read_ladder
from recap.bench.pricecheck import check_prices
from recap.bench.pricing import is_no_price
from recap.bench.taking import take
from recap.diagnostics import Diagnostic, Severity, warning

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from recap.bench.offers import Catalogue
    from recap.bench.pricing import Prices
    from recap.bench.texts import TextColumn, TextTable
    from recap.diagnostics import Source

ONE_IN = 4
"""If more than one row in so many can't be read, the list is refused."""
_OF_A_ROW = frozenset({"price-unreadable", "price-negative", "price-order", "cell-is-date", "count-wrong"})
_COUNTS = ("minimum", "multiple", "stock")


def readable(
    table: TextTable, catalogue: Catalogue, told: Sequence[Diagnostic]
) -> tuple[TextTable, list[Diagnostic]] | None:
    """Return the table without the rows that can't be read, and what is told of them; None where it stays as it is.

    ``told`` is what was wrong when ``catalogue`` was made of ``table``.
    """
    faults = [one for one in told if one.severity is Severity.ERROR and one.code in _OF_A_ROW]
    if not faults:
        return None
    bad = _unreadable(table, catalogue)
    if not bad.any() or ONE_IN * int(bad.sum()) > len(table):
        return None
    said = [replace(one, severity=Severity.WARNING, message=f"{one.message}; the row was left out") for one in faults]
    if bad.sum() > 1:  # one row speaks for itself
        said.insert(0, _counted(int(bad.sum()), len(table), table.place(0)))
    return table.only(~bad), said


def _counted(left: int, rows: int, first: Source) -> Diagnostic:
    message = f"{left} of {rows} rows can't be read and were left out: an order may come out dearer than it need"
    place = replace(first, row=None, column=None)
    return warning("rows-left-out", message, place, "correct what is told of them, or take the list as it came")


def _unreadable(table: TextTable, catalogue: Catalogue) -> NDArray[np.bool_]:
    bad = np.zeros(len(table), bool)
    priced = catalogue.priced
    if priced.column is not None:
        bad |= priced.column.by_row(_no_ladders(priced.column, priced.mark))
    for _, column, prices in priced.wide:
        bad |= column.by_row(_no_prices(column, prices))
    for name in _COUNTS:
        if name in catalogue.fields:
            column, mark = table.columns[name], catalogue.marks[name]
            texts = column.texts.to_pylist()
            wrong = [take(name, text, column.unit, mark).severity is Severity.ERROR for text in texts]
            bad |= column.by_row(np.array(wrong, bool))
    return bad


def _no_ladders(column: TextColumn, mark: str | None) -> NDArray[np.bool_]:
    wrong = np.zeros(len(column.texts), bool)
    for index in np.flatnonzero(~check_prices(column.texts, mark).plain).tolist():
        text = str(column.texts[index].as_py())
        try:
            wrong[index] = bool(text.strip()) and not price_breaks(read_ladder(text, mark))
        except LadderError:
            wrong[index] = True
    return wrong


def _no_prices(column: TextColumn, prices: Prices) -> NDArray[np.bool_]:
    wrong = np.zeros(len(column.texts), bool)
    for index in np.flatnonzero(np.isnan(prices.numbers)).tolist():
        text = str(column.texts[index].as_py()).strip()
        wrong[index] = bool(text) and not is_no_price(text)
    return wrong
