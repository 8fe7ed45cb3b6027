"""Where a price list's header is and what it says."""

from __future__ import annotations

import re
from dataclasses import replace
from decimal import Decimal
from typing import TYPE_CHECKING

from recap.bench.column_cells import told_by_cells
from recap.bench.column_heads import FAST_RIPPLE, Column, column_of
from recap.bench.header_rows import header_rows
from recap.bench.layout import Layout, PriceColumns
from recap.bench.moneys import of_money
from recap.bench.price_plan import Heading, pairs_of, price_plan, with_discounts
from recap.bench.titles import stated_above
from recap.bench.word_plan import word_plan
from recap.diagnostics import Diagnostic, Severity, Source, error, note, warning
from recap.normalise.preferred import is_rated_voltage
from recap.read.delimited import column_letters
from recap.read.headers import key, not_understood
from recap.read.sheet_headers import MAKERS_NUMBERS, MULTIPLES, NOT_NEEDED, PRICE_SHEET

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from recap.read.cells import Row, Table

ENOUGH = 60
"""So many rows are looked at to tell what a column holds."""
NO_HEADER_HINT = "the first row names the columns: part, value, volts, prices …"
_FREE = re.compile(r"\bfree\b|\bavail|\bfrei|verfügbar|disponib", re.IGNORECASE)
_MAKERS_NUMBERS = frozenset(map(key, MAKERS_NUMBERS))
_MULTIPLES = frozenset(map(key, MULTIPLES))
_READ_ELSEWHERE = frozenset({"pieces", "money", "other money", "status", "ended"})
_NOT_NEEDED = frozenset(map(key, NOT_NEEDED))
MADE_OF = ("value", "volts", "temp", "life", "diameter", "height", "pitch", "mount", "kind")
"""The columns that a part number is made of where the list has none."""


def header_of(
    table: Table, file: str, currency: str | None = None
) -> tuple[Layout, list[Diagnostic]] | list[Diagnostic]:
    """Return what the header of ``table`` says and what is to be told; or why there is none.

    Of prices in several currencies side by side those in ``currency``, the supplier's, are taken.
    """
    rows = header_rows(table)
    if rows is None:
        shown = next((row for row in table.rows if row.cells), None)
        found = ", ".join(cell.text for cell in shown.cells)[:100] if shown else None
        message = "no row of headers was found"
        place = Source(file, row=shown.source.row if shown else 1)
        return [error("header-missing", message, place, NO_HEADER_HINT, found)]
    head = table.rows[rows.first : rows.last + 1]
    cells = _cells_below(table.rows[rows.last + 1 :])
    columns = [column_of(at, parts, _place(head, at)) for at, parts in enumerate(rows.columns)]
    columns, told = told_by_cells(columns, cells)
    columns, said = of_money(columns, currency)
    told += said
    layout, said = _layout(columns, cells, head[-1].source if rows.last > rows.first else head[0].source)
    told += said
    at = {column.source: column.at for column in columns}
    told.sort(key=lambda one: at.get(one.source, len(columns)))
    stated, pieces, above = stated_above(table.rows[: rows.first], currency)
    prices = layout.prices
    if pieces > 1:
        prices = replace(prices, per=dict.fromkeys(prices.all, pieces) | dict(prices.per))
    texts = tuple(tuple(cell.text for cell in row.cells) for row in head)
    if layout.columns.get("temp") is None:
        for column in columns:
            if column.temp is not None:
                stated["temp"] = f"{column.temp} °C"
                message = f"the header {column.text!r} says of all rows: temp {stated['temp']}"
                above.append(note("heading-carried", message, column.source, found=column.text))
    layout = replace(layout, last=rows.last, rows=texts, stated=stated, prices=prices)
    return layout, told + above + _headless(columns, cells)


def _place(head: Sequence[Row], at: int) -> Source:
    """Return where the header of a column stands: its lowest row that says something."""
    for row in reversed(head):
        if at < len(row.cells) and row.cells[at].text:
            return row.cells[at].source
    first = head[0].source
    return Source(first.file, first.sheet, first.row, column_letters(at))


def _cells_below(rows: Sequence[Row]) -> dict[int, list[str]]:
    """Return the texts under each column in the first rows that have more than one."""
    found: dict[int, list[str]] = {}
    looked_at = 0
    for row in rows:
        if len({cell.text for cell in row.cells if cell.text}) < 2:  # noqa: PLR2004 - a heading has one text
            continue
        looked_at += 1
        if looked_at > ENOUGH:
            break
        for at, cell in enumerate(row.cells):
            found.setdefault(at, []).append(cell.text)
    return found


def _layout(
    columns: Sequence[Column], cells: Mapping[int, Sequence[str]], row: Source
) -> tuple[Layout, list[Diagnostic]]:
    texts = tuple(column.text for column in columns)
    pairs = pairs_of(texts, cells)
    paired = {at for pair in pairs for at in pair}
    blank = {"fields": (), "role": None, "price": None, "discount": None}
    columns = [replace(one, **blank) if one.at in paired else one for one in columns]  # type: ignore[arg-type]
    own, units, told = _own(columns)
    headings = [Heading(one.at, one.text, one.source, one.price) for one in columns if one.price is not None]
    prices, said = price_plan(headings, pairs, cells, row, texts)
    told += said
    rates = [(one.discount, one.at, one.source) for one in columns if one.discount is not None]
    prices, said = with_discounts(prices, rates, texts)
    told += said
    prices, said = _by_the_pieces(columns, headings, prices, own, row)
    told += said
    told += _of_a_pack(columns, headings, prices, own, cells)
    words, said = word_plan(columns, own)
    told += said
    unknown = [one for one in columns if one.text and one.at not in paired and _says_nothing(one, words)]
    missing = {name for name in PRICE_SHEET if name not in own and not (name == "prices" and (headings or pairs))}
    free = [name for name in PRICE_SHEET if name in missing]
    told += [_not_read(one, free) for one in unknown]
    described = tuple(one.at for one in columns if one.role == "description")
    noted = tuple(one.at for one in columns if one.role == "note")
    made, said = _made(columns, own, described, row, texts)
    told += said
    if not headings and not pairs:
        told.append(_missing("prices", row, texts))
    if "part" not in own and len({"value", "volts"} & set(own)) == 1 and not described:
        told += _may_be_grid(headings, row, of_volts="value" in own)
    at = tuple(one.at for one in unknown)
    status = next((one for one in columns if one.role in {"status", "ended"}), None)
    ended = (None if status is None else status.at, status is not None and status.role == "ended")
    return Layout(0, (), texts, own, units, words, prices, made, {}, at, described, noted, *ended), told


def _own(columns: Sequence[Column]) -> tuple[dict[str, int], dict[str, str], list[Diagnostic]]:
    own: dict[str, int] = {}
    units: dict[str, str] = {}
    told: list[Diagnostic] = []
    for column in columns:
        if len(column.fields) != 1:
            continue
        (field,) = column.fields
        if field == "part" and field in own and (by_maker := _by_maker(columns[own[field]], column)) is not None:
            of_supplier = column if by_maker is not column else columns[own[field]]
            own[field] = of_supplier.at
            message = f"{by_maker.text!r} holds part numbers too; {of_supplier.text!r}, the supplier's own, was read"
            hint = "to go by the maker's numbers, delete the other column"
            told.append(warning("header-twice", message, by_maker.source, hint, by_maker.text))
            continue
        if field == "stock" and field in own and (free := _free_stock(columns[own[field]], column)) is not None:
            other = column if free is not column else columns[own[field]]
            own[field] = free.at
            message = f"{other.text!r} counts what isn't to be had too; {free.text!r} was read"
            told.append(note("header-passed-over", message, other.source, found=other.text))
            continue
        if field in own:
            message = f"two columns mean {field}: {columns[own[field]].text!r} and {column.text!r}; the first was read"
            told.append(error("header-twice", message, column.source, "delete or rename one", column.text))
            continue
        own[field] = column.at
        if column.unit is not None:
            units[field] = column.unit
        if column.unit is not None and column.unit.endswith("mF"):
            message = f"the numbers under {column.text!r} were taken for µF, as old lists write it"
            hint = "where millifarads are meant, head it µF and write 1000 for each of them"
            told.append(warning("unit-old", message, column.source, hint, column.text))
    return own, units, told


def _by_maker(one: Column, other: Column) -> Column | None:
    """Return the one of two columns of part numbers that is headed as the maker's, if just one of them is."""
    of_makers = [column for column in (one, other) if key(column.text) in _MAKERS_NUMBERS]
    return of_makers[0] if len(of_makers) == 1 else None


def _free_stock(one: Column, other: Column) -> Column | None:
    """Return the one of two columns of stock that counts what is free, if just one of them is."""
    free = [column for column in (one, other) if _FREE.search(column.text)]
    return free[0] if len(free) == 1 else None


def _says_nothing(column: Column, words: Mapping[str, tuple[int, ...]]) -> bool:
    if len(column.fields) == 1 or column.price or column.discount or column.role in _READ_ELSEWHERE:
        return False
    return not any(column.at in sources for sources in words.values())


def _not_read(column: Column, free: Sequence[str]) -> Diagnostic:
    if column.role == "no kind":
        message = f"no cell under {column.text!r} is a kind or way of mounting; the column was not read"
        hint = "if it holds part numbers, head it part"
        return warning("header-unknown", message, column.source, hint, column.text)
    if column.role == FAST_RIPPLE:
        message = f"{column.text!r} holds at another frequency than the mains' 100 or 120 Hz, where a part bears less"
        hint = "not read; if your lists state ripple at that frequency too, head it ripple"
        return warning("header-unknown", message, column.source, hint, column.text)
    if column.role is not None or column.fields or key(column.text) in _NOT_NEEDED:
        message = f"column {column.text!r} holds nothing that has no column of its own"
        return note("header-passed-over", message, column.source, found=column.text)
    return not_understood(column.text, PRICE_SHEET, free, column.source, Severity.ERROR)


def _by_the_pieces(
    columns: Sequence[Column], headings: Sequence[Heading], prices: PriceColumns, own: Mapping[str, int], row: Source
) -> tuple[PriceColumns, list[Diagnostic]]:
    """Find the column that says row by row of how many pieces a price is: its own, or the pack's for a pack's price."""
    pieces = next((one.at for one in columns if one.role == "pieces"), None)
    money = next((one.at for one in columns if one.role == "money"), None)
    prices = replace(prices, money_at=money)
    if not any(one.head.pack for one in headings if one.at in prices.all):
        told = [] if pieces is None else [_by_row(columns[pieces])]
        return replace(prices, per_at=pieces), told
    packs = own.get("multiple", pieces)
    if packs is None:
        message = "the prices are those of a pack, and no column says how many pieces are in it"
        hint = "give one: pack size"
        return prices, [error("header-missing", message, row, hint)]
    return replace(prices, per_at=packs, packed=True), []


def _of_a_pack(
    columns: Sequence[Column],
    headings: Sequence[Heading],
    prices: PriceColumns,
    own: Mapping[str, int],
    cells: Mapping[int, Sequence[str]],
) -> list[Diagnostic]:
    """Say how one price beside a pack's size was taken where no word tells: it may as well be the pack's."""
    head = next((one for one in headings if one.at == prices.lone), None)
    if head is None or head.head.each or head.head.per > 1 or prices.per_at is not None or "multiple" not in own:
        return []
    packs = columns[own["multiple"]]
    if key(packs.text) in _MULTIPLES or all(text.strip() in {"", "1"} for text in cells.get(packs.at, ())):
        return []
    if any(":" in text for text in cells.get(head.at, ())):
        return []  # a ladder says from how many pieces on each price holds
    message = f"the prices under {head.text!r} were taken for those of one piece, not of a pack ({packs.text!r})"
    hint = "where they are a pack's, head them Price per pack; Price each says that they aren't"
    return [warning("pack-price", message, head.source, hint, head.text)]


def _by_row(column: Column) -> Diagnostic:
    message = f"column {column.text!r} says of how many pieces the price of its row is; each was divided by it"
    return note("price-per", message, column.source, "if it says something else, head it so, or delete it", column.text)


def _made(
    columns: Sequence[Column], own: Mapping[str, int], described: tuple[int, ...], row: Source, texts: Sequence[str]
) -> tuple[tuple[int, ...], list[Diagnostic]]:
    """Return the columns that part numbers are made of where the list has none."""
    if "part" in own:
        return (), []
    sizes = [one.at for one in columns if one.role == "size" or len(one.fields) > 1]
    made = tuple(dict.fromkeys([*described, *sorted([own[name] for name in MADE_OF if name in own] + sizes)]))
    if not made or not ({"value"} & set(own) or described or sizes):
        return (), [_missing("part", row, texts)]
    names = ", ".join(repr(texts[at]) for at in made)
    message = f"there is no column of part numbers: they were made of {names}"
    hint = "order by these words; with a column part of the supplier's numbers they stay the same when the list changes"
    return made, [warning("part-made", message, row, hint)]


def _may_be_grid(headings: Sequence[Heading], row: Source, *, of_volts: bool) -> list[Diagnostic]:
    """Tell of numbers over prices in a list of no parts: they are the other side of a grid as well as quantities."""
    bare = [one.text for one in headings if one.text.isdecimal()]
    if len(bare) < 2 or (of_volts and not all(map(_is_rating, bare))):  # noqa: PLR2004 - a grid has several columns
        return []
    message = f"{', '.join(bare[:4])} over the prices may be quantities, or voltages or capacitances of a grid"
    hint = f"write quantities as {bare[0]}+; in a grid each with its unit ({bare[0]} V), and a line above it: Prices"
    return [error("grid-unclear", message, row, hint)]


def _is_rating(text: str) -> bool:
    return int(text) > 1 and is_rated_voltage(Decimal(text))


def _missing(name: str, row: Source, texts: Sequence[str]) -> Diagnostic:
    hint = "give one of the columns that name: " + ", ".join(dict.fromkeys((name, *PRICE_SHEET[name][:4])))
    return error("header-missing", f"there is no column for {name}", row, hint, ", ".join(texts)[:100])


def _headless(columns: Sequence[Column], cells: Mapping[int, Sequence[str]]) -> list[Diagnostic]:
    """Tell of columns that hold something and have no header."""
    headed = {column.at for column in columns if column.text}
    first = columns[0].source if columns else Source("")
    told = []
    for at in sorted(set(cells) - headed):
        if at < len(columns) and any(cells[at]):
            place = Source(first.file, first.sheet, first.row, column_letters(at))
            message = f"column {column_letters(at)} has no header; it was not read"
            told.append(warning("header-blank", message, place, "head it, or delete it"))
    return told
