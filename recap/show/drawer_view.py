"""The drawer in the terminal and as JSON."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from rich.text import Text

from recap.order.wording import brief_text, thing_text
from recap.show.documents import diagnostics_document
from recap.show.tables import plain_table
from recap.show.terminal import hanging

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from rich.console import Console

    from recap.audit.drawer import Balance
    from recap.diagnostics import Diagnostic
    from recap.model import DrawerPart


MEANINGS = {
    "in file": "what drawer.csv says.",
    "moved": "what came in (+) and was taken out (-) since, by the record.",
    "there": "both together, parts for sets on the job included until they are fitted; an order counts on it.",
    "set aside": "of those, meant by a kept order for sets that are off the job now; a new order leaves them alone.",
}
"""What the columns mean, said below them."""


def print_drawer(
    console: Console, known: Mapping[str, Balance], lying: Sequence[DrawerPart], aside: Mapping[str, int]
) -> None:
    """Print a line per part: the file's pieces, what moved, what lies there, what is set aside."""
    if not known:
        console.print("The drawer is empty: drawer.csv lists nothing or isn't there, and nothing came in.")
        return
    table = plain_table()
    table.add_column("part")
    table.add_column("what it is")
    for title in ("in file", "moved", "there", *(["set aside"] if aside else [])):
        table.add_column(title, justify="right")
    if any(balance.edited for balance in known.values()):
        table.add_column("")
    words = {d.part.number: brief_text(d.part) for d in lying}
    for number, balance in known.items():
        cells = [str(balance.in_file), f"{balance.moved:+}" if balance.moved else "", str(balance.qty)]
        if aside:
            cells.append(str(aside.get(number, "")))
        if balance.edited:
            cells.append("settle it")
        table.add_row(Text(number), Text(words.get(number, "")), *cells)
    console.print(table)
    for title, meaning in MEANINGS.items():
        if title != "set aside" or aside:
            hanging(console, f"{title}: ", meaning)


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
