"""Hostile or mistaken lists end in a clear error or a list, within seconds."""

from __future__ import annotations

import time
from typing import TYPE_CHECKING

import pytest

from recap.diagnostics import Severity
from recap.normalise.caplist import read_cap_list, read_cap_text
from tests.normalise.facts import codes

if TYPE_CHECKING:
    from pathlib import Path

SECONDS = 8


def errors(path: Path) -> list[str]:
    began = time.process_time()
    positions, told = read_cap_list(path)
    assert time.process_time() - began < SECONDS
    assert positions == ()
    return [d.code for d in told if d.severity is Severity.ERROR]


def test_a_line_of_a_hundred_megabytes(tmp_path: Path) -> None:
    path = tmp_path / "list.txt"
    path.write_bytes(b"C1 10uF " * 13_000_000)
    assert errors(path) == ["file-too-large"]


def test_a_line_of_one_megabyte_in_text() -> None:
    positions, told = read_cap_text("C1 10uF " * 130_000, "list.txt")
    assert positions == ()
    assert [d.code for d in told] == ["line-too-long"]


def test_a_million_lines(tmp_path: Path) -> None:
    path = tmp_path / "list.txt"
    path.write_text("C1 10uF\n" * 1_000_000, encoding="utf-8")
    assert errors(path)[0] in {"list-too-long", "too-many-rows"}


def test_nul_bytes(tmp_path: Path) -> None:
    path = tmp_path / "list.txt"
    path.write_bytes(b"C1 10uF\n\x00\x00\n")
    assert errors(path) == ["file-has-nul"]


@pytest.mark.parametrize(
    "text",
    [
        "(" * 1900, "[" * 1900, "C1" + "," * 1900, "C1/" * 600, "1+" * 900, "1/" * 900, "1 " * 900, "*" * 1900,
        "~~" * 900,
        "<s>" * 600, "[[" * 900, "C1-" * 600, "1.1." * 450, "=" * 1900, "-" * 1900, "x1" * 900, '"' * 1900, "a_" * 900,
        "&#" * 900, "1x" * 900, "C" * 1900, "µ" * 1900, "1,000" * 380, "CP_" * 600, "Ø1x" * 600, "(((x" * 450,
        "| " * 900, "C1 10uF " * 240, "https://" * 230, "\u0336" * 1900, "-40..+" * 300, "V " * 900, "10uF " * 380,
    ],
    ids=lambda text: text[:4],
)  # fmt: skip
def test_nesting_and_repetition_take_no_time(text: str) -> None:
    began = time.process_time()
    for line in (text, f"C1 10uF {text}", f"Ref | Value | Note\nC1 | 10uF | {text}"):
        read_cap_text(line, "list.txt")
    assert time.process_time() - began < SECONDS


def test_an_absurd_range_is_not_expanded() -> None:
    positions, _ = read_cap_text("C1-C99999 10uF 16V", "list.txt")
    assert [p.ref for p in positions] == ["C1", "C99999"]
    assert all("range-absurd" in p.doubts for p in positions)


def test_an_endless_cell_is_named_and_not_read() -> None:
    table = "Ref,Value,Note\nC1,10uF," + "very " * 3000
    assert (2, "cell-long") in codes(table)
