"""Price lists without a header: read where the cells of each column leave no doubt what it holds, else asked for.

Numbers without a unit are always in doubt: 100 may be a stock, a pack, a minimum, a capacitance, or the pieces that a
price is of.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Final

from recap.bench.column_cells import are_codes, describe
from recap.bench.explicit import explicit_field
from recap.bench.ladders import LadderError, read_ladder
from recap.bench.price_heads import pieces_of_cell
from recap.bench.pricing import is_no_price
from recap.bench.sections import lone_text
from recap.bench.taking import take
from recap.diagnostics import Diagnostic, Source, error, warning
from recap.normalise.kind_words import KIND_WORDS, MOUNT_WORDS
from recap.read.cells import Cell, Row, Table
from recap.read.delimited import column_letters
from recap.read.sheet_words import SOLD_OUT, STOCKED

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping, Sequence

FEWEST_ROWS = 3
"""Of fewer rows nothing is beyond doubt."""
_SHOWN = 3
_LADDER = re.compile(r"\d+\s*[:+].*\d")
_TOLERANCE = re.compile(r"(?:±|\+/-|\+-)\s?\d{1,2}\s?%|-\d{1,2}\s?[/+]+\s?\d{1,3}\s?%")
_COUNT = re.compile(r"\d[\d.,' ]*\s?(?:pcs?|pieces?|stk|stück|pz|pezzi|stuks|uds|szt|ks)\b\.?", re.IGNORECASE)
_WORDS_OF_STOCK: Final = STOCKED | SOLD_OUT
_NEEDED: Final = (
    (frozenset({"prices"}), "prices"),
    (frozenset({"part", "description"}), "part numbers or descriptions"),
    (frozenset({"value", "description"}), "capacitances"),
)
_WHOLE = re.compile(r"[^\d.,:]*\d{1,4}[^\d.,:]*")
_ENDS_IN_DIGIT = re.compile(r"(?:^|[^\w.,])\d{1,4}$")
_FIGURE = re.compile(r"\d")
UNKNOWN: Final = "?"
_CHOICES: Final = "names are: part, value, volts, prices, stock, minimum, multiple (pieces in a pack), updated, note"


def _are_prices(texts: Sequence[str]) -> bool:
    """Tell whether all are ladders, or all bear money (or say that there is no price)."""
    priced = [text for text in texts if not is_no_price(text)]
    if not priced or explicit_field(priced) not in {"prices", None}:
        return False
    for text in priced:
        try:
            ladder = read_ladder(text)
        except LadderError:
            return False
        if not ladder.currencies and not _LADDER.match(text):
            return False
    return True


def _are_stocks(texts: Sequence[str]) -> bool:
    """Tell whether all say how many there are, and one at least in a word of stock: bare pieces may be a pack's."""
    words = [text for text in texts if text.casefold().strip(" .!") in _WORDS_OF_STOCK]
    return bool(words) and all(text in words or _COUNT.fullmatch(text) or text.isdecimal() for text in texts)


def _all_by_unit(field: str) -> Callable[[Sequence[str]], bool]:
    return lambda texts: all(explicit_field([text]) == field for text in texts)


def _all_words(words: Mapping[str, object]) -> Callable[[Sequence[str]], bool]:
    return lambda texts: all(text.casefold().strip(" .") in words for text in texts)


def _all_classes(texts: Sequence[str]) -> bool:
    return all(take("safety", text).value is not None for text in texts)


_ROLES: Final[tuple[tuple[str, Callable[[Sequence[str]], bool]], ...]] = (
    *((name, _all_by_unit(name)) for name in ("value", "volts", "temp", "life", "size")),
    ("prices", _are_prices),
    ("stock", _are_stocks),
    ("tolerance", lambda texts: all(_TOLERANCE.fullmatch(text) for text in texts)),
    ("safety", _all_classes),
    ("mount", _all_words(MOUNT_WORDS)),
    ("kind", _all_words(KIND_WORDS)),
    ("description", lambda texts: describe(texts) and all(" " in text for text in texts)),
    ("part", are_codes),
)
"""What a column holds, and how its cells show it; the first that does."""


def headed(table: Table, delimiter: str | None) -> tuple[Table, list[Diagnostic]] | list[Diagnostic] | None:
    """Return the list with a header of what its columns hold, and what is to be told; or an error that asks for one.

    None of what doesn't look like a list: fewer than :data:`FEWEST_ROWS` rows of two or more cells.
    """
    offers = [row for row in table.rows if row.cells and lone_text([cell.text for cell in row.cells]) is None]
    if len(offers) < FEWEST_ROWS:
        return None
    first = offers[0].source
    unknown = _unknown_header(offers)
    columns = _columns(offers[1:] if unknown else offers)
    names = [_role(texts) or "" for texts in columns]
    spare = UNKNOWN if unknown else "note"
    line = (delimiter or ",").join(name or (spare if any(columns[at]) else "") for at, name in enumerate(names))
    if unknown:
        message = f"no name of a column is known in {' | '.join(unknown)[:80]!r}"
        hint = f"write the names, in this place: {line}, with the right one for each {UNKNOWN}; {_CHOICES}"
        return [error("header-missing", message, first, hint, " | ".join(unknown)[:100])]
    if _decimal_commas(columns, names):
        message = "no row of headers was found, and its commas may be decimal ones and not set columns apart"
        return [error("header-missing", message, first, "set columns apart by semicolons, with their names above")]
    doubt = _doubt(columns, names)
    if doubt is not None:
        message = f"no row of headers was found, and {doubt}"
        letters = [column_letters(at) for at, name in enumerate(names) if name == UNKNOWN]
        ask = f", with the right name for each ? ({', '.join(letters)}): " if letters else ", with names for all: "
        return [error("header-missing", message, first, f"put this line above it{ask}{line}; {_CHOICES}")]
    taken = ", ".join(f"{column_letters(at)} {name}" for at, name in enumerate(names) if name)
    message = f"no row of headers was found; what columns hold was told by their cells: {taken}"
    idle = [column_letters(at) for at, name in enumerate(names) if not name and any(columns[at])]
    message += f"; not read: {', '.join(idle)}" if idle else ""
    told = warning("header-by-cells", message, first, f"if so, put this line above it: {line}")
    at = table.rows.index(offers[0])
    header = Row(tuple(Cell(name, Source(first.file, first.sheet, first.row, name)) for name in names), first)
    return Table(table.name, (*table.rows[:at], header, *table.rows[at:])), [told]


def _unknown_header(rows: Sequence[Row]) -> list[str]:
    """Return the texts of the first row where it is words alone and those below aren't: a header nobody knows."""
    texts, *below = [[cell.text for cell in row.cells if cell.text] for row in rows]
    plain = not any(map(_FIGURE.search, texts))
    return texts if plain and all(any(map(_FIGURE.search, row)) for row in below) else []


def _columns(rows: Sequence[Row]) -> list[list[str]]:
    width = max(len(row.cells) for row in rows)
    return [[row.cells[at].text if at < len(row.cells) else "" for row in rows] for at in range(width)]


def _role(texts: Sequence[str]) -> str | None:
    """Return what a column holds; None of words alone and of nothing, :data:`UNKNOWN` of what may be any of several."""
    stated = [text.strip() for text in texts if text.strip() not in {"", "-"}]
    if not stated:
        return None
    found = next((name for name, shows in _ROLES if shows(stated)), None)
    if found is not None:
        return found
    plain = all(not any(map(str.isdigit, text)) and "%" not in text for text in stated)
    return None if plain and not any(map(_of_several, stated)) else UNKNOWN


def _of_several(text: str) -> bool:
    """Tell whether a word may say of how many pieces a price is, or how they are packed."""
    return pieces_of_cell(text) not in {None, 1} or take("multiple", text).code is None


def _decimal_commas(columns: Sequence[Sequence[str]], names: Sequence[str]) -> bool:
    """Tell whether prices may have been cut at a decimal comma: whole numbers, each behind a cell's last digit."""
    at = names.index("prices") if "prices" in names else 0
    if not at:
        return False
    cut = [(left, text) for left, text in zip(columns[at - 1], columns[at], strict=True) if text]
    return all(_WHOLE.fullmatch(text) and _ENDS_IN_DIGIT.search(left) for left, text in cut)


def _doubt(columns: Sequence[Sequence[str]], names: Sequence[str]) -> str | None:
    """Return why the columns can't be told by their cells, None where they can."""
    for at, name in enumerate(names):
        if name == UNKNOWN:
            shown = ", ".join([text for text in dict.fromkeys(columns[at]) if text][:_SHOWN])
            return f"column {column_letters(at)} ({shown} …) may hold one thing or another"
    for name in dict.fromkeys(filter(None, names)):
        twice = [column_letters(at) for at, other in enumerate(names) if other == name]
        if len(twice) > 1:
            return f"columns {' and '.join(twice)} could both be {name}"
    missing = (what for any_of, what in _NEEDED if not any_of & set(names))
    return next((f"no column holds what can only be {what}" for what in missing), None)

