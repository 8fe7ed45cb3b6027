"""What the helps promise: every command has an example, every example runs, the same thing has the same name."""

from __future__ import annotations

import os
import re
import shlex
import signal
import subprocess
import sys
from collections import defaultdict
from itertools import pairwise
from typing import TYPE_CHECKING, Any

import pytest
from typer.testing import CliRunner

from recap.cli import app
from tests.cli.lines import commands, examples

if TYPE_CHECKING:
    from pathlib import Path

POST = """Glimmerhatch, power board
C901 220uF 400V snap-in 105C
C902 47uF 25V
"""
SERVES = ("recap", "bench")
"""Runs until it is stopped."""


@pytest.fixture(scope="module")
def workshop(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder in which the examples' names mean something: the demo with a kept order, a post, an export."""
    folder = tmp_path_factory.mktemp("workshop")
    (folder / "forum-post.txt").write_text(POST, encoding="utf-8")
    before = os.getcwd()  # noqa: PTH109
    os.chdir(folder)
    try:
        for line in (
            "recap new --demo demo",
            "recap new mybench",
            "recap order demo --keep --no-compare",
            "recap record export demo --out record.json",
        ):
            assert run(line).exit_code == 0, line
        (folder / "demo" / "record-before.db").write_bytes((folder / "demo" / "record.db").read_bytes())
    finally:
        os.chdir(before)
    return folder


def run(line: str) -> Any:
    words = shlex.split(line)
    assert words[0] == "recap"
    return CliRunner().invoke(app, words[1:], env={"COLUMNS": "100", "NO_COLOR": "1"})


NOT_AGAIN = {
    "recap new mybench --empty": "recap new mybench2 --empty",
    "recap record export demo --out record.json": "recap record export demo --out record2.json",
}
"""The fixture has run these: the folder and the file are there, and nothing is overwritten."""


@pytest.mark.parametrize("line", [line for line in examples() if tuple(line.split()[:2]) != SERVES])
def test_every_example_of_a_help_runs(workshop: Path, monkeypatch: pytest.MonkeyPatch, line: str) -> None:
    monkeypatch.chdir(workshop)
    done = run(NOT_AGAIN.get(line, line))
    assert done.exception is None or isinstance(done.exception, SystemExit), done.exception
    assert done.exit_code == 0, done.output
    assert done.output.strip()


def test_the_bench_page_serves_until_it_is_stopped(workshop: Path) -> None:
    """Its example names --lan; whether this machine is on a network is not the example's business."""
    command = [sys.executable, "-m", "recap", "bench", "demo", "--port", "0"]
    with subprocess.Popen(command, cwd=workshop, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True) as page:
        assert page.stdout is not None
        assert page.stderr is not None
        said = page.stdout.readline()
        assert "http://" in said
        while "Ctrl-C" not in (line := page.stderr.readline()):
            assert line, "it ended before it served"
        page.send_signal(signal.SIGINT)
        try:
            _, rest = page.communicate(timeout=60)
        finally:
            page.kill()
    assert "Traceback" not in rest
    assert page.returncode in {0, 130}


def test_every_command_has_an_example() -> None:
    named = {line for line in examples() if line.startswith("recap ")}
    assert [name for name in commands() if not any(f"recap {name}" in line for line in named)] == []


def test_every_command_and_option_says_what_it_is_for() -> None:
    for name, command in commands().items():
        assert command.help.strip().splitlines()[0].endswith((".", ":")), name
        for parameter in command.params:
            if parameter.name != "help":
                assert (parameter.help or "").strip(), f"{name}: {parameter.name}"


@pytest.mark.parametrize("name", ["", *commands()])
def test_no_help_speaks_of_types_of_the_programming_language(name: str) -> None:
    said = run(f"recap {name} --help").output
    assert [word for word in ("bool", "str>", "path>", "list[", "<int") if word in said] == []


MEANS_ALREADY = {
    "--set": "--sets", "--to": "--out", "--output": "--out", "--replace": "--force", "--overwrite": "--force",
    "--seconds": "--time-limit", "--verbose": "--notes", "--format": "--json", "--folder": "BENCH",
}  # fmt: skip
"""Words that another word stands for here."""


def test_the_same_thing_is_called_the_same_in_every_command() -> None:
    kinds: dict[str, set[str]] = defaultdict(set)
    for name, command in commands().items():
        for parameter in command.params:
            for option in parameter.opts:
                assert option not in MEANS_ALREADY, f"recap {name} {option}: call it {MEANS_ALREADY[option]}"
                if option in {"--json", "--force", "--out", "--sets", "--bench", "--fresh", "--keep", "--notes"}:
                    kinds[option].add(f"flag {parameter.is_flag}, repeated {parameter.multiple}")
    assert {option: kind for option, kind in kinds.items() if len(kind) > 1} == {}


def test_the_bench_comes_first() -> None:
    for name, command in commands().items():
        words = [p.name for p in command.params if p.param_type_name == "argument"]
        assert "bench" not in words[1:], name


def test_exit_statuses_are_told() -> None:
    done = run("recap --help")
    for word in ("0 done", "1 the input has errors", "2 wrong usage", "3 no order"):
        assert word in " ".join(done.output.split())


@pytest.mark.parametrize("shell", ["bash", "zsh", "fish"])
def test_completion_is_shown(shell: str) -> None:
    done = subprocess.run(
        [sys.executable, "-m", "recap", "--show-completion", shell],
        env={**os.environ, "_TYPER_COMPLETE_TEST_DISABLE_SHELL_DETECTION": "1"},
        capture_output=True, text=True, check=False,
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    assert "recap" in done.stdout.lower()


@pytest.mark.parametrize("command", ["bench", "drawer", "estimate"])
def test_sentences_are_broken_where_the_terminal_ends_and_nowhere_else(command: str) -> None:
    """Every line of a paragraph but its last has no room for the first word of the next."""
    out = CliRunner().invoke(app, [command, "--help"], env={"COLUMNS": "60", "NO_COLOR": "1"}).output
    text = out.split("Options")[0].split("\u256d")[0]
    for paragraph in re.split(r"\n\s*\n", text):
        lines = [line.strip() for line in paragraph.strip().splitlines()]
        for line, following in pairwise(lines):
            assert len(line) + 1 + len(following.split()[0]) > 60 - 4
