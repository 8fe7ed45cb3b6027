"""What other programs read: one JSON document on standard output and nothing else, exit statuses, nothing half done."""

from __future__ import annotations

import json
import subprocess
import sys
from decimal import Decimal
from typing import TYPE_CHECKING, Any

import pytest

from tests.whole.bench_maker import make, write
from tests.whole.the_tool import run

if TYPE_CHECKING:
    from pathlib import Path

GOOD = {
    "bench.toml": 'currency = "EUR"\ncatalogs = "catalogs"\n[spares]\npieces = 1\n',
    "caplists/finchbox.csv": "ref,value,volts,kind,mount,board\nC1-C3,47 µF,25,electrolytic,radial,MAIN\n",
    "sets.csv": "set,chassis,boards,job,note\nS1,finchbox,,full,\nS2,finchbox,,MAIN -C2,\n",
    "catalogs/suppliers.csv": "supplier,currency,rate,shipping,tax\nalderpost,EUR,1,0:5.90 50:0,19\n",
    "catalogs/alderpost.csv": "part,value,volts,temp,life,mount,kind,prices\n"
    "QN-47,47 µF,35,105,5000,radial,electrolytic,1:0.42 10:0.31\n",
}


def outside(*words: str) -> subprocess.CompletedProcess[bytes]:
    """The command in a process of its own: what libraries write past Python is caught too."""
    return subprocess.run([sys.executable, "-m", "recap", *words], capture_output=True, check=False, timeout=120)


def keys(found: Any, *names: str) -> None:
    assert set(names) <= set(found), set(names) - set(found)


@pytest.mark.parametrize(("size", "seed"), [("tiny", 5), ("tiny", 16)])
def test_an_order_is_one_document_possible_or_not(size: str, seed: int, tmp_path: Path) -> None:
    done = outside("order", str(write(make(seed, size), tmp_path / "bench")), "--json")
    doc = json.loads(done.stdout)
    assert done.returncode == {"optimal": 0, "impossible": 3}[doc["status"]]
    keys(doc, "status", "currency", "total", "bound", "suppliers", "groups", "unmet")
    for entry in doc["unmet"]:
        keys(entry, "group", "need", "reason", "nearest")
        for near in entry["nearest"]:
            keys(near, "supplier", "part", "verdict", "reason")


def test_the_fields_of_an_order(tmp_path: Path) -> None:
    doc = run("order", str(write(GOOD, tmp_path / "bench")), "--json").doc
    # by hand: 5 positions and a spare, 6 × 0.42 = 2.52; (2.52 + 5.90) × 1.19 = 10.0198
    assert (doc["status"], Decimal(doc["total"]), Decimal(doc["bound"])) == (
        "optimal",
        Decimal("10.0198"),
        Decimal("10.0198"),
    )
    (parcel,) = doc["suppliers"]
    keys(parcel, "supplier", "goods", "shipping", "fees", "duty", "tax", "landed", "lines")
    (line,) = parcel["lines"]
    assert (line["part"], line["qty"], Decimal(line["unit_price"]), Decimal(line["goods"])) == (
        "QN-47", 6, Decimal("0.42"), Decimal("2.52"),
    )  # fmt: skip
    (group,) = doc["groups"]
    assert line["uses"] == [{"group": group["group"], "qty": 6}]
    assert (group["value_uF"], group["volts"], group["need"], group["spares"]) == (47, 25, 6, 1)
    assert [(p["set"], p["ref"]) for p in group["positions"]] == [
        ("S1", "C1"), ("S1", "C2"), ("S1", "C3"), ("S2", "C1"), ("S2", "C3"),
    ]  # fmt: skip
    assert [(s["supplier"], s["part"], s["qty"]) for s in group["from"]] == [("alderpost", "QN-47", 6)]


def test_of_an_impossible_order_the_part_that_can_be_had_is_told_or_null(tmp_path: Path) -> None:
    nothing = {"catalogs/alderpost.csv": "part,value,volts,kind,prices\nQN-1,1 µF,35,electrolytic,1:0.42\n"}
    answer = run("order", str(write(GOOD | nothing, tmp_path / "none")), "--json")
    assert (answer.status, answer.doc["part_order"]) == (3, None)
    some = {"caplists/finchbox.csv": GOOD["caplists/finchbox.csv"] + "C9,33 µF,400,electrolytic,radial,MAIN\n"}
    answer = run("order", str(write(GOOD | some, tmp_path / "some")), "--json")
    assert (answer.status, answer.doc["total"]) == (3, None)
    assert Decimal(answer.doc["part_order"]["total"]) == Decimal("10.0198")  # C1 to C3, as above
    assert "part_order" not in run("order", str(write(GOOD, tmp_path / "all")), "--json").doc


ERRORS = {
    "an unknown chassis": ("sets.csv", "set,chassis,boards,job\nS1,nosuch,,full\n"),
    "a currency without a rate": ("catalogs/suppliers.csv", "supplier,currency,rate,shipping\nalderpost,USD,,0:1\n"),
    "a negative price": ("catalogs/alderpost.csv", "part,value,volts,prices\nA,47 µF,35,1:-0.42\n"),
    "prices out of order": ("catalogs/alderpost.csv", "part,value,volts,prices\nA,47 µF,35,10:0.31 1:0.42\n"),
    "two equal numbers": ("catalogs/alderpost.csv", "part,value,volts,prices\nA,47 µF,35,1:1\nA,10 µF,35,1:2\n"),
    "an unknown setting": ("bench.toml", 'currency = "EUR"\ncatalogs = "catalogs"\nuse_draw = true\n'),
    "no catalogue": ("catalogs/alderpost.csv", ""),
    "a broken workbook": ("caplists/finchbox.xlsx", "PK not a workbook"),
}


@pytest.mark.parametrize("case", ERRORS)
def test_an_error_is_listed_with_its_file_and_nothing_is_written(case: str, tmp_path: Path) -> None:
    name, text = ERRORS[case]
    folder = write(GOOD | {name: text}, tmp_path / "bench")
    before = sorted(folder.rglob("*"))
    answer = run("order", str(folder), "--json", "--out", str(tmp_path / "out"))
    assert answer.status == 1, answer.doc
    errors = [told for told in answer.doc["diagnostics"] if told["severity"] == "error"]
    assert any(name in told["file"] for told in errors)
    for told in errors:
        keys(told, "severity", "code", "message", "file", "sheet", "row", "column", "hint")
    assert not (tmp_path / "out").exists()
    assert sorted(folder.rglob("*")) == before


def test_all_errors_are_listed_together(tmp_path: Path) -> None:
    three = dict(ERRORS[case] for case in ("an unknown chassis", "a negative price", "an unknown setting"))
    answer = run("order", str(write(GOOD | three, tmp_path / "bench")), "--json")
    files = {told["file"] for told in answer.doc["diagnostics"] if told["severity"] == "error"}
    assert answer.status == 1
    assert all(any(name in file for file in files) for name in three)


@pytest.mark.parametrize("words", [["order"], ["margin", "470uF 25V"], ["import"], ["decode"], ["life", "often"]])
def test_wrong_usage_is_two_and_is_told_as_the_one_document(words: list[str]) -> None:
    answer = run(*words, "--json")
    assert answer.status == 2
    assert (answer.doc["status"], answer.doc["diagnostics"][0]["code"]) == ("error", "wrong-usage")


def test_an_imported_list(tmp_path: Path) -> None:
    (tmp_path / "list.txt").write_text("C12 4.7uF 50V NP 105C radial 5x11 p2\nR5 10k\nC20 EMPTY\n", encoding="utf-8")
    answer = run("import", str(tmp_path / "list.txt"), "--json")
    assert answer.status == 0
    (place,) = answer.doc["positions"]
    told = {
        "ref": "C12", "qty": 1, "value_uF": 4.7, "volts": 50, "temp_C": 105, "mount": "radial", "kind": "bipolar",
        "pitch_mm": 2, "diameter_mm": 5, "height_mm": 11, "board": None, "row": 1, "doubts": [],
    }  # fmt: skip
    assert {name: place[name] for name in told} == told
    assert {note["row"] for note in answer.doc["diagnostics"] if note["severity"] == "note"} >= {2, 3}
    for note in answer.doc["diagnostics"]:
        keys(note, "severity", "code", "message", "file", "sheet", "row", "column", "hint")


def test_a_missing_list_is_an_error(tmp_path: Path) -> None:
    answer = run("import", str(tmp_path / "none.txt"), "--json")
    assert answer.status == 1
    assert [told["severity"] for told in answer.doc["diagnostics"]] == ["error"]


def test_a_decoded_marking() -> None:
    answer = run("decode", "475K", "--json")
    assert answer.status == 0
    # IEC 60062: 47 × 10^5 pF; K is 10 %
    first, second = answer.doc["readings"]
    assert (first["kind"], first["value"], first["unit"], first["text"]) == ("capacitance", 4.7e-06, "F", "4.7 µF")
    assert (second["kind"], second["value"], second["unit"]) == ("tolerance", 10, "%")
    assert first["source"]
    assert run("decode", "xyz", "--json").status == 1


def test_an_estimated_life() -> None:
    answer = run("life", "2000h", "105C", "--ambient", "45C", "--json")
    assert answer.status == 0
    # six doublings in 60 K: 2000 h × 64, common practice
    assert answer.doc["hours"] == 128000
    keys(answer.doc, "hours", "model", "inputs", "source")
