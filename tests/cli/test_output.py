"""What the user sees where the terminal, the pipe, the locale or the disk isn't as hoped."""

from __future__ import annotations

import json
import os
import re
import signal
import subprocess
import sys
import unicodedata
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from typer.testing import CliRunner

from recap.cli import app, main
from recap.show.plain import plain

FULL = Path("/dev/full")
"""Linux: a file that every write finds full."""


def recap(
    folder: Path, *words: str, stdout: int | None = subprocess.PIPE, **env: str
) -> subprocess.CompletedProcess[bytes]:
    return subprocess.run(
        [sys.executable, "-m", "recap", *words], cwd=folder, env={**os.environ, **env},
        stdout=stdout, stderr=subprocess.PIPE, check=False, timeout=120,
    )  # fmt: skip


@pytest.fixture(scope="module")
def bench(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A bench whose folder has a space, an umlaut and an apostrophe in its name."""
    folder = tmp_path_factory.mktemp("Müllers Gerät's")
    assert recap(folder, "new", "mein Bench").returncode == 0
    return folder / "mein Bench"


LOCALES = [
    {"LC_ALL": "C"},
    {"LC_ALL": "C", "PYTHONUTF8": "0", "PYTHONCOERCECLOCALE": "0"},
    {"LC_ALL": "de_DE", "LANG": "de_DE.UTF-8"},
    {"PYTHONIOENCODING": "cp1252", "PYTHONUTF8": "0"},
    {"PYTHONIOENCODING": "cp437", "PYTHONUTF8": "0"},
    {"PYTHONIOENCODING": "ascii", "PYTHONUTF8": "0"},
]


@pytest.mark.parametrize("env", LOCALES, ids=lambda env: " ".join(f"{k}={v}" for k, v in env.items()))
def test_every_locale_gets_an_answer(bench: Path, env: dict[str, str]) -> None:
    for words in (
        ["order", str(bench), "--no-compare"],
        ["decode", "475K", "1H"],
        ["explain", "ocr-digit"],
        ["--help"],
    ):
        done = recap(bench.parent, *words, **env)
        assert done.returncode == 0, done.stderr
        assert done.stdout.strip()
        assert b"Traceback" not in done.stderr


def test_micro_and_ohm_stay_readable_in_ascii(bench: Path) -> None:
    done = recap(bench, "decode", "475K", PYTHONIOENCODING="ascii", PYTHONUTF8="0")
    assert b"4.7 uF" in done.stdout
    assert b"+/-10" in done.stdout


def test_json_is_utf_8_in_every_locale(bench: Path) -> None:
    answers = {
        recap(bench, "decode", "475K", "--json", **env).stdout.decode("utf-8")
        for env in ({"LC_ALL": "C.UTF-8"}, {"PYTHONIOENCODING": "ascii", "PYTHONUTF8": "0"})
    }
    assert len(answers) == 1
    assert json.loads(answers.pop())["readings"][0]["text"] == "4.7 µF"


def test_a_name_that_is_no_text_is_still_one_json_document(tmp_path: Path) -> None:
    """On Linux a file's name is bytes; those that are no UTF-8 reach Python as lone surrogates."""
    name = os.fsdecode(b"liste-\xe4.txt")
    (tmp_path / name).write_text("C1 47uF 25V\nC2 10uF ??V\n", encoding="utf-8")
    done = recap(tmp_path, "import", name, "--json")
    assert json.loads(done.stdout.decode("utf-8"))["positions"][0]["ref"] == "C1"
    shown = recap(tmp_path, "import", name)
    assert b"Traceback" not in shown.stderr


@pytest.mark.parametrize("columns", ["20", "40", "80", "200", "9999", "0009999", "1" * 12])
def test_narrow_and_wide_terminals_show_the_total(bench: Path, columns: str) -> None:
    done = recap(bench, "order", ".", "--no-compare", COLUMNS=columns, LC_ALL="C.UTF-8")
    assert done.returncode == 0, done.stderr
    shown = done.stdout.decode("utf-8")
    assert "Total" in shown
    assert max(map(len, shown.splitlines())) <= 500  # no screen has more columns


@pytest.mark.parametrize("columns", ["40", "60", "80"])
@pytest.mark.parametrize(
    "words", [("checklist", "."), ("rules",), ("margin", "470uF 25V radial", "470uF 35V 105C 5000h")]
)
def test_no_word_of_a_table_is_cut_off(bench: Path, words: tuple[str, ...], columns: str) -> None:
    # "bipolar: no polarity" with a word cut off would say the opposite.
    wide, narrow = (
        "".join(recap(bench, *words, COLUMNS=width, LC_ALL="C.UTF-8").stdout.decode("utf-8").split())
        for width in ("400", columns)
    )
    assert "…" not in narrow
    unlike = set("─█▏▎▍▌▋▊▉·|»")  # rules and bars are as wide as there is room for
    assert sorted(set(narrow) - unlike) == sorted(set(wide) - unlike)
    assert abs(sum(c not in unlike for c in narrow) - sum(c not in unlike for c in wide)) <= 8


def test_no_color_and_pipes_are_free_of_escapes(bench: Path) -> None:
    for env in ({"NO_COLOR": "1"}, {}):
        done = recap(bench, "order", ".", "--no-compare", **env)
        assert b"\x1b" not in done.stdout + done.stderr


COMMANDS = ["\x1b]0;title\x07", "\x1b[2J", "\x9b31m", "\r", "\u202egnp.exe", "\x08"]
"""What a terminal obeys (ECMA-48): its title, clear, colour, begin the line anew, turn the direction, rub out."""


@pytest.mark.parametrize("command", COMMANDS)
def test_no_text_of_a_file_commands_the_terminal(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, command: str
) -> None:
    monkeypatch.chdir(tmp_path)
    assert CliRunner().invoke(app, ["new", "b", "--empty"]).exit_code == 0
    post, folder = tmp_path / "post.csv", tmp_path / "b"
    post.write_text(f'ref,value,volts,board,note\nC1,"10uF",50,"A{command}B",x\nC2,"{command}",25,A,\n', newline="")
    shop = f'part,maker,value,volts,temp,life,prices\n"P{command}1",M,10uF,50,105,5000,1:0.1\nQ,M,"{command}",5,,,1:1\n'
    (folder / "catalogs" / "north.csv").write_text(shop, newline="")
    with (folder / "catalogs" / "suppliers.csv").open("a") as terms:
        terms.write("north,EUR,1,0:5,,,,,\n")
    lines = [["import", "post.csv", "--notes"], ["import", "post.csv", "--bench", "b", "--chassis", "a", "--sets", "s"]]
    lines += [["order", "b", "--keep", "--notes", "--why", "--accept-doubts"], ["receive", "b", "--all"], ["bags", "b"]]
    lines += [["note", "b", "s", f"a {command} b"], ["history", "b", "s"], ["audit", "b", "s", "--all"]]
    lines += [["drawer", "b"], ["catalog", "b"], ["catalog", "b", "north"], ["checklist", "b"], ["estimate", "b"]]
    for words in lines:
        done = CliRunner().invoke(app, words)
        assert done.exit_code in {0, 3}, done.output
        for out in (done.stdout, done.stderr):
            assert not re.search("[\x00-\x08\x0b-\x1f\x7f-\x9f\u202e]", out), words


def test_a_pipe_that_closes_early_is_no_fault(bench: Path) -> None:
    with subprocess.Popen(
        [sys.executable, "-m", "recap", "explain"], cwd=bench, stdout=subprocess.PIPE, stderr=subprocess.PIPE
    ) as run:
        assert run.stdout is not None
        assert run.stderr is not None
        run.stdout.readline()
        run.stdout.close()
        said = run.stderr.read()
    assert b"Traceback" not in said


@pytest.mark.parametrize("words", [["decode", "475K"], ["decode", "475K", "--json"], ["explain"], ["--version"]])
def test_a_full_disk_behind_the_redirection_is_said_in_one_line_with_what_to_do(bench: Path, words: list[str]) -> None:
    with FULL.open("wb") as full:
        done = recap(bench, *words, stdout=full.fileno())
    assert done.returncode == 1
    (said,) = done.stderr.splitlines()
    assert b"No space left" in said
    assert said.endswith(b"; see to that, and do it again")


@pytest.mark.parametrize("words", [["decode", "475K"], ["decode", "475K", "--json"], ["drawer", ".", "--json"]])
def test_without_a_standard_output_nothing_breaks(bench: Path, words: list[str]) -> None:
    command = [sys.executable, "-m", "recap", *words]
    done = subprocess.run(
        ["sh", "-c", 'exec "$@" >&-', "sh", *command], cwd=bench, stderr=subprocess.PIPE, check=False, timeout=60
    )
    assert b"Traceback" not in done.stderr
    assert done.returncode == 0


def test_a_terminal_that_claims_to_be_endless_is_not_filled_to_its_end(bench: Path) -> None:
    done = recap(bench, "drawer", ".", COLUMNS="99999999")
    assert (done.returncode, max(map(len, done.stdout.splitlines())) < 5000) == (0, True)


def test_where_pictures_are_shown_elsewhere_is_nothing_to_one_in_a_file(bench: Path) -> None:
    """MPLBACKEND is matplotlib's; notebooks set it for all that is started from them."""
    words = ("margin", "470uF 25V 85C", "470uF 35V 105C 5000h", "--plot", "picture.svg")
    done = recap(bench, *words, MPLBACKEND="no-such-window")
    assert (done.returncode, (bench / "picture.svg").exists()) == (0, True), done.stderr


@pytest.mark.parametrize("json_wanted", [(), ("--json",)])
def test_without_a_standard_input_there_is_no_list(bench: Path, json_wanted: tuple[str, ...]) -> None:
    command = [sys.executable, "-m", "recap", "import", "-", *json_wanted]
    done = subprocess.run(["sh", "-c", 'exec "$@" <&-', "sh", *command], capture_output=True, check=False, timeout=60)
    assert done.returncode == 1
    assert b"Traceback" not in done.stderr
    told = json.loads(done.stdout)["diagnostics"][0]["message"] if json_wanted else done.stderr.decode()
    assert "no capacitor was found" in told or "empty" in told


def test_ctrl_c_before_the_command_began_is_no_fault(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def interrupted(*_: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr("recap.cli._with_commands", interrupted)
    with pytest.raises(SystemExit) as end:
        main()
    assert end.value.code == 130
    assert capsys.readouterr().err == "Aborted!\n"


def test_ctrl_c_while_the_command_line_is_taken_apart_ends_it_without_a_word(bench: Path) -> None:
    """A library may drop Python's exception for it and print where it was: then the command would go on."""
    program = "import os, signal, typer.core as t; before = t.TyperGroup.parse_args\n"
    program += "signal.signal(signal.SIGINT, signal.default_int_handler)\n"  # whoever runs the tests may ignore it
    program += "def pressed(*words):\n    os.kill(os.getpid(), signal.SIGINT)\n    return before(*words)\n"
    program += "t.TyperGroup.parse_args = pressed\nfrom recap.cli import main\nmain()"
    done = subprocess.run(
        [sys.executable, "-c", program, "decode", "475K"], cwd=bench, capture_output=True, check=False, timeout=60
    )
    assert done.returncode == -signal.SIGINT
    assert (done.stdout, done.stderr) == (b"", b"")


@given(st.text())
def test_stand_ins_are_ascii_and_drop_no_letter(text: str) -> None:
    assert plain(text).isascii()
    assert len(plain(text)) >= len(text)


@given(st.text(alphabet=st.characters(max_codepoint=127)))
def test_ascii_stays_as_it_is(text: str) -> None:
    assert plain(text) == text


def test_stand_ins_of_the_trade() -> None:
    assert (
        plain("4.7 µF ±10 %, 0.35 Ω at 85 °C, ≥ 25 V → fits") == "4.7 uF +/-10 %, 0.35 ohm at 85 degC, >= 25 V -> fits"
    )
    assert plain("Müller Gerät é ñ ┌──┐ │") == "Muller Gerat e n +--+ |"
    assert plain(unicodedata.lookup("OHM SIGN") + "🎛") == "ohm?"
