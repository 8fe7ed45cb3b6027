"""Columns as single shops head them, drawers and sets as people type them; all of it common practice of the trade."""

from __future__ import annotations

from decimal import Decimal
from typing import TYPE_CHECKING

import pytest
from openpyxl import Workbook

from recap.bench.catalogues import read_catalogue
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


@pytest.mark.parametrize(
    ("line", "codes"),
    [
        ("Alle Preise abzüglich 15 % Händlerrabatt", ["price-changed"]),
        ("20% off everything in this list", ["price-changed"]),
        ("All prices plus 19 % VAT and 5 % metal surcharge", ["price-changed"]),
        ("Preise zzgl. 19 % MwSt.", []), ("All tolerances 20 %", []),
    ],
)  # fmt: skip
@pytest.mark.parametrize("above", [True, False])
def test_a_percentage_laid_on_all_prices_is_told(tmp_path: Path, line: str, codes: list[str], *, above: bool) -> None:
    rows = ["part,value,volts,prices", "A-1,47uF,25 V,0.20"]
    rows.insert(0 if above else 2, line)
    path = tmp_path / "pellworth.csv"
    path.write_text("\n".join([*rows, "A-2,10uF,25 V,0.10"]) + "\n", encoding="utf-8")
    found, told = read_catalogue(path, "pellworth")
    assert found is not None
    assert [one.code for one in told if one.severity is Severity.WARNING] == codes
    assert [str(one.prices[0].unit_price) for one in found.parts(range(len(found)))] == ["0.20", "0.10"]


@pytest.mark.parametrize(
    ("text", "left", "code"),
    [
        ("only 3 left", 3, None), ("noch 12 Stück", 12, None), ("12k", 12000, None), ("2.5K", 2500, None),
        ("0 (due 15/03)", 0, "stock-unclear"), ("12 (24 on order)", 12, "stock-unclear"),
        ("on order: 250", None, "stock-unclear"), ("temporarily out of stock", 0, None),
        ("derzeit ausverkauft", 0, None),
        ("nicht mehr lieferbar", 0, None), ("ausreichend", None, None), ("a boxful", None, "count-wrong"),
    ],
)  # fmt: skip
def test_stock_in_words(text: str, left: int | None, code: str | None) -> None:
    taken = take("stock", text)
    assert (taken.value, taken.code) == (left, code)


@pytest.mark.parametrize(
    ("remark", "codes"),
    [
        ("nur in 5er-Packs", ["pack-unclear"]), ("Mindestabnahme 10 Stück", ["pack-unclear"]),
        ("Abgabe nur in vollen Gurten zu 500", ["pack-unclear"]), ("sold in reels of 250", ["pack-unclear"]),
        ("ausgelötet", ["part-used"]), ("used in tube amplifiers", []), ("unused, never used", []), ("RM 5", []),
        ("min. 85 °C", []),
    ],
)  # fmt: skip
def test_a_remark_on_packs_or_on_use_is_told(tmp_path: Path, remark: str, codes: list[str]) -> None:
    path = tmp_path / "pellworth.csv"
    path.write_text(f"part;value;volts;prices;note\nA-1;47uF;25 V;0.20;{remark}\nA-2;10uF;25 V;0.10;\n", "utf-8")
    _, told = read_catalogue(path, "pellworth")
    assert [one.code for one in told if one.severity is Severity.WARNING] == codes


@pytest.mark.parametrize(
    ("number_format", "price"),
    [('0.00" €/100"', "0.125"), ('0.00" € je 100 Stk"', "0.125"), ('0.00" €"', "12.5"), ('0.00" €/Stk"', "12.5")],
)
def test_the_pieces_of_a_price_may_stand_in_its_format_alone(tmp_path: Path, number_format: str, price: str) -> None:
    book = Workbook()
    sheet = book.worksheets[0]
    for row in (["part", "value", "volts", "prices"], ["A-1", "47uF", "25 V", 12.5]):
        sheet.append(row)
    sheet.cell(2, 4).number_format = number_format
    book.save(tmp_path / "pellworth.xlsx")
    found, _ = read_catalogue(tmp_path / "pellworth.xlsx", "pellworth")
    assert found is not None
    assert str(found.part(0).prices[0].unit_price) == price


def test_what_stands_below_the_value_of_a_resistor_is_no_capacitance(tmp_path: Path) -> None:
    path = tmp_path / "pellworth.csv"
    path.write_text("part,kind,value,prices\nR-1,Resistor,470,0.02\nC-1,Electrolytic,470,0.31\n", "utf-8")
    found, _ = read_catalogue(path, "pellworth")
    assert found is not None
    assert [one.value_uF for one in found.parts(range(2))] == [None, 470]


def test_a_description_doubted_in_one_thing_still_says_the_others() -> None:
    can, point = "Can 40-20-20 @ 450 / 25-25V", "Electrolytic 4.700 uF 63 V"
    replaces = "Elko 100µF 25V (ersetzt 100µF 16V)"
    read = [[take(name, text, IN_WORDS).value for name in ("value", "volts")] for text in (can, point, replaces)]
    assert read == [[None, None], [None, 63], [100, None]]
