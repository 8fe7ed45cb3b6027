"""What commands say beside their answer: nothing that can't be acted on."""

from __future__ import annotations

import shutil
from typing import TYPE_CHECKING

import pytest
from typer.testing import CliRunner

from recap.cli import app
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


def test_a_delivery_of_nothing_shows_no_empty_table(demo: str) -> None:
    told = CliRunner().invoke(app, ["receive", demo, "--all"]).stdout
    assert "Booked" not in told
    assert "recap order BENCH --keep keeps one" in told
