"""What every reader of a quantity gives back, and what they share: marks of doubt, alternatives, the length limit."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from decimal import Decimal
from typing import TYPE_CHECKING, Final

from recap.normalise.decimals import tidy

if TYPE_CHECKING:
    from collections.abc import Callable


@dataclass(frozen=True, slots=True)
class Reading:
    """One quantity read. ``value`` is None where nothing decides between ``readings``.

    ``doubts`` are codes of :data:`recap.codes.LISTS`. ``tolerance`` is what stood behind the value
    (``K``, ``20%``), ``ac`` tells that a voltage was marked as alternating.
    """

    value: Decimal | None
    doubts: tuple[str, ...] = ()
    readings: tuple[Decimal, ...] = ()
    tolerance: str | None = None
    ac: bool = False


UNUSUAL: Final = frozenset({"no-preferred-value", "looks-measured", "odd-voltage"})
"""Doubts whether such a part exists, not how the text is read: they don't matter to a measured or worked-out number."""
CACHE_SIZE: Final = 20_000
"""Catalogues and lists repeat the same few texts: reading each once is enough."""
_ONE: Final = Decimal(1)
_UNSURE: Final = re.compile(
    r"(?P<before>\?|~|≈|ca\.?|approx\.?|about|circa|etwa)?\s?(?P<value>.*?)\s?(?P<after>\(\?+\)|\?+)?", re.IGNORECASE
)
OR: Final = re.compile(
    r"\s?(?:/|-|~|…|\.\.+|\||\bor\b|\boder\b|\bou\b|\bof\b|\bo\b|\bto\b|\bbis\b|\beller\b|\blub\b)\s?", re.IGNORECASE
)
"""What stands between two readings of one quantity."""


def guarded(text: str, read: Callable[[str], Reading | None]) -> Reading | None:
    """Call ``read`` with the tidied text, without the marks by which the list itself doubts it.

    ``?``, ``~`` and their like put ``marked-uncertain`` on the reading.
    """
    match = _UNSURE.fullmatch(tidy(text))
    if match is None or not match["value"]:
        return None
    found = read(match["value"])
    if found is None:
        return None
    value = None if found.value is None else neat(found.value)
    found = replace(found, value=value, readings=tuple(map(neat, found.readings)))
    unsure = value is not None and (match["before"] or match["after"])
    return doubted(found, "marked-uncertain") if unsure else found


def neat(value: Decimal) -> Decimal:
    """Return the same number without zeros behind its point and without a positive exponent."""
    shortest = value.normalize()
    return shortest if abs(shortest) < 1 or shortest != shortest.to_integral_value() else shortest.quantize(_ONE)


def doubted(reading: Reading, *codes: str) -> Reading:
    """Return the reading with these doubts added, none twice."""
    return replace(reading, doubts=tuple(dict.fromkeys((*reading.doubts, *codes))))
