"""What the columns of a catalogue mean: each distinct text read once, or only when somebody asks for it."""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from functools import cached_property
from typing import TYPE_CHECKING, Any

import numpy as np
import pyarrow.compute as pc

from recap.bench.arrow import to_arrow, to_numpy
from recap.bench.fields import FIELDS, plain_counts
from recap.bench.findings import tell_rows
from recap.bench.numerals import ENOUGH, decimal_mark
from recap.bench.taking import take
from recap.diagnostics import warning

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Mapping

    import pyarrow as pa
    from numpy.typing import NDArray

    from recap.bench.fields import Taken
    from recap.bench.texts import TextColumn, TextTable
    from recap.diagnostics import Diagnostic, Severity

_NO_NUMBERS = frozenset({
    "maker", "series", "mount", "kind", "safety", "updated", "tolerance", "temp", "minimum", "multiple",
})  # fmt: skip
"""Columns whose points and commas say nothing of the file's decimal mark, or that hardly have any."""


class Unread(Sequence[Any]):
    """The meanings of texts that were found in order before, each read when it is asked for."""

    def __init__(self, name: str, column: TextColumn, mark: str | None, written: bytes | None) -> None:
        """Take the column ``name``, the decimal mark of its numbers, and what it means as :func:`written` down."""
        self._name, self._texts, self._unit, self._mark = name, column.texts, column.unit, mark
        self._written = written

    def __len__(self) -> int:
        """Return the number of distinct texts."""
        return len(self._texts)

    def __getitem__(self, code: Any) -> Any:  # noqa: ANN401 - what the column holds
        """Return what the text with this code means."""
        if self._written is not None or "_all" in vars(self):
            return self._all[code]
        return self._read(self._texts.slice(code, 1))[0]

    def __iter__(self) -> Iterator[Any]:
        """Yield what each text means."""
        return iter(self._all)

    @cached_property
    def _all(self) -> tuple[Any, ...]:
        if self._written is not None:
            return tuple(None if text is None else Decimal(text) for text in json.loads(self._written))
        return tuple(self._read(self._texts))

    def _read(self, texts: pa.Array) -> Sequence[Any]:
        counts = plain_counts(self._name, texts)
        if counts is not None:
            return counts
        return [take(self._name, text, self._unit, self._mark).value for text in texts.to_pylist()]

    def some(self, codes: NDArray[Any]) -> list[Any]:
        """Return the meanings of many codes: the texts in question are read, all of them where they are few."""
        if self._written is not None or len(self) <= len(codes):
            every = self._all
            return [every[code] for code in codes.tolist()]
        return list(self._read(self._texts.take(to_arrow(codes))))


@dataclass(frozen=True, slots=True)
class Field:
    """One column understood: what each distinct text means, and which row has which."""

    meanings: Sequence[Any]
    codes: NDArray[Any]

    def __getitem__(self, row: int) -> Any:  # noqa: ANN401 - what the column holds
        """Return the value in ``row``, counted from 0."""
        return self.meanings[int(self.codes[row])]

    def at(self, rows: NDArray[np.intp]) -> list[Any]:
        """Return the values in ``rows``."""
        codes = self.codes[rows]
        if isinstance(self.meanings, Unread):
            return self.meanings.some(codes)
        return [self.meanings[code] for code in codes.tolist()]


def decimal_marks(table: TextTable) -> dict[str, str | None]:
    """Return the decimal mark of every column's numbers; one that doesn't show its own goes by the others."""
    columns = {name: column.texts for name, column in table.columns.items() if name in FIELDS}
    marks = {n: decimal_mark(texts[:ENOUGH].to_pylist()) for n, texts in columns.items() if n not in _NO_NUMBERS}
    common = Counter(mark for mark in marks.values() if mark is not None)
    if not common:  # then the prices may show it
        priced = [table.columns["prices"]] if "prices" in table.columns else [column for _, column in table.breaks]
        common = Counter(mark for one in priced if (mark := decimal_mark(one.texts[:ENOUGH].to_pylist())) is not None)
    usual = next(iter(common)) if len(common) == 1 else None
    return {name: marks.get(name) or usual for name in columns}


def written(field: Field) -> bytes | None:
    """Return what a column means, written down: exactly, and quicker to read than its texts; None for words."""
    if not all(meaning is None or isinstance(meaning, Decimal) for meaning in field.meanings):
        return None
    return json.dumps([None if meaning is None else str(meaning) for meaning in field.meanings]).encode()


def unread_fields(table: TextTable, marks: Mapping[str, str | None], numbers: Mapping[str, bytes]) -> dict[str, Field]:
    """Return the columns of a table that :func:`read_fields` has found in order before.

    ``numbers`` has what :func:`written` gave for those of numbers.
    """
    return {
        name: Field(Unread(name, table.columns[name], mark, numbers.get(name)), codes_of(table, name))
        for name, mark in marks.items()
    }


def codes_of(table: TextTable, name: str) -> NDArray[Any]:
    """Return which distinct text of the column each row has."""
    codes = table.columns[name].codes
    return np.arange(len(table), dtype=np.int32) if codes is None else codes


def read_fields(table: TextTable, marks: Mapping[str, str | None]) -> tuple[dict[str, Field], list[Diagnostic]]:
    """Return the columns of ``table`` as values, each distinct text read once, and every row that isn't understood."""
    fields: dict[str, Field] = {}
    told: list[Diagnostic] = []
    for name, mark in marks.items():
        column, codes = table.columns[name], codes_of(table, name)
        counts = plain_counts(name, column.texts)
        if counts is not None:
            fields[name] = Field(counts, codes)
            continue
        texts: list[str] = column.texts.to_pylist()
        taken = [take(name, text, column.unit, mark) for text in texts]
        fields[name] = Field(tuple(one.value for one in taken), codes)
        faulty = [index for index, one in enumerate(taken) if one.code is not None]
        if faulty:
            rows = np.flatnonzero(np.isin(codes, faulty))
            told += tell_rows(table, rows, column.header, _sayer(taken, texts, codes))
        if name == "value":
            told += _old_units(table, column, codes)
    return fields, told


def _old_units(table: TextTable, column: TextColumn, codes: NDArray[Any]) -> list[Diagnostic]:
    """Tell, once for a column, of cells in mF, which are read as µF."""
    old = np.flatnonzero(to_numpy(pc.match_substring_regex(column.texts, r"\d\s?mF\b")))
    rows = np.flatnonzero(np.isin(codes, old)) if len(old) else old
    if not len(rows):
        return []
    text = str(column.texts[int(codes[rows[0]])].as_py())
    more = f", and so in {len(rows) - 1:,} more rows" if len(rows) > 1 else ""
    message = f"mF in {text[:40]!r} was taken for µF, as old lists write it{more}"
    hint = "where millifarads are meant, write them in µF: 10 mF is 10000 µF"
    return [warning("unit-old", message, table.place(int(rows[0]), column.header), hint, text[:80])]


def _sayer(
    taken: list[Taken], texts: list[str], codes: NDArray[Any]
) -> Callable[[int], tuple[Severity, str, str, str | None, str | None]]:
    def say(row: int) -> tuple[Severity, str, str, str | None, str | None]:
        one = taken[codes[row]]
        return one.severity, one.code or "", one.message or "", one.hint, texts[codes[row]][:80]

    return say
