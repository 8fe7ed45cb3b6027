"""Checklist and bags as they are printed: polarity, pieces and places; the order is that of tests.order.sample."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from recap.fit.bags import Sorting, sort_into_bags
from recap.fit.checklist import checklist
from recap.fit.plan import plan_of_order
from recap.fit.worklist import task
from recap.model import Kind, Settings
from recap.order.allot import allot
from recap.order.cautions import AT_THE_BENCH
from recap.show.work_document import bags_document, checklist_document
from recap.show.work_view import print_bags, print_checklist
from tests.order.sample import a_report
from tests.show.printed import lines

REPORT = a_report("HRN-47-35")
TASKS = [task(piece, Settings()) for piece in allot(REPORT.groups, REPORT.order)]
DAY = date(2025, 11, 25)


def test_the_cautions_stand_above_everything() -> None:
    told = lines(print_checklist, checklist(TASKS, DAY, "order of today"))
    assert told[: len(AT_THE_BENCH)] == [f"! {caution}" for caution in AT_THE_BENCH]
    assert told[len(AT_THE_BENCH)] == "order of today"
    empty = lines(print_checklist, checklist([], DAY, "order of today"))
    assert empty[-1] == "Nothing to do: no set has a job, or all of it is done."
    assert "Nothing to do: no set has a job, or all of it is done." not in told


def test_each_place_has_its_boxes_its_old_and_new_part_and_its_polarity() -> None:
    """C9 and C10 take alike parts of two sources: the one from the shop isn't told as the one of the drawer."""
    told = lines(print_checklist, checklist(TASKS, DAY, "order of today"))
    at = told.index("set-1: POWER")
    assert told[at + 1] == "out in ok place old part new part mind"
    assert told[at + 2] == "[ ] [ ] [ ] C9 47 µF 25 V 47 µF 35 V stripe = minus"
    assert told[at + 3].startswith("OLD-1 (drawer")
    assert told[at + 4] == "[ ] [ ] [ ] C10 47 µF 25 V 47 µF 35 V stripe = minus"
    assert told[at + 5].startswith("HRN-47-35 (shop-a)")
    axial = told[told.index("set-1: no board named") + 2]
    assert axial.startswith("[ ] [ ] [ ] C30 0.47 µF 350 V bipolar 47 µF 35 V bipolar")
    assert "minus" not in axial


def test_places_of_which_all_is_alike_are_told_once_each_with_its_own_boxes() -> None:
    first = next(t for t in TASKS if t.ref == "C10")
    alike = [replace(first, ref=ref, position=replace(first.position, ref=ref)) for ref in ("C10", "C11", "C12")]
    told = lines(print_checklist, checklist(alike, DAY, "order of today"))
    rows = [line for line in told if line.startswith("[ ]")]
    assert rows == [
        "[ ] [ ] [ ] C10 47 µF 25 V 47 µF 35 V stripe = minus",
        "[ ] [ ] [ ] C11 ″ as C10",
        "[ ] [ ] [ ] C12 ″ as C10",
    ]


def test_a_place_of_which_nothing_is_known_or_had_says_so() -> None:
    first = next(t for t in TASKS if t.ref == "C77")
    bare = replace(first, position=replace(first.position, value_uF=None, volts=None, kind=Kind.UNKNOWN))
    told = lines(print_checklist, checklist([bare], DAY, "order of today"))
    (row,) = [line for line in told if line.startswith("[ ]")]
    assert row.startswith("[ ] [ ] [ ] C77 not stated")


def test_bags_are_told_with_their_pieces_board_by_board_and_what_goes_into_none() -> None:
    """Set one: two of the drawer, one bought, one axial, and the switch; set two: three, and one that can't be had."""
    told = lines(print_bags, sort_into_bags(plan_of_order(REPORT.groups, REPORT.order, "test")))
    first, second = told.index("set-1: 5 pieces"), told.index("set-2: 3 pieces")
    assert told[first : first + 2] == ["set-1: 5 pieces", "pcs part what it is for from"]
    assert "1 AX 0.47/450 47 µF 35 V axial bipolar 6.3×11 C30 shop-b" in told[first:second]
    assert "1 OLD-1 47 µF 35 V radial 6.3×11 C9 drawer: box 2" in told[first:second]
    assert told[told.index("other parts") : second] == ["other parts", "1 SW-1 mains switch shop-a"]
    assert "other parts" not in told[second:]
    # of four radial ones two go in beside the two of the drawer, of ten axial ones three
    loose = told[told.index("Into no bag: spares and what is left over, for the drawer") + 2 :]
    assert loose == [
        "2 HRN-47-35 47 µF 35 V radial 6.3×11 shop-a",
        "7 AX 0.47/450 47 µF 35 V axial bipolar 6.3×11 shop-b",
    ]


def test_without_sets_there_are_no_bags() -> None:
    assert lines(print_bags, Sorting(())) == ["No bags: no set has a job."]


def test_bags_as_a_document() -> None:
    found = bags_document(sort_into_bags(plan_of_order(REPORT.groups, REPORT.order, "test")))
    first, second = found["bags"]
    assert (first["set"], first["pieces"], second["set"], second["pieces"]) == ("set-1", 5, "set-2", 3)
    assert [board["board"] for board in first["boards"]] == [None, "AUDIO", "POWER"]
    assert first["boards"][2]["contents"] == [
        {"part": "HRN-47-35", "value_uF": 47, "volts": 35, "qty": 1, "refs": ["C10"], "from": "shop-a"},
        {"part": "OLD-1", "value_uF": 47, "volts": 35, "qty": 1, "refs": ["C9"], "from": "drawer: box 2"},
    ]
    assert first["extras"] == [{"item": "mains switch", "qty": 1, "part": "SW-1", "from": "shop-a"}]
    missing = [c for board in second["boards"] for c in board["contents"] if c["part"] is None]
    assert missing == [{"part": None, "qty": 1, "refs": ["C77"], "from": None}]
    assert [(left["part"], left["qty"], left["from"]) for left in found["drawer"]] == [
        ("HRN-47-35", 2, "shop-a"),
        ("AX 0.47/450", 7, "shop-b"),
    ]


def test_the_checklist_as_a_document() -> None:
    found = checklist_document(checklist(TASKS, DAY, "order of today"))
    assert found["made_on"] == "2025-11-25"
    assert found["cautions"] == list(AT_THE_BENCH)
    places = {(section["set"], place["ref"]): place for section in found["sections"] for place in section["places"]}
    radial = places["set-1", "C10"]
    assert radial["old"] == {"value_uF": 47, "volts": 25, "temp_C": None, "mount": "radial", "kind": "electrolytic"}
    assert radial["new"] == {"part": "HRN-47-35", "value_uF": 47, "volts": 35}
    assert (radial["qty"], radial["from"], radial["polarity"]) == (1, "shop-a", "stripe = minus")
    nothing = places["set-2", "C77"]
    assert (nothing["new"], nothing["from"]) == (None, None)
    unnamed = places["set-2", None]
    assert (unnamed["qty"], unnamed["old"]["value_uF"], unnamed["old"]["kind"]) == (2, 0.47, "bipolar")
