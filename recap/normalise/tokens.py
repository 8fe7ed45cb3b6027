"""A piece of text to tokens: each has its sort, its place and what it was read as.

The lexer tries the readers of :data:`_READERS` in their order at each place and never backs up; it is
total: every character but a space ends in some token. Meaning beyond one token is not its business.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Final

from recap.normalise import patterns, token_quantities, token_refs, token_words
from recap.normalise.style import PLAIN, Style
from recap.normalise.token_sorts import Scan, Sort, Token

if TYPE_CHECKING:
    from collections.abc import Callable

__all__ = ["Sort", "Token", "tokenise"]


def tokenise(text: str, *, strict: bool = False, refs_seen: bool = False, style: Style = PLAIN) -> list[Token]:
    """Return the tokens of ``text`` (cleaned, single-spaced).

    ``strict``: a bare number behind a designator is never one itself. ``refs_seen``: designators
    stand elsewhere in the row, so ``R47`` is a value here and no resistor. ``style`` tells what a number
    at the start means in this list.
    """
    scan = Scan(text, strict, refs_seen, style=style)
    found: list[Token] = []
    at = 0
    while at < len(text):
        if text[at].isspace():
            at += 1
            continue
        token = _token(scan, at)
        for piece in token:
            found.append(piece)
            at = max(at + 1, piece.end)
            _remember(scan, piece)
    return found


def _remember(scan: Scan, token: Token) -> None:
    if token.sort is Sort.REFS:
        scan.refs_seen = True
    elif token.sort in {Sort.CAP, Sort.PAIR, Sort.SECTIONS}:
        scan.cap_seen = True
    scan.last_end = token.end
    if token.sort is not Sort.MARK:
        scan.at_start = False


def _token(scan: Scan, at: int) -> list[Token]:
    letter = scan.text[at]
    start = _DIGIT if letter.isdigit() or letter in ".," else _LETTER if letter.isalpha() else _SIGN
    for reader in _BY_START[start]:
        found = reader(scan, at)
        if found is not None:
            return [found] if isinstance(found, Token) else found
    return [Token(Sort.MARK, scan.text[at], at, at + 1, scan.text[at])]


def _plain(sort: Sort, pattern: re.Pattern[str]) -> Callable[[Scan, int], Token | None]:
    def read(scan: Scan, at: int) -> Token | None:
        match = pattern.match(scan.text, at)
        return None if match is None or not match[0] else Token(sort, match[0], at, match.end())

    return read


def _footprint(scan: Scan, at: int) -> list[Token] | None:
    """Read a library's footprint name (``CP_Radial_D8.0mm_P3.50mm``): its parts, apart from the joints."""
    match = _FOOTPRINT.match(scan.text, at)
    if match is None:
        return None
    body = re.sub(r"[_:]", " ", match[0])
    if re.search(r"CP Elec|Capacitor SMD|\d{4}Metric", body):
        body = f"{body} SMD"
    flat = r"(?i)\b[LW]\d+(?:\.\d+)?mm\b" if re.search(r"(?i)\brect\b", body) else r"(?i)\bW\d+(?:\.\d+)?mm\b"
    body = re.sub(flat, " ", body)  # the length and width of a box are no diameter and no height
    pieces: list[Token] = []
    for word in re.sub(r"(?i)\belec\b", " electrolytic ", body).split():
        if word.upper() in {"CP", "C", "CAPACITOR", "THT", "HORIZONTAL", "VERTICAL", "POL", "CAP"}:
            continue
        pieces += [
            Token(piece.sort, match[0], at, match.end(), piece.what, piece.doubts)
            for piece in tokenise(word)
            if piece.sort in {Sort.KIND, Sort.MOUNT, Sort.SIZE}
        ]
    return pieces or [Token(Sort.CODE, match[0], at, match.end())]


_FOOTPRINT: Final = re.compile(
    r"(?:[A-Za-z]+:|[A-Za-z]+_(?=[A-Za-z]*:))?[A-Za-z]{1,12}:?(?:_[A-Za-z0-9.,x-]+)*_(?:Radial|Axial|Elec|SMD|Rect|Disc|\d{4})[A-Za-z0-9_.,x-]*"
    r"|(?:Radial|Axial|CAP|C|CP|ELKO|ELCO)(?:[_-][A-Za-z]*)*[_-](?=[A-Za-z]*\d)[A-Za-z0-9_.,x-]*_[A-Za-z0-9_.,x-]+",
    re.IGNORECASE,
)


_DIGIT: Final = "digit"


_LETTER: Final = "letter"


_SIGN: Final = "sign"


_READERS: Final[tuple[tuple[Callable[[Scan, int], Token | list[Token] | None], tuple[str, ...]], ...]] = (
    (_plain(Sort.ASIDE, patterns.URL), (_LETTER, _SIGN)),
    (_plain(Sort.CODE, patterns.STOCK_NUMBER), (_DIGIT,)),
    (_footprint, (_LETTER,)),
    (_plain(Sort.DITTO, patterns.DITTO), (_LETTER, _SIGN)),
    (_plain(Sort.REPLACED, patterns.REPLACED), (_LETTER, _SIGN)),
    (_plain(Sort.ORIGINAL, patterns.ORIGINAL), (_LETTER, _SIGN)),
    (_plain(Sort.LIKE, patterns.LIKE), (_LETTER, _SIGN)),
    (_plain(Sort.MEASURED, patterns.MEASURED), (_LETTER,)),
    (token_refs.refs, (_LETTER, _DIGIT)),
    (token_quantities.safety_class, (_LETTER,)),
    (token_refs.other_ref, (_LETTER,)),
    (_plain(Sort.DATE, patterns.DATE), (_LETTER, _DIGIT)),
    (token_quantities.temperature, (_LETTER, _DIGIT, _SIGN)),
    (token_refs.count_front, (_DIGIT,)),
    (token_quantities.size, (_LETTER, _DIGIT)),
    (token_quantities.volts_list, (_DIGIT,)),
    (token_quantities.sections, (_DIGIT,)),
    (token_quantities.pair, (_LETTER, _DIGIT)),
    (token_quantities.capacitance, (_LETTER, _DIGIT, _SIGN)),
    (token_quantities.volts, (_LETTER, _DIGIT, _SIGN)),
    (_plain(Sort.ASIDE, patterns.TOLERANCE), (_DIGIT, _SIGN)),
    (token_quantities.ripple, (_DIGIT,)),
    (token_refs.count_behind, (_LETTER, _DIGIT, _SIGN)),
    (token_refs.count_word, (_LETTER, _DIGIT)),
    (_plain(Sort.ASIDE, patterns.ASIDE), (_LETTER, _DIGIT, _SIGN)),
    (_plain(Sort.ASIDE, patterns.RESISTANCE), (_DIGIT,)),
    (token_words.phrases, (_LETTER, _SIGN)),
    (token_quantities.number, (_DIGIT,)),
    (token_words.code, (_LETTER, _DIGIT)),
    (token_words.word, (_LETTER, _DIGIT, _SIGN)),
)
"""In the order they are tried, the first that recognises something wins; each with how it may begin."""


_BY_START: Final = {
    start: tuple(reader for reader, starts in _READERS if start in starts) for start in (_DIGIT, _LETTER, _SIGN)
}
