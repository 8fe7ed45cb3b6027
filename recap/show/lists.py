"""A capacitor list as read: the JSON document, and the summary that says what to look at and what to do next."""

from __future__ import annotations

from collections import Counter
from itertools import groupby
from typing import TYPE_CHECKING, Any

from rich.text import Text

from recap.codes import register
from recap.diagnostics import Diagnostic, Severity
from recap.normalise.writing import plain
from recap.order.wording import size_text, thing_text
from recap.show.documents import diagnostics_document, number
from recap.show.tables import plain_table
from recap.show.terminal import counted, refs

if TYPE_CHECKING:
    from collections.abc import Sequence

    from rich.console import Console

    from recap.model import Position


def list_document(positions: Sequence[Position], diagnostics: Sequence[Diagnostic]) -> dict[str, Any]:
    """Return positions and diagnostics as other programs read them; what is unknown is null."""
    return {"positions": [_position(p) for p in positions], "diagnostics": diagnostics_document(diagnostics)}


def _position(position: Position) -> dict[str, Any]:
    return {
        "ref": position.ref,
        "qty": position.qty,
        "value_uF": number(position.value_uF),
        "volts": number(position.volts),
        "temp_C": position.temp_C,
        "mount": position.mount.value if position.mount else None,
        "kind": position.kind.value,
        "pitch_mm": number(position.pitch_mm),
        "diameter_mm": number(position.diameter_mm),
        "height_mm": number(position.height_mm),
        "board": position.board,
        "role": position.role.value if position.role else None,
        "operating_V": number(position.operating_V),
        "ripple_mA": number(position.ripple_mA),
        "safety": position.safety,
        "volts_ac": position.volts_ac,
        "note": position.note,
        "sheet": position.source.sheet if position.source else None,
        "row": position.source.row if position.source else None,
        "doubts": list(position.doubts),
    }


def print_positions(console: Console, positions: Sequence[Position]) -> None:
    """Print what each line of the list was read as, so that it can be held against the list."""
    table = plain_table()
    table.add_column("line", justify="right")
    for title in ("place", "read as", "board", "in doubt"):
        table.add_column(title)
    for (row, words, board, doubts), alike in groupby(positions, key=_read_as):
        members = list(alike)
        names = [p.ref for p in members if p.ref] or [f"{sum(p.qty for p in members)} pcs"]
        table.add_row(str(row or ""), Text(refs(names)), Text(words), Text(board), Text(doubts))
    console.print(table)


def _read_as(position: Position) -> tuple[int | None, str, str, str]:
    """Return the line, what was read there, the board and the doubts."""
    further = [
        f"works at {plain(position.operating_V)} V" if position.operating_V is not None else "",
        f"ripple {plain(position.ripple_mA)} mA" if position.ripple_mA is not None else "",
        position.role.value if position.role else "",
    ]
    words = ", ".join(word for word in (thing_text(position), size_text(position), *further) if word)
    row = position.source.row if position.source else None
    return row, words, position.board or "", ", ".join(position.doubts)


def print_summary(console: Console, positions: Sequence[Position], diagnostics: Sequence[Diagnostic]) -> None:
    """Print how many positions there are, on which boards, and how many are doubted."""
    pieces = sum(position.qty for position in positions)
    doubted = sum(1 for position in positions if position.doubts)
    boards = [board for board in dict.fromkeys(position.board for position in positions) if board]
    line = f"{counted(len(positions), 'position')}, {counted(pieces, 'piece')}"
    if boards:
        line += f", on {', '.join(boards[:8])}" + (" …" if len(boards) > 8 else "")  # noqa: PLR2004 - one line
    console.print(Text(line), soft_wrap=True)
    if not doubted:
        console.print(Text("No doubts: every line reads plainly."), soft_wrap=True)
        return
    kinds = Counter(code for position in positions for code in position.doubts)
    named = ", ".join(f"{code} ({n})" for code, n in kinds.most_common(6))
    console.print(Text(f"{counted(doubted, 'position')} in doubt: {named}", style="yellow"), soft_wrap=True)
    del diagnostics


def print_doubts(console: Console, diagnostics: Sequence[Diagnostic]) -> None:
    """Print each line that must be looked at once, with its text, what is doubted of it and what to do."""
    rows: dict[tuple[str, str | None, int | None], list[Diagnostic]] = {}
    for diagnostic in diagnostics:
        if diagnostic.severity is not Severity.NOTE:
            place = (diagnostic.source.file, diagnostic.source.sheet, diagnostic.source.row)
            rows.setdefault(place, []).append(diagnostic)
    for told in rows.values():
        shown = next((d.found for d in told if d.found), None)
        source = told[0].source
        console.print(Text(f"{source}" + (f" | {shown}" if shown else "")), soft_wrap=True)
        for diagnostic in told:
            text = Text(f"    {diagnostic.severity.value}: {diagnostic.message} [{diagnostic.code}]")
            text.stylize(
                "red" if diagnostic.severity is Severity.ERROR else "yellow", 4, 4 + len(diagnostic.severity.value)
            )
            console.print(text, soft_wrap=True)
        for hint in dict.fromkeys(d.hint for d in told if d.hint):
            console.print(Text(f"    hint: {hint}"), soft_wrap=True)


def blocking(positions: Sequence[Position]) -> int:
    """Return for how many positions nothing is bought until their doubts are settled."""
    known = register()
    return sum(1 for p in positions if any(code in known and known[code].blocks for code in p.doubts))
