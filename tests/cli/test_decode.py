"""``recap decode``: readings for people and for programs."""

from __future__ import annotations

import json

import pytest
from typer.testing import CliRunner

from recap.cli import app

RUN = CliRunner()


def test_json_is_one_document_with_farads() -> None:
    """MIL-PRF-49137E para 3.21 marks 105K; 1H is 50 V in a Japanese radial-lead catalogue."""
    answer = RUN.invoke(app, ["decode", "475K 1H", "--json"])
    assert answer.exit_code == 0
    readings = json.loads(answer.stdout)["readings"]
    assert [(r["kind"], r["value"], r["unit"], r["text"]) for r in readings[:3]] == [
        ("capacitance", 4.7e-06, "F", "4.7 µF"),
        ("tolerance", 10, "%", "±10 %"),
        ("voltage", 50, "V", "50 V"),
    ]
    assert all(reading["source"] for reading in readings)


def test_an_asymmetric_tolerance_and_a_date_in_json() -> None:
    answer = RUN.invoke(app, ["decode", "104Z", "1208", "--json"])
    readings = json.loads(answer.stdout)["readings"]
    assert next(r["value"] for r in readings if r["kind"] == "tolerance") == [-20, 80]
    assert next((r["value"], r["unit"]) for r in readings if r["kind"] == "date") == ("2012-W08", None)


def test_quotes_are_not_needed() -> None:
    quoted, parted = RUN.invoke(app, ["decode", "475K 1H"]), RUN.invoke(app, ["decode", "475K", "1H"])
    assert quoted.stdout == parted.stdout
    assert "4.7 µF" in quoted.stdout


def test_several_readings_come_with_advice() -> None:
    assert "likeliest first" in RUN.invoke(app, ["decode", "220"]).stdout
    assert "likeliest first" not in RUN.invoke(app, ["decode", "475K 1H"]).stdout


@pytest.mark.parametrize("as_json", [[], ["--json"]])
def test_nothing_understood_is_an_input_error(as_json: list[str]) -> None:
    answer = RUN.invoke(app, ["decode", "XQ9", *as_json])
    assert answer.exit_code == 1
    assert "unknown-mark" in answer.output


def test_a_mark_that_is_passed_over_is_named() -> None:
    answer = RUN.invoke(app, ["decode", "475K", "FROG"])
    assert answer.exit_code == 0
    assert "4.7 µF" in answer.stdout
    assert "FROG" in answer.stderr


def test_markup_in_a_marking_is_only_text() -> None:
    answer = RUN.invoke(app, ["decode", "[red]475[/red]"])
    assert "[red]475[" in answer.output


def test_help_has_an_example_that_works() -> None:
    shown = RUN.invoke(app, ["decode", "--help"]).stdout
    assert "recap decode 475K 1H" in shown
