"""Headings that say how many of a board there are: ``Main amp (x2)``, ``2x driver board``, ``Amp (both channels)``."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Final, NamedTuple

from recap.normalise import board_nouns, form_headings, headings
from recap.normalise.heading_marks import Marked, marked_as
from recap.normalise.later import compiled

if TYPE_CHECKING:
    from recap.normalise.ledger import Ledger

_COUNT: Final = (
    r"(?:[2-9]|1[0-2]|two|three|four|five|six|seven|eight|ten|twelve|zwei|drei|vier|fünf|sechs|acht"
    r"|deux|trois|quatre|six|huit|due|tre|quattro|sei|otto|dos|tres|cuatro|seis|ocho|twee|drie|vier|zes)"
)
_OF_THEM: Final = (
    r"(?:off|of(?:\s+(?:them|these|those|each)(?:\s+(?:boards|cards|units|modules))?)?|pcs|pieces|boards|cards|units|modules"
    r"|channels|St(?:ü|ue)ck|Stk|Platinen|Kan(?:ä|ae)le"
    r"|pi(?:è|e)ces|cartes|pezzi|schede|placas|stuks|printen)"
)
_EACH: Final = (
    r"(?:both|each|per|beide|je|pro|chaque|entrambi|ambos)\s+(?:channels?|sides?|boards?|cards?|voices?|units?|modules?|Kan(?:ä|ae)le?|Seiten?|Platinen?"
    r"|canal|canali|canales|kana(?:al|len))"
)
_NEEDING: Final = (
    r"(?:(?:you(?:'ll)?\s+)?needs?\s+|there\s+(?:are|were)\s+|(?:it|mine|the\s+\w+)\s+has\s+|has\s+|es\s+gibt\s+|il\s+y\s+en\s+a\s+"
    r"|ce\s+ne\s+sono\s+|hay\s+|er\s+zijn\s+)"
)
_BEHIND: Final = compiled(
    rf"(?:[\s,;:–-]*[(\[]?\s*(?:[x×]\s?{_COUNT}|{_COUNT}\s?[x×]|{_NEEDING}?{_COUNT}\s?{_OF_THEM})|\s*[(\[,;:–-]\s*{_EACH})"
    r"(?:,[^()]{2,40}(?=\)))?\s*:?!?\s*[)\]]?[\s:.]*(?=(?:\([^()]{4,60}\)\s*)?$)",
    re.IGNORECASE,
)
_BEFORE: Final = compiled(rf"^\s*{_COUNT}\s?(?:[x×]|{_OF_THEM})\s+(?=[^\W\d_]{{3}})", re.IGNORECASE)


FRAMED: Final = 2
"""How plainly a line in a frame of signs is a heading: ``-- Voice boards x6 --``."""


class Several(NamedTuple):
    """A heading without the words that say how many there are, and those words."""

    text: str
    said: str

    @property
    def message(self) -> str:
        """What is to be said of it."""
        return f"{self.said!r} says that there are several of it: each part below counts once"


TO_DO: Final = "add the parts of the other ones too, or their count (qty)"


_RATED: Final = compiled(r"\d\s?(?:[mk]?V|[mk]?A|[kM]?(?:Ω|ohms?))(?![A-Za-z])", re.IGNORECASE)
"""``2x relay 24V``: parts, and no boards."""


def of_board(text: str) -> Several | None:
    """Return the heading of a board of which there are several; None where it says nothing of the kind."""
    if len(text) > headings.LONGEST_HEADING:
        return None
    marked = marked_as(text)
    framed = marked.strength == FRAMED and marked.text != text
    text = marked.text if framed else text
    for pattern in (_BEHIND, _BEFORE):
        match = pattern.search(text)
        if match is None:
            continue
        rest = (text[: match.start()] + text[match.end() :]).strip()
        if not rest or _RATED.search(rest) or not board_nouns.names_board(rest):
            continue
        if _is_board(form_headings.without_brackets(rest)):
            return Several(f"** {rest} **" if framed else rest, match[0].strip(" ,;:-–()[]"))
    return None


_OF_LIST: Final = compiled(
    rf"\b(?:all|everything|each|alles|tout|tutto|todo)\s+(?:[x×]\s?{_COUNT}|twice|double[d]?|times\s+{_COUNT}|doppelt|zweimal|en\s+double)\b"
    r"|\b(?:buy|order|get|need|take|bestell\w*|kauf\w*|nimm|commander|ordina\w*|pedir)\s+(?:\w+\s+)?(?:double|twice|two\s+(?:sets|of\s+each)|doppelt|zweimal"
    r"|(?:en\s+)?double|doppio|el\s+doble)\b"
    r"|\b(?:double|twice)\s+(?:it\s+)?(?:for|if)\s+(?:stereo|a\s+pair|both|two)"
    r"|\b(?:per|for\s+(?:one|each)|one|each|pro|je|für\s+einen|par|une?|por|cada|per\s+ogni|voor\s+één)\s+(?:channel|speaker|monoblock|mono\s?block"
    r"|kanal|lautsprecher|canal|voie|enceinte|canale|kanaal)\b"
    r"|\b(?:per|pro|je|par|por)\s+(?:side|seite|box|cassa|kant)\b",
    re.IGNORECASE,
)
_ALL_THERE: Final = compiled(r"\b(?:already|schon|bereits|déjà|già|ya|both|beide|deux|entrambi|ambos)\b", re.IGNORECASE)


def of_list(text: str) -> str | None:
    """Return what a line says of how many times the quantities of a list are needed: ``one speaker - buy double``."""
    match = _OF_LIST.search(text) if len(text) <= headings.LONGEST_HEADING else None
    return None if match is None or _ALL_THERE.search(text) else match[0]


def _is_board(text: str) -> bool:
    heading = headings.judge(Marked(text, 0)).heading
    return heading is not None and heading.sets.board is not None


def counted_once(ledger: Ledger, row: int, bare: str, text: str) -> tuple[str, str]:
    """Take from a heading what it says of how many there are of its board, and say so."""
    if (counted := of_board(bare)) is None:
        if (told := of_list(bare)) is not None:
            message = f"{told!r} says that what is listed is needed more than once: each part counts once"
            ledger.warn(row, "heading-times", message, text, TO_DO)
        return bare, text
    ledger.warn(row, "heading-times", counted.message, text, TO_DO)
    return counted.text, counted.text
