"""What is to be done on a set, in the words of sets.csv: boards of several words, and what a ``-`` takes away."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from tests.bench_folder.folders import load

if TYPE_CHECKING:
    from pathlib import Path

LIST = (
    "ref,value,volts,mount,kind,board\n"
    "C1,47 µF,16,radial,electrolytic,Power supply\n"
    "C2,10 µF,50,radial,electrolytic,Audio\n"
    "C3,10 µF,50,radial,electrolytic,Audio out left\n"
)


@pytest.mark.parametrize(
    ("job", "words"),
    [
        ("full", ["full"]),
        ("full -C2", ["full", "-C2"]),
        ("Power supply", ["Power supply"]),
        ("power SUPPLY C2", ["Power supply", "C2"]),
        ("full -Power supply", ["full", "-Power supply"]),
        ("full -Power supply -Audio", ["full", "-Power supply", "-Audio"]),
        ("Audio out left", ["Audio out left"]),  # the longest name that fits
        ("Audio -out left", ["Audio", "-out", "left"]),  # a minus within is no part of a name
        ("full, -C2, -Audio", ["full", "-C2", "-Audio"]),
    ],
)
def test_a_job_is_read_word_by_word_and_boards_as_the_list_calls_them(
    job: str, words: list[str], tmp_path: Path
) -> None:
    bench, _ = load(tmp_path, {"caplists/K7.csv": LIST, "sets.csv": f'set,chassis,boards,job,note\nS1,K7,,"{job}",\n'})
    (one,) = bench.sets
    assert list(one.job) == words


def test_a_board_taken_away_is_none_that_the_set_has(tmp_path: Path) -> None:
    """``-Audio`` under boards would mean the opposite of what it says if it were taken for Audio."""
    _, told = load(tmp_path, {"caplists/K7.csv": LIST, "sets.csv": "set,chassis,boards,job,note\nS1,K7,-Audio,full,\n"})
    assert "board-unknown" in {one.code for one in told}
