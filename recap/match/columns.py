"""All offers of all catalogues as columns, searched without comparing each position with each row.

Every rule names the fields it reads. Their distinct combinations get numbers (codes); a rule is
judged once for each code that is met, by the rule's own function on a part that bears it, and
rows take their verdict by looking it up. So the search is as exact as the rules themselves,
and a new rule needs nothing here.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

import numpy as np
import pandas as pd

from recap.match.rules import RULES, Rule

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from numpy.typing import NDArray

    from recap.model import Limits, Part, Position, Verdict
    from recap.read.catalogues import Catalogue

    Rows = NDArray[np.intp]
    Ranks = NDArray[np.int8]

WINDOW = (0.4, 2.6)
"""Ratios outside of which the capacitance rule says no without being asked, unless limits are set wider."""
_ROUNDING = 1e-9
_UNJUDGED = -1


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
    """The distinct combinations of some fields: a number for each row, and a row that bears each number."""

    of_row: NDArray[np.intp]
    bearer: Rows


class Offers:
    """The rows of all catalogues under one running number, with what the search has learnt so far."""

    def __init__(self, catalogues: Mapping[str, Catalogue], without: frozenset[str] = frozenset()) -> None:
        """Take the catalogues of all suppliers but those in ``without``."""
        self._catalogues = [c for name, c in catalogues.items() if name not in without]
        self._starts = np.cumsum([0, *(len(c) for c in self._catalogues)])
        self._codes: dict[tuple[str, ...], Codes] = {}
        self._tables: dict[tuple[object, ...], Ranks] = {}
        self._by_value: tuple[NDArray[np.float64], Rows, Rows] | None = None
        self._parts: dict[int, Part] = {}
        self._aspects = aspects()

    def __len__(self) -> int:
        """Return the number of rows."""
        return int(self._starts[-1])

    def part(self, row: int) -> Part:
        """Return the offer in a row, exact."""
        found = self._parts.get(row)
        if found is None:
            which = int(np.searchsorted(self._starts, row, side="right")) - 1
            found = self._catalogues[which].part(row - int(self._starts[which]))
            self._parts[row] = found
        return found

    def numbered(self, numbers: frozenset[str]) -> dict[str, list[int]]:
        """Return the rows of each part number wanted that is offered."""
        found: dict[str, list[int]] = {}
        for catalogue, start in zip(self._catalogues, self._starts, strict=False):
            for row in np.flatnonzero(catalogue.frame["part"].isin(numbers).to_numpy()):
                whole = int(row) + int(start)
                found.setdefault(self.part(whole).number, []).append(whole)
        return found

    def suiting(self, position: Position, limits: Limits, worst: Verdict) -> Rows:
        """Return the rows whose verdict for the position is ``worst`` or better, in row order.

        Rows without a capacitance never suit: what they are can't be known.
        """
        rows = self.near(position, limits)
        for aspect in self._aspects:
            if not len(rows):
                break
            rows = rows[self.ranks(aspect, position, limits, rows) <= worst.rank]
        return np.sort(rows)

    def near(self, position: Position, limits: Limits) -> Rows:
        """Return the rows whose capacitance the rule could accept, by value (not exact, never too few)."""
        assert position.value_uF is not None
        values, order, ends = self._value_index()
        old = float(position.value_uF)
        low = old * min(WINDOW[0], float(limits.capacitance_low)) * (1 - _ROUNDING)
        high = old * max(WINDOW[1], float(limits.capacitance_high), float(limits.capacitance_care)) * (1 + _ROUNDING)
        first, last = np.searchsorted(values, low, side="left"), np.searchsorted(values, high, side="right")
        return order[ends[first] : ends[last]]

    def nearest_in_value(self, position: Position, enough: int) -> Rows:
        """Return all rows of the capacitances closest by ratio, until there are ``enough``."""
        assert position.value_uF is not None
        values, order, ends = self._value_index()
        known = values[values > 0]
        skipped = len(values) - len(known)
        distance = np.abs(np.log(known / float(position.value_uF)))
        taken: list[Rows] = []
        count = 0
        for i in np.argsort(distance, kind="stable") + skipped:
            taken.append(order[ends[i] : ends[i + 1]])
            count += len(taken[-1])
            if count >= enough:
                break
        return np.sort(np.concatenate(taken)) if taken else np.empty(0, dtype=np.intp)

    def ranks(self, aspect: Aspect, position: Position, limits: Limits, rows: Rows) -> Ranks:
        """Return each row's verdict by one aspect as its rank: 0 fits (or not judged), 1 care, 2 no."""
        codes = self._coded(aspect.reads)
        key = (aspect.rule.name, aspect.reads, tuple(getattr(position, name) for name in aspect.asks), limits)
        table = self._tables.get(key)
        if table is None:
            table = np.full(len(codes.bearer), _UNJUDGED, dtype=np.int8)
            self._tables[key] = table
        met = codes.of_row[rows]
        fresh = met[table[met] == _UNJUDGED]
        if len(fresh):
            blank: dict[str, Any] = dict.fromkeys(aspect.blank)
            asked = replace(position, **blank) if blank else position
            for code in np.unique(fresh):
                finding = aspect.rule.judge(asked, self.part(int(codes.bearer[code])), limits)
                table[code] = 0 if finding is None else finding.verdict.rank
        return table[met]

    def _column(self, name: str) -> Any:  # noqa: ANN401 - whatever array the frames hold
        columns = [c.frame[name] for c in self._catalogues]
        if not columns:
            return np.empty(0)
        if isinstance(columns[0].dtype, pd.CategoricalDtype):
            columns = [column.astype(object) for column in columns]
        return columns[0] if len(columns) == 1 else pd.concat(columns, ignore_index=True)

    def _coded(self, names: tuple[str, ...]) -> Codes:
        found = self._codes.get(names)
        if found is not None:
            return found
        if len(names) == 1:
            numbers, distinct = pd.factorize(self._column(names[0]), use_na_sentinel=False)
            found = _codes(numbers, len(distinct))
        else:
            first, rest = self._coded(names[:1]), self._coded(names[1:])
            numbers, distinct = pd.factorize(first.of_row * len(rest.bearer) + rest.of_row)
            found = _codes(numbers, len(distinct))
        self._codes[names] = found
        return found

    def _value_index(self) -> tuple[NDArray[np.float64], Rows, Rows]:
        """Return the distinct capacitances in order, the rows sorted by them, and where each one's rows end."""
        if self._by_value is None:
            column = np.asarray(self._column("value_uF"), dtype=np.float64)
            codes = self._coded(("value_uF",))
            values = column[codes.bearer]
            by_size = np.argsort(values, kind="stable")
            rank = np.empty(len(values), dtype=np.intp)
            rank[by_size] = np.arange(len(values))
            small = rank.astype(np.uint16) if len(values) < np.iinfo(np.uint16).max else rank
            ranked = small[codes.of_row]
            order = np.argsort(ranked, kind="stable")
            counts = np.bincount(ranked, minlength=len(values))
            ends = np.concatenate([[0], np.cumsum(counts)]).astype(np.intp)
            known = values[by_size]
            known = known[~np.isnan(known)]
            self._by_value = (known, order, ends)
        return self._by_value


def _codes(numbers: NDArray[np.intp], count: int) -> Codes:
    bearer = np.zeros(count, dtype=np.intp)
    bearer[numbers[::-1]] = np.arange(len(numbers) - 1, -1, -1, dtype=np.intp)
    return Codes(numbers, bearer)
