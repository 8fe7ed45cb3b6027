"""Many offers of one catalogue at once: the same parts as one by one, at a third of the time."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np
import pyarrow as pa

from recap.bench.ladders import simple_breaks
from recap.diagnostics import Source
from recap.model import Kind, Part

if TYPE_CHECKING:
    from collections.abc import Sequence

    from recap.bench.catalogues import Catalogue
    from recap.model import PriceBreak

_SAME = ("maker", "series", "tolerance", "mount", "safety", "stock", "updated")
"""Columns whose meaning a part takes as it is, by one name in both."""


def make_parts(catalogue: Catalogue, rows: Sequence[int], numeric: dict[str, str]) -> list[Part]:
    """Return the offers in ``rows``, in that order; ``numeric`` names the quantities' columns and fields."""
    index = np.asarray(rows, dtype=np.intp)
    blank: list[Any] = [None] * len(index)
    given = {name: field.at(index) for name, field in catalogue.fields.items()}
    called = {**numeric, **{name: name for name in _SAME}}
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
    texts = column.texts.take(pa.array(where)).to_pylist()
    quick = (simple_breaks(text, priced.mark) for text in texts)
    return [catalogue.breaks(row) if found is None else found for row, found in zip(rows, quick, strict=True)]


def _sources(catalogue: Catalogue, rows: Sequence[int]) -> list[Source]:
    table = catalogue.table
    if len(table.sheets) > 1:
        return [table.place(row) for row in rows]
    sheet = table.sheets[0][1]
    return [Source(table.file, sheet, number) for number in table.rows[np.asarray(rows, dtype=np.intp)].tolist()]
