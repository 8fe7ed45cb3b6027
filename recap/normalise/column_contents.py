"""What the cells of a column show of it where its header says little: designators, capacitances, voltages, row numbers.

A header is a word that somebody chose; the cells are the facts. ``Part`` heads designators in one
list and part numbers in the next.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Final

from recap.normalise import designator_names, order_codes, patterns, values
from recap.normalise.clean import clean, fold, squeeze, ticked
from recap.normalise.later import compiled
from recap.normalise.other_parts import FARADS
from recap.normalise.words import CAPACITOR_PREFIXES, DITTO, OTHER_PREFIXES

if TYPE_CHECKING:
    from collections.abc import Sequence

    from recap.read.cells import Cell

Body = "Sequence[Sequence[Cell]]"
MOST: Final = 0.6
"""So many of a column's cells say what it is."""
SOME: Final = 0.3
"""So many are enough where no other column holds designators and the header leaves it open."""
MOST_LOOKED_AT: Final = 200
_OPEN: Final = frozenset(("ref", "part", "item", "text", "unknown", "board", ""))
"""Fields whose headers don't rule out designators."""
_ELSEWHERE: Final = frozenset(("passed over", "board", "measured", "done"))
"""Of these, cells like ``C5`` are squares of a map, sheets, or marks."""
_SETTLED: Final = _ELSEWHERE | {"qty", "value", "volts", "size", "package", "pitch", "diameter", "height", "temp"}
_DESIGNATOR: Final = compiled(
    r"\d{0,2}(?:A\d{1,2}(?=[A-Z]))?(?P<prefix>[A-Za-z]{1,5})[-_ $]?\d{1,4}[A-Za-z]?(?=$|[\s,;/&+*()-])"
)
_DIELECTRIC: Final = compiled(r"(?:[XY][5-8][A-Z]|[XYZ]\d[A-Z]|[CN][0OP][G0])(?![A-Za-z0-9])", re.IGNORECASE)
"""``X7R-5``: a class of ceramic (EIA RS-198), no designator."""
_NUMBER_OF_ROW: Final = compiled(r"\W*[A-Za-z]?\W*\d{1,4}\W*")


def texts_of(index: int, body: Sequence[Sequence[Cell]]) -> list[str]:
    """Return what stands in a column, cleaned, without blanks and dittos."""
    told = [row[index].text for row in body if index < len(row) and row[index].text.strip()]
    texts = [ticked(text) or squeeze(clean(text).text) for text in told]
    return [text for text in texts if text and text not in DITTO][:MOST_LOOKED_AT]


def _prefix(text: str) -> str | None:
    text = text.lstrip("([ ")
    match = _DESIGNATOR.match(text)
    if match is None or designator_names.is_chip_size(text) or _DIELECTRIC.match(text):
        return None
    return match["prefix"].upper()


_TURN: Final = compiled(r"M?R(?:0|45|90|135|180|225|270|315)")
"""How a part is turned on the board, in degrees: ``R90``."""


def ref_column(fields: Sequence[str], body: Sequence[Sequence[Cell]]) -> int | None:
    """Return the place in ``fields`` of the column that holds the designators, None where no cell shows it.

    Designators of all parts count, for most lists hold more than capacitors; a column with those of
    capacitors wins over one without.
    """
    shares: list[tuple[float, float]] = []
    for index in range(len(fields)):
        texts = texts_of(index, body)
        prefixes = [] if all(map(_TURN.fullmatch, texts)) else [_prefix(text) for text in texts]
        own = sum(1 for prefix in prefixes if prefix in CAPACITOR_PREFIXES)
        known = own + sum(1 for prefix in prefixes if prefix in OTHER_PREFIXES)
        total = len(prefixes) or 1
        allowed = fields[index] not in _SETTLED or (own >= MOST * total and fields[index] not in _ELSEWHERE)
        shares.append((own / total, known / total) if allowed else (0.0, 0.0))
    if not shares:
        return None
    shops = [fields[i] == "part" and _are_order_codes(i, body) for i in range(len(fields))]
    best = max(range(len(fields)), key=lambda i: (shares[i][1] >= MOST, not shops[i], *shares[i], fields[i] == "ref"))
    mine, all_known = shares[best]
    if fields[best] != "ref" and not mine and _beside_values(best, body):
        return None
    open_to_it = fields[best] in _OPEN and mine >= SOME
    if all_known >= MOST or open_to_it or (fields[best] == "ref" and all_known > 0):
        return best
    return None


def _are_order_codes(index: int, body: Sequence[Sequence[Cell]]) -> bool:
    """Tell whether each cell is one code of as many figures as no board has places: ``C-4711``, ``R-6101``."""
    return all(order_codes.is_of_shop(text) for text in texts_of(index, body))


def _beside_values(index: int, body: Sequence[Sequence[Cell]]) -> bool:
    """Tell whether capacitances stand beside a column without a capacitor's designator: then it holds order codes.

    ``R-6101`` and ``P-355`` of a shop look like designators of other parts, and would take the capacitors along.
    """
    told = [cell.text for row in body for at, cell in enumerate(row) if at != index]
    return any(FARADS.search(text) and _PURE.fullmatch(squeeze(clean(text).text)) for text in told[:MOST_LOOKED_AT * 4])


_PURE: Final = compiled(
    r"(?:[A-Za-z]{2,10}\s){0,3}\d[\d.,]*\s?[uµμnp]F?(?:[\s/,]+\d[\d.,]*\s?V)?(?:\s.{0,20})?", re.IGNORECASE
)
"""A capacitance with its voltage, and hardly anything else."""


def holds_refs(index: int, body: Sequence[Sequence[Cell]]) -> bool:
    """Tell whether most cells of a column begin with designators."""
    texts = texts_of(index, body)
    known = sum(1 for text in texts if _prefix(text) in CAPACITOR_PREFIXES | OTHER_PREFIXES)
    return bool(texts) and known >= MOST * len(texts)


def of_capacitors(index: int, body: Sequence[Sequence[Cell]]) -> list[Sequence[Cell]]:
    """Return the rows whose cell for the designators names capacitors."""
    return [row for row in body if index < len(row) and _prefix(row[index].text) in CAPACITOR_PREFIXES]


def holds_counts(index: int, body: Sequence[Sequence[Cell]]) -> bool:
    """Tell whether nearly all cells of a column are small whole numbers that don't number the rows."""
    texts = texts_of(index, body)
    counts = [int(text.rstrip(" x")) for text in texts if re.fullmatch(r"\d{1,2}\s?x?", text)]
    return len(counts) > 1 and len(counts) >= NEARLY_ALL * len(texts) and counts != list(range(1, len(counts) + 1))


NEARLY_ALL: Final = 0.75


_DESCRIBES: Final = compiled(r"^[^\d]{4,}$|[^\W\d_]{3,}.*\s|\s.*[^\W\d_]{3,}|\d\s?[uµnp]F")
"""A word without a figure, words in a row, a capacitance: no designator."""


def holds_words(index: int, body: Sequence[Sequence[Cell]]) -> bool:
    """Tell whether most cells are descriptions, which no designators are."""
    texts = texts_of(index, body)
    told = sum(1 for text in texts if _DESCRIBES.search(text))
    return bool(texts) and told >= MOST * len(texts)


def numbers_rows(index: int, body: Sequence[Sequence[Cell]]) -> bool:
    """Tell whether a column only numbers the rows (``1``, ``[M] 4``)."""
    texts = texts_of(index, body)
    return bool(texts) and all(_NUMBER_OF_ROW.fullmatch(text) for text in texts)


_TOTALS: Final = frozenset("total totals sum subtotal summe gesamt zwischensumme totale totaal suma somme".split())


def heads_groups(index: int, body: Sequence[Sequence[Cell]]) -> bool:
    """Tell whether each name of a column stands once, in the first row of its group, over blanks (a board's name)."""
    cells = [
        row[index].text.strip() if index < len(row) else "" for row in body if any(cell.text.strip() for cell in row)
    ]
    cells = [text for text in cells if fold(text) not in _TOTALS]
    named = [text for text in cells if text]
    return bool(cells) and bool(cells[0]) and 1 < len(named) == len(set(named)) and len(named) * 2 <= len(cells)


def holds_volts(index: int, body: Sequence[Sequence[Cell]]) -> bool:
    """Tell whether some cells are a voltage and no cell holds a capacitance (other parts have ratings of their own)."""
    texts = texts_of(index, body)
    told = sum(1 for text in texts if values.voltage(text.lstrip("<>=≥≤ ")) is not None)
    return bool(texts) and told >= SOME * len(texts) and not any(patterns.CAPACITANCE.search(text) for text in texts)


def count_of_values(index: int, body: Sequence[Sequence[Cell]]) -> int:
    """Return how many cells hold a capacitance."""
    return sum(1 for text in texts_of(index, body) if FARADS.search(text) or patterns.CAPACITANCE.match(text))
