"""The margins of all parts of an order: a line each, the worst first."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from rich.text import Text

from recap.model import Verdict
from recap.order.cautions import SAFETY_LINE
from recap.show.margin_view import STYLE, WORDS, gauge_bar, margin_document
from recap.show.tables import plain_table
from recap.show.terminal import counted, refs

if TYPE_CHECKING:
    from collections.abc import Sequence

    from rich.console import Console

    from recap.match.margin import Margin
    from recap.order.margins import Chosen


def chosen_document(rows: Sequence[Chosen], unmet: Sequence[str], hours_per_day: float = 24) -> dict[str, Any]:
    """Return every chosen part's margins, the worst first, and the groups that nothing was found for."""
    return {
        "parts": [
            {
                "group": row.group.id,
                "places": list(row.places),
                "supplier": row.margin.part.supplier,
                "part": row.margin.part.number,
                **margin_document(row.margin, hours_per_day),
            }
            for row in rows
        ],
        "unmet": list(unmet),
    }


def print_chosen(console: Console, rows: Sequence[Chosen], unmet: Sequence[str]) -> None:
    """Print a line for each chosen part with its narrowest number, then the cautions that any of them calls for."""
    table = plain_table()
    table.add_column("for")
    table.add_column("part")
    table.add_column("verdict")
    table.add_column("least room")
    table.add_column("0  | fits |  2×", no_wrap=True)
    for row in rows:
        found = row.margin
        narrow = found.narrowest
        style = STYLE[found.verdict] if found.verdict is not Verdict.FITS else ""
        table.add_row(
            Text(f"{row.group.id}\n{refs(row.places, 4)}"),
            Text(f"{found.part.number}\n{found.part.supplier}"),
            Text(WORDS[found.verdict], style=style),
            Text(tightest(found)),
            "" if narrow is None else gauge_bar(narrow, 16),
        )
    console.print(table)
    for name in unmet:
        console.print(Text(f"Nothing was found for {name}: recap order says why.", style="yellow"))
    for caution in dict.fromkeys(caution for row in rows for caution in row.margin.cautions):
        console.print(Text(f"! {caution}", style="bold"))
    console.print(Text(f"{counted(len(rows), 'part')} weighed, the worst first.", style="dim"))
    console.print(Text(SAFETY_LINE, style="dim"))


def tightest(found: Margin) -> str:
    """Return what leaves least room, in words: what speaks against the part, else the narrowest number."""
    against = [f for f in found.judgement.findings if f.verdict is not Verdict.FITS]
    if against:
        worst = max(against, key=lambda f: f.verdict.rank)
        return f"{worst.rule}: {worst.reason}"
    narrow = found.narrowest
    if narrow is None:
        return "no number to weigh"
    return next(f"{f.rule}: {f.reason}" for f in found.judgement.findings if f.rule == narrow.rule)
