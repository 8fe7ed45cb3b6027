"""Columns of designators beside each other on a page, not only of capacitors: where each line parts into them.

A service sheet prints condensers, resistors and coils side by side; what stands in one column says nothing of the next.
"""

from __future__ import annotations

import re
from collections import defaultdict
from itertools import pairwise
from typing import TYPE_CHECKING, Final

from recap.normalise.words import CAPACITOR_PREFIXES, OTHER_PREFIXES

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

_REF: Final = re.compile(r"(?:^\s{0,8}|\s{2,})(?P<ref>(?P<prefix>[A-Z]{1,3})(?P<number>\d{1,4})[A-Z]?)(?=[\s:.=])")
_SIZES: Final = frozenset("D H L P T W X Y".split())
"""Letters that name sizes and classes, too: alone they make no column of designators."""
_KNOWN: Final = CAPACITOR_PREFIXES | OTHER_PREFIXES | _SIZES
ENOUGH: Final = 3
"""So many designators below each other, counting up, make a column."""
LONGEST_LINE: Final = 300


def survey(lines: Sequence[str]) -> dict[int, tuple[int, ...]]:
    """Return the places where lines part into columns, by the index of the line."""
    found: dict[int, tuple[int, ...]] = {}
    for run in _runs(lines):
        found |= _cuts(run)
    return found


def pieces(line: str, cuts: Sequence[int]) -> list[str]:
    """Return the columns of a line; without ``cuts`` the line itself."""
    if not cuts:
        return [line]
    expanded = line.expandtabs(8)
    return [expanded[a:b] for a, b in pairwise([0, *cuts, len(expanded)])]


_Place = tuple[int, str, int]
"""Where on its line a designator stands, its letters and its number."""


def _runs(lines: Sequence[str]) -> Iterator[dict[int, list[_Place]]]:
    """Yield runs of lines that hold designators, with these; one line without any may stand between."""
    run: dict[int, list[_Place]] = {}
    for at, line in enumerate(lines):
        places = _places(line.expandtabs(8)) if len(line) <= LONGEST_LINE else []
        if places:
            if run and at - max(run) > 2:  # noqa: PLR2004
                yield run
                run = {}
            run[at] = places
    if run:
        yield run


def _places(line: str) -> list[_Place]:
    """Return the designators of a line that something is said of: ``C1  C21  10 µF`` are two of one record."""
    found = [match for match in _REF.finditer(line) if match["prefix"] in _KNOWN]
    said = [bool(line[a.end("ref") : b.start("ref")].strip(" .:=-&+,/")) for a, b in pairwise(found)]
    if not all(said):
        return []
    return [(match.start("ref"), match["prefix"], int(match["number"])) for match in found]


def _cuts(run: dict[int, list[_Place]]) -> dict[int, tuple[int, ...]]:
    columns: dict[int, list[tuple[str, int]]] = defaultdict(list)
    for places in run.values():
        for at, prefix, number in places[1:]:
            if prefix not in _SIZES:
                columns[at].append((prefix, number))
    kept = {at for at, told in columns.items() if _counts_up(told)}
    return {row: cuts for row, places in run.items() if (cuts := tuple(at for at, _, _ in places[1:] if at in kept))}


def _counts_up(told: Sequence[tuple[str, int]]) -> bool:
    steps = [b[1] > a[1] for a, b in pairwise(told) if a[0] == b[0]]
    return len(told) >= ENOUGH and sum(steps) >= ENOUGH - 1 and all(steps)
