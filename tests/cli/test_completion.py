"""What the shell completes: commands, options, and the names that the bench in the command line holds."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest
from typer.testing import CliRunner

from recap.cli import app
from tests.cli.test_startup import HEAVY

SETS = "set,chassis,boards,job,note\nWren 1,wrenlet,,full,\nwren-2,wrenlet,,full,\nmoss,mosslet,,full,\n# later,,,,\n"
TERMS = "supplier,currency,shipping\nQuillbarrow,EUR,0:5\n"


@pytest.fixture(scope="module")
def bench(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A bench of names alone: completing needs no more, and no list has to be sound."""
    folder = tmp_path_factory.mktemp("bench")
    (folder / "bench.toml").write_text('currency = "EUR"\ncatalogs = "shops"\n', encoding="utf-8")
    (folder / "sets.csv").write_text(SETS, encoding="utf-8")
    for name in ("caplists/wrenlet.csv", "caplists/mosslet.txt", "shops/quillbarrow.csv", "shops/kolb.csv"):
        (folder / name).parent.mkdir(exist_ok=True)
        (folder / name).write_text("-\n", encoding="utf-8")
    (folder / "shops" / "suppliers.csv").write_text(TERMS, encoding="utf-8")
    return folder


def complete(shell: str, line: str) -> list[str]:
    """What a shell is told, by the protocol that its completion script speaks."""
    asked = {"_RECAP_COMPLETE": f"complete_{shell}", "_TYPER_COMPLETE_ARGS": line, "COMP_WORDS": line}
    asked |= {
        "COMP_CWORD": str(len(line.split()) - (not line.endswith(" "))),
        "_TYPER_COMPLETE_FISH_ACTION": "get-args",
    }
    result = CliRunner().invoke(app, env=asked)
    assert result.exit_code == 0, result.output
    assert result.stderr == ""
    return [text.split("\t")[0] for text in result.stdout.splitlines() if text]


@pytest.mark.parametrize(
    ("line", "offered"),
    [
        ("recap ord", ["order"]),
        ("recap record ex", ["export"]),
        ("recap order BENCH --without ", ["Quillbarrow", "kolb"]),
        ("recap order BENCH --solver ", ["cbc", "highs"]),
        ("recap order BENCH --se", ["--sets"]),
        ("recap order --sets m BENCH", []),
        ("recap order BENCH --sets wren", ["wren-2"]),
        ("recap order BENCH --sets wren-2,", ["wren-2,Wren 1", "wren-2,moss"]),
        ("recap history BENCH m", ["moss"]),
        ("recap audit BENCH ", ["Wren 1", "moss", "wren-2"]),
        ("recap work BENCH moss re", ["repaired", "returned"]),
        ("recap work BENCH moss borrowed amplifier --with wren-", ["wren-2"]),
        ("recap catalog BENCH Q", ["Quillbarrow"]),
        ("recap import post.txt --bench BENCH --chassis ", ["mosslet", "wrenlet"]),
        ("recap import post.txt --chassis ", []),
        ("recap explain unit-missi", ["unit-missing"]),
        ("recap guide to", ["tour"]),
        ("recap margin --role ti", ["timing"]),
        ("recap margin --profile h", ["home"]),
        ("recap life --model ca", ["cautious"]),
        ("recap order nowhere --sets ", []),
    ],
)
def test_what_is_there_is_offered(line: str, offered: list[str], bench: Path) -> None:
    assert complete("fish", line.replace("BENCH", str(bench))) == offered


def test_bash_is_given_words_as_they_are_typed(bench: Path) -> None:
    assert complete("bash", f"recap history {bench} W") == ["Wren\\ 1"]


def test_zsh_is_given_what_it_calls(bench: Path) -> None:
    told = complete("zsh", f"recap history {bench} mo")
    assert told == ["""_arguments '*: :(("moss"))'"""]
    assert complete("zsh", "recap order somewhere") == ["_files"]


def test_a_real_bash_completes(bench: Path) -> None:
    """With the script that ``recap --install-completion`` puts in place."""
    home = Path(sys.executable).parent
    script = CliRunner().invoke(app, env={"_RECAP_COMPLETE": "source_bash"}).stdout
    line = f"COMP_WORDS=(recap history {bench} mo); COMP_CWORD=3; _recap_completion recap; echo ${{COMPREPLY[*]}}"
    done = subprocess.run(
        ["bash", "--norc", "-c", f"{script}\n{line}"],
        env={**os.environ, "PATH": f"{home}:{os.environ['PATH']}"},
        capture_output=True, text=True, check=True, timeout=120,
    )  # fmt: skip
    assert done.stdout == "moss\n"


def test_completing_imports_nothing_heavy(bench: Path) -> None:
    """It is waited for between two keys."""
    ask = (
        "import sys\nfrom recap.cli import completion\nfrom recap.cli.completion import _sets, sellers\n"
        "from pathlib import Path\nprint(*_sets(Path(sys.argv[1])), *sellers(Path(sys.argv[1])))\n"
        "print(*{name.partition('.')[0] for name in sys.modules}, file=sys.stderr)"
    )
    done = subprocess.run(
        [sys.executable, "-c", ask, str(bench)], capture_output=True, text=True, check=True, timeout=120
    )
    assert done.stdout.split() == ["Wren", "1", "wren-2", "moss", "Quillbarrow", "kolb"]
    assert not set(done.stderr.split()) & set(HEAVY)
