"""Designators that stand behind the boards of a list on none, and on one of these boards, too: perhaps one part."""

from __future__ import annotations

from typing import TYPE_CHECKING

from recap.normalise.checks import lay, named_rows

if TYPE_CHECKING:
    from collections.abc import Iterable

    from recap.diagnostics import Diagnostic
    from recap.model import Position


def listed_again(positions: Iterable[Position]) -> tuple[list[Position], list[Diagnostic]]:
    """Doubt a designator without a board that is listed on one board above: another owner's, or the same one again.

    In front of all boards a list may well have parts of none (those of the chassis), so these are left alone.
    """
    listed = list(positions)
    homes: dict[str, list[int]] = {}
    chosen: list[tuple[int, str]] = []
    for at, position in enumerate(listed):
        if position.ref is None:
            continue
        if position.board is not None:
            homes.setdefault(position.ref.upper(), []).append(at)
            continue
        above = homes.get(position.ref.upper(), [])
        if len({listed[i].board for i in above}) != 1:
            continue
        rows = named_rows([listed[above[0]], position])
        message = f"{position.ref} stands on {listed[above[0]].board} and here on no board (rows {rows})"
        differs = any((listed[i].value_uF, listed[i].volts) != (position.value_uF, position.volts) for i in above)
        chosen += [(i, message) for i in ([*above, at] if differs else [at])]
    return listed, lay(listed, chosen, "ref-twice", "name the boards, or correct one of them")
