"""Goods in, in the terminal and as JSON."""

from __future__ import annotations

from itertools import groupby
from typing import TYPE_CHECKING, Any

from rich.text import Text

from recap.order.wording import brief_text
from recap.show.documents import diagnostics_document
from recap.show.tables import plain_table

if TYPE_CHECKING:
    from collections.abc import Sequence

    from rich.console import Console
    from rich.table import Table

    from recap.audit.deliveries import Line
    from recap.audit.receive import Booking


def print_booking(console: Console, booking: Booking) -> None:
    """Print what was booked, and what the rules say of each substitute at each place."""
    table = _table("Booked", "order", "supplier", "part", "came", "spare", "owed")
    for booked in booking.booked:
        instead = f" for {booked.key.part}" if booked.part != booked.key.part else ""
        table.add_row(
            Text(booked.key.order),
            Text(booked.key.supplier),
            Text(booked.part + instead),
            str(booked.qty),
            str(booked.to_drawer),
            str(booked.owed),
        )
    if booking.booked:
        console.print(table)
        if any(booked.to_drawer for booked in booking.booked):
            console.print("spare: more than the sets need; it goes to the drawer.")
    if booking.checks:
        checked = _table("Substitutes", "place", "part", "verdict")
        for check in booking.checks:
            place = f"{check.place.set} {check.place.board} {check.place.ref}"
            checked.add_row(Text(place), Text(check.part.number), check.judgement.verdict.value)
        console.print(checked)


def print_owed(console: Console, owed: Sequence[Line], *, any_orders: bool) -> None:
    """Print what is still to come, order by order, with what to look for on the bag's label."""
    if not owed:
        words = "Nothing is owed." if any_orders else "No order is kept: recap order BENCH --keep keeps one."
        console.print(words)
        return
    for order, lines in groupby(owed, key=lambda line: line.key.order):
        table = _table(f"Still owed of order {order}", "supplier", "part", "what it is", "ordered", "came", "owed")
        for line in lines:
            words = brief_text(line.part)
            counts = (str(line.ordered), str(line.received), str(line.owed))
            table.add_row(Text(line.key.supplier), Text(line.key.part), Text(words), *counts)
        console.print(table)


def receive_document(booking: Booking | None, owed: Sequence[Line]) -> dict[str, Any]:
    """Return the answer as JSON; ``booking`` None where nothing was booked."""
    return {
        "status": "shown" if booking is None else "booked",
        "booked": [
            {
                "order": b.key.order,
                "supplier": b.key.supplier,
                "line": b.key.part,
                "part": b.part,
                "qty": b.qty,
                "to_drawer": b.to_drawer,
                "owed": b.owed,
            }
            for b in (booking.booked if booking else ())
        ],
        "checks": [
            {
                "set": check.place.set,
                "board": check.place.board or None,
                "ref": check.place.ref,
                "part": check.part.number,
                "verdict": check.judgement.verdict.value,
                "reasons": [f.reason for f in check.judgement.findings if f.verdict != "fits"],
            }
            for check in (booking.checks if booking else ())
        ],
        "owed": [
            {
                "order": line.key.order,
                "supplier": line.key.supplier,
                "part": line.key.part,
                "ordered": line.ordered,
                "received": line.received,
                "owed": line.owed,
            }
            for line in owed
        ],
        "diagnostics": diagnostics_document(booking.diagnostics if booking else ()),
    }


def _table(title: str, *columns: str) -> Table:
    table = plain_table(title)
    for name in columns:
        table.add_column(name, justify="right" if name in _NUMBERS else "left")
    return table


_NUMBERS = frozenset({"came", "spare", "ordered", "owed"})
