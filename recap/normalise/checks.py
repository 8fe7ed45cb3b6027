"""Checks beyond one quantity: contradicting part numbers, unlikely kinds, designators that occur twice."""

from __future__ import annotations

import re
from collections import Counter, defaultdict
from dataclasses import replace
from decimal import Decimal
from itertools import pairwise
from typing import TYPE_CHECKING, Final

from recap.diagnostics import Diagnostic, warning
from recap.model import Kind, Position
from recap.normalise.decimals import MISREAD
from recap.normalise.designator_names import is_chip_size
from recap.normalise.positions import SMALL_ELECTROLYTIC_UF
from recap.normalise.standard_marks import rated_voltage
from recap.normalise.values import format_capacitance, plain

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from recap.normalise.fields import Draft

_MARK: Final = re.compile(r"(?<![0-9])(?P<rating>[0-3][ACDEGHJKVW])(?P<value>\d{3}|R\d{2}|\dR\d)(?![0-9])")


def check_draft(draft: Draft) -> None:
    """Doubt what contradicts itself within one line."""
    if is_size_pair(draft):
        draft.caps, draft.volts = [], []
    _part_numbers(draft)
    if draft.poly and _is_polymer(draft):
        draft.kinds = [Kind.OTHER if kind is Kind.FILM else kind for kind in draft.kinds]
    kinds = set(draft.kinds)
    tiny = kinds == {Kind.BIPOLAR} and bool(draft.caps) and all(_is_tiny(reading.value) for reading in draft.caps)
    if tiny or kinds & {Kind.FILM, Kind.CERAMIC} or draft.safety:
        draft.doubts.pop("polarity-no", None)  # then no polarity goes without saying
    if tiny:
        draft.kinds.clear()  # “unpolarised” of some pF only says that it is no electrolytic
        return
    if kinds & {Kind.ELECTROLYTIC, Kind.BIPOLAR} and not kinds & {Kind.FILM, Kind.CERAMIC}:
        small = [r.value for r in draft.caps if r.value is not None and r.value < SMALL_ELECTROLYTIC_UF]
        if small:
            draft.doubt("kind-unlikely", f"an electrolytic of {format_capacitance(small[0])}")


def _is_tiny(value: Decimal | None) -> bool:
    return value is not None and value < TINY_UF


def _is_polymer(draft: Draft) -> bool:
    """Tell whether a part is far too large for a film at its low voltage, so that ``poly`` can only mean polymer."""
    large = all(reading.value is not None and reading.value >= LARGE_FILM_UF for reading in draft.caps)
    low = all(reading.value is not None and reading.value <= LOW_FILM_V for reading in draft.volts)
    return bool(draft.caps and draft.volts) and large and low


LARGE_FILM_UF, LOW_FILM_V = Decimal(10), Decimal(35)
"""No film capacitor of so much is made for so little (common practice: they begin at 50 V)."""
TINY_UF: Final = Decimal("0.001")
"""No bipolar electrolytic is anywhere near so small (common practice), nor would µ be written pF."""


def is_size_pair(draft: Draft) -> bool:
    """Tell whether what reads like value and voltage (``5/2.5``) are diameter and pitch of the footprint beside."""
    if len(draft.caps) != 1 or len(draft.volts) != 1:
        return False
    value, volts = draft.caps[0].value, draft.volts[0].value
    wide, apart = {size.diameter for size in draft.sizes}, {size.pitch for size in draft.sizes}
    return value is not None and volts is not None and value in wide and volts in apart


def _part_numbers(draft: Draft) -> None:
    """Doubt a line whose part number holds another voltage or capacitance than the line states."""
    values = {r.value for r in draft.caps if r.value is not None}
    volts = {r.value for r in draft.volts if r.value is not None}
    for code in draft.codes:
        match = _MARK.search(code.upper()) if len(code) >= 7 else None  # noqa: PLR2004 - shorter is no part number
        if match is None:
            continue
        rated = rated_voltage(match["rating"])
        if volts and rated is not None and rated not in volts:
            draft.doubt("part-number-contradicts", f"{code} looks like {plain(rated)} V")
        if values and not values & _any_code(code) and not values & set(_capacitances(match["value"])):
            draft.doubt("part-number-contradicts", f"{code} looks like {plain(_capacitances(match['value'])[0])} µF")


def _any_code(number: str) -> set[Decimal]:
    """Return every capacitance that three figures in a part number may mean; one that agrees is enough."""
    found = {match[1] for match in re.finditer(r"(?=(\d{3}))", number)}
    return {value for code in found for value in _capacitances(code)}


def _capacitances(mark: str) -> list[Decimal]:
    """Return a part number's three characters counted in µF and in pF."""
    if "R" in mark:
        return [Decimal(mark.replace("R", "."))]
    count = Decimal(mark[:2]).scaleb(int(mark[2]))
    return [count, count.scaleb(-6)]


REFS_ENOUGH: Final = 3
REFS_MOST: Final = 0.6
"""A list in which at least so many positions, and such a share of them, have designators is one of designators."""


def doubted(position: Position, code: str) -> Position:
    """Return the position with one more doubt."""
    return replace(position, doubts=tuple(sorted({*position.doubts, code})))


def lay(listed: list[Position], chosen: Iterable[tuple[int, str]], code: str, hint: str) -> list[Diagnostic]:
    """Lay a doubt on some positions of a list, each with its own message; return the warnings."""
    found: list[Diagnostic] = []
    for at, message in chosen:
        position = listed[at]
        listed[at] = doubted(position, code)
        if position.source is not None:
            found.append(warning(code, message, position.source, hint, position.text[:200]))
    return found


def unplaced(positions: Iterable[Position]) -> tuple[list[Position], list[Diagnostic]]:
    """Doubt a lone value without designator, voltage and count in a list of designators: likely a remark."""
    listed = list(positions)
    named = sum(1 for position in listed if position.ref is not None)
    stated = {(p.value_uF, volts) for p in listed if p.ref is not None for volts in (p.volts, None)}
    loose_ones = [p for p in listed if p.ref is None and p.qty == 1]
    again = len(loose_ones) > 1 and all((p.value_uF, p.volts) in stated for p in loose_ones)
    if named < REFS_ENOUGH or (named < REFS_MOST * len(listed) and not again):
        return listed, []
    message = "a value without designator, voltage and count, in a list with designators: perhaps a remark"
    hint = "delete the line if it is one, or name its designator"
    if again:
        message = "without a designator a value is said again that is listed with one: perhaps the same part"
    loose = [(at, message) for at, p in enumerate(listed) if _is_loose(p) or (again and p.ref is None and p.qty == 1)]
    spoilt = "a value without designator, and something like a misread one in front of it"
    loose += [(at, spoilt) for at, p in enumerate(listed) if p.ref is None and _MISREAD_REF.match(p.text)]
    return listed, lay(listed, loose, "ref-missing", hint)


_MISREAD_REF: Final = re.compile(r"\W*[CGOQ][OolI|SBZ\d]{1,4}(?=[\s,;:|])")


def _is_loose(p: Position) -> bool:
    bare = p.ref is None and p.volts is None and p.qty == 1 and p.source is not None and p.value_uF is not None
    return bare and not {"ref-missing", "can-sections"} & set(p.doubts)


_DECIMAL_COMMA: Final = re.compile(r"(?<![\d.,])\d{1,3},\d{1,2}(?![\d.,])")
_DECIMAL_POINT: Final = re.compile(r"(?<![\d.,])\d{0,4}\.\d{1,2}(?![\d.,])")
_GROUPED: Final = re.compile(r"(?<![\d.,])([1-9]\d{0,2}),(\d{3})(?![\d.,])")


def grouped(positions: Iterable[Position]) -> tuple[list[Position], list[Diagnostic]]:
    """Doubt ``1,500`` read as thousands where the list otherwise has decimal commas and no decimal points."""
    listed = list(positions)
    texts = [position.text for position in listed]
    if not any(map(_DECIMAL_COMMA.search, texts)) or any(map(_DECIMAL_POINT.search, texts)):
        return listed, []
    found: list[Diagnostic] = []
    for at, position in enumerate(listed):
        whole = {Decimal(a + b) for a, b in _GROUPED.findall(position.text)}
        if position.value_uF not in whole or position.source is None:
            continue
        listed[at] = replace(doubted(position, "thousands-or-decimal"), value_uF=None)
        message = (
            f"{plain(position.value_uF)} or {plain(position.value_uF / 1000)} µF: elsewhere the comma is a decimal"
        )
        found.append(warning("thousands-or-decimal", message, position.source, "write it as 1500", position.text[:200]))
    return listed, found


_MILLIFARAD: Final = re.compile(r"\d\s?(?:\|\s?)?mF(?![A-Za-z])")
_MICROFARAD: Final = re.compile(r"\d\s?(?:\|\s?)?[uµμ]F(?![A-Za-z])")
MILLI_UF: Final = (Decimal(1), Decimal(47))
"""Numbers of mF that may well be meant as milli: up to 47,000 µF."""


def millifarads(positions: Iterable[Position]) -> tuple[list[Position], list[Diagnostic]]:
    """Doubt ``2.2 mF`` read as µF, as old lists have it, in a list that writes µF elsewhere."""
    listed = list(positions)
    low, high = MILLI_UF
    of_milli = [at for at, p in enumerate(listed) if p.value_uF is not None and low <= p.value_uF <= high]
    of_milli = [at for at in of_milli if "mF" in listed[at].text and _MILLIFARAD.search(listed[at].text)]
    if not of_milli or not any(_MICROFARAD.search(position.text) for position in listed):
        return listed, []
    message = "mF beside µF: milli, or µF in the old writing, as which it was read"
    hint = "write it in µF"
    return listed, lay(listed, [(at, message) for at in of_milli], "milli-or-micro", hint)


FEW: Final = 0.1
"""So small a share of a list's designators may be a scanner's."""


def misread_letters(positions: Iterable[Position]) -> tuple[list[Position], list[Diagnostic]]:
    """Take ``G107`` for C107, and doubt it, in a list of designators of which nearly all others begin with C."""
    listed = list(positions)
    named = [p.ref for p in listed if p.ref is not None]
    odd = [at for at, p in enumerate(listed) if p.ref is not None and _NOT_C.fullmatch(p.ref)]
    odd = [at for at in odd if _with_c(listed[at].ref or "") not in named]
    odd_names = {listed[at].ref for at in odd}
    plain_ones = sum(ref.startswith("C") for ref in named if ref not in odd_names)
    if not odd or len(odd) > FEW * len(named) or plain_ones < len(named) - len(odd):
        return listed, []
    message = "reads {}, as a scanner misreads a designator; the likely one taken"
    chosen = [(at, message.format(listed[at].ref)) for at in odd]
    for at in odd:
        listed[at] = replace(listed[at], ref=_with_c(listed[at].ref or ""))
    return listed, lay(listed, chosen, "ref-misread", "compare with the source and correct the designator")


def _with_c(ref: str) -> str:
    """Return a misread designator as it was meant: ``G107`` as C107, ``CB`` as C8."""
    return f"C{ref[1:]}" if any(map(str.isdigit, ref)) else f"C{ref[1:].translate(MISREAD)}"


_NOT_C: Final = re.compile(r"[GO0Q]\d{1,4}[A-Z]?|C[OISBZ]{1,3}")


def shop_numbers(positions: Iterable[Position]) -> tuple[list[Position], list[Diagnostic]]:
    """Doubt designators that look like a shop's numbers: four figures and more, spread over the thousands.

    All of a list do, or those of five figures and more among plain ones of three at most.
    """
    listed = list(positions)
    named = {p.ref for p in listed if p.ref is not None and not is_chip_size(p.ref)}
    large = {ref: int(ref[1:]) for ref in named if re.fullmatch(r"C\d{4,9}", ref)}
    if len(large) < len(named):
        large = {ref: number for ref, number in large.items() if number >= LEAST_OF_SHOP}
        if any(len(re.sub(r"\D", "", ref)) > MOST_BESIDE for ref in named - large.keys()):
            return listed, []
    thousands = {number // 1000 for number in large.values()}
    spread = len(thousands) == len(large) or (2 * len(thousands) >= len(large) and _are_lonely(sorted(large.values())))
    if len(large) < 2 or not spread or max(large.values()) < LEAST_OF_SHOP:  # noqa: PLR2004
        return listed, []
    hint = "write the designators in its place, or take it away"
    which = "all" if len(large) == len(named) else "several"
    chosen = [
        (at, f"{position.ref} looks like a shop's number, as {which} designators of this list do")
        for at, position in enumerate(listed)
        if position.ref in large or (len(large) == len(named) and position.ref is not None)
    ]
    return listed, lay(listed, chosen, "ref-unread", hint)


def _are_lonely(numbers: Sequence[int]) -> bool:
    """Tell whether most of several numbers have no neighbour, as the places of a board have."""
    apart = [b - a > NEIGHBOURS for a, b in pairwise(numbers)]
    alone = sum(left and right for left, right in pairwise([True, *apart, True]))
    return len(numbers) >= FEWEST_NUMBERS and 2 * alone > len(numbers)


NEIGHBOURS: Final = 30
FEWEST_NUMBERS: Final = 4
LEAST_OF_SHOP, MOST_BESIDE = 10_000, 3
"""From here on a number may be a shop's; designators beside such numbers have so many figures at most."""


_COUNT_FIRST: Final = re.compile(r"\W*(?P<count>\d{1,4})(?P<times>\s?[x×])?\s+\d")
_REF_NUMBER: Final = re.compile(r"[A-Z]{1,3}-?(?P<number>\d{1,4})")
MANY, GOES_ON = 100, 50
"""Of so many pieces and more, a count that is at most so much above the designator over it is doubted too."""


def numbers_in_front(positions: Iterable[Position]) -> tuple[list[Position], list[Diagnostic]]:
    """Doubt a count that goes on where the designator above left off: ``C101 220 µF``, and below it ``102 100 µF``."""
    listed, chosen, last = list(positions), [], 0
    for at, position in enumerate(listed):
        ref = _REF_NUMBER.match(position.ref or "")
        lead = _COUNT_FIRST.match(position.text) if position.ref is None else None
        if ref is not None:
            last = int(ref["number"])
        elif lead is not None and last and position.qty == int(lead["count"]):
            next_one = position.qty == last + 1 and not lead["times"]
            if next_one or (position.qty >= MANY and last < position.qty <= last + GOES_ON):
                chosen.append((at, f"{position.qty} pieces, or the designator C{position.qty} without its letter?"))
                last = position.qty
    return listed, lay(listed, chosen, "count-or-ref", "write the letter in front of it, or x behind it")


SEVERED_BY: Final = 8
"""So many rows may lie between the value and the designators of one record."""


def severed(positions: Iterable[Position]) -> tuple[list[Position], list[Diagnostic]]:
    """Doubt values without designators near designators without a value: likely one record over several lines.

    In a text copied column by column the values stand far below, and all of them by themselves.
    """
    listed = list(positions)
    lone = [p.source.row for p in listed if p.source and p.source.row and p.ref and "value-missing" in p.doubts]
    message = "a value without a designator, in a list with designators without a value: perhaps one record"
    chosen: list[tuple[int, str]] = []
    for at, position in enumerate(listed):
        row = position.source.row if position.source else None
        if position.ref is not None or row is None or "ref-missing" in position.doubts:
            continue
        if any(abs(other - row) <= SEVERED_BY for other in lone) or len(lone) >= REFS_ENOUGH:
            chosen.append((at, message))
    return listed, lay(listed, chosen, "ref-missing", "write them on one line")


MOST_NAMED: Final = 40
"""So many rows are named in one message."""


def named_rows(positions: Iterable[Position]) -> str:
    """Return the rows of some positions for a message."""
    rows = [str(position.source.row) for position in positions if position.source is not None]
    further = len(rows) - MOST_NAMED
    return ", ".join(rows[:MOST_NAMED]) + (f" and {further:,} more" if further > 0 else "")


def twice(positions: Iterable[Position]) -> tuple[list[Position], list[Diagnostic]]:
    """Doubt positions whose designator occurs twice on its board: the later ones, and the first where they differ."""
    listed = list(positions)
    places: dict[tuple[str, str], list[int]] = defaultdict(list)
    for index, position in enumerate(listed):
        if position.ref is not None:
            places[(position.board or "").casefold(), position.ref.upper()].append(index)
    chosen: list[tuple[int, str]] = []
    for (_, ref), indexes in places.items():
        if len(indexes) < 2:  # noqa: PLR2004 - once is right
            continue
        message = f"{ref} occurs {len(indexes)} times (rows {named_rows(listed[i] for i in indexes)})"
        stated = {(listed[i].value_uF, listed[i].volts) for i in indexes if "value-missing" not in listed[i].doubts}
        same = len(stated) <= 1 and "value-missing" not in listed[indexes[0]].doubts  # a mere mention says nothing else
        chosen += [(i, message) for i in (indexes[1:] if same else indexes)]
    return listed, lay(listed, chosen, "ref-twice", "name the boards, or correct one of them")


FEWEST_BESIDE: Final = 2
"""So many others on its board must be numbered alike before a designator is out of its row."""


def repeated_elsewhere(positions: Iterable[Position]) -> tuple[list[Position], list[Diagnostic]]:
    """Doubt designators said again on a board to whose numbers they don't belong: ``C801`` among the 300s.

    Boards that number on their own share numbers without that. Only where value and voltage are the same.
    """
    listed = list(positions)
    hundreds: dict[str, Counter[str]] = defaultdict(Counter)
    for position in listed:
        if position.ref is not None:
            hundreds[(position.board or "").casefold()][_hundred(position.ref)] += 1
    first: dict[str, Position] = {}
    chosen = []
    for at, position in enumerate(listed):
        if position.ref is None:
            continue
        known = first.setdefault(position.ref.upper(), position)
        here, there = ((one.board or "").casefold() for one in (position, known))
        if here == there or (position.value_uF, position.volts) != (known.value_uF, known.volts):
            continue
        own, others = _hundred(position.ref), hundreds[here]
        alone = others[own] == 1 and others.total() > FEWEST_BESIDE and len(others) == 2  # noqa: PLR2004
        if alone and hundreds[there][own] > 1:
            rows = named_rows([known, position])
            message = f"{position.ref} stands on {known.board or 'no board'} too, with the same value (rows {rows})"
            chosen.append((at, message))
    return listed, lay(listed, chosen, "ref-twice", "if it is the same part, delete the line that repeats it")


def _hundred(ref: str) -> str:
    """Return the row of numbers a designator belongs to: those of a board often share their hundred."""
    number = re.search(r"\d+", ref)
    return "" if number is None else number[0][:-2]
