"""What stands over or in a table and holds for its rows: its caption, and rows that name the board of those below."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from recap.normalise import headings
from recap.normalise.clean import clean, squeeze
from recap.normalise.heading_marks import Marked
from recap.normalise.heading_stack import Heading
from recap.normalise.positions import NOWHERE

if TYPE_CHECKING:
    from recap.normalise.lines import TextReader


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
