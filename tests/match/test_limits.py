"""Numbers and their sources, and how a bench's settings lay over them."""

from __future__ import annotations

from dataclasses import fields
from decimal import Decimal

import pytest

from recap.match.limits import MEANINGS, PROFILES, ROLE_LIMITS, SOURCES, derating, limits_for, numbers
from recap.match.rules import judge
from recap.model import Kind, Limits, Part, Position, Role, Settings
from recap.settings import settings_from_text

D = Decimal


def settings(text: str) -> Settings:
    read, told = settings_from_text(text, "bench.toml")
    assert told == []
    return read


def test_defaults_of_every_role() -> None:
    plain = limits_for(Settings(), None)
    assert plain == Limits()
    assert limits_for(Settings(), Role.COUPLING) == plain
    assert limits_for(Settings(), Role.SMOOTHING).capacitance_care == D("2.0")
    assert limits_for(Settings(), Role.TIMING).capacitance_high == D(1)


def test_a_roles_own_default_gives_way_only_to_that_role() -> None:
    bench = settings("[rules]\ncapacitance_care = 1.3\ntemp_min = 85\n[rules.smoothing]\nlife_min = 5000\n")
    assert limits_for(bench, None).capacitance_care == D("1.3")
    smoothing = limits_for(bench, Role.SMOOTHING)
    assert (smoothing.capacitance_care, smoothing.temp_min, smoothing.life_min) == (D("2.0"), 85, D(5000))
    own = settings("[rules.smoothing]\ncapacitance_care = 1.7\n")
    assert limits_for(own, Role.SMOOTHING).capacitance_care == D("1.7")


def test_no_setting_widens_timing_or_deflection() -> None:
    bench = settings("[rules.deflection]\ncapacitance_low = 0.5\ncapacitance_high = 1.2\n")
    asked = Position(value_uF=D("0.0091"), role=Role.DEFLECTION)
    found = judge(asked, Part("a shop", "P", value_uF=D("0.01")), limits_for(bench, Role.DEFLECTION))
    assert found.findings[0].verdict == "no"


def test_every_number_has_a_source_that_says_what_it_is() -> None:
    numbers = {f.name for f in fields(Limits)} - {"makers_only", "makers_never", "profile"}
    assert numbers <= set(SOURCES)
    told = [*SOURCES.values(), *(profile.source for profile in PROFILES.values())]
    assert {c.kind for c in told} <= {"published", "common practice", "from memory"}
    assert all(c.text for c in told)
    assert all(hasattr(Limits(), key) for keys in ROLE_LIMITS.values() for key in keys)


@pytest.mark.parametrize(
    ("profile", "kind", "factor"),
    [
        (None, Kind.ELECTROLYTIC, "0.8"),
        ("home", Kind.ELECTROLYTIC, "0.8"),
        ("home", Kind.TANTALUM, "0.8"),
        # RAMSTK, data/RAMSTK.toml: aluminium 0.70, tantalum 0.60
        ("long-life", Kind.ELECTROLYTIC, "0.70"),
        ("long-life", Kind.TANTALUM, "0.60"),
        ("long-life", Kind.FILM, "0.8"),
        # MIL-STD-975M, as transcribed: solid tantalum .50 up to 70 °C, ceramic .60; no row for aluminium
        ("spaceflight", Kind.TANTALUM, "0.50"),
        ("spaceflight", Kind.CERAMIC, "0.60"),
        ("spaceflight", Kind.FILM, "0.60"),
        ("spaceflight", Kind.ELECTROLYTIC, "0.8"),
        # NAVSO P-3641A as quoted: at least 25 % below the rating
        ("three-quarters", Kind.ELECTROLYTIC, "0.75"),
    ],
)
def test_derating_profiles(profile: str | None, kind: Kind, factor: str) -> None:
    assert derating(Limits(profile=profile), kind)[0] == D(factor)


def test_who_asks_for_a_derating() -> None:
    for limits, said in (
        (Limits(), "70-80 % of the rating"),
        (Limits(derating=D("0.7")), "the bench's own derating"),
        (Limits(derating=D("0.7"), profile="home"), "70-80 % of the rating"),
        (Limits(derating=D("0.7"), profile="long-life"), "RAMSTK"),
    ):
        assert said in derating(limits, Kind.ELECTROLYTIC)[1].text
    assert derating(Limits(derating=D("0.7"), profile="spaceflight"), Kind.BIPOLAR)[0] == D("0.7")


def test_only_the_long_life_profile_asks_to_stay_below_the_rated_temperature() -> None:
    # RAMSTK, data/RAMSTK.toml: 10 K
    assert {name: each.headroom_K for name, each in PROFILES.items() if each.headroom_K} == {"long-life": D(10)}


@pytest.mark.parametrize("role", [Role.TIMING, Role.DEFLECTION])
def test_a_tuned_position_has_no_window(role: Role) -> None:
    found = limits_for(Settings(), role)
    assert {found.capacitance_low, found.capacitance_high, found.capacitance_care} == {D(1)}


def test_the_numbers_in_force_and_who_set_them() -> None:
    bench = settings("[rules]\ncapacitance_care = 1.3\ntemp_min = 85\n[rules.smoothing]\nlife_min = 5000\n")
    for role, care, life in ((None, "[rules]", None), (Role.COUPLING, "[rules]", None), (Role.SMOOTHING, None, "own")):
        found = {each.key: each for each in numbers(bench, role)}
        assert list(found) == list(MEANINGS)
        assert (found["capacitance_care"].set_by, found["temp_min"].set_by) == (care, "[rules]")
        assert found["life_min"].set_by == ("[rules.smoothing]" if life else None)
        assert found["life_min"].value == (D(5000) if life else D(2000))
        assert found["pitch_out"].set_by is None
        assert all(each.source == SOURCES[key] for key, each in found.items())


def test_a_profile_turns_the_voltage_rule_and_names_its_source() -> None:
    bench = settings('[rules]\nprofile = "long-life"\n')
    asked, offered = Position(volts=D(25), operating_V=D(26)), Part("a shop", "P", volts=D(35), kind=Kind.ELECTROLYTIC)
    found = next(f for f in judge(asked, offered, limits_for(bench, None)).findings if f.rule == "voltage")
    assert found.verdict == "care"  # 26 / 35 = 0.743: above 0.70, below 0.8
    assert found.source is not None
    assert "RAMSTK" in found.source.text
