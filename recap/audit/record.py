"""``record.db``: the only place that speaks SQLite.

One writer at a time, many readers (WAL); a commit is on the disk before anyone is told that it
is done (``synchronous = FULL``), so that a process killed at any moment loses nothing it has confirmed.
"""

from __future__ import annotations

import json
import os
import sqlite3
import threading
from contextlib import contextmanager, suppress
from dataclasses import replace
from datetime import UTC, datetime
from typing import TYPE_CHECKING, Any, Self, TypeVar

from recap.audit import stored_rows
from recap.audit.codec import encode
from recap.audit.events import stamp
from recap.audit.kept import KeptOrder
from recap.audit.schema import APPLICATION_ID, MIGRATIONS
from recap.audit.trouble import cut_short, damaged, in_words, is_closed_to_writing, is_damage, lost_link
from recap.files import alone_in, give_name, note_written, noting, take_away, unfinished_name

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator, Sequence
    from pathlib import Path

    from recap.audit.events import Event, EventKind
    from recap.audit.stored_rows import Photo
    from recap.model import Group, Order

T = TypeVar("T")

FILE_NAME = "record.db"
_BUSY_SECONDS = 20


class RecordError(Exception):
    """The record can't be used as it is; the text says why and what to do."""


class EventConflictError(RecordError):
    """An id that is in the record already, with another content: never overwritten."""


class Record:
    """An open record. Safe to share between threads; close it, or use it as a context manager."""

    def __init__(self, path: Path, *, to_read: bool = False) -> None:
        """Open ``path``, create it where it isn't there, and bring its tables up to date.

        With ``to_read`` a file that lies where nothing can be written is opened all the same.
        """
        self.path = path
        self._lock = threading.RLock()
        if lost := lost_link(path):
            raise RecordError(lost)
        try:
            if not path.exists():
                self._begin()
            self._open(path)
        except (RecordError, sqlite3.Error) as fault:
            if hasattr(self, "_db"):
                self._db.close()
            if isinstance(fault, RecordError):
                raise
            if not to_read or not is_closed_to_writing(fault):
                raise RecordError(in_words(fault, path)) from fault
            self._open_as_it_lies()

    def _begin(self) -> None:
        """Make the file whole before it gets its name: one that is empty or half made was spoilt by something else."""
        made = unfinished_name(self.path)
        try:
            with alone_in(self.path.parent):
                self._open(made)
                self._db.close()
                with suppress(FileExistsError):  # another command was first
                    give_name(made, self.path)
        except OSError as fault:
            raise RecordError(in_words(fault, self.path)) from fault
        finally:
            _take_away(made)

    def _open(self, path: Path) -> None:
        if path.exists() and not path.stat().st_size:  # SQLite would begin anew in it, and drop what lies beside it
            raise RecordError(damaged(path, "it is empty"))
        self._db = self._connect(str(path))
        if cut_short(self._db, path):
            raise RecordError(damaged(path, "it is shorter than it says itself"))
        tables = {row[0] for row in self._db.execute("SELECT name FROM sqlite_master WHERE type = 'table'")}
        if tables and "migrations" not in tables:
            raise RecordError(f"{path} is a database of another program. Nothing was changed; move it away.")
        self._db.execute("PRAGMA journal_mode = WAL")
        self._db.execute("PRAGMA synchronous = FULL")
        self._db.execute("PRAGMA foreign_keys = ON")
        self._migrate()

    def _connect(self, place: str) -> sqlite3.Connection:
        uri = place.startswith("file:")
        return sqlite3.connect(place, timeout=_BUSY_SECONDS, isolation_level=None, check_same_thread=False, uri=uri)

    def _open_as_it_lies(self) -> None:
        """Open for reading only, without the files that SQLite writes beside it."""
        waiting = self.path.with_name(f"{self.path.name}-wal")
        if waiting.exists() and waiting.stat().st_size:
            raise RecordError(
                f"{self.path} can't be read where nothing can be written: its latest entries still lie in "
                f"{waiting.name}. Copy both to a folder that can be written."
            )
        try:
            self._db = self._connect(f"{self.path.absolute().as_uri()}?immutable=1")
            applied = {row[0] for row in self._db.execute("SELECT name FROM migrations")}
        except sqlite3.Error as fault:
            raise RecordError(in_words(fault, self.path)) from fault
        if applied != {name for name, _ in MIGRATIONS}:
            self._db.close()
            raise RecordError(f"{self.path} was written by another version, and can't be brought up to date there.")

    def __enter__(self) -> Self:
        """Return the record itself."""
        return self

    def __exit__(self, *_: object) -> None:
        """Close the file."""
        self.close()

    def close(self) -> None:
        """Close the file; what was confirmed stays."""
        with self._lock:
            self._db.close()

    @contextmanager
    def transaction(self, *, told: bool = True) -> Iterator[None]:
        """Do all of it or none of it; nobody else writes meanwhile. ``told``: it is of the user's, not only tables."""
        with self._access():
            self._db.execute("BEGIN IMMEDIATE")
            before = self._db.total_changes if told else None
            try:
                yield
                self._db.execute("COMMIT")
            except KeyboardInterrupt:
                if not self._roll_back():
                    self._note(before)  # it came while the commit went through, which stays
                raise
            except BaseException:
                self._roll_back()
                raise
            self._note(before)

    def _roll_back(self) -> bool:
        """Take the open transaction back; False where none is open: after some faults SQLite has done so itself."""
        if open_still := self._db.in_transaction:
            self._db.execute("ROLLBACK")
        return open_still

    def _note(self, before: int | None) -> None:
        if before is not None and self._db.total_changes != before:
            note_written(self.path)

    @contextmanager
    def _access(self) -> Iterator[None]:
        """Have the connection for oneself; what SQLite can't do is raised as :class:`RecordError`."""
        with self._lock:
            try:
                yield
            except sqlite3.Error as fault:
                raise RecordError(in_words(fault, self.path)) from fault

    def append(self, events: Iterable[Event], now: datetime | None = None) -> tuple[Event, ...]:
        """Add events in the order given and return them as they stand in the record.

        An event whose id is there already is not added again, and the one in the record is returned.
        Raises :class:`EventConflictError` where that one tells something else; then none is added.
        """
        with self.transaction():
            return self.add(events, now)

    def add(self, events: Iterable[Event], now: datetime | None = None) -> tuple[Event, ...]:
        """Do what :meth:`append` does, inside a transaction that is open already."""
        return tuple(self._add(event, now or datetime.now(UTC)) for event in events)

    def events(self, set_name: str | None = None, *, after: int = 0) -> tuple[Event, ...]:
        """Return events in the order they arrived, of one set or of all, later than ``after``."""
        where = "seq > ?" if set_name is None else "seq > ? AND set_name = ?"
        values: tuple[object, ...] = (after,) if set_name is None else (after, set_name)
        with self._access():
            rows = self._db.execute(f"SELECT * FROM events WHERE {where} ORDER BY seq", values)  # noqa: S608 - constant text
            return tuple(self._read(stored_rows.event, row) for row in rows)

    def _read(self, reader: Callable[[Sequence[Any]], T], stored: Sequence[object]) -> T:
        """Read one stored row; what no record ever wrote is raised as :class:`RecordError`."""
        try:
            return reader(stored)
        except ValueError as fault:
            raise RecordError(damaged(self.path, fault)) from fault

    def last_seq(self, *kinds: EventKind) -> int:
        """Return the number of the latest event, of these kinds where some are named; 0 for none."""
        marks = ", ".join("?" * len(kinds))
        where = f" WHERE kind IN ({marks})" if kinds else ""
        with self._access():
            row = self._db.execute(f"SELECT coalesce(max(seq), 0) FROM events{where}", [str(kind) for kind in kinds])  # noqa: S608 - constant text
            return int(row.fetchone()[0])

    def keep(self, order: Order, groups: Sequence[Group], when: datetime, currency: str = "") -> str:
        """Store an order under a new id and return the id."""
        with self.transaction():
            return self.add_order(order, groups, when, currency)

    def add_order(self, order: Order, groups: Sequence[Group], when: datetime, currency: str = "") -> str:
        """Do what :meth:`keep` does, inside a transaction that is open already."""
        day = when.date().isoformat()
        taken = {row[0] for row in self._db.execute("SELECT id FROM orders WHERE id LIKE ?", (f"{day}-%",))}
        number = next(n for n in range(1, len(taken) + 2) if f"{day}-{n}" not in taken)
        self.insert_order(KeptOrder(f"{day}-{number}", when, order, tuple(groups), currency))
        return f"{day}-{number}"

    def insert_order(self, kept: KeptOrder) -> bool:
        """Add an order under its own id; False where the very same one is there already."""
        text = _canonical(encode(kept))
        row = self._db.execute("SELECT document FROM orders WHERE id = ?", (kept.id,)).fetchone()
        if row is None:
            self._db.execute("INSERT INTO orders VALUES (?, ?, ?)", (kept.id, stamp(kept.kept), text))
        elif row[0] != text:
            raise EventConflictError(f"order {kept.id} is in the record already, with another content")
        return row is None

    def orders(self) -> tuple[KeptOrder, ...]:
        """Return every kept order, oldest first."""
        with self._access():
            rows = self._db.execute("SELECT document FROM orders ORDER BY kept, id").fetchall()
        return tuple(self._read(stored_rows.order, row) for row in rows)

    def order_count(self) -> int:
        """Return how many orders are kept."""
        with self._access():
            return int(self._db.execute("SELECT count(*) FROM orders").fetchone()[0])

    def put_photo(self, photo: Photo) -> None:
        """Store a photo; the same content is stored once."""
        values = (photo.digest, photo.media, photo.width, photo.height, photo.content)
        with self._access():
            self._db.execute("INSERT INTO photos VALUES (?, ?, ?, ?, ?) ON CONFLICT DO NOTHING", values)

    def photo(self, digest: str) -> Photo | None:
        """Return the photo of that digest."""
        with self._access():
            row = self._db.execute("SELECT * FROM photos WHERE digest = ?", (digest,)).fetchone()
        return None if row is None else self._read(stored_rows.photo, row)

    def photos(self) -> tuple[Photo, ...]:
        """Return every photo."""
        with self._access():
            rows = self._db.execute("SELECT * FROM photos ORDER BY digest").fetchall()
        return tuple(self._read(stored_rows.photo, row) for row in rows)

    def backup(self, path: Path) -> None:
        """Copy the whole record, as of now, to a new file, whole or not at all; writers may go on meanwhile.

        Raises FileExistsError where the file is there already, OSError where it can't be written, and
        :class:`RecordError` where the copy isn't sound: so a damaged record never passes for a backup.
        """
        if path.exists():
            raise FileExistsError(path)
        unfinished = unfinished_name(path)
        try:
            copy = sqlite3.connect(unfinished)
            try:
                with self._lock:
                    self._db.backup(copy)
                wrong = _unsound(copy)
            finally:
                copy.close()
            if wrong:
                raise RecordError(f"{self.path} is damaged ({wrong[0]}): no backup was made. Keep those you have.")
            with noting(path, unfinished):
                give_name(unfinished, path)
        except sqlite3.Error as fault:
            raise OSError(f"{fault}, at {path.parent}") from fault
        finally:
            _take_away(unfinished)

    def faults(self) -> tuple[str, ...]:
        """Return what SQLite finds wrong with the file; empty for a sound one."""
        with self._access():
            return _unsound(self._db)

    def _migrate(self) -> None:
        self._db.execute("CREATE TABLE IF NOT EXISTS migrations (name TEXT PRIMARY KEY, applied TEXT NOT NULL) STRICT")
        known = [name for name, _ in MIGRATIONS]
        applied = {row[0] for row in self._db.execute("SELECT name FROM migrations")}
        if applied - set(known):
            raise RecordError(f"{self.path} was written by a newer version of this program; use that one.")
        for name, statements in MIGRATIONS:
            if name not in applied:
                self._apply(name, statements)

    def _apply(self, name: str, statements: Sequence[str]) -> None:
        with self.transaction(told=False):
            # Another process may have been first while this one waited for the lock.
            if self._db.execute("SELECT 1 FROM migrations WHERE name = ?", (name,)).fetchone():
                return
            self._db.execute(f"PRAGMA application_id = {APPLICATION_ID}")
            for statement in statements:
                self._db.execute(statement)
            self._db.execute("INSERT INTO migrations VALUES (?, ?)", (name, stamp(datetime.now(UTC))))

    def _add(self, event: Event, now: datetime) -> Event:
        row = self._db.execute("SELECT * FROM events WHERE id = ?", (event.id,)).fetchone()
        if row is not None:
            there = self._read(stored_rows.event, row)
            if replace(there, seq=None, recorded=None) != replace(event, seq=None, recorded=None):
                raise EventConflictError(f"event {event.id} is in the record already, with another content")
            return there
        recorded = event.recorded or now
        cursor = self._db.execute(
            "INSERT INTO events (id, kind, at, recorded, set_name, board, ref, made_by, data)"
            " VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)",
            (
                event.id,
                event.kind.value,
                stamp(event.at),
                stamp(recorded),
                event.set,
                event.board,
                event.ref,
                event.by,
                _canonical(dict(event.data)),
            ),
        )
        return replace(event, seq=cursor.lastrowid, recorded=recorded)


def open_record(bench_folder: Path) -> Record:
    """Open the record of a bench folder, creating it where there is none."""
    return Record(bench_folder / FILE_NAME)


def read_record(bench_folder: Path) -> tuple[tuple[Event, ...], tuple[KeptOrder, ...]]:
    """Return events and kept orders of a bench folder; both empty, and no file made, where there is no record."""
    if not os.path.lexists(bench_folder / FILE_NAME):
        return (), ()
    with Record(bench_folder / FILE_NAME, to_read=True) as record:
        return record.events(), record.orders()


def _unsound(db: sqlite3.Connection) -> tuple[str, ...]:
    """Return what SQLite finds wrong with a file; some damage keeps it from even looking."""
    try:
        told = [str(row[0]) for row in db.execute("PRAGMA integrity_check")]
    except sqlite3.DatabaseError as fault:
        if not is_damage(fault):  # a full disk, say: nothing is known of the file then
            raise
        return (str(fault),)
    return () if told == ["ok"] else tuple(told)


def _take_away(unfinished: Path) -> None:
    """Remove a database that was not finished, with what SQLite writes beside one."""
    take_away(*(unfinished.with_name(unfinished.name + ending) for ending in ("", "-wal", "-shm", "-journal")))


def _canonical(document: object) -> str:
    return json.dumps(document, ensure_ascii=False, sort_keys=True, separators=(",", ":"))
