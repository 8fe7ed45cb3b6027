"""All offers of all catalogues as columns, searched without comparing each position with each row.

Offers that state the same value, voltage, kind and so on lie together in cells
(:mod:`recap.bench.cells`). A group's search begins at the cells of the right capacitances, found by
a sorted index, and drops those that a rule refuses; only then it looks at the rows in the cells that are left, for
what cells don't tell. Rules judge distinct values, not cells and rows (``coding.py``).
"""

from __future__ import annotations

from bisect import bisect_right
from itertools import accumulate
from typing import TYPE_CHECKING, Any, Protocol

import numpy as np

from recap.bench.cells import ALIKE
from recap.bench.offers import NUMERIC
from recap.match.coding import Coding, aspects, smallest

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

    from numpy.typing import NDArray

    from recap.bench.cells import Cells
    from recap.bench.meanings import Field
    from recap.match.coding import Aspect
    from recap.model import Limits, Part, Position, Verdict

    Rows = NDArray[np.intp]
    CellNumbers = NDArray[np.intp]
    Ranks = NDArray[np.int8]

WINDOW = (0.4, 2.6)
"""Ratios outside of which the capacitance rule says no without being asked, unless limits are set wider."""
_ROUNDING = 1e-9
_COLUMN = {called: name for name, called in NUMERIC.items()}
"""What a catalogue calls the fields of a part; those not named here have one name in both."""
_VALUE = ("value_uF",)


class Stock(Protocol):
    """What a search looks at in a catalogue: its columns, its cells, and parts of some rows."""

    @property
    def fields(self) -> Mapping[str, Field]:
        """Each column's distinct values, and which row has which."""
        ...

    @property
    def cells(self) -> Cells:
        """The rows by what they have in common."""
        ...

    def __len__(self) -> int:
        """Return the number of rows."""
        ...

    def parts(self, rows: Sequence[int]) -> list[Part]:
        """Return the offers in ``rows``, exact and in that order."""
        ...

    def rows_of(self, numbers: Iterable[str]) -> Mapping[str, Sequence[int]]:
        """Return the rows of each of these part numbers that is offered."""
        ...


class Offers:
    """The rows of all catalogues under one running number, with what the search has learnt so far.

    Their cells are numbered by capacitance, unstated ones last, so that those of one capacitance lie together.
    """

    def __init__(self, catalogues: Mapping[str, Stock], without: frozenset[str] = frozenset()) -> None:
        """Take the catalogues of all suppliers but those in ``without``."""
        self._catalogues = [c for name, c in catalogues.items() if name not in without]
        self._starts = [0, *accumulate(len(c) for c in self._catalogues)]
        told = {read for read in ALIKE for read in (NUMERIC.get(read, read),)}
        self._by_cell = tuple(a for a in aspects() if told.issuperset(a.reads))
        self._by_row = tuple(a for a in aspects() if not told.issuperset(a.reads))
        self._meanings: dict[str, tuple[list[Any], list[NDArray[np.intp]]]] = {}
        self._parts: dict[int, Part] = {}
        self._in_rows = Coding(self._written_by_row)
        self._in_cells = Coding(self._written_by_cell)
        self._sort()

    def _sort(self) -> None:
        """Set the order of cells, the distinct capacitances (floats, ascending) and where the cells of each end."""
        stated, places = self._meaning("value_uF")
        values = np.array([np.nan if v is None else float(v) for v in stated], dtype=np.float64)
        self._stated_uF = values
        by_size = np.argsort(values, kind="stable")
        rank = np.empty(len(values), dtype=smallest(len(values)))
        rank[by_size] = np.arange(len(values))
        cells = [catalogue.cells for catalogue in self._catalogues]
        ranked = _joined([rank[self._of_cells(c, "value_uF", place)] for c, place in zip(cells, places, strict=True)])
        self._order: CellNumbers = np.argsort(ranked, kind="stable")
        self._rows = _joined([c.rows + start for c, start in zip(cells, self._starts, strict=False)])
        self._first = _joined([c.ends[:-1] + start for c, start in zip(cells, self._starts, strict=False)])[self._order]
        self._last = _joined([c.ends[1:] + start for c, start in zip(cells, self._starts, strict=False)])[self._order]
        counts = np.bincount(ranked, minlength=len(values))
        ends = np.concatenate([[0], np.cumsum(counts)]).astype(np.intp)
        known = int(np.count_nonzero(~np.isnan(values)))  # unknown ones sort last
        there = np.flatnonzero(counts[:known])  # a text may stand in no row that is left: then no cell bears it
        self._values = values[by_size][there]
        self._ends = np.append(ends[there], ends[known])

    def __len__(self) -> int:
        """Return the number of rows."""
        return self._starts[-1]

    def part(self, row: int) -> Part:
        """Return the offer in a row, exact."""
        found = self._parts.get(row)
        if found is None:
            which = bisect_right(self._starts, row) - 1
            (found,) = self._catalogues[which].parts([row - self._starts[which]])
            self._parts[row] = found
        return found

    def parts(self, rows: Sequence[int]) -> list[Part]:
        """Return the offers in ``rows``, which must be ascending."""
        ends = np.searchsorted(np.asarray(rows), self._starts)
        made: list[Part] = []
        for catalogue, start, first, last in zip(self._catalogues, self._starts, ends, ends[1:], strict=False):
            if first < last:
                made += catalogue.parts([row - start for row in rows[first:last]])
        return made

    def numbered(self, numbers: Iterable[str]) -> dict[str, list[int]]:
        """Return the rows of each part number wanted that is offered."""
        found: dict[str, list[int]] = {}
        for catalogue, start in zip(self._catalogues, self._starts, strict=False):
            for number, rows in catalogue.rows_of(numbers).items():
                found.setdefault(number, []).extend(row + start for row in rows)
        return found

    def suiting(self, position: Position, limits: Limits, worst: Verdict) -> Rows:
        """Return the rows whose verdict for the position is ``worst`` or better, ascending.

        Rows without a capacitance never suit: what they are can't be known.
        """
        cells = self._of_value(position, limits, worst)
        for aspect in self._by_cell:
            if not len(cells):
                break
            cells = cells[self._in_cells.ranks(aspect, position, limits, cells) <= worst.rank]
        rows = self._rows_in(cells)
        for aspect in self._by_row:
            if not len(rows):
                break
            rows = rows[self.ranks(aspect, position, limits, rows) <= worst.rank]
        return np.sort(rows)

    def _of_value(self, position: Position, limits: Limits, worst: Verdict) -> CellNumbers:
        """Return the cells whose capacitance alone is acceptable.

        Only capacitances near enough are judged (:data:`WINDOW`); those farther off the rule refuses anyway.
        """
        assert position.value_uF is not None
        old = float(position.value_uF)
        low = old * min(WINDOW[0], float(limits.capacitance_low)) * (1 - _ROUNDING)
        high = old * max(WINDOW[1], float(limits.capacitance_high), float(limits.capacitance_care)) * (1 + _ROUNDING)
        first, last = np.searchsorted(self._values, low, "left"), np.searchsorted(self._values, high, "right")
        capacitance = next(a for a in self._by_cell if a.reads == _VALUE)
        ranks = self._in_cells.ranks(capacitance, position, limits, self._ends[first:last])
        kept = np.flatnonzero(ranks <= worst.rank) + first
        return _spans(self._ends[kept], self._ends[kept + 1])

    def _rows_in(self, cells: CellNumbers) -> Rows:
        """Return the rows in these cells."""
        found: Rows = self._rows[_spans(self._first[cells], self._last[cells])].astype(np.intp)
        return found

    def thinned(self, rows: Rows, each: int) -> Rows:
        """Return the first ``each`` of the rows for every capacitance."""
        numbers = self._in_rows.coded(_VALUE).numbers[rows]
        order = np.argsort(numbers, kind="stable")
        first = np.searchsorted(numbers[order], numbers[order], "left")  # where each one's capacitance begins
        kept: Rows = np.sort(order[np.arange(len(order)) - first < each])
        return rows[kept]

    def nearest_in_value(self, position: Position, enough: int) -> Rows:
        """Return all rows of the capacitances closest by ratio until there are ``enough``, by capacitance and row."""
        assert position.value_uF is not None
        values = self._values
        first = int(np.searchsorted(values, 0.0, side="right"))
        distance = np.abs(np.log(values[first:] / float(position.value_uF)))
        taken: list[int] = []
        count = 0
        for i in np.argsort(distance, kind="stable") + first:
            taken.append(int(i))
            of_value = slice(self._ends[i], self._ends[i + 1])
            count += int((self._last[of_value] - self._first[of_value]).sum())
            if count >= enough:
                break
        spans = [np.arange(self._ends[i], self._ends[i + 1]) for i in sorted(taken)]
        return _joined([np.sort(self._rows_in(cells)) for cells in spans])

    def distances(self, position: Position, rows: Rows) -> NDArray[np.float64]:
        """Return how far each row's capacitance, which is stated, is from the one asked for, as a ratio's logarithm."""
        assert position.value_uF is not None
        values = self._stated_uF[self._in_rows.coded(_VALUE).numbers[rows]]
        found: NDArray[np.float64] = np.abs(np.log(values / float(position.value_uF)))
        return found

    def ranks(self, aspect: Aspect, position: Position, limits: Limits, rows: Rows) -> Ranks:
        """Return each row's verdict by one aspect as its rank: 0 fits (or not judged), 1 care, 2 no."""
        return self._in_rows.ranks(aspect, position, limits, rows)

    def codes(self, aspect: Aspect, rows: Rows) -> NDArray[np.unsignedinteger]:
        """Return numbers that are the same for rows which state the same of what the aspect reads."""
        return self._in_rows.coded(aspect.reads).numbers[rows]

    def _meaning(self, name: str) -> tuple[list[Any], list[NDArray[np.intp]]]:
        """Return all that the catalogues state in a field, and the place in it of each catalogue's codes."""
        known = self._meanings.get(name)
        if known is None:
            stated: dict[Any, int] = {}
            places = []
            for catalogue in self._catalogues:
                field = catalogue.fields.get(_COLUMN.get(name, name))
                meanings = (None,) if field is None else field.meanings
                places.append(np.array([stated.setdefault(one, len(stated)) for one in meanings], dtype=np.intp))
            known = self._meanings[name] = (list(stated), places)
        return known

    def _written_by_row(self, name: str) -> tuple[NDArray[Any], list[Any]]:
        """Return a field of all rows as numbers, and what each number stands for."""
        stated, places = self._meaning(name)
        kind = smallest(len(stated))
        numbers = []
        for catalogue, place in zip(self._catalogues, places, strict=True):
            field = catalogue.fields.get(_COLUMN.get(name, name))
            narrow = place.astype(kind)
            numbers.append(np.full(len(catalogue), narrow[0]) if field is None else narrow[field.codes])
        return _joined(numbers), stated

    def _written_by_cell(self, name: str) -> tuple[NDArray[Any], list[Any]]:
        """Return a field of all cells as numbers, and what each number stands for."""
        stated, places = self._meaning(name)
        numbers = [self._of_cells(c.cells, name, place) for c, place in zip(self._catalogues, places, strict=True)]
        return _joined(numbers)[self._order], stated

    @staticmethod
    def _of_cells(cells: Cells, name: str, place: NDArray[np.intp]) -> NDArray[np.intp]:
        codes = cells.codes.get(_COLUMN.get(name, name))
        return np.full(len(cells), place[0]) if codes is None else place[codes]


def _joined(arrays: list[NDArray[Any]]) -> NDArray[Any]:
    return np.concatenate(arrays) if arrays else np.empty(0, dtype=np.intp)


def _spans(starts: NDArray[Any], ends: NDArray[Any]) -> NDArray[np.intp]:
    """Return all numbers of the half-open spans, one after the other."""
    lengths = ends - starts
    if not len(starts) or not lengths.sum():
        return np.empty(0, dtype=np.intp)
    steps = np.ones(int(lengths.sum()), dtype=np.intp)
    filled = np.flatnonzero(lengths)
    if len(filled) < len(lengths):
        starts, ends, lengths = starts[filled], ends[filled], lengths[filled]
    heads = np.concatenate([[0], np.cumsum(lengths)[:-1]])
    steps[heads] = starts - np.concatenate([[0], ends[:-1] - 1])
    return np.cumsum(steps)
