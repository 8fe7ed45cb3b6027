"""The reader held to the lists in ``tests/corpus``: per list nothing silent, over all the goals of its README."""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING

import pytest

from tests.corpus.score import Score, judge, lists, truth_of

if TYPE_CHECKING:
    from pathlib import Path

LISTS = lists()


@cache
def scored(path: Path) -> Score:
    return judge(path)


@pytest.fixture(scope="module")
def total() -> Score:
    whole = Score("all")
    for path in LISTS:
        whole.add(scored(path))
    return whole


def listed(faults: list[str]) -> str:
    return "\n".join(["", *faults])


def test_there_are_lists() -> None:
    clean = [path for path in LISTS if all(p["doubted"] is False for p in truth_of(path)["positions"])]
    assert len(LISTS) >= 34
    assert len(clean) >= 10


@pytest.mark.parametrize("path", LISTS, ids=lambda path: path.name)
def test_no_silent_error(path: Path) -> None:
    score = scored(path)
    assert not score.silent, listed(score.silent)


@pytest.mark.parametrize("path", LISTS, ids=lambda path: path.name)
def test_rows_passed_over_are_named(path: Path) -> None:
    score = scored(path)
    assert score.passed_named == score.passed, listed(score.faults)


def test_rows_found(total: Score) -> None:
    assert total.all_found >= 0.995, listed([f for f in total.faults if "lost" in f])


def test_fields_right(total: Score) -> None:
    assert total.fields_right >= 0.99, listed([f for f in total.faults if "expected" in f])


def test_ambiguous_rows_are_doubted(total: Score) -> None:
    assert total.doubted >= 0.95, listed([f for f in total.faults if "not doubted" in f])


def test_plain_rows_are_not_doubted(total: Score) -> None:
    assert total.crying_wolf <= 0.03, listed([f for f in total.faults if "without need" in f])
