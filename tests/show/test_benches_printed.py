"""The margins of a whole order and the old stock of a bench as printed: the worst first, and every caution."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING

import pytest
from typer.testing import CliRunner

from recap.cli import app
from recap.match.protection import SAFETY_CAUTION
from recap.order.cautions import SAFETY_LINE

if TYPE_CHECKING:
    from pathlib import Path

FILES = {
    "bench.toml": 'currency = "EUR"\nallow_care = true\n[spares]\npieces = 0\n',
    "sets.csv": "set,chassis,boards,job\nS1,K7,,full\nS2,K7,,full\n",
    "caplists/K7.csv": (
        "ref,value,volts,temp,mount,kind,pitch,safety,role\n"
        "C1,47µF,25,85,radial,electrolytic,2.5,,\n"
        "C2,100µF,16,85,radial,electrolytic,2.5,,\n"
        "C3,0.1µF,275,,radial,safety,15,X2,\n"
    ),
    "catalogs/suppliers.csv": "supplier,currency,shipping\nfernlight,EUR,0:3.00\n",
    "catalogs/fernlight.csv": (
        "part,maker,value,volts,temp,life,mount,kind,pitch,safety,prices\n"
        "FL-47,Quillstone,47µF,35,105,5000,radial,electrolytic,2.5,,1:0.20\n"
        "FL-100,Quillstone,100µF,35,105,2000,radial,electrolytic,2.5,,1:0.30\n"
        "FL-X2,Quillstone,0.1µF,310,110,,radial,safety,15,X2,1:0.40\n"
    ),
}


@pytest.fixture
def bench(tmp_path: Path) -> Path:
    for name, text in FILES.items():
        path = tmp_path / name
        path.parent.mkdir(exist_ok=True)
        path.write_text(text, encoding="utf-8")
    return tmp_path


def run(*words: str) -> str:
    result = CliRunner().invoke(app, ["margin", *words], env={"COLUMNS": "250", "NO_COLOR": "1"})
    assert result.exit_code == 0, result.output
    return result.stdout


def test_the_worst_stands_first_with_what_speaks_against_it_and_the_cautions_below(bench: Path) -> None:
    """35 V for 16 V is more than twice; the X2 part of both sets has its caution, once."""
    told = [" ".join(line.split()) for line in run("--bench", str(bench)).splitlines() if line.strip("─ ")]
    high = "voltage: 35 V is more than 2 times the old 16 V: larger, and often with more series resistance"
    assert [line[: line.index("█")].strip() if "█" in line else line for line in told] == [
        "for part verdict least room 0 | fits | 2×",
        f"100 µF 16 V radial FL-100 with care {high}",
        "S1:C2, S2:C2 fernlight",
        "0.1 µF 275 V radial X2 FL-X2 fits pitch: leads 15 mm, holes 15 mm: straight in",
        "S1:C3, S2:C3 fernlight",
        "47 µF 25 V radial FL-47 fits pitch: leads 2.5 mm, holes 2.5 mm: straight in |",
        "S1:C1, S2:C1 fernlight",
        f"! {SAFETY_CAUTION}",
        "3 parts weighed, the worst first.",
        SAFETY_LINE,
    ]


def test_what_nothing_was_found_for_is_named(bench: Path) -> None:
    catalogue = bench / "catalogs" / "fernlight.csv"
    catalogue.write_text("\n".join(FILES["catalogs/fernlight.csv"].splitlines()[:-1]) + "\n", encoding="utf-8")
    told = run("--bench", str(bench))
    assert "Nothing was found for 0.1 µF 275 V radial X2: recap order says why." in " ".join(told.split())
    assert "2 parts weighed, the worst first." in told
    document = json.loads(run("--bench", str(bench), "--json"))
    assert len(document["unmet"]) == 1
    assert [part["places"] for part in document["parts"]] == [["S1:C2", "S2:C2"], ["S1:C1", "S2:C1"]]


def test_old_stock_is_told_with_pieces_years_and_how_it_is_formed(bench: Path) -> None:
    """From June 2005 to December 2025 are 20.5 years, from June 2022 3.5; EIA-815: 100 Ω up to 100 V, 1000 Ω above."""
    (bench / "drawer.csv").write_text(
        "part,value,volts,mount,kind,qty,bought\n"
        "OLD-47,47µF,35,radial,electrolytic,3,2005-06-01\n"
        "MID-10,10µF,450,radial,electrolytic,12,2022-06-01\n"
        "NEW-10,10µF,50,radial,electrolytic,5,2025-06-01\n"
        "ANY-22,22µF,50,radial,electrolytic,7,\n",
        encoding="utf-8",
    )
    words = ["shelf", "--bench", str(bench), "--on", "2025-12-01"]
    shown = CliRunner().invoke(app, words, env={"COLUMNS": "250", "NO_COLOR": "1"})
    told = [" ".join(line.split()) for line in shown.stdout.splitlines() if line.strip("─ ")]
    assert told[0] == "part what it is pieces years do re-forming"
    rows = {line.split()[0]: line for line in told[1:5]}
    assert rows["OLD-47"] == "OLD-47 47 µF 35 V 3 20.5 replace 35 V, 100 Ω, 1 h, ≤ 5 mA"
    assert rows["MID-10"] == "MID-10 10 µF 450 V 12 3.5 re-form 450 V, 1000 Ω, 1 h, ≤ 5 mA"
    assert rows["NEW-10"] == "NEW-10 10 µF 50 V 5 0.5 usable"
    assert rows["ANY-22"] == "ANY-22 22 µF 50 V 7 ? unknown 50 V, 100 Ω, 1 h, ≤ 5 mA"
