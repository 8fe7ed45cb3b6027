"""``recap new``: a bench folder to start from."""

from __future__ import annotations

from pathlib import Path

import typer

from recap.cli.answers import refuse, refuse_one, typed
from recap.cli.steps import START, USAGE

TO_TRY = ("Try it: recap order {bench}", "For your own sets: recap new DIR --empty")
TO_FILL = (
    "Then:",
    "  1. recap import YOURLIST --bench {bench} --chassis NAME --sets YOURSET",
    "  2. each shop's price list into {folder}/catalogs, and a row for the shop in suppliers.csv there",
    "  3. recap order {bench}",
    "Which boards a set has and what is to be done on it stands in {folder}/sets.csv.",
)


def register(app: typer.Typer) -> None:
    """Add the command."""
    app.command("new", rich_help_panel=START)(new)


def new(
    folder: Path = typer.Argument(..., metavar="DIR", help="The folder to make; its files must not be there yet."),
    demo: bool = typer.Option(False, "--demo", help="Copy the larger demo bench instead of the small example."),
    empty: bool = typer.Option(False, "--empty", help="Headers and settings only, to fill with your own."),
    as_json: bool = typer.Option(False, "--json", help="Print what was written as JSON."),
) -> None:
    """Make a bench folder with commented example files that already work.

    Two small chassis, three sets, two suppliers, a drawer, to see how it goes; --empty makes one for your own.
    Nothing that exists is overwritten.

    Example: recap new mybench --empty
    """
    if demo and empty:
        message = "--demo and --empty exclude each other"
        refuse_one("wrong-usage", message, "recap new", "name one", as_json=as_json, status=USAGE)
    from recap.bench.starter import demo_files, empty_files, starter_files, write_starter
    from recap.show.documents import print_document
    from recap.show.terminal import output

    files = demo_files() if demo else empty_files() if empty else starter_files()
    try:
        told = write_starter(folder, files)
    except OSError as fault:
        message = f"can't write there: {fault.strerror or fault}"
        refuse_one("file-unwritable", message, str(folder), "name another folder", as_json=as_json)
    if told:
        refuse(told, as_json=as_json)
    if as_json:
        print_document({"folder": str(folder), "files": sorted(files)})
        return
    console = output()
    console.print(f"Made {folder} with {len(files)} files:", soft_wrap=True, markup=False)
    for name in sorted(files):
        console.print(f"  {name}", soft_wrap=True, markup=False)
    for line in (step.format(folder=folder, bench=typed(folder)) for step in (TO_FILL if empty else TO_TRY)):
        console.print(line, soft_wrap=True, markup=False)
