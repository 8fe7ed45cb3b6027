"""An estimate in the terminal and as JSON."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from rich import box
from rich.table import Table
from rich.text import Text

from recap.show.documents import amount, number
from recap.show.terminal import money

if TYPE_CHECKING:
    from collections.abc import Sequence

    from rich.console import Console

    from recap.audit.estimate import Choice, Purchase
    from recap.audit.pace import Pace


def print_estimate(
    console: Console, found: Sequence[Choice], bought: Purchase | None, pace: Pace, currency: str
) -> None:
    """Print a line per set and way to go, then buying together against one by one, then where the hours come from."""
    table = Table(box=box.SIMPLE_HEAD)
    for title in ("set", "way to go"):
        table.add_column(title)
    for title in ("parts", currency, "hours"):
        table.add_column(title, justify="right")
    table.add_column("")
    before = None
    for choice in found:
        if before not in {None, choice.set}:
            table.add_section()
        table.add_row(
            Text(choice.set if choice.set != before else ""),
            Text(choice.name),
            str(choice.parts),
            "none to be had" if choice.cost is None else money(choice.cost),
            f"{choice.hours:.1f}",
            Text("; ".join(_remarks(choice))),
        )
        before = choice.set
    console.print(table)
    if bought is not None and bought.together is not None and bought.apart is not None and bought.saved is not None:
        console.print(
            Text(
                f"Everything for all {len(bought.sets)} sets in one order: {money(bought.together, currency)}"
                f"{'' if bought.proven else ' or less'}; one set at a time: {money(bought.apart, currency)}. "
                f"Buying now for all saves {money(bought.saved, currency)}."
            )
        )
    learnt = f"learnt from {pace.learnt_from} parts in the record" if pace.learnt_from else "not learnt from the record"
    console.print(
        Text(
            f"Hours: {pace.per_part:g} minutes per part ({learnt}), {pace.per_set:g} to open and close a set.",
            style="dim",
        )
    )


def _remarks(choice: Choice) -> list[str]:
    told = []
    if choice.without:
        told.append(f"without {choice.without} that can't be had")
    if choice.cost is not None and not choice.proven:
        told.append("the best found in the time")
    return told


def estimate_document(found: Sequence[Choice], bought: Purchase | None, pace: Pace, currency: str) -> dict[str, Any]:
    """Return the estimate as JSON; money as exact text."""
    return {
        "currency": currency,
        "minutes_per_part": number(pace.per_part),
        "minutes_per_set": number(pace.per_set),
        "learnt_from": pace.learnt_from,
        "choices": [
            {
                "set": c.set,
                "way": c.name,
                "parts": c.parts,
                "cost": None if c.cost is None else amount(c.cost),
                "hours": round(float(c.hours), 2),
                "proven": c.proven,
                "without": c.without,
            }
            for c in found
        ],
        "together": None
        if bought is None
        else {
            "sets": list(bought.sets),
            "cost": None if bought.together is None else amount(bought.together),
            "one_by_one": None if bought.apart is None else amount(bought.apart),
            "saved": None if bought.saved is None else amount(bought.saved),
        },
    }
