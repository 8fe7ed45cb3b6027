"""A bench together with its record: what really lies in the drawer, and what a part number stands for."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from typing import TYPE_CHECKING

from recap.audit.deliveries import lacking, lines, plan
from recap.audit.drawer import effective, set_aside
from recap.audit.kept import place_key
from recap.audit.record import FILE_NAME, read_record
from recap.audit.state import fitted_places
from recap.diagnostics import Diagnostic, Source, note, warning
from recap.match.jobs import on_job
from recap.model import DRAWER

if TYPE_CHECKING:
    from collections.abc import Collection, Sequence

    from recap.audit.events import Event, PlaceKey
    from recap.audit.kept import KeptOrder
    from recap.bench import Bench
    from recap.model import DrawerPart, Part


def drawer_on_hand(bench: Bench) -> tuple[tuple[DrawerPart, ...], list[Diagnostic]]:
    """Return what lies in the drawer, and what the user must settle about it."""
    events, orders = read_record(bench.folder)
    return effective(bench.drawer, orders, events, set_aside(orders, events, places_on_job(bench)))


def with_drawer_on_hand(bench: Bench) -> tuple[Bench, list[Diagnostic]]:
    """Return the bench with the drawer as it is on hand, ready for an order."""
    drawer, told = drawer_on_hand(bench)
    return replace(bench, drawer=drawer), told


def covered_places(bench: Bench) -> dict[PlaceKey, str]:
    """Return the places not fitted yet whose pieces came or are still to come, and from which kept order."""
    events, orders = read_record(bench.folder)
    never = {(line.key.order, place) for line in lines(orders, events) for place in lacking(line)}
    fitted = fitted_places(events)
    return {
        key: pieces[0].order
        for key, pieces in plan(orders, events).latest().items()
        if key not in fitted and all((piece.order, key) not in never for piece in pieces)
    }


def ordered_already(bench: Bench) -> list[Diagnostic]:
    """Warn of positions on the job that a kept order covers: another order would buy for them again."""
    on_job = places_on_job(bench)
    covered = Counter(order for key, order in covered_places(bench).items() if key in on_job)
    return [
        warning(
            "order-open",
            f"order {name} covers {count} of the positions on the job; an order made now buys for them again",
            Source(FILE_NAME),
            f"take them off the job in sets.csv, or recap receive BENCH --order {name} --close if it won't come",
        )
        for name, count in sorted(covered.items())
    ]


def without_bought_extras(bench: Bench) -> Bench:
    """Return the bench without the extras that came or are still to come with a kept order."""
    events, orders = read_record(bench.folder)
    never = {(line.key.order, line.part.number) for line in lines(orders, events) if line.closed and line.lacks}
    bought = {
        (group.extra.item, group.extra.set)
        for kept in orders
        for group in kept.groups
        if group.extra is not None and not any((kept.id, number) in never for number in group.extra.parts)
    }
    return replace(bench, extras=tuple(extra for extra in bench.extras if (extra.item, extra.set) not in bought))


def bought_already(bench: Bench, sets: Collection[str]) -> tuple[frozenset[PlaceKey], list[Diagnostic]]:
    """Return the places of these sets that kept orders cover, and what to say of each order."""
    covered = {key: order for key, order in covered_places(bench).items() if key.set in sets}
    said = "order {} has bought for {} positions: they cost nothing here"
    counted = sorted(Counter(covered.values()).items())
    told = [note("order-counted", said.format(name, count), Source(FILE_NAME)) for name, count in counted]
    return frozenset(covered), told


def already_in(bench: Bench, only_sets: frozenset[str] | None = None) -> tuple[frozenset[PlaceKey], list[Diagnostic]]:
    """Return the positions on the job whose new part is in by the record, and what to tell of them."""
    events, _ = read_record(bench.folder)
    there = fitted_places(events) & places_on_job(bench)
    there = frozenset(key for key in there if only_sets is None or key.set in only_sets)
    if not there:
        return there, []
    message = f"{len(there)} positions on the job are in by the record: nothing is bought for them"
    return there, [warning("in-already", message, Source(FILE_NAME), "recap order --again buys for them too")]


def places_on_job(bench: Bench) -> frozenset[PlaceKey]:
    """Return every position that is to be done by the jobs in ``sets.csv``."""
    return frozenset(
        place_key(unit.name, position)
        for unit in bench.sets
        if unit.chassis in bench.caplists
        for position in on_job(unit, bench.caplists[unit.chassis])[0]
    )


def known_part(bench: Bench, orders: Sequence[KeptOrder], events: Sequence[Event], number: str) -> Part | None:
    """Return the part of that number from the catalogues, the kept orders or the drawer."""
    for catalogue in bench.catalogues.values():
        rows = catalogue.rows_of([number])
        if number in rows:
            return catalogue.part(rows[number][0])
    for kept in orders:
        for parcel in kept.order.suppliers:
            for line in parcel.lines:
                if line.part.number == number:
                    return line.part
    lying = effective(bench.drawer, orders, events, {})[0]
    return next((d.part for d in lying if d.part.number == number), None)


def as_drawer_part(part: Part) -> Part:
    """Return the part as it lies in the drawer: no supplier, no price, no stock."""
    return replace(part, supplier=DRAWER, prices=(), minimum=1, multiple=1, stock=None)
