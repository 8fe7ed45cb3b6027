"""``recap work`` and ``recap note``: what else was done on a set, and what there is to say."""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path
from typing import TYPE_CHECKING, Any

import typer

from recap.cli import completion, records
from recap.cli.answers import refuse_one
from recap.cli.audit import check_set, day
from recap.cli.steps import AFTER, USAGE
from recap.show.plain import harmless

if TYPE_CHECKING:
    from collections.abc import Sequence

    from recap.audit.events import EventKind, PlaceKey
    from recap.audit.kept import KeptOrder
    from recap.bench import Bench

KINDS = "borrowed, returned, added, adjusted, symptom, repaired"


def register(app: typer.Typer) -> None:
    """Add the commands."""
    app.command("work", rich_help_panel=AFTER)(work)
    app.command("note", rich_help_panel=AFTER)(note)


def work(
    bench: Path = typer.Argument(..., help="The bench folder."),
    set_name: str = typer.Argument(..., metavar="SET", autocompletion=completion.one_set, help="Which set."),
    what: str | None = typer.Argument(
        None, metavar="[WHAT]", autocompletion=completion.words(*KINDS.split(", ")), help=f"One of: {KINDS}."
    ),
    text: str | None = typer.Argument(None, metavar="[TEXT]", help="In words."),
    board: str | None = typer.Option(None, "--board", help="The board it belongs to."),
    ref: str | None = typer.Option(None, "--ref", help="The position it belongs to."),
    other: str | None = typer.Option(
        None, "--with", autocompletion=completion.one_set, help="For a module: the other set."
    ),
    on: str | None = typer.Option(None, "--on", help="The day it was done: 2025-03-01; left out: now."),
    by: str | None = typer.Option(None, "--by", help="Who did it."),
    hours: float | None = typer.Option(None, "--hours", min=0.0, max=1e6, help="What the set's hour meter shows."),
    per_week: float | None = typer.Option(None, "--per-week", min=0.0, max=168.0, help="Hours it runs a week."),
) -> None:
    """Record other work on a set: a module borrowed, a connector added, an adjustment, a symptom, hours of use.

    Example: recap work demo glim-1 borrowed "sound module" --with glim-4 --board AUDIO
    """
    from recap.audit.events import EventKind, Work

    loaded = records.load(bench)
    check_set(loaded, set_name)
    if what is None and hours is None and per_week is None:
        refuse_one("wrong-usage", "nothing to record", "WHAT", f"name one of {KINDS}, or --hours", status=USAGE)
    new: list[tuple[EventKind, dict[str, Any]]] = []
    if what is not None:
        if what not in set(Work) or not (text or "").strip():
            refuse_one("wrong-usage", f"not a kind of work with words to it: {what!r}", "WHAT", KINDS, status=USAGE)
        if what in {Work.BORROWED, Work.RETURNED}:
            if other is None:
                refuse_one("wrong-usage", "which set is it from?", "--with", "--with OTHERSET", status=USAGE)
            check_set(loaded, other)
        new.append((EventKind.WORK, {"what": what, "text": text} | ({"with": other} if other else {})))
    if hours is not None or per_week is not None:
        told = {"hours": hours, "per_week": per_week}
        exact = {name: f"{Decimal(str(value)).normalize():f}" for name, value in told.items() if value is not None}
        new.append((EventKind.HOURS, exact))
    _record(loaded, set_name, new, board=board, ref=ref, on=on, by=by)


def note(
    bench: Path = typer.Argument(..., help="The bench folder."),
    set_name: str = typer.Argument(..., metavar="SET", autocompletion=completion.one_set, help="Which set."),
    text: str = typer.Argument(..., help="In words."),
    board: str | None = typer.Option(None, "--board", help="The board it belongs to."),
    ref: str | None = typer.Option(None, "--ref", help="The position it belongs to."),
    on: str | None = typer.Option(None, "--on", help="The day it is about: 2025-03-01; left out: now."),
    by: str | None = typer.Option(None, "--by", help="Who says it."),
) -> None:
    """Write a note on a set, a board or a position into the record.

    Example: recap note demo glim-1 "pad lifted, wired to R12" --ref C331
    """
    from recap.audit.events import EventKind

    loaded = records.load(bench)
    check_set(loaded, set_name)
    if not text.strip():
        refuse_one("wrong-usage", "a note without words", "TEXT", "say it behind the set's name", status=USAGE)
    _record(loaded, set_name, [(EventKind.NOTE, {"text": text})], board=board, ref=ref, on=on, by=by)


def _record(
    bench: Bench,
    set_name: str,
    new: list[tuple[EventKind, dict[str, Any]]],
    *,
    board: str | None,
    ref: str | None,
    on: str | None,
    by: str | None,
) -> None:
    from recap.audit.events import new_event
    from recap.audit.story import in_words

    when = day(on, "--on")
    with records.opened(bench.folder) as record:
        place = _place(bench, record.orders(), set_name, board, ref)
        events = [
            new_event(kind, when, set=set_name, board=place[0], ref=place[1], by=by, data=data) for kind, data in new
        ]
        for event in record.append(events):
            typer.echo(harmless(f"recorded: {set_name}, {in_words(event)}"))


def _place(
    bench: Bench,
    orders: Sequence[KeptOrder],
    set_name: str,
    board: str | None,
    ref: str | None,
) -> tuple[str | None, str | None]:
    """Return board and ref as the list writes them; the run ends where there is no such place, or more than one."""
    if board is None and ref is None:
        return None, None
    from recap.audit.deliveries import plan
    from recap.audit.places import places_of
    from recap.match.jobs import squeeze

    unit = next(unit for unit in bench.sets if unit.name == set_name)
    caplist = bench.caplists.get(unit.chassis)
    places = places_of(unit, caplist, plan(orders, ()).latest()) if caplist else ()
    fitting: list[PlaceKey] = [
        place.key
        for place in places
        if (board is None or squeeze(place.key.board) == squeeze(board))
        and (ref is None or squeeze(place.key.ref) == squeeze(ref))
    ]
    boards = sorted({key.board for key in fitting})
    if not fitting or len(boards) > 1:
        wanted = " ".join(word for word in (board, ref) if word)
        hint = f"it is on {', '.join(boards)}: name the --board" if boards else "see the list of its chassis"
        refuse_one("place-unknown", f"{set_name}: no one place is {wanted!r}", str(bench.folder), hint, status=USAGE)
    return fitting[0].board, fitting[0].ref if ref is not None else None
