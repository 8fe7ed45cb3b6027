"""Price lists in odd forms: no header, grids, discounts, two currencies, spoilt cells; what is read and what is asked.

All of it common practice of shops, unless a source stands beside it.
"""

from __future__ import annotations

from decimal import Decimal
from typing import TYPE_CHECKING

import openpyxl
import pytest

from recap.bench import catalogues
from recap.bench.catalogues import read_catalogue
from recap.bench.discounts import Discount, discount_head
from recap.bench.facts import both_sorts, facts
from recap.bench.keeping import FOLDER
from recap.bench.price_heads import pieces_of_cell
from recap.bench.taking import take
from recap.diagnostics import Diagnostic, Severity

if TYPE_CHECKING:
    from pathlib import Path

    from recap.model import Part


def read(
    folder: Path, text: str, currency: str | None = None, *, strict: bool = False
) -> tuple[list[Part], list[Diagnostic]]:
    """Return the parts of a list, and what is told of it above a note."""
    path = folder / "pellworth.csv"
    path.write_text(text, encoding="utf-8")
    found, told = read_catalogue(path, "pellworth", currency=currency, strict=strict)
    parts = [] if found is None else found.parts(range(len(found)))
    return parts, [one for one in told if one.severity is not Severity.NOTE]


def prices(parts: list[Part]) -> dict[str, str]:
    """Return each part's prices by its number."""
    return {
        one.number: " ".join(f"{step.quantity}:{step.unit_price.normalize():f}" for step in one.prices) for one in parts
    }


# no header


def test_columns_are_told_by_their_cells_where_none_can_be_anything_else(tmp_path: Path) -> None:
    text = "EK-1;47 µF;25 V;0,12 €;Ombrel\nEK-2;100 µF;25 V;0,15 €;Ombrel\nEK-3;220 µF;16 V;0,15 €;Kestrane\n"
    parts, told = read(tmp_path, text)
    assert prices(parts) == {"EK-1": "1:0.12", "EK-2": "1:0.15", "EK-3": "1:0.15"}
    assert (parts[0].value_uF, parts[0].volts) == (47, 25)
    assert told[0].code == "header-by-cells"
    assert "A part, B value, C volts, D prices; not read: E" in told[0].message
    assert told[0].hint == "if so, put this line above it: part;value;volts;prices;note"
    again, told = read(tmp_path, f"part;value;volts;prices;note\n{text}")
    assert prices(again) == prices(parts)
    assert not told


@pytest.mark.parametrize(
    ("rows", "line"),
    [
        ("EK-1;47µF;25V;0,12 €;100\nEK-2;100µF;25V;0,15 €;100\nEK-3;1µF;50V;0,1 €;100\n", "part;value;volts;prices;?"),
        ("EK-1,47,25,0.12\nEK-2,100,25,0.15\nEK-3,220,16,0.15\n", "part,?,?,?"),
        ("EK-1;47µF;25V;32V;0,12 €\nEK-2;1µF;25V;32V;0,1 €\nEK-3;2µF;50V;63V;0,1 €\n", "part;value;volts;volts;prices"),
        ("EK-1;47µF;25V;0,12 €;%\nEK-2;1µF;25V;0,15 €;%\nEK-3;2µF;50V;0,1 €;%\n", "part;value;volts;prices;?"),
        ("EK-1;47µF;25V;0,12 €;box\nEK-2;1µF;25V;0,15 €;\nEK-3;2µF;50V;0,1 €;\n", "part;value;volts;prices;?"),
    ],
)
def test_what_may_be_several_things_is_asked_for_with_the_missing_line(tmp_path: Path, rows: str, line: str) -> None:
    parts, told = read(tmp_path, rows)
    assert not parts
    assert [one.code for one in told] == ["header-missing"]
    assert f": {line}; names are: part, value" in (told[0].hint or "")


def test_the_line_that_is_asked_for_makes_the_list_readable(tmp_path: Path) -> None:
    rows = "EK-1,47,25,0.12,200\nEK-2,100,25,0.15,100\nEK-3,220,16,0.15,50\n"
    assert not read(tmp_path, rows)[0]
    parts, told = read(tmp_path, "part,value,volts,prices,stock\n" + rows)
    assert prices(parts)["EK-3"] == "1:0.15"
    assert [part.stock for part in parts] == [200, 100, 50]
    assert not told


def test_prices_cut_at_their_decimal_commas_are_not_taken(tmp_path: Path) -> None:
    rows = "Elko 47µF 25V - 0,12 €\nElko 100µF 25V - 0,15 €\nElko 220µF 16V - 0,15 €\n"
    parts, told = read(tmp_path, rows)
    assert not parts
    assert "semicolons" in (told[0].hint or "")
    assert len(read(tmp_path, rows.replace(" - ", ";"))[0]) == 3


def test_a_header_nobody_knows_is_asked_for_by_its_place(tmp_path: Path) -> None:
    text = "Артикул;Номинал;Цена\nEK-1;100µF;12,50 €\nEK-2;47µF;10,00 €\nEK-3;1µF;9,00 €\n"
    parts, told = read(tmp_path, text)
    assert not parts
    assert [(one.code, one.source.row) for one in told] == [("header-missing", 1)]
    assert "in this place: part;value;prices, with" in (told[0].hint or "")
    found, _ = read(tmp_path, "part;value;prices\n" + text.partition("\n")[2])
    assert prices(found) == {"EK-1": "1:12.5", "EK-2": "1:10", "EK-3": "1:9"}


# grids

GRID = "µF / V;16 V;25 V\n10;0,10;0,12\n100;0,15;-\n"


def test_a_grid_of_prices_is_a_list_of_offers(tmp_path: Path) -> None:
    parts, told = read(tmp_path, f"Elko axial 105 °C\nPreise in EUR je Stück\n{GRID}")
    found = {one.number: (one.value_uF, one.volts, one.temp_C, one.kind) for one in parts}
    assert found == {
        "pellworth:10µF-16V": (10, 16, 105, "electrolytic"),
        "pellworth:10µF-25V": (10, 25, 105, "electrolytic"),
        "pellworth:100µF-16V": (100, 16, 105, "electrolytic"),
    }
    assert prices(parts)["pellworth:10µF-25V"] == "1:0.12"
    assert [one.code for one in told] == ["grid-read"]
    assert "10 µF, 16 V costs 0,10" in (told[0].hint or "")


def test_prices_of_a_hundred_are_divided_in_a_grid_too(tmp_path: Path) -> None:
    parts, told = read(tmp_path, f"Preise je 100 Stück\n{GRID}")
    assert prices(parts)["pellworth:10µF-16V"] == "1:0.001"
    assert [one.code for one in told] == ["grid-read", "price-per-title"]


@pytest.mark.parametrize(
    ("text", "hint"),
    [
        (GRID, "Prices in EUR"),  # makers print sizes and ripple currents so
        ("Prices\n,16V,25V\n10,0.10,0.12\n22,0.12,0.15\n", "µF"),
        ("uF,16,25,50\n10,0.10,0.12,0.15\n22,0.12,0.15,0.18\n", "16 V"),
        ("V,10,22,47\n16,0.10,0.12,0.15\n25,0.12,0.15,0.18\n", "10 V"),
    ],
)
def test_a_grid_that_does_not_say_what_its_numbers_are_is_not_read(tmp_path: Path, text: str, hint: str) -> None:
    parts, told = read(tmp_path, text)
    assert not parts
    unclear = [one for one in told if one.code == "grid-unclear"]
    assert len(unclear) == 1
    assert hint in (unclear[0].hint or "")


def test_quantities_over_prices_are_no_grid(tmp_path: Path) -> None:
    parts, told = read(tmp_path, "uF,1,10,100\n10,0.10,0.09,0.08\n22,0.12,0.10,0.09\n")
    assert list(prices(parts).values()) == ["1:0.1 10:0.09 100:0.08", "1:0.12 10:0.1 100:0.09"]
    assert [one.code for one in told] == ["part-made"]


def test_a_grid_of_sizes_under_a_price_word_is_refused_and_not_read_as_prices(tmp_path: Path) -> None:
    parts, told = read(tmp_path, "Price list 2026\nµF,16V,25V\n10,5x11,5x11\n100,6x11,8x11\n")
    assert not parts
    assert {one.code for one in told} == {"grid-read", "price-unreadable"}


def test_blocks_of_series_keep_their_numbers_apart(tmp_path: Path) -> None:
    text = "Prices each\nSeries VAX\nuF,16V,25V\n10,0.10,0.12\nSeries VRD\nuF,16V,25V\n10,0.05,0.06\n"
    assert prices(read(tmp_path, text)[0]) == {
        "pellworth:VAX-10uF-16V": "1:0.1", "pellworth:VAX-10uF-25V": "1:0.12",
        "pellworth:VRD-10uF-16V": "1:0.05", "pellworth:VRD-10uF-25V": "1:0.06",
    }  # fmt: skip


# discounts


@pytest.mark.parametrize(
    ("header", "discount"),
    [
        ("Rabatt ab 10", Discount(10)), ("Discount 100+", Discount(100)), ("Discount % 25 pcs", Discount(25)),
        ("10+ -5%", Discount(10, Decimal(5))), ("10+ (-5%)", Discount(10, Decimal(5))),
        ("Discount at 100: 10 %", Discount(100, Decimal(10))), ("Rabatt ab 10: 3,5%", Discount(10, Decimal("3.5"))),
        ("Remise à partir de 50", Discount(50)), ("10 % off 100+", Discount(100, Decimal(10))),
        ("10+ 5%", None), ("Rabatt", None), ("Discount over 50 EUR", None), ("Less than 10", None), ("-5%", None),
    ],
)  # fmt: skip
def test_the_header_of_a_discount(header: str, discount: Discount | None) -> None:
    assert discount_head(header) == discount


@pytest.mark.parametrize(
    ("text", "ladder"),
    [
        # 0.23 less 3 % is 0.2231: nothing is rounded
        ("Part,Value,Price,Rabatt ab 10\nA,47uF,0.23,3%\n", "1:0.23 10:0.2231"),
        ("Part;Value;Preis;Rabatt ab 10\nA;47uF;0,333;12,5 %\n", "1:0.333 10:0.291375"),
        ("Part;Value;Preis je 100;Rabatt ab 100\nA;47uF;23,00;10%\n", "1:0.23 100:0.207"),
        ("Part,Value,Price,10+ -5%,100+ -10%\nA,47uF,0.20,,\n", "1:0.2 10:0.19 100:0.18"),
        ("Part,Value,Price,10+ (-5%)\nA,47uF,0.20,0.19\n", "1:0.2 10:0.19"),
        ("Part,Value,1+,10+,Discount at 100: 10%\nA,47uF,0.20,0.19,\n", "1:0.2 10:0.19 100:0.18"),
        # what a spreadsheet shows as 5 % may be stored as 0.05: no price
        ("Part,Value,Price,10+ -5%\nA,47uF,0.20,0.05\nB,10uF,0.30,0.05\n", ""),
        ("Part,Value,Price,Rabatt ab 10\nA,47uF,0.20,0.05\n", "1:0.2"),
    ],
)
def test_prices_are_worked_out_of_a_discount_exactly(tmp_path: Path, text: str, ladder: str) -> None:
    parts, _ = read(tmp_path, text)
    assert prices(parts).get("A", "") == ladder


def test_a_discount_that_is_no_percentage_is_told(tmp_path: Path) -> None:
    parts, told = read(tmp_path, "Part,Value,Price,Rabatt ab 10\nA,47uF,0.20,3%\nB,10uF,0.20,three\n")
    assert prices(parts) == {"A": "1:0.2", "B": "1:0.2"}
    assert [one.code for one in told] == ["header-unknown"]
    rows = "".join(f"G{i},47uF,0.20,3%\n" for i in range(70))  # far below the header, in a row of its own
    parts, told = read(tmp_path, f"Part,Value,Price,Rabatt ab 10\n{rows}B,10uF,0.20,three\n")
    assert "B" not in prices(parts)
    assert [(one.code, one.source.row) for one in told] == [("price-discount", 1), ("price-unreadable", 72)]


# two currencies

TWO = "Part,Value,Price EUR,Price USD\nA,47uF,0.10,0.12\n"


@pytest.mark.parametrize(("currency", "price"), [("EUR", "1:0.1"), ("USD", "1:0.12")])
def test_of_two_currencies_that_of_the_supplier_is_read(tmp_path: Path, currency: str, price: str) -> None:
    parts, told = read(tmp_path, TWO, currency)
    assert prices(parts) == {"A": price}
    assert [one.code for one in told] == ["price-passed-over"]


@pytest.mark.parametrize("currency", ["GBP", None])
def test_of_two_currencies_neither_is_read_where_neither_is_the_suppliers(tmp_path: Path, currency: str | None) -> None:
    parts, told = read(tmp_path, TWO, currency)
    assert not parts
    assert [one.code for one in told] == ["currency-unclear"]
    assert "EUR, USD" in (told[0].hint or "")


def test_a_price_without_a_currency_beside_one_in_another(tmp_path: Path) -> None:
    assert prices(read(tmp_path, "Part,Value,Price,Price USD\nA,47uF,0.10,0.12\n", "EUR")[0]) == {"A": "1:0.1"}
    told = read(tmp_path, "Part,Value,Price USD,10+,100+\nA,47uF,0.12,0.10,0.09\n", "EUR")[1]
    assert not any(one.code == "price-passed-over" for one in told)  # the price of one piece would be lost


def test_a_title_in_another_currency_is_an_error(tmp_path: Path) -> None:
    text = "All prices in £\nPart,Value,Price\nA,47uF,0.10\n"
    assert [one.code for one in read(tmp_path, text, "EUR")[1]] == ["currency-differs"]
    assert prices(read(tmp_path, text, "GBP")[0]) == {"A": "1:0.1"}
    assert prices(read(tmp_path, text.replace("in £", "of FT: TRY US"), "EUR")[0]) == {"A": "1:0.1"}  # words
    assert prices(read(tmp_path, text.replace("in £", "in EUR, on request in £"), "EUR")[0]) == {"A": "1:0.1"}


def test_a_list_kept_as_read_is_read_again_for_another_currency(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(catalogues, "WORTH_KEEPING", 0)
    path = tmp_path / "pellworth.csv"
    path.write_text(TWO, encoding="utf-8")
    for currency, price in (("EUR", "0.10"), ("USD", "0.12"), ("EUR", "0.10")):
        found, _ = read_catalogue(path, "pellworth", tmp_path / FOLDER, lambda keep: keep(), currency)
        assert found is not None
        assert str(found.part(0).prices[0].unit_price) == price


# rows that can't be read

GOOD = "".join(f"G{i},47uF,0.{i}0,{i}\n" for i in range(1, 9))


@pytest.mark.parametrize(
    ("row", "code", "column"),
    [
        ("X,47uF,0.O5,1", "price-unreadable", "Price"),
        ("X,47uF,-0.05,1", "price-negative", "Price"),
        ("X,47uF,10:0.05 1:0.06,1", "price-order", "Price"),
        ("X,47uF,1.00 per 3,1", "price-unreadable", "Price"),
        ("X,47uF,0.05,heaps", "count-wrong", "Stock"),
    ],
)
def test_one_row_that_cannot_be_read_is_left_out_and_named(tmp_path: Path, row: str, code: str, column: str) -> None:
    parts, told = read(tmp_path, f"Part,Value,Price,Stock\n{GOOD}{row}\n")
    assert set(prices(parts)) == {f"G{i}" for i in range(1, 9)}
    assert [(one.severity, one.code, one.source.row, one.source.column) for one in told] == [
        (Severity.WARNING, code, 10, column)
    ]
    assert told[0].message.endswith("the row was left out")
    assert told[0].hint


def test_a_list_of_which_much_cannot_be_read_is_refused(tmp_path: Path) -> None:
    bad = "X1,47uF,cheap,1\nX2,47uF,dear,1\nX3,47uF,fair,1\n"
    assert read(tmp_path, f"Part,Value,Price,Stock\n{GOOD}{bad}")[0] == []  # 3 of 11
    assert len(read(tmp_path, f"Part,Value,Price,Stock\n{GOOD}{bad[:32]}")[0]) == 8  # 2 of 10


def test_of_several_rows_left_out_their_number_is_told_first(tmp_path: Path) -> None:
    parts, told = read(tmp_path, f"Part,Value,Price,Stock\n{GOOD}X1,47uF,0.O5,1\nX2,47uF,0.O7,1\n")
    assert len(parts) == 8
    assert told[0].code == "rows-left-out"
    assert told[0].message.startswith("2 of 10 rows")


@pytest.mark.parametrize("paid", ["EK", "EK netto", "Einkaufspreis", "Nettopreis", "VK"])
def test_what_the_shop_is_paid_goes_before_what_it_recommends(tmp_path: Path, paid: str) -> None:
    parts, told = read(tmp_path, f"Part,Value,{paid},UVP brutto\nA,47uF,0.10,0.29\n")
    assert prices(parts) == {"A": "1:0.1"}
    assert [one.code for one in told] == ["price-passed-over"]


def test_a_list_price_alone_is_read_and_told(tmp_path: Path) -> None:
    parts, told = read(tmp_path, "Part,Value,UVP,Trade\nA,47uF,0.29,0.10\n")
    assert prices(parts) == {"A": "1:0.29"}
    assert "price-not-paid" in [one.code for one in told]


def test_nothing_is_left_out_where_what_is_left_out_would_be_lost(tmp_path: Path) -> None:
    parts, told = read(tmp_path, f"Part,Value,Price,Stock\n{GOOD}X,47uF,cheap,1\n", strict=True)
    assert not parts
    assert [(one.severity, one.source.row) for one in told] == [(Severity.ERROR, 10)]


def test_a_bad_price_for_more_pieces_takes_its_row_out(tmp_path: Path) -> None:
    rows = "".join(f"G{i},47uF,0.{i}0,0.0{i}\n" for i in range(1, 9))
    parts, told = read(tmp_path, f"Part,Value,1+,10+\n{rows}X,47uF,0.50,0.4O\n")
    assert "X" not in prices(parts)
    assert [(one.code, one.source.row, one.source.column) for one in told] == [("price-unreadable", 10, "10+")]


# part numbers


@pytest.mark.parametrize(
    "number",
    [
        "1.00E+05", "1,23E+11", "Mar-01", "01. Mrz", "12-Dec-25", "2025-03-01",
        "12345678901234500000",  # 15 digits are exact: DBL_DIG of IEEE 754 binary64 (C standard, 5.2.4.2.2)
    ],
)  # fmt: skip
def test_a_part_number_that_a_spreadsheet_spoilt_is_told(tmp_path: Path, number: str) -> None:
    parts, told = read(tmp_path, f'Part,Value,Price\nA1,10uF,0.10\n"{number}",47uF,0.20\n')
    assert len(parts) == 2
    assert [(one.code, one.source.row) for one in told] == [("part-spoilt", 3)]


@pytest.mark.parametrize("number", ["1E105", "MAR-01", "123456789012345", "12345678901234567890", "ECA1", "DEC10"])
def test_a_part_number_that_only_looks_like_it_is_not(tmp_path: Path, number: str) -> None:
    assert read(tmp_path, f"Part,Value,Price\nA1,10uF,0.10\n{number},47uF,0.20\n")[1] == []


def test_a_number_shorter_than_those_that_begin_with_zeros_may_have_lost_its_own(tmp_path: Path) -> None:
    rows = "00470025,47uF,0.1\n00100063,10uF,0.1\n00220016,22uF,0.1\n470050,47uF,0.1\n12345678,1uF,0.1\n"
    told = read(tmp_path, f"Part,Value,Price\n{rows}")[1]
    assert [(one.code, one.source.row) for one in told] == [("part-spoilt", 5)]


# words and units


@pytest.mark.parametrize(
    "line", ["Electrolytics and bipolars", "Elkos und Tonfrequenzelkos", "NP & electrolytic", "Elko / bipolar"]
)
def test_a_heading_of_both_sorts_says_no_kind(line: str) -> None:
    assert both_sorts(line)
    assert "kind" not in dict(facts(line))


@pytest.mark.parametrize("line", ["Bipolar electrolytics", "Bipolare Elkos", "Electrolytics, NP", "Non-polar elkos"])
def test_a_heading_of_bipolar_electrolytics_says_bipolar(line: str) -> None:
    assert not both_sorts(line)
    assert dict(facts(line))["kind"] == "bipolar"


def test_no_polarity_is_bipolar_and_doubted(tmp_path: Path) -> None:
    parts, told = read(tmp_path, "Part,Value,Polarity,Price\nA,10uF,no,0.1\nB,10uF,yes,0.1\nC,1uF,non-polar,0.1\n")
    assert [one.kind.value for one in parts] == ["bipolar", "unknown", "bipolar"]
    assert [(one.code, one.source.row) for one in told] == [("polarity-no", 2)]


@pytest.mark.parametrize("header", ["mF", "C [mF]", "Capacitance (mF)", "Value mF"])
def test_mF_over_numbers_is_microfarad_and_said_once(tmp_path: Path, header: str) -> None:
    parts, told = read(tmp_path, f"Part,{header},Volts,Price\nA,8,450,1.1\nB,16,450,1.4\n")
    assert [one.value_uF for one in parts] == [8, 16]
    assert [one.code for one in told] == ["unit-old"]


def test_mF_in_cells_is_said_once(tmp_path: Path) -> None:
    told = read(tmp_path, "Part,Value,Price\nA,8mF,1.1\nB,16 mF,1.4\nC,10 MFD,1\n")[1]
    assert [(one.code, one.source.row) for one in told] == [("unit-old", 2)]
    assert "1 more rows" in told[0].message


@pytest.mark.parametrize(
    ("header", "volts", "text"),
    [
        ("Volts ~", 275, "275"), ("U", 63, "63"), ("U/V", 63, "63"),  # quantity by unit: ISO 80000-1, 7.1.3
        ("UR in V", 63, "63"), ("U =", 63, "63"),
    ],
)  # fmt: skip
def test_short_headers_of_voltages(tmp_path: Path, header: str, volts: int, text: str) -> None:
    parts, _ = read(tmp_path, f"Part,Value,{header},Price\nA,1uF,{text},1\nB,2uF,{text},1\nC,3uF,{text},1\n")
    assert [one.volts for one in parts] == [volts] * 3


def test_a_unit_of_sale_is_no_voltage(tmp_path: Path) -> None:
    assert [one.volts for one in read(tmp_path, "Part,Value,U,Price\nA,1uF,1,1\nB,2uF,12,1\n")[0]] == [None, None]


@pytest.mark.parametrize(
    ("code", "pieces"),
    # UN/ECE Recommendation 20, from memory: EA each, C62 one, H87 piece, PR pair, DZN dozen, CEN hundred, MIL thousand,
    # T3 thousand pieces; the others are common practice
    [("EA", 1), ("C62", 1), ("H87", 1), ("PR", 2), ("DZN", 12), ("CEN", 100), ("MIL", 1000), ("T3", 1000), ("HUN", 100),
     ("THO", 1000), ("strip", None)],
)  # fmt: skip
def test_codes_of_units_of_sale(code: str, pieces: int | None) -> None:
    assert pieces_of_cell(code) == pieces


@pytest.mark.parametrize("text", ["40 ks", "40 szt.", "40 pz", "40 pièces", "40 Stk", "40 units", "40個"])
def test_pieces_in_stock(text: str) -> None:
    assert take("stock", text).value == 40


@pytest.mark.parametrize(("text", "left"), [("○", None), ("在庫あり", None), ("×", 0), ("売り切れ", 0)])
def test_stock_in_signs(text: str, left: int | None) -> None:
    assert take("stock", text).code is None
    assert take("stock", text).value == left


def test_a_part_that_has_ended_is_told_where_no_stock_of_it_is_stated(tmp_path: Path) -> None:
    text = "Part,Value,Price,Stock,Lifecycle\nA,1uF,1,,Obsolete\nB,2uF,1,9,Obsolete\nC,3uF,1,,Active\nD,4uF,1,,NRND\n"
    assert [(one.code, one.source.row) for one in read(tmp_path, text)[1]] == [("part-ended", 2)]
    text = "Part,Value,Price,Obsolete\nA,1uF,1,yes\nB,2uF,1,no\n"
    assert [(one.code, one.source.row) for one in read(tmp_path, text)[1]] == [("part-ended", 2)]


def test_a_lot_of_several_beside_a_pack_of_one_is_left_out(tmp_path: Path) -> None:
    text = 'Part,Description,Pack size,Price\nA,"Elko 22uF 25V, lot de 5",1,0.8\nB,Elko 10uF 25V pack of 10,10,0.1\n'
    parts, told = read(tmp_path, text)
    assert list(prices(parts)) == ["B"]
    assert sorted((one.code, one.source.row) for one in told) == [("pack-price", 1), ("pack-unclear", 2)]


def test_sizes_in_inches_without_the_unit_are_not_taken(tmp_path: Path) -> None:
    text = "Part,Value,{},Length,Price\nA,1uF,0.5,1.25,1\nB,2uF,0.625,1.5,1\n"
    parts, told = read(tmp_path, text.format("Diameter"))
    assert [(one.diameter_mm, one.height_mm) for one in parts] == [(None, None)] * 2
    assert [one.code for one in told] == ["size-inches"]
    parts, told = read(tmp_path, text.format("Diameter (inch)").replace("Length", "Length (inch)"))
    assert (parts[0].diameter_mm, parts[0].height_mm) == (Decimal("12.7"), Decimal("31.75"))  # an inch is 25.4 mm
    assert not told
    parts, told = read(tmp_path, text.format("Diameter").replace("0.625", "6.3"))
    assert parts[1].diameter_mm == Decimal("6.3")


@pytest.mark.parametrize(
    "text", ["Prices each\nuF,16V,25V\n10,0.10,0.12\n", "Value,Volts,Price\n10uF,16V,0.10\n10uF,25V,0.12\n"]
)
def test_made_part_numbers_are_the_same_in_a_new_list_of_another_name(tmp_path: Path, text: str) -> None:
    numbers = set()
    for name in ("pellworth.csv", "May list.csv"):
        (tmp_path / name).write_text(text, encoding="utf-8")
        found, _ = read_catalogue(tmp_path / name, "pellworth")
        assert found is not None
        numbers.add(tuple(found.numbers.to_pylist()))
    assert numbers == {("pellworth:10uF-16V", "pellworth:10uF-25V")}


@pytest.mark.parametrize(
    ("title", "day"),
    [
        ("Preisliste, Stand: 01.03.2025", "2025-03-01"), ("Prices as of 2025-03-01", "2025-03-01"),
        ("Preise per 10.03.2025", "2025-03-10"), ("Prijzen van 13/04/2025", "2025-04-13"),
        ("Prices as of 03/04/2025", None),  # March or April
        ("Prices valid until 31.12.2025", None), ("Preise gültig bis 31.12.2025", None),
    ],
)  # fmt: skip
def test_the_day_in_a_title_is_that_of_all_its_prices(tmp_path: Path, title: str, day: str | None) -> None:
    parts, _ = read(tmp_path, f'"{title}"\nPart,Value,Price\nA,1uF,0.1\n')
    assert (str(parts[0].updated) if parts[0].updated else None) == day


def test_a_sheet_that_lacks_only_its_header_is_passed_over_with_a_warning(tmp_path: Path) -> None:
    book = openpyxl.Workbook()
    for row in (["AX-1", 47, 25, 0.12], ["AX-2", 100, 25, 0.15], ["AX-3", 10, 25, 0.15]):
        book.active.append(row)
    for row in (["Part", "Value", "Volts", "Price"], ["B", 10, 25, 0.1]):
        (book["Rest"] if "Rest" in book.sheetnames else book.create_sheet("Rest")).append(row)
    book.create_sheet("Terms").append(["Minimum order 20 EUR"])
    book.save(tmp_path / "pellworth.xlsx")
    found, told = read_catalogue(tmp_path / "pellworth.xlsx", "pellworth")
    assert found is not None
    assert found.numbers.to_pylist() == ["B"]
    passed = {one.source.sheet: one.severity for one in told if one.code == "sheet-passed-over"}
    assert passed == {"Sheet": Severity.WARNING, "Terms": Severity.NOTE}


def test_grids_on_several_sheets_keep_their_numbers_apart(tmp_path: Path) -> None:
    book = openpyxl.Workbook()
    for name, price in (("Axial", 0.3), ("Radial", 0.1)):
        sheet = book.create_sheet(name)
        for row in (["Prices EUR each"], ["uF", "16V", "25V"], [10, price, price]):
            sheet.append(row)
    book.save(tmp_path / "pellworth.xlsx")
    found, _ = read_catalogue(tmp_path / "pellworth.xlsx", "pellworth")
    assert found is not None
    assert prices(found.parts(range(len(found)))) == {
        "pellworth:Axial-10uF-16V": "1:0.3", "pellworth:Axial-10uF-25V": "1:0.3",
        "pellworth:Radial-10uF-16V": "1:0.1", "pellworth:Radial-10uF-25V": "1:0.1",
    }  # fmt: skip
