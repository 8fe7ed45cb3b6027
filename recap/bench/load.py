"""The bench folder, whole: every file read, all that is wrong with any of them told together."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import TYPE_CHECKING, TypeVar

from recap.bench.keeping import FOLDER as CACHE
from recap.bench.kept_lists import read_once
from recap.bench.market import TABLES, files_in, one_of, read_market
from recap.bench.setlist import read_sets
from recap.diagnostics import Diagnostic, Source, error, has_errors
from recap.files import meant_instead, stem_of
from recap.model import CapList, DrawerPart, Extra, Position, SetOnBench, Settings, SupplierTerms
from recap.read.headers import nearest
from recap.settings import FILE_NAME, read_settings

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    from recap.bench.market import Market
    from recap.bench.offers import Catalogue

LISTS = (*TABLES, ".txt", ".md")
Held = TypeVar("Held", DrawerPart, Extra)


@dataclass(frozen=True, slots=True)
class Bench:
    """One workshop's data, read. ``caplists`` by chassis, ``catalogues`` and ``suppliers`` by supplier."""

    folder: Path
    settings: Settings = field(default_factory=Settings)
    caplists: Mapping[str, CapList] = field(default_factory=dict)
    sets: tuple[SetOnBench, ...] = ()
    catalogues: Mapping[str, Catalogue] = field(default_factory=dict)
    suppliers: Mapping[str, SupplierTerms] = field(default_factory=dict)
    drawer: tuple[DrawerPart, ...] = ()
    extras: tuple[Extra, ...] = ()


def load_bench(folder: Path | str, offered: Callable[[], Market] | None = None) -> tuple[Bench, list[Diagnostic]]:
    """Return the bench in ``folder`` and what is to be said of any of its files, errors of all together.

    Where there are errors the bench holds what could be read, for looking at, not for ordering from.
    ``offered`` gives its market where somebody else is reading that already.
    """
    folder = Path(folder)
    if not folder.is_dir():
        missing = not folder.exists()
        message = f"there is no folder {folder}" if missing else f"{folder} is no folder"
        code = "file-missing" if missing else "bench-no-folder"
        meant = meant_instead(folder)
        hint = f"{meant} is there: write / between folders" if meant else "recap new DIR --empty makes one for you"
        return Bench(folder), [error(code, message, Source(str(folder)), hint)]
    settings, told = read_settings(folder / FILE_NAME)
    with ThreadPoolExecutor(max_workers=1) as aside:
        # catalogues are read by libraries for the most part, which leave the interpreter to the lists
        market = aside.submit(offered or (lambda: read_market(folder)))
        caplists, unreadable, said = _caplists(folder / "caplists", folder / CACHE)
        catalogues, suppliers, of_catalogues = market.result()
    told += said
    sets: tuple[SetOnBench, ...] = ()
    path, said = one_of(folder, "sets")
    told += said
    if path is not None:
        sets, said = read_sets(path, caplists, unreadable)
        told += said
    elif not has_errors(said):
        message = "there is no sets.csv: no set is on the bench"
        told.append(error("file-missing", message, Source(str(folder / "sets.csv")), "recap new DIR shows one"))
    told += of_catalogues
    drawer, said = _optional(folder, "drawer", _read_drawer)
    told += said
    extras, said = _optional(folder, "extras", _read_extras)
    told += said
    if sets:
        extras, said = _for_sets(extras, sets)
        told += said
    return Bench(folder, settings, caplists, sets, catalogues, suppliers, drawer, extras), told


def _optional(
    folder: Path, stem: str, read: Callable[[Path], tuple[tuple[Held, ...], list[Diagnostic]]]
) -> tuple[tuple[Held, ...], list[Diagnostic]]:
    path, told = one_of(folder, stem)
    if path is None:
        return (), told
    found, said = read(path)
    return found, told + said


# readers are imported only where there is something for them to read: they know many words, and that takes a while


def _read_list(path: Path) -> tuple[tuple[Position, ...], list[Diagnostic]]:
    from recap.normalise.caplist import read_cap_list

    return read_cap_list(path)


def _read_drawer(path: Path) -> tuple[tuple[DrawerPart, ...], list[Diagnostic]]:
    from recap.bench.onhand import read_drawer

    return read_drawer(path)


def _read_extras(path: Path) -> tuple[tuple[Extra, ...], list[Diagnostic]]:
    from recap.bench.onhand import read_extras

    return read_extras(path)


STORE = "recap import LIST --bench BENCH --chassis NAME stores one"


def _caplists(folder: Path, cache: Path) -> tuple[dict[str, CapList], frozenset[str], list[Diagnostic]]:
    """Return the lists by chassis, and the chassis whose list has errors."""
    if not folder.is_dir():
        message = "there is no folder caplists: no chassis has a list"
        return {}, frozenset(), [error("file-missing", message, Source(str(folder)), STORE)]
    paths, told = files_in(folder, LISTS)
    lists: dict[str, CapList] = {}
    bad: set[str] = set()
    for path in paths:
        positions, said = read_once(cache, path, _read_list)
        told += said
        if has_errors(said):
            bad.add(stem_of(path))
        else:
            lists[stem_of(path)] = CapList(stem_of(path), tuple(positions))
    return lists, frozenset(bad), told


def _for_sets(extras: tuple[Extra, ...], sets: tuple[SetOnBench, ...]) -> tuple[tuple[Extra, ...], list[Diagnostic]]:
    """Give each extra its set's name as ``sets.csv`` writes it; a set that isn't there is an error."""
    names = {one.name.casefold(): one.name for one in sets}
    told: list[Diagnostic] = []
    found: list[Extra] = []
    for extra in extras:
        if extra.set is None or extra.set.casefold() in names:
            found.append(replace(extra, set=names.get((extra.set or "").casefold())))
            continue
        stood = extra.source or Source("extras")
        place = Source(stood.file, stood.sheet, stood.row, "set")
        message = f"extra {extra.item!r} is for set {extra.set!r}, which isn't on the bench"
        hint = nearest(extra.set, {n: n for n in names.values()}) or "there are: " + ", ".join(names.values())
        told.append(error("extra-set-unknown", message, place, hint, extra.set))
    return tuple(found), told
