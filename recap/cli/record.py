"""``recap record``: back the record up, take it out, bring it in."""

from __future__ import annotations

import os
from pathlib import Path
from typing import NoReturn

import typer

from recap.cli import records
from recap.cli.answers import ROOM, Group, refuse_one
from recap.cli.steps import AFTER, USAGE

commands = typer.Typer(cls=Group, no_args_is_help=True, help="Back the record up, export it, import it, check it.")


def register(app: typer.Typer) -> None:
    """Add the commands."""
    app.add_typer(commands, name="record", rich_help_panel=AFTER)


@commands.command("backup")
def backup(
    bench: Path = typer.Argument(..., help="The bench folder."),
    out: Path | None = typer.Option(None, "--out", help="The new file; left out: record-DATE-TIME.db beside it."),
) -> None:
    """Copy the record to a new file, whole, while work goes on.

    Example: recap record backup demo
    """
    from datetime import datetime

    target = out or bench / f"record-{datetime.now().astimezone():%Y%m%d-%H%M%S}.db"
    _there(bench)
    with records.opened(bench, to_read=True) as record:
        try:
            record.backup(target)
        except FileExistsError:
            refuse_one("would-overwrite", f"{target} is there already", str(target), "name another file")
        except OSError as fault:
            refuse_one("not-writable", f"the backup can't be written: {fault}", str(target), ROOM)
    typer.echo(f"backed up to {target}")


@commands.command("export")
def export(
    bench: Path = typer.Argument(..., help="The bench folder."),
    out: Path = typer.Option(..., "--out", help="NAME.json for one document, or a new folder for CSV tables."),
) -> None:
    """Write everything in the record as JSON, or as CSV tables and photos in a folder.

    Example: recap record export demo --out record.json
    """
    from recap.audit.transfer import contents, json_text, write_csv
    from recap.files import write_new

    _there(bench)
    if out.exists():
        _refuse_taken(out)
    with records.opened(bench, to_read=True) as record:
        held = contents(record)
    try:
        if out.suffix.lower() == ".json":
            write_new(out, json_text(held))
        else:
            write_csv(held, out)
    except FileExistsError:
        _refuse_taken(out)
    except OSError as fault:
        refuse_one("not-writable", f"the export can't be written: {fault}", str(out), ROOM)
    typer.echo(f"{_counted(len(held.events), len(held.orders), len(held.photos))} to {out}")


@commands.command("import")
def import_(
    bench: Path = typer.Argument(..., help="The bench folder."),
    path: Path = typer.Argument(..., metavar="EXPORT", exists=True, help="A JSON export, or a folder of CSV tables."),
) -> None:
    """Add to the record what an export tells and it doesn't know yet; all of it or nothing.

    Example: recap record import demo record.json
    """
    from recap.audit.record import EventConflictError
    from recap.audit.transfer import TransferError, bring_in, read_export

    _folder(bench)
    try:
        held = read_export(path)
        with records.opened(bench) as record:
            added = bring_in(held, record)
    except TransferError as fault:
        hint = "name a file or folder that recap record export wrote; nothing was imported"
        refuse_one("export-unreadable", str(fault), str(path), hint)
    except EventConflictError as fault:
        hint = "it is the export of another record, or was changed: take it as it was written"
        refuse_one("record-conflict", f"{fault}: nothing was imported", str(path), hint)
    typer.echo(f"added {_counted(added.events, added.orders, added.photos)}")


def _counted(events: int, orders: int, photos: int) -> str:
    from recap.show.terminal import counted

    return f"{counted(events, 'event')}, {counted(orders, 'order')}, {counted(photos, 'photo')}"


@commands.command("check")
def check(bench: Path = typer.Argument(..., help="The bench folder.")) -> None:
    """Look whether the record's file is sound.

    Example: recap record check demo
    """
    _there(bench)
    with records.opened(bench, to_read=True) as record:
        faults = record.faults()
        count = len(record.events())
    if faults:
        refuse_one("record-unusable", "; ".join(faults[:5]), str(bench), "put a backup in its place")
    typer.echo(f"sound: {count} events")


def _refuse_taken(out: Path) -> NoReturn:
    refuse_one("would-overwrite", f"{out} is there already", str(out), "name another file or folder")


def _there(bench: Path) -> None:
    from recap.audit.record import FILE_NAME

    _folder(bench)
    if not os.path.lexists(bench / FILE_NAME):
        hint = "it begins with the first order kept or the first tick"
        refuse_one("file-missing", f"{bench} has no record yet", str(bench / FILE_NAME), hint, status=USAGE)


def _folder(bench: Path) -> None:
    if not bench.is_dir():
        refuse_one("file-missing", f"there is no folder {bench}", str(bench), "recap new DIR makes a bench folder")
