"""Which offers and drawer parts may serve which group: the order as a problem for the optimiser.

Every group is sought over all catalogues by columns (``columns.py``); what comes out is what the
rules accept, no more and no less. A group that nothing serves gets its nearest parts
(``nearest.py``).
"""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date
from typing import TYPE_CHECKING

from recap.match.columns import Offers
from recap.match.limits import limits_for
from recap.match.nearest import Search, Unfit, without_fit
from recap.match.rules import judge
from recap.model import Need, Problem, Verdict

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from recap.bench import Bench
    from recap.model import DrawerPart, Group, Judgement, Part, Settings


@dataclass(frozen=True, slots=True)
class Candidates:
    """The problem to solve, the groups behind it, and for those that nothing serves what came nearest.

    ``problem.needs`` holds every group, those of ``unfit`` too, with nothing that suits them.
    """

    problem: Problem
    groups: Mapping[str, Group]
    settings: Settings
    today: date
    unfit: Mapping[str, Unfit] = field(default_factory=dict)

    def judgement(self, group: str, part: Part, *, bought: date | None = None) -> Judgement | None:
        """Return every rule's finding for a part in a group (None for an extra, which no rule judges)."""
        asks = self.groups[group].asks
        if asks is None:
            return None
        return judge(asks, part, limits_for(self.settings, asks.role), bought=bought, today=self.today)


def problem(
    bench: Bench,
    groups: Sequence[Group],
    *,
    allow_care: bool | None = None,
    without: frozenset[str] = frozenset(),
    use_drawer: bool | None = None,
    today: date | None = None,
) -> Candidates:
    """Return the problem that ``groups`` pose to the bench's catalogues and drawer.

    ``allow_care`` and ``use_drawer`` stand in for the bench's settings where given; ``without``
    names suppliers to leave out. ``today`` dates the drawer (default: today).
    """
    settings = bench.settings
    worst, if_needed = _worst(settings, allow_care)
    day = today or date.today()  # noqa: DTZ011 - the user's own calendar day
    offers = Offers(bench.catalogues, without)
    drawer = bench.drawer if (settings.use_drawer if use_drawer is None else use_drawer) else ()
    rows = _rows(offers, groups, settings, worst)
    in_drawer = {g.id: _from_drawer(g, drawer, settings, worst, day) for g in groups}
    if if_needed:
        outright = _rows(offers, groups, settings, Verdict.FITS)
        lying = {g.id: _from_drawer(g, drawer, settings, Verdict.FITS, day) for g in groups}
        served = [g.id for g in groups if len(outright[g.id]) or lying[g.id]]
        rows |= {name: outright[name] for name in served}
        in_drawer |= {name: lying[name] for name in served}
    used = sorted({int(row) for found in rows.values() for row in found})
    place = {row: i for i, row in enumerate(used)}
    suits = {name: tuple(place[int(row)] for row in found) for name, found in rows.items()}
    posed = Problem(
        needs=tuple(_need(g, settings) for g in groups),
        offers=tuple(offers.parts(used)),
        suits=suits,
        suppliers={name: terms for name, terms in bench.suppliers.items() if name not in without},
        drawer=tuple(drawer),
        drawer_suits=in_drawer,
        one_part_per_group=settings.one_part_per_group,
        max_suppliers=settings.max_suppliers,
    )
    search = Search(offers, tuple(drawer), settings, worst, day)
    unfit = {g.id: without_fit(g, search) for g in groups if not suits[g.id] and not in_drawer[g.id]}
    return Candidates(posed, {g.id: g for g in groups}, settings, day, unfit)


def _worst(settings: Settings, allow_care: bool | None) -> tuple[Verdict, bool]:
    """Return the worst verdict that is taken, and whether "with care" is taken only where nothing fits outright."""
    if allow_care is not None:
        return (Verdict.CARE if allow_care else Verdict.FITS), False
    if settings.allow_care:
        return Verdict.CARE, settings.care_if_needed
    return (Verdict.CARE, True) if settings.care_if_needed else (Verdict.FITS, False)


def _need(group: Group, settings: Settings) -> Need:
    if settings.spares.share_spares:
        return Need(group.id, group.positions_count, group.spares)
    return Need(group.id, group.need)


def _rows(offers: Offers, groups: Sequence[Group], settings: Settings, worst: Verdict) -> dict[str, Sequence[int]]:
    wanted = frozenset(number for g in groups if g.extra is not None for number in g.extra.parts)
    numbered = offers.numbered(wanted) if wanted else {}
    found: dict[str, Sequence[int]] = {}
    for group in groups:
        if group.extra is not None:
            found[group.id] = sorted({row for number in group.extra.parts for row in numbered.get(number, ())})
        elif group.asks is not None and len(offers):
            limits = limits_for(settings, group.asks.role)
            found[group.id] = offers.suiting(group.asks, limits, worst).tolist()
        else:
            found[group.id] = ()
    return found


def _from_drawer(
    group: Group, drawer: Sequence[DrawerPart], settings: Settings, worst: Verdict, today: date
) -> tuple[int, ...]:
    """Return the places in the drawer whose parts serve the group; a capacitor without a value serves none."""
    if group.extra is not None:
        return tuple(i for i, kept in enumerate(drawer) if kept.part.number in group.extra.parts)
    asks = group.asks
    assert asks is not None
    limits = limits_for(settings, asks.role)
    return tuple(
        i
        for i, kept in enumerate(drawer)
        if kept.part.value_uF is not None
        and judge(asks, kept.part, limits, bought=kept.bought, today=today).verdict.rank <= worst.rank
    )
