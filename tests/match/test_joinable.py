"""Joined stand-ins out of catalogues: as many as the plain judge finds, offered only where nothing single goes."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

from hypothesis import given, settings
from hypothesis import strategies as st

from recap.match.candidates import problem
from recap.match.columns import Offers
from recap.match.combine import Joining, stand_ins
from recap.match.joinable import joined_offers
from recap.match.limits import limits_for
from recap.model import DRAWER, DrawerPart, Group, Kind, Part, Placed, Position, PriceBreak, Role, Settings, Verdict
from tests.match.shelf import BenchByHand, Rows

D = Decimal
TODAY = date(2026, 3, 1)


def part(value: str, volts: str, kind: Kind = Kind.ELECTROLYTIC, shop: str = "Alder") -> Part:
    return Part(
        shop, f"{shop}-{value}-{volts}-{kind}", value_uF=D(value), volts=D(volts), kind=kind, temp_C=105,
        life_h=D(5000),
        prices=(PriceBreak(1, D(value) / 100 + D(volts) / 1000),),
    )  # fmt: skip


def unfit_of(asks: Position, parts: list[Part]) -> tuple[str, ...]:
    bench = BenchByHand(catalogues={"Alder": Rows(parts)})
    group = Group("G", asks, (Placed("S1", asks),))
    found = problem(bench, (group,), today=TODAY)  # type: ignore[arg-type]
    return tuple(c.joining.value for c in found.unfit["G"].joined)


def test_a_group_that_nothing_single_serves_is_offered_joined_parts() -> None:
    asks = Position(value_uF=D(200), volts=D(50), kind=Kind.ELECTROLYTIC)
    assert unfit_of(asks, [part("100", "63")]) == (Joining.PARALLEL,)


def test_a_group_that_a_single_part_serves_with_care_is_not() -> None:
    asks = Position(value_uF=D(200), volts=D(50), kind=Kind.ELECTROLYTIC)
    assert unfit_of(asks, [part("100", "63"), part("270", "63")]) == ()


def test_pieces_from_the_drawer_count_too() -> None:
    asks = Position(value_uF=D(200), volts=D(50), kind=Kind.ELECTROLYTIC)
    drawer = (DrawerPart(part("100", "63", shop=DRAWER), 4),)
    (found,) = joined_offers(asks, Offers({}), drawer, limits_for(Settings(), None))
    assert (found.count, found.pieces[0][0].supplier) == (2, DRAWER)


VALUES = st.sampled_from(["4.7", "10", "22", "47", "100", "220"])
VOLTS = st.sampled_from(["16", "50", "160", "250", "350", "450"])
KINDS = st.sampled_from([Kind.ELECTROLYTIC, Kind.BIPOLAR, Kind.FILM])


@settings(max_examples=60, deadline=None)
@given(
    VALUES,
    VOLTS,
    KINDS,
    st.sampled_from([None, Role.TIMING, Role.SMOOTHING, Role.DEFLECTION]),
    st.lists(st.builds(part, VALUES, VOLTS, KINDS), min_size=1, max_size=12, unique_by=lambda p: p.number),
)
def test_the_search_by_columns_misses_nothing_and_adds_nothing(
    value: str, volts: str, kind: Kind, role: Role | None, parts: list[Part]
) -> None:
    asks = Position(value_uF=D(value), volts=D(volts), kind=kind, role=role)
    limits = limits_for(Settings(), role)
    found = joined_offers(asks, Offers({"Alder": Rows(parts)}), (), limits)
    assert found == stand_ins(asks, parts, limits)
    assert all(c.verdict is Verdict.CARE for c in found)
