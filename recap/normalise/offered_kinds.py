"""Kinds that a record names without saying that its part is of them: offered (``film ok``), or of another part."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from recap.model import Kind
from recap.normalise import words
from recap.normalise.clean import fold
from recap.normalise.tokens import Sort, Token

if TYPE_CHECKING:
    from collections.abc import Sequence

    from recap.normalise.fields import Draft

_OFFERED: Final = words.folded(
    "would possible possibly suitable allowed alternatively acceptable better preferred recommended instead möglich "
    "besser geht tauglich convient possible mieux possibile meglio migliore posible mejor mogelijk beter möjligt bättre"
)
"""Right behind a kind one of these says what would do, too."""
_FINE: Final = words.folded("ok okay fine works work")
"""So do these in brackets; elsewhere they say what a tester found."""
_POLAR: Final = words.folded(
    "polar polarised polarized gepolt gepolte polarisiert polarisé polarisée polarizzato polarizado gepolariseerd"
)
_DENYING: Final = words.folded(
    "not non no nicht kein keinen ne pas niet geen don't dont never nie jamais mai nunca nooit"
)


NEAR: Final = 6
"""So far behind ``not`` a word is denied by it: ``do not put a polar one``."""


def weigh(draft: Draft, tokens: Sequence[Token]) -> None:
    """Take from a draft the kinds that are only offered; doubt a part that is said to be bipolar and polar."""
    said = [token for token in tokens if token.sort is not Sort.MARK or token.text in {"(", ")"}]
    kinds = [at for at, token in enumerate(said) if token.sort is Sort.KIND]
    offered = [at for at in kinds if _is_offered(said, at)]
    stated = {said[at].what for at in kinds if at not in offered}
    for at in offered:
        if said[at].what not in stated and said[at].what in draft.kinds:
            draft.kinds.remove(said[at].what)
        if _follows_or(said, at):
            draft.doubt("remark-unclear", f"or {said[at].text}")
    if draft.has_value and Kind.BIPOLAR in draft.kinds and any(_says_polar(said, at) for at in range(len(said))):
        draft.either.add(Sort.KIND)


def _is_offered(said: Sequence[Token], at: int) -> bool:
    behind = said[at + 1] if at + 1 < len(said) else None
    if behind is not None and behind.sort is Sort.WORD:
        bracketed = at > 0 and said[at - 1].text == "("
        if behind.what in _OFFERED or (bracketed and behind.what in _FINE):
            return True
    return _follows_or(said, at)


def _follows_or(said: Sequence[Token], at: int) -> bool:
    """Tell whether ``or`` stands between a rating and a kind; between two kinds it leaves a choice."""
    if at < 2 or said[at - 1].sort is not Sort.WORD or said[at - 1].what not in words.OR:  # noqa: PLR2004
        return False
    return said[at - 2].sort in {Sort.CAP, Sort.PAIR, Sort.VOLTS}


def _says_polar(said: Sequence[Token], at: int) -> bool:
    token = said[at]
    denied = any(other.what in _DENYING for other in said[max(at - NEAR, 0) : at] if other.sort is Sort.WORD)
    return token.sort is Sort.WORD and fold(token.text) in _POLAR and not denied
