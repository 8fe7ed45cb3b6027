"""Tables that lie on their side, made upright: a column for each part, or voltages across and values down.

``Ref | C1 | C2`` over ``Value | 10uF | 47uF``; ``| 16V | 25V`` over ``10uF | C1, C2 | C9`` or, in a kit, over counts.
Also ``Value | Volts | PSU | Left amp``, where counts stand below the names of boards or variants.
"""

from __future__ import annotations

from dataclasses import replace
from re import IGNORECASE
from typing import TYPE_CHECKING, Final

from recap.normalise import boards_beside, columns, designators, values, variants
from recap.normalise.clean import clean, squeeze
from recap.normalise.later import compiled
from recap.read.cells import Cell, Row

if TYPE_CHECKING:
    from collections.abc import Sequence

SEVERAL: Final = 2
"""So many parts, or voltages, beside each other make a table of this sort; so many rows below them, too."""
LOOKED_AT: Final = 60
MOST_LINES: Final = 300
"""Such a table is no longer: one side of it has to fit on a page."""
_EMPTY: Final = frozenset(("", "-", "--", "/", "0", ".", "x", "n/a"))
_COUNT: Final = compiled(r"(?P<count>[1-9]\d{0,2})(?:\s?(?:x|pcs?\.?|st\.?|stk\.?))?", IGNORECASE)
_VOLTS_ABREAST: Final = compiled(r"(?<![\w.])\d{1,3}(?:[.,]\d)?\s?V(?:DC)?(?!\w)\W{1,30}\d{1,3}(?:[.,]\d)?\s?V")
_NAMED: Final = compiled(r"\W*(?:\d|[.,]\d|C[A-Z]?-?\d)")
_COUNTS_ABREAST: Final = compiled(
    r"\d\s?[uµμn]F.*?(?:(?:\s{2,}|\t|[|;,])\s*(?:\d{1,3}|[-–])\s*(?=\s{2}|\t|[|;,]|$)){2,}", IGNORECASE
)
_REFS_ABREAST: Final = compiled(r"^\W*[A-Za-z][^\d]{0,20}\bC[A-Z]?-?\d{1,4}\W+C[A-Z]?-?\d")


def may_begin(line: str, below: str) -> bool:
    """Tell quickly whether a line, with the one ``below`` it, may begin such a table."""
    if _VOLTS_ABREAST.search(line) is not None:
        return _NAMED.match(below) is not None and _VOLTS_ABREAST.search(below) is None
    if _COUNTS_ABREAST.search(below) is not None and _NAMED.match(line) is None:
        return True
    return _REFS_ABREAST.search(line) is not None and _REFS_ABREAST.search(below) is None


def upright(rows: Sequence[Row]) -> tuple[Row, ...] | None:
    """Return the rows with the first table of this sort among them made upright, or None where there is none."""
    for at, row in enumerate(rows[:LOOKED_AT]):
        if len(row.cells) <= SEVERAL:
            continue
        end = next((i for i in range(at + 2, len(rows)) if not any(c.text.strip() for c in rows[i].cells)), len(rows))
        turned = _transposed(rows[at:end]) or _matrix(rows[at:end]) or _counted(rows[at:end])
        if turned is not None:
            return (*rows[:at], *turned, *rows[end:])
    return None


def _text(cell: Cell) -> str:
    return squeeze(clean(cell.text).text)


def _transposed(rows: Sequence[Row]) -> list[Row] | None:
    """Return a table of a column for each part as one of a row for each, all where its first row stands."""
    head = [_text(cell) for cell in rows[0].cells]
    if len(rows) <= SEVERAL or (head[0] and columns.understand(head[0], 0).field != "ref"):
        return None
    named = [at for at, text in enumerate(head) if at and text]
    if len(named) < SEVERAL or not all(_is_designator(head[at]) for at in named):
        return None
    fields = [columns.understand(_text(row.cells[0]), 0).field if row.cells else "" for row in rows[1:]]
    known = [field for field in fields if field in columns.STRONG]
    if not {"value", "text"} & set(known) or len(known) < SEVERAL or len(known) * 2 <= len(fields):
        return None
    source = rows[0].source
    blank = Cell("", source)
    return [
        Row(tuple(row.cells[at] if at < len(row.cells) else blank for row in rows if row.cells), source)
        for at in (0, *named)
    ]


def _is_designator(text: str) -> bool:
    group = designators.read_refs(text)
    return group is not None and len(group.refs) == 1


def _matrix(rows: Sequence[Row]) -> list[Row] | None:
    """Return a table with voltages across, and values or designators down, as one of a row for each part."""
    head = [_text(cell) for cell in rows[0].cells]
    rated = [at for at, text in enumerate(head) if at and text]
    if len(rated) < SEVERAL or not all(_is_rating(head[at]) for at in rated):
        return None
    body = [row for row in rows[1:] if any(cell.text.strip() for cell in row.cells)]
    filled = [
        (row, at) for row in body for at in rated if at < len(row.cells) and _text(row.cells[at]).lower() not in _EMPTY
    ]
    down = _sort([_text(row.cells[0]) for row in body])
    across = _sort([_text(row.cells[at]) for row, at in filled])
    if len(body) < SEVERAL or (down, across) not in {("Value", "Qty"), ("Value", "Ref"), ("Ref", "Value")}:
        return None
    source = rows[0].source
    turned = [Row(tuple(Cell(name, source) for name in (down, "Voltage", across)), source)]
    for row, at in filled:
        told = row.cells[at]
        told = replace(told, text=_COUNT.sub(r"\g<count>", told.text.strip())) if across == "Qty" else told
        turned.append(Row((row.cells[0], rows[0].cells[at], told), row.source))
    return turned


def _counted(rows: Sequence[Row]) -> list[Row] | None:
    """Return a table with a column of counts for each board as one of a row for each board."""
    head = [_text(cell) for cell in rows[0].cells]
    fields = [columns.understand(text, at).field for at, text in enumerate(head)]
    told = [at for at, text in enumerate(head) if fields[at] == "unknown" and _names_board(text)]
    if len(told) < SEVERAL or {"ref", "qty"} & set(fields) or not {"value", "text"} & set(fields):
        return None
    if any(map(columns.holds_data, head)):
        return None
    texts = [_text(row.cells[at]).lower() for row in rows[1:] for at in told if at < len(row.cells)]
    if not all(text in _EMPTY or _COUNT.fullmatch(text) for text in texts):
        return None
    source = rows[0].source
    kept = [at for at in range(len(head)) if at not in told]
    turned = [Row((*(rows[0].cells[at] for at in kept), Cell("Board", source), Cell("Qty", source)), source)]
    for row in rows[1:]:
        cells = [*row.cells, *[Cell("", row.source)] * (len(head) - len(row.cells))]
        own = [cells[at] for at in kept]
        counts = [at for at in told if _text(cells[at]).lower() not in _EMPTY]
        turned += [Row((*own, rows[0].cells[at], cells[at]), row.source) for at in counts]
    return turned


def _names_board(text: str) -> bool:
    told = (boards_beside.names_board, boards_beside.names_channel, variants.names)
    return len(text) > 1 and any(names(text) for names in told)


def _sort(texts: Sequence[str]) -> str:
    """Return what all of these cells hold: values with their units, designators, or counts."""
    if texts and all((read := values.capacitance(text)) and "unit-missing" not in read.doubts for text in texts):
        return "Value"
    if texts and all(any(map(str.isalpha, text)) and designators.read_refs(text) for text in texts):
        return "Ref"
    return "Qty" if texts and all(map(_COUNT.fullmatch, texts)) else ""


def _is_rating(text: str) -> bool:
    read = values.voltage(text)
    return read is not None and read.value is not None and not read.doubts
