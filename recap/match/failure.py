"""Failure rates of aluminium electrolytics by MIL-HDBK-217F, its base edition and its Notice 2 apart.

The two differ twentyfold for the same part, so every name here states its edition. The handbook's
rates are for comparing positions, not for foretelling a set's life. T in °C, C in µF, rates per 10^6 h;
stress S = (V_DC + √2 · V_AC,rms) / rated voltage.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from math import exp, expm1, sqrt
from typing import TYPE_CHECKING, Final

from recap.model import Citation

if TYPE_CHECKING:
    from collections.abc import Mapping

KELVIN: Final = 273.0
"""The handbook adds 273, not 273.15."""


class Edition(StrEnum):
    """Which text of the handbook."""

    BASE = "base edition"
    NOTICE_2 = "Notice 2"


class Style(StrEnum):
    """The handbook's two aluminium styles."""

    WET = "CU"
    DRY = "CE"


ENVIRONMENTS: Final = ("GB", "GF", "GM", "NS", "NU", "AIC", "AIF", "AUC", "AUF", "ARW", "SF", "MF", "ML", "CL")
"""Ground benign, fixed, mobile; naval sheltered, unsheltered; airborne ...; space; missile; cannon."""

PI_E: Final[Mapping[Edition, Mapping[str, float]]] = {
    Edition.BASE: dict(
        zip(ENVIRONMENTS, (1, 2, 12, 6, 17, 10, 12, 28, 35, 27, 0.5, 14, 38, 690), strict=True),
    ),
    Edition.NOTICE_2: dict(
        zip(ENVIRONMENTS, (1, 10, 20, 7, 15, 12, 15, 25, 30, 40, 0.5, 20, 50, 570), strict=True),
    ),
}

PI_Q: Final[Mapping[Edition, Mapping[str, float]]] = {
    Edition.BASE: {"S": 0.03, "R": 0.1, "P": 0.3, "M": 1.0, "non-ER": 3.0, "commercial": 10.0},
    Edition.NOTICE_2: {
        "D": 0.001,
        "C": 0.01,
        "S": 0.03,
        "B": 0.03,
        "R": 0.1,
        "P": 0.3,
        "M": 1.0,
        "L": 1.5,
        "non-ER": 3.0,
        "commercial": 10.0,
    },
}
"""Quality; ``commercial`` is the handbook's last row (base edition: "lower")."""

SOURCES: Final[Mapping[Edition, Citation]] = {
    Edition.BASE: Citation(
        "published",
        "MIL-HDBK-217F, base edition, sections 10.14 and 10.15, checked against its parts-count table",
    ),
    Edition.NOTICE_2: Citation(
        "published", "MIL-HDBK-217F Notice 2, 28 February 1995, section 10.1, pages 10-1 to 10-6"
    ),
}

_BOLTZMANN_EV: Final = 8.617e-5
_ACTIVATION_EV: Final = 0.35
_REFERENCE_K: Final = 298.0
_WET_REFERENCE_K: Final = {85: 358.0, 105: 378.0, 125: 398.0}


@dataclass(frozen=True, slots=True)
class FailureRate:
    """Failures per 10^6 h and the factors that make it up, by the handbook's names."""

    per_million_h: float
    factors: Mapping[str, float]
    edition: Edition
    source: Citation

    def chance(self, hours: float, pieces: int = 1) -> float:
        """Return the chance, 0 to 1, that at least one of so many pieces fails in so many hours."""
        return -expm1(-self.per_million_h * 1e-6 * hours * pieces)


def stress(dc_V: float, rated_V: float, ac_rms_V: float = 0.0) -> float:
    """Return S. Raises ValueError where the rating is not above 0 or a voltage is below 0."""
    if rated_V <= 0 or dc_V < 0 or ac_rms_V < 0:
        raise ValueError("the rating must be above 0 V and the working voltages not below 0 V")
    return (dc_V + sqrt(2) * ac_rms_V) / rated_V


def base_edition(
    value_uF: float,
    stress_ratio: float,
    temp_C: float,
    *,
    style: Style = Style.DRY,
    rated_temp_C: int = 85,
    quality: str = "commercial",
    environment: str = "GB",
) -> FailureRate:
    """Return the rate by the base edition: λb · πCV · πQ · πE (10.15 dry CE, 10.14 wet CU).

    ``rated_temp_C`` (85, 105 or 125) counts only for the wet style; the dry one is an 85 °C part.
    Raises ValueError for what the tables don't have.
    """
    quality_factor, environment_factor = _tables(Edition.BASE, quality, environment, value_uF, stress_ratio)
    kelvin = temp_C + KELVIN
    if style is Style.DRY:
        base = 0.0028 * ((stress_ratio / 0.55) ** 3 + 1) * exp(4.09 * (kelvin / 358.0) ** 5.9)
        size = 0.32 * value_uF**0.19
    else:
        if rated_temp_C not in _WET_REFERENCE_K:
            raise ValueError(f"the base edition has wet parts of 85, 105 and 125 °C, not {rated_temp_C} °C")
        base = 0.00254 * ((stress_ratio / 0.5) ** 3 + 1) * exp(5.09 * (kelvin / _WET_REFERENCE_K[rated_temp_C]) ** 5)
        size = 0.34 * value_uF**0.18
    factors = {"λb": base, "πCV": size, "πQ": quality_factor, "πE": environment_factor}
    return _product(factors, Edition.BASE)


def notice_2(
    value_uF: float, stress_ratio: float, temp_C: float, *, quality: str = "commercial", environment: str = "GB"
) -> FailureRate:
    """Return the rate by Notice 2: λb · πT · πC · πV · πSR · πQ · πE; the same for CU, CUR and CE.

    Raises ValueError for what the tables don't have.
    """
    quality_factor, environment_factor = _tables(Edition.NOTICE_2, quality, environment, value_uF, stress_ratio)
    factors = {
        "λb": 0.00012,
        "πT": exp(-_ACTIVATION_EV / _BOLTZMANN_EV * (1 / (temp_C + KELVIN) - 1 / _REFERENCE_K)),
        "πC": value_uF**0.23,
        "πV": (stress_ratio / 0.6) ** 5 + 1,
        "πSR": 1.0,
        "πQ": quality_factor,
        "πE": environment_factor,
    }
    return _product(factors, Edition.NOTICE_2)


def rate(
    edition: Edition,
    value_uF: float,
    stress_ratio: float,
    temp_C: float,
    *,
    quality: str = "commercial",
    environment: str = "GB",
) -> FailureRate:
    """Return the rate of a dry aluminium part by the edition asked for."""
    if edition is Edition.BASE:
        return base_edition(value_uF, stress_ratio, temp_C, quality=quality, environment=environment)
    return notice_2(value_uF, stress_ratio, temp_C, quality=quality, environment=environment)


def _tables(
    edition: Edition, quality: str, environment: str, value_uF: float, stress_ratio: float
) -> tuple[float, float]:
    if value_uF <= 0 or stress_ratio < 0:
        raise ValueError("the capacitance must be above 0 and the stress not below 0")
    if quality not in PI_Q[edition]:
        raise ValueError(f"the {edition} has no quality {quality!r}; it has: {', '.join(PI_Q[edition])}")
    if environment not in PI_E[edition]:
        raise ValueError(f"no environment {environment!r}; there are: {', '.join(ENVIRONMENTS)}")
    return PI_Q[edition][quality], PI_E[edition][environment]


def _product(factors: Mapping[str, float], edition: Edition) -> FailureRate:
    total = 1.0
    for factor in factors.values():
        total *= factor
    return FailureRate(total, factors, edition, SOURCES[edition])
