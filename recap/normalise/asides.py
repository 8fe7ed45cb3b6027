"""What words on a line say beside the part, kept as its note in the words of the list."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from recap.normalise import words
from recap.normalise.clean import fold
from recap.normalise.tokens import Sort, Token, sorts

if TYPE_CHECKING:
    from collections.abc import Sequence

_WORDY: Final = frozenset((Sort.WORD, Sort.ASIDE, Sort.ROLE, Sort.ORIGINAL, Sort.LIKE, Sort.OTHER_REF, Sort.DATE))
_ASKING: Final = frozenset("esr lowesr low-esr impedance leakage noise".split())
"""In a heading these add nothing; beside a part they ask for a better one: ``low ESR``."""
_SAYING_NOTHING: Final = (words.NEUTRAL | words.IDLE) - _ASKING
_OF_RIPPLE: Final = frozenset("ripple current rms eff".split())
"""Beside a ripple current these only name it."""


def said(tokens: Sequence[Token], text: str) -> list[str]:
    """Return the runs of words that say something beside the part, as they stand in the line."""
    nothing = _SAYING_NOTHING | _OF_RIPPLE if Sort.RIPPLE in sorts(tokens) else _SAYING_NOTHING
    found: list[str] = []
    run: list[Token] = []
    for at, token in enumerate([*tokens, None]):
        if token is not None and (token.sort in _WORDY or _joins(tokens, at)):
            run.append(token)
            continue
        if any(t.sort in _WORDY and (t.sort is not Sort.WORD or fold(t.text) not in nothing) for t in run):
            found.append(text_of(run, text))
        run = []
    return [aside for aside in found if aside]


def _joins(tokens: Sequence[Token], at: int) -> bool:
    """Tell whether a hyphen joins two words: ``low-ESR``, ``S-corr``."""
    if tokens[at].text != "-" or not 0 < at < len(tokens) - 1:
        return False
    before, behind = tokens[at - 1], tokens[at + 1]
    glued = before.end == tokens[at].start and behind.start == tokens[at].end
    return glued and before.sort in _WORDY and behind.sort in _WORDY


def text_of(tokens: Sequence[Token], text: str) -> str:
    """Return the text from the first of ``tokens`` to the last, without the marks around it."""
    return text[tokens[0].start : tokens[-1].end].strip(" ,;:()[]-") if tokens else ""
