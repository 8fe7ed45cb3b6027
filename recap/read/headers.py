"""What a header means: its text to a canonical field, by the words of a vocabulary.

Only exact words decide (case, accents and punctuation apart). Spellings that merely come near are
not taken; they are reported with the word they come near to, how near, and the next best.
"""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

from recap.diagnostics import Diagnostic, Severity, Source, note
from recap.read.units import FIELD_QUANTITY, HARMLESS, UNIT_FIELDS
from recap.read.vocabulary import PASSED_OVER

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from recap.read.cells import Cell, Row, Table

NEAR = 80
"""RapidFuzz ratio (0-100) from which a spelling is named as perhaps meant."""
UNSPACED = 6
"""Spellings of so many letters are known with and without blanks in them; of fewer, two words could make a third."""
HEADER_ROWS = 25
"""A header stands within the first so many rows with text."""

LONGEST_HEADER = 500
"""What is longer names no column; patterns need the square of the length for runs of blanks."""
_BRACKETED = re.compile(r"^(?P<base>.*?)\s*[(\[{](?P<inside>[^()\[\]{}]*)[)\]}]\s*(?P<rest>.*)$")
_SEPARATORS = re.compile(r"[\s_\-./:\\*|,;=]+")
_UMLAUTS = str.maketrans({"ä": "ae", "ö": "oe", "ü": "ue"})
_NUMBER = r"(?P<qty>\d{1,3}(?:[ .,'’]\d{3})+|\d{1,3}[.,]\d{1,2}(?=\s?k)|\d{1,7})(?P<k>\s?k)?"
_PRICE_WORD = (
    r"(?:unit\s*)?(?:prices?(?:\s*breaks?)?|breaks?|preise?|staffel(?:preis)?|prix|prezzo|precio|prijs|cost|stückpreis|qty"
    r"|quantity|menge|à|at|@|for)"
)
_PIECES = r"(?:pcs?|pieces?|stk|stück|st|off|units?|pz|pi[eè]ces?|uds?|stuks|x)?"
_MORE_THAN = r">|over|above|more than|über|mehr als|plus de|più di|oltre|más de|meer dan|boven"
QUANTITY_HEADERS: tuple[re.Pattern[str], ...] = tuple(
    re.compile(pattern, re.IGNORECASE)
    for pattern in (
        # 1, 10+, 100 pcs, 10-24, 10 - 24 pcs, 1000 Stück, 10x, 25 off
        rf"{_NUMBER}\s*(?:\+|[-–]\s*\d[\d ]*)?\s*{_PIECES}\.?\+?",
        # ab 25, from 10, >= 100
        rf"(?:{_PRICE_WORD}\s*)?(?:ab|from|à partir de|dès|da|desde|vanaf|≥|>=|x)\s*{_NUMBER}\s*{_PIECES}\.?",
        # Price 100, price (100+), unit price @10
        rf"{_PRICE_WORD}\s*[@x:(\[]?\s*{_NUMBER}\s*\+?\s*{_PIECES}\.?\s*[)\]]?",
        # > 99, over 49: from one more on
        rf"(?:{_PRICE_WORD}\s*)?(?P<above>{_MORE_THAN})\s*{_NUMBER}\s*{_PIECES}\.?",
    )
)
"""Headers that name the quantity from which the prices below them hold."""


YEAR = re.compile(
    r"(?<![\d.,'’])20(?:0[1-9]|[1-9]\d)(?!\d|\s*\+|\s*(?:pcs?|pieces|stk|stück|st|off|units?|x)\b)", re.IGNORECASE
)
"""A year and no quantity from which prices hold: ``Price 2025``; ``2025+`` is one, and 2000 too."""


@dataclass(frozen=True, slots=True)
class Headers:
    """What the columns of a table are.

    ``columns`` maps a field to its 0-based column, ``units`` a field to the unit its header names,
    ``quantities`` pairs a price quantity with its column. ``unknown`` are the columns not understood.
    """

    columns: Mapping[str, int]
    units: Mapping[str, str]
    quantities: tuple[tuple[int, int], ...] = ()
    unknown: tuple[int, ...] = ()
    texts: tuple[str, ...] = ()
    diagnostics: tuple[Diagnostic, ...] = ()

    def __contains__(self, field: str) -> bool:
        """Tell whether the table has a column for ``field``."""
        return field in self.columns


def key(text: str) -> str:
    """Return the header as it is compared: case, accents, punctuation and runs of spaces taken away."""
    folded = unicodedata.normalize("NFKC", text).casefold().replace("⌀", "ø").replace("∅", "ø").replace("μ", "µ")
    folded = folded.replace("\N{OHM SIGN}", "ω")
    spread = unicodedata.normalize("NFD", folded)
    plain = "".join(letter for letter in spread if not unicodedata.combining(letter))
    plain = unicodedata.normalize("NFC", plain).replace("µ", "u").replace("μ", "u")
    return _SEPARATORS.sub(" ", plain).strip(" '\"!?")


@lru_cache(maxsize=64)
def _unspaced(vocabulary: tuple[tuple[str, tuple[str, ...]], ...]) -> dict[str, str]:
    """Return the longer spellings without blanks (``Artikel-Nr.``, ``Artikelnr``), but for those of two meanings."""
    meanings: dict[str, set[str]] = {}
    for spelling, field in _index(vocabulary).items():
        meanings.setdefault(spelling.replace(" ", ""), set()).add(field)
    return {text: min(fields) for text, fields in meanings.items() if len(fields) == 1 and len(text) >= UNSPACED}


@lru_cache(maxsize=64)
def _index(vocabulary: tuple[tuple[str, tuple[str, ...]], ...]) -> dict[str, str]:
    words: dict[str, str] = {}
    for field, spellings in vocabulary:
        for spelling in (field, *spellings):
            words.setdefault(key(spelling), field)
            words.setdefault(key(spelling.casefold().translate(_UMLAUTS)), field)
    return words


_UNITS = {key(unit): quantity for unit, quantity in UNIT_FIELDS.items()} | {'"': "length", "°": "temp"}
_PASSED_OVER = {key(word) for word in PASSED_OVER}


def words_of(vocabulary: Mapping[str, tuple[str, ...]]) -> dict[str, str]:
    """Return every spelling of ``vocabulary``, as :func:`key` writes it, and the field it means."""
    return _index(tuple(vocabulary.items()))


def meaning(text: str, vocabulary: Mapping[str, tuple[str, ...]]) -> tuple[str | None, str | None]:
    """Return the field that the header ``text`` means and the unit it names, None where there is none."""
    words = words_of(vocabulary)
    whole = key(text)
    bracketed = _BRACKETED.match(text) if len(text) <= LONGEST_HEADER else None
    if bracketed is not None:
        base = key(f"{bracketed['base']} {bracketed['rest']}")
        inside = bracketed["inside"].strip()
        field = words.get(base)
        if field is not None and goes_with(inside, field):
            return field, inside
        if field is not None and set(key(inside).split()) <= HARMLESS:
            return field, None
        return words.get(key(f"{base} {inside}")), None
    if whole in words:
        field = words[whole]
        return field, text.strip() if goes_with(text, field) and field != text.strip() else None
    pieces = text.replace("_", " ").replace("/", " ").split()
    for take in (1, 2):
        unit = " ".join(pieces[-take:])
        base = key(" ".join(pieces[:-take]))
        for name in (base, base.removesuffix(" in")):
            field = words.get(name)
            if field is not None and goes_with(unit, field):
                return field, unit
    return _unspaced(tuple(vocabulary.items())).get(whole.replace(" ", "")), None


def goes_with(unit: str, field: str) -> bool:
    """Tell whether ``unit`` is one that numbers of ``field`` have."""
    plain = key(unit) or unit.strip()
    return plain in _UNITS and _UNITS[plain] == FIELD_QUANTITY.get(field)


def price_quantity(text: str) -> int | None:
    """Return the quantity from which prices under the header ``text`` hold: ``10+``, ``ab 25``, ``100 pcs``."""
    for pattern in QUANTITY_HEADERS if len(text) <= LONGEST_HEADER else ():
        match = pattern.fullmatch(text.strip())
        if match is not None:
            quantity = _thousands(match["qty"]) if match["k"] else int(re.sub(r"\D", "", match["qty"]))
            quantity += "above" in match.groupdict()
            return None if YEAR.search(text) else quantity or None
    return None


def _thousands(number: str) -> int:
    """Return what ``2.5`` is in thousands, or ``10``."""
    whole, _, part = number.replace(",", ".").partition(".")
    return int(f"{whole}{part:0<3}")


def recognise(
    header_cells: Sequence[Cell],
    vocabulary: Mapping[str, tuple[str, ...]],
    *,
    quantities: bool = False,
    strict: bool = False,
) -> Headers:
    """Return what each header cell means in ``vocabulary``.

    With ``quantities`` headers that are quantities head price columns. With ``strict`` two columns
    for one field, and headers that come near a known one, are errors instead of warnings.
    """
    columns: dict[str, int] = {}
    units: dict[str, str] = {}
    breaks: dict[int, int] = {}
    unknown: list[int] = []
    found: list[Diagnostic] = []
    bad = Severity.ERROR if strict else Severity.WARNING
    taken = {meaning(cell.text, vocabulary)[0] for cell in header_cells if cell.text}
    if quantities and any(price_quantity(cell.text) is not None for cell in header_cells):
        taken.add("prices")
    free = [field for field in vocabulary if field not in taken]
    for index, cell in enumerate(header_cells):
        if not cell.text:
            continue
        source = cell.source
        field, unit = meaning(cell.text, vocabulary)
        quantity = price_quantity(cell.text) if quantities and field is None else None
        if quantity is not None:
            if quantity in breaks:
                message = f"two columns hold prices from {quantity} pieces on"
                found.append(Diagnostic(bad, "header-twice", message, source, "delete or rename one", cell.text))
            breaks.setdefault(quantity, index)
        elif field is None:
            unknown.append(index)
            found.append(not_understood(cell.text, vocabulary, free, source, bad))
        elif field in columns:
            other = header_cells[columns[field]].text
            message = f"two columns mean {field}: {other!r} and {cell.text!r}; the first was read"
            found.append(Diagnostic(bad, "header-twice", message, source, "delete or rename one", cell.text))
        else:
            columns[field] = index
            if unit is not None:
                units[field] = unit
    texts = tuple(cell.text for cell in header_cells)
    return Headers(columns, units, tuple(sorted(breaks.items())), tuple(unknown), texts, tuple(found))


def not_understood(
    text: str, vocabulary: Mapping[str, tuple[str, ...]], free: Sequence[str], source: Source, near: Severity
) -> Diagnostic:
    """Return what is said of a header nobody knows: the word it comes near to, or the names still free."""
    if key(text) in _PASSED_OVER:
        return note("header-passed-over", f"column {text!r} holds nothing that is used here", source, found=text)
    guess = nearest(key(text), words_of(vocabulary))
    if guess is None:
        message = f"header {text!r} is not understood; its column was not read"
        hint = "if it holds one of what has no column yet, give it that name: " + ", ".join(free or vocabulary)
        return Diagnostic(Severity.WARNING, "header-unknown", message, source, hint, text)
    message = f"header {text!r} is not understood; its column was not read"
    return Diagnostic(near, "header-near", message, source, guess, text)


def nearest(text: str, words: Mapping[str, str]) -> str | None:
    """Return a hint naming the word nearest to ``text``, how near, and the next best; None where none is near.

    ``words`` maps a spelling to what it means; the next best is the nearest that means something else.
    """
    from rapidfuzz import fuzz, process

    if len(text) < 3:  # noqa: PLR2004 - of two letters half would be wrong
        return None
    ranked = process.extract(text, list(words), scorer=fuzz.ratio, limit=12)
    if not ranked or ranked[0][1] < NEAR:
        return None
    best, score, _ = ranked[0]
    hint = f"perhaps {words[best]!r} is meant ({best!r}, {score:.0f} of 100 alike, asked for {NEAR}"
    other = next(((word, points) for word, points, _ in ranked[1:] if words[word] != words[best]), None)
    if other is not None:
        hint += f"; next best {words[other[0]]!r}, {other[1]:.0f}"
    return f"{hint}): rename it"


def units_row(row: Row, columns: Mapping[str, int]) -> dict[str, str] | None:
    """Return the units that ``row``, directly below the headers of ``columns``, holds instead of data, else None."""
    units: dict[str, str] = {}
    for field, index in columns.items():
        text = row.cells[index].text.strip("()[] ") if index < len(row.cells) else ""
        if not text:
            continue
        if not goes_with(text, field):
            return None
        units[field] = text
    return units or None


def is_comment(texts: Sequence[str]) -> bool:
    """Tell whether a row is a remark: nothing in it but one cell that begins with ``#``."""
    filled = [text for text in texts if text]
    return len(filled) == 1 and filled[0].startswith("#") and len(filled[0]) > 1


def find_header(
    table: Table, vocabulary: Mapping[str, tuple[str, ...]], *, quantities: bool = False, least: int = 2
) -> int | None:
    """Return the index of the first row of ``table`` in which at least ``least`` cells mean different fields.

    Rows above it are titles. Price quantities count only beside a field. One word alone heads a
    table only where no row has more than one cell. None where no row is a header.
    """
    looked_at = 0
    widest = max((len(row.cells) for row in table.rows[: 4 * HEADER_ROWS]), default=0)
    for index, row in enumerate(table.rows):
        filled = [cell for cell in row.cells if cell.text]
        if not filled:
            continue
        looked_at += 1
        if looked_at > HEADER_ROWS:
            return None
        fields = {meaning(cell.text, vocabulary)[0] for cell in filled} - {None}
        known = len(fields)
        if fields and quantities:
            known += sum(1 for cell in filled if price_quantity(cell.text) is not None)
        if known >= min(least, widest):
            return index
    return None
