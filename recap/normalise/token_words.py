"""Tokens of words: phrases that state kind, mount or role, part numbers, and words that say nothing by themselves."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Any, Final

from recap.model import Kind, Mount
from recap.normalise import patterns, sizes, words
from recap.normalise.clean import fold
from recap.normalise.designator_names import CHIP_SIZES
from recap.normalise.kind_words import KIND_WORDS, MOUNT_WORDS
from recap.normalise.later import compiled
from recap.normalise.token_sorts import Scan, Sort, Token
from recap.normalise.words_abroad import KIND_STEMS, MOUNT_STEMS, STEM_LENGTH

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping


FIRST_UNSPACED: Final = "\u3000"
"""From here on letters are of scripts that put no blank between words."""


def _index(table: Iterable[str]) -> dict[str, list[str]]:
    """Group phrases by their first word, longest first."""
    found: dict[str, list[str]] = {}
    for phrase in table:
        folded = fold(phrase)
        found.setdefault(_head(folded), []).append(folded)
    return {head: sorted(set(phrases), key=len, reverse=True) for head, phrases in found.items()}


_HEAD: Final = re.compile(r"[^\W_]+|.")


def _head(text: str) -> str:
    if text[:1] >= FIRST_UNSPACED:
        return text[:1]
    match = _HEAD.match(text)
    return match[0] if match else ""


_PHRASES: Final[Mapping[str, tuple[Sort, Any]]] = {
    **{fold(phrase): (Sort.ROLE, role) for phrase, role in words.ROLE_WORDS.items()},
    **{fold(phrase): (Sort.MOUNT, mount) for phrase, mount in MOUNT_WORDS.items()},
    **{fold(phrase): (Sort.KIND, kind) for phrase, kind in KIND_WORDS.items()},
    **{fold(phrase): (Sort.NOT_FITTED, None) for phrase in words.NOT_FITTED},
}


_HEADS: Final = _index(_PHRASES)


_STEMS: Final = {
    head: [stem for stem in (*KIND_STEMS, *MOUNT_STEMS) if stem.startswith(head)]
    for head in {stem[:STEM_LENGTH] for stem in (*KIND_STEMS, *MOUNT_STEMS)}
}


_ALONE: Final = frozenset(fold(word) for word in words.ALONE)


LONGEST_PHRASE: Final = 40
LONGEST_SHORT: Final = 3
_NAMING: Final = frozenset(("poly", "film", "mica", "solid"))
"""Words that makers like in the names of sets, too."""
_TYPE_NUMBER: Final = re.compile(r"-\d+(?![\d.,]|\s?(?:[uµnp]F?|mfd|V)(?![A-Za-z]))", re.IGNORECASE)


_NEXT_WORD: Final = re.compile(r"\s+(?=(?P<word>[^\W\d_]{4,}))")


def _word_follows(text: str, at: int) -> bool:
    """Tell whether a further word stands there that is neither a size's name nor one of these phrases."""
    match = _NEXT_WORD.match(text, at)
    if match is None or sizes.find(text, match.end()) is not None:
        return False
    return fold(match["word"]) not in _PHRASES and fold(match["word"]) not in words.NEUTRAL


def _is_deflection(text: str, phrase: str, end: int) -> bool:
    """Tell whether ``vertical:`` names the stage of a monitor."""
    return phrase.startswith("vertical") and text[end:].lstrip().startswith(":")


def compound(scan: Scan, at: int) -> Token | None:
    """Read a German compound by the part that says what it is: ``Tropfentantal``, ``Keramik-Kond.``."""
    match = None if _inside_word(scan, at) else patterns.COMPOUND.match(scan.text, at)
    if match is None or fold(match[0]) in _PHRASES:
        return None
    known = KIND_WORDS.get((match["last"] or match["first"]).casefold())
    return None if known is None else Token(Sort.KIND, match[0], at, match.end(), known)


COMPOUNDED: Final = ("elko", "tantal", "kerko", "kond")
"""Every compound has one of these in it."""


def _inside_word(scan: Scan, at: int) -> bool:
    return at > 0 and at != scan.last_end and scan.text[at - 1].isalnum()


def phrases(scan: Scan, at: int) -> list[Token] | None:
    """Read the longest phrase that states something; ``rollelko`` states two things."""
    if _inside_word(scan, at):
        return None
    if (mark := patterns.FILM_TYPE.match(scan.text, at)) is not None:
        return [Token(Sort.KIND, mark[0], at, mark.end(), Kind.FILM)]
    low = fold(scan.text[at : at + LONGEST_PHRASE])
    for phrase in _HEADS.get(_head(low), ()):
        if not low.startswith(phrase):
            continue
        if low[len(phrase) : len(phrase) + 1].isalnum() and phrase[-1] < FIRST_UNSPACED:
            continue
        end = at + len(phrase)
        if phrase in _ALONE and (_word_follows(scan.text, end) or _is_deflection(scan.text, phrase, end)):
            continue
        if (len(phrase) <= LONGEST_SHORT or phrase in _NAMING) and _TYPE_NUMBER.match(scan.text, end):
            continue  # ``NP-03``, ``Poly-6``: the name of a set
        text = scan.text[at:end]
        found = [Token(*_PHRASES[phrase][:1], text, at, end, _PHRASES[phrase][1])]
        both = MOUNT_WORDS.get(phrase)
        if found[0].sort is Sort.KIND and both is not None:
            found.append(Token(Sort.MOUNT, text, at, end, both))
        return found
    return _bent(scan.text, at, low)


def _bent(text: str, at: int, low: str) -> list[Token] | None:
    """Read a word that a language bends by its stem: ``elektrolitycznych``."""
    stems = _STEMS.get(low[:STEM_LENGTH])
    if stems is None:
        return None
    stem = next((stem for stem in stems if low.startswith(stem)), None)
    match = patterns.WORD.match(text, at)
    if stem is None or match is None:
        return None
    sort = Sort.KIND if stem in KIND_STEMS else Sort.MOUNT
    return [Token(sort, match[0], at, match.end(), KIND_STEMS.get(stem) or MOUNT_STEMS[stem])]


def stock_number(scan: Scan, at: int) -> Token | None:
    """Read an order number of digits; one of a class and a number only behind a value and its voltage."""
    match = patterns.STOCK_NUMBER.match(scan.text, at) or patterns.CYRILLIC_TYPE.match(scan.text, at)
    named = scan.cap_seen or scan.refs_seen
    if match is None and named and (match := patterns.STOCK_IN_CLASS.match(scan.text, at)) is not None:
        match = match if patterns.RATED.search(scan.text, 0, at) else None
    if match is None and scan.refs_seen and not scan.cap_seen:
        match = patterns.STOCK_ALONE.match(scan.text, at)
    return None if match is None or not match[0] else Token(Sort.CODE, match[0], at, match.end())


def chip(scan: Scan, at: int) -> Token | None:
    """Read the size of a chip part behind a value or designator: ``SMD0805``, ``10 µF SMD (1206)``, ``0805``."""
    if not (scan.cap_seen or scan.refs_seen) or _inside_word(scan, at) or scan.text[at - 1 : at] in {"-", ".", ","}:
        return None
    match = patterns.CHIP.match(scan.text, at)
    size = None if match is None else match["size"] or match["named"] or match["bracketed"]
    if match is None or size not in CHIP_SIZES:
        return None
    spoken = match["size"] or size.startswith("0") or scan.last is Sort.MOUNT
    spoken = spoken or (size in _LARGE_CHIPS and _FARADS_IN_FRONT.search(scan.text, 0, at))
    beside = patterns.SURFACE.search(scan.text) if not spoken else None
    return Token(Sort.MOUNT, match[0], at, match.end(), Mount.SMD) if spoken or beside else None


_LARGE_CHIPS: Final = frozenset("1206 1210 1808 1812 1825 2220 2225".split())
"""Right behind a capacitance with its unit these are no voltage: no part is rated so."""
_FARADS_IN_FRONT: Final = compiled(r"\d\s?[pnuµ]F\s\(?$")


def code(scan: Scan, at: int) -> Token | None:
    """Read a part number or type mark."""
    match = patterns.CODE.match(scan.text, at)
    if match is None or (at and scan.text[at - 1].isalnum()):
        return None
    return Token(Sort.CODE, match[0], at, match.end())


def word(scan: Scan, at: int) -> Token | None:
    """Read any other word."""
    match = patterns.WORD.match(scan.text, at)
    if match is None:
        return None
    text = (
        match[0].rstrip(".-").split("-", maxsplit=1)[0] or match[0]
    )  # ``Tropfen-Tantal``: the rest may state something
    return Token(Sort.WORD, text or match[0], at, at + len(text or match[0]), fold(text or match[0]))
