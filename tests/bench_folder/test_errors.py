"""Bad input: every error names file, row, column, what was found and what to do, and all are told together."""

from __future__ import annotations

from typing import TYPE_CHECKING

import openpyxl
import pytest

from recap.bench import load_bench
from recap.diagnostics import Severity
from tests.bench_folder.folders import FILES, errors, load, warnings

if TYPE_CHECKING:
    from pathlib import Path

TERMS = "catalogs/suppliers.csv"
SHOP = "catalogs/pellworth.csv"


def test_a_bench_in_order_has_nothing_to_tell(tmp_path: Path) -> None:
    bench, told = load(tmp_path)
    assert [d for d in told if d.severity is not Severity.NOTE] == []
    assert [one.name for one in bench.sets] == ["S1", "S2"]


def terms(row: str) -> dict[str, str | bytes | None]:
    header = "supplier,currency,rate,shipping,minimum,handling,line_fee,duty,tax"
    return {TERMS: f"{header}\n{row}\n"}


def shop(*rows: str, header: str = "part,value,minimum,multiple,stock,prices") -> dict[str, str | bytes | None]:
    return {SHOP: "\n".join((header, *rows)) + "\n"}


@pytest.mark.parametrize(
    ("change", "expected"),
    [
        # suppliers' terms
        (terms("pellworth,USD,,0:5.90,,,,,"), ("rate-missing", TERMS, 2, "rate")),
        (terms("pellworth,USD,-1,0:5.90,,,,,"), ("rate-wrong", TERMS, 2, "rate")),
        (terms("pellworth,EUR,0.9,0:5.90,,,,,"), ("rate-wrong", TERMS, 2, "rate")),
        (terms("pellworth,euros,1,0:5.90,,,,,"), ("currency-wrong", TERMS, 2, "currency")),
        (terms("pellworth,EUR,1,50:3.50 0:5.90,,,,,"), ("shipping-order", TERMS, 2, "shipping")),
        (terms("pellworth,EUR,1,0:5.90 50:3.50 50:0,,,,,"), ("shipping-order", TERMS, 2, "shipping")),
        (terms("pellworth,EUR,1,cheap,,,,,"), ("price-unreadable", TERMS, 2, "shipping")),
        (terms("pellworth,EUR,1,0:5.90,-10,,,,"), ("amount-negative", TERMS, 2, "minimum")),
        (terms("pellworth,EUR,1,0:5.90,,some,,,"), ("amount-wrong", TERMS, 2, "handling")),
        (terms("pellworth,EUR,1,0:5.90,,$1,,,"), ("currency-differs", TERMS, 2, "handling")),
        (terms("pellworth,EUR,1,0:5.90,,,,,a lot"), ("percent-wrong", TERMS, 2, "tax")),
        ({TERMS: "supplier,currency\npellworth,EUR\nPellworth,EUR\n"}, ("supplier-twice", TERMS, 3, "supplier")),
        ({TERMS: "supplier,currency\npellworth,EUR\ndrawer,EUR\n"}, ("supplier-reserved", TERMS, 3, "supplier")),
        ({TERMS: "supplier,currency\npelworth,EUR\n"}, ("terms-missing", TERMS, None, None)),
        ({TERMS: None}, ("terms-missing", TERMS, None, None)),
        # a catalogue
        (shop("A,47,,,,1:-0.42"), ("price-negative", SHOP, 2, "prices")),
        (shop("A,47,,,,100:0.19 10:0.31"), ("price-order", SHOP, 2, "prices")),
        (shop("A,47,,,,1:0.42 1:0.31"), ("price-order", SHOP, 2, "prices")),
        (shop("A,47,,,,cheap"), ("price-unreadable", SHOP, 2, "prices")),
        (shop('A,47,,,,"1:1,250"'), ("price-unreadable", SHOP, 2, "prices")),
        (shop("A,47,,,,1:0.42", "B,47,,,,1:0.42", "A,10,,,,1:0.2"), ("part-twice", SHOP, 4, "part")),
        (shop("A,47,,,,1:0.42", ",10,,,,1:0.2"), ("part-missing", SHOP, 3, "part")),
        (shop("A,47,,,a boxful,1:0.42"), ("count-wrong", SHOP, 2, "stock")),
        (shop("A,47,,2.5,,1:0.42"), ("count-wrong", SHOP, 2, "multiple")),
        (shop("A,47,0,,,1:0.42"), ("count-wrong", SHOP, 2, "minimum")),
        (shop("A,47,,,,1:0,42"), ("row-too-wide", SHOP, 2, None)),
        (shop("A,47,,,,1:0.42", header="part,voltge,minimum,multiple,stock,prices"), ("header-near", SHOP, 1, "B")),
        (shop("A,47,,,,1:0.42", header="part,value,V,volts,stock,prices"), ("header-twice", SHOP, 1, "D")),
        (shop("50,1:0.42", header="volts,prices"), ("header-missing", SHOP, 1, None)),
        (shop("A,47,50", header="part,value,volts"), ("header-missing", SHOP, 1, None)),
        (shop("A,x,y", header="what,ever,it is"), ("header-missing", SHOP, 1, None)),
        (shop(), ("file-empty", SHOP, None, None)),
        ({SHOP: ""}, ("file-empty", SHOP, None, None)),
        ({SHOP: b"\xff\xd8\xff\xe0 a picture"}, ("file-wrong-type", SHOP, None, None)),
        ({SHOP: None, f"{SHOP[:-4]}.xlsx": b"PK\x03\x04 cut"}, ("workbook-broken", f"{SHOP[:-4]}.xlsx", None, None)),
        ({SHOP: FILES[SHOP].replace("1:0.20", "1:$0.20")}, ("currency-differs", SHOP, None, None)),
        # sets
        ({"sets.csv": "set,chassis,job\nS1,K8,full\n"}, ("chassis-unknown", "sets.csv", 2, "chassis")),
        ({"sets.csv": "set,chassis,job\nS1,,full\n"}, ("chassis-unknown", "sets.csv", 2, "chassis")),
        ({"sets.csv": "set,chassis,job\nS1,K7,full\ns1,K7,full\n"}, ("set-twice", "sets.csv", 3, "set")),
        ({"sets.csv": "set,chassis,job\n,K7,full\n"}, ("set-missing", "sets.csv", 2, "set")),
        ({"sets.csv": "set,chassis,boards,job\nS1,K7,PSO,full\n"}, ("board-unknown", "sets.csv", 2, "boards")),
        ({"sets.csv": "set,job\nS1,full\n"}, ("header-missing", "sets.csv", 1, None)),
        ({"sets.csv": None}, ("file-missing", "sets.csv", None, None)),
        ({"sets.csv": ""}, ("file-empty", "sets.csv", None, None)),
        ({"sets.tsv": "set\tchassis\nS1\tK7\n"}, ("file-twice", "sets.tsv", None, None)),
        # drawer and extras
        ({"drawer.csv": "part,value,qty\nA,47,some\n"}, ("count-wrong", "drawer.csv", 2, "qty")),
        ({"drawer.csv": "part,value\nA,47\n"}, ("header-missing", "drawer.csv", 1, None)),
        ({"extras.csv": "item,qty,part\nswitch,0,SW-1\n"}, ("count-wrong", "extras.csv", 2, "qty")),
        ({"extras.csv": "item,qty,part\nswitch,1,\n"}, ("extra-without-part", "extras.csv", 2, "part")),
        ({"extras.csv": "item,qty,part,set\nswitch,1,SW-1,S9\n"}, ("extra-set-unknown", "extras.csv", 2, "set")),
        # settings
        ({"bench.toml": "curency = 'EUR'\n"}, ("settings-unknown", "bench.toml", 1, "curency")),
        ({"bench.toml": "currency = EUR\n"}, ("settings-broken", "bench.toml", 1, None)),
        ({"bench.toml": "\nmax_suppliers = 'two'\n"}, ("settings-type", "bench.toml", 2, "max_suppliers")),
        ({"bench.toml": "[rules]\nderating = 80\n"}, ("settings-range", "bench.toml", 2, "rules.derating")),
        ({"bench.toml": "catalogs = 'nowhere'\n"}, ("file-missing", "nowhere", None, None)),
        # cap lists
        ({"caplists/K7.csv": ""}, ("file-empty", "caplists/K7.csv", None, None)),
        ({"caplists/K7.xlsx": b"not a workbook"}, ("file-twice", "caplists/K7.xlsx", None, None)),
        ({"caplists/K9.xlsx": b"not a workbook"}, ("workbook-broken", "caplists/K9.xlsx", None, None)),
    ],
)  # fmt: skip
def test_one_fault_one_error_at_its_place(
    change: dict[str, str | bytes | None], expected: tuple[str, str, int | None, str | None], tmp_path: Path
) -> None:
    assert errors(tmp_path, change) == [expected]


def test_all_errors_of_all_files_come_together(tmp_path: Path) -> None:
    change: dict[str, str | bytes | None] = {
        "bench.toml": "curency = 'EUR'\nmax_supliers = 2\n",
        "sets.csv": "set,chassis,boards,job\nS1,K8,,full\nS2,K7,PSO,full\n",
        "drawer.csv": "part,value,qty\nA,47,some\nB,10,-2\n",
        "extras.csv": "item,qty,part\nswitch,1,\n",
        **shop("A,47,,,x,1:-0.42", "A,10,,,,5:0.3 1:0.2"),
        **terms("pellworth,USD,,0:5.90,,,,,"),
    }
    assert sorted(code for code, *_ in errors(tmp_path, change)) == sorted([
        "settings-unknown", "settings-unknown", "chassis-unknown", "board-unknown", "count-wrong", "count-wrong",
        "extra-without-part", "count-wrong", "price-negative", "price-order", "part-twice", "rate-missing",
    ])  # fmt: skip


def test_a_folder_that_is_none(tmp_path: Path) -> None:
    assert [code for code, *_ in errors(tmp_path / "sub", {"x": None})] == []
    (tmp_path / "file").touch()
    assert [d.code for d in load_bench(tmp_path / "nowhere")[1]] == ["file-missing"]
    assert [d.code for d in load_bench(tmp_path / "file")[1]] == ["bench-no-folder"]


@pytest.mark.parametrize(
    ("change", "expected"),
    [
        (shop("A,47,,,,1:0.30 10:0.42"), ("price-rises", 2, "prices")),
        (shop("A,47,,,,1:9.5 10:10.5"), ("price-rises", 2, "prices")),
        (shop("A,47,,,,1:0.00"), ("price-zero", 2, "prices")),
        (shop("A,47,,,,", "B,10,,,,1:0.2"), ("price-missing", 2, "prices")),
        (shop("A,47,1,,,10:0.20"), ("minimum-below-prices", 2, "minimum")),
        (shop("A,50+50 µF,,,,1:3"), ("field-unclear", 2, "value")),
        (shop("A,about ten,,,,1:3"), ("field-unclear", 2, "value")),
        (shop("A,1.000,,,,1:3"), ("field-unclear", 2, "value")),
        (shop("A,47,,,,1:3,x", header="part,value,minimum,multiple,stock,prices,Foo"), ("header-unknown", 1, "G")),
        (terms("pellworth,EUR,1,0:5.90,,,,,0.19"), ("percent-small", 2, "tax")),
        ({"drawer.csv": "part,value,qty,bought\nA,47,1,03/04/2020\n"}, ("field-unclear", 2, "bought")),
        ({"drawer.csv": "part,value,qty,bought\nA,47,1,2998-04-13\n"}, ("field-unclear", 2, "bought")),
    ],
)
def test_what_is_odd_is_a_warning(
    change: dict[str, str | bytes | None], expected: tuple[str, int | None, str | None], tmp_path: Path
) -> None:
    assert warnings(tmp_path, change) == [expected]


def test_in_a_workbook_the_sheet_is_named_too(tmp_path: Path) -> None:
    book = openpyxl.Workbook()
    sheet = book.active
    assert sheet is not None
    sheet.title = "March"
    for row in (["part", "value", "prices"], ["A", 47, "1:0.42"], ["B", 10, "1:-1"]):
        sheet.append(row)
    folder = tmp_path / "bench"
    folder.joinpath("catalogs").mkdir(parents=True)
    book.save(folder / "catalogs" / "pellworth.xlsx")
    _, told = load(folder, {SHOP: None})
    (fault,) = [d for d in told if d.severity is Severity.ERROR]
    place = fault.source
    assert (fault.code, place.sheet, place.row, place.column) == ("price-negative", "March", 3, "prices")
    assert fault.found == "1:-1"


def test_many_alike_faults_are_told_one_by_one_and_then_counted(tmp_path: Path) -> None:
    _, told = load(tmp_path, shop(*(f"P{i},47,,,,1:-1" for i in range(80))))
    faults = [d for d in told if d.severity is Severity.ERROR]
    assert len(faults) == 51
    assert faults[-1].message == "and 30 more rows like these"


def test_of_two_lists_the_one_that_is_kept_under_another_name_is_pointed_at(tmp_path: Path) -> None:
    """``recap import --force`` over a list of another ending, stopped before the old one was taken away."""
    old = "C1 10uF 16V\n"
    changed: dict[str, str | bytes | None] = {"caplists/K7.txt": old, "caplists/K7.txt.old1": old}
    assert hints(tmp_path, changed) == [
        "K7.txt is kept as K7.txt.old1, too: delete it where another list was being stored over it"
    ]
    assert hints(tmp_path, {"caplists/K7.txt": "C1 22uF 16V\n"}) == ["delete or rename one"]


def hints(folder: Path, change: dict[str, str | bytes | None]) -> list[str | None]:
    return [d.hint for d in load(folder, change)[1] if d.code == "file-twice"]
