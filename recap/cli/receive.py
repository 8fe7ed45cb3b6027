"""``recap receive``: goods in."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import typer

from recap.cli import completion, records
from recap.cli.answers import advise, refuse, tell, typed
from recap.cli.steps import RECEIVE

if TYPE_CHECKING:
    from collections.abc import Sequence

    from recap.audit.events import Event
    from recap.audit.kept import KeptOrder
    from recap.audit.receive import Booking, Delivery
    from recap.bench import Bench
    from recap.model import Part


def register(app: typer.Typer) -> None:
    """Add the command."""
    app.command("receive", rich_help_panel=RECEIVE)(receive)


def receive(
    bench: Path = typer.Argument(..., help="The bench folder."),
    order: str | None = typer.Option(None, "--order", help="Which kept order, such as 2025-03-01-1."),
    everything: bool = typer.Option(False, "--all", help="All that is owed came, but for the lines named."),
    supplier: str | None = typer.Option(
        None,
        "--supplier",
        metavar="SUPPLIER",
        autocompletion=completion.suppliers,
        help="Only this supplier's parcel came.",
    ),
    line: list[str] | None = typer.Option(None, "--line", metavar="PART=QTY", help="So many came; may be repeated."),
    instead: list[str] | None = typer.Option(
        None, "--instead", metavar="OLD=NEW", help="NEW came for OLD; may be repeated."
    ),
    spec: list[str] | None = typer.Option(
        None, "--spec", help='What a substitute is, as a list line: "NEW=47uF 25V 105C radial 5x11 p2".'
    ),
    close: bool = typer.Option(False, "--close", help="What is still owed of the order won't come."),
    as_json: bool = typer.Option(False, "--json", help="Print the answer as JSON."),
) -> None:
    """Book a delivery against a kept order; spares and leftovers go to the drawer. Without options: what is owed.

    A substitute is judged at once at every place it would go to, and refused where it doesn't fit.

    Example: recap receive demo --all --line P12-10-50=12

    Example: recap receive demo --all --supplier kolbenried
    """
    from recap.audit.receive import Delivery, asked

    if close and supplier is not None:
        raise typer.BadParameter("--close gives up a whole order, not one parcel of it", param_hint="--supplier")
    loaded = records.load(bench, as_json=as_json)
    delivery = Delivery(
        order,
        everything,
        records.counts(line, "--line", as_json=as_json),
        records.pairs(instead, "--instead", as_json=as_json),
        close,
        supplier,
    )
    if not (everything or delivery.counts or delivery.instead or close):
        events, orders = records.read(bench, as_json=as_json)
        if told := asked(delivery, orders, events)[1]:
            refuse(told, as_json=as_json)
        if _show(None, orders, events, delivery, as_json=as_json) and not as_json:
            whole = f"recap receive {typed(bench)} --all"
            parcel = "one parcel: --all --supplier NAME"
            advise(f"All came: {whole}; {parcel}; all but one line: --all --line PART=QTY; one line: --line PART=QTY")
        return
    specs = _specs(records.pairs(spec, "--spec", as_json=as_json))
    with records.opened(bench, as_json=as_json) as record:
        with record.transaction():  # what is owed must not be booked by another command meanwhile
            orders = record.orders()
            booking, seen = _book(loaded, record.events(), orders, delivery, specs)
            if any(d.severity == "error" for d in booking.diagnostics):
                refuse(booking.diagnostics, as_json=as_json)
            record.add([*seen, *booking.events])
        _show(booking, orders, record.events(), as_json=as_json)
    if not as_json and orders:
        at = typed(bench)
        advise(f"Next: recap bags {at}, recap labels {at} --out labels.pdf, recap bench {at}")


def _book(
    bench: Bench,
    events: tuple[Event, ...],
    orders: tuple[KeptOrder, ...],
    delivery: Delivery,
    specs: dict[str, Part],
) -> tuple[Booking, list[Event]]:
    from datetime import UTC, datetime

    from recap.audit.drawer import noted, rows_of
    from recap.audit.on_hand import known_part
    from recap.audit.receive import book

    def find(number: str) -> Part | None:
        return specs.get(number) or known_part(bench, orders, events, number)

    booking = book(delivery, orders, events, bench.settings, find=find, when=datetime.now(UTC))
    seen = noted(rows_of(bench.drawer), orders, events)
    return booking, [] if seen is None else [seen]


def _specs(words: dict[str, str]) -> dict[str, Part]:
    from dataclasses import replace

    from recap.cli import typed
    from recap.model import Part

    found: dict[str, Part] = {}
    for number, text in words.items():
        stated = typed.part(text, "--spec")
        position = stated.positions[0]
        shared = ("value_uF", "volts", "temp_C", "mount", "kind", "pitch_mm", "diameter_mm", "height_mm", "ripple_mA")
        part = Part("as told", number, safety=position.safety, life_h=stated.life_h)
        found[number] = replace(part, **{name: getattr(position, name) for name in shared})
    return found


def _show(
    booking: Booking | None,
    orders: Sequence[KeptOrder],
    events: Sequence[Event],
    of: Delivery | None = None,
    *,
    as_json: bool,
) -> bool:
    """Print what was booked and what is owed, of the order and supplier named or of all; return whether anything is."""
    from recap.audit.deliveries import lines
    from recap.audit.receive import asked

    every = lines(orders, events) if of is None else asked(of, orders, events)[0]
    owed = [line for line in every if line.owed]
    if as_json:
        from recap.show.documents import print_document
        from recap.show.receive_view import receive_document

        print_document(receive_document(booking, owed))
        return bool(owed)
    from recap.show.receive_view import print_booking, print_owed
    from recap.show.terminal import output

    if booking is not None:
        tell(booking.diagnostics)
        print_booking(output(), booking)
    print_owed(output(), owed, any_orders=bool(orders))
    return bool(owed)
