"""The checklist and the bags in the terminal."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rich.text import Text

from recap.fit.checklist import BOXES, remarks, runs, where
from recap.fit.worklist import NOTHING
from recap.order.wording import brief_text, marked_text
from recap.show.tables import plain_table
from recap.show.terminal import counted, refs

if TYPE_CHECKING:
    from collections.abc import Sequence

    from rich.console import Console

    from recap.fit.bags import Content, Sorting
    from recap.fit.checklist import Checklist
    from recap.fit.plan import ExtraPiece
    from recap.fit.worklist import Task

TICKS = " ".join("[ ]" for _ in BOXES)
TICKED = f"{BOXES[0]:4}{BOXES[1]:4}ok"
"""Over the boxes; the third is for what is checked."""
LEAST_WIDTH = 60
SAME = "″"


def print_checklist(console: Console, checklist: Checklist) -> None:
    """Print the cautions, then a table per section."""
    for caution in checklist.cautions:
        console.print(Text(f"! {caution}"))
    console.print(Text(checklist.origin, style="dim"))
    if not checklist.sections:
        console.print(Text("Nothing to do: no set has a job, or all of it is done."))
    for section in checklist.sections:
        table = plain_table(f"{section.set}: {section.title}")
        table.add_column(TICKED, no_wrap=True)
        table.add_column("place", no_wrap=not checklist.by_part)
        for heading, least in (("old part", 9), ("new part", 12), ("mind", 12)):
            # On a terminal too narrow even for these, words are broken rather than cut off.
            table.add_column(heading, min_width=least if console.width >= LEAST_WIDTH else None)
        for run in runs(section):
            mind = "\n".join((run[0].polarity, *remarks(run[0])))
            cells = (marked_text(run[0].position) or "not stated", _new(run[0]), mind)
            for task in run:
                said = cells if task is run[0] else (SAME, f"as {where(run[0], checklist)}", "")
                table.add_row(*(Text(cell) for cell in (TICKS, where(task, checklist), *said)))
            table.add_section()
        console.print(table)


def _new(task: Task) -> str:
    if task.part is None:
        return NOTHING
    return f"{marked_text(task.part) or task.part.number}\n{task.part.number} ({task.source})"


def print_bags(console: Console, sorting: Sorting) -> None:
    """Print each set's bag by board, then what goes into none."""
    if not sorting.bags:
        console.print(Text("No bags: no set has a job."))
    for bag in sorting.bags:
        parts = [(comp.title, [_content(content) for content in comp.contents]) for comp in bag.compartments]
        if bag.extras:
            parts.append(("other parts", [_extra(piece) for piece in bag.extras]))
        _print_bag(console, f"{bag.set}: {counted(bag.pieces, 'piece')}", parts)
    loose = [_extra(piece) for piece in sorting.extras]
    loose += [
        (str(left.qty), left.part.number, brief_text(left.part), "", left.supplier or "") for left in sorting.leftovers
    ]
    if loose:
        _print_bag(console, "Into no bag: spares and what is left over, for the drawer", [("", loose)])


Line = tuple[str, str, str, str, str]
"""Pieces, part, what it is, which places, where it comes from."""


def _print_bag(console: Console, title: str, boards: Sequence[tuple[str, Sequence[Line]]]) -> None:
    """Print a bag as one table; the boards are headings in it, so that the words get the width."""
    table = plain_table(title)
    table.add_column("pcs", justify="right", no_wrap=True)
    table.add_column("part")
    table.add_column("what it is")
    for name in ("for", "from"):
        table.add_column(name)
    for board, content in boards:
        if board:
            table.add_row("", Text(board, style="bold"))
        for line in content:
            table.add_row(*(Text(cell) for cell in line))
        table.add_section()
    console.print(table)


def _content(content: Content) -> Line:
    number = content.part.number if content.part else NOTHING
    words = brief_text(content.part) if content.part else content.description
    return str(content.qty), number, words, refs(content.refs), content.source


def _extra(piece: ExtraPiece) -> Line:
    return (
        str(piece.qty), piece.part.number if piece.part else NOTHING, piece.extra.item, "", piece.supplier or "",
    )  # fmt: skip
