"""Long lists are read in a time that grows with their length, whatever they repeat."""

from __future__ import annotations

import time

import pytest

from recap.normalise.caplist import read_cap_text

ROWS = 700
MOST_SECONDS = 15
"""Of processor time; a reader that looks at all lines for each line takes longer than that."""
LISTS = {
    "one field a line": "\n".join("value: 10uF" for _ in range(4 * ROWS)),
    "a note a line": "\n".join("note: look" for _ in range(4 * ROWS)),
    "a heading that is repeated": "\n".join(f"all caps radial\nC{n} 10uF 16V" for n in range(1, ROWS)),
    "many footnotes of one mark": "\n".join([f"C{n}* 10uF 16V" for n in range(1, ROWS)] + ["* bipolar"] * ROWS),
    "one rule again and again": "\n".join([f"C{n} 10uF" for n in range(1, ROWS)] + ["All 10uF are bipolar"] * ROWS),
    "one designator only": "\n".join("C1 10uF 16V" for _ in range(ROWS)),
    "values above designators": "\n".join(["10uF 16V"] * ROWS + [f"C{n}" for n in range(1, ROWS)]),
    "blank lines": "\n" * ROWS + "\n\n".join(f"C{n} 10uF 16V" for n in range(1, ROWS)),
}


@pytest.mark.parametrize("name", LISTS)
def test_a_long_list_takes_no_longer_than_its_lines(name: str) -> None:
    began = time.process_time()
    positions, told = read_cap_text(LISTS[name], "list.txt")
    assert time.process_time() - began < MOST_SECONDS
    assert positions or told


def test_a_message_names_only_so_many_rows() -> None:
    _, told = read_cap_text(LISTS["one designator only"], "list.txt")
    twice = [diagnostic.message for diagnostic in told if diagnostic.code == "ref-twice"]
    assert len(twice) == ROWS - 1
    assert max(map(len, twice)) < 400
    assert "and 660 more" in twice[0]


def test_a_heading_that_is_repeated_says_the_same() -> None:
    text = "all caps radial\nC1 10uF\nall caps radial\nC2 10uF\nall caps axial\nC3 10uF"
    positions, _ = read_cap_text(text, "list.txt")
    assert [str(position.mount) for position in positions] == ["radial", "radial", "axial"]
