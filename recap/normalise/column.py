"""One column of a capacitor list: what it holds, in which unit, and whose part it speaks of."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Column:
    """One column: its field, the unit its header names, and whose it is (original, replacement or neither)."""

    index: int
    header: str
    field: str
    unit: str | None = None
    side: str = ""
