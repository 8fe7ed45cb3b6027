"""``recap history``: what was done when, what was measured, what comes due."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import typer

from recap.cli import completion, records
from recap.cli.audit import check_set, day
from recap.cli.steps import AFTER

if TYPE_CHECKING:
    from collections.abc import Sequence
    from datetime import datetime
    from decimal import Decimal

    from recap.audit.chronicle import Chronicle
    from recap.audit.events import Event
    from recap.audit.kept import KeptOrder
    from recap.bench import Bench


def register(app: typer.Typer) -> None:
    """Add the command."""
    app.command("history", rich_help_panel=AFTER)(history)


def history(
    bench: Path = typer.Argument(..., help="The bench folder."),
    set_name: str | None = typer.Argument(
        None, metavar="SET", autocompletion=completion.one_set, help="Which set; left out: a line for each."
    ),
    since: str | None = typer.Option(None, "--since", help="Only what happened since this day: 2025-03-01."),
    ambient: str = typer.Option("45", "--ambient", help="°C inside the set, for the life estimate."),
    as_json: bool = typer.Option(False, "--json", help="Print the answer as JSON."),
) -> None:
    """Tell a set's story: work, sessions, readings, modules lent, and when its parts come due.

    Parts come due by the published life formulas and the hours the set has run (recap work SET --hours).

    Example: recap history demo glim-1
    """
    from recap.cli import typed

    loaded = records.load(bench, as_json=as_json)
    if set_name is not None:
        check_set(loaded, set_name, as_json=as_json)
    events, orders = records.read(bench, as_json=as_json)
    names = [unit.name for unit in loaded.sets] if set_name is None else [set_name]
    start = day(since, "--since", as_json=as_json)
    told = [_chronicle(loaded, name, orders, events, typed.degrees(ambient, "--ambient"), start) for name in names]
    if as_json:
        from recap.show.documents import print_document
        from recap.show.history_view import history_document

        print_document({"sets": [history_document(one) for one in told]})
        return
    from recap.show.history_view import print_overview, print_story
    from recap.show.terminal import output

    if set_name is None:
        print_overview(output(), told)
    else:
        print_story(output(), told[0])


def _chronicle(
    bench: Bench,
    name: str,
    orders: Sequence[KeptOrder],
    events: Sequence[Event],
    ambient_C: Decimal,
    start: datetime | None,
) -> Chronicle:
    from datetime import UTC, datetime

    from recap.audit.chronicle import chronicle
    from recap.audit.on_hand import known_part
    from recap.audit.places import Lists

    lists = Lists(bench.sets, bench.caplists, bench.settings)
    return chronicle(
        name,
        lists,
        orders,
        events,
        find=lambda number: known_part(bench, orders, events, number),
        now=datetime.now(UTC),
        ambient_C=ambient_C,
        start=start,
    )
