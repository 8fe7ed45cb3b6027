"""Which row heads a table: by its words, or by words and cells below together, where the words alone say too little."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from recap.normalise import columns, further_columns, variants

if TYPE_CHECKING:
    from collections.abc import Sequence

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
    return len(texts) > variants.FEWEST and variants.heads(texts, below)
