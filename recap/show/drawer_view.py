"""The drawer in the terminal and as JSON."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from rich import box
from rich.table import Table
from rich.text import Text

from recap.order.wording import thing_text
from recap.show.documents import diagnostics_document

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from rich.console import Console

    from recap.audit.drawer import Balance
    from recap.diagnostics import Diagnostic
    from recap.model import DrawerPart


def print_drawer(
    console: Console, known: Mapping[str, Balance], lying: Sequence[DrawerPart], aside: Mapping[str, int]
) -> None:
    """Print a line per part: the file's pieces, what moved, what lies there, what is set aside."""
    if not known:
        console.print("The drawer is empty: no drawer.csv, and nothing came in.")
        return
    table = Table(box=box.SIMPLE_HEAD)
    for title in ("part", "what it is"):
        table.add_column(title)
    for title in ("in file", "moved", "there", "set aside"):
        table.add_column(title, justify="right")
    table.add_column("")
    words = {d.part.number: thing_text(d.part) for d in lying}
    for number, balance in known.items():
        table.add_row(
            Text(number),
            Text(words.get(number, "")),
            str(balance.in_file),
            f"{balance.moved:+}" if balance.moved else "",
            str(balance.qty),
            str(aside[number]) if number in aside else "",
            "settle it" if balance.edited else "",
        )
    console.print(table)


def drawer_document(
    known: Mapping[str, Balance],
    lying: Sequence[DrawerPart],
    aside: Mapping[str, int],
    told: Sequence[Diagnostic],
) -> dict[str, Any]:
    """Return the drawer as JSON."""
    words = {d.part.number: thing_text(d.part) for d in lying}
    return {
        "parts": [
            {
                "part": number,
                "what": words.get(number),
                "in_file": balance.in_file,
                "moved": balance.moved,
                "qty": balance.qty,
                "set_aside": aside.get(number, 0),
                "unsettled": balance.edited,
            }
            for number, balance in known.items()
        ],
        "diagnostics": diagnostics_document(told),
    }
