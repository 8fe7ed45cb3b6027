"""The options of ``recap order``, each by what the order then costs; the bench is that of tests.order.test_run."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

import pytest
from typer.testing import CliRunner

from recap.cli import app
from tests.order.test_run import LIST, NORTH, SOUTH, THIRD, WIDE, bench

if TYPE_CHECKING:
    from pathlib import Path


def run(folder: Path, *words: str, status: int = 0) -> tuple[str, str]:
    """Return standard output and standard error."""
    result = CliRunner().invoke(app, ["order", str(folder), *words], env={"COLUMNS": "200", "NO_COLOR": "1"})
    assert result.exit_code == status, result.output
    return result.stdout, result.stderr


def answer(folder: Path, *words: str, status: int = 0) -> dict[str, Any]:
    found = json.loads(run(folder, *words, "--json", "--no-compare", status=status)[0])
    assert isinstance(found, dict)
    return found


@pytest.mark.parametrize(
    ("words", "total"),
    [
        ("", "5.20"),
        ("--sets two", "3.40"),
        ("--sets one,two", "5.20"),
        ("--without north", "19.30"),
        ("--spares 1", "6.60"),
        ("--longer-life 2", "5.30"),
        ("--longer-life 1.9", "5.20"),
        ("--solver cbc", "5.20"),
    ],
)
def test_each_option_has_its_price(words: str, total: str, tmp_path: Path) -> None:
    bench(tmp_path)
    found = answer(tmp_path, *words.split())
    assert (found["status"], found["total"], found["bound"]) == ("optimal", total, total)


@pytest.mark.parametrize(
    ("words", "total"), [("", "5.03"), ("--fewer-parcels 3.4", "5.20"), ("--fewer-parcels 3.3", "5.03")]
)
def test_one_parcel_less_is_paid_for_as_asked(words: str, total: str, tmp_path: Path) -> None:
    bench(tmp_path, south=SOUTH.replace("1:0.10", "1:0.01"))
    assert answer(tmp_path, *words.split())["total"] == total


@pytest.mark.parametrize(
    ("words", "total"), [("", "5.30"), ("--care", "5.20"), ("--no-care", "5.30"), ("--care-if-needed", "5.30")]
)
def test_parts_with_care_are_bought_only_as_asked(words: str, total: str, tmp_path: Path) -> None:
    bench(tmp_path, north=WIDE)
    assert answer(tmp_path, *words.split())["total"] == total


def test_groups_are_split_as_asked(tmp_path: Path) -> None:
    short = {"north": NORTH.replace("2.5,,1:0.40", "2.5,2,1:0.40"), "south": SOUTH.replace("2.5,3,", "2.5,2,")}
    bench(tmp_path, **short)
    assert answer(tmp_path, "--split")["total"] == "5.60"
    impossible = answer(tmp_path, status=3)
    assert (impossible["status"], impossible["total"]) == ("impossible", None)
    assert impossible["part_order"]["total"] == "4.00"


def test_what_is_doubted_is_bought_only_where_the_doubts_are_accepted(tmp_path: Path) -> None:
    bench(tmp_path, caplist=LIST.replace("47 µF", "47"))
    held = answer(tmp_path, status=3)
    assert (held["total"], sum(need["need"] for need in held["unmet"])) == (None, 3)
    assert held["part_order"]["total"] == "4.00"
    assert answer(tmp_path, "--accept-doubts")["total"] == "5.20"


def test_an_order_with_something_unmet_says_so_on_paper_and_by_its_status(tmp_path: Path) -> None:
    bench(tmp_path, caplist=LIST + THIRD)
    out, _ = run(tmp_path, "--no-compare", status=3)
    assert "No order can meet every need." in out
    assert "2 pieces can't be had" in out
    assert "Total 5.20 EUR in 1 parcel (proven: no order costs less)." in out


def test_what_other_ways_cost_stands_there_unless_it_is_not_asked_for(tmp_path: Path) -> None:
    bench(tmp_path)
    assert "What other ways to buy the same would cost" in run(tmp_path)[0]
    assert "What other ways to buy the same would cost" not in run(tmp_path, "--no-compare")[0]
    told = json.loads(run(tmp_path, "--json", "--compare")[0])["alternatives"]
    assert {way["name"]: way["total"] for way in told}["each set ordered on its own"] == "7.20"
    assert answer(tmp_path)["alternatives"] == []


def test_the_drawing_is_made_as_its_name_says_or_refused(tmp_path: Path) -> None:
    bench(tmp_path)
    _, said = run(tmp_path, "--no-compare", "--plot", str(tmp_path / "ways.svg"))
    assert "wrote" in said
    assert (tmp_path / "ways.svg").read_bytes().startswith(b"<?xml")
    _, refused = run(tmp_path, "--no-compare", "--plot", str(tmp_path / "ways.jpg"), status=2)
    assert "name a file that ends in .svg or .png" in refused
    assert not (tmp_path / "ways.jpg").exists()


def test_a_drawing_that_is_there_is_replaced_only_where_that_is_said(tmp_path: Path) -> None:
    bench(tmp_path)
    mine = tmp_path / "ways.svg"
    mine.write_text("drawn by hand", encoding="utf-8")
    _, refused = run(tmp_path, "--no-compare", "--plot", str(mine), status=1)
    assert "--force" in refused
    assert mine.read_text(encoding="utf-8") == "drawn by hand"
    run(tmp_path, "--no-compare", "--plot", str(mine), "--force")
    assert mine.read_bytes().startswith(b"<?xml")


def test_an_order_that_is_kept_already_writes_no_files(tmp_path: Path) -> None:
    """Status 1 means that nothing was written."""
    bench(tmp_path)
    run(tmp_path, "--no-compare", "--keep")
    run(tmp_path, "--no-compare", "--keep", "--out", str(tmp_path / "files"), status=1)
    assert not (tmp_path / "files").exists()


def test_what_to_do_next_is_told_until_it_is_done(tmp_path: Path) -> None:
    bench(tmp_path)
    hint = "For files of this order add --out DIR; when you have really ordered it, --keep."
    assert hint in run(tmp_path, "--no-compare")[1]
    assert hint not in run(tmp_path, "--no-compare", "--out", str(tmp_path / "files"))[1]
    kept = run(tmp_path, "--no-compare", "--keep")[1]
    assert "kept in the record as order" in kept
    assert hint not in kept


def test_an_order_of_nothing_is_not_kept(tmp_path: Path) -> None:
    bench(tmp_path)
    (tmp_path / "sets.csv").write_text("set,chassis,boards,job\none,wisp,,none\n", encoding="utf-8")
    said = run(tmp_path, "--no-compare", "--keep")[1]
    assert "nothing is bought and nothing taken from the drawer: no order was kept" in said


def test_the_reasons_are_told_where_they_are_asked_for(tmp_path: Path) -> None:
    bench(tmp_path)
    why = answer(tmp_path, "--why")["why"]
    assert why
    assert "why" not in answer(tmp_path)
