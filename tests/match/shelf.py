"""Catalogues and benches made by hand for the tests of this stage: parts in, frame and bench out."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

import pandas as pd

from recap.model import Settings

if TYPE_CHECKING:
    from recap.model import CapList, DrawerPart, Extra, Part, SetOnBench, SupplierTerms

NUMBERS = ("value_uF", "volts", "temp_C", "life_h", "pitch_mm", "diameter_mm", "height_mm", "ripple_mA")


class Rows:
    """A catalogue of parts: the frame that a search reads, and each part exact."""

    def __init__(self, parts: list[Part]) -> None:
        self.parts = parts
        columns: dict[str, Any] = {
            name: pd.Series([getattr(p, name) for p in parts], dtype="float64") for name in NUMBERS
        }
        columns["kind"] = pd.Series([p.kind.value for p in parts], dtype="category")
        columns["mount"] = pd.Series([p.mount.value if p.mount else None for p in parts], dtype="category")
        columns["safety"] = pd.Series([p.safety for p in parts], dtype="object")
        columns["maker"] = pd.Series([p.maker for p in parts], dtype="object")
        columns["part"] = pd.Series([p.number for p in parts], dtype="object")
        self.frame = pd.DataFrame(columns)

    def __len__(self) -> int:
        return len(self.parts)

    def part(self, i: int) -> Part:
        return self.parts[i]


@dataclass
class BenchByHand:
    """As much of a bench as matching looks at."""

    sets: tuple[SetOnBench, ...] = ()
    caplists: dict[str, CapList] = field(default_factory=dict)
    catalogues: dict[str, Rows] = field(default_factory=dict)
    suppliers: dict[str, SupplierTerms] = field(default_factory=dict)
    drawer: tuple[DrawerPart, ...] = ()
    extras: tuple[Extra, ...] = ()
    settings: Settings = field(default_factory=Settings)
