"""An estimate in the terminal and as JSON."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from rich.text import Text

from recap.show.documents import amount, number
from recap.show.tables import plain_table
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
    table = plain_table()
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
    if bought is not None and (told := _compared(bought, currency)):
        console.print(Text(told))
    learnt = f"learnt from {pace.learnt_from} parts in the record" if pace.learnt_from else "not learnt from the record"
    console.print(
        Text(
            f"Hours: {pace.per_part:g} minutes per part ({learnt}), {pace.per_set:g} to open and close a set.",
            style="dim",
        )
    )


def _compared(bought: Purchase, currency: str) -> str | None:
    """Return buying for all at once against one by one in words; None where there is nothing to compare."""
    whole = f"Everything for all {len(bought.sets)} sets in one order"
    if bought.apart is None:
        return None
    apart = f"one set after the other: {money(bought.apart, currency)}"
    if bought.together is None or bought.saved is None:
        return None if bought.proven else f"{whole}: not found in the time, give it more (--time-limit); {apart}."
    or_less = "" if bought.proven else " or less"
    outcome = "saves" if bought.saved >= 0 else "costs more by"
    return (
        f"{whole}: {money(bought.together, currency)}{or_less}; {apart}. "
        f"Buying now for all {outcome} {money(abs(bought.saved), currency)}."
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
            "proven": bought.proven,
        },
    }
