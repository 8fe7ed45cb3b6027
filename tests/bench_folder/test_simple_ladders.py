"""The quick reading of plain price ladders is the thorough reading."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from recap.bench.ladders import LadderError, price_breaks, read_ladder, simple_breaks

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
        assert quick == thorough


def test_anything_else_is_left_to_the_thorough_reading() -> None:
    for text in ("0.42", "1:0,42", "1:€0.42", "1: 0.42", "1:0.42  10:0.31", " 1:0.42", "0:1", "", "1:-1", "10:1 5:0.9"):
        assert simple_breaks(text) is None
    assert simple_breaks("1:0.42", ",") is None
