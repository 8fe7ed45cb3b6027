"""recap import: what it prints, where it stores, what it never overwrites, and its exit statuses."""

from __future__ import annotations

import json
import re
import subprocess
import sys
from typing import TYPE_CHECKING

import pytest
from typer.testing import CliRunner

from recap.cli import app
from recap.diagnostics import Severity
from recap.normalise.caplist import read_cap_list

if TYPE_CHECKING:
    from pathlib import Path

LIST = "PSU board\nC1 470uF 25V 105C radial\nC2 l00uF 16V\nR3 4k7\nC4 EMPTY\n"


@pytest.fixture
def bench(tmp_path: Path) -> Path:
    (tmp_path / "bench" / "caplists").mkdir(parents=True)
    (tmp_path / "list.txt").write_text(LIST, encoding="utf-8")
    return tmp_path / "bench"


def run(*arguments: str, stdin: str | bytes | None = None) -> tuple[int, str, str]:
    result = CliRunner().invoke(app, ["import", *arguments], input=stdin)
    return result.exit_code, result.stdout, result.stderr


def test_json_is_one_document_with_positions_and_diagnostics(bench: Path) -> None:
    status, out, _ = run(str(bench.parent / "list.txt"), "--json")
    document = json.loads(out)
    assert status == 0
    first, second = document["positions"]
    assert (first["ref"], first["qty"], first["value_uF"], first["volts"], first["temp_C"]) == ("C1", 1, 470, 25, 105)
    assert (first["mount"], first["kind"], first["board"], first["row"]) == ("radial", "unknown", "PSU board", 2)
    assert first["pitch_mm"] is None
    assert second["doubts"] == ["ocr-digit"]
    told = {(d["severity"], d["code"], d["row"]) for d in document["diagnostics"]}
    assert told == {
        ("note", "heading-read", 1),
        ("warning", "ocr-digit", 3),
        ("note", "other-part", 4),
        ("note", "not-fitted", 5),
    }


def test_the_summary_names_the_doubtful_lines_and_the_next_step(bench: Path) -> None:
    status, out, err = run(str(bench.parent / "list.txt"))
    assert status == 0
    assert "2 positions" in out
    assert "1 position in doubt: ocr-digit (1)" in out
    assert "C2 l00uF 16V" in err
    assert "[ocr-digit]" in err
    assert "3 notes not shown" in err
    assert "--bench BENCH --chassis NAME" in err


def test_standard_input_is_read(bench: Path) -> None:
    status, out, _ = run("-", "--json", stdin="C1 10uF 16V\n")
    assert status == 0
    assert json.loads(out)["positions"][0]["value_uF"] == 10


def test_a_list_is_stored_and_never_overwritten_in_silence(bench: Path) -> None:
    source = str(bench.parent / "list.txt")
    assert run(source, "--bench", str(bench), "--chassis", "alder")[0] == 0
    stored = bench / "caplists" / "alder.csv"
    assert [p.ref for p in read_cap_list(stored)[0]] == ["C1", "C2"]
    stored.write_text(stored.read_text(encoding="utf-8") + "\n", encoding="utf-8")
    before = stored.read_bytes()
    status, _, err = run(source, "--bench", str(bench), "--chassis", "alder")
    assert status == 1
    assert "list-exists" in err
    assert stored.read_bytes() == before
    status, _, err = run(source, "--bench", str(bench), "--chassis", "alder", "--force")
    assert status == 0
    assert (bench / "caplists" / "alder.csv.old1").read_bytes() == before
    assert "alder.csv.old1" in err


def test_after_storing_the_next_step_is_named(bench: Path) -> None:
    """Common practice: whoever has to settle something is told where, what it means, and what comes then."""
    text = "C1 100uF 16V\nC2 100 16V\nC3 50+50uF 350V\n"
    _, _, err = run("-", "--bench", str(bench), "--chassis", "alder", stdin=text)
    assert "1 position will not be bought until its doubts are settled: correct the cells in" in err
    assert "recap explain CODE" in err
    assert f"Next: a row for each set of it in {bench / 'sets.csv'}, such as  alder-1,alder,,full," in err
    assert "hint: write the unit: 100 µF or 10 µF or 10 pF" in err
    _, _, err = run("-", "--bench", str(bench), "--chassis", "birch", stdin="C1 100 16V\nC2 47 16V\n")
    assert "2 positions will not be bought until their doubts are settled" in err
    assert "hint: write the unit: 47 µF" in err


def test_a_missing_value_is_said_once() -> None:
    _, _, err = run("-", stdin="C1 10uF 16V\nC2 25V\n")
    assert "no capacitance stands on the line [value-missing]" in err


def test_a_doubt_that_is_stored_says_what_it_means_and_a_can_says_so_once(bench: Path) -> None:
    run("-", "--bench", str(bench), "--chassis", "alder", stdin="C1 50+50uF 350V\nC2 100 16V\n")
    _, told = read_cap_list(bench / "caplists" / "alder.csv")
    said = [d.message for d in told if d.severity is Severity.WARNING]
    assert said == [
        "a can of several sections, one position for each: by the doubts column",
        "a number of 1 or more without a unit, taken as µF: by the doubts column",
    ]


def test_a_list_of_another_format_counts_as_the_chassis_list(bench: Path) -> None:
    (bench / "caplists" / "alder.md").write_text("C9 1uF 50V\n", encoding="utf-8")
    source = str(bench.parent / "list.txt")
    assert run(source, "--bench", str(bench), "--chassis", "alder")[0] == 1
    assert run(source, "--bench", str(bench), "--chassis", "alder", "--force")[0] == 0
    assert sorted(path.name for path in (bench / "caplists").iterdir()) == ["alder.csv", "alder.md.old1"]


def test_a_name_in_other_letters_is_the_same_chassis(bench: Path) -> None:
    """Two lists whose names differ in large letters alone stop the bench: on some disks they are one file."""
    (bench / "caplists" / "alder.txt").write_text("C9 1uF 50V\n", encoding="utf-8")
    source = str(bench.parent / "list.txt")
    status, _, err = run(source, "--bench", str(bench), "--chassis", "Alder ")
    assert status == 1
    assert "there is a list for Alder already" in err
    assert run(source, "--bench", str(bench), "--chassis", "Alder", "--force")[0] == 0
    assert sorted(path.name for path in (bench / "caplists").iterdir()) == ["Alder.csv", "alder.txt.old1"]


def test_where_the_new_list_cannot_be_written_the_old_one_stays(bench: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("recap.normalise.canonical.write_cap_list", full)
    (bench / "caplists" / "alder.txt").write_text("C9 1uF 50V\n", encoding="utf-8")
    arguments = (str(bench.parent / "list.txt"), "--bench", str(bench), "--chassis", "alder", "--force")
    status, _, err = run(*arguments)
    assert status == 1
    assert "No space left on device" in err
    assert (bench / "caplists" / "alder.txt").read_text(encoding="utf-8") == "C9 1uF 50V\n"


def test_lists_stored_at_once_are_all_kept(bench: Path) -> None:
    """Each one finds another's in its place and keeps it beside, or is refused; none is lost."""
    lists = [bench.parent / f"post{n}.txt" for n in range(6)]
    for number, path in enumerate(lists):
        path.write_text(f"C90{number} 47uF 25V\n", encoding="utf-8")
    arguments = ["--bench", str(bench), "--chassis", "alder", "--force"]
    ran = [
        subprocess.Popen([sys.executable, "-m", "recap", "import", str(path), *arguments], stderr=subprocess.DEVNULL)
        for path in lists
    ]
    assert [process.wait(300) for process in ran] == [0] * 6
    stored = "".join(path.read_text(encoding="utf-8") for path in (bench / "caplists").iterdir())
    assert sorted(set(re.findall(r"C90\d", stored))) == [f"C90{n}" for n in range(6)]


def test_errors_end_with_one_and_nothing_is_written(bench: Path) -> None:
    status, out, _ = run(str(bench.parent / "none.txt"), "--bench", str(bench), "--chassis", "alder", "--json")
    assert status == 1
    assert json.loads(out)["diagnostics"][0]["code"] == "file-missing"
    assert list((bench / "caplists").iterdir()) == []
    assert run("-", stdin="nothing but prose\n")[0] == 1


@pytest.mark.parametrize(
    "arguments", [("--bench", "b"), ("--chassis", "x"), ("--bench", "nowhere", "--chassis", "x"), ("--frob",)]
)
def test_wrong_usage_ends_with_two(bench: Path, arguments: tuple[str, ...]) -> None:
    assert run(str(bench.parent / "list.txt"), *arguments)[0] == 2


@pytest.mark.parametrize("name", ["../x", "a/b", ".x", "", "a\\b", "x\ny", "~$x", "README"])
def test_a_chassis_name_stays_in_its_folder_and_is_found_there(bench: Path, name: str) -> None:
    assert run(str(bench.parent / "list.txt"), "--bench", str(bench), "--chassis", name)[0] == 2


def test_help_has_an_example_that_works(bench: Path) -> None:
    assert "recap import forum-post.txt --bench mybench" in " ".join(run("--help")[1].split())


def stored(bench: Path, chassis: str, *names: str) -> tuple[int, str]:
    sets = [word for name in names for word in ("--sets", name)]
    status, _, err = run("-", "--bench", str(bench), "--chassis", chassis, "--force", *sets, stdin="C1 10uF 16V\n")
    return status, err


def test_sets_of_the_chassis_are_added_to_those_there_and_named_once(bench: Path) -> None:
    path = bench / "sets.csv"
    path.write_bytes(b"# mine\r\nset,chassis,boards,job,note\r\nold,birch,PSU,PSU C1,a note")
    status, err = stored(bench, "alder", "amp-1", "the second", "amp-1")
    assert status == 0
    assert "Next: each shop's price list" in err
    before = b"# mine\r\nset,chassis,boards,job,note\r\nold,birch,PSU,PSU C1,a note\r\n"
    assert path.read_bytes() == before + b"amp-1,alder,,full,\r\nthe second,alder,,full,\r\n"
    whole = path.read_bytes()
    assert stored(bench, "alder", "AMP-1")[0] == 0
    assert path.read_bytes() == whole


@pytest.mark.parametrize(
    ("content", "says"),
    [
        (b"set,chassis,boards,job,note\namp,birch,,full,\n", "set amp is a birch already"),
        (b"Geraet;Chassis\nx;birch\n", "add the row yourself: set amp, chassis alder, job full"),
    ],
)
def test_a_set_that_can_not_be_added_leaves_both_files_as_they_were(bench: Path, content: bytes, says: str) -> None:
    (bench / "sets.csv").write_bytes(content)
    status, err = stored(bench, "alder", "amp")
    assert (status, says in " ".join(err.split())) == (1, True)
    assert (bench / "sets.csv").read_bytes() == content
    assert not (bench / "caplists" / "alder.csv").exists()


@pytest.mark.parametrize(
    ("before", "added"),
    [
        (b"set;chassis;boards;job;note\r\nold;birch;;full;\r\n", b"amp;alder;;full;\r\n"),
        (b"\xef\xbb\xbfset;chassis;boards;job;note\nold;birch;;full;\n", b"amp;alder;;full;\n"),
        (b"set\tchassis\tboards\tjob\tnote\nold\tbirch\t\tfull\t\n", b"amp\talder\t\tfull\t\n"),
        (b'"# one, two";;;;\nset;chassis;boards;job;note\nk\xf6nig;birch;;full;\n', b"amp;alder;;full;\n"),
        (b"set,chassis,boards,job,note,shelf\nold,birch,,full,,3\n", b"amp,alder,,full,\n"),
    ],
    ids=["semicolons", "with a mark", "tabs", "CP1252", "a column of one's own"],
)
def test_a_set_is_added_to_what_a_spreadsheet_saved(bench: Path, before: bytes, added: bytes) -> None:
    (bench / "sets.csv").write_bytes(before)
    assert stored(bench, "alder", "amp")[0] == 0
    assert (bench / "sets.csv").read_bytes() == before + added


def test_a_name_that_the_files_code_page_lacks_is_not_added(bench: Path) -> None:
    content = b"set;chassis;boards;job;note\nk\xf6nig;birch;;full;\n"
    (bench / "sets.csv").write_bytes(content)
    status, err = stored(bench, "alder", "čejka")
    assert (status, "save it as UTF-8 first" in " ".join(err.split())) == (1, True)
    assert (bench / "sets.csv").read_bytes() == content


def test_a_first_set_begins_the_file(bench: Path) -> None:
    (bench / "sets.csv").unlink(missing_ok=True)
    assert stored(bench, "alder", "amp")[0] == 0
    assert (bench / "sets.csv").read_text(encoding="utf-8") == "set,chassis,boards,job,note\namp,alder,,full,\n"
    status, _, err = run("-", "--sets", "amp", stdin="C1 10uF 16V\n")
    assert (status, "--sets" in err) == (2, True)
