"""Numbers and their sources, and how a bench's settings lay over them."""

from __future__ import annotations

from dataclasses import fields
from decimal import Decimal

import pytest

from recap.match.limits import PROFILES, ROLE_LIMITS, SOURCES, derating, limits_for
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
        ("spaceflight", Kind.ELECTROLYTIC, "0.8"),
        # NAVSO P-3641A as quoted: at least 25 % below the rating
        ("three-quarters", Kind.ELECTROLYTIC, "0.75"),
    ],
)
def test_derating_profiles(profile: str | None, kind: Kind, factor: str) -> None:
    assert derating(Limits(profile=profile), kind)[0] == D(factor)


def test_a_profile_turns_the_voltage_rule_and_names_its_source() -> None:
    bench = settings('[rules]\nprofile = "long-life"\n')
    asked, offered = Position(volts=D(25), operating_V=D(26)), Part("a shop", "P", volts=D(35), kind=Kind.ELECTROLYTIC)
    found = next(f for f in judge(asked, offered, limits_for(bench, None)).findings if f.rule == "voltage")
    assert found.verdict == "care"  # 26 / 35 = 0.743: above 0.70, below 0.8
    assert found.source is not None
    assert "RAMSTK" in found.source.text
