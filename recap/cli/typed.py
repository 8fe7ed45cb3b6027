"""Quantities as people type them on the command line; what can't be read is wrong usage, said with an example.

Numbers without a unit have the option's own unit. Nothing is guessed: where two readings are
possible both are named and the command ends.
"""

from __future__ import annotations

import re
from decimal import Decimal
from typing import TYPE_CHECKING, NoReturn, TypeVar

import typer

if TYPE_CHECKING:
    from collections.abc import Callable

    from recap.model import Position
    from recap.normalise.one_part import OnePart
    from recap.normalise.reading import Reading

_T = TypeVar("_T")
_NUMBER = r"(?P<number>[0-9]{1,15}(?:[.,][0-9]{1,12})?|[.,][0-9]{1,12})"
_DEGREES = re.compile(r"(?P<number>[-+−]?[0-9]{1,4}(?:[.,][0-9]{1,6})?)\s*(?:°|º|deg)?\s*C?", re.IGNORECASE)
_SECONDS = re.compile(rf"{_NUMBER}\s*(?P<unit>ms|s|sec|min)?", re.IGNORECASE)
_HERTZ = re.compile(rf"{_NUMBER}\s*(?P<unit>Hz|kHz|k)?", re.IGNORECASE)
_NO_VOLTS = re.compile(r"0{1,4}(?:[.,]0{1,4})?\s*V?", re.IGNORECASE)
_PLAIN = re.compile(_NUMBER)
_RESISTOR = re.compile(rf"{_NUMBER}\s*(?P<unit>Ω|Ω|ohms?|R|kΩ|kΩ|kohms?|k|K|MΩ|MΩ|Mohms?|Meg|M)?")
_RESISTOR_CODE = re.compile(r"(?P<whole>[0-9]{1,3})(?P<letter>[RrkKM])(?P<part>[0-9]{1,3})")
_SECONDS_PER = {"ms": Decimal("0.001"), "min": Decimal(60)}
_HERTZ_PER = {"khz": Decimal(1000), "k": Decimal(1000)}


def refuse(text: str, what: str, example: str, option: str) -> NoReturn:
    """End the command over an argument that can't be read (wrong usage)."""
    raise typer.BadParameter(f"can't read {text!r} as {what}; write it like {example}", param_hint=option)


def _settled(reading: Reading | None, text: str, what: str, example: str, option: str) -> Decimal:
    if reading is None:
        refuse(text, what, example, option)
    from recap.normalise.reading import UNUSUAL

    if reading.value is None or set(reading.doubts) - UNUSUAL:
        may_be = " or ".join(f"{value:f}" for value in reading.readings) or "more than one thing"
        raise typer.BadParameter(f"{text!r} may be {may_be}; write it like {example}", param_hint=option)
    return reading.value


def _matched(pattern: re.Pattern[str], text: str, what: str, example: str, option: str) -> re.Match[str]:
    match = pattern.fullmatch(text.strip())
    return match if match is not None else refuse(text, what, example, option)


def _decimal(text: str) -> Decimal:
    return Decimal(text.replace(",", ".").replace("−", "-"))


def capacitance(text: str, option: str) -> Decimal:
    """Read a capacitance, µF; a bare number is µF."""
    from recap.normalise import values

    return _settled(values.capacitance(text, "uF"), text, "a capacitance", "470uF", option)


def volts(text: str, option: str) -> Decimal:
    """Read a voltage, V; a bare number is V."""
    from recap.normalise import values

    if _NO_VOLTS.fullmatch(text.strip()):
        return Decimal(0)
    return _settled(values.voltage(text, bare=True), text, "a voltage", "25V", option)


def degrees(text: str, option: str) -> Decimal:
    """Read a temperature, °C, below zero too."""
    return _decimal(_matched(_DEGREES, text, "a temperature", "45C", option)["number"])


def hours(text: str, option: str) -> Decimal:
    """Read a time in hours; a bare number is hours."""
    from recap.normalise import quantities

    return _settled(quantities.hours(text, bare=True), text, "a number of hours", "2000h", option)


def milliamperes(text: str, option: str) -> Decimal:
    """Read a current, mA; a bare number is mA."""
    from recap.normalise import quantities

    return _settled(quantities.current_mA(text, bare=True), text, "a current", "500mA", option)


def microamperes(text: str, option: str) -> Decimal:
    """Read a leakage current, µA; a bare number is µA."""
    from recap.normalise import quantities

    if match := _PLAIN.fullmatch(text.strip()):
        return _decimal(match["number"])
    return _settled(quantities.current_mA(text), text, "a leakage current", "15uA", option) * 1000


def ohms(text: str, option: str) -> Decimal:
    """Read an ESR or impedance, Ω; MΩ is taken as milliohm, as on data sheets."""
    from recap.normalise import quantities

    return _settled(quantities.resistance_ohm(text, bare=True), text, "a resistance", "0.35", option)


def resistor(text: str, option: str) -> Decimal:
    """Read a resistor's value, Ω: ``2k``, ``2k2``, ``470``, ``1M`` (mega)."""
    factor = {"": Decimal(1), "k": Decimal(1000), "m": Decimal(1_000_000)}
    if code := _RESISTOR_CODE.fullmatch(text.strip()):
        number = Decimal(f"{code['whole']}.{code['part']}")
        return number * factor[code["letter"].lower().replace("r", "")]
    match = _matched(_RESISTOR, text, "a resistor", "2k2 or 470", option)
    unit = (match["unit"] or "").lower()
    return _decimal(match["number"]) * factor[unit[0] if unit[:1] in {"k", "m"} else ""]


def seconds(text: str, option: str) -> Decimal:
    """Read a time, seconds; ms and min are known."""
    match = _matched(_SECONDS, text, "a time", "5s", option)
    return _decimal(match["number"]) * _SECONDS_PER.get((match["unit"] or "").lower(), Decimal(1))


def hertz(text: str, option: str) -> Decimal:
    """Read a frequency, Hz; kHz is known."""
    match = _matched(_HERTZ, text, "a frequency", "120Hz", option)
    return _decimal(match["number"]) * _HERTZ_PER.get((match["unit"] or "").lower(), Decimal(1))


def percents(text: str, option: str) -> tuple[Decimal, Decimal]:
    """Read a tolerance as percent down and up, both positive."""
    from recap.normalise import quantities

    found = quantities.tolerance_percent(text if "%" in text else f"{text}%")
    if found is None:
        refuse(text, "a tolerance", "20% or -10/+50%", option)
    return -found[0], found[1]


def maybe(read: Callable[[str, str], _T], text: str | None, option: str) -> _T | None:
    """Read an option that may be absent."""
    return None if text is None else read(text, option)


def part(text: str, option: str = "PART") -> OnePart:
    """Read a part the way a list line is read (``470uF 25V 105C radial 10x16 p5 5000h``).

    Ends the command where a reading is doubted: the user is there to say what is meant.
    """
    from recap.normalise.one_part import read_part

    found = read_part(text)
    if found.doubts:
        said = "; ".join(dict.fromkeys(d.message for d in found.diagnostics)) or ", ".join(found.doubts)
        raise typer.BadParameter(f"{text.strip()!r}: {said}", param_hint=option)
    if not found.positions:
        refuse(text, "a part", '"470uF 25V 105C radial 10x16 p5 5000h"', option)
    return found


def rating(text: str, option: str = "PART") -> tuple[Position, Decimal, Decimal]:
    """Read a part that must state capacitance and voltage; returns the position, µF and V."""
    position = part(text, option).positions[0]
    if position.value_uF is None or position.volts is None:
        raise typer.BadParameter(
            f"{text.strip()!r} needs a capacitance and a voltage, like 470uF 25V", param_hint=option
        )
    return position, position.value_uF, position.volts


def aluminium(position: Position, what: str) -> None:
    """End the command where the part is said to be no aluminium electrolytic; ``what`` holds for those alone."""
    from recap.model import Kind

    if position.kind not in {Kind.ELECTROLYTIC, Kind.BIPOLAR, Kind.UNKNOWN}:
        raise typer.BadParameter(f"{what} for aluminium electrolytics, not {position.kind}", param_hint="PART")
