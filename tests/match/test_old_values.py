"""Old values and cans of several sections: what is fitted today. E6 is IEC 60063; the rest common practice."""

from __future__ import annotations

from decimal import Decimal

import pytest

from recap.match.obsolete import (
    RESERVOIR,
    ROOM,
    modern_value,
    modern_voltage,
    neighbours,
    stand_in_for_can,
)
from recap.model import Role

D = Decimal


@pytest.mark.parametrize(
    ("value", "below", "above"),
    [("50", "47", "68"), ("47", "47", "47"), ("8", "6.8", "10"), ("10", "10", "10"), ("0.05", "0.047", "0.068")],
)
def test_the_neighbours_in_e6(value: str, below: str, above: str) -> None:
    assert neighbours(D(value)) == (D(below), D(above))


@pytest.mark.parametrize(
    ("old", "fit", "percent", "why"),
    [
        ("50", "47", "-6.0", "the E6 value that took its place, −6 %"),
        ("8", "10", "25.0", "the E6 value that took its place, +25 %"),
        ("16", "15", "-6.2", "the E6 value that took its place, −6.2 %"),
        ("47", "47", "0.0", "still made"),
        ("39", "33", "-15.4", "the nearest E6 value, −15.4 %"),
        ("0.1", "0.1", "0.0", "still made"),
    ],
)
def test_what_is_fitted_for_an_old_value(old: str, fit: str, percent: str, why: str) -> None:
    found = modern_value(D(old))
    assert (found.old_uF, found.fit_uF, found.deviation) == (D(old), D(fit), D(percent))
    assert found.reason.startswith(why)
    assert ("measured anything" in found.reason) is (old != fit)


def test_the_old_and_the_new_parts_spread_beside_each_other() -> None:
    """50 µF at -10/+50 % is 45 to 75 µF; 47 µF at ±20 % is 37.6 to 56.4 µF."""
    assert "from 45 to 75 µF, and ±20 % of 47 µF is 37.6 to 56.4 µF" in modern_value(D(50)).reason


@pytest.mark.parametrize(
    ("role", "safety", "word"),
    [
        (Role.TIMING, False, "timing"),
        (Role.DEFLECTION, False, "deflection"),
        (None, True, "safety"),
        (Role.DEFLECTION, True, "safety"),
    ],
)
def test_timing_deflection_and_safety_parts_keep_their_value(role: Role | None, safety: bool, word: str) -> None:
    found = modern_value(D(50), role, safety=safety)
    assert (found.fit_uF, found.deviation) == (50, 0)
    assert word in found.reason


@pytest.mark.parametrize(
    ("old", "fit"),
    [("6", "6.3"), ("6.3", "6.3"), ("6.4", "10"), ("12", "16"), ("385", "400"), ("500", "500"), ("501", None)],
)
def test_the_rating_of_today_is_never_below_the_old_one(old: str, fit: str | None) -> None:
    assert modern_voltage(D(old)) == (None if fit is None else D(fit))


def test_a_can_becomes_separate_parts() -> None:
    found = stand_in_for_can([D(50), D(32)], [D(385), None])
    assert [(s.name, s.value.fit_uF, s.volts, s.fit_V) for s in found.sections] == [
        ("a", D(47), D(385), D(400)),
        ("b", D(33), None, None),
    ]
    assert found.pieces == 2
    assert found.reasons[0].startswith("2 separate parts")
    assert found.reasons[1:] == (ROOM, RESERVOIR)


@pytest.mark.parametrize(
    ("sections", "volts", "reservoir"),
    [
        (["50"], ["25"], False),
        (["50"], ["159"], False),
        (["50"], ["160"], True),  # mains supplies begin here
        (["50", "50"], ["25", "25"], False),
        (["50", "50"], [None, None], False),
        (["50", "50"], [None, "350"], True),
    ],
)
def test_what_is_to_be_minded(sections: list[str], volts: list[str | None], reservoir: bool) -> None:
    rated = [None if v is None else D(v) for v in volts]
    reasons = stand_in_for_can(list(map(D, sections)), rated).reasons
    assert (RESERVOIR in reasons) is reservoir
    assert (ROOM in reasons) is (len(sections) > 1)
    assert len(reasons) == (2 if len(sections) > 1 else 0) + (1 if reservoir else 0)


def test_above_the_highest_rating_two_in_series_are_named_section_by_section() -> None:
    one = stand_in_for_can([D(16)], [D(600)])
    assert one.sections[0].fit_V is None
    assert one.reasons[-1] == "no single part is usual above 500 V; join two in series"
    two = stand_in_for_can([D(16), D(16), D(8)], [D(600), D(450), D(550)])
    assert [s.fit_V for s in two.sections] == [None, 450, None]
    assert [reason.split(":")[0] for reason in two.reasons[-2:]] == ["section a", "section c"]


def test_a_safety_can_keeps_everything_and_needs_no_advice() -> None:
    found = stand_in_for_can([D("0.05"), D("0.05")], [D(275), D(275)], safety=True)
    assert [(s.value.fit_uF, s.fit_V) for s in found.sections] == [(D("0.05"), D(275))] * 2
    assert found.reasons == ()


@pytest.mark.parametrize(("sections", "volts"), [(0, 0), (0, 1), (2, 1), (1, 2)])
def test_each_section_has_its_rating(sections: int, volts: int) -> None:
    with pytest.raises(ValueError, match="each section"):
        stand_in_for_can([D(50)] * sections, [D(350)] * volts)


def test_more_sections_than_letters_are_numbered() -> None:
    names = [section.name for section in stand_in_for_can([D(1)] * 28, [D(25)] * 28).sections]
    assert names[0] + names[25] == "az"
    assert names[26:] == ["27", "28"]
