"""Whether a line is a sentence beside a list that speaks of parts in it, rather than a record of its own.

``edit: C402 is 35 V, not 25`` is no position. What it says is laid beside the position by :mod:`sentences`.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Final

from recap.normalise import other_editions
from recap.normalise.clean import fold
from recap.normalise.later import compiled
from recap.normalise.tokens import Sort, tokenise

if TYPE_CHECKING:
    from collections.abc import Collection, Mapping, Sequence

    from recap.normalise.fields import Draft
    from recap.normalise.record_line import Line

_REMARKING: Final = frozenset(
    fold(word)
    for word in (
        "note nb nota notes ps edit update updated correction corrected errata erratum yes no ok okay hinweis nachtrag "
        "anmerkung korrektur remarque correction attention ojo achtung attenzione let op rettifica corrección "
        "correctie aanvulling btw oh wait sorry thanks thank danke merci grazie gracias bedankt hi hello"
    ).split()
)
"""In front of a designator these begin a remark."""
CORRECTING: Final = compiled(
    r"\b(?:edit\d*|correction|corrected|errat(?:a|um)|typo|misprint|sorry|oops|mistake|wrong|misread|i meant|actually"
    r"|in fact|nachtrag|korrektur|berichtigung|tippfehler|druckfehler|verschrieben|verlesen|falsch|correctif"
    r"|rectificati(?:f|on)|erreur|faute de frappe|en fait|correzione|rettifica|errore|refuso|in realta|correccion"
    r"|rectificacion|error|en realidad|correctie|rectificatie|typefout|foutje|eigenlijk)\b"
)
"""With one of these whoever wrote the list takes something in it back."""
ENOUGH_WORDS: Final = 3
"""So many words beside the record itself make a sentence."""


def speaks_of_listed(line: Line, text: str, listed: Collection[str], *, recurring: bool) -> bool:
    """Tell whether a line is a sentence about designators that are listed already, none of them on two boards."""
    if recurring or not line.has_refs:
        return False
    refs = {ref.upper() for draft in line.drafts for ref in draft.refs}
    return bool(refs) and all(ref in listed for ref in refs) and could_speak(line, text)


_REVOKING: Final = compiled(
    r"\b(?:ignore|forget|scratch|disregard) (?:that|this|it|the last|what i)\b|\bnever ?mind\b"
    r"|\bverg(?:iss|esst) (?:das|es)\b|\b(?:oubliez|oublie) (?:ca|cela)\b|\blascia(?:te)? perdere\b"
    r"|\bolvid(?:a|ad|en) (?:eso|lo anterior)\b|\bvergeet dat\b"
)


def revokes(text: str) -> bool:
    """Tell whether a line takes back what stands above it."""
    return _REVOKING.search(fold(text)) is not None


def begins(text: str) -> bool:
    """Tell whether a line begins with designators of which it tells something."""
    return TELLING.match(text) is not None


def could_speak(line: Line, text: str) -> bool:
    """Tell whether a line would be a sentence if its designators were listed elsewhere.

    It tells of them (``C5 is actually 220uF``), or doesn't begin with one.
    """
    if begins(text):
        return True
    if not line.chatter or _begins_with_ref(text):
        return False
    before = fold(_BEFORE_REF.split(text, maxsplit=1)[0])
    if CORRECTING.search(before) is not None:
        return True
    lead = {word.strip(".'") for word in re.findall(r"[^\W\d_][\w']*", before)}
    named = _NAMED_LEAD.match(text)
    chatter = line.chatter - (len(named[0].split()) if named is not None else 0)
    return bool(lead & (_REMARKING | other_editions.EDITIONS)) or chatter >= ENOUGH_WORDS


def differ(line: Line, listed: Mapping[str, Draft]) -> bool:
    """Tell whether a line names another value or voltage than is listed for its designators."""
    for draft in line.drafts:
        for above in (listed[ref.upper()] for ref in draft.refs):
            for name in ("caps", "volts"):
                known = {reading.value for reading in getattr(above, name)}
                if any(reading.value not in known for reading in getattr(draft, name)):
                    return True
    return False


def only_remarks(line: Line, listed: Collection[str]) -> bool:
    """Tell whether a line without values only says something of designators already listed (``C101 gets hot``)."""
    if line.has_values or not line.has_refs or not line.chatter:
        return False
    said = [d for d in line.drafts if d.like or d.volts or d.dittos or d.not_fitted or d.counts]
    return not said and all(ref.upper() in listed for draft in line.drafts for ref in draft.refs)


TELLING: Final = compiled(
    r"(?:[A-Z]{0,2}C[A-Z]?-?\d{1,4}[A-Z]?(?:\s*(?:,|/|&|and|und|et|e|y|en)\s*)?)+\s+(?:really\s+|actually\s+)?"
    r"(?:is|are|was|were|has|had|reads?|says|should|must|isn't|wasn't|ist|sind|war|waren|hat|muss|est|sont|était|doit"
    r"|è|era|sono|deve|es|son|debe|moet|heeft|actually|really)\s",
    re.IGNORECASE,
)
"""Designators, and behind them a verb: a record has its value there."""
_BEFORE_REF: Final = compiled(r"\bC[A-Z]?-?\d")
_NAMED_LEAD: Final = compiled(r"[^\d:;=]{2,40}:\s")


def _begins_with_ref(text: str) -> bool:
    first = next(iter(tokenise(text)), None)
    return first is not None and first.sort in {Sort.REFS, Sort.COUNT, Sort.CAP, Sort.PAIR}


_OFFERING: Final = compiled(
    r"\W*(?:->\s*)?(?:alternativ(?:e|ely|ly|es|a|o|en)?|alt\.?|or|oder|ou|ersatz|substitute)\b\s*[:,-]?\s*(?=C[A-Z]?\d)",
    re.IGNORECASE,
)


def offers(cells: Sequence[str], draft: Draft, listed: Collection[str]) -> bool:
    """Tell whether a row only offers another part for designators that are listed already: ``alternative C8, C9``."""
    offered = bool(draft.refs) and any(_OFFERING.match(text.strip()) for text in cells)
    return offered and all(ref.upper() in listed for ref in draft.refs)
