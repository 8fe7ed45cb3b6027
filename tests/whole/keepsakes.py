"""What must never be lost, changed or half-written, whatever happens to the tool."""

from __future__ import annotations

import csv
import hashlib
import io
import json
import re
import sqlite3
import zipfile
from contextlib import closing
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Mapping

    from tests.whole.faults import Outcome

MADE = ("record", "out", ".recap-cache")
"""What the tool itself writes in a bench folder; all else is the user's."""
REPLACED = re.compile(r"caplists/found\.\w+|catalogs/\w+\.csv")
"""What a command may replace where it is told to, and then keeps under another name."""
ALLOWED = (0, 1, 2, 3)
INTERRUPTED = 130


def digest(content: bytes) -> str:
    """By which a content is known again."""
    return hashlib.sha256(content).hexdigest()


def users_files(bench: Path) -> dict[str, str]:
    """Digest of every file of the user's, by its path from the bench folder."""
    return {
        path.relative_to(bench).as_posix(): digest(path.read_bytes())
        for path in sorted(bench.rglob("*"))
        if path.is_file() and not path.relative_to(bench).parts[0].startswith(MADE) and not path.name.endswith(".part")
    }


def files_lost(before: Mapping[str, str], now: Mapping[str, str]) -> list[str]:
    """Files of the user's that are gone or changed, unless they were replaced and lie under another name."""
    return [
        f"{name} lost or changed"
        for name, digest in before.items()
        if now.get(name) != digest and not (REPLACED.fullmatch(name) and digest in now.values())
    ]


def shops(bench: Path) -> list[Path]:
    """The price lists of a bench."""
    return sorted(path for path in (bench / "catalogs").glob("[!.]*.csv") if path.name != "suppliers.csv")


def price_rows(shop: Path) -> tuple[list[str], list[dict[str, str]]]:
    """Columns and rows of a price list, read apart from the project's own reader."""
    reader = csv.DictReader(io.StringIO(shop.read_text(encoding="utf-8-sig"), newline=""))
    rows = list(reader)
    return list(reader.fieldnames or ()), rows


def unfinished(folder: Path) -> list[Path]:
    """Temporary files that nobody will finish."""
    return [*folder.rglob(".*.part"), *folder.rglob(".*.trial.csv")]


@dataclass
class Remembered:
    """Everything that the record once held: it is only added to."""

    events: dict[str, tuple[object, ...]] = field(default_factory=dict)
    orders: dict[str, str] = field(default_factory=dict)


def look_into(path: Path) -> Remembered:
    """Read a record with plain SQL, apart from the project's own reader; empty where there is none."""
    if not path.exists():
        return Remembered()
    with closing(sqlite3.connect(path, timeout=20)) as db:
        (sound,) = db.execute("PRAGMA integrity_check").fetchone()
        assert sound == "ok", sound
        tables = {row[0] for row in db.execute("SELECT name FROM sqlite_schema WHERE type = 'table'")}
        if not {"events", "orders"} <= tables:
            return Remembered()
        rows = db.execute("SELECT id, kind, at, recorded, set_name, board, ref, made_by, data, seq FROM events")
        events = {row[0]: tuple(row[1:]) for row in rows}
        orders = dict(db.execute("SELECT id, document FROM orders"))
    return Remembered(events, orders)


def nothing_lost(before: Remembered, now: Remembered) -> list[str]:
    """What the record held and doesn't hold, or holds otherwise."""
    lost = [f"event {key} lost or changed" for key, row in before.events.items() if now.events.get(key) != row]
    return lost + [f"order {key} lost or changed" for key, text in before.orders.items() if now.orders.get(key) != text]


def not_kept(done: Outcome, now: Remembered, bench: Path) -> list[str]:
    """What a command said it had stored, and isn't there."""
    said = re.findall(r"kept in the record as order ([\d-]+)", done.err)
    lost = [name for name in said if name not in now.orders]
    if done.status != 0:
        pass
    elif done.words[0] == "import" and "Stored as" in done.err:
        mark = re.findall(r"C9\d{3,}", Path(done.words[1]).read_text(encoding="utf-8"))[-1]
        stored = [path.read_text(encoding="utf-8-sig") for path in (bench / "caplists").glob("found.*")]
        lost += [mark] if not any(mark in text for text in stored) else []
    elif "--merge" in done.words and (done.out.strip().startswith("{") or "Written: " in done.err):
        lost += _not_merged(done, bench)
    return [f"said and not kept: {name} {done}" for name in lost]


def _not_merged(done: Outcome, bench: Path) -> list[str]:
    if "--json" in done.words and json.loads(done.out)["file"] is None:
        return []
    _, new = price_rows(Path(done.words[done.words.index("--merge") + 1]))
    _, there = price_rows(bench / "catalogs" / f"{done.words[2]}.csv")
    return sorted({row["part"] for row in new} - {row["part"] for row in there})


def backup_lacks(done: Outcome, before: Remembered) -> list[str]:
    """What the record held before a backup was begun, and the backup doesn't hold."""
    if done.words[:2] != ("record", "backup") or done.status != 0:
        return []
    return [f"backup: {text} {done}" for text in nothing_lost(before, look_into(Path(done.words[-1])))]


def half_written(folder: Path, whole: set[tuple[str, int, int]]) -> list[str]:
    """Files below a folder that don't read as what their ending says; those found ``whole`` are read once."""
    wrong = []
    for path in sorted(folder.rglob("*")) if folder.exists() else []:
        about = str(path), path.stat().st_mtime_ns, path.stat().st_ino
        if path.is_file() and not path.name.startswith(".") and about not in whole:
            try:
                _read(path)
                whole.add(about)
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
        with closing(sqlite3.connect(path)) as db:
            assert db.execute("PRAGMA integrity_check").fetchone() == ("ok",)
    elif path.suffix == ".svg":
        assert content.rstrip().endswith(b"</svg>")
    elif path.suffix == ".png":
        assert content.endswith(b"IEND\xaeB`\x82")


def unclear(done: Outcome, allowed: tuple[int, ...] = ALLOWED) -> list[str]:
    """What is wrong with how a command ended and what it said."""
    wrong = []
    if "Traceback" in done.err + done.out:
        wrong.append("a traceback")
    if done.status is not None and done.status not in {*allowed, *([INTERRUPTED] if done.interrupted else [])}:
        wrong.append(f"status {done.status}, not one of {allowed}")
    if done.status in {1, 2} and not (done.err.strip() or done.out.strip()):
        wrong.append("ended without a word")
    if "--json" in done.words and done.status not in {None, INTERRUPTED}:
        try:
            json.loads(done.out)
        except ValueError:
            wrong.append("not one JSON document")
    return [f"{text}: {done}" for text in wrong]
