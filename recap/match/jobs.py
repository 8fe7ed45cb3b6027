"""What is to be done on one set: the words of its job against the positions of its chassis.

The more exact word wins, whatever the order: a designator over a board, a board over ``full`` and
``none``; of two equally exact ones the one that takes away. So ``full -PSU C331`` is everything
but the PSU board, and C331 all the same. A job of nothing but words that take away starts from
``full``; so does a blank one.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from recap.normalise.designators import read_refs

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable

    from recap.model import CapList, Position, SetOnBench

FULL, NONE = "full", "none"
_NOT_A_NAME = re.compile(r"[\W_]+")


def squeeze(name: str | None) -> str:
    """Return a board's or position's name without case and punctuation: ``C-10`` and ``c10`` are one."""
    return _NOT_A_NAME.sub("", name or "").casefold()


def on_set(one: SetOnBench, caplist: CapList) -> tuple[Position, ...]:
    """Return the positions the set has: all, or those on the boards it names and those on no stated board."""
    boards = {squeeze(board) for board in one.boards}
    if not boards:
        return caplist.positions
    return tuple(p for p in caplist.positions if not p.board or squeeze(p.board) in boards)


def on_job(one: SetOnBench, caplist: CapList) -> tuple[tuple[Position, ...], tuple[str, ...]]:
    """Return the positions of the set that its job names, and the words that name nothing."""
    present = on_set(one, caplist)
    words = [(word.removeprefix("-"), not word.startswith("-")) for word in one.job]
    ranks: dict[int, tuple[int, bool]] = {i: (-1, _starts_full(words)) for i in range(len(present))}
    lost: list[str] = []
    for word, gives in words:
        level, named = _named(word, present)
        if level is None:
            lost.append(word if gives else f"-{word}")
            continue
        for i in named:
            best, kept = ranks[i]
            if level > best or (level == best and kept and not gives):
                ranks[i] = (level, gives)
    return tuple(p for i, p in enumerate(present) if ranks[i][1]), tuple(lost)


def _starts_full(words: list[tuple[str, bool]]) -> bool:
    return not any(gives or word.casefold() in {FULL, NONE} for word, gives in words)


def _named(word: str, present: tuple[Position, ...]) -> tuple[int | None, list[int]]:
    """Return how exact a word is (0 all, 1 board, 2 designator; None: names nothing) and whom it names.

    ``none`` is an exactness of 0 that names nobody, as nobody is on the job to begin with.
    """
    if word.casefold() == FULL:
        return 0, list(range(len(present)))
    if word.casefold() == NONE:
        return 0, []
    by_ref = _refs(word, present)
    if by_ref:
        return 2, by_ref
    board = squeeze(word)
    on_board = _where(present, lambda p: bool(board) and squeeze(p.board) == board)
    return (1, on_board) if on_board else (None, [])


def _refs(word: str, present: tuple[Position, ...]) -> list[int]:
    """Return who bears this designator or one of this range; else the sections of a can of that name."""
    group = read_refs(word)
    names = {squeeze(word)} | {squeeze(ref) for ref in (group.refs if group else ())}
    names.discard("")
    exact = _where(present, lambda p: squeeze(p.ref) in names)
    if exact:
        return exact
    return _where(present, lambda p: p.ref is not None and p.ref[-1:].islower() and squeeze(p.ref[:-1]) in names)


def _where(present: Iterable[Position], true: Callable[[Position], bool]) -> list[int]:
    return [i for i, position in enumerate(present) if true(position)]
