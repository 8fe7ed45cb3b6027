"""``recap import``: any capacitor list, read and, if wanted, stored in a bench as a canonical one."""

from __future__ import annotations

import re
import sys
from itertools import count
from pathlib import Path
from typing import TYPE_CHECKING

import typer

from recap.cli import completion
from recap.cli.answers import refuse, refuse_one, typed
from recap.cli.chosen import set_names
from recap.cli.steps import READ
from recap.diagnostics import Diagnostic, Severity, has_errors
from recap.files import composed

if TYPE_CHECKING:
    from collections.abc import Sequence

    from recap.model import Position

STORED_AS = ".csv"
LISTS = (".csv", ".tsv", ".xlsx", ".md", ".txt")
NEVER_LISTS = {"readme"}
"""Names of files that no bench takes for lists."""


def register(app: typer.Typer) -> None:
    """Add the command."""
    app.command("import", rich_help_panel=READ)(import_list)


def import_list(
    file: str = typer.Argument(help="The list: text, Markdown, CSV, TSV or XLSX; - reads standard input."),
    bench: Path | None = typer.Option(None, "--bench", help="Store the list in this bench folder."),
    chassis: str | None = typer.Option(
        None, "--chassis", autocompletion=completion.chassis, help="The chassis whose list it is; names the file."
    ),
    sets: list[str] | None = typer.Option(
        None, "--sets", help="Put these sets of this chassis into sets.csv, their job full: A,B."
    ),
    force: bool = typer.Option(False, "--force", help="Take the place of a stored list; the old one is kept."),
    notes: bool = typer.Option(False, "--notes", help="Show notes too: headings, lines passed over."),
    as_json: bool = typer.Option(False, "--json", help="Print the answer as JSON."),
) -> None:
    """Read any capacitor list and say what is doubtful in it; store it with --bench and --chassis.

    Example: recap import forum-post.txt --bench mybench --chassis glimmerhatch
    """
    if (bench is None) != (chassis is None):
        raise typer.BadParameter("--bench and --chassis go together: where to store the list, and its name")
    if sets and bench is None:
        raise typer.BadParameter("it needs --bench and --chassis", param_hint="--sets")
    if not all(name.isprintable() for name in set_names(sets)):
        raise typer.BadParameter("a set's name holds a character that can't be seen", param_hint="--sets")
    target = None if bench is None or chassis is None else _target(bench, chassis, replace=force, as_json=as_json)
    _set_rows(target, set_names(sets), as_json=as_json, write=False)
    positions, found = _read(file, as_json=as_json)
    if has_errors(found):
        refuse(found, as_json=as_json) if not as_json else _refuse_json(positions, found)
    kept = _store(positions, target, replace=force, as_json=as_json) if target is not None else None
    _set_rows(target, set_names(sets), as_json=as_json)
    if as_json:
        from recap.show.documents import print_document
        from recap.show.lists import list_document

        print_document(list_document(positions, found))
        return
    _show(positions, found, notes=notes, each=target is None)
    if any(one.code == LOOKS_LIKE_PRICES for one in found) and target is None:
        return
    _next_step(positions, target, kept, file)


def _refuse_json(positions: Sequence[Position], found: Sequence[Diagnostic]) -> None:
    from recap.cli.steps import INPUT_ERRORS
    from recap.show.documents import print_document
    from recap.show.lists import list_document

    print_document(list_document(positions, found))
    raise typer.Exit(INPUT_ERRORS)


def _read(file: str, *, as_json: bool) -> tuple[tuple[Position, ...], list[Diagnostic]]:
    from recap.normalise.caplist import read_cap_list, read_cap_text

    if file != "-":
        positions, found = read_cap_list(Path(file))
        return positions, [*found, *_of_a_price_list(Path(file), positions)]
    from recap.read.decoding import decode
    from recap.read.sniff import MAX_BYTES

    data = b"" if sys.stdin is None else sys.stdin.buffer.read(MAX_BYTES + 1)  # None: it was closed from the start
    if len(data) > MAX_BYTES:
        message = f"more than {MAX_BYTES:,} bytes on standard input"
        refuse_one("file-too-large", message, "stdin", "no list is that long", as_json=as_json)
    text, told = decode(data, "stdin")
    if text is None:
        return (), told
    positions, found = read_cap_text(text, "stdin")
    return positions, told + found


_COUNTS = re.compile(
    r"\W*(?:qty|quantity|count|pcs|pieces|anzahl|menge|st(?:ü|ue)ck|stk|quantité|qté|quantità|cantidad|aantal)\W*",
    re.IGNORECASE,
)
LOOKS_LIKE_PRICES = "looks-like-prices"
PLACED = 5
"""Where one part in so many has a designator, the list is one of a set, whatever else it tells."""


def _of_a_price_list(path: Path, positions: Sequence[Position]) -> list[Diagnostic]:
    """Warn where a file is a shop's price list by its header, and no list of a set's capacitors."""
    if sum(p.ref is not None or p.qty != 1 for p in positions) * PLACED > len(positions):
        return []
    from recap.bench.heads import header_of
    from recap.diagnostics import Source, warning
    from recap.read.tables import read_tables

    for table in read_tables(path)[0]:
        head = header_of(table, str(path))
        if isinstance(head, list) or any(_COUNTS.fullmatch(text) for text in head[0].texts):
            continue
        if "part" in head[0].columns and head[0].prices.all:
            message = "this looks like a shop's price list: part numbers, prices, no designators and no counts"
            hint = "price lists go into the bench's catalogs folder as they are; recap catalog BENCH shows what is read"
            sheet = None if table.name == str(path) else table.name
            return [warning(LOOKS_LIKE_PRICES, message, Source(str(path), sheet), hint)]
    return []


NO_NAMES = frozenset(("con", "prn", "aux", "nul", *(f"{port}{n}" for port in ("com", "lpt") for n in range(1, 10))))
"""Devices on Windows (its documentation on naming files, from memory): a bench folder may move there."""


def _target(bench: Path, chassis: str, *, replace: bool, as_json: bool) -> Path:
    """Return where the list will be stored; refuse where that would lose something."""
    if not bench.is_dir():
        message = f"there is no folder {bench}: recap new {typed(bench)} --empty makes one"
        raise typer.BadParameter(message, param_hint="--bench")
    chassis = composed(chassis.strip())
    wrong = (
        set('/\\:*?"<>|') & set(chassis)
        or chassis.startswith((".", "~$"))
        or chassis.endswith(".")
        or not chassis.isprintable()
        or chassis.partition(".")[0].strip().casefold() in NO_NAMES
        or chassis.casefold() in {"", *NEVER_LISTS}
    )
    if wrong:
        raise typer.BadParameter(f"{chassis!r} can't be a list's name", param_hint="--chassis")
    target = bench / "caplists" / f"{chassis}{STORED_AS}"
    if not replace:
        _refuse_if_there(target, as_json=as_json)
    return target


def _there(target: Path) -> list[Path]:
    """Return the lists stored for that chassis, whatever their endings and however its name is written."""
    stem = target.stem.casefold()
    paths = sorted(target.parent.iterdir()) if target.parent.is_dir() else []
    return [path for path in paths if path.suffix.lower() in LISTS and path.stem.casefold() == stem]


def _refuse_if_there(target: Path, *, as_json: bool) -> None:
    if old := _there(target):
        names = ", ".join(map(str, old))
        message = f"there is a list for {target.stem} already: {names}"
        hint = "--force stores the new one and keeps the old one beside it under another name"
        refuse_one("list-exists", message, str(old[0]), hint, as_json=as_json)


def _store(positions: Sequence[Position], target: Path, *, replace: bool, as_json: bool) -> list[Path]:
    """Write the list; return the names under which older ones were kept."""
    from recap.files import alone_in, keep_beside
    from recap.normalise.canonical import write_cap_list

    try:
        target.parent.mkdir(exist_ok=True)
        with alone_in(target.parent):
            if not replace:  # another command may have stored one while this one read
                _refuse_if_there(target, as_json=as_json)
            old = _there(target)
            kept = [keep_beside(path, (path.with_name(f"{path.name}.old{n}") for n in count(1))) for path in old]
            write_cap_list(positions, target)
            for path in old:
                if not (path.exists() and path.samefile(target)):
                    path.unlink(missing_ok=True)
    except OSError as fault:
        message = f"{target} can't be written: {fault.strerror or fault}"
        refuse_one("file-unwritable", message, str(target), "check the folder and its permissions", as_json=as_json)
    return kept


def _set_rows(target: Path | None, names: Sequence[str], *, as_json: bool, write: bool = True) -> None:
    """Put the sets into ``sets.csv``, or only see that they could be: nothing is stored by halves."""
    if target is None or not names:
        return
    from recap.cli.set_rows import with_rows
    from recap.files import alone_in, write_atomically

    bench = target.parent.parent
    try:
        with alone_in(bench):
            content = with_rows(bench, names, target.stem, as_json=as_json)
            if write and content is not None:
                write_atomically(bench / "sets.csv", content)
    except OSError as fault:
        message = f"{bench / 'sets.csv'} can't be written: {fault.strerror or fault}"
        refuse_one("file-unwritable", message, str(bench), "check the folder and its permissions", as_json=as_json)


def _show(positions: Sequence[Position], found: Sequence[Diagnostic], *, notes: bool, each: bool) -> None:
    from recap.show.lists import print_doubts, print_positions, print_summary
    from recap.show.terminal import messages, output, print_diagnostics

    console = messages()
    if prices := [d for d in found if d.code == LOOKS_LIKE_PRICES]:
        print_diagnostics(prices, console=console)
        found = [d for d in found if d.severity is Severity.ERROR]  # what else there is to say helps nobody
    elif each and positions:
        print_positions(output(), positions)
    print_doubts(console, found)
    print_diagnostics([d for d in found if d.severity is Severity.NOTE], notes=notes, console=console)
    print_summary(output(), positions, found)


def _next_step(positions: Sequence[Position], target: Path | None, kept: list[Path] | None, file: str) -> None:
    from recap.cli.set_rows import next_step
    from recap.show.lists import blocking
    from recap.show.terminal import counted, messages

    console = messages()
    held = blocking(positions)
    if target is None:
        name = "FILE" if file == "-" else typed(file)
        console.print(
            f"Not stored. To store it: recap import {name} --bench BENCH --chassis NAME", markup=False, soft_wrap=True
        )
        return
    console.print(f"Stored as {target}.", markup=False, soft_wrap=True)
    for path in kept or ():
        console.print(f"The list that was there is kept as {path}.", markup=False, soft_wrap=True)
    if held:
        whose = "its" if held == 1 else "their"
        said = f"{counted(held, 'position')} will not be bought until {whose} doubts are settled: correct the cells in"
        console.print(f"{said} {target}, then delete the codes from its doubts column.", markup=False, soft_wrap=True)
        console.print(
            "What a code means: recap explain CODE. To buy as they were read, once you have looked at each: "
            "recap order … --accept-doubts",
            markup=False,
            soft_wrap=True,
        )
    console.print(next_step(target.parent.parent, target.stem), markup=False, soft_wrap=True)
