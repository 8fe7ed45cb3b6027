"""Why an order is as it is: what each group could have had, why pieces are over, what a supplier's terms did.

Everything is computed from the order, the problem and the prices; nothing is taken from the solver.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from decimal import Decimal
from typing import TYPE_CHECKING

from recap import money
from recap.optimise.verify import left_over

if TYPE_CHECKING:
    from collections.abc import Mapping

    from recap.model import Order, OrderLine, Part, Problem, SupplierOrder, SupplierTerms

SHOWN = 4
"""Candidates that are shown for one group besides the one taken."""


@dataclass(frozen=True, slots=True)
class Candidate:
    """A part that suits a group: the least lot that covers its need, and what that lot alone costs.

    ``lot`` is None where stock is short. ``cost`` is goods with duty and tax, without postage and
    fees, in the bench's currency. ``taken``: pieces that the order gives the group of it.
    """

    part: Part
    lot: int | None
    cost: Decimal | None
    taken: int = 0


@dataclass(frozen=True, slots=True)
class Why:
    """One group's choice: how many parts suited, and the cheapest of them, those taken first."""

    group: str
    need: int
    suited: int
    candidates: tuple[Candidate, ...]
    from_drawer: int = 0


@dataclass(frozen=True, slots=True)
class Over:
    """Pieces of a line beyond what its groups use, and the reason in words."""

    supplier: str
    number: str
    pieces: int
    reason: str


@dataclass(frozen=True, slots=True)
class Terms:
    """What one supplier's terms did to a parcel, in words."""

    supplier: str
    words: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Explanation:
    """The whole account of one order."""

    groups: tuple[Why, ...]
    over: tuple[Over, ...]
    terms: tuple[Terms, ...]


def explain(problem: Problem, order: Order) -> Explanation:
    """Return why the order takes what it takes."""
    taken = _taken(order)
    return Explanation(
        tuple(_why(problem, need.group, need.pieces, taken, order) for need in problem.needs),
        tuple(filter(None, (_over(problem, order, p, line) for p in order.suppliers for line in p.lines))),
        tuple(Terms(parcel.terms.supplier, _terms(parcel)) for parcel in order.suppliers),
    )


def lot_cost(part: Part, lot: int, terms: SupplierTerms) -> Decimal:
    """Return what a lot costs with duty and tax, without postage and fees, in the bench's currency."""
    alone = replace(terms, shipping=(), handling=Decimal(0), line_fee=Decimal(0))
    return money.parcel(alone, [money.line(part, lot)]).landed


def _taken(order: Order) -> Mapping[tuple[str, str, str], int]:
    return {
        (use.group, parcel.terms.supplier, line.part.number): use.qty
        for parcel in order.suppliers
        for line in parcel.lines
        for use in line.uses
    }


def _why(problem: Problem, group: str, need: int, taken: Mapping[tuple[str, str, str], int], order: Order) -> Why:
    found: list[Candidate] = []
    for i in problem.suits.get(group, ()):
        part = problem.offers[i]
        lot = money.legal_quantity(part, need)
        cost = None if lot is None else lot_cost(part, lot, problem.suppliers[part.supplier])
        found.append(Candidate(part, lot, cost, taken.get((group, part.supplier, part.number), 0)))
    found.sort(key=lambda c: (not c.taken, c.cost is None, c.cost or Decimal(0), c.part.supplier, c.part.number))
    chosen = sum(1 for c in found if c.taken)
    drawn = sum(use.qty for kept in order.drawer for use in kept.uses if use.group == group)
    return Why(group, need, len(found), tuple(found[: chosen + SHOWN]), drawn)


def _over(problem: Problem, order: Order, parcel: SupplierOrder, line: OrderLine) -> Over | None:
    used = sum(use.qty for use in line.uses)
    pieces = line.qty - used
    if pieces <= 0:
        return None
    reason = _sharers(problem, order, line, pieces) or _reason(parcel, line, used)
    return Over(parcel.terms.supplier, line.part.number, pieces, reason)


def _sharers(problem: Problem, order: Order, line: OrderLine, pieces: int) -> str:
    """Return for which groups the pieces over are shared spares; empty where all could do without them."""
    left = left_over(problem, order)
    groups = [
        need.group
        for need in problem.needs
        if need.spares > left.get(need.group, 0) - pieces
        and any(problem.offers[i] == line.part for i in problem.suits.get(need.group, ()))
        and need.spares
    ]
    return f"spare for {', '.join(groups)}" if groups else ""


def _reason(parcel: SupplierOrder, line: OrderLine, used: int) -> str:
    least = money.legal_quantity(line.part, used) if used else None
    if least == line.qty:
        return f"sold from {money.least_quantity(line.part)} pieces, in steps of {line.part.multiple}"
    if least is not None:
        fewer = money.line(line.part, least)
        if fewer.goods > line.goods:
            return f"{line.qty} pieces cost {line.goods}, {least} would cost {fewer.goods}: the price break is cheaper"
        if fewer.goods == line.goods:
            return f"{line.qty} pieces cost no more than {least}"
    return _threshold(parcel, line, least)


def _threshold(parcel: SupplierOrder, line: OrderLine, least: int | None) -> str:
    """Return which threshold the parcel would miss with only the pieces that are used."""
    rest = [each for each in parcel.lines if each is not line]
    if least is not None:
        rest.append(money.line(line.part, least))
    without = money.parcel(parcel.terms, rest)
    if not money.meets_minimum(parcel.terms, without.goods):
        return f"lifts the parcel over the minimum order of {parcel.terms.minimum} {parcel.terms.currency}"
    if without.shipping > parcel.shipping:
        saved = without.shipping - parcel.shipping
        return f"lifts the parcel to the next shipping step, which saves {saved} {parcel.terms.currency}"
    return "together with others it lifts the parcel over a threshold, or costs nothing more"


def _terms(parcel: SupplierOrder) -> tuple[str, ...]:
    terms, words = parcel.terms, []
    if terms.shipping:
        dearest = max(tier.charge for tier in terms.shipping)
        if dearest > parcel.shipping:
            words.append(f"goods of {parcel.goods} reach a shipping step that saves {dearest - parcel.shipping}")
        nearer = sorted((t for t in terms.shipping if t.goods > parcel.goods), key=lambda t: t.goods)
        if nearer:
            short = nearer[0].goods - parcel.goods
            words.append(f"{short} more in goods would change the shipping to {nearer[0].charge}")
    if terms.minimum > 0:
        words.append(f"the minimum order of {terms.minimum} is met with {parcel.goods - terms.minimum} to spare")
    if terms.handling or terms.line_fee:
        words.append(f"fees: {terms.handling} for the order, {terms.line_fee} for each of {len(parcel.lines)} lines")
    if terms.duty_percent or terms.tax_percent:
        words.append(f"duty {terms.duty_percent} %, tax {terms.tax_percent} %")
    return tuple(words)
