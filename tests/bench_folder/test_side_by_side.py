"""Large catalogues are read side by side: the same offers, told of in the same order, as one by one."""

from __future__ import annotations

from typing import TYPE_CHECKING

from recap.bench import load_bench, market
from tests.bench_folder.folders import make

if TYPE_CHECKING:
    from pathlib import Path

    import pytest


def test_catalogues_read_side_by_side_are_those_read_one_by_one(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    head = "part,value,volts,prices\n"
    shops: dict[str, str | bytes | None] = {
        f"catalogs/shop{i}.csv": f"{head}P{i},47,25,1:0.{i}1\nQ{i},what?,16,1:0.2 10:0.{i}5\n" for i in range(1, 8)
    }
    shops["catalogs/shop4.csv"] = "nothing here\n"
    folder = make(tmp_path / "bench", shops)
    found = []
    for together in (0, 2**29):
        monkeypatch.setattr(market, "WORTH_KEEPING", 0)
        monkeypatch.setattr(market, "TOGETHER", together)
        bench, told = load_bench(folder)
        offers = {name: [c.part(row) for row in range(len(c))] for name, c in bench.catalogues.items()}
        found.append((list(offers.items()), told))
    assert found[0] == found[1]
    assert [name for name, _ in found[0][0]] == ["pellworth", *(f"shop{i}" for i in (1, 2, 3, 5, 6, 7))]
