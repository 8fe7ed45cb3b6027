"""What must never be lost, changed or half-written, whatever happens to the tool."""

from __future__ import annotations

import csv
import hashlib
import io
import json
import sqlite3
import zipfile
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from pathlib import Path

    from tests.whole.faults import Outcome

MADE = ("record", "out", ".recap-cache")
"""What the tool itself writes in a bench folder; all else is the user's."""


def users_files(bench: Path) -> dict[str, str]:
    """Digest of every file of the user's, by its path from the bench folder."""
    return {
        str(path.relative_to(bench)): hashlib.sha256(path.read_bytes()).hexdigest()
        for path in sorted(bench.rglob("*"))
        if path.is_file() and not path.relative_to(bench).parts[0].startswith(MADE) and not path.name.endswith(".part")
    }


def unfinished(folder: Path) -> list[str]:
    """Temporary files that nobody will finish."""
    return [str(path) for path in folder.rglob(".*.part")]


@dataclass
class Remembered:
    """Everything that the record once held: it is only added to."""

    events: dict[str, tuple[object, ...]] = field(default_factory=dict)
    orders: dict[str, str] = field(default_factory=dict)


def look_into(bench: Path) -> Remembered:
    """Read the record with plain SQL, apart from the project's own reader; empty where there is none."""
    path = bench / "record.db"
    if not path.exists():
        return Remembered()
    with sqlite3.connect(path, timeout=20) as db:
        (sound,) = db.execute("PRAGMA integrity_check").fetchone()
        assert sound == "ok", sound
        tables = {row[0] for row in db.execute("SELECT name FROM sqlite_schema WHERE type = 'table'")}
        if not {"events", "orders"} <= tables:
            return Remembered()
        rows = db.execute("SELECT id, kind, at, recorded, set_name, board, ref, made_by, data, seq FROM events")
        events = {row[0]: tuple(row[1:]) for row in rows}
        orders = dict(db.execute("SELECT id, document FROM orders"))
    db.close()
    return Remembered(events, orders)


def nothing_lost(before: Remembered, now: Remembered) -> list[str]:
    """What the record held and doesn't hold, or holds otherwise."""
    lost = [f"event {key} lost or changed" for key, row in before.events.items() if now.events.get(key) != row]
    return lost + [f"order {key} lost or changed" for key, text in before.orders.items() if now.orders.get(key) != text]


def half_written(folder: Path) -> list[str]:
    """Files below a folder that don't read as what their ending says."""
    wrong = []
    for path in sorted(folder.rglob("*")) if folder.exists() else []:
        if path.is_file() and not path.name.startswith("."):
            try:
                _read(path)
            except (ValueError, zipfile.BadZipFile, csv.Error, AssertionError, OSError) as fault:
                wrong.append(f"{path}: {type(fault).__name__} {fault}")
    return wrong


def _read(path: Path) -> None:
    content = path.read_bytes()
    assert content, "empty"
    if path.suffix == ".xlsx":
        with zipfile.ZipFile(io.BytesIO(content)) as packed:
            assert packed.testzip() is None
    elif path.suffix == ".pdf":
        assert content.startswith(b"%PDF")
        assert content.rstrip().endswith(b"%%EOF")
    elif path.suffix == ".html":
        assert content.rstrip().endswith(b"</html>")
    elif path.suffix == ".json":
        json.loads(content)
    elif path.suffix == ".csv":
        list(csv.reader(io.StringIO(content.decode("utf-8-sig"), newline=""), strict=True))
        assert content.endswith(b"\n"), "cut short"
    elif path.suffix == ".db":
        with sqlite3.connect(path) as db:
            assert db.execute("PRAGMA integrity_check").fetchone() == ("ok",)
        db.close()


def unclear(done: Outcome, allowed: tuple[int, ...]) -> list[str]:
    """What is wrong with how a command ended and what it said."""
    wrong = []
    if "Traceback" in done.err + done.out or "─ Traceback" in done.err:
        wrong.append("a traceback")
    if done.status is not None and done.status not in allowed:
        wrong.append(f"status {done.status}, not one of {allowed}")
    if done.status in {1, 2} and not (done.err.strip() or done.out.strip()):
        wrong.append("ended without a word")
    if "--json" in done.words and done.out.strip() and done.status is not None:
        try:
            json.loads(done.out)
        except ValueError:
            wrong.append("not one JSON document")
    return [f"{text}: {done}" for text in wrong]
