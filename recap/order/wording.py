"""Parts and positions in few words, written one way in every file and on every label."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Final

from recap.model import Kind, Mount, Position
from recap.normalise.values import format_capacitance, format_voltage, plain

if TYPE_CHECKING:
    from recap.model import Part


_INSIDE: Final = re.compile(
    r"(?<=\d) (?=(?:[µunp]F|k?V|°C|mm|[kM]?(?:Ω|ohm)|[mµu]A|h|%)(?![\w²/]))"  # a number and its unit
    r"|(?<=\d) (?=× \d)|(?<=×) (?=\d)|(?<=pitch) (?=\d)"  # ``Ø25 × 40, pitch 10``
)


def unbroken(text: str, joint: str = "\u00a0") -> str:
    """Return the text with ``joint`` for each blank inside a quantity, so that no line ends there."""
    return _INSIDE.sub(joint, text)


def size_text(thing: Part | Position) -> str:
    """Return the sizes in mm: ``Ø6.3 × 11, pitch 2.5``; axial parts have a body length; empty where none is stated."""
    axial = thing.mount is Mount.AXIAL
    words = []
    if thing.diameter_mm is not None and thing.height_mm is not None:
        words.append(f"Ø{plain(thing.diameter_mm)} × {plain(thing.height_mm)}")
    elif thing.diameter_mm is not None:
        words.append(f"Ø{plain(thing.diameter_mm)}")
    elif thing.height_mm is not None:
        words.append(f"{'length' if axial else 'height'} {plain(thing.height_mm)}")
    if thing.pitch_mm is not None:
        words.append(f"pitch {plain(thing.pitch_mm)}")
    return ", ".join(words)


def value_text(thing: Part | Position) -> str:
    """Return capacitance and voltage: ``47 µF 25 V``, ``? µF 25 V``; empty where neither is stated."""
    if thing.value_uF is None and thing.volts is None:
        return ""
    value = "? µF" if thing.value_uF is None else format_capacitance(thing.value_uF)
    ac = isinstance(thing, Position) and thing.volts_ac
    return value if thing.volts is None else f"{value} {format_voltage(thing.volts, ac=ac)}"


def marked_text(thing: Part | Position) -> str:
    """Return capacitance, voltage and what must not be mistaken: ``4.7 µF 50 V bipolar``, ``0.1 µF 275 V X2``."""
    return " ".join(word for word in (value_text(thing), _special(thing)) if word)


def _special(thing: Part | Position) -> str:
    """Return safety class or kind where it is not just an electrolytic."""
    if thing.safety is not None:
        return thing.safety
    return "" if thing.kind in {Kind.UNKNOWN, Kind.OTHER, Kind.ELECTROLYTIC} else thing.kind.value


def thing_text(thing: Part | Position) -> str:
    """Return what a position asks for or a part is: ``47 µF 25 V 105 °C radial electrolytic``."""
    words = [word for word in (value_text(thing), detail_text(thing)) if word]
    return " ".join(words) or "not stated"


def brief_text(thing: Part | Position) -> str:
    """Return it in few words: ``47 µF 25 V radial bipolar 5×11``; the kind only where it is not electrolytic."""
    words = [value_text(thing)]
    if thing.mount is not None:
        words.append(thing.mount.value)
    words.append(_special(thing))
    if thing.diameter_mm is not None and thing.height_mm is not None:
        words.append(f"{plain(thing.diameter_mm)}×{plain(thing.height_mm)}")
    return " ".join(word for word in words if word)


def detail_text(thing: Part | Position) -> str:
    """Return what there is beside capacitance and voltage: ``105 °C radial electrolytic``; empty where nothing is."""
    words: list[str] = []
    if thing.temp_C is not None:
        words.append(f"{thing.temp_C} °C")
    if thing.mount is not None:
        words.append(thing.mount.value)
    if thing.kind not in {Kind.UNKNOWN, Kind.OTHER}:
        words.append(thing.kind.value)
    if thing.safety:
        words.append(thing.safety)
    return " ".join(words)
