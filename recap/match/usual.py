"""Parts of the usual values and ratings, for reckoning where no catalogue is asked."""

from __future__ import annotations

from decimal import Decimal
from typing import TYPE_CHECKING, Final

from recap.match.obsolete import RATED_V
from recap.model import Kind, Limits, Part
from recap.normalise.preferred import E6
from recap.normalise.values import format_capacitance, format_voltage

if TYPE_CHECKING:
    from recap.model import Position

DECADES: Final = range(-1, 5)


def usual_parts(position: Position) -> tuple[Part, ...]:
    """Return E6 values from 0.1 µF to 68,000 µF in every usual rating, of the position's kind and mount.

    For a bipolar position polar ones come along, to be put back to back. They meet the default
    temperature and life; nobody sells them under these names.
    """
    kinds = {position.kind, Kind.ELECTROLYTIC} if position.kind is Kind.BIPOLAR else {position.kind}
    limits = Limits()
    return tuple(
        Part(
            supplier="",
            number=f"{format_capacitance(value)} {format_voltage(rated)} {kind}",
            value_uF=value,
            volts=rated,
            temp_C=max(limits.temp_min, position.temp_C or 0),
            life_h=limits.life_min,
            mount=position.mount,
            kind=kind,
        )
        for kind in sorted(kinds)
        for value in (number.scaleb(decade) for decade in DECADES for number in E6)
        for rated in RATED_V
        if value * rated <= _LARGEST_CV
    )


_LARGEST_CV: Final = Decimal(1_000_000)
"""µF · V beyond which no usual can exists (common practice: 10,000 µF 100 V, 2200 µF 450 V)."""
