"""The one look of every table in the terminal: a line under its headings, nothing cut off where it is narrow."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rich import box
from rich.segment import Segment
from rich.table import Table
from rich.text import Text

from recap.order.wording import unbroken

if TYPE_CHECKING:
    from rich.console import Console, ConsoleOptions, RenderableType, RenderResult
    from rich.style import StyleType

_JOINT = "\ue000"
"""Stands for a blank at which no line ends, while a table is laid out: one that Rich takes for a letter."""


class _Whole(Table):
    """A table whose words are broken rather than cut off: half a designator or value would be another one."""

    def add_row(
        self, *cells: RenderableType | None, style: StyleType | None = None, end_section: bool = False
    ) -> None:
        """Add a row, its quantities joined to their units."""
        super().add_row(*map(_joined, cells), style=style, end_section=end_section)

    def __rich_console__(self, console: Console, options: ConsoleOptions) -> RenderResult:
        for column in self.columns:
            column.overflow = "fold"
            if console.width < NARROW:
                column.no_wrap = False
        for piece in super().__rich_console__(console, options):
            yield piece._replace(text=piece.text.replace(_JOINT, " ")) if isinstance(piece, Segment) else piece


def _joined(cell: RenderableType | None) -> RenderableType | None:
    """Return a cell in which lines end beside quantities and not in them; its letters keep their places and styles."""
    if isinstance(cell, str):
        return unbroken(cell, _JOINT)
    if isinstance(cell, Text):
        joined = cell.copy()
        joined.plain = unbroken(cell.plain, _JOINT)
        return joined
    return cell


NARROW = 60
"""Below so many columns what is usually kept on one line may be broken too."""


def plain_table(title: str = "", *, headed: bool = True, ruled: bool = True) -> Table:
    """Return an empty table, with headings or without, with a line under them or without."""
    shown = Text(title, style="bold") if title else None
    return _Whole(
        box=box.SIMPLE_HEAD if ruled else None,
        title=shown,
        title_justify="left",
        show_header=headed,
        pad_edge=False,
        padding=(0, 1, 0, 0) if ruled else (0, 2, 0, 0),
    )
