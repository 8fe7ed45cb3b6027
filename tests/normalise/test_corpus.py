"""Lists in very different styles against truth written by reading them: the goals of the reader, held.

The lists were written by people who had not seen the reader; the truth says for each position what a
careful reader takes from the list, and whether the line leaves room for doubt.
"""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest

from tests.normalise.scoring import Score, lists, score

CORPUS = Path(__file__).parent.parent / "corpus"


LISTS = lists(CORPUS)


@cache
def scored(path: Path, truth: Path) -> Score:
    return score(path, truth)


@pytest.fixture(scope="module")
def total() -> Score:
    found = Score()
    for path, truth in LISTS:
        found.add(scored(path, truth))
    return found


def test_there_are_lists_enough_to_mean_something(total: Score) -> None:
    assert len(LISTS) >= 25
    assert total.rows > 800


def test_nothing_is_wrong_lost_or_made_up_in_silence(total: Score) -> None:
    assert [fault for fault in total.faults if "SILENTLY" in fault] == []


def test_rows_are_found(total: Score) -> None:
    assert total.found >= 0.995 * total.rows, total.faults


def test_stated_fields_are_right(total: Score) -> None:
    assert total.right >= 0.99 * total.stated, total.faults


def test_ambiguous_rows_are_doubted(total: Score) -> None:
    assert total.ambiguous_doubted >= 0.95 * total.ambiguous, total.faults


def test_plain_rows_are_not_doubted(total: Score) -> None:
    assert total.plain_doubted <= 0.03 * total.plain, total.faults


@pytest.mark.parametrize(("path", "truth"), LISTS, ids=lambda p: p.name)
def test_every_list_is_read_without_a_silent_fault(path: Path, truth: Path) -> None:
    result = scored(path, truth)
    assert result.silent == 0, result.faults
    assert result.found == result.rows, result.faults
