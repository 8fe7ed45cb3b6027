"""The record out and in again: one JSON document, or a folder of CSV tables that a spreadsheet opens.

Import adds what is not there yet; what is there already is left alone, and where one id tells two
different things nothing at all is imported. Export and import together lose nothing.
"""

from __future__ import annotations

import base64
import csv
import hashlib
import io
import json
import re
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, NoReturn

from recap.audit.codec import DocumentError, decode, encode
from recap.audit.events import HALF_A_CHARACTER, EventError, document_of_event, event_from_document, whole_letters
from recap.audit.kept import KeptOrder
from recap.audit.sound import checked
from recap.audit.stored_rows import Photo
from recap.files import write_atomically
from recap.read.sniff import check_regular

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence
    from pathlib import Path

    from recap.audit.events import Event
    from recap.audit.record import Record

FORMAT = "recap-record"
VERSION = 1
EVENTS, ORDERS, PHOTOS = "events.csv", "orders.csv", "photos"
_EVENT_COLUMNS = ("id", "kind", "at", "recorded", "set", "board", "ref", "by", "data")
_ORDER_COLUMNS = ("id", "kept", "document")
_MONTH = "(?:jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)"
_GUARDED = re.compile(
    rf"[=+\-@\t\r']|[\d.,:/\-+e% ]+$|(?:true|false)$|{_MONTH}[a-z]*[-. ]?\d{{1,4}}$|\d{{1,2}}[-. ]?{_MONTH}[a-z]*$",
    re.IGNORECASE,
)
"""What a spreadsheet takes for a formula, a number, a date or a truth value: a set ``007`` comes back as 7.

Such text gets an apostrophe, which is taken off again (months from memory).
"""
_DELIMITERS = ",;\t"
"""A spreadsheet saves with the one of its language."""
_LONGEST_CELL = 50_000_000
"""An order's document lies in one cell."""


class TransferError(ValueError):
    """What is to be imported isn't an export of a record; the text says where."""


@dataclass(frozen=True, slots=True)
class Contents:
    """All that a record holds."""

    events: tuple[Event, ...]
    orders: tuple[KeptOrder, ...]
    photos: tuple[Photo, ...]


@dataclass(frozen=True, slots=True)
class Added:
    """How much of an import was new."""

    events: int
    orders: int
    photos: int


def contents(record: Record) -> Contents:
    """Return everything in the record."""
    return Contents(record.events(), record.orders(), record.photos())


def json_text(held: Contents) -> str:
    """Return the record as one JSON document."""
    document = {
        "format": FORMAT,
        "version": VERSION,
        "events": [document_of_event(event) for event in held.events],
        "orders": [encode(kept) for kept in held.orders],
        "photos": [
            {
                "digest": photo.digest,
                "media": photo.media,
                "width": photo.width,
                "height": photo.height,
                "content": base64.b64encode(photo.content).decode(),
            }
            for photo in held.photos
        ],
    }
    return json.dumps(document, ensure_ascii=False, indent=1) + "\n"


def write_csv(held: Contents, folder: Path) -> tuple[Path, ...]:
    """Write ``events.csv``, ``orders.csv`` and the photos into a folder, which is made; return the files."""
    (folder / PHOTOS).mkdir(parents=True, exist_ok=True)
    events = [
        {**document_of_event(event), "data": json.dumps(dict(event.data), ensure_ascii=False)} for event in held.events
    ]
    orders = [
        {"id": kept.id, "kept": kept.kept.isoformat(), "document": json.dumps(encode(kept), ensure_ascii=False)}
        for kept in held.orders
    ]
    files: dict[Path, bytes] = {
        folder / PHOTOS / f"{photo.digest}.{photo.width}x{photo.height}.jpg": photo.content for photo in held.photos
    }
    files[folder / ORDERS] = _csv(_ORDER_COLUMNS, orders).encode("utf-8-sig")
    files[folder / EVENTS] = _csv(_EVENT_COLUMNS, events).encode("utf-8-sig")  # the last: without it no export is read
    for path, data in files.items():
        write_atomically(path, data)
    return tuple(files)


def read_export(path: Path) -> Contents:
    """Return what a JSON export or a folder of CSV tables holds; raise :class:`TransferError` where it is neither."""
    try:
        return _from_folder(path) if path.is_dir() else _from_json(_plain(path).read_text(encoding="utf-8-sig"))
    except (EventError, DocumentError, KeyError, TypeError, ValueError, RecursionError) as fault:
        raise fault if isinstance(fault, TransferError) else TransferError(f"{path}: {fault}") from fault


def _plain(path: Path) -> Path:
    """Return a file's path; what isn't one on disk, a pipe or a device, would be waited for without end."""
    if fault := check_regular(path):
        raise TransferError(fault.message)
    return path


def bring_in(held: Contents, record: Record) -> Added:
    """Add what is new, all of it or nothing. Raises EventConflictError where an id tells two things."""
    with record.transaction():
        before = record.last_seq()
        orders = sum(record.insert_order(kept) for kept in held.orders)
        known = {photo.digest for photo in record.photos()}
        for photo in held.photos:
            record.put_photo(photo)
        record.add(held.events)
        return Added(record.last_seq() - before, orders, len({photo.digest for photo in held.photos} - known))


def _json(text: str | None) -> Any:  # noqa: ANN401 - JSON is any
    """Read JSON as its standard has it (RFC 8259): NaN and Infinity are none."""
    document = json.loads(text or "{}", parse_constant=_refuse)
    if not whole_letters(document):
        raise ValueError(HALF_A_CHARACTER)
    return document


def _refuse(word: str) -> NoReturn:
    raise ValueError(f"{word} is no number")


def _from_json(text: str) -> Contents:
    document = _json(text)
    if not isinstance(document, dict) or document.get("format") != FORMAT:
        raise TransferError("not an export of a record")
    if document.get("version") != VERSION:
        raise TransferError(f"exported by another version: {document.get('version')!r}")
    if not all(isinstance(document.get(name), list) for name in ("events", "orders", "photos")):
        raise TransferError("not a whole export: events, orders or photos are no list")
    photos = [
        _photo(base64.b64decode(p["content"], validate=True), int(p["width"]), int(p["height"]), str(p["digest"]))
        for p in document["photos"]
    ]
    return Contents(
        tuple(checked(event_from_document(event)) for event in document["events"]),
        tuple(decode(KeptOrder, kept) for kept in document["orders"]),
        tuple(photos),
    )


def _from_folder(folder: Path) -> Contents:
    for name in (EVENTS, ORDERS):
        if not (folder / name).exists():
            raise TransferError(f"{folder} has no {name}: it isn't a whole export")
    events = [
        checked(event_from_document({**row, "data": _json(row["data"])}))
        for row in _rows(folder / EVENTS, _EVENT_COLUMNS)
    ]
    orders = [decode(KeptOrder, _json(row["document"])) for row in _rows(folder / ORDERS, _ORDER_COLUMNS)]
    photos = []
    for path in sorted((folder / PHOTOS).glob("*.jpg")):
        digest, size, _ = path.name.split(".")
        width, height = size.split("x")
        photos.append(_photo(_plain(path).read_bytes(), int(width), int(height), digest))
    return Contents(tuple(events), tuple(orders), tuple(photos))


def _photo(content: bytes, width: int, height: int, digest: str) -> Photo:
    if hashlib.sha256(content).hexdigest() != digest:
        raise TransferError(f"photo {digest[:12]} is not what was exported")
    return Photo(digest, "image/jpeg", width, height, content)


def _csv(columns: Sequence[str], rows: Sequence[Mapping[str, Any]]) -> str:
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\r\n", quoting=csv.QUOTE_ALL)
    writer.writerow(columns)
    for row in rows:
        writer.writerow([_guard(row[name]) for name in columns])
    return out.getvalue()


def _rows(path: Path, columns: Sequence[str]) -> list[dict[str, str | None]]:
    """Return the rows of a table that has these columns, in any order, with one of the usual delimiters."""
    usual = csv.field_size_limit(_LONGEST_CELL)
    try:
        text = _plain(path).read_bytes().decode("utf-8-sig")
        read = csv.reader(io.StringIO(text, newline=""), delimiter=_delimiter(text), strict=True)
        names = next(read, [])
        if sorted(names) != sorted(columns):
            raise TransferError(f"{path}: its first row must name the columns {', '.join(columns)}")
        rows = []
        for cells in read:
            if len(cells) not in {0, len(names)}:
                raise TransferError(f"{path}, row {read.line_num}: {len(cells)} cells under {len(names)} columns")
            if any(cells):
                rows.append({name: _unguard(cell) for name, cell in zip(names, cells, strict=True)})
    except UnicodeDecodeError as fault:
        raise TransferError(f"{path} is not UTF-8: letters may be lost; save it again as UTF-8") from fault
    except csv.Error as fault:
        raise TransferError(f"{path}: {fault}") from fault
    finally:
        csv.field_size_limit(usual)
    return rows


def _delimiter(text: str) -> str:
    head = text[: text.find("\n")]
    return max(_DELIMITERS, key=head.count)


def _guard(text: str | None) -> str:
    """Write a text as a cell: nothing for None, an apostrophe before what isn't safe as it is."""
    if text is None:
        return ""
    return f"'{text}" if not text or _GUARDED.match(text) else text


def _unguard(cell: str) -> str | None:
    return cell[1:] if cell.startswith("'") else cell or None
