"""Any command line, however wrong, ends with an answer: never with a traceback, never in silence, never in a hang.

Lines are put together at random from what the commands themselves take: half the words suit, half are of the
wrong sort, missing, a folder, no text, far too long, or somebody's attempt to break out.
"""

from __future__ import annotations

import json
import os
import random
import shutil
import sys
from contextlib import contextmanager
from typing import TYPE_CHECKING, Any

import pytest
from typer.testing import CliRunner

from recap import cli
from recap.cli import app
from tests.cli.lines import commands

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

BENCHES = ["good", "kept", "missing", "empty", "file.txt", "broken", "no sets", "spoilt", "dangling", "", ".",
           "kept/../kept", "ümlaut & leer", "kept/caplists", "noise.csv", "\udcff"]  # fmt: skip
FILES = ["file.txt", "empty.txt", "noise.csv", "x.json", "y.json", "missing.txt", "kept", "dangling", "-", ""]
TARGETS = ["n.pdf", "n.xlsx", "n.html", "n.svg", "n.png", "n.json", "n", "empty", "kept", "file.txt", "", "/",
           "/proc/n.pdf", "missing/n.pdf", "dangling", "ü ü.pdf", "x" * 300 + ".pdf", "file.txt/n.pdf"]  # fmt: skip
SUITING = (
    """
20|20V|45|50C|300mA|smoothing|home|4|cautious|core-rise|wren-a|wren-a,wren-b|pip-a|SUPPLY|C1|C12|2025-01-01|symptom|borrowed
a hum|3|410|0.3|100Hz|2k|5s|40|2014-06|H6|60C|8h@45C|475K|470uF 25V 85C radial 10x16 p5|wren-a:C1|found|quillbarrow|a4
part|2025-01-01-1|2|tour|unit-missing|TW-470-16=3|TW-470-16=-1|TW-470-16|TW-470-16=SUB|SUB=47uF 25V|1200|wren-b|0.1|10uA
20%|http://h:1|470uF 25V|2000h 105C 25V 500mA|5|highs|cbc|all|hum|M|GB|0.5|because|power|board
""".replace("\n", "|")
    .strip("|")
    .split("|")
)
ODD = ["", "-", "--", "0", "-1", "1e400", "nan", "inf", "ä", "🎛", "x" * 3000, "a=b", "=", ",", "2025-13-45",
       "0000-00-00", "9999-12-31", "../..", "/", "99999999999999999999", "1_000", "٣", "0x10", "%s", "{}",
       "[red]x[/red]", "[/]", "\x1b[31m", "\n", "a\nb", " ", "@", "javascript:alert(1)", "\udcff", "X=-5", "C1:C2:C3",
       "47uF 25V 50V"]  # fmt: skip
SERVES = "bench"
SLOW = {"order": ["--no-compare", "--time-limit", "3"], "estimate": ["--time-limit", "0.5"]}


def invoke(words: list[str], answer: str | None = None) -> Any:
    return CliRunner().invoke(app, words, env={"COLUMNS": "80", "NO_COLOR": "1"}, input=answer)


@contextmanager
def inside(folder: Path) -> Iterator[None]:
    before = os.getcwd()  # noqa: PTH109
    os.chdir(folder)
    try:
        yield
    finally:
        os.chdir(before)


@pytest.fixture(scope="module")
def yard(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with two good benches and everything that can be in a bench's place."""
    folder = tmp_path_factory.mktemp("yard")
    with inside(folder):
        for words in (["new", "good"], ["new", "kept"], ["order", "kept", "--keep", "--no-compare"]):
            assert invoke(words).exit_code == 0
    for name in ("empty", "broken", "no sets"):
        (folder / name).mkdir()
    (folder / "broken" / "bench.toml").write_text("currency = ", encoding="utf-8")
    (folder / "no sets" / "sets.csv").write_text("set,chassis\n", encoding="utf-8")
    (folder / "no sets" / "record.db").write_bytes(b"SQLite format 3\0junk" * 50)
    shutil.copytree(folder / "kept", folder / "spoilt")
    (folder / "spoilt" / "record.db").write_bytes(b"junk")
    shutil.copytree(folder / "kept", folder / "ümlaut & leer")
    (folder / "file.txt").write_text("C1 47uF 25V\nC2 10uF 16V\n", encoding="utf-8")
    (folder / "empty.txt").write_text("", encoding="utf-8")
    (folder / "noise.csv").write_bytes(bytes(range(256)) * 20)
    (folder / "x.json").write_text('{"a": 1}', encoding="utf-8")
    (folder / "y.json").write_text("[]", encoding="utf-8")
    (folder / "dangling").symlink_to("nowhere")
    return folder


def word_for(parameter: Any, dice: random.Random) -> str:
    if parameter.name == "bench":
        return dice.choice(["good", "kept"] if dice.random() < 0.6 else BENCHES)
    if parameter.name in {"file", "path", "merge", "folder"}:
        return dice.choice(FILES)
    if parameter.name in {"out", "plot"}:
        return dice.choice(TARGETS)
    return dice.choice(SUITING if dice.random() < 0.7 else ODD)


def line(name: str, dice: random.Random) -> list[str]:
    words = name.split()
    for parameter in commands()[name].params:
        if parameter.param_type_name == "argument":
            if parameter.name == "bench" or dice.random() < 0.85:
                words.append(word_for(parameter, dice))
        elif parameter.name not in {"help", "compare", "time_limit"} and dice.random() < 0.25:
            words.append(dice.choice([*parameter.opts, *parameter.secondary_opts]))
            if not parameter.is_flag:
                words.append(word_for(parameter, dice))
    return words + SLOW.get(name, [])


@pytest.mark.parametrize("name", [name for name in commands() if name != SERVES])
def test_any_line_of_a_command_gets_an_answer(yard: Path, name: str) -> None:
    dice = random.Random(f"lines of {name}")
    good = {
        path: path.read_bytes() for path in sorted((yard / "good").rglob("*.*")) if path.suffix in {".csv", ".toml"}
    }
    for _ in range(6):
        words = line(name, dice)
        with inside(yard):
            done = invoke(words, dice.choice([None, "", "y\n"]))
        assert done.exception is None or isinstance(done.exception, SystemExit), (words, done.exception)
        assert done.exit_code in {0, 1, 2, 3}, (words, done.output)
        assert "Traceback" not in done.output, words
        assert done.output.strip() or done.exit_code == 0, words
        if "--json" in words:
            json.loads(done.stdout)  # one document, whatever came of it, and nothing beside it
    if name not in {"import", "catalog"}:  # these two write a user's file when told to
        assert {path: path.read_bytes() for path in good} == good


@pytest.mark.parametrize("which", ["caplists", "catalogs", "bench"])
@pytest.mark.parametrize("line", ["order", "drawer", "estimate", "history"])
def test_a_folder_that_may_not_be_looked_into_is_answered_in_json(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, which: str, line: str
) -> None:
    """As where a drive belongs to another user; the tests themselves may run as one who may read all."""
    folder = tmp_path / "bench"
    assert CliRunner().invoke(app, ["new", str(folder)]).exit_code == 0
    looked = type(folder).iterdir

    def refused(path: Path) -> Iterator[Path]:
        if path.name == which:
            raise PermissionError(13, "Permission denied", str(path))
        return looked(path)

    monkeypatch.setattr(type(folder), "iterdir", refused)
    done = CliRunner().invoke(app, [line, str(folder), "--json"])
    told = json.loads(done.stdout)
    if which == "catalogs" and line in {"drawer", "history"}:  # these need no prices
        assert done.exit_code == 0
        return
    assert done.exit_code == 1
    assert "file-unreadable" in [d["code"] for d in told["diagnostics"] if d["severity"] == "error"]


def test_what_goes_wrong_outside_of_all_files_is_answered_in_json_too(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def fails(*_: object) -> None:
        raise OSError(5, "Input/output error", "record.db")

    monkeypatch.setattr("recap.bench.load_bench", fails)
    monkeypatch.setattr(sys, "argv", ["recap", "drawer", str(tmp_path), "--json"])
    with pytest.raises(SystemExit) as ended:
        cli.main()
    told = json.loads(capsys.readouterr().out)
    assert (ended.value.code, told["diagnostics"][0]["message"]) == (1, "can't go on: Input/output error")


@pytest.mark.parametrize("line", ["rules --role bogus", "checklist demo --paper a5", "checklist demo --by colour"])
def test_a_word_that_is_no_choice_is_answered_with_the_choices_and_no_term_of_the_language(line: str) -> None:
    done = CliRunner().invoke(app, line.split())
    assert done.exit_code == 2
    assert "is not one of" in done.output
    assert "Value error" not in done.output
