"""What a record says of its place: names that may be designators, places that are free, or free in some sets only."""

from __future__ import annotations

import re
from itertools import pairwise
from typing import TYPE_CHECKING, Final

from recap.normalise import words
from recap.normalise.designators import RefGroup, is_other_part
from recap.normalise.tokens import Sort, Token, sorts

if TYPE_CHECKING:
    from collections.abc import Sequence

    from recap.normalise.fields import Draft

_VALUES: Final = frozenset((Sort.CAP, Sort.PAIR, Sort.SECTIONS))
_PLACED: Final = _VALUES | {Sort.REFS}
_UNKNOWN: Final = frozenset((Sort.CODE, Sort.WORD, Sort.OTHER_REF))


def only_frees(group: Sequence[Token]) -> bool:
    """Tell whether what stands in front of a record only says that its place is free: ``DNP: C9 10uF``."""
    there = sorts(group)
    return Sort.NOT_FITTED in there and there.isdisjoint(_PLACED)


def free_on_a_condition(tokens: Sequence[Token]) -> bool:
    """Tell whether a place with a value is free in some sets only: ``10uF (not fitted on EU sets)``."""
    at = next((i for i, token in enumerate(tokens) if token.sort is Sort.NOT_FITTED), len(tokens))
    later = next((i for i, t in enumerate(tokens) if i > at and t.sort in _VALUES), None)
    if later is not None:  # ``not used in K50, 1uF 50V in K50E``
        between = {token.what for token in tokens[at + 1 : later] if token.sort is Sort.WORD}
        return bool(between & _CONDITIONS)
    behind = [token.what for token in tokens[at + 1 :] if token.sort is Sort.WORD]
    told = [word for word in behind if word not in words.NEUTRAL]
    return bool(told) and any(token.sort in _VALUES for token in tokens[:at]) and bool(set(behind) & _CONDITIONS)


_CONDITIONS: Final = words.HEDGES | set(
    "on in for with only auf bei nur sur dans pour su in per solo en para op voor på i".split()
)


_STRAY: Final = re.compile(r"[A-Z]{1,3}-?\d{1,4}[A-Z]?")


def stray_designators(tokens: Sequence[Token], draft: Draft) -> None:
    """Doubt a record in which something like a designator stands among the designators and isn't one that is known."""
    told = [token for token in tokens if token.sort is not Sort.MARK]
    for at, (before, token) in enumerate(pairwise(told), start=2):
        stray = before.sort is Sort.REFS and token.sort in _UNKNOWN and _STRAY.fullmatch(token.text.strip())
        if stray and not _says_whose(before, token, told[at : at + 1]):
            draft.doubt("ref-unread", repr(token.text))
    if (between := _words_between(tokens)) is not None:
        draft.doubt("remark-unclear", f"{between!r} stands among the designators; is the value that of all of them?")
    if len(told) > 1 and told[1].sort in _VALUES and _NAMED.fullmatch(told[0].text) and told[0].start == 0:
        draft.doubt("ref-unread", repr(told[0].text))


def _says_whose(before: Token, token: Token, behind: Sequence[Token]) -> bool:
    """Tell whether another part's designator goes on in words and only says whose part it is: ``C5 V1A cathode``."""
    alone = token.start - before.end <= 1 and is_other_part(token.text.strip())
    return alone and bool(behind) and behind[0].sort in {Sort.WORD, Sort.ROLE} and len(behind[0].text) > 2  # noqa: PLR2004


def perhaps_joined(group: Sequence[Token]) -> bool:
    """Tell whether only one or two words that say of no place stand behind designators (``C5 xyz``, then ``C8``).

    They may well join the two in a language that isn't known here.
    """
    at = next(at for at in range(len(group) - 1, -1, -1) if group[at].sort is Sort.REFS)
    between = group[at + 1 :]
    said = [token.what for token in between]
    return len(said) in {1, 2} and sorts(between) == {Sort.WORD} and not words.MENTIONING & set(said)


def _words_between(tokens: Sequence[Token]) -> str | None:
    """Return a word that stands between designators of one enumeration, outside of brackets: ``C2 ok, C3 22uF``."""
    places = [at for at, token in enumerate(tokens) if token.sort is Sort.REFS]
    for before, behind in pairwise(places):
        inside = 0
        for at in range(before + 1, behind):
            inside += (tokens[at].text in {"(", "["}) - (tokens[at].text in {")", "]"})
            said = tokens[at].sort is Sort.WORD and tokens[at].what not in words.NEUTRAL
            alone = behind - before == 2 and tokens[at].what not in words.MENTIONING  # noqa: PLR2004
            if said and not inside and (alone or tokens[behind - 1].text in {",", ";"}):
                return tokens[at].text
    return None


_NAMED: Final = re.compile(
    r"(?!rev|ver|no|nr|pos)[A-Za-z]{3,6}-?\d{1,3}[A-Za-z]?|C\d{1,4}(?:[A-Z]\d{1,3}[A-Z]?|[A-Z]{2})", re.IGNORECASE
)
"""``ELKO1 10uF``, ``C1E2 10uF``: a name with a number in front of a value, as designators stand."""


_ELECTROLYTIC: Final = re.compile(r"E\d{1,4}")


def named_behind(tokens: list[Token]) -> list[Token]:
    """Take ``E12, E13`` behind a value for designators: electrolytics bear that letter on many boards.

    One alone counts only where the line counts one piece, or in brackets of its own: it may be anything.
    """
    there = sorts(tokens)
    if Sort.REFS in there or there.isdisjoint(_VALUES):
        return tokens
    value = next(at for at, token in enumerate(tokens) if token.sort in _VALUES)
    named = [at for at, token in enumerate(tokens) if at > value and _is_named(token)]
    counts = [token.what for token in tokens if token.sort is Sort.COUNT]
    bracketed = named and [token.text for token in tokens[named[0] - 1 : named[0] + 2 : 2]] == ["(", ")"]
    alone = len(named) == 1 and counts != [1] and not (bracketed and len(tokens[named[0]].text) > MOST_OF_SERIES)
    if not named or alone or len({tokens[at].text for at in named}) < len(named):
        return tokens
    first, last = tokens[named[0]], tokens[named[-1]]
    between = [token for at, token in enumerate(tokens) if named[0] < at < named[-1] and at not in named]
    if sorts(between) - {Sort.MARK}:
        return tokens
    refs = tuple(tokens[at].text for at in named)
    group = RefGroup(refs, first.start, last.end)
    text = " ".join(refs)
    return [*tokens[: named[0]], Token(Sort.REFS, text, first.start, last.end, group), *tokens[named[-1] + 1 :]]


MOST_OF_SERIES: Final = 3
"""So long are the names of series of values (E6, E12, E96: IEC 60063)."""


def _is_named(token: Token) -> bool:
    return token.sort in {Sort.WORD, Sort.CODE} and _ELECTROLYTIC.fullmatch(token.text) is not None


def is_stage(token: Token, behind: Sequence[Token]) -> bool:
    """Tell whether ``IF`` is the intermediate frequency: in capitals, before a word for a board."""
    named = words.BOARD_NOUNS | {"strip", "can", "transformer", "amp"}
    return token.text == "IF" and bool(behind) and (behind[0].what in named or behind[0].text in "/:&-")
