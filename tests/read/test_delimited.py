"""Delimited text: what stood in which cell of which row, as the user's editor counts rows.

The quoting rules checked here are those of RFC 4180 (2005), section 2: a quoted field may hold
delimiters and line breaks (rule 6), and a quotation mark in it is doubled (rule 7).
"""

from __future__ import annotations

import csv
import io
from typing import TYPE_CHECKING

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from recap.read.delimited import choose_delimiter, column_letters, parse_delimited
from recap.read.tables import table_from_text

if TYPE_CHECKING:
    from recap.read.cells import Table


def texts(table: Table) -> list[tuple[int | None, list[str]]]:
    return [(row.source.row, [cell.text for cell in row.cells]) for row in table.rows]


def cells(text: str) -> list[list[str]]:
    return [row for _, row in texts(table_from_text(text, "list")) if row]


@pytest.mark.parametrize(
    ("text", "delimiter"),
    [
        ("ref,value\nC1,47", ","),
        ("ref;value\nC1;4,7", ";"),
        ("ref\tvalue\nC1\t4,7", "\t"),
        ("ref;value;volts\nC1;4,7;50\nC2;0,47;63", ";"),
        ("Capacitors, both boards\n\nref;value\nC1;4,7\nC2;10\nC3;22", ";"),
        ('ref,note\nC1,"left; upper"\nC2,"right; lower"', ","),
        ("part,prices\nA,1:0.42;10:0.31\nB,1:0.40;10:0.30", ","),
        ("# two things; and more\nitem,qty,part", ","),
        ("# only; remarks\n# here; too", ";"),
        ("one column\nC1\nC2", None),
    ],
)
def test_the_delimiter_is_the_one_that_cuts_rows_alike(text: str, delimiter: str | None) -> None:
    assert choose_delimiter(text) == delimiter


def test_rows_keep_the_numbers_of_the_editor() -> None:
    table = table_from_text('ref,note\n\nC1,"two\nlines"\r\nC2,x\n', "list")
    assert texts(table) == [(1, ["ref", "note"]), (2, []), (3, ["C1", "two\nlines"]), (5, ["C2", "x"])]


def test_every_cell_knows_its_place() -> None:
    table, _ = parse_delimited("ref,value\nC1,47", "k7.csv")
    place = table.rows[1].cells[1].source
    assert (place.file, place.row, place.column) == ("k7.csv", 2, "B")


def test_ragged_rows_stay_ragged() -> None:
    rows = cells("ref,value,volts\nC1,47\nC2,4,7,50")
    assert rows == [["ref", "value", "volts"], ["C1", "47"], ["C2", "4", "7", "50"]]


def test_rfc_4180_quoting() -> None:
    assert cells('aaa,"b ""bb""",ccc\n"x,y",z,"1\n2"') == [["aaa", 'b "bb"', "ccc"], ["x,y", "z", "1\n2"]]


def test_a_ditto_mark_alone_in_its_cell_swallows_nothing() -> None:
    text = 'ref,value,volts\nC1,47,50\nC2,",63\nC3,",63\nC4,","\n'
    assert cells(text)[2:] == [["C2", '"', "63"], ["C3", '"', "63"], ["C4", '"', '"']]


def test_inch_marks_are_kept() -> None:
    assert cells('ref,pitch\nC1,0.3"\nC2,0.2"') == [["ref", "pitch"], ["C1", '0.3"'], ["C2", '0.2"']]


def test_a_quotation_never_closed_is_read_as_it_stands_and_told() -> None:
    table, told = parse_delimited('ref,note\nC1,"left\nC2,right\n', "list")
    assert [row for _, row in texts(table)] == [["ref", "note"], ["C1", '"left'], ["C2", "right"]]
    assert [(d.code, d.source.row) for d in told] == [("quote-unclosed", 2)]


def test_a_formula_in_text_is_told_at_its_cell() -> None:
    _, told = parse_delimited("ref,value\nC1,=B7*1000\n", "list")
    assert [(d.code, d.source.row, d.source.column) for d in told] == [("cell-formula", 2, "B")]


@pytest.mark.parametrize(("index", "letters"), [(0, "A"), (25, "Z"), (26, "AA"), (701, "ZZ"), (702, "AAA")])
def test_columns_have_the_letters_of_a_spreadsheet(index: int, letters: str) -> None:
    assert column_letters(index) == letters


CELL = st.text(st.characters(codec="utf-8", exclude_characters="\x00\r\x85\u2028\u2029"), max_size=12)
PLAIN = CELL.filter(lambda text: not text.startswith('"') and text.strip(' \t\n"') == text)
TABLE = st.lists(st.lists(PLAIN, min_size=3, max_size=3), min_size=3, max_size=8)


@given(TABLE, st.sampled_from([",", ";", "\t"]))
@settings(max_examples=100, deadline=None)
def test_what_the_standard_library_writes_is_read_back(rows: list[list[str]], delimiter: str) -> None:
    rows = [["ref", "value", "note"], *rows]
    out = io.StringIO()
    csv.writer(out, delimiter=delimiter, quoting=csv.QUOTE_ALL, lineterminator="\n").writerows(rows)
    table, _ = parse_delimited(out.getvalue(), "list", delimiter)
    expected = [[cell.strip("\u00a0\u200b\u2007\u202f\u2060\ufeff\v\f ") for cell in row] for row in rows]
    dittos = any(set(cell) <= set(delimiter + '" \t\n\v\f') and cell for row in rows for cell in row)
    if not dittos and not any(cell.lstrip(" ").startswith((delimiter, "\n")) for row in rows for cell in row):
        assert [[c.text for c in row.cells] for row in table.rows if row.cells] == expected


@given(st.text(max_size=300))
@settings(max_examples=100, deadline=None)
def test_any_text_is_some_table_and_no_line_is_lost(text: str) -> None:
    table, _ = parse_delimited(text, "list")
    letters = "".join(cell.text for row in table.rows for cell in row.cells)
    assert sum(letters.count(c) for c in "abcXYZ0189") == sum(text.count(c) for c in "abcXYZ0189")


@given(st.lists(st.tuples(st.integers(1, 99), st.integers(1, 9)), min_size=2, max_size=10))
@settings(max_examples=60, deadline=None)
def test_the_delimiter_does_not_change_what_is_read(pairs: list[tuple[int, int]]) -> None:
    def written(delimiter: str, mark: str) -> list[list[str]]:
        lines = ["ref{0}value{0}volts", *(f"C{i}{{0}}{a}{mark}{b}{{0}}50" for i, (a, b) in enumerate(pairs))]
        return [[c.replace(",", ".") for c in row] for row in cells("\n".join(lines).format(delimiter))]

    assert written(",", ".") == written(";", ",") == written("\t", ",") == written(";", ".")
