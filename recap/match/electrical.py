"""The electrical rules: kind, capacitance, voltage, temperature, life, ripple.

Each takes a position, a part and the role's limits, and returns a finding, or None where the
position states nothing to judge by. Limits are compared as products of decimals, so a value
exactly on a limit is on its good side.
"""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from typing import TYPE_CHECKING

from recap.match.findings import CARE, FITS, NO, percent, ratio, unstated
from recap.match.limits import EXACT_ROLES, SOURCES, derating
from recap.model import Citation, Finding, Kind, Role
from recap.normalise.preferred import successor
from recap.normalise.writing import format_capacitance, plain

if TYPE_CHECKING:
    from recap.model import Limits, Part, Position, Verdict

WET = frozenset({Kind.ELECTROLYTIC, Kind.BIPOLAR})
"""Kinds with a liquid electrolyte: these wear out, so they have a rated life."""

_XRAYS = ": another value shifts the picture tube's high voltage, and with it its X-rays"

STAND_INS: dict[tuple[Kind, Kind], str] = {
    (Kind.ELECTROLYTIC, Kind.TANTALUM): (
        "tantalum for an electrolytic: bears no surge or reverse voltage, and its bar marks plus"
    ),
    (Kind.TANTALUM, Kind.ELECTROLYTIC): (
        "an electrolytic for tantalum: more impedance and leakage, and its stripe marks minus"
    ),
    (Kind.BIPOLAR, Kind.FILM): "film for a bipolar part: better in all but size",
    (Kind.ELECTROLYTIC, Kind.FILM): "film for an electrolytic: far less series resistance, and larger",
    (Kind.ELECTROLYTIC, Kind.BIPOLAR): "bipolar where a polar part was: electrically sound, often larger",
    (Kind.TANTALUM, Kind.BIPOLAR): "bipolar where tantalum was: polarity can't go wrong, impedance may",
}
"""(asked, offered): what may stand in, with care, and what to think of. All else is no."""


_CALLED = {Kind.SAFETY: "a safety part", Kind.OTHER: "a part of another make (paper, polymer)"}
"""Kinds whose bare word says little; the others go by theirs."""

BY_CLASS = frozenset({Kind.SAFETY, Kind.FILM, Kind.CERAMIC, Kind.OTHER, Kind.UNKNOWN})
"""Kinds that lists and catalogues give a safety part: some name its class, some what it is made of."""


def kind(position: Position, part: Part, limits: Limits) -> Finding | None:  # noqa: ARG001 - one signature for all rules
    """Judge what the part is made of. Of a safety part that only one side calls so, the class decides."""
    asked = position.kind
    if asked is Kind.UNKNOWN:
        return None
    offered = part.kind
    if _called_by_class(position, part):
        reason = f"a safety part, class {part.safety}: the class decides, not what it is made of"
        return Finding("kind", FITS, reason, asked.value, offered.value, None, None, SOURCES["safety"])
    if offered is Kind.UNKNOWN:
        return unstated("kind", "kind", asked.value, None, SOURCES["kind"])
    source = SOURCES["kind"]
    if offered is asked:
        verdict, reason = FITS, f"{offered.value}, as before"
    elif (asked, offered) in STAND_INS:
        verdict, reason = CARE, STAND_INS[asked, offered]
    elif asked is Kind.BIPOLAR and offered in {Kind.ELECTROLYTIC, Kind.TANTALUM}:
        verdict, source = NO, SOURCES["kind_polar"]
        reason = f"{offered.value} has a polarity, a bipolar place reverses it: it heats, gasses and may burst"
    else:
        verdict, reason = NO, f"{_CALLED.get(offered, offered)} does not stand in for {_CALLED.get(asked, asked)}"
    return Finding("kind", verdict, reason, asked.value, offered.value, None, None, source)


def _called_by_class(position: Position, part: Part) -> bool:
    """Tell whether both are safety parts, and one of them is called so instead of film or ceramic."""
    if not part.safety or not (position.safety or position.kind is Kind.SAFETY):
        return False
    kinds = {position.kind, part.kind}
    return kinds <= BY_CLASS and len(kinds) > 1 and not kinds.isdisjoint({Kind.SAFETY, Kind.UNKNOWN})


def capacitance(position: Position, part: Part, limits: Limits) -> Finding | None:
    """Judge the nominal value against the role's window, own value only where that is called for."""
    old = position.value_uF
    if old is None:
        return None
    new = part.value_uF
    if new is None:
        return unstated("capacitance", "capacitance", old, "µF", SOURCES["capacitance_low"])
    verdict, reason, source = _capacitance(position, old, new, limits)
    return Finding("capacitance", verdict, reason, old, new, ratio(new, old), "µF", source)


def _capacitance(position: Position, old: Decimal, new: Decimal, limits: Limits) -> tuple[Verdict, str, Citation]:
    if position.safety or position.kind is Kind.SAFETY:
        return _own_value(old, new, "a safety part", SOURCES["safety_value"])
    if position.role is Role.DEFLECTION:
        return _own_value(old, new, "a deflection position", SOURCES["capacitance_deflection"], _XRAYS)
    if position.role in EXACT_ROLES:
        return _own_value(old, new, f"a {position.role} position", SOURCES["capacitance_exact"])
    was, is_now = format_capacitance(old), format_capacitance(new)
    if new == old:
        return FITS, f"{is_now}, the same", SOURCES["capacitance_low"]
    if old > 0 and new == successor(old):
        return FITS, f"{is_now} took the place of the old {was} and is within its tolerance", SOURCES["successor"]
    return _in_window(position, old, new, limits)


def _in_window(position: Position, old: Decimal, new: Decimal, limits: Limits) -> tuple[Verdict, str, Citation]:
    share = f"{format_capacitance(new)} is {percent(new, old)} of the old {format_capacitance(old)}"
    if new < old * limits.capacitance_low:
        return NO, f"{share}: hum, lost bass or a weak supply", SOURCES["capacitance_low"]
    if new <= old * limits.capacitance_high:
        return FITS, f"{share}: within the window", SOURCES["capacitance_high"]
    if new > old * limits.capacitance_care:
        return NO, f"{share}: too much", SOURCES["capacitance_care"]
    smoothing = position.role is Role.SMOOTHING
    what = "the rectifier's charging current grows" if smoothing else "see that nothing is timed by it"
    return CARE, f"{share}: {what}", SOURCES["capacitance_care"]


def _own_value(old: Decimal, new: Decimal, what: str, source: Citation, why: str = "") -> tuple[Verdict, str, Citation]:
    if new == old:
        return FITS, f"{format_capacitance(new)}, its own value, as {what} must have", source
    reason = f"{what} takes its own {format_capacitance(old)} only, not {format_capacitance(new)}{why}"
    return NO, reason, source


def voltage(position: Position, part: Part, limits: Limits) -> Finding | None:
    """Judge the rating against the old one and, where the working voltage is known, against that."""
    old, works_at = position.volts, position.operating_V
    if old is None and works_at is None:
        return None
    new = part.volts
    if new is None:
        missing = unstated("voltage", "rated voltage", works_at if old is None else old, "V", SOURCES["voltage"])
        return replace(missing, original=old)
    verdicts = []
    if old is not None:
        verdicts.append(_against_old(old, new, limits, wet=_may_be_wet(position, part)))
    if works_at is not None:
        verdicts.append(_against_working(works_at, new, part.kind, limits))
    worst = max(verdicts, key=lambda v: v[0].rank)
    words = "; ".join(reason for verdict, reason, _ in verdicts if verdict is worst[0] or verdict is not FITS)
    base = works_at if old is None else old
    margin = None if base is None else ratio(new, base)
    source = _told_together([source for verdict, _, source in verdicts if verdict is worst[0]])
    return Finding("voltage", worst[0], words, old, new, margin, "V", source)


def _told_together(sources: list[Citation]) -> Citation:
    """Return the sources of a finding that rests on the rating and on the working voltage alike."""
    first, *others = sources
    return Citation(first.kind, "; ".join([first.text, *(f"working voltage, {o.kind}: {o.text}" for o in others)]))


def _against_old(old: Decimal, new: Decimal, limits: Limits, *, wet: bool) -> tuple[Verdict, str, Citation]:
    if new < old:
        return NO, f"{plain(new)} V is below the old rating of {plain(old)} V", SOURCES["voltage"]
    if new > old * limits.voltage_care:
        reason = f"{plain(new)} V is more than {plain(limits.voltage_care)} times the old {plain(old)} V: larger"
        reason += ", and often with more series resistance" if wet else ""
        return CARE, reason, SOURCES["voltage_care"]
    if new == old:
        return FITS, f"{plain(new)} V, the same rating", SOURCES["voltage"]
    return FITS, f"{plain(new)} V is {percent(new, old)} of the old rating of {plain(old)} V", SOURCES["voltage"]


def _against_working(works_at: Decimal, new: Decimal, of: Kind, limits: Limits) -> tuple[Verdict, str, Citation]:
    factor, source = derating(limits, of)
    used = f"works at {plain(works_at)} V, {percent(works_at, new)} of its {plain(new)} V"
    if works_at > new:
        return NO, f"{used}: beyond the rating, it leaks, heats and may burst", SOURCES["operating"]
    if works_at > factor * new:
        return CARE, f"{used}: more than the {percent(factor, Decimal(1))} it should, life suffers", source
    return FITS, f"{used}, at most {percent(factor, Decimal(1))} wanted", source


def temperature(position: Position, part: Part, limits: Limits) -> Finding | None:
    """Judge the rated temperature: at least the old one and at least ``temp_min``, even where none is stated."""
    asked = limits.temp_min if position.temp_C is None else max(position.temp_C, limits.temp_min)
    source = SOURCES["temp_min" if asked == limits.temp_min else "temperature"]
    old = None if position.temp_C is None else Decimal(position.temp_C)
    if part.temp_C is None:
        return replace(unstated("temperature", "rated temperature", Decimal(asked), "°C", source), original=old)
    spare = part.temp_C - asked
    if spare >= 0:
        verdict = FITS
        reason = f"{part.temp_C} °C, {asked} °C asked for" if spare else f"{part.temp_C} °C, as asked for"
    else:
        reason = f"{part.temp_C} °C is {-spare} K below the {asked} °C asked for"
        reason += ": every 10 K less halves its life" if _may_be_wet(position, part) else ""
        verdict = NO
    return Finding("temperature", verdict, reason, old, Decimal(part.temp_C), Decimal(spare), "°C", source)


def _may_be_wet(position: Position, part: Part) -> bool:
    """Tell whether a part has an electrolyte to dry out, or may have one for all that is stated."""
    return (position.kind if part.kind is Kind.UNKNOWN else part.kind) in {*WET, Kind.UNKNOWN}


def life(position: Position, part: Part, limits: Limits) -> Finding | None:
    """Judge the rated life of wet parts: the part's kind decides, the position's where the part doesn't state it."""
    made_of = position.kind if part.kind is Kind.UNKNOWN else part.kind
    if made_of not in WET and not (made_of is Kind.UNKNOWN and part.life_h is not None):
        return None
    least = limits.life_min
    if part.life_h is None:
        return replace(unstated("life", "rated life", least, "h", SOURCES["life_min"]), original=None)
    hours = plain(part.life_h)
    if part.life_h >= least:
        verdict, reason = FITS, f"{hours} h at its rated temperature, {plain(least)} h asked for"
    else:
        verdict, reason = NO, f"{hours} h at its rated temperature is less than the {plain(least)} h asked for"
    margin = ratio(part.life_h, least)
    return Finding("life", verdict, reason, None, part.life_h, margin, "h", SOURCES["life_min"])


def ripple(position: Position, part: Part, limits: Limits) -> Finding | None:
    """Judge the rated ripple current where the old one is stated; unknown counts only where ripple is the work."""
    old = position.ripple_mA
    if old is None:
        return None
    new = part.ripple_mA
    if new is None:
        if position.role in {Role.SWITCHING, Role.SMOOTHING}:
            return unstated("ripple", "ripple current", old, "mA", SOURCES["ripple"])
        return None
    share = percent(new, old)
    if new >= old:
        verdict, source = FITS, SOURCES["ripple"]
        reason = f"rated for {plain(new)} mA of ripple, {share} of what is asked"
    elif new >= old * limits.ripple_low:
        verdict, source = CARE, SOURCES["ripple_low"]
        reason = f"rated for {plain(new)} mA of ripple, {share} of the {plain(old)} mA asked: runs a little warmer"
    else:
        verdict, source = NO, SOURCES["ripple_low"]
        reason = f"rated for {plain(new)} mA of ripple, only {share} of the {plain(old)} mA asked: it overheats"
    return Finding("ripple", verdict, reason, old, new, ratio(new, old), "mA", source)
