"""``recap labels``: labels for the bags, on common sheets or plain paper."""

from __future__ import annotations

from enum import StrEnum
from pathlib import Path

import typer

from recap.cli.answers import refuse_one
from recap.cli.chosen import SETS, set_names
from recap.cli.plans import load_plan, write_file
from recap.cli.steps import RECEIVE, USAGE


class SheetName(StrEnum):
    """The sheets of :data:`recap.fit.labels.SHEETS`, named here so that help costs no imports."""

    A4_3X8 = "a4-3x8"
    A4_2X7 = "a4-2x7"
    LETTER_3X10 = "letter-3x10"
    A4 = "a4"
    LETTER = "letter"


def register(app: typer.Typer) -> None:
    """Add the command."""
    app.command("labels", rich_help_panel=RECEIVE)(labels)


def labels(
    bench: Path = typer.Argument(..., help="The bench folder."),
    out: Path = typer.Option(..., "--out", help="The PDF to write."),
    sets: list[str] | None = SETS,
    sheet: SheetName = typer.Option(
        SheetName.A4,
        "--sheet",
        help="a4-3x8: 70 × 37 mm; a4-2x7: 99.1 × 38.1; letter-3x10: 66.7 × 25.4; a4, letter: plain, with cut marks.",
    ),
    skip: int = typer.Option(0, "--skip", min=0, help="Labels already used on the first sheet."),
    url: str = typer.Option("", "--url", help="Address of the bench page for the QR codes; without it there are none."),
    fresh: bool = typer.Option(False, "--fresh", help="Work the order out anew, whatever orders are kept."),
    force: bool = typer.Option(False, "--force", help="Replace the file if it is there."),
) -> None:
    """Write a label for every part of every board of every set, with a QR code that opens that place on the page.

    Print at 100 %, not fitted to the page. The address for --url is what "recap bench --lan" prints.

    Example: recap labels demo --sheet a4-3x8 --url http://192.168.1.20:8470 --out labels.pdf
    """
    if out.suffix.lower() != ".pdf":
        refuse_one("wrong-usage", f"{out.name}: labels are a PDF", "--out", "end it in .pdf", status=USAGE)
    if url and not url.startswith(("http://", "https://")):
        refuse_one("wrong-usage", f"{url!r} is no address of a page", "--url", "http://HOST:PORT", status=USAGE)
    from recap.fit.bags import sort_into_bags
    from recap.fit.labels import SHEETS
    from recap.fit.labels import labels as made
    from recap.fit.labels_pdf import labels_pdf
    from recap.show.terminal import counted

    chosen = SHEETS[sheet.value]
    if skip >= chosen.count:
        message = f"a sheet {sheet.value} has {chosen.count} labels, {skip} can't be used already"
        refuse_one("wrong-usage", message, "--skip", f"0 to {chosen.count - 1}", status=USAGE)
    _, plan = load_plan(bench, set_names(sets), fresh=fresh, everything=True)
    found = made(sort_into_bags(plan), url)
    write_file(out, labels_pdf(found, chosen, skip=skip), force=force)
    pages = -(-(len(found) + skip) // chosen.count)
    amount = f"{counted(len(found), 'label')}, {counted(pages, 'sheet')} of {chosen.description}"
    typer.echo(f"{amount}; print at 100 %", err=True)
