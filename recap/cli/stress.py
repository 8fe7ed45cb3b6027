"""``recap stress``: what voltage and temperature do to the failure rate of a position."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, NoReturn

import typer

from recap.cli import typed
from recap.cli.answers import refuse_one, stop_on_errors
from recap.cli.steps import CHECK, USAGE

if TYPE_CHECKING:
    from collections.abc import Callable
    from decimal import Decimal

    from recap.match.failure import FailureRate
    from recap.model import Position
    from recap.show.stress_view import StressRow, StressTable

_STEP_C = 10
_STEPS_EACH_WAY = 3


def register(app: typer.Typer) -> None:
    """Add the command."""
    app.command("stress", rich_help_panel=CHECK)(stress)


def stress(
    part: list[str] = typer.Argument(help="Capacitance and rated voltage: 470uF 25V; or SET:REF of a bench."),
    bench: Path | None = typer.Option(None, "--bench", help="The bench that the position belongs to."),
    operating: str | None = typer.Option(
        None, "--operating", help="Working voltage, V; of a bench's position: that of its list."
    ),
    ambient: str = typer.Option("40C", "--ambient", help="Temperature around the part, °C."),
    ac: str = typer.Option("0V", "--ac", help="Alternating voltage on top, V rms."),
    quality: str = typer.Option(
        "commercial", "--quality", help="The handbook's quality: S, R, P, M, non-ER, commercial."
    ),
    environment: str = typer.Option("GB", "--environment", help="The handbook's environment: GB is indoors, at rest."),
    as_json: bool = typer.Option(False, "--json", help="Print the answer as JSON."),
) -> None:
    """Show the failure rate by MIL-HDBK-217F, and what a higher rating or a cooler place would do to it.

    Example: recap stress "470uF 25V" --operating 20V --ambient 50C

    Example: recap stress glim-1:C911 --bench demo
    """
    from recap.match.failure import Edition, rate
    from recap.match.failure import stress as ratio_of
    from recap.match.ratings import surge_voltage

    text = " ".join(part)
    position = typed.rating(text)[0] if bench is None else _on_bench(bench, text, as_json=as_json)
    value_uF, rated_V, works_at = _numbers(position, text, typed.maybe(typed.volts, operating, "--operating"))
    ac_V = typed.volts(ac, "--ac")
    temp_C = float(typed.degrees(ambient, "--ambient"))

    def rates(ratio: float, temperature: float) -> tuple[FailureRate, ...]:
        return tuple(
            rate(edition, float(value_uF), ratio, temperature, quality=quality, environment=environment)
            for edition in Edition
        )

    def ratio_at(rating: Decimal) -> float:
        return ratio_of(float(works_at), float(rating), float(ac_V))

    try:
        here = _row(f"{rated_V} V", ratio_at(rated_V), temp_C, rates)
        tables = (_by_rating(rated_V, works_at, ratio_at, temp_C, rates), _by_temperature(here, rates))
    except ValueError as problem:
        raise typer.BadParameter(str(problem)) from problem
    surge_V = surge_voltage(rated_V)
    inputs = {
        "value_uF": float(value_uF),
        "rated_V": float(rated_V),
        "operating_V": float(works_at),
        "ac_rms_V": float(ac_V),
        "surge_V": float(surge_V),
        "ambient_C": temp_C,
        "quality": quality,
        "environment": environment,
    }
    if as_json:
        from recap.show.documents import print_document
        from recap.show.stress_view import stress_document

        print_document(stress_document(here, inputs, tables))
        return
    from recap.show.stress_view import print_stress
    from recap.show.terminal import output

    print_stress(output(), here, tables, surge_V)


def _numbers(position: Position, text: str, operating_V: Decimal | None) -> tuple[Decimal, Decimal, Decimal]:
    """Return capacitance, rated and working voltage; ends the command where one isn't known."""
    typed.aluminium(position, "these rates are")
    if position.value_uF is None or position.volts is None:
        raise typer.BadParameter(f"the list gives {text} no capacitance or no voltage", param_hint="PART")
    works_at = operating_V or position.operating_V
    if works_at is None:
        raise typer.BadParameter("how much voltage is on it?", param_hint="--operating")
    return position.value_uF, position.volts, works_at


def _on_bench(bench: Path, place: str, *, as_json: bool) -> Position:
    """Return the one position of the bench that SET:REF names."""
    from recap.bench import load_bench
    from recap.match.lookup import positions_at

    def refuse(message: str, hint: str | None = None) -> NoReturn:
        refuse_one("position-unknown", message, place, hint, as_json=as_json, status=USAGE)

    loaded, told = load_bench(bench)
    stop_on_errors(told, as_json=as_json)
    try:
        positions = positions_at(loaded, place)
    except LookupError as problem:
        refuse(str(problem.args[0]))
    if len(positions) > 1:
        refuse(f"{place} is a can: name one of its sections", ", ".join(p.ref or "" for p in positions))
    return positions[0]


def _row(
    label: str,
    ratio: float,
    temp_C: float,
    rates: Callable[[float, float], tuple[FailureRate, ...]],
    *,
    here: bool = False,
) -> StressRow:
    from recap.show.stress_view import StressRow

    return StressRow(label, ratio, temp_C, rates(ratio, temp_C), here)


def _by_rating(
    rated_V: Decimal,
    works_at: Decimal,
    ratio_at: Callable[[Decimal], float],
    temp_C: float,
    rates: Callable[[float, float], tuple[FailureRate, ...]],
) -> StressTable:
    """Vary the rating: today's ratings from the working voltage to four times the part's own."""
    from recap.match.obsolete import RATED_V
    from recap.show.stress_view import StressTable

    listed = {rated for rated in RATED_V if works_at <= rated <= 4 * rated_V} | {rated_V}
    rows = (_row(f"{v} V", ratio_at(v), temp_C, rates, here=v == rated_V) for v in sorted(listed))
    return StressTable("rated voltage", tuple(rows))


def _by_temperature(here: StressRow, rates: Callable[[float, float], tuple[FailureRate, ...]]) -> StressTable:
    from recap.show.stress_view import StressTable

    steps = range(-_STEPS_EACH_WAY, _STEPS_EACH_WAY + 1)
    rows = (
        _row(f"{here.temp_C + _STEP_C * n:g} °C", here.stress, here.temp_C + _STEP_C * n, rates, here=n == 0)
        for n in steps
    )
    return StressTable("temperature", tuple(rows))
