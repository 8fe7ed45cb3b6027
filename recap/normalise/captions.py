"""What stands over or in a table and holds for its rows: its caption, and rows that name the board of those below."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from recap.normalise import columns, headings
from recap.normalise.clean import clean, squeeze
from recap.normalise.heading_marks import Marked
from recap.normalise.heading_stack import Heading
from recap.normalise.positions import NOWHERE

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from recap.normalise.column import Column
    from recap.normalise.lines import TextReader
    from recap.read.cells import Row


def begin(reader: TextReader, row: int, raw: str) -> None:
    """Read the caption of a table, which holds for that table alone."""
    text = squeeze(clean(raw).text)
    judged = headings.judge(Marked(text, 2, headings.CAPTION_LEVEL))
    if judged.heading is None:
        reader.ledger.passed(row, "line-passed-over", "a caption that says nothing of the parts", text)
        return
    reader.stack.push(judged.heading)
    reader.ledger.heading(row, "heading-read", headings.says(judged.heading), text)


def end(reader: TextReader) -> None:
    """End what a caption said."""
    while reader.stack.open and reader.stack.open[-1].level == headings.CAPTION_LEVEL:
        reader.stack.open.pop()


def assembly(reader: TextReader, row: int, name: str, text: str) -> None:
    """Take a row of a parts list that names the board whose parts stand below it."""
    heading = Heading(replace(NOWHERE, board=name))
    reader.stack.push(heading)
    reader.ledger.heading(row, "heading-read", headings.says(heading), text)


def over_parts(rows: Sequence[Row], at: int, is_header: Callable[[Sequence[Row], int], bool]) -> bool:
    """Tell whether a row names each of the lists that stand beside each other below it, and nothing else."""
    if at + 1 >= len(rows) or not is_header(rows, at + 1):
        return False
    heads = [columns.understand(_text(cell.text), index) for index, cell in enumerate(rows[at + 1].cells)]
    refs = [column.index for column in heads if column.field == "ref"]
    if len(refs) < 2 or refs[0] != 0:  # noqa: PLR2004 - one list
        return False
    parts = [heads[a:b] for a, b in zip(refs, [*refs[1:], len(heads)], strict=True)]
    return all(of_parts([cell.text for cell in rows[at].cells], parts))


def of_parts(over: Sequence[str] | None, parts: Sequence[Sequence[Column]]) -> list[str]:
    """Return what stands over each of several lists beside each other; blanks where it doesn't name them apart."""
    names = []
    for part in parts:
        indexes = [column.index for column in part if column.header]
        told = {_text(over[index]) for index in indexes if index < len(over)} if over is not None else set()
        told.discard("")
        names.append(told.pop() if len(told) == 1 else "")
    apart = len(parts) > 1 and len(set(names)) == len(names) and all(map(_is_name, names))
    return names if apart else [""] * len(parts)


def _is_name(text: str) -> bool:
    named = any(map(str.isalpha, text)) and not columns.holds_data(text)
    return named and columns.understand(text, 0).field in {"unknown", "board"} and not columns.understand(text, 0).side


def _text(text: str) -> str:
    return squeeze(clean(text).text)
