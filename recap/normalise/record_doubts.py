"""Doubts that a record's own words raise: parts side by side, a guess, a value to be looked up, a part to stay."""

from __future__ import annotations

from typing import TYPE_CHECKING

from recap.normalise import leaving, number_words, patterns, words
from recap.normalise.tokens import Sort, Token

if TYPE_CHECKING:
    from collections.abc import Sequence

    from recap.normalise.fields import Draft


def weigh(draft: Draft, tokens: Sequence[Token], text: str) -> None:
    """Doubt a record whose own words doubt it, or say that the part is to stay."""
    leaving.weigh_tokens(draft, tokens, text)
    said = {token.what for token in tokens if token.sort is Sort.WORD}
    side_by_side = not words.PARALLEL.isdisjoint(said)
    if side_by_side and draft.refs and any(t.sort is Sort.NUMBER or t.what in number_words.NUMBERS for t in tokens):
        draft.doubt("count-mismatch", "several parts in parallel or in series at one place")
    if not words.UNCERTAIN.isdisjoint(said):
        unsure = [token.text for token in tokens if token.sort is Sort.WORD and token.what in words.UNCERTAIN]
        draft.doubt("marked-uncertain", " ".join(unsure))
    if tokens and (unread := patterns.CANNOT_READ.search(text, tokens[0].start, tokens[-1].end)) is not None:
        draft.doubt("marked-uncertain", unread[0])
    if (
        not words.CHECKING.isdisjoint(said)
        and (check := patterns.TO_CHECK.search(text, tokens[0].start, tokens[-1].end)) is not None
    ):
        draft.doubt("marked-uncertain", check[0])
    if draft.has_value and not words.MISSING.isdisjoint(said):
        draft.doubt("fitted-sometimes", "the line says that the part is missing")
