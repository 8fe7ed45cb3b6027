"""``recap discharge``: how long until a capacitor is safe to touch."""

from __future__ import annotations

from typing import TYPE_CHECKING

import typer

from recap.cli import typed
from recap.cli.steps import BENCH

if TYPE_CHECKING:
    from decimal import Decimal


def register(app: typer.Typer) -> None:
    """Add the command."""
    app.command("discharge", rich_help_panel=BENCH)(discharge)


def discharge(
    part: list[str] = typer.Argument(help="Capacitance and the voltage on it: 220uF 400V."),
    bleeder: str | None = typer.Option(None, "--resistor", help="Resistor across it, Ω: 2k, 2k2, 100k."),
    within: str | None = typer.Option(None, "--within", help="Work out the resistor for this time instead: 5s."),
    safe: str = typer.Option("60V", "--safe", help="Voltage that counts as safe, V."),
    as_json: bool = typer.Option(False, "--json", help="Print the answer as JSON."),
) -> None:
    """Work out the time to a safe voltage and what the resistor has to bear. A calculation, no licence to touch.

    Without --resistor or --within it takes one ohm for each volt, as for discharging by hand.

    Example: recap discharge 220uF 400V --resistor 2k
    """
    from recap.match import discharge as core

    _, value_uF, volts = typed.rating(" ".join(part))
    safe_V = typed.volts(safe, "--safe")
    if bleeder is not None and within is not None:
        raise typer.BadParameter("give either --resistor or --within", param_hint="--within")
    try:
        ohm, chosen = _resistor(value_uF, volts, bleeder, within, safe_V)
        found = core.discharge(value_uF, volts, ohm, safe_V)
    except ValueError as problem:
        raise typer.BadParameter(str(problem)) from problem
    if as_json:
        from recap.show.discharge_view import discharge_document
        from recap.show.documents import print_document

        print_document(discharge_document(found))
        return
    from recap.show.discharge_view import print_discharge
    from recap.show.terminal import messages, output

    told = messages()
    for caution in core.CAUTIONS:
        told.print(caution)
    print_discharge(output(), found, chosen=chosen)


def _resistor(
    value_uF: Decimal, volts: Decimal, stated: str | None, within: str | None, safe_V: Decimal
) -> tuple[Decimal, str | None]:
    from recap.match import discharge as core
    from recap.show.discharge_view import BY_HAND

    if stated is not None:
        return typed.resistor(stated, "--resistor"), None
    if within is not None:
        found = core.resistor_for(value_uF, volts, typed.seconds(within, "--within"), safe_V)
        if found is not None:
            return found, f"The largest resistor that is quick enough; take the next smaller value. Asked: {within}."
    return core.hand_resistor(volts), BY_HAND
