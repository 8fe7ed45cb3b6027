"""Price lists that are grids: capacitances down the side, voltages along the top, or the other way round.

Each price becomes a row of an ordinary list. That cells are prices must be said (by a word above or in the corner, or
money beside the numbers): makers print sizes and ripple currents in the same manner.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from recap.bench.column_heads import column_of
from recap.bench.explicit import explicit_field
from recap.bench.facts import facts
from recap.bench.price_heads import price_head
from recap.bench.sections import lone_text
from recap.diagnostics import Diagnostic, Source, error, warning
from recap.read.cells import Cell, Row, Table
from recap.read.headers import HEADER_ROWS, is_comment
from recap.read.sheet_words import NO_PRICE, PRICE_TITLE

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

LIST_HEADER = ("part", "value", "volts", "prices")
"""The header of the list that a grid becomes."""
FEWEST = 2
"""So many columns of voltages, or of capacitances, make a grid."""
_BETWEEN = re.compile(r"[\\/|,;→↓↘]|(?<=\s)[x×](?=\s)")
_BARE = re.compile(r"\d{1,7}(?:[.,]\d{1,4})?")
_OTHER = {"value": "volts", "volts": "value"}
_NAMES = {"value": "capacitance", "volts": "voltage"}
_LONGEST_TAG = 24


@dataclass(frozen=True, slots=True)
class Axes:
    """The head of a grid: in column ``corner`` stands what is ``down`` the side, with ``unit`` where bare.

    ``across`` pairs a column with what stands over it, with its unit. ``priced``: the corner speaks of prices.
    """

    corner: int
    down: str
    unit: str | None
    across: tuple[tuple[int, str], ...]
    priced: bool


@dataclass(slots=True)
class _Listing:
    """What a grid has become so far."""

    file: str
    tag: str
    several: bool
    rows: list[Row] = field(default_factory=list)
    offers: int = 0
    told: list[Diagnostic] = field(default_factory=list)
    beside: dict[int, Source] = field(default_factory=dict)


def axes_of(texts: Sequence[str]) -> Axes | None:
    """Return the head of a grid that a row is, None where it is none."""
    filled = [(at, text) for at, text in enumerate(texts) if text]
    if len(filled) < FEWEST:
        return None
    over = _all_of([text for _, text in filled])
    if over is not None and filled[0][0] > 0:
        return Axes(filled[0][0] - 1, _OTHER[over], None, tuple(filled), priced=False)
    corner = _corner(filled[0][1]) if over is None and len(filled) > FEWEST else None
    if corner is None:
        return None
    named, priced = corner
    rest = _without_remarks(filled[1:])
    over = _all_of([text for _, text in rest])
    if over is None and len(named) == len(_OTHER) and all(_BARE.fullmatch(text) for _, text in rest):
        over = list(named)[1]  # ``µF / V``: what is down the side is said first
        rest = [(at, f"{text} {named[over] or ''}".strip()) for at, text in rest]
    if over is None or len({text for _, text in rest}) < len(rest) or not set(named) <= set(_OTHER):
        return None
    down = _OTHER[over]
    return Axes(filled[0][0], down, named.get(down), tuple(rest), priced)


def _without_remarks(over: list[tuple[int, str]]) -> list[tuple[int, str]]:
    """Return what stands over the grid itself: columns of remarks may follow it."""
    while len(over) > FEWEST and not re.search(r"\d", over[-1][1]):
        column = column_of(0, (over[-1][1],), Source(""))
        if column.fields or column.price or column.discount:
            break
        over = over[:-1]
    return over


def _all_of(texts: Sequence[str]) -> str | None:
    """Return the one field, capacitance or voltage, that all of the texts are by their units."""
    found = {explicit_field([text]) for text in texts}
    one = found.pop()
    return one if not found and one in _OTHER else None


def _corner(text: str) -> tuple[dict[str, str | None], bool] | None:
    """Return the fields that the corner of a grid names, each with its unit, and whether it speaks of prices."""
    named: dict[str, str | None] = {}
    priced = False
    for piece in _BETWEEN.split(text):
        if not piece.strip():
            continue
        column = column_of(0, (piece.strip(),), Source(""))
        if column.price is not None or price_head(piece) is not None:
            priced = True
        elif len(column.fields) == 1:
            named[column.fields[0]] = column.unit
        else:
            return None
    return named, priced


def as_list(table: Table, file: str) -> tuple[Table, list[Diagnostic]] | list[Diagnostic] | None:
    """Return the grid in ``table`` as a list, with what is to be told; errors where it isn't clear; None of no grid.

    The table's name, where it has one, tells it in the numbers from the workbook's other sheets.
    """
    heads = {at: axes for at, row in enumerate(table.rows) if (axes := axes_of(_texts(row))) is not None}
    first = next(iter(heads), None)
    if first is None or sum(1 for row in table.rows[:first] if row.cells) > HEADER_ROWS:
        return None
    fault = _not_clear(table, heads, first)
    if fault is not None:
        return [fault]
    titles, below = list(table.rows[:first]), []
    if len(heads) > 1 and titles and lone_text(_texts(titles[-1])) is not None:
        below = [titles.pop()]  # it stands over the first of several grids, not over all of them
    made = _Listing(file, table.name, len(heads) > 1, rows=list(below))
    tag = _tag(below[0]) if below else ""
    axes = heads[first]
    for at, row in enumerate(table.rows[first:], start=first):
        texts = _texts(row)
        text = lone_text(texts)
        if at in heads:
            axes = heads[at]
        elif not any(texts) or text is not None or is_comment(texts):
            made.rows.append(row)
            tag = _tag(row) or tag
        else:
            _add(made, axes, row, tag)
    head = table.rows[first].source
    header = Row(tuple(Cell(name, Source(file, head.sheet, head.row, name)) for name in LIST_HEADER), head)
    whole = Table(table.name, (*titles, header, *made.rows))
    return whole, [_said(made, heads[first], head), *made.told, *map(_beside, made.beside.values())]


def _texts(row: Row) -> list[str]:
    return [cell.text for cell in row.cells]


def _tag(row: Row) -> str:
    """Return what tells the parts below a heading from those below others: the series, or its words."""
    text = lone_text(_texts(row)) or ""
    name = dict(facts(text)).get("series") or text
    return re.sub(r"[^\w.+/-]+", "-", name).strip("-")[:_LONGEST_TAG]


def _not_clear(table: Table, heads: dict[int, Axes], first: int) -> Diagnostic | None:
    """Return why a grid can't be read: nothing says that its cells are prices, or in which unit its side is."""
    place = table.rows[first].source
    found = " | ".join(text for text in _texts(table.rows[first]) if text)[:100]
    lines = [text for row in table.rows if (text := lone_text(_texts(row)))]
    cells = [text for axes, row in _inner(table, heads) for text in _prices(axes, row)]
    axes = heads[first]
    if not (axes.priced or any(map(PRICE_TITLE.search, lines)) or explicit_field(cells) == "prices"):
        message = "a grid of capacitances and voltages, and nothing says that its cells are prices"
        return error("grid-unclear", message, place, "if they are, put a line above it: Prices in EUR per piece", found)
    for axes, row in _inner(table, heads):
        label = _texts(row)[axes.corner] if axes.corner < len(row.cells) else ""
        if axes.unit is None and _BARE.fullmatch(label):
            name = _NAMES[axes.down]
            message = f"the numbers down the side of the grid have no unit: {label} … of what {name}?"
            hint = f"write the unit into the corner above them: {'µF' if axes.down == 'value' else 'V'}"
            return error("grid-unclear", message, place, hint, found)
    return None


def _inner(table: Table, heads: dict[int, Axes]) -> Iterator[tuple[Axes, Row]]:
    axes: Axes | None = None
    for at, row in enumerate(table.rows):
        axes = heads.get(at, axes)
        if axes is not None and at not in heads and lone_text(_texts(row)) is None and any(_texts(row)):
            yield axes, row


def _prices(axes: Axes, row: Row) -> list[str]:
    texts = _texts(row)
    return [texts[at] for at, _ in axes.across if at < len(texts) and not _none(texts[at])]


def _none(text: str) -> bool:
    return not text or (not any(map(str.isalpha, text)) and NO_PRICE.fullmatch(text) is not None)


def _add(made: _Listing, axes: Axes, row: Row, tag: str) -> None:
    """Add the offers of one row of a grid."""
    texts = _texts(row)
    label = texts[axes.corner] if axes.corner < len(texts) else ""
    if not re.search(r"\d", label):
        message = f"no {_NAMES[axes.down]} heads this row of the grid: it was left out"
        made.told.append(warning("grid-unclear", message, row.source, "write it, or delete the row", label[:80]))
        return
    side = f"{label} {axes.unit}" if axes.unit and _BARE.fullmatch(label) else label
    for at, over in axes.across:
        if at >= len(texts) or _none(texts[at]):
            continue
        value, volts = (side, over) if axes.down == "value" else (over, side)
        stated = (made.tag, tag if made.several else "", *("".join(one.split()) for one in (value, volts)))
        number = f"{_stem(made.file)}:{'-'.join(one for one in stated if one)}"
        cells = (number, value, volts, texts[at])
        made.rows.append(Row(tuple(Cell(text, row.source) for text in cells), row.source))
        made.offers += 1
    known = {axes.corner, *(at for at, _ in axes.across)}
    for at, cell in enumerate(row.cells):
        if cell.text and at not in known:
            made.beside.setdefault(at, cell.source)


def _stem(file: str) -> str:
    return re.sub(r"\s+", "-", re.split(r"[/\\]", file)[-1].rpartition(".")[0])


def _beside(place: Source) -> Diagnostic:
    message = "what stands beside the grid's own columns was not read"
    return warning("header-blank", message, place, "delete it, or give those rows a list of their own")


def _said(made: _Listing, axes: Axes, place: Source) -> Diagnostic:
    down, across = _NAMES[axes.down], _NAMES[_OTHER[axes.down]]
    example = next((row.cells for row in made.rows if len(row.cells) == len(LIST_HEADER)), None)
    like = f", numbered like {example[0].text!r}" if example else ""
    shown = f"; check one: {example[1].text}, {example[2].text} costs {example[3].text}" if example else ""
    message = f"a grid of prices, {down} down the side and {across} along the top: {made.offers} offers were made{like}"
    hint = f"the list has no part numbers: order by value, voltage and what stands above them{shown}"
    return warning("grid-read", message, place, hint)
