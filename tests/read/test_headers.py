"""Headers: their meaning in the languages lists come in, and what is said where there is none.

The words are those of the trade in six languages (common practice); units are SI symbols (ISO 80000)
with the old writings MFD and WV (common practice).
"""

from __future__ import annotations

import time

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from recap.read import vocabulary
from recap.read.headers import (
    find_header,
    is_comment,
    key,
    meaning,
    nearest,
    price_quantity,
    recognise,
    units_row,
    words_of,
)
from recap.read.tables import table_from_text

TABLES = {
    "cap list": vocabulary.CAP_LIST,
    "catalogue": vocabulary.CATALOGUE,
    "sets": vocabulary.SETS,
    "suppliers": vocabulary.SUPPLIERS,
    "drawer": vocabulary.DRAWER,
    "extras": vocabulary.EXTRAS,
}


@pytest.mark.parametrize(
    ("text", "field", "unit"),
    [
        ("Value (uF)", "value", "uF"),
        ("Pitch [mm]", "pitch", "mm"),
        ("Ø", "diameter", None),
        ("⌀ mm", "diameter", "mm"),
        ("WV", "volts", "WV"),
        ("µF", "value", "µF"),
        ("μF", "value", "μF"),
        ("V", "volts", "V"),
        ("Capacitance (nF)", "value", "nF"),
        ("temp_C", "temp", "C"),
        ("Durchmesser in mm", "diameter", "mm"),
        ("Hoehe", "height", None),
        ("HÖHE", "height", None),
        ("Lead-spacing", "pitch", None),
        ("Tension nominale", "volts", None),
        ("Capacità", "value", None),
        ("Temperatura (°C)", "temp", "°C"),
        ("Levensduur (h)", "life", "h"),
        ("Ripple [mA rms]", "ripple", "mA rms"),
        ("Height (max)", "height", None),
        ('Pitch (")', "pitch", '"'),
        ("Impedance (Ω)", "impedance", "Ω"),
        ("Volts (operating)", "operating", None),
        ("Artikel-Nr.", "part", None),
        ("Leadspacing", "pitch", None),
        ("Rated V", "volts", None),
        ("Qty avail.", "stock", None),
    ],
)
def test_meaning_and_unit(text: str, field: str, unit: str | None) -> None:
    words = vocabulary.CATALOGUE | vocabulary.CAP_LIST
    assert meaning(text, words) == (field, unit)


@pytest.mark.parametrize("text", ["Value (measured)", "Voltge", "Foo", "", "12", "Height (min)"])
def test_what_is_not_a_known_word_has_no_meaning(text: str) -> None:
    assert meaning(text, vocabulary.CAP_LIST) == (None, None)


def test_a_header_of_blanks_without_end_takes_no_time() -> None:
    before = time.process_time()
    text = f"Elko 10{' ' * 30_000}uF"
    assert (meaning(text, vocabulary.CATALOGUE), price_quantity(text)) == ((None, None), None)
    assert time.process_time() - before < 1


@pytest.mark.parametrize(
    ("text", "quantity"),
    [
        ("1", 1), ("10+", 10), ("100 pcs", 100), ("ab 25", 25), ("≥25", 25), ("from 10", 10), ("Price 1", 1),
        ("Preis ab 10", 10), ("10-24", 10), ("1k", 1000), ("1.000", 1000), ("1,000+", 1000), ("price (100+)", 100),
        ("unit price @10", 10), ("1000 Stück", 1000), ("x10", 10), ("10 off", 10), ("desde 50 uds", 50),
        ("price break 25", 25), ("Break 100", 100), ("Staffel 250", 250),
        ("0", None), ("25 V", None), ("10 µF", None), ("2024-10-16", None),
        ("> 10", 11), ("over 49", 50), ("ab 2.5k", 2500), ("price", None), ("", None),
    ],
)  # fmt: skip
def test_price_quantities(text: str, quantity: int | None) -> None:
    assert price_quantity(text) == quantity


@pytest.mark.parametrize("name", TABLES)
def test_no_word_means_two_things_in_one_table(name: str) -> None:
    seen: dict[str, str] = {}
    for field, spellings in TABLES[name].items():
        for spelling in (field, *spellings):
            assert seen.setdefault(key(spelling), field) == field, spelling


@pytest.mark.parametrize("name", TABLES)
def test_canonical_names_mean_themselves(name: str) -> None:
    for field in TABLES[name]:
        assert meaning(field, TABLES[name])[0] == field


def test_an_unknown_header_is_told_and_never_taken() -> None:
    header = table_from_text("ref,volatge,Foo,Datasheet", "list").rows[0].cells
    found = recognise(header, vocabulary.CAP_LIST)
    assert dict(found.columns) == {"ref": 0}
    assert found.unknown == (1, 2, 3)
    assert [(d.code, d.severity, d.found) for d in found.diagnostics] == [
        ("header-near", "warning", "volatge"),
        ("header-unknown", "warning", "Foo"),
        ("header-passed-over", "note", "Datasheet"),
    ]


def test_a_near_spelling_names_how_near_and_the_next_best() -> None:
    hint = nearest("voltge", words_of(vocabulary.CAP_LIST))
    assert hint is not None
    assert hint.startswith("perhaps 'volts' is meant ('voltage', 92 of 100 alike, asked for 80; next best ")


def test_two_columns_for_one_field_are_told() -> None:
    header = table_from_text("ref,Voltage,WV", "list").rows[0].cells
    found = recognise(header, vocabulary.CAP_LIST, strict=True)
    assert found.columns["volts"] == 1
    assert [(d.code, d.severity, d.source.column) for d in found.diagnostics] == [("header-twice", "error", "C")]


def test_wide_price_tables() -> None:
    header = table_from_text("part;1;10+;ab 100;Stock", "list").rows[0].cells
    found = recognise(header, vocabulary.CATALOGUE, quantities=True)
    assert found.quantities == ((1, 1), (10, 2), (100, 3))
    assert found.columns == {"part": 0, "stock": 4}


def test_titles_and_remarks_above_the_header_are_passed_by() -> None:
    table = table_from_text("# my list\nCapacitors of the left board\n\nref,value\nC1,47", "list")
    assert find_header(table, vocabulary.CAP_LIST) == 3
    assert is_comment(["# my list"])
    assert not is_comment(["#", "value"])


def test_units_in_a_row_of_their_own() -> None:
    table = table_from_text("ref,value,volts,pitch\n,µF,V,mm\nC1,47,16,2", "list")
    header = recognise(table.rows[0].cells, vocabulary.CAP_LIST)
    assert units_row(table.rows[1], header.columns) == {"value": "µF", "volts": "V", "pitch": "mm"}
    assert units_row(table.rows[2], header.columns) is None


@given(st.text(max_size=40))
@settings(max_examples=300, deadline=None)
def test_any_header_text_is_something_or_nothing(text: str) -> None:
    field, unit = meaning(text, vocabulary.CATALOGUE)
    assert field is None or field in vocabulary.CATALOGUE
    assert unit is None or unit.strip() in text
    quantity = price_quantity(text)
    assert quantity is None or quantity > 0


@given(st.sampled_from(sorted(words_of(vocabulary.CATALOGUE))), st.sampled_from(["{}", " {} ", "{}:", "{}."]))
@settings(max_examples=200, deadline=None)
def test_case_and_punctuation_do_not_count(word: str, form: str) -> None:
    expected = words_of(vocabulary.CATALOGUE)[word]
    assert meaning(form.format(word.upper()), vocabulary.CATALOGUE)[0] == expected
