"""Columns of ticks (``Done``, ``Replaced``, ``Bought``): rows are read whether ticked or not, and that is said."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from recap.diagnostics import note
from recap.normalise.further_columns import answer

if TYPE_CHECKING:
    from collections.abc import Sequence

    from recap.normalise.column import Column
    from recap.normalise.ledger import Ledger
    from recap.read.cells import Row

MOST_NAMED: Final = 12
"""So many rows are named in one message."""
_UNTICKED: Final = frozenset(("-", "--", "[ ]", "☐"))


def tell(columns: Sequence[Column], header: Row, below: Sequence[Row], ledger: Ledger) -> None:
    """Say of each column of ticks which rows it marks."""
    for column in columns:
        if column.field != "done":
            continue
        marked = [row.source.row for row in below if _is_marked(row, column.index)]
        if not marked:
            continue
        named = ", ".join(map(str, marked[:MOST_NAMED])) + (" …" if len(marked) > MOST_NAMED else "")
        message = f"column {column.header!r} marks rows {named}; they were read like the others"
        hint = "delete them from the list if they are not on the job"
        ledger.diagnostics.append(
            note("ticks-passed-over", message, ledger.source(header.source.row or 1, column.header), hint)
        )


def _is_marked(row: Row, index: int) -> bool:
    text = row.cells[index].text.strip() if index < len(row.cells) else ""
    return bool(text) and text not in _UNTICKED and answer(text) is not False
