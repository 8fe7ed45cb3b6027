"""Tables that programs print in columns: each cell begins below its header, whatever few blanks part it from the last.

Where the longest cell of a column leaves one blank in front of the next, and where cells are blank, blanks alone
don't tell the cells apart; the places at which the headers begin do.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Final

from recap.normalise import columns
from recap.normalise.clean import clean, squeeze

if TYPE_CHECKING:
    from collections.abc import Sequence

FEWEST_COLUMNS, FEWEST_ROWS = 3, 2
MOST_BLANKS: Final = 2
"""So many lines without text may stand between the header and its rows."""
FILLED: Final = 0.3
"""In so many rows something must begin right below a header that no other row has a word across."""
_RULE: Final = re.compile(r"[\s\-=_+|]+")


def find(lines: Sequence[str], at: int) -> tuple[int, dict[int, list[str]]] | None:
    """Return the last line (0-based) and the cells, by line, of the printed table that a line heads, or None."""
    head = lines[at].expandtabs(8).rstrip()
    words = [match.start() for match in re.finditer(r"\S+", head)]
    if len(words) < FEWEST_COLUMNS or words[0] > 0:
        return None
    rows = _below(lines, at)
    starts = _starts(words, list(rows.values()))
    if len(starts) < FEWEST_COLUMNS or len(rows) < FEWEST_ROWS or not _is_close([head, *rows.values()], starts):
        return None
    cells = {number: _cut(row, starts) for number, row in rows.items()}
    header = _cut(head, starts)
    if not columns.is_header([squeeze(clean(text).text) for text in header]):
        return None
    return max(rows), {at: header, **cells}


def _below(lines: Sequence[str], at: int) -> dict[int, str]:
    """Return the rows below a header up to the next blank line, by the number of their line."""
    rows: dict[int, str] = {}
    for number in range(at + 1, len(lines)):
        line = lines[number].expandtabs(8).rstrip()
        if not line or _RULE.fullmatch(line):
            if rows or number - at > MOST_BLANKS:
                break
            continue
        rows[number] = line
    return rows


def _starts(words: Sequence[int], rows: Sequence[str]) -> list[int]:
    """Return where the words of a header begin columns: no row has a word across, and some begin right there."""
    kept = []
    for start in words:
        whole = all(not start or len(row) < start or row[start - 1] == " " for row in rows)
        begun = sum(len(row) > start and row[start] != " " for row in rows)
        if whole and begun >= FILLED * len(rows):
            kept.append(start)
    return kept


def _is_close(lines: Sequence[str], starts: Sequence[int]) -> bool:
    """Tell whether one blank alone parts two cells somewhere: otherwise the blanks tell them apart."""
    return any(len(line) > at and line[at] != " " and line[at - 2] != " " for line in lines for at in starts[1:])


def _cut(line: str, starts: Sequence[int]) -> list[str]:
    return [line[a:b].strip() for a, b in zip(starts, [*starts[1:], None], strict=True)]
