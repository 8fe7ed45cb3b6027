"""The checklist as PDF: landscape, large type, boxes big enough for a pencil, readable in black and white."""

from __future__ import annotations

from html import escape
from io import BytesIO
from typing import TYPE_CHECKING, Any, Final

from reportlab.lib.pagesizes import A4, LETTER, landscape
from reportlab.lib.styles import ParagraphStyle
from reportlab.lib.units import mm
from reportlab.pdfbase.pdfmetrics import stringWidth
from reportlab.platypus import (
    BaseDocTemplate,
    CondPageBreak,
    Flowable,
    Frame,
    LongTable,
    NextPageTemplate,
    PageBreak,
    PageTemplate,
    Paragraph,
    Spacer,
    TableStyle,
)

from recap.fit.checklist import BOXES, Checklist, remarks, runs, where
from recap.fit.fonts import BOLD, PLAIN, printable, register_fonts, shortened
from recap.fit.worklist import NOTHING, sets_of
from recap.order.wording import detail_text, size_text, value_text

if TYPE_CHECKING:
    from reportlab.pdfgen.canvas import Canvas

    from recap.fit.worklist import Section, Task
    from recap.model import Part, Position

PAPERS: Final = {"a4": A4, "letter": LETTER}
MARGIN: Final = 12 * mm
BOX: Final = 5.5 * mm
LINE: Final = 7.5 * mm
"""What one place takes where several stand together: room for a box, and for a pencil beside it."""
TOGETHER: Final = 8
"""At most so many places in one row, which can't break over pages."""
WIDTHS: Final = tuple(part * mm for part in (11, 11, 18, 26, 44, 60, 81, 22))
"""Of the columns, made for A4; other papers stretch or squeeze the remarks."""
HEADINGS: Final = 2
"""Rows that stand on every page again: whose places these are, for boards may share designators, and the columns."""
PLACE_COLUMN: Final = 3
REMARKS_COLUMN: Final = 6
CELL_LEFT: Final = 4
CELL_RIGHT: Final = 3

_BODY: Final = ParagraphStyle("body", fontName=PLAIN, fontSize=9, leading=11)
_STRONG: Final = ParagraphStyle("strong", _BODY, fontName=BOLD, fontSize=12, leading=14)
_MARK: Final = ParagraphStyle("mark", _BODY, fontName=BOLD)
_VALUE: Final = ParagraphStyle("value", _BODY, fontName=BOLD, fontSize=11, leading=13)
_HEAD: Final = ParagraphStyle("head", _BODY, fontName=BOLD, fontSize=8.5, leading=10)
_TITLE: Final = ParagraphStyle("title", _BODY, fontName=BOLD, fontSize=17, leading=21)
_SECTION: Final = ParagraphStyle("section", _BODY, fontName=BOLD, fontSize=13, leading=17)
_CAUTION: Final = ParagraphStyle("caution", _BODY, fontSize=10, leading=12.5, leftIndent=15, firstLineIndent=-15)


class TickBox(Flowable):  # type: ignore[misc] # reportlab has no types
    """An empty square to tick."""

    def __init__(self, height: float = BOX) -> None:
        """Make it take ``height`` points, from the top of which the square hangs."""
        super().__init__()
        self.width, self.height = BOX, height

    def draw(self) -> None:
        """Draw the square."""
        self.canv.setLineWidth(1.2)
        self.canv.rect(0, self.height - BOX, BOX, BOX)


class PlaceLine(Flowable):  # type: ignore[misc] # reportlab has no types
    """A place's name beside its boxes, on one line; or an empty line to write a measured value on."""

    def __init__(self, text: str, width: float) -> None:
        """Write ``text``, nothing but a thin line where it is empty."""
        super().__init__()
        self.text, self.width, self.height = text, width, LINE

    def draw(self) -> None:
        """Draw the name or the line."""
        if self.text:
            self.canv.setFont(BOLD, _STRONG.fontSize)
            self.canv.drawString(0, self.height - _STRONG.fontSize, self.text)
        else:
            self.canv.setLineWidth(0.3)
            self.canv.line(0, self.height - BOX, self.width, self.height - BOX)


def checklist_pdf(checklist: Checklist, *, paper: str = "a4") -> bytes:
    """Return the checklist as the bytes of a PDF file; ``paper`` is a key of :data:`PAPERS`."""
    register_fonts()
    size = landscape(PAPERS[paper])
    stream = BytesIO()
    document = BaseDocTemplate(
        stream,
        pagesize=size,
        leftMargin=MARGIN,
        rightMargin=MARGIN,
        topMargin=MARGIN + 6 * mm,
        bottomMargin=MARGIN + 4 * mm,
        title="Checklist",
        author="recap",
        invariant=1,
    )
    sets = sets_of(checklist.sections)
    document.addPageTemplates([_page(document, index, name, checklist) for index, name in enumerate(sets or ("",))])
    story: list[Flowable] = []
    for index, (name, sections) in enumerate(sets.items()):
        if index:
            story += [NextPageTemplate(f"set{index}"), PageBreak()]
        story += _set(name, sections, checklist, document.width)
    document.build(story or [_text("Nothing to do: no set has a job.", _TITLE)], canvasmaker=_numbered())
    return stream.getvalue()


def _set(name: str, sections: tuple[Section, ...], checklist: Checklist, width: float) -> list[Flowable]:
    story: list[Flowable] = [_text(f"Checklist: {name}", _TITLE)]
    story += [_text(f"⚠ {caution}", _CAUTION) for caution in checklist.cautions]
    story.append(Spacer(1, 4 * mm))
    for section in sections:
        table = _table(section, checklist, width)
        # A heading never stands alone at the foot of a page; the table may still break between its rows.
        story += [CondPageBreak(_first_rows(table, width)), table]
    return story


def _first_rows(table: LongTable, width: float) -> float:
    """Return the height of a section's heading with the table's header and first row."""
    table.wrap(width, 10**6)
    return float(sum(getattr(table, "_rowHeights", ())[: HEADINGS + 1]) + 1)


def _table(section: Section, checklist: Checklist, width: float) -> LongTable:
    titles = (*BOXES, "place", "old part", "new part", "polarity, leads, care", "measured")
    lines = len(section.tasks)
    named = _text(f"{section.title} — {lines} place{'' if lines == 1 else 's'}", _SECTION)
    rows: list[list[Any]] = [[named, *[""] * (len(titles) - 1)], [_text(title, _HEAD) for title in titles]]
    rows += [_row(run, checklist) for whole in runs(section, TOGETHER) for run in _on_lines(whole, checklist)]
    widths = list(WIDTHS)
    widths[REMARKS_COLUMN] += width - sum(WIDTHS)
    table = LongTable(rows, colWidths=widths, repeatRows=HEADINGS, spaceBefore=6)
    table.setStyle(
        TableStyle(
            [
                ("VALIGN", (0, 0), (-1, -1), "TOP"),
                ("VALIGN", (0, 1), (-1, 1), "BOTTOM"),
                ("SPAN", (0, 0), (-1, 0)),
                ("LINEBELOW", (0, 1), (-1, 1), 1.4, "black"),
                ("LINEBELOW", (0, HEADINGS), (-1, -1), 0.5, "black"),
                ("LINEBEFORE", (-1, 1), (-1, -1), 0.5, "black"),
                ("LEFTPADDING", (0, 0), (-1, -1), CELL_LEFT),
                ("LEFTPADDING", (0, 0), (-1, 0), 0),
                ("RIGHTPADDING", (0, 0), (-1, -1), CELL_RIGHT),
                ("TOPPADDING", (0, HEADINGS), (-1, -1), 4),
                ("BOTTOMPADDING", (0, HEADINGS), (-1, -1), 4),
                ("NOSPLIT", (0, 0), (-1, HEADINGS)),
            ]
        )
    )
    return table


def _on_lines(run: tuple[Task, ...], checklist: Checklist) -> list[tuple[Task, ...]]:
    """Return the run whole where every place's name fits on one line, else each place for itself."""
    room = WIDTHS[PLACE_COLUMN] - CELL_LEFT - CELL_RIGHT
    names = [printable(where(task, checklist)) for task in run]
    fits = all(stringWidth(name, BOLD, _STRONG.fontSize) <= room for name in names)
    return [run] if fits else [(task,) for task in run]


def _row(run: tuple[Task, ...], checklist: Checklist) -> list[Any]:
    """Return one row: of several places each has its boxes and its line, and the rest is said once."""
    first = run[0]
    said = remarks(first)
    dangers = len(first.dangers)  # they stand first
    notes = [_text(text, _MARK) for text in (first.polarity, *said[:dangers])]
    notes += [_text(text, _BODY) for text in said[dangers:]]
    new = (
        [_text(NOTHING, _STRONG)] if first.part is None else _thing(first.part, f"{first.part.number} ({first.source})")
    )
    if len(run) == 1:
        return [
            *(TickBox() for _ in BOXES),
            _text(where(first, checklist), _STRONG),
            _thing(first.position),
            new,
            notes,
            "",
        ]
    rooms = [WIDTHS[at] - CELL_LEFT - CELL_RIGHT for at in (PLACE_COLUMN, -1)]
    names = [PlaceLine(printable(where(task, checklist)), rooms[0]) for task in run]
    lines = [PlaceLine("", rooms[1]) for _ in run]
    return [*([TickBox(LINE) for _ in run] for _ in BOXES), names, _thing(first.position), new, notes, lines]


def _thing(thing: Part | Position, name: str = "") -> list[Paragraph]:
    """Return value and voltage large, for they must not be mistaken, then which part it is and the rest small."""
    details = ", ".join(text for text in (detail_text(thing), _unbroken(size_text(thing))) if text)
    lines = [_text(_unbroken(value_text(thing)) or "value not stated", _VALUE)]
    return lines + [_text(text, _BODY) for text in (name, details) if text]


def _unbroken(text: str) -> str:
    """Keep numbers and their units on one line."""
    return text.replace(" ", "\u00a0").replace(",\u00a0", ", ")


def _text(text: str, style: ParagraphStyle) -> Paragraph:
    """Return a paragraph of plain text: nothing in it is read as markup, long words break."""
    flowing = ParagraphStyle(style.name, style, splitLongWords=True)
    return Paragraph(escape(printable(text)), flowing)


def _page(document: BaseDocTemplate, index: int, name: str, checklist: Checklist) -> PageTemplate:
    def draw(canvas: Canvas, _: BaseDocTemplate) -> None:
        canvas.saveState()
        width, height = document.pagesize
        canvas.setFont(BOLD, 12)
        canvas.drawString(MARGIN, height - MARGIN, shortened(name, BOLD, 12, width - 2 * MARGIN))
        canvas.setFont(PLAIN, 8.5)
        foot = shortened(f"{checklist.made_on.isoformat()} · {checklist.origin}", PLAIN, 8.5, width - 2 * MARGIN - 90)
        canvas.drawString(MARGIN, MARGIN - 2 * mm, foot)
        canvas.restoreState()

    frame = Frame(document.leftMargin, document.bottomMargin, document.width, document.height, 0, 0, 0, 0)
    return PageTemplate(id=f"set{index}", frames=[frame], onPage=draw, pagesize=document.pagesize)


def _numbered() -> type[Canvas]:
    """Return a canvas that writes "page 2 of 7": the count is known only after the last page."""
    from reportlab.pdfgen.canvas import Canvas as Plain

    class Numbered(Plain):  # type: ignore[misc] # reportlab has no types
        def __init__(self, *args: Any, **kwargs: Any) -> None:  # noqa: ANN401 - reportlab passes its own
            super().__init__(*args, **kwargs)
            self._pages: list[dict[str, Any]] = []

        def showPage(self) -> None:
            self._pages.append(dict(self.__dict__))
            self._startPage()

        def save(self) -> None:
            for number, page in enumerate(self._pages, 1):
                self.__dict__.update(page)
                self.setFont(PLAIN, 8.5)
                text = f"page {number} of {len(self._pages)}"
                self.drawRightString(self._pagesize[0] - MARGIN, MARGIN - 2 * mm, text)
                super().showPage()
            super().save()

    return Numbered
