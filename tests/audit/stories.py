"""Small benches told inline: parts, positions, orders and events for the tests of the record."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from decimal import Decimal
from typing import Any

from recap.audit.events import Event, EventKind, new_event
from recap.audit.kept import KeptOrder
from recap.model import (
    DrawerPart,
    DrawerUse,
    Group,
    Kind,
    Mount,
    Order,
    OrderLine,
    Part,
    Placed,
    Position,
    PriceBreak,
    SupplierOrder,
    SupplierTerms,
    Use,
)

MONDAY = datetime(2025, 3, 3, 9, 0, tzinfo=UTC)


def minutes(count: float) -> datetime:
    """So many minutes into Monday's work."""
    return MONDAY + timedelta(minutes=count)


def part(number: str, value: str = "47", volts: str = "25", supplier: str = "Norlicht", **rest: Any) -> Part:
    return Part(
        supplier=supplier,
        number=number,
        value_uF=Decimal(value),
        volts=Decimal(volts),
        temp_C=105,
        life_h=Decimal(5000),
        mount=Mount.RADIAL,
        kind=rest.pop("kind", Kind.ELECTROLYTIC),
        prices=(PriceBreak(1, Decimal("0.31")),),
        **rest,
    )


def position(
    ref: str | None, value: str = "47", volts: str = "25", board: str | None = "AUDIO", **rest: Any
) -> Position:
    return Position(
        ref=ref,
        value_uF=Decimal(value),
        volts=Decimal(volts),
        board=board,
        kind=rest.pop("kind", Kind.ELECTROLYTIC),
        mount=Mount.RADIAL,
        **rest,
    )


def group(name: str, *placed: tuple[str, Position], spares: int = 0) -> Group:
    return Group(name, placed[0][1], tuple(Placed(s, p) for s, p in placed), spares)


def line(bought: Part, qty: int, *uses: tuple[str, int]) -> OrderLine:
    price = Decimal("0.31")
    return OrderLine(bought, qty, price, price * qty, tuple(Use(g, n) for g, n in uses))


def order(*lines: OrderLine, drawer: tuple[DrawerUse, ...] = (), supplier: str = "Norlicht") -> Order:
    goods = sum((entry.goods for entry in lines), Decimal(0))
    terms = SupplierTerms(supplier, "EUR", Decimal(1))
    zero = Decimal(0)
    parcel = SupplierOrder(terms, lines, goods, zero, zero, zero, zero, goods)
    return Order((parcel,) if lines else (), drawer, goods)


def from_drawer(lying: Part, qty: int, *uses: tuple[str, int]) -> DrawerUse:
    return DrawerUse(DrawerPart(lying, qty), tuple(Use(g, n) for g, n in uses))


def kept(placed: Order, *groups: Group, when: datetime = MONDAY, name: str = "2025-03-03-1") -> KeptOrder:
    return KeptOrder(name, when, placed, groups, "EUR")


def tick(kind: EventKind, ref: str, at: float = 0, set_name: str = "S1", board: str = "AUDIO", **data: Any) -> Event:
    return new_event(kind, minutes(at), set=set_name, board=board, ref=ref, data=data)
