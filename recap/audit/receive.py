"""Booking goods in: what the user says came, checked against what is owed, as events to record."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING

from recap.audit.codec import encode
from recap.audit.deliveries import Line, LineKey, dealt_out, lines
from recap.audit.events import Event, EventKind, new_event
from recap.diagnostics import Diagnostic, Source, error, has_errors, warning
from recap.match.limits import limits_for
from recap.match.rules import judge
from recap.model import Verdict

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping, Sequence
    from datetime import datetime

    from recap.audit.events import PlaceKey
    from recap.audit.kept import KeptOrder
    from recap.model import Judgement, Part, Settings

FILE_NAME = "record.db"


@dataclass(frozen=True, slots=True)
class Delivery:
    """What came, in the user's words.

    ``everything``: all that is owed, but for lines named in ``counts``. ``counts``: pieces by part number.
    ``instead``: the ordered part and the one that came for it. ``close``: what is still owed won't come.
    ``supplier``: whose parcel came, where it is only one of several.
    """

    order: str | None = None
    everything: bool = False
    counts: Mapping[str, int] = field(default_factory=dict)
    instead: Mapping[str, str] = field(default_factory=dict)
    close: bool = False
    supplier: str | None = None


@dataclass(frozen=True, slots=True)
class Check:
    """What the rules say of a substitute at one place it would go to."""

    place: PlaceKey
    part: Part
    judgement: Judgement


@dataclass(frozen=True, slots=True)
class Booked:
    """One line as it stands after booking: what came now, what went into the drawer now, what is still owed."""

    key: LineKey
    part: str
    qty: int
    to_drawer: int
    owed: int


@dataclass(frozen=True, slots=True)
class Booking:
    """What to record, what it means, and what there is to say. Nothing is recorded where there are errors."""

    events: tuple[Event, ...]
    booked: tuple[Booked, ...]
    checks: tuple[Check, ...]
    diagnostics: tuple[Diagnostic, ...]


@dataclass(frozen=True, slots=True)
class _Item:
    """Pieces that came for one line; ``substitute`` where they are another part."""

    line: Line
    qty: int
    substitute: Part | None = None


def book(
    delivery: Delivery,
    orders: Sequence[KeptOrder],
    events: Sequence[Event],
    settings: Settings,
    *,
    find: Callable[[str], Part | None],
    when: datetime,
) -> Booking:
    """Check a delivery and return what to record. ``find`` gives the part of a number, None where nobody knows it."""
    open_lines, told = asked(delivery, orders, events)
    if not has_errors(told):
        told += _ambiguous(delivery, open_lines)
    items = [] if has_errors(told) else _items(delivery, open_lines, find, told)
    checks = tuple(check for item in items for check in _checks(item, settings))
    told += _judged(checks)
    if has_errors(told):
        return Booking((), (), checks, tuple(told))
    told += [_surplus(group) for group in _by_line(items).values() if _pieces(group) > group[0].line.owed]
    new = [_event(item, when) for item in items if item.qty]
    closing = sorted({line.key.order for line in open_lines}) if delivery.close else []
    new += [new_event(EventKind.CLOSED, when, data={"order": name}) for name in closing]
    return Booking(tuple(new), _booked(items, orders, events, new), checks, tuple(told))


def asked(
    delivery: Delivery, orders: Sequence[KeptOrder], events: Sequence[Event]
) -> tuple[list[Line], list[Diagnostic]]:
    """Return the open lines of the order and supplier that are named, and an error where there is none such."""
    told: list[Diagnostic] = []
    found = [line for line in lines(orders, events) if not line.closed and delivery.order in {None, line.key.order}]
    if delivery.order is not None and delivery.order not in {kept.id for kept in orders}:
        told.append(error("order-unknown", f"no order {delivery.order} is kept", Source(FILE_NAME), _kept(orders)))
    if delivery.supplier is not None:
        told += _not_owing(delivery.supplier, found)
        found = [line for line in found if line.key.supplier == delivery.supplier]
    return found, told


def _not_owing(supplier: str, open_lines: Sequence[Line]) -> list[Diagnostic]:
    """Tell that nothing is ordered from a supplier of this name, and who owes something."""
    if any(line.key.supplier == supplier for line in open_lines):
        return []
    owing = ", ".join(sorted({line.key.supplier for line in open_lines if line.owed}))
    message = f"no open order has a line from {supplier!r}"
    return [error("line-unknown", message, Source(FILE_NAME), f"owed by: {owing}" if owing else "nothing is owed")]


def _ambiguous(delivery: Delivery, open_lines: Sequence[Line]) -> list[Diagnostic]:
    owing = sorted({line.key.order for line in open_lines if line.owed})
    if delivery.order is None and len(owing) > 1 and (delivery.everything or delivery.close):
        return [
            error(
                "order-unknown",
                f"several orders owe something: {', '.join(owing)}",
                Source(FILE_NAME),
                f"name one: --order {owing[0]}",
            )
        ]
    return []


def _items(
    delivery: Delivery, open_lines: Sequence[Line], find: Callable[[str], Part | None], told: list[Diagnostic]
) -> list[_Item]:
    items: list[_Item] = []
    coming: Counter[LineKey] = Counter()
    replaced = dict(delivery.instead)
    plain = {part: qty for part, qty in delivery.counts.items() if part not in replaced.values()}
    for part, qty in plain.items():
        items += _spread(_named(part, open_lines, told), qty, coming)
    for old, new in replaced.items():
        named = _named(old, open_lines, told)
        substitute = find(new)
        if substitute is None:
            told.append(
                error(
                    "substitute-unknown",
                    f"nothing is known about {new}",
                    Source(FILE_NAME),
                    f'say what it is: --spec "{new}=47uF 25V 105C radial 5x11 p2"',
                )
            )
            continue
        left = max(0, sum(line.owed for line in named) - plain.get(old, 0))
        qty = _of_substitute(delivery, old, new, left, items)
        items += [replace(item, substitute=substitute) for item in _spread(named, qty, coming)]
    if delivery.everything:
        touched = {*plain, *replaced}
        items += [_Item(line, line.owed) for line in open_lines if line.owed and line.key.part not in touched]
    return items


def _named(part: str, open_lines: Sequence[Line], told: list[Diagnostic]) -> list[Line]:
    """Return the lines of a part, those that owe something first."""
    named = [line for line in open_lines if line.key.part == part]
    if not named:
        known = ", ".join(sorted({line.key.part for line in open_lines if line.owed})[:12])
        hint = f"owed: {known}" if known else "nothing is owed"
        told.append(error("line-unknown", f"no open order has a line of {part}", Source(FILE_NAME), hint))
    return [line for line in named if line.owed] or named[-1:]


def _of_substitute(delivery: Delivery, old: str, new: str, left: int, items: Sequence[_Item]) -> int:
    """Return how many pieces of ``new`` came for ``old``: what is owed where nothing is said.

    Where it came for several parts, the pieces counted go to each as far as it is owed, the rest to the last.
    """
    if new not in delivery.counts:
        return left
    gone = sum(item.qty for item in items if item.substitute is not None and item.substitute.number == new)
    here = delivery.counts[new] - gone
    last = [part for part, number in delivery.instead.items() if number == new][-1]
    return here if old == last else min(here, left)


def _spread(named: Sequence[Line], qty: int, coming: Counter[LineKey]) -> list[_Item]:
    """Spread pieces over lines of one part, oldest first; what is too many goes to the last.

    ``coming`` counts what of this delivery goes to each line already.
    """
    items: list[_Item] = []
    for number, line in enumerate(named):
        now = qty if number == len(named) - 1 else min(qty, max(0, line.owed - coming[line.key]))
        qty -= now
        coming[line.key] += now
        items.append(_Item(line, now))
    return items


def _checks(item: _Item, settings: Settings) -> list[Check]:
    """Judge a substitute at every place of its line that still waits for a piece."""
    if item.substitute is None:
        return []
    waiting, skip = [], item.line.received
    for assignment in item.line.assigned:
        if skip < assignment.qty:
            waiting.append(assignment)
        skip = max(0, skip - assignment.qty)
    return [
        Check(a.place, item.substitute, judge(a.position, item.substitute, limits_for(settings, a.position.role)))
        for a in waiting
    ]


HINTS = {
    "substitute-refused": "nothing was booked: send it back, and leave the line owed or --close it; "
    'if it is another part than is told here, say what it is: --spec "NEW=47uF 25V 105C radial"',
    "substitute-care": "read why before you fit it",
}


def _judged(checks: Sequence[Check]) -> list[Diagnostic]:
    told: list[Diagnostic] = []
    for verdict, make, code in ((Verdict.NO, error, "substitute-refused"), (Verdict.CARE, warning, "substitute-care")):
        reasons: dict[tuple[str, str], list[str]] = {}
        for check in checks:
            for finding in check.judgement.findings:
                if finding.verdict is verdict:
                    place = f"{check.place.set} {check.place.ref}"
                    reasons.setdefault((check.part.number, f"{finding.rule}: {finding.reason}"), []).append(place)
        for (part, reason), places in reasons.items():
            where = ", ".join(places[:6]) + (f" and {len(places) - 6} more" if len(places) > 6 else "")  # noqa: PLR2004 - a line's worth
            told.append(make(code, f"{part}: {reason} (at {where})", Source(FILE_NAME), HINTS[code]))
    return told


def _pieces(items: Sequence[_Item]) -> int:
    return sum(item.qty for item in items)


def _surplus(items: Sequence[_Item]) -> Diagnostic:
    line = items[0].line
    return warning(
        "more-than-ordered",
        f"{line.key.part}: {_pieces(items)} came, {line.owed} were owed; the rest goes into the drawer",
        Source(FILE_NAME),
        "check the count",
    )


def _event(item: _Item, when: datetime) -> Event:
    key = item.line.key
    data: dict[str, object] = {"order": key.order, "supplier": key.supplier, "part": key.part, "qty": item.qty}
    if item.substitute is not None:
        data |= {"part": item.substitute.number, "instead_of": key.part, "spec": encode(item.substitute)}
    return new_event(EventKind.RECEIVED, when, data=data)


def _booked(
    items: Sequence[_Item], orders: Sequence[KeptOrder], events: Sequence[Event], new: Sequence[Event]
) -> tuple[Booked, ...]:
    before = {line.key: line for line in lines(orders, events)}
    after = {line.key: line for line in lines(orders, [*events, *new])}
    booked = []
    for key, group in _by_line(items).items():
        over = _over(after[key]) - _over(before[key])
        for item in group:
            part = item.substitute.number if item.substitute else key.part
            booked.append(Booked(key, part, item.qty, over[part], after[key].owed))
    return tuple(booked)


def _by_line(items: Sequence[_Item]) -> dict[LineKey, list[_Item]]:
    found: dict[LineKey, list[_Item]] = {}
    for item in items:
        found.setdefault(item.line.key, []).append(item)
    return found


def _over(line: Line) -> Counter[str]:
    counted: Counter[str] = Counter()
    for arrival in dealt_out(line)[1]:
        counted[arrival.part.number] += arrival.qty
    return counted


def _kept(orders: Sequence[KeptOrder]) -> str:
    return "kept: " + ", ".join(kept.id for kept in orders) if orders else "keep one with `recap order BENCH --keep`"
