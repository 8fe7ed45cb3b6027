"""Commands given inside a bench folder needn't name it; given elsewhere they say what is missing."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING

import pytest
from typer.testing import CliRunner, Result

from recap.cli import app

if TYPE_CHECKING:
    from pathlib import Path


def recap(*words: str) -> Result:
    return CliRunner().invoke(app, [*words])


@pytest.fixture
def inside(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    assert recap("new", str(tmp_path / "mybench")).exit_code == 0
    monkeypatch.chdir(tmp_path / "mybench")
    return tmp_path / "mybench"


@pytest.mark.parametrize(
    "line",
    [
        *("drawer", "bags", "receive", "history", "history wren-a", "audit wren-a --about hum", "catalog"),
        *("catalog quillbarrow", "estimate --sets wren-b", "checklist --sets wren-a", "record check"),
    ],
)
def test_inside_a_bench_it_need_not_be_named(inside: Path, line: str) -> None:
    assert recap("note", "wren-a", "a record to begin with").exit_code == 0
    here = recap(*line.split())
    assert here.exit_code == 0, here.output
    words = line.split()
    at = 2 if words[0] == "record" else 1
    named = recap(*words[:at], str(inside), *words[at:])
    assert here.stdout.replace(" .", f" {inside}") == named.stdout.replace(" .", f" {inside}")


def test_what_is_recorded_inside_goes_into_that_bench(inside: Path) -> None:
    assert recap("note", "wren-a", "pad lifted").exit_code == 0
    assert recap("work", "wren-a", "symptom", "hums").exit_code == 0
    told = json.loads(recap("history", str(inside), "wren-a", "--json").stdout)
    assert "pad lifted" in json.dumps(told)
    assert "hums" in json.dumps(told)


def test_a_folder_that_is_named_counts_even_inside_another_bench(inside: Path) -> None:
    assert recap("new", "other", "--empty").exit_code == 0
    assert "wren-a" in recap("history").stdout
    assert "wren-a" not in recap("history", "other").stdout


def test_a_wrong_name_is_no_wish_for_the_bench_one_is_in(inside: Path) -> None:
    for line in (["order", "mybnch"], ["audit", "wren-x"], ["note", "mybnch", "wren-a", "words"], ["drawer", "x"]):
        assert recap(*line).exit_code == 2, line


def test_elsewhere_the_bench_is_asked_for(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    assert "Missing argument" in recap("order").stderr
    assert recap("new", "mybench").exit_code == 0
    asked = recap("order")
    assert asked.exit_code == 2
    assert "name the bench folder: recap order mybench" in " ".join(asked.stderr.replace("│", " ").split())
    turned = recap("audit", "wren-a", "mybench")
    assert turned.exit_code == 2
    assert "the bench folder comes first: recap audit mybench wren-a" in " ".join(
        turned.stderr.replace("│", " ").split()
    )
