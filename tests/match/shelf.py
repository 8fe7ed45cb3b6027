"""Catalogues and benches made by hand for the tests of this stage: parts in, stock and bench out."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

import numpy as np

from recap.bench.cells import cells_of
from recap.bench.meanings import Field
from recap.bench.offers import NUMERIC
from recap.model import Settings

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from recap.model import CapList, DrawerPart, Extra, Part, SetOnBench, SupplierTerms

READ = {called: name for name, called in NUMERIC.items()} | {
    name: name for name in ("mount", "kind", "safety", "maker")
}


class Rows:
    """A stock of parts: each field's distinct values with their codes, and each part exact."""

    def __init__(self, parts: list[Part], times: int = 1) -> None:
        self.shelf = parts
        self.times = times
        self.fields: dict[str, Field] = {}
        for called, name in READ.items():
            stated = [getattr(part, called) for part in parts]
            values = tuple(dict.fromkeys(stated))
            codes = np.array([values.index(value) for value in stated] * times, dtype=np.int32)
            self.fields[name] = Field(values, codes)
        self.cells = cells_of(self.fields, len(self))

    def __len__(self) -> int:
        return len(self.shelf) * self.times

    def parts(self, rows: Sequence[int]) -> list[Part]:
        return [self.shelf[row % len(self.shelf)] for row in rows]

    def rows_of(self, numbers: Iterable[str]) -> dict[str, tuple[int, ...]]:
        found: dict[str, tuple[int, ...]] = {}
        offered = self.parts(range(len(self)))
        for number in numbers:
            rows = tuple(row for row, part in enumerate(offered) if part.number == number)
            if rows:
                found[number] = rows
        return found


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
