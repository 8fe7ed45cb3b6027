"""Files are written whole or not at all, and what was written before a command was stopped is known."""

from __future__ import annotations

from pathlib import Path

import pytest

from recap.files import forget_written, take_away, write_atomically, write_new, written


def test_a_name_that_is_taken_stays_with_who_has_it(tmp_path: Path) -> None:
    write_new(tmp_path / "a.pdf", "one")
    with pytest.raises(FileExistsError):
        write_new(tmp_path / "a.pdf", "two")
    assert [(path.name, path.read_text()) for path in tmp_path.iterdir()] == [("a.pdf", "one")]


def test_what_was_written_is_known_and_what_was_not_is_not(tmp_path: Path) -> None:
    forget_written()
    write_new(tmp_path / "new", "1")
    write_atomically(tmp_path / "other", "2")
    with pytest.raises(FileExistsError):
        write_new(tmp_path / "other", "3")
    with pytest.raises(OSError, match="missing"):
        write_atomically(tmp_path / "missing" / "third", "4")
    assert written() == (tmp_path / "new", tmp_path / "other")


@pytest.mark.parametrize("writes", [write_new, write_atomically])
def test_ctrl_c_while_a_file_gets_its_name_leaves_nothing_unfinished(
    writes: object, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    unlink, pressed = Path.unlink, []

    def interrupted(path: Path, *, missing_ok: bool = False) -> None:
        if not pressed:
            pressed.append(True)
            raise KeyboardInterrupt
        unlink(path, missing_ok=missing_ok)

    forget_written()
    monkeypatch.setattr(Path, "unlink", interrupted)
    with pytest.raises(KeyboardInterrupt):
        writes(tmp_path / "a.pdf", "one")  # type: ignore[operator]
    assert [path.name for path in tmp_path.iterdir()] == ["a.pdf"]
    assert written() == (tmp_path / "a.pdf",)


def test_taking_away_what_is_not_there_is_no_fault(tmp_path: Path) -> None:
    take_away(tmp_path / "a", tmp_path / "b")
