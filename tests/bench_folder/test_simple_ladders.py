"""The quick reading of plain price ladders is the thorough reading."""

from __future__ import annotations

import re

import pyarrow as pa
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from recap.bench.ladders import LadderError, price_breaks, read_ladder, simple_breaks
from recap.bench.pricecheck import check_prices

STEPS = st.tuples(st.integers(1, 20_000), st.from_regex(r"[0-9]{1,4}(\.[0-9]{1,5})?", fullmatch=True))


@settings(max_examples=200, deadline=None)
@given(st.lists(STEPS, min_size=1, max_size=5), st.sampled_from([None, "."]), st.booleans())
def test_quick_and_thorough_agree(steps: list[tuple[int, str]], mark: str | None, rising: bool) -> None:
    ordered = sorted(dict(steps).items()) if rising else steps
    text = " ".join(f"{quantity}:{price}" for quantity, price in ordered)
    quick = simple_breaks(text, mark)
    try:
        thorough = price_breaks(read_ladder(text, mark))
    except LadderError:
        assert quick is None
    else:
        assert quick == (None if re.search(r":0\d", text) else thorough)


def test_anything_else_is_left_to_the_thorough_reading() -> None:
    for text in ("0.42", "1:0,42", "1:€0.42", "1: 0.42", "1:0.42  10:0.31", " 1:0.42", "0:1", "", "1:-1", "10:1 5:0.9"):
        assert simple_breaks(text) is None
    assert simple_breaks("1:0.42", ",") is None


CLOCKS = ["01:00.42", "01:00.4", "10:00.31", "40:00.19", "00:01:03.800000", "01:12.50", "00:05.90", "01:00,4"]
"""What spreadsheets save of 1:0.42, 10:0.31, 100:0.19, 1:3.80, 1:12.50, 0:5.90 (tried in one program)."""


@pytest.mark.parametrize("text", CLOCKS)
def test_a_price_that_a_spreadsheet_made_a_time_of_is_refused(text: str) -> None:
    with pytest.raises(LadderError, match="time of day") as told:
        read_ladder(text)
    assert told.value.code == "cell-is-date"
    assert simple_breaks(text) is None


@pytest.mark.parametrize("text", ["1:0.42", "10:0", "10:0.05", "25:59.90", "1:10.5", "1:0.42 10:0.31", "100:0.19"])
def test_a_price_is_no_time(text: str) -> None:
    assert price_breaks(read_ladder(text)) == simple_breaks(text)


def test_a_million_prices_at_once_leave_times_to_the_thorough_reading() -> None:
    texts = ["1:0.42", *CLOCKS, "10:0.05 20:0.04", "10:0", "10:00.31 20:00.30"] * 40
    check = check_prices(pa.array(texts, pa.string()), None)
    assert [bool(plain) for plain in check.plain] == [text in {"1:0.42", "10:0.05 20:0.04", "10:0"} for text in texts]
