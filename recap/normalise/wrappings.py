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


_BEGINNING: Final = frozenset(">[(0123456789")


def _bare(line: str, *, logged: bool) -> str:
    if line.lstrip().startswith(">"):
        return _QUOTED.sub("", line, count=1)
    return _SAID.sub("", line, count=1) if logged else line
