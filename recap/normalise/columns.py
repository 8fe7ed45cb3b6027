"""What the columns of a capacitor list hold: by their headers first, by their contents where these speak plainer.

Headers are understood by :mod:`recap.read.headers`; what only capacitor lists have (sizes in one
column, original and replacement side by side, remarks, part numbers) is added here as data.
"""

from __future__ import annotations

import re
from dataclasses import replace
from functools import lru_cache
from itertools import pairwise
from typing import TYPE_CHECKING, Final

from recap.normalise import column_contents, column_sides, column_values, designators, further_columns, values
from recap.normalise.clean import clean, fold, squeeze
from recap.normalise.column import Column
from recap.normalise.column_words import MORE_FIELDS
from recap.normalise.later import compiled
from recap.read.headers import key, meaning, nearest, words_of
from recap.read.units import OTHER_UNIT, UNIT_FIELDS
from recap.read.vocabulary import CAP_LIST

if TYPE_CHECKING:
    from collections.abc import Sequence

    from recap.read.cells import Cell


VOCABULARY: Final[dict[str, tuple[str, ...]]] = {
    **{
        name: (*CAP_LIST.get(name, ()), *MORE_FIELDS.get(name, ())) for name in dict.fromkeys((*CAP_LIST, *MORE_FIELDS))
    },
}
_ORDER_SETTLED: Final = {
    "cap": "value",
    "c": "value",
    "elko": "ref",
    "type": "kind",
    "footprint": "package",
    "package": "package",
    "case": "package",
}


def understand(text: str, index: int) -> Column:
    """Return what the header ``text`` heads; field ``unknown`` where no word is known, ``""`` where it is blank."""
    return replace(_understood(text), index=index)


@lru_cache(maxsize=2048)
def _understood(text: str) -> Column:
    index = 0
    shown = squeeze(clean(text).text).strip(" :*")
    if not shown:
        return Column(index, "", "")
    field, unit = _meaning(shown)
    if field is not None:
        return Column(index, shown, field, unit)
    side, rest = column_sides.told(shown)
    if side:
        if not rest:
            return Column(index, shown, "text", None, side)
        field, unit = _meaning(rest)
        if field is not None:
            return Column(index, shown, field, unit, side)
        kept = "passed over" if fold(shown.split()[0]) in _OF_SHOPS else "text"
        return Column(index, shown, kept, None, "" if kept == "passed over" else side)
    return Column(index, shown, "unknown")


_OF_SHOPS: Final = frozenset(("stock", "price", "cost", "preis", "prix", "prezzo", "precio"))
"""With these in front, a header speaks of a shop, not of the part (``Stock @ lookup``)."""
_WITH_UNIT: Final = compiled(
    r"(?P<base>.+?)\s*[(\[,]\s*(?:in\s+)?(?P<unit>mm|cm|mils?|thou|(?:(?:1/|0?\.0{0,2}(?=1))\d{1,4}\s?)?(?:inch(?:es)?|in|\")|V|VDC"
    r"|[uµ]F|nF|pF|мкФ|нФ|пФ|В|°C|C)\.?\s*[)\]]?",
    re.IGNORECASE,
)


_WITH_REMARK: Final = compiled(r"(?P<base>[^()]{2,40}?)\s*\((?P<inside>[^()]{1,40})\)")


def _meaning(text: str) -> tuple[str | None, str | None]:
    text = _WHERE.sub("", text)
    field, unit = meaning(text, VOCABULARY)
    if field is None and (field := _composed(text)) == "text":
        unit = _unit_of_value(text)
    if field is None and (match := _WITH_UNIT.fullmatch(text)):
        field, unit = meaning(match["base"], VOCABULARY)[0], match["unit"]
        if field == "ref" and UNIT_FIELDS.get(unit.casefold()) == "length":  # where on the board it stands
            return "passed over", None
    if field is None and (match := _WITH_REMARK.fullmatch(text)):
        field, unit = meaning(match["base"], VOCABULARY)
        field = None if field != "value" and OTHER_UNIT.fullmatch(match["inside"]) else field
        unit = _unit_of_value(match["inside"]) if field == "value" else unit  # ``Value (nF/V)``
        if field == "size" and re.match(r"\s*[lh].*[dø]", match["inside"], re.IGNORECASE):
            field = "size reversed"
    if field is None and (match := _SYMBOL.fullmatch(text)):
        measured = UNIT_FIELDS.get(match["unit"].casefold().replace("μ", "µ"), "")
        field, unit = _SYMBOLS.get((match["symbol"].casefold(), measured)), match["unit"]
    if field is None and (match := _METERED.fullmatch(text)) and meaning(match["base"], VOCABULARY)[0] in _BY_METER:
        return "measured", None
    if field is None and text.casefold() in {"ø", "⌀"}:
        return "diameter", None
    settled = _ORDER_SETTLED.get(key(text))
    return (settled, unit) if settled and field is not None else (field, unit)


_SYMBOL: Final = compiled(
    r"(?P<symbol>[CUT])\s*(?:[\[(/]|\bin\b)\s*(?P<unit>[uµμnp]F|(?<!/)F|V|°C)\s*[\])]?", re.IGNORECASE
)
_SYMBOLS: Final = {("c", "value"): "value", ("u", "volts"): "volts", ("t", "temp"): "temp"}
"""Letter symbols of quantities with their unit (IEC 60027-1): ``C [µF]``, ``U/V``."""
_METERED: Final = compiled(
    r"(?P<base>.{3,30}?)\s*[\s(\[,/]\s*(?:in\s+)?(?:[uµμnp]F|m?(?:Ω|ohms?)|%)\s*[)\]]?", re.IGNORECASE
)
_BY_METER: Final = frozenset(("measured", "passed over"))
"""``Measured µF``, ``ESR (Ω)``: what a meter showed has any unit."""
_WHERE: Final = compiled(
    r"\s+(?:in|on|im|auf|sur|su|en|op)\s+(?:(?:the|der|dem|le|la|il|el|het|de)\s+)?(?:diagram|schematics?|picture|photo"
    r"|image|board|pcb|silkscreen|Schaltplan|Foto|Bild|Platine|schéma|photo|schema|foto|esquema|plano)$",
    re.IGNORECASE,
)
_ORDERING: Final = compiled(
    r"\b(?:part|mfr|mfg|order|article|item)\.?\s?(?:#|no\b\.?|nr\b\.?|num(?:ber)?\b|pn\b|code\b)"
    r"|\bp/?n\b|\bmpn\b|\bsku\b",
    re.IGNORECASE,
)
_NUMBERING: Final = compiled(r"(?:line|row|item|entry|zeile)\s?(?:#|no\.?|nr\.?|number)", re.IGNORECASE)
_NUMBERED: Final = compiled(r"(?P<base>[^\W\d].{1,20}?)[.\s]\s*(?:nos?|nrs?|numbers?)\.?", re.IGNORECASE)
_JOINTS: Final = compiled(r"\s*(?:/|&|\+|,|\band\b|\bund\b|\bet\b|\be\b|\by\b|\ben\b)\s*")
_DESCRIBING: Final = frozenset(("value", "volts", "text", "kind", "size", "mount", "temp", "part", "ref"))


def _unit_of_value(text: str) -> str | None:
    read = (meaning(piece, VOCABULARY) for piece in _JOINTS.split(text))
    return next((unit for field, unit in read if field == "value"), None)


def _composed(text: str) -> str | None:
    """Return what a header of several known words heads (``Value and Rating``), or one that speaks of ordering."""
    if _NUMBERING.fullmatch(text):
        return "item"
    numbered = _NUMBERED.fullmatch(text)  # ``Ref. No.``, ``Symbol no.``
    if numbered is not None and meaning(numbered["base"], VOCABULARY)[0] == "ref":
        return "ref"
    if _ORDERING.search(text):
        return "part"
    if re.fullmatch(r"[^\W\d]{3,}\d", text):  # ``Qty3``: a footnote, or a count of boards
        return meaning(text[:-1], VOCABULARY)[0]
    pieces = [piece for piece in _JOINTS.split(text) if piece]
    fields = {meaning(piece, VOCABULARY)[0] for piece in pieces}
    described = 2 <= len(pieces) <= 3 and fields <= _DESCRIBING and fields & {"value", "text", "ref"}  # noqa: PLR2004
    return "text" if described else None


STRONG: Final = frozenset(
    (
        "ref",
        "value",
        "volts",
        "qty",
        "text",
        "part",
        "size",
        "package",
        "mount",
        "kind",
        "pitch",
        "diameter",
        "height",
        "temp",
        "note",
        "board",
    )
)


def is_header(texts: Sequence[str]) -> bool:
    """Tell whether these cells are headers: at least two known fields, most cells known, and no quantity among them."""
    filled = [text for text in texts if text.strip()]
    if len(filled) < 2 or any(holds_data(text) for text in filled):  # noqa: PLR2004 - one word heads no table
        return False
    columns = [understand(text, i) for i, text in enumerate(filled)]
    known = {(column.field, column.side) for column in columns if column.field in STRONG}
    fields = {column.field for column in columns}
    tells = fields & {"ref", "value", "text", "volts"} or ("qty" in fields and fields & {"kind", "note", "part"})
    if len(known) < 2 or not tells:  # noqa: PLR2004
        return False
    told = sum(1 for column in columns if column.field not in {"unknown", ""})
    return told * 2 >= len(filled)


def are_all_known(words: Sequence[str]) -> bool:
    """Tell whether each word by itself heads a column of a list."""
    return all((column := understand(word, 0)).field in STRONG and not column.side for word in words)


def holds_data(text: str) -> bool:
    """Tell whether a cell holds a designator, a capacitance or a voltage rather than a heading."""
    stripped = clean(text).text.strip()
    group = designators.find_group(stripped, 0)
    if group is not None and group.end >= len(stripped):
        return True
    reading = values.capacitance(stripped)
    if reading is not None:
        return True
    return values.voltage(stripped) is not None and any(letter.isdigit() for letter in stripped)


def plan(header: Sequence[str], over: Sequence[str] | None, body: Sequence[Sequence[Cell]]) -> list[Column]:
    """Return the columns of a table: its header row, a row of headings over it, and what the body shows.

    ``over`` may hold ``Original`` and ``Replacement`` over groups of columns.
    """
    columns, told = [], []
    for index, text in enumerate(header):
        column = understand(text, index)
        above = over[index] if over is not None and index < len(over) else ""
        named = text
        if above and above != text and not column.side and (side := column_sides.told(squeeze(above))[0]):
            column, named = replace(column, side=side), above
            if column.field in {"", "unknown"}:
                column = replace(column, field="text")
        elif above and above != text and _understood(above).field == "measured":
            column = replace(column, field="measured", side="")  # ``Measured`` over ``uF | ESR``
        columns.append(column)
        told.append(named)
    sides = column_sides.weighed([column.side for column in columns], told)
    columns = [
        replace(column, side=side, field="text" if side and column.field in {"", "unknown"} else column.field)
        for column, side in zip(columns, sides, strict=True)
    ]
    columns = _by_contents(columns, body)
    body = [row for row in body if sum(bool(cell.text.strip()) for cell in row) > 1] or body  # no headings, no remarks
    counted = sum(column.field == "qty" for column in columns) > 1
    columns = [_numbering(column, body, counted=counted) for column in columns]
    columns = [_no_diameter(column, body) for column in further_columns.settled(columns, body)]
    columns = [_no_count(column, body) for column in columns]
    return _replacements_alone(column_values.settled(columns, body))


def _by_contents(columns: list[Column], body: Sequence[Sequence[Cell]]) -> list[Column]:
    """Give the ref column to the column that holds designators, whatever its header says."""
    best = column_contents.ref_column([column.field for column in columns], body)
    if best is None:
        columns = [_counted_rows(column, columns, body) for column in columns]
        named = [column for column in columns if column.field == "ref"]
        columns = _first_only(columns, "ref", named[0].index if named else None)
        return [_described(_placed(column, columns, body), body) for column in columns]
    chosen = []
    for i, column in enumerate(columns):
        if i == best or (column.field == "ref" and column_contents.holds_refs(i, body)):
            chosen.append(replace(column, field="ref", side=""))
        elif column.field == "ref":
            chosen.append(_dethroned(column, columns, body))
        else:
            chosen.append(column)
    return chosen


def _counted_rows(column: Column, columns: Sequence[Column], body: Sequence[Sequence[Cell]]) -> Column:
    """Take ``Pos`` over 1, 2, 3 … beside a column of counts for the rows' numbers: a designator has one part."""
    counts = next((other.index for other in columns if other.field == "qty"), None)
    numbers = [int(text) for text in column_contents.texts_of(column.index, body) if text.isdecimal()]
    if column.field != "ref" or counts is None or not numbers or numbers != list(range(1, len(numbers) + 1)):
        return column
    several = any(text.isdecimal() and int(text) > 1 for text in column_contents.texts_of(counts, body))
    return replace(column, field="item") if several and not column.header.upper().startswith("C") else column


def _placed(column: Column, columns: Sequence[Column], body: Sequence[Sequence[Cell]]) -> Column:
    """Take a column headed ``Location`` for the boards where it holds words and no column holds designators."""
    if column.field != "ref" or key(column.header) not in _PLACES:
        return column
    texts = column_contents.texts_of(column.index, body)
    words = bool(texts) and all(re.fullmatch(r"[^\d]*[^\W\d_]{2,}[^\d]*", text) for text in texts)
    return _dethroned(column, columns, body) if words else column


def _dethroned(column: Column, columns: Sequence[Column], body: Sequence[Sequence[Cell]]) -> Column:
    """Say what a column headed like designators holds where these stand in another: a place, row numbers, or text."""
    if column_contents.numbers_rows(column.index, body):
        return replace(column, field="item")
    named = any(re.search(r"[^\W\d_]{2,}", text) for text in column_contents.texts_of(column.index, body))
    place = named and key(column.header) in _PLACES and not any(other.field == "board" for other in columns)
    return replace(column, field="board" if place else "text" if column.header else "")


def _described(column: Column, body: Sequence[Sequence[Cell]]) -> Column:
    """Take a column headed by a word for parts (``Bauteil``) that holds descriptions for text, not for designators."""
    if (
        column.field == "ref"
        and key(column.header) in _WORDS_FOR_PARTS
        and column_contents.holds_words(column.index, body)
    ):
        return replace(column, field="text")
    return column


_WORDS_FOR_PARTS: Final = frozenset(
    key(word)
    for word in (
        "part|parts|component|components|capacitor|capacitors|caps|name|label|item|Bauteil|Bauteile|Kondensator|Elko|Elkos"
        "|Bezeichnung|composant|composants|condensateur|componente|componenti|componentes|condensatore|condensador"
        "|onderdeel|condensator|position|pos|posten|posizione|posición|positie"
    ).split("|")
)
"""Headers that head designators in one list and descriptions in the next."""


_PLACES: Final = frozenset(
    key(word) for word in ("position", "location", "loc", "pos", "posizione", "posición", "positie")
)
"""Headers that name the board where the designators stand in another column."""


def _numbering(column: Column, body: Sequence[Sequence[Cell]], *, counted: bool) -> Column:
    """Take a column headed ``#`` that holds 1, 2, 3 … for the numbers of the rows, not for counts (or lead pitches).

    Where another column counts (``counted``) they may begin anywhere and leave some out.
    """
    if key(column.header) not in _AMBIGUOUS_NUMBERS.get(column.field, ()):
        return column
    rows = [row for row in body if sum(bool(cell.text.strip()) for cell in row) > 1]  # no headings between
    told = [text for row in rows if column.index < len(row) and (text := row[column.index].text.strip(" ."))]
    numbers = [int(text) for text in told if text.isdecimal()]
    runs = len(told) == len(numbers) > 1 and numbers == list(range(1, len(numbers) + 1))
    rises = counted and len(told) == len(numbers) and all(a < b for a, b in pairwise(numbers))
    return replace(column, field="item") if runs or rises else column


def _no_diameter(column: Column, body: Sequence[Sequence[Cell]]) -> Column:
    """Take a column headed ``D`` for one that isn't known where it holds figures that no part is wide: 0, 1, 2 mm."""
    if column.field != "diameter" or column.unit or len(column.header.strip(" .")) > 1 or not column.header.isascii():
        return column
    thin = any(text in {"0", "1", "2"} for text in column_contents.texts_of(column.index, body))
    return replace(column, field="unknown") if thin else column


def _no_count(column: Column, body: Sequence[Sequence[Cell]]) -> Column:
    """Pass over a column headed ``Amount`` or ``Valor`` that holds sums of money (``3.60``, ``R$ 0,50``)."""
    texts = column_contents.texts_of(column.index, body) if column.field in {"qty", "value"} else []
    plain = column.field == "qty"
    sums = [text for text in texts if _PRICE.fullmatch(text) or (plain and re.fullmatch(r"\d{1,5}[.,]\d\d", text))]
    money = len(sums) > 1 and len(sums) >= column_contents.NEARLY_ALL * len(texts)
    return replace(column, field="passed over") if money else column


_AMBIGUOUS_NUMBERS: Final = {
    "qty": frozenset(key(word) for word in ("#", "no", "nr", "number of", "no of", "num", "number")),
    "pitch": frozenset(("lp", "p")),  # ``Lp.`` numbers the rows of Polish lists
}
_PRICE: Final = compiled(
    r"(?:[A-Z]{0,3}[$€£¥]|EUR|USD|GBP|CHF|kr)\.?\s?\d[\d.,]*|\d[\d.,]*\s?(?:[$€£¥]|EUR|USD|GBP|CHF|kr|zł|Kč|Ft|руб)\.?",
    re.IGNORECASE,
)


def _first_only(columns: list[Column], field: str, index: int | None) -> list[Column]:
    return [
        replace(column, field="text") if column.field == field and column.index != index else column
        for column in columns
    ]


def _replacements_alone(columns: list[Column]) -> list[Column]:
    """Where only replacements are listed, they are the list."""
    if any(column.side == "replacement" for column in columns):
        # beside replacements a part number is the replacement's, and says nothing of the part in the set
        columns = [replace(c, side="replacement") if c.field == "part" and not c.side else c for c in columns]
    own = any(column.side != "replacement" and column.field in {"value", "text"} for column in columns)
    if own:
        return columns
    return [replace(column, side="") if column.side == "replacement" else column for column in columns]


def near(column: Column) -> str | None:
    """Return the hint which known header an unknown one comes near to, with the score and the next best."""
    return nearest(key(column.header), words_of(VOCABULARY))


def describe(columns: Sequence[Column]) -> str:
    """Return the columns and what each was taken for, for the note that names them."""
    shown = []
    for column in columns:
        if not column.header:
            continue
        field = column.field if not column.side else f"{column.side} {column.field}"
        shown.append(f"{column.header!r} as {field}" + (f" in {column.unit}" if column.unit else ""))
    return ", ".join(shown)
