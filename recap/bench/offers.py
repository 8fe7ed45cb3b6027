"""One supplier's offers: parts made exactly, from the text of the file, and only when asked for."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING, Any

import numpy as np
import pyarrow as pa
import pyarrow.compute as pc

from recap.bench.arrow import strings, to_arrow, to_numpy
from recap.bench.ladders import simple_breaks
from recap.diagnostics import Source
from recap.model import Kind, Part

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

    from numpy.typing import NDArray

    from recap.bench.cells import Cells
    from recap.bench.meanings import Field
    from recap.bench.pricing import Priced
    from recap.bench.texts import TextTable
    from recap.model import PriceBreak

NUMERIC = {
    "value": "value_uF", "volts": "volts", "temp": "temp_C", "life": "life_h", "pitch": "pitch_mm",
    "diameter": "diameter_mm", "height": "height_mm", "ripple": "ripple_mA", "impedance": "impedance_ohm",
}  # fmt: skip
"""Columns that are numbers, and their names in :class:`~recap.model.Part`."""


_SAME = ("maker", "series", "tolerance", "mount", "safety", "stock", "updated")
"""Columns whose meaning a part takes as it is, by one name in both."""


@dataclass(frozen=True, eq=False)
class Catalogue:
    """What one supplier offers. Rows count from 0; ``len`` is their number."""

    supplier: str
    table: TextTable
    fields: Mapping[str, Field]
    priced: Priced
    marks: Mapping[str, str | None]
    cells: Cells

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
        texts = column.texts if column.codes is None else column.texts.take(to_arrow(column.codes))
        return pc.utf8_trim_whitespace(texts)

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
        return list[str](pc.utf8_trim_whitespace(column.texts.take(to_arrow(where))).to_pylist())

    def parts(self, rows: Sequence[int]) -> list[Part]:
        """Return the offers in ``rows``, in that order: quicker than one by one where there are many."""
        return _parts(self, rows)

    def breaks(self, row: int) -> tuple[PriceBreak, ...]:
        """Return the price ladder of ``row``; its errors were told on reading."""
        minimum = self.fields["minimum"][row] if "minimum" in self.fields else None
        return self.priced.breaks(row, minimum or 1)

    def rows_of(self, numbers: Iterable[str]) -> dict[str, tuple[int, ...]]:
        """Return the rows that offer each of these part numbers; numbers nobody offers are left out."""
        wanted = list(dict.fromkeys(number.strip() for number in numbers))
        where = pc.index_in(self.numbers, value_set=strings(wanted))
        rows = np.flatnonzero(to_numpy(where.is_valid()))
        found: dict[str, list[int]] = {}
        for row in rows:
            found.setdefault(str(self.numbers[int(row)].as_py()), []).append(int(row))
        return {number: tuple(found[number]) for number in wanted if number in found}


def _parts(catalogue: Catalogue, rows: Sequence[int]) -> list[Part]:
    index = np.asarray(rows, dtype=np.intp)
    blank: list[Any] = [None] * len(index)
    given = {name: field.at(index) for name, field in catalogue.fields.items()}
    called = {**NUMERIC, **{name: name for name in _SAME}}
    columns = {field: given.get(name, blank) for name, field in called.items()}
    names = tuple(columns)
    minimum, multiple, kinds = (given.get(name, blank) for name in ("minimum", "multiple", "kind"))
    made = []
    for i, (number, prices, source, values) in enumerate(
        zip(
            catalogue.numbers_at(index),
            _prices(catalogue, rows),
            _sources(catalogue, rows),
            zip(*columns.values(), strict=True),
            strict=True,
        )
    ):
        made.append(
            Part(
                catalogue.supplier,
                number,
                kind=kinds[i] or Kind.UNKNOWN,
                minimum=max(minimum[i] or 1, prices[0].quantity),
                multiple=multiple[i] or 1,
                prices=prices,
                source=source,
                **dict(zip(names, values, strict=True)),
            )
        )
    return made


def _prices(catalogue: Catalogue, rows: Sequence[int]) -> list[tuple[PriceBreak, ...]]:
    priced = catalogue.priced
    if priced.column is None:
        return [catalogue.breaks(row) for row in rows]
    index = np.asarray(rows, dtype=np.intp)
    column = priced.column
    where = index if column.codes is None else column.codes[index]
    texts = column.texts.take(to_arrow(where)).to_pylist()
    quick = (simple_breaks(text, priced.mark) for text in texts)
    return [catalogue.breaks(row) if found is None else found for row, found in zip(rows, quick, strict=True)]


def _sources(catalogue: Catalogue, rows: Sequence[int]) -> list[Source]:
    table = catalogue.table
    if len(table.sheets) > 1:
        return [table.place(row) for row in rows]
    sheet = table.sheets[0][1]
    return [Source(table.file, sheet, number) for number in table.rows[np.asarray(rows, dtype=np.intp)].tolist()]
