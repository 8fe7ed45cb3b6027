"""Joined stand-ins out of a bench's catalogues and drawer, for a group that nothing single serves."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from typing import TYPE_CHECKING, Final

from recap.match.combine import MOST_PIECES, OFFERED, stand_ins
from recap.model import Kind, Role, Verdict

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from recap.match.columns import Offers
    from recap.match.combine import Combination
    from recap.model import DrawerPart, Limits, Part, Position

PER_VALUE: Final = 50
"""Offers looked at for each capacitance: enough to find a cheap one, few enough for a million rows."""
_LEAST_SHARE: Final = Decimal("0.02")


def joined_offers(
    position: Position,
    offers: Offers,
    drawer: Iterable[DrawerPart],
    limits: Limits,
    *,
    most: int = OFFERED,
) -> tuple[Combination, ...]:
    """Return what can be joined of these offers and drawer parts for one place, all of it "with care".

    Of each capacitance at most :data:`PER_VALUE` offers are looked at, those the rules accept as pieces.
    """
    if position.value_uF is None or position.safety or position.kind is Kind.SAFETY or position.role is Role.DEFLECTION:
        return ()
    pieces = [lying.part for lying in drawer]
    seen: set[int] = set()
    for asked, smallest, largest in _pieces_asked(position):
        pieces += _offered(asked, offers, _wide(limits, smallest, largest), seen)
    return stand_ins(position, pieces, limits, most=most)


def _pieces_asked(position: Position) -> Iterator[tuple[Position, Decimal, Decimal]]:
    """Return what a piece is asked for in each way of joining, and the least and largest share of the value."""
    free = replace(
        position, role=None, pitch_mm=None, diameter_mm=None, height_mm=None, ripple_mA=None, doubts=(), source=None
    )
    yield free, _LEAST_SHARE, Decimal(1)
    if position.volts is not None and position.kind is Kind.ELECTROLYTIC:
        yield replace(free, volts=None, operating_V=None), Decimal(2), 2 * Decimal(MOST_PIECES)
    if position.kind is Kind.BIPOLAR:
        yield replace(free, kind=Kind.ELECTROLYTIC), Decimal(2), Decimal(4)


def _wide(limits: Limits, smallest: Decimal, largest: Decimal) -> Limits:
    """Return the limits with a capacitance window for pieces instead of whole parts."""
    return replace(limits, capacitance_low=smallest, capacitance_high=largest, capacitance_care=largest)


def _offered(asked: Position, offers: Offers, limits: Limits, seen: set[int]) -> list[Part]:
    if not len(offers):
        return []
    rows = offers.thinned(offers.suiting(asked, limits, Verdict.CARE), PER_VALUE)
    fresh = [row for row in rows.tolist() if row not in seen]
    seen.update(fresh)
    return [offers.part(row) for row in fresh]
