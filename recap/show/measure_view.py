"""A measured part judged, in the terminal and as JSON."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from rich.text import Text

from recap.match.condition import Assessment, Condition, measured_loss, overall
from recap.match.esr import esr_of
from recap.match.ratings import leakage_limit, leakage_rule
from recap.normalise.values import figures, format_capacitance, format_voltage
from recap.show.documents import number
from recap.show.tables import plain_table
from recap.show.terminal import hanging

if TYPE_CHECKING:
    from collections.abc import Sequence
    from decimal import Decimal

    from rich.console import Console

    from recap.match.condition import Measured, Rated
    from recap.match.esr import NewPart

_STYLE = {
    Condition.GOOD: "green",
    Condition.TIRED: "yellow",
    Condition.BAD: "bold red",
    Condition.UNDECIDED: "yellow",
}
ADVICE = {
    Condition.GOOD: "Good: it may stay, or go back in.",
    Condition.TIRED: "Tired: it still works, but replace it while the set is open.",
    Condition.BAD: "Bad: replace it.",
    Condition.UNDECIDED: "Undecided: nothing measured shows whether it is good.",
}
RE_FORM = "It leaks too much: re-form it once (see recap shelf) and measure again; if it still does, replace it."
CAUTION = "Measure out of circuit and discharged: a charged capacitor wrecks the meter, and can kill."


def measure_document(rated: Rated, measured: Measured, found: Sequence[Assessment]) -> dict[str, Any]:
    """Return the condition and each quantity with its limits and their source."""
    return {
        "condition": overall(tuple(found)).value,
        "rated": {"value_uF": number(rated.value_uF), "volts": number(rated.volts)},
        "frequency_Hz": number(measured.frequency_Hz),
        "measured_tan_delta": _rounded(measured_loss(measured)),
        "quantities": [
            {
                "quantity": a.quantity,
                "measured": number(a.measured),
                "unit": a.unit,
                "condition": a.condition.value,
                "new": _rounded(a.new),
                "good_to": _rounded(a.good_to),
                "bad_from": _rounded(a.bad_from),
                "reason": a.reason,
                "source": a.source.text,
            }
            for a in found
        ],
    }


def _advice(found: Sequence[Assessment]) -> str:
    bad = {a.quantity for a in found if a.condition is Condition.BAD}
    return RE_FORM if bad == {"leakage"} else ADVICE[overall(tuple(found))]


def _rounded(quantity: Decimal | None) -> float | int | None:
    return None if quantity is None else float(f"{quantity:.6g}")


def _short(quantity: Decimal | None) -> str:
    return "" if quantity is None else figures(quantity, 3)


def new_document(value_uF: Decimal, volts: Decimal, limit: NewPart) -> dict[str, Any]:
    """Return what a new part may show at most: tan δ and ESR at the test's frequency, leakage after two minutes."""
    leakage = leakage_rule(volts)
    return {
        "rated": {"value_uF": number(value_uF), "volts": number(volts)},
        "frequency_Hz": number(limit.frequency_Hz),
        "new": {
            "tan_delta": _rounded(limit.tan_delta),
            "esr_ohm": _rounded(limit.esr_ohm),
            "leakage_uA": _rounded(leakage_limit(value_uF, volts)),
        },
        "size_class": limit.limits.name,
        "sources": [limit.limits.source.text, leakage.source.text],
    }


def print_new(console: Console, value_uF: Decimal, volts: Decimal, limit: NewPart) -> None:
    """Print what a new part may show at most, and who says so."""
    what = f"{format_capacitance(value_uF)} {format_voltage(volts)}"
    console.print(Text(f"A new {what} part ({limit.limits.name}) shows at most:", style="bold"))
    at = f"at {limit.frequency_Hz:f} Hz"
    hanging(console, "- ", f"tan δ {limit.tan_delta:.3g}, so ESR {_short(limit.esr_ohm)} Ω {at}")
    leaks = _short(leakage_limit(value_uF, volts))
    hanging(console, "- ", f"leakage {leaks} µA after two minutes at its rated voltage")
    hanging(console, "- ", "capacitance within its marked tolerance, ±20 % where none is marked")
    for source in (limit.limits.source, leakage_rule(volts).source):
        hanging(console, "Source, ", f"{source.kind}: {source.text}", "dim")


def _converted(measured: Measured) -> str | None:
    """Return tan δ for a measured ESR, or ESR for a measured tan δ, in words; None where capacitance isn't known."""
    value, at = measured.value_uF, measured.frequency_Hz
    if not value:
        return None
    if measured.esr_ohm is not None and measured.tan_delta is None:
        return f"{_short(measured.esr_ohm)} Ω at {at:f} Hz is a tan δ of {_short(measured_loss(measured))}"
    if measured.tan_delta is not None and measured.esr_ohm is None:
        ohm = esr_of(measured.tan_delta, value, at)
        return f"tan δ {_short(measured.tan_delta)} at {at:f} Hz is an ESR of {_short(ohm)} Ω"
    return None


def print_measure(console: Console, rated: Rated, found: Sequence[Assessment], measured: Measured) -> None:
    """Print the verdict in words, the limits as a table, the reasons and their sources."""
    condition = overall(tuple(found))
    what = f"{format_capacitance(rated.value_uF)} {format_voltage(rated.volts)}"
    console.print(Text.assemble(f"{what}: ", (_advice(found), _STYLE[condition])))
    table = plain_table()
    for heading in ("quantity", "measured", "new", "good to", "bad from"):
        table.add_column(heading, justify="left" if heading == "quantity" else "right")
    table.add_column("is")
    for a in found:
        table.add_row(
            f"{a.quantity}, {a.unit}" if a.unit else a.quantity,
            _short(a.measured),
            _short(a.new),
            _short(a.good_to),
            _short(a.bad_from),
            Text(a.condition.value, style=_STYLE[a.condition]),
        )
    console.print(table)
    for a in found:
        hanging(console, "- ", f"{a.quantity}: {a.reason}")
    if said := _converted(measured):
        hanging(console, "- ", said)
    for source in dict.fromkeys(f"{a.source.kind}: {a.source.text}" for a in found):
        hanging(console, "Source, ", source, "dim")
