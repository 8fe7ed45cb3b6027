"""Capacitances and rated voltages, read from text and written to it: the one door to them.

Behind it, and nowhere else, is known how a capacitance, a voltage or an IEC 60062 code is spelt.
Every reader is total: a value, or nothing and the reason as doubt codes, or None where the text
is no such quantity. Values are µF and V, exact.
"""

from __future__ import annotations

from recap.normalise.capacitances import UNITS, capacitance
from recap.normalise.pairs import capacitance_and_voltage, sections
from recap.normalise.reading import Reading
from recap.normalise.voltages import voltage
from recap.normalise.writing import (
    figures,
    format_capacitance,
    format_voltage,
    letter_code,
    plain,
    three_digit_code,
)

__all__ = [
    "UNITS",
    "Reading",
    "capacitance",
    "capacitance_and_voltage",
    "figures",
    "format_capacitance",
    "format_voltage",
    "letter_code",
    "plain",
    "sections",
    "three_digit_code",
    "voltage",
]
