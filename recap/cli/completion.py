"""What a shell may complete besides commands and options: names that a bench holds, and words from fixed lists.

A key press asks for these, so nothing heavy is imported, no catalogue is read, and where a name can't be found
nothing is offered: the command itself says what is wrong.
"""

from __future__ import annotations

import os
from pathlib import Path
from typing import TYPE_CHECKING

import typer  # noqa: TC002 - Typer reads annotations at run time

from recap.cli.here import is_bench

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator, Mapping

TABLES = (".csv", ".tsv", ".xlsx")


def sets(context: typer.Context, incomplete: str) -> list[str]:
    """Complete names of the bench's sets; after a comma the next one of ``A,B``."""
    before, comma, last = incomplete.rpartition(",")
    given = {name.strip() for name in before.split(",")}
    names = _starting(last, (name for name in _sets(_bench(context)) if name not in given))
    return [f"{before}{comma}{name}" for name in names]


def one_set(context: typer.Context, incomplete: str) -> list[str]:
    """Complete the name of one of the bench's sets."""
    return _starting(incomplete, _sets(_bench(context)))


def suppliers(context: typer.Context, incomplete: str) -> list[str]:
    """Complete the name of a seller: whoever has terms or a catalogue."""
    folder = _bench(context)
    return _starting(incomplete, sellers(folder) if folder else ())


def chassis(context: typer.Context, incomplete: str) -> list[str]:
    """Complete the name of a chassis that has a list."""
    folder = _bench(context)
    return _starting(incomplete, _stems(folder / "caplists", (*TABLES, ".txt", ".md")) if folder else ())


def codes(incomplete: str) -> list[str]:
    """Complete a code that a message may bear."""
    from recap.codes import register

    return _starting(incomplete, register())


def topics(incomplete: str) -> list[str]:
    """Complete a topic of the guide."""
    from recap.guide import TOPICS

    return _starting(incomplete, (topic.name for topic in TOPICS))


def roles(incomplete: str) -> list[str]:
    """Complete what a position may do in its circuit."""
    from recap.model import Role

    return _starting(incomplete, Role)


def models(incomplete: str) -> list[str]:
    """Complete a life model, or the most cautious of them."""
    from recap.match.life import CAUTIOUS, MODELS

    return _starting(incomplete, (CAUTIOUS, *MODELS))


def profiles(incomplete: str) -> list[str]:
    """Complete a derating profile."""
    from recap.match.limits import PROFILES

    return _starting(incomplete, PROFILES)


def words(*known: str) -> Callable[[str], list[str]]:
    """Return a completer for a fixed list of words."""

    def complete(incomplete: str) -> list[str]:
        return _starting(incomplete, known)

    return complete


def _starting(begin: str, names: Iterable[str]) -> list[str]:
    """Names that begin so, each once; for bash, which takes them as typed, what parts words is escaped."""
    found = sorted({name for name in names if name.startswith(begin)})
    if os.environ.get("_RECAP_COMPLETE") != "complete_bash":
        return found
    return ["".join(f"\\{sign}" if sign in " '\"&;()<>|$`\\*?[]!#" else sign for sign in name) for name in found]


def _bench(context: typer.Context) -> Path | None:
    """Return the bench folder that stands in the command line already.

    A line that ends in an option without its value isn't parsed: the first folder among its words is the bench.
    """
    given = context.params.get("bench")
    folders = (Path(word).expanduser() for word in ([given] if given else context.args))
    named = next((folder for folder in folders if folder.is_dir()), None)
    return named or (Path() if is_bench(Path()) else None)


def _stems(folder: Path, endings: tuple[str, ...]) -> Iterator[str]:
    if folder.is_dir():
        for path in folder.iterdir():
            if path.suffix.lower() in endings and not path.name.startswith((".", "~$")):
                yield path.stem


def _sets(folder: Path | None) -> Iterator[str]:
    from recap.read.vocabulary import SETS

    return _column(folder, "sets", "set", SETS) if folder else iter(())


def chassis_of_sets(folder: Path) -> Iterator[str]:
    """Yield the chassis that sets on the bench have."""
    from recap.read.vocabulary import SETS

    return _column(folder, "sets", "chassis", SETS)


def sellers(folder: Path) -> Iterator[str]:
    """Yield who sells on this bench: those with terms, then those with a price list alone."""
    from recap.read.vocabulary import SUPPLIERS
    from recap.settings import FILE_NAME, read_settings

    settings, _ = read_settings(folder / FILE_NAME)
    home = folder / settings.catalogs
    named = list(_column(home, "suppliers", "supplier", SUPPLIERS))
    yield from named
    known = {"suppliers", "readme", *(name.casefold() for name in named)}
    yield from (stem for stem in _stems(home, TABLES) if stem.casefold() not in known)


def _column(folder: Path, stem: str, field: str, vocabulary: Mapping[str, tuple[str, ...]]) -> Iterator[str]:
    """Yield what stands under one header of a small table."""
    from recap.read.headers import find_header, is_comment, recognise
    from recap.read.tables import read_tables

    for path in (folder / f"{stem}{ending}" for ending in TABLES):
        for table in read_tables(path)[0] if path.exists() else ():
            at = find_header(table, vocabulary, least=2)
            columns = {} if at is None else recognise(table.rows[at].cells, vocabulary).columns
            if at is None or field not in columns:
                continue
            for row in table.rows[at + 1 :]:
                texts = [cell.text.strip() for cell in row.cells]
                if columns[field] < len(texts) and texts[columns[field]] and not is_comment(texts):
                    yield texts[columns[field]]
