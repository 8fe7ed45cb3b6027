"""``recap order``: one proven cheapest order for all sets on the bench."""

from __future__ import annotations

import importlib
from contextlib import nullcontext
from dataclasses import replace
from decimal import Decimal
from pathlib import Path
from threading import Thread
from typing import TYPE_CHECKING

import typer

from recap.cli import completion, records
from recap.cli.answers import ROOM, advise, refuse_one, stop_on_errors, tell, typed
from recap.cli.chosen import SETS, check_sets, check_suppliers, set_names
from recap.cli.steps import NO_ORDER, ORDER, USAGE

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence
    from contextlib import AbstractContextManager

    from recap.audit.events import Event
    from recap.audit.kept import KeptOrder
    from recap.bench import Bench
    from recap.diagnostics import Diagnostic
    from recap.model import Position
    from recap.order.report import Report
    from recap.order.run import OrderOptions, Run

    Progress = Callable[[Decimal | None, Decimal, float], None]
    Past = tuple[Sequence[Event], Sequence[KeptOrder]]


SOLVERS = ("highs", "cbc")
COMPARE_SECONDS = 20.0
"""What the comparison with other ways to buy may take, all of them together."""
COMPARE_BRIEFLY = 1.0
"""What it may take with --json where nobody asked for it; an order that took longer itself is not compared."""


def register(app: typer.Typer) -> None:
    """Add the command."""
    app.command("order", rich_help_panel=ORDER)(order)


def order(
    bench: Path = typer.Argument(..., help="The bench folder."),
    sets: list[str] | None = SETS,
    without: list[str] | None = typer.Option(
        None,
        "--without",
        metavar="SUPPLIER",
        autocompletion=completion.suppliers,
        help="Leave this one out; may be repeated.",
    ),
    max_suppliers: int | None = typer.Option(
        None, "--max-suppliers", min=0, max=1000, help="At most so many parcels; 0: no limit."
    ),
    spares: int | None = typer.Option(None, "--spares", min=0, max=1_000_000, help="Spare pieces per group."),
    care: bool | None = typer.Option(None, "--care/--no-care", help="Allow parts that fit only with care."),
    care_if_needed: bool = typer.Option(False, "--care-if-needed", help="Allow them only where nothing fits outright."),
    split: bool | None = typer.Option(None, "--split/--one-part", help="May a group be made up of several parts?"),
    drawer: bool | None = typer.Option(None, "--drawer/--no-drawer", help="Use what lies in the drawer."),
    accept_doubts: bool = typer.Option(False, "--accept-doubts", help="Buy for doubted positions as they were read."),
    again: bool = typer.Option(False, "--again", help="Buy for positions too whose new part is in by the record."),
    fewer_parcels: float = typer.Option(
        0.0, "--fewer-parcels", min=0.0, metavar="PERCENT", help="Pay so much more for fewer parcels."
    ),
    longer_life: float = typer.Option(
        0.0, "--longer-life", min=0.0, metavar="PERCENT", help="Pay so much more for parts of longer rated life."
    ),
    why: bool = typer.Option(
        False, "--why", help="Explain: candidates, pieces over, suppliers' terms, all near misses."
    ),
    compare: bool | None = typer.Option(
        None,
        "--compare/--no-compare",
        help="Work out what other ways to buy would cost.  [default: yes; with --json where it is quick]",
    ),
    plot: Path | None = typer.Option(None, "--plot", help="Draw the total by parcels and by rated life (.svg, .png)."),
    time_limit: float | None = typer.Option(
        None, "--time-limit", min=0.0, help="Seconds; keeps the best order so far."
    ),
    solver: str = typer.Option("highs", "--solver", autocompletion=completion.words(*SOLVERS), help="highs or cbc."),
    out: Path | None = typer.Option(None, "--out", help="Write the order's files into this folder."),
    force: bool = typer.Option(False, "--force", help="Let --out and --plot replace files of an earlier order."),
    keep: bool = typer.Option(False, "--keep", help="Keep the order in the record, for goods in and the bench page."),
    notes: bool = typer.Option(False, "--notes", help="Show notes too."),
    as_json: bool = typer.Option(False, "--json", help="Print the answer as JSON."),
) -> None:
    """Work out the cheapest order that covers every position on the job, spares included, and prove it.

    Example: recap order demo --max-suppliers 2 --out my-order
    """
    if solver not in {"highs", "cbc"}:
        message = f"no solver is called {solver!r}"
        refuse_one("wrong-usage", message, "--solver", "highs or cbc", as_json=as_json, status=USAGE)
    _check_plot(plot, force=force, as_json=as_json)
    import gc

    gc.disable()  # hundreds of thousands of small objects, none of them garbage, in a process that soon ends
    chosen = frozenset(set_names(sets)) or None
    loaded, done, told = _load(bench, chosen, without or (), again=again, as_json=as_json)
    from recap.model import Status
    from recap.order.run import OrderOptions

    options = OrderOptions(
        only_sets=chosen,
        leave_out=done,
        without=frozenset(without or ()),
        max_suppliers=max_suppliers,
        spares=spares,
        allow_care=care,
        care_if_needed=care_if_needed or None,
        split_groups=split,
        use_drawer=drawer,
        accept_doubts=accept_doubts,
        pay_for_parcels=Decimal(str(fewer_parcels)),
        pay_for_life=Decimal(str(longer_life)),
        time_limit=time_limit,
        solver=solver,
    )
    run = _work_out(loaded, options, compare=compare, as_json=as_json)
    told = [*told, *run.diagnostics]
    stop_on_errors(told, as_json=as_json)
    shown = run.report if run.report.order else run.part
    messages = _store(run, shown, bench if keep else None, out, plot, force=force, as_json=as_json)
    _show(run, told, notes=notes, why=why, as_json=as_json)
    if not as_json and shown is not None and shown.groups and out is None and not keep:
        messages.append("For files of this order add --out DIR; when you have really ordered it, --keep.")
    for message in messages:
        advise(message)
    if run.report.status is Status.IMPOSSIBLE:
        raise typer.Exit(NO_ORDER)


def _load(
    folder: Path, only_sets: frozenset[str] | None, without: Sequence[str], *, again: bool, as_json: bool
) -> tuple[Bench, Callable[[str, Position], bool] | None, list[Diagnostic]]:
    """Return the bench with the drawer as it is on hand, a test for what is in already, and what to tell."""
    from concurrent.futures import ThreadPoolExecutor

    from recap.bench.market import read_market

    # the catalogues are read while the rest of the program is imported
    market = ThreadPoolExecutor(max_workers=1).submit(read_market, folder)
    Thread(target=importlib.import_module, args=("recap.order.run",), daemon=True).start()
    from recap.bench import load_bench

    loaded, told = load_bench(folder, market.result)
    stop_on_errors(told, as_json=as_json)
    check_sets(loaded, only_sets or (), as_json=as_json)
    check_suppliers(loaded, without, "--without", as_json=as_json)
    loaded, settle = records.on_hand(loaded, as_json=as_json)
    done, in_already = (None, []) if again else records.not_in_yet(loaded, only_sets)
    return loaded, done, [*told, *settle, *records.ordered_already(loaded), *in_already]


def _work_out(bench: Bench, options: OrderOptions, *, compare: bool | None, as_json: bool) -> Run:
    """Return the order, compared where that was asked for; unasked only as long as a program would wait for it."""
    import time

    from recap.order.run import compared, run_order

    with nullcontext() if as_json else _progress() as said:
        begun = time.monotonic()
        run = run_order(bench, options, said)
        if compare is None and as_json:
            return compared(run, COMPARE_BRIEFLY) if time.monotonic() - begun < COMPARE_BRIEFLY else run
        return run if compare is False else compared(run, COMPARE_SECONDS)


def _progress() -> AbstractContextManager[Progress | None]:
    from recap.show.progress import progress

    return progress()


def _store(
    run: Run,
    shown: Report | None,
    record: Path | None,
    out: Path | None,
    plot: Path | None,
    *,
    force: bool,
    as_json: bool,
) -> list[str]:
    """Write the files, draw, keep the order in the record of a bench, as far as asked; return what is to be told.

    Files come first: where they can't be written, the one JSON document says so. They name all groups, not only those
    that the order covers.
    """
    if record is not None:
        _refuse_twin(record, shown, as_json=as_json)
    messages: list[str] = []
    if out is not None:
        named = None if shown is None else replace(shown, groups=run.report.groups)
        messages = _write(out, named, force=force, as_json=as_json)
    if plot is not None:
        _plot(run, plot, force=force, as_json=as_json)
    return messages if record is None else [*messages, *_keep(record, shown, as_json=as_json)]


def _show(run: Run, told: list[Diagnostic], *, notes: bool, why: bool, as_json: bool) -> None:
    from recap.order.explain import explain

    shown = run.report if run.report.order else run.part
    account = explain(run.problem, shown.order) if why and shown is not None and shown.order is not None else None
    if as_json:
        from recap.show.documents import print_document
        from recap.show.order_document import order_document
        from recap.show.why import why_document

        currencies = {name: terms.currency for name, terms in run.bench.suppliers.items()}
        document = order_document(run.report, run.part, told, currencies)
        print_document(document if account is None else {**document, "why": why_document(account)})
        return
    from recap.show.order_view import print_order
    from recap.show.terminal import output

    print_order(output(), run.report, part_order=run.part, everything=why)
    if account is not None:
        from recap.show.why import print_why

        print_why(output(), account, run.bench.settings.currency, run.candidates)
    tell(told, notes=notes)  # last, where it is still on the screen


def _check_plot(path: Path | None, *, force: bool, as_json: bool) -> None:
    if path is None:
        return
    from recap.cli.plans import refuse_if_there
    from recap.order.plot import FORMATS

    if path.suffix.lower().removeprefix(".") not in FORMATS:
        hint = "name a file that ends in .svg or .png"
        refuse_one("wrong-usage", f"{path.name}: can't draw that", "--plot", hint, as_json=as_json, status=USAGE)
    refuse_if_there(path, force=force, as_json=as_json)


def _plot(run: Run, path: Path, *, force: bool, as_json: bool) -> None:
    from recap.cli.plans import write_file
    from recap.order.compare import by_life, by_parcels, rated_lives, within
    from recap.order.plot import plot

    cheapest = None if run.options.pay_for_parcels or run.options.pay_for_life else run.outcome
    most, solver = len({part.supplier for part in run.problem.offers}), run.options.solver
    parcels = by_parcels(run.problem, most, within(COMPARE_SECONDS, solver), cheapest)
    lives = by_life(run.problem, rated_lives(run.problem), within(COMPARE_SECONDS, solver))
    picture = plot(parcels, lives, run.bench.settings.currency, path.suffix.removeprefix(".").lower())
    write_file(path, picture, force=force, as_json=as_json)


def _write(folder: Path, report: Report | None, *, force: bool, as_json: bool) -> list[str]:
    from recap.order.files import WouldOverwriteError, write_order_files

    if report is None:
        return [f"nothing can be had: no files were written into {folder}"]
    try:
        written = write_order_files(folder, report, force=force)
    except WouldOverwriteError as fault:
        refuse_one("would-overwrite", str(fault), str(folder), "name another folder, or add --force", as_json=as_json)
    except OSError as fault:
        refuse_one("not-writable", f"the files can't be written: {fault}", str(folder), ROOM, as_json=as_json)
    return [
        *(f"wrote {path}" for path in written.paths),
        *written.cautions,
        *(f"from an earlier order, not touched: {path}" for path in written.stale),
    ]


def _refuse_twin(bench: Path, report: Report | None, past: Past | None = None, *, as_json: bool) -> None:
    """End the run where this very order is kept already; ``past`` is what the record tells, else it is read."""
    if report is None or report.order is None:
        return
    events, orders = past or records.read(bench, as_json=as_json)
    if twin := records.kept_already(events, orders, report.order):
        close = f"recap receive {typed(bench)} --order {twin} --close"
        message = f"this very order is kept already, as {twin}, and not all of it came"
        refuse_one("order-twice", message, str(bench), f"if it won't come: {close}", as_json=as_json)


def _keep(bench: Path, report: Report | None, *, as_json: bool) -> list[str]:
    from datetime import datetime

    if report is None or report.order is None or not (report.order.suppliers or report.order.drawer):
        return ["nothing is bought and nothing taken from the drawer: no order was kept"]
    with records.opened(bench, as_json=as_json) as record, record.transaction():
        # again, where nobody else can keep it meanwhile
        _refuse_twin(bench, report, (record.events(), record.orders()), as_json=as_json)
        name = record.add_order(report.order, report.groups, datetime.now().astimezone(), report.currency)
    return [f"kept in the record as order {name}; when the parcels come: recap receive {typed(bench)}"]
