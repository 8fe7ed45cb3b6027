"""A discharge worked out, in the terminal and as JSON."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from rich.text import Text

from recap.match.discharge import CAUTIONS, POWER_SOURCE, RESISTOR_SOURCE, SAFE_SOURCE, Discharge, voltage_after
from recap.normalise.values import format_capacitance, format_voltage, plain
from recap.show.bars import bar
from recap.show.tables import plain_table
from recap.show.terminal import hanging

if TYPE_CHECKING:
    from decimal import Decimal

    from rich.console import Console

_STEPS = 6
BY_HAND = "Discharging by hand: one ohm for each volt."


def _figures(quantity: Decimal, digits: int = 4) -> float:
    return float(f"{quantity:.{digits}g}")


def discharge_document(found: Discharge) -> dict[str, Any]:
    """Return time, currents, powers and energy, with the cautions."""
    return {
        "value_uF": float(found.value_uF),
        "volts": float(found.volts),
        "resistor_ohm": _figures(found.resistor_ohm, 6),
        "safe_V": float(found.safe_V),
        "seconds": _figures(found.seconds, 6),
        "time_constant_s": _figures(found.time_constant_s, 6),
        "peak_A": _figures(found.peak_A),
        "peak_W": _figures(found.steady_W),
        "resistor_rating_W": _figures(found.resistor_rating_W),
        "energy_J": _figures(found.energy_J),
        "left_J": _figures(found.left_J),
        "cautions": list(CAUTIONS),
        "source": SAFE_SOURCE.text,
        "sources": [
            {"for": key, "source": one.text, "source_kind": one.kind}
            for key, one in (("safe_V", SAFE_SOURCE), ("resistor_rating_W", POWER_SOURCE))
        ],
    }


def ohm_text(ohm: Decimal) -> str:
    """Return a resistance in Ω, kΩ or MΩ, four figures."""
    for unit, factor in (("MΩ", 1_000_000), ("kΩ", 1000)):
        if ohm >= factor:
            return f"{_figures(ohm / factor):g} {unit}"
    return f"{_figures(ohm):g} Ω"


def time_text(seconds: Decimal) -> str:
    """Return a time in ms, s or min, three figures."""
    if seconds < 1:
        return f"{_figures(seconds * 1000, 3):g} ms"
    return f"{_figures(seconds, 3):g} s" if seconds < 120 else f"{_figures(seconds / 60, 3):g} min"  # noqa: PLR2004


def _load(found: Discharge, *, by_hand: bool) -> tuple[str, str, str]:
    watts = f"{_figures(found.steady_W, 3):g} W"
    if by_hand:
        last = (
            "a wire-wound resistor of some watts bears that once, not again and again; hold it until the meter agrees"
        )
    else:
        rating = f"{_figures(found.resistor_rating_W, 3):g} W"
        last = f"left there as a bleeder it takes {watts}: choose {rating} or more, rated above {plain(found.volts)} V"
    return (
        f"stored energy {_figures(found.energy_J, 3):g} J; {_figures(found.left_J, 3):g} J left at the end",
        f"first moment: {_figures(found.peak_A, 3):g} A and {watts} in the resistor",
        last,
    )


def print_discharge(console: Console, found: Discharge, *, chosen: str | None = None) -> None:
    """Print how long, how hot, and the fall of the voltage; ``chosen`` says why this resistor."""
    what = f"{format_capacitance(found.value_uF)} at {format_voltage(found.volts)}"
    through = f"through {ohm_text(found.resistor_ohm)}"
    console.print(Text(f"{what} {through}: {time_text(found.seconds)} down to {plain(found.safe_V)} V.", style="bold"))
    if chosen:
        console.print(Text(chosen))
    for line in _load(found, by_hand=chosen == BY_HAND):
        hanging(console, "- ", line)
    table = plain_table()
    table.add_column("after", justify="right")
    table.add_column("left, V", justify="right")
    table.add_column("", no_wrap=True)
    for step in range(_STEPS):
        left = voltage_after(found.value_uF, found.volts, found.resistor_ohm, found.time_constant_s * step)
        table.add_row(time_text(found.time_constant_s * step), f"{left:.1f}", bar(float(left / found.volts)))
    console.print(table)
    hanging(console, "Safe voltage, ", f"{SAFE_SOURCE.kind}: {SAFE_SOURCE.text}", "dim")
    if chosen:
        hanging(console, "Resistor, ", f"{RESISTOR_SOURCE.kind}: {RESISTOR_SOURCE.text}", "dim")
    if chosen != BY_HAND:
        hanging(console, "Rating, ", f"{POWER_SOURCE.kind}: {POWER_SOURCE.text}", "dim")
