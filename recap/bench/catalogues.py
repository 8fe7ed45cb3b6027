"""A supplier's file to its catalogue, all that is wrong with it told; large ones are kept as read."""

from __future__ import annotations

from contextlib import suppress
from threading import Thread
from typing import TYPE_CHECKING

from recap.bench.cache import WORTH_KEEPING, Entry, fingerprint, keep, kept, known
from recap.bench.keeping import digest_of
from recap.bench.meanings import unread_fields, written
from recap.bench.offers import Catalogue
from recap.bench.pricing import proven_prices
from recap.read.sniff import is_workbook

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from recap.diagnostics import Diagnostic


def _at_once(work: Callable[[], None]) -> None:
    Thread(target=work).start()  # the interpreter waits for it at its end


def read_catalogue(
    path: Path,
    supplier: str,
    cache: Path | None = None,
    aside: Callable[[Callable[[], None]], object] = _at_once,
    currency: str | None = None,
    *,
    strict: bool = False,
) -> tuple[Catalogue | None, list[Diagnostic]]:
    """Return the catalogue in ``path`` as ``supplier``'s, or None and the errors that make it useless.

    Rows without a price can't be bought and are left out with a warning. ``cache`` is a folder in
    which large catalogues are kept as read (:mod:`recap.bench.cache`); ``aside`` is given the work of writing there.
    ``currency`` is the supplier's: of prices in several side by side those in it are read. A few rows whose price, pack
    or stock can't be read are left out with a warning; with ``strict`` they are errors.
    """
    folder = cache if cache is not None and _is_large(path) else None
    # content that is read is told by its own digest; what a library reads from the file, by the file's
    digest = _digest(path, currency) if folder is not None and (known(folder, path) or is_workbook(path)) else None
    entry = kept(folder, path, digest) if folder is not None and digest is not None else None
    if entry is not None:
        return _from_entry(entry, supplier), list(entry.told)
    from recap.bench.checked import read_price_list  # only here: what reads knows many words

    catalogue, content, told = read_price_list(path, supplier, currency, strict=strict)
    if catalogue is None:
        return None, told
    if folder is not None:

        def keep_it() -> None:
            with suppress(OSError):
                of_content = digest_of(path.read_bytes() if content is None else content) + (currency or "")
                if content is not None or of_content == digest:
                    keep(folder, path, of_content, _entry_of(catalogue, told))

        aside(keep_it)
    return catalogue, told


def _entry_of(catalogue: Catalogue, told: list[Diagnostic]) -> Entry:
    priced = catalogue.priced
    numbers = {name: text for name, field in catalogue.fields.items() if (text := written(field)) is not None}
    found = (priced.least, priced.mark, priced.currencies, catalogue.marks, numbers, catalogue.cells, tuple(told))
    return Entry(catalogue.table, *found)


def _is_large(path: Path) -> bool:
    try:
        return path.stat().st_size >= WORTH_KEEPING
    except OSError:
        return False


def _digest(path: Path, currency: str | None) -> str | None:
    """Return by what a catalogue as read is found again: the file's content, and the currency that it was read for."""
    try:
        return fingerprint(path) + (currency or "")
    except (OSError, ValueError):
        return None


def _from_entry(entry: Entry, supplier: str) -> Catalogue:
    """Return a catalogue that was found in order before; nothing is checked again."""
    priced = proven_prices(entry.table, entry.least, entry.mark, entry.currencies)
    fields = unread_fields(entry.table, entry.marks, entry.numbers)
    return Catalogue(supplier, entry.table, fields, priced, entry.marks, entry.cells)
