"""What the words of a heading state of the parts below it: kind, mount, temperature, voltage, class, lead pitch."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import TYPE_CHECKING, Final

from recap.model import Kind
from recap.normalise import other_parts, words
from recap.normalise.clean import fold
from recap.normalise.designator_names import CHIP_SIZES
from recap.normalise.later import compiled
from recap.normalise.particular import KIND_INCLUDES, particular
from recap.normalise.positions import NOWHERE, Context
from recap.normalise.tokens import Sort, Token

if TYPE_CHECKING:
    from collections.abc import Sequence

_STATING: Final = {
    Sort.KIND: "kind",
    Sort.MOUNT: "mount",
    Sort.TEMP: "temp_C",
    Sort.VOLTS: "volts",
    Sort.SAFETY: "safety",
}

def stated(tokens: Sequence[Token]) -> Context:
    """Return the attributes a line states; of several of one sort none is taken."""
    found: dict[str, set[object]] = {}
    for token in tokens:
        name = _STATING.get(token.sort)
        if name is not None:
            value = token.what.value if token.sort is Sort.VOLTS else token.what
            found.setdefault(name, set()).add(value)
        elif token.sort is Sort.SIZE and token.what.pitch is not None and token.what.diameter is None:
            found.setdefault("pitch_mm", set()).add(token.what.pitch)
    if "safety" in found:
        found["kind"] = {Kind.SAFETY}
    kinds = {kind for kind in found.get("kind", set()) if isinstance(kind, Kind)}
    if (kind := particular(kinds, KIND_INCLUDES)) is not None:
        found["kind"] = {kind}
    told = {name: next(iter(values)) for name, values in found.items() if len(values) == 1}
    return replace(NOWHERE, **told)  # type: ignore[arg-type]


def without_names(tokens: Sequence[Token]) -> list[Token]:
    """Leave out a kind that is part of a name, as what stands behind it tells: ``Poly 800``, ``Film scanner``."""
    if sum(token.sort is Sort.KIND for token in tokens) > 1:
        return list(tokens)
    behind = [*tokens[1:], None]
    return [token for token, after in zip(tokens, behind, strict=True) if not _is_named_so(token, after)]


def _is_named_so(token: Token, after: Token | None) -> bool:
    if token.what not in _NAMING_KINDS or token.sort is not Sort.KIND or other_parts.names_capacitor(token.text):
        return False
    if after is None or after.text in CHIP_SIZES:
        return False
    return after.sort in _IN_NAMES and fold(after.text) not in words.NEUTRAL


_NAMING_KINDS: Final = frozenset((Kind.FILM, Kind.CERAMIC, Kind.OTHER))
_IN_NAMES: Final = frozenset((Sort.WORD, Sort.CODE, Sort.NUMBER))

SPEAKS_OF_ALL: Final = compiled(r"\b(?:all|alle[ns]?|tous|toutes|tutt[ie]|todos|everything|unless)\b", re.IGNORECASE)
