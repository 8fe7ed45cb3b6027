"""One substitution looked at from all sides: verdict, margins, life, how it goes in, what to beware of."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from operator import attrgetter
from typing import TYPE_CHECKING

from recap.match.electrical import WET
from recap.match.findings import CARE, FITS, NO
from recap.match.gauges import Gauge, gauges
from recap.match.life import CAUTIOUS, LifeEstimate, estimate
from recap.match.limits import PROFILES, SOURCES
from recap.match.mechanics import physical_fit
from recap.match.protection import cautions
from recap.match.rules import judge
from recap.model import Finding, Judgement, Kind, Verdict
from recap.normalise.writing import plain

if TYPE_CHECKING:
    from collections.abc import Iterator
    from datetime import date

    from recap.model import Citation, Limits, Part, Position

INSIDE_C = Decimal(45)
"""Ambient inside a ventilated set that is taken where none is stated (common practice)."""


@dataclass(frozen=True, slots=True)
class Use:
    """What is known of the use beyond the position itself: ambient temperature, life model, dates for the drawer."""

    ambient_C: Decimal | None = None
    model: str = CAUTIOUS
    bought: date | None = None
    today: date | None = None


@dataclass(frozen=True, slots=True)
class Margin:
    """The whole answer for one part in one position. ``ambient_assumed``: not stated, so :data:`INSIDE_C` was taken.

    ``steps``: how it goes in, by ``step_sources``.
    """

    position: Position
    part: Part
    judgement: Judgement
    gauges: tuple[Gauge, ...]
    life: LifeEstimate | None
    ambient_C: Decimal
    ambient_assumed: bool
    steps: tuple[str, ...]
    remarks: tuple[str, ...]
    cautions: tuple[str, ...]
    step_sources: tuple[Citation, ...] = ()

    @property
    def verdict(self) -> Verdict:
        """The worst rule's verdict."""
        return self.judgement.verdict

    @property
    def tightness(self) -> tuple[float, ...]:
        """A key that sorts the worst first: by verdict, then by how little room the tightest numbers leave."""
        return (-self.verdict.rank, *sorted(gauge.room for gauge in self._telling))

    @property
    def narrowest(self) -> Gauge | None:
        """The number that leaves least room."""
        return min(self._telling, key=attrgetter("room"), default=None)

    @property
    def _telling(self) -> list[Gauge]:
        """The gauges that tell of room: the same capacitance or temperature as asked leaves none and wants none."""
        return [g for g in self.gauges if g.label not in {"capacitance", "temperature"} or g.has != g.asked]


def weigh(position: Position, part: Part, limits: Limits, use: Use | None = None) -> Margin:
    """Return what there is to say of ``part`` in ``position``: every rule, and the ambient where it is stated."""
    how = use or Use()
    judged = judge(position, part, limits, bought=how.bought, today=how.today)
    if how.ambient_C is not None:
        judged = Judgement((*judged.findings, *ambient(how.ambient_C, part, limits)))
    life, remarks = _life(position, part, how)
    fitting = physical_fit(position, part)
    return Margin(
        position=position,
        part=part,
        judgement=judged,
        gauges=tuple(gauges(position, part, judged, limits)),
        life=life,
        ambient_C=INSIDE_C if how.ambient_C is None else how.ambient_C,
        ambient_assumed=how.ambient_C is None,
        steps=fitting.steps,
        remarks=(*remarks, *_unjudged(position, part)),
        cautions=cautions(position),
        step_sources=fitting.sources,
    )


def ambient(ambient_C: Decimal, part: Part, limits: Limits) -> Iterator[Finding]:
    """Judge the part's rated temperature against where it works; the derating profile may ask for headroom."""
    if part.temp_C is None:
        return
    spare = part.temp_C - ambient_C
    profile = PROFILES.get(limits.profile or "")
    headroom = None if profile is None else profile.headroom_K
    source = SOURCES["ambient"] if profile is None or headroom is None else profile.source
    words = f"works at {plain(ambient_C)} °C, rated for {part.temp_C} °C"
    if spare < 0:
        verdict, words, source = NO, f"{words}: beyond its rating", SOURCES["ambient"]
    elif headroom is not None and spare < headroom:
        verdict, words = CARE, f"{words}: less than the {plain(headroom)} K of headroom asked for"
    else:
        verdict = FITS
    yield Finding("ambient", verdict, words, ambient_C, Decimal(part.temp_C), spare, "°C", source)


def _life(position: Position, part: Part, use: Use) -> tuple[LifeEstimate | None, tuple[str, ...]]:
    """Return the life by the model asked for, or why there is none."""
    made_of = position.kind if part.kind is Kind.UNKNOWN else part.kind
    if made_of not in WET and made_of is not Kind.UNKNOWN:
        return None, (f"{made_of.value}: no electrolyte to dry out, so no life is estimated",)
    if part.life_h is None or part.temp_C is None:
        return None, ("no life is estimated: the part states no rated life and temperature",)
    stated = INSIDE_C if use.ambient_C is None else use.ambient_C
    try:
        found = estimate(
            part.life_h,
            part.temp_C,
            stated,
            ripple_ratio=_over(position.ripple_mA, part.ripple_mA),
            voltage_ratio=_over(position.operating_V, part.volts),
            model=use.model,
        )
    except ValueError as problem:
        return None, (f"no life is estimated: {problem}",)
    return found, ()


def _over(actual: Decimal | None, rated: Decimal | None) -> Decimal | None:
    return actual / rated if actual is not None and rated else None


def _unjudged(position: Position, part: Part) -> list[str]:
    """Return what the rules could not judge and a person should know of."""
    told = []
    if position.kind is Kind.UNKNOWN:
        told.append("the old part's kind isn't stated, so kind was not judged: electrolytic, bipolar, film?")
        if part.kind is Kind.UNKNOWN and part.life_h is None:
            told.append("nor was life, which counts for electrolytics only: state the kind, or the hours (2000h)")
    if position.volts is None and position.operating_V is None:
        told.append("neither the old rating nor the working voltage is stated, so voltage was not judged")
    if position.value_uF is None:
        told.append("the old capacitance isn't stated, so capacitance was not judged")
    return told
