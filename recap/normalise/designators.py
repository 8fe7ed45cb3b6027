"""Designators: finding them in text, expanding ranges, writing them one way (``C-10``, ``c10*`` -> ``C10``).

A group is what a list writes as one: ``C3, C7, C9-C11``, ``C401/402``, ``C901A/B``, ``C5 bis C8``.
Bare numbers behind a separator (``C3, 7``) are designators only if nothing better can be made of
them, so a group says how many of its refs rest on such numbers and can be read without them.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, replace

from recap.normalise import designator_shapes as shapes
from recap.normalise.designator_names import NAMES, named_in_column
from recap.normalise.words import CAPACITOR_PREFIXES, OTHER_PREFIXES

LONGEST_RANGE = 400
"""A range of more places than this is no range on one board: a slip or a trap."""

LONG_RANGE = 40
"""A range of more places than this is expanded, and doubted."""


@dataclass(frozen=True, slots=True)
class Ref:
    """One designator in its parts; ``digits`` keeps leading zeros."""

    prefix: str
    digits: str
    suffix: str = ""

    def __str__(self) -> str:
        """Join the parts."""
        return f"{self.prefix}{self.digits}{self.suffix}"


@dataclass(frozen=True, slots=True)
class RefGroup:
    """Designators written as one group, from ``start`` to ``end`` of the text.

    ``bare`` of the refs rest on numbers without a prefix. ``doubts`` are codes; ``marks`` are
    footnote marks that stood at the refs.
    """

    refs: tuple[str, ...]
    start: int
    end: int
    bare: int = 0
    doubts: tuple[str, ...] = ()
    marks: tuple[str, ...] = ()


def is_other_part(text: str) -> bool:
    """Tell whether ``text`` is the designator of something that is no capacitor (``R12``, ``IC3``)."""
    match = shapes.ITEM.match(text) or shapes.LONG_ITEM.match(text)
    if match is None or match["prefix"].upper() not in OTHER_PREFIXES:
        return False
    rest = r"(?:\s*[-,;/&+]\s*[A-Za-z]{0,3}\d{0,5}[A-Za-z]?|\s+[A-Za-z]{1,3}\d{1,5}[A-Za-z]?)*"
    return re.fullmatch(rest, text[match.end() :]) is not None


def begins_with_other_part(text: str) -> bool:
    """Tell whether a cell begins with the designator of another part and goes on in words (``J3 terminal block``)."""
    match = re.match(r"(?P<first>[A-Za-z]{1,4}\d{1,4}[A-Za-z]?)\s+(?=[^\W\d_]{3,})", text)
    return match is not None and is_other_part(match["first"])


def could_begin(text: str, at: int) -> bool:
    """Tell whether letters and a digit stand at ``at``, without which no designator begins there."""
    return shapes.COULD_BE.match(text, at) is not None


def find_group(text: str, at: int = 0, *, strict: bool = False, any_prefix: bool = False) -> RefGroup | None:
    """Return the group that begins exactly at ``at``, or None.

    ``strict`` takes only items with a prefix (no bare numbers); ``any_prefix`` accepts
    designators whose letters aren't known to be a capacitor's (a column says they are refs).
    """
    first = _first(text, at, any_prefix=any_prefix)
    if first is None:
        return _named(text, at)
    ref, end, misread = first
    state = _State([ref], end, doubts=["ref-misread"] if misread else [])
    if not ref.suffix and (sides := shapes.SIDES.match(text, end)) is not None:
        state.refs = [Ref(ref.prefix, ref.digits, letter.upper()) for letter in (sides["both"][0], sides["both"][-1])]
        state.end = sides.end()
    state.take_marks(text)
    while state.end < len(text) and (_range(text, state, strict=strict) or _next(text, state, strict=strict)):
        state.take_marks(text)
    refs = tuple(dict.fromkeys(map(str, state.refs)))
    if len(refs) < len(state.refs):
        state.doubts.append("ref-twice-in-line")
    return RefGroup(refs, at, state.end, state.bare, tuple(dict.fromkeys(state.doubts)), tuple(state.marks))


def _named(text: str, at: int) -> RefGroup | None:
    """Return designators that are names: ``C_PS1``, ``C_OUT``."""
    match = NAMES.match(text, at)
    if match is None:
        return None
    return RefGroup(tuple(dict.fromkeys(re.split(r"\W+", match[0]))), at, match.end())


def read_refs(text: str) -> RefGroup | None:
    """Read a cell that holds nothing but designators; None where it holds anything else.

    Purely numeric designators (``2101``) are accepted here, because a column says what they are. Those that are
    excepted (``C1-C9 except C7``) are left out.
    """
    if " " in text and (match := shapes.EXCEPT.search(text)) is not None:
        all_of_them, excepted = read_refs(text[: match.start()]), read_refs(text[match.end() :])
        if all_of_them is None or excepted is None:
            return None
        return replace(all_of_them, refs=tuple(ref for ref in all_of_them.refs if ref not in excepted.refs))
    stripped = text.strip(" ()[],;:.")
    offset = text.find(stripped)
    group = find_group(text, offset, any_prefix=True)
    if group is not None and not text[group.end :].strip(" ()[],;:.*"):
        return group
    if names := named_in_column(stripped):
        return RefGroup(names, offset, offset + len(stripped))
    numbers = re.fullmatch(r"\d{1,5}(?:\s*[,;/&\s]\s*\d{1,5})*", stripped)
    if numbers is None:
        return None
    refs = tuple(re.findall(r"\d+", stripped))
    return RefGroup(refs, offset, offset + len(stripped))


class _State:
    """What has been read of a group so far."""

    def __init__(self, refs: list[Ref], end: int, doubts: list[str]) -> None:
        self.refs = refs
        self.end = end
        self.bare = 0
        self.doubts = doubts
        self.marks: list[str] = []

    def take_marks(self, text: str) -> None:
        """Step over footnote marks behind the last ref and keep them."""
        while match := shapes.MARKS.match(text, self.end):
            if match["mark"] and match["mark"].startswith("*") and text[match.end() : match.end() + 1].isalnum():
                return
            self.marks.append(match["mark"] or match["note"])
            self.end = match.end()


def _first(text: str, at: int, *, any_prefix: bool) -> tuple[Ref, int, bool] | None:
    if not could_begin(text, at) or shapes.DIELECTRIC.match(text, at):
        return None
    match = shapes.ITEM.match(text, at)
    if match is not None and match["prefix"] == "c" and match["suffix"] == "l" and not match["gap"]:
        return _ref(match), match.end(), True  # ``c3l``: the left one's, or 31
    if match is not None and match["suffix"] in shapes.FIGURES and match["prefix"].upper() == "C":
        match = None  # ``C1O``: sections have letters from A on, and no board so many
    if match is not None and match["gap"] == "-" and shapes.GOES_ON.match(text, match.end()):
        return None  # ``EC-1004-50`` is a part number
    if match is not None:
        prefix = match["prefix"].upper()
        known = prefix in CAPACITOR_PREFIXES
        if (known or (any_prefix and prefix not in OTHER_PREFIXES)) and _gap_allowed(text, match):
            return _ref(match), match.end(), False
    return _misread(text, at)


def _misread(text: str, at: int) -> tuple[Ref, int, bool] | None:
    match = shapes.MISREAD_IN_FRONT.match(text) if at == 0 else None
    if match is not None:
        return Ref("C", (match["apart"] or match["letters"]).translate(shapes.OCR), ""), match.end(), True
    match = shapes.MISREAD.match(text, at)
    if match is None or not re.search(r"\d", match["digits"]):
        return None
    digits = match["digits"].translate(shapes.OCR)
    return Ref("C", digits, match["suffix"]), match.end(), digits != match["digits"]


def _gap_allowed(text: str, match: re.Match[str]) -> bool:
    """``C 10`` counts only where a group may begin: behind a number, ``C`` is Celsius."""
    gap = match["gap"]
    if not gap:
        return True
    if match["board"]:
        return False  # ``85C 6.3x11``
    if gap.strip("-_#") == "":
        return not re.search(r"(?<![\d.,])(?:85|105|125|130)\s$", text[: match.start()])  # ``105 C-10``
    if not gap.strip():
        before = text[: match.start()].rstrip()
        behind = text[match.end() :]
        led = before.endswith((" and", " und", " et")) or shapes.LIKENED.search(before) is not None
        if before and before[-1] not in ",;:/&+(|-*•>" and not led:
            return False
        ends = match.end() if match["suffix"].upper() in {*"ABCDE"} else match.end("digits")
        plain = shapes.NO_VALUE.match(text, ends) is not None  # ``cap 63 VDC``, ``cap 0,47 uF``
        return plain and not re.match(r"\s?(?:[µu]F|[munp]F|V\b|/\d)", behind)
    return True


def _ref(match: re.Match[str]) -> Ref:
    prefix, suffix = match["prefix"], match["suffix"]
    if prefix.islower():
        suffix = suffix.upper()
    return Ref(match["board"].upper() + prefix.upper(), match["digits"], suffix)


def _same_prefix(text: str, at: int, last: Ref) -> tuple[Ref, int] | None:
    match = shapes.ITEM.match(text, at)
    if match is None:
        return None
    ref = _ref(match)
    spaced = match["gap"].isspace() and bool(last.suffix)  # ``C10A-C 22µ``: the C is a letter behind the dash
    return (ref, match.end()) if ref.prefix == last.prefix and not spaced else None


def _range(text: str, state: _State, *, strict: bool) -> bool:
    """Take ``-C8``, ``-8`` or ``-C`` (letters) behind the last ref."""
    joint = shapes.TO_RE.match(text, state.end)
    if joint is None:
        return False
    last, at = state.refs[-1], joint.end()
    full = _same_prefix(text, at, last)
    if full is None and (absurd := shapes.TOO_LONG.match(text, at)) and absurd["prefix"].upper() == last.prefix:
        state.end = absurd.end()
        state.doubts.append("range-absurd")
        return True
    if full is None and joint[0] == "-" and (absurd := shapes.LONG_NUMBER.match(text, at)):
        state.end = absurd.end()
        state.doubts.append("range-absurd")
        return True
    if full is not None:
        return _extend(state, full[0], full[1]) or _ends(state, full[0], full[1])
    letter = shapes.LETTER.match(text, at)
    if letter is not None and last.suffix.isalpha() and joint.end() - joint.start() == 1:
        suffix = letter["suffix"].upper() if last.suffix.isupper() else letter["suffix"]
        end = Ref(last.prefix, last.digits, suffix)
        return _extend(state, end, letter.end()) or _ends(state, end, letter.end())
    return not strict and not last.suffix and _range_to_number(text, at, state, spaced=" " in joint[0])


def _range_to_number(text: str, at: int, state: _State, *, spaced: bool) -> bool:
    """Take ``-8`` or the shortened ``-07`` behind the last ref; with spaces around the dash it may be a value."""
    number, last = shapes.FOLLOWS.match(text, at), state.refs[-1]
    behind = r"\s?(?:[-~+/]|\.{2,3})\s?\+?\d" if spaced else r"(?:[-~+]|\.{2,3})\s?\+?\d"
    if number is None or number["suffix"] or re.match(behind, text[number.end() :]):
        return False  # ``C409 - 47-100uF``, ``C9 - 100/16``: values, no places
    digits = number["digits"]
    shortened = len(digits) < len(last.digits) and int(digits) < int(last.digits)
    if shortened:
        digits = last.digits[: len(last.digits) - len(digits)] + digits
    before = len(state.refs)
    if (shortened and spaced) or int(digits) <= int(last.digits):
        return False
    if not _extend(state, Ref(last.prefix, digits), number.end()):
        return False
    if shortened:
        state.doubts.append("range-shortened")
    if spaced:
        state.bare += len(state.refs) - before
    return True


def _extend(state: _State, last: Ref, end: int) -> bool:
    first = state.refs[-1]
    refs = _letters(first, last) if first.suffix or last.suffix else _numbers(first, last, state)
    if refs is None:
        return False
    state.refs.extend(refs)
    state.end = end
    return True


def _ends(state: _State, last: Ref, end: int) -> bool:
    """Take the end alone of a range that cannot be filled: ``C3A-C5B``, ``C9B-A``."""
    if last == state.refs[-1]:
        return False
    state.refs, state.end = [*state.refs, last], end
    state.doubts.append("range-mixed")
    return True


def _letters(first: Ref, last: Ref) -> list[Ref] | None:
    alike = first.digits == last.digits and first.suffix.isalpha() and last.suffix.isalpha()
    if not alike or ord(first.suffix) >= ord(last.suffix) or first.suffix.isupper() != last.suffix.isupper():
        return None
    return [Ref(first.prefix, first.digits, chr(code)) for code in range(ord(first.suffix) + 1, ord(last.suffix) + 1)]


def _numbers(first: Ref, last: Ref, state: _State) -> list[Ref] | None:
    low, high = int(first.digits), int(last.digits)
    if low == high:
        return None
    if high < low:
        state.doubts.append("range-backwards")
        return [last]
    if high - low > LONGEST_RANGE:
        state.doubts.append("range-absurd")
        return [last]
    if high - low > LONG_RANGE:
        state.doubts.append("range-long")
    width = len(first.digits) if first.digits.startswith("0") else 0
    return [Ref(first.prefix, str(n).zfill(width)) for n in range(low + 1, high + 1)]


def _next(text: str, state: _State, *, strict: bool) -> bool:
    """Take the next member of an enumeration behind the last ref."""
    joint = shapes.AND_RE.match(text, state.end)
    if joint is None:
        return False
    last, at = state.refs[-1], joint.end()
    alike = _same_prefix(text, at, last) if joint[0].strip() else None
    first = _first(text, at, any_prefix=False) if alike is None else (*alike, False)
    if first is not None:
        ref, end, misread = first
        state.refs.append(ref)
        state.end = end
        if misread:
            state.doubts.append("ref-misread")
        return True
    separator = joint[0].strip()
    letter = shapes.LETTER.match(text, at)
    if letter is not None and separator in {"/", ",", "+", "&"} and _goes_on(last.suffix, letter["suffix"]):
        suffix = letter["suffix"].upper() if last.suffix.isupper() else letter["suffix"]
        state.refs.append(Ref(last.prefix, last.digits, suffix))
        state.end = letter.end()
        return True
    if strict or not separator or separator == ";":
        return False
    if scanned := shapes.FOLLOWS_MISREAD.match(text, at):
        return _scanned_number(state, scanned)
    number = shapes.FOLLOWS.match(text, at)
    return number is not None and _bare_number(state, number, separator)


def _goes_on(suffix: str, letter: str) -> bool:
    """Tell whether a letter is one of the next behind a suffix: ``C901A/B``, not the tolerance in ``C5a, M``."""
    if f"{suffix}{letter}".upper() == "LR":
        return True
    return suffix.isalpha() and 0 < ord(letter.upper()) - ord(suffix.upper()) <= FURTHEST_LETTER


FURTHEST_LETTER = 3


def _scanned_number(state: _State, scanned: re.Match[str]) -> bool:
    last, digits = state.refs[-1], scanned["digits"]
    if len(digits) > len(last.digits) + 1:
        state.doubts.append("ref-unread")
        return False  # ``C3, 25O``: a value as well as a designator
    state.refs.append(Ref(last.prefix, digits.translate(shapes.OCR)))  # ``C203,2O4``
    state.end = scanned.end()
    state.bare += 1
    state.doubts.append("ref-misread")
    return True


def _bare_number(state: _State, number: re.Match[str], separator: str) -> bool:
    last, digits = state.refs[-1], number["digits"]
    if len(digits) > len(last.digits) + 1:
        return False  # ``C36 / 2021``: a year, an order number
    shorter = len(digits) < len(last.digits)
    if shorter and (separator == "/" or int(digits) < int(last.digits)):  # ``C705,6,7``
        digits = last.digits[: len(last.digits) - len(digits)] + digits
        state.doubts.append("range-shortened")
    elif separator == "/" and int(digits) < int(last.digits):
        state.doubts.append("range-backwards")  # ``C6/1``, and below it ``C6/2``: one place of two
    suffix = number["suffix"].upper()
    state.refs.append(Ref(last.prefix, digits, suffix))
    state.end = number.end()
    state.bare += 1
    return True
