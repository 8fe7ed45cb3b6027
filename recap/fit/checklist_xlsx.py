"""The checklist as a workbook: a sheet per set, a row per position, cells to tick and to write measured values in."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Final

from openpyxl.styles import Alignment, Border, Font, Side
from openpyxl.worksheet.datavalidation import DataValidation

from recap.fit.checklist import BOXES, Checklist, remarks, where
from recap.fit.worklist import sets_of
from recap.order.sheets import (
    FACE,
    HIGHEST_ROW,
    CellValue,
    Column,
    add_sheet,
    book_bytes,
    lines_of,
    new_book,
    put,
    put_heading,
    put_note,
    put_table,
)

if TYPE_CHECKING:
    from openpyxl import Workbook
    from openpyxl.worksheet.worksheet import Worksheet

    from recap.fit.worklist import Section, Task

TYPE_SIZE: Final = 12
_COLUMNS: Final = (
    *(Column(box, 9) for box in BOXES),
    Column("board", 16, wrap=True),
    Column("place", 14, wrap=True),
    Column("old part", 30, wrap=True),
    Column("new part", 34, wrap=True),
    Column("from", 14, wrap=True),
    Column("polarity", 18, wrap=True),
    Column("leads, care", 48, wrap=True),
    Column("measured", 14),
)
_EDGE: Final = Side(style="medium")
_BOX: Final = Border(left=_EDGE, right=_EDGE, top=_EDGE, bottom=_EDGE)
_LINE_HEIGHT: Final = 16.5


def checklist_xlsx(checklist: Checklist) -> bytes:
    """Return the checklist as the bytes of an ``.xlsx`` file."""
    book = new_book()
    sets = sets_of(checklist.sections)
    for name, sections in sets.items():
        _sheet(book, name, sections, checklist)
    if not sets:
        put_heading(add_sheet(book, "Checklist"), 1, "Nothing to do: no set has a job.")
    return book_bytes(book)


def _sheet(book: Workbook, name: str, sections: tuple[Section, ...], checklist: Checklist) -> None:
    sheet = add_sheet(book, name, landscape=True)
    row = put_heading(sheet, 1, f"Checklist: {name}", size=18)
    row = put_note(sheet, row, f"{checklist.made_on.isoformat()}, {checklist.origin}", columns=len(_COLUMNS))
    for caution in checklist.cautions:
        row = put_note(sheet, row, f"⚠ {caution}", columns=len(_COLUMNS), bold=True, lines=2)
    tasks = [task for section in sections for task in section.tasks]
    head = row + 1
    end = put_table(sheet, head, _COLUMNS, [_row(task, checklist) for task in tasks])
    for index, task in enumerate(tasks, head + 1):
        _finish_row(sheet, index, task)
    marks = DataValidation(type="list", formula1='"x"', allow_blank=True)
    marks.add(f"A{head + 1}:{chr(ord('A') + len(BOXES) - 1)}{end - 1}")
    sheet.add_data_validation(marks)
    put(sheet, end + 1, 1, "Put an x where a step is done.")


def _row(task: Task, checklist: Checklist) -> list[CellValue]:
    return [
        *(None for _ in BOXES),
        task.board,
        where(task, replace(checklist, by_part=False)),
        task.old,
        task.new,
        task.source,
        task.polarity,
        "\n".join(remarks(task)),
        None,
    ]


def _finish_row(sheet: Worksheet, row: int, task: Task) -> None:
    """Make the row large enough for its text and the boxes look like boxes."""
    lines = lines_of(_COLUMNS, [str(cell.value or "") for cell in sheet[row]], letter=1.18)
    sheet.row_dimensions[row].height = min(_LINE_HEIGHT * max(lines, 2), HIGHEST_ROW)
    for column, cell in enumerate(sheet[row], 1):
        strong = _COLUMNS[column - 1].title in {"place", "polarity"} or task.part is None
        cell.font = Font(name=FACE, size=TYPE_SIZE, bold=strong)
        if column <= len(BOXES):
            cell.border = _BOX
            cell.alignment = Alignment(horizontal="center", vertical="center")
