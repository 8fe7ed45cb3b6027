"""Lines that say that further parts are the same as those listed, without naming them (``Right channel: as left``)."""

from __future__ import annotations

import re
from typing import Final

from recap.normalise.later import compiled

_SAME: Final = compiled(
    r"\b(?:same|identical|mirror(?:ed|s)?|repeat(?:ed|s)?|duplicate[ds]?|ditto|idem|likewise|gleich|identisch|baugleich"
    r"|spiegelbildlich|ebenso|genauso|dito|wie|identiques?|pareils?|même|ugual[ei]|identic[oiae]|stess[oaie]|igual(?:es)?"
    r"|idéntic[oa]s?|mism[oa]s?|zelfde|identiek|gelijk|samma|lika|samme|tak\s+samo|takie\s+same|stejn\w{1,3})\b",
    re.IGNORECASE,
)
_PLACES: Final = compiled(
    r"\b(?:channels?|sides?|boards?|amps?|left|right|kan[aä]le?s?|seite|platine|links|rechts|linke[rsn]?|rechte[rsn]?|canal|canaux"
    r"|carte|droite?|gauche|canal[ie]|scheda|destr[oa]|sinistr[oa]|derech[oa]|izquierd[oa]|placa|kanaal|kanalen?|höger|vänster"
    r"|høyre|venstre|kanał|prawy|lewy|kanál)\b",
    re.IGNORECASE,
)
_DENIED: Final = compiled(
    r"\b(?:not|isn't|aren't|nicht|pas|non|no|niet|time|brand|make|maker|colou?r|size)\b", re.IGNORECASE
)
MOST_WORDS: Final = 10
"""A longer sentence speaks of something else."""


def says(text: str) -> bool:
    """Tell whether a line without parts says that those of another channel or board are the same."""
    words = re.findall(r"[^\W\d_]+", text)
    if not 1 < len(words) <= MOST_WORDS or _DENIED.search(text):
        return False
    return _SAME.search(text) is not None and _PLACES.search(text) is not None
