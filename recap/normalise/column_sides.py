"""Whose a column is, told by the words over it: the original part's, its replacement's, or neither's."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Final

from recap.normalise.clean import fold
from recap.normalise.column_words import NOW_WORDS, ORIGINAL_WORDS, REPLACEMENT_WORDS

if TYPE_CHECKING:
    from collections.abc import Sequence

_IDLE: Final = frozenset("with part by part's mit to the as".split())

_INSTEAD: Final = re.compile(
    r"\b(?:swap|change|exchange|swapped|changed|use)\s+(?:it\s+)?(?:for|to|with|instead)\b|\btausch(?:en)?\s+gegen\b|\bà\s+mettre\b",
    re.IGNORECASE,
)
"""Several words that say it together, of which none says it alone."""


def told(text: str) -> tuple[str, str]:
    """Return whose a header says its column is (``original``, ``replacement`` or blank), and what else it says."""
    shown, text = text, _INSTEAD.sub("replacement", text)
    words = re.findall(r"[^\s/()\[\]:-]+", text)
    folded = [fold(word).rstrip(".") for word in words]
    for name, table in (("replacement", REPLACEMENT_WORDS), ("original", ORIGINAL_WORDS)):
        if any(word in table for word in folded):
            rest = [w for w, f in zip(words, folded, strict=True) if f not in table and f not in _IDLE]
            return name, " ".join(rest)
    return "", shown


_PAPER: Final = frozenset("schematic diagram printed schaltplan schéma schema esquema".split())
"""Beside what the papers say, ``Installed`` is what was found in the set: where the two differ it's for the owner."""


_NOW: Final = frozenset(
    "now is jetzt nun nachher danach maintenant après apres ora adesso dopo ahora después despues nu na teraz nyní "
    "today heute agora depois nyt".split()
)
"""Beside ``Was`` or ``Before`` a column headed by nothing else says what takes its place."""


def weighed(sides: Sequence[str], headings: Sequence[str]) -> list[str]:
    """Return the sides of a table's columns, each told by its heading, seen together.

    ``Fitted`` is what the set has; beside ``Original`` it is what took its place.
    """
    words = [{fold(word).rstrip(".") for word in re.findall(r"[^\s/()\[\]:-]+", text)} for text in headings]
    older = [side == "original" and not said & (NOW_WORDS | _PAPER) for side, said in zip(sides, words, strict=True)]
    if not any(older):
        return list(sides)
    return [
        "replacement" if (side == "original" and said & NOW_WORDS) or (not side and said and said <= _NOW) else side
        for side, said in zip(sides, words, strict=True)
    ]
