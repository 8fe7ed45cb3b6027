"""Several parts for one place, where nothing single fits: in parallel, in series, back to back.

Always offered "with care", never silently. Each piece is judged by the rules of ``rules.py`` but for
what the joining changes; the joined capacitance is judged like a single part's.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from decimal import ROUND_HALF_EVEN, Context, Decimal
from enum import StrEnum
from typing import TYPE_CHECKING, Final

from recap.match.balancing import Balancing, balance, least_rating
from recap.match.limits import EXACT_ROLES
from recap.match.rules import judge
from recap.model import Citation, Kind, Limits, Role, Verdict
from recap.normalise.writing import format_capacitance as capacitance
from recap.normalise.writing import plain

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from recap.model import Part, Position

MOST_PIECES: Final = 3
OFFERED: Final = 5
_SHOWN: Final = Context(prec=12, rounding=ROUND_HALF_EVEN)
_FIGURES: Final = Context(prec=4, rounding=ROUND_HALF_EVEN)
"""As many as an eye takes in: a third of 100 µF is 33.33 µF."""


class Joining(StrEnum):
    """How the pieces are wired."""

    PARALLEL = "parallel"
    SERIES = "series"
    BACK_TO_BACK = "back to back"


SOURCES: Final = {
    Joining.PARALLEL: Citation("common practice", "capacitances and ripple currents add in parallel"),
    Joining.SERIES: Citation(
        "published",
        "Rubycon technical notes, section 6: voltage parts inversely as capacitance while charging, by leakage after; "
        "distribution resistors or matching within 5 %",
    ),
    Joining.BACK_TO_BACK: Citation("common practice", "two equal polar parts, minus to minus, for one bipolar"),
}


@dataclass(frozen=True, slots=True)
class Combination:
    """Pieces that together stand in for one part. ``cost`` is for one place, in the suppliers' own currency.

    ``volts`` is what the whole may work at; ``ripple_mA`` and ``cost`` are None where a piece doesn't say.
    """

    joining: Joining
    pieces: tuple[tuple[Part, int], ...]
    value_uF: Decimal
    volts: Decimal
    ripple_mA: Decimal | None
    cost: Decimal | None
    reason: str
    cautions: tuple[str, ...]
    source: Citation
    balancing: Balancing | None = None
    verdict: Verdict = Verdict.CARE

    @property
    def count(self) -> int:
        """Pieces for one place."""
        return sum(number for _, number in self.pieces)


def stand_ins(
    position: Position, parts: Iterable[Part], limits: Limits | None = None, *, most: int = OFFERED
) -> tuple[Combination, ...]:
    """Return what can be joined from ``parts`` for one place, fewest pieces and nearest value first.

    Nothing is offered for safety parts, deflection, or a position without value; series only where the
    voltage is stated. A value of a timing position must be met exactly.
    """
    rules = limits or Limits()
    if position.value_uF is None or position.safety or position.kind is Kind.SAFETY:
        return ()
    if position.role is Role.DEFLECTION:
        return ()
    offered = [part for part in parts if part.value_uF and part.volts]
    found = [
        *_parallel(position, offered, rules),
        *_series(position, offered, rules),
        *_back_to_back(position, offered, rules),
    ]
    fitting = (c for c in found if _value_fits(position, c.value_uF, rules))
    return tuple(sorted(fitting, key=lambda c: _order(position, c))[:most])


def _order(position: Position, c: Combination) -> tuple[int, int, Decimal, Decimal, str]:
    wanted = position.value_uF or c.value_uF
    off = abs(_SHOWN.divide(c.value_uF, wanted) - 1)
    rank = list(Joining).index(c.joining)
    return (
        c.count,
        rank,
        off,
        Decimal("Infinity") if c.cost is None else c.cost,
        "+".join(p.number for p, _ in c.pieces),
    )


def _value_fits(position: Position, value_uF: Decimal, limits: Limits) -> bool:
    """Judge the joined value by the single part's own rule; an old value's successor counts as fitting."""
    wanted = position.value_uF
    if wanted is None:
        return False
    if position.role in EXACT_ROLES:
        return value_uF == wanted
    return wanted * limits.capacitance_low <= value_uF <= wanted * limits.capacitance_high


def _piece_asked(position: Position, **changed: object) -> Position:
    """Return what one piece is judged against: the position without what joining changes."""
    free = {"value_uF": None, "pitch_mm": None, "diameter_mm": None, "height_mm": None, "ripple_mA": None}
    return replace(position, **{**free, **changed})  # type: ignore[arg-type]


def _suitable(asked: Position, parts: Iterable[Part], limits: Limits) -> dict[Decimal, Part]:
    """Return for each capacitance the cheapest part that may be a piece; only as many are judged as it takes."""
    best: dict[Decimal, Part] = {}
    for part in sorted(parts, key=_price_order):
        value = _value(part)
        if value not in best and judge(asked, part, limits).verdict is not Verdict.NO:
            best[value] = part
    return best


def _price_order(part: Part) -> tuple[Decimal, Decimal, str]:
    price = _piece_price(part)
    return Decimal("Infinity") if price is None else price, part.volts or Decimal(0), part.number


def _piece_price(part: Part) -> Decimal | None:
    return part.prices[0].unit_price if part.prices else None


def _parallel(position: Position, parts: list[Part], limits: Limits) -> Iterator[Combination]:
    wanted = position.value_uF
    if wanted is None:
        return
    smaller = [p for p in parts if p.value_uF is not None and p.value_uF < wanted]
    best = _suitable(_piece_asked(position), smaller, limits)
    values = sorted(best)
    for value in values:
        for count in range(2, MOST_PIECES + 1):
            yield _joined_parallel(((best[value], count),))
    for at, low in enumerate(values):
        for high in values[at + 1 :]:
            yield _joined_parallel(((best[high], 1), (best[low], 1)))


def _joined_parallel(pieces: tuple[tuple[Part, int], ...]) -> Combination:
    total = sum((_value(p) * n for p, n in pieces), Decimal(0))
    volts = min(p.volts or Decimal(0) for p, _ in pieces)
    names = " + ".join(" + ".join([capacitance(_value(p))] * n) for p, n in pieces)
    cautions = ["short, equal wiring to each piece; see where they go before ordering"]
    ripple = _parallel_ripple(pieces)
    if ripple is not None and len(pieces) > 1:
        cautions.append("unequal pieces share ripple unequally; the figure takes them as sharing by capacitance")
    reason = f"{names} = {capacitance(total)}; each stands the whole voltage; ripple ratings add"
    return Combination(
        Joining.PARALLEL,
        pieces,
        total,
        volts,
        ripple,
        _cost(pieces),
        reason,
        tuple(cautions),
        SOURCES[Joining.PARALLEL],
    )


def _parallel_ripple(pieces: tuple[tuple[Part, int], ...]) -> Decimal | None:
    """Return the total at which the first piece reaches its rating, currents shared by capacitance."""
    total = sum((_value(p) * n for p, n in pieces), Decimal(0))
    limits = [None if p.ripple_mA is None else _SHOWN.divide(p.ripple_mA * total, _value(p)) for p, _ in pieces]
    known = [limit for limit in limits if limit is not None]
    return min(known) if known and len(known) == len(limits) else None


def _series(position: Position, parts: list[Part], limits: Limits) -> Iterator[Combination]:
    wanted, rated = position.value_uF, position.volts
    if wanted is None or rated is None or position.kind is not Kind.ELECTROLYTIC or position.role in EXACT_ROLES:
        return
    works_at = position.operating_V or rated
    for count in range(2, MOST_PIECES + 1):
        asked = _piece_asked(position, volts=None, operating_V=None)
        needed = least_rating(works_at, count)
        low = [p for p in parts if p.volts is not None and needed <= p.volts < rated and _value(p) >= wanted * count]
        for part in _suitable(asked, low, limits).values():
            resistors = balance(_value(part), part.volts or Decimal(0), works_at, count)
            if resistors is not None:
                yield _joined_series(part, count, works_at, resistors)


def _joined_series(part: Part, count: int, works_at: Decimal, resistors: Balancing) -> Combination:
    pieces = ((part, count),)
    value = _SHOWN.divide(_value(part), Decimal(count))
    volts = (part.volts or Decimal(0)) * count
    reason = (
        f"{count} × {capacitance(_value(part))} {plain(part.volts or Decimal(0))} V in series = "
        f"{capacitance(_FIGURES.plus(value))}; "
        f"at {plain(works_at)} V a ±20 % spread puts at most {plain(round(resistors.charging_V, 1))} V on one piece, "
        f"and {plain(resistors.ohm / 1000)} kΩ {plain(resistors.rating_W)} W across each holds it there against leakage"
    )
    fitted = f"{plain(resistors.ohm / 1000)} kΩ, {plain(resistors.rating_W)} W, {plain(resistors.resistor_V)} V or more"
    cautions = (
        f"{count} resistors of {fitted}: without them one piece takes too much and vents",
        "pieces of one make and one lot; the can of the upper piece is not at chassis: insulate it",
        "the resistors draw current and get warm, and don't discharge it fast: measure before touching",
    )
    ripple = part.ripple_mA
    return Combination(
        Joining.SERIES,
        pieces,
        value,
        volts,
        ripple,
        _cost(pieces),
        reason,
        cautions,
        SOURCES[Joining.SERIES],
        resistors,
    )


def _back_to_back(position: Position, parts: list[Part], limits: Limits) -> Iterator[Combination]:
    wanted = position.value_uF
    if wanted is None or position.kind is not Kind.BIPOLAR or position.role in {Role.CROSSOVER, *EXACT_ROLES}:
        return
    asked = _piece_asked(position, kind=Kind.ELECTROLYTIC)
    polar = [p for p in parts if p.kind is Kind.ELECTROLYTIC and _value(p) >= 2 * wanted]
    for part in _suitable(asked, polar, limits).values():
        pieces = ((part, 2),)
        value = _SHOWN.divide(_value(part), Decimal(2))
        reason = (
            f"2 × {capacitance(_value(part))} polar, minus to minus = {capacitance(value)} bipolar; "
            "each stands the whole voltage"
        )
        cautions = (
            "equal pieces of one lot, minus leads joined, plus leads outwards",
            "for signal coupling only: not for loudspeaker crossovers or mains; a true bipolar part is better",
        )
        source = SOURCES[Joining.BACK_TO_BACK]
        yield Combination(
            Joining.BACK_TO_BACK,
            pieces,
            value,
            part.volts or Decimal(0),
            part.ripple_mA,
            _cost(pieces),
            reason,
            cautions,
            source,
        )


def _value(part: Part) -> Decimal:
    return part.value_uF or Decimal(0)


def _cost(pieces: tuple[tuple[Part, int], ...]) -> Decimal | None:
    """Return the pieces' price at the first break, None where one has no price or suppliers' currencies could mix."""
    if len({p.supplier for p, _ in pieces}) > 1:
        return None
    prices = [_piece_price(p) for p, _ in pieces]
    if any(price is None for price in prices):
        return None
    return sum((price * n for price, (_, n) in zip(prices, pieces, strict=True) if price is not None), Decimal(0))
