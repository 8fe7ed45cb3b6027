"""Files that are broken, mistaken or hostile: a clear error, in seconds, in bounded memory.

The attacks are published ones: entity expansion ("billion laughs", CVE-2003-1564) and
decompression bombs (CWE-409).
"""

from __future__ import annotations

import re
import resource
import time
import zipfile
from typing import TYPE_CHECKING

import openpyxl
import pytest

from recap.codes import FILES
from recap.read.tables import read_tables, read_text

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator
    from pathlib import Path

MANY_CELLS = "".join(f"<c><v>{i * i % 99991}</v></c>" for i in range(500_001))
SHEET = '<worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main">{}</worksheet>'


def codes(path: Path) -> list[str]:
    tables, told = read_tables(path)
    assert tables == ()
    assert all(d.message and d.source.file == str(path) for d in told)
    assert all(d.hint for d in told if d.code != "byte-unreadable")
    found = [d.code for d in told]
    assert set(found) <= set(FILES)
    return found


@pytest.fixture(autouse=True)
def within_seconds_and_memory() -> Iterator[None]:
    before = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    start = time.process_time()
    yield
    assert time.process_time() - start < 10
    assert resource.getrusage(resource.RUSAGE_SELF).ru_maxrss - before < 400_000


def workbook(path: Path, change: dict[str, str | bytes]) -> Path:
    """Write an ordinary workbook in which some parts are replaced."""
    plain = path.with_name("plain.xlsx")
    book = openpyxl.Workbook()
    sheet = book.active
    assert sheet is not None
    sheet["A1"] = "ref"
    book.save(plain)
    with zipfile.ZipFile(plain) as old, zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as new:
        for name in old.namelist():
            new.writestr(name, change.get(name, old.read(name)))
        for name in change.keys() - set(old.namelist()):
            new.writestr(name, change[name])
    return path


def test_missing_empty_folder_and_blank(tmp_path: Path) -> None:
    (tmp_path / "empty.csv").touch()
    (tmp_path / "blank.csv").write_text("\n \n\t\n")
    (tmp_path / "folder.csv").mkdir()
    assert codes(tmp_path / "none.csv") == ["file-missing"]
    assert codes(tmp_path / "empty.csv") == ["file-empty"]
    assert codes(tmp_path / "blank.csv") == ["file-empty"]
    assert codes(tmp_path / "folder.csv") == ["file-is-folder"]


@pytest.mark.parametrize("name", ["list.csv", "list.txt", "list.tsv"])
@pytest.mark.parametrize(
    "head", [b"%PDF-1.7\n", b"\xff\xd8\xff\xe0\x00\x10JFIF", b"\x89PNG\r\n", b"PK\x03\x04", b"\xd0\xcf\x11\xe0\xa1"]
)
def test_another_type_under_a_table_s_name(name: str, head: bytes, tmp_path: Path) -> None:
    path = tmp_path / name
    path.write_bytes(head + b"\x01\x02\x03" * 40)
    assert codes(path) == ["file-wrong-type"]
    text, told = read_text(path)
    assert (text, [d.code for d in told]) == (None, ["file-wrong-type"])


def test_nul_bytes_are_told_at_their_row(tmp_path: Path) -> None:
    path = tmp_path / "list.csv"
    path.write_bytes(b"ref,value\nC1,47\nC2,\x00\n")
    _, told = read_tables(path)
    assert [(d.code, d.source.row) for d in told] == [("file-has-nul", 3)]


def test_a_line_of_100_megabytes(tmp_path: Path) -> None:
    path = tmp_path / "list.csv"
    with path.open("wb") as file:
        file.truncate(100 * 2**20)
    assert codes(path) == ["file-too-large"]
    path.write_bytes(b"ref,value\n" + b"x" * 20 * 2**20)
    assert codes(path) == ["line-too-long"]


def test_a_million_rows(tmp_path: Path) -> None:
    path = tmp_path / "list.csv"
    path.write_bytes(b"C1,47\n" * 1_000_000)
    assert codes(path) == ["too-many-rows"]


def test_a_quotation_opened_in_every_row_takes_no_time(tmp_path: Path) -> None:
    path = tmp_path / "list.csv"
    path.write_text('C1,"47\n' * 20_000)
    (table,), told = read_tables(path)
    assert len(table.rows) == 20_000
    assert {d.code for d in told} == {"quote-unclosed"}


EMPTY_ZIP = b"PK\x05\x06" + b"\x00" * 18


@pytest.mark.parametrize("content", [b"", b"not a workbook", b"PK\x03\x04 and then nothing", EMPTY_ZIP])
def test_a_broken_workbook(content: bytes, tmp_path: Path) -> None:
    path = tmp_path / "caps.xlsx"
    path.write_bytes(content)
    assert codes(path)[0] in {"workbook-broken", "file-empty", "file-wrong-type"}


def test_a_workbook_cut_short(tmp_path: Path) -> None:
    path = workbook(tmp_path / "caps.xlsx", {})
    path.write_bytes(path.read_bytes()[:-400])
    assert codes(path) == ["workbook-broken"]


def test_a_part_whose_content_is_damaged(tmp_path: Path) -> None:
    path = workbook(tmp_path / "caps.xlsx", {"xl/worksheets/sheet1.xml": "<worksheet><sheetData>"})
    assert codes(path) == ["workbook-broken"]


def test_a_zip_bomb(tmp_path: Path) -> None:
    bomb = b"<x>" + b" " * (60 * 2**20) + b"</x>"
    assert codes(workbook(tmp_path / "caps.xlsx", {"xl/sharedStrings.xml": bomb})) == ["workbook-bomb"]


def test_a_container_that_lies_about_its_sizes(tmp_path: Path) -> None:
    path = workbook(tmp_path / "caps.xlsx", {"xl/worksheets/sheet1.xml": SHEET.format(" " * 2**22)})
    data = path.read_bytes()
    with zipfile.ZipFile(path) as container:
        true = container.getinfo("xl/worksheets/sheet1.xml").file_size
    path.write_bytes(data.replace(true.to_bytes(4, "little"), (100).to_bytes(4, "little")))
    assert codes(path) == ["workbook-broken"]


def test_entity_expansion(tmp_path: Path) -> None:
    laughs = '<!DOCTYPE x [<!ENTITY a "ha"><!ENTITY b "&a;&a;&a;&a;">]>' + SHEET.format("<sheetData/>")
    assert codes(workbook(tmp_path / "caps.xlsx", {"xl/worksheets/sheet1.xml": laughs})) == ["workbook-entities"]


@pytest.mark.parametrize(
    ("inside", "code"),
    [
        ('<sheetData><row r="1048576"><c r="A1048576"><v>1</v></c></row></sheetData>', "too-many-rows"),
        ('<sheetData><row r="1"><c r="XFD1"><v>1</v></c></row></sheetData>', "too-many-columns"),
        ('<sheetData/><mergeCells count="1"><mergeCell ref="A1:XFD1048576"/></mergeCells>', "too-many-cells"),
        (f'<sheetData><row r="1">{MANY_CELLS}</row></sheetData>', "too-many-cells"),
        ("<a>" * 5000 + "</a>" * 5000, "workbook-broken"),
    ],
    ids=["far row", "far column", "everything merged", "too many cells", "deep nesting"],
)
def test_sheets_that_spread_without_end(inside: str, code: str, tmp_path: Path) -> None:
    assert codes(workbook(tmp_path / "caps.xlsx", {"xl/worksheets/sheet1.xml": SHEET.format(inside)})) == [code]


def test_a_far_row_that_only_has_a_height_is_no_fault(tmp_path: Path) -> None:
    """A spreadsheet writes one where somebody set the height of all rows, or hid those below the table."""
    rows = '<row r="1"><c r="A1"><v>1</v></c></row><row r="1048576" ht="20" customHeight="1"/>'
    sheet = SHEET.format(f"<sheetData>{rows}</sheetData>")
    path = workbook(tmp_path / "caps.xlsx", {"xl/worksheets/sheet1.xml": sheet})
    assert read_tables(path)[0][0].rows[0].cells[0].text == "1"


def _named(name: str) -> Callable[[Path], Path]:
    def make(path: Path) -> Path:
        with zipfile.ZipFile(workbook(path, {})) as container:
            book = container.read("xl/workbook.xml").decode()
        return workbook(path, {"xl/workbook.xml": book.replace('name="Sheet"', f'name="{name}"')})

    return make


@pytest.mark.parametrize("name", ["../../prices", "C:\\prices", "a/b"])
def test_a_path_in_a_sheet_s_name(name: str, tmp_path: Path) -> None:
    assert codes(_named(name)(tmp_path / "caps.xlsx")) == ["sheet-name"]


def _rows(*cells: str) -> str:
    return SHEET.format(f"<sheetData>{''.join(cells)}</sheetData>")


FIRST = '<row r="1"><c r="A1"><v>1</v></c></row>'


@pytest.mark.parametrize(
    "rows",
    [
        (FIRST, '<row r="2"><c r="A2"><v>47</v></c><c r="A2"><v>10</v></c></row>'),
        (FIRST, '<row r="2"><c r="A2"><v>47</v></c></row>', '<row r="2"><c r="A2"><v>10</v></c></row>'),
        (FIRST, '<row r="2"><c r="A2"><v>47</v></c><c r="B1"><v>10</v></c></row>'),
        ('<row r="0"><c r="A0"><v>1</v></c></row>', FIRST), ('<row r="-5"><c r="A1"><v>1</v></c></row>',),
        ('<row r="two"><c r="A1"><v>1</v></c></row>',), (FIRST, '<row r="2"><c r="2A"><v>1</v></c></row>'),
    ],
)  # fmt: skip
def test_cells_that_would_be_lost_are_refused(rows: tuple[str, ...], tmp_path: Path) -> None:
    """Of two cells of one place a reader keeps the last, unseen. Each names one cell (ECMA-376-1, from memory)."""
    assert codes(workbook(tmp_path / "caps.xlsx", {"xl/worksheets/sheet1.xml": _rows(*rows)})) == ["workbook-broken"]


@pytest.mark.parametrize("row", ['<row r="2"><c><v>2</v></c></row>', "<row><c><v>2</v></c></row>", '<row r="9"/>'])
def test_cells_and_rows_without_their_place_are_read(row: str, tmp_path: Path) -> None:
    path = workbook(tmp_path / "caps.xlsx", {"xl/worksheets/sheet1.xml": _rows(FIRST, row)})
    assert read_tables(path)[0][0].rows[0].cells[0].text == "1"


def _with_sheets(path: Path, count: int) -> Path:
    with zipfile.ZipFile(workbook(path, {})) as container:
        book = container.read("xl/workbook.xml").decode()
    sheet = re.search(r"<sheet [^>]*/>", book)
    assert sheet is not None
    more = "".join(sheet[0].replace('name="Sheet"', f'name="s{number}"') for number in range(count))
    return workbook(path, {"xl/workbook.xml": book.replace(sheet[0], more)})


@pytest.mark.parametrize(("count", "code"), [(2, "workbook-broken"), (3000, "too-many-cells")])
def test_sheets_that_stand_for_one_part(count: int, code: str, tmp_path: Path) -> None:
    """One part read for each of three thousand sheets would take minutes."""
    assert codes(_with_sheets(tmp_path / "caps.xlsx", count)) == [code]


def test_two_parts_of_one_name(tmp_path: Path) -> None:
    path = workbook(tmp_path / "caps.xlsx", {})
    with zipfile.ZipFile(path, "a") as container, pytest.warns(UserWarning, match="Duplicate"):
        container.writestr("xl/worksheets/sheet1.xml", _rows(FIRST))
    assert codes(path) == ["workbook-broken"]


def test_a_million_formatted_rows_without_a_cell(tmp_path: Path) -> None:
    rows = "".join(f'<row r="{number}" ht="20"/>' for number in range(2, 300_000))
    path = workbook(tmp_path / "caps.xlsx", {"xl/worksheets/sheet1.xml": _rows(FIRST, rows)})
    assert codes(path) == ["too-many-rows"]
