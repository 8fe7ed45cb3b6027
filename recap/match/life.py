"""How long an aluminium electrolytic may last: published life formulas, side by side.

Every model takes the rated life at the rated temperature and says what remains of it in
other conditions. The formulas are the makers'; the names are ours:

``ten-degree``    L = L0 · 2^((T0 − Ta)/10): temperature alone.
``core-rise``     the same, times 2^(r0/(10 − r0/4) − r/(10 − r/4)) with r = r0 · (I/I0)²: heat
                  inside the can by ripple.
``three-factor``  L0 · KT · KR · KV: temperature, ripple, working voltage.
``core-voltage``  L0 · (4.3 − 3.3 · U/U0) · 2^((Tm − Tc)/10): voltage and core temperature.

Not stated never counts as favourable: without a ripple current the rated one is taken, without
a working voltage the rated one. None of it is a promise; it ends at fifteen years.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from decimal import Decimal
from math import fsum, log2
from typing import TYPE_CHECKING, TypeAlias

from recap.model import Citation

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping, Sequence


Number: TypeAlias = Decimal | float

CAP_YEARS = 15
HOURS_PER_YEAR = 24 * 365
CAP_H = CAP_YEARS * HOURS_PER_YEAR
CAP_SOURCE = Citation(
    "published",
    "Nichicon, Estimated Life Calculator, note 4: fifteen years is generally the maximum; "
    "a power-supply manual (PS9011-2420-0001) states 15 years = 131,400 h",
)
RANGE_LOW_C = 40.0
RISE_AT_RATED_K = 5.0
CAUTIOUS = "cautious"

_HOT_TYPES_C = 105.0
_RISE_LIMIT_K = 40.0


@dataclass(frozen=True, slots=True)
class Conditions:
    """What a part is rated for and what it meets: °C, hours, K; ratios are actual / rated.

    ``rise_at_rated_K`` is how much hotter the core is than the surroundings at the rated ripple current.
    """

    rated_life_h: float
    rated_temp_C: float
    ambient_C: float
    ripple_ratio: float | None = None
    voltage_ratio: float | None = None
    rise_at_rated_K: float = RISE_AT_RATED_K


@dataclass(frozen=True, slots=True)
class Model:
    """One published formula: what it must be told beyond temperature, how it is written, who says so."""

    name: str
    title: str
    formula: str
    source: Citation
    hours: Callable[[Conditions], float]
    applies: Callable[[Conditions], bool]
    needs: str


@dataclass(frozen=True, slots=True)
class LifeEstimate:
    """Hours of use by one model. ``hours`` is never above :data:`CAP_H`; ``formula_hours`` is what the formula says.

    ``considered`` holds every model that the inputs allow, with its uncapped hours.
    """

    hours: float
    formula_hours: float
    model: str
    formula: str
    inputs: Mapping[str, float | str | None]
    source: Citation
    remarks: tuple[str, ...] = ()
    considered: tuple[tuple[str, float], ...] = ()

    @property
    def capped(self) -> bool:
        """Tell whether the formula gave more than makers stand for."""
        return self.formula_hours > CAP_H

    def years(self, hours_per_day: Number = 24) -> float:
        """Return years of use at so many hours a day, at most fifteen: the seal ages in any case.

        Raises ValueError unless 0 < ``hours_per_day`` ≤ 24.
        """
        daily = float(hours_per_day)
        if not 0 < daily <= 24:  # noqa: PLR2004 - a day
            raise ValueError(f"hours a day must be above 0 and at most 24, not {hours_per_day}")
        return min(self.hours / (daily * 365), float(CAP_YEARS))


@dataclass(frozen=True, slots=True)
class Duty:
    """So many hours (of any repeating stretch of time) at one ambient temperature."""

    hours: float
    ambient_C: float


@dataclass(frozen=True, slots=True)
class MixedEstimate:
    """Life over several temperatures, and the one steady temperature that would wear as fast."""

    estimate: LifeEstimate
    parts: tuple[tuple[Duty, float], ...] = field(default=())
    equivalent_ambient_C: float | None = None


def _doublings(kelvin: float) -> float:
    return float(2.0 ** (kelvin / 10.0))


def ten_degree(c: Conditions) -> float:
    """Return L0 · 2^((T0 − Ta)/10), hours."""
    return c.rated_life_h * _doublings(c.rated_temp_C - c.ambient_C)


def _wear_of_rise(rise_K: float) -> float:
    """Return r/(10 − r/4), the number of halvings that a core rise of r kelvin costs."""
    return rise_K / (10.0 - 0.25 * rise_K)


def core_rise(c: Conditions) -> float:
    """Return the ten-degree life corrected for the core's rise over the rated one, hours.

    At a rise of 40 K and above the published term has no value; nothing is left then: 0 h.
    """
    ratio = 1.0 if c.ripple_ratio is None else c.ripple_ratio
    rise = c.rise_at_rated_K * ratio**2
    if rise >= _RISE_LIMIT_K:
        return 0.0
    gain = _wear_of_rise(c.rise_at_rated_K) - _wear_of_rise(rise)
    return float(ten_degree(c) * 2.0 ** max(gain, -1000.0))


def voltage_factor(ratio: float) -> float:
    """Return KV of the three-factor model: (U/U0)^−2.5, and 3.59 below 0.6."""
    return 3.59 if ratio < 0.6 else float(ratio**-2.5)  # noqa: PLR2004 - the published limit of validity


def ripple_factor(ratio: float, rated_temp_C: float, rise_at_rated_K: float) -> float:
    """Return KR = Ki^(A · r0/10), A = 1 − (I/I0)²; Ki is 4 for 105 °C parts beyond their ripple rating, else 2."""
    base = 4.0 if ratio > 1 and rated_temp_C >= _HOT_TYPES_C else 2.0
    exponent = (1.0 - ratio**2) * rise_at_rated_K / 10.0
    return float(base ** max(exponent, -500.0))


def three_factor(c: Conditions) -> float:
    """Return L0 · KT · KR · KV, hours; a factor whose ratio isn't stated is 1."""
    hours = ten_degree(c)
    if c.ripple_ratio is not None:
        hours *= ripple_factor(c.ripple_ratio, c.rated_temp_C, c.rise_at_rated_K)
    if c.voltage_ratio is not None:
        hours *= voltage_factor(c.voltage_ratio)
    return hours


def core_voltage(c: Conditions) -> float:
    """Return L0 · Mv · 2^((Tm − Tc)/10), hours, with Mv = 4.3 − 3.3 · U/U0 (0 where that is negative).

    Tm is the rated temperature and Tc the ambient one, each with the core's rise at that ripple.
    """
    ratio = 1.0 if c.ripple_ratio is None else c.ripple_ratio
    volts = 1.0 if c.voltage_ratio is None else c.voltage_ratio
    core_C = c.ambient_C + c.rise_at_rated_K * ratio**2
    room_K = c.rated_temp_C + c.rise_at_rated_K - core_C
    return c.rated_life_h * max(4.3 - 3.3 * volts, 0.0) * _doublings(max(room_K, -5000.0))


MODELS: dict[str, Model] = {
    model.name: model
    for model in (
        Model(
            "ten-degree",
            "ten-degree law: temperature alone",
            "L0 · 2^((T0 − Ta)/10)",
            Citation(
                "published", "Cosel FAQ a0057 and TDK power-supply FAQ 1433021523341: life doubles every 10 K less"
            ),
            ten_degree,
            lambda _: True,
            "nothing more",
        ),
        Model(
            "core-rise",
            "temperature and the core's heating by ripple",
            "L0 · 2^((T0 − Ta)/10) · 2^(r0/(10 − r0/4) − r/(10 − r/4)), r = r0 · (I/I0)²",
            Citation(
                "published",
                "Rubycon Engineering Division, Lifetime calculation formula of aluminum electrolytic capacitors",
            ),
            core_rise,
            lambda c: c.ripple_ratio is not None,
            "the ripple current and its rating",
        ),
        Model(
            "three-factor",
            "temperature, ripple and working voltage",
            "L0 · 2^((T0 − Ta)/10) · Ki^((1 − (I/I0)²) · r0/10) · (U/U0)^−2.5",
            Citation(
                "published",
                "Albertsen, Electrolytic Capacitor Lifetime Estimation, Jianghai Europe, 2018-09-18, "
                "read as restated by others; the voltage factor differs between products",
            ),
            three_factor,
            lambda c: c.ripple_ratio is not None or c.voltage_ratio is not None,
            "the ripple current or the working voltage, with its rating",
        ),
        Model(
            "core-voltage",
            "core temperature and working voltage",
            "L0 · (4.3 − 3.3 · U/U0) · 2^((Tm − Tc)/10)",
            Citation(
                "from memory",
                "Cornell Dubilier, application guide for aluminum electrolytic capacitors; that life falls "
                "in a line with voltage was read in DigiKey TechForum 45517, after Parler and Macomber",
            ),
            core_voltage,
            lambda c: c.voltage_ratio is not None,
            "the working voltage and its rating",
        ),
    )
}
"""Every model by its name, in the order in which they are shown."""


def estimate(
    rated_life_h: Number,
    rated_temp_C: Number,
    ambient_C: Number,
    *,
    ripple_ratio: Number | None = None,
    voltage_ratio: Number | None = None,
    model: str = CAUTIOUS,
    rise_at_rated_K: Number = RISE_AT_RATED_K,
) -> LifeEstimate:
    """Return the life by ``model``, or by the applicable model that gives the fewest hours (``cautious``).

    Ratios are actual / rated (ripple at the frequency of its rating). Raises ValueError for values
    that mean nothing (life ≤ 0, a negative ratio), an unknown model, or one whose inputs aren't stated.
    """
    conditions = Conditions(
        float(rated_life_h),
        float(rated_temp_C),
        float(ambient_C),
        None if ripple_ratio is None else float(ripple_ratio),
        None if voltage_ratio is None else float(voltage_ratio),
        float(rise_at_rated_K),
    )
    _check(conditions)
    considered = tuple((m.name, m.hours(conditions)) for m in MODELS.values() if m.applies(conditions))
    chosen, hours = _choose(model, considered)
    return LifeEstimate(
        hours=min(hours, float(CAP_H)),
        formula_hours=hours,
        model=chosen.name,
        formula=chosen.formula,
        inputs=_inputs(conditions, model),
        source=chosen.source,
        remarks=tuple(_remarks(conditions, hours)),
        considered=considered,
    )


def _check(c: Conditions) -> None:
    if c.rated_life_h <= 0:
        raise ValueError(f"the rated life must be above 0 h, not {c.rated_life_h:g} h")
    if not 0 < c.rise_at_rated_K < _RISE_LIMIT_K:
        raise ValueError(
            f"the core's rise at the rated ripple must be above 0 K and below 40 K, not {c.rise_at_rated_K:g} K"
        )
    for name, ratio in (("ripple", c.ripple_ratio), ("voltage", c.voltage_ratio)):
        if ratio is not None and not 0 <= ratio <= 1000:  # noqa: PLR2004 - keeps the powers finite
            raise ValueError(f"a {name} of {ratio:g} times its rating has no meaning here")
    for temperature in (c.rated_temp_C, c.ambient_C):
        if not -273.15 <= temperature <= 1000:  # noqa: PLR2004 - absolute zero; nothing of this trade is hotter
            raise ValueError(f"{temperature:g} °C is no temperature a part could have")


def _choose(name: str, considered: tuple[tuple[str, float], ...]) -> tuple[Model, float]:
    if name == CAUTIOUS:
        least = min(considered, key=lambda pair: pair[1])
        return MODELS[least[0]], least[1]
    if name not in MODELS:
        raise ValueError(f"no life model is called {name!r}; there are: {', '.join((CAUTIOUS, *MODELS))}")
    hours = dict(considered).get(name)
    if hours is None:
        raise ValueError(f"the model {name} needs {MODELS[name].needs}")
    return MODELS[name], hours


def _inputs(c: Conditions, asked: str) -> dict[str, float | str | None]:
    return {
        "rated_life_h": c.rated_life_h,
        "rated_temp_C": c.rated_temp_C,
        "ambient_C": c.ambient_C,
        "ripple_ratio": c.ripple_ratio,
        "voltage_ratio": c.voltage_ratio,
        "rise_at_rated_K": c.rise_at_rated_K,
        "asked": asked,
    }


def _remarks(c: Conditions, hours: float) -> list[str]:
    told = []
    if c.ambient_C > c.rated_temp_C:
        told.append(f"{c.ambient_C:g} °C is above the rated {c.rated_temp_C:g} °C: not permitted, whatever it gives")
    if c.ripple_ratio is not None and c.ripple_ratio > 1:
        told.append(f"ripple is {c.ripple_ratio:.2f}× its rating: makers give no life for that at full temperature")
    if c.voltage_ratio is not None and c.voltage_ratio > 1:
        told.append(f"working voltage is {c.voltage_ratio:.2f}× the rating: not permitted, whatever the hours say")
    if c.ripple_ratio is None:
        told.append("working ripple or the part's ripple rating not stated: taken as no more than the rating")
    if c.ambient_C < RANGE_LOW_C:
        told.append("below 40 °C makers' calculators claim no further gain; take the 40 °C figure as the sure one")
    if hours > CAP_H:
        told.append(_cap_remark(hours))
    return told


def _cap_remark(hours: float) -> str:
    return f"the formula gives {hours:,.0f} h; makers stand for 15 years ({CAP_H:,} h) at most, so that is shown"


def mixed(
    duties: Sequence[Duty],
    rated_life_h: Number,
    rated_temp_C: Number,
    *,
    ripple_ratio: Number | None = None,
    voltage_ratio: Number | None = None,
    model: str = CAUTIOUS,
    rise_at_rated_K: Number = RISE_AT_RATED_K,
) -> MixedEstimate:
    """Return the life over duties that repeat: L = Σh / Σ(h/L), the hours-weighted harmonic mean.

    ``equivalent_ambient_C`` is the steady temperature that gives the same life by the ten-degree
    law (of the life at the first duty's temperature). Source: Cosel FAQ a0057. Raises ValueError
    without a duty of more than 0 h, and as :func:`estimate` does.
    """
    used = [d for d in duties if d.hours > 0]
    if not used or any(d.hours < 0 for d in duties):
        raise ValueError("mixed duty needs hours above 0 at each temperature")
    single = [
        estimate(
            rated_life_h,
            rated_temp_C,
            d.ambient_C,
            ripple_ratio=ripple_ratio,
            voltage_ratio=voltage_ratio,
            model=model,
            rise_at_rated_K=rise_at_rated_K,
        )
        for d in used
    ]
    parts = tuple((d, s.formula_hours) for d, s in zip(used, single, strict=True))
    worn_out = any(hours == 0 for _, hours in parts)
    total = 0.0 if worn_out else fsum(d.hours for d in used) / fsum(d.hours / h for d, h in parts)
    hottest = max(zip(used, single, strict=True), key=lambda pair: pair[0].ambient_C)[1]
    remarks = dict.fromkeys(r for s in single for r in s.remarks if r != _cap_remark(s.formula_hours))
    if total > CAP_H:
        remarks[_cap_remark(total)] = None
    combined = LifeEstimate(
        hours=min(total, float(CAP_H)),
        formula_hours=total,
        model=hottest.model,
        formula=f"Σh / Σ(h/L), L = {hottest.formula}",
        inputs={**hottest.inputs, "ambient_C": None},
        source=Citation("published", f"Cosel FAQ a0057 (mixed duty); {hottest.source.text}"),
        remarks=tuple(remarks),
    )
    first_duty, first_hours = parts[0]
    steady = None if worn_out else first_duty.ambient_C - 10.0 * log2(total / first_hours)
    return MixedEstimate(combined, parts, steady)
