"""A life estimate in the terminal and as JSON."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from rich.text import Text

from recap.match.life import CAP_H, CAP_SOURCE, CAP_YEARS, MODELS
from recap.show.bars import bar
from recap.show.tables import plain_table
from recap.show.terminal import hanging

if TYPE_CHECKING:
    from rich.console import Console

    from recap.match.life import LifeEstimate, MixedEstimate


def _plain(hours: float) -> int | float:
    rounded = round(hours, 1)
    return int(rounded) if rounded == int(rounded) else rounded


def life_document(found: LifeEstimate, hours_per_day: float, mixed: MixedEstimate | None = None) -> dict[str, Any]:
    """Return hours, model, inputs and source, and what else there is to know."""
    document: dict[str, Any] = {
        "hours": _plain(found.hours),
        "model": found.model,
        "inputs": {**found.inputs, "hours_per_day": hours_per_day},
        "source": found.source.text,
        "source_kind": found.source.kind,
        "years": round(found.years(hours_per_day), 2),
        "capped": found.capped,
        "formula": found.formula,
        "formula_hours": _plain(found.formula_hours),
        "models": [{"model": name, "hours": _plain(hours)} for name, hours in found.considered],
        "remarks": list(found.remarks),
    }
    if mixed is not None:
        steady = mixed.equivalent_ambient_C
        document["duty"] = [
            {"hours": duty.hours, "ambient_C": duty.ambient_C, "life_hours": _plain(life)} for duty, life in mixed.parts
        ]
        document["equivalent_ambient_C"] = None if steady is None else round(steady, 2)
    return document


def print_life(console: Console, found: LifeEstimate, hours_per_day: float, mixed: MixedEstimate | None = None) -> None:
    """Print the answer as a sentence, every model beside it, and what to keep in mind."""
    capped = " (capped)" if found.capped else ""
    daily = "day and night" if hours_per_day == 24 else f"at {hours_per_day:g} hours a day"  # noqa: PLR2004 - a day
    years = found.years(hours_per_day)
    said = f"{years:.1f} years" if years < CAP_YEARS else f"{CAP_YEARS} years, the most that makers stand for,"
    console.print(Text(f"{found.hours:,.0f} hours{capped}: {said} {daily}.", style="bold"))
    if mixed is not None:
        _print_duty(console, mixed)
    else:
        _print_models(console, found)
    console.print(Text(f"By the model {found.model}: {found.formula}"))
    for remark in found.remarks:
        hanging(console, "- ", remark)
    hanging(console, "Source, ", f"{found.source.kind}: {found.source.text}", "dim")
    if found.capped:
        hanging(console, "Cap, ", f"{CAP_SOURCE.kind}: {CAP_SOURCE.text}", "dim")
    console.print(Text("An estimate for choosing between parts, no promise.", style="dim"))


def _print_models(console: Console, found: LifeEstimate) -> None:
    table = plain_table()
    table.add_column("model")
    table.add_column("takes account of")
    table.add_column("hours", justify="right")
    table.add_column("of 15 years", no_wrap=True)
    for name, hours in found.considered:
        shown = f"{min(hours, CAP_H):,.0f}" + ("+" if hours > CAP_H else "")
        style = "bold" if name == found.model else ""
        table.add_row(
            Text(f"> {name}" if name == found.model else f"  {name}", style=style),
            Text(MODELS[name].title),
            Text(shown, style=style),
            bar(hours / CAP_H, 16),
        )
    console.print(table)


def _print_duty(console: Console, mixed: MixedEstimate) -> None:
    table = plain_table()
    table.add_column("hours", justify="right")
    table.add_column("at °C", justify="right")
    table.add_column("life there, hours", justify="right")
    for duty, life in mixed.parts:
        table.add_row(f"{duty.hours:g}", f"{duty.ambient_C:g}", f"{life:,.0f}")
    console.print(table)
    if mixed.equivalent_ambient_C is not None:
        total = sum(duty.hours for duty, _ in mixed.parts)
        mean = sum(duty.hours * duty.ambient_C for duty, _ in mixed.parts) / total
        console.print(Text(f"It wears like a steady {mixed.equivalent_ambient_C:.1f} °C; the mean is {mean:.1f} °C."))
