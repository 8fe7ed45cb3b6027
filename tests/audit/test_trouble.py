"""The record where it can't be written, on a full disk, damaged, busy: said for what it is, and nothing lost."""

from __future__ import annotations

import re
import sqlite3
from concurrent.futures import ThreadPoolExecutor
from typing import TYPE_CHECKING

import pytest

from recap.audit import record as module
from recap.audit.events import EventKind, new_event
from recap.audit.record import Record, RecordError, open_record, read_record
from recap.audit.stored_rows import Photo
from recap.audit.trouble import in_words
from recap.files import forget_written, give_name, written
from tests.audit.stories import MONDAY, line, order, part
from tests.whole import faults

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from recap.audit.events import Event


@pytest.fixture
def disk() -> Iterator[faults.Disk]:
    mounted = faults.Disk()
    yield mounted
    mounted.close()


def a_note(text: str = "pad lifted") -> Event:
    return new_event(EventKind.NOTE, set="S1", data={"text": text})


def test_a_record_in_a_folder_that_cannot_be_written_is_read_and_not_written(disk: faults.Disk) -> None:
    note = a_note()
    with open_record(disk.home) as record:
        record.append([note])
    with disk.read_only():
        events, _ = read_record(disk.home)
        assert [event.id for event in events] == [note.id]
        with pytest.raises(RecordError, match="can't be written") as told, open_record(disk.home) as record:
            record.append([a_note()])
    assert "backup" not in str(told.value)  # nothing is wrong with the file: no advice to replace it


def test_entries_that_still_wait_beside_the_record_are_not_passed_over(disk: faults.Disk) -> None:
    """After a kill the latest entries lie in the write-ahead log, which reading must take in (sqlite.org/wal.html)."""
    with open_record(disk.home) as record:
        record.append([a_note()])
        left = {name: (disk.home / name).read_bytes() for name in ("record.db", "record.db-wal")}
    for name, content in left.items():
        (disk.home / name).write_bytes(content)
    with disk.read_only():
        if disk.real:
            with pytest.raises(RecordError, match=r"record\.db-wal"):
                read_record(disk.home)
    events, _ = read_record(disk.home)
    assert len(events) == 1


def test_a_full_disk_is_called_a_full_disk_and_what_was_confirmed_stays(disk: faults.Disk) -> None:
    if not disk.real:
        return  # only who may mount a disk can fill one
    kept: list[Event] = []

    def go_on(record: Record) -> None:
        for number in range(10_000):
            kept.extend(record.append([a_note(f"{number} " + "x" * 1500)]))

    with open_record(disk.home) as record, disk.full(200_000), pytest.raises(RecordError, match="full"):
        go_on(record)
    assert kept
    with open_record(disk.home) as record:
        assert record.faults() == ()
        assert {event.id for event in kept} == {event.id for event in record.events()}
        record.append([a_note("there is room again")])


def test_a_backup_onto_a_full_disk_leaves_nothing_half(disk: faults.Disk, tmp_path: Path) -> None:
    if not disk.real:
        return
    with open_record(tmp_path) as record:
        record.append([a_note("x" * 2000) for _ in range(200)])
        with disk.full(20_000), pytest.raises(OSError, match="full"):
            record.backup(disk.home / "copy.db")
        assert list(disk.home.iterdir()) == []
        record.backup(disk.home / "copy.db")
    assert [path.name for path in disk.home.iterdir()] == ["copy.db"]


def test_a_record_kept_busy_is_called_busy(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(module, "_BUSY_SECONDS", 0.1)
    with open_record(tmp_path) as first, open_record(tmp_path) as second:
        with first.transaction(), pytest.raises(RecordError, match="busy"):
            second.append([a_note()])
        second.append([a_note()])


@pytest.mark.parametrize(
    "spoil", [lambda data: data[:0] + b"no record" * 100, lambda data: data[:100] + b"\0" * (len(data) - 100)]
)
def test_a_damaged_record_is_called_damaged_and_left_as_it_is(tmp_path: Path, spoil: object) -> None:
    with open_record(tmp_path) as record:
        record.append([a_note()])
    path = tmp_path / "record.db"
    path.write_bytes(spoil(path.read_bytes()))  # type: ignore[operator]
    there = path.read_bytes()
    with pytest.raises(RecordError, match="damaged"):
        read_record(tmp_path)
    assert path.read_bytes() == there


def test_a_record_with_a_hole_in_it_is_read_or_called_damaged_and_never_ends_in_another_error(tmp_path: Path) -> None:
    """A disk may give back zeros for a block; SQLite then hands out rows with empty cells where the table has none."""
    with open_record(tmp_path) as record:
        record.append([a_note() for _ in range(30)])
        record.keep(order(line(part("NL-47"), 2, ("47 µF", 2))), (), MONDAY)
        record.put_photo(Photo("ab" * 32, "image/png", 2, 2, b"x" * 3000))
    path = tmp_path / "record.db"
    whole = path.read_bytes()
    said = set()
    for length in (16, 512, 4096):
        for at in range(0, len(whole), length):
            path.write_bytes(whole[:at] + bytes(length) + whole[at + length :])
            try:
                with Record(path) as record:
                    assert record.events()
                    assert len(record.orders()) == 1
                    assert len(record.photos()) == 1
            except RecordError as fault:
                said.add(re.sub(r".*\(|\)$", "", str(fault)))
            for beside in ("record.db-wal", "record.db-shm"):
                (tmp_path / beside).unlink(missing_ok=True)
    assert "one of its rows has 'None' where no record has" in said


def test_an_emptied_record_is_no_new_one(tmp_path: Path) -> None:
    """SQLite begins anew in an empty file, and takes away the log beside it that still holds the latest entries."""
    with open_record(tmp_path) as record:
        record.append([a_note()])
        log = (tmp_path / "record.db-wal").read_bytes()
    (tmp_path / "record.db").write_bytes(b"")
    (tmp_path / "record.db-wal").write_bytes(log)
    for opens in (open_record, read_record):
        with pytest.raises(RecordError, match="it is empty"):
            opens(tmp_path)
    assert (tmp_path / "record.db").read_bytes() == b""
    assert (tmp_path / "record.db-wal").read_bytes() == log


def test_a_record_is_begun_whole_or_not_at_all(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def interrupted(*_: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(module, "give_name", interrupted)
    with pytest.raises(KeyboardInterrupt):
        open_record(tmp_path)
    assert list(tmp_path.iterdir()) == []


def test_of_two_that_begin_a_record_neither_takes_the_others_place(tmp_path: Path) -> None:
    def note(number: int) -> None:
        with open_record(tmp_path) as record:
            record.append([a_note(str(number))])

    with ThreadPoolExecutor(max_workers=6) as pool:
        list(pool.map(note, range(6)))
    assert len(read_record(tmp_path)[0]) == 6
    assert [path.name for path in tmp_path.glob("*.part*")] == []


def stopped(record: Record, after: str) -> None:
    """Add a note, and press Ctrl-C after this statement."""
    with record.transaction():
        record.add([a_note()])
        record._db.execute(after)
        raise KeyboardInterrupt


def test_what_is_committed_when_ctrl_c_comes_is_said_to_stay(tmp_path: Path) -> None:
    with open_record(tmp_path) as record:
        forget_written()
        for pressed_after, stays in (("SELECT 1", ()), ("COMMIT", (tmp_path / "record.db",))):
            with pytest.raises(KeyboardInterrupt):
                stopped(record, pressed_after)
            assert written() == stays
            assert len(record.events()) == len(stays)


def test_a_disk_that_fails_is_not_called_a_damaged_record() -> None:
    class Failing:
        def execute(self, _: str) -> None:
            fault = sqlite3.OperationalError("disk I/O error")
            fault.sqlite_errorname = "SQLITE_IOERR_WRITE"
            raise fault

    with pytest.raises(sqlite3.OperationalError):
        module._unsound(Failing())  # type: ignore[arg-type]


def test_two_backups_at_once_are_one_whole_file(tmp_path: Path) -> None:
    """Both name the same second: one gets the name, the others are refused, and nothing unfinished bears it."""
    with open_record(tmp_path) as record:
        record.append([a_note("x" * 2000) for _ in range(200)])
    copy = tmp_path / "copies" / "record.db"
    copy.parent.mkdir()

    def back_up(_: int) -> str:
        with open_record(tmp_path) as record:
            try:
                record.backup(copy)
            except OSError as fault:
                return type(fault).__name__
        return "made"

    with ThreadPoolExecutor(max_workers=6) as pool:
        came = sorted(pool.map(back_up, range(6)))
    assert came == ["FileExistsError"] * 5 + ["made"]
    assert [path.name for path in copy.parent.iterdir()] == ["record.db"]
    with open_record(copy.parent) as record:
        assert (record.faults(), len(record.events())) == ((), 200)


def test_no_backup_is_made_of_a_damaged_record(tmp_path: Path) -> None:
    with open_record(tmp_path) as record:
        record.append([a_note("x" * 2000) for _ in range(50)])
    path = tmp_path / "record.db"
    data = bytearray(path.read_bytes())
    page = len(data) // 4096 // 2 * 4096
    data[page : page + 4096] = b"\xff" * 4096
    path.write_bytes(data)
    with open_record(tmp_path) as record:
        assert record.faults()
        with pytest.raises(RecordError, match="no backup was made"):
            record.backup(tmp_path / "copy.db")
    assert not (tmp_path / "copy.db").exists()


def test_a_fault_without_a_name_is_told_too(tmp_path: Path) -> None:
    assert "(odd)" in in_words(sqlite3.DatabaseError("odd"), tmp_path)


def test_a_name_that_is_taken_is_not_taken_away(tmp_path: Path) -> None:
    (tmp_path / "made").write_text("new", encoding="utf-8")
    (tmp_path / "there").write_text("old", encoding="utf-8")
    with pytest.raises(FileExistsError):
        give_name(tmp_path / "made", tmp_path / "there")
    assert (tmp_path / "there").read_text(encoding="utf-8") == "old"


@pytest.mark.parametrize("towards", ["gone/record.db", "off.db", "record.db"])
def test_a_link_to_a_record_whose_disk_is_off_is_no_new_record(tmp_path: Path, towards: str) -> None:
    """What is ordered would be forgotten, and bought again; writing would begin a second record."""
    (tmp_path / "record.db").symlink_to(tmp_path / towards)
    for use in (read_record, open_record):
        with pytest.raises(RecordError, match="see that its disk is there"):
            use(tmp_path)
    assert not (tmp_path / "off.db").exists()
