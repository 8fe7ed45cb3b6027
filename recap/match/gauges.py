"""The numbers of a part against those asked for, each with where it fits and its own verdict: what drawings show."""

from __future__ import annotations

from dataclasses import dataclass, replace
from decimal import Decimal
from typing import TYPE_CHECKING

from recap.match.electrical import voltage
from recap.match.findings import ratio
from recap.match.fitting import size
from recap.match.limits import EXACT_ROLES, PITCH_SAME, derating
from recap.model import Kind
from recap.normalise.preferred import successor

if TYPE_CHECKING:
    from collections.abc import Iterator

    from recap.model import Judgement, Limits, Part, Position, Verdict

    Ends = tuple[Decimal | None, Decimal | None]

ONE = Decimal(1)


@dataclass(frozen=True, slots=True)
class Gauge:
    """One number of the part against the one asked for, as a share of it; from ``low`` to ``high`` it fits.

    ``verdict`` is that of this number alone, and ``fits`` just where it lies between the two.
    """

    rule: str
    label: str
    verdict: Verdict
    asked: Decimal
    has: Decimal
    unit: str
    low: Decimal | None = None
    high: Decimal | None = None

    @property
    def share(self) -> Decimal | None:
        """The part's number as a multiple of the one asked for."""
        return ratio(self.has, self.asked)

    @property
    def room(self) -> float:
        """How far the number is inside what fits, as a share of what was asked; negative outside."""
        share = self.share or Decimal(0)
        low = None if self.low is None else share - self.low
        high = None if self.high is None else self.high - share
        return float(min(room for room in (low, high, Decimal(9)) if room is not None))


def gauges(position: Position, part: Part, judged: Judgement, limits: Limits) -> Iterator[Gauge]:
    """Yield a gauge for each rule that weighed two numbers; where one rule weighs two pairs, for each of them."""
    verdicts = {f.rule: f.verdict for f in judged.findings}
    asked_C = Decimal(limits.temp_min if position.temp_C is None else max(position.temp_C, limits.temp_min))
    rated_C = None if part.temp_C is None else Decimal(part.temp_C)
    factor, _ = derating(limits, part.kind)
    rows: tuple[tuple[str, str, Decimal | None, Decimal | None, str, Ends], ...] = (
        ("capacitance", "capacitance", position.value_uF, part.value_uF, "µF", _window(position, part, limits)),
        ("voltage", "rated voltage", position.volts, part.volts, "V", (ONE, limits.voltage_care)),
        ("voltage", "working voltage", part.volts, position.operating_V, "V", (None, factor)),
        ("temperature", "temperature", asked_C, rated_C, "°C", (ONE, None)),
        ("life", "life", limits.life_min, part.life_h, "h", (ONE, None)),
        ("pitch", "pitch", position.pitch_mm, part.pitch_mm, "mm", _around(position.pitch_mm, limits.pitch_out)),
        ("size", "diameter", position.diameter_mm, part.diameter_mm, "mm", _up_to(position.diameter_mm, limits)),
        ("size", "height", position.height_mm, part.height_mm, "mm", _up_to(position.height_mm, limits)),
        ("ripple", "ripple", position.ripple_mA, part.ripple_mA, "mA", (ONE, None)),
    )
    for rule, label, asked, has, unit, (low, high) in rows:
        if rule in verdicts and asked and has is not None:
            alone = _alone(label, position, part, limits) or verdicts[rule]
            yield Gauge(rule, label, alone, asked, has, unit, low, high)


def _alone(label: str, position: Position, part: Part, limits: Limits) -> Verdict | None:
    """Return the verdict of one of two pairs of numbers that one rule weighs together."""
    match label:
        case "rated voltage":
            found = voltage(replace(position, operating_V=None), part, limits)
        case "working voltage":
            found = voltage(replace(position, volts=None), part, limits)
        case "diameter":
            found = size(replace(position, height_mm=None), part, limits)
        case "height":
            found = size(replace(position, diameter_mm=None), part, limits)
        case _:
            return None
    return None if found is None else found.verdict


def _window(position: Position, part: Part, limits: Limits) -> Ends:
    """Return where capacitances fit; the same value and an obsolete one's successor always do, and widen it."""
    old, new = position.value_uF, part.value_uF
    if position.role in EXACT_ROLES or position.safety or position.kind is Kind.SAFETY:
        return ONE, ONE
    share = ratio(new, old) if old and new is not None and new in {old, successor(old)} else None
    low, high = limits.capacitance_low, limits.capacitance_high
    return (low, high) if share is None else (min(low, share), max(high, share))


def _around(holes: Decimal | None, out: Decimal) -> Ends:
    if not holes:
        return None, None
    return ratio(max(holes - max(out, PITCH_SAME), Decimal(0)), holes), ratio(holes + PITCH_SAME, holes)


def _up_to(old: Decimal | None, limits: Limits) -> Ends:
    return None, ratio(old + limits.size_fits, old) if old else None
