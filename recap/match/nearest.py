"""For a group that nothing serves: the parts that came nearest, rule by rule, and what single change would help.

A change is named only after it was tried: the rules judge the part again with it, and accept it.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal
from typing import TYPE_CHECKING, Any

import numpy as np

from recap.match.coding import aspects
from recap.match.joinable import joined_offers
from recap.match.limits import limits_for
from recap.match.rules import judge
from recap.model import Verdict
from recap.normalise.writing import plain

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence
    from datetime import date

    from recap.match.columns import Offers
    from recap.match.combine import Combination
    from recap.model import DrawerPart, Finding, Group, Judgement, Limits, Part, Position, Settings

SHOWN = 5
"""Nearest parts that are named for one group."""
ALLOW_CARE = "allow_care"
_AS_NEAR = 2.0
_ROWS = 20_000
_JUDGED = 24
_JUDGED_ALONE = 16
_SENSIBLE: Mapping[str, tuple[Decimal, Decimal]] = {
    "capacitance_low": (Decimal("0.8"), Decimal(2)),
    "capacitance_high": (Decimal(1), Decimal(2)),
    "capacitance_care": (Decimal(1), Decimal(3)),
    "temp_min": (Decimal(85), Decimal(200)),
    "life_min": (Decimal(1000), Decimal(20000)),
    "size_fits": (Decimal(0), Decimal(3)),
    "size_care": (Decimal(0), Decimal(5)),
    "pitch_out": (Decimal(0), Decimal(10)),
    "ripple_low": (Decimal("0.7"), Decimal(2)),
    "drawer_years": (Decimal(0), Decimal(25)),
}
"""How far each number may be eased before it is no advice any more (common practice)."""


@dataclass(frozen=True, slots=True)
class Near:
    """A part that came near; ``against`` are the findings that speak against it, the worst first."""

    part: Part
    judgement: Judgement
    against: tuple[Finding, ...]

    @property
    def reason(self) -> str:
        """What speaks against it, in words."""
        return "; ".join(f"{f.rule}: {f.reason}" for f in self.against)


@dataclass(frozen=True, slots=True)
class Help:
    """One change of a rule's number that would let a part in: the key, its value now and then, and the part.

    ``key`` is as in ``bench.toml``; ``allow_care`` goes from 0 to 1.
    """

    rule: str
    key: str
    now: Decimal
    then: Decimal
    part: Part

    @property
    def text(self) -> str:
        """The change as a person says it."""
        maker = f"{self.part.number} ({self.part.supplier})"
        if self.key == ALLOW_CARE:
            return f"{self.key} = true would admit {maker}"
        return f"{self.key} = {plain(self.then)} instead of {plain(self.now)} would admit {maker}"


@dataclass(frozen=True, slots=True)
class Unfit:
    """A group that nothing serves: why in one sentence, the nearest parts, and single changes that would help.

    ``joined`` are several parts for one place, with care; only where no single part goes even with care.
    """

    group: Group
    reason: str
    nearest: tuple[Near, ...] = ()
    helps: tuple[Help, ...] = ()
    joined: tuple[Combination, ...] = ()


@dataclass(frozen=True, slots=True)
class Search:
    """Where parts were sought, and how bad a verdict could still be taken."""

    offers: Offers
    drawer: tuple[DrawerPart, ...]
    settings: Settings
    worst: Verdict
    today: date


def without_fit(group: Group, search: Search) -> Unfit:
    """Return what to say of a group that nothing serves in this search."""
    if group.extra is not None:
        wanted = " or ".join(group.extra.parts)
        return Unfit(group, f"no catalogue offers {wanted}")
    asks = group.asks
    if asks is None or asks.value_uF is None:
        return Unfit(group, "its capacitance isn't known")
    limits = limits_for(search.settings, asks.role)
    near = [_near(asks, part, limits) for part in _closest(asks, search.offers, limits, search.worst)]
    near += [
        _near(asks, kept.part, limits, bought=kept.bought, today=search.today)
        for kept in search.drawer
        if kept.part.value_uF is not None
    ]
    if not near:
        return Unfit(group, "no catalogue offers any capacitor")
    near.sort(key=_distance)
    shown = _varied(near)
    helps = _helps(asks, near, limits, search.worst)
    alone = shown[0].judgement.verdict is not Verdict.NO
    joined = () if alone else joined_offers(asks, search.offers, search.drawer, limits)
    return Unfit(group, _sentence(shown[0], search.worst), shown, helps, joined)


def _near(asks: Position, part: Part, limits: Limits, *, bought: date | None = None, today: date | None = None) -> Near:
    judgement = judge(asks, part, limits, bought=bought, today=today)
    against = sorted(
        (f for f in judgement.findings if f.verdict is not Verdict.FITS), key=lambda f: (-f.verdict.rank, -_severity(f))
    )
    return Near(part, judgement, tuple(against))


def _closest(asks: Position, offers: Offers, limits: Limits, worst: Verdict) -> list[Part]:
    """Return some dozen offers, of the capacitances nearest to the one asked for, that fail the fewest rules.

    Among them, for each rule, offers that fail by this rule alone, with as many different values as possible.
    """
    rows = offers.nearest_in_value(asks, _ROWS) if len(offers) else np.empty(0, dtype=np.intp)
    if not len(rows):
        return []
    looked_at = aspects()
    ranks = np.stack([offers.ranks(aspect, asks, limits, rows) for aspect in looked_at])
    by_rule: dict[str, Any] = {}
    for aspect, each in zip(looked_at, ranks, strict=True):
        by_rule[aspect.rule.name] = np.maximum(each, by_rule.get(aspect.rule.name, 0))
    worst_of = np.stack(list(by_rule.values()))
    failed = np.where(worst_of == Verdict.NO.rank, 100, worst_of).sum(axis=0)
    chosen = rows[np.lexsort((offers.distances(asks, rows), failed))[:_JUDGED]].tolist()
    blocking = ranks > worst.rank
    single = blocking.sum(axis=0) == 1
    for aspect, blocks in zip(looked_at, blocking, strict=True):
        only = rows[single & blocks]
        _, firsts = np.unique(offers.codes(aspect, only), return_index=True)
        chosen += only[firsts[:_JUDGED_ALONE]].tolist()
    parts = [offers.part(row) for row in dict.fromkeys(chosen)]
    return list({(part.supplier, part.number): part for part in reversed(parts)}.values())[::-1]


def _severity(finding: Finding) -> float:
    """Return how far a finding is off, about 1 for what can't be helped. For sorting only."""
    margin = None if finding.margin is None else float(finding.margin)
    if finding.verdict is Verdict.FITS:
        return 0.0
    if margin is None:
        return 3.0 if finding.rule in {"safety", "kind"} else 1.0
    if finding.rule in {"voltage", "life", "ripple"}:
        return abs(1.0 - margin)
    if finding.rule == "capacitance":
        return 3.0 * abs(float(np.log(margin))) if margin > 0 else 9.0
    return abs(margin) / (100.0 if finding.rule == "temperature" else 10.0)


def _distance(near: Near) -> tuple[float, ...]:
    no = [f for f in near.against if f.verdict is Verdict.NO]
    return (
        sum(1.0 + _severity(f) for f in no),
        len(near.against),
        sum(_severity(f) for f in near.against),
    )


def _varied(near: Sequence[Near]) -> tuple[Near, ...]:
    """Return the nearest parts: different part numbers, those that fail by another rule than their betters first."""
    fresh: list[Near] = []
    failing: set[frozenset[str]] = set()
    farthest = _distance(near[0])[0] + _AS_NEAR
    first: dict[str, Near] = {}
    for one in near:
        first.setdefault(one.part.number, one)
    each = list(first.values())
    for one in each:
        rules = frozenset(f.rule for f in one.against if f.verdict is one.judgement.verdict)
        if rules not in failing and _distance(one)[0] <= farthest:
            fresh.append(one)
        failing.add(rules)
    chosen = fresh[:SHOWN]
    chosen += [one for one in each if one not in chosen][: SHOWN - len(chosen)]
    return tuple(sorted(chosen, key=_distance))


def _sentence(best: Near, worst: Verdict) -> str:
    if best.judgement.verdict.rank <= worst.rank:
        return "parts fit, but none can be had"
    if best.judgement.verdict is Verdict.CARE:
        return f"nothing fits outright; {best.part.number} ({best.part.supplier}) would with care: {best.reason}"
    return f"nothing fits; nearest is {best.part.number} ({best.part.supplier}): {best.reason}"


def _helps(asks: Position, near: Iterable[Near], limits: Limits, worst: Verdict) -> tuple[Help, ...]:
    """Return for each key the smallest change that alone admits a part, surest first."""
    found: dict[str, Help] = {}
    for one in near:
        if worst is Verdict.FITS and one.judgement.verdict is Verdict.CARE and ALLOW_CARE not in found:
            found[ALLOW_CARE] = Help(one.against[0].rule, ALLOW_CARE, Decimal(0), Decimal(1), one.part)
        for change in _changes(asks, one, limits, worst):
            known = found.get(change.key)
            if known is None or abs(change.then - change.now) < abs(known.then - known.now):
                found[change.key] = change
    return tuple(found.values())


def _changes(asks: Position, near: Near, limits: Limits, worst: Verdict) -> list[Help]:
    blocking = [f for f in near.judgement.findings if f.verdict.rank > worst.rank]
    if len(blocking) != 1:
        return []
    tried = []
    for key, then in _settings_for(blocking[0], asks, near.part, worst):
        eased = replace(limits, **{key: then})
        finding = next((f for f in judge(asks, near.part, eased).findings if f.rule == blocking[0].rule), None)
        if finding is None or finding.verdict.rank <= worst.rank:
            tried.append(Help(blocking[0].rule, key, Decimal(getattr(limits, key)), Decimal(then), near.part))
    return tried


def _settings_for(finding: Finding, asks: Position, part: Part, worst: Verdict) -> list[tuple[str, Any]]:
    """Return the numbers, if any, that could turn one rule's verdict. Safety, kind and voltage have none."""
    care = worst is Verdict.CARE
    excess = None if finding.margin is None else -finding.margin
    wanted: dict[str, tuple[str, Any]] = {
        "temperature": ("temp_min", part.temp_C),
        "life": ("life_min", part.life_h),
        "capacitance": _share("capacitance_care" if care else "capacitance_high", part.value_uF, asks.value_uF),
        "size": ("size_care" if care else "size_fits", excess),
        "pitch": ("pitch_out", excess),
        "ripple": _share("ripple_low", part.ripple_mA, asks.ripple_mA),
        "drawer": ("drawer_years", finding.substitute),
    }
    key, then = wanted.get(finding.rule, ("", None))
    if finding.rule == "drawer" and isinstance(then, Decimal):
        then = then.to_integral_value(ROUND_CEILING)
    if then is None or not _SENSIBLE[key][0] <= then <= _SENSIBLE[key][1]:
        return []
    return [(key, then)]


def _share(key: str, new: Decimal | None, old: Decimal | None) -> tuple[str, Decimal | None]:
    """Return the ratio to three places, on the side that lets it in; below 1 it is the window's low end that counts."""
    if new is None or not old:
        return key, None
    if new < old:
        low = "capacitance_low" if key.startswith("capacitance") else key
        return low, (new / old).quantize(Decimal("0.001"), ROUND_FLOOR)
    return key, (new / old).quantize(Decimal("0.001"), ROUND_CEILING)
