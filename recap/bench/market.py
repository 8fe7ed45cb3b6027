"""All that can be bought: the suppliers' catalogues and terms in the bench's folder for them."""

from __future__ import annotations

import contextlib
import filecmp
import os
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from pathlib import Path
from threading import Thread
from typing import TYPE_CHECKING, NamedTuple

from recap.bench.cache import WORTH_KEEPING
from recap.bench.catalogues import read_catalogue
from recap.bench.keeping import FOLDER as CACHE
from recap.bench.ladders import currency_fits
from recap.bench.price_heads import price_head
from recap.bench.pricing import rows_with_money
from recap.bench.sections import TERMS_SAID, taxed_by
from recap.bench.terms import read_terms
from recap.diagnostics import Diagnostic, Severity, Source, error, note, warning
from recap.files import stem_of
from recap.model import DRAWER
from recap.read.headers import nearest
from recap.settings import FILE_NAME, read_settings

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping, Sequence

    from recap.bench.offers import Catalogue
    from recap.model import Settings, SupplierTerms

TABLES = (".csv", ".tsv", ".xlsx")
OTHER_TABLES = frozenset({".ods", ".fods", ".xls", ".xlsb", ".xlsm", ".numbers"})
TEXT = ".txt"
"""What a price list that was pasted may end in, if ``suppliers.csv`` has the supplier."""
READERS = 4
"""So many catalogues are read at a time."""
TOGETHER = 2**29
"""Bytes up to which catalogues are read side by side; more of them one after the other, for the memory it takes."""
TERMS = "suppliers"
NAMED = 8
"""So many rows of another currency are named."""


class Market(NamedTuple):
    """Catalogues and terms by supplier, and what is to be said of their files."""

    catalogues: dict[str, Catalogue]
    suppliers: dict[str, SupplierTerms]
    told: list[Diagnostic]


def read_market(folder: Path) -> Market:
    """Return what the suppliers of the bench in ``folder`` offer. What its settings say wrong is not told here."""
    settings, _ = read_settings(folder / FILE_NAME)
    return Market(*_catalogues(_home(folder, settings.catalogs), settings, folder / CACHE))


def _home(folder: Path, written: str) -> Path:
    """Return the catalogues' folder; one written with backslashes on Windows is found elsewhere too."""
    home = Path(os.path.normpath(folder / written))
    if home.exists() or "\\" not in written:
        return home
    return Path(os.path.normpath(folder / written.replace("\\", "/")))


def one_of(folder: Path, stem: str) -> tuple[Path | None, list[Diagnostic]]:
    """Return the file ``stem`` with one of the endings a table may have; two of them are an error.

    Capitals don't count, as on the systems that most people keep such files on: ``Drawer.CSV`` is the drawer.
    """
    entries, told = _entries(folder)
    told += [_is_folder(path) for path in entries if path.stem.casefold() == stem and _folder_like(path, TABLES)]
    named = [path for path in entries if path.stem.casefold() == stem and not path.is_dir()]
    found = [path for path in named if path.suffix.lower() in TABLES]
    told += [_passed_over(path, TABLES) for path in named if path.suffix.lower() in OTHER_TABLES]
    if len(found) > 1:
        names = " and ".join(path.name for path in found)
        message = f"there are {names}: which one counts is not clear"
        told.append(error("file-twice", message, Source(str(found[1])), "delete or rename one"))
    return (found[0] if found else None), told


def _entries(folder: Path) -> tuple[list[Path], list[Diagnostic]]:
    """Return what lies in a folder, by name, or the error where it may not be looked into."""
    try:
        return sorted(folder.iterdir()), []
    except OSError as fault:
        message = f"the folder {folder} can't be read: {fault.strerror or fault}"
        return [], [error("file-unreadable", message, Source(str(folder)), "check its permissions")]


def _folder_like(path: Path, endings: tuple[str, ...]) -> bool:
    return path.suffix.lower() in endings and path.is_dir()


def _is_folder(path: Path) -> Diagnostic:
    message = f"{path.name} is a folder, a file was expected"
    return error("file-is-folder", message, Source(str(path)), "give the folder another name, or put the file there")


def _passed_over(path: Path, endings: tuple[str, ...]) -> Diagnostic:
    """Say that a file isn't read; a table in another program's form is hardly meant to be left out."""
    message = f"{path.name} was passed over: not one of {' '.join(endings)}"
    if path.suffix.lower() in OTHER_TABLES:
        return warning("table-passed-over", message, Source(str(path)), "save it as .xlsx or .csv; delete what is old")
    return note("file-passed-over", message, Source(str(path)))


def files_in(folder: Path, endings: tuple[str, ...]) -> tuple[list[Path], list[Diagnostic]]:
    """Return the files of a folder that may be tables, in the order of their names; others are noted."""
    entries, told = _entries(folder)
    found: list[Path] = []
    seen: dict[str, Path] = {}
    told += [_is_folder(path) for path in entries if _folder_like(path, endings) and not path.name.startswith(".")]
    for path in entries:
        if path.name.startswith((".", "~$")) or path.is_dir() or path.stem.casefold() == "readme":
            continue
        if path.suffix == ".bak":
            continue
        if path.suffix.lower() not in endings:
            told.append(_passed_over(path, endings))
            continue
        twin = seen.setdefault(stem_of(path).casefold(), path)
        if twin is not path:
            message = f"{twin.name} and {path.name} bear one name: which one counts is not clear"
            told.append(error("file-twice", message, Source(str(path)), _kept_copy([twin, path], entries)))
            continue
        found.append(path)
    return found, told


def _kept_copy(twins: Sequence[Path], entries: Sequence[Path]) -> str:
    """Return what to do about two files of one name: storing a list over one of another ending may have broken off."""
    for path in twins:
        for kept in entries:
            with contextlib.suppress(OSError):
                if kept.name.startswith(f"{path.name}.old") and filecmp.cmp(path, kept, shallow=False):
                    where = "delete it where another list was being stored over it"
                    return f"{path.name} is kept as {kept.name}, too: {where}"
    return "delete or rename one"


def _catalogues(
    folder: Path, settings: Settings, cache: Path
) -> tuple[dict[str, Catalogue], dict[str, SupplierTerms], list[Diagnostic]]:
    if not folder.is_dir():
        message = f"there is no folder {folder} for the catalogues"
        hint = f"make it, or correct catalogs = {settings.catalogs!r} in {FILE_NAME}, with / between folders"
        return {}, {}, [error("file-missing", message, Source(str(folder)), hint)]
    paths, told = files_in(folder, (*TABLES, TEXT))
    terms_path, said = one_of(folder, TERMS)
    told += [one for one in said if one.code not in {d.code for d in told}]
    if any(one.code == "file-unreadable" for one in told):
        return {}, {}, told
    terms: dict[str, SupplierTerms] = {}
    if terms_path is not None:
        terms, said = read_terms(terms_path, settings.currency)
        told += said
    paths = [path for path in paths if path.stem.casefold() != TERMS]
    paths, said = _without_notes(paths, terms)
    told += said
    if not paths:
        message = f"no catalogue in {folder}"
        hint = "put each supplier's price list there, CSV or XLSX"
        told.append(error("file-missing", message, Source(str(folder)), hint))
    named = {path: _supplier(path, terms) for path in paths}
    to_keep: list[Callable[[], None]] = []
    money = {name: one.currency for name, one in terms.items()}
    wanted = {path: name for path, name in named.items() if name.casefold() != DRAWER}
    read = _read(wanted, money, cache, to_keep.append)
    if to_keep:  # one after the other, while the run goes on; the interpreter waits for it at its end
        Thread(target=lambda: [keep() for keep in to_keep]).start()
    catalogues: dict[str, Catalogue] = {}
    for path, name in named.items():
        told += _about_terms(name, path, terms, terms_path)
        if path not in read:
            continue
        catalogue, said = read[path]
        told += _terms_unwritten(said, terms.get(name))
        if catalogue is not None:
            catalogues[name] = catalogue
            told += _about_money(catalogue, terms.get(name))
    told += _without_catalogue(terms, {stem_of(path).casefold() for path in paths})
    return catalogues, terms, told


def _without_notes(paths: list[Path], terms: Mapping[str, SupplierTerms]) -> tuple[list[Path], list[Diagnostic]]:
    """Pass over texts that bear no supplier's name: they are somebody's notes."""
    names = {name.casefold() for name in terms}
    notes = [path for path in paths if path.suffix.lower() == TEXT and stem_of(path).casefold() not in names]
    return [path for path in paths if path not in notes], [_about_notes(path) for path in notes]


def _about_notes(path: Path) -> Diagnostic:
    """Say that a text was passed over; one that reads as a price list is hardly meant to be."""
    message = f"{path.name} was passed over: {TERMS}.csv has no supplier {path.stem!r}"
    small = path.is_file() and path.stat().st_size < WORTH_KEEPING
    found = read_catalogue(path, path.stem)[0] if small else None
    if found is None or not len(found):
        return note("file-passed-over", message, Source(str(path)))
    hint = f"it reads like a price list: add a row like {path.stem},EUR,1,0:5.90 50:0 there, or move it elsewhere"
    return warning("file-passed-over", message, Source(str(path)), hint)


def _supplier(path: Path, terms: Mapping[str, SupplierTerms]) -> str:
    return next((name for name in terms if name.casefold() == stem_of(path).casefold()), stem_of(path))


def _read(
    named: Mapping[Path, str], money: Mapping[str, str], cache: Path, aside: Callable[[Callable[[], None]], None]
) -> dict[Path, tuple[Catalogue | None, list[Diagnostic]]]:
    """Read the catalogues, each with its supplier's name and ``money``: large ones side by side, as memory allows."""
    sizes = [path.stat().st_size for path in named if path.is_file()]
    if max(sizes, default=0) < WORTH_KEEPING or sum(sizes) > TOGETHER:
        return {path: read_catalogue(path, name, cache, aside, money.get(name)) for path, name in named.items()}
    with ThreadPoolExecutor(max_workers=min(READERS, os.cpu_count() or 1)) as pool:
        found = pool.map(lambda path: read_catalogue(path, named[path], cache, aside, money.get(named[path])), named)
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
    hint = f"add a row like {name},EUR,1,0:5.90 50:0 (supplier, currency, rate, shipping); the rest may stay blank"
    return [error("terms-missing", message, place, f"{guess}; or {hint}" if guess else hint, name)]


def _about_money(catalogue: Catalogue, terms: SupplierTerms | None) -> list[Diagnostic]:
    """Tell where currency or tax of a price list aren't those of the supplier's terms."""
    if terms is None:
        return []
    columns = catalogue.table.columns
    heads = [column.header for column in (columns.get("prices"), *(c for _, c in catalogue.table.breaks)) if column]
    said = {head for text in heads if (head := price_head(text)) is not None}
    signs = {*catalogue.priced.currencies, *(head.currency for head in said if head.currency)}
    place = Source(catalogue.file)
    told = _about_tax({head.taxed for head in said}, terms, place)
    wrong = sorted(sign for sign in signs if not currency_fits(sign, terms.currency))
    if not wrong:
        return told
    rows = rows_with_money(catalogue.table, catalogue.priced, set(wrong))
    where = f" in row{'s' if len(rows) > 1 else ''} {', '.join(map(str, rows[:NAMED]))}" if rows else ""
    more = " …" if len(rows) > NAMED else ""
    message = f"prices{where}{more} bear {', '.join(wrong)}, but {catalogue.supplier}'s currency is {terms.currency}"
    hint = f"correct the currency in {TERMS}.csv, or the prices"
    return [*told, error("currency-differs", message, place, hint, wrong[0])]


def _terms_unwritten(said: list[Diagnostic], terms: SupplierTerms | None) -> list[Diagnostic]:
    """Make a warning of what a price list says of terms and tax that ``suppliers.csv`` has nothing of, or otherwise."""
    if terms is None:
        return said
    blank = {"minimum": not terms.minimum, "shipping": not terms.shipping}
    missing = tuple(f"column {name}" for name, none in blank.items() if none)
    return [
        replace(one, severity=Severity.WARNING)
        if (one.code == TERMS_SAID and missing and (one.hint or "").endswith(missing))
        or (one.code == "price-tax" and _tax_is_off(taxed_by(one.found or ""), terms))
        else one
        for one in said
    ]


def _tax_is_off(taxed: bool | None, terms: SupplierTerms) -> bool:
    """Tell whether totals would have the tax twice, or not at all without anybody having said so."""
    return bool(terms.tax_percent) if taxed else taxed is False and not terms.tax_stated


def _about_tax(said: set[bool | None], terms: SupplierTerms, place: Source) -> list[Diagnostic]:
    if True in said and _tax_is_off(True, terms):
        message = f"the prices have the tax in them, and {TERMS}.csv adds {terms.tax_percent} % on top"
        hint = f"leave tax blank for {terms.supplier} in {TERMS}.csv, or take the prices without tax"
        return [warning("price-tax", message, place, hint)]
    if False in said and _tax_is_off(False, terms):
        message = f"the prices are without tax, and {TERMS}.csv says nothing of it: totals are without it too"
        hint = f"write the percent as tax of {terms.supplier} in {TERMS}.csv, or 0 where you pay none"
        return [warning("price-tax", message, place, hint)]
    return []


def _without_catalogue(terms: Mapping[str, SupplierTerms], stems: set[str]) -> list[Diagnostic]:
    return [
        note("catalogue-missing", f"{name} has terms but no catalogue: nothing can be bought there", one.source)
        for name, one in terms.items()
        if name.casefold() not in stems and one.source is not None
    ]
