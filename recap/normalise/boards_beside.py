"""Tables with a column of designators for each of several boards: ``Value | Left board | Right board``."""

from __future__ import annotations

import copy
import re
from typing import TYPE_CHECKING, Final

from recap.normalise import designators
from recap.normalise.clean import clean, fold, squeeze
from recap.normalise.words import BOARD_NOUNS

if TYPE_CHECKING:
    from collections.abc import Sequence

    from recap.normalise.column import Column
    from recap.normalise.fields import Draft
    from recap.read.cells import Row

_OF_ANY: Final = frozenset("board boards pcb pcbs print card circuit unit ref refs reference designator".split())
"""Alone these name no board: ``PCB ref`` beside ``Schematic ref`` is another name of the same part."""


_CHANNELS: Final = frozenset(
    fold(word)
    for word in (
        "left right l r links rechts linker rechter linke rechte gauche droite droit sinistra sinistro destra destro "
        "sx dx izquierda izquierdo derecha derecho izq der vänster höger lewy prawy left-hand right-hand front rear "
        "a b 1 2 3 4"
    ).split()
)
_CHANNEL: Final = frozenset(
    fold(word) for word in "channel chan ch kanal canal canale kanaal ref refs reference".split()
)


def names_channel(header: str) -> bool:
    """Tell whether a header names a channel (``Left``, ``Ref R``), which is no board of its own."""
    told = [fold(word) for word in re.findall(r"[^\W_]+", header)]
    return bool(set(told) & _CHANNELS) and set(told) <= _CHANNELS | _CHANNEL


def names_board(header: str) -> bool:
    """Tell whether a header names one of several boards."""
    told = {fold(word) for word in re.findall(r"[^\W_]+", header)}
    return bool(told & BOARD_NOUNS) and bool(told - _OF_ANY) and not names_channel(header)


def parted(draft: Draft, row: Row, columns: Sequence[Column], board: str | None) -> list[Draft]:
    """Return a draft for each board whose designators a row holds; a count of all of them is shared out.

    ``board`` is what the headings above the table say: these are boards of it.
    """
    placed = [column for column in columns if column.field in {"ref", "further ref"}]
    if len(placed) == 1 or not all(names_board(column.header) for column in placed):
        return [draft]
    told: list[tuple[Column, designators.RefGroup]] = []
    for column in placed:
        text = squeeze(clean(row.cells[column.index].text).text) if column.index < len(row.cells) else ""
        if (group := designators.read_refs(text)) is not None:
            told.append((column, group))
    if [ref for _, group in told for ref in group.refs] != draft.refs or not told:
        return [draft]
    board = draft.board or board
    whole = draft.counts == [len(draft.refs)]
    found = []
    for column, group in told:
        part = copy.deepcopy(draft)
        part.refs = list(group.refs)
        part.board = f"{board}, {column.header}" if board else column.header
        part.counts = [len(group.refs)] if whole else part.counts
        found.append(part)
    return found
