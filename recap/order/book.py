"""The order as a workbook: summary, one sheet per supplier, needs, who gets what, drawer, unmet, comparison."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from recap.model import Kind, Status
from recap.order.allot import allot
from recap.order.cautions import LETHAL, PRICES, TRAINED
from recap.order.report import THIS_ORDER, Report, shares
from recap.order.sheets import (
    COUNT,
    DATE,
    MONEY,
    QUANTITY,
    UNIT_PRICE,
    CellValue,
    Column,
    add_sheet,
    book_bytes,
    new_book,
    put,
    put_heading,
    put_note,
    put_table,
    put_total,
    set_widths,
)
from recap.order.unmet import near_misses
from recap.order.wording import size_text

if TYPE_CHECKING:
    from decimal import Decimal

    from openpyxl import Workbook

    from recap.model import Group, OrderLine, Part, Position, SupplierOrder

STATUS_WORDS: Final = {
    Status.OPTIMAL: "This is the cheapest order that meets the needs; it is proven that none costs less.",
    Status.FEASIBLE: "This order meets the needs, but time ran out before it was proven cheapest.",
    Status.IMPOSSIBLE: "No order can meet all needs. What can't be had is on the sheet “Unmet”.",
}

PART_WORDS: Final = "This order covers what can be had, as cheaply as was found; it does NOT meet all needs."
"""Stands instead where some needs are unmet."""


def order_book(report: Report) -> bytes:
    """Return the workbook of an order as the bytes of an ``.xlsx`` file."""
    book = new_book()
    _summary(book, report)
    for parcel in report.order.suppliers if report.order else ():
        _parcel(book, parcel, report)
    _needs(book, report)
    _by_set(book, report)
    _drawer(book, report)
    _unmet(book, report)
    if report.alternatives:
        _comparison(book, report)
    return book_bytes(book)


_SUMMARY = (
    Column("supplier", 24),
    Column("currency", 10),
    Column("lines", 8, COUNT),
    Column("pieces", 8, COUNT),
    Column("goods", 11, MONEY),
    Column("shipping", 11, MONEY),
    Column("fees", 11, MONEY),
    Column("duty", 11, MONEY),
    Column("tax", 11, MONEY),
    Column("rate", 9, QUANTITY),
    Column("landed", 12, MONEY),
)


def _summary(book: Workbook, report: Report) -> None:
    sheet = add_sheet(book, "Summary", landscape=True)
    set_widths(sheet, _SUMMARY)
    width = len(_SUMMARY)
    row = put_heading(sheet, 1, f"Order of {report.made_on.isoformat()}")
    words = PART_WORDS if report.unmet and report.order else STATUS_WORDS[report.status]
    row = put_note(sheet, row, words, columns=width, bold=True)
    if report.status is Status.FEASIBLE and report.bound is not None:
        row = put_note(sheet, row, f"No order costs less than {report.bound:.2f} {report.currency}.", columns=width)
    if report.unmet:
        pieces = sum(need.pieces for need in report.unmet)
        text = f"NOT COVERED: {pieces} pieces of {len(report.unmet)} groups; see the sheet “Unmet”."
        row = put_note(sheet, row, text, columns=width, bold=True)
    parcels = report.order.suppliers if report.order else ()
    rows = [_summary_row(parcel) for parcel in parcels]
    row = put_table(sheet, row + 1, _SUMMARY, rows, main=False)
    total = report.order.total if report.order else None
    row = put_total(sheet, row, f"total, {report.currency}", total, label_column=1, value_column=width)
    drawn = sum(use.qty for taken in (report.order.drawer if report.order else ()) for use in taken.uses)
    if drawn:
        row = put_note(sheet, row + 1, f"{drawn} pieces come from the drawer and cost nothing.", columns=width)
    row = put_note(
        sheet,
        row + 1,
        "goods to tax are in the supplier's currency, landed is in the bench's "
        "(rate: bench currency for one unit of the supplier's).",
        columns=width,
    )
    for caution in (LETHAL, TRAINED, PRICES):
        row = put_note(sheet, row, caution, columns=width, lines=2)


def _summary_row(parcel: SupplierOrder) -> list[CellValue]:
    return [
        parcel.terms.supplier,
        parcel.terms.currency,
        len(parcel.lines),
        sum(line.qty for line in parcel.lines),
        parcel.goods,
        parcel.shipping,
        parcel.fees,
        parcel.duty,
        parcel.tax,
        parcel.terms.rate,
        parcel.landed,
    ]


_LINES = (
    Column("part", 20),
    Column("maker, series", 20, wrap=True),
    Column("value µF", 10, QUANTITY),
    Column("V", 6, QUANTITY),
    Column("°C", 6, QUANTITY),
    Column("life h", 8, COUNT),
    Column("type", 18),
    Column("size, mm", 18),
    Column("qty", 7, COUNT),
    Column("unit price", 11, UNIT_PRICE),
    Column("goods", 11, MONEY),
    Column("left over", 11, COUNT),
    Column("for", 38, wrap=True),
)


def _type(thing: Part | Position) -> str:
    """Return mount, kind and safety class in one cell."""
    kind = None if thing.kind is Kind.UNKNOWN else thing.kind.value
    words = (thing.mount.value if thing.mount else None, kind, thing.safety)
    return " ".join(word for word in words if word)


def _parcel(book: Workbook, parcel: SupplierOrder, report: Report) -> None:
    sheet = add_sheet(book, f"Order {parcel.terms.supplier}", landscape=True)
    currency = parcel.terms.currency
    row = put_heading(sheet, 1, f"Order to {parcel.terms.supplier}, {report.made_on.isoformat()}, in {currency}")
    row = put_table(sheet, row + 1, _LINES, [_line_row(line) for line in parcel.lines])
    label, amount = _place("qty"), _place("goods")
    row = put_total(sheet, row, "goods", parcel.goods, label_column=label, value_column=amount)
    for name, value in (
        ("shipping", parcel.shipping),
        ("fees", parcel.fees),
        ("duty", parcel.duty),
        ("tax", parcel.tax),
    ):
        put(sheet, row, label, name)
        put(sheet, row, amount, value, form=MONEY)
        row += 1
    paid = parcel.goods + parcel.shipping + parcel.fees + parcel.duty + parcel.tax
    row = put_total(sheet, row, f"to pay, {currency}", paid, label_column=label, value_column=amount)
    if currency != report.currency:
        put_total(sheet, row, f"landed, {report.currency}", parcel.landed, label_column=label, value_column=amount)


def _place(title: str) -> int:
    return next(index for index, column in enumerate(_LINES, 1) if column.title == title)


def _line_row(line: OrderLine) -> list[CellValue]:
    used = sum(use.qty for use in line.uses)
    part = line.part
    return [
        part.number,
        ", ".join(word for word in (part.maker, part.series) if word),
        part.value_uF,
        part.volts,
        part.temp_C,
        part.life_h,
        _type(part),
        size_text(part),
        line.qty,
        line.unit_price,
        line.goods,
        line.qty - used or None,
        "; ".join(f"{use.qty} × {use.group}" for use in line.uses),
    ]


_ASKED = (
    Column("value µF", 10, QUANTITY),
    Column("V", 6, QUANTITY),
    Column("°C", 6, QUANTITY),
    Column("type", 18),
)
_NEEDS = (
    Column("group", 32),
    *_ASKED,
    Column("role", 11),
    Column("size, mm", 18),
    Column("places", 7, COUNT),
    Column("spares", 7, COUNT),
    Column("need", 6, COUNT),
    Column("covered", 8, COUNT),
    Column("from", 36, wrap=True),
    Column("with care", 30, wrap=True),
)


def _asked_cells(asks: Position | None) -> list[CellValue]:
    if asks is None:
        return [None] * len(_ASKED)
    return [asks.value_uF, asks.volts, asks.temp_C, _type(asks)]


def _needs(book: Workbook, report: Report) -> None:
    sheet = add_sheet(book, "Needs", landscape=True)
    row = put_heading(sheet, 1, "What all sets together need: equal places are one group")
    served = shares(report.order)

    def cells(group: Group) -> list[CellValue]:
        found = served.get(group.id, ())
        source = "; ".join(f"{share.qty} × {share.part.number} ({share.supplier})" for share in found)
        return [
            group.id,
            *_asked_cells(group.asks),
            group.asks.role.value if group.asks and group.asks.role else None,
            size_text(group.asks) if group.asks else None,
            group.positions_count,
            group.spares,
            group.need,
            sum(share.qty for share in found),
            source or "NOTHING",
            "; ".join(report.care.get(group.id, ())),
        ]

    put_table(sheet, row + 1, _NEEDS, [cells(group) for group in report.groups])


_BY_SET = (
    Column("set", 12),
    Column("board", 14),
    Column("ref", 8),
    Column("pieces", 7, COUNT),
    *_ASKED,
    Column("part", 20),
    Column("part µF", 9, QUANTITY),
    Column("part V", 7, QUANTITY),
    Column("from", 16),
    Column("with care", 34, wrap=True),
)


def _by_set(book: Workbook, report: Report) -> None:
    sheet = add_sheet(book, "By set", landscape=True)
    row = put_heading(sheet, 1, "Who gets what: every place in every set")
    rows: list[list[CellValue]] = []
    for piece in allot(report.groups, report.order):
        part = piece.part
        rows.append(
            [
                piece.set,
                piece.board,
                piece.position.ref,
                piece.qty,
                *_asked_cells(piece.position),
                part.number if part else "NOTHING",
                part.value_uF if part else None,
                part.volts if part else None,
                piece.supplier,
                "; ".join(report.care.get(piece.group, ())),
            ]
        )
    row = put_table(sheet, row + 1, _BY_SET, rows)
    extras = [group.extra for group in report.groups if group.extra is not None]
    if extras:
        row = put_heading(sheet, row + 1, "Other parts", size=12)
        for extra in extras:
            put(sheet, row, 1, extra.set)
            put(sheet, row, 2, extra.item)
            put(sheet, row, 4, extra.qty, form=COUNT)
            row += 1


_DRAWER = (
    Column("part", 20),
    Column("place", 24),
    Column("take", 8, COUNT),
    Column("lies there", 12, COUNT),
    Column("left", 8, COUNT),
    Column("bought", 12, DATE),
    Column("for", 50, wrap=True),
)


def _drawer(book: Workbook, report: Report) -> None:
    taken = report.order.drawer if report.order else ()
    sheet = add_sheet(book, "Drawer", landscape=True)
    row = put_heading(sheet, 1, "What comes from the drawer" if taken else "Nothing comes from the drawer")
    rows: list[list[CellValue]] = []
    for drawn in taken:
        pieces = sum(use.qty for use in drawn.uses)
        uses = "; ".join(f"{use.qty} × {use.group}" for use in drawn.uses)
        lying = drawn.part
        rows.append([lying.part.number, lying.place, pieces, lying.qty, lying.qty - pieces, lying.bought, uses])
    put_table(sheet, row + 1, _DRAWER, rows)


_UNMET = (
    Column("group", 32),
    Column("missing", 8, COUNT),
    Column("why", 48, wrap=True),
    Column("nearest parts", 48, wrap=True),
    Column("places", 32, wrap=True),
)


def _unmet(book: Workbook, report: Report) -> None:
    title = "What could not be had, and why" if report.unmet else "Nothing is unmet: every need is covered"
    sheet = add_sheet(book, "Unmet", landscape=True)
    row = put_heading(sheet, 1, title)
    known = {group.id: group for group in report.groups}
    rows: list[list[CellValue]] = []
    for need in report.unmet:
        near = "; ".join(f"{names}: {reason}" for names, reason in near_misses(need))
        near += "".join(
            f"; joined {c.joining}, with care: " + " + ".join(f"{n} × {p.number} ({p.supplier})" for p, n in c.pieces)
            for c in need.joined
        )
        group = known.get(need.group)
        places = ", ".join(f"{p.set} {p.position.ref or '?'}" for p in group.placed) if group else ""
        rows.append([need.group, need.pieces, need.reason, near, places])
    put_table(sheet, row + 1, _UNMET, rows)


_OTHERS = (
    Column("order", 44, wrap=True),
    Column("total", 12, MONEY),
    Column("dearer by", 12, MONEY),
    Column("note", 60, wrap=True),
)


def _comparison(book: Workbook, report: Report) -> None:
    sheet = add_sheet(book, "Comparison", landscape=True)
    row = put_heading(sheet, 1, f"What other orders would cost, in {report.currency}")
    best = report.order.total if report.order else None
    rows: list[list[CellValue]] = [[THIS_ORDER, best, None, ""]] if best is not None else []
    for other in report.alternatives:
        if other.name == THIS_ORDER and best is not None:
            continue
        dearer: Decimal | None = other.total - best if other.total is not None and best is not None else None
        note = other.note or ("can't meet the needs" if other.total is None else "")
        rows.append([other.name, other.total, dearer, note])
    put_table(sheet, row + 1, _OTHERS, rows)
