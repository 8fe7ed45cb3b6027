"""``recap bags``: what goes into the bag of each set."""

from __future__ import annotations

from pathlib import Path

import typer

from recap.cli.answers import refuse_one
from recap.cli.chosen import SETS, set_names
from recap.cli.plans import load_plan, write_file
from recap.cli.steps import RECEIVE, USAGE


def register(app: typer.Typer) -> None:
    """Add the command."""
    app.command("bags", rich_help_panel=RECEIVE)(bags)


def bags(
    bench: Path = typer.Argument(..., help="The bench folder."),
    sets: list[str] | None = SETS,
    out: Path | None = typer.Option(None, "--out", help="Write an .xlsx, a sheet per set."),
    fresh: bool = typer.Option(False, "--fresh", help="Work the order out anew, whatever orders are kept."),
    force: bool = typer.Option(False, "--force", help="Replace the file if it is there."),
    as_json: bool = typer.Option(False, "--json", help="Print the bags as JSON."),
) -> None:
    """Print for each set what goes into its bag, by board and value, and what is left for the drawer.

    Example: recap bags demo --sets glim-1
    """
    if out is not None and out.suffix.lower() != ".xlsx":
        message = f"{out.name}: bags are written as a workbook"
        refuse_one("wrong-usage", message, "--out", "end it in .xlsx", as_json=as_json, status=USAGE)
    from recap.fit.bags import sort_into_bags

    _, plan = load_plan(bench, set_names(sets), fresh=fresh, everything=True, as_json=as_json)
    sorting = sort_into_bags(plan)
    if out is not None:
        from recap.fit.bags_xlsx import bags_xlsx

        write_file(out, bags_xlsx(sorting), force=force, as_json=as_json)
    if as_json:
        from recap.show.documents import print_document
        from recap.show.work_document import bags_document

        print_document(bags_document(sorting))
    elif out is None:
        from recap.show.terminal import output
        from recap.show.work_view import print_bags

        print_bags(output(), sorting)
