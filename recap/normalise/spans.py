"""Cells of a table that reach over several columns or rows: each place they cover gets its text."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from typing import Final

_SPAN: Final = re.compile(r"(?P<way>col|row)span\s*=\s*[\"']?(?P<count>\d{1,3})", re.IGNORECASE)
MOST_SPANNED: Final = 60
MOST_CELLS: Final = 200
"""In one row; no table of a list is wider."""


@dataclass(slots=True)
class SpannedRow:
    """The cells of the row that is being read, and those that reach down into it and further rows."""

    cells: list[str] = field(default_factory=list)
    _down: dict[int, tuple[int, str]] = field(default_factory=dict)

    def add(self, text: str, attributes: str = "") -> None:
        """Add a cell behind the others; ``attributes`` are those of its tag or markup."""
        self._fill()
        if len(self.cells) >= MOST_CELLS:
            return
        spans = {span["way"].lower(): min(int(span["count"]), MOST_SPANNED) for span in _SPAN.finditer(attributes)}
        if spans.get("row", 1) > 1:
            self._down[len(self.cells)] = (spans["row"] - 1, text)
        self.cells.append(text)
        self.cells += [""] * (spans.get("col", 1) - 1)

    def end(self) -> list[str]:
        """Return the row's cells and begin the next one."""
        if self.cells:
            self._fill()
        cells, self.cells = self.cells, []
        return cells

    def _fill(self) -> None:
        """Fill in the cells that reach down from rows above."""
        while (held := self._down.pop(len(self.cells), None)) is not None:
            rows, text = held
            if rows > 1:
                self._down[len(self.cells)] = (rows - 1, text)
            self.cells.append(text)
