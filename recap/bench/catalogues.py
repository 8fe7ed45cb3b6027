"""One supplier's catalogue: columns parsed once per distinct text, parts made exactly and only when asked for.

``frame`` has the quantities as floats for searching; what a rule judges and what money is made of
comes from :meth:`Catalogue.part`, in exact decimals from the text of the file.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from threading import Thread
from typing import TYPE_CHECKING, Any

import numpy as np
import pandas as pd
import pyarrow as pa
import pyarrow.compute as pc

from recap.bench.cache import WORTH_KEEPING, Entry, fingerprint, keep, kept
from recap.bench.cells import Cells, cells_of
from recap.bench.columns import read_columns
from recap.bench.findings import tell_rows
from recap.bench.meanings import decimal_marks, read_fields, unread_fields, written
from recap.bench.offers import make_parts
from recap.bench.pricecheck import repeated
from recap.bench.pricing import proven_prices, read_prices
from recap.diagnostics import Diagnostic, Severity, Source, error, has_errors
from recap.model import Kind, Mount, Part

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence
    from pathlib import Path

    from numpy.typing import NDArray

    from recap.bench.meanings import Field
    from recap.bench.pricing import Priced
    from recap.bench.texts import TextTable
    from recap.model import PriceBreak

NUMERIC = {
    "value": "value_uF", "volts": "volts", "temp": "temp_C", "life": "life_h", "pitch": "pitch_mm",
    "diameter": "diameter_mm", "height": "height_mm", "ripple": "ripple_mA", "impedance": "impedance_ohm",
}  # fmt: skip
"""Columns that are numbers in the frame, and their names there and in :class:`~recap.model.Part`."""


@dataclass(frozen=True, eq=False)
class Catalogue:
    """What one supplier offers. Rows count from 0; ``len`` is their number."""

    supplier: str
    table: TextTable
    fields: Mapping[str, Field]
    priced: Priced
    marks: Mapping[str, str | None]
    kept_cells: Cells | None = None

    def __len__(self) -> int:
        """Return the number of offers."""
        return len(self.table)

    @property
    def file(self) -> str:
        """The file it was read from."""
        return self.table.file

    @cached_property
    def numbers(self) -> pa.Array:
        """The part number of every row, trimmed."""
        column = self.table.columns["part"]
        texts = column.texts if column.codes is None else column.texts.take(pa.array(column.codes))
        return pc.utf8_trim_whitespace(texts)

    @cached_property
    def cells(self) -> Cells:
        """The rows by what they have in common."""
        return cells_of(self.fields, len(self)) if self.kept_cells is None else self.kept_cells

    @cached_property
    def frame(self) -> pd.DataFrame:
        """One row per offer: float64 quantities (NaN: not stated), categories, part numbers, least quantity."""
        data: dict[str, Any] = {"number": pd.Series(self.numbers.to_pandas(), dtype="str")}
        for name, called in NUMERIC.items():
            data[called] = self._floats(name)
        for name, kinds in (("mount", list(Mount)), ("kind", list(Kind))):
            data[name] = self._category(name, [item.value for item in kinds])
        for name in ("maker", "safety"):
            data[name] = self._category(name, None)
        data["least"] = self.priced.least
        return pd.DataFrame(data, copy=False)

    def _floats(self, name: str) -> NDArray[np.float64]:
        column = self.fields.get(name)
        if column is None:
            return np.full(len(self), np.nan)
        numbers = np.array([np.nan if v is None else float(v) for v in column.meanings], np.float64)
        floats: NDArray[np.float64] = numbers[column.codes]
        return floats

    def _category(self, name: str, names: list[str] | None) -> pd.Categorical[str]:
        column = self.fields.get(name)
        given = [] if column is None else [None if v is None else str(v) for v in column.meanings]
        names = list(dict.fromkeys(v for v in given if v is not None)) if names is None else names
        place = {text: index for index, text in enumerate(names)}
        if column is None:
            unstated = place.get(Kind.UNKNOWN.value, -1)
            return pd.Categorical.from_codes(np.full(len(self), unstated, np.int32), categories=pd.Index(names))
        unstated = place.get(Kind.UNKNOWN.value, -1) if name == "kind" else -1
        codes = np.array([unstated if v is None else place[v] for v in given], np.int32)
        return pd.Categorical.from_codes(codes[column.codes], categories=pd.Index(names))

    def part(self, row: int) -> Part:
        """Return the offer in ``row`` with exact numbers."""
        given = {name: column[row] for name, column in self.fields.items()}
        breaks = self.breaks(row)
        minimum = max(given.get("minimum") or 1, breaks[0].quantity)
        return Part(
            supplier=self.supplier,
            number=self.numbers_at(np.array([row]))[0],
            maker=given.get("maker"),
            series=given.get("series"),
            tolerance=given.get("tolerance"),
            mount=given.get("mount"),
            kind=given.get("kind") or Kind.UNKNOWN,
            safety=given.get("safety"),
            minimum=minimum,
            multiple=given.get("multiple") or 1,
            stock=given.get("stock"),
            prices=breaks,
            updated=given.get("updated"),
            source=self.table.place(row),
            **{called: given.get(name) for name, called in NUMERIC.items()},
        )

    def numbers_at(self, rows: NDArray[np.intp]) -> list[str]:
        """Return the part numbers of some rows, trimmed."""
        column = self.table.columns["part"]
        where = rows if column.codes is None else column.codes[rows]
        return list[str](pc.utf8_trim_whitespace(column.texts.take(pa.array(where))).to_pylist())

    def parts(self, rows: Sequence[int]) -> list[Part]:
        """Return the offers in ``rows``, in that order: quicker than one by one where there are many."""
        return make_parts(self, rows, NUMERIC)

    def breaks(self, row: int) -> tuple[PriceBreak, ...]:
        """Return the price ladder of ``row``; its errors were told on reading."""
        minimum = self.fields["minimum"][row] if "minimum" in self.fields else None
        return self.priced.breaks(row, minimum or 1)

    def rows_of(self, numbers: Iterable[str]) -> dict[str, tuple[int, ...]]:
        """Return the rows that offer each of these part numbers; numbers nobody offers are left out."""
        wanted = list(dict.fromkeys(number.strip() for number in numbers))
        where = pc.index_in(self.numbers, value_set=pa.array(wanted, pa.string()))
        rows = np.flatnonzero(where.is_valid().to_numpy(zero_copy_only=False))
        found: dict[str, list[int]] = {}
        for row in rows:
            found.setdefault(str(self.numbers[int(row)].as_py()), []).append(int(row))
        return {number: tuple(found[number]) for number in wanted if number in found}


def read_catalogue(path: Path, supplier: str, cache: Path | None = None) -> tuple[Catalogue | None, list[Diagnostic]]:
    """Return the catalogue in ``path`` as ``supplier``'s, or None and the errors that make it useless.

    Rows without a price can't be bought and are left out with a warning. ``cache`` is a folder in
    which large catalogues are kept as read (:mod:`recap.bench.cache`).
    """
    digest = _digest(path) if cache is not None else None
    entry = kept(cache, path, digest) if cache is not None and digest is not None else None
    if entry is not None:
        return _from_entry(entry, supplier), list(entry.told)
    table, told = read_columns(path)
    if table is None:
        return None, told
    if not len(table):
        place = Source(str(path))
        return None, [*told, error("file-empty", f"{path.name} has headers but no rows", place, "fill or delete it")]
    table, said = _with_prices(table)
    told += said
    catalogue, said = _checked(table, supplier)
    told += said
    if has_errors(told):
        return None, told
    if cache is not None and digest is not None:
        # written while the run goes on; the interpreter waits for it at its end
        Thread(target=keep, args=(cache, path, digest, _entry_of(catalogue, told))).start()
    return catalogue, told


def _entry_of(catalogue: Catalogue, told: list[Diagnostic]) -> Entry:
    priced = catalogue.priced
    numbers = {name: text for name, field in catalogue.fields.items() if (text := written(field)) is not None}
    found = (priced.least, priced.mark, priced.currencies, catalogue.marks, numbers, catalogue.cells, tuple(told))
    return Entry(catalogue.table, *found)


def _digest(path: Path) -> str | None:
    """Return the digest of a file worth keeping, None of any other."""
    try:
        return fingerprint(path) if path.stat().st_size >= WORTH_KEEPING else None
    except (OSError, ValueError):
        return None


def _checked(table: TextTable, supplier: str) -> tuple[Catalogue, list[Diagnostic]]:
    """Return the columns of ``table`` understood as parts and prices, and all that is wrong with them."""
    marks = decimal_marks(table)
    fields, told = read_fields(table, marks)
    priced, said = read_prices(table)
    catalogue = Catalogue(supplier, table, fields, priced, marks)
    told += said + check_numbers(table, catalogue.numbers) + _minimum_below(table, fields, priced)
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
        trimmed = pc.utf8_trim_whitespace(column.texts)
        blank = pc.equal(pc.utf8_length(trimmed), 0).to_numpy(zero_copy_only=False)
        without &= blank if column.codes is None else blank[column.codes]
    if not without.any():
        return table, []
    message = "no price: the row can't be bought and was left out"
    said = (Severity.WARNING, "price-missing", message, "type the price, or delete the row", None)
    told = tell_rows(table, np.flatnonzero(without), columns[0].header, lambda _: said)
    return table.only(~without), told


def check_numbers(table: TextTable, numbers: pa.Array) -> list[Diagnostic]:
    """Tell of rows without a part number and of numbers that stand in two rows."""
    header = table.columns["part"].header
    blank = np.flatnonzero(pc.equal(pc.utf8_length(numbers), 0).to_numpy(zero_copy_only=False))
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
