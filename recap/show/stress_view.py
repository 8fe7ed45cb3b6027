"""Failure rates of a position by stress and temperature, in the terminal and as JSON."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from rich.text import Text

from recap.match.failure import Edition, FailureRate
from recap.match.ratings import SURGE_SOURCE
from recap.normalise.values import plain
from recap.show.bars import bar
from recap.show.tables import plain_table
from recap.show.terminal import hanging

if TYPE_CHECKING:
    from collections.abc import Sequence
    from decimal import Decimal

    from rich.console import Console


@dataclass(frozen=True, slots=True)
class StressRow:
    """One line of a table: what was varied, and the rates by each edition."""

    label: str
    stress: float
    temp_C: float
    rates: tuple[FailureRate, ...]
    here: bool = False


@dataclass(frozen=True, slots=True)
class StressTable:
    """Rates over one variable, the others as they are."""

    heading: str
    rows: tuple[StressRow, ...]


def stress_document(here: StressRow, inputs: dict[str, Any], tables: Sequence[StressTable]) -> dict[str, Any]:
    """Return the rates by edition with their factors, and the tables."""
    return {
        "inputs": {**inputs, "stress": _figures(here.stress)},
        "rates": [
            {
                "edition": rate.edition.value,
                "per_million_hours": _figures(rate.per_million_h),
                "factors": {name: _figures(value) for name, value in rate.factors.items()},
                "source": rate.source.text,
            }
            for rate in here.rates
        ],
        "tables": [
            {
                "by": table.heading,
                "rows": [
                    {
                        "at": row.label,
                        "stress": _figures(row.stress),
                        "temp_C": row.temp_C,
                        **{_key(rate.edition): _figures(rate.per_million_h) for rate in row.rates},
                    }
                    for row in table.rows
                ],
            }
            for table in tables
        ],
    }


def _figures(value: float) -> float:
    return float(f"{value:.5g}")


def _key(edition: Edition) -> str:
    return "base_edition" if edition is Edition.BASE else "notice_2"


def print_stress(console: Console, here: StressRow, tables: Sequence[StressTable], surge_V: Decimal) -> None:
    """Print the two rates apart, then a table with bars for each variable."""
    console.print(Text(f"Stress {here.stress:.2f} of the rated voltage at {here.temp_C:g} °C:", style="bold"))
    if here.stress > 1:
        console.print(
            Text(
                f"Beyond the rating: not permitted but as a surge of up to {plain(surge_V)} V, 30 s at most.",
                style="bold",
            )
        )
    for rate in here.rates:
        factors = " · ".join(f"{name} {value:.3g}" for name, value in rate.factors.items())
        console.print(Text(f"- {rate.edition}: {rate.per_million_h:.4g} failures in a million hours"))
        hanging(console, "    ", factors)
    console.print(
        Text(
            "The editions differ about twentyfold: compare within one only. Rates rank positions, they promise nothing."
        )
    )
    for table in tables:
        _print_table(console, table, here)
    sources = [rate.source for rate in here.rates] + ([SURGE_SOURCE] if here.stress > 1 else [])
    for source in sources:
        hanging(console, "Source, ", f"{source.kind}: {source.text}", "dim")


def _print_table(console: Console, table: StressTable, here: StressRow) -> None:
    shown = plain_table()
    shown.add_column(table.heading, min_width=max(map(len, table.heading.split())))
    shown.add_column("stress", justify="right")
    for edition in Edition:
        shown.add_column(f"× now, {edition}", justify="right")
    shown.add_column("Notice 2", no_wrap=True)
    most = max(row.rates[-1].per_million_h for row in table.rows)
    for row in table.rows:
        times = [rate.per_million_h / now.per_million_h for rate, now in zip(row.rates, here.rates, strict=True)]
        shown.add_row(
            Text(f"> {row.label}" if row.here else f"  {row.label}", style="bold" if row.here else ""),
            f"{row.stress:.2f}",
            *(f"{value:.2f}" for value in times),
            bar(row.rates[-1].per_million_h / most, 16),
        )
    console.print(shown)
