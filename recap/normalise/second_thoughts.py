"""Sentences beside a list that speak of parts listed in it: remarks, corrections, what other owners found.

``edit: C402 is 35 V, not 25`` is no position. What it says is laid beside the line it speaks of: where it names
another capacitance or voltage than the list, or owns to be unsure, that position is doubted. Nothing is corrected.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Final

from recap.diagnostics import Diagnostic, warning
from recap.normalise import other_editions, words
from recap.normalise.checks import doubted
from recap.normalise.clean import fold
from recap.normalise.tokens import Sort, Token, tokenise
from recap.normalise.values import format_capacitance, plain

if TYPE_CHECKING:
    from collections.abc import Collection, Iterator, Mapping, Sequence
    from decimal import Decimal

    from recap.model import Position
    from recap.normalise.fields import Draft
    from recap.normalise.records import Line

_CLAUSES: Final = re.compile(r"(?<=[.;!?])\s+(?=\S)")
_OWN_CHOICE: Final = frozenset(
    fold(word)
    for word in (
        "put fit fitted use used uses using take took taken replace replaced replacing bought ordered install "
        "installed nehme nehm genommen eingebaut ersetzt verbaut mets mis monté remplacé metto messo montato "
        "sostituito pongo puse monté cambié sustituido neem genomen geplaatst vervangen"
    ).split()
)
"""With one of these a clause tells what the writer fitted, which says nothing of the part in the set."""
_CONFIRMING: Final = frozenset(
    fold(word)
    for word in (
        "right correct definitely confirmed confirm sure indeed stimmt richtig korrekt sicher juste exact correcto "
        "corretto giusto klopt juist zeker"
    ).split()
)
"""With one of these a clause that names the listed value, too, settles it."""
_UNSURE: Final = re.compile(
    r"\b(?:not|n't|isn't|aren't)\s+(?:\w+\s+)?(?:sure|certain)\b|\bnicht\s+(?:\w+\s+)?sicher\b|\bpas\s+(?:\w+\s+)?s[uû]re?\b"
    r"|\bnon\s+(?:\w+\s+)?sicur[oa]\b|\bno\s+(?:\w+\s+)?segur[oa]\b|\bniet\s+(?:\w+\s+)?zeker\b",
    re.IGNORECASE,
)
_REMARKING: Final = frozenset(
    fold(word)
    for word in (
        "note nb nota notes ps edit update updated correction corrected errata erratum yes no ok okay hinweis nachtrag "
        "anmerkung korrektur remarque correction attention ojo achtung attenzione let op rettifica corrección "
        "correctie aanvulling btw oh wait sorry thanks thank danke merci grazie gracias bedankt hi hello"
    ).split()
)
"""In front of a designator these begin a remark."""
ENOUGH_WORDS: Final = 3
"""So many words beside the record itself make a sentence."""


def speaks_of_listed(line: Line, text: str, listed: Collection[str], *, recurring: bool) -> bool:
    """Tell whether a line with values is a sentence about designators that are listed already.

    It doesn't begin with a designator, and no designator of the list recurs (on another board, say).
    """
    if recurring or not line.chatter or not line.has_refs:
        return False
    refs = {ref.upper() for draft in line.drafts for ref in draft.refs}
    if not refs or not all(ref in listed for ref in refs) or _begins_with_ref(text):
        return False
    lead = {fold(word).strip(".'") for word in re.findall(r"[^\W\d_][\w']*", _BEFORE_REF.split(text, maxsplit=1)[0])}
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


_BEFORE_REF: Final = re.compile(r"\bC[A-Z]?-?\d")
_NAMED_LEAD: Final = re.compile(r"[^\d:;=]{2,40}:\s")


def _begins_with_ref(text: str) -> bool:
    first = next(iter(tokenise(text)), None)
    return first is not None and first.sort in {Sort.REFS, Sort.COUNT, Sort.CAP, Sort.PAIR}


@dataclass(slots=True)
class Stated:
    """What one clause says of designators."""

    refs: tuple[str, ...]
    values: set[Decimal] = field(default_factory=set)
    volts: set[Decimal] = field(default_factory=set)
    unsure: bool = False
    confirms: bool = False


def stated(text: str) -> Iterator[Stated]:
    """Yield what each clause of a sentence says; one without designators goes on about those named before it."""
    refs: tuple[str, ...] = ()
    for clause in _CLAUSES.split(text):
        tokens = tokenise(clause.strip())
        named = tuple(ref.upper() for token in tokens if token.sort is Sort.REFS for ref in token.what.refs)
        refs = named or refs
        told = {token.what for token in tokens if token.sort is Sort.WORD}
        if not refs or told & _OWN_CHOICE or _is_suggestion(tokens):
            continue
        said = Stated(refs, confirms=bool(told & _CONFIRMING))
        said.unsure = bool(named) and (_UNSURE.search(clause) is not None or bool(told & words.UNREADABLE))
        for token in tokens:
            _take(said, token)
        yield said


def _is_suggestion(tokens: Sequence[Token]) -> bool:
    return any(token.sort is Sort.REPLACED and not _CHANGED.search(token.text) for token in tokens)


_CHANGED: Final = re.compile(r"chang|now|new", re.IGNORECASE)
"""``changed to``: told of the set, not offered."""


def _take(said: Stated, token: Token) -> None:
    value, volts = None, None
    if token.sort is Sort.PAIR:
        value, volts = token.what
    elif token.sort is Sort.CAP:
        value = token.what
    elif token.sort is Sort.VOLTS:
        volts = token.what
    for reading, into in ((value, said.values), (volts, said.volts)):
        if reading is not None:
            into.update(reading.readings if reading.value is None else (reading.value,))


@dataclass(slots=True)
class Heard:
    """The sentences of one text, with their rows."""

    sentences: list[tuple[int, str]] = field(default_factory=list)

    def add(self, row: int, text: str) -> None:
        """Keep a sentence until the list is whole."""
        self.sentences.append((row, text))

    def applied(self, positions: Sequence[Position]) -> tuple[list[Position], list[Diagnostic]]:
        """Doubt the positions that a sentence speaks against."""
        listed = list(positions)
        places: dict[str, list[int]] = {}
        for at, position in enumerate(listed):
            places.setdefault((position.ref or "").upper(), []).append(at)
        told: list[Diagnostic] = []
        for row, text in self.sentences:
            for said in stated(text):
                for at in (at for ref in said.refs for at in places.get(ref, [])):
                    position = listed[at]
                    against = _against(said, position)
                    if against is None or position.source is None or position.source.row == row:
                        continue
                    listed[at] = doubted(position, "remark-unclear")
                    message = f"row {row} {against}"
                    hint = "settle which of the two is right"
                    told.append(warning("remark-unclear", message, position.source, hint, text[:200]))
        return listed, told


def _against(said: Stated, position: Position) -> str | None:
    """Return what a clause says against a position, in words, or None."""
    if said.unsure:
        return f"is not sure of {position.ref}"
    for own, named, shown in (
        (position.value_uF, said.values, format_capacitance),
        (position.volts, said.volts, lambda volts: f"{plain(volts)} V"),
    ):
        others = sorted(named - {own})
        if own is None or not others or (own in named and said.confirms):
            continue
        return f"says {' or '.join(map(shown, others))} of {position.ref}, listed with {shown(own)}"
    return None
