"""The margins of a substitute: in words, as bars with numbers, and as JSON."""

from __future__ import annotations

from decimal import Decimal
from typing import TYPE_CHECKING, Any

from rich.text import Text

from recap.match.life import CAP_SOURCE
from recap.model import Verdict
from recap.normalise.writing import format_capacitance, plain
from recap.order.cautions import SAFETY_LINE
from recap.show.bars import bar
from recap.show.documents import number
from recap.show.life_view import life_document
from recap.show.tables import plain_table
from recap.show.terminal import hanging

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from rich.console import Console

    from recap.match.gauges import Gauge
    from recap.match.margin import Margin
    from recap.model import Citation, Finding

WORDS = {
    Verdict.FITS: "fits",
    Verdict.CARE: "with care",
    Verdict.NO: "no",
}
_SENTENCE = {
    Verdict.FITS: "It fits.",
    Verdict.CARE: "It may stand in, with care: read what is said below before you fit it.",
    Verdict.NO: "No: it must not stand in.",
}
STYLE = {Verdict.FITS: "green", Verdict.CARE: "yellow", Verdict.NO: "bold red"}
_WIDTH = 24
_NARROWEST = 12
_BESIDE = 46
"""What stands beside the bar: names, numbers, and the blanks between."""
_SCALE = Decimal(2)
"""The bar's full width stands for twice what was asked."""


def margin_document(found: Margin, hours_per_day: float = 24) -> dict[str, Any]:
    """Return the verdict, each rule's margin with its reason and source, the life and the cautions."""
    life = None
    if found.life is not None:
        life = {**life_document(found.life, hours_per_day), "ambient_C": number(found.ambient_C)}
        life["ambient_assumed"] = found.ambient_assumed
    return {
        "verdict": found.verdict.value,
        "rules": [_rule(finding) for finding in found.judgement.findings],
        "life": life,
        "fitting": list(found.steps),
        "fitting_sources": [{"source": one.text, "source_kind": one.kind} for one in found.step_sources],
        "remarks": list(found.remarks),
        "cautions": list(found.cautions),
    }


def _rule(finding: Finding) -> dict[str, Any]:
    return {
        "rule": finding.rule,
        "verdict": finding.verdict.value,
        "original": _quantity(finding.original),
        "substitute": _quantity(finding.substitute),
        "margin": number(finding.margin),
        "unit": finding.unit,
        "reason": finding.reason,
        "source": None if finding.source is None else finding.source.text,
        "source_kind": None if finding.source is None else finding.source.kind,
    }


def _quantity(value: Decimal | str | None) -> int | float | str | None:
    return value if isinstance(value, str) else number(value)


def print_margin(console: Console, found: Margin, hours_per_day: float = 24) -> None:
    """Print the verdict first, then cautions, the picture, each rule in words, life, and the sources."""
    said = Text(_SENTENCE[found.verdict], style=STYLE[found.verdict])
    console.print(said)
    for caution in found.cautions:
        hanging(console, "! ", caution, "bold")
    if found.cautions:
        hanging(console, "! ", SAFETY_LINE, "bold")
    _print_gauges(console, found.gauges)
    _print_rules(console, found.judgement.findings)
    _print_life(console, found, hours_per_day)
    for line in (*found.steps, *found.remarks):
        hanging(console, "- ", line)
    _print_sources(console, found)


def _print_gauges(console: Console, gauges: Sequence[Gauge]) -> None:
    if not gauges:
        return
    table = plain_table(ruled=False)
    table.add_column("", no_wrap=True)
    table.add_column("old or asked", justify="right", no_wrap=True)
    table.add_column("new", justify="right", no_wrap=True)
    width = min(_WIDTH, max(_NARROWEST, console.width - _BESIDE))
    table.add_column(f"0{'| fits |'.center(width - 3)}2×", no_wrap=True)
    table.add_column("", justify="right", no_wrap=True)
    for gauge in gauges:
        share = gauge.share or Decimal(0)
        table.add_row(
            gauge.label,
            gauge_number(gauge, gauge.asked),
            gauge_number(gauge, gauge.has),
            gauge_bar(gauge, width),
            f"{plain(share.quantize(Decimal('0.01')))}×",
        )
    console.print(table)


def gauge_number(gauge: Gauge, value: Decimal) -> str:
    """Return one of the gauge's two numbers with its unit, capacitances in the unit people use."""
    return format_capacitance(value) if gauge.unit == "µF" else f"{plain(value)} {gauge.unit}"


def gauge_bar(gauge: Gauge, width: int = _WIDTH) -> str:
    """Return a bar from 0 to twice what was asked; ``|`` marks least and most that fit, ``»`` more than twice."""
    share = gauge.share or Decimal(0)
    cells = list(bar(float(share / _SCALE), width).ljust(width, "·"))
    for mark in (gauge.low, gauge.high):
        if mark is not None and 0 <= mark <= _SCALE:
            cells[min(round(float(mark / _SCALE) * width), width - 1)] = "|"
    if share > _SCALE:
        cells[-1] = "»"
    return "".join(cells)


def _print_rules(console: Console, findings: Iterable[Finding]) -> None:
    table = plain_table()
    table.add_column("rule", no_wrap=True)
    table.add_column("verdict", no_wrap=True)
    table.add_column("what it means")
    for finding in sorted(findings, key=lambda f: -f.verdict.rank):
        style = STYLE[finding.verdict] if finding.verdict is not Verdict.FITS else ""
        table.add_row(finding.rule, Text(WORDS[finding.verdict], style=style), Text(finding.reason))
    console.print(table)


def _print_life(console: Console, found: Margin, hours_per_day: float) -> None:
    if found.life is None:
        return
    at = f"at {plain(found.ambient_C)} °C" + (" (assumed; --ambient sets it)" if found.ambient_assumed else "")
    daily = "day and night" if hours_per_day == 24 else f"{hours_per_day:g} hours a day"  # noqa: PLR2004 - a day
    years = found.life.years(hours_per_day)
    line = f"Life about {found.life.hours:,.0f} h {at}, {years:.1f} years {daily}, by the model {found.life.model}."
    console.print(Text(line))
    for remark in found.life.remarks:
        hanging(console, "- ", remark)


def _print_sources(console: Console, found: Margin) -> None:
    sources: dict[Citation, list[str]] = {}
    for finding in found.judgement.findings:
        if finding.source is not None:
            sources.setdefault(finding.source, []).append(finding.rule)
    if found.life is not None:
        sources.setdefault(found.life.source, []).append(f"hours by {found.life.model}")
        if found.life.capped:
            sources.setdefault(CAP_SOURCE, []).append("fifteen years")
    for source in found.step_sources:
        sources.setdefault(source, []).append("leads and room")
    console.print(Text("Sources", style="dim"))
    for source, rules in sources.items():
        said = f"{', '.join(dict.fromkeys(rules))}: {source.text} ({source.kind})"
        hanging(console, "  ", said, "dim")
