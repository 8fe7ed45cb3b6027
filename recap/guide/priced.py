"""One parcel priced step by step, by the code that prices orders, so that the example can't be wrong."""

from __future__ import annotations

from decimal import Decimal
from typing import Final

from recap import money
from recap.model import Part, PriceBreak, ShippingTier, SupplierTerms
from recap.normalise.writing import plain

TERMS: Final = SupplierTerms(
    supplier="larkspurdle",
    currency="USD",
    rate=Decimal("0.92"),
    shipping=(ShippingTier(Decimal(0), Decimal(14)), ShippingTier(Decimal(60), Decimal(8))),
    handling=Decimal("1.50"),
    line_fee=Decimal("0.05"),
    duty_percent=Decimal("2.5"),
    tax_percent=Decimal(19),
)
LINES: Final = (
    (Part("larkspurdle", "CLW-47-25", prices=(PriceBreak(1, Decimal("0.14")), PriceBreak(10, Decimal("0.096")))), 12),
    (Part("larkspurdle", "PQ-77140", prices=(PriceBreak(1, Decimal("34.70")),)), 2),
)


def priced_part() -> str:
    """Return the example: two lines of one supplier, in another currency than the bench's."""
    t = TERMS
    lines = [money.line(part, quantity) for part, quantity in LINES]
    parcel = money.parcel(t, lines)
    tiers = ", ".join(f"{plain(tier.charge)} from {plain(tier.goods)}" for tier in t.shipping)
    goods = " + ".join(f"{line.qty} × {plain(line.unit_price)}" for line in lines)
    fees = f"{plain(t.handling)} + {len(lines)} × {plain(t.line_fee)}"
    before = parcel.goods + parcel.shipping + parcel.fees + parcel.duty
    said = (
        f"Shipping costs {tiers}; handling {plain(t.handling)}, {plain(t.line_fee)} a line, duty "
        f"{plain(t.duty_percent)} %, tax {plain(t.tax_percent)} %; a dollar costs {plain(t.rate)} euro. "
        f"{lines[0].part.number} costs 0.14 apiece, from 10 on 0.096."
    )
    return "\n".join(
        (
            said,
            "",
            f"- goods = {goods} = {plain(parcel.goods)}",
            f"- shipping = {plain(parcel.shipping)}, for the goods reach {plain(t.shipping[-1].goods)}",
            f"- fees = {fees} = {plain(parcel.fees)}",
            f"- duty = {plain(t.duty_percent)} % × {plain(parcel.goods)} = {plain(parcel.duty)}",
            f"- tax = {plain(t.tax_percent)} % × {plain(before)} = {plain(parcel.tax)}",
            f"- landed = ({plain(before)} + {plain(parcel.tax)}) × {plain(t.rate)} = {plain(parcel.landed)} EUR",
        )
    )
