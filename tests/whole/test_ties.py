"""Among orders of the same total: fewer parcels, then fewer lines, then longer rated life."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from tests.whole.bench_maker import write
from tests.whole.the_tool import run

if TYPE_CHECKING:
    from pathlib import Path

HEAD = "part,value,volts,temp,life,mount,kind,prices\n"


def bench(one_part: str, shelves: dict[str, list[tuple[str, str, str]]]) -> dict[str, str]:
    """Eight positions of 220 µF 10 V; each shelf row is a number, a life and prices."""
    rows = {
        f"catalogs/{name}.csv": HEAD
        + "".join(f"{number},220 µF,16,105,{life},radial,electrolytic,{prices}\n" for number, life, prices in shelf)
        for name, shelf in shelves.items()
    }
    settings = f'currency = "EUR"\ncatalogs = "catalogs"\none_part_per_group = {one_part}\n'
    return rows | {
        "bench.toml": settings + "[spares]\npieces = 0\n",
        "caplists/finchbox.csv": "ref,value,volts,kind,mount\nC1-C8,220 µF,10,electrolytic,radial\n",
        "sets.csv": "set,chassis,boards,job,note\nS1,finchbox,,full,\n",
        "catalogs/suppliers.csv": "supplier,currency,rate,shipping\n"
        + "".join(f"{name},EUR,1,0:1\n" for name in shelves),
    }


def lines(files: dict[str, str], folder: Path) -> list[tuple[str, str, int]]:
    doc = run("order", str(write(files, folder)), "--json").doc
    return [(parcel["supplier"], line["part"], line["qty"]) for parcel in doc["suppliers"] for line in parcel["lines"]]


@pytest.mark.parametrize("one_part", ["true", "false"])
def test_of_equal_parts_the_one_that_lasts(one_part: str, tmp_path: Path) -> None:
    shelf = [("A", "2000", "1:0.10"), ("B", "10000", "1:0.10"), ("C", "5000", "1:0.10")]
    assert lines(bench(one_part, {"alderpost": shelf}), tmp_path / "bench") == [("alderpost", "B", 8)]


@pytest.mark.parametrize("one_part", ["true", "false"])
def test_of_equal_totals_the_one_parcel(one_part: str, tmp_path: Path) -> None:
    # extra X only at birchbox for 0.20; 8 pieces for 0.80 + 1 at either; birchbox asks 1.80 for the eight: equal totals
    files = bench(one_part, {
        "alderpost": [("A", "10000", "1:0.10")],
        "birchbox": [("B", "2000", "1:0.225")],
    })  # fmt: skip
    files["catalogs/birchbox.csv"] += "X,,,,,,other,1:0.20\n"
    files["extras.csv"] = "item,qty,set,part,note\nthing,1,S1,X,\n"
    # two parcels: 0.80 + 1 + 0.20 + 1 = 3.00; one: 1.80 + 0.20 + 1 = 3.00
    assert [supplier for supplier, _, _ in lines(files, tmp_path / "bench")] == ["birchbox", "birchbox"]
