"""The rules about whom and what to trust: safety classes, makers, age in the drawer; and the cautions.

A safety part stands between the mains and a person. Nothing plain replaces it, and no class of
the other letter does: X parts are tested for use across the line, where a failure can start a
fire, Y parts for places where a failure could give a shock. The tests lower a risk, they promise
nothing. Source: IEC 60384-14.
"""

from __future__ import annotations

import re
from datetime import timedelta
from decimal import Decimal
from typing import TYPE_CHECKING

from recap.match.findings import CARE, FITS, NO, unstated
from recap.match.limits import SOURCES
from recap.model import Finding, Kind, Role
from recap.normalise.writing import plain

if TYPE_CHECKING:
    from datetime import date

    from recap.model import Limits, Part, Position

_CLASS = re.compile(r"(?:(?<![A-Z0-9])|(?<=[XY][1-4]))([XY])[ -]?([1-4])(?![0-9])")
_WHY = {
    "X": "an X part sits across the mains, where a failing part can start a fire",
    "Y": "a Y part sits between the mains and what people touch, where a failing part can give a deadly shock",
}
_WHY_ANY = "where it sits a failing part can start a fire or give a shock"
_DAYS_A_YEAR = Decimal("365.25")


def classes(text: str | None) -> dict[str, int]:
    """Return the safety classes a text names, strictest number for each letter: ``X1/Y2`` → {X: 1, Y: 2}."""
    found: dict[str, int] = {}
    for letter, number in _CLASS.findall((text or "").upper().replace("/", " ")):
        found[letter] = min(int(number), found.get(letter, 9))
    return found


def safety(position: Position, part: Part, limits: Limits) -> Finding | None:  # noqa: ARG001 - one signature for all rules
    """Judge the safety class: the same or a stricter one of the same letter, and never a plain part."""
    marked = position.safety
    if not marked and position.kind is not Kind.SAFETY:
        return _alternating(position, part)
    source = SOURCES["safety"]
    if not part.safety:
        if not marked and part.kind is Kind.SAFETY:
            return None
        why = " ".join(_WHY[letter] for letter in classes(marked)) or _WHY_ANY
        reason = f"no safety class is stated, and a plain part never replaces a safety part: {why}"
        return Finding("safety", NO, reason, marked or "safety part", None, None, None, source)
    if not marked:
        reason = f"class {part.safety}, but the old part's class isn't stated: read it off the part"
        return Finding("safety", CARE, reason, "safety part", part.safety, None, None, source)
    return _class_against_class(marked, part.safety)


def _alternating(position: Position, part: Part) -> Finding | None:
    """Ask for a look at an old part rated in alternating voltage of the mains: its class may just not be listed."""
    if not is_mains_rated(position) or position.volts is None:
        return None
    offered = f"class {part.safety}" if part.safety else "a part without a class"
    reason = (
        f"the old part is rated {plain(position.volts)} V alternating: at the mains only its own class, X or Y, may "
        f"sit there, and this is {offered}; read the old part, and look where it sits"
    )
    return Finding("safety", CARE, reason, "rated in AC", part.safety, None, None, SOURCES["safety"])


MAINS_V = Decimal(110)
"""Ratings of parts at the mains begin about here: 125, 250, 275 V and more (common practice)."""
WET = frozenset((Kind.ELECTROLYTIC, Kind.BIPOLAR))


def is_mains_rated(position: Position) -> bool:
    """Tell whether a part without a class is rated in alternating voltage high enough for the mains, and not wet."""
    high = position.volts_ac and position.volts is not None and position.volts >= MAINS_V
    return high and position.kind not in WET


def _class_against_class(marked: str, offered: str) -> Finding:
    asked, given = classes(marked), classes(offered)
    source = SOURCES["safety"]
    if not asked:
        same = marked.strip().casefold() == offered.strip().casefold()
        reason = f"marked {offered}, as before" if same else f"“{marked}” names no class: read it off the old part"
        return Finding("safety", FITS if same else NO, reason, marked, offered, None, None, source)
    wrong = [letter for letter, number in asked.items() if given.get(letter, 9) > number]
    if not wrong:
        stricter = any(given[letter] < number for letter, number in asked.items())
        reason = f"class {offered}, {'stricter than' if stricter else 'as'} the old {marked}"
        return Finding("safety", FITS, reason, marked, offered, None, None, source)
    why = "; ".join(_WHY[letter] for letter in wrong)
    return Finding(
        "safety", NO, f"class {offered} does not replace {marked}: {why}", marked, offered, None, None, source
    )


def makers(position: Position, part: Part, limits: Limits) -> Finding | None:  # noqa: ARG001 - one signature for all rules
    """Judge the maker by the bench's own lists."""
    if not limits.makers_only and not limits.makers_never:
        return None
    name = (part.maker or "").strip()
    if not name:
        return unstated("makers", "maker", None, None, SOURCES["makers_only"])
    if _among(name, limits.makers_never):
        verdict, reason = NO, f"{name} is on this bench's list of makers never to buy"
    elif limits.makers_only and not _among(name, limits.makers_only):
        verdict, reason = NO, f"{name} is not among this bench's makers"
    else:
        verdict, reason = FITS, f"{name} is a maker this bench takes"
    return Finding("makers", verdict, reason, None, name, None, None, SOURCES["makers_only"])


def _among(name: str, names: tuple[str, ...]) -> bool:
    return name.casefold() in {n.strip().casefold() for n in names}


def drawer_age(bought: date, today: date, limits: Limits) -> Finding:
    """Judge how long a part has lain in the drawer."""
    years = (max((today - bought).days, 0) / _DAYS_A_YEAR).quantize(Decimal("0.1"))
    most, source = limits.drawer_years, SOURCES["drawer_years"]
    if _years_later(bought, most) >= today:
        reason = f"bought {bought.isoformat()}, {plain(years)} years in the drawer"
        return Finding("drawer", FITS, reason, most, years, most - years, "years", source)
    reason = f"bought {bought.isoformat()}, more than {plain(most)} years in the drawer: measure and re-form it first"
    return Finding("drawer", CARE, reason, most, years, most - years, "years", source)


def _years_later(day: date, years: Decimal) -> date:
    """Return the day so many years on: by the calendar for whole years, else by 365.25 days."""
    if years == years.to_integral_value():
        try:
            return day.replace(year=day.year + int(years))
        except ValueError:  # 29 February, or beyond the calendar
            pass
    try:
        return day + timedelta(days=int(years * _DAYS_A_YEAR))
    except OverflowError:
        return day.max


SAFETY_CAUTION = (
    "Safety part: fit the same approved class (IEC 60384-14) and value, marked by an approval body. "
    "A plain part here can start a fire or put mains on the chassis."
)
DEFLECTION_CAUTION = (
    "Tuned high-voltage part: its own value and type, pulse rating no lower. A smaller or open one raises the picture "
    "tube's voltage and its X-rays (limit 36 pA/kg, 0.5 mR/h, at 5 cm); measure the high voltage after the work."
)


def cautions(position: Position) -> tuple[str, ...]:
    """Return what must be said where this position's part is chosen or changed; empty for ordinary ones."""
    told = []
    if position.safety or position.kind is Kind.SAFETY or is_mains_rated(position):
        told.append(SAFETY_CAUTION)
    if position.role is Role.DEFLECTION:
        told.append(DEFLECTION_CAUTION)
    return tuple(told)
