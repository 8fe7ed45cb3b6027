"""recap checklist, bags, labels: from a bench folder to files, and what they say when they can't."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

import pytest
from typer.testing import CliRunner, Result

from recap.cli import app
from tests.fit.printed import page_image, page_texts, scanned

if TYPE_CHECKING:
    from pathlib import Path

FILES = {
    "bench.toml": 'currency = "EUR"\n[spares]\npieces = 1\n',
    "caplists/tv.csv": "ref,value,volts,temp,mount,kind,board\n"
    "C10,47 µF,16 V,85,radial,electrolytic,AUDIO\n"
    "C9,47 µF,16 V,85,radial,electrolytic,AUDIO\n"
    "C1,1 µF,350 V,85,axial,electrolytic,POWER\n",
    "sets.csv": "set,chassis,boards,job\none,tv,,full\ntwo,tv,AUDIO,full\n",
    "catalogs/suppliers.csv": "supplier,currency,rate,shipping\nshop,EUR,1,0:5\n",
    "catalogs/shop.csv": "part,value,volts,temp,life,mount,kind,prices\n"
    "N47,47 µF,25 V,105,2000,radial,electrolytic,1:0.10\n"
    "SW,,,,,,,1:2.50\n",
    "extras.csv": "item,qty,set,part\nswitch,1,one,SW\n",
}


@pytest.fixture
def bench(tmp_path: Path) -> Path:
    folder = tmp_path / "bench"
    for name, text in FILES.items():
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")
    return folder


def recap(*words: object) -> Result:
    return CliRunner(env={"COLUMNS": "100"}).invoke(app, [str(word) for word in words])


def document(*words: object) -> Any:
    done = recap(*words, "--json")
    assert done.exit_code == 0, done.output
    return json.loads(done.stdout)


def test_a_checklist_per_set_and_board_and_nothing_left_out(bench: Path) -> None:
    found = document("checklist", bench)
    assert [(s["set"], s["title"], [p["ref"] for p in s["places"]]) for s in found["sections"]] == [
        ("one", "AUDIO", ["C9", "C10"]),
        ("one", "POWER", ["C1"]),
        ("two", "AUDIO", ["C9", "C10"]),
    ]
    (missing,) = (p for s in found["sections"] for p in s["places"] if p["new"] is None)
    assert missing["ref"] == "C1"
    assert any("kill" in caution for caution in found["cautions"])


def test_the_checklist_on_screen_says_what_has_no_part(bench: Path) -> None:
    done = recap("checklist", bench, "--sets", "one")
    assert done.exit_code == 0
    assert "NOTHING ORDERED" in done.stdout
    assert "1 of the pieces have no part" in done.stderr
    assert "two: AUDIO" not in done.stdout


@pytest.mark.parametrize(("ending", "start"), [("pdf", b"%PDF"), ("html", b"<!DOCTYPE html>"), ("xlsx", b"PK")])
def test_the_ending_says_the_form(bench: Path, tmp_path: Path, ending: str, start: bytes) -> None:
    out = tmp_path / f"list.{ending}"
    done = recap("checklist", bench, "--out", out, "--by", "part")
    assert done.exit_code == 0
    assert done.stdout == ""
    assert out.read_bytes().startswith(start)


def test_a_file_is_not_replaced_unless_asked(bench: Path, tmp_path: Path) -> None:
    out = tmp_path / "list.html"
    out.write_text("mine")
    refused = recap("checklist", bench, "--out", out)
    assert refused.exit_code == 1
    assert "--force" in refused.stderr
    assert out.read_text() == "mine"
    assert recap("checklist", bench, "--out", out, "--force").exit_code == 0


@pytest.mark.parametrize(
    ("words", "hint"),
    [
        (("checklist", "--out", "list.doc"), ".pdf"),
        (("bags", "--out", "bags.csv"), ".xlsx"),
        (("labels", "--out", "labels.html"), ".pdf"),
        (("labels", "--out", "labels.pdf", "--skip", "21"), "0 to 20"),
        (("labels", "--out", "labels.pdf", "--url", "192.168.1.20"), "http://"),
        (("checklist", "--sets", "three"), "one, two"),
    ],
)
def test_wrong_usage_is_said_and_nothing_written(bench: Path, words: tuple[str, ...], hint: str) -> None:
    before = sorted(bench.rglob("*"))
    done = recap(words[0], bench, *words[1:])
    assert done.exit_code == 2
    assert hint in done.stderr
    assert sorted(bench.rglob("*")) == before


def test_errors_of_the_input_end_with_status_one(bench: Path) -> None:
    (bench / "sets.csv").write_text("set,chassis,job\none,nowhere\n")
    assert recap("bags", bench).exit_code == 1


def test_bags_hold_what_was_ordered_and_the_rest_goes_to_the_drawer(bench: Path) -> None:
    found = document("bags", bench)
    assert [(bag["set"], bag["pieces"]) for bag in found["bags"]] == [("one", 3), ("two", 2)]
    assert found["bags"][0]["extras"] == [{"item": "switch", "qty": 1, "part": "SW", "from": "shop"}]
    assert [(left["part"], left["qty"]) for left in found["drawer"]] == [("N47", 1)]


def test_bags_on_screen_and_as_workbook(bench: Path, tmp_path: Path) -> None:
    assert "one: 3 pieces" in recap("bags", bench).stdout
    assert recap("bags", bench, "--out", tmp_path / "bags.xlsx").exit_code == 0
    assert (tmp_path / "bags.xlsx").read_bytes().startswith(b"PK")


def test_labels_open_the_page_at_their_place(bench: Path, tmp_path: Path) -> None:
    out = tmp_path / "labels.pdf"
    done = recap("labels", bench, "--out", out, "--url", "http://192.168.1.20:8470", "--sheet", "a4-2x7")
    assert done.exit_code == 0
    assert "100 %" in done.stderr
    (text,) = page_texts(out.read_bytes())
    assert "C9, C10" in text
    assert scanned(page_image(out.read_bytes())) == [
        "http://192.168.1.20:8470/set/one/board/AUDIO/C9",
        "http://192.168.1.20:8470/set/two/board/AUDIO/C9",
    ]


def test_the_parts_are_those_of_the_order_kept_even_after_prices_change(bench: Path) -> None:
    kept = recap("order", bench, "--accept-doubts", "--keep")
    assert kept.exit_code == 3  # C1 can't be had
    shop = bench / "catalogs" / "shop.csv"
    shop.write_text(shop.read_text(encoding="utf-8").replace("N47", "OTHER"), encoding="utf-8")
    assert "parts as ordered" in document("checklist", bench)["origin"]
    numbers = {p["new"]["part"] for s in document("checklist", bench)["sections"] for p in s["places"] if p["new"]}
    assert numbers == {"N47"}
    fresh = {
        p["new"]["part"] for s in document("checklist", bench, "--fresh")["sections"] for p in s["places"] if p["new"]
    }
    assert fresh == {"OTHER"}


def test_without_a_record_none_is_made(bench: Path) -> None:
    recap("checklist", bench)
    assert not (bench / "record.db").exists()
