"""A measured part judged, in the terminal and as JSON."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from rich import box
from rich.table import Table
from rich.text import Text

from recap.match.condition import Assessment, Condition, measured_loss, overall
from recap.normalise.values import format_capacitance, format_voltage
from recap.show.documents import number
from recap.show.terminal import hanging

if TYPE_CHECKING:
    from collections.abc import Sequence
    from decimal import Decimal

    from rich.console import Console

    from recap.match.condition import Measured, Rated

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
    return "" if quantity is None else f"{float(f'{quantity:.3g}'):,.6g}"


def print_measure(console: Console, rated: Rated, found: Sequence[Assessment]) -> None:
    """Print the verdict in words, the limits as a table, the reasons and their sources."""
    condition = overall(tuple(found))
    what = f"{format_capacitance(rated.value_uF)} {format_voltage(rated.volts)}"
    console.print(Text.assemble(f"{what}: ", (_advice(found), _STYLE[condition])))
    table = Table(box=box.SIMPLE_HEAD, pad_edge=False)
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
    for source in dict.fromkeys(f"{a.source.kind}: {a.source.text}" for a in found):
        hanging(console, "Source, ", source, "dim")
