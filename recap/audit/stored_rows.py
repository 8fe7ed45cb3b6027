"""One row of ``record.db`` to what it tells. A row that no record wrote raises ValueError."""

from __future__ import annotations

import json
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from recap.audit.codec import decode
from recap.audit.events import Event, EventKind, moment
from recap.audit.kept import KeptOrder

if TYPE_CHECKING:
    from collections.abc import Sequence
    from types import UnionType


@dataclass(frozen=True, slots=True)
class Photo:
    """A photo of a board, already checked and re-encoded; ``digest`` is the SHA-256 of ``content``."""

    digest: str
    media: str
    width: int
    height: int
    content: bytes


def order(row: Sequence[Any]) -> KeptOrder:
    """Return the order of a row of one cell, its document."""
    (document,) = _as_written(row, str)
    return decode(KeptOrder, json.loads(document))


def photo(row: Sequence[Any]) -> Photo:
    """Return the photo of a row of ``photos``."""
    return Photo(*_as_written(row, str, str, int, int, bytes))


def event(row: Sequence[Any]) -> Event:
    """Return the event of a row of ``events``."""
    text, perhaps = str, str | None
    cells = _as_written(row, int, text, text, text, text, perhaps, perhaps, perhaps, perhaps, text)
    seq, identity, kind, at, recorded, set_name, board, ref, made_by, data = cells
    return Event(
        id=identity,
        kind=EventKind(kind),
        at=moment(at),
        set=set_name,
        board=board,
        ref=ref,
        by=made_by,
        data=json.loads(data),
        seq=seq,
        recorded=moment(recorded),
    )


def _as_written(row: Sequence[Any], *kinds: type | UnionType) -> Sequence[Any]:
    """Return a row whose cells are of the kinds that its table takes; out of a damaged file SQLite hands others."""
    for cell, kind in zip(row, kinds, strict=True):
        if not isinstance(cell, kind):
            message = f"one of its rows has {str(cell)[:40]!r} where no record has"
            raise ValueError(message)  # noqa: TRY004 - the file's fault, not the caller's
    return row
