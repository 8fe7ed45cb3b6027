"""A price that has grown old is marked on the screen and in the JSON; dates by the calendar."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING

from typer.testing import CliRunner

from recap.cli import app

if TYPE_CHECKING:
    from pathlib import Path


def bench(folder: Path, days: int) -> Path:
    (folder / "caplists").mkdir()
    (folder / "catalogs").mkdir()
    (folder / "bench.toml").write_text(f'currency = "EUR"\noffer_days = {days}\n', encoding="utf-8")
    (folder / "caplists" / "wisp.csv").write_text("ref,value,volts\nC1,47 µF,25\nC2,10 µF,50\n", encoding="utf-8")
    (folder / "sets.csv").write_text("set,chassis,boards,job\none,wisp,,full\n", encoding="utf-8")
    (folder / "catalogs" / "suppliers.csv").write_text("supplier,currency\nfernhollow,EUR\n", encoding="utf-8")
    (folder / "catalogs" / "fernhollow.csv").write_text(
        "part,value,volts,temp,life,kind,prices,updated\n"
        "FH-47,47 µF,25,105,2000,electrolytic,1:0.10,2019-01-31\n"
        "FH-10,10 µF,50,105,2000,electrolytic,1:0.10,2199-01-31\n",
        encoding="utf-8",
    )
    return folder


def test_an_old_price_is_marked(tmp_path: Path) -> None:
    folder = bench(tmp_path, 365)
    answer = json.loads(CliRunner().invoke(app, ["order", str(folder), "--json"]).stdout)
    assert {line["part"]: (line["updated"], line["old"]) for line in answer["suppliers"][0]["lines"]} == {
        "FH-47": ("2019-01-31", True),
        "FH-10": ("2199-01-31", False),
    }
    screen = CliRunner().invoke(app, ["order", str(folder)]).stdout
    assert "FH-47 *" in screen
    assert "FH-10 *" not in screen
    assert "1 line with an old price" in screen


def test_a_bench_may_let_prices_never_grow_old(tmp_path: Path) -> None:
    answer = json.loads(CliRunner().invoke(app, ["order", str(bench(tmp_path, 0)), "--json"]).stdout)
    assert [line["old"] for line in answer["suppliers"][0]["lines"]] == [False, False]
