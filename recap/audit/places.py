"""The positions of a set, from its list as it reads today and from the orders kept for it."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from recap.audit.kept import Assignment, order_of_work, place_key
from recap.match.jobs import on_job, on_set

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from recap.audit.events import PlaceKey
    from recap.model import CapList, Part, Position, SetOnBench, Settings


@dataclass(frozen=True, slots=True)
class Lists:
    """What the work at the bench needs of a bench: no catalogue, no prices."""

    sets: tuple[SetOnBench, ...]
    caplists: Mapping[str, CapList]
    settings: Settings


@dataclass(frozen=True, slots=True)
class Place:
    """One position of one set.

    ``listed`` is the list's row of today, None where the list no longer has it; ``pieces`` is what
    the latest kept order meant for it. ``on_job`` says whether it is to be done.
    """

    key: PlaceKey
    listed: Position | None
    pieces: tuple[Assignment, ...] = ()
    on_job: bool = True

    @property
    def position(self) -> Position:
        """The list's row, or the row as it stood when the order was kept."""
        return self.listed if self.listed is not None else self.pieces[0].position

    @property
    def part(self) -> Part | None:
        """The planned part; the first one where there are several."""
        return self.pieces[0].part if self.pieces else None


def places_of(unit: SetOnBench, caplist: CapList, plan: Mapping[PlaceKey, tuple[Assignment, ...]]) -> tuple[Place, ...]:
    """Return the places of a set by board and ref: those of its list on its boards, then those only ordered for.

    ``plan`` is the latest of :func:`recap.audit.deliveries.plan`; what it names is on the job as well.
    """
    listed: dict[PlaceKey, Position] = {}
    for position in on_set(unit, caplist):
        key = place_key(unit.name, position)
        twin = listed.get(key)
        listed[key] = position if twin is None else _together(twin, position)
    wanted = {place_key(unit.name, position) for position in on_job(unit, caplist)[0]}
    keys = {*listed, *(key for key in plan if key.set == unit.name)}
    return tuple(
        Place(key, listed.get(key), plan.get(key, ()), key in wanted or key in plan)
        for key in sorted(keys, key=order_of_work)
    )


def boards_of(places: Iterable[Place]) -> tuple[str, ...]:
    """Return the boards in the order of the places; the empty name stands for no board."""
    return tuple(dict.fromkeys(place.key.board for place in places))


def _together(first: Position, second: Position) -> Position:
    """Make one place of two rows that bear the same name: pieces and doubts add up."""
    doubts = tuple(dict.fromkeys((*first.doubts, *second.doubts)))
    return replace(first, qty=first.qty + second.qty, doubts=doubts)
