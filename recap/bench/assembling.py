"""The columns of a price list as they stand become those of a plain catalogue: joined, filled up, divided."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from recap.bench.arrow import strings
from recap.bench.discounts import discounted
from recap.bench.in_words import BETWEEN, IN_WORDS
from recap.bench.lifecycle import ended_parts, used_parts
from recap.bench.packs import without_packs
from recap.bench.price_heads import pieces_of_cell
from recap.bench.taking import take
from recap.bench.texts import TextColumn, TextTable, combined
from recap.normalise.later import compiled
from recap.normalise.other_parts import names_capacitor, names_other
from recap.read.sheet_words import NO_PRICE

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from numpy.typing import NDArray

    from recap.bench.layout import Layout, PriceColumns
    from recap.diagnostics import Diagnostic

_INCHES = compiled(r"(?:\b(?:in|inch|inches|zoll|pouces?|pulgadas|pollici)\b|[\"″])\s*[)\]]?$", re.IGNORECASE)
_BARE = compiled(r"(?<![\d./])\d+(?:[.,]\d+)?(?![\d.,/]|\s?(?:mm|cm|\"|in\b|″|''))")
_LENGTH_FIRST = compiled(r"(?<![^\W\d_])[LH]\s*[x×*/]\s*[DØø](?![^\W\d_])", re.IGNORECASE)
_TWO_SIDES = compiled(r"^\s*(\d[\d.,]*)(\s*(?:mm)?\s*[x×*/]\s*)(\d[\d.,]*)")
"""``L x D`` over ``29x12``: the length first."""
HEADING = "a heading above"
"""Stands for the header of what no column holds, but headings do."""
_ONE_PART = frozenset({"value", "volts", "kind", "mount", "temp", "life"})
"""What all rows of one part have in common."""
_PLAIN = compiled(r"\s*[\d.,]+\s*")
_DIGIT = compiled(r"\d")


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
    if "kind" in columns and "value" in columns and columns["value"].unit != IN_WORDS:
        columns["value"] = _of_capacitors(columns["value"], columns["kind"])
    if layout.made:
        columns["part"] = _made(layout, raw, place[0])
    breaks, lone = _prices(layout, raw)
    if lone is not None:
        columns["prices"] = lone
    table = TextTable(place[0], columns, breaks, numbers, ((0, place[1]),))
    told = ended_parts(table, None if layout.status is None else raw[layout.status], by_yes=layout.by_yes)
    told += used_parts(table, [raw[at] for at in (*layout.described, *layout.noted)])
    table, of_packs = without_packs(table, layout, raw)
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
            ladders[-1] = _once([*ladders[-1].split("; "), *text.split("; ")])
        else:
            ladders.append(text)
            above = row
    found = table.only(kept)
    whole = TextColumn(prices.header, prices.unit, strings(ladders))
    return replace(found, columns={**found.columns, "prices": whole})


def _filled(own: TextColumn, said: TextColumn) -> TextColumn:
    return combined([own, said], lambda text, above: text if text.strip() else above)


def _of_capacitors(values: TextColumn, kinds: TextColumn) -> TextColumn:
    """Blank numbers without a unit under the values of other parts: 470 of a resistor is no capacitance."""
    others = {text for text in kinds.texts.to_pylist() if names_other(text) and not names_capacitor(text)}
    if not others:
        return values
    return combined([values, kinds], lambda text, kind: "" if kind in others and _PLAIN.fullmatch(text) else text)


def _with_unit(column: TextColumn, layout: Layout, at: int) -> TextColumn:
    """Lay what the header says on the cells: the unit of inches, the order of two sides, and the sign of the mains."""
    if _LENGTH_FIRST.search(layout.texts[at]):
        column = column.each(lambda text: _TWO_SIDES.sub(r"\3\2\1", text))
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
        if plan.lone is not None:
            columns = [priced[plan.lone].each(lambda text: "1" if text.strip() else ""), priced[plan.lone], *columns]
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
    return _once(steps)


def _once(steps: Iterable[str]) -> str:
    return "; ".join(dict.fromkeys(step for step in steps if step))
