"""Designators of two channels in small letters: the ``l`` of ``c3l`` is no misread figure where there is a ``c3r``."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from recap.normalise.later import compiled

if TYPE_CHECKING:
    from collections.abc import Sequence

_SIDE: Final = compiled(r"(?<![^\W_])(?P<ref>[Cc]\d{1,4})(?P<side>[lr])(?![^\W_])")
_BOTH: Final = compiled(r"(?<![^\W_])[Cc]\d{1,4}l\s?[/&+]\s?r(?![^\W_])")
"""``c2l/r``."""
LONGEST: Final = 2000


def in_capitals(lines: Sequence[str]) -> list[str]:
    """Return the lines with the sides of such pairs in capitals."""
    lines = [_BOTH.sub(lambda m: m[0].upper(), line) for line in lines]
    named: dict[str, set[str]] = {}
    for line in lines:
        for match in _SIDE.finditer(line[:LONGEST]):
            named.setdefault(match["ref"].upper(), set()).add(match["side"])
    pairs = {ref for ref, sides in named.items() if len(sides) > 1}
    if not pairs:
        return lines
    return [_SIDE.sub(lambda m: m[0].upper() if m["ref"].upper() in pairs else m[0], line) for line in lines]
