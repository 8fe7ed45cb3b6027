"""Obsolete values, cans, and joined parts: the values of the trade, and the arithmetic that keeps them safe."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from recap.match.balancing import balance, charging_share, least_rating, preferred_below
from recap.match.combine import Joining, stand_ins
from recap.match.obsolete import modern_value, modern_voltage, neighbours, stand_in_for_can
from recap.match.ratings import leakage_limit
from recap.model import Kind, Part, Position, PriceBreak, Role, Verdict

D = Decimal


@pytest.mark.parametrize(
    ("old", "today"),
    [
        ("25", "22"),
        ("40", "47"),
        ("50", "47"),
        ("250", "220"),
        ("500", "470"),
        ("20", "22"),
        ("8", "10"),
        ("100", "100"),
    ],
)
def test_what_is_fitted_for_an_old_value(old: str, today: str) -> None:
    # E6 of IEC 60063; which neighbour takes the old one's place is common practice.
    assert modern_value(D(old)).fit_uF == D(today)


def test_the_reasoning_names_what_the_old_tolerance_allowed() -> None:
    # -10/+50 %: letter T of IEC 60062
    found = modern_value(D(25))
    assert "22.5 to 37.5 µF" in found.reason
    assert "17.6 to 26.4 µF" in found.reason
    assert (found.below_uF, found.above_uF) == (22, 33)


@pytest.mark.parametrize("role", [Role.TIMING, Role.DEFLECTION])
def test_timed_and_tuned_positions_keep_their_value(role: Role) -> None:
    assert modern_value(D(25), role).fit_uF == 25


@given(st.decimals(D("0.001"), D(99999), places=3))
def test_every_value_lies_between_its_neighbours(value: Decimal) -> None:
    below, above = neighbours(value)
    assert below <= value <= above
    assert above / below < D("1.6")


@pytest.mark.parametrize(("old", "today"), [("12", "16"), ("40", "50"), ("385", "400"), ("450", "450"), ("475", "500")])
def test_the_next_rating_that_is_made(old: str, today: str) -> None:
    # KEMET A4005 (ESH): ... 16 25 35 50 63 ... 350 400 (420) 450 500
    assert modern_voltage(D(old)) == D(today)


def test_a_can_of_three_sections_becomes_three_parts_of_their_own() -> None:
    can = stand_in_for_can([D(20)] * 3, [D(450), D(450), D(25)])
    assert can.pieces == 3
    assert [(s.name, s.value.fit_uF, s.fit_V) for s in can.sections] == [("a", 22, 450), ("b", 22, 450), ("c", 22, 25)]
    told = " ".join(can.reasons)
    assert "rectifier valve" in told
    assert "minus" in told


def test_a_section_above_every_usual_rating_is_told_to_be_joined() -> None:
    can = stand_in_for_can([D(16)], [D(550)])
    assert can.sections[0].fit_V is None
    assert any("two in series" in reason for reason in can.reasons)


def part(
    value: str, volts: str, *, kind: Kind = Kind.ELECTROLYTIC, price: str | None = "0.50", ripple: str | None = None
) -> Part:
    return Part(
        "Alder",
        f"{value}/{volts}",
        value_uF=D(value),
        volts=D(volts),
        kind=kind,
        temp_C=105,
        life_h=D(5000),
        prices=() if price is None else (PriceBreak(1, D(price)),),
        ripple_mA=None if ripple is None else D(ripple),
    )


def asked(value: str, volts: str | None, kind: Kind = Kind.ELECTROLYTIC, role: Role | None = None) -> Position:
    return Position(value_uF=D(value), volts=None if volts is None else D(volts), kind=kind, role=role)


def test_two_in_parallel_add_their_values_ripple_and_price_and_are_care() -> None:
    (found,) = stand_ins(asked("200", "50"), [part("100", "63", ripple="300")])
    assert (found.joining, found.count, found.value_uF, found.volts) == (Joining.PARALLEL, 2, 200, 63)
    assert (found.ripple_mA, found.cost) == (600, D("1.00"))
    assert found.verdict is Verdict.CARE


def test_pieces_below_the_voltage_are_never_put_in_parallel() -> None:
    assert stand_ins(asked("200", "50"), [part("100", "35")]) == ()


def test_two_in_series_halve_the_value_and_get_balancing_resistors() -> None:
    # 2 x 220 µF 350 V at 500 V: leakage limit 0.02 CV + 10 = 1550 µA (KEMET ESL);
    # R <= (2 x 350 - 500) / 1.55 mA = 129 kΩ -> 120 kΩ (own arithmetic)
    (found,) = stand_ins(asked("100", "500"), [part("220", "350")])
    assert (found.joining, found.count, found.value_uF) == (Joining.SERIES, 2, 110)
    assert found.balancing is not None
    assert found.balancing.ohm == 120_000
    assert found.balancing.charging_V == pytest.approx(D(300))
    assert found.balancing.leaking_V == pytest.approx(D(343))
    assert found.balancing.rating_W == 2
    assert any("120 kΩ, 2 W" in caution for caution in found.cautions)


def test_while_charging_the_smaller_of_two_gets_sixty_percent() -> None:
    # V1 = C2/(C1 + C2) · E: Rubycon technical notes, 5.1 and 5.2, with ±20 %
    assert charging_share(2) == pytest.approx(D("0.6"))
    assert least_rating(D(500), 2) == pytest.approx(D(300))


def test_pieces_that_charging_would_overload_are_not_offered() -> None:
    assert stand_ins(asked("100", "500"), [part("220", "250")]) == ()


def test_a_bipolar_part_is_made_of_two_polar_ones_back_to_back_but_not_in_a_crossover() -> None:
    # common practice
    (found,) = stand_ins(asked("4.7", "50", Kind.BIPOLAR), [part("10", "50")])
    assert (found.joining, found.value_uF, found.volts) == (Joining.BACK_TO_BACK, 5, 50)
    assert stand_ins(asked("4.7", "50", Kind.BIPOLAR, Role.CROSSOVER), [part("10", "50")]) == ()


@pytest.mark.parametrize(
    "position",
    [
        Position(value_uF=D("0.2"), volts=D(275), kind=Kind.SAFETY),
        Position(value_uF=D("0.2"), volts=D(275), kind=Kind.FILM, safety="X2"),
        Position(value_uF=D("0.2"), volts=D(275), kind=Kind.FILM, role=Role.DEFLECTION),
        Position(volts=D(275), kind=Kind.FILM),
    ],
)
def test_safety_and_deflection_parts_are_never_joined(position: Position) -> None:
    assert stand_ins(position, [part("0.1", "400", kind=Kind.FILM)]) == ()


def test_a_timing_value_must_be_met_exactly() -> None:
    parts = [part("22", "50"), part("3.3", "50"), part("2.2", "50"), part("10", "50")]
    assert stand_ins(asked("25", "50", role=Role.TIMING), parts) == ()
    (found, *_) = stand_ins(asked("25.3", "50", role=Role.TIMING), parts)
    assert found.value_uF == D("25.3")


def test_unequal_pieces_reach_the_sum_only_as_far_as_the_weaker_allows() -> None:
    # currents share by capacitance: 330 of 550 flows in the 330 µF piece (own arithmetic)
    (found,) = stand_ins(asked("500", "50"), [part("330", "63", ripple="600"), part("220", "63", ripple="200")])
    assert found.ripple_mA == 500


def test_an_unknown_price_makes_the_cost_unknown() -> None:
    (found,) = stand_ins(asked("200", "50"), [part("100", "63", price=None)])
    assert found.cost is None


@pytest.mark.parametrize(("most", "fit"), [("129032", "120000"), ("1000", "1000"), ("999", "820"), ("47500", "47000")])
def test_the_resistor_made_below_a_limit(most: str, fit: str) -> None:
    # E12, IEC 60063
    assert preferred_below(D(most)) == D(fit)


@given(
    st.decimals(D(1), D(2000), places=0),
    st.sampled_from([D(160), D(200), D(250), D(350), D(400), D(450)]),
    st.decimals(D(50), D(1300), places=0),
    st.integers(2, 3),
)
def test_balanced_pieces_never_see_more_than_their_rating(
    value: Decimal, rated: Decimal, works: Decimal, n: int
) -> None:
    found = balance(value, rated, works, n)
    if found is None:
        assert least_rating(works, n) > rated or n * rated <= works or value * rated > 10_000
        return
    # the circuit itself: one piece leaks nothing, the others their limit; own arithmetic
    leak = leakage_limit(value, rated) / 1_000_000
    fullest = (works + (n - 1) * found.ohm * leak) / n
    assert fullest <= rated * D("1.0000001")
    assert found.charging_V <= rated
    assert found.rating_W >= 2 * found.power_W
    assert found.power_W * found.ohm >= (works / n) ** 2 * D("0.9999999")


VALUES = st.sampled_from([D(v) for v in ("10", "22", "33", "47", "100", "220", "470")])
RATINGS = st.sampled_from([D(v) for v in ("25", "63", "160", "250", "350", "450")])


@settings(max_examples=60)
@given(VALUES, RATINGS, st.lists(st.tuples(VALUES, RATINGS), max_size=8), st.sampled_from([None, Role.SMOOTHING]))
def test_whatever_is_offered_holds_the_value_and_the_voltage(
    value: Decimal, volts: Decimal, offers: list[tuple[Decimal, Decimal]], role: Role | None
) -> None:
    position = Position(value_uF=value, volts=volts, kind=Kind.ELECTROLYTIC, role=role)
    for found in stand_ins(position, [part(str(v), str(u)) for v, u in offers]):
        assert found.verdict is Verdict.CARE
        assert value <= found.value_uF <= value * D("1.2")
        assert found.volts >= volts
        assert 2 <= found.count <= 3
        assert found.cautions
        assert (found.balancing is None) is (found.joining is not Joining.SERIES)
