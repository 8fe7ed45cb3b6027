"""Sentences that say of all parts but some what they are (``All caps except C4 are bipolar``): those are doubted."""

from __future__ import annotations

from re import IGNORECASE
from typing import TYPE_CHECKING, Final

from recap.normalise import designator_shapes, designators
from recap.normalise.checks import lay
from recap.normalise.later import compiled
from recap.normalise.tokens import Sort, tokenise

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from recap.diagnostics import Diagnostic
    from recap.model import Position
    from recap.normalise.ledger import Ledger, Sentence

_ALL: Final = compiled(
    r"\b(?:all|every(?:thing|one)?|alles?|tous|toutes|tout|tutt[ie]|todos|todas|allemaal)\b", IGNORECASE
)
_STATED: Final = {Sort.KIND: "kind", Sort.MOUNT: "mount", Sort.TEMP: "temp_C"}


def doubted(positions: Iterable[Position], ledgers: Sequence[Ledger]) -> tuple[list[Position], list[Diagnostic]]:
    """Doubt the positions of which a sentence says something, as of all but some, that their own lines don't."""
    listed = list(positions)
    told: list[Diagnostic] = []
    for sentence in (sentence for ledger in ledgers for sentence in ledger.sentences if not sentence.made):
        said = None if sentence.revoked else _said(sentence)
        if said is None:
            continue
        apart, stated = said
        message = f"row {sentence.source.row} says of all but {', '.join(sorted(apart))}: {sentence.text[:60]!r}"
        others = [
            (at, message)
            for at, position in enumerate(listed)
            if position.source is not None
            and position.source.sheet == sentence.source.sheet
            and (position.ref or "").upper() not in apart
            and any(getattr(position, name) != what for name, what in stated.items())
        ]
        told += lay(listed, others, "remark-unclear", "write it behind each part of which it is true")
    return listed, told


def _said(sentence: Sentence) -> tuple[frozenset[str], dict[str, object]] | None:
    """Return which designators a sentence excepts, and what it says of all others."""
    match = designator_shapes.EXCEPT.search(sentence.text)
    group = designators.find_group(sentence.text, match.end()) if match is not None else None
    if match is None or group is None or _ALL.search(sentence.text) is None:
        return None
    tokens = [token for token in tokenise(sentence.text) if token.sort in _STATED]
    apart = frozenset(ref.upper() for ref in group.refs)
    return (apart, {_STATED[token.sort]: token.what for token in tokens}) if tokens else None
