"""Warehouse location without capacities as a bench, against every set of sites tried; ``warehouses.py`` takes cap71."""

from __future__ import annotations

import random
from fractions import Fraction
from typing import TYPE_CHECKING

import pytest

from tests.whole.bench_maker import write
from tests.whole.the_tool import run
from tests.whole.warehouses import Sites, bench_of, best_by_trying, read_sites

if TYPE_CHECKING:
    from pathlib import Path


def some_sites(seed: int) -> Sites:
    """Sites and customers on a square; cost is distance times demand, to four decimals; one site costs nothing."""
    dice = random.Random(seed)
    places = [complex(dice.random(), dice.random()) for _ in range(8)]
    rows = []
    for _ in range(14):
        here, demand = complex(dice.random(), dice.random()), dice.randint(20, 2000)
        rows.append(tuple(f"{abs(here - place) * demand:.4f}" for place in places))
    return Sites(("0.0", *["250.0"] * 7), tuple(rows))


@pytest.mark.parametrize("seed", [1, 2, 3])
def test_the_best_set_of_sites_is_the_best_order(seed: int, tmp_path: Path) -> None:
    told = some_sites(seed)
    doc = run("order", str(write(bench_of(told), tmp_path / "bench")), "--json").doc
    assert doc["status"] == "optimal"
    assert Fraction(doc["total"]) == Fraction(doc["bound"]) == best_by_trying(told)


def test_the_published_form_is_read() -> None:
    told = read_sites(" 2 1 \n 58268 7500. \n 58268 0. \n 146 \n 6739.72500 .00000 \n")
    assert told == Sites(("7500.0", "0.0"), (("6739.72500", "0.00000"),))
