"""The checklist as content: what stands on it, whatever it is written as."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from recap.fit.worklist import by_board, by_part
from recap.model import Verdict
from recap.order.cautions import AT_THE_BENCH

if TYPE_CHECKING:
    from collections.abc import Iterable
    from datetime import date

    from recap.fit.worklist import Section, Task

BOXES: Final = ("out", "in", "checked")
"""Ticked for each position: old part out, new part in, polarity and joint checked."""


@dataclass(frozen=True, slots=True)
class Checklist:
    """Sections in the order of the work, cautions for the top, and what the parts were taken from."""

    sections: tuple[Section, ...]
    made_on: date
    origin: str
    by_part: bool = False
    cautions: tuple[str, ...] = AT_THE_BENCH

    @property
    def tasks_count(self) -> int:
        """How many lines there are to tick."""
        return sum(len(section.tasks) for section in self.sections)


def checklist(tasks: Iterable[Task], made_on: date, origin: str, *, part_by_part: bool = False) -> Checklist:
    """Arrange tasks by board, or part by part so that one bag compartment is used up at a time."""
    arrange = by_part if part_by_part else by_board
    return Checklist(arrange(tasks), made_on, origin, part_by_part)


_CARE_WORDS: Final = {Verdict.CARE: "WITH CARE", Verdict.NO: "DOES NOT FIT"}


def remarks(task: Task) -> tuple[str, ...]:
    """Return what to mind at this position besides polarity, the most dangerous first."""
    found = [f"DANGER: {text}" for text in task.dangers]
    found += [f"{_CARE_WORDS[finding.verdict]}: {finding.reason}" for finding in task.care]
    found += [f"DOUBT: {text}" for text in task.doubts]
    if task.forming:
        found.append(f"Leads: {task.forming}.")
    if task.position.note:
        found.append(f"List says: {task.position.note}")
    return tuple(found)


def runs(section: Section, most: int | None = None) -> tuple[tuple[Task, ...], ...]:
    """Return the places one after the other, those together of which all is the same but the place.

    What is to be minded is then said once for all of them. ``most`` limits how many stand together.
    """
    found: list[list[Task]] = []
    for task in section.tasks:
        if found and _but_place(found[-1][0]) == _but_place(task) and (most is None or len(found[-1]) < most):
            found[-1].append(task)
        else:
            found.append([task])
    return tuple(tuple(run) for run in found)


def _but_place(task: Task) -> tuple[object, ...]:
    return (task.old, task.new, task.source, task.polarity, remarks(task))


def where(task: Task, checklist: Checklist) -> str:
    """Return how the position is called on the list: with its board where sections aren't boards."""
    name = f"{task.ref} ({task.board})" if checklist.by_part else task.ref
    counted = task.qty > 1 if task.position.ref is not None else task.qty != task.position.qty
    return f"{name}, {task.qty} of them" if counted else name
