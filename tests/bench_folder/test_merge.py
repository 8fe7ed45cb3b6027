"""A new price list over an old one: what changed is shown, and nothing of the old one is lost."""

from __future__ import annotations

import json
import os
from datetime import date
from decimal import Decimal
from typing import TYPE_CHECKING

import openpyxl
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from typer.testing import CliRunner

from recap.bench.ages import is_old, old_rows, oldest
from recap.bench.catalogues import read_catalogue
from recap.bench.merge import Merge, What, merge, price_change
from recap.bench.pricelist import ChangedMeanwhileError, price_list, replace_price_list, state, texts_beyond
from recap.bench.shelves import Shelf, shelves
from recap.cli import app
from tests.bench_folder.folders import make

if TYPE_CHECKING:
    from pathlib import Path

    from recap.bench.offers import Catalogue

TODAY = date(2025, 11, 25)
OLD = (
    "part,value,volts,stock,prices,updated,Shelf mark\n"
    "A,47,16,,1:0.42 10:0.31,2025-01-10,left\n"
    "B,10,50,20,1:0.20,2025-01-10,right\n"
    "C,50+50 µF,350,,1:9.80,2024-02-01,\n"
    "D,100,25,5,1:0.30,2025-01-10,\n"
    "E,1,50,,1:0.10 10:0.09,2025-01-10,\n"
)
NEW = (
    "Order code;Price;In stock\n"
    "A;1:0,45 10:0,31;\n"
    "B;1:0,18;20\n"
    "D;1:0,30;0\n"
    "E;1:0,12 10:0,08;\n"
    "F;1:1,50;3\n"
)  # fmt: skip


def catalogue(folder: Path, text: str, name: str = "pellworth.csv") -> Catalogue:
    path = folder / name
    path.write_text(text, encoding="utf-8")
    found, told = read_catalogue(path, "pellworth")
    assert found is not None, told
    return found


@pytest.fixture
def made(tmp_path: Path) -> Merge:
    return merge(catalogue(tmp_path, OLD), catalogue(tmp_path, NEW, "new.csv"), TODAY)


def test_what_became_of_each_part(made: Merge) -> None:
    assert {change.number: change.what for change in made.changes} == {
        "A": What.DEARER, "B": What.CHEAPER, "C": What.GONE, "D": What.STOCK, "E": What.BOTH, "F": What.ADDED,
    }  # fmt: skip


def test_what_the_new_list_does_not_state_stays(made: Merge) -> None:
    parts = {part.number: part for part in made.parts}
    assert (parts["A"].value_uF, parts["A"].volts) == (Decimal(47), Decimal(16))
    assert (parts["A"].updated, parts["C"].updated) == (TODAY, date(2024, 2, 1))
    assert (parts["B"].stock, parts["D"].stock) == (20, 0)


def test_the_first_quantity_where_the_price_differs(made: Merge) -> None:
    changes = {change.number: change for change in made.changes}
    assert price_change(changes["A"]) == (Decimal("0.42"), Decimal("0.45"), 1)
    assert price_change(changes["D"]) is None


def test_gone_parts_stay_unless_dropped(tmp_path: Path, made: Merge) -> None:
    assert [part.number for part in made.parts] == ["A", "B", "C", "D", "E", "F"]
    dropped = merge(catalogue(tmp_path, OLD), catalogue(tmp_path, NEW, "new.csv"), TODAY, drop_gone=True)
    assert [part.number for part in dropped.parts] == ["A", "B", "D", "E", "F"]


def test_the_same_list_again_changes_nothing(tmp_path: Path) -> None:
    again = merge(catalogue(tmp_path, OLD), catalogue(tmp_path, OLD, "new.csv"), TODAY)
    assert (again.changes, again.unchanged, again.differs) == ((), 5, False)


def test_the_old_file_is_kept_and_no_text_is_lost(tmp_path: Path, made: Merge) -> None:
    old = catalogue(tmp_path, OLD)
    beyond, told = texts_beyond(tmp_path / "pellworth.csv", old)
    assert told == []
    assert beyond == {"value": {"C": "50+50 µF"}, "Shelf mark": {"A": "left", "B": "right"}}
    target, backup = replace_price_list(tmp_path / "pellworth.csv", made.parts, TODAY, beyond)
    assert backup.read_text(encoding="utf-8") == OLD
    text = target.read_text(encoding="utf-8")
    assert "C,,,50+50 µF,,350 V" in text
    assert text.splitlines()[0].endswith(",updated,Shelf mark")
    assert not [path for path in tmp_path.iterdir() if "trial" in path.name]


def test_a_list_that_was_changed_meanwhile_is_not_replaced(tmp_path: Path, made: Merge) -> None:
    """Whoever saves the list in a spreadsheet while the question is on the screen keeps what was saved."""
    path = tmp_path / "pellworth.csv"
    path.write_text(OLD, encoding="utf-8")
    seen = state(path)
    path.write_text(OLD.replace("0.20", "0.25"), encoding="utf-8")
    os.utime(path, ns=(0, seen[1] + 1))
    with pytest.raises(ChangedMeanwhileError, match="was changed while"):
        replace_price_list(path, made.parts, TODAY, seen=seen)
    assert "0.25" in path.read_text(encoding="utf-8")
    assert replace_price_list(path, made.parts, TODAY, seen=state(path))[0] == path


def test_every_old_list_is_kept_under_a_name_of_its_own(tmp_path: Path, made: Merge) -> None:
    path = tmp_path / "pellworth.csv"
    for text in (OLD, OLD.replace("0.20", "0.25"), OLD.replace("0.20", "0.26")):
        path.write_text(text, encoding="utf-8")
        replace_price_list(path, made.parts, TODAY)
    kept = [tmp_path / f"pellworth.csv.2025-11-25{number}.bak" for number in ("", "-2", "-3")]
    assert [[p for p in ("0.20", "0.25", "0.26") if p in path.read_text(encoding="utf-8")] for path in kept] == [
        ["0.20"], ["0.25"], ["0.26"],
    ]  # fmt: skip


def test_a_workbook_becomes_a_text_file_and_is_kept(tmp_path: Path, made: Merge) -> None:
    path = tmp_path / "shop.xlsx"
    book = openpyxl.Workbook()
    book.save(path)
    target, backup = replace_price_list(path, made.parts, TODAY)
    assert (target.name, backup.name) == ("shop.csv", "shop.xlsx.2025-11-25.bak")
    assert not path.exists()


PARTS = st.lists(
    st.tuples(
        st.sampled_from(["0.47", "4.7", "2.205", "1234", "0.0000022", "1000.5", ""]),
        st.sampled_from(["6.3", "450", "1.234", ""]),
        st.sampled_from(["radial", "", "snap-in"]),
        st.lists(st.tuples(st.integers(1, 9999), st.decimals("0.0001", "2000", places=4)), min_size=1, max_size=4,
                 unique_by=lambda step: step[0]),
        st.one_of(st.none(), st.integers(0, 10**6)),
    ),
    min_size=1,
    max_size=8,
)  # fmt: skip


@given(rows=PARTS)
@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_a_written_list_reads_back_the_same(
    tmp_path: Path, rows: list[tuple[str, str, str, list[tuple[int, Decimal]], int | None]]
) -> None:
    lines = ["part,value (µF),diameter,mount,stock,prices"]
    for number, (value, size, mount, steps, stock) in enumerate(rows):
        ladder = " ".join(f"{quantity}:{price}" for quantity, price in sorted(steps))
        lines.append(f"P{number},{value},{size},{mount},{'' if stock is None else stock},{ladder}")
    first = catalogue(tmp_path, "\n".join(lines) + "\n")
    parts = [first.part(row) for row in range(len(first))]
    again = catalogue(tmp_path, price_list(parts), "again.csv")
    keep = ("number", "value_uF", "diameter_mm", "mount", "stock", "prices", "minimum")
    for row, part in enumerate(parts):
        back = again.part(row)
        assert [getattr(back, name) for name in keep] == [getattr(part, name) for name in keep]


def test_ages(tmp_path: Path) -> None:
    found = catalogue(tmp_path, OLD)
    assert old_rows(found, TODAY, 365).tolist() == [2]
    assert old_rows(found, TODAY, 0).tolist() == []
    assert oldest(found) == date(2024, 2, 1)
    assert is_old(date(2024, 11, 24), TODAY, 365)
    assert not is_old(date(2024, 11, 25), TODAY, 365)
    assert not is_old(None, TODAY, 365)


def test_shelves_count_offers_by_value_and_voltage(tmp_path: Path) -> None:
    text = "part,value,volts,prices\nA,47,16,1:1\nB,47 µF,16 V,1:1\nC,47000 nF,25,1:1\nD,,,1:1\nE,10,,1:1\n"
    assert shelves(catalogue(tmp_path, text)) == (
        Shelf(Decimal(10), None, 1),
        Shelf(Decimal(47), Decimal(16), 2),
        Shelf(Decimal(47), Decimal(25), 1),
        Shelf(None, None, 1),
    )


RUN = CliRunner()


def test_recap_catalog_shows_gaps_old_and_odd(tmp_path: Path) -> None:
    header = "part,value,volts,temp,life,mount,kind,prices,updated"
    shop = f"{header}\nP-47,47,25,105,2000,radial,electrolytic,1:0.3 9:0.4,2001-01-01\n"
    folder = make(tmp_path / "bench", {"catalogs/pellworth.csv": shop})
    done = RUN.invoke(app, ["catalog", str(folder), "--json"])
    assert done.exit_code == 0, done.output
    document = json.loads(done.stdout)
    (supplier,) = document["suppliers"]
    assert supplier["shelves"] == [{"value_uF": 47, "volts": 25, "offers": 1}]
    assert supplier["old"] == [{"part": "P-47", "updated": "2001-01-01"}]
    assert [one["code"] for one in supplier["odd"]] == ["price-rises"]
    assert [(group["group"], group["suppliers"]) for group in document["groups"]] == [
        ("10 µF 50 V radial", []),
        ("47 µF 16 V radial", ["pellworth"]),
    ]
    shown = RUN.invoke(app, ["catalog", str(folder), "pellworth"])
    assert "lacking: 10 µF 50 V radial" in shown.stdout
    assert "of 2001-01-01" in shown.stdout


def test_recap_catalog_says_what_was_doubted_or_left_out_of_a_price_list(tmp_path: Path) -> None:
    shop = "part,value,volts,pack,price\nP-47,47,25,10,4.20\nP-10,10,25,10,on request\n"
    folder = make(tmp_path / "bench", {"catalogs/pellworth.csv": shop})
    done = RUN.invoke(app, ["catalog", str(folder), "--json"])
    told = [(one["code"], one["row"]) for one in json.loads(done.stdout)["diagnostics"]]
    assert ("pack-price", 1) in told
    assert ("price-missing", 3) not in told  # an odd price, listed as such
    for words in (["catalog", str(folder)], ["catalog", str(folder), "pellworth"]):
        assert "[pack-price]" in RUN.invoke(app, words).stderr


def test_recap_catalog_merge_writes_only_when_told(tmp_path: Path) -> None:
    folder = make(tmp_path / "bench", {"catalogs/pellworth.csv": OLD})
    path = folder / "catalogs" / "pellworth.csv"
    new = tmp_path / "new.csv"
    new.write_text(NEW, encoding="utf-8")
    call = ["catalog", str(folder), "pellworth", "--merge", str(new)]
    shown = RUN.invoke(app, call)
    assert shown.exit_code == 0, shown.output
    assert "dearer: 1 part" in shown.stdout
    assert path.read_text(encoding="utf-8") == OLD
    done = RUN.invoke(app, [*call, "--yes", "--json"])
    document = json.loads(done.stdout)
    assert document["file"] == str(path)
    (backup,) = (folder / "catalogs").glob("pellworth.csv.*.bak")
    assert document["backup"] == str(backup)
    assert backup.read_text(encoding="utf-8") == OLD
    assert [d["part"] for d in document["changes"] if d["what"] == "added"] == ["F"]


@pytest.mark.parametrize(
    ("words", "status"),
    [(["nobody"], 2), (["--merge", "x.csv"], 2), (["pellworth", "--merge", "nowhere.csv"], 1)],
)
def test_recap_catalog_refuses_what_makes_no_sense(words: list[str], status: int, tmp_path: Path) -> None:
    folder = make(tmp_path / "bench", {})
    assert RUN.invoke(app, ["catalog", str(folder), *words]).exit_code == status


MANY = "Order code;Price;In stock\n" + "".join(f"{letter};1:0,45;5\n" for letter in "ABDEFGH")


def test_a_row_of_the_new_list_that_cannot_be_read_stays_as_it_was_and_is_named(tmp_path: Path) -> None:
    folder = make(tmp_path / "bench", {"catalogs/pellworth.csv": OLD})
    new = tmp_path / "new.csv"
    new.write_text(MANY.replace("A;1:0,45;5", "A;1:0,4S;5"), encoding="utf-8")
    call = ["catalog", str(folder), "pellworth", "--merge", str(new), "--yes"]
    done = RUN.invoke(app, [*call, "--json"])
    assert done.exit_code == 0, done.output
    said = [d for d in json.loads(done.stdout)["diagnostics"] if d["severity"] != "note"]
    assert [(d["code"], d["row"], d["column"]) for d in said] == [("price-unreadable", 2, "Price")]
    kept = (folder / "catalogs" / "pellworth.csv").read_text(encoding="utf-8")
    assert "1:0.42 10:0.31" in kept  # the old price of A
    refused = RUN.invoke(app, [*call, "--drop-gone"])  # then A would be dropped for a slip of the pen
    assert refused.exit_code == 1


def test_a_row_of_the_old_list_that_cannot_be_read_is_not_lost(tmp_path: Path) -> None:
    old = MANY + "X;1:0,4S;5\n"
    folder = make(tmp_path / "bench", {"catalogs/pellworth.csv": old})
    new = tmp_path / "new.csv"
    new.write_text(MANY.replace("0,45", "0,50"), encoding="utf-8")
    done = RUN.invoke(app, ["catalog", str(folder), "pellworth", "--merge", str(new), "--yes"])
    assert done.exit_code == 1
    assert "pellworth.csv:9: Price" in done.stderr
    assert (folder / "catalogs" / "pellworth.csv").read_text(encoding="utf-8") == old
