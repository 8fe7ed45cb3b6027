"""The bench folder, whole: every file read, all that is wrong with any of them told together."""

from __future__ import annotations

import os
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import TYPE_CHECKING, TypeVar

from recap.bench.cache import FOLDER as CACHE
from recap.bench.cache import WORTH_KEEPING
from recap.bench.catalogues import read_catalogue
from recap.bench.ladders import currency_fits
from recap.bench.onhand import read_drawer, read_extras
from recap.bench.setlist import read_sets
from recap.bench.terms import read_terms
from recap.diagnostics import Diagnostic, Source, error, has_errors, note
from recap.model import DRAWER, CapList, DrawerPart, Extra, SetOnBench, Settings, SupplierTerms
from recap.normalise.caplist import read_cap_list
from recap.read.headers import nearest
from recap.settings import FILE_NAME, read_settings

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    from recap.bench.catalogues import Catalogue

TABLES = (".csv", ".tsv", ".xlsx")
LISTS = (*TABLES, ".txt", ".md")
TERMS = "suppliers"
READERS = 4
"""So many catalogues are read at a time."""
TOGETHER = 2**29
"""Bytes up to which catalogues are read side by side; more of them one after the other, for the memory it takes."""
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


def _home(folder: Path, written: str) -> Path:
    """Return the catalogues' folder; one written with backslashes on Windows is found elsewhere too."""
    home = Path(os.path.normpath(folder / written))
    if home.exists() or "\\" not in written:
        return home
    return Path(os.path.normpath(folder / written.replace("\\", "/")))


def load_bench(folder: Path | str) -> tuple[Bench, list[Diagnostic]]:
    """Return the bench in ``folder`` and what is to be said of any of its files, errors of all together.

    Where there are errors the bench holds what could be read, for looking at, not for ordering from.
    """
    folder = Path(folder)
    if not folder.is_dir():
        missing = not folder.exists()
        message = f"there is no folder {folder}" if missing else f"{folder} is no folder"
        code = "file-missing" if missing else "bench-no-folder"
        return Bench(folder), [error(code, message, Source(str(folder)), "recap new DIR makes a bench folder")]
    settings, told = read_settings(folder / FILE_NAME)
    with ThreadPoolExecutor(max_workers=1) as aside:
        # catalogues are read by libraries for the most part, which leave the interpreter to the lists
        offered = aside.submit(_catalogues, _home(folder, settings.catalogs), settings, folder / CACHE)
        caplists, unreadable, said = _caplists(folder / "caplists")
        catalogues, suppliers, of_catalogues = offered.result()
    told += said
    sets: tuple[SetOnBench, ...] = ()
    path, said = _one_of(folder, "sets")
    told += said
    if path is not None:
        sets, said = read_sets(path, caplists, unreadable)
        told += said
    elif not has_errors(said):
        message = "there is no sets.csv: no set is on the bench"
        told.append(error("file-missing", message, Source(str(folder / "sets.csv")), "recap new DIR shows one"))
    told += of_catalogues
    drawer, said = _optional(folder, "drawer", read_drawer)
    told += said
    extras, said = _optional(folder, "extras", read_extras)
    told += said
    if sets:
        extras, said = _for_sets(extras, sets)
        told += said
    return Bench(folder, settings, caplists, sets, catalogues, suppliers, drawer, extras), told


def _one_of(folder: Path, stem: str) -> tuple[Path | None, list[Diagnostic]]:
    """Return the file ``stem`` with one of the endings a table may have; two of them are an error."""
    found = [folder / f"{stem}{ending}" for ending in TABLES if (folder / f"{stem}{ending}").exists()]
    if len(found) > 1:
        names = " and ".join(path.name for path in found)
        message = f"there are {names}: which one counts is not clear"
        return found[0], [error("file-twice", message, Source(str(found[1])), "delete or rename one")]
    return (found[0] if found else None), []


def _optional(
    folder: Path, stem: str, read: Callable[[Path], tuple[tuple[Held, ...], list[Diagnostic]]]
) -> tuple[tuple[Held, ...], list[Diagnostic]]:
    path, told = _one_of(folder, stem)
    if path is None:
        return (), told
    found, said = read(path)
    return found, told + said


def _files(folder: Path, endings: tuple[str, ...]) -> tuple[list[Path], list[Diagnostic]]:
    """Return the files of a folder that may be tables, in the order of their names; others are noted."""
    told: list[Diagnostic] = []
    found: list[Path] = []
    seen: dict[str, Path] = {}
    for path in sorted(folder.iterdir()):
        if path.name.startswith((".", "~$")) or path.is_dir() or path.stem.casefold() == "readme":
            continue
        if path.suffix == ".bak":
            continue
        if path.suffix.lower() not in endings:
            message = f"{path.name} was passed over: not one of {' '.join(endings)}"
            told.append(note("file-passed-over", message, Source(str(path))))
            continue
        twin = seen.setdefault(path.stem.casefold(), path)
        if twin is not path:
            message = f"{twin.name} and {path.name} bear one name: which one counts is not clear"
            told.append(error("file-twice", message, Source(str(path)), "delete or rename one"))
            continue
        found.append(path)
    return found, told


STORE = "recap import LIST --bench BENCH --chassis NAME stores one"


def _caplists(folder: Path) -> tuple[dict[str, CapList], frozenset[str], list[Diagnostic]]:
    """Return the lists by chassis, and the chassis whose list has errors."""
    if not folder.is_dir():
        message = "there is no folder caplists: no chassis has a list"
        return {}, frozenset(), [error("file-missing", message, Source(str(folder)), STORE)]
    paths, told = _files(folder, LISTS)
    lists: dict[str, CapList] = {}
    bad: set[str] = set()
    for path in paths:
        positions, said = read_cap_list(path)
        told += said
        if has_errors(said):
            bad.add(path.stem)
        else:
            lists[path.stem] = CapList(path.stem, tuple(positions))
    return lists, frozenset(bad), told


def _catalogues(
    folder: Path, settings: Settings, cache: Path
) -> tuple[dict[str, Catalogue], dict[str, SupplierTerms], list[Diagnostic]]:
    if not folder.is_dir():
        message = f"there is no folder {folder} for the catalogues"
        hint = f"make it, or correct catalogs = {settings.catalogs!r} in {FILE_NAME}, with / between folders"
        return {}, {}, [error("file-missing", message, Source(str(folder)), hint)]
    paths, told = _files(folder, TABLES)
    terms_path, said = _one_of(folder, TERMS)
    told += [one for one in said if one.code not in {d.code for d in told}]
    terms: dict[str, SupplierTerms] = {}
    if terms_path is not None:
        terms, said = read_terms(terms_path, settings.currency)
        told += said
    paths = [path for path in paths if path.stem.casefold() != TERMS]
    if not paths:
        message = f"no catalogue in {folder}"
        hint = "put each supplier's price list there, CSV or XLSX"
        told.append(error("file-missing", message, Source(str(folder)), hint))
    named = {path: _supplier(path, terms) for path in paths}
    read = _read({path: name for path, name in named.items() if name.casefold() != DRAWER}, cache)
    catalogues: dict[str, Catalogue] = {}
    for path, name in named.items():
        told += _about_terms(name, path, terms, terms_path)
        if path not in read:
            continue
        catalogue, said = read[path]
        told += said
        if catalogue is not None:
            catalogues[name] = catalogue
            told += _about_currency(catalogue, terms.get(name))
    told += _without_catalogue(terms, {path.stem.casefold() for path in paths})
    return catalogues, terms, told


def _supplier(path: Path, terms: Mapping[str, SupplierTerms]) -> str:
    return next((name for name in terms if name.casefold() == path.stem.casefold()), path.stem)


def _read(named: Mapping[Path, str], cache: Path) -> dict[Path, tuple[Catalogue | None, list[Diagnostic]]]:
    """Read the catalogues, each with its supplier's name: large ones side by side, as far as memory allows."""
    sizes = [path.stat().st_size for path in named if path.is_file()]
    if max(sizes, default=0) < WORTH_KEEPING or sum(sizes) > TOGETHER:
        return {path: read_catalogue(path, name, cache) for path, name in named.items()}
    with ThreadPoolExecutor(max_workers=min(READERS, os.cpu_count() or 1)) as pool:
        found = pool.map(lambda path: read_catalogue(path, named[path], cache), named)
        return dict(zip(named, found, strict=True))


def _about_terms(
    name: str, path: Path, terms: Mapping[str, SupplierTerms], terms_path: Path | None
) -> list[Diagnostic]:
    if name.casefold() == DRAWER:
        message = f"{path.name}: no supplier can be called {DRAWER!r}, which means what is on hand"
        return [error("supplier-reserved", message, Source(str(path)), "rename it: drawer.csv lies beside bench.toml")]
    if name in terms:
        return []
    guess = nearest(name, {other: other for other in terms})
    message = f"supplier {name!r} has a catalogue but no terms"
    place = Source(str(terms_path or path.parent / f"{TERMS}.csv"))
    hint = f"add a row: supplier {name}, its currency, shipping as 0:5.90 50:0; the rest may stay blank"
    return [error("terms-missing", message, place, f"{guess}; or {hint}" if guess else hint, name)]


def _about_currency(catalogue: Catalogue, terms: SupplierTerms | None) -> list[Diagnostic]:
    if terms is None:
        return []
    wrong = sorted(sign for sign in catalogue.priced.currencies if not currency_fits(sign, terms.currency))
    if not wrong:
        return []
    message = f"prices bear {', '.join(wrong)}, but {catalogue.supplier}'s currency is {terms.currency}"
    hint = f"correct the currency in {TERMS}.csv, or the prices"
    return [error("currency-differs", message, Source(catalogue.file), hint, wrong[0])]


def _without_catalogue(terms: Mapping[str, SupplierTerms], stems: set[str]) -> list[Diagnostic]:
    return [
        note("catalogue-missing", f"{name} has terms but no catalogue: nothing can be bought there", one.source)
        for name, one in terms.items()
        if name.casefold() not in stems and one.source is not None
    ]


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
