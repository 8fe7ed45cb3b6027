"""What waits in the search over suppliers and tiers: parts of it by their bound, and leaves tried roughly."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Mapping

    import highspy

    from recap.optimise.fill import Line
    from recap.optimise.gains import Turn
    from recap.optimise.leaf import Leaf


@dataclass(frozen=True, slots=True)
class Tried:
    """What a leaf's program over the columns within ``width`` gave.

    Its value, ``proven`` the least or a rough one; the total of the order when topped up (None: it couldn't be), and
    the order's lines.
    """

    width: float
    value: float
    proven: bool
    total: int | None
    short: frozenset[int]
    lines: tuple[Line, ...]
    values: Mapping[str, float]


@dataclass(eq=False, slots=True)
class Node:
    """A part of the search: terms fixed (by the relaxation's variables), and a bound from its parent.

    Once all terms are whole it has a ``leaf`` that was ``tried`` roughly; ``exact`` are the suppliers that must be
    counted piece by piece there.
    """

    bound: float
    turn: int
    fixed: dict[int, int]
    basis: highspy.HighsBasis | None = None
    leaf: Leaf | None = None
    exact: frozenset[int] = frozenset()
    turned: Turn | None = None
    tried: Tried | None = None

    def __lt__(self, other: Node) -> bool:
        """Tell whether this one's turn comes first."""
        return self._rank() < other._rank()

    def _rank(self) -> tuple[bool, bool, float, int]:
        """Leaves come last, the most promising first: what is had by then makes short work of the others.

        And of them those last where pieces are to be counted, for the nearer the best total, the less must be weighed.
        """
        value = self.bound if self.tried is None else self.tried.value
        return self.tried is not None, bool(self.exact), value, self.turn
