"""Lists with a column for each variant of a chassis: what stands in it is a part of that variant alone.

The variant is taken for the board of such a part, so that a set names its own under ``boards``.
"""

from __future__ import annotations

import re
from dataclasses import replace
from typing import TYPE_CHECKING, Final

from recap.normalise import column_contents, columns, designators, patterns, values
from recap.normalise.cell_text import NOTHING
from recap.normalise.clean import clean, fold, squeeze
from recap.normalise.words import NOT_FITTED

if TYPE_CHECKING:
    from collections.abc import Sequence

    from recap.normalise.column import Column
    from recap.read.cells import Cell, Row

_NAMING: Final = re.compile(
    r"\d|\b(?:rev|issue|mk|mark|model|version|variant|type|early|late|mono|stereo|colou?r|deluxe|standard|ntsc|pal|secam|uk|us|usa"
    r"|eu|europe|export|japan|modell?|ausf(?:u|ü)hrung|variante?|versione?|modello|modelo|mod[eè]le|uitvoering|typ)\b",
    re.IGNORECASE,
)
"""What tells variants apart: a number, or a word for one."""
_CHOOSING: Final = frozenset(
    "choice option alternative alt substitute sub equivalent source sheet schematic plan kit shop supplier price offer "
    "wahl quelle choix scelta opcion keuze measured fitted bought order stock qty pcs".split()
)
"""With one of these the columns stand for choices or sources of one part."""
FEWEST: Final = 2
EMPTY: Final = NOTHING | NOT_FITTED | {"–", "—", "no", "nil"}


def heads(texts: Sequence[str], below: Sequence[Sequence[str]]) -> bool:
    """Tell whether a row heads a list of variants: designators in front, and columns of values that it only names."""
    understood = [columns.understand(text, index) for index, text in enumerate(texts)]
    if any(column.field in _VALUED and not column.side for column in understood):
        return False
    rated = any(column.field == "volts" for column in understood)
    placed = next((column.index for column in understood if column.field == "ref"), None)
    below = [row for row in below if sum(map(bool, row)) > 1]  # no headings between
    named = [row[placed] for row in below if placed is not None and placed < len(row) and row[placed]]
    if not named or not all(designators.find_group(text, 0) is not None for text in named):
        return False
    told = [column.index for column in understood if _may_name(column)]
    return sum(_holds_values([row[at] for row in below if at < len(row)], rated=rated) for at in told) >= FEWEST


_VALUED: Final = frozenset(("value", "text"))


def parted(planned: Sequence[Column], body: Sequence[Sequence[Cell]]) -> list[tuple[str, list[Column]]]:
    """Return the columns of each variant with its name, or those of the whole table where it has no variants."""
    whole = [("", list(planned))]
    if any(c.field in _VALUED and not c.side and not _may_name(c) for c in planned):
        return whole
    if sum(column.field == "ref" for column in planned) != 1:
        return whole
    rated = any(column.field == "volts" and not column.side for column in planned)
    held = [(c, column_contents.texts_of(c.index, body)) for c in planned if _may_name(c)]
    told = [column for column, texts in held if _holds_values(texts, rated=rated)]
    if len(told) < FEWEST:
        return whole
    common = [column for column in planned if column not in told]
    return [(column.header, [*common, replace(column, field="text", side="")]) for column in told]


def _may_name(column: Column) -> bool:
    return column.field in {"unknown", "text"} and names(column.header)


def names(header: str) -> bool:
    """Tell whether a header that nobody understands may name a variant (``rev B``), and no choice between parts."""
    said = {fold(word) for word in re.findall(r"[^\W\d_]+", header)}
    named = _NAMING.search(header) is not None and not said & _CHOOSING
    return named and columns.understand(header, 0).field == "unknown"


def _holds_values(texts: Sequence[str], *, rated: bool) -> bool:
    """Tell whether a column holds values and gaps, and nothing else; beside voltages (``rated``) none of its own."""
    told = [text for text in texts if text.casefold() not in EMPTY]
    if rated:
        return bool(told) and all(values.capacitance(text) is not None for text in told)
    return bool(told) and all(any(pattern.match(text) for pattern in _VALUES) for text in told)


_VALUES: Final = (patterns.CAPACITANCE, patterns.PAIR, patterns.CAPACITANCE_MISREAD)


def is_empty(row: Row, column: Column) -> bool:
    """Tell whether a variant has no part at a row's place."""
    text = squeeze(clean(row.cells[column.index].text).text) if column.index < len(row.cells) else ""
    return text.casefold() in EMPTY


def board_of(variant: str, board: str | None) -> str:
    """Return the name of a variant's part of a board."""
    return f"{board}, {variant}" if board else variant
