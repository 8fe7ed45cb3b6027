"""What is to be done at each position, in the order of the work: by board, or one part after the other."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import groupby
from typing import TYPE_CHECKING, Final

from recap.codes import register
from recap.fit.dangers import dangers
from recap.match.limits import limits_for
from recap.match.mechanics import forming_note
from recap.match.rules import judge
from recap.model import Kind, Mount, Verdict
from recap.order.allot import NO_BOARD, natural, place_name
from recap.order.wording import size_text, thing_text

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Mapping, Sequence

    from recap.model import Finding, Part, Position, Settings
    from recap.order.allot import Allotment

NOTHING = "NOTHING ORDERED"
"""Stands where the new part would."""


@dataclass(frozen=True, slots=True)
class Task:
    """One position, or several pieces without designators, in words.

    ``old`` is what the list says stands there, ``new`` the part that goes in (or NOTHING), ``source``
    the supplier or the drawer. ``care``: the rules that don't simply
    say that the part fits. ``doubts`` are in words.
    """

    set: str
    board: str
    ref: str
    qty: int
    position: Position
    part: Part | None
    source: str
    old: str
    new: str
    polarity: str
    forming: str | None = None
    care: tuple[Finding, ...] = ()
    dangers: tuple[str, ...] = ()
    doubts: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Section:
    """Tasks done in one go: one board of one set, or one part of it. ``title`` names that."""

    set: str
    title: str
    tasks: tuple[Task, ...]


def task(allotment: Allotment, settings: Settings) -> Task:
    """Put one allotment into words."""
    position, part = allotment.position, allotment.part
    known = register()
    return Task(
        set=allotment.set,
        board=position.board or NO_BOARD,
        ref=place_name(position),
        qty=allotment.qty,
        position=position,
        part=part,
        source=allotment.supplier or "",
        old=_described(position),
        new=NOTHING if part is None else f"{part.number}: {_described(part)}",
        polarity=polarity_mark(position, part),
        forming=None if part is None else forming_note(position, part),
        care=_care(position, part, settings),
        dangers=dangers(position),
        doubts=tuple(known[code].title if code in known else code for code in position.doubts),
    )


_MARKS: Final = {
    Kind.ELECTROLYTIC: "stripe = minus",
    Kind.TANTALUM: "bar = PLUS",
    Kind.BIPOLAR: "bipolar: no polarity",
    Kind.FILM: "no polarity",
    Kind.CERAMIC: "no polarity",
    Kind.SAFETY: "no polarity",
}
"""What marks a lead. Aluminium: TDK B41505/B43505, B41856 (minus pole marking); tantalum: from memory."""

_AXIAL_MARK: Final = "band = minus"
"""Vishay 021 ASM, doc 28325."""


def polarity_mark(position: Position, part: Part | None) -> str:
    """Say in few words which lead the mark on the part stands for: of the part, or by the list where there is none."""
    kind = position.kind if part is None or part.kind is Kind.UNKNOWN else part.kind
    mount = position.mount if part is None or part.mount is None else part.mount
    if kind is Kind.ELECTROLYTIC and mount is Mount.AXIAL:
        return _AXIAL_MARK
    return _MARKS.get(kind, "polarity not known: note how the old part stands before it comes out")


def _care(position: Position, part: Part | None, settings: Settings) -> tuple[Finding, ...]:
    if part is None:
        return ()
    judgement = judge(position, part, limits_for(settings, position.role))
    return tuple(finding for finding in judgement.findings if finding.verdict is not Verdict.FITS)


def by_board(tasks: Iterable[Task]) -> tuple[Section, ...]:
    """Return a section per set and board; designators in natural order."""
    ordered = sorted(tasks, key=lambda t: (natural(t.set), natural(t.position.board or ""), natural(t.ref)))
    return _sections(ordered, lambda t: (t.set, t.board), lambda t: t.board)


def by_part(tasks: Iterable[Task]) -> tuple[Section, ...]:
    """Return a section per set and part, by value and voltage, so that one part is used up before the next.

    What nothing was ordered for comes last.
    """
    ordered = sorted(tasks, key=lambda t: (natural(t.set), *part_key(t.part), natural(t.board), natural(t.ref)))
    return _sections(ordered, lambda t: (t.set, t.part.number if t.part else ""), lambda t: t.new)


def part_key(part: Part | None) -> tuple[object, ...]:
    """Return a sort key: value, voltage, number; unknown values after known ones, no part at all last."""
    if part is None:
        return (2,)
    unknown = part.value_uF is None
    return (int(unknown), part.value_uF or 0, part.volts or 0, part.number)


def _sections(
    ordered: Sequence[Task], key: Callable[[Task], tuple[str, str]], title: Callable[[Task], str]
) -> tuple[Section, ...]:
    found = []
    for _, run in groupby(ordered, key):
        tasks = tuple(run)
        found.append(Section(tasks[0].set, title(tasks[0]), tasks))
    return tuple(found)


def sets_of(sections: Iterable[Section]) -> Mapping[str, tuple[Section, ...]]:
    """Return the sections by set, in their order."""
    found: dict[str, tuple[Section, ...]] = {}
    for section in sections:
        found[section.set] = (*found.get(section.set, ()), section)
    return found


def _described(thing: Part | Position) -> str:
    size = size_text(thing)
    return f"{thing_text(thing)}, {size}" if size else thing_text(thing)
