"""What a line over rows of a price list says of the parts below: ``Bipolar``, ``Low ESR 105°C``, ``Series HKL``."""

from __future__ import annotations

import re
from functools import lru_cache

from recap.bench.in_words import in_words
from recap.model import Kind
from recap.normalise.later import compiled
from recap.normalise.values import format_capacitance, plain

_SERIES = compiled(
    r"\b(?:series|serie|série|baureihe|reihe|seria|sorozat|gamme|gamma|reeks|family)\b\s*[:\-–]?\s*(?P<name>[A-Z0-9][A-Z0-9/+-]{0,11})(?![a-z])"
    r"|^(?P<before>[A-Z0-9][A-Z0-9/+-]{0,11})[\s-]+(?:series|serie|série|reihe|seria)\b",
    re.IGNORECASE,
)
_MAKER = compiled(
    r"^(?:maker|manufacturer|mfr|brand|hersteller|marke|fabrikat|fabricant|marque|fabbricante|produttore|marca|fabricante"
    r"|fabrikant|merk|producent|tillverkare)\s*[:\-–]\s*(?P<name>\S.{0,40})$",
    re.IGNORECASE,
)
_FORMS = {
    "value": re.compile(r"\d\s?(?:[µμunp]F|mfd)\b", re.IGNORECASE),
    "volts": re.compile(r"\d\s?V", re.IGNORECASE),
    "life": re.compile(r"\d[.,' ]?\d{3}\s?h|\dk\s?h", re.IGNORECASE),
}
"""Over rows only what bears its unit counts: ``2025/26`` is a year there, and ``12 h`` a time of day."""
LONGEST = 300
"""No line over rows that says something of them has more characters."""
_BIPOLARS = r"(?:(?:bi|non|un|a)[- ]?pol\w*|unipolar\w*|ungepolte?\w*|np|bp|tonfrequenzelkos?)"
_ELECTROLYTICS = (
    r"(?:polar(?:i[sz]ed)?\s+)?(?:electrolytics?|elko'?s?|elco'?s?|elektrolyt\w*|électrolyt\w*|chimiques?|elettrolitici?)"
)
_AND = r"\s*(?:\b(?:and|or|und|oder|et|ou|en|of|e|o|y)\b|[&+/])\s*"
_BOTH_NAMED = compiled(
    rf"\b{_ELECTROLYTICS}{_AND}{_BIPOLARS}\b|\b{_BIPOLARS}{_AND}{_ELECTROLYTICS}\b", re.IGNORECASE
)
"""``Electrolytics and bipolars``: the row below it may be either."""
_BOTH_SORTS = compiled(
    r"(?<!non.)(?<!not.)(?<!no.)(?<!nicht.)\b(?:polari[sz]ed|polar|gepolte?|polarisierte?|polaris[ée]e?s?|polarizzati|polarizados?)\b"
    r"|\b(?:electrolytics?|elkos?|elcos?)\s*(?:and|or|und|oder|et|en|&|\+|/)\s*(?:bi|non|un|np\b)",
    re.IGNORECASE,
)
"""``Polar and non-polar``: rows below may be of either sort."""


@lru_cache(maxsize=1024)
def facts(text: str) -> tuple[tuple[str, str], ...]:
    """Return the fields that ``text`` states, each as a plain table's cell would; what has two readings is left out."""
    found: dict[str, str] = {}
    if len(text) > LONGEST:
        return ()
    for name in ("value", "volts", "temp", "life", "mount", "kind", "safety"):
        taken = in_words(name, text)
        if taken.value is not None and (name not in _FORMS or _FORMS[name].search(text)):
            found[name] = cell_of(name, taken.value)
    if both_sorts(text):
        found.pop("kind", None)
    if maker := _MAKER.match(text):
        return (("maker", maker["name"].strip()),)
    if series := _SERIES.search(text):
        found["series"] = series["name"] or series["before"]
    return tuple(found.items())


def both_sorts(text: str) -> bool:
    """Tell whether a line speaks of polar and of bipolar parts: then it says of no row below it which it is."""
    if len(text) > LONGEST:
        return False
    bipolar = in_words("kind", text).value is Kind.BIPOLAR
    return _BOTH_NAMED.search(text) is not None or (bipolar and _BOTH_SORTS.search(text) is not None)


def cell_of(name: str, value: object) -> str:
    """Return a value as a cell of its own column in a plain table, with its unit."""
    if name == "safety":
        return f"class {value}"  # the word by which a class counts in running text
    if name == "value":
        return format_capacitance(value)  # type: ignore[arg-type]
    unit = {"volts": " V", "temp": " °C", "life": " h"}.get(name)
    return str(value) if unit is None else f"{plain(value)}{unit}"  # type: ignore[arg-type]
