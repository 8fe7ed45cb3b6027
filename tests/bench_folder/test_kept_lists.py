"""A longer cap list is read once; what was kept of it is what was read, and is never served for another content."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from pathlib import Path

import pytest

from recap.bench import keeping, kept_lists
from recap.bench.keeping import FOLDER
from recap.bench.kept_lists import Read, read_once
from recap.diagnostics import has_errors
from recap.model import Kind, Mount, Position, Role
from recap.normalise.caplist import read_cap_list

CORPUS = Path(__file__).parents[1] / "corpus"
LISTS = sorted(path for path in CORPUS.iterdir() if path.suffix in {".csv", ".tsv", ".txt", ".md", ".xlsx"})[::8]
LIST = "ref,value,volts,temp\n" + "".join(f"C{i},47 µF,25,105\n" for i in range(1, 200))


def never(path: Path) -> Read:
    """Stand for a reader that must not be asked."""
    raise AssertionError(f"{path} was read again")


@pytest.fixture
def path(tmp_path: Path) -> Path:
    """A list that is worth keeping."""
    path = tmp_path / "kestrel.csv"
    path.write_text(LIST, encoding="utf-8")
    return path


def test_lists_of_the_corpus_are_kept_as_they_are_read(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(kept_lists, "WORTH_KEEPING", 0)
    kept = 0
    for path in LISTS:
        read = read_cap_list(path)
        assert read_once(tmp_path / FOLDER, path, read_cap_list) == read
        if not has_errors(read[1]):
            assert read_once(tmp_path / FOLDER, path, never) == read, path
            kept += 1
    assert kept > 40


def test_every_field_of_a_position_comes_back(tmp_path: Path, path: Path) -> None:
    whole = Position(
        "C1", 2, Decimal("4.70"), Decimal(63), 105, Mount.RADIAL, Kind.BIPOLAR, Decimal("2.5"), Decimal("6.3"),
        Decimal(11), "Deflection", next(iter(Role)), Decimal("41.5"), Decimal(120), "X2", True, "a note", ("mf-unit",),
        read_cap_list(path)[0][0].source, "C1 4.70 NP",
    )  # fmt: skip
    for each in (whole, Position()):
        read_once(tmp_path / FOLDER, path, lambda _, found=each: ((found,), []))
        assert read_once(tmp_path / FOLDER, path, never) == ((each,), [])
        path.write_text(path.read_text(encoding="utf-8") + "C300,10 µF,16,85\n", encoding="utf-8")


def test_a_changed_list_is_read_anew(tmp_path: Path, path: Path) -> None:
    folder = tmp_path / FOLDER
    read_once(folder, path, read_cap_list)
    path.write_text(LIST.replace("C7,47", "C7,4.7"), encoding="utf-8")
    positions, _ = read_once(folder, path, read_cap_list)
    assert positions[6].value_uF == Decimal("4.7")
    assert len(list(folder.glob("*.json"))) == 1, "the old entry is of no use any more"


def test_a_changed_program_reads_anew(tmp_path: Path, path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    read_once(tmp_path / FOLDER, path, read_cap_list)
    monkeypatch.setattr(keeping, "_code_digest", lambda: b"other code")
    with pytest.raises(AssertionError, match="read again"):
        read_once(tmp_path / FOLDER, path, never)


def test_a_list_of_the_same_content_under_another_name_is_read_anew(tmp_path: Path, path: Path) -> None:
    """Places name the file, and a name's ending decides how it is read."""
    read_once(tmp_path / FOLDER, path, read_cap_list)
    other = path.rename(path.with_name("kestrel-mk2.csv"))
    positions, _ = read_once(tmp_path / FOLDER, other, read_cap_list)
    assert positions[0].source is not None
    assert positions[0].source.file == str(other)


def test_a_list_written_while_it_is_read_is_not_kept(tmp_path: Path, path: Path) -> None:
    def slowly(given: Path) -> Read:
        path.write_text(LIST.replace("C7,47", "C7,4.7"), encoding="utf-8")
        return read_cap_list(given)

    read_once(tmp_path / FOLDER, path, slowly)
    path.write_text(LIST, encoding="utf-8")
    assert read_once(tmp_path / FOLDER, path, read_cap_list)[0][6].value_uF == Decimal(47)


@pytest.mark.parametrize("spoilt", ["", "[", "[1, 2]", '["of", [[]], []]', "[[], [], []]"])
def test_a_damaged_entry_is_read_anew(tmp_path: Path, path: Path, spoilt: str) -> None:
    read = read_once(tmp_path / FOLDER, path, read_cap_list)
    (entry,) = (tmp_path / FOLDER).glob("*.json")
    entry.write_text(spoilt, encoding="utf-8")
    assert read_once(tmp_path / FOLDER, path, read_cap_list) == read
    assert entry.read_text(encoding="utf-8") != spoilt, "and mended"


def test_an_entry_under_anothers_name_is_not_taken(tmp_path: Path, path: Path) -> None:
    folder = tmp_path / FOLDER
    read_once(folder, path, read_cap_list)
    (entry,) = folder.glob("*.json")
    content = entry.read_bytes()
    path.write_text(LIST.replace("C7,47", "C7,4.7"), encoding="utf-8")
    read_once(folder, path, read_cap_list)
    (entry,) = folder.glob("*.json")
    entry.write_bytes(content)
    assert read_once(folder, path, read_cap_list)[0][6].value_uF == Decimal("4.7")


def test_lists_with_errors_and_short_ones_are_not_kept(tmp_path: Path, path: Path) -> None:
    folder = tmp_path / FOLDER
    path.write_text("\x00" + LIST, encoding="utf-8")
    assert has_errors(read_once(folder, path, read_cap_list)[1])
    path.write_text(LIST[:1000], encoding="utf-8")
    read_once(folder, path, read_cap_list)
    read_once(folder, tmp_path / "missing.csv", read_cap_list)
    assert not folder.exists()


def test_a_folder_that_cannot_be_written_keeps_nothing(tmp_path: Path, path: Path) -> None:
    (tmp_path / FOLDER).write_text("a file", encoding="utf-8")
    assert read_once(tmp_path / FOLDER, path, read_cap_list) == read_cap_list(path)


def test_warnings_come_back_too(tmp_path: Path, path: Path) -> None:
    path.write_text(LIST + "C300,47,25,105\nwhat is this\n", encoding="utf-8")
    read = read_once(tmp_path / FOLDER, path, read_cap_list)
    assert read[1]
    assert read_once(tmp_path / FOLDER, path, never) == read
    assert [replace(one) for one in read[1]] == read[1]
