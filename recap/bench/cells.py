"""Offers that are alike in what thins out a search best, each such cell once, with the rows that lie in it.

Among a million offers there are some ten thousand combinations of value, voltage, kind and the
like. A search looks through these, and touches rows only where a whole cell suits.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Mapping
    from typing import Any

    from numpy.typing import NDArray

    from recap.bench.meanings import Field

ALIKE = ("value", "volts", "temp", "life", "mount", "kind", "safety")
"""The columns whose texts the rows of one cell share."""
_WIDEST = 2**62
_ROW_BITS = 31


@dataclass(frozen=True, slots=True)
class Cells:
    """Rows by what they state in :data:`ALIKE`.

    ``codes``: for each of these columns that there is, the code of every cell. ``rows``: all rows,
    cell by cell, ascending inside each. ``ends``: where in ``rows`` each cell begins and the last one ends.
    """

    codes: Mapping[str, NDArray[Any]]
    rows: NDArray[np.int32]
    ends: NDArray[np.int32]

    def __len__(self) -> int:
        """Return the number of cells."""
        return len(self.ends) - 1


def cells_of(fields: Mapping[str, Field], count: int) -> Cells:
    """Return the cells of ``count`` rows."""
    known = {name: fields[name].codes for name in ALIKE if name in fields}
    mixed, width = np.zeros(count, np.int64), 1
    for codes in known.values():
        size = int(codes.max(initial=0)) + 1
        if width * size >= _WIDEST:
            distinct, mixed = np.unique(mixed, return_inverse=True)
            width = len(distinct)
        mixed = mixed * size + codes
        width *= size
    rows = _ordered(mixed, width)
    sorted_ = mixed[rows]
    firsts = np.flatnonzero(np.concatenate(([True], sorted_[1:] != sorted_[:-1]))) if count else np.empty(0, np.intp)
    return Cells(
        {name: codes[rows[firsts]] for name, codes in known.items()},
        rows.astype(np.int32),
        np.append(firsts, count).astype(np.int32),
    )


def _ordered(mixed: NDArray[np.int64], width: int) -> NDArray[np.intp]:
    """Return the places of ``mixed``, all below ``width``, by size and then by place."""
    if width < 2**16:
        return np.argsort(mixed.astype(np.uint16), kind="stable")
    if width < 2 ** (63 - _ROW_BITS) and len(mixed) < 2**_ROW_BITS:
        # number and place in one: sorting numbers is several times as fast as sorting places by them
        both = mixed << _ROW_BITS | np.arange(len(mixed))
        both.sort()
        places: NDArray[np.intp] = both & (2**_ROW_BITS - 1)
        return places
    return np.argsort(mixed, kind="stable")
