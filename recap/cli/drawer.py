"""``recap drawer``: what lies there, by the user's file and the record together."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import typer

from recap.cli import records
from recap.cli.answers import refuse_one, tell
from recap.cli.steps import RECEIVE, USAGE
from recap.diagnostics import Severity

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from recap.audit.events import Event
    from recap.audit.kept import KeptOrder
    from recap.bench import Bench
    from recap.diagnostics import Diagnostic

EVERY = "all"


def register(app: typer.Typer) -> None:
    """Add the command."""
    app.command("drawer", rich_help_panel=RECEIVE)(drawer)


def drawer(
    bench: Path = typer.Argument(..., help="The bench folder."),
    counted: list[str] | None = typer.Option(
        None, "--counted", help="PART (or all): drawer.csv is what lies there now; earlier movements are in it."
    ),
    corrected: list[str] | None = typer.Option(
        None, "--corrected", help="PART (or all): drawer.csv was only put right; movements count on top of it."
    ),
    move: list[str] | None = typer.Option(None, "--move", help="PART=QTY put in, PART=-QTY taken out."),
    why: str = typer.Option("", "--why", help="With --move: the reason."),
    as_json: bool = typer.Option(False, "--json", help="Print the answer as JSON."),
) -> None:
    """Show what lies in the drawer: drawer.csv, what moved since, and what you must settle.

    drawer.csv is yours and is never written. Deliveries, parts fitted and --move are kept in the record;
    both together are what an order counts on.

    Example: recap drawer demo --move HRN-47-25=-1 --why "dropped"
    """
    loaded, said = records.load_and_said(bench, as_json=as_json)
    moves = records.counts(move, "--move", signed=True, as_json=as_json)
    if counted or corrected or moves:
        with records.opened(bench, as_json=as_json) as record, record.transaction():
            events, orders = record.events(), record.orders()
            settle = {"counted": counted or (), "corrected": corrected or ()}
            new = _settled(loaded, orders, events, settle, as_json=as_json)
            record.add([*new, *_moved(loaded, orders, events, moves, why, as_json=as_json)])
    events, orders = records.read(bench, as_json=as_json)
    _show(loaded, orders, events, said, as_json=as_json)


def _of_drawer(told: Sequence[Diagnostic]) -> list[Diagnostic]:
    """Return what is said of the drawer's own file, above a note: a part that isn't read would seem not to be there."""
    own = [one for one in told if Path(one.source.file).stem.casefold() == "drawer"]
    return [one for one in own if one.severity is not Severity.NOTE]


def _settled(
    bench: Bench,
    orders: Sequence[KeptOrder],
    events: Sequence[Event],
    words: Mapping[str, Sequence[str]],
    *,
    as_json: bool,
) -> list[Event]:
    from recap.audit.drawer import balances, noted, rows_of, settled

    rows = rows_of(bench.drawer)
    known = balances(rows, orders, events)
    new = []
    for how, named in words.items():
        parts = [part for part in known if part in named or EVERY in named]
        unknown = [part for part in named if part not in known and part != EVERY]
        if unknown:
            message = f"the drawer knows no {', '.join(unknown)}"
            hint = "name a part that recap drawer shows, or all"
            refuse_one("wrong-usage", message, f"--{how}", hint, as_json=as_json, status=USAGE)
        if parts:
            new.append(settled(rows, orders, events, parts, counted=how == "counted"))
    seen = None if new else noted(rows, orders, events)
    return new if seen is None else [seen]


def _moved(
    bench: Bench,
    orders: Sequence[KeptOrder],
    events: Sequence[Event],
    moves: Mapping[str, int],
    why: str,
    *,
    as_json: bool,
) -> list[Event]:
    from recap.audit.codec import encode
    from recap.audit.events import EventKind, new_event
    from recap.audit.on_hand import as_drawer_part, known_part

    new = []
    for number, qty in moves.items():
        part = known_part(bench, orders, events, number)
        if part is None:
            hint = "add it to drawer.csv instead"
            message = f"nothing is known about {number}"
            refuse_one("line-unknown", message, "--move", hint, as_json=as_json, status=USAGE)
        data = {"part": number, "qty": qty, "spec": encode(as_drawer_part(part))}
        new.append(new_event(EventKind.MOVED, data=data | ({"why": why} if why else {})))
    return new


def _show(
    bench: Bench, orders: Sequence[KeptOrder], events: Sequence[Event], said: Sequence[Diagnostic], *, as_json: bool
) -> None:
    from recap.audit.drawer import balances, effective, rows_of, set_aside
    from recap.audit.on_hand import places_on_job

    aside = set_aside(orders, events, places_on_job(bench))
    known = balances(rows_of(bench.drawer), orders, events)
    lying, told = effective(bench.drawer, orders, events, {})
    if as_json:
        from recap.show.documents import print_document
        from recap.show.drawer_view import drawer_document

        print_document(drawer_document(known, lying, aside, [*_of_drawer(said), *told]))
        return
    from recap.show.drawer_view import print_drawer
    from recap.show.terminal import output

    tell(told)
    print_drawer(output(), known, lying, aside)
