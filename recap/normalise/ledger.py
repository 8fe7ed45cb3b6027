"""The account of a list: every line ends as positions, as a heading, or in a diagnostic, and none twice lost."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from enum import StrEnum
from typing import TYPE_CHECKING

from recap.diagnostics import Diagnostic, Source, note, warning
from recap.normalise.unread_parts import is_misread_rating, looks_like_part

if TYPE_CHECKING:
    from collections.abc import Iterable

    from recap.model import Position
    from recap.normalise.positions import Built


class Fate(StrEnum):
    """What became of a line."""

    BLANK = "blank"
    LAYOUT = "layout"
    HEADING = "heading"
    POSITIONS = "positions"
    TOLD = "told"


@dataclass(frozen=True, slots=True)
class Sentence:
    """A line that speaks of parts, kept until the list is whole; ``made`` where it made positions until then."""

    source: Source
    text: str
    made: bool = False
    revoked: bool = False
    """Whether the next line takes it back: ``ignore that``."""

    @property
    def place(self) -> tuple[str | None, int | None]:
        """The sheet and the row."""
        return self.source.sheet, self.source.row


@dataclass(slots=True)
class Ledger:
    """Positions, diagnostics and the fate of each row of one text or sheet."""

    file: str
    sheet: str | None = None
    stored: bool = False
    """Whether it is a list that was stored in the canonical form."""
    labelled: bool = False
    """Whether records in it have a line for each field."""
    positions: list[Position] = field(default_factory=list)
    diagnostics: list[Diagnostic] = field(default_factory=list)
    fates: dict[int, Fate] = field(default_factory=dict)
    sentences: list[Sentence] = field(default_factory=list)
    blanks: int = 0
    """How many of the rows are blank."""
    aside: int = 0
    """How many of them hold apart from their place."""

    def source(self, row: int, column: str | None = None) -> Source:
        """Return the place of a row."""
        return Source(self.file, self.sheet, row, column)

    def blank(self, row: int) -> None:
        """Enter a blank line."""
        self.blanks += row not in self.fates
        self.fates[row] = Fate.BLANK

    @property
    def begun(self) -> bool:
        """Whether anything but blank lines and what holds apart was entered."""
        return len(self.fates) > self.blanks + self.aside

    def hear(self, row: int, text: str, *, made: bool = False) -> None:
        """Keep a sentence until the list is whole."""
        self.sentences.append(Sentence(self.source(row), text, made))

    def revoke(self, row: int) -> None:
        """Take back the sentence of the line above."""
        if self.sentences and self.sentences[-1].source.row == row - 1:
            self.sentences[-1] = replace(self.sentences[-1], revoked=True)

    def layout(self, row: int) -> None:
        """Enter a line that only draws: rules, table frames."""
        self.fates.setdefault(row, Fate.LAYOUT)

    def heading(self, row: int, code: str, message: str, found: str) -> None:
        """Enter a heading and say what it sets."""
        self.fates[row] = Fate.HEADING
        self.diagnostics.append(note(code, message, self.source(row), found=found[:200]))
        if code == "heading-read" and is_misread_rating(found):
            said = "a heading whose voltage was misread; the likely one was taken for the parts below"
            self.diagnostics.append(warning("ocr-digit", said, self.source(row), "compare with the source", found))

    def apart(self, row: int, code: str, message: str, found: str) -> None:
        """Enter a heading that holds wherever it stands: it doesn't begin the list."""
        self.aside += row not in self.fates
        self.heading(row, code, message, found)

    def passed(self, row: int, code: str, message: str, found: str) -> None:
        """Enter a line that was passed over for a good reason."""
        self.fates[row] = Fate.TOLD
        self.diagnostics.append(note(code, message, self.source(row), found=found[:200]))

    def warn(self, row: int, code: str, message: str, found: str, hint: str | None = None) -> None:
        """Enter a line that somebody must look at."""
        self.fates[row] = Fate.TOLD
        self.diagnostics.append(warning(code, message, self.source(row), hint, found[:200]))

    def no_part(self, row: int, found: str) -> None:
        """Enter a line in which no part was found; where it looks like a spoilt one somebody must look at it."""
        if looks_like_part(found):
            message = "looks like a part: run together, misread, or only a part number; it was not read"
            self.warn(row, "line-spoilt", message, found, "write it as REF VALUE VOLTS")
        else:
            self.passed(row, "line-passed-over", "no part stands here: passed over", found)

    def other_part(self, row: int, found: str, *, plain: bool) -> None:
        """Enter a line about another part; where it also reads like value and voltage somebody must look at it."""
        if plain:
            self.passed(row, "other-part", "no capacitor: passed over", found)
        else:
            message = "names another part, yet something reads like value and voltage; it was not taken for a position"
            self.warn(row, "prose-names-part", message, found, "if a capacitor is meant, write its value with the unit")

    def built(self, row: int, built: Built) -> None:
        """Enter the positions made of a line."""
        self.fates[row] = Fate.POSITIONS
        self.positions.extend(built.positions)
        self.diagnostics.extend(built.diagnostics)

    def doubt_last(self, code: str, message: str) -> None:
        """Doubt the positions of the last record: a line below it speaks against them."""
        last = self.positions[-1].source if self.positions else None
        for at, position in enumerate(self.positions):
            if last is not None and position.source == last:
                doubts = tuple(dict.fromkeys((*position.doubts, code)))
                self.positions[at] = replace(position, doubts=doubts)
        if last is not None:
            self.diagnostics.append(warning(code, message, last, "settle which of the two is right"))

    def with_row(self, rows: Iterable[int]) -> None:
        """Enter lines that went into the positions of another line."""
        for row in rows:
            self.fates.setdefault(row, Fate.POSITIONS)

    def close(self, rows: Iterable[tuple[int, str]]) -> None:
        """Warn of every row that nothing accounts for."""
        for row, text in rows:
            if row not in self.fates:
                self.warn(row, "line-unread", "nothing was made of this line", text, "write it as REF VALUE VOLTS")
