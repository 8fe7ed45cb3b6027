"""A piece of text to tokens: each has its sort, its place and what it was read as.

The lexer tries the readers of :data:`_READERS` in their order at each place and never backs up; it is
total: every character but a space ends in some token. Meaning beyond one token is not its business.
Which readers can find anything at all is told from the text and from the character before any of them is tried:
behind a line's last digit, where remarks stand, most of them can't.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import lru_cache
from string import ascii_letters
from typing import Final

from recap.normalise import patterns, token_joined_pairs, token_quantities, token_refs, token_words
from recap.normalise.later import compiled
from recap.normalise.style import PLAIN, Style
from recap.normalise.token_sorts import Scan, Sort, Token, sorts

__all__ = ["Sort", "Token", "sorts", "tokenise"]


def tokenise(text: str, *, strict: bool = False, refs_seen: bool = False, style: Style = PLAIN) -> list[Token]:
    """Return the tokens of ``text`` (cleaned, single-spaced).

    ``strict``: a bare number behind a designator is never one itself. ``refs_seen``: designators
    stand elsewhere in the row, so ``R47`` is a value here and no resistor. ``style`` tells what a number
    at the start means in this list.
    """
    return list(_tokens(text, strict, refs_seen, style))


@lru_cache(maxsize=2048)
def _tokens(text: str, strict: bool, refs_seen: bool, style: Style) -> tuple[Token, ...]:
    """Cut one text, once: a line is asked for as a record, a rule, a heading, and cells repeat."""
    scan = Scan(text, strict, refs_seen, style=style)
    digits_end, readers, readers_behind = _able(text)
    found: list[Token] = []
    at = 0
    while at < len(text):
        if text[at].isspace():
            at += 1
            continue
        for piece in _token(scan, at, readers if at < digits_end else readers_behind):
            found.append(piece)
            at = max(at + 1, piece.end)
            _remember(scan, piece)
    return tuple(found)


def _able(text: str) -> tuple[int, _ByStart, _ByStart]:
    """Return where the last digit of a text ends, the readers that can find something before it, and behind it."""
    low = text.casefold()
    parts = tuple([part for part in _PARTS if part in low])
    last_digit = _TO_LAST_DIGIT.match(text)
    return last_digit.end() if last_digit else 0, _readers(parts, digits=True), _readers(parts, digits=False)


_TO_LAST_DIGIT: Final = compiled(r".*\d", re.DOTALL)
_VALUES: Final = frozenset((Sort.CAP, Sort.PAIR, Sort.SECTIONS))


def _remember(scan: Scan, token: Token) -> None:
    if token.sort is Sort.REFS:
        scan.refs_seen = True
    elif token.sort in _VALUES:
        scan.cap_seen = True
    scan.last_end, scan.last = token.end, token.sort
    if token.sort is not Sort.MARK:
        scan.at_start = False


def _token(scan: Scan, at: int, readers: _ByStart) -> list[Token]:
    for read in _asked(scan.text, at, readers):
        found = read(scan, at)
        if found is not None:
            return [found] if isinstance(found, Token) else found
    letter = scan.text[at]
    return [Token(Sort.MARK, letter, at, at + 1, letter)]


def _asked(text: str, at: int, readers: _ByStart) -> tuple[_Read, ...]:
    """Return the readers that are tried at a place."""
    letter = text[at]
    if letter.isdigit() or letter in ",.":
        if letter in ",." and not _begins_number(text, at):
            return ()
        behind = _NUMBERS.match(text, at)
        return readers.get(_DIGIT + behind[1], readers[_DIGIT]) if behind else readers[_DIGIT]
    if letter in readers:
        return readers[letter]
    return readers[_LETTER if letter.isalpha() else _SIGN]


_NUMBERS: Final = compiled(r"[\d.,' ]*(.?)", re.DOTALL)
"""What stands behind a number, or several apart by blanks and commas: the first letter of its unit, mostly."""


def _begins_number(text: str, at: int) -> bool:
    """Tell whether a digit, or what a scanner takes for one, stands behind a point or comma."""
    behind = text[at + 1 : at + 2]
    return behind.isalnum() or behind == "|"


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
            for piece in tokenise(word, refs_seen=True)
            if piece.sort in {Sort.KIND, Sort.MOUNT, Sort.SIZE, Sort.SAFETY}
        ]
    return pieces or [Token(Sort.CODE, match[0], at, match.end())]


_FOOTPRINT: Final = compiled(
    r"(?:[A-Za-z]+:|[A-Za-z]+_(?=[A-Za-z]*:))?[A-Za-z]{1,12}:?(?:_[A-Za-z0-9.,x-]+)*_(?:Radial|Axial|Elec|SMD|Rect|Disc|\d{4})[A-Za-z0-9_.,x-]*"
    r"|(?:Radial|Axial|CAP|C|CP|ELKO|ELCO)(?:[_-][A-Za-z]*)*[_-](?=[A-Za-z]*\d)[A-Za-z0-9_.,x-]*_[A-Za-z0-9_.,x-]+"
    r"|[A-Za-z]{3,12}(?:_[A-Za-z]{2,12}){0,3}_(?=[PDHL]\d)[A-Za-z0-9_.,x-]+",
    re.IGNORECASE,
)


_DIGIT: Final = "digit"


_LETTER: Final = "letter"


_SIGN: Final = "sign"


_Read = Callable[[Scan, int], Token | list[Token] | None]
_ByStart = Mapping[str, tuple[_Read, ...]]


@dataclass(frozen=True, slots=True)
class _Reader:
    """A reader of one sort of token, and where it need not be tried.

    ``first``: the ASCII letters (in lower case, for both) and signs that it may begin with; beyond ASCII and with
    digits ``starts`` alone counts. ``parts``: one of these stands in the text (in lower case), or it finds nothing.
    ``digit``: nor does it where no digit stands at its place or behind it.
    ``units``: the ASCII characters (in lower case, for both) and µ that may stand behind a number that it begins with;
    none: any may.
    """

    read: _Read
    starts: tuple[str, ...]
    first: str = ascii_letters
    parts: tuple[str, ...] = ()
    digit: bool = True
    units: str = ""

    def begins(self, letter: str) -> bool:
        """Tell whether it may begin with this ASCII character, which is no digit."""
        return letter.lower() in self.first

    def goes_on(self, letter: str) -> bool:
        """Tell whether it may begin with a number that this character stands behind."""
        return _DIGIT in self.starts and (not self.units or letter.lower() in self.units)


_READERS: Final = (
    _Reader(
        _plain(Sort.ASIDE, patterns.URL), (_LETTER, _SIGN), f"{ascii_letters}<_+-", ("//", "www.", "@"), digit=False
    ),
    _Reader(token_words.stock_number, (_LETTER, _DIGIT), "k"),
    _Reader(_footprint, (_LETTER,), ascii_letters, ("_",), digit=False),
    _Reader(_plain(Sort.DITTO, patterns.DITTO), (_LETTER, _SIGN), "disw-\"'`", digit=False),
    _Reader(_plain(Sort.REPLACED, patterns.REPLACED), (_LETTER, _SIGN), "bcefgimnoprstuvwz->=", digit=False),
    _Reader(_plain(Sort.ORIGINAL, patterns.ORIGINAL), (_LETTER, _SIGN), "adefimnopsvwz<", digit=False),
    _Reader(_plain(Sort.LIKE, patterns.LIKE), (_LETTER, _SIGN), "acdeghilmsuvwz="),
    _Reader(_plain(Sort.MEASURED, patterns.MEASURED), (_LETTER,), "gmrtdfhiuw", digit=False),
    _Reader(token_refs.refs, (_LETTER, _DIGIT)),
    _Reader(token_quantities.safety_class, (_LETTER, _SIGN), "xyck("),
    _Reader(token_refs.other_ref, (_LETTER,)),
    _Reader(_plain(Sort.DATE, patterns.DATE), (_LETTER, _DIGIT), "adfjmnos"),
    _Reader(token_quantities.temperature, (_LETTER, _DIGIT, _SIGN), "t+-", units="°*^'odgc"),
    _Reader(token_words.chip, (_LETTER, _DIGIT, _SIGN), "s("),
    _Reader(token_refs.count_front, (_DIGIT,), ""),
    _Reader(token_quantities.sections_by_x, (_DIGIT,), "", ("x",), units="x"),
    _Reader(token_quantities.size, (_LETTER, _DIGIT), "abdefghilprstvw", units="/mciz\"'x*dfhalwtvrpseb-"),
    _Reader(token_quantities.volts_list, (_DIGIT,), "", ("/", "-"), units="/-"),
    _Reader(token_quantities.sections, (_DIGIT,), "", ("/", "-", "+"), units="+-/uµmnpkfr"),
    _Reader(token_joined_pairs.mega_pico, (_DIGIT,), "", ("/",), units="mg"),
    _Reader(token_quantities.pair, (_LETTER, _DIGIT), "npru", ("/", "@"), units="/@uµmnpkfrv"),
    _Reader(token_quantities.pair_misread, (_LETTER, _DIGIT, _SIGN), "oilsbz|", ("/",), units="/oilsbz|"),
    _Reader(token_joined_pairs.run_together, (_DIGIT,), "", units="uµn"),
    _Reader(
        token_quantities.capacitance,
        (_LETTER, _DIGIT, _SIGN),
        "bilnoprsuz|~",
        digit=False,
        units="?uµmnpkfrghjzo-~/btli|sye",
    ),
    _Reader(token_quantities.volts, (_LETTER, _DIGIT, _SIGN), "abdilorstuvwz|", units="/-~|obtvwdk?lisz"),
    _Reader(token_quantities.volts_of_letters, (_LETTER, _SIGN), "lisbz|", ("v",), digit=False),
    _Reader(_plain(Sort.ASIDE, patterns.TOLERANCE), (_DIGIT, _SIGN), "(+-", digit=False, units="%"),
    _Reader(token_quantities.ripple, (_DIGIT,), "", units="ma"),
    _Reader(token_refs.count_behind, (_LETTER, _DIGIT, _SIGN), "x(*", units="x"),
    _Reader(token_refs.count_word, (_LETTER, _DIGIT), "abclmpqs", units=patterns.COUNT_LETTERS),
    _Reader(_plain(Sort.ASIDE, patterns.ASIDE), (_LETTER, _DIGIT, _SIGN), "d#$", digit=False, units="hsomkgeucwnd$/µ"),
    _Reader(token_quantities.operating, (_LETTER,), "abcdgiloprstw", ("v",)),
    _Reader(_plain(Sort.ASIDE, patterns.ESR), (_LETTER,), "e", ("esr",)),
    _Reader(_plain(Sort.ASIDE, patterns.RESISTANCE), (_DIGIT,), "", units="km"),
    _Reader(token_words.compound, (_LETTER, _SIGN), parts=token_words.COMPOUNDED, digit=False),
    _Reader(token_words.phrases, (_LETTER, _SIGN), f"{ascii_letters}(", digit=False),
    _Reader(token_quantities.number, (_DIGIT,), ""),
    _Reader(token_words.code, (_LETTER, _DIGIT)),
    _Reader(token_words.word, (_LETTER, _DIGIT, _SIGN), f"{ascii_letters}_", digit=False),
)
"""In the order they are tried, the first that recognises something wins."""


_PARTS: Final = tuple(dict.fromkeys(part for reader in _READERS for part in reader.parts))


@lru_cache(maxsize=512)
def _readers(parts: tuple[str, ...], *, digits: bool) -> _ByStart:
    """Return the readers for a text in which ``parts`` stand: by first character, and by class for all others.

    Without ``digits`` those that go on where none follows.
    """
    able = [
        reader for reader in _READERS
        if (digits or not reader.digit) and (not reader.parts or set(parts) & set(reader.parts))
    ]  # fmt: skip
    classes = {start: tuple(each.read for each in able if start in each.starts) for start in (_DIGIT, _LETTER, _SIGN)}
    ascii_characters = [chr(code) for code in range(128)]
    first = {letter: tuple(each.read for each in able if each.begins(letter)) for letter in ascii_characters}
    behind = {
        _DIGIT + letter: tuple(each.read for each in able if each.goes_on(letter))
        for letter in [*ascii_characters, "µ"]
    }
    return classes | first | behind
