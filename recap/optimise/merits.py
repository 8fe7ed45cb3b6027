"""What speaks for an order among all of the same total: suppliers, lines, and the rated life of what is fitted.

Fewer suppliers come first, then fewer lines, then longer rated life: the sum, over all pieces that groups use, of
the hours that their part is rated for. Only parts that dry out count: electrolytic and bipolar ones, and parts whose
kind isn't stated. The same number is the same part, so the longest life stated for a number holds wherever it lies.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from math import gcd
from typing import TYPE_CHECKING

from recap.model import Kind
from recap.optimise.instance import decimals, whole

if TYPE_CHECKING:
    from recap.model import Part
    from recap.optimise.instance import Instance
    from recap.optimise.rebuild import Choice

Merits = tuple[int, int, int]
"""Suppliers, lines, and less the rated life: the smaller, the better."""

WEARING = frozenset({Kind.ELECTROLYTIC, Kind.BIPOLAR, Kind.UNKNOWN})
"""Kinds of part whose rated life counts."""


@dataclass(frozen=True, slots=True)
class Lives:
    """Rated life by offer and by drawer lot, in whole units of their greatest common measure."""

    offer: tuple[int, ...]
    lot: tuple[int, ...]


def lives_of(instance: Instance) -> Lives:
    """Return the rated lives of everything that may be fitted."""
    problem = instance.problem
    parts = [*problem.offers, *(lot.part for lot in problem.drawer)]
    hours: dict[str, Decimal] = {}
    for part in parts:
        hours[part.number] = max(_hours(part), hours.get(part.number, Decimal(0)))
    places = decimals(hours.values())
    units = {number: whole(each, places) for number, each in hours.items()}
    measure = gcd(*units.values()) or 1
    counted = [units[part.number] // measure for part in parts]
    return Lives(tuple(counted[: len(problem.offers)]), tuple(counted[len(problem.offers) :]))


def _hours(part: Part) -> Decimal:
    return part.life_h if part.kind in WEARING and part.life_h is not None else Decimal(0)


def merits_of(instance: Instance, lives: Lives, choice: Choice) -> Merits:
    """Return an order's merits."""
    bought = [o for o, quantity in choice.bought.items() if quantity]
    life = sum(pieces * lives.offer[o] for (_, o), pieces in choice.uses.items())
    life += sum(pieces * lives.lot[lot] for (_, lot), pieces in choice.taken.items())
    return len({instance.offers[o].supplier for o in bought}), len(bought), -life
