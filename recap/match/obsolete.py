"""What takes the place of values and cans that nobody makes any more, with the reasoning.

Old electrolytics were marked with tolerances as wide as −10/+50 % (letter T of IEC 60062), so the
neighbouring value of today's E6 series lies within what the old part itself may have measured.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from typing import TYPE_CHECKING, Final

from recap.match.limits import EXACT_ROLES
from recap.model import Citation, Role
from recap.normalise.preferred import E6, in_series, mantissa, nearest, successor
from recap.normalise.writing import plain

if TYPE_CHECKING:
    from collections.abc import Sequence

VALUE_SOURCE: Final = Citation("published", "IEC 60063, series E6; letter T of IEC 60062 is −10/+50 %")
RATED_V: Final = tuple(
    map(Decimal, "6.3 10 16 25 35 50 63 100 160 200 250 350 400 450 500".split()),
)
VOLTAGE_SOURCE: Final = Citation(
    "published", "rated voltages listed by makers: KEMET A4005 (ESH); 500 V is the highest usual"
)
RESERVOIR: Final = (
    "Behind a rectifier valve the first capacitor must not exceed what the valve allows: "
    "keep to the old value or to the valve sheet's limit."
)

COMMON_MINUS: Final = (
    "All minus leads go to the can's own minus, which may stand off the chassis: follow the old wiring."
)
ROOM: Final = "Leave air between the parts and keep them from valves and resistors; never seal them in the old can."


@dataclass(frozen=True, slots=True)
class ModernValue:
    """One old value and the one to fit, its E6 neighbours, and how far off it is in percent."""

    old_uF: Decimal
    fit_uF: Decimal
    deviation: Decimal
    below_uF: Decimal
    above_uF: Decimal
    reason: str


@dataclass(frozen=True, slots=True)
class Section:
    """One section of a can and the separate part that stands in for it; ``fit_V`` None: no part is made so high."""

    name: str
    value: ModernValue
    volts: Decimal | None
    fit_V: Decimal | None


@dataclass(frozen=True, slots=True)
class CanStandIn:
    """Separate parts for a can of several sections."""

    sections: tuple[Section, ...]
    reasons: tuple[str, ...]

    @property
    def pieces(self) -> int:
        """How many separate parts take the can's place."""
        return len(self.sections)


def neighbours(value_uF: Decimal) -> tuple[Decimal, Decimal]:
    """Return the E6 values at or below and at or above. Raises ValueError unless above 0."""
    base, shift = mantissa(value_uF), value_uF.adjusted()
    series = (*E6, E6[0] * 10)
    below = max(number for number in series if number <= base)
    above = min(number for number in series if number >= base)
    return below.scaleb(shift).normalize(), above.scaleb(shift).normalize()


def modern_value(value_uF: Decimal, role: Role | None = None, *, safety: bool = False) -> ModernValue:
    """Return what to fit today for an old value, and why. Timing, deflection and safety parts keep their own."""
    below, above = neighbours(value_uF)
    listed = successor(value_uF)
    if safety:
        fit, why = value_uF, "a safety part takes its own class and value only"
    elif role is Role.DEFLECTION:
        fit, why = value_uF, "a deflection part takes its own value and type only, never near ones, never joined ones"
    elif role in EXACT_ROLES:
        fit, why = value_uF, f"a {role} position takes its own value only: join parts to make it, or measure one out"
    elif in_series(value_uF, "E6"):
        fit, why = value_uF, "still made"
    elif listed is not None:
        fit, why = listed, "the E6 value that took its place"
    else:
        fit, why = nearest(value_uF, "E6"), "the nearest E6 value"
    deviation = round((fit / value_uF - 1) * 100, 1)
    if fit != value_uF:
        low, high = plain(value_uF * Decimal("0.9")), plain(value_uF * Decimal("1.5"))
        why += (
            f", {_signed(deviation)} %; at −10/+50 % the old part itself measured anything from {low} to {high} µF, "
            f"and ±20 % of {plain(fit)} µF is {plain(fit * Decimal('0.8'))} to {plain(fit * Decimal('1.2'))} µF"
        )
    return ModernValue(value_uF, fit, deviation, below, above, why)


def _signed(percent: Decimal) -> str:
    return f"{'−' if percent < 0 else '+'}{plain(abs(percent))}"


def modern_voltage(volts: Decimal) -> Decimal | None:
    """Return the least usual rating of today that is not below the old one; None above the highest."""
    return next((rated for rated in RATED_V if rated >= volts), None)


def stand_in_for_can(
    sections: Sequence[Decimal], volts: Sequence[Decimal | None], role: Role | None = None, *, safety: bool = False
) -> CanStandIn:
    """Return one separate part for each section, with what to mind.

    ``volts`` has one rating for each section. Raises ValueError where the counts differ or there is no section.
    """
    if not sections or len(sections) != len(volts):
        raise ValueError("each section of a can needs its value and its voltage (or None)")
    names = [chr(ord("a") + i) if i < 26 else str(i + 1) for i in range(len(sections))]  # noqa: PLR2004 - the alphabet
    parts = tuple(
        Section(name, modern_value(value, role, safety=safety), rated, _rating(rated, safety=safety))
        for name, value, rated in zip(names, sections, volts, strict=True)
    )
    return CanStandIn(parts, () if safety else tuple(_can_reasons(parts)))


def _rating(volts: Decimal | None, *, safety: bool) -> Decimal | None:
    return volts if volts is None or safety else modern_voltage(volts)


def _can_reasons(sections: tuple[Section, ...]) -> list[str]:
    told = []
    if len(sections) > 1:
        told.append(f"{len(sections)} separate parts, one for each section. {COMMON_MINUS}")
        told.append(ROOM)
    if any(s.volts is not None and s.volts >= 160 for s in sections):  # noqa: PLR2004 - mains supplies begin here
        told.append(RESERVOIR)
    too_high = [s for s in sections if s.volts is not None and s.fit_V is None]
    for section in too_high:
        which = f"section {section.name}: " if len(sections) > 1 else ""
        told.append(f"{which}no single part is usual above {plain(RATED_V[-1])} V; join two in series")
    return told
