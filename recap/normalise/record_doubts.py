"""Doubts that a record's own words raise: parts side by side, a guess, a value to be looked up, a part to stay."""

from __future__ import annotations

import re
from itertools import pairwise, takewhile
from typing import TYPE_CHECKING, Final

from recap.normalise import leaving, number_words, offered_kinds, patterns, words
from recap.normalise.tokens import Sort, Token

if TYPE_CHECKING:
    from collections.abc import Sequence

    from recap.normalise.fields import Draft


_ABOUT: Final = frozenset(
    "about ca approx approximately roughly circa around ungefahr etwa zirka environ aproximadamente ongeveer".split()
)


_COMMENTED: Final = re.compile(r"\s*(?:;+|//+|--|rem\b)\s*(?=C[A-Z]?-?\d)", re.IGNORECASE)
"""Marks by which programs and settings files leave out a line."""


def _vague(tokens: Sequence[Token]) -> str | None:
    """Return a value that the list gives roughly (``about 200 µF``), or None."""
    for word, token in pairwise(token for token in tokens if token.text != "."):
        if token.sort in _VALUED and word.sort is Sort.WORD and word.what.rstrip(".") in _ABOUT:
            return f"{word.text} {token.text}"
    return None


def _led(tokens: Sequence[Token], text: str) -> str | None:
    """Return a value to which dots lead, the last of which may be its point (``C12...47 µF``), or None."""
    for token in tokens:
        led = token.sort in _VALUED and _LEADER.search(text[max(token.start - 5, 0) : token.start]) is not None
        if led and _WHOLE.match(token.text):
            return token.text
    return None


_LEADER: Final = re.compile(r"(?<!\.)\.{2,4}$")
"""More dots draw a line; of so few the last may be a point."""
_WHOLE: Final = re.compile(r"(?:0\d+|[1-9]{1,2})(?![\d.,]|\s\d{3}\b|[uµnp]\d)", re.IGNORECASE)
"""``.100`` is hardly ever written."""
_VALUED: Final = frozenset((Sort.CAP, Sort.PAIR))


_ATTRIBUTES: Final = frozenset((Sort.KIND, Sort.MOUNT, Sort.SAFETY, Sort.NOT_FITTED))
_SAID: Final = _VALUED | _ATTRIBUTES | {Sort.VOLTS, Sort.TEMP, Sort.SIZE}


_BRACKETS: Final = {"(": ")", "[": "]", '"': '"'}


def _inside(tokens: Sequence[Token], at: int) -> list[Token]:
    """Return what stands in a bracket or in quotes at ``at``, else the kinds and mounts that do."""
    close = _BRACKETS.get(tokens[at].text) if at < len(tokens) else None
    if close is not None:
        return list(takewhile(lambda t: t.text != close, tokens[at + 1 :]))
    return list(takewhile(lambda t: t.sort in _ATTRIBUTES, tokens[at:]))


def _of_some(tokens: Sequence[Token]) -> list[Token]:
    """Return what is said behind some of several designators and not of all (``C3 (bipolar), C4``, ``C3 NP, C4``)."""
    said: list[Token] = []
    each: list[set[object]] = []
    for at, token in enumerate(tokens):
        if token.sort is not Sort.REFS:
            continue
        inside = _inside(tokens, at + 1)
        told = [t for t in inside if t.sort in _SAID]
        named = {ref for t in inside if t.sort is Sort.REFS for ref in t.what.refs}
        each.append({repr(t.what) for t in told})
        further = any(t.sort is Sort.REFS for t in tokens[at + 2 + len(inside) :])
        said += told if further or (named < set(token.what.refs) and named) else []
    return said if any(told != each[0] for told in each) else []


def weigh_some(draft: Draft, tokens: Sequence[Token]) -> None:
    """Doubt what is said of some designators only: whose it is can't be told for sure, and all have it by now."""
    if not (of_some := _of_some(tokens)):
        return
    told = " ".join(token.text for token in of_some)
    if draft.not_fitted and any(token.sort is Sort.NOT_FITTED for token in of_some):
        draft.not_fitted = False
        draft.doubt("fitted-sometimes", f"{told!r} stands behind some of the designators only")
    else:
        draft.doubt("remark-unclear", f"{told!r} stands behind some of the designators only")


LEAST_MAINS: Final = 100
"""No part of an X or Y class is for less: they stand across the mains (IEC 60384-14)."""


def weigh_class(draft: Draft) -> None:
    """Take ``X2`` beside a voltage far below any mains for a count, and doubt it."""
    low = bool(draft.volts) and all(
        not reading.ac and reading.value is not None and reading.value < LEAST_MAINS for reading in draft.volts
    )
    if not draft.safety or not low:
        return
    told = draft.safety[0]
    if re.fullmatch(r"X[1-3]", told) and not draft.counts:
        draft.safety, draft.counts = [], [int(told[1])]
    draft.doubt("count-or-class", f"{told!r} beside {draft.volts[0].value} V")


_CONNECTOR: Final = re.compile(
    r"\b(?:connectors?|conn\.?|plugs?|sockets?|jacks?|headers?|terminals?|pins?|stecker|buchse|klemme|stift|connecteur"
    r"|fiche|prise|borne|connettore|spina|morsetto|conector|clavija|stekker)\s*(?:no\.?|nr\.?|#)?\s*[-:]?\s*X[1-4]\b"
    r"|\bX[1-4]\s?[-/.,:]?\s?(?:pin|stift|kontakt|klemme)s?\b",
    re.IGNORECASE,
)


def weigh_neighbour(draft: Draft, text: str) -> None:
    """Doubt a class that may be a connector's name (``250 V at plug X3``); it stays one until that is settled."""
    if draft.safety and _CONNECTOR.search(text):
        draft.doubt("count-or-class", f"{draft.safety[0]!r} stands beside a word for a connector")


def weigh(draft: Draft, tokens: Sequence[Token], text: str) -> None:
    """Doubt a record whose own words doubt it, or say that the part is to stay."""
    weigh_neighbour(draft, text)
    weigh_class(draft)
    offered_kinds.weigh(draft, tokens)
    leaving.weigh_tokens(draft, tokens, text)
    if _COMMENTED.match(text):
        draft.doubt("remark-unclear", "the line is commented out")
    said = {token.what for token in tokens if token.sort is Sort.WORD}
    side_by_side = not words.PARALLEL.isdisjoint(said)
    if side_by_side and draft.refs and any(t.sort is Sort.NUMBER or t.what in number_words.NUMBERS for t in tokens):
        draft.doubt("count-mismatch", "several parts in parallel or in series at one place")
    if (led := _led(tokens, text)) is not None:
        draft.doubt("leader-or-point", repr(led))
    if not words.UNCERTAIN.isdisjoint(said):
        unsure = [token.text for token in tokens if token.sort is Sort.WORD and token.what in words.UNCERTAIN]
        draft.doubt("marked-uncertain", " ".join(unsure))
    if (vague := _vague(tokens)) is not None:
        draft.doubt("marked-uncertain", vague)
    if tokens and (unread := patterns.CANNOT_READ.search(text, tokens[0].start, tokens[-1].end)) is not None:
        draft.doubt("marked-uncertain", unread[0])
    if (
        not words.CHECKING.isdisjoint(said)
        and (check := patterns.TO_CHECK.search(text, tokens[0].start, tokens[-1].end)) is not None
    ):
        draft.doubt("marked-uncertain", check[0])
    weigh_some(draft, tokens)
    if draft.has_value and not words.MISSING.isdisjoint(said):
        draft.doubt("fitted-sometimes", "the line says that the part is missing")
