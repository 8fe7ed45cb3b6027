"""Numbers that a scanner has torn apart or spoilt beside their unit: ``2 20uF``, ``0.0 47uF``, ``1b V``, ``.? mfd``.

What is left of such a number reads like another value, and nothing on the line tells which one it was.
"""

from __future__ import annotations

import re
from itertools import pairwise
from re import IGNORECASE
from typing import TYPE_CHECKING, Final

from recap.normalise import values
from recap.normalise.later import compiled
from recap.normalise.token_joined_pairs import is_usual
from recap.normalise.tokens import Sort, Token

if TYPE_CHECKING:
    from collections.abc import Sequence

    from recap.normalise.fields import Draft

_NO_DIGIT: Final = compiled(r"0?[.,]?0*")
_GAPS: Final = frozenset((" ", ";", ":", "; ", ": ", " .", ". ", ", ", " ,"))
"""What may stand in a torn number; between others than zeros only a blank."""


def joined(tokens: list[Token], text: str, named: int = 0) -> list[Token]:
    """Return the tokens with a value left open where the number in front of it may be a part of it.

    A number that is that of the designators is their count; ``named`` of them stand in another cell.
    """
    tokens = [_cut(token, text) for token in tokens]
    behind = 0 if tokens and tokens[0].sort is Sort.REFS else sum(map(_count, tokens))
    for at, number in enumerate(tokens[:-1]):
        named += _count(number)
        value = _behind(tokens, at)
        if number.sort is not Sort.NUMBER or value is None:
            continue
        gap = text[number.end : value.start]
        nought = _NO_DIGIT.fullmatch(number.text) is not None
        if gap not in _GAPS or not (nought or (gap == " " and (named or behind))):
            continue
        point = "" if "." in number.text or gap == " " else "."
        whole = values.capacitance(f"{number.text}{point}{_value_text(value)}")
        likely = is_usual(whole)
        if (named or behind) and number.text == str(named or behind) and not (likely and not is_usual(_value(value))):
            return [*tokens[:at], number._replace(sort=Sort.COUNT, what=int(number.text)), *tokens[at + 1 :]]
        if nought or likely:
            read = {each.value for each in (whole, _value(value)) if each is not None and each.value is not None}
            unknown = values.Reading(None, ("alternatives",), tuple(sorted(read)))
            what = (unknown, value.what[1]) if value.sort is Sort.PAIR else unknown
            torn = Token(value.sort, text[number.start : value.end], number.start, value.end, what)
            return [*tokens[:at], torn, *tokens[tokens.index(value) + 1 :]]
    return tokens


_CUT: Final = compiled(r"[1-9]\d?,(?P<behind>\d[\d.]*\s?[^\W\d_]+)")


def _cut(token: Token, text: str) -> Token:
    """Leave a value open whose comma may part cells as the commas beside it do: ``C2,1,10uF,50V``.

    Where what stands behind the comma is no usual value, the comma is its own: ``C5,4,7uF,16V``.
    """
    match = _CUT.fullmatch(token.text) if token.sort is Sort.CAP and text[: token.start].endswith(",") else None
    if match is None or text[token.end : token.end + 1] not in {",", ""}:
        return token
    behind, whole = values.capacitance(match["behind"]), _value(token)
    if behind is None or behind.value is None or whole.value is None or not is_usual(behind):
        return token
    unknown = values.Reading(None, ("alternatives",), (whole.value, behind.value))
    return Token(token.sort, token.text, token.start, token.end, unknown)


def _count(token: Token) -> int:
    return len(token.what.refs) if token.sort is Sort.REFS else 0


def _behind(tokens: Sequence[Token], at: int) -> Token | None:
    """Return the value behind a token, by itself or in a pair, with perhaps a mark between."""
    found = [token for token in tokens[at + 1 : at + 3] if token.sort is not Sort.MARK]
    value = found[0] if found and found[0].sort in {Sort.CAP, Sort.PAIR} else None
    return value if value is not None and _value(value).value is not None else None


def _value(token: Token) -> values.Reading:
    reading: values.Reading = token.what[0] if token.sort is Sort.PAIR else token.what
    return reading


def _value_text(token: Token) -> str:
    return token.text.split("/")[0].split("@")[0] if token.sort is Sort.PAIR else token.text


_SPOILT_VOLTS: Final = compiled(
    r"(?<![\w.,+-])(?!\d+(?:[.,]\d+)?[mkM]\s?V)(?=[A-Za-z.,]*\d)(?=[\d.,]*[A-UW-Za-uw-z])(?![A-Z]{1,3}\d)"
    r"[\dA-Za-z.,]{2,4}?\s?V(?:DC)?(?![\w+-])|(?<=[Ff] )[ABDGISZ]\d\s?V(?:DC)?(?=\s*$)"
)
_MISTYPED_VOLTS: Final = compiled(
    r"(?<![\w.,+-])(?P<number>\d{1,3}(?:[.,]\d)?)(?=[A-Za-z]*v)(?P<unit>[A-Za-z]{2,6})(?![\w+-])",
    IGNORECASE,
)
"""``16vv``, ``25vlots``: the unit is mistyped."""
_VOLTS: Final = frozenset("volts")


def _is_volts(match: re.Match[str]) -> bool:
    """Tell whether a mistyped unit has no letters but those of ``volts``: it begins with v."""
    unit = match["unit"].casefold()
    return unit[0] == "v" and set(unit) <= _VOLTS


_SPOILT: Final = compiled(r"(?<![\w.,])(?:\d{0,3}[OolI|SBZb][.,] ?|[DAGgq][.,])\d")
"""``b,3 V``: the figure in front of the point."""
_UNIT_ALONE: Final = compiled(r"(?<![\w.,] )(?<![\w.,])(?:[uµ]F|nF|pF|mfd)(?![\w/])", IGNORECASE)
_NAMED_VOLTS: Final = compiled(r"C\d{1,2}(?:[1-9]\d|[1-4]\d0)V")
"""``C425V``: a designator and its voltage run together."""


def is_spoilt(text: str) -> bool:
    """Tell whether a letter stands where the figure in front of a decimal point belongs."""
    return _SPOILT.search(text) is not None


def doubt_spoilt(draft: Draft, text: str) -> None:
    """Doubt a record with a unit of which no number can be read, and nothing else that it could be of."""
    if not draft.refs:
        return
    mistyped = None if draft.volts else _MISTYPED_VOLTS.search(text)
    rated = values.voltage(mistyped["number"], bare=True) if mistyped is not None and _is_volts(mistyped) else None
    if mistyped is not None and rated is not None and not rated.doubts:
        draft.volts.append(rated)
        draft.volt_texts.append(mistyped[0])
        draft.doubt("volts-unit-missing", f"{mistyped[0]!r} is read as {mistyped['number']} V")
    spoilt = None if draft.volts else _SPOILT_VOLTS.search(text) or mistyped
    if spoilt is not None:
        draft.doubt("number-unread", f"{spoilt[0]!r} looks like a voltage")
    if is_spoilt(text) and "ocr-digit" not in draft.doubts:
        draft.doubt("number-unread", "a letter stands where the figure in front of a decimal point belongs")
    if not draft.caps and not draft.sections and (lone := _UNIT_ALONE.search(text)) is not None:
        draft.doubt("number-unread", f"no number can be read in front of {lone[0]!r}")
    if not draft.volts and any(map(_NAMED_VOLTS.fullmatch, draft.refs)):
        draft.doubt("ref-misread", f"{draft.refs[0]}: perhaps a designator and its voltage")


def doubt_numbers(draft: Draft, tokens: Sequence[Token]) -> None:
    """Doubt a number directly in front of a value that is no count of the designators."""
    for number, value in pairwise(tokens):
        beside = value.start - number.end == 1
        if number.sort is Sort.NUMBER and value.sort is Sort.CAP and beside and draft.refs:
            draft.doubt("number-unread", f"{number.text!r} in front of {value.text!r}: a count, or a part of it?")
