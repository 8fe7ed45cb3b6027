"""From jobs to needs: which positions are bought for, and which of them ask for the same thing.

Positions with an unsettled doubt about what they hold are kept back, not guessed; they come
out of :func:`gather` beside the groups, with the codes that hold them.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from recap.codes import register
from recap.diagnostics import Diagnostic, Source, error, warning
from recap.match.jobs import on_job
from recap.match.limits import PROFILES
from recap.match.spares import spares_for
from recap.model import Group, Kind, Placed, Position
from recap.normalise.writing import format_capacitance, format_voltage, plain

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Mapping

    from recap.bench import Bench
    from recap.model import CapList, Extra, SetOnBench, Settings

NO_VALUE = "value-missing"
"""Why a position without a capacitance is kept back whatever the user accepts."""


@dataclass(frozen=True, slots=True)
class Held:
    """A position on the job that isn't bought for, and the doubts' codes that hold it back."""

    set: str
    position: Position
    doubts: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Work:
    """All that is on the job: what to buy for, what is kept back, what was noticed."""

    groups: tuple[Group, ...]
    held: tuple[Held, ...]
    diagnostics: tuple[Diagnostic, ...]


def groups(bench: Bench, only_sets: frozenset[str] | None = None) -> tuple[tuple[Group, ...], list[Diagnostic]]:
    """Return the groups of all sets on the job (or of ``only_sets``), and what was noticed."""
    work = gather(bench, only_sets)
    return work.groups, list(work.diagnostics)


def gather(
    bench: Bench,
    only_sets: frozenset[str] | None = None,
    *,
    accept_doubts: bool = False,
    leave_out: Callable[[str, Position], bool] | None = None,
) -> Work:
    """Return what all sets on the job (or of ``only_sets``) need.

    ``accept_doubts`` buys for doubted positions as they were read; one without a capacitance
    can't be bought for in any case. ``leave_out`` (set, position) tells what is done already.
    """
    told: list[Diagnostic] = [*unknown_profiles(bench.settings), *_unknown_sets(bench, only_sets)]
    placed: list[Placed] = []
    held: list[Held] = []
    for one in bench.sets:
        if only_sets is not None and one.name not in only_sets:
            continue
        caplist = _caplist(bench.caplists, one, told)
        if caplist is None:
            continue
        chosen, lost = on_job(one, caplist)
        told += _about_job(one, lost, caplist)
        for position in chosen:
            if leave_out is not None and leave_out(one.name, position):
                continue
            doubts = _holds(position, accept_doubts=accept_doubts)
            if doubts:
                held.append(Held(one.name, position, doubts))
            else:
                placed.append(Placed(one.name, position))
    made = _grouped(placed, bench.settings)
    extras = _extras([e for e in bench.extras if only_sets is None or e.set is None or e.set in only_sets])
    return Work((*made, *extras), tuple(held), tuple(told))


def _caplist(caplists: Mapping[str, CapList], one: SetOnBench, told: list[Diagnostic]) -> CapList | None:
    found = caplists.get(one.chassis)
    if found is None:
        found = next((c for name, c in caplists.items() if name.casefold() == one.chassis.casefold()), None)
    if found is None:
        message = f"set {one.name}: there is no cap list for the chassis {one.chassis}"
        told.append(error("set-without-list", message, _place(one), "import one, or correct the name"))
    return found


def _about_job(one: SetOnBench, lost: tuple[str, ...], caplist: CapList) -> list[Diagnostic]:
    if not one.job:
        message = f"set {one.name} states no job: taken as full"
        return [warning("job-blank", message, _place(one), "write full, none, boards or positions")]
    boards = ", ".join(dict.fromkeys(one.boards or [p.board for p in caplist.positions if p.board])) or "none named"
    return [
        warning(
            "job-word-unmatched",
            f"set {one.name}: “{word}” names no board and no position that this set has",
            _place(one),
            f"its boards: {boards}; or name positions",
            word,
        )
        for word in lost
    ]


def _place(one: SetOnBench) -> Source:
    return one.source or Source("sets")


def unknown_profiles(settings: Settings) -> list[Diagnostic]:
    """Return an error for each derating profile that the settings name and that there isn't."""
    told = []
    for role, rules in settings.rules.items():
        name = rules.get("profile")
        if name is not None and name not in PROFILES:
            table = "[rules]" if role is None else f"[rules.{role}]"
            message = f"{table} names the derating profile “{name}”, which there isn't"
            hint = f"there are: {', '.join(PROFILES)}"
            told.append(error("profile-unknown", message, Source("bench.toml"), hint, str(name)))
    return told


def _unknown_sets(bench: Bench, only_sets: frozenset[str] | None) -> list[Diagnostic]:
    known = {one.name for one in bench.sets}
    return [
        error("set-unknown", f"no set is called {name}", Source("sets"), f"there are: {', '.join(sorted(known))}", name)
        for name in sorted((only_sets or frozenset()) - known)
    ]


def _holds(position: Position, *, accept_doubts: bool) -> tuple[str, ...]:
    """Return the doubts that keep a position back. A doubt nobody registered holds too: better once too often."""
    codes = register()
    doubts = () if accept_doubts else tuple(d for d in position.doubts if d not in codes or codes[d].blocks)
    if position.value_uF is None and not doubts:
        return (NO_VALUE,)
    return doubts


_ALIKE = (
    *("value_uF", "volts", "mount", "kind", "temp_C", "role"),
    *("pitch_mm", "diameter_mm", "height_mm", "operating_V", "ripple_mA", "safety", "volts_ac"),
)
"""The fields that make two positions ask for the same thing."""


def _ask(position: Position) -> tuple[object, ...]:
    """Return what a position asks for. Equal decimals are equal however written (47 and 47.0)."""
    return tuple(getattr(position, name) for name in _ALIKE)


def _grouped(placed: Iterable[Placed], settings: Settings) -> list[Group]:
    by_ask: dict[tuple[object, ...], list[Placed]] = {}
    for one in placed:
        by_ask.setdefault(_ask(one.position), []).append(one)
    asks = [_bare(members[0].position) for members in by_ask.values()]
    made = []
    for name, asked, members in zip(_names(asks), asks, by_ask.values(), strict=True):
        pieces = sum(one.position.qty for one in members)
        made.append(Group(name, asked, tuple(members), spares_for(pieces, settings.spares)))
    return sorted(made, key=_order)


def _order(group: Group) -> tuple[object, ...]:
    asks = group.asks
    assert asks is not None
    return (asks.value_uF or 0, asks.volts or 0, group.id)


def _bare(position: Position) -> Position:
    """Return the position without what is its own: place, text, doubts."""
    return replace(position, ref=None, qty=1, board=None, note=None, doubts=(), source=None, text="")


def _size(asks: Position) -> str:
    """Return diameter and height as people write them: ``5×11``."""
    wide = None if asks.diameter_mm is None else plain(asks.diameter_mm)
    high = None if asks.height_mm is None else plain(asks.height_mm)
    if wide is None:
        return "no size" if high is None else f"{high} high"
    return f"Ø{wide}" if high is None else f"{wide}×{high}"


_SHOWN: tuple[tuple[tuple[str, ...], Callable[[Position], str]], ...] = (
    (("kind",), lambda p: "kind not stated" if p.kind is Kind.UNKNOWN else p.kind.value),
    (("temp_C",), lambda p: "no temperature" if p.temp_C is None else f"{p.temp_C} °C"),
    (("role",), lambda p: "no role" if p.role is None else p.role.value),
    (("diameter_mm", "height_mm"), _size),
    (("pitch_mm",), lambda p: "no pitch" if p.pitch_mm is None else f"pitch {plain(p.pitch_mm)}"),
    (
        ("operating_V",),
        lambda p: "no working voltage" if p.operating_V is None else f"works at {plain(p.operating_V)} V",
    ),
    (("ripple_mA",), lambda p: "no ripple" if p.ripple_mA is None else f"ripple {plain(p.ripple_mA)} mA"),
)


def _base_name(asks: Position) -> str:
    """Return value, volts, mount, and safety class or a kind that must not be mistaken, as a person says them."""
    words = [format_capacitance(asks.value_uF)] if asks.value_uF is not None else []
    words += [format_voltage(asks.volts, ac=asks.volts_ac)] if asks.volts is not None else []
    words += [asks.mount.value] if asks.mount is not None else []
    if asks.safety:
        words.append(asks.safety)
    elif asks.kind not in {Kind.UNKNOWN, Kind.OTHER, Kind.ELECTROLYTIC}:
        words.append(asks.kind.value)
    return " ".join(words)


def _names(asks: list[Position]) -> list[str]:
    """Return a name for each ask: its base name, and where that is shared, the fields in which the sharers differ."""
    sharers: dict[str, list[Position]] = {}
    for one in asks:
        sharers.setdefault(_base_name(one), []).append(one)
    differing = {
        base: [show for fields, show in _SHOWN if len({tuple(getattr(one, f) for f in fields) for one in members}) > 1]
        for base, members in sharers.items()
    }
    return _unique(
        [" ".join((base, *(show(one) for show in differing[base]))) for one in asks for base in [_base_name(one)]]
    )


def _unique(names: list[str]) -> list[str]:
    """Return the names, later namesakes numbered from 2 on."""
    seen: Counter[str] = Counter()
    taken = set(names)
    made = []
    for name in names:
        seen[name] += 1
        fresh = name
        while seen[name] > 1 and fresh in taken:
            fresh = f"{name} ({seen[name]})"
            if fresh in taken:
                seen[name] += 1
        taken.add(fresh)
        made.append(fresh)
    return made


def _extras(extras: list[Extra]) -> list[Group]:
    """Return a group for each extra: ``extra: ITEM``, with its set where one item is wanted by several."""
    count = Counter(extra.item for extra in extras)
    names = [
        f"extra: {extra.item}" + (f" for {extra.set}" if count[extra.item] > 1 and extra.set else "")
        for extra in extras
    ]
    return [Group(name, None, extra=extra) for name, extra in zip(_unique(names), extras, strict=True)]
