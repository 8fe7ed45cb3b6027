"""What stands behind the designators of a value-first record: shop numbers, links, suggestions; no positions.

``6u8 tantalum C15 Shop# 12-345 RAD 10/35 x5``: one value, one group of designators; the rest is a remark.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from recap.normalise.tokens import Sort, Token

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


def _volts(token: Token) -> object:
    if token.sort is Sort.PAIR:
        return token.what[1].value
    return token.what.value if token.sort is Sort.VOLTS else None


def value(token: Token) -> object:
    """Return what a token of a value states, for comparing."""
    if token.sort is Sort.CAP:
        return token.what.value
    return token.what[0].value if token.sort is Sort.PAIR else token.what
