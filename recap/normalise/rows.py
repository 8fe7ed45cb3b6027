"""A table row to a draft: each cell is read as what its column holds, dittos as what stands above them."""

from __future__ import annotations

import re
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING, Final

from recap.normalise import cell_legends, designators, patterns, torn_numbers, words
from recap.normalise.cell_readers import READERS, remark, two_values
from recap.normalise.cell_text import NOTHING, free
from recap.normalise.clean import clean, part_commas, squeeze
from recap.normalise.fields import Draft, settle_numbers, take
from recap.normalise.further_columns import as_word
from recap.normalise.other_parts import FARADS
from recap.read.units import FIELD_QUANTITY, UNIT_FIELDS

if TYPE_CHECKING:
    from collections.abc import Sequence

    from recap.normalise.column import Column
    from recap.read.cells import Cell


LONGEST_CELL: Final = 2000
"""No cell of a list holds more; it also bounds the work on hostile input."""


@dataclass(slots=True)
class Memory:
    """What a table remembers from row to row: ``last``, the last text of each column, for dittos."""

    columns: list[Column]
    width: int
    """Of the whole table, which may hold other lists beside this one."""
    blanks_repeat: bool = False
    """An empty cell of a quantity means the same as above: the list says so."""
    last: dict[int, str] = field(default_factory=dict)
    variant: str = ""
    """The variant of the chassis whose parts these columns hold; its own column stands last."""
    board: str = ""
    """What stands over these columns alone, where other lists stand beside them."""
    united: bool = False
    """Units stand in columns of their own."""
    marks: dict[str, str] = field(default_factory=dict)
    """The list's own abbreviations and what they mean."""
    groups: frozenset[int] = frozenset()
    """Columns that name a board in the first of its rows only."""


_DESCRIBING: Final = frozenset(("text", "unknown", "", "kind", "mount", "package", "part", "note"))
"""Fields that are read after those that hold one quantity each, which have the first word."""


def read_row(cells: Sequence[Cell], memory: Memory, unit: str | None = None) -> Draft:
    """Return what one row says. Dittos are filled from ``memory``, which then holds this row's texts.

    ``unit`` is what the text above says of bare capacitances.
    """
    draft = Draft(unit=unit)
    draft.placed = any(column.field == "ref" for column in memory.columns)
    texts = {column.index: _text(cells, column, memory, draft) for column in memory.columns}
    meant = _meant(memory, texts)
    beside = _units_beside(memory.columns, texts) if memory.united else {}
    suggestions: list[str] = []
    for column in sorted(memory.columns, key=lambda column: column.field in _DESCRIBING):
        text = texts[column.index]
        if column.side == "replacement":
            if text.casefold() not in NOTHING:
                suggestions.append(text)
            continue
        if not text:
            continue
        dated = column.index < len(cells) and cells[column.index].is_date  # a cell may stand above alone
        if (dated or patterns.DATE.fullmatch(text)) and column.field not in {
            "passed over",
            "done",
            "note",
            "item",
            "unknown",
            "text",
        }:
            draft.doubt(
                "date-in-cell", f"column {column.header!r} holds the date {text}; perhaps {_undated(text)} was typed"
            )
            continue
        united = column.unit or beside.get(column.index) or (unit if column.field == "value" else None)
        if column.field == "value" and two_values(draft, text, _rated(memory, texts), united):
            continue
        READERS.get(column.field, free)(draft, text, column, united)
    meant += [(memory.columns[0], memory.marks[mark]) for mark in draft.marks if mark in memory.marks]
    for column, meaning in meant:
        free(draft, meaning, replace(column, field="unknown", side=""), None)
    for index in range(memory.width, len(cells)):
        _beyond(draft, squeeze(clean(cells[index].text).text))
    _settle_beside(draft)
    draft.suggestion = " ".join(suggestions)
    settle_numbers(draft)
    described = [texts[column.index] for column in memory.columns if column.field in {"value", "text"}]
    torn_numbers.doubt_spoilt(draft, " ".join(described))
    return draft


def _meant(memory: Memory, texts: dict[int, str]) -> list[tuple[Column, str]]:
    """Take the list's own marks out of the texts of a row; return what they mean, each with its column."""
    found: list[tuple[Column, str]] = []
    for column in memory.columns if memory.marks else ():
        if column.side != "replacement":
            texts[column.index], meaning = cell_legends.spelt_out(texts[column.index], memory.marks, column.field)
            found += [(column, meaning)] if meaning else []
    return found


def _units_beside(columns: Sequence[Column], texts: dict[int, str]) -> dict[int, str]:
    """Return the units that stand in cells of their own, by the column they go with: those in front, else behind."""
    found: dict[int, str] = {}
    for column in columns:
        text = texts[column.index] if column.field == "unit" else ""
        quantity = UNIT_FIELDS.get(text.casefold().replace("μ", "µ")) if text else None
        measured = [other.index for other in columns if _IN_UNIT.get(other.field) == quantity] if quantity else []
        free = [index for index in measured if index not in found]
        for index in [index for index in free if index < column.index] or free[:1]:
            found[index] = text
    return found


_IN_UNIT: Final = {**FIELD_QUANTITY, "size": "length", "size reversed": "length"}


def _rated(memory: Memory, texts: dict[int, str]) -> str:
    """Return the cell of the row's voltage."""
    return next((texts[column.index] for column in memory.columns if column.field == "volts" and not column.side), "")


def _settle_beside(draft: Draft) -> None:
    """Take quantities from the cell of the designators where no other cell has them; otherwise they are a remark."""
    if draft.beside_refs and not draft.has_value:
        take(draft, draft.beside_refs)
    elif draft.beside_refs:
        draft.doubt("remark-unclear", " ".join(token.text for token in draft.beside_refs))


def _beyond(draft: Draft, text: str) -> None:
    """Read a cell behind the last header as a remark."""
    if text:
        remark(draft, text, None, None)
    if FARADS.search(text) or designators.find_group(text) is not None:
        draft.doubt("cell-unread", f"{text!r} stands behind the last column: perhaps another row's")


def _text(cells: Sequence[Cell], column: Column, memory: Memory, draft: Draft) -> str:
    """Return the cell's text without what was struck; dittos replaced by the text above."""
    if column.index >= len(cells) or not cells[column.index].text.strip():
        return _of_blank(column, memory)
    cell = cells[column.index]
    if len(cell.text) > LONGEST_CELL:
        draft.doubt("cell-long", f"{len(cell.text):,} characters in column {column.header!r}")
        return ""
    cleaned = clean(as_word(cell.text, column.field))
    text = part_commas(squeeze(cleaned.text)) if column.field != "ref" else squeeze(cleaned.text)
    if cell.struck or (cleaned.struck and not text):
        if column.field in {"ref", "value", "text"}:
            draft.not_fitted = True
        return ""
    if cleaned.struck:
        draft.doubt("struck-part", f"{cleaned.struck!r} is struck through, {text!r} stands beside it")
    if _is_ditto(text):
        above = memory.last.get(column.index)
        if not above:
            draft.doubt("ditto-unclear", f"a ditto in column {column.header!r} with nothing above")
            return ""
        return above
    memory.last[column.index] = text
    return text


def _of_blank(column: Column, memory: Memory) -> str:
    """Return what an empty cell means: nothing, or the same as above where the list is written so."""
    if (memory.blanks_repeat and column.field in _REPEATED and not column.side) or column.index in memory.groups:
        return memory.last.get(column.index, "")
    memory.last[column.index] = ""
    return ""


_REPEATED: Final = frozenset(
    ("value", "volts", "temp", "size", "diameter", "height", "pitch", "kind", "mount", "package")
)


def _is_ditto(text: str) -> bool:
    return bool(text) and text.casefold() in words.DITTO


def _undated(iso: str) -> str:
    match = re.match(r"(\d{4})-(\d{2})-(\d{2})", iso)
    if match is None:
        return "something else"
    year, month, day = (int(part) for part in match.groups())
    return f"{day}-{month}, {month}-{day} or {month}-{year % 100}"
