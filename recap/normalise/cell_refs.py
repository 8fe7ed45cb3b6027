"""A cell of the column for designators: those of capacitors, of other parts, letters of a diagram, or other."""

from __future__ import annotations

import re
from dataclasses import replace
from itertools import pairwise
from typing import TYPE_CHECKING, Final

from recap.normalise import designators, record_doubts, words
from recap.normalise.clean import fold
from recap.normalise.designator_names import with_channels, with_sides
from recap.normalise.fields import Draft, take
from recap.normalise.later import compiled
from recap.normalise.tokens import Sort, Token, tokenise

if TYPE_CHECKING:
    from collections.abc import Sequence

    from recap.normalise.column import Column

_LETTERED: Final = compiled(r"[A-Z]{1,2}(?:\s?[,;/&+]\s?[A-Z]{1,2})*(?!\S)")
"""Places that a diagram names by letters: ``A, J, K``."""
_ONE: Final = compiled(r"(?:[A-Za-z]{1,5}[-_ ]?)?\d{1,5}[A-Za-z]?")
_QUANTITIES: Final = frozenset((Sort.CAP, Sort.PAIR, Sort.SECTIONS, Sort.VOLTS))
_BLANK: Final = frozenset(("", "-", "--", "---", "n/a", "na", "none", "?", "??", ".", "x", "tbd", "/"))


def read_ref(draft: Draft, text: str, column: Column, unit: str | None) -> None:
    """Add the designators of a cell to the draft; what is none of a capacitor, or can't be read, is doubted."""
    del unit
    text = with_channels(with_sides(text))
    if (numbered := _NUMBERED.fullmatch(text)) is not None:
        _by_program(draft, text, numbered["prefix"].upper())
        return
    if _RAIL.fullmatch(text):
        draft.notes.append(text)
        draft.doubt("ref-unread", repr(text))
        return
    group = designators.read_refs(text)
    if group is not None and _OF_CAPACITORS.fullmatch(column.header) and all(ref.isdigit() for ref in group.refs):
        group = replace(group, refs=tuple(f"C{ref}" for ref in group.refs))
    if group is not None:
        take(draft, [Token(Sort.REFS, text, group.start, group.end, group, group.doubts)])
    elif (boarded := _boarded(text)) is not None:
        draft.board = boarded[0]
        draft.refs.extend(boarded[1])
    elif _LETTERED.fullmatch(text):
        draft.refs.extend(re.findall(r"[A-Z]{1,2}", text))
    elif text.casefold() not in _BLANK:
        _other(draft, text, column)


_NUMBERED: Final = compiled(r"(?P<prefix>[A-Z]{1,4})\$\d{1,4}", re.IGNORECASE)
"""``C$5``: a program has given the number, and somebody else may have given it without the sign."""


_RAIL: Final = compiled(r"[+-]?\d{1,2}(?:[.,]\d)?\s?V(?:\d|DC)?", re.IGNORECASE)
"""A plug's or a pad's name, and no designator: ``5V``, ``3V3``."""


def _by_program(draft: Draft, text: str, prefix: str) -> None:
    draft.refs.append(text.upper())
    if prefix not in words.CAPACITOR_PREFIXES:
        draft.doubt("ref-other-part", f"{text!r} is no capacitor's designator")


_OF_CAPACITORS: Final = compiled(r"C(?:ap(?:acitor)?s?)?\.?\s?(?:#|n[or°]\.?|number|nummer)?", re.IGNORECASE)
"""Over numbers alone ``C`` and ``Cap #`` are the letter of the designators."""
_BOARDED: Final = compiled(
    r"(?P<board>[A-Za-z][A-Za-z ]{1,13}[A-Za-z]\d?)\s?[-_/:.]\s?(?P<ref>C[A-Z]?\d{1,4}[A-Za-z]?)", re.IGNORECASE
)


def _boarded(text: str) -> tuple[str, list[str]] | None:
    """Return board and designators where each has the board's name in front: ``PSU-C1, PSU-C2``."""
    found = [_BOARDED.fullmatch(piece.strip()) for piece in re.split(r"[,;\n]", text)]
    told = [match for match in found if match is not None]
    if len(told) != len(found) or len({fold(match["board"]) for match in told}) != 1:
        return None
    return told[0]["board"], [match["ref"].upper() for match in told]


def _other(draft: Draft, text: str, column: Column) -> None:
    tokens = tokenise(text)
    if any(token.sort is Sort.REFS for token in tokens):
        take(draft, [token for token in tokens if token.sort not in _QUANTITIES])
        draft.beside_refs = [token for token in tokens if token.sort in _QUANTITIES]
        close = any(a.sort is Sort.REFS and b.sort is Sort.NUMBER and b.start - a.end == 1 for a, b in pairwise(tokens))
        if close or _in_brackets(tokens, len(draft.refs)):
            draft.doubt("ref-unread", f"{text!r}: a number stands behind the designator")
        if left := _unread(tokens):
            draft.doubt("ref-unread", f"{text!r}: {', '.join(map(repr, left))}")
        record_doubts.weigh_some(draft, tokens)
        if any(token.sort is Sort.WORD and token.what not in words.NEUTRAL for token in tokens):
            draft.notes.append(text)
    elif designators.is_other_part(text) or designators.begins_with_other_part(text):
        draft.refs.append(re.sub(r"[-_ ]", "", text).upper() if _ONE.fullmatch(text) else text)
        draft.doubt("ref-other-part", f"{text!r} is no capacitor's designator")
    elif _ONE.fullmatch(text):
        draft.refs.append(re.sub(r"[-_ ]", "", text).upper())
    else:
        take(draft, [token for token in tokens if token.sort is not Sort.NUMBER])
        draft.notes.append(text)
        if column.field == "ref" and not draft.not_fitted:
            draft.doubt("ref-unread", f"{text!r}")


def _in_brackets(tokens: Sequence[Token], places: int) -> bool:
    """Tell whether a number alone stands in brackets behind designators, and isn't how many they are: ``C110(30)``."""
    trios = zip(tokens, tokens[1:], tokens[2:], strict=False)
    return any(
        a.sort is Sort.REFS and bracket.text in {"(", "["} and b.sort is Sort.NUMBER and b.text != str(places)
        for a, bracket, b in trios
    )


_NAMED: Final = frozenset((Sort.WORD, Sort.CODE))
_LIKE_A_REF: Final = compiled(r"C[A-Z]?[-_]?\d\w*", re.IGNORECASE)


def _unread(tokens: Sequence[Token]) -> list[str]:
    """Return what looks like designators of capacitors beside those that could be read: ``C1, C1234567``."""
    return [token.text for token in tokens if token.sort in _NAMED and _LIKE_A_REF.fullmatch(token.text)]
