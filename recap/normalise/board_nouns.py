"""Words that name a part of a set: alone, at the end of a compound, and in front of a sentence that only adds to it."""

from __future__ import annotations

import re
from typing import Final

from recap.normalise import form_headings, words
from recap.normalise.clean import fold
from recap.normalise.heading_states import SPEAKS_OF_ALL, stated
from recap.normalise.later import compiled
from recap.normalise.positions import NOWHERE
from recap.normalise.tokens import tokenise


def names_board(text: str) -> bool:
    """Tell whether a text has a word in it that names a part of a set."""
    return any(is_noun(fold(word), words.BOARD_NOUNS) for word in re.findall(r"[\w'-]+", text))


def is_noun(word: str, nouns: frozenset[str]) -> bool:
    """Tell whether a word is one of ``nouns`` or a compound that ends in one (``Netzteilplatine``)."""
    return word in nouns or (word.endswith(_COMPOUND) and word not in _COMPOUND)


_COMPOUND: Final = tuple(
    "platine netzteil teil verstarker modul baugruppe board print printplaat karte endstufe "
    "基板 基盤 ユニット 回路 部".split()
)
_ASIDE: Final = compiled(
    r"(?P<bare>[^\s():]+(?:\s[^\s():]+){0,3}?)"
    r"(?:\s*\((?P<inside>[^()]{8,90})\)\s*(?P<colon>:?)|:\s+(?P<behind>[^\W\d_]+(?:\s[^\W\d]+){2,12}[.!]?))\s*"
)


def without_aside(text: str) -> str:
    """Leave out a sentence in brackets behind a board's name: ``Main board (don't forget the trimmer!)``."""
    match = _ASIDE.fullmatch(text)
    inside = "" if match is None else match["inside"] or match["behind"]
    if match is None or not names_board(match["bare"]) or SPEAKS_OF_ALL.search(inside):
        return text
    aside = bool(match["behind"]) and stated(tokenise(inside)) == NOWHERE  # ``Tuner: careful with the coils``
    spoken = aside or form_headings.reads_like_prose(inside) or inside.rstrip().endswith(("!", "?"))
    return match["bare"] + (match["colon"] or "") if spoken else text
