"""Counts that are the same number of times their designators on every line: a list for several boards, said once."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import TYPE_CHECKING, Final

from recap.diagnostics import Diagnostic, warning

if TYPE_CHECKING:
    from collections.abc import Sequence

    from recap.model import Position

MISMATCH: Final = "count-mismatch"
FEWEST: Final = 3
"""On fewer lines the counts may be wrong, each by itself."""
_PIECES: Final = re.compile(r"(\d+) pieces?, but (\d+) designators? \(")


def said_once(positions: Sequence[Position], told: Sequence[Diagnostic]) -> tuple[list[Position], list[Diagnostic]]:
    """Return the positions without the doubt of each line, and one warning, where all counts are as much too large.

    Where a line with several designators has the count that they have, the others stay doubted.
    """
    off = {said.source: _PIECES.search(said.message) for said in told if said.code == MISMATCH}
    matches = [match for match in off.values() if match is not None]
    times = {(int(match[1]) / int(match[2])) for match in matches}
    rows = {position.source for position in positions if position.ref is not None}
    if len(off) < FEWEST or len(matches) < len(off) or len(times) > 1 or set(off) != rows:
        return list(positions), list(told)
    each = times.pop()
    if each < 2 or each != int(each):  # noqa: PLR2004 - one is none too many
        return list(positions), list(told)
    first = min(off, key=lambda place: (place.sheet or "", place.row or 0))
    message = f"every count is {int(each)} times its designators: for {int(each)} boards, perhaps"
    hint = f"if {int(each)} such boards are on the bench, give each a set of its own"
    settled = [replace(one, doubts=tuple(doubt for doubt in one.doubts if doubt != MISMATCH)) for one in positions]
    kept = [said for said in told if said.code != MISMATCH]
    return settled, [*kept, warning("counts-multiplied", message, first, hint)]
