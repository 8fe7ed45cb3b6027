"""One substitution from all sides: numbers, life, ambient, how it goes in, cautions."""

from __future__ import annotations

import io
from dataclasses import replace
from decimal import Decimal
from typing import Any
from xml.etree import ElementTree as ET

from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image

from recap.match.margin import Margin, Use, weigh
from recap.model import Kind, Limits, Mount, Part, Position, Role
from recap.show.margin_plot import margin_picture
from recap.show.margin_view import gauge_bar, margin_document

D = Decimal

OLD = Position(
    value_uF=D(470), volts=D(25), temp_C=85, mount=Mount.RADIAL, kind=Kind.ELECTROLYTIC,
    pitch_mm=D(5), diameter_mm=D(10), height_mm=D(16),
)  # fmt: skip
NEW = Part(
    "Fernlight", "FL-470", value_uF=D(470), volts=D(35), temp_C=105, life_h=D(5000), mount=Mount.RADIAL,
    kind=Kind.ELECTROLYTIC, pitch_mm=D(5), diameter_mm=D(10), height_mm=D(16), ripple_mA=D(1200),
)  # fmt: skip


def weighed(position: Position = OLD, part: Part = NEW, limits: Limits | None = None, **use: Any) -> Margin:
    return weigh(position, part, limits or Limits(), Use(**use))


def test_each_number_as_a_share_of_what_was_asked() -> None:
    found = weighed(replace(OLD, operating_V=D(20), ripple_mA=D(1000)))
    assert {g.label: g.share for g in found.gauges} == {
        "capacitance": D(1),
        "rated voltage": D("1.4"),
        "working voltage": D("0.57143"),
        "temperature": D(1),
        "life": D("2.5"),
        "pitch": D(1),
        "diameter": D(1),
        "height": D(1),
        "ripple": D("1.2"),
    }


def test_life_at_the_ambient_that_is_stated_or_an_assumed_one_that_is_called_so() -> None:
    # Cosel FAQ a0057: 1000 h at 105 °C are 64,000 h at 45 °C
    part = replace(NEW, life_h=D(1000))
    stated, assumed = weighed(part=part, ambient_C=D(45)), weighed(part=part)
    for found in (stated, assumed):
        assert found.life is not None
        assert found.life.hours == 64_000
    assert (stated.ambient_assumed, assumed.ambient_assumed) == (False, True)
    assert margin_document(assumed)["life"]["ambient_assumed"] is True


def test_ripple_and_voltage_go_into_the_most_cautious_life() -> None:
    plain = weighed(ambient_C=D(85))
    loaded = weighed(replace(OLD, operating_V=D(33), ripple_mA=D(1300)), ambient_C=D(85))
    assert plain.life is not None
    assert loaded.life is not None
    assert loaded.life.hours < plain.life.hours


def test_where_there_is_no_life_the_reason_is_said() -> None:
    film = weighed(replace(OLD, kind=Kind.FILM), replace(NEW, kind=Kind.FILM))
    assert film.life is None
    assert "no electrolyte" in film.remarks[0]
    silent = weighed(part=replace(NEW, life_h=None))
    assert silent.life is None
    assert "states no rated life" in silent.remarks[0]


def test_the_ambient_is_judged_where_it_is_stated() -> None:
    def ambient(at: int, profile: str | None = None) -> list[str]:
        found = weighed(limits=Limits(profile=profile), ambient_C=D(at))
        return [f.verdict.value for f in found.judgement.findings if f.rule == "ambient"]

    assert ambient(105) == ["fits"]
    assert ambient(106) == ["no"]
    # RAMSTK, data/RAMSTK.toml: aluminium to stay 10 K below its rated temperature
    assert ambient(95, "long-life") == ["fits"]
    assert ambient(96, "long-life") == ["care"]
    assert [f.rule for f in weighed().judgement.findings if f.rule == "ambient"] == []


def test_what_could_not_be_judged_is_said() -> None:
    bare = weighed(Position(value_uF=D(470)), Part("a shop", "P", value_uF=D(470), temp_C=105))
    assert bare.verdict == "fits"
    assert any("kind was not judged" in line for line in bare.remarks)
    assert any("voltage was not judged" in line for line in bare.remarks)


def test_safety_and_deflection_parts_come_with_their_cautions() -> None:
    assert weighed().cautions == ()
    assert len(weighed(replace(OLD, safety="X2", role=Role.DEFLECTION)).cautions) == 2


def test_the_worst_come_first() -> None:
    good, tight, careful, bad = (
        weighed(),
        weighed(part=replace(NEW, volts=D(25))),
        weighed(part=replace(NEW, volts=D(63))),
        weighed(part=replace(NEW, volts=D(16))),
    )
    ordered = sorted([good, tight, careful, bad], key=lambda m: m.tightness)
    assert ordered == [bad, careful, tight, good]


def test_a_bar_marks_what_fits_and_stays_in_its_width() -> None:
    by_label = {g.label: gauge_bar(g) for g in weighed(part=replace(NEW, volts=D(60))).gauges}
    assert by_label["capacitance"] == "████████████|·|·········"
    assert by_label["life"] == "████████████|██████████»"
    assert by_label["rated voltage"].endswith("»")


def test_an_obsolete_values_successor_is_drawn_where_it_fits() -> None:
    """IEC 60063, E6: 47 stands beside 50, which older lists have; it is within the old part's tolerance."""
    drawn = {g.label: g for g in weighed(replace(OLD, value_uF=D(50)), replace(NEW, value_uF=D(47))).gauges}
    assert (drawn["capacitance"].verdict, drawn["capacitance"].low) == ("fits", D("0.94"))
    other = {g.label: g for g in weighed(replace(OLD, value_uF=D(50)), replace(NEW, value_uF=D(48))).gauges}
    assert (other["capacitance"].verdict, other["capacitance"].low) == ("no", D(1))


def test_of_two_numbers_under_one_rule_each_has_its_own_verdict() -> None:
    """25 V where 25 V was, but at work at 24 V of them: the working voltage wants care, the rating doesn't."""
    drawn = {g.label: g.verdict for g in weighed(replace(OLD, operating_V=D(24)), replace(NEW, volts=D(25))).gauges}
    assert (drawn["rated voltage"], drawn["working voltage"]) == ("fits", "care")
    taller = {g.label: g.verdict for g in weighed(part=replace(NEW, height_mm=D(25))).gauges}
    assert (taller["diameter"], taller["height"]) == ("fits", "no")


@settings(max_examples=60, deadline=None)
@given(st.decimals(D("0.1"), D(500), places=1), st.decimals(D("0.1"), D(500), places=1))
def test_bars_are_of_one_width_whatever_the_numbers(old: Decimal, new: Decimal) -> None:
    found = weighed(replace(OLD, volts=old, ripple_mA=old), replace(NEW, volts=new, ripple_mA=new))
    assert {len(gauge_bar(g)) for g in found.gauges} == {24}


def test_the_document_is_what_other_programs_read() -> None:
    document = margin_document(weighed())
    voltage = next(rule for rule in document["rules"] if rule["rule"] == "voltage")
    assert set(voltage) >= {"rule", "verdict", "original", "substitute", "margin", "unit", "reason", "source"}
    assert (voltage["verdict"], voltage["original"], voltage["substitute"]) == ("fits", 25, 35)
    assert (voltage["margin"], voltage["unit"]) == (1.4, "V")
    assert document["verdict"] == "fits"
    assert {"hours", "model"} <= set(document["life"])


def test_the_picture_is_a_picture_and_the_same_each_time() -> None:
    found = weighed(part=replace(NEW, volts=D(63)))
    title = "costs $5 and $6, <b> & all"
    first, again = (margin_picture(found, title, "svg") for _ in range(2))
    assert first == again
    assert ET.fromstring(first).tag.endswith("svg")
    picture = Image.open(io.BytesIO(margin_picture(found, title, "png")))
    assert picture.format == "PNG"
    assert picture.size[0] > 800
