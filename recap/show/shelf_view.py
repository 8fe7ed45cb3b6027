"""Old stock judged, in the terminal and as JSON."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from rich.text import Text

from recap.match.shelf import Procedure, Shelf, ShelfVerdict
from recap.normalise.values import figures, format_capacitance, format_voltage, plain
from recap.show.documents import number
from recap.show.tables import plain_table
from recap.show.terminal import hanging

if TYPE_CHECKING:
    from collections.abc import Sequence

    from rich.console import Console

    from recap.model import Part

_STYLE = {Shelf.USABLE: "green", Shelf.NO_FORMING: "green", Shelf.REPLACE: "bold red"}
CAUTION = (
    "Re-forming puts the full voltage on a part that may burst: cover it, stand back, keep the current limit, "
    "and discharge it afterwards. Leave voltages you aren't trained for to licensed hands."
)


@dataclass(frozen=True, slots=True)
class ShelfRow:
    """One part and what its age calls for; ``dated`` says where the age comes from."""

    part: Part
    verdict: ShelfVerdict
    dated: str
    qty: int | None = None
    place: str | None = None


def shelf_document(rows: Sequence[ShelfRow]) -> dict[str, Any]:
    """Return every part with its age, verdict and the numbers of re-forming."""
    return {
        "parts": [
            {
                "part": row.part.number or None,
                "value_uF": number(row.part.value_uF),
                "volts": number(row.part.volts),
                "qty": row.qty,
                "place": row.place,
                "dated": row.dated,
                "years": number(row.verdict.years),
                "verdict": row.verdict.verdict.value,
                "reason": row.verdict.reason,
                "source": row.verdict.source.text,
                "reforming": None if row.verdict.procedure is None else _procedure(row.verdict.procedure),
            }
            for row in rows
        ]
    }


def _procedure(steps: Procedure) -> dict[str, Any]:
    return {
        "volts": number(steps.volts),
        "resistor_ohm": number(steps.resistor_ohm),
        "current_limit_mA": number(steps.current_limit_mA),
        "leakage_limit_uA": number(steps.leakage_limit_uA),
        "hours": number(steps.hours),
        "discharge_ohm": number(steps.discharge_ohm),
        "rest_hours": [number(h) for h in steps.rest_h],
        "sources": [source.text for source in steps.sources],
    }


def print_one(console: Console, row: ShelfRow) -> None:
    """Print one part: what to do, and the re-forming step by step where it is called for."""
    verdict = row.verdict
    name = f"{_what(row.part)}: " if _what(row.part) else ""
    said = (verdict.verdict.value, _STYLE.get(verdict.verdict, "yellow"))
    console.print(Text.assemble(name, said, f" ({row.dated})"))
    console.print(Text(verdict.reason + "."))
    if verdict.procedure is not None:
        for at, line in enumerate(_steps(verdict.procedure), 1):
            hanging(console, f"{at}. ", line)
        for source in verdict.procedure.sources:
            hanging(console, "Source, ", f"{source.kind}: {source.text}", "dim")
    hanging(console, "Source, ", f"{verdict.source.kind}: {verdict.source.text}", "dim")


def _steps(steps: Procedure) -> list[str]:
    low, high = steps.rest_h
    supply = f"Supply at {plain(steps.volts)} V, through {plain(steps.resistor_ohm)} Ω in series, polarity right"
    leakage, current = f"{figures(steps.leakage_limit_uA, 4)} µA", f"{figures(steps.current_limit_mA, 3)} mA"
    return [
        f"{supply}; limit the supply to {current}, or raise the voltage slowly enough for that.",
        f"Leave it for {plain(steps.hours)} hour at full voltage; leakage must settle below {leakage}, or it is waste.",
        f"Discharge it through about {plain(steps.discharge_ohm)} Ω, check with a meter.",
        f"Let it rest {plain(low)} to {plain(high)} hours, then measure capacitance, ESR and leakage.",
    ]


def print_drawer(console: Console, rows: Sequence[ShelfRow]) -> None:
    """Print the drawer as a table, the oldest first."""
    table = plain_table()
    for heading in ("part", "what it is", "pieces", "years", "do", "re-forming"):
        table.add_column(heading, justify="right" if heading in {"pieces", "years"} else "left")
    for row in rows:
        verdict = row.verdict
        steps = verdict.procedure
        table.add_row(
            Text(row.part.number),
            _what(row.part),
            "" if row.qty is None else str(row.qty),
            "?" if verdict.years is None else plain(verdict.years),
            Text(verdict.verdict.value, style=_STYLE.get(verdict.verdict, "yellow")),
            ""
            if steps is None
            else f"{plain(steps.volts)} V, {plain(steps.resistor_ohm)} Ω, {plain(steps.hours)} h, "
            f"≤ {figures(steps.current_limit_mA, 3)} mA",
        )
    console.print(table)
    for source in dict.fromkeys(f"{r.verdict.source.kind}: {r.verdict.source.text}" for r in rows):
        hanging(console, "Source, ", source, "dim")


def _what(part: Part) -> str:
    words = []
    if part.value_uF is not None:
        words.append(format_capacitance(part.value_uF))
    if part.volts is not None:
        words.append(format_voltage(part.volts))
    return " ".join(words)
