"""Columns beside the usual ones: the designators of a further channel, and whether a place is fitted.

Both are told by header and cells together: ``Fit`` over ``Y`` and ``N``, ``Right`` over ``C21``, ``C22``.
"""

from __future__ import annotations

import re
from collections import defaultdict
from dataclasses import replace
from typing import TYPE_CHECKING, Final

from recap.normalise import boards_beside, column_contents, leaving
from recap.normalise.capacitances import IN_FARADS, capacitance
from recap.normalise.cell_codes import MOUNT_CODES
from recap.normalise.clean import fold, ticked
from recap.normalise.decimals import EXPONENT
from recap.normalise.kind_words import MOUNT_WORDS
from recap.normalise.tokens import Sort, tokenise
from recap.normalise.voltages import voltage
from recap.normalise.words import NOT_FITTED
from recap.read.headers import key
from recap.read.units import UNIT_FIELDS

if TYPE_CHECKING:
    from collections.abc import Sequence

    from recap.normalise.column import Column
    from recap.read.cells import Cell

_FITTED: Final = frozenset(
    key(word)
    for word in (
        "fit|fitted|fit?|fitted?|populate|populated|populated?|stuff|stuffed|assemble|assembled|place|placed|install"
        "|installed|bestückt|bestücken|monté|équipé|montato|montado|geplaatst"
    ).split("|")
)
_NOT_FITTED: Final = frozenset(
    key(word)
    for word in (
        "dnp|dnf|dni|dns|nofit|no fit|not fitted|do not fit|do not populate|not populated|unfitted|nicht bestückt"
        "|unbestückt|non monté|non montato|no montado|niet geplaatst|exclude from board"
    ).split("|")
)
_JOBS: Final = frozenset(
    key(word)
    for word in (
        "replace|change|swap|recap|renew|to replace|to change|to be replaced|need replacing|needs replacing|job|action"
        "|to do|todo|what to do|do what|task|work|status|state|decision|verdict|tauschen|ersetzen|wechseln|erneuern"
        "|tausch|arbeit|aktion|zustand|changer|remplacer|à changer|à remplacer|travail|état|cambiare|sostituire"
        "|da cambiare|da sostituire|lavoro|stato|cambiar|sustituir|trabajo|estado|vervangen|werk|wisselen"
    ).split("|")
)
_STAYING: Final = frozenset(
    key(word)
    for word in (
        "keep|keep?|leave|leave?|skip|skip?|stays|stays?|leave alone|don't touch|do not touch|bleibt|behalten|garder"
        "|laisser|tenere|lasciare|dejar|mantener|behouden|laten"
    ).split("|")
)
_REPLACING: Final = frozenset(
    fold(word)
    for word in (
        "replace change swap renew recap new todo tauschen ersetzen wechseln erneuern neu changer remplacer cambiare "
        "sostituire cambiar sustituir vervangen wisselen bad faulty leaking leaky dead defekt mauvais guasto malo kapot"
    ).split()
)
_EMPTY: Final = frozenset(map(fold, NOT_FITTED))
YES: Final = frozenset("y yes x 1 true t ja j oui o si s wahr vrai vero sim tak".split())
NO: Final = frozenset("n no 0 false f nein non nee falsch faux falso nao nie".split())
ANSWERED: Final = frozenset(("flag", "fitted", "not fitted", "staying", "job"))
"""Fields of columns that are ticked or answered."""


def as_word(text: str, field: str) -> str:
    """Return a tick or a cross in a column that is answered as the word it stands for."""
    return ticked(text) or text if field in ANSWERED else text


def settled(columns: list[Column], body: Sequence[Sequence[Cell]]) -> list[Column]:
    """Return the columns with those of this module told."""
    columns = [_farads(_leads(_unit(_symbol(column, body), body), body), body) for column in columns]
    columns = _used_in(_printed_beside(_with_counts(columns, body)), body)
    placed = any(column.field == "ref" for column in columns)
    told = [_fitted(_channel(column, body) if placed else column, body) for column in columns]
    told = [_flag(_actual(_job(column, body), body), body) for column in _without_part_totals(told, body)]
    return [_shop_codes(column, body) if placed else column for column in (_of_sides(c, body) for c in told)]


def _of_sides(column: Column, body: Sequence[Sequence[Cell]]) -> Column:
    """Take a column headed ``Location`` for a remark where it says nothing but on which side: ``Bottom left``."""
    if column.field != "board" or key(column.header) not in _WHERE:
        return column
    told = {fold(word) for text in column_contents.texts_of(column.index, body) for word in text.split()}
    return replace(column, field="note") if told and told <= _SIDES else column


_SIDES: Final = frozenset(
    "top bottom left right center centre middle front back rear upper lower edge corner side oben unten links rechts "
    "mitte vorn hinten haut bas gauche droite milieu alto basso sinistra destra centro arriba abajo izquierda "
    "derecha".split()
)
_WHERE: Final = frozenset(map(key, "position location loc pos posizione posición positie".split()))


def perhaps_volts(column: Column, body: Sequence[Sequence[Cell]]) -> bool:
    """Tell whether a column that isn't understood holds nothing but numbers that capacitors are rated with."""
    texts = column_contents.texts_of(column.index, body)
    read = [voltage(text, bare=True) for text in texts]
    rated = [r for r in read if r is not None and r.value is not None and not r.doubts and r.value >= LEAST_RATING]
    return len(texts) >= FEWEST_RATINGS and len(rated) == len(texts)


LEAST_RATING: Final = 4
FEWEST_RATINGS: Final = 2


def with_symbols(header: Sequence[str], below: Sequence[Sequence[str]]) -> list[str]:
    """Return a header with words for lone letter symbols (IEC 60027-1: ``C``, ``U``) that the cells below bear out."""
    named = []
    for index, text in enumerate(header):
        told = [row[index] for row in below if index < len(row) and row[index]]
        field = _SYMBOLS.get(text.strip(" .:").casefold())
        named.append(field if field is not None and _bear_out(field, told) else text)
    return named


_SYMBOLS: Final = {
    "c": "value",
    **dict.fromkeys("u vn vr vw vmax vnom vnenn umax unenn ub".split(), "volts"),
}


def _bear_out(field: str, texts: Sequence[str]) -> bool:
    """Tell whether all cells of a column are capacitances, or voltages with or without their unit."""
    read = [capacitance(text) if field == "value" else voltage(text, bare=True) for text in texts]
    return bool(texts) and all(reading is not None for reading in read)


def _symbol(column: Column, body: Sequence[Sequence[Cell]]) -> Column:
    """Take a column headed ``C`` or ``U`` for what its cells hold."""
    field = _SYMBOLS.get(key(column.header)) if column.field == "unknown" and not column.side else None
    plain = field is not None and _bear_out(field, column_contents.texts_of(column.index, body))
    return replace(column, field=field) if plain and field is not None else column


_UNITS: Final = frozenset(
    map(key, ("unit", "units", "einheit", "einh", "unité", "unità", "unidad", "eenheid", "um", "uom", "enhet", "jedn"))
)


_IN_CELLS: Final = frozenset(("value", "volts", "length", "temp", "ripple"))


def _unit(column: Column, body: Sequence[Sequence[Cell]]) -> Column:
    """Take a column headed ``Unit`` that holds units of one quantity for those of the column beside it."""
    if key(column.header) not in _UNITS:
        return column
    told = {UNIT_FIELDS.get(text.casefold().replace("μ", "µ")) for text in column_contents.texts_of(column.index, body)}
    plain = len(told) == 1 and told <= _IN_CELLS
    return replace(column, field="unit", side="") if plain else column


def _farads(column: Column, body: Sequence[Sequence[Cell]]) -> Column:
    """Tell a column in farads from one that has lost its µ: its numbers are written with exponents."""
    if column.field != "value" or (column.unit or "").casefold() not in {"f", "farad", "farads"}:
        return column
    written = any(EXPONENT.fullmatch(text) for text in column_contents.texts_of(column.index, body))
    return replace(column, unit=IN_FARADS) if written else column


def _leads(column: Column, body: Sequence[Sequence[Cell]]) -> Column:
    """Take a column headed ``Lead`` that holds ``R`` and ``A`` for the mount, not for the lead pitch."""
    if column.field != "pitch":
        return column
    told = [fold(text) for text in column_contents.texts_of(column.index, body)]
    words = bool(told) and all(text in MOUNT_CODES or text in MOUNT_WORDS for text in told)
    return replace(column, field="mount") if words else column


def _with_counts(columns: list[Column], body: Sequence[Sequence[Cell]]) -> list[Column]:
    """In a table without designators and counts, take a column without a header that holds whole numbers for these."""
    fields = {column.field for column in columns}
    if fields & {"ref", "qty"} or not any(column_contents.count_of_values(column.index, body) for column in columns):
        return columns
    counts = [column for column in columns if not column.header and column_contents.holds_counts(column.index, body)]
    if len(counts) != 1:
        return columns
    return [replace(column, field="qty") if column is counts[0] else column for column in columns]


def _used_in(columns: list[Column], body: Sequence[Sequence[Cell]]) -> list[Column]:
    """Take a column headed ``For`` for the boards where its cells name some and no other column does."""
    if any(column.field == "board" for column in columns):
        return columns
    return [replace(column, field="board") if _is_of_use(column, body) else column for column in columns]


def _is_of_use(column: Column, body: Sequence[Sequence[Cell]]) -> bool:
    if column.field != "unknown" or column.side or key(column.header) not in _USES:
        return False
    texts = column_contents.texts_of(column.index, body)
    named = sum(boards_beside.names_board(text) for text in texts)
    return bool(texts) and named * 2 >= len(texts)


_USES: Final = frozenset(
    map(key, "for|used in|used on|goes in|goes to|für|wofür|verwendung|pour|per|para|uso|voor|till|til|do".split("|"))
)


def _printed_beside(columns: list[Column]) -> list[Column]:
    """Keep what is printed on the parts as a remark where a column of values stands beside it: ``475V``, ``47 16V``."""
    valued = [column for column in columns if column.field == "value" and not column.side]
    printed = [column for column in valued if key(column.header) in _PRINTED]
    if not 0 < len(printed) < len(valued):
        return columns
    return [replace(column, field="part") if column in printed else column for column in columns]


_PRINTED: Final = frozenset(map(key, ("marking", "marked", "printed", "print", "aufdruck", "marquage", "code")))


def _without_part_totals(columns: list[Column], body: Sequence[Sequence[Cell]]) -> list[Column]:
    """Pass over counts of part numbers in the whole set: they stand where a number is first met and nowhere else."""
    placed = {column.field: column.index for column in columns if column.field in {"ref", "qty", "part"}}
    if len(placed) < 3 or sum(column.field == "qty" for column in columns) > 1:  # noqa: PLR2004
        return columns
    counts: dict[str, list[str]] = defaultdict(list)
    for row in body:
        if placed["part"] < len(row) and (part := row[placed["part"]].text.strip()):
            counts[part].append(row[placed["qty"]].text.strip() if placed["qty"] < len(row) else "")
    repeated = [told for told in counts.values() if len(told) > 1]
    of_parts = all(told[0].isdecimal() and not any(told[1:]) for told in repeated)
    of_parts = of_parts and any(int(told[0]) >= len(told) for told in repeated)
    if not of_parts:
        return columns
    return [replace(column, field="passed over") if column.field == "qty" else column for column in columns]


def _flag(column: Column, body: Sequence[Sequence[Cell]]) -> Column:
    """Take a column headed by what a part may be (``NP``, ``SMD``) that is ticked for what its header says."""
    name = column.header.strip(" ?")
    if column.field not in {"unknown", "kind", "mount", "safety", "text"} or column.side or not is_attribute(name):
        return column
    texts = column_contents.texts_of(column.index, body)
    answered = sum(answer(text) is not None for text in texts)
    return replace(column, header=name, field="flag") if answered and 2 * answered >= len(texts) else column


def is_attribute(text: str) -> bool:
    """Tell whether a text states a kind, a mount or a safety class and nothing else, be it twice (``NP/BP``)."""
    tokens = tokenise(text, refs_seen=True)
    stated = [token for token in tokens if token.sort is not Sort.MARK]
    twice = len({repr(token.what) for token in stated}) == 1
    plain = all(token.sort in {Sort.KIND, Sort.MOUNT, Sort.SAFETY} for token in stated)
    return bool(stated) and plain and (twice or len(stated) == len(tokens))


def _channel(column: Column, body: Sequence[Sequence[Cell]]) -> Column:
    told = boards_beside.names_channel(column.header) or boards_beside.names_board(column.header)
    if column.field not in {"unknown", "", "text", "board"} or column.side or not told:
        return column
    return replace(column, field="further ref") if column_contents.holds_refs(column.index, body) else column


def _fitted(column: Column, body: Sequence[Sequence[Cell]]) -> Column:
    name = key(column.header)
    field = "fitted" if name in _FITTED else "not fitted" if name in _NOT_FITTED else None
    if field is None:
        return column
    texts = column_contents.texts_of(column.index, body)
    plain = bool(texts) and all(answer(text) is not None for text in texts)
    return replace(column, field=field, side="") if plain else column


MOST_DIGITS: Final = 4
"""Designators have no more (common practice): ``C98190`` beside one is a shop's number."""
_SHOP_CODE: Final = re.compile(r"C\d{3,9}")


def _shop_codes(column: Column, body: Sequence[Sequence[Cell]]) -> Column:
    """Take a column that isn't understood for a shop's numbers where these look like designators but run on too far."""
    if column.field != "unknown" or column.side:
        return column
    codes = [code for text in column_contents.texts_of(column.index, body) for code in re.split(r"[\s,;/]+", text)]
    shaped = [code for code in codes if _SHOP_CODE.fullmatch(code)]
    long = any(len(code) > MOST_DIGITS + 1 for code in shaped)
    return replace(column, field="part") if long and len(shaped) == len(codes) else column


_ACTUAL: Final = frozenset(map(key, ("actual", "actual value", "real value", "tatsächlich", "réel", "reale", "real")))


def _actual(column: Column, body: Sequence[Sequence[Cell]]) -> Column:
    """Take a column headed ``Actual`` for values printed on the parts where none of them is a meter's."""
    if column.field != "measured" or key(column.header) not in _ACTUAL:
        return column
    read = [capacitance(text) for text in column_contents.texts_of(column.index, body)]
    printed = bool(read) and all(reading is not None and reading.value and not reading.doubts for reading in read)
    return replace(column, field="text", side="") if printed else column


def _job(column: Column, body: Sequence[Sequence[Cell]]) -> Column:
    """Take a column headed ``Replace?`` or ``Job`` for what is to be done where its cells say nothing else."""
    if key(column.header) in _STAYING:
        told = column_contents.texts_of(column.index, body)
        return replace(column, field="staying", side="") if all(answer(text) is not None for text in told) else column
    if key(column.header) not in _JOBS:
        return column
    texts = column_contents.texts_of(column.index, body)
    plain = bool(texts) and all(is_replaced(text) is not None or fold(text) in _EMPTY for text in texts)
    return replace(column, field="job", side="") if plain else column


def is_replaced(text: str) -> bool | None:
    """Return what a cell of a column of jobs says: True where the part is replaced, False where it stays."""
    said = answer(text)
    if said is not None:
        return said
    return True if fold(text.strip(" .!")) in _REPLACING else False if leaving.tells(text) else None


def answer(text: str) -> bool | None:
    """Return what a cell answers: True for yes, False for no, None where it is neither."""
    said = ticked(text) or fold(text.strip(" ."))
    return True if said in YES else False if said in NO else None
