"""What mail, forum and chat programs put in front of each line: quotation marks, the clock and the writer's name."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    from collections.abc import Sequence

_QUOTED: Final = re.compile(r"\s*>(?:\s?>)*(?=\s|[^\s<>=-])(?!.*<\s*$)\s?")
"""``> ``, ``>> ``: quoted once, twice; ``>> PSU <<`` is a heading, ``>-`` and ``>=`` are signs."""
_CLOCK: Final = r"\d{1,2}:\d{2}(?::\d{2})?(?:\s?[AaPp][Mm])?"
_DAY: Final = r"(?:\d{1,4}[./-]\d{1,2}[./-]\d{2,4},?\s+)"
_NAME: Final = r"(?!C[A-Z]?-?\d)[^\W\d_][\w.'-]{0,20}(?:\s[^\W\d_][\w.'-]{0,20}){0,2}"
_SAID: Final = re.compile(
    rf"\s*(?:\[{_DAY}?{_CLOCK}\]|\({_DAY}?{_CLOCK}\)|{_DAY}{_CLOCK}\s*-|{_CLOCK}(?=\s*<))\s*"
    rf"(?:<[@+~& ]?[^<>\s]{{1,30}}>|{_NAME}:)?\s*"
)
"""``[21:02] <ann> ``, ``[3/12/2024, 21:02:11] Ann Lee: ``, ``3.12.24, 21:02 - Ann: ``."""
ENOUGH: Final = 3
"""So many lines with the clock in front make a log."""


def unwrapped(lines: Sequence[str]) -> list[str]:
    """Return the lines without what a program put in front of them; blank where nothing else stood there."""
    marked = [line[:12].lstrip()[:1] in _BEGINNING for line in lines]
    if not any(marked):
        return list(lines)
    logged = sum(1 for line, may in zip(lines, marked, strict=True) if may and _SAID.match(line[:90])) >= ENOUGH
    return [_bare(line, logged=logged) if may else line for line, may in zip(lines, marked, strict=True)]


def quoted(lines: Sequence[str]) -> frozenset[int]:
    """Return the rows (from 1) of lines that are marked as quoted."""
    return frozenset(at for at, line in enumerate(lines, start=1) if line.lstrip()[:1] == ">" and _QUOTED.match(line))


_BEGINNING: Final = frozenset(">[(0123456789")


def _bare(line: str, *, logged: bool) -> str:
    if line.lstrip().startswith(">"):
        return _QUOTED.sub("", line, count=1)
    return _SAID.sub("", line, count=1) if logged else line


MOST_BRACKETED: Final = 8
"""A bracket left open at a line's end is closed within so many lines, or not at all."""


def bracketed(lines: Sequence[str]) -> tuple[list[str], frozenset[int]]:
    """Join to a line that ends in an open bracket those that close it: links, and a count behind them.

    Return the lines, and the indexes of those that went into the one above.
    """
    found = list(lines)
    gone: set[int] = set()
    for at, line in enumerate(lines):
        if at in gone or not line.rstrip().endswith("("):
            continue
        end = _closing(lines, at)
        if end is not None:
            found[at] = " ".join([line.rstrip(), *(lines[i].strip() for i in range(at + 1, end + 1))])
            gone.update(range(at + 1, end + 1))
    return found, frozenset(gone)


def _closing(lines: Sequence[str], at: int) -> int | None:
    depth = 0
    for i in range(at, min(at + MOST_BRACKETED, len(lines))):
        if not lines[i].strip() or len(lines[i]) > LONGEST:
            return None
        depth += lines[i].count("(") - lines[i].count(")")
        if depth <= 0:
            return i
    return None


LONGEST: Final = 400
