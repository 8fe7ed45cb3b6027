"""Tokens that say which and how many: designators of capacitors and of other parts, counts in front and behind."""

from __future__ import annotations

import re
from decimal import Decimal
from typing import Final

from recap.normalise import designators, order_codes, patterns, values
from recap.normalise.clean import fold
from recap.normalise.kind_words import KIND_WORDS, MOUNT_WORDS
from recap.normalise.later import compiled
from recap.normalise.preferred import in_series
from recap.normalise.style import SMALLEST_NUMBERED
from recap.normalise.token_sorts import Scan, Sort, Token
from recap.normalise.words import BESIDE, CAPACITOR_PREFIXES, NEUTRAL, OTHER_PREFIXES


def refs(scan: Scan, at: int) -> Token | None:
    """Read designators of capacitors, as many as are written as one group."""
    if not designators.could_begin(scan.text, at):
        return None
    if not scan.text[at].isalnum() or (at and (scan.text[at - 1].isalnum() or scan.text[at - 1] == "_")):
        return None
    group = designators.find_group(scan.text, at, strict=scan.strict)
    if group is None and scan.at_start and _VALUE_BEHIND.search(scan.text, at):
        group = designators.find_group(scan.text, at, any_prefix=True) if _LIKE_A_REF.match(scan.text, at) else None
        if group is not None and board_in_front(scan.text) is not None:
            return None
    if group is None:
        return None
    if _is_part_number(scan, at, group):
        return Token(Sort.CODE, scan.text[at : group.end], at, group.end)
    return Token(Sort.REFS, scan.text[at : group.end], at, group.end, group, group.doubts)


def _is_part_number(scan: Scan, at: int, group: designators.RefGroup) -> bool:
    """Tell whether what looks like a range behind a record is its part number (``C1 40 MFD 450 WV  C60-117``).

    It ends a line on which designators, value and voltage stand, or is far too long for a range.
    """
    if scan.at_start or _NUMBERED_PART.fullmatch(scan.text, at, group.end) is None:
        return False
    whole = scan.refs_seen and scan.cap_seen and patterns.RATED.search(scan.text, 0, at) is not None
    ends = not scan.text[group.end :].strip(" |)*")
    long = bool({"range-long", "range-absurd"} & set(group.doubts))
    return (whole and ends) or (long and (scan.refs_seen or not scan.cap_seen))


_NUMBERED_PART: Final = compiled(r"[A-Z]{1,3}\d{1,3}-\d{3,5}[A-Z]?")


def board_in_front(text: str) -> re.Match[str] | None:
    """Find a board's own designator in front of a capacitor's (``PC-3 C5 47/25``)."""
    match = _BOARD_IN_FRONT.match(text)
    if match is None or match["prefix"].upper() in CAPACITOR_PREFIXES | OTHER_PREFIXES:
        return None
    return match if designators.find_group(text, match.end()) is not None else None


_BOARD_IN_FRONT: Final = compiled(r"(?P<board>(?P<prefix>[A-Za-z]{1,3})-?\d{1,4}[A-Za-z]?)\s+(?=[A-Za-z]{1,3}-?\d)")
_LIKE_A_REF: Final = compiled(
    r"(?:[A-Za-z]{0,2}C[A-Za-z]{0,2}|(?!(?:NR|NO|PG|MM|TV|AC|DC|UF|MF|PF|NF|X|Y|V|P)\d)[A-Za-z]{1,2})-?\d",
    re.IGNORECASE,
)


_VALUE_BEHIND: Final = compiled(r"[\s:=(-]\d[\d.,]*\s?(?:[uµnp]F?|mfd|mf)(?![A-Za-z])|\s\d[\d.,]*/\d", re.IGNORECASE)
"""A capacitance further on: then unknown letters with a number at the line's start are a designator."""


def other_ref(scan: Scan, at: int) -> Token | None:
    """Read a designator of another part: at the line's start, or where no capacitor has been named yet."""
    match = _OTHER.match(scan.text, at)
    if match is None or not designators.is_other_part(match["first"]):
        return None
    if (scan.refs_seen and _PITCH.match(scan.text, at)) or (not at and _BOARD_ALONE.fullmatch(scan.text)):
        return None
    beside = scan.refs_seen and _BESIDE.search(scan.text[max(at - LONGEST_BESIDE, 0) : at]) is not None
    aside = scan.cap_seen and not _is_side_by_side(scan.text, at)
    if not beside and (aside or (scan.refs_seen and not scan.cap_seen and not _after_separator(scan.text, at))):
        return None
    return Token(Sort.OTHER_REF, match[0], at, match.end())


_BOARD_ALONE: Final = compiled(r"(?:PCB|PWB|MOD)-?\d{1,3}[A-Z]?(?:\s?\([^()]{1,40}\))?\s?:?", re.IGNORECASE)
"""A line that is nothing but ``PCB2 (front panel):`` is a heading."""
_PITCH: Final = compiled(r"(?:RM|p)(?:2|3|5|7|8|10|13|15|20|22|25|27|37|38)(?!\w)|x\d{1,2}(?!\w)")
"""Behind a designator ``RM5`` (Rastermaß, in mm) and ``p5`` are a lead pitch, ``x2`` is a count: no other parts."""


def _is_side_by_side(text: str, at: int) -> bool:
    """Tell whether another part's record stands beside a capacitor's (``C5 CERAMIC 100PF 50V R301 CARBON 100 J``)."""
    match = _SIDE_BY_SIDE.match(text, at)
    return match is not None and _RATED.search(text, match.end()) is None


_SIDE_BY_SIDE: Final = compiled(
    r"(?:V?R|Z?D|Q|TR|L|IC|U)\d{2,4}[A-Z]?\s+(?!(?i:axial|radial|snap|smd|low|esr)\b)(?=[A-Za-z]{3}|\d)"
)
_RATED: Final = compiled(r"\d\s?(?:[uµnp]F?|mfd|k?V)(?![A-Za-z])|\bC[A-Z]?\d", re.IGNORECASE)
LONGEST_BESIDE: Final = max(map(len, BESIDE)) + 2
_SIDES: Final = "(?:left|right|front|back|top|north|south|east|west|side) of"
_BESIDE: Final = compiled(rf"(?<!\w)(?:{_SIDES}|{'|'.join(sorted(BESIDE, key=len, reverse=True))})\s$", re.IGNORECASE)


def _after_separator(text: str, at: int) -> bool:
    return text[:at].rstrip()[-1:] in {",", ";", "/", "+", "&", "|"}


_OTHER: Final = compiled(
    r"(?<![A-Za-z0-9])(?![SOIlL]\d{1,2}\s?V(?![A-Za-z]))(?P<first>[A-Za-z]{1,3}-?\d{1,4}[A-Za-z]?)(?![A-Za-z0-9]|[.,]\d|-[A-Z]{2}|\s?(?:mm|[µu]F|nF|pF))"
    r"(?:(?:\s?[,/&+-]\s?|\s)(?!\d?C[A-Z]?-?\d)(?:[A-Za-z]{1,3}\d{1,4}[A-Za-z]?|\d{1,4}(?![npuvNPUV])[A-Za-z]?)(?![\w.,%Ω]))*"
)


def count_front(scan: Scan, at: int) -> Token | None:
    """Read ``2x`` in front of a value; between two lengths the x is a times sign."""
    if scan.at_start and not scan.refs_seen and (lead := _leading_number(scan, at)) is not None:
        return lead
    match = patterns.COUNT_FRONT.match(scan.text, at)
    if match is None or (at and (scan.text[at - 1].isalnum() or scan.text[at - 1] in ".,")):
        return None
    behind = scan.text[match.end() :]
    if match["tight"] or re.match(r"[\d.,]", behind):
        value = (
            patterns.CAPACITANCE.match(behind)
            or patterns.PAIR.match(behind)
            or patterns.CAPACITANCE_MISREAD.match(behind)
        )
        ordered = scan.at_start and order_codes.begins(behind) and _VALUE_BEHIND.search(behind)
        rated = patterns.VOLTAGE.match(behind) if scan.at_start else None  # ``12x 400V 330µF``
        rated = rated if rated is not None and patterns.CAPACITANCE.search(behind, rated.end()) else None
        if value is None and rated is None and not ordered:
            return None
        if scan.refs_seen and _SIZE_AND_VALUE.match(scan.text, at):
            return None
    number = int(match["count"] or match["tight"])
    return Token(Sort.COUNT, match[0], at, match.end(), number) if number else None


_SIZE_AND_VALUE: Final = compiled(
    r"(?:4|5|6[.,]3|8|10|12[.,]5|13|16|18|20|22|25|30|35)\s?[x×]\s?\d{1,2}(?:[.,]\d)?\s+\d[\d.,]*\s?(?:[uµnp]F?|mfd|mf)\b",
    re.IGNORECASE,
)
"""``5x11 100 µF``: the diameter of a usual can (common practice) and its length, and then the value."""
_LEADING_NUMBER: Final = compiled(r"(?P<n>\d{1,4})(?:\s+[-:]?\s*|\s*[-:]\s+)(?=\S)")
_ANY_REF: Final = compiled(r"(?<![A-Za-z0-9])C[A-Z]{0,2}-?\d")


def _leading_number(scan: Scan, at: int) -> Token | None:
    """Read a number at the start of a line as what it is in this list: its own number, a designator, a count."""
    number = _LEADING_NUMBER.match(scan.text, at)
    if number is None:
        return None
    if scan.style.ordinals_lead:
        doubts = ("number-unread",) if scan.style.few and not _ANY_REF.search(scan.text) else ()
        return Token(Sort.MARK, number[0], at, number.end(), "#", doubts)
    if scan.style.numbers_are_refs and int(number["n"]) >= SMALLEST_NUMBERED:
        group = designators.RefGroup((number["n"],), at, at + len(number["n"]))
        return Token(Sort.REFS, number["n"], at, at + len(number["n"]), group)
    return _leading_count(scan, at)


def _leading_count(scan: Scan, at: int) -> Token | None:
    """Read ``2 470uF`` or ``2 - 470uF`` at the start of a line, unless both numbers make one (``2 200uF``)."""
    if (described := _DESCRIBED.match(scan.text, at)) is not None and _only_describe(described["words"]):
        counted = patterns.CAPACITANCE.match(scan.text, described.end()) is not None
        count = Token(Sort.COUNT, described["count"], at, described.end("count"), int(described["count"]))
        return count if counted else None
    match = patterns.COUNT_LEADING.match(scan.text, at)
    if match is None or not int(match["count"]):
        return None  # ``0 1uF``: a point was lost
    behind = scan.text[match.end() :]
    value = patterns.CAPACITANCE.match(behind) or patterns.PAIR.match(behind)
    alone = values.capacitance(value[0]) if value else None
    if value is None or (alone is None and patterns.PAIR.match(behind) is None):
        return None
    if not match["dash"] and not scan.style.counts_lead and re.match(r"\d{3}(?!\d)", behind):
        whole = values.capacitance(match["count"] + " " + value[0])
        if whole is not None and "no-preferred-value" not in whole.doubts and "looks-measured" not in whole.doubts:
            return None
    doubts = ("number-unread",) if _may_be_torn(match["count"], value[0]) and not match["dash"] else ()
    return Token(Sort.COUNT, match[0], at, match.end(), int(match["count"]), doubts)


def _may_be_torn(count: str, value: str) -> bool:
    """Tell whether a count and a value that nobody makes are one that is made: ``2 2uF`` for 2.2 µF."""
    match = re.match(r"(\d)\s?(?:[uµ]|mfd)", value, re.IGNORECASE)
    if match is None or len(count) > 1:
        return False
    return in_series(Decimal(f"{count}.{match[1]}"), "E6") and not in_series(Decimal(match[1]), "E6")


_DESCRIBED: Final = compiled(r"(?P<count>[1-9]\d{0,2})\s+(?P<words>(?:[A-Za-z][\w./-]*\s+){1,4})(?=[.,]?\d)")
"""``6 radial electrolytic 10uF``: what counts stands in front of what it counts."""


def _only_describe(text: str) -> bool:
    """Tell whether words say of what sort parts are, and nothing else."""
    told = [fold(word) for word in text.split()]
    stated = [word for word in told if word in _STATING or re.fullmatch(r"[xy][123]", word)]
    return bool(stated) and all(word in stated or word in NEUTRAL for word in told)


_STATING: Final = KIND_WORDS.keys() | MOUNT_WORDS.keys() | {"low", "esr", "lowesr"}


def count_behind(scan: Scan, at: int) -> Token | None:
    """Read ``x2``, ``(2)`` behind a value."""
    match = patterns.COUNT_BEHIND.match(scan.text, at)
    if match is None:
        return None
    number = int(match["count"] or match["bracketed"] or match["trail"] or match["starred"])
    if match["count"] and number in _CLASSES and _ALTERNATING.search(scan.text, 0, at):
        return Token(Sort.SAFETY, match[0], at, match.end(), f"X{number}", ("count-or-class",))
    return Token(Sort.COUNT, match[0], at, match.end(), number) if number else None


_CLASSES: Final = (1, 2, 3)
_ALTERNATING: Final = compiled(r"\d\s?V(?:\s?~|\s?AC|\.?\s?A\.?C\.?)\s*$", re.IGNORECASE)
"""Behind a mains voltage ``x2`` is rather the class than a count."""


def count_word(scan: Scan, at: int) -> Token | list[Token] | None:
    """Read ``3 pcs``, ``qty 3``; ``3 Elkos`` says their kind, too."""
    match = patterns.COUNT_WORD.match(scan.text, at)
    if match is None or (at and (scan.text[at - 1].isalnum() or scan.text[at - 1] in ".,")):
        return None
    number = int(match["count"] or match["behind"])
    if not number:
        return None
    found = Token(Sort.COUNT, match[0], at, match.end(), number)
    counted = match[0].lstrip("0123456789 ").rstrip(".").casefold()
    kind = KIND_WORDS.get(counted) if len(counted) > 2 else None  # noqa: PLR2004 - ``3 ks`` are Czech pieces
    return found if kind is None else [found, Token(Sort.KIND, match[0], at, match.end(), kind)]
