"""``recap life``: how long a part may last where it is used."""

from __future__ import annotations

import re
from decimal import Decimal
from typing import TYPE_CHECKING, NamedTuple

import typer

from recap.cli import completion, typed
from recap.cli.steps import CHECK

if TYPE_CHECKING:
    from recap.match.life import Duty, LifeEstimate, MixedEstimate

_DUTY = re.compile(r"(?P<hours>[^@]+)@(?P<temp>.+)")


class _Load(NamedTuple):
    """What a part meets besides temperature, and by which model that is judged."""

    ripple_ratio: Decimal | None
    voltage_ratio: Decimal | None
    rise_K: Decimal
    model: str


def register(app: typer.Typer) -> None:
    """Add the command."""
    app.command("life", rich_help_panel=CHECK)(life)


def life(
    part: list[str] = typer.Argument(
        help="Rated life and temperature, with voltage and ripple rating where they count: 2000h 105C 25V 500mA."
    ),
    ambient: str | None = typer.Option(None, "--ambient", help="Temperature around the part, °C."),
    operating: str | None = typer.Option(None, "--operating", help="Working voltage, V; needs the rated voltage."),
    case: str | None = typer.Option(None, "--case", help="Temperature measured on the case instead, °C."),
    ripple: list[str] | None = typer.Option(
        None,
        "--ripple",
        help="Ripple current, mA, at its rating's frequency or another, 300mA@10kHz; may be repeated.",
    ),
    ripple_ratio: float | None = typer.Option(None, "--ripple-ratio", min=0.0, help="Ripple as a share of its rating."),
    voltage_ratio: float | None = typer.Option(
        None, "--voltage-ratio", min=0.0, help="Voltage as a share of its rating."
    ),
    rise: str = typer.Option(
        "5K", "--rise", help="How much the rated ripple heats the core, K; sheets give 3.5 to 10."
    ),
    duty: list[str] | None = typer.Option(None, "--duty", help="Hours at a temperature, 8h@45C; may be repeated."),
    hours_per_day: float = typer.Option(24.0, "--hours-per-day", min=0.1, max=24.0, help="Use a day, for the years."),
    model: str = typer.Option(
        "cautious",
        "--model",
        autocompletion=completion.models,
        help="cautious, ten-degree, core-rise, three-factor, core-voltage.",
    ),
    as_json: bool = typer.Option(False, "--json", help="Print the answer as JSON."),
) -> None:
    """Estimate how long an electrolytic lasts, by makers' published formulas; the most cautious one counts.

    Example: recap life 1000h 105C --ambient 45C

    Example: recap life 2000h 105C 35V 800mA 10x20 --case 62C --ripple 300mA@100Hz --ripple 500mA@10kHz

    Example: recap life 5000h 105C 25V 800mA --ambient 60C --operating 20V --ripple 600mA --hours-per-day 4
    """
    rated = typed.part(" ".join(part))
    position = rated.positions[0]
    typed.aluminium(position, "these formulas are")
    if rated.life_h is None or position.temp_C is None:
        raise typer.BadParameter("a rated life and its temperature are needed, like 2000h 105C", param_hint="PART")
    mA = _ripple(ripple or [], None if position.volts is None else float(position.volts))
    volts = typed.maybe(typed.volts, operating, "--operating")
    load = _Load(
        _ratio(mA, position.ripple_mA, ripple_ratio, "ripple"),
        _ratio(volts, position.volts, voltage_ratio, "operating"),
        typed.degrees(rise.rstrip("Kk "), "--rise"),
        model,
    )
    duties = [_duty(text) for text in duty or ()]
    if sum((bool(duties), ambient is not None, case is not None)) != 1:
        raise typer.BadParameter("give one of --ambient, --case and --duty", param_hint="--ambient")
    temp = typed.maybe(typed.degrees, ambient, "--ambient")
    if case is not None:
        temp = _ambient(typed.degrees(case, "--case"), load, position.diameter_mm)
    try:
        found, combined = _estimate(rated.life_h, position.temp_C, temp, duties, load)
    except ValueError as problem:
        raise typer.BadParameter(str(problem)) from problem
    if as_json:
        from recap.show.documents import print_document
        from recap.show.life_view import life_document

        print_document(life_document(found, hours_per_day, combined))
        return
    from recap.show.life_view import print_life
    from recap.show.terminal import output

    print_life(output(), found, hours_per_day, combined)


def _ripple(texts: list[str], rated_V: float | None) -> Decimal | None:
    """Return the one current at the rating's frequency that heats like all of these, mA."""
    from recap.match.ripple import equivalent_ripple, frequency_factor

    if not texts:
        return None
    currents = []
    for text in texts:
        current, _, frequency = text.partition("@")
        factor = 1.0
        if frequency:
            try:
                factor = frequency_factor(float(typed.hertz(frequency, "--ripple")), rated_V)
            except ValueError as problem:
                raise typer.BadParameter(str(problem), param_hint="--ripple") from problem
        currents.append((float(typed.milliamperes(current, "--ripple")), factor))
    return Decimal(repr(equivalent_ripple(currents)))


def _ambient(case_C: Decimal, load: _Load, diameter_mm: Decimal | None) -> Decimal:
    """Return the ambient temperature behind a case temperature; unstated ripple or size count as the worse."""
    from recap.match.ripple import ALPHA, ambient_from_case

    rise = 0.0 if load.ripple_ratio is None else float(load.rise_K) * float(load.ripple_ratio) ** 2
    diameter = ALPHA[-1][0] if not diameter_mm else float(diameter_mm)
    return Decimal(repr(round(ambient_from_case(float(case_C), rise, diameter), 2)))


def _estimate(
    life_h: Decimal, rated_C: int, ambient_C: Decimal | None, duties: list[Duty], load: _Load
) -> tuple[LifeEstimate, MixedEstimate | None]:
    from recap.match.life import estimate, mixed

    if ambient_C is not None:
        found = estimate(
            life_h,
            rated_C,
            ambient_C,
            ripple_ratio=load.ripple_ratio,
            voltage_ratio=load.voltage_ratio,
            rise_at_rated_K=load.rise_K,
            model=load.model,
        )
        return found, None
    combined = mixed(
        duties,
        life_h,
        rated_C,
        ripple_ratio=load.ripple_ratio,
        voltage_ratio=load.voltage_ratio,
        rise_at_rated_K=load.rise_K,
        model=load.model,
    )
    return combined.estimate, combined


def _ratio(actual: Decimal | None, rated: Decimal | None, stated: float | None, name: str) -> Decimal | None:
    if stated is not None and actual is not None:
        raise typer.BadParameter(f"give either --{name} or its ratio", param_hint=f"--{name}")
    if stated is not None:
        return Decimal(str(stated))
    if actual is None:
        return None
    if not rated:
        example = "500mA" if name == "ripple" else "25V"
        raise typer.BadParameter(
            f"its rating is needed beside life and temperature, like {example}", param_hint=f"--{name}"
        )
    return actual / rated


def _duty(text: str) -> Duty:
    from recap.match.life import Duty

    match = _DUTY.fullmatch(text.strip())
    if match is None:
        typed.refuse(text, "hours at a temperature", "8h@45C", "--duty")
    return Duty(float(typed.hours(match["hours"], "--duty")), float(typed.degrees(match["temp"], "--duty")))
