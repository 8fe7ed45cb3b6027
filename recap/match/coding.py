"""Many things judged by their distinct writings: a rule is asked once for each, all take their verdict from a table.

Every rule names the fields it reads. Their distinct values and combinations have numbers (codes); a rule is
judged once for each code that is met, by the rule's own function on a part that bears it. So the
search is as exact as the rules themselves, and a new rule needs nothing here.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any, cast

import numpy as np

from recap.bench.arrow import to_arrow, to_numpy
from recap.match.rules import RULES, Rule
from recap.model import Part

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from numpy.typing import NDArray

    from recap.model import Limits, Position

    Places = NDArray[np.intp]
    Ranks = NDArray[np.int8]

_UNJUDGED = -1
_FIRST = {name: i for i, name in enumerate(("capacitance", "voltage", "life", "temperature", "mount", "kind"))}


@dataclass(frozen=True, slots=True)
class Aspect:
    """One rule on the fields it reads, or on one of them where the rule judges them apart."""

    rule: Rule
    asks: tuple[str, ...]
    reads: tuple[str, ...]
    blank: tuple[str, ...] = ()

    def asked(self, position: Position) -> Position:
        """Return the position without what this aspect doesn't judge."""
        blank: dict[str, Any] = dict.fromkeys(self.blank)
        return replace(position, **blank) if blank else position


def aspects(rules: Sequence[Rule] = RULES) -> tuple[Aspect, ...]:
    """Return the rules' aspects, in the order in which they thin out offers best: capacitance first."""
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


class _LookedAtError(Exception):
    """A rule has looked at the part."""


class _Unseen:
    """Stands in the place of a part that nobody looks at."""

    def __getattr__(self, name: str) -> object:
        raise _LookedAtError(name)


_UNSEEN = cast("Part", _Unseen())


def same_for_all(aspect: Aspect, position: Position, limits: Limits) -> int | None:
    """Return the rank that every part gets, where the rule answers without looking at the part; else None."""
    try:
        finding = aspect.rule.judge(aspect.asked(position), _UNSEEN, limits)
    except _LookedAtError:
        return None
    return 0 if finding is None else finding.verdict.rank


@dataclass(frozen=True, slots=True)
class Codes:
    """The distinct combinations of some fields: a number for each thing, and a thing that bears each number."""

    numbers: NDArray[np.unsignedinteger]
    bearer: Places


class Coding:
    """Things numbered from 0, what they state as codes, and the verdicts learnt so far."""

    def __init__(self, written: Callable[[str], tuple[NDArray[Any], Sequence[Any]]]) -> None:
        """Take what tells, for a field of a part, each thing's number and what the numbers stand for."""
        self._written = written
        self._stated: dict[str, Sequence[Any]] = {}
        self._codes: dict[tuple[str, ...], Codes] = {}
        self._tables: dict[tuple[object, ...], Ranks] = {}

    def coded(self, names: tuple[str, ...]) -> Codes:
        """Return the codes of some fields, worked out on first use."""
        found = self._codes.get(names)
        if found is None:
            if len(names) == 1:
                numbers, self._stated[names[0]] = self._written(names[0])
                found = _codes(numbers, len(self._stated[names[0]]))
            else:
                first, rest = self.coded(names[:1]), self.coded(names[1:])
                both = first.numbers.astype(np.intp) * len(rest.bearer) + rest.numbers
                distinct = to_arrow(both).dictionary_encode()
                found = _codes(to_numpy(distinct.indices), len(distinct.dictionary))
            self._codes[names] = found
        return found

    def stated(self, name: str, at: int) -> Any:  # noqa: ANN401 - what the field holds
        """Return what a thing states in one field."""
        number = self.coded((name,)).numbers[at]
        return self._stated[name][number]

    def ranks(self, aspect: Aspect, position: Position, limits: Limits, at: Places) -> Ranks:
        """Return the verdict of things by one aspect as its rank: 0 fits (or not judged), 1 care, 2 no."""
        key = (aspect.rule.name, aspect.reads, tuple([getattr(position, name) for name in aspect.asks]), limits)
        table = self._tables.get(key)
        if table is None:
            every = same_for_all(aspect, position, limits)
            if every is None:
                table = np.full(len(self.coded(aspect.reads).bearer), _UNJUDGED, dtype=np.int8)
            else:
                table = np.full(1, every, dtype=np.int8)
            self._tables[key] = table
        if len(table) == 1 and table[0] != _UNJUDGED:
            return np.full(len(at), table[0], dtype=np.int8)
        codes = self.coded(aspect.reads)
        met = codes.numbers[at]
        ranks: Ranks = table[met]
        unjudged = ranks == _UNJUDGED
        if unjudged.any():
            asked = aspect.asked(position)
            for code in np.unique(met[unjudged]):
                finding = aspect.rule.judge(asked, self._bearing(aspect.reads, int(codes.bearer[code])), limits)
                table[code] = 0 if finding is None else finding.verdict.rank
            ranks = table[met]
        return ranks

    def _bearing(self, names: tuple[str, ...], at: int) -> Part:
        """Return a part that states these fields as a thing does, and nothing else."""
        given = {name: self.stated(name, at) for name in names}
        return Part("", "", **{name: value for name, value in given.items() if value is not None})


def _codes(numbers: NDArray[Any], count: int) -> Codes:
    bearer = np.zeros(count, dtype=np.intp)
    bearer[numbers[::-1]] = np.arange(len(numbers) - 1, -1, -1, dtype=np.intp)
    return Codes(numbers.astype(smallest(count)), bearer)


def smallest(count: int) -> type[np.unsignedinteger]:
    """Return the smallest type that numbers 0 to ``count``: less memory to walk through, faster sorting."""
    if count < np.iinfo(np.uint8).max:
        return np.uint8
    return np.uint16 if count < np.iinfo(np.uint16).max else np.uint32
