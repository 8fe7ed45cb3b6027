"""What must never be lost, changed or half-written, whatever happens to the tool."""

from __future__ import annotations

import csv
import io
import json
import re
import shutil
import sqlite3
import tempfile
import zipfile
from contextlib import closing
from dataclasses import dataclass, field
from itertools import pairwise
from pathlib import Path
from typing import TYPE_CHECKING, Any

from tests.whole.faults import INTERRUPTED

if TYPE_CHECKING:
    from collections.abc import Iterable

    from tests.whole.faults import Outcome

MADE = ("record", "out", ".recap-cache")
"""What the tool itself writes in a bench folder; all else is the user's."""
REPLACED = re.compile(r"caplists/found\.\w+|catalogs/\w+\.csv")
"""What a command may replace where it is told to, and then keeps under another name."""
GROWS = "sets.csv"
"""To this a command may add rows where it is told to; what was there stays in front of them."""
TELLS_ITSELF = {"record-unusable"}
"""Codes whose messages say what to do in their own words."""
ALLOWED = (0, 1, 2, 3)

Files = dict[str, bytes]
"""Contents of files by their paths from the bench folder."""


def users_files(bench: Path) -> Files:
    """Every file of the user's; what was left unfinished is none."""
    return {
        path.relative_to(bench).as_posix(): path.read_bytes()
        for path in sorted(bench.rglob("*"))
        if path.is_file() and not path.relative_to(bench).parts[0].startswith(MADE) and not _hidden(path, bench)
    }


def papers(bench: Path) -> Files:
    """Every finished file that commands were told to write."""
    found = sorted((bench / "out").rglob("*"))
    finished = [path for path in found if path.is_file() and not _hidden(path, bench)]
    return {path.relative_to(bench).as_posix(): path.read_bytes() for path in finished}


def _hidden(path: Path, bench: Path) -> bool:
    return any(part.startswith(".") for part in path.relative_to(bench).parts)


def files_lost(before: Files, now: Files) -> list[str]:
    """Files of the user's that are gone or changed, unless they grew, or were replaced and lie under another name."""
    return [
        f"{name} lost or changed"
        for name, old in before.items()
        if now.get(name) != old
        and not (REPLACED.fullmatch(name) and old in now.values())
        and not (name == GROWS and now.get(name, b"").startswith(old))
    ]


def papers_lost(before: Files, now: Files, bench: Path, told: Iterable[tuple[str, ...]]) -> list[str]:
    """Files written earlier that are gone or changed, though no command named them and said that it may."""
    forced = [word for words in told if "--force" in words for word in pairwise(words)]
    may = [Path(word) for option, word in forced if option in {"--out", "--plot"}]
    return [
        f"{name}, written earlier, lost or changed"
        for name, old in before.items()
        if now.get(name) != old and not any((bench / name).is_relative_to(named) for named in may)
    ]


def shops(bench: Path) -> list[Path]:
    """The price lists of a bench."""
    return sorted(path for path in (bench / "catalogs").glob("[!.]*.csv") if path.name != "suppliers.csv")


def price_rows(shop: Path) -> tuple[list[str], list[dict[str, str]]]:
    """Columns and rows of a price list, read apart from the project's own reader."""
    reader = csv.DictReader(io.StringIO(shop.read_text(encoding="utf-8-sig"), newline=""))
    rows = list(reader)
    return list(reader.fieldnames or ()), rows


def unfinished(folder: Path) -> set[Path]:
    """Temporary files and folders that nobody will finish."""
    found = {path for path in folder.rglob(".*") if path.name not in {".recap-cache", ".gitignore"}}
    return {path for path in found if not any(parent in found for parent in path.parents)}


def clear(path: Path) -> None:
    """Take away a file or a folder."""
    shutil.rmtree(path) if path.is_dir() else path.unlink()


@dataclass
class Remembered:
    """Everything that the record once held: it is only added to."""

    events: dict[str, tuple[object, ...]] = field(default_factory=dict)
    orders: dict[str, str] = field(default_factory=dict)
    photos: dict[str, bytes] = field(default_factory=dict)


def look_into(path: Path) -> Remembered:
    """Read a record with plain SQL, apart from the project's own reader; empty where there is none.

    A copy is read: what a process that died left beside the record is for the next command to cope with.
    """
    if not path.exists():
        return Remembered()
    with tempfile.TemporaryDirectory() as folder:
        for name in (path.name, f"{path.name}-wal"):
            if (beside := path.with_name(name)).exists():
                shutil.copyfile(beside, Path(folder) / name)
        return _read_record(Path(folder) / path.name)


def _read_record(path: Path) -> Remembered:
    with closing(sqlite3.connect(path)) as db:
        (sound,) = db.execute("PRAGMA integrity_check").fetchone()
        assert sound == "ok", sound
        tables = {row[0] for row in db.execute("SELECT name FROM sqlite_schema WHERE type = 'table'")}
        if not {"events", "orders", "photos"} <= tables:
            return Remembered()
        rows = db.execute("SELECT id, kind, at, recorded, set_name, board, ref, made_by, data, seq FROM events")
        events = {row[0]: tuple(row[1:]) for row in rows}
        orders = dict(db.execute("SELECT id, document FROM orders"))
        photos = dict(db.execute("SELECT digest, content FROM photos"))
    return Remembered(events, orders, photos)


def nothing_lost(before: Remembered, now: Remembered) -> list[str]:
    """What the record held and doesn't hold, or holds otherwise."""
    lost = [f"event {key} lost or changed" for key, row in before.events.items() if now.events.get(key) != row]
    lost += [f"order {key} lost or changed" for key, text in before.orders.items() if now.orders.get(key) != text]
    return lost + [f"photo {key} lost or changed" for key, it in before.photos.items() if now.photos.get(key) != it]


def not_kept(done: Outcome, now: Remembered, bench: Path) -> list[str]:
    """What a command said it had stored, and isn't there."""
    said = re.findall(r"kept in the record as order ([\d-]+)", done.err)
    lost = [name for name in said if name not in now.orders]
    if done.status != 0:
        pass
    elif done.words[0] == "import" and "Stored as" in done.err:
        mark = re.findall(r"C9\d{3,}", " ".join(done.words))[-1]
        chassis = done.words[done.words.index("--chassis") + 1]
        stored = [path.read_text(encoding="utf-8-sig") for path in (bench / "caplists").glob(f"{chassis}.*")]
        lost += [mark] if not any(mark in text for text in stored) else []
        if "--sets" in done.words:
            name = done.words[done.words.index("--sets") + 1]
            lost += [name] if f"\n{name},{chassis}," not in (bench / GROWS).read_text(encoding="utf-8") else []
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
        if path.is_file() and not _hidden(path, folder) and about not in whole:
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
        list(csv.reader(io.StringIO(content.decode("cp1252", "replace"), newline=""), strict=True))
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
    if "--json" in done.words and done.status not in {None, INTERRUPTED} and done.listened:
        try:
            wrong += _helpless_document(json.loads(done.out))
        except ValueError:
            wrong.append("not one JSON document")
    elif done.status in {1, 2} and done.listened:
        wrong += _helpless(done.err)
    return [f"{text}: {done}" for text in wrong]


def _helpless(said: str) -> list[str]:
    """Errors in words that don't say what to do."""
    told = re.findall(r": error: .* \[([\w-]+)\]\n(?: {4}\| .*\n)?( {4}hint: .*\S)?", said)
    if not told and not re.search(r"^Usage: |can't write its answer|do it again|^ *hint: ", said, re.MULTILINE):
        return ["ended without a word on what to do"]
    return [f"no hint with {code}" for code, hint in told if not hint and code not in TELLS_ITSELF]


def _helpless_document(document: Any) -> list[str]:
    told = document.get("diagnostics", ()) if isinstance(document, dict) else ()
    return [
        f"no hint with {one['code']}"
        for one in told
        if one["severity"] == "error" and not one["hint"] and one["code"] not in TELLS_ITSELF
    ]


def changed(before: Files, now: Files) -> list[str]:
    """Files that are new or have another content, but for copies of what was there before."""
    copies = before.values()
    return [name for name, content in now.items() if before.get(name) != content and content not in copies]


def unsaid(done: Outcome, changed: Iterable[str]) -> list[str]:
    """What a command that didn't come to its end had changed before, and doesn't tell: the user would do it again."""
    if done.status in {None, 0, 3}:  # killed, or all was answered
        return []
    said = " ".join((done.err + done.out).split())
    silent = [name for name in changed if not any(part in said for part in _names(Path(name)))]
    return [f"changed {name} and didn't say so: {done}" for name in silent]


def _names(path: Path) -> list[str]:
    """By what a file may be named: itself, or a folder that it is in, but for those that were there before."""
    return [path.name, *(str(folder) for folder in path.parents if folder.name not in {"", "out"})]
