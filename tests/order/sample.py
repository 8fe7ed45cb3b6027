"""A small order made by hand, for the tests of whatever is written from an order."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

from recap import money
from recap.model import (
    DRAWER,
    DrawerPart,
    DrawerUse,
    Extra,
    Group,
    Kind,
    Mount,
    Order,
    Part,
    Placed,
    Position,
    PriceBreak,
    Role,
    ShippingTier,
    Status,
    SupplierTerms,
    Use,
    Verdict,
)
from recap.order.report import Alternative, NearMiss, Report, UnmetNeed

RADIAL = Position(
    value_uF=Decimal(47),
    volts=Decimal(25),
    temp_C=85,
    mount=Mount.RADIAL,
    kind=Kind.ELECTROLYTIC,
    pitch_mm=Decimal("2.5"),
)
AXIAL = Position(value_uF=Decimal("0.47"), volts=Decimal(350), mount=Mount.AXIAL, kind=Kind.BIPOLAR, role=Role.COUPLING)


def place(name: str, ref: str | None, board: str | None, asks: Position = RADIAL, qty: int = 1) -> Placed:
    return Placed(
        name,
        Position(
            ref=ref,
            qty=qty,
            board=board,
            value_uF=asks.value_uF,
            volts=asks.volts,
            mount=asks.mount,
            kind=asks.kind,
            role=asks.role,
        ),
    )


def part(number: str, supplier: str = "shop-a", **fields: object) -> Part:
    known: dict[str, object] = {
        "maker": "Dimmelow",
        "value_uF": Decimal(47),
        "volts": Decimal(35),
        "temp_C": 105,
        "life_h": Decimal(2000),
        "mount": Mount.RADIAL,
        "kind": Kind.ELECTROLYTIC,
        "diameter_mm": Decimal("6.3"),
        "height_mm": Decimal(11),
        "pitch_mm": Decimal("2.5"),
        "prices": (PriceBreak(1, Decimal("0.42")), PriceBreak(10, Decimal("0.3125"))),
    }
    return Part(supplier=supplier, number=number, **(known | fields))  # type: ignore[arg-type]


def terms(name: str, currency: str = "EUR", rate: str = "1") -> SupplierTerms:
    return SupplierTerms(
        name, currency, Decimal(rate), (ShippingTier(Decimal(0), Decimal("5.90")),), tax_percent=Decimal(19)
    )


RADIAL_GROUP = Group(
    "47 µF 25 V radial",
    RADIAL,
    (
        place("set-1", "C10", "POWER"),
        place("set-1", "C9", "POWER"),
        place("set-2", "C9", "POWER"),
        place("set-1", "C2", "AUDIO"),
    ),
    spares=1,
)
AXIAL_GROUP = Group(
    "0.47 µF 350 V axial", AXIAL, (place("set-1", "C30", None, AXIAL), place("set-2", None, "AUDIO", AXIAL, 2))
)
MISSING_GROUP = Group("8 µF 600 V axial", AXIAL, (place("set-2", "C77", "POWER", AXIAL),))
EXTRA_GROUP = Group("extra: mains switch", None, extra=Extra("mains switch", 1, ("SW-1",), "set-1"))

LYING = DrawerPart(part("OLD-1", DRAWER, prices=()), 5, date(2024, 5, 1), "box 2")


def an_order(first: str = "=1+1", supplier: str = "shop-a") -> Order:
    """Two parcels and one drawer part; the first supplier's first part number is ``first``."""
    here = money.parcel(
        terms(supplier),
        [
            money.line(part(first, supplier), 4, [Use(RADIAL_GROUP.id, 3)]),
            money.line(part("SW-1", supplier, value_uF=None), 1, [Use(EXTRA_GROUP.id, 1)]),
        ],
    )
    abroad = money.parcel(
        terms("shop-b", "USD", "0.92"),
        [money.line(part("AX 0.47/450", "shop-b", mount=Mount.AXIAL, kind=Kind.BIPOLAR), 10, [Use(AXIAL_GROUP.id, 3)])],
    )
    return money.order([here, abroad], [DrawerUse(LYING, (Use(RADIAL_GROUP.id, 2),))])


def a_report(first: str = "=1+1", supplier: str = "shop-a") -> Report:
    order = an_order(first, supplier)
    return Report(
        currency="EUR",
        status=Status.OPTIMAL,
        made_on=date(2025, 11, 25),
        order=order,
        groups=(RADIAL_GROUP, AXIAL_GROUP, MISSING_GROUP, EXTRA_GROUP),
        bound=order.total,
        unmet=(
            UnmetNeed(
                MISSING_GROUP.id,
                1,
                "no part has the voltage",
                (NearMiss("shop-b", "AX 8/450", Verdict.NO, "450 V is below the old 600 V"),),
            ),
        ),
        alternatives=(
            Alternative("only shop-a", None),
            Alternative("without the drawer", order.total + Decimal("1.25")),
        ),
        care={AXIAL_GROUP.id: ("450 V is above 2 × the old rating",)},
    )
