"""The text of a record before it is cut into tokens: lost digits, unknown values, a dash that is no range's."""

from __future__ import annotations

import re
from typing import Final

from recap.normalise import can_sections, patterns, words
from recap.normalise.clean import fold, part_commas
from recap.normalise.designator_names import with_sides
from recap.normalise.later import compiled


def prepared(text: str) -> str:
    """Return the text of a line with commas apart, and with what nobody could read as a question mark."""
    text = _KIND_GLUED.sub(r"\1 ", _TIMES_VOLTS.sub(" x ", text))
    text = _LONG_HEAD.sub(r"\1", text)
    text = _OTHER_CHANNEL.sub(r"\g<letters>\g<number>/\g<letters>\g<other>", text)
    text = _UNKNOWN_VALUE.sub(r"? \1V", part_commas(with_sides(text)))
    text = can_sections.spelt_out(spelt_out(text))
    text = _ALTERNATING.sub("V~", text) if "~" in text else text
    text = _BYPASS.sub("bypass", text) if "-" in text else text
    said = text.lower().split()
    if not _INTO.isdisjoint(said) and not _FROM.isdisjoint(said):
        text = _CHANGED.sub(r"\g<was> -> ", text)
    text = _CHOICE_BEHIND_DASH.sub(r"\g<ref>: ", text)
    return _LOST_DIGIT.sub("? ", text) if "_" in text or "?" in text else text


_TIMES_VOLTS: Final = re.compile(r"(?<=[FfµdD]) [x×](?=\d{1,3}(?:[.,]\d)?\s?V(?![A-Za-z]))")
"""``10uF x35V``."""
_KIND_GLUED: Final = re.compile(r"(?<![\w.,-])(NPE?|BPE?|[A-Z]?[a-z]{3,12})(?=\d{1,3}(?:[.,]\d)?\s?V(?![A-Za-z]))")
"""``NP50V``."""
_LONG_HEAD: Final = re.compile(r"(?<![\w.,])(\d{4}) (?=000\s?[pn]F)", re.IGNORECASE)
"""``1000 000 pF``."""
_OTHER_CHANNEL: Final = re.compile(
    r"^(?P<letters>C[A-Z]?)(?=(?P<number>\d{3,4})\s?\((?P<other>\d{3,4})\)(?=\s))(?:\d{3}\s?\(\d{3}\)|\d{4}\s?\(\d{4}\))"
)
"""``C103(203)``: the designator of the other channel."""


def spelt_out(text: str) -> str:
    """Return an inverted description (``CAPACITOR-FXD 6.8UF 35VDC TA``) with its dielectric in words."""
    if "FXD" not in text:
        return text
    return _DIELECTRIC.sub(lambda m: "tantalum" if m[0] == "TA" else "aluminum electrolytic", text)


_DIELECTRIC: Final = re.compile(r"(?<=[CV] )(?:TA|AL)(?![A-Za-z])")
_UNKNOWN_VALUE: Final = re.compile(r"\?+\s?/\s?(\d+(?:[.,]\d)?)(?!\w|[.,]\d|\s?V)")
"""``???/50``: nobody knows the value, the voltage is known."""
_LOST_DIGIT: Final = re.compile(
    r"(?<![\w.,])\d+(?:_+|[.,]\?+)\d*\s?[uµnp]F(?![A-Za-z])|(?<![\w.,])_+\d+\s?[uµnp]F(?![A-Za-z])"
)
"""``1_0 uF``, ``4.?uF``: a digit of the value is lost."""
_ALTERNATING: Final = re.compile(r"(?<=[\s/][1-9]\d{2})~(?!\s*[\dC~])")
"""``0.1 µF 250~``: of alternating voltage, its unit left out."""
_BYPASS: Final = re.compile(r"by-pass", re.IGNORECASE)
_INTO: Final = frozenset("to auf in zu nach à a en naar".split())
_FROM: Final = frozenset(
    "from von de da van change changes changed changing alter altered modify modified raise raised geändert ändern "
    "wechseln changer changé changée passer cambiare cambiato cambiata cambiar cambiado cambiada wijzigen "
    "gewijzigd".split()
)
"""Without one of each nothing is said to change."""
_CHANGED: Final = compiled(
    r"(?P<verb>\b(?:chang(?:e[sd]?|ing)|alter(?:ed)?|modif(?:y|ied)|rais(?:e|ed)|geändert|ändern|wechseln|changer|changée?|passer|cambiare|cambiat[oa]"
    r"|cambiar|cambiad[oa]|wijzigen|gewijzigd)\s+)?(?:\b(?:from|von|de|da|van)\s+|(?(verb)|(?!)))"
    r"(?P<was>[.,]?\d[^;:()]{0,40}?(?:[FfVµ]|mfd|°C)\.?(?:\s(?:NP|BP|axial|radial))?)\s+(?:to|auf|in|zu|nach|à|a|en|naar)\s+(?=[.,]?\d)",
    re.IGNORECASE,
)
"""``change from 10uF 16V to 22uF 25V``: what the part is, and what takes its place."""
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
