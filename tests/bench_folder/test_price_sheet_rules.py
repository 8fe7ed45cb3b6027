"""What single habits of price lists mean, each by itself; all of it common practice of the trade."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

import recap
from recap.bench.catalogues import read_catalogue
from recap.bench.facts import facts
from recap.bench.in_words import IN_WORDS
from recap.bench.ladders import LadderError, price_breaks, read_ladder
from recap.bench.price_heads import PriceHead, price_head
from recap.bench.taking import take
from recap.diagnostics import Severity
from recap.read.pasted import as_tabbed
from tests.bench_folder.folders import load, warnings

if TYPE_CHECKING:
    from pathlib import Path

SHOP = "catalogs/pellworth.csv"
TERMS = "catalogs/suppliers.csv"


def read(folder: Path, text: str) -> tuple[dict[str, str], list[str]]:
    """Return each part's prices by number, and the codes of what is told above a note."""
    path = folder / "pellworth.csv"
    path.write_text(text, encoding="utf-8")
    found, told = read_catalogue(path, "pellworth")
    parts = [] if found is None else found.parts(range(len(found)))
    prices = {
        one.number: " ".join(f"{step.quantity}:{step.unit_price.normalize():f}" for step in one.prices) for one in parts
    }
    return prices, [one.code for one in told if one.severity is not Severity.NOTE]


@pytest.mark.parametrize(
    ("header", "head"),
    [
        ("Price", PriceHead()),
        ("Preis je 100", PriceHead(per=100)),
        ("€/1000", PriceHead(per=1000, currency="EUR")),
        ("Price % pcs", PriceHead(per=100)),
        ("per 10", PriceHead(per=10)),
        ("Preis je 1.000 Stück", PriceHead(per=1000)), ("Price per 1,000", PriceHead(per=1000)),
        ("Price per 500", PriceHead(per=500)), ("Preis/250", PriceHead(per=250)),
        ("Prix TTC", PriceHead(taxed=True)),
        ("prix HT", PriceHead(taxed=False)),
        ("Preço unit. c/ IVA", PriceHead(taxed=True, each=True)),
        ("Preis in EUR je 100 Stück (zzgl. MwSt.) ab 500", PriceHead(500, 100, taxed=False, currency="EUR")),
        ("Price GBP 25+", PriceHead(25, currency="GBP")),
        ("10 up", PriceHead(10)),
        ("10 à 49", PriceHead(10)),
        ("Price per pack", PriceHead(pack=True)),
        ("10er Packung Preis", PriceHead(10, 10)),
        ("List price", PriceHead(paid=False)),
        ("Qty 1-24", PriceHead(1)), ("22%", None),
        ("Price 2025", PriceHead()), ("Preis 2026 EUR", PriceHead(currency="EUR")), ("2025", None),  # years
        ("Price 2000", PriceHead(2000)), ("2025+", PriceHead(2025)), ("Preis ab 2010 Stk", PriceHead(2010)),
        ("Preis in Cent", PriceHead(cents=True)), ("Price (p)", PriceHead(cents=True)), ("ct", PriceHead(cents=True)),
        ("Price CT", None), ("Price (P)", None),
        ("Price per 100 in cents", PriceHead(per=100, cents=True)), ("Prix par cent", PriceHead(per=100)),
        ("Price <10", PriceHead(1)), ("bis 9", PriceHead(1)), ("10 bis 99", PriceHead(10)), ("Gültig bis 2025", None),
        ("10 and more", PriceHead(10)), ("Price up to 99 pcs", PriceHead(1)),
        ("Price per pair", PriceHead(per=2)), ("Preis/Dutzend", PriceHead(per=12)),
        ("Packs left", None), ("Pack qty", None), ("Volts", None), ("C", None), ("stock", None), ("Unit", None),
    ],
)  # fmt: skip
def test_the_header_of_a_price_column(header: str, head: PriceHead | None) -> None:
    assert price_head(header) == head


@pytest.mark.parametrize(
    ("cell", "price", "doubted"),
    [
        ("0,45 €", "0.45", False), ("3,80 zł", "3.80", False), ("1,90 kr", "1.90", False),
        ("€1.95 each", "1.95", False),
        ("10p", "0.1", False), ("12 ct", "0.12", False), ("6,50 je 100", "0.065", False),
        ("12.50 per 1000", "0.0125", False),
        ("0.60/10", "0.06", True),
        ("1,20/10 Stk", "0.12", True), ("1,20 per 10 pcs", "0.12", False), ("~1.40", "1.40", True),
        ("0.35*", "0.35", True), ("3,-", "3", False), ("2.-- CHF", "2", False), ("€ 4,—", "4", False),
    ],
)  # fmt: skip
def test_a_price_with_something_beside_it(cell: str, price: str, *, doubted: bool) -> None:
    ladder = read_ladder(cell)
    assert f"{price_breaks(ladder)[0].unit_price:f}" == price
    assert (ladder.doubt is not None) == doubted


def test_a_price_in_front_of_others_is_that_of_one_piece() -> None:
    steps = price_breaks(read_ladder("€0.32 / 10+: €0.26"))
    assert [(step.quantity, str(step.unit_price)) for step in steps] == [(1, "0.32"), (10, "0.26")]


def test_a_third_of_a_price_has_no_end_and_is_not_taken() -> None:
    with pytest.raises(LadderError):
        read_ladder("1.00 per 3")


@pytest.mark.parametrize(
    ("text", "prices", "codes"),
    [
        # of how many pieces the price is, row by row
        (
            "Part;Value;Price;Unit\nA;47uF;6,50;100\nB;10uF;0,08;Stk\nC;22uF;7,00;C\n",
            "A 1:0.065, B 1:0.08, C 1:0.07", [],
        ),
        ("Part;Value;Price;PE\nA;47uF;41,00;1000\nB;10uF;0,58;1\n", "A 1:0.041, B 1:0.58", []),
        ("Part;Value;Price;Unit\nA;47uF;6,50;crate\nB;10uF;0,08;pcs\n", "", ["price-unreadable"]),
        # several prices of several quantities
        ("Part,Value,Each,10+,100+\nA,47uF,0.2,0.15,0.1\n", "A 1:0.2 10:0.15 100:0.1", []),
        ("Part,Value,Price per 10,Price per 100\nA,47uF,0.80,6.00\n", "A 10:0.08 100:0.06", []),
        (
            "Part,Value,Qty 1,Price 1,Qty 2,Price 2\nA,47uF,1,0.2,50,0.1\nB,10uF,5,0.3,,\n",
            "A 1:0.2 50:0.1, B 5:0.3", [],
        ),
        ("Part,Value,from,Price\nA,47uF,1,0.2\nA,47uF,10,0.15\nB,10uF,1,0.3\n", "A 1:0.2 10:0.15, B 1:0.3", []),
        ("Part,Value,Price 1,Price 2,Price 3\nA,47uF,0.5,0.45,0.4\n", "", ["price-breaks-unclear"]),
        ("Part,Value,Price for 10\nA,47uF,0.80\n", "A 10:0.8", ["price-doubted"]),
        ("Part,Value,EUR,USD\nA,47uF,0.10,0.12\n", "", ["currency-unclear"]),
        # what stands under "par 10": each of ten, or ten together, as the prices show
        ("Réf,Valeur,par 1,par 10,par 100\nA,47uF,0.42,0.35,0.27\n", "A 1:0.42 10:0.35 100:0.27", []),
        ("Réf,Valeur,par 1,par 10,par 100\nA,47uF,0.42,3.50,27\n", "A 1:0.42 10:0.35 100:0.27", []),
        ("Réf,Valeur,par 1,par 10\nA,47uF,0.42,0.45\n", "", ["price-per-unclear"]),
        ("MPN,Supplier part,Value,Price\nEX-1,77-1,47uF,1+ €0.42 10+ €0.31\n", "77-1 1:0.42 10:0.31", ["header-twice"]),
        # packs
        ("Part,Value,Pack size,Price per pack\nA,47uF,20,1.60\n", "A 1:0.08", []),
        ("Part,Value,Price per pack\nA,47uF,1.60\n", "", ["header-missing"]),
        ("Part,Value,Pack,Price\nA,47uF,10,4.20\n", "A 1:4.2", ["pack-price"]),
        ("Part,Value,Pack,Price each\nA,47uF,10,0.42\n", "A 1:0.42", []),
        ("Part,Value,VPE,Stückpreis\nA,47uF,10,0.42\n", "A 1:0.42", []),
        ("Part,Value,Pack,Price\nA,47uF,1,0.42\n", "A 1:0.42", []),
        ("Part,Value,Pack,Prices\nA,47uF,10,1:0.50 100:0.42\n", "A 1:0.5 100:0.42", []),
        ("Part,Value,Multiple,Price\nA,47uF,10,0.42\n", "A 1:0.42", []),
        ("Part,Description,Price\nA,Elko 47uF 25V 10er Pack,1.6\nB,Elko 47uF 25V,0.2\n", "B 1:0.2", ["pack-unclear"]),
        (
            "Part,Description,Price\nA,Elko 2x 100µF 350V,3.9\nB,Elko 47uF 25V 10 x 16,0.2\n",
            "B 1:0.2", ["pack-unclear"],
        ),
        # no price
        ("Part,Value,Price\nA,47uF,auf Anfrage\nB,10uF,0.2\nC,22uF,from 0.10\n", "B 1:0.2", ["price-missing"] * 2),
        # a line that speaks of all prices
        ("Prices per 100 pieces\nPart,Value,Price\nA,47uF,6.5\n", "A 1:0.065", ["price-per-title"]),
        ("Prices in cents\nPart,Value,Price\nA,47uF,12\n", "A 1:0.12", ["price-per-title"]),
        ("Part,Value,Preis in Cent\nA,47uF,12\n", "A 1:0.12", []),
        ("Part,Value,Price\nA,47uF,12\nPrices in cents\n", "", ["price-per-unclear"]),
        ("Part,Value,Price 2024,Price 2025\nA,47uF,0.20,0.25\n", "", ["header-twice"]),
        ("Part,Value,Price 2025\nA,47uF,0.25\n", "A 1:0.25", []),
        ("Part,Value,Price\nA,47uF,6.5\nPrices per 100 pieces,,\n", "", ["price-per-unclear"]),
    ],
)  # fmt: skip
def test_of_how_many_pieces_and_from_which_quantity_a_price_is(
    text: str, prices: str, codes: list[str], tmp_path: Path
) -> None:
    found, told = read(tmp_path, text)
    assert (", ".join(f"{number} {steps}" for number, steps in found.items()), told) == (prices, codes)


@pytest.mark.parametrize(
    ("line", "stated"),
    [
        ("Bipolar", {"kind": "bipolar"}),
        ("Low ESR 105°C", {"temp": "105 °C"}),
        ("Basso ESR 105°C 5000h", {"temp": "105 °C", "life": "5000 h"}),
        ("Series HKL - radial, 85°C", {"temp": "85 °C", "mount": "radial", "series": "HKL"}),
        ("Maker: Odenthorp", {"maker": "Odenthorp"}),
        ("X2 interference suppression 275 VAC", {"volts": "275 V", "kind": "safety", "safety": "class X2"}),
        ("Snap-in 450V", {"volts": "450 V", "mount": "snap-in"}),
        # two readings are none, and numbers without a unit are years, pages, hours of the day
        ("Becherelkos 85°C / 105°C", {"kind": "electrolytic"}),
        ("Catalogue 2025/26, page 7", {}),
        ("Order before 12 h", {}),
        ("1 µF - 10 µF", {}),
    ],
)
def test_what_a_line_over_rows_says(line: str, stated: dict[str, str]) -> None:
    assert dict(facts(line)) == stated


@pytest.mark.parametrize(
    ("field", "cell", "value"),
    [
        ("volts", "275~", "275"), ("volts", "63=", "63"), ("volts", "X2 275VAC", "275"), ("volts", "275V~ X2", "275"),
        ("stock", "in stock", "None"), ("stock", "ausverkauft", "0"), ("stock", ">1000", "1000"),
        ("stock", "275~", "275"),
        ("stock", "3,204", "3204"), ("stock", "4,210 In Stock", "4210"), ("multiple", "cut tape", "None"),
        ("multiple", "reel of 500", "500"),
        ("pitch", '0.197" (5.00mm)', "5"), ("value", "47µF NP", "47"),
    ],
)  # fmt: skip
def test_cells_with_something_beside_them(field: str, cell: str, value: str) -> None:
    assert str(take(field, cell).value) == value


@pytest.mark.parametrize(
    ("field", "text", "value"),
    [
        ("life", "5000h @ 105°C", "5000"), ("temp", "5000h @ 105°C", "105"), ("temp", "2000h@105", "105"),
        ("temp", "105/5000", "105"), ("life", "105/5000", "5000"), ("life", "2000-5000h", "None"),
        ("life", "105°C 1000µF 25V", "None"), ("temp", "85/105°C", "None"), ("temp", "-40°C ~ 105°C", "105"),
        ("diameter", "2 x 100µF", "None"), ("diameter", "Elko 3 x 5 x 7 mm", "None"),
        ("height", "Elko 8x11.5 mm radial", "11.5"),
        ("temp", "2000", "None"),
        ("diameter", "D8 L6", "8"), ("diameter", "10x20 radial", "10"), ("diameter", '0.25" x 0.5"', "6.35"),
        ("diameter", "0.25x0.5", "None"), ("diameter", "12 x 8", "None"), ("pitch", "Elko 10x16 RM5", "5"),
        ("volts", "Elko 25V for 230V supplies", "None"), ("value", "10.000 µF", "None"),
        ("safety", "film X2 ; 275 V~", "X2"), ("safety", "film X2", "None"), ("safety", "Elko axial X2", "None"),
    ],
)  # fmt: skip
def test_what_running_text_says_of_a_field(field: str, text: str, value: str) -> None:
    assert str(take(field, text, "in words").value) == value


def test_headings_hold_until_the_next_and_add_up_where_one_follows_another(tmp_path: Path) -> None:
    path = tmp_path / "pellworth.csv"
    lines = ["part,value,volts,1", "A,1uF,50,0.1", "Axial,,,", "Series HKA 85°C,,,", "B,1uF,50,0.1", "Series HKB,,,"]
    path.write_text("\n".join([*lines, "C,1uF,50,0.1", "Radial,,,", "D,1uF,50,0.1"]) + "\n", encoding="utf-8")
    found, told = read_catalogue(path, "pellworth")
    assert found is not None
    said = [(p.mount and p.mount.value, p.series, p.temp_C) for p in found.parts(range(len(found)))]
    assert said == [(None, None, None), ("axial", "HKA", 85), ("axial", "HKB", None), ("radial", None, None)]
    assert [(one.code, one.source.row) for one in told] == [("heading-carried", row) for row in (3, 4, 6, 8)]


@pytest.mark.parametrize(
    ("description", "kind", "mount"),
    [
        ("Elko radial 4700uF 63V 25x40 snap-in", "electrolytic", "snap-in"),  # a snap-in can stands on its leads
        ("Solid tantalum electrolytic capacitor 10uF 25V radial", "tantalum", "radial"),
        ("Bipolar electrolytic 10uF 50V axial", "bipolar", "axial"),
        ("Film capacitor 1uF 63V bipolar", "film", None),  # no film has a polarity
        ("Electrolytic 47uF 25V axial or radial", "electrolytic", None),
    ],
)
def test_of_two_words_for_one_thing_the_more_particular_holds_as_in_lists(
    description: str, kind: str, mount: str | None, tmp_path: Path
) -> None:
    """Common practice of shops and lists; the same line read as a list says the same."""
    path = tmp_path / "pellworth.csv"
    path.write_text(f"part,description,prices\nA,{description},0.1\n", encoding="utf-8")
    found, _ = read_catalogue(path, "pellworth")
    assert found is not None
    first = found.part(0)
    assert (first.kind, first.mount) == (kind, mount)
    ((listed,), _) = recap.read_cap_text(f"C1 {description}", "note")
    assert (listed.kind, listed.mount) == (kind, mount)


@pytest.mark.parametrize(
    ("text", "codes"),
    [
        ("Axial Electronics Ltd\npart,value,volts,prices\nA,47uF,25,0.1\n", []),  # a name, not a way of mounting
        ("part,value,surge voltage,prices\nA,47uF,32V,0.1\nB,47uF,40V,0.1\n", ["header-unknown"]),
        ("part,c,v,prices\nA,105,25V,0.1\nB,85,25V,0.1\n", ["header-unknown"]),  # °C or µF
        ("part,value,volts,prices,\nA,47uF,25,0.1,7\n", ["header-blank"]),
    ],
)
def test_what_could_be_something_else_is_not_taken(text: str, codes: list[str], tmp_path: Path) -> None:
    path = tmp_path / "pellworth.csv"
    path.write_text(text, encoding="utf-8")
    found, told = read_catalogue(path, "pellworth")
    assert found is not None
    first = found.part(0)
    assert [one.code for one in told if one.severity is not Severity.NOTE] == codes
    assert first.mount is None
    assert first.value_uF is None or "c," not in text
    assert first.volts is None or "surge" not in text


def test_columns_set_apart_by_blanks_keep_their_empty_cells() -> None:
    lines = ["our list", "Code   Value   Volts   Each", "A1     47uF            0.10", "A2     4.7uF   63V     0.08"]
    assert as_tabbed(lines) == ["our list", "Code\tValue\tVolts\tEach", "A1\t47uF\t\t0.10", "A2\t4.7uF\t63V\t0.08"]


def priced(header: str, tax: str) -> dict[str, str | bytes | None]:
    row = "P-47-25,47,25,105,2000,radial,electrolytic,0.42\nP-10-50,10,50,105,2000,radial,electrolytic,0.2\n"
    terms = f"supplier,currency,rate,shipping,tax\npellworth,EUR,1,0:5.90 50:0,{tax}\n"
    return {SHOP: f"part,value,volts,temp,life,mount,kind,{header}\n{row}", TERMS: terms}


def test_a_tax_that_would_be_paid_twice_or_forgotten_is_a_warning(tmp_path: Path) -> None:
    """A shop whose prices come without tax would seem cheaper by just that: what is blank is asked for, 0 is not."""
    assert warnings(tmp_path, priced("Price incl. VAT", "20")) == [("price-tax", None, None)]
    assert warnings(tmp_path, priced("Price incl. VAT", "")) == []
    assert warnings(tmp_path, priced("Price excl. VAT", "20")) == []
    assert warnings(tmp_path, priced("Price excl. VAT", "")) == [("price-tax", None, None)]
    assert warnings(tmp_path, priced("Price excl. VAT", "0")) == []


@pytest.mark.parametrize(
    ("line", "tax", "codes"),
    [
        ("All prices excl. VAT", "", ["price-tax"]),
        ("All prices excl. VAT", "0", []),
        ("All prices excl. VAT", "20", []),
        ("All prices incl. VAT", "20", ["price-tax"]),
        ("All prices incl. VAT", "", []),
    ],
)
def test_so_is_one_that_a_line_over_the_prices_tells_of(tmp_path: Path, line: str, tax: str, codes: list[str]) -> None:
    files = priced("prices", tax)
    files[SHOP] = f"{line},,,,,,,\n{files[SHOP]!s}"
    assert [code for code, _, _ in warnings(tmp_path, files)] == codes


def test_a_header_in_another_currency_is_an_error_that_names_it(tmp_path: Path) -> None:
    _, told = load(tmp_path, priced("Price USD", ""))
    (fault,) = [one for one in told if one.severity is Severity.ERROR]
    assert (fault.code, fault.found) == ("currency-differs", "USD")


def test_terms_that_a_price_list_states_are_asked_for_where_they_are_blank(tmp_path: Path) -> None:
    files = priced("prices", "")
    files[SHOP] = f"{files[SHOP]!s}Minimum order 20 EUR,,,,,,,\n"
    assert warnings(tmp_path, files) == [("terms-in-list", 4, None)]
    files[TERMS] = "supplier,currency,rate,minimum\npellworth,EUR,1,20\n"
    assert warnings(tmp_path, files) == []


def test_a_pasted_list_is_a_catalogue_where_its_supplier_has_terms(tmp_path: Path) -> None:
    text = str(priced("prices", "")[SHOP]).replace(",", "\t")
    notes = "call them on Monday"
    bench, told = load(tmp_path, {SHOP: None, "catalogs/pellworth.txt": text, "catalogs/notes.txt": notes})
    assert len(bench.catalogues["pellworth"]) == 2
    passed = [one.source.file.rpartition("/")[2] for one in told if one.code == "file-passed-over"]
    assert passed == ["notes.txt"]


@pytest.mark.parametrize(
    ("sheet", "ladder", "codes"),
    [
        ("Each,Break qty,Break price\n0.71,25,0.55", "1:0.71 25:0.55", []),
        ("Each,Break qty,Break price\n,25,0.55", "25:0.55", []),
        ("Each,Break qty,Break price\n0.71,25,0.55\n0.71,100,0.40", "1:0.71 25:0.55 100:0.40", []),
        ("Price,Qty 1,Price 1,Qty 2,Price 2\n0.71,1,0.71,25,0.55", "1:0.71 25:0.55", []),
        ("Price,Qty 1,Price 1,Qty 2,Price 2\n0.61,1,0.71,25,0.55", "", ["price-order"]),  # which of two holds for one?
        ("Price per 100,Break qty,Break price\n61,1000,0.55", "1:0.61 1000:0.55", []),
        ("Price,10+,Break qty,Break price\n0.71,0.6,25,0.55", "", ["header-twice"]),
        ("List price,Break qty,Break price\n0.71,25,0.55", "25:0.55", ["price-passed-over"]),
        ("Price incl. VAT,Break qty,Price excl. VAT\n0.71,25,0.55", "25:0.55", ["price-passed-over"]),
    ],
)
def test_a_price_of_one_beside_quantities_with_prices_is_read_or_told(
    sheet: str, ladder: str, codes: list[str], tmp_path: Path
) -> None:
    """Without it a few pieces could only be had by the break's quantity, and nobody would know why."""
    header, *rows = sheet.split("\n")
    path = tmp_path / "pellworth.csv"
    path.write_text("\n".join([f"SKU,uF,WV,{header}", *(f"A,47,25,{row}" for row in rows)]), encoding="utf-8")
    found, told = read_catalogue(path, "pellworth")
    assert [one.code for one in told if one.severity is not Severity.NOTE] == codes
    if ladder:
        assert found is not None
        assert found.part(0).prices == price_breaks(read_ladder(ladder))


def test_one_without_terms_is_no_note_of_somebodys(tmp_path: Path) -> None:
    """It would be missing from the order, and nobody would have said so."""
    text = str(priced("prices", "")[SHOP]).replace(",", "\t")
    files: dict[str, str | bytes | None] = {"catalogs/mallow.txt": text, "catalogs/notes.txt": "call them on Monday"}
    assert warnings(tmp_path, files) == [("file-passed-over", None, None)]
    _, told = load(tmp_path, files)
    (fault,) = [one for one in told if one.severity is Severity.WARNING]
    assert (fault.source.file.endswith("mallow.txt"), "a row like mallow,EUR,1" in (fault.hint or "")) == (True, True)


@pytest.mark.parametrize(
    ("title", "price"),
    [
        ("Preise per 10.03.2025", "1:0.38"),
        ("Prices per 10 March 2025", "1:0.38"),
        ("Prices valid from 01/10/2025", "1:0.38"),
        ("Preise 2024/25", "1:0.38"),
        ("Alle Preise per 10 Stück", "1:0.038"),
        ("All prices per 1.000", "1:0.00038"),
        ("Preise % ohne MwSt", "1:0.0038"),
    ],
)
def test_a_day_in_a_title_is_no_number_of_pieces(tmp_path: Path, title: str, price: str) -> None:
    found, _ = read(tmp_path, f"{title};;;\nPart;Value;Volts;Preis\nA1;47 µF;25 V;0,38\n")
    assert found == {"A1": price}


def test_a_row_of_another_value_without_a_number_is_no_step_of_the_row_above(tmp_path: Path) -> None:
    head = "Part;Value;Volts;ab Menge;Preis\nA1;47 µF;25 V;1;0,38\n"
    assert read(tmp_path, f"{head};;;10;0,34\n") == ({"A1": "1:0.38 10:0.34"}, [])
    assert read(tmp_path, f"{head};100 µF;25 V;10;0,34\n")[1] == ["part-missing"]


def test_a_pack_of_unknown_size_is_left_out(tmp_path: Path) -> None:
    text = "Part,Value,Volts,Pack qty,Price per pack\nA1,10 µF,25 V,100,3.80\nA2,10 µF,25 V,,3.80\n"
    assert read(tmp_path, text) == ({"A1": "1:0.038"}, ["pack-unclear"])


@pytest.mark.parametrize("line", ["Polar and non-polar", "polarised / unpolarised", "Elkos und bipolare Elkos"])
def test_a_heading_of_both_sorts_makes_no_row_bipolar(line: str) -> None:
    assert "kind" not in dict(facts(line))


@pytest.mark.parametrize("line", ["non polarised", "Non-polar electrolytic", "Elko bipolar", "non polarisés"])
def test_a_heading_of_bipolar_ones_does(line: str) -> None:
    assert dict(facts(line))["kind"] == "bipolar"


def test_a_number_of_capacitors_is_no_size() -> None:
    assert take("diameter", "bank of 4 x 22 mfd 25V", IN_WORDS).value is None


def test_text_without_end_is_not_searched() -> None:
    assert take("life", "1" * 100_000, IN_WORDS).value is None
    assert facts("1" * 100_000) == ()
