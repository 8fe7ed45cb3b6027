"""The checklist and the bags in the terminal."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rich import box
from rich.table import Table
from rich.text import Text

from recap.fit.checklist import BOXES, remarks, where
from recap.fit.worklist import NOTHING
from recap.order.wording import thing_text, value_text
from recap.show.terminal import counted, refs

if TYPE_CHECKING:
    from rich.console import Console

    from recap.fit.bags import Bag, Sorting
    from recap.fit.checklist import Checklist
    from recap.fit.plan import ExtraPiece
    from recap.fit.worklist import Task

TICK = "[ ]"


def print_checklist(console: Console, checklist: Checklist) -> None:
    """Print the cautions, then a table per section."""
    for caution in checklist.cautions:
        console.print(Text(f"! {caution}"))
    console.print(Text(checklist.origin, style="dim"))
    if not checklist.sections:
        console.print(Text("Nothing to do: no set has a job, or all of it is done."))
    for section in checklist.sections:
        table = Table(box=box.SIMPLE_HEAD, title=Text(f"{section.set}: {section.title}", style="bold"))
        table.title_justify = "left"
        for title in (*BOXES[:2], "ok"):
            table.add_column(title, no_wrap=True)
        table.add_column("place", no_wrap=not checklist.by_part)
        table.add_column("old part", no_wrap=True)
        table.add_column("new part")
        table.add_column("mind")
        for task in section.tasks:
            mind = "\n".join((task.polarity, *remarks(task)))
            cells = (where(task, checklist), value_text(task.position) or "not stated", _new(task), mind)
            table.add_row(*(Text(TICK) for _ in BOXES), *(Text(cell) for cell in cells), end_section=True)
        console.print(table)


def _new(task: Task) -> str:
    if task.part is None:
        return NOTHING
    return f"{value_text(task.part) or task.part.number}\n{task.part.number} ({task.source})"


def print_bags(console: Console, sorting: Sorting) -> None:
    """Print each set's bag, then what goes into none."""
    if not sorting.bags:
        console.print(Text("No bags: no set has a job."))
    for bag in sorting.bags:
        console.print(_bag(bag))
    loose = [(piece.qty, *_extra(piece)) for piece in sorting.extras]
    loose += [(left.qty, left.part.number, thing_text(left.part), left.supplier) for left in sorting.leftovers]
    if loose:
        table = _table("Into no bag: spares and what is left over, for the drawer")
        for qty, number, words, source in loose:
            table.add_row("", str(qty), Text(number), Text(words), "", Text(source))
        console.print(table)


def _bag(bag: Bag) -> Table:
    table = _table(f"{bag.set}: {counted(bag.pieces, 'piece')}")
    for compartment in bag.compartments:
        for index, content in enumerate(compartment.contents):
            table.add_row(
                Text(compartment.title if index == 0 else ""),
                str(content.qty),
                Text(content.part.number if content.part else NOTHING),
                Text(content.description),
                Text(refs(content.refs)),
                Text(content.source),
                end_section=index == len(compartment.contents) - 1,
            )
    for piece in bag.extras:
        number, words, source = _extra(piece)
        table.add_row(Text("other parts"), str(piece.qty), Text(number), Text(words), "", Text(source))
    return table


def _extra(piece: ExtraPiece) -> tuple[str, str, str]:
    return piece.part.number if piece.part else NOTHING, piece.extra.item, piece.supplier or ""


def _table(title: str) -> Table:
    table = Table(box=box.SIMPLE_HEAD, title=Text(title, style="bold"))
    table.title_justify = "left"
    table.add_column("board", no_wrap=True)
    table.add_column("pieces", justify="right")
    for name in ("part", "what it is", "for", "from"):
        table.add_column(name)
    return table
