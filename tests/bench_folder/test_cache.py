"""Catalogues kept as read: the same answer, never a stale one, harmless where nothing can be kept."""

from __future__ import annotations

import os
import subprocess
import sys
from typing import TYPE_CHECKING

import pytest

from recap.bench import catalogues, keeping
from recap.bench.cache import Entry, fingerprint, keep, kept
from recap.bench.catalogues import read_catalogue
from recap.bench.keeping import FOLDER
from tests.bench_folder.folders import make

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from recap.bench.offers import Catalogue
    from recap.diagnostics import Diagnostic

LADDERS = (
    "part,value (µF),volts,mount,stock,prices,updated\n"
    "A,4.7,16,radial,100,1:0.42 10:0.31,2025-01-01\n"
    "B,10,,,,5:0.30 10:0.40,\n"
    "C,what,16,axial,,1: €0.20,\n"
)
WIDE = "part;µF;1;10+\nA;4,7;0,42;0,31\nB;10;;0,30\n"


@pytest.fixture(autouse=True)
def everything_is_worth_keeping(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(catalogues, "WORTH_KEEPING", 0)
    monkeypatch.setattr(keeping, "BLOCK", 16)


def entries(folder: Path) -> list[Path]:
    return sorted(folder.glob("*.arrow"))


def read(path: Path, folder: Path) -> tuple[Catalogue | None, list[Diagnostic]]:
    """Read, and keep what is to be kept before going on."""
    return read_catalogue(path, "pellworth", folder, lambda keep_it: keep_it())


@pytest.mark.parametrize("text", [LADDERS, WIDE], ids=["ladders", "wide"])
def test_what_was_kept_is_what_was_read(text: str, tmp_path: Path) -> None:
    path, folder = tmp_path / "pellworth.csv", tmp_path / FOLDER
    path.write_text(text, encoding="utf-8")
    plain, told_plain = read_catalogue(path, "pellworth")
    first, told_first = read(path, folder)
    assert len(entries(folder)) == 1
    again, told_again = read(path, folder)
    assert plain is not None
    assert first is not None
    assert again is not None
    assert told_plain == told_first == told_again
    assert [plain.part(i) for i in range(len(plain))] == [again.part(i) for i in range(len(again))]
    assert plain.priced.least.tolist() == again.priced.least.tolist()
    assert plain.priced.currencies == again.priced.currencies


def test_a_changed_file_finds_nothing_even_with_its_old_date(tmp_path: Path) -> None:
    path, folder = tmp_path / "pellworth.csv", tmp_path / FOLDER
    path.write_text(LADDERS, encoding="utf-8")
    read(path, folder)
    facts = path.stat()
    path.write_text(LADDERS.replace("0.42", "0.24"), encoding="utf-8")
    os.utime(path, ns=(facts.st_atime_ns, facts.st_mtime_ns))
    found, _ = read(path, folder)
    assert found is not None
    assert str(found.part(0).prices[0].unit_price) == "0.24"
    assert len(entries(folder)) == 1


def test_a_file_that_changes_while_it_is_kept_is_kept_as_it_was_read(tmp_path: Path) -> None:
    path, folder = tmp_path / "pellworth.csv", tmp_path / FOLDER
    path.write_text(LADDERS, encoding="utf-8")
    to_keep: list[Callable[[], None]] = []
    read_catalogue(path, "pellworth", folder, to_keep.append)
    path.write_text(LADDERS.replace("0.42", "0.24"), encoding="utf-8")
    for keep_it in to_keep:
        keep_it()
    changed, _ = read(path, folder)
    path.write_text(LADDERS, encoding="utf-8")
    restored, _ = read(path, folder)
    assert changed is not None
    assert restored is not None
    assert [str(found.part(0).prices[0].unit_price) for found in (changed, restored)] == ["0.24", "0.42"]


def test_what_is_kept_at_the_end_of_the_program_is_kept_too(tmp_path: Path) -> None:
    path, folder = tmp_path / "pellworth.csv", tmp_path / FOLDER
    path.write_text(LADDERS, encoding="utf-8")
    ends_at_once = (
        "import sys, threading, time\nfrom pathlib import Path\nfrom recap.bench import catalogues\n"
        "catalogues.WORTH_KEEPING = 0\n"
        "def later(work):\n    threading.Thread(target=lambda: (time.sleep(1), work())).start()\n"
        "catalogues.read_catalogue(Path(sys.argv[1]), 'pellworth', Path(sys.argv[2]), later)\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", ends_at_once, str(path), str(folder)], capture_output=True, text=True, check=True
    )
    assert done.stderr == ""
    assert len(entries(folder)) == 1


def test_changed_code_finds_nothing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "pellworth.csv"
    path.write_text(LADDERS, encoding="utf-8")
    before = fingerprint(path)
    monkeypatch.setattr(keeping, "_code_digest", lambda: b"other code")
    assert fingerprint(path) != before


def test_a_damaged_entry_is_read_anew(tmp_path: Path) -> None:
    path, folder = tmp_path / "pellworth.csv", tmp_path / FOLDER
    path.write_text(LADDERS, encoding="utf-8")
    plain, _ = read(path, folder)
    (entry,) = entries(folder)
    for damage in (b"", b"nonsense", entry.read_bytes()[:-50]):
        entry.write_bytes(damage)
        found, _ = read(path, folder)
        assert found is not None
        assert plain is not None
        assert found.part(0) == plain.part(0)


def test_an_entry_under_another_digest_is_not_taken(tmp_path: Path) -> None:
    path, folder = tmp_path / "pellworth.csv", tmp_path / FOLDER
    path.write_text(LADDERS, encoding="utf-8")
    read(path, folder)
    (entry,) = entries(folder)
    digest = fingerprint(path)
    wrong = digest[:32] + "0" * 32
    assert kept(folder, path, digest) is not None
    assert kept(folder, path, wrong) is None
    assert entry.exists()


def test_a_copy_is_told_of_under_its_own_name(tmp_path: Path) -> None:
    folder = tmp_path / FOLDER
    one, two = tmp_path / "one" / "pellworth.csv", tmp_path / "two" / "pellworth.csv"
    for path in (one, two):
        path.parent.mkdir()
        path.write_text(LADDERS, encoding="utf-8")
    read(one, folder)
    found, told = read(two, folder)
    assert {d.source.file for d in told} == {str(two)}
    assert found is not None
    assert found.file == str(two)


def test_a_folder_that_cannot_be_written_does_no_harm(tmp_path: Path) -> None:
    path = tmp_path / "pellworth.csv"
    path.write_text(LADDERS, encoding="utf-8")
    (tmp_path / "taken").write_text("a file where the folder should be")
    found, _ = read(path, tmp_path / "taken")
    assert found is not None
    entry = Entry(found.table, found.priced.least, None, frozenset(), found.marks, {}, found.cells, ())
    keep(tmp_path / "taken", path, "0" * 64, entry)
    assert (tmp_path / "taken").read_text() == "a file where the folder should be"


def test_errors_are_not_kept(tmp_path: Path) -> None:
    path, folder = tmp_path / "pellworth.csv", tmp_path / FOLDER
    path.write_text(LADDERS.replace("1:0.42", "1:-0.42"), encoding="utf-8")
    for _ in range(2):
        found, told = read(path, folder)
        assert found is None
        assert "price-negative" in {d.code for d in told}
    assert entries(folder) == []


def test_small_files_are_not_kept_at_all(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    from recap.bench import load_bench

    monkeypatch.undo()
    folder = make(tmp_path / "bench", {})
    load_bench(folder)
    assert not (folder / FOLDER).exists()
