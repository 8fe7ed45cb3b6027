"""Old stock: how long a part has lain, whether to re-form it, and with what numbers.

The oxide of an aluminium electrolytic thins without voltage; putting the rated voltage on through a
resistor builds it up again. Other kinds need none of this.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum
from typing import TYPE_CHECKING, Final

from recap.match import ratings
from recap.model import Citation, Kind

if TYPE_CHECKING:
    from datetime import date

DAYS_PER_YEAR: Final = Decimal("365.25")
USABLE_YEARS: Final = Decimal(2)
USABLE_SOURCE: Final = Citation(
    "published",
    "Nichicon, as quoted: stored up to two years at 5-35 °C needs no treatment, longer needs voltage treatment; "
    "KEMET A4035 (PEH169) allows over three years at 40 °C",
)
REPLACE_YEARS: Final = Decimal(10)
REPLACE_SOURCE: Final = Citation(
    "common practice", "a part older than ten years is not fitted where another can be had"
)

LOW_VOLTAGE_V: Final = Decimal(100)
LOW_RESISTOR_OHM: Final = Decimal(100)
HIGH_RESISTOR_OHM: Final = Decimal(1000)
FORMING_HOURS: Final = Decimal(1)
REST_HOURS: Final = (Decimal(12), Decimal(48))
OHM_PER_VOLT: Final = Decimal(1)
PROCEDURE_SOURCE: Final = Citation(
    "published",
    "EIA-815 (1999), the pre-conditioning of IEC 60384-4 likewise: rated voltage through 100 Ω (to 100 V) or 1000 Ω "
    "(above) for one hour, discharge through about 1 Ω for each volt, rest 12 to 48 h",
)
CURRENT_SOURCE: Final = Citation(
    "published", "KEMET A4035 (PEH169), page 5: charging current at most twice the leakage limit or 5 mA, the greater"
)
LEAST_CURRENT_MA: Final = Decimal(5)

FORMED_KINDS: Final = frozenset({Kind.ELECTROLYTIC, Kind.BIPOLAR, Kind.UNKNOWN})
"""Kinds that age without voltage; unknown counts as one of them."""


class Shelf(StrEnum):
    """What a part's age calls for."""

    USABLE = "usable"
    REFORM = "re-form"
    REPLACE = "replace"
    UNKNOWN = "unknown"
    NO_FORMING = "no forming needed"


@dataclass(frozen=True, slots=True)
class Procedure:
    """The numbers of re-forming one part: Ω, V, mA, hours. ``peak_W`` is the resistor's load at the first moment."""

    volts: Decimal
    resistor_ohm: Decimal
    current_limit_mA: Decimal
    leakage_limit_uA: Decimal
    hours: Decimal
    peak_W: Decimal
    discharge_ohm: Decimal
    rest_h: tuple[Decimal, Decimal]
    sources: tuple[Citation, ...] = (PROCEDURE_SOURCE, CURRENT_SOURCE)


@dataclass(frozen=True, slots=True)
class ShelfVerdict:
    """What to do with a part that has lain for ``years`` (None: nobody knows how long)."""

    years: Decimal | None
    verdict: Shelf
    reason: str
    source: Citation
    procedure: Procedure | None = None


def age_years(made: date, today: date) -> Decimal:
    """Return years from one day to another, to a tenth; negative where ``made`` lies ahead."""
    return round(Decimal((today - made).days) / DAYS_PER_YEAR, 1)


def procedure(value_uF: Decimal, rated_V: Decimal) -> Procedure:
    """Return the numbers for re-forming. Raises ValueError unless both are above 0."""
    if value_uF <= 0 or rated_V <= 0:
        raise ValueError("capacitance and voltage must be above 0")
    resistor = LOW_RESISTOR_OHM if rated_V <= LOW_VOLTAGE_V else HIGH_RESISTOR_OHM
    leakage = ratings.leakage_limit(value_uF, rated_V)
    return Procedure(
        volts=rated_V,
        resistor_ohm=resistor,
        current_limit_mA=current_limit(leakage),
        leakage_limit_uA=leakage,
        hours=FORMING_HOURS,
        peak_W=rated_V**2 / resistor,
        discharge_ohm=rated_V * OHM_PER_VOLT,
        rest_h=REST_HOURS,
    )


def current_limit(leakage_limit_uA: Decimal) -> Decimal:
    """Return the most that may flow while re-forming, mA: twice the leakage limit or 5 mA, the greater."""
    return max(2 * leakage_limit_uA / 1000, LEAST_CURRENT_MA)


def judge_shelf(
    years: Decimal | None,
    *,
    kind: Kind = Kind.ELECTROLYTIC,
    value_uF: Decimal | None = None,
    rated_V: Decimal | None = None,
    replace_years: Decimal = REPLACE_YEARS,
) -> ShelfVerdict:
    """Judge a part by its age; with value and voltage the re-forming numbers come along.

    A boundary belongs to the kinder side: two years are usable still. Raises ValueError for an age below 0.
    """
    if kind not in FORMED_KINDS:
        return ShelfVerdict(
            years,
            Shelf.NO_FORMING,
            f"{kind} parts don't lose their dielectric in store",
            Citation("common practice", "re-forming is for aluminium oxide electrolytics"),
        )
    steps = procedure(value_uF, rated_V) if value_uF is not None and rated_V is not None else None
    if years is None:
        reason = "neither date code nor purchase date: treat it as old and re-form it"
        return ShelfVerdict(None, Shelf.UNKNOWN, reason, USABLE_SOURCE, steps)
    if years < 0:
        raise ValueError(f"an age of {years} years lies in the future")
    if years <= USABLE_YEARS:
        return ShelfVerdict(years, Shelf.USABLE, f"{years} years in store: fit it as it is", USABLE_SOURCE)
    if years <= replace_years:
        reason = (
            f"{years} years in store, more than {USABLE_YEARS}: re-form it, then measure capacitance, ESR and leakage"
        )
        return ShelfVerdict(years, Shelf.REFORM, reason, USABLE_SOURCE, steps)
    reason = (
        f"{years} years in store, more than {replace_years}: buy new; re-form it only where nothing else is to be had"
    )
    return ShelfVerdict(years, Shelf.REPLACE, reason, REPLACE_SOURCE, steps)
