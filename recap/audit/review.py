"""Going over one's own steps: every position with its reasons, the likeliest culprit first."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from recap.audit import faults
from recap.audit.deliveries import lines, plan
from recap.audit.events import EventKind, Work
from recap.audit.places import places_of
from recap.audit.state import live
from recap.audit.story import in_words, remark
from recap.audit.suspicion import Suspicion, setting_of, suspicions
from recap.audit.trace import steps
from recap.match.jobs import squeeze

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Sequence
    from datetime import datetime

    from recap.audit.events import Event
    from recap.audit.kept import KeptOrder
    from recap.audit.places import Lists
    from recap.audit.trace import Step
    from recap.model import Part


@dataclass(frozen=True, slots=True)
class Question:
    """What is asked of an audit: a set, and what narrows it. ``about``: a fault in words."""

    set: str
    since: datetime | None = None
    board: str | None = None
    about: str | None = None


@dataclass(frozen=True, slots=True)
class Suspect:
    """A step with the reasons to look at it again, and how it goes with the fault asked about."""

    step: Step
    reasons: tuple[Suspicion, ...]
    matches: tuple[faults.Match, ...] = ()

    @property
    def score(self) -> int:
        """Rank: of reasons and of matches the strongest counts whole, each further one a quarter."""
        reasons = sorted((reason.weight for reason in self.reasons), reverse=True)
        matches = sorted((match.strength for match in self.matches), reverse=True)
        return sum(sum(found[:1]) + sum(found[1:]) // 4 for found in (reasons, matches))


@dataclass(frozen=True, slots=True)
class Review:
    """The answer: suspects by rank, and the other work on the set that may bear on a fault."""

    question: Question
    suspects: tuple[Suspect, ...]
    other_work: tuple[Event, ...]
    lacks: tuple[str, ...]


def review(
    question: Question,
    lists: Lists,
    orders: Sequence[KeptOrder],
    events: Sequence[Event],
    *,
    find: Callable[[str], Part | None],
) -> Review:
    """Go over every step of the set asked about. ``find`` gives the part of a number, None where nobody knows it."""
    meant = plan(orders, events)
    latest = meant.latest()
    every: list[Step] = []
    for unit in lists.sets:
        if unit.chassis in lists.caplists:
            every += steps(places_of(unit, lists.caplists[unit.chassis], latest), meant, events, find)
    came: dict[str, int] = {}
    for line in lines(orders, events):
        for arrival in line.arrivals:
            came[arrival.part.number] = came.get(arrival.part.number, 0) + arrival.qty
    standing = live(events)
    setting = setting_of(every, lists.settings, came)
    asked = [step for step in every if step.key.set == question.set and _narrow(step, question)]
    suspects = [Suspect(step, suspicions(step, setting), _matches(step, question.about, standing)) for step in asked]
    work = tuple(e for e in standing if _concerns(e, question))
    # sorted() keeps the order of the work among equals.
    ranked = sorted(suspects, key=lambda suspect: -suspect.score)
    return Review(question, tuple(ranked), work, lacking(events, question.set))


def lacking(events: Iterable[Event], set_name: str) -> tuple[str, ...]:
    """Return what the set lent to others and has not got back, in words."""
    lent: list[Event] = []
    for event in live(events):
        if event.kind is not EventKind.WORK or event.data.get("with") != set_name:
            continue
        if event.data.get("what") == Work.BORROWED:
            lent.append(event)
        elif event.data.get("what") == Work.RETURNED:
            mine = [e for e in lent if e.set == event.set]
            named = [
                e for e in mine if str(e.data.get("text", "")).casefold() in str(event.data.get("text", "")).casefold()
            ]
            back = (named or (mine if len(mine) == 1 else []))[-1:]
            lent = [e for e in lent if e not in back]
    return tuple(f"{e.data.get('text', 'a module')}: in {e.set} since {e.when.date().isoformat()}" for e in lent)


def _narrow(step: Step, question: Question) -> bool:
    if question.board is not None and squeeze(step.key.board) != squeeze(question.board):
        return False
    if question.since is None:
        return True
    ticks = [*step.state.out, *step.state.fitted, *step.state.checked, *step.state.measured, *step.state.notes]
    return any(tick.when >= question.since for tick in ticks)


def _matches(step: Step, about: str | None, standing: Iterable[Event]) -> tuple[faults.Match, ...]:
    if not about:
        return ()
    position = step.position
    events = [*step.state.notes, *step.state.out, *step.state.fitted]
    notes = [text.removeprefix("note: ") for event in events if (text := remark(event))]
    if position is not None and position.note:
        notes.append(position.note)
    told = [
        str(e.data.get("text", ""))
        for e in standing
        if e.set == step.key.set and e.board and e.board == step.key.board and e.ref is None and _is_told(e)
    ]
    found = (
        faults.about_role(about, position.role if position is not None else None),
        faults.about_board(about, step.key.board),
        faults.about_text(about, notes),
        faults.about_text(about, told, strength=20),
    )
    return tuple(match for match in found if match is not None)


def _is_told(event: Event) -> bool:
    return event.kind is EventKind.NOTE or (event.kind is EventKind.WORK and event.data.get("what") == Work.SYMPTOM)


def _concerns(event: Event, question: Question) -> bool:
    """Tell whether an event is other work that a fault of this set may come from."""
    mine = event.set == question.set or event.data.get("with") == question.set
    loose_note = event.kind is EventKind.NOTE and event.ref is None
    if not mine or not (event.kind is EventKind.WORK or loose_note):
        return False
    if question.since is not None and event.when < question.since:
        return False
    if question.board is not None and event.board and squeeze(event.board) != squeeze(question.board):
        return False
    if event.kind is EventKind.WORK or question.about is None:
        return True
    return faults.about_text(question.about, [in_words(event)]) is not None
