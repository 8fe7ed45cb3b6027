"""A cell read for whatever stands in it plainly, and what one column says laid under what others said."""

from __future__ import annotations

import re
from itertools import pairwise
from typing import TYPE_CHECKING, Any, Final

from recap.normalise import leaving, packages, rails, record_text, torn_numbers, values, words
from recap.normalise.clean import fold
from recap.normalise.fields import Draft, is_chatter, take
from recap.normalise.tokens import Sort, Token, tokenise

if TYPE_CHECKING:
    from collections.abc import Sequence

    from recap.normalise.column import Column

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


def taken(draft: Draft, tokens: Sequence[Token]) -> None:
    """Take tokens up to a replacement mark; what stands behind it is a suggestion."""
    for i, token in enumerate(tokens):
        if token.sort is Sort.REPLACED and any(
            t.sort in {Sort.CAP, Sort.PAIR, Sort.VOLTS, Sort.SECTIONS} for t in tokens[:i]
        ):
            take(draft, tokens[:i])
            draft.notes.append("suggested: " + " ".join(t.text.strip() for t in tokens[i + 1 :]))
            return
    take(draft, tokens)


def free(draft: Draft, text: str, column: Column, unit: str | None) -> None:
    """Read a cell for whatever stands in it plainly; bare numbers mean nothing here."""
    if text.casefold() in NOTHING:
        return
    draft.unit = draft.unit or (unit if column.field == "text" else None)
    leaving.weigh(draft, text)
    if column.side == "original" and _BARE.fullmatch(text):
        _of_original(draft, text, column)
        return
    own = column.field in {"text", "kind", "mount"}
    aside = Draft(unit=draft.unit)
    spelt = record_text.spelt_out(packages.with_body(text))
    tokens = torn_numbers.joined(tokenise(spelt, refs_seen=True), spelt, len(draft.refs))
    tokens = [t for i, t in enumerate(tokens) if not _numbers_a_word(tokens, i) and not _POINT_CODE.fullmatch(t.text)]
    if own and not column.side:
        tokens = _likened(draft, tokens)
    if draft.placed or not own:
        named = {ref for token in tokens if token.sort is Sort.REFS for ref in token.what.refs}
        if named - set(draft.refs) and len(tokens) == 1:
            draft.notes.append(f"{column.header}: {text}")  # what the place is called elsewhere
        tokens = [token for token in tokens if token.sort is not Sort.REFS]
    if not own:
        tokens = [token for token in tokens if token.sort is not Sort.COUNT]
    if draft.volts and column.field != "text":
        tokens = [token for token in tokens if token.sort is not Sort.VOLTS]
    if column.field == "unknown":
        stated = {sort for sort, known in ((Sort.KIND, draft.kinds), (Sort.MOUNT, draft.mounts)) if known}
        tokens = [token for token in tokens if token.sort not in stated]
    tokens = rails.without(rails.behind_pairs(tokens), draft, rated=bool(draft.volts))
    tokens = rails.below_ratings(tokens, draft)
    if column.field == "text" and column.side == "original":
        taken(aside, tokens)
    else:
        taken(aside, [token for token in tokens if token.sort is not Sort.NUMBER] if column.field != "text" else tokens)
    left = [word for word in aside.words if not is_chatter(fold(word))]
    merge(draft, aside, column.header)
    if left or aside.codes:
        draft.notes.append(text)
    del unit


_BARE: Final = re.compile(r"\d+(?:[.,]\d+)?")


def _of_original(draft: Draft, text: str, column: Column) -> None:
    """Doubt a row in which a bare number is said to be the original's and is neither its value nor its voltage."""
    stated = {reading.value for reading in (*draft.caps, *draft.volts)}
    number = values.voltage(text, bare=True)
    if number is None or number.value not in stated:
        draft.notes.append(f"{column.header}: {text}")
        draft.doubt("original-unclear", f"{text!r} in column {column.header!r} may be the original value or voltage")


def _likened(draft: Draft, tokens: list[Token]) -> list[Token]:
    """Take out ``same as A2C7`` where nothing else of a part stands in the cell, and keep which record is meant."""
    at = next((i for i, (a, b) in enumerate(pairwise(tokens)) if a.sort is Sort.LIKE and b.sort is Sort.REFS), None)
    if at is None or draft.has_value or any(t.sort in _QUANTITIES for t in tokens):
        return tokens
    draft.like = tokens[at + 1].what.refs[0]
    return tokens[:at] + tokens[at + 2 :]


_QUANTITIES: Final = frozenset((Sort.CAP, Sort.PAIR, Sort.SECTIONS, Sort.VOLTS))


def _numbers_a_word(tokens: Sequence[Token], at: int) -> bool:
    """Tell whether a bare number belongs to the name in front of it (``Version 2.0``) and says nothing by itself."""
    if tokens[at].sort is not Sort.NUMBER or not at:
        return False
    before = tokens[at - 1]
    return before.sort is Sort.WORD and len(before.text) > 1 and fold(before.text) not in words.NEUTRAL


_POINT_CODE: Final = re.compile(r"R\d{1,3}", re.IGNORECASE)
"""In a column of words this is a resistor's designator before it is a value."""


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
