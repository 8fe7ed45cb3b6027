"""The one look of every table in the terminal: a line under its headings, nothing cut off where it is narrow."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rich import box
from rich.table import Table
from rich.text import Text

if TYPE_CHECKING:
    from rich.console import Console, ConsoleOptions, RenderResult


class _Whole(Table):
    """A table whose words are broken rather than cut off: half a designator or value would be another one."""

    def __rich_console__(self, console: Console, options: ConsoleOptions) -> RenderResult:
        for column in self.columns:
            column.overflow = "fold"
            if console.width < NARROW:
                column.no_wrap = False
        yield from super().__rich_console__(console, options)


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
