"""The canonical cap list: one row for each position, the same columns everywhere, and back without loss.

``doubts`` holds the codes still to be settled; a user who has settled one deletes it from the cell, and
deletes the column when all are settled. Text cells that a spreadsheet would run as formulas are quoted.
"""

from __future__ import annotations

import csv
import io
import re
from decimal import Decimal
from typing import TYPE_CHECKING, Final

from recap.files import write_atomically
from recap.model import Kind, Position
from recap.normalise.values import format_capacitance, plain

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence
    from pathlib import Path

COLUMNS: Final = (
    "ref", "qty", "value", "volts", "temp", "mount", "kind", "pitch", "diameter", "height", "board", "role",
    "operating", "ripple", "safety", "note",
)  # fmt: skip
"""The columns of a cap list in their order; ``doubts`` follows where there are any."""

_FORMULA: Final = ("=", "+", "-", "@", "'")
_CONTROL: Final = re.compile("[\x00-\x1f\x7f-\x9f\ud800-\udfff\ufffe\uffff]")


def rows_of(positions: Sequence[Position]) -> list[list[str]]:
    """Return the header and one row of cells for each position."""
    doubted = any(position.doubts for position in positions)
    header = [*COLUMNS, "doubts"] if doubted else list(COLUMNS)
    rows = [header]
    for position in positions:
        row = _row(position)
        rows.append([*row, " ".join(position.doubts)] if doubted else row)
    return rows


def _row(position: Position) -> list[str]:
    kind = "" if position.kind is Kind.UNKNOWN else position.kind.value
    return [
        _text(position.ref),
        str(position.qty),
        "" if position.value_uF is None else format_capacitance(position.value_uF),
        _with(position.volts, "VAC" if position.volts_ac else "V"),
        _with(None if position.temp_C is None else Decimal(position.temp_C), "°C"),
        position.mount.value if position.mount else "",
        kind,
        _with(position.pitch_mm, "mm"),
        _with(position.diameter_mm, "mm"),
        _with(position.height_mm, "mm"),
        _text(position.board),
        position.role.value if position.role else "",
        _with(position.operating_V, "V"),
        _with(position.ripple_mA, "mA"),
        _text(position.safety),
        _text(position.note),
    ]


def _with(quantity: Decimal | None, unit: str) -> str:
    return "" if quantity is None else f"{plain(quantity)} {unit}"


def _text(text: str | None) -> str:
    """Return a text on one line; an apostrophe in front keeps spreadsheets from running it as a formula."""
    if not text:
        return ""
    line = " ".join(_CONTROL.sub(" ", text).split())
    return f"'{line}" if line.startswith(_FORMULA) else line


def write_cap_list(positions: Sequence[Position], path: Path) -> None:
    """Write positions as a canonical list, in the format of the path's ending (.csv .tsv .xlsx .md .txt).

    Raises ValueError for another ending and OSError where the folder can't be written.
    """
    writer = _WRITERS.get(path.suffix.lower())
    if writer is None:
        message = f"a cap list is written as {', '.join(_WRITERS)}; {path.suffix or path.name!r} is none of them"
        raise ValueError(message)
    write_atomically(path, writer(rows_of(positions)))


def _delimited(delimiter: str) -> Callable[[list[list[str]]], str]:
    def write(rows: list[list[str]]) -> str:
        out = io.StringIO()
        csv.writer(out, delimiter=delimiter, lineterminator="\n").writerows(rows)
        return out.getvalue()

    return write


def _markdown(rows: list[list[str]]) -> str:
    cells = [[cell.replace("|", "\\|") for cell in row] for row in rows]
    widths = [max(3, *(len(row[i]) for row in cells)) for i in range(len(cells[0]))]
    lines = ["| " + " | ".join(cell.ljust(w) for cell, w in zip(row, widths, strict=True)) + " |" for row in cells]
    lines.insert(1, "|" + "|".join("-" * (w + 2) for w in widths) + "|")
    return "\n".join(lines) + "\n"


def _workbook(rows: list[list[str]]) -> bytes:
    from openpyxl import Workbook
    from openpyxl.styles import Font
    from openpyxl.utils import get_column_letter

    book = Workbook()
    sheet = book.active
    assert sheet is not None
    sheet.title = "caps"
    for row in rows:
        sheet.append([cell or None for cell in row])
    for cell in sheet[1]:
        cell.font = Font(name="Calibri", bold=True, size=11)
    sheet.freeze_panes = "B2"
    for index in range(len(rows[0])):
        width = max(len(row[index]) for row in rows)
        sheet.column_dimensions[get_column_letter(index + 1)].width = min(width + 2, 60)
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


_WRITERS: Final[dict[str, Callable[[list[list[str]]], str | bytes]]] = {
    ".csv": _delimited(","),
    ".tsv": _delimited("\t"),
    ".xlsx": _workbook,
    ".md": _markdown,
    ".txt": _markdown,
}
