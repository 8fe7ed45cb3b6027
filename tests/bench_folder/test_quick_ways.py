"""The quick ways of large catalogues give what the long ways give."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pyarrow as pa
import pyarrow.compute as pc
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from recap.bench import columns
from recap.bench.catalogues import read_catalogue
from recap.bench.fields import plain_counts
from recap.bench.ladders import LadderError, read_ladder
from recap.bench.numerals import decimal_mark
from recap.bench.pricecheck import repeated
from recap.bench.taking import take
from recap.bench.texts import blanks

if TYPE_CHECKING:
    from pathlib import Path

UNSEEN = "\u200b"
"""A space of no width: readers pass over it, but with it a number isn't plain."""
QUANTITIES = st.sampled_from(
    [("life", "h"), ("pitch", "mm"), ("height", "cm"), ("ripple", "mA"), ("impedance", "Ω"), ("impedance", "mΩ")]
)


@given(
    which=QUANTITIES,
    headed=st.booleans(),
    number=st.from_regex(r"[0-9]{1,10}([.,][0-9]{1,10})?", fullmatch=True),
    mark=st.sampled_from([None, ".", ","]),
)
def test_plain_quantities(which: tuple[str, str], headed: bool, number: str, mark: str | None) -> None:
    name, unit = which
    header = unit if headed and unit in {"h", "mm", "mA", "Ω"} else None
    quick, long = take(name, number, header, mark), take(name, number + UNSEEN, header, mark)
    assert (quick.value, quick.code) == (long.value, long.code)


@given(
    name=st.sampled_from(["minimum", "multiple", "stock"]),
    texts=st.lists(st.one_of(st.from_regex(r"[0-9]{0,11}", fullmatch=True), st.just("1.000")), max_size=4),
)
def test_plain_counts(name: str, texts: list[str]) -> None:
    counts = plain_counts(name, pa.array(texts, pa.string()))
    taken = [take(name, text) for text in texts]
    if counts is not None:
        assert counts == [one.value for one in taken]
        assert {one.code for one in taken} == {None}


@given(
    st.lists(
        st.one_of(st.from_regex(r"[0-9]{1,5}([.,][0-9]{1,4})?", fullmatch=True), st.sampled_from(["", "-", "€ 0.42"])),
        min_size=1,
        max_size=5,
    )
)
@settings(suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_prices_in_columns_by_quantity(tmp_path: Path, texts: list[str]) -> None:
    path = tmp_path / "pellworth.csv"
    path.write_text("part;1;5\n" + "".join(f"P{i};{text};9\n" for i, text in enumerate(texts)), encoding="utf-8")
    mark = decimal_mark([*dict.fromkeys(texts), "9"])
    found, told = read_catalogue(path, "pellworth")
    try:
        exact = [None if text in {"", "-"} else read_ladder(text, mark).steps[0][1] for text in texts]
    except LadderError:
        assert found is None
        assert "price-unreadable" in {one.code for one in told}
        return
    assert found is not None
    prices = [{step.quantity: step.unit_price for step in part.prices} for part in found.parts(range(len(texts)))]
    assert [price.get(1) for price in prices] == exact
    assert ("price-zero" in {one.code for one in told}) == (0 in exact)


@given(st.lists(st.text("a1 \t\u00a0\u3000é", max_size=3)), st.integers(0, 2))
def test_blank_texts(texts: list[str], start: int) -> None:
    column = pa.array(texts, pa.string()).slice(start)
    trimmed = pc.utf8_length(pc.utf8_trim_whitespace(column)).to_pylist()
    assert blanks(column).tolist() == [length == 0 for length in trimmed]


def test_numbers_in_order_are_not_searched_for_doubles() -> None:
    assert repeated(pa.array(["A", "B", "C"])).tolist() == []
    assert repeated(pa.array(["A", "B", "B"])).tolist() == [1, 2]


@pytest.mark.parametrize("titles", range(8))
@pytest.mark.parametrize("header", ["part,value,prices", '"part\nnumber",value,prices', '"part",value,"prices"'])
def test_headers_below_titles(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, titles: int, header: str) -> None:
    path = tmp_path / "pellworth.csv"
    path.write_text("our list\n" * titles + header + "\nP1,47,1:0.3\nP2,10,1:0.2\n", encoding="utf-8")
    small, told_small = read_catalogue(path, "pellworth")
    monkeypatch.setattr(columns, "LARGE", 0)
    large, told_large = read_catalogue(path, "pellworth")
    assert told_small == told_large
    assert small is not None
    assert large is not None
    assert small.parts(range(len(small))) == large.parts(range(len(large)))
    assert len(small) == 2


def test_letters_beyond_ascii_are_still_checked(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "pellworth.csv"
    monkeypatch.setattr(columns, "LARGE", 0)
    path.write_bytes("part,maker,value,prices\nP1,Müller,47 µF,1:0.3\n".encode())
    found, _ = read_catalogue(path, "pellworth")
    path.write_bytes("part,maker,value,prices\nP1,Müller,47 µF,1:0.3\n".encode("cp1252"))
    other, _ = read_catalogue(path, "pellworth")
    assert found is not None
    assert other is not None
    assert found.part(0) == other.part(0)
    assert found.part(0).maker == "Müller"
