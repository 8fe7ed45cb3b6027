"""Tables of a web page that came along as tags: rows and cells, wherever the lines of the source break.

Only the tags that make the table are read here; what stands in a cell is cleaned like any other text.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Final

from recap.diagnostics import Source
from recap.normalise.spans import SpannedRow
from recap.read.cells import Cell, Row

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

_TAG: Final = re.compile(
    r"<(?P<end>/?)(?P<name>table|thead|tbody|tfoot|tr|td|th|caption|colgroup|col)\b(?P<told>[^<>]{0,500})>",
    re.IGNORECASE,
)
_BEGINS: Final = re.compile(r"\s*(?:<[^<>]{1,200}>\s*)*?<(?:table|tr)\b", re.IGNORECASE)
_ANY_TAG: Final = re.compile(r"<[^<>]{0,500}>")
LONGEST_OPENING: Final = 40
"""So many lines may stand before the first row; then this is no table."""
LONGEST_CELL: Final = 8
"""Lines without a tag of the table: beyond so many, the end of the last cell was left out."""


@dataclass(frozen=True, slots=True)
class PageTable:
    """The rows of a table that goes on to line ``last`` (0-based, inclusive).

    ``headed``: its first row is a header. ``outside`` is text beside its cells, each with its line's number.
    """

    last: int
    rows: tuple[Row, ...]
    headed: bool
    caption: tuple[int, str] | None
    outside: tuple[tuple[int, str], ...]


@dataclass(slots=True)
class _Reader:
    """What has been read of a table so far."""

    name: str
    rows: list[Row] = field(default_factory=list)
    row: SpannedRow = field(default_factory=SpannedRow)
    begun: int = 0
    cell: list[str] | None = None
    attributes: str = ""
    heads: bool = False
    depth: int = 0
    caption: tuple[int, str] | None = None
    in_caption: bool = False
    outside: list[tuple[int, str]] = field(default_factory=list)

    @property
    def between(self) -> bool:
        """Whether no cell and no caption is open."""
        return self.cell is None and not self.in_caption

    def tag(self, match: re.Match[str], number: int) -> None:
        """Take one tag of line ``number``."""
        name, ends = match["name"].lower(), bool(match["end"])
        if name in {"td", "th"}:
            self._end_cell()
            if not ends:
                self.heads = self.heads or (name == "th" and not self.rows)
                self.attributes = match["told"]
                self.begun = self.begun or number + 1
                self.cell = []
        elif name in {"tr", "table"}:
            self.end_row()
            self.begun = number + 1 if name == "tr" and not ends else 0
            self.depth += (not ends) - ends if name == "table" else 0
        elif name == "caption":
            self.in_caption = not ends

    def text(self, text: str, number: int) -> None:
        """Take text between tags of line ``number``."""
        if self.in_caption:
            said = f"{self.caption[1]} {text}" if self.caption else text
            self.caption = (self.caption[0] if self.caption else number + 1, said.strip())
        elif self.cell is not None:
            self.cell.append(text)
        elif re.search(r"\w", _ANY_TAG.sub("", text)):
            self.outside.append((number + 1, text.strip()))

    def _end_cell(self) -> None:
        if self.cell is not None:
            self.row.add(" ".join(" ".join(self.cell).split()), self.attributes)
            self.cell = None

    def end_row(self) -> None:
        """Finish the row that is open."""
        self._end_cell()
        cells = self.row.end()
        if cells:
            source = Source(self.name, row=self.begun)
            self.rows.append(Row(tuple(Cell(text, source) for text in cells), source))


def find(lines: Sequence[str], at: int, name: str) -> PageTable | None:
    """Return the table whose tags begin on line ``at``, or None where none do."""
    if _BEGINS.match(lines[at]) is None:
        return None
    reader = _Reader(name)
    last = at
    tagless = 0
    for number in range(at, len(lines)):
        pieces = list(_pieces(lines[number]))
        tagged = any(tag for tag, _ in pieces)
        if reader.between and not tagged and _ANY_TAG.sub("", lines[number]).strip():
            break  # text of the page behind the table
        tagless = 0 if tagged else tagless + 1
        if tagless > LONGEST_CELL:
            break
        if number - at > LONGEST_OPENING and not reader.rows:
            return None
        for tag, text in pieces:
            if tag is not None:
                reader.tag(tag, number)
            else:
                reader.text(text, number)
        last = number if pieces else last
        if reader.depth <= 0 and "</table" in lines[number].lower():
            break
    reader.end_row()
    if not reader.rows:
        return None
    return PageTable(last, tuple(reader.rows), reader.heads, reader.caption, tuple(reader.outside))


def is_frame(text: str) -> bool:
    """Tell whether a line holds nothing but tags."""
    return text.startswith("<") and not _ANY_TAG.sub("", text).strip()


def _pieces(line: str) -> Iterator[tuple[re.Match[str] | None, str]]:
    """Cut a line into tags and what stands between them."""
    at = 0
    for match in _TAG.finditer(line):
        if line[at : match.start()].strip():
            yield None, line[at : match.start()]
        yield match, ""
        at = match.end()
    if line[at:].strip():
        yield None, line[at:]
