"""``recap catalog``: what the price lists hold, and a new one merged into an old one."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

import typer

from recap.cli import completion
from recap.cli.answers import refuse_one, stop_on_errors, tell
from recap.cli.steps import ORDER, USAGE

if TYPE_CHECKING:
    from collections.abc import Sequence

    from recap.bench import Bench
    from recap.bench.merge import Merge
    from recap.bench.offers import Catalogue
    from recap.bench.pricelist import State, Texts
    from recap.diagnostics import Diagnostic
    from recap.match.coverage import Cover
    from recap.show.catalogue_view import Stock

ODD_PRICES = frozenset({"price-rises", "price-zero", "price-missing", "minimum-below-prices"})


def register(app: typer.Typer) -> None:
    """Add the command."""
    app.command("catalog", rich_help_panel=ORDER)(catalog)


def catalog(
    bench: Path = typer.Argument(..., help="The bench folder."),
    supplier: str | None = typer.Argument(
        None, autocompletion=completion.suppliers, help="Only this supplier, in full."
    ),
    merge: Path | None = typer.Option(
        None, "--merge", metavar="NEWFILE", help="Lay the supplier's new price list over the old one."
    ),
    drop_gone: bool = typer.Option(False, "--drop-gone", help="With --merge: take out parts the new list lacks."),
    yes: bool = typer.Option(False, "--yes", help="With --merge: write without asking."),
    as_json: bool = typer.Option(False, "--json", help="Print the answer as JSON."),
) -> None:
    """Show what catalogues hold: rows by value and voltage, gaps against the bench's needs, old and odd prices.

    With --merge a supplier's new price list is compared with the old one; after asking, the merged
    list takes its place, and the old file is kept beside it.

    Example: recap catalog demo pennyquarrel
    """
    from recap.bench import load_bench

    loaded, told = load_bench(bench)
    stop_on_errors(told, as_json=as_json)
    if supplier is not None and supplier not in loaded.catalogues:
        there = ", ".join(sorted(loaded.catalogues))
        message = f"no supplier is called {supplier!r}"
        refuse_one("wrong-usage", message, "SUPPLIER", f"there are: {there}", as_json=as_json, status=USAGE)
    if merge is not None:
        if supplier is None:
            hint = "recap catalog BENCH SUPPLIER --merge NEWFILE"
            message = "whose price list it is must be said"
            refuse_one("wrong-usage", message, "--merge", hint, as_json=as_json, status=USAGE)
        _merge(loaded, supplier, merge, drop_gone=drop_gone, yes=yes, as_json=as_json)
        return
    _show(loaded, supplier, told, as_json=as_json)


def _show(bench: Bench, supplier: str | None, told: Sequence[Diagnostic], *, as_json: bool) -> None:
    from datetime import date

    from recap.match.coverage import coverage
    from recap.match.groups import gather

    today = date.today()  # noqa: DTZ011 - the user's own calendar day
    work = gather(bench, None, accept_doubts=True)
    covers = coverage(bench, work.groups, today)
    names = sorted(bench.catalogues) if supplier is None else [supplier]
    stocks = [_stock(bench, name, told, today) for name in names]
    files = {stock.file for stock in stocks}
    shown = {diagnostic for stock in stocks for diagnostic in stock.odd}
    said = [d for d in told if d.source.file in files and d not in shown]
    if as_json:
        _print_json(stocks, covers, said)
        return
    from recap.show.catalogue_view import print_stock, print_summary
    from recap.show.terminal import output

    if supplier is None:
        print_summary(output(), stocks, covers)
    else:
        print_stock(output(), stocks[0], covers)
    tell(said)


def _stock(bench: Bench, name: str, told: Sequence[Diagnostic], today: Any) -> Stock:  # noqa: ANN401 - a date, lazily
    from recap.bench.ages import old_rows, oldest
    from recap.bench.shelves import shelves
    from recap.show.catalogue_view import Stock

    catalogue = bench.catalogues[name]
    old = tuple(catalogue.part(int(row)) for row in old_rows(catalogue, today, bench.settings.offer_days))
    odd = tuple(d for d in told if d.source.file == catalogue.file and d.code in ODD_PRICES)
    currency = bench.suppliers[name].currency
    held = shelves(catalogue)
    return Stock(name, catalogue.file, currency, len(catalogue), held, old, oldest(catalogue), odd)


def _print_json(stocks: Sequence[Stock], covers: Sequence[Cover], said: Sequence[Diagnostic]) -> None:
    from recap.show.catalogue_view import gaps_document, stock_document
    from recap.show.documents import diagnostics_document, print_document

    suppliers = [stock_document(stock, covers) for stock in stocks]
    answer = {"suppliers": suppliers, "groups": gaps_document(covers)}
    print_document({**answer, "diagnostics": diagnostics_document(said)})


def _merge(bench: Bench, supplier: str, new: Path, *, drop_gone: bool, yes: bool, as_json: bool) -> None:
    from datetime import date

    from recap.bench.merge import merge
    from recap.show.catalogue_view import merge_document, print_merge
    from recap.show.documents import diagnostics_document, print_document
    from recap.show.terminal import output

    path = Path(bench.catalogues[supplier].file)
    seen = _state(path, as_json=as_json)  # before it is read: whatever changes it afterwards is noticed
    currency = bench.suppliers[supplier].currency
    old, _ = _read(path, supplier, currency, strict=True, as_json=as_json)  # what is left out of it would be lost
    fresh, told = _read(new, supplier, currency, strict=drop_gone, as_json=as_json)
    made = merge(old, fresh, date.today(), drop_gone=drop_gone)  # noqa: DTZ011 - the user's own calendar day
    if not as_json:
        tell(told)
        print_merge(output(), made, drop_gone=drop_gone)
    written: tuple[Path, Path] | None = None
    if made.differs and (yes or (not as_json and _agreed(path))):
        beyond = _beyond((path, old), (new, fresh), as_json=as_json)
        written = _write(path, made, beyond, seen, as_json=as_json)
    if as_json:
        document = merge_document(made, *(map(str, written) if written else (None, None)))
        print_document({**document, "diagnostics": diagnostics_document(told)})
    elif written:
        typer.echo(f"Written: {written[0]}. The old list is {written[1]}", err=True)
    else:
        typer.echo("Nothing was written." if made.differs else "Nothing changed, nothing was written.", err=True)


def _state(path: Path, *, as_json: bool) -> State:
    from recap.bench.pricelist import state

    try:
        return state(path)
    except OSError as fault:
        message = f"can't read: {fault.strerror or fault}"
        refuse_one("file-unreadable", message, str(path), "see whether it is there and may be read", as_json=as_json)


def _read(
    path: Path, supplier: str, currency: str, *, strict: bool, as_json: bool
) -> tuple[Catalogue, list[Diagnostic]]:
    from recap.bench.catalogues import read_catalogue

    found, told = read_catalogue(path, supplier, currency=currency, strict=strict)
    stop_on_errors(told, as_json=as_json)
    assert found is not None
    return found, told


def _agreed(path: Path) -> bool:
    """Ask; where nobody can answer, the answer is no."""
    import sys

    if sys.stdin is None or not sys.stdin.isatty():
        typer.echo("To write it without being asked: --yes", err=True)
        return False
    return typer.confirm(f"Write the merged list in the place of {path}?", err=True)


def _beyond(old: tuple[Path, Catalogue], new: tuple[Path, Catalogue], *, as_json: bool) -> Texts:
    """Return the texts of both lists that no part holds; those of the new one count."""
    from recap.bench.pricelist import texts_beyond

    beyond, told = texts_beyond(*old)
    more, said = texts_beyond(*new)
    stop_on_errors([*told, *said], as_json=as_json)
    for header, texts in more.items():
        beyond.setdefault(header, {}).update(texts)
    return beyond


def _write(path: Path, made: Merge, beyond: Texts, seen: State, *, as_json: bool) -> tuple[Path, Path]:
    from datetime import date

    from recap.bench.pricelist import ChangedMeanwhileError, NotTheSameError, replace_price_list

    try:
        return replace_price_list(path, made.parts, date.today(), beyond, seen)  # noqa: DTZ011 - the user's own day
    except OSError as fault:
        message = f"can't write: {fault.strerror or fault}"
        refuse_one("file-unwritable", message, str(path), "check the folder and its permissions", as_json=as_json)
    except ChangedMeanwhileError as fault:
        hint = "nothing was replaced; run it again, and it is laid over the list as it is now"
        refuse_one("list-changed", str(fault), str(path), hint, as_json=as_json)
    except NotTheSameError as fault:
        hint = "nothing was replaced; merge by hand, and report this with the list"
        refuse_one("merge-not-the-same", str(fault), str(path), hint, as_json=as_json)
