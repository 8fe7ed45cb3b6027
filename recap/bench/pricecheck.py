"""Prove a million price ladders right at once, and say which rows need a person's eyes (or the exact reader).

Most are proven pattern by pattern (``patterned.py``). Of the rest a regular expression in Arrow tells
which texts have the shape ``1:0.42 10:0.31``. For those the order
of quantities and prices is told by comparing them as eight bytes read as one number, big end first:
digits without leading zeros compare like the numbers they write. Everything else, and every row
here suspected, is left to :func:`recap.bench.ladders.read_ladder`.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np
import pyarrow as pa
import pyarrow.compute as pc

from recap.bench.arrow import to_arrow, to_numpy
from recap.bench.patterned import proven
from recap.bench.texts import bytes_of

if TYPE_CHECKING:
    from numpy.typing import NDArray

_BYTES = 8
_FULL = np.uint64(0xFFFFFFFFFFFFFFFF)
_POINTS = np.uint64(0x2E2E2E2E2E2E2E2E)
_ONES, _HIGHS = np.uint64(0x0101010101010101), np.uint64(0x8080808080808080)


@dataclass(frozen=True, slots=True)
class PriceCheck:
    """What holds of each text.

    ``plain``: it is proven right. Of these, ``dearer``: a larger quantity may cost more a piece,
    ``free``: a price is 0; ``least`` is the first quantity, 0 in all others.
    """

    plain: NDArray[np.bool_]
    dearer: NDArray[np.bool_]
    free: NDArray[np.bool_]
    least: NDArray[np.int64]


def check_prices(texts: pa.StringArray, mark: str | None) -> PriceCheck:
    """Check every text as a ladder whose decimal mark is ``mark`` (None: the point)."""
    flags = np.zeros((3, len(texts)), bool)
    check = PriceCheck(flags[0], flags[1], flags[2], np.zeros(len(texts), np.int64))
    line, starts = _buffers(texts)
    for found in proven(line, starts, (mark or ".").encode()):
        check.plain[found.rows] = True
        check.dearer[found.rows], check.free[found.rows] = found.dearer, found.free
        check.least[found.rows] = found.least
    rest = np.flatnonzero(~check.plain)
    if len(rest):
        one_by_one = _shaped(texts if len(rest) == len(texts) else texts.take(to_arrow(rest)), mark or ".")
        check.plain[rest], check.dearer[rest], check.free[rest] = one_by_one.plain, one_by_one.dearer, one_by_one.free
        check.least[rest] = one_by_one.least
    for part in (check.plain, check.dearer, check.free, check.least):
        part[_padded(line, starts)] = 0
    return check


def _padded(line: NDArray[np.uint8], starts: NDArray[np.int64]) -> NDArray[np.int64]:
    """Return the texts with a price that begins with a zero and a digit: perhaps a time of day (``10:00.31``)."""
    colons = np.flatnonzero(line == ord(":"))
    colons = colons[line[colons + 1] == ord("0")]
    rows = np.searchsorted(starts, colons, side="right") - 1
    digit = (line[colons + 2] >= ord("0")) & (line[colons + 2] <= ord("9"))
    padded: NDArray[np.int64] = rows[digit & (colons + 2 < starts[rows + 1])]
    return padded


def _shaped(texts: pa.StringArray, mark: str) -> PriceCheck:
    """Check ladders of any pattern."""
    step = rf"[1-9][0-9]{{0,6}}:[0-9]{{1,12}}(?:{re.escape(mark)}[0-9]+)?"
    shaped = to_numpy(pc.match_substring_regex(texts, rf"^{step}(?: {step})*$"))
    count = len(texts)
    if not shaped.any():
        no = np.zeros(count, bool)
        return PriceCheck(no, no, no, np.zeros(count, np.int64))
    every = bool(shaped.all())
    found = _order(*_buffers(texts if every else texts.take(to_arrow(np.flatnonzero(shaped)))), ord(mark))
    if every:
        return found
    at = np.flatnonzero(shaped)
    flags = [_spread(part, at, count) for part in (found.plain, found.dearer, found.free)]
    return PriceCheck(flags[0], flags[1], flags[2], _spread(found.least, at, count))


def _spread(part: NDArray[Any], at: NDArray[np.int64], count: int) -> NDArray[Any]:
    whole = np.zeros(count, part.dtype)
    whole[at] = part
    return whole


def _buffers(texts: pa.StringArray) -> tuple[NDArray[np.uint8], NDArray[np.int64]]:
    """Return the bytes of all texts in a row, with room before and behind, and where each begins and the last ends."""
    body, starts = bytes_of(texts)
    room = np.zeros(_BYTES, np.uint8)
    return np.concatenate((room, body, room)), starts + _BYTES


def _order(line: NDArray[np.uint8], starts: NDArray[np.int64], point: int) -> PriceCheck:
    """Compare quantities and prices of texts that all have the shape of a ladder."""
    count = len(starts) - 1
    colons = np.flatnonzero(line == ord(":"))
    spaces = np.flatnonzero(line == ord(" "))
    first = np.searchsorted(colons, starts[:-1])
    row = np.repeat(np.arange(count, dtype=np.int32), np.diff(np.append(first, len(colons))))
    begins = np.empty(len(colons), np.int64)
    stops = np.empty(len(colons), np.int64)
    inner = np.ones(len(colons), bool)
    inner[first] = False
    begins[first] = starts[:-1]
    begins[inner] = spaces + 1
    last = np.append(first[1:], len(colons)) - 1
    stops[last] = starts[1:]
    inner[first] = True
    inner[last] = False
    stops[inner] = spaces

    words = np.ndarray((len(line) - _BYTES + 1,), ">u8", line, strides=(1,))
    lengths = (colons - begins).astype(np.uint64)
    quantity = words[colons - _BYTES].astype(np.uint64) & _low(lengths)
    same = row[1:] == row[:-1]
    wrong = same & (quantity[1:] <= quantity[:-1])
    rises = np.ones(count, bool)
    rises[row[1:][wrong]] = False
    whole, key = _price_keys(words, colons + 1, stops, point)
    up = same & ((whole[1:] > whole[:-1]) | ((whole[1:] == whole[:-1]) & (key[1:] > key[:-1])))
    dearer = np.zeros(count, bool)
    dearer[row[1:][up]] = True
    free = np.zeros(count, bool)
    free[row[np.isin(key, _zeros(point))]] = True
    least = np.where(rises, _decoded(quantity[first], lengths[first]), 0)
    return PriceCheck(rises, dearer & rises, free & rises, least)


def _zeros(point: int) -> NDArray[np.uint64]:
    """Return the keys of every way to write a price of 0 that eight bytes hold."""
    mark = chr(point)
    written = ["0" * n for n in range(1, _BYTES + 1)]
    written += ["0" * n + mark + "0" * (length - n - 1) for length in range(2, _BYTES + 1) for n in range(1, length)]
    return np.array([int.from_bytes(text.encode().ljust(_BYTES, b"\0")) for text in written], np.uint64)


def _low(lengths: NDArray[np.uint64]) -> NDArray[np.uint64]:
    return _FULL >> (np.uint64(64) - np.uint64(8) * lengths)


def _price_keys(
    words: NDArray[np.uint64], begins: NDArray[np.int64], stops: NDArray[np.int64], point: int
) -> tuple[NDArray[np.int64], NDArray[np.uint64]]:
    """Return each price's digits before the point, counted, and its first eight bytes, which then compare like it."""
    lengths = np.minimum(stops - begins, _BYTES).astype(np.uint64)
    key = words[begins].astype(np.uint64) & ~(_FULL >> np.uint64(1) >> (np.uint64(8) * lengths - np.uint64(1)))
    marks = _POINTS if point == ord(".") else np.uint64(0x2C2C2C2C2C2C2C2C)
    odd = key ^ marks
    hit = (odd - _ONES) & ~odd & _HIGHS
    # the topmost hit is the point; the float's exponent tells its place, and 0 (no point) means all of it
    exponent = np.frexp(hit.astype(np.float64))[1].astype(np.int64)
    whole = np.where(hit > 0, _BYTES - (exponent + 7) // 8, lengths.astype(np.int64))
    return whole, key


def _longest(lengths: NDArray[np.uint64]) -> int:
    return int(np.max(lengths)) if lengths.size else 0


def _decoded(key: NDArray[np.uint64], lengths: NDArray[np.uint64]) -> NDArray[np.int64]:
    number = np.zeros(len(key), np.int64)
    for place in range(_longest(lengths) - 1, -1, -1):
        digit = (key >> np.uint64(8 * place) & np.uint64(0xFF)).astype(np.int64)
        number = np.where(lengths > place, number * 10 + digit - ord("0"), number)
    return number


def repeated(texts: pa.StringArray) -> NDArray[np.int64]:
    """Return the indexes of texts that may occur more than once: all that do, and by rare chance others."""
    count = len(texts)
    if count < 2 or texts.buffers()[2] is None:  # noqa: PLR2004 - one alone has no double
        return np.arange(count if count > 1 else 0)
    if pc.all(pc.less(texts[:-1], texts[1:])).as_py():
        return np.arange(0)  # in order, as price lists often are
    line, starts = _buffers(texts)
    begins, lengths = starts[:-1], np.diff(starts).astype(np.uint64)
    words = np.ndarray((len(line) - _BYTES + 1,), ">u8", line, strides=(1,))
    factor = np.uint64(0x9E3779B97F4A7C15)
    mixed = lengths * factor
    for place in range(0, _longest(lengths), _BYTES):
        left = np.clip(lengths.astype(np.int64) - place, 0, _BYTES).astype(np.uint64)
        at = np.minimum(begins + place, len(words) - 1)
        word = np.where(left > 0, words[at].astype(np.uint64) >> np.minimum(np.uint64(64) - 8 * left, 63), 0)
        mixed = (mixed ^ word) * factor
        mixed ^= mixed >> np.uint64(29)
    ordered = np.sort(mixed)
    doubles = ordered[1:][ordered[1:] == ordered[:-1]]
    return np.flatnonzero(np.isin(mixed, doubles)) if len(doubles) else np.arange(0)
