"""How old an offer is: prices go stale, and an order says so."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from datetime import date

    from numpy.typing import NDArray

    from recap.bench.offers import Catalogue


def is_old(updated: date | None, today: date, days: int) -> bool:
    """Tell whether an offer dated ``updated`` is older than ``days``; one without a date, or ``days`` 0, never is."""
    return days > 0 and updated is not None and (today - updated).days > days


def old_rows(catalogue: Catalogue, today: date, days: int) -> NDArray[np.int64]:
    """Return the rows of the offers older than ``days``."""
    column = catalogue.fields.get("updated")
    if column is None:
        return np.arange(0)
    old = np.array([is_old(updated, today, days) for updated in column.meanings], bool)
    return np.flatnonzero(old[column.codes])


def oldest(catalogue: Catalogue) -> date | None:
    """Return the date of the oldest offer, None where none bears a date."""
    column = catalogue.fields.get("updated")
    return None if column is None else min((d for d in column.meanings if d is not None), default=None)
