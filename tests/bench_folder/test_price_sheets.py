"""Suppliers' own price lists, each in another manner: what each row offers, and what must be said of it."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from recap.bench import columns
from recap.bench.catalogues import read_catalogue
from recap.codes import register
from tests.price_sheets.score import read, score, sheets

if TYPE_CHECKING:
    from pathlib import Path


@pytest.mark.parametrize("path", sheets(), ids=lambda path: path.stem)
def test_a_price_list_is_read_as_a_buyer_reads_it(path: Path) -> None:
    found = score(path)
    assert (found.silent, found.missing, found.crying) == ([], [], [])
    assert found.right == found.rows > 0


@pytest.mark.parametrize("path", sheets(), ids=lambda path: path.stem)
def test_what_is_told_of_it_has_a_place_and_a_registered_code(path: Path) -> None:
    _, told = read(path)
    assert {one.code for one in told} <= set(register())
    assert all(one.source.file.rpartition("/")[2] in {path.name, "suppliers.csv"} for one in told)


@pytest.mark.parametrize("path", [path for path in sheets() if path.suffix != ".xlsx"], ids=lambda path: path.stem)
def test_a_large_price_list_is_read_like_a_small_one(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    small, told_small = read_catalogue(path, path.stem)
    monkeypatch.setattr(columns, "LARGE", 0)
    large, told_large = read_catalogue(path, path.stem)
    assert told_small == told_large
    assert (small is None) == (large is None)
    if small is not None and large is not None:
        assert small.parts(range(len(small))) == large.parts(range(len(large)))
