"""Units that stand in or beside headers, as data: which sort of quantity each goes with."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Mapping

# fmt: off
UNIT_FIELDS: Mapping[str, str] = {
    "µf": "value", "uf": "value", "nf": "value", "pf": "value", "mfd": "value", "mf": "value", "mmf": "value",
    "mmfd": "value", "microfarad": "value", "microfarads": "value", "nanofarad": "value", "nanofarads": "value",
    "мкф": "value", "нф": "value", "пф": "value", "в": "volts",
    "picofarad": "value", "picofarads": "value", "f": "value", "farad": "value", "farads": "value",
    "v": "volts", "volt": "volts", "volts": "volts", "vdc": "volts", "vac": "volts", "wv": "volts", "wvdc": "volts",
    "kv": "volts", "v dc": "volts",
    "°c": "temp", "c": "temp", "deg c": "temp", "°": "temp", "degc": "temp",
    "h": "life", "hrs": "life", "hours": "life", "hr": "life", "std": "life", "kh": "life", "stunden": "life",
    "mm": "length", "mil": "length", "mils": "length", "thou": "length", "inch": "length", "in": "length",
    "inches": "length",
    "cm": "length",
    '"': "length",
    "ma": "ripple", "a": "ripple", "marms": "ripple", "arms": "ripple", "ma rms": "ripple", "a rms": "ripple",
    "ω": "impedance", "ohm": "impedance", "ohms": "impedance", "mω": "impedance", "mohm": "impedance",
    "milliohm": "impedance",
    "%": "percent", "percent": "percent", "prozent": "percent",
    "pcs": "count", "pieces": "count", "stk": "count", "stück": "count", "pc": "count",
}
"""Units that stand behind or in brackets after a header, and the sort of quantity they go with."""

FIELD_QUANTITY: Mapping[str, str] = {
    "value": "value", "volts": "volts", "operating": "volts", "temp": "temp", "life": "life", "pitch": "length",
    "diameter": "length", "height": "length", "ripple": "ripple", "impedance": "impedance", "tolerance": "percent",
    "duty": "percent", "tax": "percent", "qty": "count", "stock": "count", "minimum": "count", "multiple": "count",
}

HARMLESS = frozenset({
    "max", "maximum", "nom", "nominal", "rated", "typ", "typical", "approx", "optional", "radial", "rms", "dc",
    "each",
})
"""What may stand in brackets behind a header without changing what the column means."""

OTHER_UNIT = re.compile(r"\s*(?:°?\s?F|fahrenheit|K|kelvin|1/1.*|m|[mµμu]V|[µμun]A)\s*", re.IGNORECASE)
"""Units that no column is read in: under ``Temp (°F)`` and ``Pitch (1/10 inch)`` no number is what it seems."""
