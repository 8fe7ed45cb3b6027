"""The columns of a price list as they stand become those of a plain catalogue: joined, filled up, divided."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from recap.bench.arrow import strings
from recap.bench.discounts import discounted
from recap.bench.findings import tell_rows
from recap.bench.in_words import BETWEEN, IN_WORDS
from recap.bench.lifecycle import ended_parts
from recap.bench.price_heads import pieces_of_cell
from recap.bench.taking import take
from recap.bench.texts import TextColumn, TextTable, combined
from recap.diagnostics import Severity
from recap.normalise.later import compiled
from recap.read.sheet_words import NO_PRICE

if TYPE_CHECKING:
    from collections.abc import Mapping

    from numpy.typing import NDArray

    from recap.bench.layout import Layout, PriceColumns
    from recap.diagnostics import Diagnostic

_INCHES = compiled(r"(?:\b(?:in|inch|inches|zoll|pouces?|pulgadas|pollici)\b|[\"″])\s*[)\]]?$", re.IGNORECASE)
_BARE = compiled(r"(?<![\d./])\d+(?:[.,]\d+)?(?![\d.,/]|\s?(?:mm|cm|\"|in\b|″|''))")
HEADING = "a heading above"
"""Stands for the header of what no column holds, but headings do."""
_ONE_PART = frozenset({"value", "volts", "kind", "mount", "temp", "life"})
"""What all rows of one part have in common."""
_DIGIT = compiled(r"\d")
_PACKED = compiled(
    r"\b(?:packs?|packets?|sets?|lots?|kits?|bags?|bundles?|assort\w*|sortiment\w*|beutel|packung|pckg|vpe|sachets?|paquets?|paquetes?|confezion[ei]|zakje)"
    r"\s*(?:of|à|a|von|de|da|di|van|mit|x|:|=)?\s*(?P<behind>[2-9]|\d{2,4})\b(?!\s?[uµnpmv])"
    r"|\b(?P<before>[2-9]|\d{2,4})\s?(?:er|x|pcs?|pieces?|stk\.?|stück|st\.?|pz|pezzi|stuks|-)?[- ]?(?:packs?"
    r"|packung|sets?|lots?|kits?|bags?|beutel|bundles?|confezion[ei])\b"
    r"|^\W*(?P<first>[2-9]|\d{2,3})\s?x\s(?=[^\W\d_]{3})"
    r"|\b(?P<times>[2-9]|\d{2,3})\s?x\s?(?=\d[\d.,]*\s?[µμunp]F)|\b(?P<many>[2-9]|\d{2,3})er\b"
    r"|\b(?P<alone>[2-9]|\d{2,4})\s?(?:pcs|pieces|stk|stück|pezzi|stuks|piezas|pièces)\b",
    re.IGNORECASE,
)
"""``pack of 10``, ``10er Pack``, ``10 pcs``: the price beside it may be that of all of them."""


def assemble(
    layout: Layout, raw: Mapping[int, TextColumn], numbers: NDArray[np.int64], place: tuple[str, str | None],
    said: Mapping[str, TextColumn],
) -> tuple[TextTable, list[Diagnostic]]:  # fmt: skip
    """Return the table of fields and prices.

    ``raw`` has the columns as they stand, ``numbers`` the file's row number of each row, ``place`` file and sheet,
    ``said`` what headings over the rows state, by field.
    """
    columns: dict[str, TextColumn] = {}
    for name, at in layout.columns.items():
        own = replace(raw[at], unit=layout.units.get(name))
        columns[name] = _filled(own, said[name]) if name in said else own
    for name, sources in layout.words.items():
        columns[name] = _in_words(name, [_with_unit(raw[at], layout, at) for at in sources], said.get(name))
    for name, column in said.items():
        columns.setdefault(name, column)
    if layout.made:
        columns["part"] = _made(layout, raw, place[0])
    breaks, lone = _prices(layout, raw)
    if lone is not None:
        columns["prices"] = lone
    table = TextTable(place[0], columns, breaks, numbers, ((0, place[1]),))
    told = ended_parts(table, None if layout.status is None else raw[layout.status], by_yes=layout.by_yes)
    table, of_packs = _without_packs(table, layout, raw)
    told += of_packs
    return (_one_row_each(table) if len(layout.prices.pairs) == 1 else table), told


def _one_row_each(table: TextTable) -> TextTable:
    """Put rows below one another that are one part's, each with a quantity and its price, into one row.

    One that states another value or voltage than the row above it is another part, whatever its number.
    """
    if "part" not in table.columns:
        return table
    part, prices = table.columns["part"], table.columns["prices"]
    kept = np.ones(len(table), bool)
    ladders: list[str] = []
    stated = [column for name, column in table.columns.items() if name in _ONE_PART]
    above = 0
    for row in range(len(table)):
        text = prices.text(row)
        same = part.text(row) in {"", part.text(row - 1)} if ladders else False
        if same and all(column.text(row) in {"", column.text(above)} for column in stated):
            kept[row] = False
            ladders[-1] = "; ".join(step for step in (ladders[-1], text) if step)
        else:
            ladders.append(text)
            above = row
    found = table.only(kept)
    whole = TextColumn(prices.header, prices.unit, strings(ladders))
    return replace(found, columns={**found.columns, "prices": whole})


def _filled(own: TextColumn, said: TextColumn) -> TextColumn:
    return combined([own, said], lambda text, above: text if text.strip() else above)


def _with_unit(column: TextColumn, layout: Layout, at: int) -> TextColumn:
    """Give bare numbers the unit in their header: that of inches, and the sign by which voltages speak of the mains."""
    if _INCHES.search(layout.texts[at]):
        return column.each(lambda text: _BARE.sub(lambda number: f'{number[0]}"', text))
    if layout.columns.get("volts") != at or re.search(r"~|\bv\s?ac\b", layout.texts[at], re.IGNORECASE) is None:
        return column
    return column.each(lambda text: f"{text} V~" if text.strip() else "")


def _in_words(name: str, sources: list[TextColumn], said: TextColumn | None) -> TextColumn:
    joined = sources[0]
    if len(sources) > 1:
        joined = combined(sources, lambda *texts: BETWEEN.join(text for text in texts if text.strip()))
    joined = replace(joined, unit=IN_WORDS)
    if said is None:
        return joined
    return combined([joined, said], lambda text, above: text if _states(name, text) or not above else above)


def _states(name: str, text: str) -> bool:
    taken = take(name, text, IN_WORDS)
    return taken.value is not None or (taken.code is not None and name not in {"value", "volts"})


def _made(layout: Layout, raw: Mapping[int, TextColumn], file: str) -> TextColumn:
    """Make part numbers of the supplier's name and of what the rows state: nobody else has the same by chance."""
    stem = re.sub(r"\s+", "-", re.split(r"[/\\]", file)[-1].rpartition(".")[0])

    def make(*texts: str) -> str:
        stated = "-".join("-".join(text.split()) for text in texts if text.strip())
        return f"{stem}:{stated}" if stated else ""

    return replace(combined([raw[at] for at in layout.made], make), unit=None)


def _prices(
    layout: Layout, raw: Mapping[int, TextColumn]
) -> tuple[tuple[tuple[int, TextColumn], ...], TextColumn | None]:
    plan = layout.prices
    priced = {at: raw[at] for at in plan.all}
    if plan.money_at is not None:
        by_row = raw[plan.money_at]
        priced = {at: combined([column, by_row], _with_money) for at, column in priced.items()}
    priced = {at: _per(column, plan.per.get(at)) for at, column in priced.items()}
    if plan.per_at is not None:
        by_row = raw[plan.per_at]
        priced = {at: combined([column, by_row], _per_text) for at, column in priced.items()}
    breaks = tuple((quantity, replace(priced[at], unit=None)) for quantity, at in plan.breaks)
    if plan.discounts:
        return _with_discounts(plan, raw, priced, breaks), None
    if plan.pairs:
        columns = [column for at, price_at in plan.pairs for column in (raw[at], priced[price_at])]
        header = layout.texts[plan.pairs[0][1]]
        return breaks, replace(combined(columns, _ladder), header=header, unit=None)
    return breaks, None if plan.lone is None else replace(priced[plan.lone], unit=None)


def _with_discounts(
    plan: PriceColumns, raw: Mapping[int, TextColumn], priced: Mapping[int, TextColumn],
    breaks: tuple[tuple[int, TextColumn], ...],
) -> tuple[tuple[int, TextColumn], ...]:  # fmt: skip
    """Return the price columns by quantity, with those that are worked out of the price of one piece."""
    by_quantity = dict(breaks)
    if plan.lone is not None:
        by_quantity[1] = replace(priced[plan.lone], unit=None)
    for discount, at in plan.discounts:
        by_quantity[discount.quantity] = discounted(by_quantity[1], raw[at], discount.percent)
    return tuple(sorted(by_quantity.items()))


def _per(column: TextColumn, pieces: int | None) -> TextColumn:
    return column if pieces is None else column.each(lambda text: _per_text(text, str(pieces)))


def _per_text(price: str, pieces: str) -> str:
    """Return a price with the pieces that it is of; where they aren't understood, it can't be read, and is told."""
    count = pieces_of_cell(pieces)
    if count == 1 or not _DIGIT.search(price):
        return price
    return f"{price.strip()} per {count or pieces.strip()}"


def _with_money(price: str, money: str) -> str:
    return f"{price.strip()} {money.strip().upper()}" if _DIGIT.search(price) and money.strip() else price


def _ladder(*cells: str) -> str:
    """Return quantities and prices in turn as one ladder; a quantity without a price has none."""
    steps = [
        f"{quantity.strip().rstrip('+')}:{price.strip()}"
        for quantity, price in zip(cells[::2], cells[1::2], strict=True)
        if quantity.strip() and price.strip() and not NO_PRICE.fullmatch(price.strip())
    ]
    return "; ".join(steps)


def _without_packs(
    table: TextTable, layout: Layout, raw: Mapping[int, TextColumn]
) -> tuple[TextTable, list[Diagnostic]]:
    """Leave out rows whose description speaks of a pack, where nothing says if the price is a piece's or the pack's.

    And, where prices are those of packs, the rows that don't say how many pieces are in one.
    """
    if layout.prices.packed and layout.prices.per_at is not None:
        return _of_known_packs(table, raw[layout.prices.per_at])
    if layout.prices.per_at is not None:
        return table, []
    packed = np.zeros(len(table), bool)
    header = ""
    for at in layout.described:
        column = raw[at]
        some = column.where(lambda text: _PACKED.search(text) is not None)
        if some.any():
            packed |= some
            header = header or column.header
    if "multiple" in table.columns:
        packed &= _singly(table.columns["multiple"])
    if not packed.any():
        return table, []
    message = (
        "the row speaks of several pieces, and nothing says whether its price is for one or for all: it was left out"
    )
    hint = "give a column for the pieces in a pack, and head the price: Price per pack, or Price each"
    said = (Severity.WARNING, "pack-unclear", message, hint, None)
    told = tell_rows(table, np.flatnonzero(packed), header, lambda _: said)
    return table.only(~packed), told


def _singly(multiples: TextColumn) -> NDArray[np.bool_]:
    """Tell which rows are sold piece by piece, as far as they say."""
    return multiples.where(lambda text: take("multiple", text, multiples.unit).value in {None, 1})


def _of_known_packs(table: TextTable, sizes: TextColumn) -> tuple[TextTable, list[Diagnostic]]:
    none = sizes.where(lambda text: not text.strip())
    if not none.any():
        return table, []
    message = "the price is that of a pack, and nothing says how many pieces are in it: the row was left out"
    said = (Severity.WARNING, "pack-unclear", message, "write how many; 1 where the price is a piece's", None)
    told = tell_rows(table, np.flatnonzero(none), sizes.header, lambda _: said)
    return table.only(~none), told
