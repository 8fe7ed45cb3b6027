"""The sets, boards and suppliers a command is asked about, and what it says to names that aren't there.

Sets are written the same way everywhere: ``--sets A,B``, and again if wanted.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import typer

from recap.cli import completion
from recap.cli.answers import refuse_one
from recap.cli.steps import USAGE
from recap.files import composed

if TYPE_CHECKING:
    from collections.abc import Collection, Iterable, Sequence

    from recap.bench import Bench

SETS: list[str] | None = typer.Option(None, "--sets", autocompletion=completion.sets, help="Only these sets: A,B.")


def set_names(words: Sequence[str] | None) -> tuple[str, ...]:
    """Return the names in the order given, each once; none means all sets.

    Ends the run where the option is there and names nothing: an empty word is no wish for all of them.
    """
    named = [composed(name.strip()) for word in words or () for name in word.split(",")]
    chosen = tuple(dict.fromkeys(name for name in named if name))
    if words and not chosen:
        raise typer.BadParameter("it names no set; write A,B, or leave it out for all", param_hint="--sets")
    return chosen


def check_sets(bench: Bench, names: Iterable[str], *, as_json: bool = False) -> None:
    """End the run where no set bears one of these names."""
    known = [unit.name for unit in bench.sets]
    for name in names:
        if name not in known:
            hint = f"sets.csv has {', '.join(known) or 'no sets'}"
            refuse_one("set-unknown", f"no set is called {name!r}", "--sets", hint, as_json=as_json, status=USAGE)


def check_suppliers(bench: Bench, names: Iterable[str], option: str, *, as_json: bool = False) -> None:
    """End the run where no supplier bears one of these names: left out by a wrong name, it would stay in."""
    known = sorted({*bench.suppliers, *bench.catalogues})
    for name in names:
        if name not in known:
            message = f"no supplier is called {name!r}"
            refuse_one("wrong-usage", message, option, f"there are: {', '.join(known)}", as_json=as_json, status=USAGE)


def check_boards(bench: Bench, sets: Collection[str], names: Iterable[str], *, as_json: bool = False) -> None:
    """End the run where none of the sets has a board of one of these names."""
    from recap.match.jobs import on_set, squeeze

    lists = ((unit, bench.caplists[unit.chassis]) for unit in bench.sets if unit.chassis in bench.caplists)
    boards = {p.board for unit, held in lists if unit.name in sets for p in on_set(unit, held) if p.board}
    for name in names:
        if squeeze(name) not in {squeeze(board) for board in boards}:
            hint = f"there are: {', '.join(sorted(boards)) or 'none'}"
            message = f"no board is called {name!r}"
            refuse_one("place-unknown", message, "--board", hint, as_json=as_json, status=USAGE)
