"""What each offer costs for each set of its groups, at each price step: for all offers at once, in arrays.

Offers that serve the same number k of groups stand together: one row an offer, then one entry for each of the 2^k sets
in the order of binary counting, the empty one first, then one for each price step. Amounts are whole numbers of 64
bits, or Python's own where they would not fit.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Iterable

    from recap.optimise.instance import Instance, Offer

NEVER = 2**60
"""Goods and quantity where a set can't be bought at a step; all others are below, and three of them still fit."""
FAR = 10**200
"""The same where amounts are Python's own whole numbers; as a float it is not infinite yet."""


@dataclass(frozen=True, slots=True)
class Quotes:
    """Offers that serve as many groups each; ``groups`` n x k, ``quantity`` and ``goods`` n x 2^k x steps."""

    offers: tuple[Offer, ...]
    groups: np.ndarray
    quantity: np.ndarray
    goods: np.ndarray

    @property
    def never(self) -> int:
        """From here on goods mean that a set can't be bought."""
        return _never(self.goods.dtype)

    def cheapest(self) -> tuple[np.ndarray, np.ndarray]:
        """Return least goods, and the quantity of the first step that has them, n x 2^k."""
        step = self.goods.argmin(axis=2)[..., None]
        return (
            np.take_along_axis(self.goods, step, axis=2)[..., 0],
            np.take_along_axis(self.quantity, step, axis=2)[..., 0],
        )


def _never(kind: np.dtype[Any]) -> int:
    return FAR if kind.hasobject else NEVER


def sums(values: np.ndarray) -> np.ndarray:
    """Return for each row of n x k values their sums over every set, n x 2^k."""
    found = np.zeros((len(values), 1), dtype=values.dtype)
    for column in values.T:
        found = np.hstack([found, found + column[:, None]])
    return found


def members(count: int) -> list[tuple[int, ...]]:
    """Return for every set of ``count`` the places of what is in it."""
    return [tuple(i for i in range(count) if mask >> i & 1) for mask in range(1 << count)]


def quotes(instance: Instance, offers: Iterable[Offer]) -> list[Quotes]:
    """Quote offers for all sets of their groups, those that can't be bought at all left out."""
    alike: defaultdict[int, list[Offer]] = defaultdict(list)
    for offer in offers:
        if offer.steps and offer.groups:
            alike[len(offer.groups)].append(offer)
    return [_quotes(instance, tuple(each)) for _, each in sorted(alike.items())]


def _quotes(instance: Instance, offers: tuple[Offer, ...]) -> Quotes:
    widest = max(len(offer.steps) for offer in offers)
    largest = max(step.high * max(step.price, 1) for offer in offers for step in offer.steps)
    dtype = np.int64 if largest < NEVER else object
    ladder = np.zeros((3, len(offers), 1, widest), dtype=dtype)
    ladder[0] = 1  # a step that an offer hasn't begins above its end
    for n, offer in enumerate(offers):
        for b, step in enumerate(offer.steps):
            ladder[:, n, 0, b] = step.low, step.high, step.price
    low, high, price = ladder
    groups = np.array([offer.groups for offer in offers], dtype=np.int64)
    multiple = np.array([offer.multiple for offer in offers], dtype=np.int64)[:, None]
    pieces = sums(np.array(instance.needs, dtype=np.int64)[groups])
    lots = (-(-pieces // multiple) * multiple)[..., None]
    quantity = np.maximum(low, lots)
    within = quantity <= high
    never = _never(np.dtype(dtype))
    return Quotes(offers, groups, np.where(within, quantity, never), np.where(within, quantity * price, never))
