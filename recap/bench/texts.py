"""Columns of text: each distinct text once, and which row has which."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING, TypeVar

import numpy as np
import pyarrow as pa
import pyarrow.compute as pc

from recap.bench.arrow import strings, to_arrow, to_numpy
from recap.diagnostics import Source

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from numpy.typing import NDArray


T = TypeVar("T", bound=np.generic)

_NUMBERED_AT_ONCE = 2**22
"""Up to so many possible numbers a table of them is quicker than sorting."""
_SPACE, _NOT_ASCII = 0x20, 0x80


def bytes_of(texts: pa.Array) -> tuple[NDArray[np.uint8], NDArray[np.int64]]:
    """Return the bytes of all texts in a row, and where each begins and the last ends."""
    _, offsets_buffer, data_buffer = texts.buffers()
    width = 8 if "large" in str(texts.type) else 4
    offsets = np.frombuffer(offsets_buffer, f"i{width}")[texts.offset : texts.offset + len(texts) + 1].astype(np.int64)
    return np.frombuffer(data_buffer or b"", np.uint8)[offsets[0] : offsets[-1]], offsets - offsets[0]


def blanks(texts: pa.Array) -> NDArray[np.bool_]:
    """Tell which texts have nothing but spaces: only those that begin with one, of any sort, are looked at whole."""
    line, starts = bytes_of(texts)
    blank: NDArray[np.bool_] = starts[1:] == starts[:-1]
    if len(line):
        first = line[np.minimum(starts[:-1], len(line) - 1)]
        doubtful = np.flatnonzero(~blank & ((first <= _SPACE) | (first >= _NOT_ASCII)))
        trimmed = pc.utf8_trim_whitespace(texts.take(to_arrow(doubtful)))
        blank[doubtful] = to_numpy(pc.binary_length(trimmed)) == 0
    return blank


@dataclass(frozen=True, slots=True)
class TextColumn:
    """One column: ``texts`` and, unless each row has its own, the index into them for every row."""

    header: str
    unit: str | None
    texts: pa.Array
    codes: NDArray[np.int32] | None = None

    def text(self, row: int) -> str:
        """Return the text in ``row``, counted from 0."""
        return str(self.texts[row if self.codes is None else int(self.codes[row])].as_py())

    def each(self, change: Callable[[str], str]) -> TextColumn:
        """Return the column with every text changed."""
        return replace(self, texts=strings(change(str(text)) for text in self.texts.to_pylist()))

    def by_row(self, of_texts: NDArray[T]) -> NDArray[T]:
        """Return for every row what ``of_texts`` has for its text, one for each distinct text."""
        return of_texts if self.codes is None else of_texts[self.codes]

    def where(self, test: Callable[[str], bool]) -> NDArray[np.bool_]:
        """Tell which rows have a text that passes; each distinct text is tried once."""
        return self.by_row(np.array([test(str(text)) for text in self.texts.to_pylist()], bool))

    def only(self, wanted: NDArray[np.bool_]) -> TextColumn:
        """Return the column with the rows for which ``wanted`` is true."""
        if self.codes is None:
            return TextColumn(self.header, self.unit, self.texts.take(to_arrow(np.flatnonzero(wanted))))
        return TextColumn(self.header, self.unit, self.texts, self.codes[wanted])


def combined(columns: Sequence[TextColumn], make: Callable[..., str]) -> TextColumn:
    """Return one column out of several: ``make`` gives the text of a row from theirs, once for rows that are alike.

    Header and unit are the first one's.
    """
    count = max((len(one.texts) if one.codes is None else len(one.codes) for one in columns), default=0)
    mixed, size = np.zeros(count, np.int64), 1
    for one in columns:
        codes = np.arange(count, dtype=np.int64) if one.codes is None else one.codes
        mixed, size = _numbered(mixed * len(one.texts) + codes, size * len(one.texts))
    firsts = np.zeros(size, np.int64)
    firsts[mixed[::-1]] = np.arange(count)[::-1]
    codes_of = mixed
    texts = [make(*(one.text(row) for one in columns)) for row in firsts.tolist()]
    gathered = {text: number for number, text in enumerate(dict.fromkeys(texts))}
    numbers = np.array([gathered[text] for text in texts], np.int32)
    return TextColumn(columns[0].header, columns[0].unit, strings(gathered), numbers[codes_of])


def _numbered(mixed: NDArray[np.int64], size: int) -> tuple[NDArray[np.int64], int]:
    """Return the numbers below ``size`` numbered anew without gaps, and how many different ones there are."""
    if size > _NUMBERED_AT_ONCE:
        distinct, again = np.unique(mixed, return_inverse=True)
        return again, len(distinct)
    present = np.zeros(size, bool)
    present[mixed] = True
    return (np.cumsum(present) - 1)[mixed], int(present.sum())


@dataclass(frozen=True, slots=True)
class TextTable:
    """All understood columns; ``rows`` has the file's row number of each, ``breaks`` the price columns by quantity.

    ``sheets`` pairs the first row of each sheet with its name, for workbooks of several price lists.
    """

    file: str
    columns: dict[str, TextColumn]
    breaks: tuple[tuple[int, TextColumn], ...]
    rows: NDArray[np.int64]
    sheets: tuple[tuple[int, str | None], ...] = ((0, None),)

    def __len__(self) -> int:
        """Return the number of rows."""
        return len(self.rows)

    def only(self, wanted: NDArray[np.bool_]) -> TextTable:
        """Return the table with the rows for which ``wanted`` is true."""
        kept = np.cumsum(wanted)
        sheets = tuple((int(kept[start - 1]) if start else 0, name) for start, name in self.sheets)
        columns = {name: column.only(wanted) for name, column in self.columns.items()}
        breaks = tuple((quantity, column.only(wanted)) for quantity, column in self.breaks)
        return TextTable(self.file, columns, breaks, self.rows[wanted], sheets)

    def place(self, row: int, header: str | None = None) -> Source:
        """Return where ``row``, counted from 0, stands in the file."""
        sheet = next((name for start, name in reversed(self.sheets) if start <= row), None)
        return Source(self.file, sheet, int(self.rows[row]), header)


@dataclass(slots=True)
class Gathering:
    """Distinct texts of one column as they come."""

    index: dict[str, int] = field(default_factory=dict)
    codes: list[int] = field(default_factory=list)

    def add(self, text: str) -> None:
        """Take the next row's text."""
        self.codes.append(self.index.setdefault(text, len(self.index)))

    def column(self, header: str, unit: str | None) -> TextColumn:
        """Return what has come as a column."""
        return TextColumn(header, unit, strings(self.index), np.array(self.codes, np.int32))
