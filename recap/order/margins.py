"""The margins of every part that an order chooses, the worst first."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from recap.match.jobs import squeeze
from recap.order.report import shares

if TYPE_CHECKING:
    from collections.abc import Callable
    from datetime import date

    from recap.match.margin import Margin
    from recap.model import Group, Order, Part, Position
    from recap.order.report import Report

    Weigh = Callable[[Position, Part, date | None], Margin]


@dataclass(frozen=True, slots=True)
class Chosen:
    """What an order takes for a group, weighed for what the group asks."""

    group: Group
    margin: Margin

    @property
    def places(self) -> tuple[str, ...]:
        """Where it goes, as ``SET:REF``; positions without designator by their set."""
        return tuple(f"{one.set}:{one.position.ref}" if one.position.ref else one.set for one in self.group.placed)


def chosen(report: Report, weigh: Weigh, place: str | None = None) -> tuple[Chosen, ...]:
    """Return every capacitor that the order takes, weighed by ``weigh(asked, part, bought)``, the worst first.

    ``place`` (``SET:REF``) keeps only what goes there. Extras are nothing to weigh.
    """
    bought = _bought(report.order)
    served = shares(report.order)
    found = [
        Chosen(group, weigh(group.asks, share.part, bought.get(share.part)))
        for group in report.groups
        if group.asks is not None
        for share in served.get(group.id, ())
    ]
    if place is not None:
        wanted = _name(place)
        found = [one for one in found if wanted in {_name(spot) for spot in one.places}]
    return tuple(sorted(found, key=lambda one: one.margin.tightness))


def _bought(order: Order | None) -> dict[Part, date | None]:
    """Return when the pieces from the drawer were bought; of a part of several lots the oldest day that is known."""
    bought: dict[Part, date | None] = {}
    for lot in (drawn.part for drawn in order.drawer) if order is not None else ():
        days = [day for day in (bought.get(lot.part), lot.bought) if day is not None]
        bought[lot.part] = min(days, default=None)
    return bought


def _name(place: str) -> tuple[str, str]:
    owner, _, ref = place.rpartition(":")
    return owner.casefold(), squeeze(ref)
