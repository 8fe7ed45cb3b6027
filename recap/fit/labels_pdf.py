"""Labels as PDF, drawn to size: print at 100 %, not "fit to page"."""

from __future__ import annotations

from io import BytesIO
from typing import TYPE_CHECKING, Final

import segno
from reportlab.lib.units import mm
from reportlab.lib.utils import simpleSplit
from reportlab.pdfbase.pdfmetrics import stringWidth
from reportlab.pdfgen.canvas import Canvas

from recap.fit.fonts import BOLD, PLAIN, printable, register_fonts, shortened

if TYPE_CHECKING:
    from collections.abc import Sequence

    from recap.fit.labels import Label, LabelSheet

PADDING: Final = 4 * mm
LARGEST_QR: Final = 24 * mm
QUIET: Final = 4
"""Modules of quiet zone around a QR code (ISO/IEC 18004, from memory)."""
CUT_MARK: Final = 4 * mm
DESIGN_HEIGHT: Final = 37 * mm
"""Type sizes are for a label this high and shrink with lower ones."""
SMALLEST_TYPE: Final = 5.0
UNIT: Final = 2
"""Letters of the longest unit, which stays beside its number."""
LEAST_SHRUNK: Final = 0.7
"""A value is written no smaller than this part of its size where its last word can go below it."""


def labels_pdf(labels: Sequence[Label], sheet: LabelSheet, *, skip: int = 0) -> bytes:
    """Return the labels as the bytes of a PDF file, beginning behind ``skip`` labels already used on the first sheet.

    Raises ValueError where ``skip`` is not below the number of labels on a sheet.
    """
    if not 0 <= skip < sheet.count:
        raise ValueError(f"a sheet has {sheet.count} labels: skip 0 to {sheet.count - 1} of them")
    register_fonts()
    stream = BytesIO()
    page = (sheet.page_mm[0] * mm, sheet.page_mm[1] * mm)
    canvas = Canvas(stream, pagesize=page, invariant=1)
    canvas.setTitle("Labels")
    for number, label in enumerate(labels, skip):
        on_sheet = number % sheet.count
        if number != skip and on_sheet == 0:
            _finish(canvas, sheet)
        left, top = sheet.place(on_sheet)
        width, height = sheet.label_mm[0] * mm, sheet.label_mm[1] * mm
        canvas.saveState()
        canvas.translate(left * mm, page[1] - top * mm - height)
        _draw(canvas, label, width, height)
        canvas.restoreState()
    _finish(canvas, sheet)
    canvas.save()
    return stream.getvalue()


def _finish(canvas: Canvas, sheet: LabelSheet) -> None:
    if sheet.cut:
        _cut_marks(canvas, sheet)
    canvas.showPage()


def _draw(canvas: Canvas, label: Label, width: float, height: float) -> None:
    """Draw one label with its lower left corner at the origin."""
    room = width - 2 * PADDING
    if label.address:
        side = min(LARGEST_QR, height - 2 * PADDING)
        _qr(canvas, label.address, width - PADDING - side, (height - side) / 2, side)
        room -= side + 1.5 * mm
    scale = min(height / DESIGN_HEIGHT, 1.0)
    top = height - PADDING
    top = _line(canvas, label.set, top, font=BOLD, size=11 * scale, room=room)
    top = _line(canvas, label.board, top, font=PLAIN, size=9 * scale, room=room)
    value, rest = _in_two(label.value or label.part, 16 * scale, room)
    top = _line(canvas, value, top - 1 * mm * scale, font=BOLD, size=16 * scale, room=room)
    if rest:
        top = _line(canvas, rest, top, font=BOLD, size=11 * scale, room=room)
    top = _line(canvas, f"{label.qty} × {label.part}", top, font=PLAIN, size=9 * scale, room=room)
    _refs(canvas, label.refs, top - 0.5 * mm, room, 9 * scale)


def _in_two(text: str, size: float, room: float) -> tuple[str, str]:
    """Part a text that would have to be written much smaller in front of its last word: ``4.7 µF 50 V`` ``bipolar``."""
    front, _, last = printable(text).rpartition(" ")
    small = stringWidth(printable(text), BOLD, size * LEAST_SHRUNK) > room
    return (front, last) if small and front and last.isalpha() and len(last) > UNIT else (text, "")


def _line(canvas: Canvas, text: str, top: float, *, font: str, size: float, room: float) -> float:
    """Write one line below ``top``, smaller where it is long; return where the next one begins."""
    clean = printable(text).replace("\n", " ")
    wide = stringWidth(clean, font, size)
    fitted = max(SMALLEST_TYPE, size * min(1.0, room / wide)) if wide else size
    canvas.setFont(font, fitted)
    canvas.drawString(PADDING, top - size, shortened(clean, font, fitted, room))
    return top - size * 1.18


def _refs(canvas: Canvas, refs: Sequence[str], top: float, room: float, size: float) -> None:
    """Write the designators on as many lines as are left; what doesn't fit is counted."""
    fits = int((top - PADDING * 0.6) / (size * 1.15))
    if not refs or fits < 1:
        return
    shown = len(refs)
    while shown:
        more = len(refs) - shown
        text = ", ".join(refs[:shown]) + (f" and {more} more" if more else "")
        lines = simpleSplit(printable(text), PLAIN, size, room)
        if len(lines) <= fits:
            break
        shown -= 1
    else:
        lines = [f"{len(refs)} places"]
    canvas.setFont(PLAIN, size)
    for index, line in enumerate(lines, 1):
        canvas.drawString(PADDING, top - index * size * 1.15, shortened(line, PLAIN, size, room))


def _qr(canvas: Canvas, address: str, left: float, bottom: float, side: float) -> None:
    """Draw a QR code as vector squares, quiet zone included in ``side``."""
    code = segno.make(address, error="m", micro=False)
    rows = [list(row) for row in code.matrix]
    module = side / (len(rows) + 2 * QUIET)
    path = canvas.beginPath()
    for y, row in enumerate(rows):
        for x, dark in enumerate(row):
            if dark:
                path.rect(left + (x + QUIET) * module, bottom + side - (y + QUIET + 1) * module, module, module)
    canvas.setFillGray(0)
    canvas.drawPath(path, stroke=0, fill=1)


def _cut_marks(canvas: Canvas, sheet: LabelSheet) -> None:
    """Draw a small cross at every corner of every label, where the cuts meet."""
    canvas.setLineWidth(0.3)
    height = sheet.page_mm[1] * mm
    for row in range(sheet.rows + 1):
        for column in range(sheet.columns + 1):
            x = (sheet.corner_mm[0] + column * sheet.label_mm[0]) * mm
            y = height - (sheet.corner_mm[1] + row * sheet.label_mm[1]) * mm
            canvas.line(x - CUT_MARK / 2, y, x + CUT_MARK / 2, y)
            canvas.line(x, y - CUT_MARK / 2, x, y + CUT_MARK / 2)
