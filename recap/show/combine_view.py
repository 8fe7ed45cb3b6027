"""What stands in for a value or can that nobody makes, in the terminal and as JSON."""

from __future__ import annotations

from itertools import groupby
from typing import TYPE_CHECKING, Any

from rich.text import Text

from recap.match.obsolete import VALUE_SOURCE, VOLTAGE_SOURCE
from recap.normalise.values import format_capacitance, format_voltage
from recap.show.documents import amount, number
from recap.show.terminal import counted, hanging, money

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from rich.console import Console

    from recap.match.combine import Combination
    from recap.match.obsolete import CanStandIn, Section
    from recap.model import Part

_NAMED = 5


def combine_document(
    can: CanStandIn,
    joined: Sequence[Combination],
    single: Sequence[Part],
    cautions: Sequence[str],
    *,
    currencies: Mapping[str, str] | None = None,
) -> dict[str, Any]:
    """Return the sections' stand-ins (one for a plain part), single parts that go, what can be joined, with care."""
    return {
        "pieces": can.pieces,
        "sections": [
            {
                "section": section.name,
                "old_uF": number(section.value.old_uF),
                "old_volts": number(section.volts),
                "fit_uF": number(section.value.fit_uF),
                "fit_volts": number(section.fit_V),
                "deviation_percent": number(section.value.deviation),
                "below_uF": number(section.value.below_uF),
                "above_uF": number(section.value.above_uF),
                "reason": section.value.reason,
            }
            for section in can.sections
        ],
        "reasons": list(can.reasons),
        "joined": [joined_document(c, currencies or {}) for c in joined],
        "single": [{"supplier": p.supplier or None, "part": p.number} for p in single],
        "cautions": list(cautions),
        "source": VALUE_SOURCE.text,
    }


def joined_document(c: Combination, currencies: Mapping[str, str]) -> dict[str, Any]:
    """Return one combination: its pieces, values, cost for one place (in the supplier's currency), what to mind."""
    return {
        "verdict": c.verdict.value,
        "joining": c.joining.value,
        "pieces": [
            {
                "supplier": part.supplier or None,
                "part": part.number,
                "qty": count,
                "value_uF": number(part.value_uF),
                "volts": number(part.volts),
            }
            for part, count in c.pieces
        ],
        "count": c.count,
        "value_uF": number(c.value_uF),
        "volts": number(c.volts),
        "ripple_mA": number(c.ripple_mA),
        "cost": None if c.cost is None else amount(c.cost),
        "currency": None if c.cost is None else currencies.get(c.pieces[0][0].supplier),
        "balancing": None
        if c.balancing is None
        else {
            "ohm": number(c.balancing.ohm),
            "power_W": float(f"{c.balancing.power_W:.4g}"),
            "rating_W": number(c.balancing.rating_W),
            "resistor_V": number(c.balancing.resistor_V),
            "source": c.balancing.source.text,
        },
        "reason": c.reason,
        "cautions": list(c.cautions),
        "source": c.source.text,
    }


def print_combine(
    console: Console,
    can: CanStandIn,
    joined: Sequence[Combination],
    single: Sequence[Part],
    cautions: Sequence[str],
    *,
    currencies: Mapping[str, str] | None = None,
) -> None:
    """Print what to fit for each section and why, what goes singly, then what could be joined.

    ``currencies`` names each supplier's currency, in which its prices stand.
    """
    for _, alike in groupby(can.sections, key=lambda s: (s.value.old_uF, s.volts)):
        _print_sections(console, list(alike), alone=can.pieces == 1)
    for caution in cautions:
        console.print(Text(caution, style="bold"))
    if single:
        names = ", ".join(f"{p.number} ({p.supplier})" for p in single[:_NAMED])
        more = f" and {len(single) - _NAMED} more" if len(single) > _NAMED else ""
        console.print(Text(f"Single parts of this bench that go in its place, some with care: {names}{more}."))
    for reason in can.reasons:
        hanging(console, "- ", reason)
    if joined:
        console.print(Text("\nJoined parts, with care:", style="bold"))
        for c in joined:
            _print_joined(console, c, currencies or {})
    hanging(console, "Source, ", f"{VALUE_SOURCE.kind}: {VALUE_SOURCE.text}", "dim")
    if any(section.fit_V is not None for section in can.sections):
        hanging(console, "Source, ", f"{VOLTAGE_SOURCE.kind}: {VOLTAGE_SOURCE.text}", "dim")


def _print_sections(console: Console, alike: Sequence[Section], *, alone: bool) -> None:
    section = alike[0]
    old = format_capacitance(section.value.old_uF)
    if section.volts is not None:
        old += f" {format_voltage(section.volts)}"
    fit = format_capacitance(section.value.fit_uF)
    if section.fit_V is not None:
        fit += f" {format_voltage(section.fit_V)} or more"
    names = ", ".join(s.name for s in alike)
    name = "" if alone else f"section{'s' if len(alike) > 1 else ''} {names}: {len(alike)} × "
    console.print(Text.assemble(f"{name}{old} -> ", (fit, "bold")))
    hanging(console, "  ", f"{section.value.reason}.")


def _print_joined(console: Console, c: Combination, currencies: Mapping[str, str]) -> None:
    currency = currencies.get(c.pieces[0][0].supplier, "")
    cost = "" if c.cost is None else f", {money(c.cost, currency)} for one place"
    hanging(console, "* ", f"{c.joining}, {counted(c.count, 'piece')}{cost}: {c.reason}.")
    for part, count in c.pieces:
        if part.supplier:
            console.print(Text(f"    {count} × {part.number} ({part.supplier})"))
    if c.ripple_mA is not None:
        console.print(Text(f"    together {f'{c.ripple_mA:.0f}'} mA ripple"))
    for caution in c.cautions:
        hanging(console, "    - ", caution)
