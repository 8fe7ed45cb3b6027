"""The documents tell the truth: what they say can be typed, is there, and does what they say."""

from __future__ import annotations

import re
import shlex
import shutil
import subprocess
import sys
from typing import TYPE_CHECKING

import pytest
from typer.testing import CliRunner

from recap.cli import app
from tests.docs import map as module_map
from tests.docs import pages

if TYPE_CHECKING:
    from pathlib import Path

SETS_UP = {
    "python3 -m venv .venv && .venv/bin/pip install -q . && .venv/bin/recap order demo",
    "sh tests/run.sh",
}
"""Lines that install: what runs the tests has run them."""

DOCUMENTS = pages.documents()
PLACEHOLDERS = {"COMMAND", "LIST"}


@pytest.fixture
def clone(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """What a new user has: the demo, and nothing else."""
    shutil.copytree(pages.ROOT / "demo", tmp_path / "demo", ignore=shutil.ignore_patterns("record*", ".*"))
    shutil.copytree(pages.ROOT / "catalogs", tmp_path / "catalogs")
    monkeypatch.chdir(tmp_path)
    return tmp_path


@pytest.mark.parametrize("name", ["README", "tour"])
def test_every_shell_line_can_be_typed_as_it_stands(name: str, clone: Path) -> None:
    text = DOCUMENTS[name]
    for file, body in pages.named_files(text).items():
        (clone / file).write_text(body, encoding="utf-8")
    lines = [line for line in pages.shell_lines(text) if line not in SETS_UP]
    assert len(lines) > 15
    for line in lines:
        words = shlex.split(line)
        assert words[0] == "recap", line
        if words[1] == "bench":
            assert "http://" in first_line_served(words[1:], clone)
            continue
        run = CliRunner().invoke(app, words[1:])
        assert run.exit_code == 0, f"{line}\n{run.output}\n{run.exception!r}"


def first_line_served(words: list[str], folder: Path) -> str:
    command = [sys.executable, "-m", "recap", *words, "--port", "0"]
    with subprocess.Popen(
        command, cwd=folder, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, encoding="utf-8"
    ) as run:
        assert run.stdout is not None
        try:
            return next((line for line in run.stdout if "http://" in line), "")
        finally:
            run.terminate()


def test_readme_opens_with_the_two_commands() -> None:
    assert pages.shell_lines(DOCUMENTS["README"])[:2] == [
        "python3 -m venv .venv && .venv/bin/pip install -q . && .venv/bin/recap order demo",
        "sh tests/run.sh",
    ]


@pytest.mark.parametrize("name", sorted(DOCUMENTS))
def test_every_command_and_option_named_exists(name: str) -> None:
    known = pages.every_option()
    quoted = [*pages.inline(DOCUMENTS[name]), *pages.shell_lines(DOCUMENTS[name])]
    for text in quoted:
        if re.match(r"recap( |$)", text) and not PLACEHOLDERS & set(text.split()):
            _, command, words = pages.command_of(text)
            allowed = pages.options_of(command)
            for word in words:
                if word.startswith("--"):
                    assert word.partition("=")[0] in allowed, f"{name}: {text}"
        elif text.startswith("--"):
            assert text.split()[0].partition("=")[0].rstrip(",") in known, f"{name}: {text}"


def test_every_example_of_a_command_works_as_it_stands(clone: Path) -> None:
    """Those in the help, which the page on commands shows, one after the other on the demo with an order kept."""
    (clone / "forum-post.txt").write_text("C1 47uF 25V\n", encoding="utf-8")
    assert CliRunner().invoke(app, ["order", "demo", "--keep", "--no-compare"]).exit_code == 0
    lines = pages.shell_lines(DOCUMENTS["commands"])
    assert len(lines) >= len(pages.ROOT_COMMAND.commands)
    for line in lines:
        name, command, words = pages.command_of(line)
        if name == "bench":  # serves until it is stopped: its own tests do that
            with command.make_context(name, words):
                continue
        run = CliRunner().invoke(app, shlex.split(line)[1:])
        assert run.exit_code == 0, f"{line}\n{run.output}\n{run.exception!r}"


def test_every_command_has_a_place_in_the_tour() -> None:
    named = {text.split()[1] for text in [*pages.inline(DOCUMENTS["tour"]), *pages.shell_lines(DOCUMENTS["tour"])]
             if text.startswith("recap ")}  # fmt: skip
    assert set(pages.ROOT_COMMAND.commands) <= named


def test_library_example_runs_and_is_short(clone: Path) -> None:
    (example,) = (block.body for block in pages.blocks(DOCUMENTS["README"]) if block.info == "python")
    assert len([line for line in example.splitlines() if line.strip()]) <= 10
    run = subprocess.run(
        [sys.executable, "-X", "utf8", "-c", example],
        cwd=clone,
        capture_output=True,
        encoding="utf-8",
        check=True,
        timeout=120,
    )
    first, second, *parcels = run.stdout.splitlines()
    assert first == "4.7 ('unit-missing',) write the unit: 47 µF"
    status, total, bound = second.split()
    assert (status, total) == ("optimal", bound)
    assert 1 <= len(parcels) <= 2


@pytest.mark.parametrize("name", ["README", "DEVELOPERS", "CHANGELOG"])
def test_links_and_pictures_are_there(name: str) -> None:
    text = (pages.ROOT / f"{name}.md").read_text(encoding="utf-8")
    for link in pages.links(text):
        assert (pages.ROOT / link).is_file(), link


def test_pictures_are_light_and_fetch_nothing() -> None:
    pictures = [link for link in pages.links(DOCUMENTS["README"]) if link.startswith("demo/pictures/")]
    assert len(pictures) >= 2
    for link in pictures:
        data = (pages.ROOT / link).read_bytes()
        assert len(data) < 200_000
        if link.endswith(".svg"):
            assert re.findall(rb"https?://[^\"' )]+", data) == [b"http://www.w3.org/2000/svg"]


def test_picture_shows_the_order_that_the_demo_gives(clone: Path) -> None:
    total = re.search(r"Total [\d.]+ EUR in \d parcels?", CliRunner().invoke(app, ["order", "demo"]).output)
    assert total is not None
    shown = re.sub(r"<[^>]+>", "", (pages.ROOT / "demo/pictures/order.svg").read_text("utf-8")).replace("&#160;", " ")
    assert total[0] in shown


def test_the_map_is_that_of_today() -> None:
    assert module_map.with_map(DOCUMENTS["DEVELOPERS"]) == DOCUMENTS["DEVELOPERS"], "write it: python tests/docs/map.py"


def test_files_that_developers_are_sent_to_exist() -> None:
    said = pages.inline(DOCUMENTS["DEVELOPERS"])
    named = {text for text in said if re.fullmatch(r"[a-z_/.]+\.(py|sh|toml|md)", text)}
    assert len(named) > 100
    files = {str(path.relative_to(pages.ROOT).as_posix()) for path in pages.ROOT.glob("*.*")}
    files |= {path.relative_to(pages.ROOT).as_posix() for folder in ("recap", "tests", "demo")
              for path in (pages.ROOT / folder).rglob("*.*")}  # fmt: skip
    for name in named - {"guide/pages/NAME.md"}:
        assert any(f"/{file}".endswith(f"/{name}") for file in files), name
