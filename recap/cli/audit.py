"""``recap audit``: going over one's own steps."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

import typer

from recap.cli import completion, records
from recap.cli.answers import refuse_one
from recap.cli.steps import AFTER, USAGE

if TYPE_CHECKING:
    from recap.bench import Bench

SHOWN = 20


def register(app: typer.Typer) -> None:
    """Add the command."""
    app.command("audit", rich_help_panel=AFTER)(audit)


def audit(
    bench: Path = typer.Argument(..., help="The bench folder."),
    set_name: str = typer.Argument(..., metavar="SET", autocompletion=completion.one_set, help="Which set."),
    about: str | None = typer.Option(None, "--about", help='The fault in words: "hum on the left channel".'),
    board: str | None = typer.Option(None, "--board", help="Only this board."),
    since: str | None = typer.Option(None, "--since", help="Only what was touched since this day: 2025-03-01."),
    everything: bool = typer.Option(False, "--all", help="Every position, those without a reason too."),
    as_json: bool = typer.Option(False, "--json", help="Print the answer as JSON."),
) -> None:
    """List what is most likely wrong in a set, the likeliest first, with everything that is known of each position.

    What was there, what the list says, what was fitted, from which order, when, checked by whom or never.

    Example: recap audit demo glim-1 --about "hum" --board POWER
    """
    from recap.audit.on_hand import known_part
    from recap.audit.places import Lists
    from recap.audit.review import Question, review

    loaded = records.load(bench, as_json=as_json)
    check_set(loaded, set_name, as_json=as_json)
    events, orders = records.read(bench, as_json=as_json)
    question = Question(set_name, day(since, "--since", as_json=as_json), board, about)
    lists = Lists(loaded.sets, loaded.caplists, loaded.settings)
    found = review(question, lists, orders, events, find=lambda number: known_part(loaded, orders, events, number))
    if board is not None and not found.suspects:
        message = f"{set_name} has no position on a board {board!r}" + (" touched since then" if since else "")
        hint = "without --board every position of the set is shown, with the name of its board"
        refuse_one("place-unknown", message, str(bench), hint, as_json=as_json, status=USAGE)
    if as_json:
        from recap.show.audit_view import audit_document
        from recap.show.documents import print_document

        print_document(audit_document(found))
        return
    from recap.show.audit_view import print_audit
    from recap.show.terminal import output

    print_audit(output(), found, most=None if everything else SHOWN)


def check_set(bench: Bench, name: str, *, as_json: bool = False) -> None:
    """End the run where no set bears this name."""
    known = [unit.name for unit in bench.sets]
    if name not in known:
        hint = f"sets.csv has {', '.join(known) or 'no sets'}"
        refuse_one("set-unknown", f"no set is called {name!r}", str(bench.folder), hint, as_json=as_json, status=USAGE)


def day(text: str | None, option: str, *, as_json: bool = False) -> datetime | None:
    """Return the beginning of a day in local time."""
    if text is None:
        return None
    try:
        return datetime.fromisoformat(text).astimezone()
    except ValueError:
        refuse_one("wrong-usage", f"not a day: {text!r}", option, "write 2025-03-01", as_json=as_json, status=USAGE)
