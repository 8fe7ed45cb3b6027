"""Which pieces an order takes are weighed for the places they go to; old pieces by the day they were bought."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from decimal import Decimal
from typing import TYPE_CHECKING

import pytest

from recap.model import DrawerUse, Use
from recap.order.margins import chosen
from tests.order.sample import LYING, RADIAL_GROUP, a_report

if TYPE_CHECKING:
    from recap.model import Part, Position


class Margin:
    """A stand-in for a margin that keeps what it was asked for."""

    def __init__(self, part: Part, bought: date | None) -> None:
        self.part, self.bought = part, bought
        self.tightness = Decimal(len(part.number))


def weigh(_: Position, part: Part, bought: date | None) -> Margin:
    return Margin(part, bought)


def weighed(*lots: date | None, place: str | None = None) -> list[tuple[str, date | None]]:
    report = a_report("A-1")
    assert report.order is not None
    drawn = tuple(DrawerUse(replace(LYING, bought=day), (Use(RADIAL_GROUP.id, 1),)) for day in lots)
    given = replace(report, order=replace(report.order, drawer=drawn))
    return [(one.margin.part.number, one.margin.bought) for one in chosen(given, weigh, place)]  # type: ignore[arg-type, attr-defined]


def test_every_part_of_a_group_is_weighed_the_worst_first_and_extras_are_not() -> None:
    assert weighed(date(2024, 5, 1)) == [("A-1", None), ("OLD-1", date(2024, 5, 1)), ("AX 0.47/450", None)]


@pytest.mark.parametrize(
    ("lots", "day"),
    [
        ((date(2024, 5, 1), date(2012, 1, 1)), date(2012, 1, 1)),
        ((date(2012, 1, 1), date(2024, 5, 1)), date(2012, 1, 1)),
        ((date(2012, 1, 1), None), date(2012, 1, 1)),
        ((None, None), None),
    ],
)
def test_of_several_lots_the_oldest_counts(lots: tuple[date | None, ...], day: date | None) -> None:
    assert {bought for number, bought in weighed(*lots) if number == "OLD-1"} == {day}


def test_a_place_asks_for_what_goes_there_alone() -> None:
    assert [number for number, _ in weighed(None, place="SET-1: c30")] == ["AX 0.47/450"]
    assert [number for number, _ in weighed(None, place="set-1:C9")] == ["A-1", "OLD-1"]
    assert [number for number, _ in weighed(None, place="set-2")] == ["AX 0.47/450"]  # no designator is listed
    assert weighed(None, place="set-1:C99") == []
