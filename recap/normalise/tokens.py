"""A piece of text to tokens: each has its sort, its place and what it was read as.

The lexer tries the sorts of :data:`_READERS` in their order at each place and never backs up; it is
total: every character but a space ends in some token. Meaning beyond one token is not its business.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING, Any, Final

from recap.normalise import designators, patterns, sizes, values, words
from recap.normalise.clean import fold
from recap.normalise.style import PLAIN, SMALLEST_NUMBERED, Style

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping


class Sort(StrEnum):
    """What a token is. The comment names what its ``what`` holds."""

    REFS = "refs"  # RefGroup
    OTHER_REF = "other part"  # None
    CAP = "capacitance"  # values.Reading
    SECTIONS = "sections"  # tuple[Decimal, ...]
    PAIR = "pair"  # tuple[values.Reading, values.Reading]
    VOLTS = "volts"  # values.Reading
    TEMP = "temperature"  # int
    SIZE = "size"  # sizes.Size
    COUNT = "count"  # int
    RIPPLE = "ripple"  # Decimal, mA
    SAFETY = "safety class"  # str
    KIND = "kind"  # Kind
    MOUNT = "mount"  # Mount
    ROLE = "role"  # Role
    NOT_FITTED = "not fitted"  # None
    DITTO = "ditto"  # None
    REPLACED = "replaced by"  # None
    ORIGINAL = "originally"  # None
    MEASURED = "measured"  # None
    LIKE = "like"  # None
    DATE = "date"  # None
    ASIDE = "aside"  # None
    NUMBER = "number"  # str
    CODE = "code"  # None
    WORD = "word"  # str, folded
    MARK = "mark"  # str


@dataclass(frozen=True, slots=True)
class Token:
    """One token; ``what`` depends on its sort (see :class:`Sort`)."""

    sort: Sort
    text: str
    start: int
    end: int
    what: Any = None
    doubts: tuple[str, ...] = ()


@dataclass(slots=True)
class _Scan:
    """The text and what was seen so far of it."""

    text: str
    strict: bool = False
    refs_seen: bool = False
    cap_seen: bool = False
    at_start: bool = True
    last_end: int = 0
    style: Style = PLAIN


def tokenise(text: str, *, strict: bool = False, refs_seen: bool = False, style: Style = PLAIN) -> list[Token]:
    """Return the tokens of ``text`` (cleaned, single-spaced).

    ``strict``: a bare number behind a designator is never one itself. ``refs_seen``: designators
    stand elsewhere in the row, so ``R47`` is a value here and no resistor. ``style`` tells what a number
    at the start means in this list.
    """
    scan = _Scan(text, strict, refs_seen, style=style)
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


def _remember(scan: _Scan, token: Token) -> None:
    if token.sort is Sort.REFS:
        scan.refs_seen = True
    elif token.sort in {Sort.CAP, Sort.PAIR, Sort.SECTIONS}:
        scan.cap_seen = True
    scan.last_end = token.end
    if token.sort is not Sort.MARK:
        scan.at_start = False


def _token(scan: _Scan, at: int) -> list[Token]:
    letter = scan.text[at]
    start = _DIGIT if letter.isdigit() or letter in ".," else _LETTER if letter.isalpha() else _SIGN
    for reader in _BY_START[start]:
        found = reader(scan, at)
        if found is not None:
            return [found] if isinstance(found, Token) else found
    return [Token(Sort.MARK, scan.text[at], at, at + 1, scan.text[at])]


def _plain(sort: Sort, pattern: re.Pattern[str]) -> Callable[[_Scan, int], Token | None]:
    def read(scan: _Scan, at: int) -> Token | None:
        match = pattern.match(scan.text, at)
        return None if match is None or not match[0] else Token(sort, match[0], at, match.end())

    return read


def _footprint(scan: _Scan, at: int) -> list[Token] | None:
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
        for piece in tokenise(word):
            if piece.sort in {Sort.KIND, Sort.MOUNT, Sort.SIZE}:
                pieces.append(Token(piece.sort, match[0], at, match.end(), piece.what, piece.doubts))
    return pieces or [Token(Sort.CODE, match[0], at, match.end())]


_FOOTPRINT: Final = re.compile(
    r"(?:[A-Za-z]+:|[A-Za-z]+_(?=[A-Za-z]*:))?[A-Za-z]{1,12}:?(?:_[A-Za-z0-9.,x-]+)*_(?:Radial|Axial|Elec|SMD|Rect|Disc|\d{4})[A-Za-z0-9_.,x-]*"
    r"|(?:Radial|Axial|CAP|C|CP|ELKO|ELCO)(?:[_-][A-Za-z]*)*[_-](?=[A-Za-z]*\d)[A-Za-z0-9_.,x-]*_[A-Za-z0-9_.,x-]+",
    re.IGNORECASE,
)


def _refs(scan: _Scan, at: int) -> Token | None:
    letter = scan.text[at]
    if not letter.isalnum() or (at and (scan.text[at - 1].isalnum() or scan.text[at - 1] == "_")):
        return None
    group = designators.find_group(scan.text, at, strict=scan.strict)
    if group is None and scan.at_start and _VALUE_BEHIND.search(scan.text, at):
        group = designators.find_group(scan.text, at, any_prefix=True) if _LIKE_A_REF.match(scan.text, at) else None
    if group is None:
        return None
    return Token(Sort.REFS, scan.text[at : group.end], at, group.end, group, group.doubts)


_LIKE_A_REF: Final = re.compile(r"[A-Za-z]{0,2}C[A-Za-z]{0,2}-?\d", re.IGNORECASE)
_VALUE_BEHIND: Final = re.compile(r"[\s:=(-]\d[\d.,]*\s?(?:[uµnp]F?|mfd|mf)(?![A-Za-z])|\s\d[\d.,]*/\d", re.IGNORECASE)
"""A capacitance further on: then unknown letters with a number at the line's start are a designator."""


def _other_ref(scan: _Scan, at: int) -> Token | None:
    """Read a designator of another part: at the line's start, or where no capacitor has been named yet."""
    if scan.cap_seen or (scan.refs_seen and not _after_separator(scan.text, at)):
        return None
    match = _OTHER.match(scan.text, at)
    if match is None or not designators.is_other_part(match["first"]):
        return None
    return Token(Sort.OTHER_REF, match[0], at, match.end())


def _after_separator(text: str, at: int) -> bool:
    return text[:at].rstrip()[-1:] in {",", ";", "/", "+", "&", "|"}


_OTHER: Final = re.compile(
    r"(?<![A-Za-z0-9])(?P<first>[A-Za-z]{1,3}-?\d{1,4}[A-Za-z]?)(?![A-Za-z0-9]|[.,]\d|\s?(?:mm|[µu]F|nF|pF))(?:(?:\s?[,/&+-]\s?|\s)(?:[A-Za-z]{1,3})?\d{1,4}[A-Za-z]?(?![\w.,%Ω]))*"
)


def _safety(scan: _Scan, at: int) -> Token | None:
    match = patterns.SAFETY.match(scan.text, at)
    if match is None or (scan.at_start and not scan.refs_seen and not re.match(r"\s*(?:\d|class|cap|film)", scan.text[match.end() :], re.IGNORECASE)):
        return None
    if re.match(r"\s?\d[\d.]*\s?MHz", scan.text[match.end() :]):
        return None
    return Token(Sort.SAFETY, match[0], at, match.end(), match["safety"].upper())


def _temperature(scan: _Scan, at: int) -> Token | None:
    match = patterns.TEMPERATURE.match(scan.text, at)
    if match is None or (at and (scan.text[at - 1].isalnum() or scan.text[at - 1] in ".,")):
        return None
    number = int(next(g for g in (match["top"], match["deg"], match["plain"], match["tee"]) if g))
    if number not in patterns.RATED_TEMPERATURES and (match["plain"] or match["top"]):
        return None
    if match["top"] and "C" not in match[0].upper() and "°" not in match[0]:
        return None
    doubts = () if number in patterns.RATED_TEMPERATURES else ("temp-unusual",)
    return Token(Sort.TEMP, match[0], at, match.end(), number, doubts)


def _count_front(scan: _Scan, at: int) -> Token | None:
    """Read ``2x`` in front of a value; between two lengths the x is a times sign."""
    if scan.at_start and not scan.refs_seen and (lead := _leading_number(scan, at)) is not None:
        return lead
    match = patterns.COUNT_FRONT.match(scan.text, at)
    if match is None or (at and (scan.text[at - 1].isalnum() or scan.text[at - 1] in ".,")):
        return None
    behind = scan.text[match.end() :]
    if match["tight"] or re.match(r"[\d.,]", behind):
        value = patterns.CAPACITANCE.match(behind) or patterns.PAIR.match(behind) or patterns.CAPACITANCE_MISREAD.match(behind)
        if value is None:
            return None
    number = int(match["count"] or match["tight"])
    return Token(Sort.COUNT, match[0], at, match.end(), number) if number else None


def _leading_number(scan: _Scan, at: int) -> Token | None:
    """Read a number at the start of a line as what it is in this list: its own number, a designator, a count."""
    number = re.compile(r"(?P<n>\d{1,4})(?:\s+[-:]?\s*|\s*[-:]\s+)(?=\S)").match(scan.text, at)
    if number is None:
        return None
    if scan.style.ordinals_lead:
        return Token(Sort.MARK, number[0], at, number.end(), "#")
    if scan.style.numbers_are_refs and int(number["n"]) >= SMALLEST_NUMBERED:
        group = designators.RefGroup((number["n"],), at, at + len(number["n"]))
        return Token(Sort.REFS, number["n"], at, at + len(number["n"]), group)
    return _leading_count(scan, at)


def _leading_count(scan: _Scan, at: int) -> Token | None:
    """Read ``2 470uF`` or ``2 - 470uF`` at the start of a line, unless both numbers make one (``2 200uF``)."""
    match = patterns.COUNT_LEADING.match(scan.text, at)
    if match is None:
        return None
    behind = scan.text[match.end() :]
    value = patterns.CAPACITANCE.match(behind) or patterns.PAIR.match(behind)
    alone = values.capacitance(value[0]) if value else None
    if value is None or (alone is None and patterns.PAIR.match(behind) is None):
        return None
    if not match["dash"] and not scan.style.counts_lead and re.match(r"\d{3}(?!\d)", behind):
        whole = values.capacitance(match["count"] + " " + value[0])
        if whole is not None and "no-preferred-value" not in whole.doubts and "looks-measured" not in whole.doubts:
            return None
    return Token(Sort.COUNT, match[0], at, match.end(), int(match["count"]))


def _count_behind(scan: _Scan, at: int) -> Token | None:
    match = patterns.COUNT_BEHIND.match(scan.text, at)
    if match is None:
        return None
    number = int(match["count"] or match["bracketed"] or match["trail"])
    return Token(Sort.COUNT, match[0], at, match.end(), number) if number else None


def _count_word(scan: _Scan, at: int) -> Token | None:
    match = patterns.COUNT_WORD.match(scan.text, at)
    if match is None or (at and (scan.text[at - 1].isalnum() or scan.text[at - 1] in ".,")):
        return None
    number = int(match["count"] or match["behind"])
    return Token(Sort.COUNT, match[0], at, match.end(), number) if number else None


def _size(scan: _Scan, at: int) -> Token | None:
    found = sizes.find(scan.text, at)
    if found is None or (at and scan.text[at - 1] in ".,"):
        return None
    size, end = found
    if scan.refs_seen and not scan.cap_seen and _POINT_CODE.fullmatch(scan.text, at, end):
        return None  # R47 between a designator and its voltage is 0.47 µF; behind a value it is a lead pitch
    return Token(Sort.SIZE, scan.text[at:end], at, end, size, size.doubts)


_POINT_CODE: Final = re.compile(r"R\d{1,3}")


def _pair(scan: _Scan, at: int) -> Token | None:
    match = patterns.PAIR.match(scan.text, at)
    if match is None or _glued(scan, at):
        return None
    if re.match(r"\s?/\s?\d", scan.text[match.end() :]) and values.sections(_run(scan.text, at)):
        return None
    found = values.capacitance_and_voltage(match[0])
    if found is None:
        return None
    return Token(Sort.PAIR, match[0], at, match.end(), found)


def _run(text: str, at: int) -> str:
    match = patterns.SECTIONS.match(text, at)
    return "" if match is None else match[0]


def _glued(scan: _Scan, at: int) -> bool:
    """Tell whether ``at`` is the middle of a word or number rather than the end of the token before."""
    text = scan.text
    if at in {0, scan.last_end} and not text[at - 1 : at].isdigit():
        return False
    return text[at - 1].isalnum() or (text[at - 1] in ".," and at > 1 and text[at - 2].isdigit())


def _sections(scan: _Scan, at: int) -> Token | None:
    match = patterns.SECTIONS.match(scan.text, at)
    if match is None or _glued(scan, at):
        return None
    found = values.sections(match[0])
    return None if found is None else Token(Sort.SECTIONS, match[0], at, match.end(), found)


def _capacitance(scan: _Scan, at: int) -> Token | None:
    if _glued(scan, at):
        return None
    for pattern in (patterns.CAPACITANCES, patterns.CAPACITANCE, patterns.CAPACITANCE_MISREAD):
        match = pattern.match(scan.text, at)
        if match is None:
            continue
        text = _without_count(match[0])
        if text.upper().startswith("R") and not (scan.refs_seen or scan.cap_seen):
            return None
        reading = values.capacitance(text)
        if reading is not None:
            offset = match[0].rfind(text)
            return Token(Sort.CAP, text, at + max(offset, 0), match.end(), reading, reading.doubts)
    milli = patterns.MILLI_OR_MICRO.match(scan.text, at) if scan.refs_seen and not scan.cap_seen else None
    reading = values.capacitance(milli[0]) if milli else None
    if milli is not None and reading is not None:
        return Token(Sort.CAP, milli[0], at, milli.end(), reading, reading.doubts)
    letters = patterns.LETTERS_ONLY.match(scan.text, at)
    reading = values.capacitance(letters["digits"].translate(_MISREAD) + letters["unit"]) if letters else None
    if letters is not None and reading is not None:
        return Token(Sort.CAP, letters[0], at, letters.end(), reading, (*reading.doubts, "ocr-digit"))
    odd = patterns.ODD_UNIT.match(scan.text, at)
    reading = values.capacitance(f"{odd['number']}µF") if odd else None
    if odd is None or reading is None:
        return None
    return Token(Sort.CAP, odd[0], at, odd.end(), reading, (*reading.doubts, "unit-misread"))


_MISREAD: Final = str.maketrans("OolI|SBZ", "00111582")


def _without_count(text: str) -> str:
    """Drop a number in front of a value where together they make no sense as thousands (``16 470uF``)."""
    match = re.match(r"(\d{1,3}) (\d{3}.*)", text)
    if match is None:
        return text
    whole, alone = values.capacitance(text), values.capacitance(match[2])
    if whole is None or (whole.doubts and alone is not None and not alone.doubts and "no-preferred-value" in whole.doubts):
        return match[2]
    return text


def _volts_list(scan: _Scan, at: int) -> Token | None:
    match = None if _glued(scan, at) else patterns.VOLTAGE_LIST.match(scan.text, at)
    reading = values.voltage(match[0]) if match else None
    if match is None or reading is None:
        return None
    return Token(Sort.VOLTS, match[0], at, match.end(), reading, reading.doubts)


def _volts(scan: _Scan, at: int) -> Token | None:
    if _glued(scan, at):
        return None
    for pattern in (patterns.VOLTAGES, patterns.VOLTAGE, patterns.VOLTAGE_MISREAD):
        match = pattern.match(scan.text, at)
        reading = values.voltage(match[0]) if match else None
        if match is not None and reading is not None:
            return Token(Sort.VOLTS, match[0], at, match.end(), reading, reading.doubts)
    torn = patterns.VOLTAGE_TORN.match(scan.text, at)
    reading = values.voltage(torn["a"] + torn["b"], bare=True) if torn else None
    if torn is not None and reading is not None:
        return Token(Sort.VOLTS, torn[0], at, torn.end(), reading, (*reading.doubts, "ocr-digit"))
    front = patterns.VOLTAGE_FRONT.match(scan.text, at)
    reading = values.voltage(front["number"], bare=True) if front else None
    if front is None or reading is None:
        return None
    return Token(Sort.VOLTS, front[0], at, front.end(), reading, reading.doubts)


def _ripple(scan: _Scan, at: int) -> Token | None:
    match = patterns.RIPPLE.match(scan.text, at)
    found = values.capacitance(match["number"] + "uF") if match else None  # a plain number, read as numbers are
    if match is None or found is None or found.value is None:
        return None
    return Token(Sort.RIPPLE, match[0], at, match.end(), found.value * (1 if match["unit"] == "mA" else 1000))


def _index(table: Iterable[str]) -> dict[str, list[str]]:
    """Group phrases by their first word, longest first."""
    found: dict[str, list[str]] = {}
    for phrase in table:
        folded = fold(phrase)
        found.setdefault(_head(folded), []).append(folded)
    return {head: sorted(set(phrases), key=len, reverse=True) for head, phrases in found.items()}


def _head(text: str) -> str:
    match = re.match(r"[^\W_]+|.", text)
    return match[0] if match else ""


_PHRASES: Final[Mapping[str, tuple[Sort, Any]]] = {
    **{fold(phrase): (Sort.ROLE, role) for phrase, role in words.ROLE_WORDS.items()},
    **{fold(phrase): (Sort.MOUNT, mount) for phrase, mount in words.MOUNT_WORDS.items()},
    **{fold(phrase): (Sort.KIND, kind) for phrase, kind in words.KIND_WORDS.items()},
    **{fold(phrase): (Sort.NOT_FITTED, None) for phrase in words.NOT_FITTED},
}
_HEADS: Final = _index(_PHRASES)


_ALONE: Final = frozenset(fold(word) for word in words.ALONE)


def _word_follows(text: str, at: int) -> bool:
    """Tell whether a further word stands there that is neither a size's name nor one of these phrases."""
    match = re.compile(r"\s+(?=(?P<word>[^\W\d_]{4,}))").match(text, at)
    if match is None or sizes.find(text, match.end()) is not None:
        return False
    return fold(match["word"]) not in _PHRASES and fold(match["word"]) not in words.NEUTRAL


def _phrase(scan: _Scan, at: int) -> list[Token] | None:
    if at and scan.text[at - 1].isalnum() and at != scan.last_end:
        return None
    low = fold(scan.text[at : at + 40])
    for phrase in _HEADS.get(_head(low), ()):
        if not low.startswith(phrase) or low[len(phrase) : len(phrase) + 1].isalnum():
            continue
        end = at + len(phrase)
        if phrase in _ALONE and _word_follows(scan.text, end):
            continue
        text = scan.text[at:end]
        found = [Token(*_PHRASES[phrase][:1], text, at, end, _PHRASES[phrase][1])]
        both = words.MOUNT_WORDS.get(phrase)
        if found[0].sort is Sort.KIND and both is not None:
            found.append(Token(Sort.MOUNT, text, at, end, both))
        return found
    return None


def _number(scan: _Scan, at: int) -> Token | None:
    match = patterns.PLAIN_NUMBER.match(scan.text, at)
    if match is None or _glued(scan, at):
        return None
    return Token(Sort.NUMBER, match[0], at, match.end(), match[0])


def _code(scan: _Scan, at: int) -> Token | None:
    match = patterns.CODE.match(scan.text, at)
    if match is None or (at and scan.text[at - 1].isalnum()):
        return None
    return Token(Sort.CODE, match[0], at, match.end())


def _word(scan: _Scan, at: int) -> Token | None:
    match = patterns.WORD.match(scan.text, at)
    if match is None:
        return None
    text = match[0].rstrip(".-")
    return Token(Sort.WORD, text or match[0], at, at + len(text or match[0]), fold(text or match[0]))


_DIGIT: Final = "digit"
_LETTER: Final = "letter"
_SIGN: Final = "sign"

_READERS: Final[tuple[tuple[Callable[[_Scan, int], Token | list[Token] | None], tuple[str, ...]], ...]] = (
    (_plain(Sort.ASIDE, patterns.URL), (_LETTER, _SIGN)),
    (_plain(Sort.CODE, patterns.STOCK_NUMBER), (_DIGIT,)),
    (_footprint, (_LETTER,)),
    (_plain(Sort.DITTO, patterns.DITTO), (_LETTER, _SIGN)),
    (_plain(Sort.REPLACED, patterns.REPLACED), (_LETTER, _SIGN)),
    (_plain(Sort.ORIGINAL, patterns.ORIGINAL), (_LETTER, _SIGN)),
    (_plain(Sort.LIKE, patterns.LIKE), (_LETTER, _SIGN)),
    (_plain(Sort.MEASURED, patterns.MEASURED), (_LETTER,)),
    (_refs, (_LETTER, _DIGIT)),
    (_safety, (_LETTER,)),
    (_other_ref, (_LETTER,)),
    (_plain(Sort.DATE, patterns.DATE), (_LETTER, _DIGIT)),
    (_temperature, (_LETTER, _DIGIT, _SIGN)),
    (_count_front, (_DIGIT,)),
    (_size, (_LETTER, _DIGIT)),
    (_volts_list, (_DIGIT,)),
    (_sections, (_DIGIT,)),
    (_pair, (_LETTER, _DIGIT)),
    (_capacitance, (_LETTER, _DIGIT, _SIGN)),
    (_volts, (_LETTER, _DIGIT, _SIGN)),
    (_plain(Sort.ASIDE, patterns.TOLERANCE), (_DIGIT, _SIGN)),
    (_ripple, (_DIGIT,)),
    (_count_behind, (_LETTER, _DIGIT, _SIGN)),
    (_count_word, (_LETTER, _DIGIT)),
    (_plain(Sort.ASIDE, patterns.ASIDE), (_LETTER, _DIGIT, _SIGN)),
    (_plain(Sort.ASIDE, patterns.RESISTANCE), (_DIGIT,)),
    (_phrase, (_LETTER, _SIGN)),
    (_number, (_DIGIT,)),
    (_code, (_LETTER, _DIGIT)),
    (_word, (_LETTER, _DIGIT, _SIGN)),
)
"""In the order they are tried, the first that recognises something wins; each with how it may begin."""

_BY_START: Final = {
    start: tuple(reader for reader, starts in _READERS if start in starts) for start in (_DIGIT, _LETTER, _SIGN)
}
