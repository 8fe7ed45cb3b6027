"""Lengths, temperatures, hours, currents, resistances and tolerances as lists and catalogues write them.

Every reader takes the whole text and gives a :class:`~recap.normalise.reading.Reading` in the unit
its name tells, or None where the text is no such quantity. With ``bare`` a naked number has the
canonical unit (a column whose header names it); otherwise a unit must stand there.
"""

from __future__ import annotations

import re
from decimal import Decimal
from typing import Final

from recap.normalise.decimals import MAX_LENGTH, Number, number, tidy
from recap.normalise.later import compiled
from recap.normalise.reading import Reading, neat

_INCH_MM: Final = Decimal("25.4")
LENGTHS: Final = {
    **dict.fromkeys(("mm", "millimeter", "millimetre", "millimeters", "millimetres"), Decimal(1)),
    "cm": Decimal(10),
    **dict.fromkeys(("mil", "mils", "thou"), _INCH_MM / 1000),
    **dict.fromkeys(("in", "in.", "inch", "inches", "zoll", "pouce", '"', "''", "″", "”", "“"), _INCH_MM),
}
HOURS: Final = dict.fromkeys(
    ("h", "hr", "hrs", "hr.", "hrs.", "hour", "hours", "std", "std.", "stunden", "heures", "ore", "horas", "uur"),
    Decimal(1),
) | dict.fromkeys(("kh", "khrs", "k hrs", "k hours", "k h"), Decimal(1000))
CURRENTS: Final = {"ma": Decimal(1), "a": Decimal(1000), "µa": Decimal("0.001"), "ua": Decimal("0.001")}
RESISTANCES: Final = {
    **dict.fromkeys(("ω", "ohm", "ohms", "r"), Decimal(1)),
    **dict.fromkeys(("mω", "mohm", "mohms", "milliohm", "milliohms"), Decimal("0.001")),
    **dict.fromkeys(("kω", "kohm", "kohms"), Decimal(1000)),
}
"""mm, hours, mA and ohm per unit, by the unit in lower case."""

_AMOUNT: Final = compiled(r"(?P<number>[0-9.,' ]*[0-9.,])\s?(?P<unit>\D{0,14})")
_INCHES: Final = compiled(
    r"(?:(?P<whole>[0-9]{1,2})[ -])?(?P<over>[0-9]{1,2})/(?P<under>2|4|8|16|32|64)\s?(?P<unit>\D+)"
)
_TEMPERATURE: Final = compiled(
    r"(?:(?P<low>[-+±]?\s?[0-9]{1,3})\s?(?:°|º|deg)?\s?c?\s?(?:to|bis|or|~|\.\.+|…|/|-)\s?)?\+?(?P<degrees>[0-9]{2,3})\s?"
    r"(?P<unit>°\s?c|º\s?c|℃|°|º|deg\.?\s?c|degrees?\s?c?|grad\s?c?|degc|c)?",
    re.IGNORECASE,
)
_TEMPERATURES: Final = (40, 260)
_AT: Final = compiled(r"\s?(?:@|\bat\b|\bbei\b|\bà\b)\s?.*", re.IGNORECASE)
_RMS: Final = compiled(r"\s?\(?(?:r\.?m\.?s\.?|eff\.?)\)?$", re.IGNORECASE)
_OHM_CODE: Final = compiled(r"(?P<whole>[0-9]{0,3})R(?P<part>[0-9]{1,4})")


def _ready(text: str) -> str | None:
    if len(text) > MAX_LENGTH:
        return None
    return tidy(text) or None


def _amount(units: dict[str, Decimal], found: Number | None, unit: str, *, bare: bool) -> Reading | None:
    factor = units.get(unit.strip().lower()) if unit.strip() else Decimal(1) if bare else None
    if found is None or factor is None:
        return None
    value = None if found.value is None else neat(found.value * factor)
    return Reading(value, found.doubts, tuple(neat(reading * factor) for reading in found.readings))


def _decimal(text: str) -> Number | None:
    """Read a number in which point and comma both mark decimals: no size has thousands of millimetres."""
    text = text.strip().replace(",", ".")
    return (
        None if text.count(".") > 1 or " " in text else number(f"{text}0000" if "." in text else text)
    )  # four zeros: no group of three


def _whole(text: str) -> Number | None:
    """Read a number in which point, comma and space before three digits all group thousands."""
    return number(re.sub(r"(?<=[0-9])[ .,'](?=[0-9]{3}(?![0-9]))", "", text.strip()))


def length_mm(text: str, *, bare: bool = False) -> Reading | None:
    """Read a length in mm: ``7,5 mm``, ``0.3"``, ``3/8 in``, ``200 mil``. 1 inch is 25.4 mm exactly."""
    ready = _ready(text)
    if ready is None:
        return None
    if match := _INCHES.fullmatch(ready):
        inches = Decimal(match["over"]) / Decimal(match["under"]) + Decimal(match["whole"] or 0)
        return _amount(LENGTHS, Number(inches), match["unit"], bare=False)
    match = _AMOUNT.fullmatch(ready)
    return _amount(LENGTHS, _decimal(match["number"]), match["unit"], bare=bare) if match else None


def temperature_C(text: str, *, bare: bool = False) -> Reading | None:
    """Read a rated temperature in °C: ``105°``, ``85C``, ``105 ℃``; of a range (``-40~105°C``) its upper end.

    None outside 40 to 260 °C: no capacitor is rated there. ``85/105 °C`` has no value and the doubt ``alternatives``.
    """
    ready = _ready(text)
    match = _TEMPERATURE.fullmatch(ready) if ready else None
    if match is None or not (match["unit"] or bare):
        return None
    degrees = Decimal(match["degrees"])
    least, most = _TEMPERATURES
    if not least <= degrees <= most:
        return None
    low = (match["low"] or "").removeprefix("+").strip()
    if low.isdigit() and int(low) >= least:
        return Reading(None, ("alternatives",), (Decimal(low), degrees))
    return Reading(degrees)


def hours(text: str, *, bare: bool = False) -> Reading | None:
    """Read a rated life in hours: ``2000 h``, ``5,000 hrs``, ``2000h @ 105°C`` (the temperature left out)."""
    ready = _ready(text)
    match = _AMOUNT.fullmatch(_AT.sub("", ready)) if ready else None
    return _amount(HOURS, _whole(match["number"]), match["unit"], bare=bare) if match else None


def current_mA(text: str, *, bare: bool = False) -> Reading | None:
    """Read a ripple current in mA: ``1,250 mA``, ``1.25 A``, ``780 mA rms``. ``1.250 mA`` has no value."""
    ready = _ready(text)
    match = _AMOUNT.fullmatch(_RMS.sub("", _AT.sub("", ready))) if ready else None
    if match is None:
        return None
    in_amperes = match["unit"].strip().lower() == "a"
    found = _decimal(match["number"]) if in_amperes else number(match["number"])
    return _amount(CURRENTS, found, match["unit"], bare=bare)


def resistance_ohm(text: str, *, bare: bool = False) -> Reading | None:
    """Read an impedance or ESR in ohm: ``0.12 Ω``, ``120 mΩ``, ``0R12``. MΩ is taken as milliohm here.

    No capacitor has an impedance of a megohm at the frequency a data sheet states.
    """
    ready = _ready(text)
    if ready is None:
        return None
    if match := _OHM_CODE.fullmatch(ready):
        return Reading(neat(Decimal(f"{match['whole'] or 0}.{match['part']}")))
    match = _AMOUNT.fullmatch(_AT.sub("", ready).replace("\u2126", "Ω"))
    return _amount(RESISTANCES, _decimal(match["number"]), match["unit"], bare=bare) if match else None


_BOTH_WAYS: Final = compiled(r"(?:±|\+/?-|\+-)?\s?(?P<percent>[0-9]{1,3}(?:[.,][0-9]{1,2})?)\s?%")
_EACH_WAY: Final = compiled(
    r"-\s?(?P<low>[0-9]{1,3})\s?%?\s?[/,…]?\s?(?:\.\.+)?\s?\+\s?(?P<high>[0-9]{1,3})\s?%"
    r"|\+\s?(?P<high2>[0-9]{1,3})\s?%?\s?[/,…]?\s?(?:\.\.+)?\s?-\s?(?P<low2>[0-9]{1,3})\s?%"
)


def tolerance_percent(text: str) -> tuple[Decimal, Decimal] | None:
    """Read a tolerance as (low, high) in percent: ``±20 %`` is (-20, 20), ``-10/+50%`` is (-10, 50).

    A letter is a marking: see :mod:`recap.normalise.markings`.
    """
    ready = _ready(text)
    if ready is None:
        return None
    if match := _BOTH_WAYS.fullmatch(ready):
        spread = Decimal(match["percent"].replace(",", "."))
        return -spread, spread
    if match := _EACH_WAY.fullmatch(ready):
        return -Decimal(match["low"] or match["low2"]), Decimal(match["high"] or match["high2"])
    return None
