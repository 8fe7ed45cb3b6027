"""A supplier's file to its catalogue, all that is wrong with it told; large ones are kept as read."""

from __future__ import annotations

from contextlib import suppress
from dataclasses import replace
from threading import Thread
from typing import TYPE_CHECKING

import numpy as np
import pyarrow.compute as pc

from recap.bench.arrow import to_numpy
from recap.bench.cache import WORTH_KEEPING, Entry, digest_of, fingerprint, keep, kept, known
from recap.bench.cells import cells_of
from recap.bench.columns import read_columns
from recap.bench.findings import tell_rows
from recap.bench.inches import without_inches
from recap.bench.left_out import readable
from recap.bench.meanings import decimal_marks, read_fields, unread_fields, written
from recap.bench.offers import Catalogue
from recap.bench.pricecheck import repeated
from recap.bench.pricing import proven_prices, read_prices, without_price
from recap.bench.spoilt import spoilt_numbers
from recap.diagnostics import Diagnostic, Severity, Source, error, has_errors
from recap.read.sniff import is_workbook

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping
    from pathlib import Path

    import pyarrow as pa

    from recap.bench.meanings import Field
    from recap.bench.pricing import Priced
    from recap.bench.texts import TextTable


_NUMBERS_MADE = frozenset({"part-made", "grid-read"})


def _at_once(work: Callable[[], None]) -> None:
    Thread(target=work).start()  # the interpreter waits for it at its end


def read_catalogue(
    path: Path,
    supplier: str,
    cache: Path | None = None,
    aside: Callable[[Callable[[], None]], object] = _at_once,
    currency: str | None = None,
    *,
    strict: bool = False,
) -> tuple[Catalogue | None, list[Diagnostic]]:
    """Return the catalogue in ``path`` as ``supplier``'s, or None and the errors that make it useless.

    Rows without a price can't be bought and are left out with a warning. ``cache`` is a folder in
    which large catalogues are kept as read (:mod:`recap.bench.cache`); ``aside`` is given the work of writing there.
    ``currency`` is the supplier's: of prices in several side by side those in it are read. A few rows whose price, pack
    or stock can't be read are left out with a warning; with ``strict`` they are errors.
    """
    folder = cache if cache is not None and _is_large(path) else None
    # content that is read is told by its own digest; what a library reads from the file, by the file's
    digest = _digest(path, currency) if folder is not None and (known(folder, path) or is_workbook(path)) else None
    entry = kept(folder, path, digest) if folder is not None and digest is not None else None
    if entry is not None:
        return _from_entry(entry, supplier), list(entry.told)
    table, content, told = read_columns(path, currency)
    if table is None:
        return None, told
    if not len(table):
        place = Source(str(path))
        return None, [*told, error("file-empty", f"{path.name} has headers but no rows", place, "fill or delete it")]
    table, said = _with_prices(_named_by_supplier(table, path, supplier, told))
    told += said
    catalogue, said = _checked(table, supplier)
    rest = None if strict else readable(table, catalogue, said)
    if rest is not None:
        table, left = rest
        told += left
        catalogue, said = _checked(table, supplier)
    told += said
    if has_errors(told):
        return None, told
    if folder is not None:

        def keep_it() -> None:
            with suppress(OSError):
                of_content = digest_of(path.read_bytes() if content is None else content) + (currency or "")
                if content is not None or of_content == digest:
                    keep(folder, path, of_content, _entry_of(catalogue, told))

        aside(keep_it)
    return catalogue, told


def _named_by_supplier(table: TextTable, path: Path, supplier: str, told: list[Diagnostic]) -> TextTable:
    """Return the table with the part numbers that were made behind the supplier's name, whatever its file is called.

    Otherwise a new list would know none of the old one's parts again.
    """
    made, wanted = (f"{'-'.join(name.split())}:" for name in (path.stem, supplier))
    if made.casefold() == wanted.casefold() or not any(one.code in _NUMBERS_MADE for one in told):
        return table
    part = table.columns["part"].each(lambda text: wanted + text[len(made) :] if text.startswith(made) else text)
    return replace(table, columns={**table.columns, "part": part})


def _entry_of(catalogue: Catalogue, told: list[Diagnostic]) -> Entry:
    priced = catalogue.priced
    numbers = {name: text for name, field in catalogue.fields.items() if (text := written(field)) is not None}
    found = (priced.least, priced.mark, priced.currencies, catalogue.marks, numbers, catalogue.cells, tuple(told))
    return Entry(catalogue.table, *found)


def _is_large(path: Path) -> bool:
    try:
        return path.stat().st_size >= WORTH_KEEPING
    except OSError:
        return False


def _digest(path: Path, currency: str | None) -> str | None:
    """Return by what a catalogue as read is found again: the file's content, and the currency that it was read for."""
    try:
        return fingerprint(path) + (currency or "")
    except (OSError, ValueError):
        return None


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


def _from_entry(entry: Entry, supplier: str) -> Catalogue:
    """Return a catalogue that was found in order before; nothing is checked again."""
    priced = proven_prices(entry.table, entry.least, entry.mark, entry.currencies)
    fields = unread_fields(entry.table, entry.marks, entry.numbers)
    return Catalogue(supplier, entry.table, fields, priced, entry.marks, entry.cells)


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
