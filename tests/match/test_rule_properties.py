"""What holds for every position and part: monotone and reflexive verdicts."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from typing import Any

from hypothesis import assume, given, settings
from hypothesis import strategies as st

from recap.match.coding import aspects, same_for_all
from recap.match.gauges import gauges
from recap.match.rules import RULES, judge
from recap.model import Kind, Limits, Mount, Part, Position, Role

D = Decimal
FEW = settings(max_examples=150, deadline=None)
ROLES = st.sampled_from([None, *Role])
CLASSES = st.sampled_from([None, "X1", "X2", "Y1", "Y2", "X1/Y2"])


def numbers(low: str, high: str, places: int = 1) -> st.SearchStrategy[Decimal]:
    return st.decimals(D(low), D(high), places=places)


def stated(**made: st.SearchStrategy[Any]) -> dict[str, st.SearchStrategy[Any]]:
    return {name: st.none() | found for name, found in made.items()}


ALIKE = stated(
    value_uF=numbers("0.1", "1000"),
    volts=numbers("1", "500"),
    temp_C=st.integers(50, 150),
    mount=st.sampled_from(Mount),
    pitch_mm=numbers("1", "40"),
    diameter_mm=numbers("3", "35"),
    height_mm=numbers("5", "50"),
    ripple_mA=numbers("10", "3000", 0),
    safety=CLASSES,
)
POSITIONS = st.builds(
    Position,
    kind=st.sampled_from(Kind),
    role=ROLES,
    operating_V=st.none() | numbers("1", "500"),
    volts_ac=st.booleans(),
    **ALIKE,
)
PARTS = st.builds(
    Part, supplier=st.just("a shop"), number=st.just("P"), kind=st.sampled_from(Kind),
    life_h=st.none() | numbers("500", "20000", 0), **ALIKE,
)  # fmt: skip


def rank(position: Position, part: Part, rule: str | None = None) -> int:
    found = judge(position, part, Limits())
    if rule is None:
        return found.verdict.rank
    return max((f.verdict.rank for f in found.findings if f.rule == rule), default=0)


@FEW
@given(POSITIONS, PARTS, numbers("0", "300"))
def test_more_volts_never_turn_worse_up_to_the_care_limit(position: Position, part: Part, more: Decimal) -> None:
    assume(part.volts is not None)
    assert part.volts is not None
    higher = part.volts + more
    assume(position.volts is None or higher <= 2 * position.volts)
    assert rank(position, replace(part, volts=higher), "voltage") <= rank(position, part, "voltage")


@FEW
@given(POSITIONS, PARTS, st.integers(0, 60), numbers("0", "9000", 0), numbers("0", "900", 0))
def test_hotter_ratings_longer_life_more_ripple_never_hurt(
    position: Position, part: Part, hotter: int, longer: Decimal, more: Decimal
) -> None:
    better = replace(
        part,
        temp_C=None if part.temp_C is None else part.temp_C + hotter,
        life_h=None if part.life_h is None else part.life_h + longer,
        ripple_mA=None if part.ripple_mA is None else part.ripple_mA + more,
    )
    assert rank(position, better) <= rank(position, part)


@FEW
@given(POSITIONS, PARTS, numbers("0", "20"), numbers("0", "20"))
def test_a_smaller_part_never_fits_less(position: Position, part: Part, thinner: Decimal, lower: Decimal) -> None:
    smaller = replace(
        part,
        diameter_mm=None if part.diameter_mm is None else max(part.diameter_mm - thinner, D(1)),
        height_mm=None if part.height_mm is None else max(part.height_mm - lower, D(1)),
    )
    assert rank(position, smaller) <= rank(position, part)


@FEW
@given(POSITIONS, PARTS)
def test_a_stricter_class_never_hurts(position: Position, part: Part) -> None:
    for plain, strict in (("X2", "X1"), ("Y2", "Y1")):
        assert rank(position, replace(part, safety=strict), "safety") <= rank(
            position, replace(part, safety=plain), "safety"
        )


@FEW
@given(PARTS, ROLES, st.integers(105, 150), numbers("2000", "20000", 0))
def test_a_part_fits_its_own_position(plain: Part, role: Role | None, temp_C: int, life_h: Decimal) -> None:
    """Where it meets temp_min and life_min."""
    part = replace(plain, temp_C=temp_C, life_h=life_h)
    own = Position(
        value_uF=part.value_uF, volts=part.volts, temp_C=part.temp_C, mount=part.mount, kind=part.kind,
        pitch_mm=part.pitch_mm, diameter_mm=part.diameter_mm, height_mm=part.height_mm, role=role,
        ripple_mA=part.ripple_mA, safety=part.safety,
    )  # fmt: skip
    assert judge(own, part, Limits()).verdict == "fits"


@FEW
@given(POSITIONS, PARTS)
def test_what_the_position_does_not_state_makes_no_finding_but_temperature_and_life(
    position: Position, part: Part
) -> None:
    bare = Position(role=position.role)
    assert {f.rule for f in judge(bare, part, Limits()).findings} <= {"temperature", "life"}


@FEW
@given(POSITIONS, PARTS)
def test_a_rule_depends_on_nothing_but_the_fields_its_row_names(position: Position, part: Part) -> None:
    """The search through catalogues rests on this."""
    for rule in RULES:
        asked: dict[str, Any] = {name: getattr(position, name) for name in rule.asks}
        read: dict[str, Any] = {name: getattr(part, name) for name in rule.reads}
        alone = rule.judge(Position(**asked), Part("another", "Q", **read), Limits())
        whole = rule.judge(position, part, Limits())
        assert (alone and alone.verdict) == (whole and whole.verdict)
        assert alone == whole


@FEW
@given(POSITIONS, PARTS)
def test_an_answer_given_without_a_look_at_the_part_holds_for_every_part(position: Position, part: Part) -> None:
    for aspect in aspects():
        every = same_for_all(aspect, position, Limits())
        if every is not None:
            finding = aspect.rule.judge(aspect.asked(position), part, Limits())
            assert every == (0 if finding is None else finding.verdict.rank)


def test_a_position_that_states_nothing_is_judged_by_heat_and_life_alone() -> None:
    asked = {a.rule.name for a in aspects() if same_for_all(a, Position(), Limits()) is None}
    assert asked == {"temperature", "life"}


@FEW
@given(POSITIONS, PARTS, st.builds(Limits, pitch_out=numbers("0", "5"), capacitance_low=numbers("0.5", "1.2")))
def test_a_number_is_drawn_between_its_marks_just_where_it_fits(position: Position, part: Part, limits: Limits) -> None:
    judged = judge(position, part, limits)
    for gauge in gauges(position, part, judged, limits):
        assert (gauge.verdict.value == "fits") == (gauge.room >= 0), gauge
    for rule in {finding.rule for finding in judged.findings}:
        drawn = [gauge.verdict for gauge in gauges(position, part, judged, limits) if gauge.rule == rule]
        judged_so = next(finding.verdict for finding in judged.findings if finding.rule == rule)
        assert not drawn or max(drawn, key=lambda v: v.rank).rank <= judged_so.rank
