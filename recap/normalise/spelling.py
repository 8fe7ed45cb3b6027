"""Misspelt words of kind and mount (``axail``, ``electroyltic``): taken where one word is near, and always doubted.

How near it is, what was asked for and what comes next are part of the doubt.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING, Final

from rapidfuzz import process
from rapidfuzz.distance import OSA

from recap.normalise.clean import fold
from recap.normalise.kind_words import KIND_WORDS, MOUNT_WORDS

if TYPE_CHECKING:
    from recap.model import Kind, Mount

SHORTEST: Final = 5
"""In shorter words one wrong letter makes another word."""
NEAR: Final = 80
"""Least likeness of 100: one slip in five letters, two in ten; swapped neighbours are one slip."""

_KNOWN: Final = (
    "radial axial bipolar electrolytic electrolytics tantalum ceramic polyester polypropylene unpolarised unpolarized "
    "nonpolarised nonpolarized stehend liegend ungepolt elektrolyt folienkondensator keramik électrolytique bipolaire "
    "céramique elettrolitico assiale radiale bipolare ceramico electrolítico cerámico axiaal radiaal elektrolytisch"
).split()


@dataclass(frozen=True, slots=True)
class Near:
    """What a misspelt word was taken for, and the sentence for its doubt."""

    kind: Kind | None
    mount: Mount | None
    message: str


_FOLDED: Final = {fold(word): word for word in _KNOWN}


@lru_cache(maxsize=4096)
def near(word: str) -> Near | None:
    """Return what a folded word nearly says, or None. Words that are known, or begin otherwise, are near nothing."""
    if len(word) < SHORTEST or not word.isalpha() or word in _FOLDED:
        return None
    if (scanned := word.replace("rn", "m")) in _FOLDED:
        meant = _FOLDED[scanned]
        return Near(KIND_WORDS.get(meant), MOUNT_WORDS.get(meant), f"{word!r} read as {meant}: a scanner's rn for m")
    ranked = process.extract(word, list(_FOLDED), scorer=OSA.normalized_similarity, limit=8)
    best, score, _ = ranked[0]
    if score * 100 < NEAR or best[0] != word[0]:
        return None
    meant = _FOLDED[best]
    kind, mount = KIND_WORDS.get(meant), MOUNT_WORDS.get(meant)
    other = next(
        (
            (name, points) for name, points, _ in ranked[1:]
            if (KIND_WORDS.get(_FOLDED[name]), MOUNT_WORDS.get(_FOLDED[name])) != (kind, mount)
        ),
        None,
    )  # fmt: skip
    message = f"{word!r} read as {meant} ({score * 100:.0f} of 100 alike, asked for {NEAR}"
    if other is not None:
        message += f"; next best {_FOLDED[other[0]]}, {other[1] * 100:.0f}"
    return Near(kind, mount, f"{message})")
