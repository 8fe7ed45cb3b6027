"""Columns of text: each distinct text once, and which row has which."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

import numpy as np
import pyarrow as pa

from recap.diagnostics import Source

if TYPE_CHECKING:
    from numpy.typing import NDArray


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

    def only(self, wanted: NDArray[np.bool_]) -> TextColumn:
        """Return the column with the rows for which ``wanted`` is true."""
        if self.codes is None:
            return TextColumn(self.header, self.unit, self.texts.filter(pa.array(wanted)))
        return TextColumn(self.header, self.unit, self.texts, self.codes[wanted])


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
        return TextColumn(header, unit, pa.array(list(self.index), pa.string()), np.array(self.codes, np.int32))
