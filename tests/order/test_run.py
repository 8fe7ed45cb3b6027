"""An order worked out for a bench as it lies in its folder: what was asked, what it costs, what can't be had.

A bench of two sets and two shops, invented; own arithmetic beside each check.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from decimal import Decimal
from typing import TYPE_CHECKING, Any

import pytest

from recap.bench import Bench, load_bench
from recap.model import Outcome, Status, Verdict
from recap.optimise.solve import solve
from recap.order import run as run_module
from recap.order.report import NearMiss, UnmetNeed
from recap.order.run import SHARED, UNSETTLED, OrderOptions, compared, run_order
from recap.order.unmet import near_misses

if TYPE_CHECKING:
    from pathlib import Path

    from recap.order.run import Run

DAY = date(2025, 11, 25)

LIST = """\
ref,value,volts,mount,kind,pitch,board
C1,220 µF,35 V,radial,electrolytic,5,POWER
C2,47 µF,25 V,radial,electrolytic,2.5,POWER
C3,47 µF,25 V,radial,electrolytic,2.5,AUDIO
"""
NORTH = """\
part,value,volts,temp,life,mount,kind,pitch,stock,prices,updated
N-220,220 µF,35,105,5000,radial,electrolytic,5,,1:1.00,2025-11-01
N-47,47 µF,25,105,2000,radial,electrolytic,2.5,,1:0.40,2024-01-01
"""
SOUTH = """\
part,value,volts,temp,life,mount,kind,pitch,stock,prices,updated
S-220,220 µF,35,105,5000,radial,electrolytic,5,,1:9.00,2025-11-01
S-47,47 µF,25,105,10000,radial,electrolytic,2.5,3,1:0.10,2025-11-01
"""


def bench(folder: Path, *, settings: str = "", north: str = NORTH, south: str = SOUTH, caplist: str = LIST) -> Bench:
    """Sets one and two of a chassis, all of one and the POWER board of two; postage 2.00 at north, 1.00 at south."""
    (folder / "caplists").mkdir()
    (folder / "catalogs").mkdir()
    spares = "" if "[spares]" in settings else "[spares]\npieces = 0\n"
    (folder / "bench.toml").write_text(f'currency = "EUR"\noffer_days = 365\n{settings}\n{spares}', encoding="utf-8")
    (folder / "caplists" / "wisp.csv").write_text(caplist, encoding="utf-8")
    sets = "set,chassis,boards,job\none,wisp,,full\ntwo,wisp,POWER,full\n"
    (folder / "sets.csv").write_text(sets, encoding="utf-8")
    (folder / "catalogs" / "north.csv").write_text(north, encoding="utf-8")
    (folder / "catalogs" / "south.csv").write_text(south, encoding="utf-8")
    terms = "supplier,currency,shipping\nnorth,EUR,0:2.00\nsouth,EUR,0:1.00\n"
    (folder / "catalogs" / "suppliers.csv").write_text(terms, encoding="utf-8")
    loaded, told = load_bench(folder)
    assert [d for d in told if d.severity == "error"] == []
    return loaded


def bought(run: Run) -> dict[str, int]:
    """Pieces by part number."""
    order = run.outcome.order
    assert order is not None
    return {line.part.number: line.qty for parcel in order.suppliers for line in parcel.lines}


def test_the_cheapest_order_is_proven_and_dated(tmp_path: Path) -> None:
    """Two of 220 µF and three of 47 at north: 2.00 + 1.20 + 2.00. With south's 47: 2.00 + 2.00 + 0.30 + 1.00."""
    run = run_order(bench(tmp_path), OrderOptions(today=DAY))
    assert (run.report.status, run.report.made_on, run.report.currency) == (Status.OPTIMAL, DAY, "EUR")
    assert run.report.order is not None
    assert (run.report.order.total, run.report.bound) == (Decimal("5.20"), Decimal("5.20"))
    assert bought(run) == {"N-220": 2, "N-47": 3}
    assert (run.part, run.report.unmet, run.report.remarks) == (None, (), ())
    assert sorted(group.need for group in run.report.groups) == [2, 3]


def test_a_price_is_old_by_the_day_of_the_order(tmp_path: Path) -> None:
    """Of January 2024: 365 days are over on the last of that year."""
    given = bench(tmp_path)
    assert run_order(given, OrderOptions(today=DAY)).report.old == {("north", "N-47")}
    assert run_order(given, OrderOptions(today=date(2024, 12, 31))).report.old == set()


@pytest.mark.parametrize(
    ("options", "total", "pieces"),
    [
        (OrderOptions(only_sets=frozenset({"two"})), "3.40", {"N-220": 1, "N-47": 1}),  # 1.00 + 0.40 + 2.00
        (OrderOptions(spares=1), "6.60", {"N-220": 3, "N-47": 4}),  # 3.00 + 1.60 + 2.00
        (OrderOptions(without=frozenset({"north"})), "19.30", {"S-220": 2, "S-47": 3}),  # 18.00 + 0.30 + 1.00
        (OrderOptions(leave_out=lambda _, position: position.ref == "C1"), "1.30", {"S-47": 3}),
        (OrderOptions(leave_out=lambda name, _: name == "one"), "3.40", {"N-220": 1, "N-47": 1}),
    ],
)
def test_what_is_asked_of_one_order_counts_before_the_settings(
    options: OrderOptions, total: str, pieces: dict[str, int], tmp_path: Path
) -> None:
    run = run_order(bench(tmp_path), options)
    assert run.report.order is not None
    assert (run.report.order.total, bought(run)) == (Decimal(total), pieces)


def test_one_parcel_may_be_asked_for_where_two_are_cheaper(tmp_path: Path) -> None:
    """South's 47 µF at 0.01: with postage 2.00 + 2.00 + 0.03 + 1.00 = 5.03; in one parcel 5.20."""
    given = bench(tmp_path, south=SOUTH.replace("1:0.10", "1:0.01"))
    two, one = run_order(given), run_order(given, OrderOptions(max_suppliers=1))
    assert two.report.order is not None
    assert one.report.order is not None
    assert (two.report.order.total, one.report.order.total) == (Decimal("5.03"), Decimal("5.20"))


def test_what_more_was_paid_for_fewer_parcels_and_longer_life_is_told(tmp_path: Path) -> None:
    given = bench(tmp_path, south=SOUTH.replace("1:0.10", "1:0.01"))
    # 3.3 % of 5.03 are 0.166, 3.4 % 0.171
    stays = run_order(given, OrderOptions(pay_for_parcels=Decimal("3.3")))
    assert (stays.report.remarks, bought(stays)) == ((), {"N-220": 2, "S-47": 3})
    pays = run_order(given, OrderOptions(pay_for_parcels=Decimal("3.4")))
    assert pays.report.remarks == ("0.17 more than the cheapest order of all, 5.03, as you allowed",)
    assert bought(pays) == {"N-220": 2, "N-47": 3}


def test_longer_life_is_paid_for_and_told_with_its_hours(tmp_path: Path) -> None:
    """South's at 0.10 last 10,000 h: 5.30 for 5.20."""
    run = run_order(bench(tmp_path), OrderOptions(pay_for_life=Decimal(2)))
    assert run.report.remarks == (
        "0.10 more than the cheapest order of all, 5.20, as you allowed",
        "every wet part is rated for 10000 h or as long as is sold",
    )
    assert bought(run) == {"N-220": 2, "S-47": 3}


def test_shared_spares_are_said_to_be_shared(tmp_path: Path) -> None:
    run = run_order(bench(tmp_path, settings="[spares]\npieces = 1\nshare_spares = true\n"))
    assert SHARED in run.report.remarks
    assert run.report.order is not None
    assert bought(run) == {"N-220": 3, "N-47": 4}


THIRD = "C4,22 µF,63 V,radial,electrolytic,2.5,POWER\n"


def test_where_nothing_fits_one_place_the_rest_is_offered_apart(tmp_path: Path) -> None:
    run = run_order(bench(tmp_path, caplist=LIST + THIRD))
    assert (run.report.status, run.report.order, run.report.bound) == (Status.IMPOSSIBLE, None, None)
    (need,) = run.report.unmet
    assert need.pieces == 2  # one in each set
    assert run.part is not None
    assert run.part.order is not None
    assert (run.part.status, run.part.order.total, run.part.bound) == (Status.OPTIMAL, Decimal("5.20"), Decimal("5.20"))
    assert need.group not in {group.id for group in run.part.groups}
    assert need.group in {group.id for group in run.report.groups}
    assert {n.group for n in run.problem.needs} == {group.id for group in run.part.groups}


def test_where_the_stock_is_short_it_is_told_how_much_there_is(tmp_path: Path) -> None:
    """Three of 47 µF are wanted; each shop has two."""
    short = {"north": NORTH.replace("2.5,,1:0.40", "2.5,2,1:0.40"), "south": SOUTH.replace("2.5,3,", "2.5,2,")}
    given = bench(tmp_path, **short)
    run = run_order(given)
    (need,) = run.report.unmet
    assert (run.report.status, run.report.order, need.pieces) == (Status.IMPOSSIBLE, None, 3)
    assert "3 wanted, but the most that can be had of one part is 2" in need.reason
    assert "--split" in need.reason
    assert "--care" in need.reason
    assert run.part is not None
    assert run.part.order is not None
    assert (run.part.order.total, bought(run)) == (Decimal("4.00"), {"N-220": 2})
    # split, two of south's and one of north's do: 2.00 + 0.40 + 2.00 and 0.20 + 1.00
    split = run_order(given, OrderOptions(split_groups=True))
    assert split.report.order is not None
    assert (split.report.status, split.report.order.total) == (Status.OPTIMAL, Decimal("5.60"))
    careful = run_order(given, OrderOptions(allow_care=True)).report.unmet[0].reason
    assert "--care" not in careful


def test_where_nothing_at_all_can_be_had_there_is_no_part_of_an_order(tmp_path: Path) -> None:
    run = run_order(bench(tmp_path), OrderOptions(without=frozenset({"north", "south"})))
    assert (run.report.status, run.report.order, run.part) == (Status.IMPOSSIBLE, None, None)
    assert sorted(need.pieces for need in run.report.unmet) == [2, 3]
    assert compared(run).report.alternatives == ()


def test_other_ways_to_buy_stand_beside_the_order_and_beside_a_part_of_one(tmp_path: Path) -> None:
    """Set one alone is 1.00 + 0.80 + 2.00, set two 1.00 + 0.40 + 2.00: 7.20."""
    run = compared(run_order(bench(tmp_path)))
    told = {way.name: way.total for way in run.report.alternatives}
    assert told["this order"] == Decimal("5.20")
    assert told["each set ordered on its own"] == Decimal("7.20")
    assert told["cheapest part, line by line"] == Decimal("5.30")


def test_ways_to_buy_what_can_be_had_are_compared_with_just_that(tmp_path: Path) -> None:
    run = compared(run_order(bench(tmp_path, caplist=LIST + THIRD)))
    assert run.part is not None
    assert run.part.alternatives == run.report.alternatives
    assert run.part.alternatives[0].total == Decimal("5.20")


WIDE = NORTH.replace("electrolytic,2.5,", "electrolytic,3.5,")


def test_what_fits_with_care_is_taken_only_where_allowed_and_told_with_the_reason(tmp_path: Path) -> None:
    """Leads 3.5 mm apart go into holes of 2.5 mm if pressed together: with care (common practice)."""
    given = bench(tmp_path, north=WIDE, south=SOUTH.split("S-47", maxsplit=1)[0])
    strict = run_order(given)
    assert (strict.report.status, strict.report.care) == (Status.IMPOSSIBLE, {})
    for options in (OrderOptions(allow_care=True), OrderOptions(care_if_needed=True)):
        careful = run_order(given, options)
        assert careful.report.care == {
            "47 µF 25 V radial": ("pitch: leads 3.5 mm, holes 2.5 mm: to be pressed together by 1 mm",)
        }
        assert bought(careful) == {"N-220": 2, "N-47": 3}


def test_what_would_help_is_told_and_care_apart_from_the_settings(tmp_path: Path) -> None:
    """Only care stands in the way of north's; a rule of 20,000 h in that of south's, which last 10,000 h."""
    for name in ("care", "life"):
        (tmp_path / name).mkdir()
    (need,) = run_order(bench(tmp_path / "care", north=WIDE, south=SOUTH.split("S-47", maxsplit=1)[0])).report.unmet
    assert (need.care, need.eases) == (True, ())
    assert need.reason.endswith("; allow_care = true would admit N-47 (north)")
    assert need.short.endswith("to be pressed together by 1 mm")
    found = run_order(bench(tmp_path / "life", settings="[rules]\nlife_min = 20000\n")).report.unmet
    assert {need.group: (need.pieces, need.care, need.eases) for need in found} == {
        "47 µF 25 V radial": (3, False, ("life_min = 10000 instead of 20000 would admit S-47 (south)",)),
        "220 µF 35 V radial": (2, False, ("life_min = 5000 instead of 20000 would admit N-220 (north)",)),
    }


def test_of_a_part_that_must_not_go_in_the_worst_is_told_first(tmp_path: Path) -> None:
    """16 V for 25 rules it out; that its leads are to be pressed together is the least of it."""
    low = WIDE.replace("47 µF,25,", "47 µF,16,")
    (need,) = run_order(bench(tmp_path, north=low, south=SOUTH.split("S-47", maxsplit=1)[0])).report.unmet
    assert need.nearest[0].gist == "voltage: 16 V is below the old rating of 25 V"
    assert need.nearest[0].reason.startswith(need.nearest[0].gist)
    assert "pressed together" in need.nearest[0].reason


def test_in_brief_only_those_of_the_best_verdict_are_named_with_the_worst_of_them() -> None:
    nearest = (
        NearMiss("north", "A", Verdict.CARE, "pitch: wide", "pitch: wide"),
        NearMiss("north", "B", Verdict.CARE, "size: tall; pitch: wide", "size: tall"),
        NearMiss("north", "C", Verdict.NO, "voltage: low; size: tall", "voltage: low"),
    )
    need = UnmetNeed("g", 1, "nothing fits outright", nearest)
    assert near_misses(need, brief=True) == (("north A (care)", "pitch: wide"), ("north B (care)", "size: tall"))
    assert near_misses(need)[1:] == (
        ("north B (care)", "size: tall; pitch: wide"),
        ("north C (no)", "voltage: low; size: tall"),
    )


def test_care_is_taken_where_needed_only_if_that_is_all_that_was_asked(tmp_path: Path) -> None:
    """South's fits without care and costs 0.10 more with its postage; where care is allowed, north's is taken."""
    given = bench(tmp_path, north=WIDE)
    needed, allowed = (run_order(given, OrderOptions(**{name: True})) for name in ("care_if_needed", "allow_care"))
    assert (bought(needed), needed.report.care) == ({"N-220": 2, "S-47": 3}, {})
    assert bought(allowed) == {"N-220": 2, "N-47": 3}
    assert set(allowed.report.care) == {"47 µF 25 V radial"}


def test_care_that_the_settings_allow_may_be_ruled_out_for_one_order(tmp_path: Path) -> None:
    given = bench(tmp_path, settings="allow_care = true", north=WIDE)
    assert bought(run_order(given)) == {"N-220": 2, "N-47": 3}
    assert bought(run_order(given, OrderOptions(allow_care=False))) == {"N-220": 2, "S-47": 3}


LYING = "part,qty,value,volts,temp,life,mount,kind,pitch\nS-47,3,47 µF,25,105,10000,radial,electrolytic,2.5\n"


def test_what_lies_in_the_drawer_is_used_unless_it_is_to_be_left_there(tmp_path: Path) -> None:
    """Three of 47 µF lie there: only the two of 220 µF are bought, 2.00 + 2.00."""
    bench(tmp_path)
    (tmp_path / "drawer.csv").write_text(LYING, encoding="utf-8")
    given, _ = load_bench(tmp_path)
    drawn, left = run_order(given), run_order(given, OrderOptions(use_drawer=False))
    assert drawn.report.order is not None
    assert left.report.order is not None
    assert (drawn.report.order.total, bought(drawn)) == (Decimal("4.00"), {"N-220": 2})
    assert [sum(use.qty for use in kept.uses) for kept in drawn.report.order.drawer] == [3]
    assert (left.report.order.total, left.report.order.drawer) == (Decimal("5.20"), ())


def test_an_order_that_the_time_left_unsettled_says_so(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Proven cheapest, but others of the same total were not looked through; of an unproven one that isn't said."""
    given = bench(tmp_path)
    monkeypatch.setattr(run_module, "solve", lambda *words, **more: replace(solve(*words, **more), preferred=False))
    assert run_order(given).report.remarks == (UNSETTLED,)


def test_for_an_order_that_was_not_proven_nothing_more_is_paid(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def late(*words: Any, **more: Any) -> Outcome:
        return replace(solve(*words, **more), status=Status.FEASIBLE, preferred=False, bound=Decimal(3))

    monkeypatch.setattr(run_module, "solve", late)
    run = run_order(bench(tmp_path), OrderOptions(pay_for_life=Decimal(50), pay_for_parcels=Decimal(50)))
    assert (run.report.status, run.report.bound, run.report.remarks) == (Status.FEASIBLE, Decimal(3), ())
    assert run.report.order is not None
    assert run.report.order.total == Decimal("5.20")


@pytest.mark.parametrize(
    ("settings", "options", "total"),
    [
        ("", {}, "5.03"),
        ("max_suppliers = 1", {}, "5.20"),
        ("max_suppliers = 1", {"max_suppliers": 0}, "5.03"),
        ("[spares]\npieces = 1", {}, "6.04"),  # 3 x 1.00 + 2.00 and 4 x 0.01 + 1.00
        ("[spares]\npieces = 1", {"spares": 0}, "5.03"),
    ],
)
def test_the_settings_count_where_one_order_asks_for_nothing_else(
    settings: str, options: dict[str, Any], total: str, tmp_path: Path
) -> None:
    south = SOUTH.replace("1:0.10", "1:0.01").replace("2.5,3,", "2.5,,")
    run = run_order(bench(tmp_path, settings=settings, south=south), OrderOptions(**options))
    assert run.report.order is not None
    assert run.report.order.total == Decimal(total)


@pytest.mark.parametrize(("one_part", "status"), [("true", Status.IMPOSSIBLE), ("false", Status.OPTIMAL)])
def test_groups_are_split_where_the_settings_say_so(one_part: str, status: Status, tmp_path: Path) -> None:
    short = {"north": NORTH.replace("2.5,,1:0.40", "2.5,2,1:0.40"), "south": SOUTH.replace("2.5,3,", "2.5,2,")}
    assert run_order(bench(tmp_path, settings=f"one_part_per_group = {one_part}", **short)).report.status is status


def test_care_that_the_settings_allow_where_needed_is_taken_there(tmp_path: Path) -> None:
    given = bench(tmp_path, settings="care_if_needed = true", north=WIDE, south=SOUTH.split("S-47", maxsplit=1)[0])
    assert bought(run_order(given)) == {"N-220": 2, "N-47": 3}


def test_what_the_list_leaves_in_doubt_is_held_back_place_by_place(tmp_path: Path) -> None:
    """``47`` without a unit in C2 of both sets; the one of C3 has its unit and is bought for."""
    run = run_order(bench(tmp_path, caplist=LIST.replace("C2,47 µF", "C2,47")))
    told = [(need.group, need.pieces, need.reason) for need in run.report.unmet]
    reason = "the list is in doubt here (unit-missing): settle it in the cap list"
    assert told == [("in doubt: one C2", 1, reason), ("in doubt: two C2", 1, reason)]
    assert run.part is not None
    assert run.part.order is not None
    # two of 220 µF and one of 47: 2.00 + 0.40 + 2.00
    assert (run.report.status, run.part.order.total) == (Status.IMPOSSIBLE, Decimal("4.40"))
    accepted = run_order(run.bench, OrderOptions(accept_doubts=True))
    assert accepted.report.order is not None
    assert accepted.report.order.total == Decimal("5.20")
