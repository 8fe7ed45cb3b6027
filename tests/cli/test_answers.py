"""What commands say beside their answer: nothing that can't be acted on."""

from __future__ import annotations

import json
import shutil
from io import StringIO
from typing import TYPE_CHECKING

import pytest
from rich.console import Console
from typer.testing import CliRunner

from recap.cli import app
from recap.diagnostics import Diagnostic, Source, warning
from recap.show.terminal import print_diagnostics
from tests.cli.lines import commands
from tests.docs.pages import ROOT

if TYPE_CHECKING:
    from pathlib import Path


@pytest.fixture
def demo(tmp_path: Path) -> str:
    shutil.copytree(ROOT / "demo", tmp_path / "demo", ignore=shutil.ignore_patterns("record*", ".*"))
    shutil.copytree(ROOT / "catalogs", tmp_path / "catalogs")
    return str(tmp_path / "demo")


def test_notes_are_counted_only_where_an_option_shows_them(demo: str) -> None:
    assert "notes not shown; --notes lists them" in CliRunner().invoke(app, ["order", demo, "--no-compare"]).stderr
    without = CliRunner().invoke(app, ["drawer", demo])
    assert without.exit_code == 0
    assert "--notes" not in without.stderr


BESIDE = {"audit": ["wren-a"], "note": ["wren-a", "hums"], "work": ["wren-a", "symptom", "hum"], "record import": ["."],
          "record export": ["--out", "x.json"], "labels": ["--out", "x.pdf"]}  # fmt: skip
"""What these commands need besides the bench."""


BENCH = ("bench", "argument")


def with_a_bench() -> list[str]:
    """The commands that are about a bench; to others it is only where to look something up."""
    return [name for name, one in commands().items() for p in one.params if (p.name, p.param_type_name) == BENCH]


@pytest.mark.parametrize("name", with_a_bench())
def test_a_bench_that_is_not_there_is_an_error_in_the_input(name: str) -> None:
    """The same words and the same status from every command; those that speak JSON say it in JSON too."""
    words = [*name.split(), "nowhere", *BESIDE.get(name, [])]
    done = CliRunner().invoke(app, words)
    assert (done.exit_code, done.stdout) == (1, "")
    assert "there is no folder nowhere" in done.stderr
    if any("--json" in p.opts for p in commands()[name].params):
        told = CliRunner().invoke(app, [*words, "--json"])
        assert told.exit_code == 1
        assert json.loads(told.stdout)["diagnostics"][0]["message"] == "there is no folder nowhere"


WRONG = [
    ["decode", "--json"],
    ["order", "demo", "--frob", "--json"],
    ["--frob", "decode", "475K", "--json"],
    ["life", "2000h 105C", "--ambient", "warm", "--json"],
    ["new", "x", "--demo", "--empty", "--json"],
]


@pytest.mark.parametrize("words", WRONG, ids=" ".join)
def test_wrong_usage_is_told_in_json_where_json_is_asked_for(words: list[str]) -> None:
    done = CliRunner().invoke(app, words)
    assert done.exit_code == 2
    told = json.loads(done.stdout)
    assert told["status"] == "error"
    assert told["diagnostics"][0]["code"] == "wrong-usage"
    without = CliRunner().invoke(app, words[:-1])
    assert (without.exit_code, without.stdout) == (2, "")


def test_a_delivery_of_nothing_shows_no_empty_table(demo: str) -> None:
    told = CliRunner().invoke(app, ["receive", demo, "--all"]).stdout
    assert "Booked" not in told
    assert "recap order BENCH --keep keeps one" in told


def test_what_is_said_of_many_rows_alike_is_shown_a_few_times_and_then_by_row() -> None:
    def said(row: int | None, column: str = "life") -> Diagnostic:
        return warning(
            "field-unclear", f"what stands in {row}", Source("shop.csv", row=row, column=column), "write 2000 h"
        )

    console = Console(file=StringIO(), width=60)
    told = [said(row) for row in (*range(2, 9), 12, 13, 40)]
    print_diagnostics([*told, said(3, "volts")], console=console)
    text = console.file.getvalue()  # type: ignore[attr-defined]
    assert [f"what stands in {row} " in text for row in (2, 3, 4, 5, 40)] == [True, True, True, False, False]
    assert "… and so in 7 rows more of shop.csv: 5-8, 12-13, 40" in text
    assert "shop.csv:3: volts" in text


def test_four_alike_and_what_belongs_to_no_row_are_all_shown() -> None:
    console = Console(file=StringIO(), width=60)
    rows = [warning("x", f"row {n}", Source("a.csv", row=n)) for n in range(1, 5)]
    print_diagnostics([*rows, *(warning("y", f"file {n}", Source("a.csv")) for n in range(9))], console=console)
    assert console.file.getvalue().count("warning") == 13  # type: ignore[attr-defined]
