"""A table as it stood: text in cells, each with its place. Nothing here knows of capacitors."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from recap.diagnostics import Source


@dataclass(frozen=True, slots=True)
class Cell:
    """What stood in one cell, untouched but for surrounding white space.

    ``struck``: formatted as struck through. ``is_date``: the spreadsheet holds a date there
    (text that a spreadsheet program turned into one); ``text`` is then the ISO date.
    ``is_number``: the spreadsheet holds a number; ``text`` is its shortest exact decimal writing.
    """

    text: str
    source: Source
    struck: bool = False
    is_date: bool = False
    is_number: bool = False


@dataclass(frozen=True, slots=True)
class Row:
    """One row; ``source`` has its 1-based number. Merged cells are filled with their text."""

    cells: tuple[Cell, ...]
    source: Source


@dataclass(frozen=True, slots=True)
class Table:
    """One sheet or one delimited file, every row of it, blank ones too (with no cells)."""

    name: str
    rows: tuple[Row, ...]
