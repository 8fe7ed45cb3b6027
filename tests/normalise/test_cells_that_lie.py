"""Cells and characters that would mislead whoever only looks at the list: each is said with its place."""

from __future__ import annotations

from typing import TYPE_CHECKING

import openpyxl
import pytest

from recap.normalise.canonical import COLUMNS
from recap.normalise.caplist import read_cap_list
from tests.normalise.facts import facts, read

if TYPE_CHECKING:
    from pathlib import Path

    from recap.diagnostics import Diagnostic

TURNS, BACK = "\u202e", "\u202c"
EMBEDS, ISOLATES = "\u202b", "\u2067"


def turned(told: list[Diagnostic]) -> list[tuple[int | None, str | None]]:
    return [(d.source.row, d.source.column) for d in told if d.code == "text-turned"]


@pytest.mark.parametrize("ending", ["csv", "txt"])
@pytest.mark.parametrize("mark", [TURNS, EMBEDS, ISOLATES])
def test_figures_that_an_editor_shows_in_another_order_are_named(ending: str, mark: str, tmp_path: Path) -> None:
    """Unicode Standard Annex 9: behind such a mark ``22 10`` is shown as ``10 22``, behind an override as ``01 22``."""
    path = tmp_path / f"list.{ending}"
    path.write_text(f"ref,value,volts\nC1,10uF,16\nC2,{mark}22 uF{BACK},25\n", encoding="utf-8")
    assert turned(read_cap_list(path)[1]) == [(3, None)]


def test_a_turned_cell_of_a_workbook_is_named(tmp_path: Path) -> None:
    book = openpyxl.Workbook()
    assert book.active is not None
    for row in (("ref", "value", "volts"), ("C1", f"{TURNS}22uF", 16)):
        book.active.append(row)
    book.save(tmp_path / "list.xlsx")
    assert turned(read_cap_list(tmp_path / "list.xlsx")[1]) == [(2, "B")]


def test_a_list_with_remarks_written_from_right_to_left_is_not_suspected(tmp_path: Path) -> None:
    """So a spreadsheet in Hebrew pastes them: embedded, letters first."""
    path = tmp_path / "list.csv"
    path.write_text(f"ref,value,volts,note\nC1,10uF,16,{EMBEDS}קבל 3{BACK}\n", encoding="utf-8")
    assert turned(read_cap_list(path)[1]) == []


@pytest.mark.parametrize("cell", ["C1, C1234567", "C1A-C1ZZZZ", "C1 C2ZZZZ", "C1, C22222222222222222222222"])
def test_what_looks_like_a_second_designator_and_is_none_is_doubted(cell: str) -> None:
    (position,), told = read(f'ref,value,volts\n"{cell}",10uF,16\n')
    assert position.endswith("?ref-unread")
    assert any(cell in d.message for d in told)


@pytest.mark.parametrize("cell", ["C1 rev2", "C1 (see R5)", "C1 C0G"])
def test_what_else_stands_beside_a_designator_is_no_second_one(cell: str) -> None:
    """C0G is a class of ceramic (IEC 60384-8)."""
    assert "ref-unread" not in facts(f"ref,value,volts\n{cell},10uF,16\n")[0]


@pytest.mark.parametrize("last", ["C100000", "C1000000", "C" + "9" * 24])
def test_a_range_to_a_number_of_any_length_is_absurd(last: str) -> None:
    assert facts(f"ref,value,volts\nC1-{last},10uF,16\n") == ["C1 10 µF 16 V ?range-absurd"]


def stored(tmp_path: Path, **cells: str) -> tuple[str, list[str]]:
    """Return what a canonical list of one row says of it: the doubts, and the messages."""
    path = tmp_path / "list.csv"
    row = {"ref": "C1", "value": "47uF", **cells}
    path.write_text(",".join(COLUMNS) + "\n" + ",".join(row.get(name, "") for name in COLUMNS), encoding="utf-8")
    (position,), told = read_cap_list(path)
    return " ".join(position.doubts), [d.message for d in told if d.code == "cell-unread"]


def test_every_cell_that_could_not_be_read_is_named_not_the_first_alone(tmp_path: Path) -> None:
    doubts, (message,) = stored(tmp_path, volts="NaN", pitch="wide", height="1e999")
    assert doubts == "cell-unread"
    for named in ("'NaN' in column 'volts'", "'wide' in column 'pitch'", "'1e999' in column 'height'"):
        assert named in message


@pytest.mark.parametrize("column", ["pitch", "diameter", "height", "ripple"])
def test_a_stored_size_of_nothing_is_doubted(column: str, tmp_path: Path) -> None:
    doubts, (message,) = stored(tmp_path, **{column: "0"})
    assert (doubts, f"in column {column!r}" in message) == ("cell-unread", True)


def test_nought_in_a_column_of_sizes_is_no_size() -> None:
    """So programs write what nobody filled in; a part 0 mm wide would leave no substitute. 0 °C is a temperature."""
    header = "Designator,Value,Voltage,Pitch (mm),Diameter (mm),Height (mm)"
    assert facts(f"{header}\nC1,10uF,16,0,0,0\nC2,10uF,16,5,0.0,11\n") == ["C1 10 µF 16 V", "C2 10 µF 16 V H11 P5"]


def test_a_formula_without_a_result_is_doubted_where_its_cell_is_needed_and_only_there(tmp_path: Path) -> None:
    book = openpyxl.Workbook()
    assert book.active is not None
    head = ("ref", "value", "volts", "price")
    for row in (head, ("C1", "47uF", 25, "=2*0.5"), ("C2", "=40+7", 50, 1), ("C3", "1uF", "=20+5", 1)):
        book.active.append(row)
    path = tmp_path / "list.xlsx"
    book.save(path)
    positions, told = read_cap_list(path)
    found = [(p.value_uF, p.volts, bool(p.doubts)) for p in positions]
    assert found == [(47, 25, False), (None, 50, True), (1, None, True)]
    places = [(d.source.row, d.source.column) for d in told if d.code == "cell-formula-empty"]
    assert places == [(2, "D"), (3, "B"), (4, "C")]


@pytest.mark.parametrize(
    ("cell", "volts"), [("4 7", None), ("16 25", None), ("1:1:1", None), ("16 V 25", 16), ("16", 16), ("16 V", 16)]
)
def test_a_further_number_under_volts_is_doubted(cell: str, volts: int | None, tmp_path: Path) -> None:
    path = tmp_path / "list.csv"
    path.write_text(f"ref,value,volts\nC1,47uF,{cell}\nC2,10uF,25\n", encoding="utf-8")
    (first, second), _ = read_cap_list(path)
    assert (first.volts, bool(first.doubts)) == (volts, not cell.removesuffix(" V").isdigit())
    assert (second.volts, second.doubts) == (25, ())
