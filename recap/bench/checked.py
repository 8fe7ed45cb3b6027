"""A price list read and checked, all that is wrong with it told."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
import pyarrow.compute as pc

from recap.bench.arrow import to_numpy
from recap.bench.cells import cells_of
from recap.bench.columns import read_columns
from recap.bench.findings import tell_rows
from recap.bench.inches import without_inches
from recap.bench.left_out import readable
from recap.bench.meanings import decimal_marks, read_fields
from recap.bench.offers import Catalogue
from recap.bench.pricecheck import repeated
from recap.bench.pricing import read_prices, without_price
from recap.bench.spoilt import spoilt_numbers
from recap.diagnostics import Diagnostic, Severity, Source, error, has_errors

if TYPE_CHECKING:
    from collections.abc import Mapping
    from pathlib import Path

    import pyarrow as pa

    from recap.bench.meanings import Field
    from recap.bench.pricing import Priced
    from recap.bench.texts import TextTable

_NUMBERS_MADE = frozenset({"part-made", "grid-read"})


def read_price_list(
    path: Path, supplier: str, currency: str | None, *, strict: bool
) -> tuple[Catalogue | None, bytes | None, list[Diagnostic]]:
    """Return the catalogue, the content it was read from (but of no workbook), and what is told.

    None and errors where it is of no use. The arguments are those of :func:`recap.bench.catalogues.read_catalogue`.
    """
    table, content, told = read_columns(path, currency)
    if table is None:
        return None, None, told
    if not len(table):
        empty = error("file-empty", f"{path.name} has headers but no rows", Source(str(path)), "fill or delete it")
        return None, None, [*told, empty]
    table, said = _with_prices(_named_by_supplier(table, path, supplier, told))
    told += said
    catalogue, said = _checked(table, supplier)
    rest = None if strict else readable(table, catalogue, said)
    if rest is not None:
        table, left = rest
        told += left
        catalogue, said = _checked(table, supplier)
    told += said
    return (None if has_errors(told) else catalogue), content, told


def _named_by_supplier(table: TextTable, path: Path, supplier: str, told: list[Diagnostic]) -> TextTable:
    """Return the table with the part numbers that were made behind the supplier's name, whatever its file is called.

    Otherwise a new list would know none of the old one's parts again.
    """
    made, wanted = (f"{'-'.join(name.split())}:" for name in (path.stem, supplier))
    if made.casefold() == wanted.casefold() or not any(one.code in _NUMBERS_MADE for one in told):
        return table
    part = table.columns["part"].each(lambda text: wanted + text[len(made) :] if text.startswith(made) else text)
    return replace(table, columns={**table.columns, "part": part})


def _checked(table: TextTable, supplier: str) -> tuple[Catalogue, list[Diagnostic]]:
    """Return the columns of ``table`` understood as parts and prices, and all that is wrong with them."""
    marks = decimal_marks(table)
    fields, told = read_fields(table, marks)
    fields, of_sizes = without_inches(table, fields)
    told += of_sizes
    priced, said = read_prices(table)
    catalogue = Catalogue(supplier, table, fields, priced, marks, cells_of(fields, len(table)))
    told += said + check_numbers(table, catalogue.numbers) + spoilt_numbers(table, catalogue.numbers)
    told += _minimum_below(table, fields, priced)
    return catalogue, told


def _with_prices(table: TextTable) -> tuple[TextTable, list[Diagnostic]]:
    """Leave out the rows that have no price at all."""
    columns = [table.columns["prices"]] if "prices" in table.columns else [column for _, column in table.breaks]
    without = np.ones(len(table), bool)
    for column in columns:
        without &= column.by_row(without_price(column.texts))
    if not without.any():
        return table, []

    def say(row: int) -> tuple[Severity, str, str, str | None, str | None]:
        stands = next((text for column in columns if (text := column.text(row).strip())), None)
        message = f"no price{f' ({stands[:40]!r})' if stands else ''}: the row can't be bought and was left out"
        return Severity.WARNING, "price-missing", message, "type the price, or delete the row", stands

    told = tell_rows(table, np.flatnonzero(without), columns[0].header, say)
    return table.only(~without), told


def check_numbers(table: TextTable, numbers: pa.Array) -> list[Diagnostic]:
    """Tell of rows without a part number and of numbers that stand in two rows."""
    header = table.columns["part"].header
    blank = np.flatnonzero(to_numpy(pc.binary_length(numbers)) == 0)
    missing = (Severity.ERROR, "part-missing", "the row has no part number", "type it, or delete the row", None)
    told = tell_rows(table, blank, header, lambda _: missing) if len(blank) else []
    first: dict[str, int] = {}
    again: list[tuple[int, int]] = []
    for row in repeated(numbers):
        number = str(numbers[int(row)].as_py())
        if number and first.setdefault(number, int(row)) != int(row):
            again.append((int(row), first[number]))
    earlier = dict(again)

    def say(row: int) -> tuple[Severity, str, str, str | None, str | None]:
        number = str(numbers[row].as_py())
        message = f"part number {number!r} stands in row {int(table.rows[earlier[row]])} too"
        return Severity.ERROR, "part-twice", message, "delete one of the rows, or correct the number", number

    return told + (tell_rows(table, [row for row, _ in again], header, say) if again else [])


def _minimum_below(table: TextTable, fields: Mapping[str, Field], priced: Priced) -> list[Diagnostic]:
    """Tell of a stated minimum below the first quantity that has a price: the first price decides."""
    column = fields.get("minimum")
    if column is None:
        return []
    stated = np.array([value or 0 for value in column.meanings], np.int64)[column.codes]
    lone = priced.least == 0
    rows = np.flatnonzero((stated > 0) & (stated < priced.least) & ~lone)

    def say(row: int) -> tuple[Severity, str, str, str | None, str | None]:
        message = f"minimum {stated[row]}, but the first price is for {priced.least[row]}; the price decides"
        return Severity.WARNING, "minimum-below-prices", message, "correct one of the two", str(stated[row])

    return tell_rows(table, rows, table.columns["minimum"].header, say) if len(rows) else []
