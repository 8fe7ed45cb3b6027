"""One cell to what its column holds: a reader for each field; what a reader can't take is read as free text."""

from __future__ import annotations

import re
from dataclasses import replace
from itertools import pairwise
from typing import TYPE_CHECKING, Any, Final

from recap.model import Kind, Mount, Role
from recap.normalise import packages, quantities, values, words
from recap.normalise.cell_codes import KIND_CODES, MOUNT_CODES
from recap.normalise.cell_refs import read_ref
from recap.normalise.clean import fold
from recap.normalise.fields import Draft, is_chatter, take
from recap.normalise.remarks import read_remark
from recap.normalise.sizes import Size
from recap.normalise.tokens import Sort, Token, tokenise

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence
    from decimal import Decimal

    from recap.normalise.columns import Column

NOTHING: Final = frozenset(
    (
        "",
        "-",
        "--",
        "---",
        "n/a",
        "na",
        "none",
        "?",
        "??",
        ".",
        "unknown",
        "unbekannt",
        "inconnu",
        "x",
        "tbd",
        "k.a.",
        "n.a.",
        "/",
        "\\",
    )
)
"""What people write where they have nothing to write."""

UNKNOWN_MARKS: Final = frozenset(("?", "??", "unknown", "unbekannt", "inconnu", "tbd"))


def _value(draft: Draft, text: str, column: Column, unit: str | None) -> None:
    if text.casefold() in NOTHING:
        if text in UNKNOWN_MARKS:
            draft.doubt("marked-uncertain", f"{text!r} stands for the value")
        return
    reading = None if re.search(r"[uµnmp]H\b", text) else values.capacitance(text, unit)  # henry, no tolerance letter
    if reading is not None:
        draft.caps.append(reading)
        return
    _in_column(draft, text, column, Sort.CAP, unit)


def _volts(draft: Draft, text: str, column: Column, unit: str | None) -> None:
    if text.casefold() in NOTHING:
        if text in UNKNOWN_MARKS:
            draft.doubt("marked-uncertain", f"{text!r} stands for the voltage")
        return
    reading = values.voltage(text, bare=True)
    if reading is not None:
        draft.volts.append(reading)
        return
    _in_column(draft, text, column, Sort.VOLTS, unit)


def _in_column(draft: Draft, text: str, column: Column, expected: Sort, unit: str | None) -> None:
    """Read a cell that holds more, or other, than its column says."""
    tokens = tokenise(text, refs_seen=True)
    readable: list[Token] = []
    met = False
    for token in tokens:
        if token.sort is Sort.NUMBER and not met:
            reading = (
                values.capacitance(token.text, unit) if expected is Sort.CAP else values.voltage(token.text, bare=True)
            )
            if reading is not None:
                token = Token(expected, token.text, token.start, token.end, reading, reading.doubts)  # noqa: PLW2901
        met = met or token.sort in {expected, Sort.PAIR, Sort.SECTIONS}
        readable.append(token)
    _taken(draft, readable)
    if not met and not draft.not_fitted:
        draft.doubt("cell-unread", f"{text!r} in column {column.header!r}")


def _taken(draft: Draft, tokens: Sequence[Token]) -> None:
    """Take tokens up to a replacement mark; what stands behind it is a suggestion."""
    for i, token in enumerate(tokens):
        if token.sort is Sort.REPLACED and any(
            t.sort in {Sort.CAP, Sort.PAIR, Sort.VOLTS, Sort.SECTIONS} for t in tokens[:i]
        ):
            take(draft, tokens[:i])
            draft.notes.append("suggested: " + " ".join(t.text.strip() for t in tokens[i + 1 :]))
            return
    take(draft, tokens)


def _measure(
    reader: Callable[..., values.Reading | None], name: str
) -> Callable[[Draft, str, Column, str | None], None]:
    def read(draft: Draft, text: str, column: Column, unit: str | None) -> None:
        if text.casefold() in NOTHING:
            return
        reading = reader(f"{text} {unit}") if unit and re.fullmatch(r"[\d.,/ ]+", text) else None
        reading = reading or reader(text, bare=True)
        if reading is None:
            _leftover(draft, text, column)
            return
        for code in reading.doubts:
            draft.doubt(code, f"{text!r} in column {column.header!r}")
        if reading.value is not None:
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
    take(draft, [token for token in tokenise(text, refs_seen=True) if token.sort not in {Sort.NUMBER, Sort.REFS}])
    if before == (len(draft.sizes), len(draft.temps), len(draft.ripple), len(draft.mounts)):
        draft.doubt("cell-unread", f"{text!r} in column {column.header!r}")


def _operating(draft: Draft, text: str, column: Column, unit: str | None) -> None:
    reading = values.voltage(text, bare=True)
    if reading is None:
        draft.notes.append(f"{column.header}: {text}")
        return
    draft.operating = reading.value
    del unit


def _quantity(draft: Draft, text: str, column: Column, unit: str | None) -> None:
    match = re.fullmatch(r"(?:x|×)?\s*(\d{1,4})(?:[.,]0+)?\s*(?:x|×|[A-Za-zäöüéè]{1,8}\.?)?", text)
    if match is not None:
        if int(match[1]):
            draft.counts.append(int(match[1]))
            draft.counted_apart = True
        else:
            draft.not_fitted = True
    elif text.casefold() not in NOTHING:
        draft.doubt("cell-unread", f"{text!r} in column {column.header!r}")
    del unit


def _words(codes: dict[str, Any]) -> Callable[[Draft, str, Column, str | None], None]:
    def read(draft: Draft, text: str, column: Column, unit: str | None) -> None:
        known = codes.get(fold(text).strip(" ."))
        if isinstance(known, Kind):
            draft.kinds.append(known)
        elif isinstance(known, Mount):
            draft.mounts.append(known)
        elif known != "":
            free(draft, text, column, unit)

    return read


def _role(draft: Draft, text: str, column: Column, unit: str | None) -> None:
    low = fold(text)
    known = {role.value: role for role in Role}
    found = known.get(low) or next((role for word, role in words.ROLE_WORDS.items() if fold(word) == low), None)
    if found is not None:
        draft.roles.append(found)
    else:
        draft.notes.append(text)
    del column, unit


def _board(draft: Draft, text: str, column: Column, unit: str | None) -> None:
    draft.board = text
    del column, unit


def _safety(draft: Draft, text: str, column: Column, unit: str | None) -> None:
    if text.casefold() in NOTHING or fold(text) in {"no", "nein", "non"}:
        return
    draft.safety.append(text.upper())
    del column, unit


_VALUE_FIRST: Final = re.compile(r"\d[\d.,/]*\s?[uµnp]F\b", re.IGNORECASE)


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
    mount = packages.mount_of(text)
    if mount is not None:
        draft.mounts.append(mount)
        return
    if re.fullmatch(r"[1-9]\d?(?:[.,]\d{1,2})?\s*[-/*x]\s*[1-9]\d?(?:[.,]\d{1,2})?(?:\s*mm)?", text):
        _size(draft, text, column, unit)
        return
    stated = [t for t in tokenise(text, refs_seen=True) if t.sort in {Sort.MOUNT, Sort.KIND, Sort.SIZE}]
    if stated and not packages.is_library_code(text):
        take(draft, stated)
    else:
        draft.notes.append(text)
    del column, unit


def free(draft: Draft, text: str, column: Column, unit: str | None) -> None:
    """Read a cell for whatever stands in it plainly; bare numbers mean nothing here."""
    if text.casefold() in NOTHING:
        return
    own = column.field in {"text", "kind", "mount"}
    aside = Draft()
    tokens = tokenise(text, refs_seen=True)
    tokens = [t for i, t in enumerate(tokens) if not _numbers_a_word(tokens, i) and not _POINT_CODE.fullmatch(t.text)]
    if draft.placed or not own:
        tokens = [token for token in tokens if token.sort is not Sort.REFS]
    if not own:
        tokens = [token for token in tokens if token.sort is not Sort.COUNT]
    if draft.volts and column.field != "text":
        tokens = [token for token in tokens if token.sort is not Sort.VOLTS]
    if column.field == "unknown":
        stated = {sort for sort, known in ((Sort.KIND, draft.kinds), (Sort.MOUNT, draft.mounts)) if known}
        tokens = [token for token in tokens if token.sort not in stated]
    tokens = _without_rails(tokens)
    if column.field == "text" and column.side == "original":
        _taken(aside, tokens)
    else:
        _taken(
            aside, [token for token in tokens if token.sort is not Sort.NUMBER] if column.field != "text" else tokens
        )
    left = [word for word in aside.words if not is_chatter(fold(word))]
    merge(draft, aside, column.header)
    if left or aside.codes:
        draft.notes.append(text)
    del unit


def _numbers_a_word(tokens: Sequence[Token], at: int) -> bool:
    """Tell whether a bare number belongs to the name in front of it (``Version 2.0``) and says nothing by itself."""
    if tokens[at].sort is not Sort.NUMBER or not at:
        return False
    before = tokens[at - 1]
    return before.sort is Sort.WORD and len(before.text) > 1 and fold(before.text) not in words.NEUTRAL


def _without_rails(tokens: list[Token]) -> list[Token]:
    """Leave out voltages in words behind ``100 µF, 10 V``: they are rails and inputs (``at the 5 V side``)."""
    plain = [at for at, token in enumerate(tokens) if token.sort is not Sort.MARK]
    pairs = [b for a, b in pairwise(plain) if tokens[a].sort is Sort.CAP and tokens[b].sort is Sort.VOLTS]
    if not pairs:
        return tokens
    worded = next((at for at in range(pairs[0], len(tokens)) if tokens[at].sort is Sort.WORD), len(tokens))
    return [token for at, token in enumerate(tokens) if at < worded or token.sort is not Sort.VOLTS]


_POINT_CODE: Final = re.compile(r"R\d{1,3}", re.IGNORECASE)
"""In a column of words this is a resistor's designator before it is a value."""


def remark(draft: Draft, text: str, column: Column | None, unit: str | None) -> None:
    """Keep a remark as the note and take from it what it plainly states of the part."""
    read_remark(draft, text)
    del column, unit


def merge(draft: Draft, aside: Draft, header: str) -> None:
    """Lay what another column says under what is known; a difference is doubted, the first stays."""
    for name in ("refs", "marks", "counts", "codes", "numbers", "notes"):
        getattr(draft, name).extend(getattr(aside, name))
    draft.not_fitted = draft.not_fitted or aside.not_fitted
    for name in ("caps", "volts", "temps", "ripple", "safety", "roles"):
        mine, other = getattr(draft, name), getattr(aside, name)
        if mine and other and _plain(mine) != _plain(other):
            draft.doubt("columns-disagree", f"column {header!r} says {', '.join(map(_shown, other))}")
        elif not mine:
            mine.extend(other)
    for name in ("kinds", "mounts", "sizes"):
        getattr(draft, name).extend(getattr(aside, name))
    if aside.sections and not draft.sections and not draft.caps:
        draft.sections = aside.sections
    for code, message in aside.doubts.items():
        draft.doubt(code, message)


def _plain(stated: Sequence[Any]) -> set[Any]:
    return {item.value if isinstance(item, values.Reading) else item for item in stated}


def _shown(item: object) -> str:
    if isinstance(item, values.Reading):
        return "unclear" if item.value is None else values.plain(item.value)
    return str(item)


READERS: Final[dict[str, Callable[[Draft, str, Column, str | None], None]]] = {
    "ref": read_ref,
    "qty": _quantity,
    "value": _value,
    "volts": _volts,
    "operating": _operating,
    "temp": _measure(quantities.temperature_C, "temp"),
    "pitch": _measure(quantities.length_mm, "pitch"),
    "diameter": _measure(quantities.length_mm, "diameter"),
    "height": _measure(quantities.length_mm, "height"),
    "ripple": _measure(quantities.current_mA, "ripple"),
    "mount": _words(MOUNT_CODES),
    "kind": _words(KIND_CODES),
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
    "done": _passed,
    "measured": _passed,
}
