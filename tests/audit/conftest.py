"""A small bench folder: one chassis, two sets, one supplier, one extra."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from recap.bench import Bench, load_bench

if TYPE_CHECKING:
    from pathlib import Path

CAPS = """\
ref,value,volts,mount,kind,pitch,board,role
C1,220 µF,400 V,radial,electrolytic,10,POWER,smoothing
C2,47 µF,25 V,radial,electrolytic,2.5,POWER,
C3,47 µF,25 V,radial,electrolytic,2.5,AUDIO,coupling
C4,47 µF,25 V,radial,electrolytic,2.5,AUDIO,
"""
OFFERS = """\
part,value,volts,temp,life,mount,kind,pitch,prices
NL-220,220 µF,400,105,5000,radial,electrolytic,10,1:3.00
NL-47,47 µF,25,105,5000,radial,electrolytic,2.5,1:0.50
NL-HVT,,,,,,,,1:60.00
"""


@pytest.fixture
def bench_folder(tmp_path: Path) -> Path:
    (tmp_path / "caplists").mkdir()
    (tmp_path / "catalogs").mkdir()
    (tmp_path / "bench.toml").write_text('currency = "EUR"\n[spares]\npieces = 0\n', encoding="utf-8")
    (tmp_path / "caplists" / "glimmer.csv").write_text(CAPS, encoding="utf-8")
    (tmp_path / "sets.csv").write_text(
        "set,chassis,boards,job,note\nS1,glimmer,,none,\nS2,glimmer,POWER,full,\n", encoding="utf-8"
    )
    (tmp_path / "catalogs" / "Norlicht.csv").write_text(OFFERS, encoding="utf-8")
    (tmp_path / "catalogs" / "suppliers.csv").write_text(
        "supplier,currency,rate,shipping\nNorlicht,EUR,1,0:5.00\n", encoding="utf-8"
    )
    (tmp_path / "extras.csv").write_text(
        "item,qty,set,part,note\nhigh-voltage transformer,1,S1,NL-HVT,\n", encoding="utf-8"
    )
    return tmp_path


@pytest.fixture
def bench(bench_folder: Path) -> Bench:
    loaded, told = load_bench(bench_folder)
    assert [d for d in told if d.severity == "error"] == []
    return loaded
