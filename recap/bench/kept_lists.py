"""Longer cap lists kept as read, beside the bench: the reader knows many manners of writing, and takes its time.

An entry is found only by the digest of the file's whole content, its place, and the code that read it (see
:mod:`recap.bench.keeping`), so nothing stale can come out. Lists with errors are not kept.
"""

from __future__ import annotations

import contextlib
import json
from dataclasses import fields
from decimal import Decimal
from typing import TYPE_CHECKING, Any

from recap.bench.keeping import digest_of, entry_of, flat, store, unflat
from recap.diagnostics import Diagnostic, Source, has_errors
from recap.model import Kind, Mount, Position, Role

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

WORTH_KEEPING = 2048
"""Bytes; shorter lists are read in no time."""
ENDING = ".json"

NAMES = tuple(field.name for field in fields(Position))

MADE: dict[str, Callable[[Any], Any]] = {
    **dict.fromkeys(
        ("value_uF", "volts", "pitch_mm", "diameter_mm", "height_mm", "operating_V", "ripple_mA"), Decimal
    ),
    "mount": Mount,
    "kind": Kind,
    "role": Role,
    "doubts": tuple,
    "source": lambda place: Source(*place),
}
"""What makes a field's value again from how it was written down; other fields are texts and counts."""

Read = tuple[tuple[Position, ...], list[Diagnostic]]


def read_once(folder: Path, path: Path, read: Callable[[Path], Read]) -> Read:
    """Return what ``read`` says of the list in ``path``, or has said of the same content before."""
    before = _digest(path)
    if before is None:
        return read(path)
    found = _kept(entry_of(folder, path, before, ENDING), before)
    if found is not None:
        return found
    positions, told = read(path)
    if not has_errors(told) and _digest(path) == before:  # it may have been written meanwhile
        _keep(folder, path, before, (positions, told))
    return positions, told


def _digest(path: Path) -> str | None:
    """Return by what a list as read is found again; None where it isn't worth keeping or can't be read."""
    try:
        content = path.read_bytes() if path.is_file() else b""
    except OSError:
        return None
    name = str(path).encode("utf-8", "surrogatepass")
    return digest_of(name + b"\0" + content) if len(content) >= WORTH_KEEPING else None


def _kept(entry: Path, digest: str) -> Read | None:
    try:
        of, positions, told = json.loads(entry.read_text(encoding="utf-8"))
        if of != digest:
            return None
        return tuple(_position(written) for written in positions), [unflat(one, "", "") for one in told]
    except (OSError, ValueError, TypeError, ArithmeticError):
        return None


def _keep(folder: Path, path: Path, digest: str, read: Read) -> None:
    positions, told = read
    with contextlib.suppress(OSError, ValueError):
        written = json.dumps([digest, [_written(one) for one in positions], [flat(one) for one in told]])
        store(folder, path, digest, ENDING, lambda target: target.write_text(written, encoding="utf-8"))


def _written(position: Position) -> list[Any]:
    values = (getattr(position, name) for name in NAMES)
    return [_plain(value) for value in values]


def _plain(value: object) -> object:
    if isinstance(value, Decimal):
        return str(value)
    if isinstance(value, Source):
        return [value.file, value.sheet, value.row, value.column]
    return value


def _position(written: list[Any]) -> Position:
    given = zip(NAMES, written, strict=True)
    return Position(**{n: v if v is None or n not in MADE else MADE[n](v) for n, v in given})
