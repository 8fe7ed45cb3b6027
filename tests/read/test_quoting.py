"""Quotation marks in text files: what RFC 4180 says of them, and what people write beside it (common practice)."""

from __future__ import annotations

import pytest

from recap.read.delimited import parse_delimited


def rows(text: str) -> list[tuple[int | None, list[str]]]:
    table, _ = parse_delimited(text, "list.csv")
    return [(row.source.row, [cell.text for cell in row.cells]) for row in table.rows]


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ('"a""",b', [(1, ['a"', "b"])]),
        ('C1,"10""",x', [(1, ["C1", '10"', "x"])]),
        ('"",b', [(1, ["", "b"])]),
        ('a, "b,c" ,d', [(1, ["a", "b,c", "d"])]),
        ('a,"  b  ",c', [(1, ["a", "b", "c"])]),
        # over several lines: the row is that of the first, and the next has its own number
        ('"a\nb",c\nd,e', [(1, ["a\nb", "c"]), (3, ["d", "e"])]),
        ('"a\n",b\nc,d', [(1, ["a", "b"]), (3, ["c", "d"])]),
        ('a,b\r\nc,d\r"e\r\nf",g', [(1, ["a", "b"]), (2, ["c", "d"]), (3, ["e\nf", "g"])]),
        # no quotation: ditto marks, inches, one that never closes
        ('a,",",c\nd,e,f', [(1, ["a", '"', '"', "c"]), (2, ["d", "e", "f"])]),
        ('C1,4.7",x', [(1, ["C1", '4.7"', "x"])]),
        ('a,"b"c,d\ne,f,g', [(1, ["a", '"b"c', "d"]), (2, ["e", "f", "g"])]),
        ('"a\nb', [(1, ['"a']), (2, ["b"])]),
    ],
)
def test_cells_in_quotation_marks(text: str, expected: list[tuple[int, list[str]]]) -> None:
    assert rows(text) == expected


def test_rows_without_cells_and_with_fewer_count_as_well() -> None:
    assert rows("a,b,\n,,\n\nc\nd,e,f") == [
        (1, ["a", "b", ""]),
        (2, ["", "", ""]),
        (3, []),
        (4, ["c"]),
        (5, ["d", "e", "f"]),
    ]


def test_remarks_have_no_say_in_the_delimiter_unless_there_is_nothing_else() -> None:
    assert rows("Ref;Value\nC1;4,7\n# a, b, c\n# d, e, f\n# g, h, i")[1] == (2, ["C1", "4,7"])
    assert rows("# a, b\n# c, d")[0] == (1, ["# a", "b"])


@pytest.mark.parametrize(
    ("text", "places"),
    [("=1,=", ["1A"]), ("-,=A1", ["1B"]), ("a,b\nc,=1+1", ["2B"]), ("=,=", [])],
)
def test_formulas_are_told_at_their_places(text: str, places: list[str]) -> None:
    told = parse_delimited(text, "list.csv")[1]
    assert [f"{d.source.row}{d.source.column}" for d in told if d.code == "cell-formula"] == places


def test_a_mark_that_never_closes_is_told() -> None:
    assert [d.code for d in parse_delimited('a,"b', "list.csv")[1]] == ["quote-unclosed"]
    assert [d.code for d in parse_delimited('a,"', "list.csv")[1]] == []
