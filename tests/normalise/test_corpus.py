"""Lists in very different styles against truth written by reading them: the goals of the reader, held.

The lists were written by people who had not seen the reader; the truth says for each position what a
careful reader takes from the list, and whether the line leaves room for doubt (``tests/corpus/README.md``).
"""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING

import pytest

from tests.corpus.score import Score, judge, lists

if TYPE_CHECKING:
    from pathlib import Path

LISTS = lists()


@cache
def scored(path: Path) -> Score:
    return judge(path)


@pytest.fixture(scope="module")
def total() -> Score:
    found = Score("all")
    for path in LISTS:
        found.add(scored(path))
    return found


def test_there_are_lists_enough_to_mean_something(total: Score) -> None:
    assert len(LISTS) >= 200
    assert total.positions > 3800


def test_nothing_is_wrong_lost_or_made_up_in_silence(total: Score) -> None:
    assert total.silent == []


def test_rows_are_found(total: Score) -> None:
    assert total.all_found >= 0.995, total.faults


def test_stated_fields_are_right(total: Score) -> None:
    assert total.fields_right >= 0.99, total.faults


def test_ambiguous_rows_are_doubted(total: Score) -> None:
    assert total.doubted >= 0.95, total.faults


def test_plain_rows_are_not_doubted(total: Score) -> None:
    assert total.crying_wolf <= 0.03, total.faults


def test_rows_passed_over_are_named(total: Score) -> None:
    assert total.passed_named == total.passed, total.faults


@pytest.mark.parametrize("path", LISTS, ids=lambda path: path.name)
def test_every_list_is_read_without_a_silent_fault(path: Path) -> None:
    result = scored(path)
    assert result.silent == [], result.faults
    assert result.found == result.positions, result.faults
    assert result.fields_right >= 0.99, result.faults
