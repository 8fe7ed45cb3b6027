"""The demo bench against what the trade knows of such a job."""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path

from recap.audit.estimate import EVERYTHING, choices
from recap.audit.pace import Pace
from recap.bench import load_bench

DEMO = Path(__file__).parents[2] / "demo"


def test_everything_on_one_picture_monitor_is_about_a_hundred_dollars_and_three_to_four_hours() -> None:
    # Common practice, no source: all capacitors of one picture monitor and a new high-voltage transformer are
    # about a hundred dollars of parts and three to four hours of work.
    bench, told = load_bench(DEMO)
    assert [d for d in told if d.severity == "error"] == []
    unit = next(unit for unit in bench.sets if unit.name == "glim-1")
    (whole,) = [c for c in choices(bench, unit, (), Pace()) if c.name == EVERYTHING]
    assert any("transformer" in extra.item and extra.set == "glim-1" for extra in bench.extras)
    assert whole.cost is not None
    dollars = whole.cost / bench.suppliers["larkspurdle"].rate
    assert Decimal(70) <= dollars <= Decimal(140)
    assert Decimal(3) <= whole.hours <= Decimal(4)
