"""Catalogues and price changes in the terminal and as JSON."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from rich.text import Text

from recap.bench.merge import What, price_change
from recap.normalise.values import format_capacitance, plain
from recap.order.wording import thing_text
from recap.show.documents import amount, diagnostics_document, number
from recap.show.tables import plain_table
from recap.show.terminal import counted

if TYPE_CHECKING:
    from collections.abc import Sequence
    from datetime import date

    from rich.console import Console

    from recap.bench.merge import Change, Merge
    from recap.bench.shelves import Shelf
    from recap.diagnostics import Diagnostic
    from recap.match.coverage import Cover
    from recap.model import Part

SHOWN = 15
"""So many parts of a kind are listed in the terminal; JSON has all."""


@dataclass(frozen=True, slots=True)
class Stock:
    """What one supplier's catalogue holds, and what is to be minded about it."""

    supplier: str
    file: str
    currency: str
    offers: int
    shelves: tuple[Shelf, ...]
    old: tuple[Part, ...]
    oldest: date | None
    odd: tuple[Diagnostic, ...]


def print_summary(console: Console, stocks: Sequence[Stock], covers: Sequence[Cover]) -> None:
    """Print one line for each supplier, then the groups that none or only one of them could serve."""
    table = plain_table()
    table.add_column("supplier", no_wrap=True)
    for title in ("offers", "values", "volts", "old", "odd", "serves"):
        table.add_column(title, justify="right")
    table.add_column("oldest")
    for stock in stocks:
        served = sum(stock.supplier in cover.suppliers for cover in covers)
        values = {shelf.value_uF for shelf in stock.shelves} - {None}
        volts = {shelf.volts for shelf in stock.shelves} - {None}
        numbers = (stock.offers, len(values), len(volts), len(stock.old), len(stock.odd))
        cells = [f"{count:,}" for count in numbers]
        oldest = "" if stock.oldest is None else stock.oldest.isoformat()
        table.add_row(Text(stock.supplier), *cells, f"{served} of {len(covers)}", oldest)
    console.print(table)
    console.print("old: prices older than offer_days; odd: prices that look mistyped; serves: groups on the job.")
    _print_gaps(console, covers)
    console.print("One of them in full: recap catalog BENCH SUPPLIER")


def _print_gaps(console: Console, covers: Sequence[Cover]) -> None:
    nowhere = [cover for cover in covers if not cover.suppliers]
    alone = [cover for cover in covers if len(cover.suppliers) == 1]
    titles = "No catalogue has a fitting part for", "Only one supplier has a fitting part for"
    for title, found in zip(titles, (nowhere, alone), strict=True):
        if found:
            console.print(Text(f"{title} {counted(len(found), 'group')}:"))
        for cover in found:
            who = "".join(f"  ({name})" for name in cover.suppliers)
            drawer = "  (in the drawer)" if cover.drawer else ""
            line = f"  {cover.group.id}, {counted(cover.group.need, 'piece')}{who}{drawer}"
            console.print(Text(line), soft_wrap=True)
    if covers and not nowhere:
        console.print("Every group on the job is offered somewhere.")


def print_stock(console: Console, stock: Stock, covers: Sequence[Cover]) -> None:
    """Print what one catalogue holds by value and voltage, its gaps, its old and its odd offers."""
    console.print(Text(f"{stock.supplier}: {counted(stock.offers, 'offer')}, prices in {stock.currency}"))
    table = plain_table()
    table.add_column("value", justify="right", no_wrap=True)
    table.add_column("offers", justify="right")
    table.add_column("by rated voltage")
    for value in dict.fromkeys(shelf.value_uF for shelf in stock.shelves):
        row = [shelf for shelf in stock.shelves if shelf.value_uF == value]
        by_volts = ", ".join(map(_shelf, row))
        total = f"{sum(shelf.offers for shelf in row):,}"
        table.add_row("not stated" if value is None else format_capacitance(value), total, by_volts)
    console.print(table)
    lacking = [cover for cover in covers if stock.supplier not in cover.suppliers]
    if covers:
        console.print(f"It has a part for {len(covers) - len(lacking)} of {counted(len(covers), 'group')} on the job.")
    for cover in lacking:
        console.print(Text(f"  lacking: {cover.group.id}, {counted(cover.group.need, 'piece')}"), soft_wrap=True)
    if stock.old:
        console.print(Text(f"{counted(len(stock.old), 'offer')} older than the bench's offer_days:"))
        for part in stock.old[:SHOWN]:
            console.print(Text(f"  {part.number}, {thing_text(part)}, of {part.updated}"), soft_wrap=True)
        _print_rest(console, len(stock.old))
    if stock.odd:
        console.print(Text(f"{counted(len(stock.odd), 'odd price')}:"))
        for one in stock.odd[:SHOWN]:
            console.print(Text(f"  {one.source}: {one.message}"), soft_wrap=True)
        _print_rest(console, len(stock.odd))


def _print_rest(console: Console, count: int) -> None:
    if count > SHOWN:
        console.print(f"  … and {count - SHOWN} more (--json lists all)")


def _shelf(shelf: Shelf) -> str:
    """Return ``50 V ×3`` with spaces that no line breaks at."""
    volts = "not stated" if shelf.volts is None else f"{plain(shelf.volts)} V"
    return f"{volts} ×{shelf.offers}".removesuffix(" ×1").replace(" ", "\N{NO-BREAK SPACE}")


def stock_document(stock: Stock, covers: Sequence[Cover]) -> dict[str, Any]:
    """Return one supplier's catalogue as JSON."""
    return {
        "supplier": stock.supplier,
        "file": stock.file,
        "currency": stock.currency,
        "offers": stock.offers,
        "shelves": [
            {"value_uF": number(s.value_uF), "volts": number(s.volts), "offers": s.offers} for s in stock.shelves
        ],
        "oldest": stock.oldest,
        "old": [{"part": part.number, "updated": part.updated} for part in stock.old],
        "odd": diagnostics_document(stock.odd),
        "lacking": [cover.group.id for cover in covers if stock.supplier not in cover.suppliers],
    }


def gaps_document(covers: Sequence[Cover]) -> list[dict[str, Any]]:
    """Return every group with who could serve it."""
    return [
        {"group": c.group.id, "need": c.group.need, "suppliers": list(c.suppliers), "drawer": c.drawer} for c in covers
    ]


def print_merge(console: Console, merge: Merge, *, drop_gone: bool) -> None:
    """Print what changed, kind by kind, the first parts of each."""
    fate = "taken out" if drop_gone else "kept as they were; --drop-gone takes them out"
    for what in What:
        found = [change for change in merge.changes if change.what is what]
        if not found:
            continue
        title = f"{what.value}: {counted(len(found), 'part')}" + (f", {fate}" if what is What.GONE else "")
        table = plain_table(title)
        table.add_column("part", no_wrap=True)
        table.add_column("what it is")
        table.add_column("before", justify="right")
        table.add_column("now", justify="right")
        for change in found[:SHOWN]:
            part = change.new or change.old
            assert part is not None
            table.add_row(Text(change.number), Text(thing_text(part)), *_before_and_now(change))
        console.print(table)
        _print_rest(console, len(found))
    same, whole = counted(merge.unchanged, "part"), counted(len(merge.parts), "part")
    console.print(f"{same} unchanged; {whole} in the merged list.")


def _before_and_now(change: Change) -> tuple[str, str]:
    priced = price_change(change)
    if priced is not None:
        old, new, quantity = priced
        at = f" from {quantity}" if quantity > 1 else ""
        percent = f" ({(new / old - 1) * 100:+.0f} %)" if old else ""
        return f"{amount(old)}{at}", f"{amount(new)}{at}{percent}"
    if change.what is What.STOCK and change.old is not None and change.new is not None:
        return _stock(change.old.stock), _stock(change.new.stock)
    return _first_price(change.old), _first_price(change.new)


def _stock(stock: int | None) -> str:
    return "no limit" if stock is None else f"{stock} there"


def _first_price(part: Part | None) -> str:
    return amount(part.prices[0].unit_price) if part is not None and part.prices else ""


def merge_document(merge: Merge, file: str | None, backup: str | None) -> dict[str, Any]:
    """Return the changes as JSON; ``file`` and ``backup`` are null where nothing was written."""
    return {
        "changes": [
            {"part": c.number, "what": c.what.value, "old": _offer(c.old), "new": _offer(c.new)} for c in merge.changes
        ],
        "unchanged": merge.unchanged,
        "parts": len(merge.parts),
        "file": file,
        "backup": backup,
    }


def _offer(part: Part | None) -> dict[str, Any] | None:
    if part is None:
        return None
    prices = " ".join(f"{step.quantity}:{step.unit_price:f}" for step in part.prices)
    return {"prices": prices, "stock": part.stock, "updated": part.updated}
