"""The sets on the bench: ``sets.csv`` to :class:`~recap.model.SetOnBench`. Names of boards keep their spaces."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from recap.bench.records import read_records
from recap.diagnostics import Diagnostic, error
from recap.files import composed
from recap.model import SetOnBench
from recap.read.headers import nearest
from recap.read.vocabulary import SETS

if TYPE_CHECKING:
    from collections.abc import Mapping
    from pathlib import Path

    from recap.bench.records import Record
    from recap.model import CapList

_BREAK = re.compile(r"[\s,;]+")
_NOT_A_NAME = re.compile(r"[\W_]+")
_EVERYTHING = frozenset({"all", "alle", "tous", "tutti", "todos", "*"})


def read_sets(
    path: Path, caplists: Mapping[str, CapList], unreadable: frozenset[str] = frozenset()
) -> tuple[tuple[SetOnBench, ...], list[Diagnostic]]:
    """Return the sets; a chassis or board that no cap list has is an error at its cell.

    ``unreadable`` are chassis whose list has errors of its own: they exist, but can't be checked.
    """
    records, told = read_records(path, SETS, ("set", "chassis"))
    sets: list[SetOnBench] = []
    seen: dict[str, int | None] = {}
    for record in records.rows:
        name = composed(record.text("set"))
        if not name:
            told.append(error("set-missing", "the row names no set", record.place("set"), "type its name"))
            continue
        if name.casefold() in seen:
            message = f"set {name!r} stands in row {seen[name.casefold()]} too"
            told.append(error("set-twice", message, record.place("set"), "give each set a name of its own", name))
            continue
        seen[name.casefold()] = record.source.row
        one, said = _set(record, name, caplists, unreadable)
        told += said
        sets.append(one)
    return tuple(sets), told


def _set(
    record: Record, name: str, caplists: Mapping[str, CapList], unreadable: frozenset[str]
) -> tuple[SetOnBench, list[Diagnostic]]:
    told: list[Diagnostic] = []
    chassis = composed(record.text("chassis"))
    alike = (caplist for other, caplist in caplists.items() if other.casefold() == chassis.casefold())
    caplist = caplists.get(chassis) or next(alike, None)
    if caplist is None and chassis not in unreadable:
        told.append(_unknown_chassis(record, name, chassis, caplists))
    boards = _board_names(caplist)
    wanted: tuple[str, ...] = ()
    if record.text("boards").casefold() not in _EVERYTHING:
        wanted = _words(record.text("boards"), boards)
    if caplist is not None:
        told += [_unknown_board(record, word, boards) for word in wanted if not _is_board(word, boards)]
    known = caplist.chassis if caplist is not None else chassis
    job = _words(record.text("job"), boards)
    return SetOnBench(name, known, wanted, job, record.text("note") or None, record.source), told


def squeeze(name: str) -> str:
    """Return a board's name without case and punctuation."""
    return _NOT_A_NAME.sub("", name).casefold()


def _is_board(word: str, boards: Mapping[str, str]) -> bool:
    """Tell whether a board is called so; ``-AUDIO`` names none, for that would be the opposite of what is meant."""
    name = boards.get(squeeze(word))
    return name is not None and (not word.startswith("-") or name.startswith("-"))


def _board_names(caplist: CapList | None) -> dict[str, str]:
    if caplist is None:
        return {}
    return {squeeze(p.board): p.board for p in caplist.positions if p.board}


def _words(text: str, boards: Mapping[str, str]) -> tuple[str, ...]:
    """Split at spaces and commas, but leave together what is one board's name; a leading ``-`` stays."""
    words = [word for word in _BREAK.split(text) if word]
    found: list[str] = []
    at = 0
    while at < len(words):
        sign = "-" if words[at].startswith("-") else ""
        for end in range(min(len(words), at + 6), at + 1, -1):
            together = squeeze("".join([words[at].removeprefix("-"), *words[at + 1 : end]]))
            if together in boards and not any(word.startswith("-") for word in words[at + 1 : end]):
                found.append(sign + boards[together])
                at = end
                break
        else:
            found.append(words[at])
            at += 1
    return tuple(found)


def _unknown_chassis(record: Record, name: str, chassis: str, caplists: Mapping[str, CapList]) -> Diagnostic:
    if not chassis:
        return error("chassis-unknown", f"set {name!r} states no chassis", record.place("chassis"), "type its name")
    guess = nearest(chassis, {other: other for other in caplists})
    there = ", ".join(sorted(caplists)) or "none yet"
    hint = f"there are: {there}; recap import FILE --bench BENCH --chassis {chassis} adds one"
    message = f"set {name!r}: there is no cap list for chassis {chassis!r}"
    return error("chassis-unknown", message, record.place("chassis"), f"{guess}; {hint}" if guess else hint, chassis)


def _unknown_board(record: Record, word: str, boards: Mapping[str, str]) -> Diagnostic:
    message = f"the cap list has no board {word!r}"
    there = ", ".join(sorted(boards.values())) or "it names none"
    hint = f"its boards: {there}"
    left = sorted(set(boards.values()) - {boards.get(squeeze(word))})
    if word.startswith("-") and len(left) < len(boards):
        message = f"{word!r}: here stand the boards that the set has; only in job does - take one away"
        hint = f"write those it has: {', '.join(left)}"
    return error("board-unknown", message, record.place("boards"), hint, word)
