"""Tell what is wrong in rows of a large table: the first ones each at its place, the rest counted."""

from __future__ import annotations

from typing import TYPE_CHECKING

from recap.diagnostics import Diagnostic, Severity

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    import numpy as np
    from numpy.typing import NDArray

    from recap.bench.texts import TextTable

SHOWN = 50
"""So many alike findings of one catalogue are told one by one."""


def tell_rows(
    table: TextTable,
    rows: NDArray[np.int64] | Sequence[int],
    header: str,
    say: Callable[[int], tuple[Severity, str, str, str | None, str | None]],
) -> list[Diagnostic]:
    """Return a diagnostic for each of ``rows``, at most :data:`SHOWN` and one that counts the others.

    ``say`` gives severity, code, message, hint and what was found for a row.
    """
    told: list[Diagnostic] = []
    for row in rows[:SHOWN]:
        severity, code, message, hint, found = say(int(row))
        told.append(Diagnostic(severity, code, message, table.place(int(row), header), hint, found))
    if len(rows) > SHOWN:
        first = told[-1]
        message = f"and {len(rows) - SHOWN:,} more rows like these"
        told.append(Diagnostic(first.severity, first.code, message, table.place(int(rows[SHOWN]), header), first.hint))
    return told
