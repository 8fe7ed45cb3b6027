"""Rows of a table that hold nothing but further designators of the row above them, whose cell was too narrow."""

from __future__ import annotations

import copy
import re
from typing import TYPE_CHECKING, NamedTuple

from recap.normalise import designators
from recap.normalise.clean import clean, squeeze

if TYPE_CHECKING:
    from collections.abc import Sequence

    from recap.normalise.fields import Draft
    from recap.normalise.rows import Memory
    from recap.read.cells import Row


class Further(NamedTuple):
    """A row that holds designators alone."""

    row: int
    text: str
    refs: tuple[str, ...]


MOST = 12
"""So many rows may go on with one."""


def below(rows: Sequence[Row], at: int, memory: Memory) -> list[Further]:
    """Return the rows right below row ``at`` that hold nothing but designators, and perhaps the rest of a remark."""
    place = next((column.index for column in memory.columns if column.field == "ref"), None)
    remarks = {column.index for column in memory.columns if column.field == "note"}
    found: list[Further] = []
    for row in rows[at + 1 : at + 1 + MOST]:
        filled = [cell.text for i, cell in enumerate(row.cells) if cell.text.strip() and i not in remarks]
        if place is None or len(filled) != 1 or place >= len(row.cells) or not row.cells[place].text.strip():
            break
        text = squeeze(clean(filled[0]).text)
        group = designators.read_refs(text)
        if group is None or row.source.row is None or row.cells[place].struck:
            break
        found.append(Further(row.source.row, text, group.refs))
    return found


def going_on(draft: Draft, text: str, further: Sequence[Further]) -> Sequence[Further]:
    """Return which of the rows below go on with a draft: as many as its count asks for, or as its commas lead to."""
    if not draft.refs or not draft.has_value or draft.not_fitted:
        return ()
    total = len(draft.refs)
    for taken, each in enumerate(further, start=1):
        total += len(each.refs)
        if draft.counts == [total]:
            return further[:taken]
    led = 0
    while led < len(further) and _OPEN.search(further[led - 1].text if led else text):
        led += 1
    return further[:led]


_OPEN = re.compile(r"[,;/&+]\s*$")


def parts(draft: Draft, text: str, further: Sequence[Further]) -> list[tuple[int, str, Draft]]:
    """Return a draft with its row for each of the rows that go on with it; the count is shared out."""
    total = len(draft.refs) + sum(len(each.refs) for each in further)
    if draft.counts == [total]:
        draft.counts = [len(draft.refs)]
    found = []
    for each in further:
        part = copy.deepcopy(draft)
        part.refs = list(each.refs)
        part.counts = [len(each.refs)] if len(part.counts) == 1 else part.counts
        found.append((each.row, f"{text} {each.text}", part))
    return found
