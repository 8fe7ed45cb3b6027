"""Rows of a price list that speak of several pieces, where nothing says if the price is one piece's or that of all."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

import numpy as np

from recap.bench.findings import tell_rows
from recap.bench.taking import take
from recap.diagnostics import Severity
from recap.normalise.later import compiled

if TYPE_CHECKING:
    from collections.abc import Mapping

    from numpy.typing import NDArray

    from recap.bench.layout import Layout
    from recap.bench.texts import TextColumn, TextTable
    from recap.diagnostics import Diagnostic

_PACKED = compiled(
    r"\b(?:packs?|packets?|sets?|lots?|kits?|bags?|bundles?|assort\w*|sortiment\w*|beutel|packung|pckg|vpe|sachets?|paquets?|paquetes?|confezion[ei]|zakje)"
    r"\s*(?:of|à|a|von|de|da|di|van|mit|x|:|=)?\s*(?P<behind>[2-9]|\d{2,4})\b(?!\s?[uµnpmv])"
    r"|\b(?P<before>[2-9]|\d{2,4})\s?(?:er|x|pcs?|pieces?|stk\.?|stück|st\.?|pz|pezzi|stuks|-)?[- ]?(?:packs?"
    r"|packung|sets?|lots?|kits?|bags?|beutel|bundles?|confezion[ei])\b"
    r"|^\W*(?:approx\.?|about|ca\.?|circa|etwa|env\.?)?\s*(?P<so_many>[2-9]|\d{2,3})\s(?=\d[\d.,]*\s?[µμunp]F)"
    r"|^\W*(?P<first>[2-9]|\d{2,3})\s?x\s(?=[^\W\d_]{3})"
    r"|\b(?P<times>[2-9]|\d{2,3})\s?x\s?(?=\d[\d.,]*\s?[µμunp]F)|\b(?P<many>[2-9]|\d{2,3})er\b"
    r"|\b(?P<alone>[2-9]|\d{2,4})\s?(?:pcs|pieces|stk|stück|pezzi|stuks|piezas|pièces)\b",
    re.IGNORECASE,
)
"""``pack of 10``, ``10er Pack``, ``10 pcs``: the price beside it may be that of all of them."""
_ONLY_SO_MANY = compiled(
    r"\b(?:min(?:dest|imum|imo)?(?:abnahme|menge|order|qty|quantity)?|moq|vpe|multiples?|vielfache\w*|gurte?n?|rollen?|reels?"
    r"|minimum de commande|par|nur (?:je|zu|in|im)|only (?:in|by)|sold (?:in|by))"
    r"\b\W*(?:\w+\W+){0,2}?(?:[2-9]|\d{2,5})\b(?!\s?[µμunpmkV°%])",
    re.IGNORECASE,
)
"""``Mindestabnahme 10``, ``only in reels of 500``: in a remark, of how many may be bought."""


def without_packs(
    table: TextTable, layout: Layout, raw: Mapping[int, TextColumn]
) -> tuple[TextTable, list[Diagnostic]]:
    """Leave out rows whose words speak of a pack, where nothing says if the price is a piece's or the pack's.

    And, where prices are those of packs, the rows that don't say how many pieces are in one.
    """
    if layout.prices.packed and layout.prices.per_at is not None:
        return _of_known_packs(table, raw[layout.prices.per_at])
    if layout.prices.per_at is not None:
        return table, []
    packed = np.zeros(len(table), bool)
    header = ""
    for at in (*layout.described, *layout.noted):
        column = raw[at]
        some = column.where(_of_several if at in layout.noted else lambda text: _PACKED.search(text) is not None)
        if some.any():
            packed |= some
            header = header or column.header
    for name in ("multiple", "minimum"):
        if name in table.columns:
            packed &= _singly(name, table.columns[name])
    if not packed.any():
        return table, []
    message = (
        "the row speaks of several pieces, and nothing says whether its price is for one or for all: it was left out"
    )
    hint = "give a column for the pieces in a pack, and head the price: Price per pack, or Price each"
    said = (Severity.WARNING, "pack-unclear", message, hint, None)
    told = tell_rows(table, np.flatnonzero(packed), header, lambda _: said)
    return table.only(~packed), told


def _of_several(text: str) -> bool:
    return _PACKED.search(text) is not None or _ONLY_SO_MANY.search(text) is not None


def _singly(name: str, counts: TextColumn) -> NDArray[np.bool_]:
    """Tell which rows are sold piece by piece, as far as they say."""
    return counts.where(lambda text: take(name, text, counts.unit).value in {None, 1})


def _of_known_packs(table: TextTable, sizes: TextColumn) -> tuple[TextTable, list[Diagnostic]]:
    none = sizes.where(lambda text: not text.strip())
    if not none.any():
        return table, []
    message = "the price is that of a pack, and nothing says how many pieces are in it: the row was left out"
    said = (Severity.WARNING, "pack-unclear", message, "write how many; 1 where the price is a piece's", None)
    told = tell_rows(table, np.flatnonzero(none), sizes.header, lambda _: said)
    return table.only(~none), told
