"""Which term to branch on: the one of which it was seen, or is to be expected, that both sides cost much.

What it cost to turn a term to 0 or to 1, for as much as it had to be turned, is kept from each node looked into.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

LEAST = 1e-6
"""What a side counts for at least, as a share of the usual: the other side must not be forgotten over it."""


@dataclass(frozen=True, slots=True)
class Turn:
    """A term that a node fixes to a side, by how far that is from where it was."""

    place: int
    side: int
    far: float


@dataclass(slots=True)
class Gains:
    """Sums of what a term cost when turned to a side, for one whole turn, and how often that was seen."""

    seen: dict[tuple[int, int], tuple[float, int]] = field(default_factory=dict)

    def note(self, turn: Turn, gain: float) -> None:
        """Keep what a turn cost."""
        total, times = self.seen.get((turn.place, turn.side), (0.0, 0))
        self.seen[turn.place, turn.side] = total + max(gain, 0.0) / turn.far, times + 1

    def choose(self, places: Iterable[int], terms: Mapping[int, float], whole: float) -> int | None:
        """Return the place to branch on among terms that are further than ``whole`` from 0 and 1; None if none is."""
        doubtful = [place for place in places if whole < terms[place] < 1 - whole]
        usual = self._usual()
        return max(doubtful, key=lambda place: self._score(place, terms[place], usual), default=None)

    def _usual(self) -> float:
        sums = [total / times for total, times in self.seen.values()]
        return sum(sums) / len(sums) if sums else 1.0

    def _score(self, place: int, value: float, usual: float) -> float:
        sides = []
        for side, far in ((0, value), (1, 1 - value)):
            total, times = self.seen.get((place, side), (usual, 1))
            sides.append(max(total / times * far, LEAST * usual))
        return sides[0] * sides[1]
