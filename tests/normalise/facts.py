"""Positions as one short sentence each, so that tests read like a list."""

from __future__ import annotations

from typing import TYPE_CHECKING

from recap.model import Kind
from recap.normalise.caplist import read_cap_text
from recap.normalise.values import format_capacitance, plain

if TYPE_CHECKING:
    from recap.diagnostics import Diagnostic
    from recap.model import Position


def fact(p: Position) -> str:
    """``C12 10 µF 50 V 105 °C radial bipolar D5 H11 P2 @ PSU ?doubt``: what is known, in this order."""
    parts = [p.ref or "-"] + ([f"x{p.qty}"] if p.qty != 1 else [])
    parts.append("?" if p.value_uF is None else format_capacitance(p.value_uF))
    parts += [f"{plain(p.volts)} V"] if p.volts is not None else []
    parts += [f"{p.temp_C} °C"] if p.temp_C is not None else []
    parts += [p.mount.value] if p.mount else []
    parts += [p.kind.value] if p.kind is not Kind.UNKNOWN else []
    for mark, size in (("D", p.diameter_mm), ("H", p.height_mm), ("P", p.pitch_mm)):
        parts += [f"{mark}{plain(size)}"] if size is not None else []
    parts += [p.safety] if p.safety else []
    parts += [f"@ {p.board}"] if p.board else []
    parts += [f"?{code}" for code in p.doubts]
    return " ".join(parts)


def read(text: str) -> tuple[list[str], list[Diagnostic]]:
    """Return the facts of a list and what is said of it."""
    positions, told = read_cap_text(text, "list.txt")
    return [fact(p) for p in positions], told


def facts(text: str) -> list[str]:
    """Return the facts of a list."""
    return read(text)[0]


def codes(text: str) -> list[tuple[int | None, str]]:
    """Return row and code of all that is said of a list."""
    return [(d.source.row, d.code) for d in read(text)[1]]
