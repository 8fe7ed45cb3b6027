"""Tables in pasted text that has no delimiter: columns set apart by blanks, or by upright strokes."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence

_WORDS = re.compile(r"\S+(?: \S+)*")
_RULE = re.compile(r"[\s|+:=-]*")
MOST_COLUMNS = 60
"""Nobody sets more columns than these apart by blanks."""
_FEWEST = 3
"""Columns that a line must have to head an aligned table."""

Span = tuple[int, int, str]


def as_tabbed(lines: Sequence[str]) -> list[str] | None:
    """Return the lines with a tab between cells, each in its own place still; None where they are no such table.

    Of an aligned table the line with the most cells among the first is the header; a cell of another line belongs to
    the column over which most of it stands, else to the nearest.
    """
    strokes = [line.count("|") for line in lines if line.strip()]
    if strokes and sum(count > 1 for count in strokes) * 2 > len(strokes):
        return [_by_strokes(line) for line in lines]
    spans = [_spans(line) for line in lines]
    head = next((row for row in spans if len(row) >= _FEWEST), None)
    if head is None or len(head) > MOST_COLUMNS or sum(len(row) >= _FEWEST for row in spans) < 2:  # noqa: PLR2004 - a header and a row
        return None
    return [
        "\t".join(_cells(row, head)) if len(row) > 1 else line.strip() for line, row in zip(lines, spans, strict=True)
    ]


def _by_strokes(line: str) -> str:
    if _RULE.fullmatch(line):
        return ""
    return "\t".join(cell.strip() for cell in line.strip().strip("|").split("|"))


def _spans(line: str) -> list[Span]:
    return [(match.start(), match.end(), match[0]) for match in _WORDS.finditer(line.expandtabs(8))]


def _cells(row: Sequence[Span], head: Sequence[Span]) -> list[str]:
    cells = [""] * len(head)
    for start, end, text in row:
        at = max(range(len(head)), key=lambda index: _nearness(start, end, head[index]))
        cells[at] = f"{cells[at]} {text}".strip()
    return cells


def _nearness(start: int, end: int, column: Span) -> tuple[int, int]:
    """Return how much of a cell stands below a column's header, and, negative, how far apart the nearer edges are."""
    overlap = min(end, column[1]) - max(start, column[0])
    return max(overlap, 0), -min(abs(start - column[0]), abs(end - column[1]))
