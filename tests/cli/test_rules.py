"""``recap rules``: every number with its source, as a bench has it."""

from __future__ import annotations

import json
import shlex
from typing import TYPE_CHECKING, Any

import pytest
from typer.testing import CliRunner

from recap.cli import app
from recap.match.limits import PROFILES, numbers
from recap.model import Role, Settings

if TYPE_CHECKING:
    from pathlib import Path

RUNNER = CliRunner()


def run(line: str, status: int = 0) -> str:
    result = RUNNER.invoke(app, ["rules", *shlex.split(line)], env={"COLUMNS": "80", "NO_COLOR": "1"})
    assert result.exit_code == status, result.output
    return result.stdout


def values(line: str) -> dict[str, Any]:
    return {one["key"]: (one["value"], one["set_by"]) for one in json.loads(run(f"{line} --json"))["rules"]}


def test_defaults_and_what_a_bench_and_a_role_set(tmp_path: Path) -> None:
    (tmp_path / "bench.toml").write_text(
        '[rules]\ncapacitance_care = 1.4\ntemp_min = 85\nmakers_never = ["Quillstone"]\n'
        '[rules.smoothing]\nlife_min = 5000\nprofile = "long-life"\n',
        encoding="utf-8",
    )
    assert values("")["temp_min"] == (105, None)
    assert values("--role smoothing")["capacitance_care"] == (2, None)
    common = values(str(tmp_path))
    assert (common["capacitance_care"], common["temp_min"]) == ((1.4, "[rules]"), (85, "[rules]"))
    assert common["makers_never"] == (["Quillstone"], "[rules]")
    smoothing = values(f"{tmp_path} --role smoothing")
    assert smoothing["capacitance_care"] == (2, None)
    assert smoothing["life_min"] == (5000, "[rules.smoothing]")
    assert smoothing["profile"] == ("long-life", "[rules.smoothing]")


@pytest.mark.parametrize("role", [None, *Role])
def test_every_number_is_shown_with_meaning_and_source(role: Role | None) -> None:
    shown = " ".join(run("" if role is None else f"--role {role}").split())
    for one in numbers(Settings(), role):
        assert one.key in shown
        assert one.source.text in shown
    assert all(profile.source.text in shown for profile in PROFILES.values())


def test_a_profile_that_is_not_there_is_an_error(tmp_path: Path) -> None:
    (tmp_path / "bench.toml").write_text('[rules]\nprofile = "hme"\n', encoding="utf-8")
    run(str(tmp_path), status=1)
    run(str(tmp_path / "none"), status=1)
