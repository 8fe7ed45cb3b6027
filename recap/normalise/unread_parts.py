"""Lines of which nothing was made though they look like a part's: a designator run together or misread.

``C13100uF 25V`` has lost the blank behind its designator, ``CIOl ELECT. 10 16V`` its figures. Such a line is no prose:
a note among many isn't enough for it. Nor is one for a counted part number (``2x ABC-FR1V102``), which isn't decoded.
"""

from __future__ import annotations

import re
from decimal import Decimal
from typing import Final

from recap.normalise.later import compiled
from recap.normalise.preferred import in_series, is_rated_voltage

_RUN_TOGETHER: Final = compiled(r"(?<![A-Za-z])C[A-Z]?\d{2,6}(?:[.,]\d{1,3})?\s?[uµn]F?(?![A-Za-z])")
_MISREAD: Final = compiled(
    r"\W*(?!(?:[Cc]ool|Col|Coll|COOL)\b)C[A-Z]?(?=[\dOolI|SBZ]*[OolI|])[\dOolI|SBZ]{2,5}(?!\w)"
    r".*\d\s?(?:[uµn]F|W?V(?:DC)?)(?![A-Za-z])"
)
_NOUGHT: Final = compiled(r"(?<![\w.,])0+\s?(?:[uµn]F|mfd)(?![A-Za-z])", re.IGNORECASE)
"""``4 pcs 10 0uF``: no part has no capacitance, so a number was torn."""
_COUNTED_NUMBER: Final = compiled(
    r"\W{0,3}\d{1,3}\s?[x×*]\s?(?=[A-Z\d-]*\d)(?=[A-Z\d-]*[A-Z])[A-Z\d][A-Z\d-]{6,}(?![a-z])"
)


def looks_like_part(text: str) -> bool:
    """Tell whether a line without any part in it looks like one's that was spoilt."""
    spoilt = _RUN_TOGETHER.search(text) or _MISREAD.match(text) or _NOUGHT.search(text)
    return spoilt is not None or _COUNTED_NUMBER.match(text) is not None or _may_be_columns(text)


def is_misread_rating(text: str) -> bool:
    """Tell whether a line is nothing but a voltage in which letters stand for figures: ``S0 V:``."""
    return len(text) <= LONGEST_RATING and _RATING.fullmatch(text) is not None


LONGEST_RATING: Final = 16
_RATING: Final = compiled(r"\W*(?=\d*[OolI|SBZ])(?=[OolI|SBZ.,]*\d)[\dOolI|SBZ.,]{1,5}\s?[Vv](?:DC|olts?)?\W*")


def _may_be_columns(text: str) -> bool:
    """Tell whether a line of three bare numbers may be a designator, its value and its voltage: ``3   4.7   25``."""
    match = _THREE.fullmatch(text)
    if match is None:
        return False
    value, volts = (Decimal(match[name].replace(",", ".")) for name in ("value", "volts"))
    return in_series(value, "E6") and is_rated_voltage(volts)


_THREE: Final = compiled(r"\d{1,4}[.:)]?[\s|;]+(?P<value>\d{1,5}(?:[.,]\d{1,3})?)[\s|;]+(?P<volts>\d{1,3}(?:[.,]\d)?)")
