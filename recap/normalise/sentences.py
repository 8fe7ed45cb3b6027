"""What sentences beside a list say of the parts in it: remarks, corrections, what other owners found.

They stand behind the list or before it, in its file or on another sheet. Where one names another capacitance or
voltage than the list, or owns to be unsure, the position is doubted; one that plainly corrects the list
(``typo: C12 should be 35V``) is taken, and the position doubted all the same.
"""

from __future__ import annotations

import re
from collections import defaultdict
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING, Final

from recap.diagnostics import Diagnostic, note, warning
from recap.model import Kind
from recap.normalise import leaving, other_editions, words
from recap.normalise.checks import doubted, named_rows
from recap.normalise.clean import fold
from recap.normalise.remarks import without_denials
from recap.normalise.second_thoughts import CORRECTING, TELLING
from recap.normalise.tokens import Sort, Token, tokenise
from recap.normalise.values import format_capacitance, plain

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence
    from decimal import Decimal

    from recap.model import Position
    from recap.normalise.ledger import Ledger, Sentence

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
_OF_OTHERS: Final = (other_editions.EDITIONS | words.HEDGES) - frozenset("was were not nicht non should".split()) | {
    fold(word)
    for word in (
        "someone somebody theirs his her others some mine my me bei mir jemand meins einige chez moi quelqu'un mien "
        "certains qualcuno mio alcuni alguien mío algunos iemand mijn sommige print schematic schaltplan schema"
    ).split()
}
"""With one of these a sentence tells of another set, or guesses: it corrects nothing."""


@dataclass(slots=True)
class Stated:
    """What one clause says of designators."""

    refs: tuple[str, ...]
    clause: str
    values: set[Decimal] = field(default_factory=set)
    volts: set[Decimal] = field(default_factory=set)
    kinds: set[Kind] = field(default_factory=set)
    unsure: bool = False
    confirms: bool = False
    corrects: bool = False
    stays: bool = False
    """The part is to be left alone, or was replaced already."""

    def denies(self, number: Decimal) -> bool:
        """Tell whether the clause says that it isn't this number: ``35 V, not 25``."""
        denied = rf"\b(?:not|nicht|pas|non|no|niet|instead of|statt)\s+{re.escape(plain(number))}(?!\d|[.,]\d)"
        return re.search(denied, self.clause) is not None


def stated(text: str) -> Iterator[Stated]:
    """Yield what each clause of a sentence says; one without designators goes on about those named before it."""
    refs: tuple[str, ...] = ()
    correcting = False
    for clause in map(str.strip, _CLAUSES.split(text)):
        tokens = tokenise(clause)
        named = tuple(ref.upper() for token in tokens if token.sort is Sort.REFS for ref in token.what.refs)
        refs = named or refs
        told = {token.what for token in tokens if token.sort is Sort.WORD}
        low = fold(clause)
        correcting = correcting or CORRECTING.search(low) is not None
        if named and leaving.stays(_without_refs(low, tokens)):
            yield Stated(refs, low, stays=True)
        if not refs or told & _OWN_CHOICE or _is_suggestion(tokens):
            continue
        said = Stated(refs, low, confirms=bool(told & _CONFIRMING))
        said.unsure = bool(named) and (_UNSURE.search(clause) is not None or bool(told & words.UNREADABLE))
        recounts = any(token.sort in {Sort.REPLACED, Sort.ORIGINAL} for token in tokens)
        said.corrects = correcting and not recounts and not told & _OF_OTHERS
        for token in tokens:
            _take(said, token)
        if TELLING.match(clause) and not told & _BESIDE:
            said.kinds = {token.what for token in without_denials(tokens) if token.sort is Sort.KIND}
        yield said


_BESIDE: Final = words.BESIDE - frozenset("to at by from via on".split())


def _without_refs(text: str, tokens: Sequence[Token]) -> str:
    """Put ``it`` in the place of designators: ``leave it alone``."""
    for token in reversed(tokens):
        if token.sort is Sort.REFS:
            text = f"{text[: token.start]} it {text[token.end :]}"
    return " ".join(text.split())


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


def settle(positions: Iterable[Position], ledgers: Sequence[Ledger]) -> tuple[list[Position], list[Diagnostic]]:
    """Lay what sentences say on the positions they speak of; those that became positions themselves are none."""
    listed, told = _mentions(list(positions))
    heard = [(ledger.sheet, sentence) for ledger in ledgers for sentence in ledger.sentences]
    if not heard:
        return listed, told
    spoken = _spoken([sentence for _, sentence in heard if sentence.made], listed)
    told += [_laid(sentence) for _, sentence in heard if sentence.place in spoken]
    listed = [position for position in listed if _place(position) not in spoken]
    places = _by_ref(enumerate(listed))
    for sheet, sentence in heard:
        if sentence.made and sentence.place not in spoken:
            continue
        for said in stated(sentence.text):
            for ref in said.refs:
                there = places.get(ref, [])
                meant = [at for at in there if _place(listed[at])[0] == sheet] or there
                for at in meant:
                    listed[at] = _spoken_of(said, sentence, listed[at], told, alone=len(meant) == 1)
    return listed, told


def _by_ref(numbered: Iterable[tuple[int, Position]]) -> dict[str, list[int]]:
    found: dict[str, list[int]] = defaultdict(list)
    for at, position in numbered:
        if position.ref is not None:
            found[position.ref.upper()].append(at)
    return found


def _place(position: Position) -> _Place:
    return (position.source.sheet, position.source.row) if position.source is not None else (None, None)


_Place = tuple[str | None, int | None]


def _spoken(made: Sequence[Sentence], listed: Sequence[Position]) -> set[_Place]:
    """Return the places of lines that made positions, all of whose designators are listed with a value elsewhere."""
    if not made:
        return set()
    rows: dict[_Place, list[Position]] = defaultdict(list)
    for position in listed:
        rows[_place(position)].append(position)
    places = _by_ref(enumerate(listed))
    found: set[_Place] = set()
    for place in {sentence.place for sentence in made}:
        own = rows[place]
        named = [listed[at] for position in own for at in places.get((position.ref or "").upper(), ())]
        if len(own) <= MOST_NAMED and len(named) == 2 * len(own) and _are_listed(own, named):
            found.add(place)
    return found


MOST_NAMED: Final = 40
"""No sentence speaks of more designators."""


def _are_listed(own: Sequence[Position], named: Sequence[Position]) -> bool:
    """Tell whether each of a line's positions stands once in another line, with a value and on the same board."""
    others = [p for p in named if p not in own and p.value_uF is not None]
    refs = {p.ref for p in own if p.ref is not None}
    boards = {p.board for p in own} - {None}
    return bool(refs) and len(refs) == len(own) == len(others) and boards <= {p.board for p in others}


def _laid(sentence: Sentence) -> Diagnostic:
    message = "speaks of a part that is listed elsewhere; it was not taken for a position"
    hint = "if a position is meant, put it on a line of its own"
    return warning("prose-names-part", message, sentence.source, hint, sentence.text[:200])


def _spoken_of(
    said: Stated, sentence: Sentence, position: Position, told: list[Diagnostic], *, alone: bool
) -> Position:
    """Return the position with what a clause says of it."""
    source = position.source
    if source is None or _place(position) == sentence.place:
        return position
    row, code = sentence.source.row, "remark-unclear"
    corrected = _corrected(said, position) if alone and not sentence.revoked else None
    if said.stays:
        told.append(_of_staying(sentence, position))
        return position
    if corrected is not None:
        code, hint = "corrected", "compare with the part"
        message = f"row {row} {_against(said, position) or 'names what is missing here'}; taken from there"
        position = replace(corrected, note="; ".join(part for part in (position.note, sentence.text) if part))
    elif (against := _against(said, position)) is not None:
        message, hint = f"row {row} {against}", "settle which of the two is right"
    else:
        return position
    told.append(warning(code, message, source, hint, sentence.text[:200]))
    return doubted(position, code)


def _of_staying(sentence: Sentence, position: Position) -> Diagnostic:
    assert position.source is not None, "it was read from a line"
    message = f"row {sentence.source.row} says that {position.ref} stays, or was replaced already"
    hint = "take it off the job in sets.csv, or delete the line"
    return note(leaving.CODE, message, position.source, hint, sentence.text[:200])


def _corrected(said: Stated, position: Position) -> Position | None:
    """Return the position as a clause plainly corrects it: it names one other value or voltage, and says why."""
    found = position
    for name, own, named in (("value_uF", position.value_uF, said.values), ("volts", position.volts, said.volts)):
        others = named - {own}
        if not others or (own is not None and own in named and said.confirms):
            continue
        if len(others) > 1 or None in others or not (said.corrects or (own is not None and said.denies(own))):
            return None
        other = others.pop()
        found = replace(found, value_uF=other) if name == "value_uF" else replace(found, volts=other)
    if found is position:
        return None
    left = tuple(code for code in found.doubts if code != "value-missing" or found.value_uF is None)
    return replace(found, doubts=left)


def _against(said: Stated, position: Position) -> str | None:
    """Return what a clause says against a position, in words, or None."""
    if said.unsure:
        return f"is not sure of {position.ref}"
    if said.kinds and position.kind not in said.kinds:
        return f"says {' or '.join(sorted(said.kinds))} of {position.ref}, listed as {position.kind.value}"
    for own, named, shown in (
        (position.value_uF, said.values, format_capacitance),
        (position.volts, said.volts, lambda volts: f"{plain(volts)} V"),
    ):
        others = sorted(named - {own})
        if own is None or not others or (own in named and said.confirms):
            continue
        return f"says {' or '.join(map(shown, others))} of {position.ref}, listed with {shown(own)}"
    return None


def _mentions(listed: list[Position]) -> tuple[list[Position], list[Diagnostic]]:
    """Lay a line that only speaks of a designator listed elsewhere (``C5 must be a bipolar one``) on that position.

    It makes no position of its own. Where it says of the part what the list doesn't, the listed position is doubted.
    """
    valued: dict[str, list[int]] = defaultdict(list)
    for at, position in enumerate(listed):
        if position.ref is not None and position.value_uF is not None:
            valued[position.ref.upper()].append(at)
    found: list[Diagnostic] = []
    dropped: set[int] = set()
    for at, position in enumerate(listed):
        if not _only_mentions(position) or position.ref is None or not (meant := valued.get(position.ref.upper())):
            continue
        dropped.add(at)
        for i in meant:
            other = listed[i]
            new = (position.kind not in {Kind.UNKNOWN, other.kind}) or (position.mount not in {None, other.mount})
            noted = replace(other, note="; ".join(part for part in (other.note, position.text.strip()) if part))
            listed[i] = doubted(noted, "remark-unclear") if new else noted
        rows = named_rows(listed[i] for i in meant)
        message = f"speaks of {position.ref}, which is listed in row {rows}: laid on it as a remark"
        assert position.source is not None, "it was read from a line"
        hint = "settle what it says of the part, if anything"
        found.append(warning("prose-names-part", message, position.source, hint, position.text[:200]))
    return [position for at, position in enumerate(listed) if at not in dropped], found


def _only_mentions(position: Position) -> bool:
    """Tell whether a line of text names a place and nothing that is bought for it."""
    place = position.source
    bare = position.value_uF is None and position.volts is None and set(position.doubts) == {"value-missing"}
    says = bool(position.note) or position.kind is not Kind.UNKNOWN or position.mount is not None
    return bare and says and place is not None
