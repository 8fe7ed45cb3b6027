"""Price ladders of one pattern, proven right together: they differ in the digits of their prices and nothing else.

Suppliers write their ladders alike: the same quantities, as many digits. One text shows the
pattern; rows of its length that have its characters everywhere but in prices, and digits there,
are ladders as it is one, and their prices are compared as whole numbers.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Iterator

    from numpy.typing import NDArray

_LONGEST = 240
_FEWEST = 64
"""Fewer rows of one length are not worth looking for their pattern."""
_PATTERNS = 24
"""So many patterns are tried for rows of one length; what fits none is read in another way."""
_TOGETHER = 2**14
"""So many rows are looked at together: few enough for the processor's own memory."""
_DIGITS = 18
"""So many digits of a price surely go into 64 bits."""
_BYTES = 8
_WORD = np.dtype("<u8")
_SIXES, _CARRIED = np.uint64(0x0606060606060606), np.uint64(0x1010101010101010)
_STEP = re.compile(rb"([1-9][0-9]{0,6}):([0-9]{1,12}(?:[.,][0-9]+)?)(?: |$)")


@dataclass(frozen=True, slots=True)
class Pattern:
    """A ladder's text as a pattern, eight bytes in one number.

    ``same``: the bits that all texts of the pattern have alike, ``given``: what they are; of a digit that is the
    upper half. ``digits``: the lower halves of digits.
    ``prices``: for each step the places of its digits, and how many of them stand behind the point.
    """

    same: NDArray[np.uint64]
    given: NDArray[np.uint64]
    digits: NDArray[np.uint64]
    prices: tuple[tuple[tuple[int, ...], int], ...]
    least: int


@dataclass(frozen=True, slots=True)
class Proven:
    """Rows whose ladders are right, the first quantity of all, and where a price rises or is 0."""

    rows: NDArray[np.intp]
    least: int
    dearer: NDArray[np.bool_]
    free: NDArray[np.bool_]


def pattern_of(text: bytes, point: bytes) -> Pattern | None:
    """Return the pattern of a ladder whose decimal mark is ``point``, None where it is none or its quantities fall."""
    room = -(-len(text) // _BYTES) * _BYTES
    given = np.frombuffer(text.ljust(room, b"\0"), np.uint8).copy()
    same, digits = np.zeros(room, np.uint8), np.zeros(room, np.uint8)
    same[: len(text)] = 0xFF
    prices: list[tuple[tuple[int, ...], int]] = []
    least = below = at = 0
    while (step := _STEP.match(text, at)) is not None:
        quantity, price = int(step[1]), step[2]
        places = tuple(place for place in range(step.start(2), step.end(2)) if text[place : place + 1].isdigit())
        behind = len(price.partition(point)[2])
        if quantity <= below or len(price) - len(places) != (behind > 0):
            return None
        same[list(places)], digits[list(places)] = 0xF0, 0x0F
        prices.append((places, behind))
        least, below, at = least or quantity, quantity, step.end()
    finest = max((behind for _, behind in prices), default=0)
    if at < len(text) or text.endswith(b" ") or not prices:
        return None
    if max(len(places) + finest - behind for places, behind in prices) > _DIGITS:
        return None
    given &= same
    return Pattern(same.view(_WORD), given.view(_WORD), digits.view(_WORD), tuple(prices), least)


def proven(line: NDArray[np.uint8], starts: NDArray[np.int64], point: bytes) -> Iterator[Proven]:
    """Yield rows of ladders that are right.

    Row ``i`` stands in ``line`` from ``starts[i]`` up to the next start; behind the last one are eight bytes more.
    """
    lengths = np.diff(starts)
    counts = np.bincount(np.minimum(lengths, _LONGEST + 1), minlength=1)
    for length in np.flatnonzero(counts >= _FEWEST).tolist():
        if not 0 < length <= _LONGEST:
            continue
        every = np.flatnonzero(lengths == length)
        room = -(-length // _BYTES) * _BYTES
        text = np.ndarray((len(line) - room + 1,), f"V{room}", line, strides=(1,))
        for rows in np.split(every, range(_TOGETHER, len(every), _TOGETHER)):
            words = np.ascontiguousarray(text[starts[rows]].view(_WORD).reshape(-1, room // _BYTES).T)
            yield from _of_one_length(words, rows, length, point)


def _of_one_length(
    words: NDArray[np.uint64], rows: NDArray[np.intp], length: int, point: bytes
) -> Iterator[Proven]:
    for _ in range(_PATTERNS):
        if len(rows) < _FEWEST:
            return
        pattern = pattern_of(words[:, 0].tobytes()[:length], point)
        if pattern is None:
            words, rows = words[:, 1:], rows[1:]
            continue
        alike = _alike(words, pattern)
        yield _compared(words if alike.all() else words[:, alike], rows[alike], pattern)
        words, rows = words[:, ~alike], rows[~alike]


def _alike(words: NDArray[np.uint64], pattern: Pattern) -> NDArray[np.bool_]:
    """Tell which texts have the pattern: 6 added to the lower half of a digit carries over where that is above 9."""
    other = np.zeros(len(words[0]), _WORD)
    for word, same, given, digits in zip(words, pattern.same, pattern.given, pattern.digits, strict=True):
        other |= (word & same) ^ given
        other |= ((word & digits) + (digits & _SIXES)) & _CARRIED
    alike: NDArray[np.bool_] = other == 0
    return alike


def _compared(words: NDArray[np.uint64], rows: NDArray[np.intp], pattern: Pattern) -> Proven:
    """Compare neighbouring prices, all written with as many decimals as the finest."""
    finest = max(behind for _, behind in pattern.prices)
    dearer, free = np.zeros(len(rows), bool), np.zeros(len(rows), bool)
    before: NDArray[np.uint64] | None = None
    for places, behind in pattern.prices:
        price = np.zeros(len(rows), _WORD)
        for place in places:
            which, within = divmod(place, _BYTES)
            price *= np.uint64(10)
            price += (words[which] >> np.uint64(8 * within)) & np.uint64(0x0F)
        price *= np.uint64(10 ** (finest - behind))
        free |= price == 0
        if before is not None:
            dearer |= price > before
        before = price
    return Proven(rows, pattern.least, dearer, free)
