"""What can hurt, or be hurt, at a position."""

from __future__ import annotations

from decimal import Decimal
from typing import TYPE_CHECKING

from recap.match.protection import is_mains_rated
from recap.model import Kind, Role
from recap.normalise.writing import format_voltage

if TYPE_CHECKING:
    from recap.model import Position

TOUCHABLE_V = Decimal(60)
"""A direct voltage above this is taken as dangerous to touch (IEC 62368-1, from memory)."""


def dangers(position: Position) -> tuple[str, ...]:
    """Return the dangers in words, the deadliest first; empty where there is none beyond the common ones."""
    told: list[str] = []
    volts = position.operating_V if position.operating_V is not None else position.volts
    if volts is not None and volts > TOUCHABLE_V:
        told.append(f"May hold {format_voltage(volts)}: discharge, then measure.")
    if position.safety is not None or position.kind is Kind.SAFETY:
        told.append(f"Safety part {position.safety or ''}".rstrip() + ": same class only.")
    elif is_mains_rated(position):
        told.append("Rated in alternating voltage: at the mains only the old part's own class, X or Y.")
    if position.role is Role.DEFLECTION:
        told.append("Tuned deflection part: same value and type; check the high voltage afterwards.")
    return tuple(told)
