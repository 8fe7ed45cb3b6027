"""What each rule tells the bench, word for word: the figure, its margin, and what to think of it.

A verdict alone helps nobody who stands before the board with the part in hand.
"""

from __future__ import annotations

from datetime import date
from decimal import Decimal

import pytest

from recap.match.findings import percent, ratio
from recap.match.limits import SOURCES
from recap.match.rules import judge
from recap.model import Finding, Kind, Limits, Mount, Part, Position, Role

D = Decimal
ELKO, FILM, SAFETY, TANTALUM = Kind.ELECTROLYTIC, Kind.FILM, Kind.SAFETY, Kind.TANTALUM


def find(rule: str, position: Position, part: Part, limits: Limits | None = None) -> Finding:
    return next(found for found in judge(position, part, limits or Limits()).findings if found.rule == rule)


def offer(**stated: object) -> Part:
    return Part("a shop", "P1", **stated)  # type: ignore[arg-type]


def wanted(**stated: object) -> Position:
    return Position(**stated)  # type: ignore[arg-type]


NEVER_PLAIN = "no safety class is stated, and a plain part never replaces a safety part"
FIRE = "an X part sits across the mains, where a failing part can start a fire"
SHOCK = "a Y part sits between the mains and what people touch, where a failing part can give a deadly shock"

BEYOND = "beyond the rating, it leaks, heats and may burst"

SAID = [
    ("kind", wanted(kind=ELKO), offer(kind=ELKO), "electrolytic, as before"),
    ("kind", wanted(kind=FILM), offer(kind=ELKO), "electrolytic does not stand in for film"),
    ("kind", wanted(kind=TANTALUM), offer(kind=FILM), "film does not stand in for tantalum"),
    (
        "kind", wanted(kind=Kind.OTHER), offer(kind=Kind.SAFETY),
        "a safety part does not stand in for a part of another make (paper, polymer)",
    ),
    ("kind", wanted(kind=Kind.BIPOLAR), offer(kind=Kind.CERAMIC), "ceramic does not stand in for bipolar"),
    (
        "kind",
        wanted(kind=Kind.BIPOLAR),
        offer(kind=TANTALUM),
        "tantalum has a polarity, a bipolar place reverses it: it heats, gasses and may burst",
    ),
    ("kind", wanted(kind=SAFETY, safety="X2"), offer(kind=SAFETY, safety="X2"), "safety, as before"),
    (
        "kind",
        wanted(kind=SAFETY, safety="X2"),
        offer(kind=FILM, safety="X1"),
        "a safety part, class X1: the class decides, not what it is made of",
    ),
    (
        "kind",
        wanted(kind=FILM),
        offer(),
        "the part's kind isn't stated; film asked for: look it up before you trust it",
    ),
    ("capacitance", wanted(value_uF=D(47)), offer(value_uF=D(47)), "47 µF, the same"),
    (
        "capacitance",
        wanted(value_uF=D(50)),
        offer(value_uF=D(47)),
        "47 µF took the place of the old 50 µF and is within its tolerance",
    ),
    (
        "capacitance",
        wanted(value_uF=D(50)),
        offer(value_uF=D(60)),
        "60 µF is 120 % of the old 50 µF: within the window",
    ),
    (
        "capacitance",
        wanted(value_uF=D(47)),
        offer(value_uF=D(33)),
        "33 µF is 70 % of the old 47 µF: hum, lost bass or a weak supply",
    ),
    (
        "capacitance",
        wanted(value_uF=D(47)),
        offer(value_uF=D(68)),
        "68 µF is 145 % of the old 47 µF: see that nothing is timed by it",
    ),
    (
        "capacitance",
        wanted(value_uF=D(47), role=Role.SMOOTHING),
        offer(value_uF=D(68)),
        "68 µF is 145 % of the old 47 µF: the rectifier's charging current grows",
    ),
    ("capacitance", wanted(value_uF=D(47)), offer(value_uF=D(100)), "100 µF is 213 % of the old 47 µF: too much"),
    (
        "capacitance",
        wanted(value_uF=D("0.1"), safety="X2"),
        offer(value_uF=D("0.1")),
        "0.1 µF, its own value, as a safety part must have",
    ),
    (
        "capacitance",
        wanted(value_uF=D("0.1"), role=Role.TIMING),
        offer(value_uF=D("0.12")),
        "a timing position takes its own 0.1 µF only, not 0.12 µF",
    ),
    (
        "capacitance",
        wanted(value_uF=D(47)),
        offer(),
        "the part's capacitance isn't stated; 47 µF asked for: look it up before you trust it",
    ),
    ("voltage", wanted(volts=D(25)), offer(volts=D(25)), "25 V, the same rating"),
    ("voltage", wanted(volts=D(25)), offer(volts=D(35)), "35 V is 140 % of the old rating of 25 V"),
    ("voltage", wanted(volts=D(25)), offer(volts=D(16)), "16 V is below the old rating of 25 V"),
    (
        "voltage",
        wanted(volts=D(25)),
        offer(volts=D(63)),
        "63 V is more than 2 times the old 25 V: larger, and often with more series resistance",
    ),
    (
        "voltage",
        wanted(operating_V=D(12)),
        offer(volts=D(16)),
        "works at 12 V, 75 % of its 16 V, at most 80 % wanted",
    ),
    (
        "voltage",
        wanted(volts=D(16), operating_V=D(14)),
        offer(volts=D(16)),
        "works at 14 V, 88 % of its 16 V: more than the 80 % it should, life suffers",
    ),
    (
        "voltage",
        wanted(volts=D(10), operating_V=D(20)),
        offer(volts=D(16)),
        "works at 20 V, 125 % of its 16 V: beyond the rating, it leaks, heats and may burst",
    ),
    (
        "voltage",
        wanted(volts=D(25), operating_V=D(20)),
        offer(volts=D(16)),
        f"16 V is below the old rating of 25 V; works at 20 V, 125 % of its 16 V: {BEYOND}",
    ),
    (
        "voltage",
        wanted(volts=D(16), operating_V=D(12)),
        offer(volts=D(16)),
        "16 V, the same rating; works at 12 V, 75 % of its 16 V, at most 80 % wanted",
    ),
    ("temperature", wanted(temp_C=85), offer(temp_C=105), "105 °C, as asked for"),
    ("temperature", wanted(temp_C=85), offer(temp_C=125), "125 °C, 105 °C asked for"),
    (
        "temperature",
        wanted(temp_C=125),
        offer(temp_C=105),
        "105 °C is 20 K below the 125 °C asked for: every 10 K less halves its life",
    ),
    (  # the ten-degree law is about electrolyte that dries out
        "temperature",
        wanted(kind=Kind.CERAMIC),
        offer(kind=Kind.CERAMIC, temp_C=85),
        "85 °C is 20 K below the 105 °C asked for",
    ),
    (
        "voltage",
        wanted(volts=D(63), kind=Kind.FILM),
        offer(volts=D(250), kind=Kind.FILM),
        "250 V is more than 2 times the old 63 V: larger",
    ),
    ("life", wanted(kind=ELKO), offer(life_h=D(5000)), "5000 h at its rated temperature, 2000 h asked for"),
    (
        "life",
        wanted(kind=ELKO),
        offer(life_h=D(1000)),
        "1000 h at its rated temperature is less than the 2000 h asked for",
    ),
    ("mount", wanted(mount=Mount.AXIAL), offer(mount=Mount.AXIAL), "axial, as before"),
    ("mount", wanted(mount=Mount.RADIAL), offer(mount=Mount.AXIAL), "axial does not go where radial was"),
    (
        "mount",
        wanted(mount=Mount.AXIAL, pitch_mm=D(25)),
        offer(mount=Mount.RADIAL),
        "radial for axial: its leads must bridge 25 mm, sleeve the long one",
    ),
    ("pitch", wanted(pitch_mm=D(5)), offer(pitch_mm=D("5.08")), "leads 5.08 mm, holes 5 mm: straight in"),
    ("pitch", wanted(pitch_mm=D(5)), offer(pitch_mm=D("4.4")), "leads 4.4 mm, holes 5 mm: formed out by 0.6 mm"),
    (
        "pitch",
        wanted(pitch_mm=D("7.5")),
        offer(pitch_mm=D(2)),
        "leads 2 mm, holes 7.5 mm: to be formed out by 5.5 mm, well away from the seal",
    ),
    (
        "pitch",
        wanted(pitch_mm=D(5)),
        offer(pitch_mm=D("5.8")),
        "leads 5.8 mm, holes 5 mm: to be pressed together by 0.8 mm",
    ),
    (
        "pitch",
        wanted(pitch_mm=D(5)),
        offer(pitch_mm=D("7.5")),
        "leads 7.5 mm, holes 5 mm: 2.5 mm too wide for the holes",
    ),
    (
        "size",
        wanted(diameter_mm=D(10), height_mm=D(16)),
        offer(diameter_mm=D(8), height_mm=D(12)),
        "diameter 8 mm for 10 mm; height 12 mm for 16 mm",
    ),
    (
        "size",
        wanted(diameter_mm=D(10), height_mm=D(16)),
        offer(diameter_mm=D("10.5"), height_mm=D(17)),
        "height 17 mm for 16 mm: 1 mm more, see what stands beside and above",
    ),
    ("size", wanted(height_mm=D(16)), offer(height_mm=D(20)), "height 20 mm for 16 mm: 4 mm more than there was"),
    ("ripple", wanted(ripple_mA=D(400)), offer(ripple_mA=D(500)), "rated for 500 mA of ripple, 125 % of what is asked"),
    (
        "ripple",
        wanted(ripple_mA=D(400)),
        offer(ripple_mA=D(380)),
        "rated for 380 mA of ripple, 95 % of the 400 mA asked: runs a little warmer",
    ),
    (
        "ripple",
        wanted(ripple_mA=D(400)),
        offer(ripple_mA=D(300)),
        "rated for 300 mA of ripple, only 75 % of the 400 mA asked: it overheats",
    ),
    ("safety", wanted(safety="Y2"), offer(safety="Y2"), "class Y2, as the old Y2"),
    ("safety", wanted(safety="Y2"), offer(safety="Y1"), "class Y1, stricter than the old Y2"),
    ("safety", wanted(safety="X1/Y2"), offer(safety="X1/Y1"), "class X1/Y1, stricter than the old X1/Y2"),
    ("safety", wanted(safety="safety part"), offer(safety="Safety Part"), "marked Safety Part, as before"),
    ("safety", wanted(safety="Kl. 3"), offer(safety="X2"), "“Kl. 3” names no class: read it off the old part"),
    ("safety", wanted(safety="Y2"), offer(), f"{NEVER_PLAIN}: {SHOCK}"),
    ("safety", wanted(safety="X1/Y2"), offer(), f"{NEVER_PLAIN}: {FIRE} {SHOCK}"),
    (
        "safety",
        wanted(kind=SAFETY),
        offer(),
        f"{NEVER_PLAIN}: where it sits a failing part can start a fire or give a shock",
    ),
    ("safety", wanted(safety="X1/Y1"), offer(safety="X2/Y1"), f"class X2/Y1 does not replace X1/Y1: {FIRE}"),
    (
        "safety",
        wanted(kind=SAFETY),
        offer(safety="X2"),
        "class X2, but the old part's class isn't stated: read it off the part",
    ),
]


@pytest.mark.parametrize(("rule", "position", "part", "words"), SAID, ids=[f"{row[0]}: {row[3]}"[:60] for row in SAID])
def test_what_a_rule_says(rule: str, position: Position, part: Part, words: str) -> None:
    assert find(rule, position, part).reason == words


@pytest.mark.parametrize(
    ("rule", "position", "part", "margin", "unit"),
    [
        ("capacitance", wanted(value_uF=D(47)), offer(value_uF=D(68)), "1.4468", "µF"),  # a ratio, five figures
        ("voltage", wanted(operating_V=D(12)), offer(volts=D(16)), "1.3333", "V"),
        ("voltage", wanted(volts=D(10), operating_V=D(12)), offer(volts=D(16)), "1.6", "V"),  # to the old rating
        ("temperature", wanted(temp_C=85), offer(temp_C=125), "20", "°C"),  # K to spare
        ("temperature", wanted(temp_C=125), offer(temp_C=105), "-20", "°C"),
        ("life", wanted(kind=ELKO), offer(life_h=D(5000)), "2.5", "h"),
        ("pitch", wanted(pitch_mm=D(5)), offer(pitch_mm=D("3.5")), "-1.5", "mm"),  # leads less holes
        ("size", wanted(diameter_mm=D(10), height_mm=D(16)), offer(diameter_mm=D(8), height_mm=D(15)), "1", "mm"),
        ("size", wanted(diameter_mm=D(10)), offer(diameter_mm=D("10.4")), "-0.4", "mm"),
        ("ripple", wanted(ripple_mA=D(300)), offer(ripple_mA=D(400)), "1.3333", "mA"),
    ],
)
def test_the_margin_of_a_rule(rule: str, position: Position, part: Part, margin: str, unit: str) -> None:
    found = find(rule, position, part)
    assert (found.margin, found.unit) == (D(margin), unit)


def test_a_size_is_shown_by_the_dimensions_that_were_asked() -> None:
    both = find("size", wanted(diameter_mm=D(10), height_mm=D(16)), offer(diameter_mm=D(8)))
    assert (both.original, both.substitute, both.margin) == ("10 × 16", "8 × ?", D(2))
    height = find("size", wanted(height_mm=D(16)), offer(diameter_mm=D(8), height_mm=D("12.50")))
    assert (height.original, height.substitute) == ("16", "12.5")


def test_a_safety_part_without_a_class_is_told_as_such() -> None:
    plain = find("safety", wanted(kind=SAFETY), offer(kind=FILM))
    assert (plain.original, plain.substitute) == ("safety part", None)
    assert find("safety", wanted(kind=SAFETY, safety="X2"), offer(kind=FILM)).original == "X2"


def test_shares_of_nothing_are_beyond_measure() -> None:
    assert percent(D(10), D(0)) == "beyond measure"
    assert ratio(D(10), D(0)) is None
    assert percent(D(1), D(3)) == "33 %"


def aged(bought: date, today: date, years: str = "10") -> Finding:
    judged = judge(Position(), offer(), Limits(drawer_years=D(years)), bought=bought, today=today)
    return next(found for found in judged.findings if found.rule == "drawer")


def test_years_in_the_drawer_are_told_in_tenths() -> None:
    found = aged(date(2020, 3, 1), date(2026, 6, 1))
    assert found.reason == "bought 2020-03-01, 6.3 years in the drawer"
    assert (found.original, found.substitute, found.margin) == (D(10), D("6.3"), D("3.7"))


def test_bought_tomorrow_is_no_age_below_nothing() -> None:
    assert aged(date(2026, 6, 2), date(2026, 6, 1)).reason == "bought 2026-06-02, 0 years in the drawer"


def test_too_old_for_the_drawer_says_what_to_do() -> None:
    found = aged(date(2015, 3, 1), date(2026, 3, 1))
    assert found.reason == "bought 2015-03-01, more than 10 years in the drawer: measure and re-form it first"
    assert found.margin == D(-1)


def test_whole_years_are_counted_by_the_calendar() -> None:
    # three leap days lie between: 3653 days, more than 10 × 365.25
    assert aged(date(2015, 3, 1), date(2025, 3, 1)).verdict == "fits"
    assert aged(date(2015, 3, 1), date(2025, 3, 2)).verdict == "care"


def test_a_limit_beyond_the_calendar_is_no_limit() -> None:
    assert aged(date(1971, 3, 1), date(2026, 3, 1), "9000").verdict == "fits"


@pytest.mark.parametrize(
    ("rated", "source"), [(None, "temp_min"), (85, "temp_min"), (105, "temp_min"), (125, "temperature")]
)
def test_whether_the_bench_or_the_old_part_asks_for_the_temperature(rated: int | None, source: str) -> None:
    assert find("temperature", wanted(temp_C=rated), offer(temp_C=125)).source == SOURCES[source]
