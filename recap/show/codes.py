"""Codes in the terminal: one in full, or all as a list."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rich.text import Text

from recap.show.tables import plain_table
from recap.show.terminal import output

if TYPE_CHECKING:
    from collections.abc import Mapping

    from recap.codes import Code


def print_codes(codes: Mapping[str, Code]) -> None:
    """Print one code as a paragraph, several as a table in the order of the work."""
    console = output()
    if len(codes) == 1:
        for name, code in codes.items():
            console.print(Text(f"{name}: {code.title}", style="bold"))
            console.print(Text(f"Example: {code.example}"))
            console.print(Text(f"What to do: {code.todo}"))
            if code.blocks:
                console.print(Text("Nothing is bought for a position with this doubt until it is settled."))
        return
    table = plain_table()
    for heading in ("code", "what it means", "stops buying"):
        table.add_column(heading)
    for name, code in codes.items():
        table.add_row(Text(name), Text(code.title), "yes" if code.blocks else "")
    console.print(table)
