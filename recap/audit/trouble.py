"""What SQLite's errors mean to the person at the bench, and what to do about each."""

from __future__ import annotations

import errno
import os
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import sqlite3
    from pathlib import Path

_DAMAGED = (
    "can't be opened as a record: it is damaged, or no record at all. Nothing was changed; put a backup in its place, "
    "or move the file away to begin a new record."
)
_DISK = (
    "can't be used now: the disk is full, or it fails. Nothing was changed; make room and do it again. The file itself "
    "was not found damaged."
)
_CLOSED = (
    "can't be written: see who may write in its folder, and whether the disk is mounted read-only. Nothing was changed."
)
_BUSY = "is kept busy by another program. Nothing was changed; wait for it or end it, then do it again."

_MEANINGS = (
    (("SQLITE_NOTADB", "SQLITE_CORRUPT"), _DAMAGED),
    (("SQLITE_FULL", "SQLITE_IOERR", "SQLITE_NOMEM"), _DISK),
    (("SQLITE_CANTOPEN", "SQLITE_READONLY", "SQLITE_PERM", "SQLITE_AUTH"), _CLOSED),
    (("SQLITE_BUSY", "SQLITE_LOCKED"), _BUSY),
)
"""Beginnings of SQLite's names for its result codes (sqlite.org/rescode.html), and what to say."""


def in_words(fault: sqlite3.Error | OSError, path: Path) -> str:
    """Return what happened to the file at ``path`` and what to do, with the system's own words behind it."""
    if isinstance(fault, OSError):
        meaning = _CLOSED if fault.errno in {errno.EACCES, errno.EPERM, errno.EROFS, errno.ENOENT} else _DISK
        return f"{path} {meaning} ({fault.strerror})"
    name = getattr(fault, "sqlite_errorname", None) or ""
    meaning = next((text for beginnings, text in _MEANINGS if name.startswith(beginnings)), _DAMAGED)
    return f"{path} {meaning} ({fault})"


def damaged(path: Path, found: object) -> str:
    """Return that the file at ``path`` holds what no record holds, and what to do, with what was found behind it."""
    return f"{path} {_DAMAGED} ({found})"


def lost_link(path: Path) -> str | None:
    """Return what to say where the file is a link to one that isn't there now: its disk is off, not the record new."""
    if not path.is_symlink() or path.exists():
        return None
    where = os.readlink(path)  # noqa: PTH115 - a link in a circle, too
    return f"{path} is a link to {where}, where there is no file now: see that its disk is there. Nothing was changed."


def cut_short(db: sqlite3.Connection, path: Path) -> bool:
    """Tell whether the file is shorter than it says itself; SQLite reads nothing but zeros behind its end.

    While pages still lie in the file beside it, it may be: then this tells nothing.
    """
    pages, size = (int(db.execute(f"PRAGMA {name}").fetchone()[0]) for name in ("page_count", "page_size"))
    waiting = path.with_name(f"{path.name}-wal")
    if waiting.exists() and waiting.stat().st_size:
        return False
    return path.exists() and path.stat().st_size < pages * size


def is_damage(fault: sqlite3.Error) -> bool:
    """Tell whether it says that the file itself is no sound database."""
    return (getattr(fault, "sqlite_errorname", None) or "").startswith(_MEANINGS[0][0])


def is_closed_to_writing(fault: sqlite3.Error) -> bool:
    """Tell whether it could be opened if nothing had to be written: a read-only folder, a full disk."""
    name = getattr(fault, "sqlite_errorname", None) or ""
    return name.startswith(("SQLITE_CANTOPEN", "SQLITE_READONLY", "SQLITE_PERM", "SQLITE_FULL", "SQLITE_IOERR"))
