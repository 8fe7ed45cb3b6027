"""Cells: every row in one cell, with those that state the same, however many different texts there are."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from recap.bench import cells
from recap.bench.cells import ALIKE, Cells, cells_of
from recap.bench.meanings import Field


def fields_of(rows: list[tuple[int, ...]]) -> dict[str, Field]:
    columns = zip(*rows, strict=True)
    return {name: Field((), np.array(codes, np.int32)) for name, codes in zip((*ALIKE, "maker"), columns, strict=False)}


def by_cell(found: Cells) -> list[tuple[tuple[int, ...], list[int]]]:
    bounds = list(zip(found.ends, found.ends[1:], strict=False))
    return [
        (tuple(int(codes[i]) for codes in found.codes.values()), found.rows[first:last].tolist())
        for i, (first, last) in enumerate(bounds)
    ]


ROWS = st.integers(0, 8).flatmap(
    lambda width: st.lists(st.tuples(*[st.sampled_from([0, 1, 2, 900, 2**20])] * width), min_size=1, max_size=30)
)


@pytest.mark.parametrize("widest", [2**62, 2**24, 1], ids=["as it is", "soon too wide", "always too wide"])
@given(rows=ROWS)
@settings(max_examples=60, deadline=None)
def test_rows_that_state_the_same_lie_in_one_cell(widest: int, rows: list[tuple[int, ...]]) -> None:
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(cells, "_WIDEST", widest)
        found = cells_of(fields_of(rows), len(rows))
    expected: dict[tuple[int, ...], list[int]] = {}
    for number, row in enumerate(rows):
        expected.setdefault(row[: len(ALIKE)], []).append(number)
    assert sorted(by_cell(found)) == sorted(expected.items())
    assert len(found) == len(expected)


def test_a_catalogue_without_rows_has_no_cells() -> None:
    empty: dict[str, Any] = {"value": Field((), np.empty(0, np.int32))}
    assert len(cells_of(empty, 0)) == 0
