"""What may be wrong with a step, each reason a function of its own, weighed so that the likeliest comes first.

The weights are common practice: a hole without a part before a part that doesn't fit, before a
part nobody looked at again. They only order a list of suspects for a person to look at.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, field
from decimal import Decimal
from typing import TYPE_CHECKING, Final

from recap.audit.events import EventKind
from recap.codes import register
from recap.match.condition import Condition, Measured, Rated, assess, overall
from recap.match.limits import limits_for
from recap.match.rules import judge
from recap.model import DRAWER, Kind, Verdict
from recap.normalise.writing import format_capacitance, format_voltage

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping, Sequence

    from recap.audit.events import Event, PlaceKey
    from recap.audit.trace import Step
    from recap.model import Part, Settings

BURST_SECONDS: Final = 4
BURST_TICKS: Final = 4
"""So many checks within so many seconds of one another were not looked at one by one."""

_POLAR: Final = frozenset({Kind.ELECTROLYTIC, Kind.TANTALUM, Kind.UNKNOWN})


@dataclass(frozen=True, slots=True)
class Suspicion:
    """One reason to look at a place again. ``weight``: 0 to 100."""

    weight: int
    kind: str
    text: str


@dataclass(frozen=True, slots=True)
class Setting:
    """What the reasons need to know beyond the step itself.

    ``homes``: which places each part number was meant for. ``came`` and ``used``: pieces by part number, of
    bought parts. ``marked``: what old parts were marked with in other sets, by board and ref. ``checks``: moments
    of all checks.
    """

    settings: Settings
    homes: Mapping[str, frozenset[PlaceKey]] = field(default_factory=dict)
    came: Mapping[str, int] = field(default_factory=dict)
    used: Mapping[str, int] = field(default_factory=dict)
    marked: Mapping[tuple[str, str], tuple[tuple[str, str], ...]] = field(default_factory=dict)
    checks: tuple[float, ...] = ()


def suspicions(step: Step, setting: Setting) -> tuple[Suspicion, ...]:
    """Return every reason to look at this step again, the weightiest first."""
    found = [reason for look in LOOKS for reason in look(step, setting)]
    return tuple(sorted(found, key=lambda reason: -reason.weight))


def _unfinished(step: Step, _: Setting) -> list[Suspicion]:
    if step.state.out and not step.state.fitted:
        return [Suspicion(95, "unfinished", "the old part is out and nothing is in")]
    if not step.on_job or step.state.fitted:
        return []
    return [Suspicion(4, "not done", "on the job, not done yet")]


def _fit(step: Step, setting: Setting) -> list[Suspicion]:
    """Judge what is in against the list as it reads today."""
    if step.position is None or not step.state.fitted:
        return []
    if step.fitted is None:
        if step.said:
            return [Suspicion(70, "part", f"{step.said} was fitted: no catalogue, order or drawer knows what that is")]
        return [Suspicion(20, "part", "fitted, but no order says what")]
    found = []
    judgement = judge(step.position, step.fitted, limits_for(setting.settings, step.position.role))
    for finding in judgement.findings:
        if finding.verdict is not Verdict.FITS:
            weight = 90 if finding.verdict is Verdict.NO else 30
            words = "doesn't fit" if finding.verdict is Verdict.NO else "fits with care"
            found.append(Suspicion(weight, finding.rule, f"{step.fitted.number} {words}: {finding.reason}"))
    return found + _differs(step, step.fitted)


def _differs(step: Step, part: Part) -> list[Suspicion]:
    """Say where the part is another value or voltage than the list, be it a fitting one."""
    asked = step.position
    if asked is None:
        return []
    found = []
    if asked.value_uF is not None and part.value_uF is not None and asked.value_uF != part.value_uF:
        words = f"{format_capacitance(part.value_uF)} where the list says {format_capacitance(asked.value_uF)}"
        found.append(Suspicion(8, "value", words))
    if asked.volts is not None and part.volts is not None and asked.volts != part.volts:
        words = f"{format_voltage(part.volts)} where the list says {format_voltage(asked.volts)}"
        found.append(Suspicion(3, "voltage", words))
    return found


def _other_part(step: Step, setting: Setting) -> list[Suspicion]:
    if step.said is None or not step.state.fitted or any(step.said == piece.part.number for piece in step.pieces):
        return []
    homes = setting.homes.get(step.said, frozenset())
    planned = f"; planned was {step.pieces[0].part.number}" if step.pieces else ""
    others = sorted(homes - {step.key})
    if any(key.set != step.key.set for key in others) and not any(key.set == step.key.set for key in others):
        sets = ", ".join(sorted({key.set for key in others}))
        return [Suspicion(60, "bag", f"{step.said} was meant for another set ({sets}){planned}")]
    boards = sorted({key.board for key in others if key.set == step.key.set and key.board != step.key.board})
    if boards and not any(key.board == step.key.board for key in others if key.set == step.key.set):
        return [Suspicion(55, "board", f"{step.said} was meant for another board ({', '.join(boards)}){planned}")]
    return [Suspicion(35, "part", f"{step.said} is not the part that was planned{planned}")]


def _unchecked(step: Step, setting: Setting) -> list[Suspicion]:
    if not step.state.fitted:
        return [Suspicion(25, "order", "checked, but nothing is in")] if step.state.checked else []
    if not step.state.checked:
        kind = step.fitted.kind if step.fitted is not None else step.position.kind if step.position else Kind.UNKNOWN
        if kind in _POLAR:
            return [Suspicion(40, "polarity", "polarity never checked")]
        return [Suspicion(12, "unchecked", "never checked")]
    moment = step.state.checked[-1].when.timestamp()
    near = sum(1 for other in setting.checks if abs(other - moment) <= BURST_SECONDS)
    if near >= BURST_TICKS:
        return [Suspicion(18, "burst", f"checked together with {near - 1} others within seconds")]
    return []


def _out_of_order(step: Step, _: Setting) -> list[Suspicion]:
    out, fitted, checked = (step.first(kind) for kind in (EventKind.OUT, EventKind.IN, EventKind.CHECKED))
    last = step.last(EventKind.CHECKED)
    latest_in = step.last(EventKind.IN)
    found = []
    if fitted and not out:
        found.append(
            Suspicion(10, "order", "in, but never ticked as out: is the old part really the one that came out?")
        )
    if fitted and out and fitted.when < out.when:
        found.append(Suspicion(22, "order", "ticked in before out"))
    if fitted and checked and last and latest_in and last.when < latest_in.when:
        found.append(Suspicion(30, "order", "checked before the part that is in now went in"))
    return found


def _marking(step: Step, setting: Setting) -> list[Suspicion]:
    """Compare what came out with the list, and with what came out of the same place in other sets."""
    found = []
    if step.marked is not None and step.position is not None:
        differing = []
        if step.marked.value_uF is not None and step.marked.value_uF != step.position.value_uF:
            differing.append("value")
        if step.marked.volts is not None and step.marked.volts != step.position.volts:
            differing.append("voltage")
        unread = step.marked.value_uF is None and step.marked.volts is None
        if differing:
            words = f"the old part was marked {step.marked.text}: another {' and '.join(differing)} than the list's"
            found.append(Suspicion(65 if "value" in differing else 28, "marking", words))
        elif unread:
            found.append(Suspicion(15, "marking", f"the old part was marked {step.marked.text}"))
    said = setting.marked.get((step.key.board, step.key.ref), ())
    others = [f"{name} had {text}" for name, text in said if name != step.key.set]
    if others and (step.marked is None or any(text != step.marked.text for name, text in said if name != step.key.set)):
        found.append(Suspicion(20, "revision", f"in this place {', '.join(others)}: boards may differ"))
    return found


def _doubts(step: Step, _: Setting) -> list[Suspicion]:
    if step.position is None:
        return []
    known = register()
    found = []
    for code in step.position.doubts:
        title = known[code].title if code in known else code
        weight = 45 if code in known and known[code].blocks else 25
        found.append(Suspicion(weight, "doubt", f"the list is in doubt: {title}"))
    return found


def _revision(step: Step, _: Setting) -> list[Suspicion]:
    """Compare the list of today with the row that was ordered for."""
    touched = bool(step.state.fitted or step.state.out)
    if step.listed is None:
        words = "the list no longer has this position" if step.ordered else "neither list nor order has this position"
        return [Suspicion(35 if touched else 6, "revision", words)]
    if step.ordered is None:
        return []
    names = {"value_uF": "value", "volts": "voltage", "kind": "kind", "safety": "class", "pitch_mm": "pitch"}
    changed = [word for name, word in names.items() if getattr(step.listed, name) != getattr(step.ordered, name)]
    if not changed:
        return []
    weight = 60 if {"value", "voltage", "class"} & set(changed) else 25
    return [Suspicion(weight, "revision", f"the list was changed after the order: {', '.join(changed)}")]


def _overdrawn(step: Step, setting: Setting) -> list[Suspicion]:
    if not step.state.fitted or step.fitted is None or any(piece.supplier == DRAWER for piece in step.pieces):
        return []
    number = step.fitted.number
    came, used = setting.came.get(number), setting.used.get(number, 0)
    if came is None or used <= came:
        return []
    return [Suspicion(32, "count", f"{used} of {number} are fitted, but only {came} came: one of them is another part")]


def _measured(step: Step, _: Setting) -> list[Suspicion]:
    found = []
    for event in step.state.measured:
        if event.data.get("of") == "new" and step.fitted is not None:
            bad = _bad(event, step.fitted)
            if bad:
                found.append(Suspicion(80, "measured", f"the new part measured {bad}"))
    return found


def _bad(event: Event, part: Part) -> str | None:
    """Return the reading in words where it is no good for a new part, by the limits of the standards."""
    reading = Decimal(str(event.data.get("value")))
    quantity = event.data.get("quantity")
    measured = Measured(
        value_uF=reading if quantity == "capacitance" else None, esr_ohm=reading if quantity == "ESR" else None
    )
    if reading == 0 and quantity == "capacitance":
        return "0 µF: it is open, or wasn't in the meter's leads"
    if part.value_uF is None or part.volts is None or reading <= 0 or quantity not in {"capacitance", "ESR"}:
        return None
    judged = assess(Rated(part.value_uF, part.volts, part.mount), measured)
    if overall(judged) not in {Condition.TIRED, Condition.BAD}:
        return None
    return f"{event.data.get('value')} {event.data.get('unit', '')}: {judged[0].reason}"


LOOKS: Final[tuple[Callable[[Step, Setting], list[Suspicion]], ...]] = (
    _unfinished,
    _fit,
    _other_part,
    _measured,
    _marking,
    _revision,
    _doubts,
    _unchecked,
    _overdrawn,
    _out_of_order,
)
"""Every look at a step; a new one is one function and its name here."""


def setting_of(all_steps: Sequence[Step], settings: Settings, came: Mapping[str, int]) -> Setting:
    """Gather from the steps of every set what the reasons need. ``came``: pieces received, by part number."""
    homes: dict[str, set[PlaceKey]] = {}
    used: Counter[str] = Counter()
    marked: dict[tuple[str, str], list[tuple[str, str]]] = {}
    for step in all_steps:
        for piece in step.pieces:
            homes.setdefault(piece.part.number, set()).add(step.key)
        if step.state.fitted and step.fitted is not None and all(p.supplier != DRAWER for p in step.pieces):
            used[step.fitted.number] += sum(p.qty for p in step.pieces) or 1
        if step.marked is not None:
            marked.setdefault((step.key.board, step.key.ref), []).append((step.key.set, step.marked.text))
    return Setting(
        settings,
        {number: frozenset(keys) for number, keys in homes.items()},
        came,
        used,
        {place: tuple(said) for place, said in marked.items()},
        tuple(tick.when.timestamp() for step in all_steps for tick in step.state.checked),
    )
