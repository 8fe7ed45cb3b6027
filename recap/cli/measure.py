"""``recap measure``: whether a measured part is good, tired or bad."""

from __future__ import annotations

from decimal import Decimal
from typing import TYPE_CHECKING

import typer

from recap.cli import typed
from recap.cli.steps import BENCH

if TYPE_CHECKING:
    from recap.model import Position


def register(app: typer.Typer) -> None:
    """Add the command."""
    app.command("measure", rich_help_panel=BENCH)(measure)


def measure(
    part: list[str] = typer.Argument(help="What the part is marked with: 470uF 25V."),
    cap: str | None = typer.Option(None, "--cap", help="Measured capacitance, µF."),
    esr: str | None = typer.Option(None, "--esr", help="Measured series resistance, Ω."),
    tan: float | None = typer.Option(None, "--tan", min=0.0, help="Measured loss factor tan δ (also called D)."),
    leakage: str | None = typer.Option(None, "--leak", help="Measured leakage at the rated voltage, µA."),
    freq: str = typer.Option("120Hz", "--freq", help="Frequency of the measurement: 100Hz, 120Hz, 100kHz."),
    impedance: str | None = typer.Option(None, "--impedance", help="The sheet's impedance at 100 kHz, Ω, if known."),
    was: str | None = typer.Option(None, "--was", help="Its capacitance when it was new, µF, if known."),
    tolerance: str = typer.Option("20%", "--tolerance", help="Marked tolerance: 20% or -10/+50%."),
    new: bool = typer.Option(False, "--new", help="Only say what a new part of this rating may show."),
    as_json: bool = typer.Option(False, "--json", help="Print the answer as JSON."),
) -> None:
    """Judge a measured electrolytic against a new part's limits and what wear the standards allow.

    Example: recap measure "470uF 25V" --cap 410 --esr 0.35

    Example: recap measure "470uF 25V" --new

    Example: recap measure "220uF 400V snap-in" --cap 198 --esr 1.1 --freq 100Hz
    """
    from recap.match.condition import Measured, Rated, assess

    position, value_uF, volts = typed.rating(" ".join(part))
    typed.aluminium(position, "these limits are")
    nothing = all(quantity is None for quantity in (cap, esr, tan, leakage))
    if new != nothing:
        raise typer.BadParameter(
            "give at least one measurement, or --new and none", param_hint="--cap, --esr, --tan, --leak"
        )
    if new:
        _say_new(position, typed.hertz(freq, "--freq"), as_json=as_json)
        return
    rated = Rated(
        value_uF,
        volts,
        position.mount,
        typed.percents(tolerance, "--tolerance"),
        typed.maybe(typed.capacitance, was, "--was"),
        typed.maybe(typed.ohms, impedance, "--impedance"),
    )
    measured = Measured(
        typed.maybe(typed.capacitance, cap, "--cap"),
        typed.maybe(typed.ohms, esr, "--esr"),
        None if tan is None else Decimal(str(tan)),
        typed.maybe(typed.microamperes, leakage, "--leak"),
        typed.hertz(freq, "--freq"),
    )
    try:
        found = assess(rated, measured)
    except ValueError as problem:
        raise typer.BadParameter(str(problem)) from problem
    if as_json:
        from recap.show.documents import print_document
        from recap.show.measure_view import measure_document

        print_document(measure_document(rated, measured, found))
        return
    from recap.show.measure_view import CAUTION, print_measure
    from recap.show.terminal import messages, output

    messages().print(CAUTION)
    print_measure(output(), rated, found, measured)


def _say_new(position: Position, frequency_Hz: Decimal, *, as_json: bool) -> None:
    """Say what a new part of this rating may show at most."""
    from recap.match.esr import new_part

    assert position.value_uF is not None
    assert position.volts is not None
    try:
        limit = new_part(position.value_uF, position.volts, mount=position.mount, frequency_Hz=frequency_Hz)
    except ValueError as problem:
        raise typer.BadParameter(str(problem)) from problem
    if as_json:
        from recap.show.documents import print_document
        from recap.show.measure_view import new_document

        print_document(new_document(position.value_uF, position.volts, limit))
        return
    from recap.show.measure_view import print_new
    from recap.show.terminal import output

    print_new(output(), position.value_uF, position.volts, limit)
