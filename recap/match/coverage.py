"""Which suppliers could serve each group: where a bench's needs have one source, or none."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from recap.match.candidates import problem

if TYPE_CHECKING:
    from collections.abc import Sequence
    from datetime import date

    from recap.bench import Bench
    from recap.model import Group


@dataclass(frozen=True, slots=True)
class Cover:
    """One group, the suppliers whose catalogues have a part for it, and whether the drawer has one."""

    group: Group
    suppliers: tuple[str, ...]
    drawer: bool


def coverage(bench: Bench, groups: Sequence[Group], today: date) -> tuple[Cover, ...]:
    """Return who could serve each of ``groups`` under the bench's own rules; stock and price don't count here."""
    posed = problem(bench, groups, today=today).problem
    covers = []
    for group in groups:
        names = {posed.offers[index].supplier for index in posed.suits.get(group.id, ())}
        covers.append(Cover(group, tuple(sorted(names)), bool(posed.drawer_suits.get(group.id))))
    return tuple(covers)
