"""Bare numbers of a record that its designators explain: counts, and blanks that group thousands."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from itertools import pairwise
from typing import TYPE_CHECKING, Final

from recap.normalise import patterns, values
from recap.normalise.fields import settle_numbers
from recap.normalise.later import compiled
from recap.normalise.sizes import Size
from recap.normalise.tokens import Sort, Token, sorts

if TYPE_CHECKING:
    from collections.abc import Sequence

    from recap.normalise.fields import Draft

_BARS: Final = frozenset("|¦")
_OR: Final = frozenset(("or", "oder", "ou", "o", "of"))


def counted(tokens: list[Token]) -> list[Token]:
    """Return the tokens with a number as the count where the designators say that it is one.

    It stands before them, or in a cell of its own and agrees with them.
    """
    there = sorts(tokens)
    if Sort.REFS not in there or Sort.NUMBER not in there:
        return tokens
    tokens = _chosen(tokens)
    if Sort.COUNT in there:
        return tokens
    refs = sum(len(token.what.refs) for token in tokens if token.sort is Sort.REFS)
    at = next((at for at in range(len(tokens)) if _is_count(tokens, at, refs)), None)
    if at is None:
        return tokens
    token = tokens[at]
    return [*tokens[:at], token._replace(sort=Sort.COUNT, what=int(token.text)), *tokens[at + 1 :]]


def _is_count(tokens: Sequence[Token], at: int, refs: int) -> bool:
    token = tokens[at]
    if token.sort is not Sort.NUMBER or not token.text.isdigit():
        return False
    before, behind = tokens[at - 1] if at else None, tokens[at + 1] if at + 1 < len(tokens) else None
    leads = behind is not None and behind.sort is Sort.REFS
    if behind is not None and behind.sort is Sort.KIND and int(token.text) == refs and refs > 1:
        return any(t.sort is Sort.CAP for t in tokens[at:])  # ``C13, C14: 2 electrolytics of 47 µF``
    if leads and any(t.sort is Sort.CAP for t in tokens[:at]):
        return len(token.text) <= 2  # noqa: PLR2004 - no count of a group is larger
    alone = all(beside is None or beside.text in _BARS for beside in (before, behind)) and len(tokens) > 1
    return (alone or (leads and before is None)) and int(token.text) == refs


def _torn(tokens: list[Token]) -> list[Token]:
    """Read ``4 7 yF``, a number that a scanner has torn apart before a unit it has misread, as one that isn't known."""
    for at in range(len(tokens) - 1):
        number, value = tokens[at : at + 2]
        scanned = value.sort is Sort.CAP and "unit-misread" in value.doubts
        if scanned and number.sort is Sort.NUMBER and value.start - number.end == 1:
            text = f"{number.text} {value.text}"
            unknown = values.Reading(None, ("alternatives", "unit-misread"))
            return [*tokens[:at], Token(Sort.CAP, text, number.start, value.end, unknown), *tokens[at + 2 :]]
    return tokens


def _chosen(tokens: list[Token]) -> list[Token]:
    """Read ``100/16 or 25`` as a value with two voltages between which nothing decides."""
    tokens = _torn(tokens)
    unvalued = not any(token.sort in {Sort.CAP, Sort.PAIR, Sort.SECTIONS} for token in tokens)
    for at in range(len(tokens) - 2):
        pair, cue, number = tokens[at : at + 3]
        if unvalued and pair.sort is number.sort is Sort.NUMBER and cue.what in _OR:  # ``4.7 or 47, 25 V``
            both = [values.capacitance(token.text, "uF") for token in (pair, number)]
            named = tuple(reading.value for reading in both if reading is not None and reading.value is not None)
            neither = values.Reading(None, ("alternatives",), named)
            value = Token(Sort.CAP, pair.text, pair.start, pair.end, neither)
            return [*tokens[:at], value, *tokens[at + 3 :]]
        if pair.sort is Sort.PAIR and cue.what in _OR and number.sort is Sort.NUMBER:
            value, volts = pair.what
            other = values.voltage(number.text, bare=True)
            if volts.value is None or other is None or other.value is None:
                continue
            either = values.Reading(None, ("alternatives",), (volts.value, other.value))
            return [*tokens[:at], pair._replace(what=(value, either)), *tokens[at + 3 :]]
    return tokens


LEAD_PITCHES: Final = frozenset(map(Decimal, "1 1.5 2 2.5 3.5 5 7.5 10 12.5 15 20 22.5 27.5 37.5 52.5".split()))
"""Lead spacings in mm that leaded capacitors are made with (common practice)."""


def take_pitch(draft: Draft) -> None:
    """Take the one bare number that is left for the lead pitch, where the list says that it stands there."""
    if len(draft.numbers) != 1 or any(size.pitch is not None for size in draft.sizes):
        return
    pitch = Decimal(draft.numbers[0].text.replace(",", "."))
    if pitch in LEAD_PITCHES:
        draft.sizes.append(Size.of("pitch", pitch))
        draft.numbers = []


def settle_thousands(draft: Draft) -> None:
    """Take the doubt from ``4 700 µF`` beside designators of which there aren't four: no count, so thousands."""
    for at, reading in enumerate(draft.caps):
        if "count-or-thousands" not in reading.doubts or not draft.refs or len(reading.readings) != 2:  # noqa: PLR2004
            continue
        whole = (reading.readings[0] - reading.readings[1]).normalize()
        lead = next((n for n in (whole.scaleb(-3), whole, whole.scaleb(3)) if n >= 1), whole)
        if lead != len(draft.refs):
            left = tuple(code for code in reading.doubts if code != "count-or-thousands")
            draft.caps[at] = replace(reading, doubts=left)
            draft.doubts.pop("count-or-thousands", None)


def settle(draft: Draft, tokens: Sequence[Token], text: str) -> None:
    """Give bare numbers a meaning, unless something like ``2.2K`` stands there that may be the value itself."""
    valued = not _VALUES.isdisjoint(sorts(tokens))
    in_thousands = any(token.sort is Sort.ASIDE and patterns.RESISTANCE.fullmatch(token.text) for token in tokens)
    if valued or not (in_thousands or _apart(draft)):
        settle_numbers(draft)
    if draft.unit and draft.refs and not valued and not draft.has_value and tokens:
        _misread(draft, text[tokens[0].start : tokens[-1].end])


def _apart(draft: Draft) -> bool:
    """Tell whether two bare numbers beside each other may be one that a scanner has torn, the voltage being known."""
    found = [token for token in draft.numbers if "joined" not in token.doubts]
    return bool(draft.volts) and any(0 <= b.start - a.end <= 1 for a, b in pairwise(found))


def _misread(draft: Draft, text: str) -> None:
    """Take a bare number with a scanner's letters in it for the value, where the list says which unit all have."""
    for match in _SCANNED.finditer(text):
        reading = values.capacitance(match[0], draft.unit)
        if reading is not None and reading.value is not None:
            draft.caps.append(reading)
            draft.doubt("ocr-digit", repr(match[0]))
            return


_SCANNED: Final = compiled(
    r"(?<![\w.,|-])(?=[.,OolI|SBZ]*\d)(?=[\d.,]*[OolI|SBZ])[\dOolI|SBZ]{0,5}[.,]?[\dOolI|SBZ]{1,4}(?![\w.,|-]|\s?W?V)"
)
"""A number with letters that a scanner takes for figures, and with at least one figure."""


_VALUES: Final = frozenset((Sort.CAP, Sort.PAIR, Sort.SECTIONS))
