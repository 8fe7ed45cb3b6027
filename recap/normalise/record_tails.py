"""What stands behind a record or in brackets within it: shop numbers, links, suggestions, asides; no positions.

``6u8 tantalum C15 Shop# 12-345 RAD 10/35 x5``: one value, one group of designators; the rest is a remark.
"""

from __future__ import annotations

from itertools import takewhile
from typing import TYPE_CHECKING, Final

from recap.normalise import words
from recap.normalise.tokens import Sort, Token, sorts

if TYPE_CHECKING:
    from collections.abc import Sequence

    from recap.normalise.fields import Draft

_VALUES: Final = frozenset((Sort.CAP, Sort.PAIR, Sort.SECTIONS))
_REMARKING: Final = frozenset((Sort.WORD, Sort.CODE, Sort.ASIDE, Sort.REPLACED, Sort.ORIGINAL, Sort.OTHER_REF))


def cut(tokens: list[Token], text: str, draft: Draft) -> list[Token]:
    """Return the record without its tail and without what is suggested between value and designators.

    The tail becomes a note; where it names another value than the record the draft is doubted.
    """
    refs = [at for at, token in enumerate(tokens) if token.sort is Sort.REFS]
    own = [at for at, token in enumerate(tokens) if token.sort in _VALUES]
    if not refs or not own or own[0] > refs[0]:
        return tokens
    tokens, last = _without_suggestion(tokens, text, draft, refs)
    further = [at for at, token in enumerate(tokens) if token.sort in _VALUES and at > last]
    if not further:
        return tokens
    begins = (at for at in range(last + 1, further[0]) if tokens[at].sort in _REMARKING or tokens[at].text in "([")
    start = next(begins, further[0])
    tail = text[tokens[start].start : tokens[-1].end].strip()
    draft.notes.append(tail)
    stated = {value(tokens[at]) for at in own if at < refs[0]}
    if not {value(tokens[at]) for at in further} <= stated:
        draft.doubt("remark-unclear", tail)
    return tokens[:start]


def _without_suggestion(tokens: list[Token], text: str, draft: Draft, refs: Sequence[int]) -> tuple[list[Token], int]:
    """Take out ``use 10u`` between the value and its designators; return where the last of them stands."""
    cue = next((at for at in range(refs[0]) if tokens[at].sort is Sort.REPLACED), None)
    if cue is None or not any(token.sort in _VALUES for token in tokens[:cue]):
        return tokens, refs[-1]
    draft.suggestion = text[tokens[cue].end : tokens[refs[0]].start].strip(" ,;:()-")
    kept = tokens[:cue] + tokens[refs[0] :]
    return kept, max(at for at, token in enumerate(kept) if token.sort is Sort.REFS)


def says_again(group: Sequence[Token], token: Token, rest: Sequence[Token]) -> bool:
    """Tell whether ``token`` states the value of ``group`` again (a part number in front of it, ``22/6,3``)."""
    if value(token) not in {value(t) for t in group if t.sort in _VALUES}:
        return False
    stated = {_volts(t) for t in group} - {None}
    further = {_volts(t) for t in (token, *rest[:3])} - {None}
    return not stated or not further or stated == further


def without_parallel(tokens: list[Token], draft: Draft) -> list[Token]:
    """Take out the parts of which a value is made up: ``72 µF (two in parallel: 50 + 22)``."""
    at = next((at for at, token in enumerate(tokens) if token.sort is Sort.CAP), None)
    made = next((i for i, t in enumerate(tokens) if t.sort is Sort.SECTIONS and at is not None and i > at + 1), None)
    if at is None or made is None or sum(tokens[made].what) != tokens[at].what.value:
        return tokens
    draft.doubt("count-mismatch", f"made up of several parts: {tokens[made].text}")
    return tokens[:made] + tokens[made + 1 :]


def _volts(token: Token) -> object:
    if token.sort is Sort.PAIR:
        return token.what[1].value
    return token.what.value if token.sort is Sort.VOLTS else None


def value(token: Token) -> object:
    """Return what a token of a value states, for comparing."""
    if token.sort is Sort.CAP:
        return token.what.value
    return token.what[0].value if token.sort is Sort.PAIR else token.what


def is_aside(tokens: Sequence[Token]) -> bool:
    """Tell whether a bracket that ends the record holds a sentence."""
    inside = list(takewhile(lambda token: token.text != ")", tokens))
    told = sum(1 for token in inside if token.sort is Sort.WORD and token.what not in words.NEUTRAL)
    return told >= 4 and len(tokens) - len(inside) <= 1  # noqa: PLR2004 - so many words make a sentence


def bracket_end(tokens: Sequence[Token], start: int) -> int:
    """Return where a remark from ``start`` on ends: with its bracket, where only count and designators follow that."""
    depth = 0
    for i, token in enumerate(tokens):
        depth += (token.text == "(") - (token.text == ")")
        if i >= start and depth == 0 and token.text == ")" and sorts(tokens[i:]) <= _COUNTING:
            return i
    return len(tokens)


_COUNTING: Final = frozenset((Sort.COUNT, Sort.REFS, Sort.MARK))


def rates_further(token: Token, group: Sequence[Token], rest: Sequence[Token]) -> bool:
    """Tell whether a voltage behind ``;`` is that of further designators with the value of the record in front."""
    if token.sort is not Sort.VOLTS or not group or group[-1].text != ";":
        return False
    there = [t.sort for t in group if t.sort is not Sort.MARK]
    behind = next((t for t in rest if t.sort is not Sort.MARK), None)
    rated = there.count(Sort.CAP) == 1 and there.count(Sort.VOLTS) == 1 and there[-1] is Sort.REFS
    return rated and behind is not None and behind.sort is Sort.REFS
