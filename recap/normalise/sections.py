"""Headings of classes of parts (``Inductors``, ``Capacitors``), and sentences that say what all parts below are."""

from __future__ import annotations

import re
from typing import Final

from recap.normalise import other_parts, words
from recap.normalise.clean import fold

_CLASSES: Final = frozenset(
    fold(word)
    for word in (
        "semiconductors semiconductor halbleiter semiconducteurs semiconduttori semiconductores actives hardware "
        "actief active aktiv aktive actifs attivi activos mechanical mechanics mechanik enclosure gehäuse zubehör "
        "accessories misc tubes valves röhren"
    ).split()
)
"""Words that head other parts than capacitors and name no single part."""
_JOINTS: Final = frozenset("and und et e y en or the & + smd smt tht".split())
LONGEST_SENTENCE: Final = 120
_ALL: Final = re.compile(
    r"(?<!not )\b(?:all|alle|tous|toutes|tutt[ie]|todos)\s+(?:of\s+them\s+)?(?:are\s+|sind\s+|sont\s+|sono\s+)?"
    r"(?P<what>[^,;:.()]{3,50})$",
    re.IGNORECASE,
)


def of_other_parts(text: str, *, strength: int) -> bool | None:
    """Tell whether a heading is one of other parts (True) or of capacitors (False); None where it is neither.

    ``strength`` is how plainly the line is a heading; the weaker, the fewer words it may have.
    """
    told = [fold(word) for word in re.findall(r"[^\W\d_][\w'-]*", text)]
    if not told or len(told) > (6 if strength else 3):
        return None
    if other_parts.names_capacitor(text):
        return False  # whatever stands beside them
    if any(word in words.BOARD_NOUNS for word in told):
        return None  # “Speaker”, “Relay”: one of them names a board, several (“Relays”) a class of parts
    known = [word for word in told if word in _CLASSES or other_parts.is_other_word(word)]
    rest = [word for word in told if word not in known and word not in _JOINTS and word not in words.NEUTRAL]
    return True if known and not rest else None


def names_classes(text: str) -> bool:
    """Tell whether a heading names capacitors and other parts, and nothing else (``Capacitors, inductors``)."""
    told = [fold(word) for word in re.findall(r"[^\W\d_][\w'-]*", text)]
    classes = [word in _CLASSES or other_parts.is_other_word(word) for word in told]
    own = [other_parts.names_capacitor(word) for word in told]
    empty = [word in _JOINTS or word in words.NEUTRAL for word in told]
    return any(own) and any(classes) and all(map(any, zip(classes, own, empty, strict=True)))


def said_of_all(text: str) -> str | None:
    """Return what a sentence says of all parts (``they're all aluminium electrolytics:``), or None."""
    match = _ALL.search(text.rstrip(" .:!")) if len(text) <= LONGEST_SENTENCE else None
    return None if match is None else match["what"]
