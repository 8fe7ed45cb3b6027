"""The matching rules and the needs, written a second time and as plainly as possible."""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import UTC, datetime
from fractions import Fraction
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from tests.whole.own_files import Fields, Lot, Offer, Place, Workshop

FITS, CARE, NO = "fits", "care", "no"
WORST = (FITS, CARE, NO)

DEFAULTS: dict[str, Any] = {
    "capacitance_low": "1.0", "capacitance_high": "1.2", "capacitance_care": "1.5", "voltage_care": "2.0",
    "derating": "0.8", "temp_min": "105", "life_min": "2000", "pitch_out": "3.0", "size_fits": "0.5",
    "size_care": "2.0", "ripple_low": "0.9", "makers_only": [], "makers_never": [], "drawer_years": "10",
}  # fmt: skip
OLD_VALUES = {"2.5": "2.2", "5": "4.7", "25": "22", "50": "47", "250": "220", "500": "470", "2500": "2200"}
"""Values of the time before the E series, and their successors in E6 (IEC 60063)."""
SAME_VALUE_ONLY = {"timing", "deflection"}
AGING = {"electrolytic", "bipolar"}
POLAR = {"electrolytic", "tantalum"}
SAFE_KINDS = {"safety", "film", "ceramic", "other", None, ""}
KIND_CARE = {
    ("electrolytic", "tantalum"), ("tantalum", "electrolytic"), ("bipolar", "film"), ("electrolytic", "film"),
    ("electrolytic", "bipolar"), ("tantalum", "bipolar"),
}  # fmt: skip


@dataclass(frozen=True)
class Limits:
    """The numbers of the rules, for one role."""

    of: dict[str, Any]

    def __getitem__(self, key: str) -> Fraction:
        return Fraction(str(self.of[key]))


@dataclass(frozen=True)
class Need:
    """One group or extra: so many pieces of one of these."""

    name: str
    positions: frozenset[tuple[str, str]]
    qty: int
    spares: int
    offers: frozenset[int]
    lots: frozenset[int]


def limits_for(settings: dict[str, Any], role: str) -> Limits:
    """Defaults, then [rules], then [rules.ROLE]."""
    rules = settings.get("rules", {})
    told = {key: value for key, value in rules.items() if not isinstance(value, dict)}
    smoothing = {"capacitance_care": "2.0"} if role == "smoothing" else {}
    return Limits(DEFAULTS | smoothing | told | rules.get(role, {}))


def kind_rule(asks: Fields, says: Fields) -> str:
    """Of two safety parts, one called so and one by what it is made of, the class decides."""
    if not asks.kind:
        return FITS
    both_safe = says.safety and (asks.safety or asks.kind == "safety")
    if both_safe and ({asks.kind, says.kind} & {"safety", None, ""}) and {asks.kind, says.kind} <= SAFE_KINDS:
        return FITS
    if not says.kind:
        return CARE
    if asks.kind == says.kind:
        return FITS
    return CARE if (asks.kind, says.kind) in KIND_CARE else NO


def capacitance_rule(asks: Fields, says: Fields, limits: Limits) -> str:
    if asks.value is None:
        return FITS
    if says.value is None:
        return CARE
    if asks.role in SAME_VALUE_ONLY:
        return FITS if says.value == asks.value else NO
    successors = {Fraction(old): Fraction(new) for old, new in OLD_VALUES.items()}
    ratio = says.value / asks.value
    if limits["capacitance_low"] <= ratio <= limits["capacitance_high"] or successors.get(asks.value) == says.value:
        return FITS
    return CARE if limits["capacitance_high"] < ratio <= limits["capacitance_care"] else NO


def voltage_rule(asks: Fields, says: Fields, limits: Limits) -> str:
    if asks.volts is None and asks.operating is None:
        return FITS
    if says.volts is None:
        return CARE
    verdict = FITS
    if asks.volts is not None:
        if says.volts < asks.volts:
            return NO
        if says.volts > limits["voltage_care"] * asks.volts:
            verdict = CARE
    if asks.operating is not None:
        if asks.operating > says.volts:
            return NO
        if asks.operating > limits["derating"] * says.volts:
            verdict = CARE
    return verdict


def temperature_rule(asks: Fields, says: Fields, limits: Limits) -> str:
    least = max(limits["temp_min"], asks.temp or Fraction(0))
    if says.temp is None:
        return CARE
    return FITS if says.temp >= least else NO


def life_rule(asks: Fields, says: Fields, limits: Limits) -> str:
    """A part of no stated kind is taken for the kind asked for; where nobody says a kind, a stated life counts."""
    kind = says.kind or asks.kind
    if kind not in AGING and (kind or says.life is None):
        return FITS
    if says.life is None:
        return CARE
    return FITS if says.life >= limits["life_min"] else NO


def mount_rule(asks: Fields, says: Fields) -> str:
    if not asks.mount or asks.mount == says.mount:
        return FITS
    return CARE if not says.mount or (asks.mount, says.mount) == ("axial", "radial") else NO


def pitch_rule(asks: Fields, says: Fields, limits: Limits) -> str:
    if asks.pitch is None:
        return FITS
    if says.pitch is None:
        return CARE
    wider = says.pitch - asks.pitch
    if abs(wider) <= Fraction(1, 2) or -limits["pitch_out"] <= wider < 0:
        return FITS
    return NO if wider > 1 else CARE


def size_rule(asks: Fields, says: Fields, limits: Limits) -> str:
    verdict = FITS
    for old, new in ((asks.diameter, says.diameter), (asks.height, says.height)):
        if old is None:
            continue
        if new is None:
            verdict = worst(verdict, CARE)
        elif new > old + limits["size_care"]:
            return NO
        elif new > old + limits["size_fits"]:
            verdict = CARE
    return verdict


def ripple_rule(asks: Fields, says: Fields, limits: Limits) -> str:
    if asks.ripple is None:
        return FITS
    if says.ripple is None:
        return CARE if asks.role in {"switching", "smoothing"} else FITS
    if says.ripple >= asks.ripple:
        return FITS
    return NO if says.ripple < limits["ripple_low"] * asks.ripple else CARE


def safety_rule(asks: Fields, says: Fields) -> str:
    if not asks.safety:
        return FITS
    if not says.safety or asks.safety[0] != says.safety[0]:
        return NO
    return FITS if says.safety[1] <= asks.safety[1] else NO


def maker_rule(says: Fields, limits: Limits) -> str:
    only = [maker.lower() for maker in limits.of["makers_only"]]
    never = [maker.lower() for maker in limits.of["makers_never"]]
    return NO if says.maker in never or (only and says.maker not in only) else FITS


def worst(*verdicts: str) -> str:
    return max(verdicts, key=WORST.index)


def verdicts(asks: Fields, says: Fields, limits: Limits) -> dict[str, str]:
    """Every rule's verdict by the rule's name."""
    return {
        "kind": kind_rule(asks, says),
        "capacitance": capacitance_rule(asks, says, limits),
        "voltage": voltage_rule(asks, says, limits),
        "temperature": temperature_rule(asks, says, limits),
        "life": life_rule(asks, says, limits),
        "mount": mount_rule(asks, says),
        "pitch": pitch_rule(asks, says, limits),
        "size": size_rule(asks, says, limits),
        "ripple": ripple_rule(asks, says, limits),
        "safety": safety_rule(asks, says),
        "makers": maker_rule(says, limits),
    }


def acceptable(asks: Fields, says: Fields, limits: Limits, care: bool) -> bool:
    verdict = worst(*verdicts(asks, says, limits).values())
    return verdict == FITS or (care and verdict == CARE)


def lot_acceptable(asks: Fields, lot: Lot, limits: Limits, care: bool) -> bool:
    """As an offer, and too old is with care; the ages made here are far from the limit."""
    age = datetime.now(UTC).year - int(lot.bought[:4]) if lot.bought else 0
    return acceptable(asks, lot.says, limits, care) and (care or age <= limits["drawer_years"])


def chosen(place: Place, boards: set[str], job: list[str]) -> bool:
    """Whether a set's job covers this place."""
    if boards and place.board not in boards:
        return False
    takes = any(word in {"full", place.board, place.ref} for word in job if not word.startswith("-"))
    leaves = any(word[1:] in {place.board, place.ref} for word in job if word.startswith("-"))
    return takes and not leaves


def spares_for(count: int, settings: dict[str, Any]) -> int:
    """The largest of pieces, percent and the statistical number."""
    told = settings.get("spares", {})
    percent = Fraction(str(told.get("percent", 0)))
    spares = max(int(told.get("pieces", 0)), math.ceil(count * percent / 100))
    confidence, loss = Fraction(str(told.get("confidence", 0))), Fraction(str(told.get("loss", 0)))
    if confidence > 0 and loss > 0:
        more = 0
        while survive(count, count + more, loss) < confidence:
            more += 1
        spares = max(spares, more)
    return spares


def survive(least: int, pieces: int, loss: Fraction) -> Fraction:
    """P(at least so many of the pieces are good), each lost on its own."""
    return sum(
        (math.comb(pieces, lost) * loss**lost * (1 - loss) ** (pieces - lost) for lost in range(pieces - least + 1)),
        Fraction(0),
    )


def needs(shop: Workshop) -> list[Need]:
    """Groups of places that ask for the same thing, then extras."""
    care = bool(shop.settings.get("allow_care", False))
    wanted: dict[Fields, list[tuple[str, str]]] = {}
    for unit in shop.sets:
        for place in shop.lists[unit["chassis"]]:
            if chosen(place, set(unit["boards"].split()), unit["job"].split()):
                wanted.setdefault(place.asks, []).append((unit["set"], place.ref))
    lots = shop.drawer if shop.settings.get("use_drawer", True) else ()
    found = []
    for asks, where in wanted.items():
        limits = limits_for(shop.settings, asks.role)
        spares = spares_for(len(where), shop.settings)
        found.append(
            Need(
                name=f"{asks.value} µF {asks.volts} V",
                positions=frozenset(where),
                qty=len(where) + spares,
                spares=spares,
                offers=frozenset(i for i, o in enumerate(shop.offers) if acceptable(asks, o.says, limits, care)),
                lots=frozenset(i for i, lot in enumerate(lots) if lot_acceptable(asks, lot, limits, care)),
            )
        )
    return found + [extra_need(shop, i, lots) for i in range(len(shop.extras))]


def extra_need(shop: Workshop, index: int, lots: tuple[Lot, ...]) -> Need:
    extra = shop.extras[index]
    named: tuple[Offer, ...] = shop.offers
    return Need(
        name=f"extra: {extra.item}",
        positions=frozenset(),
        qty=extra.qty,
        spares=0,
        offers=frozenset(i for i, o in enumerate(named) if o.number in extra.numbers),
        lots=frozenset(i for i, lot in enumerate(lots) if lot.number in extra.numbers),
    )
