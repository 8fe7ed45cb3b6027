"""The search over catalogues finds what the rules accept, no more and no less; and names what came nearest."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from decimal import Decimal
from typing import TYPE_CHECKING, Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from recap.bench.catalogues import read_catalogue
from recap.match.candidates import Candidates, problem
from recap.match.columns import Offers
from recap.match.limits import limits_for
from recap.match.rules import judge
from recap.model import (
    DRAWER,
    DrawerPart,
    Extra,
    Group,
    Kind,
    Limits,
    Mount,
    Part,
    Placed,
    Position,
    Role,
    Settings,
    SupplierTerms,
    Verdict,
)
from tests.match.shelf import BenchByHand, Rows

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

    from recap.match.nearest import Unfit

D = Decimal
TODAY = date(2026, 3, 1)


def part(number: str, shop: str = "Fernlight", **stated: Any) -> Part:
    good: dict[str, Any] = {
        "value_uF": D(47), "volts": D(25), "temp_C": 105, "life_h": D(5000), "mount": Mount.RADIAL,
        "kind": Kind.ELECTROLYTIC, "pitch_mm": D(2), "diameter_mm": D(5), "height_mm": D(11), "maker": "Quillstone",
    }  # fmt: skip
    return Part(shop, number, **(good | stated))


ASKS = Position(
    value_uF=D(47), volts=D(25), temp_C=85, mount=Mount.RADIAL, kind=Kind.ELECTROLYTIC,
    pitch_mm=D(2), diameter_mm=D(5), height_mm=D(11),
)  # fmt: skip


def group(name: str = "G", asks: Position = ASKS, **more: Any) -> Group:
    return Group(name, asks, (Placed("S1", asks),), **more)


def sought(
    parts: list[Part], asks: Position | list[Group] = ASKS, drawer: tuple[DrawerPart, ...] = (), **settings_: Any
) -> Candidates:
    shops: dict[str, list[Part]] = {}
    for one in parts:
        shops.setdefault(one.supplier, []).append(one)
    bench = BenchByHand(
        catalogues={name: Rows(rows) for name, rows in shops.items()},
        suppliers={name: SupplierTerms(name, "EUR", D(1)) for name in shops},
        drawer=drawer,
        settings=Settings(**settings_),
    )
    groups = asks if isinstance(asks, list) else [group(asks=asks)]
    return problem(bench, groups, today=TODAY)  # type: ignore[arg-type]


def numbers(found: Candidates, name: str = "G") -> list[str]:
    return [found.problem.offers[i].number for i in found.problem.suits[name]]


def test_what_fits_from_every_shop_and_with_care_only_where_allowed() -> None:
    parts = [
        part("A"),
        part("B", "Mossgate", volts=D(35)),
        part("C", volts=D(63)),  # more than twice: care
        part("D", volts=D(16)),
        part("E", "Mossgate", value_uF=None, volts=None),  # a connector
    ]
    assert numbers(sought(parts)) == ["A", "B"]
    assert numbers(sought(parts, allow_care=True)) == ["A", "C", "B"]
    assert [p.number for p in sought(parts).problem.offers] == ["A", "B"]


def test_suppliers_can_be_left_out() -> None:
    bench = BenchByHand(
        catalogues={"Fernlight": Rows([part("A")]), "Mossgate": Rows([part("B", "Mossgate")])},
        suppliers={name: SupplierTerms(name, "EUR", D(1)) for name in ("Fernlight", "Mossgate")},
    )
    found = problem(bench, [group()], without=frozenset({"Fernlight"}), today=TODAY)  # type: ignore[arg-type]
    assert (numbers(found), list(found.problem.suppliers)) == (["B"], ["Mossgate"])


def test_the_drawer_serves_by_the_same_rules_and_by_age() -> None:
    def kept(number: str, bought: date | None) -> DrawerPart:
        return DrawerPart(replace(part(number), supplier=DRAWER, prices=()), 5, bought)

    drawer = (kept("NEW", date(2020, 1, 1)), kept("OLD", date(2010, 1, 1)), kept("UNDATED", None))
    assert sought([], drawer=drawer).problem.drawer_suits["G"] == (0, 2)
    assert sought([], drawer=drawer, allow_care=True).problem.drawer_suits["G"] == (0, 1, 2)
    assert sought([], drawer=drawer, use_drawer=False).problem.drawer_suits["G"] == ()
    connector = replace(kept("X", None), part=Part(DRAWER, "X"))
    assert sought([], drawer=(connector,), allow_care=True).problem.drawer_suits["G"] == ()


def test_extras_are_found_by_number_wherever_offered() -> None:
    extra = Group("extra: fuse", None, extra=Extra("fuse", 2, ("F-1", "F-2")))
    parts = [part("F-2"), part("A"), Part("Mossgate", "F-1"), Part("Mossgate", "F-10")]
    drawer = (DrawerPart(Part(DRAWER, "F-1"), 1),)
    found = sought(parts, [group(), extra], drawer)
    assert [(o.supplier, o.number) for o in found.problem.offers] == [
        ("Fernlight", "F-2"),
        ("Fernlight", "A"),
        ("Mossgate", "F-1"),
    ]
    assert numbers(found, "extra: fuse") == ["F-2", "F-1"]
    assert found.problem.drawer_suits["extra: fuse"] == (0,)
    assert found.judgement("extra: fuse", found.problem.offers[0]) is None


def test_judgements_are_there_to_explain() -> None:
    found = sought([part("A", volts=D(63))], allow_care=True)
    judgement = found.judgement("G", found.problem.offers[0])
    assert judgement is not None
    assert [f.rule for f in judgement.findings if f.verdict is Verdict.CARE] == ["voltage"]


def unfit(found: Candidates) -> Unfit:
    return found.unfit["G"]


@pytest.mark.parametrize(
    ("stated", "rule", "helps"),
    [
        ({"life_h": D(1000)}, "life", ["life_min = 1000 instead of 2000 would admit A (Fernlight)"]),
        ({"temp_C": 85}, "temperature", ["temp_min = 85 instead of 105 would admit A (Fernlight)"]),
        ({"value_uF": D(43)}, "capacitance", ["capacitance_low = 0.914 instead of 1 would admit A (Fernlight)"]),
        ({"height_mm": D("12.5")}, "size", ["allow_care = true would admit A (Fernlight)",
                                            "size_fits = 1.5 instead of 0.5 would admit A (Fernlight)"]),
        ({"volts": D(16)}, "voltage", []),
        ({"kind": Kind.CERAMIC}, "kind", []),
        ({"mount": Mount.SMD}, "mount", []),
    ],
)  # fmt: skip
def test_where_nothing_fits_the_nearest_and_the_single_change_that_helps(
    stated: dict[str, Any], rule: str, helps: list[str]
) -> None:
    found = unfit(sought([part("A", **stated), part("Z", value_uF=D(10), volts=D(6), temp_C=85)]))
    assert found.nearest[0].part.number == "A"
    assert [f.rule for f in found.nearest[0].against] == [rule]
    assert found.nearest[0].reason in found.reason
    assert [h.text for h in found.helps] == helps


def test_the_nearest_are_different_parts_that_fail_by_different_rules() -> None:
    parts = [part(f"L{i}", life_h=D(1990 - i)) for i in range(7)]
    parts += [part("L0", "Mossgate", life_h=D(1990)), part("V", volts=D(16)), part("FAR", value_uF=D(10))]
    found = unfit(sought(parts))
    shown = [near.part.number for near in found.nearest]
    assert shown[0] == "L0"
    assert "V" in shown
    assert "FAR" not in shown
    assert len(set(shown)) == len(shown) == 5


def test_a_change_that_is_named_was_tried() -> None:
    asks = replace(ASKS, temp_C=105)
    found = unfit(sought([part("A", temp_C=85)], asks))
    assert found.helps == ()  # the old rating asks for 105 °C, whatever temp_min says
    eased = sought([part("A", life_h=D(1000))], rules={None: {"life_min": D(1000)}})
    assert eased.unfit == {}


def test_nothing_at_all() -> None:
    assert unfit(sought([])).reason == "no catalogue offers any capacitor"
    extra = Group("extra: fuse", None, extra=Extra("fuse", 2, ("F-1", "F-2")))
    assert sought([part("A")], [extra]).unfit["extra: fuse"].reason == "no catalogue offers F-1 or F-2"


def test_a_safety_place_gets_no_hint_that_would_undo_its_safety() -> None:
    asks = Position(value_uF=D("0.1"), volts=D(275), kind=Kind.SAFETY, safety="X2", temp_C=105)
    plain = part("F", value_uF=D("0.1"), volts=D(275), kind=Kind.FILM)
    more = part("X", value_uF=D("0.11"), volts=D(275), kind=Kind.SAFETY, safety="X2", life_h=None)
    found = unfit(sought([plain, more], asks, allow_care=True))
    assert found.helps == ()
    assert {n.part.number for n in found.nearest} == {"F", "X"}


VALUES = st.sampled_from([D(v) for v in ("0.1", "0.12", "1", "1.2", "1.5", "1.8", "22", "25", "47", "50", "100")])
VOLTS = st.sampled_from([D(v) for v in ("6.3", "16", "25", "50", "63")])
SIZES = st.sampled_from([D(v) for v in ("4", "4.5", "5", "6.3", "8", "10")])
KINDS = st.sampled_from([Kind.ELECTROLYTIC, Kind.BIPOLAR, Kind.FILM, Kind.SAFETY, Kind.UNKNOWN])
MOUNTS = st.sampled_from([None, Mount.RADIAL, Mount.AXIAL])
CLASSES = st.sampled_from([None, None, "X1", "X2", "Y2"])
PARTS = st.builds(
    Part, supplier=st.sampled_from(["Fernlight", "Mossgate"]), number=st.sampled_from("ABCDEF"),
    value_uF=st.none() | VALUES, volts=st.none() | VOLTS, temp_C=st.sampled_from([None, 85, 105]),
    life_h=st.sampled_from([None, D(1000), D(2000)]), mount=MOUNTS, kind=KINDS, pitch_mm=st.none() | SIZES,
    diameter_mm=st.none() | SIZES, height_mm=st.none() | SIZES, ripple_mA=st.sampled_from([None, D(90), D(100)]),
    safety=CLASSES, maker=st.sampled_from([None, "Quillstone", "Alder"]),
)  # fmt: skip
POSITIONS = st.builds(
    Position, value_uF=VALUES, volts=st.none() | VOLTS, temp_C=st.sampled_from([None, 85, 105]), mount=MOUNTS,
    kind=KINDS, pitch_mm=st.none() | SIZES, diameter_mm=st.none() | SIZES, height_mm=st.none() | SIZES,
    role=st.sampled_from([None, *Role]), operating_V=st.none() | VOLTS,
    ripple_mA=st.sampled_from([None, D(100)]), safety=CLASSES,
)  # fmt: skip
RULES = st.sampled_from(
    [
        {},
        {None: {"temp_min": 85, "life_min": D(1000), "capacitance_low": D("0.1"), "capacitance_care": D(9)}},
        {None: {"makers_never": ("Alder",), "profile": "long-life"}, Role.SMOOTHING: {"size_fits": D(3)}},
    ]
)


@settings(max_examples=100, deadline=None)
@given(st.lists(PARTS, max_size=25), st.lists(POSITIONS, min_size=1, max_size=4), RULES, st.booleans())
def test_the_search_equals_judging_every_row(
    parts: list[Part], positions: list[Position], rules: dict[Role | None, dict[str, object]], care: bool
) -> None:
    groups = [group(str(i), asked) for i, asked in enumerate(positions)]
    found = sought(parts, groups, rules=rules, allow_care=care)
    by_shop = sorted(parts, key=lambda p: list({q.supplier: 0 for q in parts}).index(p.supplier))
    for one in groups:
        assert one.asks is not None
        limits = limits_for(found.settings, one.asks.role)
        expected = [
            p
            for p in by_shop
            if p.value_uF is not None and judge(one.asks, p, limits).verdict.rank <= (1 if care else 0)
        ]
        assert [found.problem.offers[i] for i in found.problem.suits[one.id]] == expected
        served = bool(expected)
        assert (one.id in found.unfit) is not served
        if not served:
            for near in found.unfit[one.id].nearest:
                assert near.judgement.verdict.rank > (1 if care else 0)


@settings(max_examples=40, deadline=None)
@given(st.lists(PARTS, min_size=1, max_size=25), POSITIONS, RULES, st.booleans())
def test_every_help_admits_its_part(
    parts: list[Part], asked: Position, rules: dict[Role | None, dict[str, object]], care: bool
) -> None:
    found = sought(parts, asked, rules=rules, allow_care=care)
    for one in found.unfit.values():
        limits = limits_for(found.settings, asked.role)
        for change in one.helps:
            worst = Verdict.CARE if care or change.key == "allow_care" else Verdict.FITS
            eased_by: dict[str, Any] = {} if change.key == "allow_care" else {change.key: change.then}
            eased = replace(limits, **eased_by)
            assert judge(asked, change.part, eased).verdict.rank <= worst.rank


def test_a_large_catalogue_is_searched_by_distinct_values_not_by_rows() -> None:
    """63,000 rows that differ in few values cost few judgements and few parts."""
    few = [
        part(f"P{value}-{volts}", value_uF=D(value), volts=D(volts)) for value in (33, 47, 56) for volts in (16, 25, 63)
    ]
    asked: list[int] = []

    class Counted(Rows):
        def parts(self, rows: Sequence[int]) -> list[Part]:
            asked.extend(rows)
            return super().parts(rows)

    rows = Offers({"Fernlight": Counted(few, times=7_000)}).suiting(ASKS, Limits(), Verdict.FITS)
    assert len(rows) == 2 * 7_000  # 47 and 56 µF at 25 V
    assert len(asked) < 100


@pytest.mark.parametrize("asked", ["10", "1000", "4700", "10000"])
def test_a_capacitance_whose_only_row_has_no_price_is_offered_by_nobody(tmp_path: Path, asked: str) -> None:
    path = tmp_path / "shop.csv"
    path.write_text(
        "part,value,volts,temp,mount,kind,prices\n"
        "P1,10 uF,25,105,radial,electrolytic,1:0.10\n"
        "P2,1000 uF,25,105,radial,electrolytic,\n"
        "P3,4700 uF,25,105,radial,electrolytic,\n",
        encoding="utf-8",
    )
    catalogue, _ = read_catalogue(path, "Fernlight")
    assert catalogue is not None
    offers = Offers({"Fernlight": catalogue})
    rows = offers.suiting(replace(ASKS, value_uF=D(asked), pitch_mm=None), Limits(), Verdict.CARE)
    assert [offers.part(row).number for row in rows.tolist()] == (["P1"] if asked == "10" else [])
    nearest = offers.nearest_in_value(replace(ASKS, value_uF=D(asked)), 5)
    assert [offers.part(row).number for row in nearest.tolist()] == ["P1"]
