"""The text of a record before it is cut into tokens: lost digits, unknown values, a dash that is no range's."""

from __future__ import annotations

import re
from typing import Final

from recap.normalise import patterns, words
from recap.normalise.clean import fold, part_commas


def prepared(text: str) -> str:
    """Return the text of a line with commas apart, and with what nobody could read as a question mark."""
    text = _UNKNOWN_VALUE.sub(r"? \1V", part_commas(text))
    text = _CHOICE_BEHIND_DASH.sub(r"\g<ref>: ", text)
    return _LOST_DIGIT.sub("? ", text) if "_" in text else text


_UNKNOWN_VALUE: Final = re.compile(r"\?+\s?/\s?(\d+(?:[.,]\d)?)(?!\w|[.,]\d|\s?V)")
"""``???/50``: nobody knows the value, the voltage is known."""
_LOST_DIGIT: Final = re.compile(r"(?<![\w.,])\d+_+\d*\s?[uµnp]F(?![A-Za-z])|(?<![\w.,])_+\d+\s?[uµnp]F(?![A-Za-z])")
"""``1_0 uF``: a digit of the value is lost."""
_CHOICE_BEHIND_DASH: Final = re.compile(
    r"^(?P<ref>C[A-Z]?\d{1,4}[A-Za-z]?)\s-\s(?=\d[\d.,]*\s?(?:or|oder|ou|o|of|/|-)\s?\d[\d.,]*\s?(?:[uµnp]F|mfd))",
    re.IGNORECASE,
)
"""``C3 - 10 or 22uF``: a dash in front of two values to choose from, and no range of designators."""


def says_unread(text: str) -> bool:
    """Tell whether a line says that what stands on the part can't be read."""
    if patterns.CANNOT_READ.search(text) is not None:
        return True
    return not words.UNREADABLE.isdisjoint({fold(word) for word in re.findall(r"[^\W\d_]+", text)})
