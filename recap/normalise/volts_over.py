"""Voltages that head columns (``Value, 16V, 25V`` over designators): read for no part, so those below are doubted."""

from __future__ import annotations

from re import IGNORECASE
from typing import TYPE_CHECKING, Final

from recap.normalise.checks import lay
from recap.normalise.later import compiled

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from recap.diagnostics import Diagnostic
    from recap.model import Position
    from recap.normalise.ledger import Ledger

_VOLTS: Final = r"\d{1,3}(?:[.,]\d)?\s?V(?:DC)?"
_MARK: Final = r"\s*[,;|¦\t]\s*"
_NAME: Final = r"(?:ref(?:erence)?|pos|value|cap(?:acitance)?|[µu]F|wert|kapazität|valeur|valore|valor|waarde)\.?"
_ABREAST: Final = compiled(
    rf"(?:[^\d:,;|¦\t]{{0,20}}{_MARK}){{0,4}}{_VOLTS}(?:{_MARK}{_VOLTS})+[\s,;|¦]*"
    rf"|\|?\s*(?:{_NAME}\s+){{1,3}}{_VOLTS}(?:\s+{_VOLTS})+",
    IGNORECASE,
)
"""Cells that name columns, if any, and then voltages alone; between blanks the names must be plain ones."""
_NOT_RECORDS: Final = frozenset(("title-read", "line-passed-over", "heading-read", "header-read"))


def below(positions: Iterable[Position], ledgers: Sequence[Ledger]) -> tuple[list[Position], list[Diagnostic]]:
    """Doubt the positions below a line of voltages, where none of them has a voltage of its own."""
    listed = list(positions)
    told: list[Diagnostic] = []
    for ledger in ledgers:
        heads = [
            said.source.row
            for said in ledger.diagnostics
            if said.code in _NOT_RECORDS and said.source.row and _ABREAST.fullmatch((said.found or "").strip())
        ]
        if not heads:
            continue
        under = [
            at
            for at, position in enumerate(listed)
            if position.source and position.source.sheet == ledger.sheet and (position.source.row or 0) > heads[0]
        ]
        if any(listed[at].volts is not None for at in under):
            continue
        message = f"the voltages in row {heads[0]} head columns; none was taken for this part"
        hint = "write the voltage into the row of each part"
        told += lay(listed, [(at, message) for at in under], "volts-over", hint)
    return listed, told
