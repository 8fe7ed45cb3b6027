"""The table of rules, row by row: on each limit, just inside it, just outside it.

Where a number is published its source stands beside the check; all others are common practice.
"""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from typing import Any

import pytest

from recap.match.protection import cautions, classes
from recap.match.rules import RULES, judge
from recap.model import Finding, Kind, Limits, Mount, Part, Position, Role, Verdict

D = Decimal


def position(**stated: Any) -> Position:
    return Position(**stated)


def part(**stated: Any) -> Part:
    return Part("a shop", "P1", **stated)


def finding(rule: str, asked: Position, offered: Part, limits: Limits | None = None) -> Finding | None:
    found = judge(asked, offered, limits or Limits())
    return next((f for f in found.findings if f.rule == rule), None)


def verdict(rule: str, asked: Position, offered: Part, limits: Limits | None = None) -> str | None:
    found = finding(rule, asked, offered, limits)
    return None if found is None else found.verdict.value


KINDS = {
    ("electrolytic", "electrolytic"): "fits",
    ("electrolytic", "tantalum"): "care",
    ("tantalum", "electrolytic"): "care",
    ("bipolar", "film"): "care",
    ("electrolytic", "film"): "care",
    ("electrolytic", "bipolar"): "care",
    ("tantalum", "bipolar"): "care",
    ("bipolar", "bipolar"): "fits",
    # Vishay 038 RSU data sheet: reverse voltage at most 1 V
    ("bipolar", "electrolytic"): "no",
    ("bipolar", "tantalum"): "no",
    ("tantalum", "film"): "no",
    ("electrolytic", "ceramic"): "no",
    ("film", "ceramic"): "no",
    ("ceramic", "film"): "no",
    ("film", "electrolytic"): "no",
    ("film", "safety"): "no",
    ("safety", "film"): "no",
    ("other", "other"): "fits",
    ("other", "film"): "no",
}


@pytest.mark.parametrize(
    ("pair", "expected"), KINDS.items(), ids=lambda v: "-for-".join(reversed(v)) if len(v) == 2 else v
)
def test_kind(pair: tuple[str, str], expected: str) -> None:
    asked, offered = (Kind(name) for name in pair)
    assert verdict("kind", position(kind=asked), part(kind=offered)) == expected


def test_an_unstated_kind_is_not_judged_and_an_unknown_part_is_care() -> None:
    assert verdict("kind", position(), part(kind=Kind.FILM)) is None
    assert verdict("kind", position(kind=Kind.FILM), part()) == "care"


@pytest.mark.parametrize(
    ("asked", "offered", "expected"),
    [
        # An X2 part is a film part and a Y2 part often a ceramic one (common practice): lists and catalogues
        # name now the one, now the other, and IEC 60384-14 proves the class, whatever the part is made of.
        ((Kind.SAFETY, "X2"), (Kind.FILM, "X2"), "fits"),
        ((Kind.FILM, "X2"), (Kind.SAFETY, "X1"), "fits"),
        ((Kind.SAFETY, "Y2"), (Kind.CERAMIC, "X1/Y2"), "fits"),
        ((Kind.SAFETY, "X2"), (Kind.UNKNOWN, "X2"), "fits"),
        ((Kind.FILM, "X2"), (Kind.FILM, "X2"), "fits"),
        ((Kind.SAFETY, "X2"), (Kind.FILM, None), "no"),
        ((Kind.FILM, "X2"), (Kind.SAFETY, None), "no"),
        ((Kind.FILM, None), (Kind.SAFETY, "X2"), "no"),
        ((Kind.SAFETY, "X2"), (Kind.ELECTROLYTIC, "X2"), "no"),
        ((Kind.CERAMIC, "Y2"), (Kind.FILM, "Y2"), "no"),
    ],
)
def test_a_safety_part_may_be_called_by_its_class_or_by_what_it_is_made_of(
    asked: tuple[Kind, str | None], offered: tuple[Kind, str | None], expected: str
) -> None:
    place, new = position(kind=asked[0], safety=asked[1]), part(kind=offered[0], safety=offered[1])
    assert verdict("kind", place, new) == expected


@pytest.mark.parametrize(
    ("old", "new", "role", "expected"),
    [
        ("100", "100", None, "fits"),
        ("100", "120", None, "fits"),  # exactly 1.20
        ("1.5", "1.8", None, "fits"),  # 1.2 × 1.5 is 1.7999… in floating point
        ("100", "120.0001", None, "care"),
        ("100", "150", None, "care"),  # exactly 1.50
        ("100", "150.0001", None, "no"),
        ("100", "99.9999", None, "no"),
        ("100", "200", "smoothing", "care"),  # exactly 2.00
        ("100", "200.0001", "smoothing", "no"),
        ("100", "120", "smoothing", "fits"),
        ("0.1", "0.12", "coupling", "fits"),
        ("100", "100.0", "timing", "fits"),
        ("100", "101", "timing", "no"),
        ("100", "99", "timing", "no"),
        ("0.0091", "0.0091", "deflection", "fits"),
        ("0.0091", "0.0092", "deflection", "no"),
        ("0.0091", "0.0090", "deflection", "no"),
    ],
)
def test_capacitance(old: str, new: str, role: str | None, expected: str) -> None:
    asked = position(value_uF=D(old), role=None if role is None else Role(role))
    limits = Limits(capacitance_care=D(2)) if role == "smoothing" else Limits()
    assert verdict("capacitance", asked, part(value_uF=D(new)), limits) == expected


@pytest.mark.parametrize(("old", "new"), [("25", "22"), ("50", "47"), ("250", "220"), ("500", "470"), ("2.5", "2.2")])
def test_an_obsolete_value_takes_its_e6_successor(old: str, new: str) -> None:
    # IEC 60063, series E6
    assert verdict("capacitance", position(value_uF=D(old)), part(value_uF=D(new))) == "fits"
    for role in (Role.TIMING, Role.DEFLECTION):
        assert verdict("capacitance", position(value_uF=D(old), role=role), part(value_uF=D(new))) == "no"


def test_below_1_uF_old_values_have_successors_too() -> None:
    # IEC 60063, series E6; 0.05 and 0.5 µF were the usual coupling values of valve sets (common practice)
    for old, new in (("0.5", "0.47"), ("0.05", "0.047"), ("1.6", "1.5")):
        assert verdict("capacitance", position(value_uF=D(old)), part(value_uF=D(new))) == "fits"


def test_the_lower_limit_may_be_set_below_the_old_value() -> None:
    limits = Limits(capacitance_low=D("0.8"))
    for new, expected in (("80", "fits"), ("79.9", "no"), ("99", "fits")):
        assert verdict("capacitance", position(value_uF=D(100)), part(value_uF=D(new)), limits) == expected


def test_what_the_position_does_not_state_is_not_judged_whatever_the_part_states() -> None:
    stated = {"value_uF": D(47), "volts": D(35), "ripple_mA": D(90), "pitch_mm": D(5), "diameter_mm": D(8)}
    told = judge(position(), part(**stated, kind=Kind.FILM, mount=Mount.SMD, safety="X2"), Limits())
    assert [found.rule for found in told.findings] == ["temperature"]
    assert [f.rule for f in judge(position(), part(), Limits()).findings] == ["temperature"]


def test_a_position_of_no_capacitance_is_answered_too() -> None:
    assert verdict("capacitance", position(value_uF=D(0)), part(value_uF=D(47))) == "no"
    assert verdict("capacitance", position(value_uF=D(0)), part(value_uF=D(0))) == "fits"


def test_other_values_below_the_old_one_take_no_successor() -> None:
    assert verdict("capacitance", position(value_uF=D(50)), part(value_uF=D(46))) == "no"
    assert verdict("capacitance", position(value_uF=D(47)), part(value_uF=D(33))) == "no"


def test_a_safety_part_takes_its_own_value_only() -> None:
    # IEC 60384-14: the class is proven for the part as marked; the leakage of a Y part grows with its value
    for stated in ({"safety": "Y2", "kind": Kind.SAFETY}, {"safety": "Y2"}, {"kind": Kind.SAFETY}):
        asked = position(value_uF=D("0.0047"), **stated)
        assert verdict("capacitance", asked, part(value_uF=D("0.0047"))) == "fits"
        assert verdict("capacitance", asked, part(value_uF=D("0.0051"))) == "no"


@pytest.mark.parametrize(
    ("old", "works_at", "new", "expected"),
    [
        ("25", None, "25", "fits"),
        ("25", None, "24.9", "no"),
        ("25", None, "50", "fits"),  # exactly twice
        ("25", None, "50.1", "care"),
        ("385", None, "400", "fits"),
        ("385", None, "350", "no"),  # neighbours by number: 350 is below 385
        ("350", None, "385", "fits"),
        # makers advise 70-80 % of the rating: with 0.8, 12 V needs 15 V, 5 V needs 6.25 V, 40 V needs 50 V exactly
        ("16", "12", "16", "fits"),
        ("10", "12", "15", "fits"),
        ("6.3", "5", "6.3", "fits"),
        ("50", "40", "50", "fits"),
        ("50", "40.01", "50", "care"),
        ("50", "50", "50", "care"),
        ("50", "50.01", "50", "no"),  # Chemi-Con guide page 4: never above the rating
        ("50", "50.01", "63", "fits"),
        (None, "30", "35", "care"),
        (None, "28", "35", "fits"),
        (None, "36", "35", "no"),
    ],
)
def test_voltage(old: str | None, works_at: str | None, new: str, expected: str) -> None:
    asked = position(volts=D(old) if old else None, operating_V=D(works_at) if works_at else None)
    assert verdict("voltage", asked, part(volts=D(new))) == expected


@pytest.mark.parametrize(
    ("works_at", "least"), [("5", "6.3"), ("12", "16"), ("13", "25"), ("24", "35"), ("40", "50"), ("50", "63")]
)
def test_the_least_standard_rating_for_a_working_voltage(works_at: str, least: str) -> None:
    """Makers advise 70-80 % of the rating (dgyouchen.com, 2020-08-04); ratings: KEMET ESH (A4005, 2016)."""
    listed = "6.3 10 16 25 35 50 63 100 160 200 250 350 400 420 450 500".split()
    fitting = [v for v in listed if verdict("voltage", position(operating_V=D(works_at)), part(volts=D(v))) == "fits"]
    assert fitting[0] == least


def test_a_deflection_position_says_x_rays_and_names_the_law() -> None:
    asked = position(value_uF=D("0.0091"), role=Role.DEFLECTION)
    found = finding("capacitance", asked, part(value_uF=D("0.0082")))
    assert found is not None
    assert found.source is not None
    assert "X-rays" in found.reason
    assert "21 CFR 1020.10" in found.source.text


def test_where_rating_and_working_voltage_fit_both_sources_are_named() -> None:
    found = finding("voltage", position(volts=D(25), operating_V=D(20)), part(volts=D(35)))
    assert found is not None
    assert found.source is not None
    assert found.source.text.startswith("never below the old rating; working voltage, published: makers' advice")
    low = finding("voltage", position(volts=D(25), operating_V=D(34)), part(volts=D(35)))
    assert low is not None
    assert low.source is not None
    assert low.source.text.startswith("makers' advice")


def test_voltage_margin_and_unknowns() -> None:
    found = finding("voltage", position(volts=D(25)), part(volts=D(35)))
    assert found is not None
    assert (found.original, found.substitute, found.margin, found.unit) == (D(25), D(35), D("1.4"), "V")
    assert verdict("voltage", position(), part(volts=D(35))) is None
    assert verdict("voltage", position(volts=D(25)), part()) == "care"
    assert verdict("voltage", position(operating_V=D(25)), part()) == "care"


@pytest.mark.parametrize(
    ("old", "new", "expected"),
    [(85, 105, "fits"), (85, 104, "no"), (None, 105, "fits"), (None, 85, "no"), (125, 105, "no"), (125, 125, "fits")],
)
def test_temperature_is_judged_even_where_the_list_states_none(old: int | None, new: int, expected: str) -> None:
    assert verdict("temperature", position(temp_C=old), part(temp_C=new)) == expected


def test_temperature_follows_temp_min_but_not_below_the_old_rating() -> None:
    assert verdict("temperature", position(temp_C=85), part(temp_C=85), Limits(temp_min=85)) == "fits"
    assert verdict("temperature", position(temp_C=105), part(temp_C=85), Limits(temp_min=85)) == "no"
    assert verdict("temperature", position(), part()) == "care"


@pytest.mark.parametrize(
    ("kind", "hours", "expected"),
    [
        (Kind.ELECTROLYTIC, "2000", "fits"),
        (Kind.ELECTROLYTIC, "1999", "no"),
        (Kind.BIPOLAR, "1000", "no"),
        (Kind.ELECTROLYTIC, None, "care"),
        (Kind.FILM, "1000", None),
        (Kind.FILM, None, None),
        (Kind.TANTALUM, None, None),
    ],
)
def test_life_is_asked_of_wet_parts_only(kind: Kind, hours: str | None, expected: str | None) -> None:
    offered = part(kind=kind, life_h=None if hours is None else D(hours))
    assert verdict("life", position(kind=kind), offered) == expected


def test_what_the_bench_asks_for_is_never_told_as_the_old_parts_own() -> None:
    asked = position(kind=Kind.ELECTROLYTIC, temp_C=85, operating_V=D(20))
    for rule, words in (("life", "2000 h asked"), ("temperature", "105 °C asked"), ("voltage", "20 V asked")):
        found = finding(rule, asked, part(kind=Kind.ELECTROLYTIC))
        assert found is not None
        assert found.verdict is Verdict.CARE
        assert (found.original, found.substitute) == (D(85) if rule == "temperature" else None, None)
        assert words in found.reason


def test_life_of_a_part_of_unstated_kind() -> None:
    assert verdict("life", position(kind=Kind.ELECTROLYTIC), part()) == "care"
    assert verdict("life", position(), part()) is None
    assert verdict("life", position(), part(life_h=D(1000))) == "no"


MOUNTS = [
    (Mount.RADIAL, Mount.RADIAL, "fits"),
    (Mount.AXIAL, Mount.RADIAL, "care"),
    (Mount.RADIAL, Mount.AXIAL, "no"),
    (Mount.SNAP_IN, Mount.RADIAL, "no"),
    (Mount.SMD, Mount.RADIAL, "no"),
    (Mount.RADIAL, None, "care"),
    (None, Mount.SMD, None),
]


@pytest.mark.parametrize(("old", "new", "expected"), MOUNTS)
def test_mount(old: Mount | None, new: Mount | None, expected: str | None) -> None:
    assert verdict("mount", position(mount=old), part(mount=new)) == expected


def test_a_radial_part_serves_an_axial_place_as_far_as_its_leads_reach() -> None:
    near, far = (position(mount=Mount.AXIAL, pitch_mm=D(span)) for span in ("30", "30.1"))
    assert verdict("mount", near, part(mount=Mount.RADIAL)) == "care"
    assert verdict("mount", far, part(mount=Mount.RADIAL)) == "no"


@pytest.mark.parametrize(
    ("holes", "leads", "expected"),
    [
        # ± 0.5 mm: drawing of a radial series (SU, dtsheet.com/model/1530872)
        ("5", "5", "fits"),
        ("5", "5.5", "fits"),
        ("5", "4.5", "fits"),
        ("5", "2", "fits"),  # formed out by exactly 3 mm
        ("5", "1.9", "care"),
        ("5", "5.51", "care"),
        ("5", "5.6", "care"),
        ("5", "6", "care"),  # wider by exactly 1 mm
        ("5", "6.01", "no"),
        ("5", "6.1", "no"),
        ("7.5", "5", "fits"),
        ("10", "5", "care"),
        ("5", None, "care"),
        (None, "5", None),
    ],
)
def test_pitch(holes: str | None, leads: str | None, expected: str | None) -> None:
    asked = position(pitch_mm=D(holes) if holes else None)
    assert verdict("pitch", asked, part(pitch_mm=D(leads) if leads else None)) == expected


@pytest.mark.parametrize(
    ("old", "new", "expected"),
    [
        # diameter + 0.5 mm at most: drawing of a radial series (SU, dtsheet.com/model/1530872)
        (("10", "16"), ("10", "16"), "fits"),
        (("10", "16"), ("10.5", "16.5"), "fits"),
        (("10", "16"), ("8", "11.5"), "fits"),
        (("10", "16"), ("10.6", "16"), "care"),
        (("10", "16"), ("12", "18"), "care"),
        (("10", "16"), ("12.1", "16"), "no"),
        (("10", "16"), ("10", "18.1"), "no"),
        (("10", None), ("10", "40"), "fits"),
        ((None, "16"), ("25", "16"), "fits"),
        (("10", "16"), ("10", None), "care"),
        (("10", "16"), ("13", None), "no"),
        ((None, None), ("10", "16"), None),
    ],
)
def test_size(old: tuple[str | None, ...], new: tuple[str | None, ...], expected: str | None) -> None:
    diameter, height = (D(text) if text else None for text in old)
    offered = [D(text) if text else None for text in new]
    found = verdict(
        "size", position(diameter_mm=diameter, height_mm=height), part(diameter_mm=offered[0], height_mm=offered[1])
    )
    assert found == expected


@pytest.mark.parametrize(
    ("old", "new", "role", "expected"),
    [
        ("1000", "1000", None, "fits"),
        ("1000", "999", None, "care"),
        ("1000", "900", None, "care"),
        ("1000", "899", None, "no"),
        ("1000", None, None, None),
        ("1000", None, "coupling", None),
        ("1000", None, "switching", "care"),
        ("1000", None, "smoothing", "care"),
        (None, "100", "smoothing", None),
    ],
)
def test_ripple(old: str | None, new: str | None, role: str | None, expected: str | None) -> None:
    asked = position(ripple_mA=D(old) if old else None, role=Role(role) if role else None)
    assert verdict("ripple", asked, part(ripple_mA=D(new) if new else None)) == expected


@pytest.mark.parametrize(
    ("old", "new", "expected"),
    [
        # IEC 60384-14: X1 bears 4 kV, X2 2.5 kV; Y1 bears 8 kV, Y2 5 kV
        ("X2", "X2", "fits"),
        ("X2", "X1", "fits"),
        ("X1", "X2", "no"),
        ("Y2", "Y1", "fits"),
        ("Y1", "Y2", "no"),
        ("X2", "Y2", "no"),
        ("Y2", "X1", "no"),
        ("Y2", "X1/Y2", "fits"),
        ("X1/Y2", "X1Y1", "fits"),
        ("X1/Y2", "Y2", "no"),
        ("x2", "X2 275 VAC", "fits"),
        ("X2", None, "no"),
        ("safety part", "Safety Part", "fits"),
        ("safety part", "X2", "no"),
        (None, "X2", None),
    ],
)
def test_safety(old: str | None, new: str | None, expected: str | None) -> None:
    assert verdict("safety", position(safety=old), part(safety=new)) == expected


@pytest.mark.parametrize(
    ("asked", "offered", "expected"),
    [
        ({"volts": D(275), "volts_ac": True, "kind": Kind.FILM}, {"kind": Kind.FILM, "volts": D(400)}, "care"),
        ({"volts": D(275), "volts_ac": True}, {"kind": Kind.SAFETY, "safety": "X2"}, "care"),  # it may be a Y part
        ({"volts": D(110), "volts_ac": True}, {"kind": Kind.FILM}, "care"),
        ({"volts": D(100), "volts_ac": True}, {"kind": Kind.FILM}, None),  # no mains is so low
        ({"volts": D(275)}, {"kind": Kind.FILM}, None),
        ({"volts": D(330), "volts_ac": True, "kind": Kind.BIPOLAR}, {"kind": Kind.BIPOLAR}, None),  # motor start
        ({"volts": D(275), "volts_ac": True, "safety": "X2"}, {"kind": Kind.FILM}, "no"),
    ],
)
def test_an_old_part_rated_in_the_mains_voltage_is_looked_at_before_it_is_replaced(
    asked: dict[str, Any], offered: dict[str, Any], expected: str | None
) -> None:
    """Classes X and Y: IEC 60384-14. That such parts are listed by their AC voltage alone is common practice."""
    assert verdict("safety", position(**asked), part(**offered)) == expected
    assert bool(cautions(position(**asked))) is (expected is not None)


def test_a_plain_part_never_replaces_a_safety_part_whose_class_nobody_wrote_down() -> None:
    asked = position(kind=Kind.SAFETY)
    assert verdict("safety", asked, part(kind=Kind.FILM)) == "no"
    assert verdict("safety", asked, part(kind=Kind.SAFETY)) is None
    assert verdict("safety", asked, part(kind=Kind.SAFETY, safety="X2")) == "care"


def test_the_reason_says_fire_for_x_and_shock_for_y() -> None:
    for asked, word in (("X1", "fire"), ("Y1", "shock")):
        found = finding("safety", position(safety=asked), part(safety="X2" if asked == "X1" else "Y2"))
        assert found is not None
        assert word in found.reason
        assert found.source is not None
        assert "IEC 60384-14" in found.source.text


def test_classes_are_read_out_of_longer_texts() -> None:
    assert classes("class X1 / Y2, 300 V~") == {"X": 1, "Y": 2}
    assert classes("X7R") == classes("XY") == classes(None) == {}


def test_makers() -> None:
    only, never = Limits(makers_only=("Alder & Finch",)), Limits(makers_never=("Quillstone",))
    assert verdict("makers", position(), part(maker="alder & finch "), only) == "fits"
    assert verdict("makers", position(), part(maker="Quillstone"), only) == "no"
    assert verdict("makers", position(), part(maker="QUILLSTONE"), never) == "no"
    assert verdict("makers", position(), part(), never) == "care"
    assert verdict("makers", position(), part(), Limits()) is None


@pytest.mark.parametrize(
    ("bought", "years", "expected"),
    [
        (date(2016, 3, 1), 10, "fits"),  # ten years to the day
        (date(2016, 2, 29), 10, "care"),
        (date(2026, 3, 1), 10, "fits"),
        (date(2016, 2, 29), 11, "fits"),
        (date(2024, 3, 1), D("1.5"), "care"),
        (date(2024, 12, 1), D("1.5"), "fits"),
    ],
)
def test_age_in_the_drawer(bought: date, years: int | Decimal, expected: str) -> None:
    found = judge(position(), part(), Limits(drawer_years=D(years)), bought=bought, today=date(2026, 3, 1))
    assert [f.verdict.value for f in found.findings if f.rule == "drawer"] == [expected]


def test_the_worst_rule_is_the_verdict() -> None:
    asked = position(value_uF=D(100), volts=D(25))
    assert judge(asked, part(value_uF=D(100), volts=D(63), temp_C=105), Limits()).verdict is Verdict.CARE
    assert judge(asked, part(value_uF=D(90), volts=D(63), temp_C=105), Limits()).verdict is Verdict.NO


def test_cautions_are_given_for_safety_and_deflection_parts_only() -> None:
    assert cautions(position(role=Role.COUPLING)) == ()
    assert "fire" in cautions(position(safety="X2"))[0]
    # 36 pA/kg = 0.5 mR/h at 5 cm: CRT standard TEP197-A
    assert "36 pA/kg" in cautions(position(role=Role.DEFLECTION))[0]


def test_every_rule_is_in_the_table_once_and_every_finding_has_words_and_a_source() -> None:
    assert len({rule.name for rule in RULES}) == len(RULES)
    asked = Position(
        value_uF=D(100), volts=D(25), temp_C=85, mount=Mount.AXIAL, kind=Kind.ELECTROLYTIC, pitch_mm=D(5),
        diameter_mm=D(8), height_mm=D(12), role=Role.SWITCHING, operating_V=D(22), ripple_mA=D(500), safety="X2",
    )  # fmt: skip
    limits = Limits(makers_never=("Quillstone",))
    for offered in (part(), part(value_uF=D(100), volts=D(25), temp_C=105, maker="Quillstone")):
        found = judge(asked, offered, limits)
        assert [f.rule for f in found.findings] == [rule.name for rule in RULES]
        assert all(f.reason and f.source is not None and f.source.text for f in found.findings)
