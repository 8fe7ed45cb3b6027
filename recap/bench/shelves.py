"""What a catalogue holds: how many offers of each capacitance and rated voltage."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from decimal import Decimal

    from recap.bench.offers import Catalogue


@dataclass(frozen=True, slots=True)
class Shelf:
    """Offers of one capacitance (µF) at one rated voltage (V); None where the catalogue states none."""

    value_uF: Decimal | None
    volts: Decimal | None
    offers: int


def shelves(catalogue: Catalogue) -> tuple[Shelf, ...]:
    """Return every capacitance and voltage offered, ascending, unstated ones last."""
    counts: dict[tuple[Decimal | None, Decimal | None], int] = {}
    values, volts = catalogue.fields.get("value"), catalogue.fields.get("volts")
    nothing = np.zeros(len(catalogue), np.int64)
    width = 1 if volts is None else len(volts.meanings)
    pairs = (nothing if values is None else values.codes.astype(np.int64)) * width
    pairs = pairs + (nothing if volts is None else volts.codes)
    for pair, count in zip(*np.unique(pairs, return_counts=True), strict=True):
        value = None if values is None else values.meanings[int(pair) // width]
        rated = None if volts is None else volts.meanings[int(pair) % width]
        counts[value, rated] = counts.get((value, rated), 0) + int(count)
    found = (Shelf(value, rated, count) for (value, rated), count in counts.items())
    return tuple(sorted(found, key=lambda s: (s.value_uF is None, s.value_uF or 0, s.volts is None, s.volts or 0)))
