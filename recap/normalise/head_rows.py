"""Which row heads a table: by its words, or by words and cells below together, where the words alone say too little."""

from __future__ import annotations

import re
from collections import Counter
from typing import TYPE_CHECKING, Final

from recap.normalise import columns, designators, further_columns, values, variants

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

LOOKED_AT: Final = 4
"""So many rows show what stands below a header."""


def is_header(texts: Sequence[str], below: Sequence[Sequence[str]]) -> bool:
    """Tell whether a row of cells (clean) heads those ``below``; its words are asked first, as they mostly tell."""
    if columns.is_header(texts):
        return True
    if any(columns.holds_data(text) for text in texts):
        return False
    named = further_columns.with_symbols(texts, below)
    if named != list(texts) and columns.is_header(named):
        return True
    if _heads_parts(texts, below):
        return True
    return len(texts) > variants.FEWEST and variants.heads(texts, below)


def _heads_parts(texts: Sequence[str], below: Sequence[Sequence[str]]) -> bool:
    """Tell whether words that nobody knows stand over designators and capacitances, each in a column of its own."""
    filled = [text for text in texts if text]
    if len(filled) < FEWEST or not all(_WORDS.fullmatch(text) for text in filled):
        return False
    rows = [row for row in below if sum(map(bool, row)) > 1]
    places = Counter((_first(row, _is_designator), _first(row, _is_capacitance)) for row in rows)
    agreed = [count for place, count in places.items() if None not in place]
    return bool(agreed) and max(agreed) >= FEWEST


def _first(row: Sequence[str], told: Callable[[str], bool]) -> int | None:
    return next((at for at, text in enumerate(row) if text and told(text)), None)


def _is_designator(text: str) -> bool:
    group = designators.find_group(text, 0)
    return group is not None and group.end >= len(text)


def _is_capacitance(text: str) -> bool:
    return values.capacitance(text) is not None and text[-1:].isalpha() and not _is_designator(text)


FEWEST: Final = 3
"""Fewer columns, or rows, may stand so by chance."""
_WORDS: Final = re.compile(r"[^\W\d_][^\d|]{0,30}")
