"""Remarks: what a sentence beside a part plainly states of it, and what must not be taken from it.

``non polar`` in a remark is a statement. ``was axial on early boards`` isn't: with a hedge in the
sentence nothing is taken, and the position is doubted where the remark speaks of kind or mount.
"""

from __future__ import annotations

import re
from decimal import Decimal
from itertools import pairwise
from typing import TYPE_CHECKING, Final

from recap.model import Role
from recap.normalise import leaving, other_editions, rails, second_thoughts, words
from recap.normalise.clean import fold
from recap.normalise.preferred import in_series, is_rated_voltage
from recap.normalise.tokens import Sort, Token, sorts, tokenise
from recap.normalise.voltages import voltage

if TYPE_CHECKING:
    from collections.abc import Callable

    from recap.normalise.fields import Draft

_ATTRIBUTES: Final = frozenset((Sort.KIND, Sort.MOUNT, Sort.TEMP, Sort.SIZE, Sort.SAFETY))
_CHANGING: Final = frozenset((Sort.CAP, Sort.PAIR, Sort.VOLTS, Sort.SECTIONS, Sort.REPLACED, Sort.ORIGINAL))


def is_hedged(tokens: list[Token]) -> bool:
    """Tell whether a sentence weighs, compares or recounts rather than states."""
    return any(token.sort in {Sort.REPLACED, Sort.ORIGINAL} or _hedge(token) for token in tokens)


def _hedge(token: Token) -> bool:
    return token.sort is Sort.WORD and token.what in words.HEDGES


def read_remark(draft: Draft, text: str) -> None:
    """Keep ``text`` as a note of the draft and take what it plainly states."""
    draft.notes.append(text)
    leaving.weigh(draft, text)
    if (other := other_editions.counts_otherwise(text)) is not None:
        draft.doubt("count-mismatch", f"{other!r} is said of other sets")
    _hear_correction(draft, text)
    hear_number(draft, text)
    _take_role(draft, text)
    of_another = False
    for clause in _CLAUSES.split(text):
        tokens = tokenise(clause.strip(), refs_seen=True)
        for token in tokens:
            if token.sort is Sort.ASIDE and token.what is not None:
                draft.works_at(token.what)
        of_another = of_another or _is_of_another(draft, tokens)
        _hear_rating(draft, clause)
        _clause(draft, tokens, of_another=of_another)


def _hear_rating(draft: Draft, clause: str) -> None:
    """Take the rating that a clause of a remark names and nothing else, where no cell names one (``max. 400 V``).

    A bare one there may be the rating or the supply's: where it is a usual supply's that is said.
    """
    match = _RATING.fullmatch(clause.strip(" .:!()·")) if draft.has_value and not draft.volts else None
    reading = voltage(match["volts"]) if match is not None else None
    if match is None or reading is None or reading.value is None:
        return
    plain = is_rated_voltage(reading.value) and reading.value not in rails.SUPPLIES
    if match["said"] or match["behind"] or plain:
        draft.volts.append(reading)
    else:
        draft.doubt("rail-voltage", repr(clause.strip()))


_SAID_RATED: Final = (
    r"rated|rating|rated (?:voltage|at|for)|voltage(?: rating)?|working voltage|wv|max(?:imum|\.)?(?: voltage| volts)?"
    r"|voltage max(?:\.|imum)?|spannungsfestigkeit|nennspannung|max(?:\.|imale)? spannung|spanning|voltaje"
    r"|tension(?: max(?:\.|imale)?| nominale| de service)?|tensione(?: max\.?| nominale| di lavoro)?"
    r"|tensión(?: máx(?:\.|ima)?| nominal)?|tensão(?: máx(?:\.|ima)?)?"
)
_RATING: Final = re.compile(
    rf"(?P<said>(?:{_SAID_RATED})\s?[:=]?\s?)?(?P<volts>\d{{1,4}}(?:[.,]\d)?\s?V(?:DC|\s?DC)?)"
    r"(?P<behind>\s(?:rated|rating|max\.?|type|part|working))?",
    re.IGNORECASE,
)


def _take_role(draft: Draft, text: str) -> None:
    """Take the role that a clause names and nothing else (``coupling; old one leaked``).

    What tunes or corrects a deflection is recognised anywhere in a remark: another value there would burn a set.
    """
    clauses = [_CAP.sub("", fold(clause).strip(" ().:!")) for clause in _CLAUSES.split(text)]
    named = next((_ROLES[clause] for clause in clauses if clause in _ROLES), None)
    if tunes(text):
        named = Role.DEFLECTION
    if named is not None:
        draft.roles.append(named)


def tunes(text: str) -> bool:
    """Tell whether a text says that a part tunes or corrects a deflection."""
    return _TUNED.search(fold(text)) is not None


_CAP: Final = re.compile(r"\s(?:cap|capacitor)$")
_ROLES: Final = {fold(word): role for word, role in words.ROLE_WORDS.items()}
_TUNED: Final = re.compile(
    r"\bs[- ](?:cap|caps|capacitor|corr|correction|correcting|shaping|korrektur)\b"
    r"|\b(?:flyback|retrace|rucklauf)[- ,;/]*(?:tuning|cap|kondensator)|\b(?:linearity|yoke) cap\b"
    r"|\btun(?:ing|es|ed)[- ,;/]+(?:cap\b[- ,;/]*)?(?:of |for |by |the )*"
    r"(?:flyback|retrace|line output|high voltage|eht)\b"
)


def _hear_correction(draft: Draft, text: str) -> None:
    """Doubt a row whose remark names another value or voltage as the right one, or as that of a schematic."""
    low = fold(text)
    if second_thoughts.CORRECTING.search(low) is None and _SOURCES.search(low) is None:
        return
    tokens = tokenise(text, refs_seen=True)
    if any(token.sort is Sort.REPLACED for token in tokens):
        return
    for known, at, sort in ((draft.caps, 0, Sort.CAP), (draft.volts, 1, Sort.VOLTS)):
        named = [t.what if t.sort is sort else t.what[at] for t in tokens if t.sort in {sort, Sort.PAIR}]
        stated = {reading.value for reading in known}
        if stated and any(reading.value not in stated for reading in named):
            draft.doubt("remark-unclear", text)


_SOURCES: Final = re.compile(
    r"\b(?:schematics?|service manual|manual|parts? ?list|bom|silkscreen|schaltplan|stuckliste|schema|esquema)\b"
)
_CLAUSES: Final = re.compile(r"(?<!max)(?<!min)(?<!approx)(?<!ca)(?<!abt)[;.,](?=\s)|\s-\s", re.IGNORECASE)


def hear_number(draft: Draft, text: str) -> None:
    """Doubt a row of which a remark says a bare number that may be another value or voltage: ``some have 33``."""
    stated = {reading.value for reading in (*draft.caps, *draft.volts)}
    for clause in _CLAUSES.split(fold(text)):
        match = _NUMBER_SAID.search(clause.strip(" .!()")) or _NUMBER_ASKED.fullmatch(clause.strip(" .!()"))
        told = match and next(text for text in match.groups() if text)
        number = Decimal(told.replace(",", ".")) if told else None
        if number is None or number in stated or not draft.caps:
            continue
        if in_series(number, "E6") or is_rated_voltage(number):
            draft.doubt("remark-unclear", text)


_NUMBER_SAID: Final = re.compile(
    r"\b(?:have|has|had|got|uses?|used|are|were|is|was|says?|shows?|haben|hat|ist|sind|war|ont|est|hanno|tienen)"
    r" (?:an? |also |auch |eine?n? )?(?P<number>\d{1,5}(?:[.,]\d{1,2})?)$"
)


_NUMBER_ASKED: Final = re.compile(
    r"(?:(?:or|oder|ou|o|of|maybe|perhaps|vielleicht|peut-etre|forse|quiza|misschien) )?"
    r"(?P<number>\d{1,5}(?:[.,]\d{1,2})?) ?\?"
    r"|(?:or|oder|ou|maybe|perhaps|vielleicht|forse|quiza|misschien) (?P<bare>\d{1,5}(?:[.,]\d{1,2})?)"
)
"""``or 330?``, ``47?``."""


def _is_of_another(draft: Draft, tokens: list[Token]) -> bool:
    """Tell whether a clause describes a part that would do, too (``polymer 100 µF 6.3 V is fine here``).

    It names a capacitance: another one than the row's, or the row's with another kind or mount than the row has.
    """
    stated = {reading.value for reading in draft.caps}
    named = [token.what if token.sort is Sort.CAP else token.what[0] for token in tokens if token.sort in _VALUED]
    if not named or not stated:
        return False
    other = any(
        (token.sort is Sort.KIND and draft.kinds and token.what not in draft.kinds)
        or (token.sort is Sort.MOUNT and draft.mounts and token.what not in draft.mounts)
        for token in tokens
    )
    return other or not {reading.value for reading in named} <= stated


_VALUED: Final = frozenset((Sort.CAP, Sort.PAIR))


def _clause(draft: Draft, tokens: list[Token], *, of_another: bool) -> None:
    unsure = [token.text for token in tokens if token.sort is Sort.WORD and token.what in words.UNREADABLE]
    if unsure:
        draft.doubt("marked-uncertain", " ".join(unsure))
    guessed = [t.text for t in tokens if (t.sort is Sort.WORD and t.what in words.UNCERTAIN) or t.text.endswith("?")]
    if guessed and any(token.sort in {Sort.CAP, Sort.PAIR, Sort.VOLTS} for token in tokens):
        draft.doubt("marked-uncertain", " ".join(token.text for token in tokens))
    tokens = _without_limits(without_denials(without_neighbours(tokens)))
    hedged = is_hedged(tokens)
    stated = [token for token in tokens if token.sort in _ATTRIBUTES and fold(token.text) not in _STAGES]
    if any(token.sort is Sort.WORD and token.what in words.OFFERING for token in tokens):
        stated = []  # ``tantalum OK``, ``or axial``: what would do, too
    if any(token.sort is Sort.NOT_FITTED for token in tokens):
        others = [token for token in tokens if token.sort is Sort.WORD and token.what not in words.NEUTRAL]
        if hedged or others:
            draft.doubt("fitted-sometimes", " ".join(token.text for token in tokens))
        else:
            draft.not_fitted = True
    if hedged:
        replaced = any(token.sort is Sort.REPLACED for token in tokens)
        if not replaced and any(token.sort in {Sort.CAP, Sort.PAIR, Sort.VOLTS, Sort.SECTIONS} for token in tokens):
            draft.doubt("remark-unclear", " ".join(token.text for token in tokens))
        if any(
            token.sort in {Sort.KIND, Sort.MOUNT} and token.what not in {*draft.kinds, *draft.mounts}
            for token in stated
        ):
            suggested = any(token.sort is Sort.REPLACED for token in tokens)
            if not suggested:
                draft.doubt("remark-unclear", " ".join(token.text for token in tokens))
        return
    for token in () if of_another else stated:
        _state(draft, token)


_STAGES: Final = frozenset("vertical verticale verticali verticales".split())
"""In a remark these name a stage of a monitor before they say how a part stands."""


def _without_limits(tokens: list[Token]) -> list[Token]:
    """Take out sizes called limits (``height 6 mm max``): they say what fits, not how large the part is."""
    limit = any(token.sort is Sort.WORD and token.what in _LIMITS for token in tokens)
    return [token for token in tokens if token.sort is not Sort.SIZE] if limit else tokens


def without_limit(tokens: list[Token]) -> list[Token]:
    """Take out the sizes of a bracket in which a word calls them limits: ``(16 mm dia max)``."""
    if Sort.SIZE not in sorts(tokens):
        return tokens
    kept: list[Token] = []
    inside: list[Token] = []
    for token in tokens:
        if not inside and token.text != "(":
            kept.append(token)
            continue
        inside.append(token)
        if token.text == ")":
            limit = any(t.sort is Sort.WORD and t.what.rstrip(".") in _AT_MOST for t in inside)
            kept += [t for t in inside if not (limit and t.sort is Sort.SIZE)]
            inside = []
    return kept + inside


_AT_MOST: Final = frozenset("max maximum maximal maximale massimo máximo maximo most".split())
_LIMITS: Final = frozenset(
    "max maximum maximal maximale massimo máximo most limit longer shorter wider taller larger smaller bigger länger "
    "kürzer".split()
)
_DENIALS: Final = frozenset("not no nicht kein keine pas non ne niet geen".split())


def without_or_more(tokens: list[Token]) -> list[Token]:
    """Take out ``or better`` behind a rating: it weighs nothing, the rating stands."""

    def weighs_nothing(a: Token, b: Token) -> bool:
        return a.sort is b.sort is Sort.WORD and a.what in words.OR and b.what in words.MORE

    return _without_pairs(tokens, weighs_nothing)


def without_denials(tokens: list[Token]) -> list[Token]:
    """Make an aside of what is denied (``not electrolytic``): that says nothing of what the part is."""
    kept = list(tokens)
    for at, (a, b) in enumerate(pairwise(tokens)):
        if a.sort is Sort.WORD and a.what in _DENIALS and b.sort in {Sort.KIND, Sort.MOUNT}:
            kept[at + 1] = b._replace(sort=Sort.ASIDE, what=None)
    return kept


def without_neighbours(tokens: list[Token]) -> list[Token]:
    """Take out what stands beside the part (``near the trimmer``): that says nothing of what the part is."""
    kept: list[Token] = []
    beside = False
    for token in tokens:
        if beside and token.sort in {Sort.KIND, Sort.MOUNT}:
            kept.append(token._replace(sort=Sort.ASIDE, what=None))
            beside = False
            continue
        article = token.sort is Sort.WORD and token.what in _ARTICLES
        beside = (token.sort is Sort.WORD and token.what in _NEIGHBOURING) or (beside and article)
        kept.append(token)
    return kept


_NEIGHBOURING: Final = frozenset(
    "near beside behind under underneath below above between neben hinter unter uber zwischen nahe pres sous derriere "
    "vicino accanto sotto dietro junto cerca debajo detras naast achter onder tussen".split()
)
_ARTICLES: Final = frozenset(
    "the a of to der die das dem den la le les l de du il lo al alla el los las al del het een an".split()
)


def _without_pairs(tokens: list[Token], goes: Callable[[Token, Token], bool]) -> list[Token]:
    pairs = [i for i, (a, b) in enumerate(pairwise(tokens)) if goes(a, b)]
    return [token for i, token in enumerate(tokens) if i not in pairs and i - 1 not in pairs] if pairs else tokens


def _state(draft: Draft, token: Token) -> None:
    if token.sort is Sort.KIND:
        draft.kinds.append(token.what)
    elif token.sort is Sort.MOUNT:
        draft.mounts.append(token.what)
    elif token.sort is Sort.SAFETY:
        draft.safety.append(token.what)
    elif token.sort is Sort.TEMP and not draft.temps:
        draft.temps.append(token.what)
    elif token.sort is Sort.SIZE:
        draft.sizes.append(token.what)
