"""Is a measured capacitor good, tired or bad? Against what a new part shows and what wear the standards allow.

Good: within what a new part, or one that passed the endurance test, may show. Tired: beyond that but
within useful life. Bad: beyond useful life. Where nothing decides it is said, never guessed good.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Context, Decimal
from enum import StrEnum
from typing import Final

from recap.match import ratings
from recap.match.esr import LOW_FREQUENCIES, TEST_HZ, new_part, tan_delta_of
from recap.model import Citation, Mount
from recap.normalise.values import figures

PERCENT: Final = Decimal(100)
_ENOUGH: Final = Context(prec=12)
USUAL_TOLERANCE: Final = (Decimal(20), Decimal(20))


class Condition(StrEnum):
    """What a measurement says of a part."""

    GOOD = "good"
    TIRED = "tired"
    BAD = "bad"
    UNDECIDED = "undecided"

    @property
    def rank(self) -> int:
        """Order by how much it matters: bad over tired over undecided over good."""
        return (Condition.GOOD, Condition.UNDECIDED, Condition.TIRED, Condition.BAD).index(self)


@dataclass(frozen=True, slots=True)
class Wear:
    """How far a part may drift, by rated voltage: percent of capacitance down and up, from ``above_V`` on."""

    above_V: Decimal
    endurance: tuple[Decimal, Decimal]
    useful: tuple[Decimal, Decimal]


WEAR: Final = (
    Wear(Decimal(0), (Decimal(30), Decimal(15)), (Decimal(50), Decimal(45))),
    Wear(Decimal("6.3"), (Decimal(15), Decimal(15)), (Decimal(45), Decimal(45))),
    Wear(Decimal(100), (Decimal(10), Decimal(10)), (Decimal(30), Decimal(30))),
)
ENDURANCE_FACTOR: Final = Decimal("1.3")
IMPEDANCE_FACTOR: Final = Decimal(2)
USEFUL_FACTOR: Final = Decimal(3)

CAPACITANCE_SOURCE: Final = Citation(
    "published",
    "IEC 60384-4, 4.13 (endurance: +15/−30 % to 6.3 V, ±15 % to 100 V, ±10 % above) and CECC 30301, 1.8.1 "
    "(useful life: +45/−50 %, ±45 %, ±30 %), as printed in Vishay 28318, 28327, 28340; usual tolerance ±20 %",
)
ESR_SOURCE: Final = Citation(
    "published",
    "ESR or tan δ ≤ 1.3 × the limit after endurance (IEC 60384-4, 4.13), ≤ 3 × in useful life (CECC 30301, 1.8.1), "
    "as printed in Vishay 28318, 28340",
)
IMPEDANCE_SOURCE: Final = Citation(
    "published",
    "impedance ≤ 2 × the limit after endurance (IEC 60384-4, 4.13), ≤ 3 × in useful life (CECC 30301, 1.8.1), "
    "as printed in Vishay 28318, 28340",
)


@dataclass(frozen=True, slots=True)
class Measured:
    """What was measured (None: was not). ESR in ohm at ``frequency_Hz``, leakage in µA at the rated voltage."""

    value_uF: Decimal | None = None
    esr_ohm: Decimal | None = None
    tan_delta: Decimal | None = None
    leakage_uA: Decimal | None = None
    frequency_Hz: Decimal = TEST_HZ


@dataclass(frozen=True, slots=True)
class Rated:
    """What the part is marked with; ``was_uF`` is its capacitance when new, if known.

    ``tolerance`` is percent down and up. ``impedance_ohm`` is the sheet's at 100 kHz.
    """

    value_uF: Decimal
    volts: Decimal
    mount: Mount | None = None
    tolerance: tuple[Decimal, Decimal] = USUAL_TOLERANCE
    was_uF: Decimal | None = None
    impedance_ohm: Decimal | None = None


@dataclass(frozen=True, slots=True)
class Assessment:
    """One quantity judged. ``good_to`` and ``bad_from`` are the limits on the side where the part lies."""

    quantity: str
    measured: Decimal
    unit: str
    condition: Condition
    reason: str
    source: Citation
    new: Decimal | None = None
    good_to: Decimal | None = None
    bad_from: Decimal | None = None


def assess(rated: Rated, measured: Measured) -> tuple[Assessment, ...]:
    """Judge whatever was measured, each quantity by itself; the worst is the part's condition.

    Raises ValueError for values that no part can have.
    """
    if rated.value_uF <= 0 or rated.volts <= 0 or (rated.was_uF is not None and rated.was_uF <= 0):
        raise ValueError("the rated capacitance and voltage must be above 0")
    for name, value in (
        ("capacitance", measured.value_uF),
        ("ESR", measured.esr_ohm),
        ("tan δ", measured.tan_delta),
        ("leakage", measured.leakage_uA),
    ):
        if value is not None and value < 0:
            raise ValueError(f"a measured {name} below 0 can't be: {value}")
    if measured.frequency_Hz <= 0:
        raise ValueError("the test frequency must be above 0 Hz")
    found = (
        _capacitance(rated, measured),
        _series_resistance(rated, measured),
        _loss_factor(rated, measured),
        _leakage(rated, measured),
    )
    return tuple(a for a in found if a is not None)


def overall(assessments: tuple[Assessment, ...]) -> Condition:
    """Return the worst of them; undecided where there is none."""
    return max((a.condition for a in assessments), key=lambda c: c.rank, default=Condition.UNDECIDED)


def wear_for(rated_V: Decimal) -> Wear:
    """Return the drift limits that hold for a rating."""
    return max((w for w in WEAR if rated_V > w.above_V), key=lambda w: w.above_V)


def _capacitance(rated: Rated, measured: Measured) -> Assessment | None:
    value = measured.value_uF
    if value is None:
        return None
    wear = wear_for(rated.volts)
    base = rated.value_uF if rated.was_uF is None else rated.was_uF
    good = rated.tolerance if rated.was_uF is None else wear.endurance
    side = 0 if value < base else 1
    useful = max(wear.useful[side], good[side])
    drift = (_times(value, base) - 1) * PERCENT
    condition = _grade(abs(drift), good[side], useful)
    against = "its marking" if rated.was_uF is None else "its value when new"
    reason = (
        f"{drift:+.0f} % against {against}; good to {'−+'[side]}{good[side]} %, worn out beyond {'−+'[side]}{useful} %"
    )
    if side and condition is not Condition.GOOD:
        reason += "; reading high usually means leakage, or an old part with a wide plus tolerance: measure its leakage"
    sign = 1 if side else -1
    return Assessment(
        "capacitance",
        value,
        "µF",
        condition,
        reason,
        CAPACITANCE_SOURCE,
        base,
        base * (1 + sign * good[side] / PERCENT),
        base * (1 + sign * useful / PERCENT),
    )


def _times(value: Decimal, base: Decimal) -> Decimal:
    """Return the ratio to twelve figures: a limit met exactly must not fail by the last digit of π."""
    return _ENOUGH.divide(value, base)


def _grade(value: Decimal, good_to: Decimal, useful_to: Decimal) -> Condition:
    if value <= good_to:
        return Condition.GOOD
    return Condition.TIRED if value <= useful_to else Condition.BAD


def _series_resistance(rated: Rated, measured: Measured) -> Assessment | None:
    esr = measured.esr_ohm
    if esr is None:
        return None
    low, high = LOW_FREQUENCIES
    if measured.frequency_Hz > high and rated.impedance_ohm is not None:
        return _impedance(esr, rated.impedance_ohm)
    if not low <= measured.frequency_Hz <= high:
        return _esr_at_high_frequency(rated, measured, esr)
    limit = new_part(rated.value_uF, rated.volts, mount=rated.mount, frequency_Hz=measured.frequency_Hz)
    times = _times(esr, limit.esr_ohm)
    return Assessment(
        "ESR",
        esr,
        "Ω",
        _grade(times, ENDURANCE_FACTOR, USEFUL_FACTOR),
        f"{times:.2f} × what a new general-purpose part may show at {measured.frequency_Hz:f} Hz "
        f"({figures(limit.esr_ohm, 3)} Ω from tan δ {limit.tan_delta:.3g}); good to 1.3 ×, worn out beyond 3 ×",
        _with(ESR_SOURCE, limit.limits.source),
        limit.esr_ohm,
        limit.esr_ohm * ENDURANCE_FACTOR,
        limit.esr_ohm * USEFUL_FACTOR,
    )


def _impedance(esr: Decimal, rated_ohm: Decimal) -> Assessment:
    if rated_ohm <= 0:
        raise ValueError("the rated impedance must be above 0 Ω")
    times = _times(esr, rated_ohm)
    return Assessment(
        "ESR",
        esr,
        "Ω",
        _grade(times, IMPEDANCE_FACTOR, USEFUL_FACTOR),
        f"{times:.2f} × the sheet's impedance; good to 2 ×, worn out beyond 3 ×",
        IMPEDANCE_SOURCE,
        rated_ohm,
        rated_ohm * IMPEDANCE_FACTOR,
        rated_ohm * USEFUL_FACTOR,
    )


def _esr_at_high_frequency(rated: Rated, measured: Measured, esr: Decimal) -> Assessment:
    """Judge one-sidedly: ESR falls with frequency, so what is too much at 120 Hz is too much higher up."""
    limit = new_part(rated.value_uF, rated.volts, mount=rated.mount).esr_ohm
    if measured.frequency_Hz < LOW_FREQUENCIES[0]:
        condition, said = Condition.UNDECIDED, "measure at 100 or 120 Hz"
    elif _times(esr, limit) > USEFUL_FACTOR:
        condition, said = Condition.BAD, f"above even 3 × the 120 Hz limit of a new part ({figures(limit, 3)} Ω)"
    elif _times(esr, limit) > ENDURANCE_FACTOR:
        condition, said = Condition.TIRED, f"above even 1.3 × the 120 Hz limit of a new part ({figures(limit, 3)} Ω)"
    else:
        condition = Condition.UNDECIDED
        said = "no low-frequency limit can show it good; give the sheet's impedance, or compare with a like new part"
    return Assessment(
        "ESR",
        esr,
        "Ω",
        condition,
        f"measured at {measured.frequency_Hz:f} Hz: {said}",
        Citation("common practice", "an electrolytic's ESR does not rise with frequency; limits at 120 Hz from tan δ"),
    )


def _loss_factor(rated: Rated, measured: Measured) -> Assessment | None:
    low, high = LOW_FREQUENCIES
    tan_delta = measured.tan_delta
    if tan_delta is None:
        return None
    limit = new_part(rated.value_uF, rated.volts, mount=rated.mount)
    if not low <= measured.frequency_Hz <= high:
        return Assessment(
            "tan δ",
            tan_delta,
            "",
            Condition.UNDECIDED,
            f"measured at {measured.frequency_Hz:f} Hz; the limits hold at 100 or 120 Hz",
            limit.limits.source,
        )
    times = _times(tan_delta, limit.tan_delta)
    return Assessment(
        "tan δ",
        tan_delta,
        "",
        _grade(times, ENDURANCE_FACTOR, USEFUL_FACTOR),
        f"{times:.2f} × a new part's limit {limit.tan_delta:.3g}; good to 1.3 ×, worn out beyond 3 ×",
        _with(ESR_SOURCE, limit.limits.source),
        limit.tan_delta,
        limit.tan_delta * ENDURANCE_FACTOR,
        limit.tan_delta * USEFUL_FACTOR,
    )


def _leakage(rated: Rated, measured: Measured) -> Assessment | None:
    leakage = measured.leakage_uA
    if leakage is None:
        return None
    limit = ratings.leakage_limit(rated.value_uF, rated.volts)
    condition = Condition.GOOD if leakage <= limit else Condition.BAD
    reason = f"a good part leaks at most {figures(limit, 4)} µA after two minutes at {rated.volts:f} V"
    if condition is Condition.BAD:
        reason += "; a part long in store may recover: re-form it once, then measure again"
    source = ratings.leakage_rule(rated.volts).source
    return Assessment("leakage", leakage, "µA", condition, reason, source, limit, limit, limit)


def _with(first: Citation, second: Citation) -> Citation:
    return Citation(first.kind, f"{first.text}; {second.text}")


def measured_loss(measured: Measured) -> Decimal | None:
    """Return tan δ from measured ESR and capacitance at the measuring frequency, where both are known."""
    if measured.esr_ohm is None or measured.value_uF is None:
        return None
    return tan_delta_of(measured.esr_ohm, measured.value_uF, measured.frequency_Hz)
