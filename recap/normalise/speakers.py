"""Who speaks in a thread: lines that say so (``Posted by X``, ``X schrieb:``), and lines that only quote others."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Final

from recap.normalise import second_thoughts
from recap.normalise.later import compiled

if TYPE_CHECKING:
    from collections.abc import Sequence

    from recap.normalise.finishing import Finisher
    from recap.normalise.record_line import Line

_SPEAKING: Final = compiled(
    r"\W*(?:(?:originally\s+)?(?:posted|written|sent|replied|commented|quoted?)\s+(?:by|from)|(?:re(?:ply|sponse)|comment|quote|answer)\s+(?:by|from)"
    r"|(?:posté|écrit|publié|envoyé|message)\s+(?:par|de)|(?:geschrieben|verfasst|gepostet|beitrag|zitat)\s+von|(?:scritto|inviato|postato|pubblicato)\s+da"
    r"|(?:publicado|escrito|enviado|postado)\s+por|(?:geplaatst|geschreven)\s+door|(?:skrevet|skrivet|indsendt)\s+af?v?|сообщение\s+от|投稿者)\b\s*:?\s*\S"
    r"|.{1,60}\s(?:wrote|said|writes|replied|schrieb|schreibt|(?:hat\s+)?geschrieben|a\s+écrit|écrivait|ha\s+scritto|escribió|escreveu|schreef|skrev|napisała?"
    r"|napsala?|írta|писала?|написала?)\s?:?[\])>*_]*\s*$",
    re.IGNORECASE,
)
LONGEST: Final = 100


def speaks(text: str) -> bool:
    """Tell whether a line says who wrote what stands below it."""
    return len(text) <= LONGEST and _SPEAKING.match(text) is not None


_TAG: Final = compiled(r"\s*[\[<](?P<name>[^\W\d][\w .-]{1,24})[\]>]:?\s*$")
_SELF: Final = compiled(
    r"\W*(?:\w+[,.!]?\s){0,3}(?:my|mine|i|i'm|i've|we|our|ours|mein\w*|ich|wir|unser\w*|mon|mes|mien|je|j'ai|nous|mio|mia|miei|ho|mi|mis|yo"
    r"|tengo|mijn|ik|min|mitt|jag|mój|moje|mam|můj|mám)\b",
    re.IGNORECASE,
)
"""Who speaks so speaks of their own set."""


def tagged(lines: Sequence[str]) -> frozenset[int]:
    """Return the rows (1-based) that hold a name in brackets and no more, where what stands below one is said by it."""
    named = [at for at, line in enumerate(lines) if _TAG.match(line)]
    below = (next((line for line in lines[at + 1 : at + 3] if line.strip()), "") for at in named)
    return frozenset(at + 1 for at in named) if any(_SELF.match(line) for line in below) else frozenset()


def quotes_again(line: Line, finisher: Finisher, quoted: frozenset[int]) -> bool:
    """Tell whether a quoted line only repeats records that stand above it and quote nothing themselves."""
    positions = finisher.ledger.positions
    own = {p.ref.upper() for p in positions if p.ref and p.source and p.source.row not in quoted}
    listed = {ref: draft for ref, draft in finisher.by_ref.items() if ref in own}
    if not line.has_refs or not line.has_values or not all(draft.refs for draft in line.drafts):
        return False
    known = all(ref.upper() in listed for draft in line.drafts for ref in draft.refs)
    return known and not second_thoughts.differ(line, listed)
