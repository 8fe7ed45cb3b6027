"""One cell to what its column holds: a reader for each field; what a reader can't take is read as free text."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import TYPE_CHECKING, Final

from recap.model import Role
from recap.normalise import (
    cell_words,
    designators,
    leaving,
    order_codes,
    packages,
    patterns,
    quantities,
    sizes,
    torn_numbers,
    values,
    words,
)
from recap.normalise.cell_codes import KIND_CODES, MOUNT_CODES
from recap.normalise.cell_refs import read_ref
from recap.normalise.cell_text import NOTHING, UNKNOWN_MARKS, free, taken
from recap.normalise.clean import fold
from recap.normalise.fields import Draft, in_unit, take
from recap.normalise.further_columns import answer, is_replaced
from recap.normalise.later import compiled
from recap.normalise.other_parts import FARADS
from recap.normalise.remarks import read_remark
from recap.normalise.sizes import Size
from recap.normalise.tokens import Sort, Token, tokenise

if TYPE_CHECKING:
    from collections.abc import Callable
    from decimal import Decimal

    from recap.normalise.column import Column

def _value(draft: Draft, text: str, column: Column, unit: str | None) -> None:
    if text.casefold() in NOTHING:
        if text in UNKNOWN_MARKS:
            draft.doubt("marked-uncertain", f"{text!r} stands for the value")
        return
    _doubt_negative(draft, text, column)
    if _holds_package(draft, text, column):
        return
    reading = None if re.search(r"[uµnmp]H\b", text) else values.capacitance(text, unit)  # henry, no tolerance letter
    if reading is None and _TWO_NUMBERS.fullmatch(text):
        reading = values.capacitance(f"{text} {unit or 'µF'}")  # ``10 or 22``: neither of them is taken
    if reading is not None:
        draft.caps.append(reading)
        for code in reading.doubts if reading.value is None else ():
            draft.doubt(code, f"{text!r} in column {column.header!r}")
        return
    if (match := _LIKE_CELL.fullmatch(text)) is not None:
        group = designators.find_group(match["ref"])
        draft.like = None if group is None else group.refs[0]
    if draft.like is None:
        _in_column(draft, text, column, Sort.CAP, unit)


def _doubt_negative(draft: Draft, text: str, column: Column) -> None:
    """Doubt a number with a minus sign, which no capacitance and no rating has: it may be a supply's, or a slip."""
    if _NEGATIVE.match(text):
        draft.doubt("cell-unread", f"{text!r} in column {column.header!r} is read without its sign")


_NEGATIVE: Final = compiled(r"-\s?\d")


def _holds_package(draft: Draft, text: str, column: Column) -> bool:
    """Read a cell for the value that holds a way of mounting, a kind or a chip size: ``Radial``, ``0805 / THT``."""
    parts = re.split(r"\s*[/,]\s*", text)
    sized = [part for part in parts if part.startswith("0") and packages.mount_of(part) is not None]
    others = [part for part in parts if part not in sized]
    through = [part for part in others if fold(part) in _THROUGH]
    stated = [token for part in others if part not in through for token in tokenise(part, refs_seen=True)]
    if not (sized or through or stated) or not {token.sort for token in stated} <= _PACKAGED | {Sort.MARK}:
        return False
    if sized and others:
        draft.notes.append(text)  # the board has holes for either
    elif sized:
        _package(draft, text, column, None)
    else:
        take(draft, stated)
    return True


_THROUGH: Final = frozenset(("tht", "th", "pth", "through hole", "through-hole", "leaded"))
_LIKE_CELL: Final = compiled(rf"(?:{patterns.LIKE.pattern})\s*(?P<ref>\S{{2,8}})", re.IGNORECASE)
"""``same as C9`` where the value belongs: that record counts."""
_TWO_NUMBERS: Final = compiled(r"\d[\d.,]*\s*(?:or|oder|ou|o|of|-|~|\.\.+|to|bis|à)\s*\d[\d.,]*", re.IGNORECASE)
_TWO_VALUES: Final = compiled(r"(?P<a>\d+(?:[.,]\d+)?)\s*/\s*(?P<b>\d+(?:[.,]\d+)?)")


def two_values(draft: Draft, text: str, rated: str, unit: str | None) -> bool:
    """Take ``10 / 22`` for two values where the row's own voltage is another: neither is chosen."""
    match = _TWO_VALUES.fullmatch(text)
    volts = values.voltage(rated, bare=True) if rated else None
    both = [values.capacitance(match[name], unit or "µF") for name in "ab"] if match is not None else []
    known = [reading.value for reading in both if reading is not None and reading.value is not None]
    if volts is None or volts.value is None or len(known) != 2 or volts.value == known[1]:  # noqa: PLR2004
        return False
    draft.caps.append(values.Reading(None, ("alternatives",), tuple(known)))
    draft.doubt("alternatives", f"{text!r} stands for the value, and {rated!r} is the voltage")
    return True


def _volts(draft: Draft, text: str, column: Column, unit: str | None) -> None:
    if text.casefold() in NOTHING:
        if text in UNKNOWN_MARKS:
            draft.doubt("marked-uncertain", f"{text!r} stands for the voltage")
        return
    _doubt_negative(draft, text, column)
    text = _in_kilovolts(text, unit)
    reading = values.voltage(text, bare=True)
    if reading is not None:
        draft.volts.append(reading)
        return
    _in_column(draft, text, column, Sort.VOLTS, unit)


def _in_kilovolts(text: str, unit: str | None) -> str:
    kilo = unit is not None and fold(unit).startswith(("kv", "kilov")) and re.fullmatch(r"[\d.,]+", text)
    return f"{text} kV" if kilo else text


def _in_column(draft: Draft, text: str, column: Column, expected: Sort, unit: str | None) -> None:
    """Read a cell that holds more, or other, than its column says."""
    if order_codes.is_one(text) and FARADS.search(text) is None:
        draft.doubt("cell-unread", f"{text!r} in column {column.header!r}")
        return
    tokens = torn_numbers.joined(tokenise(text, refs_seen=True), text, len(draft.refs))
    tokens = [token for token in tokens if token.sort is not Sort.REFS or not draft.placed]
    readable: list[Token] = []
    met = False
    for token in tokens:
        if token.sort is Sort.NUMBER and not met and text[token.end : token.end + 1] not in {'"', "'", "%"}:
            reading = (
                values.capacitance(token.text, unit) if expected is Sort.CAP else values.voltage(token.text, bare=True)
            )
            if reading is not None:
                token = Token(expected, token.text, token.start, token.end, reading, reading.doubts)  # noqa: PLW2901
        elif unit and expected is Sort.CAP:
            token = in_unit(token, unit)  # noqa: PLW2901
        met = met or token.sort in {expected, Sort.PAIR, Sort.SECTIONS}
        readable.append(token)
    if expected is Sort.VOLTS and any(t.sort is Sort.NUMBER and t.text not in _DEGREES for t in readable):
        readable = [t for t in readable if t.sort not in {Sort.VOLTS, Sort.NUMBER} or not t.text.isdigit()]
        met = False  # ``16 25``: which of them
    taken(draft, readable)
    if (not met and not draft.not_fitted) or torn_numbers.is_spoilt(text):
        draft.doubt("cell-unread", f"{text!r} in column {column.header!r}")


_DEGREES: Final = frozenset(("85", "105", "125"))
"""Behind a voltage these are temperatures: ``25 85``."""


def _measure(
    reader: Callable[..., values.Reading | None], name: str
) -> Callable[[Draft, str, Column, str | None], None]:
    def read(draft: Draft, text: str, column: Column, unit: str | None) -> None:
        if text.casefold() in NOTHING:
            return
        text = sizes.in_parts_of_inch(text, unit)
        reading = reader(f"{text} {unit}") if unit and re.fullmatch(r"[\d.,/ ]+", text) else None
        reading = reading or reader(text, bare=True)
        if reading is None:
            _leftover(draft, text, column)
            return
        for code in reading.doubts:
            draft.doubt(code, f"{text!r} in column {column.header!r}")
        if reading.value or (name == "temp" and reading.value is not None):  # no part is 0 mm wide: not stated
            _put(draft, name, reading.value)

    return read


def _put(draft: Draft, name: str, value: Decimal) -> None:
    if name == "temp":
        draft.temps.append(int(value))
    elif name == "ripple":
        draft.ripple.append(value)
    elif name == "operating":
        draft.operating = value
    else:
        draft.sizes.append(Size.of(name, value))


def _leftover(draft: Draft, text: str, column: Column) -> None:
    """Read a cell of lengths or temperatures as free text; doubt it where that gives nothing."""
    before = (len(draft.sizes), len(draft.temps), len(draft.ripple), len(draft.mounts))
    tokens = tokenise(text, refs_seen=True)
    passed = {Sort.NUMBER, Sort.REFS, Sort.PAIR}  # ``7.5/10`` are two pitches, no value with its voltage
    take(draft, [token for token in tokens if token.sort not in passed])
    met = before != (len(draft.sizes), len(draft.temps), len(draft.ripple), len(draft.mounts))
    if not met or any(token.sort in {Sort.NUMBER, Sort.PAIR} for token in tokens):
        draft.doubt("cell-unread", f"{text!r} in column {column.header!r}")


def _operating(draft: Draft, text: str, column: Column, unit: str | None) -> None:
    reading = values.voltage(_in_kilovolts(text, unit), bare=True)
    if reading is None or reading.value is None:
        draft.notes.append(f"{column.header}: {text}")  # ``24/28 V``: neither of them is taken
        return
    draft.operating = reading.value


def _quantity(draft: Draft, text: str, column: Column, unit: str | None) -> None:
    match = _PIECES.fullmatch(text)
    if match is not None:
        count = int(re.sub(r"\D", "", match["grouped"] or match["whole"]))
        if match["zeros"]:
            draft.doubt("cell-unread", f"{text!r} in column {column.header!r} may be {count} or {count * 1000} pieces")
        elif count:
            draft.counts.append(count)
            draft.counted_apart = True
        else:
            draft.not_fitted = True
    elif text.casefold() not in NOTHING:
        draft.doubt("cell-unread", f"{text!r} in column {column.header!r}")
    del unit


_PIECES: Final = compiled(
    r"(?:x|×)?\s*(?:(?P<grouped>[1-9]\d{0,2}(?:[.,' ](?!000(?!\d))\d{3})+)"
    r"|(?P<whole>\d{1,4})(?P<zeros>[.,]000)?(?:[.,]0+)?)"
    r"\s*(?:x|×|[A-Za-zäöüéè]{1,8}\.?)?"
)
"""A count of pieces is whole: ``1.200`` are thousands; ``1.000`` may be one piece as a spreadsheet shows it."""


def _role(draft: Draft, text: str, column: Column, unit: str | None) -> None:
    low = fold(text)
    known = {role.value: role for role in Role}
    found = known.get(low) or next((role for word, role in words.ROLE_WORDS.items() if fold(word) == low), None)
    if found is not None:
        draft.roles.insert(0, found)  # before what a remark says
    elif text.casefold() not in NOTHING:
        draft.notes.append(text)
    del column, unit


def _board(draft: Draft, text: str, column: Column, unit: str | None) -> None:
    draft.board = text
    del column, unit


def _safety(draft: Draft, text: str, column: Column, unit: str | None) -> None:
    if text.casefold() in NOTHING or fold(text) in {"no", "nein", "non"}:
        return
    draft.safety.append(re.sub(r"(?<=\d)\s?[/&+-]?\s?(?=[XY]\d)", "/", text.upper()))
    del column, unit


_VALUE_FIRST: Final = compiled(r"\d[\d.,/]*\s?[uµnp]F\b", re.IGNORECASE)


def _part(draft: Draft, text: str, column: Column, unit: str | None) -> None:
    if _VALUE_FIRST.match(text):  # a column of part numbers in which plain values stand, too
        free(draft, text, replace(column, field="text"), unit)
        return
    if text.casefold() not in NOTHING:
        draft.codes.extend(re.findall(r"\S+", text))
        draft.notes.append(f"{column.header}: {text}")
    del unit


def _doubts(draft: Draft, text: str, column: Column, unit: str | None) -> None:
    for code in re.findall(r"[a-z0-9-]+", text.lower()):
        draft.doubt(code, "stands in the list's doubts column")
    del column, unit


def _passed(draft: Draft, text: str, column: Column, unit: str | None) -> None:
    del draft, text, column, unit


def _size(draft: Draft, text: str, column: Column, unit: str | None) -> None:
    if text.casefold() in NOTHING:
        return
    before = len(draft.sizes)
    shown = (
        re.sub(r"(?<=\d)\s*[-/*]\s*(?=\d)", "x", text)
        if re.fullmatch(r"[\d.,]+\s*[-/*]\s*[\d.,]+(?:\s*mm)?", text)
        else text
    )
    shown = sizes.in_parts_of_inch(shown, unit)
    if unit and re.search(r"\d\s*$", shown):
        shown = f"{shown} {unit}"
    tokens = tokenise(shown, refs_seen=True)
    take(draft, [token for token in tokens if token.sort is not Sort.NUMBER])
    numbers = [token for token in tokens if token.sort is Sort.NUMBER]
    if column.field == "size reversed" and len(draft.sizes) > before:
        draft.sizes[before:] = [Size(s.height, s.diameter, s.pitch, s.doubts) for s in draft.sizes[before:]]
    if len(draft.sizes) == before and numbers and column.field.startswith("size"):
        draft.doubt("cell-unread", f"{text!r} in column {column.header!r}")


def _package(draft: Draft, text: str, column: Column, unit: str | None) -> None:
    """Read a package; what it doesn't say plainly is a note, for it says nothing against the rest of the row."""
    if text.casefold() in NOTHING:
        return
    text = packages.with_body(text)
    mount = packages.mount_of(text)
    if mount is not None:
        draft.mounts.append(mount)
        return
    if re.fullmatch(r"[1-9]\d?(?:[.,]\d{1,2})?\s*[-/*x]\s*[1-9]\d?(?:[.,]\d{1,2})?(?:\s*mm)?", text):
        _size(draft, text, column, unit)
        return
    stated = [t for t in tokenise(text, refs_seen=True) if t.sort in _PACKAGED]
    if stated and not packages.is_library_code(text):
        take(draft, stated)
    else:
        draft.notes.append(text)
    del column, unit


_PACKAGED: Final = frozenset((Sort.MOUNT, Sort.KIND, Sort.SIZE, Sort.SAFETY))


def remark(draft: Draft, text: str, column: Column | None, unit: str | None) -> None:
    """Keep a remark as the note and take from it what it plainly states of the part."""
    read_remark(draft, text)
    del column, unit


def _answered(*, fitted: bool) -> Callable[[Draft, str, Column, str | None], None]:
    def read(draft: Draft, text: str, column: Column, unit: str | None) -> None:
        said = answer(text)
        if said is not None:
            draft.not_fitted = draft.not_fitted or said is not fitted
        del column, unit

    return read


def _job(draft: Draft, text: str, column: Column, unit: str | None) -> None:
    """Keep what is to be done as a note; doubt a part that is to stay."""
    del unit
    said = is_replaced(text)
    if said is None:
        read_remark(draft, text)  # ``EMPTY``
        return
    draft.notes.append(f"{column.header}: {text}")
    if not said:
        draft.doubt(leaving.CODE, f"{text!r} in column {column.header!r}")


def _staying(draft: Draft, text: str, column: Column, unit: str | None) -> None:
    """Doubt a part that a column of parts to keep marks."""
    if answer(text):
        draft.doubt(leaving.CODE, f"{text!r} in column {column.header!r}")
    del unit


READERS: Final[dict[str, Callable[[Draft, str, Column, str | None], None]]] = {
    "ref": read_ref,
    "further ref": read_ref,
    "fitted": _answered(fitted=True),
    "not fitted": _answered(fitted=False),
    "job": _job,
    "staying": _staying,
    "flag": cell_words.flag,
    "qty": _quantity,
    "value": _value,
    "volts": _volts,
    "operating": _operating,
    "temp": _measure(quantities.temperature_C, "temp"),
    "pitch": _measure(quantities.length_mm, "pitch"),
    "diameter": _measure(quantities.length_mm, "diameter"),
    "height": _measure(quantities.length_mm, "height"),
    "ripple": _measure(quantities.current_mA, "ripple"),
    "mount": cell_words.of_codes(MOUNT_CODES),
    "kind": cell_words.of_codes(KIND_CODES),
    "board": _board,
    "role": _role,
    "safety": _safety,
    "note": remark,
    "part": _part,
    "size": _size,
    "package": _package,
    "size reversed": _size,
    "doubts": _doubts,
    "text": free,
    "unknown": free,
    "": free,
    "passed over": _passed,
    "item": _passed,
    "unit": _passed,
    "done": _passed,
    "measured": _passed,
}
