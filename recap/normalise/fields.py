"""Tokens to what they say of one place (or one enumeration of places): a draft of positions.

A draft keeps every reading of a quantity it met, so that two that disagree are seen as such and
neither wins in silence. Rules that look at more than one line are not here.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from decimal import Decimal
from itertools import pairwise
from typing import TYPE_CHECKING, Final

from recap.model import Kind
from recap.normalise import patterns, values, words
from recap.normalise.reading import neat
from recap.normalise.spelling import near
from recap.normalise.tokens import Sort, Token

if TYPE_CHECKING:
    from collections.abc import Iterable

    from recap.model import Mount, Role
    from recap.normalise.sizes import Size


@dataclass(slots=True)
class Draft:
    """What was read of one place. Lists hold all that was said, in order; the checks decide."""

    refs: list[str] = field(default_factory=list)
    bare_refs: int = 0
    marks: list[str] = field(default_factory=list)
    counts: list[int] = field(default_factory=list)
    caps: list[values.Reading] = field(default_factory=list)
    sections: tuple[Decimal, ...] = ()
    volts: list[values.Reading] = field(default_factory=list)
    volt_texts: list[str] = field(default_factory=list)
    temps: list[int] = field(default_factory=list)
    kinds: list[Kind] = field(default_factory=list)
    mounts: list[Mount] = field(default_factory=list)
    roles: list[Role] = field(default_factory=list)
    safety: list[str] = field(default_factory=list)
    sizes: list[Size] = field(default_factory=list)
    ripple: list[Decimal] = field(default_factory=list)
    operating: Decimal | None = None
    board: str | None = None
    not_fitted: bool = False
    dittos: int = 0
    like: str | None = None
    either: set[Sort] = field(default_factory=set)
    plus: bool = False
    poly: bool = False
    """Its kind is said with ``poly``, which is short for a film, and for polymer, too."""
    last_kind: Kind | None = None
    """What the part behind a plus is, where it is no section but bridges the one in front: ``100 µF + 0.1 µF film``."""
    unit: str | None = None
    placed: bool = False
    """Designators have a column of their own."""
    beside_refs: list[Token] = field(default_factory=list)
    """Quantities in the cell of the designators: theirs only where no other cell states them."""
    counted_apart: bool = False
    """The count has a column of its own."""
    numbers: list[Token] = field(default_factory=list)
    codes: list[str] = field(default_factory=list)
    words: list[str] = field(default_factory=list)
    doubts: dict[str, str] = field(default_factory=dict)
    noted: dict[str, str] = field(default_factory=dict)
    """What is said aloud, though it doubts nothing of what was read."""
    suggestion: str = ""
    notes: list[str] = field(default_factory=list)

    def doubt(self, code: str, message: str = "") -> None:
        """Add a doubt; what else is said of the same code is said behind it."""
        said = self.doubts.get(code, "")
        self.doubts[code] = said if message in said else f"{said}; {message}" if said else message

    def works_at(self, volts: Decimal) -> None:
        """Keep a working voltage; of several the highest is what the part must bear."""
        self.operating = max(volts, self.operating or volts)

    @property
    def has_value(self) -> bool:
        """Tell whether any capacitance was met."""
        return bool(self.caps or self.sections)

    @property
    def is_empty(self) -> bool:
        """Tell whether nothing of a part was met at all."""
        stated = self.refs or self.has_value or self.volts or self.counts or self.dittos or self.not_fitted
        return not (stated or self.kinds or self.mounts or self.temps or self.sizes or self.safety)


TEMPERATURE_PAIR: Final = frozenset(map(Decimal, (85, 105, 125, 130, 135)))
PLAIN_MARKS: Final = frozenset(",;:/()[]|@=-*+&.")


def take(draft: Draft, tokens: Iterable[Token]) -> None:
    """Add what ``tokens`` say to ``draft``, in their order."""
    before: Token | None = None
    tokens = _without_choice(draft, _without_sleeves(list(tokens)))
    _either(draft, tokens)
    for token in tokens:
        _take(draft, token, before)
        for code in token.doubts:
            if not (draft.sections and token.sort is Sort.VOLTS and code == "alternatives"):
                draft.doubt(code, f"{token.text!r}")
        before = token


def _without_choice(draft: Draft, tokens: list[Token]) -> list[Token]:
    """Doubt ``150 pF / (omit)``: some sets have the part, others don't."""
    bare = [token for token in tokens if token.text not in {"(", ")", "[", "]"}]
    chosen = any(
        a.sort is Sort.CAP and slash.text == "/" and b.sort is Sort.NOT_FITTED
        for a, slash, b in zip(bare, bare[1:], bare[2:], strict=False)
    )
    if chosen:
        draft.doubt("fitted-sometimes", " ".join(token.text for token in tokens))
    return [token for token in tokens if token.sort is not Sort.NOT_FITTED] if chosen else tokens


def _without_sleeves(tokens: list[Token]) -> list[Token]:
    """Leave out a plastic that only covers the part: ``electrolytic (black, PET)``, ``electrolytic, PVC sleeve``."""
    kinds = [token.what for token in tokens if token.sort is Sort.KIND]
    if len(set(kinds)) < 2 or not _SLEEVED & set(kinds):  # noqa: PLR2004 - one is no conflict
        return tokens
    kept: list[Token] = []
    depth = 0
    for at, token in enumerate(tokens):
        depth += (token.text == "(") - (token.text == ")")
        plastic = token.sort is Sort.KIND and token.text.casefold() in _PLASTICS
        behind = tokens[at + 1] if at + 1 < len(tokens) else None
        named = behind is not None and behind.sort is Sort.WORD and behind.what in _SLEEVES
        if not (plastic and (named or (depth > 0 and kinds[0] in _SLEEVED))):
            kept.append(token)
    return kept


_SLEEVED: Final = frozenset(("electrolytic", "bipolar"))
_PLASTICS: Final = frozenset(("pet", "pp", "pe", "ps", "pvc", "polyester"))
_SLEEVES: Final = frozenset("sleeve sleeving sleeved cover coating case jacket hulle mantel gaine guaina funda".split())
_LISTED: Final = {
    Sort.TEMP: "temps",
    Sort.SIZE: "sizes",
    Sort.COUNT: "counts",
    Sort.RIPPLE: "ripple",
    Sort.SAFETY: "safety",
    Sort.KIND: "kinds",
    Sort.MOUNT: "mounts",
}
"""Sorts whose meaning goes into a list of the draft as it is."""


def _take(draft: Draft, token: Token, before: Token | None) -> None:
    name = _LISTED.get(token.sort)
    draft.poly = draft.poly or (name == "kinds" and token.text.casefold() == "poly")
    if name == "kinds" and _bridges(draft, token.what):
        draft.last_kind = token.what
        return
    if name is not None:
        getattr(draft, name).append(token.what)
        return
    match token.sort:
        case Sort.REFS:
            draft.refs.extend(token.what.refs)
            draft.bare_refs += token.what.bare
            draft.marks.extend(token.what.marks)
        case Sort.CAP:
            _capacitance(draft, token)
        case Sort.SECTIONS:
            _sections(draft, in_unit(token, draft.unit))
        case Sort.PAIR:
            _pair(draft, in_unit(token, draft.unit))
        case Sort.VOLTS:
            draft.volts.append(token.what)
            draft.volt_texts.append(token.text)
        case Sort.NUMBER:
            _number(draft, token, before)
        case Sort.MARK:
            _mark(draft, token)
        case _:
            _take_word(draft, token)


def _bridges(draft: Draft, kind: Kind) -> bool:
    """Tell whether a kind is only the last part's: no can has one section of film beside large ones."""
    if len(draft.sections) < 2 or kind not in {Kind.FILM, Kind.CERAMIC}:  # noqa: PLR2004
        return False
    return draft.sections[-1] * FAR_SMALLER <= draft.sections[0] and kind not in draft.kinds


FAR_SMALLER: Final = 10
"""Film or ceramic beside an electrolytic has a tenth of it at most, mostly a hundredth (common practice)."""


def _take_word(draft: Draft, token: Token) -> None:
    """Take what is no quantity: roles, part numbers, words; cues have been dealt with before."""
    match token.sort:
        case Sort.ROLE:
            draft.roles.append(token.what)
            draft.words.append(token.text)
        case Sort.ASIDE if isinstance(token.what, Decimal):
            draft.works_at(token.what)
        case Sort.NOT_FITTED:
            draft.not_fitted = True
        case Sort.DITTO:
            draft.dittos += 1
        case Sort.CODE | Sort.WORD if draft.has_value and not draft.volts and _RATING_UNREAD.fullmatch(token.text):
            draft.words.append(token.text)
            draft.doubt("number-unread", f"{token.text!r} may be a voltage that was misread")
        case Sort.CODE:
            draft.codes.append(token.text)
        case Sort.WORD if token.what in {"x", "y"} and any(reading.ac for reading in draft.volts):
            draft.safety.append(token.text.upper())
        case Sort.WORD if (meant := near(token.what)) is not None:
            draft.kinds += [meant.kind] if meant.kind else []
            draft.mounts += [meant.mount] if meant.mount else []
            draft.doubt("word-misspelt", meant.message)
        case Sort.WORD if _SCANNED.fullmatch(token.text):
            draft.words.append(token.text)
            draft.doubt("number-unread", f"{token.text!r} may be a number that was misread")
        case Sort.WORD | Sort.OTHER_REF | Sort.DATE | Sort.ASIDE:
            draft.words.append(token.text)
        case _:
            pass


_RATING_UNREAD: Final = re.compile(r"(?=[A-Z]{0,2}\d)[\dA-Z]{2,3}\s?V")
"""``1GV``: no series of parts is named so behind a value."""
_SCANNED: Final = re.compile(r"(?=\d*[OolI|])(?=[OolI|]*\d)[\dOolI|]{2,5}")
"""A figure among letters that scanners take for figures: ``1OO``."""
_OR: Final = frozenset(("or", "oder", "ou", "o", "of"))
_CHOSEN: Final = frozenset((Sort.KIND, Sort.MOUNT, Sort.TEMP))


def _either(draft: Draft, tokens: list[Token]) -> None:
    """Note where a line leaves a choice (``electrolytic or tantalum``): neither is stated."""
    told = [i for i, token in enumerate(tokens) if token.sort in _CHOSEN]
    if len(told) < 2:  # noqa: PLR2004 - one is no choice
        return
    for sort in _CHOSEN:
        for a, b in pairwise(i for i in told if tokens[i].sort is sort):
            between = [token.what for token in tokens[a + 1 : b] if token.sort is Sort.WORD]
            if tokens[a].what != tokens[b].what and _OR & set(between):
                draft.either.add(sort)


def _capacitance(draft: Draft, token: Token) -> None:
    """Take a capacitance; one joined to another by a plus is a further section of the same can."""
    value = token.what.value
    before = draft.caps[-1].value if draft.caps else None
    if draft.plus and value is not None and (draft.sections or before is not None):
        first = () if before is None else (before,)
        draft.sections = (*(draft.sections or first), value)
        draft.caps = []
    else:
        draft.caps.append(token.what)
    draft.plus = False


def _mark(draft: Draft, token: Token) -> None:
    if token.text == "+":
        draft.plus = draft.has_value
    if token.text in "*†‡§":
        draft.marks.append(token.text)
    elif token.text == "?":
        draft.doubt("marked-uncertain", "a question mark stands on the line")


def in_unit(token: Token, unit: str | None) -> Token:
    """Read ``220/63`` and ``10+10`` in the unit that a header names; with a unit of their own they keep that."""
    if unit is None:
        return token
    if token.sort is Sort.PAIR and (number := re.match(r"[\d.,]+(?=\s?/)", token.text)):
        reading = values.capacitance(number[0], unit)
        return token if reading is None else token._replace(what=(reading, token.what[1]))
    if token.sort is Sort.SECTIONS and re.search(r"[^\W\d_]", token.text) is None:
        factor = values.UNITS.get(unit.lower().replace("µ", "u").removesuffix("."), values.UNITS["uf"])
        return token._replace(what=tuple(neat(section * factor) for section in token.what))
    return token


def _sections(draft: Draft, token: Token) -> None:
    if draft.sections:
        draft.doubt("value-conflict", f"a second can of sections {token.text!r}")
    draft.sections = token.what


def _pair(draft: Draft, token: Token) -> None:
    """``100/16`` is a pair; beside a capacitance ``25/50 V`` is two voltages between which nothing decides."""
    value, volts = token.what
    both = {value.value, volts.value}
    if (draft.has_value or draft.volts) and both <= TEMPERATURE_PAIR:
        draft.temps.extend(int(degrees) for degrees in both if degrees is not None)
        return
    if draft.caps and values.voltage(token.text) is not None:
        reading = values.voltage(token.text)
        if reading is not None:
            draft.volts.append(reading)
            _doubts(draft, reading, token)
        return
    draft.caps.append(value)
    draft.volts.append(volts)
    _doubts(draft, value, token)
    _doubts(draft, volts, token)


def _doubts(draft: Draft, reading: values.Reading, token: Token) -> None:
    for code in reading.doubts:
        draft.doubt(code, f"{token.text!r}")


def _number(draft: Draft, token: Token, before: Token | None) -> None:
    joined = before is not None and (before.text in {"/", "@"} or before.what in {"at", "bei"})
    draft.numbers.append(token._replace(doubts=("joined",)) if joined else token)


# --- what bare numbers mean --------------------------------------------------------------------


def settle_numbers(draft: Draft) -> None:
    """Give bare numbers a meaning where the line leaves only one, and doubt it; the rest stay in ``numbers``."""
    left: list[Token] = []
    for token in draft.numbers:
        joined = "joined" in token.doubts
        if _as_temperature(draft, token, joined=joined) or _as_volts(draft, token, joined=joined):
            continue
        if _as_value(draft, token):
            continue
        left.append(token)
    draft.numbers = left


def _as_temperature(draft: Draft, token: Token, *, joined: bool) -> bool:
    """``100/16/105``: the third of a chain; elsewhere 85 and 105 behind value and voltage, doubted."""
    rated = token.text in {"85", "105", "125", "130", "135"}
    if not rated or draft.temps or not (draft.has_value and draft.volts):
        return False
    draft.temps.append(int(token.text))
    bare = {"unit-missing", "volts-unit-missing"} & draft.doubts.keys()
    if bare and not joined:  # where the others have their units, 85 and 105 can be nothing else
        draft.doubt("temp-unit-missing", f"{token.text!r} is read as {token.text} °C")
    return True


def _as_volts(draft: Draft, token: Token, *, joined: bool) -> bool:
    if draft.volts or not draft.has_value:
        return False
    reading = values.voltage(token.text, bare=True)
    if reading is None or reading.value is None or "odd-voltage" in reading.doubts or reading.value < LEAST_VOLTS:
        return False
    draft.volts.append(reading)
    if not joined:
        draft.doubt("volts-unit-missing", f"{token.text!r} is read as {token.text} V")
    return True


LEAST_VOLTS: Final = 2
"""No part is rated for 1 V (common practice): a bare 1 behind a value counts it, or is a footnote."""


def _as_value(draft: Draft, token: Token) -> bool:
    if draft.has_value or not (draft.refs or draft.counts):
        return False
    reading = values.capacitance(token.text, draft.unit)
    if reading is None or (draft.unit is None and {"no-preferred-value", "looks-measured"} & set(reading.doubts)):
        return False  # without a unit a number that no part bears may be anything
    draft.caps.append(reading)
    _doubts(draft, reading, token)
    return True


def is_chatter(text: str) -> bool:
    """Tell whether a folded word adds nothing (``caps``, ``type``, ``the``)."""
    return text in words.NEUTRAL or text in patterns.PLAIN_NUMBER.pattern
