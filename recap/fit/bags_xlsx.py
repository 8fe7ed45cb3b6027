"""The bags as a workbook: a sheet per set, one for what goes into no bag."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from recap.fit.worklist import NOTHING
from recap.order.sheets import COUNT, CellValue, Column, add_sheet, book_bytes, new_book, put_heading, put_table
from recap.order.wording import thing_text

if TYPE_CHECKING:
    from recap.fit.bags import Bag, Sorting
    from recap.fit.plan import ExtraPiece

_COLUMNS: Final = (
    Column("in the bag", 12),
    Column("board", 14),
    Column("pieces", 7, COUNT),
    Column("part", 20),
    Column("what it is", 40, wrap=True),
    Column("for", 40, wrap=True),
    Column("from", 20),
)


def bags_xlsx(sorting: Sorting) -> bytes:
    """Return all bags as the bytes of an ``.xlsx`` file."""
    book = new_book()
    for bag in sorting.bags:
        sheet = add_sheet(book, bag.set, landscape=True)
        row = put_heading(sheet, 1, f"Bag of {bag.set}: {bag.pieces} pieces", size=18)
        put_table(sheet, row + 1, _COLUMNS, _rows(bag))
    sheet = add_sheet(book, "Into no bag", landscape=True)
    row = put_heading(sheet, 1, "Into no bag: spares and what was left over go into the drawer", size=14)
    rows = [_extra(piece) for piece in sorting.extras]
    rows += [
        [None, "drawer", left.qty, left.part.number, thing_text(left.part), "spares", left.supplier]
        for left in sorting.leftovers
    ]
    put_table(sheet, row + 1, _COLUMNS, rows)
    return book_bytes(book)


def _rows(bag: Bag) -> list[list[CellValue]]:
    rows: list[list[CellValue]] = [
        [
            None,
            compartment.title,
            content.qty,
            content.part.number if content.part else NOTHING,
            content.description,
            ", ".join(content.refs),
            content.source,
        ]
        for compartment in bag.compartments
        for content in compartment.contents
    ]
    return rows + [_extra(piece) for piece in bag.extras]


def _extra(piece: ExtraPiece) -> list[CellValue]:
    number = piece.part.number if piece.part else NOTHING
    return [None, "other parts", piece.qty, number, piece.extra.item, piece.extra.note, piece.supplier]
