"""``recap estimate``: what each way to go with a set costs, in money and hours."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from pathlib import Path
from typing import TYPE_CHECKING

import typer

from recap.cli import records
from recap.cli.answers import tell
from recap.cli.chosen import SETS, check_boards, check_sets, set_names
from recap.cli.steps import AFTER

if TYPE_CHECKING:
    from collections.abc import Sequence

    from recap.audit.estimate import Choice, Purchase
    from recap.audit.events import Event, PlaceKey
    from recap.audit.pace import Pace
    from recap.bench import Bench


def register(app: typer.Typer) -> None:
    """Add the command."""
    app.command("estimate", rich_help_panel=AFTER)(estimate)


def estimate(
    bench: Path = typer.Argument(..., help="The bench folder."),
    sets: list[str] | None = SETS,
    board: list[str] | None = typer.Option(None, "--board", help="This board alone too; may be repeated; all: each."),
    minutes: float | None = typer.Option(
        None, "--minutes", min=0.1, help="Minutes per part; left out: learnt from the record, or the usual four."
    ),
    opening: float | None = typer.Option(None, "--opening", min=0.0, help="Minutes to open and close a set."),
    time_limit: float = typer.Option(
        8.0, "--time-limit", min=0.1, help="Seconds for each order; keeps the best so far."
    ),
    as_json: bool = typer.Option(False, "--json", help="Print the answer as JSON."),
) -> None:
    """Compare leaving each set, doing its suspects, a board, or everything: parts by real orders, hours by the pace.

    Then what buying for all at once saves against buying for one after the other. Suspects: parts that
    smooth or switch, parts measured bad, boards with a symptom told. Positions that are in already are left out;
    those that a kept order has bought for cost nothing.

    Example: recap estimate demo --sets glim-1,glim-2 --board POWER
    """
    from recap.audit.pace import learnt
    from recap.match.jobs import squeeze

    loaded, _ = records.on_hand(records.load(bench, prices=True, as_json=as_json), as_json=as_json)
    names = set_names(sets) or [u.name for u in loaded.sets]
    check_sets(loaded, names, as_json=as_json)
    check_boards(loaded, names, [name for name in board or () if squeeze(name) != "all"], as_json=as_json)
    loaded, paid, told = records.paid(loaded, names)
    tell(told, notes=True)
    events, _ = records.read(bench, as_json=as_json)
    pace = learnt(events)
    if minutes is not None:
        pace = replace(pace, per_part=Decimal(str(minutes)), learnt_from=0)
    if opening is not None:
        pace = replace(pace, per_set=Decimal(str(opening)))
    found, bought = _work_out(loaded, names, events, pace, board or (), paid, time_limit)
    if as_json:
        from recap.show.documents import print_document
        from recap.show.estimate_view import estimate_document

        print_document(estimate_document(found, bought, pace, loaded.settings.currency))
        return
    from recap.show.estimate_view import print_estimate
    from recap.show.terminal import output

    print_estimate(output(), found, bought, pace, loaded.settings.currency)


def _work_out(
    bench: Bench,
    names: Sequence[str],
    events: Sequence[Event],
    pace: Pace,
    boards: Sequence[str],
    paid: frozenset[PlaceKey],
    seconds: float,
) -> tuple[list[Choice], Purchase | None]:
    from recap.audit.estimate import EVERYTHING, choices, purchase
    from recap.match.jobs import on_set, squeeze
    from recap.show.terminal import messages

    found: list[Choice] = []
    wanted = {squeeze(name) for name in boards}
    with messages().status("…") as status:
        for unit in bench.sets:
            if unit.name not in names or unit.chassis not in bench.caplists:
                continue
            present = dict.fromkeys(p.board for p in on_set(unit, bench.caplists[unit.chassis]) if p.board)
            chosen = [b for b in present if squeeze(b) in wanted or "all" in wanted]
            said = status.update
            found += choices(bench, unit, events, pace, boards=chosen, paid=paid, seconds=seconds, said=said)
        whole = [choice for choice in found if choice.name == EVERYTHING and choice.parts]
        status.update("all together")
        if len(whole) <= 1:
            return found, None
        return found, purchase(bench, [c.set for c in whole], whole, events, paid=paid, seconds=seconds)
