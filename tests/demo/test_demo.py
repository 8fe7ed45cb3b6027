"""The demo bench: invented through and through, messy as people's files are, and a whole job all the same."""

from __future__ import annotations

import csv
import re
from decimal import Decimal
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from recap.bench import Bench, load_bench
from recap.diagnostics import Severity
from recap.match.candidates import problem
from recap.match.groups import gather
from recap.model import DRAWER, Kind, Mount, Role, Status
from recap.order.run import OrderOptions, Run, run_order

if TYPE_CHECKING:
    from recap.model import Position

ROOT = Path(__file__).parents[2]
SUPPLIERS = {"pennyquarrel", "kolbenried", "larkspurdle"}
CHASSIS = {"glimmerhatch", "mossquaver"}
MAKERS = {
    "Dimmelow": {"Heron", "Curlew", "Plover", "Bittern", "Hedge"},
    "Kettlewane": {"Rowan", "Alder", "Hazel", "Aspen", "Sloe", "Oak", "Fog"},
    "Pockelby": {"Ingot", "Nail", "Rivet", "Twin", "Bolt", "Fence", "Mist"},
}
"""Every maker and series of the catalogues: made up for this demo."""
CONNECTORS = {"PQ-31007", "KR-STV-12"}


@pytest.fixture(scope="module")
def bench() -> Bench:
    loaded, told = load_bench(ROOT / "demo")
    assert [d for d in told if d.severity is Severity.ERROR] == []
    return loaded


@pytest.fixture(scope="module")
def run(bench: Bench) -> Run:
    return run_order(bench)


def positions(bench: Bench, chassis: str) -> dict[str | None, Position]:
    return {position.ref: position for position in bench.caplists[chassis].positions}


def test_two_chassis_three_suppliers_six_sets(bench: Bench) -> None:
    assert set(bench.caplists) == CHASSIS
    assert set(bench.suppliers) == set(bench.catalogues) == SUPPLIERS
    assert [unit.name for unit in bench.sets] == ["glim-1", "glim-2", "glim-3", "glim-4", "moss-1", "moss-2"]
    assert len(bench.extras) == 2


def test_names_are_invented(bench: Bench) -> None:
    extras = {number for extra in bench.extras for number in extra.parts}
    for catalogue in bench.catalogues.values():
        for index in range(len(catalogue)):
            part = catalogue.part(index)
            assert part.maker in MAKERS
            if part.value_uF is not None:
                assert part.series in MAKERS[part.maker]
            else:
                assert part.number in extras or part.number in CONNECTORS


def test_each_catalogue_is_about_a_hundred_and_fifty_rows(bench: Bench) -> None:
    for catalogue in bench.catalogues.values():
        assert 130 <= len(catalogue) <= 170


def test_the_catalogues_have_three_habits(bench: Bench) -> None:
    with (ROOT / "catalogs" / "pennyquarrel.csv").open(encoding="utf-8") as file:
        assert "Capacitance (µF)" in next(csv.reader(file))
    german = (ROOT / "catalogs" / "kolbenried.csv").read_bytes()
    with pytest.raises(UnicodeDecodeError):
        german.decode("utf-8")
    assert german.decode("cp1252").startswith("Bestellnummer;")
    assert re.search(r";4,7 µF;", german.decode("cp1252"))
    assert (ROOT / "catalogs" / "larkspurdle.xlsx").read_bytes().startswith(b"PK")
    assert {terms.currency for terms in bench.suppliers.values()} == {"EUR", "USD"}


def test_the_same_part_is_the_same_wherever_it_is_sold(bench: Bench) -> None:
    seen: dict[str, tuple[object, ...]] = {}
    for catalogue in bench.catalogues.values():
        for index in range(len(catalogue)):
            part = catalogue.part(index)
            facts = (part.value_uF, part.volts, part.temp_C, part.mount, part.kind, part.diameter_mm, part.height_mm)
            assert seen.setdefault(part.number, facts) == facts


def test_the_picture_monitor_is_read_as_it_was_meant(bench: Bench) -> None:
    listed = positions(bench, "glimmerhatch")
    assert len(listed) == 49
    assert {position.board for position in listed.values()} == {"POWER", "MAIN", "VIDEO", "NECK", "AUDIO"}
    assert (listed["C901"].safety, listed["C901"].value_uF) == ("X2", Decimal("0.22"))
    assert (listed["C907"].value_uF, listed["C915"].value_uF) == (Decimal("4.7"), Decimal(470))
    assert listed["C302"].kind is listed["C401"].kind is Kind.BIPOLAR
    assert listed["C320"].operating_V == 24
    assert listed["C910"].role is Role.SWITCHING
    assert "C310" not in listed  # marked EMPTY
    assert [ref for ref, position in listed.items() if position.doubts] == []


def test_the_tape_recorder_is_read_as_it_was_meant(bench: Bench) -> None:
    listed = positions(bench, "mossquaver")
    assert len(listed) == 21
    assert {position.board for position in listed.values()} == {"CHASSIS", "POWER", "PLAYBACK", "RECORD", "SPEAKER"}
    assert [ref for ref, position in listed.items() if position.doubts] == ["C1a", "C1b"]  # the can
    assert listed["C3"].value_uF == listed["C2"].value_uF == 32  # "ditto"
    assert (listed["C4"].value_uF, listed["C4"].volts) == (Decimal(100), Decimal(50))
    assert (listed["C16"].value_uF, listed["C16"].kind) == (Decimal("0.1"), Kind.FILM)  # decimal comma
    assert listed["C25"].kind is Kind.BIPOLAR
    assert {"C26", "R27"}.isdisjoint(listed)
    axial = [ref for ref, position in listed.items() if position.mount is Mount.AXIAL]
    assert len(axial) == 19


def test_jobs_differ_from_set_to_set(bench: Bench) -> None:
    on_job: dict[str, set[str | None]] = {}
    for group in gather(bench).groups:
        for placed in group.placed:
            on_job.setdefault(placed.set, set()).add(placed.position.ref)
    assert set(on_job) == {"glim-1", "glim-2", "glim-3", "moss-1", "moss-2"}  # glim-4 is done
    assert "C905" in on_job["glim-1"]
    assert "C905" not in on_job["glim-2"]
    assert "C401" not in on_job["glim-2"]  # no sound board
    assert {ref for ref in on_job["glim-3"] if ref and not ref.startswith("C9")} == {"C331"}
    assert "C21" not in on_job["moss-2"]  # playback only


def test_the_order_is_proven_and_covers_everything(run: Run) -> None:
    assert run.report.status is Status.OPTIMAL
    assert run.report.unmet == ()
    order = run.report.order
    assert order is not None
    assert run.report.bound == order.total


def test_the_old_part_in_the_drawer_is_not_used(run: Run, bench: Bench) -> None:
    order = run.report.order
    assert order is not None
    assert any(lying.part.number == "RS1000/16" for lying in bench.drawer)
    assert "RS1000/16" not in {drawn.part.part.number for drawn in order.drawer}


def test_buying_each_thing_where_it_is_cheapest_is_not_the_best_order(run: Run, bench: Bench) -> None:
    """The terms make the best order one that nobody sees at a glance: fewer parcels beat lower prices."""
    work = gather(bench)
    asked = problem(bench, work.groups).problem
    cheapest = set()
    for need in asked.needs:
        offers = [asked.offers[i] for i in asked.suits[need.group]]
        best = min(
            offers, key=lambda part: part.prices[0].unit_price * bench.suppliers[part.supplier].rate, default=None
        )
        assert best is not None, need.group
        cheapest.add(best.supplier)
    order = run.report.order
    assert order is not None
    assert cheapest == SUPPLIERS
    assert {parcel.terms.supplier for parcel in order.suppliers} < SUPPLIERS


@pytest.mark.parametrize("left_out", sorted(SUPPLIERS))
def test_no_supplier_is_indispensable_and_leaving_one_out_never_saves(run: Run, bench: Bench, left_out: str) -> None:
    other = run_order(bench, OrderOptions(without=frozenset({left_out})))
    assert other.report.status is Status.OPTIMAL
    assert other.report.order is not None
    assert run.report.order is not None
    assert other.report.order.total >= run.report.order.total


def test_the_drawer_lies_outside_the_suppliers(bench: Bench) -> None:
    assert DRAWER not in bench.suppliers
    assert {lying.part.supplier for lying in bench.drawer} == {DRAWER}


def test_no_folder_of_this_machine_stands_in_the_demo() -> None:
    for path in sorted((ROOT / "demo").rglob("*")):
        if path.suffix in {".csv", ".md", ".toml"}:
            assert not re.search(r"/(home|root|work|tmp|Users)/", path.read_text(encoding="utf-8"))
