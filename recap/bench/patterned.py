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
_DIGITS = 18
"""So many digits of a price surely go into 64 bits."""
_STEP = re.compile(rb"([1-9][0-9]{0,6}):([0-9]+(?:[.,][0-9]+)?)(?: |$)")


@dataclass(frozen=True, slots=True)
class Pattern:
    """A ladder's text as a pattern.

    ``base``: what to take from each byte; ``most``: what may then be left, 9 in prices and 0 elsewhere.
    ``prices``: for each step the places of its digits, and how many of them stand behind the point.
    """

    base: NDArray[np.uint8]
    most: NDArray[np.uint8]
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
    base, most = np.frombuffer(text, np.uint8).copy(), np.zeros(len(text), np.uint8)
    prices: list[tuple[tuple[int, ...], int]] = []
    least = below = at = 0
    while (step := _STEP.match(text, at)) is not None:
        quantity, price = int(step[1]), step[2]
        places = tuple(place for place in range(step.start(2), step.end(2)) if text[place : place + 1].isdigit())
        behind = len(price.partition(point)[2])
        if quantity <= below or len(price) - len(places) != (behind > 0):
            return None
        base[list(places)], most[list(places)] = ord("0"), 9
        prices.append((places, behind))
        least, below, at = least or quantity, quantity, step.end()
    finest = max((behind for _, behind in prices), default=0)
    if at < len(text) or text.endswith(b" ") or not prices:
        return None
    if max(len(places) + finest - behind for places, behind in prices) > _DIGITS:
        return None
    return Pattern(base, most, tuple(prices), least)


def proven(line: NDArray[np.uint8], starts: NDArray[np.int64], point: bytes) -> Iterator[Proven]:
    """Yield rows of ladders that are right. Row ``i`` stands in ``line`` from ``starts[i]`` up to the next start."""
    lengths = np.diff(starts)
    counts = np.bincount(np.minimum(lengths, _LONGEST + 1), minlength=1)
    for length in np.flatnonzero(counts >= _FEWEST).tolist():
        if not 0 < length <= _LONGEST:
            continue
        rows = np.flatnonzero(lengths == length)
        texts = np.ndarray((len(line) - length + 1,), f"V{length}", line, strides=(1,))[starts[rows]]
        yield from _of_one_length(texts.view(np.uint8).reshape(-1, length), rows, point)


def _of_one_length(texts: NDArray[np.uint8], rows: NDArray[np.intp], point: bytes) -> Iterator[Proven]:
    for _ in range(_PATTERNS):
        if len(rows) < _FEWEST:
            return
        pattern = pattern_of(texts[0].tobytes(), point)
        if pattern is None:
            texts, rows = texts[1:], rows[1:]
            continue
        left = texts - pattern.base
        alike = (left <= pattern.most).all(axis=1)
        yield _compared(left if alike.all() else left[alike], rows[alike], pattern)
        texts, rows = texts[~alike], rows[~alike]


def _compared(digits: NDArray[np.uint8], rows: NDArray[np.intp], pattern: Pattern) -> Proven:
    """Compare neighbouring prices, all written with as many decimals as the finest."""
    finest = max(behind for _, behind in pattern.prices)
    dearer, free = np.zeros(len(rows), bool), np.zeros(len(rows), bool)
    before: NDArray[np.int64] | None = None
    for places, behind in pattern.prices:
        price = np.zeros(len(rows), np.int64)
        for place in places:
            price *= 10
            price += digits[:, place]
        price *= 10 ** (finest - behind)
        free |= price == 0
        if before is not None:
            dearer |= price > before
        before = price
    return Proven(rows, pattern.least, dearer, free)
