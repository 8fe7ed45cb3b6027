"""Catalogues: the same offers, exactly, however the price list is written and however large it is."""

from __future__ import annotations

import contextlib
import time
from datetime import date
from decimal import Decimal
from typing import TYPE_CHECKING

import openpyxl
import pyarrow as pa
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from recap.bench import columns, patterned
from recap.bench.catalogues import read_catalogue
from recap.bench.fields import FIELDS
from recap.bench.ladders import LadderError, dearer_break, money, price_breaks, read_ladder, shipping_tiers
from recap.bench.numerals import decimal_mark
from recap.bench.pricecheck import check_prices, repeated
from recap.bench.taking import take
from recap.diagnostics import Diagnostic, Severity
from recap.model import Kind, Mount, Part, PriceBreak, ShippingTier

if TYPE_CHECKING:
    from pathlib import Path

    from recap.bench.offers import Catalogue


def read(folder: Path, text: str | bytes, name: str = "pellworth.csv") -> tuple[Catalogue, list[Diagnostic]]:
    path = folder / name
    path.write_bytes(text if isinstance(text, bytes) else text.encode())
    catalogue, told = read_catalogue(path, "pellworth")
    assert catalogue is not None, told
    return catalogue, told


def parts(folder: Path, text: str) -> list[Part]:
    catalogue, told = read(folder, text)
    assert [d for d in told if d.severity is not Severity.NOTE] == []
    return [catalogue.part(row) for row in range(len(catalogue))]


def breaks(*steps: tuple[int, str]) -> tuple[PriceBreak, ...]:
    return tuple(PriceBreak(quantity, Decimal(price)) for quantity, price in steps)


DESCRIBED = """\
Artikel-Nr.;Bezeichnung;Kapazität;Rated V;Preis ab 1;Qty avail.
401;Elko bipolar radial;2,2 µF;50 V;0,28;80
402;Tantal Tropfen;22 µF;16 V;0,55;90
403;MKP X2 radial 275 VAC;0,1 µF;275 V;0,36;500
404;Elko axial X2;100 µF;100 V;0,95;40
405;Filmkondensator;1 µF;100 V;0,45;40
"""


def test_a_description_says_what_has_no_column_of_its_own(tmp_path: Path) -> None:
    catalogue, told = read(tmp_path, DESCRIBED)
    assert [(d.code, d.severity.value) for d in told] == [("description-read", "note")]
    found = [catalogue.part(row) for row in range(5)]
    assert [p.kind for p in found] == [Kind.BIPOLAR, Kind.TANTALUM, Kind.SAFETY, Kind.ELECTROLYTIC, Kind.UNKNOWN]
    assert [p.mount for p in found] == [Mount.RADIAL, None, Mount.RADIAL, Mount.AXIAL, None]
    # a class counts only beside a word of the mains: "X2" alone is two pieces
    assert [p.safety for p in found] == [None, None, "X2", None, None]


def test_diameter_and_length_in_one_column(tmp_path: Path) -> None:
    text = "part;Case D x L;value;volts;1\nA;6.3 x 11;10uF;25;0.1\nB;Ø10×12,5 mm;10uF;25;0.1\nC;15x6x12;1uF;25;0.1\n"
    found = parts(tmp_path, text + "D;12 x 8;1uF;25;0.1\n")
    sizes = [(p.diameter_mm, p.height_mm) for p in found]
    # a box of three sides has no diameter; 12 x 8 may be length first
    assert sizes == [(Decimal("6.3"), Decimal(11)), (Decimal(10), Decimal("12.5")), (None, None), (None, None)]


def test_columns_of_their_own_count_before_the_description(tmp_path: Path) -> None:
    text = "part,description,kind,mount,value,volts,prices\nA,axial bipolar,electrolytic,,10uF,25,1:0.1\n"
    (part,) = parts(tmp_path, text)
    assert (part.kind, part.mount) == (Kind.ELECTROLYTIC, None)


def test_a_kind_column_may_name_the_safety_class(tmp_path: Path) -> None:
    # X and Y: the classes of IEC 60384-14
    (part,) = parts(tmp_path, "part,kind,value,volts,prices\nA,safety X1/Y2,4.7nF,250,1:0.1\n")
    assert (part.kind, part.safety) == (Kind.SAFETY, "X1/Y2")


def test_every_column_in_its_unit(tmp_path: Path) -> None:
    header = (
        "part,maker,series,value,tolerance,volts,temp,life,mount,kind,pitch,diameter,height,ripple,impedance,safety,"
        "minimum,multiple,stock,prices,updated"
    )
    row = (
        'P-1,Ombrel,Alder,470 nF,20 %,16 V,-40~105 °C,2000 h,stehend,Elko,0.1",10 mm,12.5 mm,1.25 A,120 mΩ,,5,5,1000+,'
        "5:0.42 10:0.31,2025-03-31"
    )
    (part,) = parts(tmp_path, f"{header}\n{row}\n")
    assert part.value_uF == Decimal("0.47")
    assert (part.volts, part.temp_C, part.life_h) == (Decimal(16), 105, Decimal(2000))
    assert (part.mount, part.kind) == (Mount.RADIAL, Kind.ELECTROLYTIC)
    assert (part.pitch_mm, part.diameter_mm, part.height_mm) == (Decimal("2.54"), Decimal(10), Decimal("12.5"))
    assert (part.ripple_mA, part.impedance_ohm) == (Decimal(1250), Decimal("0.12"))
    assert (part.minimum, part.multiple, part.stock) == (5, 5, 1000)
    assert part.prices == breaks((5, "0.42"), (10, "0.31"))
    assert part.updated == date(2025, 3, 31)
    assert part.source is not None
    assert part.source.row == 2


POINT = "part,value,prices\nA,4.7,1:0.42 10:0.31\nB,1000,1:1.25\nC,0.47,5:0.2\n"


@pytest.mark.parametrize(
    "text",
    [
        POINT,
        "Bestellnummer;Kapazität;Staffelpreise\nA;4,7;1:0,42 10:0,31\nB;1000;1:1,25\nC;0,47;5:0,2\n",
        "part\tvalue (nF)\tprices\nA\t4700\t1: 0.42; 10: 0.31\nB\t1000000\t1: 1.25\nC\t470\t5: 0.20\n",
        "Order code,µF,1,5+,10 pcs\nA,4.7,0.42,,0.31\nB,1000,1.25,,\nC,0.47,,0.2,\n",
        'Code;µF;ab 1;ab 5;ab 10\nA;4,7;"0,42";;"0,31"\nB;1000;"1,25";;\nC;0,47;;"0,2";\n',
        "part,value,prices\nA,4u7,1:€0.42 10:€0.31\nB,1000 µF,1:1.25 EUR\nC,470n,5:0.2\n",
        "My list\n\npart,value,prices\n,µF,\nA,4.7,1:0.42 10:0.31\n\nB,1000,1:1.25\npart,value,prices\nC,0.47,5:0.2\n",
    ],
    ids=["plain", "German", "tabs and nF", "wide", "wide German", "units in cells", "title, units row, header again"],
)
def test_the_way_of_writing_does_not_change_the_offers(text: str, tmp_path: Path) -> None:
    found = [(p.number, p.value_uF, p.minimum, p.prices) for p in parts(tmp_path, text)]
    assert found == [
        ("A", Decimal("4.7"), 1, breaks((1, "0.42"), (10, "0.31"))),
        ("B", Decimal(1000), 1, breaks((1, "1.25"))),
        ("C", Decimal("0.47"), 5, breaks((5, "0.2"))),
    ]


def test_a_workbook_of_two_price_lists_is_one_catalogue(tmp_path: Path) -> None:
    book = openpyxl.Workbook()
    first = book.active
    assert first is not None
    for row in (["part", "value (µF)", "1", "10"], ["A", 4.7, 0.42, 0.31]):
        first.append(row)
    second = book.create_sheet("films")
    for row in (["part", "value (nF)", "mount", "1"], ["B", 470, "radial", 0.2]):
        second.append(row)
    book.create_sheet("notes").append(["we are closed in August"])
    book.save(tmp_path / "pellworth.xlsx")
    catalogue, told = read_catalogue(tmp_path / "pellworth.xlsx", "pellworth")
    assert catalogue is not None, told
    one, two = catalogue.part(0), catalogue.part(1)
    assert (one.value_uF, one.prices, one.mount) == (Decimal("4.7"), breaks((1, "0.42"), (10, "0.31")), None)
    assert (two.value_uF, two.prices, two.mount) == (Decimal("0.47"), breaks((1, "0.2")), Mount.RADIAL)
    assert two.source is not None
    assert (two.source.sheet, two.source.row) == ("films", 2)
    assert [d.code for d in told] == ["sheet-passed-over"]


def test_a_date_made_out_of_a_part_number_is_an_error(tmp_path: Path) -> None:
    book = openpyxl.Workbook()
    sheet = book.active
    assert sheet is not None
    sheet.append(["part", "value", "prices"])
    sheet.append([date(2024, 10, 16), 47, "1:0.42"])
    book.save(tmp_path / "pellworth.xlsx")
    catalogue, told = read_catalogue(tmp_path / "pellworth.xlsx", "pellworth")
    assert catalogue is None
    assert [(d.code, d.source.row, d.source.column) for d in told] == [("cell-is-date", 2, "part")]


@pytest.mark.parametrize(
    ("prices", "expected"),
    [
        ("1.000 2.000 0.5", "."),
        ("1,000 0,42", ","),
        ("1.000", None),
        ("47 100", None),
        ("1.234,56", ","),
        ("4.7 0,3", None),
    ],
)
def test_the_decimal_mark_shows_in_the_column(prices: str, expected: str | None) -> None:
    assert decimal_mark(prices.split()) == expected


@pytest.mark.parametrize(
    ("text", "mark", "amount"),
    [
        ("1.250", None, "1.250"), ("1,250", None, None), ("1,250", ",", "1.250"), ("1.250", ",", None),
        ("1,250", ".", None), ("1.234,50", None, "1234.50"), (".5", None, "0.5"), ("0,5", None, "0.5"),
    ],
)  # fmt: skip
def test_money_is_never_taken_for_thousands_of_it(text: str, mark: str | None, amount: str | None) -> None:
    assert money(text, mark) == (None if amount is None else Decimal(amount))


@pytest.mark.parametrize(
    ("text", "tiers"),
    [
        ("0:5.90 50:3.50 100:0", [("0", "5.90"), ("50", "3.50"), ("100", "0")]),
        ("0:5,90 49,50:0", [("0", "5.90"), ("49.50", "0")]),
        ("5.90", [("0", "5.90")]),
        ("5.90 50:0", [("0", "5.90"), ("50", "0")]),
        ("", []),
    ],
)
def test_shipping_tiers(text: str, tiers: list[tuple[str, str]]) -> None:
    assert shipping_tiers(text) == tuple(ShippingTier(Decimal(g), Decimal(c)) for g, c in tiers)


@pytest.mark.parametrize(
    ("name", "text", "value"),
    [
        ("temp", "105.0", 105), ("value", "1e-05", Decimal("0.00001")), ("stock", "1e3", 1000), ("pitch", "0", None),
        ("diameter", "10.000", Decimal(10)), ("value", "475", Decimal("4.7")), ("value", "102", None),
        ("volts", "275 VAC", Decimal(275)), ("safety", "class y2", "Y2"), ("kind", "alu elko, bipolar", Kind.BIPOLAR),
        ("mount", "radial leaded", Mount.RADIAL), ("life", "2000 h @ 105", Decimal(2000)), ("impedance", "n/a", None),
    ],
)  # fmt: skip
def test_cells_as_programs_and_people_write_them(name: str, text: str, value: object) -> None:
    assert take(name, text).value == value


LADDER = st.lists(
    st.tuples(st.integers(1, 5000), st.decimals("0.0001", "999", places=4)),
    min_size=1,
    max_size=5,
    unique_by=lambda step: step[0],
)


@given(LADDER, st.sampled_from([".", ","]), st.sampled_from([" ", "; ", " | "]))
@settings(max_examples=200, deadline=None)
def test_a_ladder_means_the_same_in_every_writing(steps: list[tuple[int, Decimal]], mark: str, between: str) -> None:
    steps = sorted(steps)
    text = between.join(f"{quantity}:{price}".replace(".", mark) for quantity, price in steps)
    assert price_breaks(read_ladder(text, mark)) == tuple(PriceBreak(q, p) for q, p in steps)


@given(st.lists(st.text("0123456789:., ;-€x", max_size=24), min_size=1, max_size=12), st.sampled_from([".", ",", None]))
@settings(max_examples=400, deadline=None)
def test_the_quick_check_proves_only_what_the_exact_reader_takes(texts: list[str], mark: str | None) -> None:
    check = check_prices(pa.array(texts, pa.string()), mark)
    for text, plain, dearer, least in zip(texts, check.plain, check.dearer, check.least, strict=True):
        try:
            exact = price_breaks(read_ladder(text, mark))
        except LadderError:
            assert not plain, text
            continue
        if plain:
            assert least == exact[0].quantity
            shown = [b.unit_price for b in exact]
            if not dearer and max(len(str(p)) for p in shown) <= 8:
                assert shown == sorted(shown, reverse=True)


def step_text(step: tuple[int, str]) -> str:
    return f"{step[0]}:{step[1]}"


STEPS = st.lists(
    st.tuples(st.sampled_from([0, 1, 10, 100, 12345678]), st.from_regex(r"0[.,]?[0-4]{1,2}|[0-9]{20}", fullmatch=True)),
    min_size=1,
    max_size=3,
)


@given(st.lists(STEPS.map(lambda steps: " ".join(map(step_text, steps))), min_size=1, max_size=15), st.booleans())
@settings(max_examples=120, deadline=None)
def test_ladders_of_one_pattern_are_proven_as_each_of_them_is_read(texts: list[str], comma: bool) -> None:
    mark = "," if comma else "."
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(patterned, "_FEWEST", 1)
        check = check_prices(pa.array(texts, pa.string()), mark)
    for text, plain, dearer, free, least in zip(texts, check.plain, check.dearer, check.free, check.least, strict=True):
        try:
            exact = price_breaks(read_ladder(text, mark))
        except LadderError:
            exact = None
        if not plain:
            assert least == 0
            continue
        assert exact is not None
        assert least == exact[0].quantity
        if max(len(step.partition(":")[2]) for step in text.split(" ")) <= 8:
            # what is told as dearer or free is read again, so more may be suspected
            assert dearer >= (dearer_break(exact) is not None)
            assert free >= any(step.unit_price == 0 for step in exact)


@given(st.lists(st.text("ab-1 é", max_size=20), max_size=30))
@settings(max_examples=200, deadline=None)
def test_no_double_part_number_escapes(numbers: list[str]) -> None:
    suspects = set(repeated(pa.array(numbers, pa.string())).tolist())
    assert suspects >= {i for i, number in enumerate(numbers) if numbers.count(number) > 1}


ROW = st.tuples(
    st.sampled_from(["4.7", "10 µF", "470 nF", "", "1000", "what"]),
    st.sampled_from(["16", "25 V", "", "6.3"]),
    st.sampled_from(["radial", "axial", "", "stehend"]),
    st.sampled_from(["", "10", "2500", ">100"]),
    st.sampled_from(["1:0.42 10:0.31", "1:0.2", "5: 0.5; 10: 0.4", "2:1.25 5:1.3", "0.75"]),
)


@given(rows=st.lists(ROW, min_size=1, max_size=12), crlf=st.booleans())
@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_large_files_are_read_like_small_ones(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, rows: list[tuple[str, ...]], crlf: bool
) -> None:
    lines = ["part,value,volts,mount,stock,prices", *(f"P{i},{','.join(row)}" for i, row in enumerate(rows))]
    text = ("\r\n" if crlf else "\n").join([*lines, ""])
    small, told_small = read(tmp_path, text)
    monkeypatch.setattr(columns, "LARGE", 0)
    large, told_large = read(tmp_path, text)
    assert told_small == told_large
    assert [small.part(i) for i in range(len(small))] == [large.part(i) for i in range(len(large))]
    assert small.priced.least.tolist() == large.priced.least.tolist()


@pytest.mark.parametrize(
    "odd",
    [
        'P3,"10\nµF",16,1:0.2', "P3,10", "", "P3,10,16,1:0.2,x", 'P3,"10",16,"1:0.2"', 'P3,",16,1:0.2',
        "\rP3,10,16,1:0.2", "part,value,volts,prices", "# remark", ",,,", " ",
    ],
    ids=[
        "line break in a cell", "short", "blank", "too wide", "quoted", "ditto",
        "lone carriage return", "header again", "remark", "delimiters only", "spaces",
    ],
)  # fmt: skip
def test_odd_lines_of_a_large_file_are_read_like_those_of_a_small_one(
    odd: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "pellworth.csv"
    lines = ["part,value,volts,prices", "P1,4.7,16,1:0.3", odd, "P9,47,25,1:0.1", ""]
    path.write_bytes("\n".join(lines).encode())
    small, told_small = read_catalogue(path, "pellworth")
    monkeypatch.setattr(columns, "LARGE", 0)
    large, told_large = read_catalogue(path, "pellworth")
    assert told_small == told_large
    assert (small is None) == (large is None)
    if small is not None and large is not None:
        assert [small.part(i) for i in range(len(small))] == [large.part(i) for i in range(len(large))]


def test_rows_are_found_by_part_number(tmp_path: Path) -> None:
    catalogue, _ = read(tmp_path, "part,value,prices\nA,4.7,2:0.4\nB,,1:3\n")
    assert catalogue.rows_of(["B", " A ", "C"]) == {"B": (1,), "A": (0,)}


@pytest.mark.parametrize(
    "ladder",
    [
        "9223372036854775808:0.1",
        "1:0.1 10000000000:0.05",
        "1:1e99",
        "1:9999999999999",
        "1:0.1 10:99999999999999999999",
        "1e99",
    ],
)
def test_numbers_beyond_all_money_and_pieces_are_faults_of_their_row(tmp_path: Path, ladder: str) -> None:
    """The quick ways must leave them to the exact reader, and nothing behind it must meet them."""
    rows = "".join(f"P{n},4.7,25,1:0.4\n" for n in range(40))
    _, told = read(tmp_path, f"part,value,volts,prices\n{rows}A,4.7,25,{ladder}\n")
    said = [(d.code, d.source.row, d.source.column) for d in told if d.source.row]
    assert said == [("price-unreadable", 42, "prices")]


@pytest.mark.parametrize("text", ["1:0.1 " * 3000, "1.2 per " * 3000, "0.1 / " * 3000, "1" * 20_000, "~" * 20_000])
def test_a_price_of_any_length_is_read_or_refused_at_once(text: str) -> None:
    began = time.process_time()
    with contextlib.suppress(LadderError):
        price_breaks(read_ladder(text))
    assert time.process_time() - began < 1


WILD = st.one_of(
    st.text(max_size=40), st.from_regex(r"[0-9]{1,6}[.,]?[0-9e:+ ]{0,9}( ?[a-zµΩ%°]{1,3})?", fullmatch=True)
)
MARKS = st.sampled_from([None, ".", ","])


@given(st.sampled_from(sorted(FIELDS)), WILD, st.sampled_from([None, "mm", "nF", "x"]), MARKS)
@settings(max_examples=250, deadline=None)
def test_no_cell_raises(name: str, text: str, unit: str | None, mark: str | None) -> None:
    taken = take(name, text, unit, mark)
    assert taken.value is None or taken.code is None


@given(WILD, MARKS)
@settings(max_examples=250, deadline=None)
def test_no_price_raises_anything_but_its_own_error(text: str, mark: str | None) -> None:
    with contextlib.suppress(LadderError):
        assert all(step.unit_price >= 0 for step in price_breaks(read_ladder(text, mark)))
    with contextlib.suppress(LadderError):
        assert all(tier.charge >= 0 for tier in shipping_tiers(text, mark))
    amount = money(text, mark)
    assert amount is None or amount >= 0


@pytest.mark.parametrize("text", ["1/2", "0:~5.90", "~5.90", "0." + "0" * 400 + "1"])
def test_shipping_that_may_be_something_else_is_refused(text: str) -> None:
    with pytest.raises(LadderError):
        shipping_tiers(text)


def test_no_price_has_hundreds_of_decimals() -> None:
    """All amounts of an order become multiples of the smallest, and no float holds those."""
    assert money("0." + "0" * 400 + "1") is None
    assert money("0." + "0" * 20 + "1") == Decimal("1E-21")
