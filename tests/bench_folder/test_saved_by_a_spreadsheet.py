"""A bench whose tables went through a spreadsheet program says the same as before, or the file that doesn't is named.

The program's habits: numbers become numbers, text stays text; CSV is written with the delimiter and the decimal mark of
its language; rows get as wide as the widest, and the last row of all may have a height (seen in LibreOffice 7.4).
"""

from __future__ import annotations

import csv
import io
import re
import shutil
import subprocess
from typing import TYPE_CHECKING

import openpyxl
import pytest

from recap.bench import load_bench
from recap.bench.starter import starter_files
from tests.bench_folder.folders import FILES, load
from tests.bench_folder.test_other_systems import errors, laid_out, meaning

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

NUMBER = re.compile(r"[0-9]+(\.[0-9]+)?")


def cells(data: bytes) -> list[list[str]]:
    return list(csv.reader(io.StringIO(data.decode("utf-8"), newline="")))


def as_workbook(data: bytes) -> bytes:
    """Return a table as a workbook, as a spreadsheet makes one when it opens a CSV."""
    book = openpyxl.Workbook()
    sheet = book.active
    assert sheet is not None
    for row in cells(data):
        sheet.append([float(cell) if NUMBER.fullmatch(cell) else cell or None for cell in row])
    sheet.row_dimensions[1048576].height = 20
    sheet.auto_filter.ref = sheet.dimensions
    sheet.column_dimensions["B"].hidden = True
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


def with_comma(data: bytes) -> bytes:
    """Return a table as CSV with semicolons and decimal commas, every row as wide as the widest."""
    rows = cells(data)
    wide = max(map(len, rows))
    out = io.StringIO()
    told = [[cell.replace(".", ",") if NUMBER.fullmatch(cell) else cell for cell in row] for row in rows]
    csv.writer(out, delimiter=";").writerows([row + [""] * (wide - len(row)) for row in told])
    return out.getvalue().encode()


WAYS: dict[str, tuple[str, Callable[[bytes], bytes]]] = {
    "workbooks": (".xlsx", as_workbook),
    "semicolons and decimal commas": (".csv", with_comma),
}


@pytest.mark.parametrize("way", WAYS)
def test_saved_again_it_means_the_same(tmp_path: Path, way: str) -> None:
    ending, change = WAYS[way]
    before, _ = load_bench(laid_out(tmp_path / "before"))
    after_folder = laid_out(tmp_path / "after")
    for path in sorted(after_folder.rglob("*.csv")):
        data = path.read_bytes()
        path.unlink()
        path.with_suffix(ending).write_bytes(change(data))
    after, told = load_bench(after_folder)
    assert errors(told) == []
    assert meaning(after) == meaning(before)


@pytest.mark.skipif(shutil.which("soffice") is None, reason="needs a spreadsheet program to run")
@pytest.mark.parametrize("between", [None, "ods"])
def test_saved_again_by_a_program_itself(tmp_path: Path, between: str | None) -> None:
    """The program's own profile is left alone: it runs with one of its own."""

    def convert(files: list[Path], ending: str, folder: Path) -> list[Path]:
        profile = f"-env:UserInstallation=file://{tmp_path}/profile"
        given = "--infilter=Text - txt - csv (StarCalc):44,34,76,1,,1033,false,false"  # as text: , " UTF-8
        command = ["soffice", profile, "--headless", *([given] if files[0].suffix == ".csv" else [])]
        command += ["--convert-to", ending, "--outdir", str(folder), *map(str, files)]
        subprocess.run(command, check=True, capture_output=True, timeout=170)
        return [folder / f"{path.stem}.{ending}" for path in files]

    before, _ = load_bench(laid_out(tmp_path / "before"))
    after_folder = laid_out(tmp_path / "after")
    for number, folder in enumerate((after_folder, after_folder / "caplists", after_folder / "catalogs")):
        files = sorted(folder.glob("*.csv"))
        if between:
            aside = tmp_path / f"between{number}"
            convert(convert(files, between, aside), "xlsx", folder)
        else:
            convert(files, "xlsx", folder)
        for path in files:
            path.unlink()
    after, told = load_bench(after_folder)
    assert errors(told) == []
    assert meaning(after) == meaning(before)


@pytest.mark.parametrize("name", ["sets.ods", "caplists/K7.ods", "catalogs/pellworth.xls", "drawer.numbers"])
def test_a_table_saved_in_another_form_is_not_passed_over_in_silence(tmp_path: Path, name: str) -> None:
    """It may hold the newest changes: what is read is the old file beside it."""
    _, told = load(tmp_path, {name: "PK"})
    found = [d for d in told if d.code == "table-passed-over"]
    assert [(d.severity.value, d.source.file) for d in found] == [("warning", str(tmp_path / name))]


@pytest.mark.parametrize("name", ["Drawer.CSV", "DRAWER.csv", "drawer.Csv"])
def test_capitals_in_a_files_name_do_not_count(tmp_path: Path, name: str) -> None:
    bench, told = load(tmp_path, {name: "part,value,volts,qty\nP-47-25,47 µF,25,3\n"})
    assert errors(told) == []
    assert [(lying.part.number, lying.qty) for lying in bench.drawer] == [("P-47-25", 3)]


def test_two_files_whose_names_differ_in_capitals_are_two(tmp_path: Path) -> None:
    _, told = load(tmp_path, {"SETS.CSV": FILES["sets.csv"]})
    assert {d.code for d in errors(told)} == ({"file-twice"} if len(list(tmp_path.glob("[sS]*"))) > 1 else set())


def test_the_starting_bench_has_tables_to_try_this_on() -> None:
    assert sum(name.endswith(".csv") for name in starter_files()) > 5
