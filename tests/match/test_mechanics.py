"""Leads, holes and room: the published table, the forming advice, and whether a part goes in."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from recap.match.mechanics import (
    forming_note,
    least_axial_span,
    physical_fit,
    standing_height,
    usual_leads,
    vent_clearance_mm,
)
from recap.model import Mount, Part, Position

D = Decimal


@pytest.mark.parametrize(
    ("case", "pitch", "wire"),
    [
        ("4", "1.5", "0.45"),  # KEMET ESY, page 19; Illinois Capacitor list
        ("5", "2.0", "0.5"),  # from here on: drawing of radial series SU, dtsheet.com 1530872
        ("6.3", "2.5", "0.5"),
        ("8", "3.5", "0.6"),
        ("10", "5.0", "0.6"),
        ("12.5", "5.0", "0.6"),
        ("16", "7.5", "0.8"),
        ("18", "7.5", "0.8"),
    ],
)
def test_case_decides_pitch_and_wire(case: str, pitch: str, wire: str) -> None:
    leads = usual_leads(D(case))
    assert leads is not None
    assert (leads.pitch_mm, leads.wire_mm) == (D(pitch), D(wire))
    assert leads.source.kind == "published"


def test_a_case_may_be_half_a_millimetre_off_and_an_odd_one_has_no_usual_pitch() -> None:
    # D + 0.5 max: SU drawing
    assert usual_leads(D("10.5")) == usual_leads(D(10))
    assert usual_leads(D(14)) is None


@pytest.mark.parametrize(
    ("case", "room"), [("6.3", 2), ("16", 2), ("16.5", 3), ("18", 3), ("35", 3), ("40", 3), ("41", 5)]
)
def test_room_over_the_vent(case: str, room: int) -> None:
    # KEMET A4006 (ESC), page 10: <= 16 mm 2 mm, > 16 to <= 40 mm 3 mm, > 40 mm 5 mm.
    assert vent_clearance_mm(D(case)) == room


def radial(pitch: str | None, diameter: str | None = None, mount: Mount = Mount.RADIAL) -> Part:
    return Part(
        "S",
        "N",
        mount=mount,
        pitch_mm=None if pitch is None else D(pitch),
        diameter_mm=None if diameter is None else D(diameter),
    )


def holes(pitch: str | None, mount: Mount = Mount.RADIAL, diameter: str | None = None) -> Position:
    return Position(
        mount=mount,
        pitch_mm=None if pitch is None else D(pitch),
        diameter_mm=None if diameter is None else D(diameter),
    )


@pytest.mark.parametrize("leads", ["4.5", "5", "5.5"])
def test_the_same_pitch_needs_no_forming(leads: str) -> None:
    # P ± 0.5: SU drawing
    assert forming_note(holes("5"), radial(leads)) is None


def test_narrower_leads_are_formed_out_evenly_and_away_from_the_body() -> None:
    # 1 to 2 mm from the body, 30° at most: DigiKey TechForum 435. 0.75 / tan 30° = 1.30, + 1 mm (own arithmetic).
    note = forming_note(holes("5"), radial("3.5"))
    assert note is not None
    assert "out by 0.75 mm" in note
    assert "at least 1 mm, better 2 mm" in note
    assert "2.3 mm off the board" in note


@pytest.mark.parametrize(("leads", "possible"), [("6", True), ("6.1", False)])
def test_wider_leads_go_in_by_a_millimetre_at_most(leads: str, possible: bool) -> None:
    assert physical_fit(holes("5"), radial(leads)).possible is possible


def test_an_unstated_pitch_is_taken_from_the_case_and_said_so() -> None:
    note = forming_note(holes("7.5"), radial(None, "10"))
    assert note is not None
    assert "leads 5 mm, holes 7.5 mm" in note
    assert "measure" in note


def test_thicker_wire_than_the_old_case_had_is_pointed_out() -> None:
    note = forming_note(holes("7.5", diameter="12.5"), radial("7.5", "16"))
    assert note == "leads 0.8 mm thick where 0.6 mm is usual: see that the holes take them"


def test_every_step_has_a_source() -> None:
    taller = physical_fit(
        Position(mount=Mount.RADIAL, diameter_mm=D(8), height_mm=D(11)),
        Part("a shop", "P", mount=Mount.RADIAL, diameter_mm=D("6.3"), height_mm=D(13)),
    )
    texts = [source.text for source in taller.sources]
    assert len(taller.steps) == 2
    assert [text.split(":")[0].split(",")[0] for text in texts] == [
        "drawing of a radial series (SU", "DigiKey TechForum 435", "Vishay 128 SAL", "KEMET A4006 (ESC)"
    ]  # fmt: skip


def test_a_taller_part_needs_its_room_over_the_vent() -> None:
    # KEMET A4006 (ESC), page 10
    old = Position(mount=Mount.RADIAL, pitch_mm=D(5), diameter_mm=D(10), height_mm=D(16))
    new = Part("S", "N", mount=Mount.RADIAL, pitch_mm=D(5), diameter_mm=D(10), height_mm=D(20))
    assert forming_note(old, new) == "4 mm taller than the old one: keep 2 mm free over its vent"


def test_snap_in_pins_are_ten_millimetres_apart_and_cannot_be_formed() -> None:
    # holes 10.0 ± 0.1: snap-in series TS-U, page 2
    assert physical_fit(holes("10", Mount.SNAP_IN), radial(None, mount=Mount.SNAP_IN)).possible is True
    assert physical_fit(holes("7.5", Mount.SNAP_IN), radial(None, mount=Mount.SNAP_IN)).possible is False


def test_a_radial_part_in_an_axial_place_gets_instructions() -> None:
    note = forming_note(holes("30", Mount.AXIAL), radial("5"))
    assert note is not None
    assert "sleeving" in note
    assert "30 mm apart" in note


@pytest.mark.parametrize(("span", "length", "possible"), [("25", "21", True), ("24", "21", None), ("20", "21", None)])
def test_an_axial_body_needs_straight_lead_at_both_ends(span: str, length: str, possible: bool | None) -> None:
    # 2 mm from the weld: IEC 61760 practice, from memory; so it only warns
    part = Part("S", "N", mount=Mount.AXIAL, height_mm=D(length))
    fit = physical_fit(holes(span, Mount.AXIAL), part)
    assert fit.possible is possible
    assert bool(fit.steps) is (possible is None)


def test_the_wrong_mount_does_not_go_in() -> None:
    assert physical_fit(holes("10", Mount.SNAP_IN), radial("5")).possible is False
    assert physical_fit(Position(mount=Mount.SMD), radial("5")).possible is False


@given(st.decimals(0, 20, places=1), st.decimals(0, 20, places=1))
def test_splayed_wider_stands_higher_and_a_longer_body_needs_a_longer_span(a: Decimal, b: Decimal) -> None:
    low, high = sorted((a, b))
    assert standing_height(low) <= standing_height(high)
    assert least_axial_span(low) <= least_axial_span(high)
    assert vent_clearance_mm(low) <= vent_clearance_mm(high)
