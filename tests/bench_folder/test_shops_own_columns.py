"""Columns as single shops head them, drawers and sets as people type them; all of it common practice of the trade."""

from __future__ import annotations

from decimal import Decimal
from typing import TYPE_CHECKING

import pytest

from recap.bench.in_words import IN_WORDS
from recap.bench.taking import take
from recap.diagnostics import Severity
from recap.model import Kind, Mount
from tests.bench_folder.folders import errors, load, warnings

if TYPE_CHECKING:
    from pathlib import Path

    from recap.model import Part

SHOP = "catalogs/pellworth.csv"


def parts(folder: Path, header: str, *rows: str) -> list[Part]:
    bench, _ = load(folder, {SHOP: "\n".join([header, *rows]) + "\n"})
    catalogue = bench.catalogues["pellworth"]
    return [catalogue.part(row) for row in range(len(catalogue))]


TYPES = ("P-1,10,25,Radial,1:0.1", "P-2,220,400,Snap in,1:3", "P-3,100,40,Axial,1:0.9", "P-4,22,16,radial,1:0.1")


@pytest.mark.parametrize("rows", [TYPES, TYPES[:1], TYPES[2:]])
def test_a_type_that_is_only_the_way_of_mounting_is_that(tmp_path: Path, rows: tuple[str, ...]) -> None:
    found = parts(tmp_path, "part,value,volts,Type,prices", *rows)
    ways = {"P-1": Mount.RADIAL, "P-2": Mount.SNAP_IN, "P-3": Mount.AXIAL, "P-4": Mount.RADIAL}
    assert {one.number: one.mount for one in found} == {row[:3]: ways[row[:3]] for row in rows}
    assert {one.kind for one in found} == {Kind.UNKNOWN}
    header = "part,value,volts,Type,prices\n"
    assert warnings(tmp_path, {SHOP: header + "\n".join(rows) + "\n"}) == []


def test_beside_a_column_of_mounts_a_type_stays_what_it_is(tmp_path: Path) -> None:
    (one,) = parts(tmp_path, "part,value,volts,Type,mount,prices", "P-1,10,25,film,radial,1:0.1")
    assert (one.kind, one.mount) == (Kind.FILM, Mount.RADIAL)


def test_kinds_and_classes_among_ways_of_mounting_are_read_and_only_noted(tmp_path: Path) -> None:
    header = "Bestell-Nr.;Kapazität;Spannung;Bauform;Preis"
    rows = ("A-1;10 µF;25 V;radial;0,10", "A-2;22 µF;16 V;Tantal;0,50", "A-3;0,1 µF;310 V~;X2;0,30")
    found = {one.number: (one.kind, one.mount, one.safety) for one in parts(tmp_path, header, *rows)}
    assert found == {
        "A-1": (Kind.UNKNOWN, Mount.RADIAL, None),
        "A-2": (Kind.TANTALUM, None, None),
        "A-3": (Kind.SAFETY, None, "X2"),
    }
    _, told = load(tmp_path, {SHOP: "\n".join([header, *rows]) + "\n"})
    assert {d.severity for d in told if d.code == "field-unclear"} == {Severity.NOTE}


@pytest.mark.parametrize(
    ("text", "size"),
    [
        ("6.3 x 5.8", ("6.3", "5.8")),  # surface-mount cans are wider than high
        ("8x6,2", ("8", "6.2")),
        ("10 x 10.2 mm", ("10", "10.2")),
        ("6.3 x 11", ("6.3", "11")),
        ("18 x 7.5", (None, None)),  # a box of film, its length first
        ("20 x 12.3", (None, None)),
        ("18 x 8", (None, None)),
        ("25 x 20", (None, None)),  # two diameters that cans have
        ("5.8 x 5.4", (None, None)),
    ],
)
def test_flat_cans_are_told_from_boxes(text: str, size: tuple[str | None, str | None]) -> None:
    found = tuple(take(name, text, IN_WORDS).value for name in ("diameter", "height"))
    assert found == tuple(None if side is None else Decimal(side) for side in size)


@pytest.mark.parametrize(
    ("header", "read"),
    [
        ("Ripple mA @120Hz", True),
        ("Ripple current (mA) at 100 Hz", True),
        ("Ripple mA @100kHz", False),
        ("Rated ripple, mA (100 kHz)", False),
    ],
)
def test_ripple_at_the_frequency_of_the_mains_is_read_and_told_where_it_is_another(
    tmp_path: Path, header: str, read: bool
) -> None:
    text = f'part,value,volts,kind,"{header}",prices\nP-1,10,25,electrolytic,120,1:0.1\n'
    (one,) = parts(tmp_path, *text.splitlines())
    assert one.ripple_mA == (Decimal(120) if read else None)
    _, told = load(tmp_path, {SHOP: text})
    said = [d.hint for d in told if d.code == "header-unknown"]
    assert said == ([] if read else ["not read; if your lists state ripple at that frequency too, head it ripple"])


def test_impedance_is_stated_at_a_high_frequency(tmp_path: Path) -> None:
    (one,) = parts(tmp_path, "part,value,volts,Impedance Ω @100kHz,prices", "P-1,10,25,0.3,1:0.1")
    assert one.impedance_ohm == Decimal("0.3")


@pytest.mark.parametrize("word", ["ask", "on request", "call us", "TBA"])
def test_a_stock_to_be_asked_for_leaves_the_row(tmp_path: Path, word: str) -> None:
    (one,) = parts(tmp_path, "part,value,volts,stock,prices", f"P-1,10,25,{word},1:0.1")
    assert one.number == "P-1"


def test_a_drawer_has_sizes_and_kinds_as_people_write_them(tmp_path: Path) -> None:
    drawer = "value,volts,type,size,qty\n47 µF,25,Elko radial,5x11,6\n0.1 µF,275 V~,X2,,2\n"
    bench, told = load(tmp_path, {"drawer.csv": drawer})
    one, other = (lying.part for lying in bench.drawer)
    assert (one.kind, one.mount) == (Kind.ELECTROLYTIC, Mount.RADIAL)
    assert (one.diameter_mm, one.height_mm) == (5, 11)
    assert (other.kind, other.safety) == (Kind.SAFETY, "X2")
    assert not [d for d in told if d.severity is not Severity.NOTE]


def test_a_drawer_may_say_in_words_what_lies_there(tmp_path: Path) -> None:
    drawer = (
        "what,qty,where\n"
        "47uF 25V 105C radial 5x11 2000h,6,red box\n"
        "10u 50V elko,20,jar\n"
        "47-100uF 16V,3,jar\n"
        "toggle switch,1,bag\n"
    )
    bench, told = load(tmp_path, {"drawer.csv": drawer})
    one, other, unclear, switch = (lying.part for lying in bench.drawer)
    assert (one.value_uF, one.volts, one.temp_C, one.life_h, one.mount) == (47, 25, 105, 2000, Mount.RADIAL)
    assert (one.diameter_mm, one.height_mm) == (5, 11)
    assert (other.value_uF, other.volts, other.kind) == (10, 50, Kind.ELECTROLYTIC)
    assert unclear.value_uF is None
    assert switch.value_uF is None
    said = sorted((d.code, d.source.row) for d in told if d.severity is Severity.WARNING)
    assert said == [("drawer-unnamed", 4), ("drawer-unnamed", 5), ("field-unclear", 4), ("field-unclear", 4)]


def test_own_columns_of_a_drawer_count_before_its_size(tmp_path: Path) -> None:
    bench, _ = load(tmp_path, {"drawer.csv": "value,volts,size,diameter,qty\n47 µF,25,5x11,6.3,6\n"})
    (lying,) = bench.drawer
    assert (lying.part.diameter_mm, lying.part.height_mm) == (Decimal("6.3"), 11)


@pytest.mark.parametrize("boards", ["-AUDIO", "PSU -AUDIO", "-audio"])
def test_a_board_taken_away_where_the_boards_stand_is_an_error(tmp_path: Path, boards: str) -> None:
    """Taken for its name it would be the opposite: the one board that the set lacks."""
    change: dict[str, str | bytes | None] = {"sets.csv": f"set,chassis,boards,job\nS1,K7,{boards},full\n"}
    assert errors(tmp_path, change) == [("board-unknown", "sets.csv", 2, "boards")]
    _, told = load(tmp_path, change)
    assert [d.hint for d in told if d.code == "board-unknown"] == ["write those it has: PSU"]
