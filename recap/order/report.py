"""What the order's files are written from: plain facts, no computing left to do.

An :class:`Order` says what is bought; a report adds what was asked for, what could not be had and
what other orders would have cost, so that whoever writes files needs nothing else.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Mapping
    from datetime import date
    from decimal import Decimal

    from recap.match.combine import Combination
    from recap.model import Group, Order, Part, Status, Verdict


THIS_ORDER = "this order"
"""What the order itself is called among the ways to buy."""


@dataclass(frozen=True, slots=True)
class NearMiss:
    """A part that came close to a group that nothing fits, and what speaks against it in words.

    ``gist`` is the worst of that alone: of a part that must not go in, not what would merely call for care.
    """

    supplier: str
    number: str
    verdict: Verdict
    reason: str
    gist: str = ""


@dataclass(frozen=True, slots=True)
class UnmetNeed:
    """Pieces of a group that the order does not cover, and why; ``joined``: several parts for one place, with care.

    ``short`` is the reason without the changes of settings that would help; ``eases`` are these, ``care`` apart:
    whether parts that fit with care would do.
    """

    group: str
    pieces: int
    reason: str
    nearest: tuple[NearMiss, ...] = ()
    joined: tuple[Combination, ...] = ()
    short: str = ""
    eases: tuple[str, ...] = ()
    care: bool = False


@dataclass(frozen=True, slots=True)
class Alternative:
    """Another order that was worked out: its name, total (None: impossible), parcels and lines."""

    name: str
    total: Decimal | None
    note: str = ""
    parcels: int | None = None
    lines: int | None = None


@dataclass(frozen=True, slots=True)
class Report:
    """Everything the files of one order show. Money of ``order`` and ``bound`` is in ``currency``.

    ``care`` holds, by group, what "with care" means for the part chosen; ``made_on`` is printed;
    ``remarks`` are sentences about the total; ``old`` names the lines, as
    (supplier, part number), whose price is older than the bench's ``offer_days``.
    """

    currency: str
    status: Status
    made_on: date
    order: Order | None
    groups: tuple[Group, ...]
    bound: Decimal | None = None
    unmet: tuple[UnmetNeed, ...] = ()
    alternatives: tuple[Alternative, ...] = ()
    care: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    remarks: tuple[str, ...] = ()
    old: frozenset[tuple[str, str]] = frozenset()


@dataclass(frozen=True, slots=True)
class Share:
    """Pieces of one part that serve one group, and where they come from (supplier, or the drawer)."""

    supplier: str
    part: Part
    qty: int


def shares(order: Order | None) -> dict[str, tuple[Share, ...]]:
    """Return by group what serves it: the drawer first, then suppliers in the order's sequence."""
    found: dict[str, list[Share]] = {}
    if order is None:
        return {}
    for drawn in order.drawer:
        for use in drawn.uses:
            found.setdefault(use.group, []).append(Share(drawn.part.part.supplier, drawn.part.part, use.qty))
    for parcel in order.suppliers:
        for line in parcel.lines:
            for use in line.uses:
                found.setdefault(use.group, []).append(Share(parcel.terms.supplier, line.part, use.qty))
    return {group: tuple(parts) for group, parts in found.items()}
