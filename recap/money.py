"""What an order costs, in exact decimals: price ladders, quantities, shipping tiers, fees, duty, tax.

The only place that knows it. Everything is a sum of products of the decimals as they were typed
(percent is a product with 0.01), so every amount has a finite exact value; nothing is rounded, and
a result that would need rounding raises instead (:class:`decimal.Inexact`). Amounts are in the
supplier's currency up to ``landed``, which is in the bench's.

For one supplier that is used::

    goods    = sum of quantity * unit price at the break the line's quantity reaches
    shipping = charge of the highest tier that goods reaches
    fees     = handling + line_fee * number of lines
    duty     = duty % of goods
    tax      = tax % of (goods + shipping + fees + duty)
    landed   = (goods + shipping + fees + duty + tax) * rate
"""

from __future__ import annotations

import decimal
from decimal import Decimal
from typing import TYPE_CHECKING

from recap.model import Order, OrderLine, Part, SupplierOrder, SupplierTerms, Use

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from recap.model import DrawerUse

EXACT = decimal.Context(
    prec=2000,
    Emin=decimal.MIN_EMIN,
    Emax=decimal.MAX_EMAX,
    traps=[decimal.Inexact, decimal.InvalidOperation, decimal.DivisionByZero, decimal.Overflow],
)
"""Far wider than any price list: sums and products stay exact or raise."""

PERCENT = Decimal("0.01")


def least_quantity(part: Part) -> int:
    """Return the smallest quantity of a line: the larger of minimum and first price, up to the next multiple."""
    least = max(part.minimum, min((step.quantity for step in part.prices), default=1), 1)
    return _up_to_multiple(least, part.multiple)


def legal_quantity(part: Part, wanted: int) -> int | None:
    """Return the smallest quantity that can be bought and is not below ``wanted``; None where stock is short."""
    quantity = max(least_quantity(part), _up_to_multiple(wanted, part.multiple))
    return quantity if part.stock is None or quantity <= part.stock else None


def is_legal(part: Part, quantity: int) -> bool:
    """Tell whether a line may have this quantity: minimum, multiple and stock."""
    within = part.stock is None or quantity <= part.stock
    return within and quantity >= least_quantity(part) and quantity % part.multiple == 0


def unit_price(part: Part, quantity: int) -> Decimal:
    """Return the price of every piece of a line of this quantity.

    Raises ValueError where the quantity is below the first price.
    """
    reached = [step for step in part.prices if step.quantity <= quantity]
    if not reached:
        raise ValueError(f"{part.supplier} {part.number}: no price for {quantity} pieces")
    return max(reached, key=lambda step: step.quantity).unit_price


def line(part: Part, quantity: int, uses: Iterable[Use] = ()) -> OrderLine:
    """Price one order line. Raises ValueError where that quantity can't be bought."""
    if not is_legal(part, quantity):
        raise ValueError(f"{part.supplier} {part.number}: {quantity} pieces can't be bought")
    price = unit_price(part, quantity)
    return OrderLine(part, quantity, price, EXACT.multiply(Decimal(quantity), price), tuple(uses))


def shipping(terms: SupplierTerms, goods: Decimal) -> Decimal:
    """Return the charge of the highest tier that ``goods`` reaches; below all tiers, that of the lowest."""
    if not terms.shipping:
        return Decimal(0)
    reached = [tier for tier in terms.shipping if tier.goods <= goods]
    if reached:
        return max(reached, key=lambda tier: tier.goods).charge
    return min(terms.shipping, key=lambda tier: tier.goods).charge


def meets_minimum(terms: SupplierTerms, goods: Decimal) -> bool:
    """Tell whether the supplier accepts an order of this goods value; exactly on the minimum is met."""
    return goods >= terms.minimum


def parcel(terms: SupplierTerms, lines: Sequence[OrderLine]) -> SupplierOrder:
    """Price one supplier's order of these lines (whether or not its minimum is met)."""
    with decimal.localcontext(EXACT):
        goods = sum((each.goods for each in lines), Decimal(0))
        carriage = shipping(terms, goods)
        fees = terms.handling + terms.line_fee * len(lines)
        duty = terms.duty_percent * PERCENT * goods
        before_tax = goods + carriage + fees + duty
        tax = terms.tax_percent * PERCENT * before_tax
        landed = (before_tax + tax) * terms.rate
    return SupplierOrder(terms, tuple(lines), goods, carriage, fees, duty, tax, landed)


def order(parcels: Iterable[SupplierOrder], drawer: Iterable[DrawerUse] = ()) -> Order:
    """Put priced parcels and what the drawer gives together; the total is the sum of landed."""
    suppliers = tuple(parcels)
    with decimal.localcontext(EXACT):
        total = sum((each.landed for each in suppliers), Decimal(0))
    return Order(suppliers, tuple(drawer), total)


def _up_to_multiple(quantity: int, multiple: int) -> int:
    return -(-quantity // multiple) * multiple
