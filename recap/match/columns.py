"""All offers of all catalogues as columns, searched without comparing each position with each row.

Every rule names the fields it reads. Their distinct writings and combinations have numbers (codes); a rule is
judged once for each code that is met, by the rule's own function on a part that bears it, and
rows take their verdict by looking it up. So the search is as exact as the rules themselves,
and a new rule needs nothing here.
"""

from __future__ import annotations

from bisect import bisect_right
from dataclasses import dataclass, replace
from itertools import accumulate
from typing import TYPE_CHECKING, Any

import numpy as np
import pandas as pd

from recap.bench.catalogues import NUMERIC
from recap.match.rules import RULES, Rule
from recap.model import Part

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

    from numpy.typing import NDArray

    from recap.bench.catalogues import Catalogue
    from recap.model import Limits, Position, Verdict

    Rows = NDArray[np.intp]
    Places = NDArray[np.intp]
    Ranks = NDArray[np.int8]

WINDOW = (0.4, 2.6)
"""Ratios outside of which the capacitance rule says no without being asked, unless limits are set wider."""
_ROUNDING = 1e-9
_UNJUDGED = -1
_COLUMN = {called: name for name, called in NUMERIC.items()}
"""What a catalogue calls the fields of a part; those not named here have one name in both."""


@dataclass(frozen=True, slots=True)
class Aspect:
    """One rule on the fields it reads, or on one of them where the rule judges them apart."""

    rule: Rule
    asks: tuple[str, ...]
    reads: tuple[str, ...]
    blank: tuple[str, ...] = ()


def aspects(rules: Sequence[Rule] = RULES) -> tuple[Aspect, ...]:
    """Return the rules' aspects, in the order in which they thin out rows best: capacitance first."""
    made: list[Aspect] = []
    for rule in rules:
        if rule.apart:
            made += [
                Aspect(rule, (asked,), (read,), tuple(a for a in rule.asks if a != asked))
                for asked, read in zip(rule.asks, rule.reads, strict=True)
            ]
        else:
            made.append(Aspect(rule, rule.asks, rule.reads))
    return tuple(sorted(made, key=lambda a: _FIRST.get(a.rule.name, len(_FIRST))))


_FIRST = {name: i for i, name in enumerate(("capacitance", "voltage", "life", "temperature", "mount", "kind"))}


@dataclass(frozen=True, slots=True)
class Codes:
    """The distinct combinations of some fields: a number for each place, and a place that bears each number."""

    numbers: NDArray[np.unsignedinteger]
    bearer: Places


class Offers:
    """The rows of all catalogues under one running number, with what the search has learnt so far.

    Inside, rows are sorted by capacitance, unstated ones last: a *place* is a row's rank in that
    order, so that the rows of one capacitance lie together.
    """

    def __init__(self, catalogues: Mapping[str, Catalogue], without: frozenset[str] = frozenset()) -> None:
        """Take the catalogues of all suppliers but those in ``without``."""
        self._catalogues = [c for name, c in catalogues.items() if name not in without]
        self._starts = [0, *accumulate(len(c) for c in self._catalogues)]
        self._aspects = aspects()
        self._codes: dict[tuple[str, ...], Codes] = {}
        self._tables: dict[tuple[object, ...], Ranks] = {}
        self._parts: dict[int, Part] = {}
        self._sort()

    def _sort(self) -> None:
        """Set the order of places, the distinct capacitances (floats, ascending) and where the places of each end."""
        numbers, stated = self._written("value_uF")
        values = np.array([np.nan if v is None else float(v) for v in stated], dtype=np.float64)
        by_size = np.argsort(values, kind="stable")
        rank = np.empty(len(values), dtype=_smallest(len(values)))
        rank[by_size] = np.arange(len(values))
        ranked = rank[numbers]
        self._order: Rows = np.argsort(ranked, kind="stable")
        self._values = values[by_size][~np.isnan(values[by_size])]
        counts = np.bincount(ranked, minlength=len(values))
        self._ends = np.concatenate([[0], np.cumsum(counts)]).astype(np.intp)

    def __len__(self) -> int:
        """Return the number of rows."""
        return self._starts[-1]

    def part(self, row: int) -> Part:
        """Return the offer in a row, exact."""
        found = self._parts.get(row)
        if found is None:
            which = bisect_right(self._starts, row) - 1
            found = self._catalogues[which].part(row - self._starts[which])
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

    def at(self, place: int) -> Part:
        """Return the offer at a place."""
        return self.part(int(self._order[place]))

    def _bearing(self, names: tuple[str, ...], place: int) -> Part:
        """Return a part that states these fields as the offer at a place does, and nothing else: quickly made."""
        row = int(self._order[place])
        which = bisect_right(self._starts, row) - 1
        fields, row = self._catalogues[which].fields, row - self._starts[which]
        columns = {name: fields.get(_COLUMN.get(name, name)) for name in names}
        stated = {name: column[row] for name, column in columns.items() if column is not None}
        return Part("", "", **{name: value for name, value in stated.items() if value is not None})

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
        places = self._of_value(position, limits, worst)
        for aspect in self._aspects:
            if not len(places):
                break
            places = places[self.ranks(aspect, position, limits, places) <= worst.rank]
        rows: Rows = np.sort(self._order[places])
        return rows

    def _of_value(self, position: Position, limits: Limits, worst: Verdict) -> Places:
        """Return the places whose capacitance alone is acceptable.

        Only capacitances near enough are judged (:data:`WINDOW`); those farther off the rule refuses anyway.
        """
        assert position.value_uF is not None
        old = float(position.value_uF)
        low = old * min(WINDOW[0], float(limits.capacitance_low)) * (1 - _ROUNDING)
        high = old * max(WINDOW[1], float(limits.capacitance_high), float(limits.capacitance_care)) * (1 + _ROUNDING)
        first, last = np.searchsorted(self._values, low, side="left"), np.searchsorted(self._values, high, side="right")
        ranks = self.ranks(self._aspects[0], position, limits, self._ends[first:last])
        kept = np.flatnonzero(ranks <= worst.rank) + first
        return _spans(self._ends[kept], self._ends[kept + 1])

    def thinned(self, rows: Rows, each: int) -> Rows:
        """Return the first ``each`` of the rows for every capacitance."""
        numbers, _ = self._written("value_uF")
        alike = pd.Series(numbers[rows])
        kept: Rows = rows[(alike.groupby(alike).cumcount() < each).to_numpy()]
        return kept

    def nearest_in_value(self, position: Position, enough: int) -> Places:
        """Return all places of the capacitances closest by ratio, until there are ``enough``."""
        assert position.value_uF is not None
        first = int(np.searchsorted(self._values, 0.0, side="right"))
        distance = np.abs(np.log(self._values[first:] / float(position.value_uF)))
        taken: list[int] = []
        count = 0
        for i in np.argsort(distance, kind="stable") + first:
            taken.append(int(i))
            count += int(self._ends[i + 1] - self._ends[i])
            if count >= enough:
                break
        chosen = np.sort(np.asarray(taken, dtype=np.intp))
        return _spans(self._ends[chosen], self._ends[chosen + 1])

    def distances(self, position: Position, places: Places) -> NDArray[np.float64]:
        """Return how far each place's capacitance is from the one asked for, as a ratio's logarithm."""
        assert position.value_uF is not None
        values = self._values[np.searchsorted(self._ends, places, side="right") - 1]
        found: NDArray[np.float64] = np.abs(np.log(values / float(position.value_uF)))
        return found

    def ranks(self, aspect: Aspect, position: Position, limits: Limits, places: Places) -> Ranks:
        """Return each place's verdict by one aspect as its rank: 0 fits (or not judged), 1 care, 2 no."""
        codes = self.coded(aspect.reads)
        key = (aspect.rule.name, aspect.reads, tuple(getattr(position, name) for name in aspect.asks), limits)
        table = self._tables.get(key)
        if table is None:
            table = np.full(len(codes.bearer), _UNJUDGED, dtype=np.int8)
            self._tables[key] = table
        met = codes.numbers[places]
        ranks: Ranks = table[met]
        fresh = ranks < 0
        if fresh.any():
            blank: dict[str, Any] = dict.fromkeys(aspect.blank)
            asked = replace(position, **blank) if blank else position
            for code in np.unique(met[fresh]):
                finding = aspect.rule.judge(asked, self._bearing(aspect.reads, int(codes.bearer[code])), limits)
                table[code] = 0 if finding is None else finding.verdict.rank
            ranks = table[met]
        return ranks

    def coded(self, names: tuple[str, ...]) -> Codes:
        """Return the codes of some fields, worked out on first use."""
        found = self._codes.get(names)
        if found is None:
            if len(names) == 1:
                numbers, stated = self._written(names[0])
                found = _codes(numbers[self._order], len(stated))
            else:
                first, rest = self.coded(names[:1]), self.coded(names[1:])
                both = first.numbers.astype(np.intp) * len(rest.bearer) + rest.numbers
                numbers, distinct = pd.factorize(both)
                found = _codes(numbers, len(distinct))
            self._codes[names] = found
        return found

    def _written(self, name: str) -> tuple[NDArray[np.intp], list[Any]]:
        """Return a field of all catalogues as numbers by row, and what each number stands for."""
        stated: dict[Any, int] = {}
        numbers: list[NDArray[np.intp]] = []
        for catalogue in self._catalogues:
            field = catalogue.fields.get(_COLUMN.get(name, name))
            if field is None:
                numbers.append(np.full(len(catalogue), stated.setdefault(None, len(stated)), dtype=np.intp))
            else:
                places = [stated.setdefault(meaning, len(stated)) for meaning in field.meanings]
                numbers.append(np.array(places, dtype=np.intp)[field.codes])
        return (np.concatenate(numbers) if numbers else np.empty(0, dtype=np.intp)), list(stated)


def _codes(numbers: NDArray[np.intp], count: int) -> Codes:
    bearer = np.zeros(count, dtype=np.intp)
    bearer[numbers[::-1]] = np.arange(len(numbers) - 1, -1, -1, dtype=np.intp)
    return Codes(numbers.astype(_smallest(count)), bearer)


def _smallest(count: int) -> type[np.unsignedinteger]:
    """Return the smallest type that numbers 0 to ``count``: less memory to walk through, faster sorting."""
    if count < np.iinfo(np.uint8).max:
        return np.uint8
    return np.uint16 if count < np.iinfo(np.uint16).max else np.uint32


def _spans(starts: Places, ends: Places) -> Places:
    """Return all numbers of the half-open spans, one after the other."""
    lengths = ends - starts
    if not len(starts) or not lengths.sum():
        return np.empty(0, dtype=np.intp)
    steps = np.ones(int(lengths.sum()), dtype=np.intp)
    heads = np.concatenate([[0], np.cumsum(lengths)[:-1]])
    steps[heads] = starts - np.concatenate([[0], ends[:-1] - 1])
    return np.cumsum(steps)
