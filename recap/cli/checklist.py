"""``recap checklist``: what to do at each position, to tick off while soldering."""

from __future__ import annotations

from enum import StrEnum
from pathlib import Path
from typing import TYPE_CHECKING

import typer

from recap.cli.answers import refuse_one
from recap.cli.chosen import SETS, set_names
from recap.cli.plans import load_plan, write_file
from recap.cli.steps import BENCH, USAGE

if TYPE_CHECKING:
    from recap.fit.checklist import Checklist


class Arrangement(StrEnum):
    """How the lines are put in order."""

    BOARD = "board"
    PART = "part"


class Paper(StrEnum):
    """What the PDF is made for."""

    A4 = "a4"
    LETTER = "letter"


FORMS = (".pdf", ".html", ".xlsx")


def register(app: typer.Typer) -> None:
    """Add the command."""
    app.command("checklist", rich_help_panel=BENCH)(checklist)


def checklist(
    bench: Path = typer.Argument(..., help="The bench folder."),
    sets: list[str] | None = SETS,
    by: Arrangement = typer.Option(
        Arrangement.BOARD, "--by", help="board: designator by designator; part: one part after the other."
    ),
    out: Path | None = typer.Option(None, "--out", help="Write a .pdf, .html (one file, works offline) or .xlsx."),
    paper: Paper = typer.Option(Paper.A4, "--paper", help="For the PDF."),
    everything: bool = typer.Option(False, "--all", help="Positions already in and checked too."),
    fresh: bool = typer.Option(False, "--fresh", help="Work the order out anew, whatever orders are kept."),
    force: bool = typer.Option(False, "--force", help="Replace the file if it is there."),
    as_json: bool = typer.Option(False, "--json", help="Print the list as JSON."),
) -> None:
    """Print what comes out and goes in at each position, with polarity, leads and what to mind.

    Parts are those of the orders kept in the record; without any, those of an order worked out now.

    Example: recap checklist demo --sets glim-1 --out glim-1.pdf
    """
    if out is not None and out.suffix.lower() not in FORMS:
        message = f"{out.name}: the ending says the form of the file"
        refuse_one("wrong-usage", message, "--out", "end it in .pdf, .html or .xlsx", as_json=as_json, status=USAGE)
    from datetime import date

    from recap.fit.checklist import checklist as arrange
    from recap.fit.worklist import task

    loaded, plan = load_plan(bench, set_names(sets), fresh=fresh, everything=everything, as_json=as_json)
    tasks = [task(allotment, loaded.settings) for allotment in plan.allotments]
    today = date.today()  # noqa: DTZ011 - the user's own calendar day
    made = arrange(tasks, today, plan.origin, part_by_part=by is Arrangement.PART)
    if out is not None:
        write_file(out, _content(made, out.suffix.lower(), paper.value), force=force, as_json=as_json)
    if as_json:
        from recap.show.documents import print_document
        from recap.show.work_document import checklist_document

        print_document(checklist_document(made))
    elif out is None:
        from recap.show.terminal import output
        from recap.show.work_view import print_checklist

        print_checklist(output(), made)


def _content(made: Checklist, form: str, paper: str) -> bytes:
    if form == ".pdf":
        from recap.fit.checklist_pdf import checklist_pdf

        return checklist_pdf(made, paper=paper)
    if form == ".html":
        from recap.fit.checklist_html import checklist_html

        return checklist_html(made).encode()
    from recap.fit.checklist_xlsx import checklist_xlsx

    return checklist_xlsx(made)
