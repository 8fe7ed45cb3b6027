"""What stands around a line of text: whether records follow it, and whether it parts two runs of records."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    from collections.abc import Sequence

_UNDERLINE: Final = re.compile(r"[-=~]{3,}")
_DRAWN: Final = re.compile(r"[\s\-=_*~+#.|:]*$")
_IN_COLUMNS: Final = re.compile(r"\||\t|\S\s{3,}\S.*\s{2,}\S|;.*;|,.*,")
_VALUES: Final = re.compile(r"\bC[A-Z]?[-_ ]?\d|\d\s?(?:[uµμnp]F|mfd)", re.IGNORECASE)
_DESIGNATOR: Final = re.compile(r"\bC[A-Z]?[-_ ]?\d")
_FARADS: Final = re.compile(r"\d\s?[uµμn]F", re.IGNORECASE)
FURTHEST: Final = 6
"""So many lines are looked at for the record below a heading."""
RUN: Final = 2
"""So many records on each side make runs that a line may part."""


@dataclass(frozen=True, slots=True)
class Around:
    """``below`` is the next line; ``over`` where a record follows with nothing but blank lines, rules and a header.

    ``near`` where a line of words may stand between, too; ``parts`` where runs of records end above and begin below.
    """

    below: str = ""
    over: bool = False
    near: bool = False
    parts: bool = False
    lone: bool = False
    """The only cell that is filled in the row of a table."""

    @property
    def underline(self) -> str:
        """The sign that underlines the line, or nothing."""
        return self.below.strip()[:1] if _UNDERLINE.fullmatch(self.below.strip()) else ""


NOTHING_AROUND: Final = Around()


def around(lines: Sequence[str], at: int) -> Around:
    """Return what stands around line ``at``."""
    below = lines[at + 1] if at + 1 < len(lines) else ""
    if _VALUES.search(lines[at]) or len(lines[at]) > 120:  # noqa: PLR2004 - no heading
        return Around(below)
    told = 0
    for line in lines[at + 1 : at + 1 + FURTHEST]:
        if _VALUES.search(line):
            parts = _run(lines[at + 1 : at + 1 + RUN]) and at >= RUN and _run(lines[at - RUN : at])
            return Around(below, told == 0, told <= 1, parts)
        if line.strip() and not _DRAWN.match(line) and not _IN_COLUMNS.search(line):
            told += 1
    return Around(below)


def _run(lines: Sequence[str]) -> bool:
    return len(lines) == RUN and all(_DESIGNATOR.search(line) and _VALUES.search(line) for line in lines)


def holds_values(text: str) -> bool:
    """Tell whether a line looks like a record: a designator or a value stands in it."""
    return bool(_DESIGNATOR.search(text)) or bool(_FARADS.search(text))
