"""What a catalogue holds: how many offers of each capacitance and rated voltage."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Sequence
    from decimal import Decimal

    from numpy.typing import NDArray

    from recap.bench.offers import Catalogue


@dataclass(frozen=True, slots=True)
class Shelf:
    """Offers of one capacitance (µF) at one rated voltage (V); None where the catalogue states none."""

    value_uF: Decimal | None
    volts: Decimal | None
    offers: int


def shelves(catalogue: Catalogue) -> tuple[Shelf, ...]:
    """Return every capacitance and voltage offered, ascending, unstated ones last."""
    import pandas as pd  # a quarter of a second: only where shelves are looked at

    values, volts = (_stated(catalogue, name) for name in ("value", "volts"))
    pairs = pd.DataFrame({"value": values[0], "volts": volts[0]}).value_counts(sort=False)
    counts: Counter[tuple[Decimal | None, Decimal | None]] = Counter()
    for value, rated, count in pairs.reset_index().itertuples(index=False):
        counts[values[1][value], volts[1][rated]] += int(count)  # one meaning may have been written in several ways
    found = (Shelf(value, rated, count) for (value, rated), count in counts.items())
    return tuple(sorted(found, key=lambda s: (s.value_uF is None, s.value_uF or 0, s.volts is None, s.volts or 0)))


def _stated(catalogue: Catalogue, name: str) -> tuple[NDArray[np.integer], Sequence[Any]]:
    """Return a field as a code for each offer, and what each code means: nothing where the field is missing."""
    field = catalogue.fields.get(name)
    return (np.zeros(len(catalogue), np.int64), (None,)) if field is None else (field.codes, field.meanings)
