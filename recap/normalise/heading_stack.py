"""How long a heading holds: headings form a stack.

A new one ends those of its own rank and all that were opened below them: a new board ends the mount that was
set under the old board, but not the mount that was set for all boards.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from functools import lru_cache

from recap.normalise.positions import NOWHERE, Context


@dataclass(frozen=True, slots=True)
class Heading:
    """What one heading sets.

    ``level`` is its depth where the text shows one (``##``); ``general`` where it speaks of all parts.
    """

    sets: Context
    level: int | None = None
    general: bool = False
    of_kind: bool = False
    """It speaks of the parts of its kind alone (``All electrolytics are radial``), not of what the others are."""

    @property
    def is_class(self) -> bool:
        """Whether it only says of what sort the parts are."""
        return bool(self.ranks()) and not self.ranks() & {"board", "others"}

    def ranks(self) -> frozenset[str]:
        """Return which sorts of statement it makes."""
        return frozenset(name for name in Context.__dataclass_fields__ if getattr(self.sets, name) is not None)


@dataclass(frozen=True, slots=True)
class Judged:
    """A heading read, or None and why not; ``is_title`` where it only names the list."""

    heading: Heading | None
    is_title: bool = False

    @property
    def sets_something(self) -> bool:
        """Whether it is a heading that says something of what stands below it."""
        return self.heading is not None and bool(self.heading.ranks())


@dataclass(slots=True)
class Stack:
    """The headings that hold at a line, outermost first."""

    open: list[Heading] = field(default_factory=list)
    bearing: Heading | None = None
    """The innermost heading of the last record."""

    def push(self, heading: Heading) -> None:
        """Open a heading, ending those it takes the place of."""
        if any("board" in other.ranks() for other in self.open):
            heading = replace(heading, general=False)  # all of this board
        if heading.sets.board and heading.level is None:
            self._end_borne()
        heading = self._beside(heading)
        at = len(self.open)
        for index in range(len(self.open) - 1, -1, -1):
            other = self.open[index]
            if self._ends(heading, other):
                at = index
            elif (
                heading.level is None and "board" not in heading.ranks() and (other.general or "board" in other.ranks())
            ):
                break  # what is said under a board ends nothing above it
        del self.open[at:]
        if self.open and _hides(heading, self.open[-1]):
            self.open.pop()
        self.open.append(heading)

    def _beside(self, heading: Heading) -> Heading:
        """End a class of parts that has its records (``SMD, 25 V``) before the next class, which stands beside it."""
        last = self.open[-1] if self.open else None
        if last is None or last is not self.bearing or not heading.is_class:
            return heading
        listed = last.level is None and not last.general and not last.sets.board and not last.sets.others
        if heading.level is not None or not listed:
            return heading
        self.open.pop()
        return heading if last.sets.others is None else replace(heading, sets=replace(heading.sets, others=False))

    def _end_borne(self) -> None:
        """End a class of parts (``Axial``) with its records before a board that isn't part of it."""
        last = self.open[-1] if self.open else None
        if last is not None and last is self.bearing and last.level is None and not last.general:
            while self.open and self.open[-1].level is None and not self.open[-1].general and self.open[-1].is_class:
                self.open.pop()

    @staticmethod
    def _ends(heading: Heading, other: Heading) -> bool:
        if heading.level is not None and other.level is not None:
            return other.level >= heading.level
        if heading.sets.board and other.sets.others:
            return True
        if other.level is not None and heading.sets.board:
            return False  # a board named without a level stands inside the section, and ends with it
        return bool(other.ranks() & heading.ranks()) and not other.general

    def bear(self) -> None:
        """Note that a record stands below the innermost heading."""
        self.bearing = self.open[-1] if self.open else None

    def end_attributes(self, level: int | None) -> None:
        """End what headings said of kind, mount and the like, but not the boards: the rest of the list follows."""
        left = []
        for heading in self.open:
            outer = level is not None and heading.level is not None and heading.level < level
            if heading.general or outer:
                left.append(heading)
            elif heading.sets.board is not None or heading.sets.others is not None:
                sets = replace(NOWHERE, board=heading.sets.board, others=heading.sets.others)
                left.append(replace(heading, sets=sets))
        self.open[:] = left

    def end_section(self) -> None:
        """End what headings said under the board that is open: a heading that isn't understood stands here."""
        while self.open and not self.open[-1].general and "board" not in self.open[-1].ranks():
            self.open.pop()

    def end_board(self) -> None:
        """End the board that is open and all that was said under it: a heading stands here that isn't understood."""
        at = next((i for i, heading in enumerate(self.open) if "board" in heading.ranks() and heading.level != 0), None)
        if at is not None:
            del self.open[at:]

    @property
    def in_board(self) -> bool:
        """Whether the innermost heading names a board and records stand below it."""
        last = self.open[-1] if self.open else None
        return last is not None and last is self.bearing and last.sets.board is not None and last.level is None

    def context(self) -> Context:
        """Return what all open headings together say; the inner one wins."""
        return _together(tuple(self.open)) if self.open else NOWHERE


def _hides(heading: Heading, other: Heading) -> bool:
    """Tell whether nothing of ``other`` shows below ``heading``, and it ends no later: a list that repeats itself."""
    alike = heading.general and other.general and heading.level is None and other.level is None
    return alike and heading.sets.others is None and other.sets.others is None and other.ranks() <= heading.ranks()


@lru_cache(maxsize=64)
def _together(headings: tuple[Heading, ...]) -> Context:
    found = NOWHERE
    for heading in headings:
        stated = {name: getattr(heading.sets, name) for name in heading.ranks()}
        found = replace(found, **stated)
    return found
