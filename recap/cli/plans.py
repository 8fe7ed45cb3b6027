"""What the commands at the bench share: which sets, which part for which position, where to write."""

from __future__ import annotations

from typing import TYPE_CHECKING, NoReturn

import typer

from recap.cli.answers import ROOM, refuse_one, stop_on_errors, tell
from recap.cli.chosen import check_sets
from recap.cli.records import load_without_prices

if TYPE_CHECKING:
    from collections.abc import Collection
    from pathlib import Path

    from recap.bench import Bench
    from recap.fit.plan import Plan


def load_plan(
    folder: Path, names: Collection[str], *, fresh: bool = False, everything: bool = False, as_json: bool = False
) -> tuple[Bench, Plan]:
    """Return the bench and which part goes where: from the orders kept in the record, or else from one worked out now.

    ``names``: only these sets; none: all. ``fresh`` works the order out even where the record has some;
    ``everything`` leaves positions in that are ticked as in and checked. Ends the run where the input has errors.
    """
    bench, told, spoilt = load_without_prices(folder)
    stop_on_errors(told, as_json=as_json)
    check_sets(bench, names, as_json=as_json)
    plan = None if fresh else _from_record(folder, bench, everything=everything, as_json=as_json)
    if plan is None:
        stop_on_errors(spoilt, as_json=as_json)
        plan = _worked_out(bench, as_json=as_json)
    missing = sum(a.qty for a in plan.allotments if a.part is None and (not names or a.set in names))
    if missing and not as_json:
        typer.echo(f"{missing} of the pieces have no part: nothing was ordered for them.", err=True)
    return bench, plan.for_sets(names) if names else plan


def _from_record(folder: Path, bench: Bench, *, everything: bool, as_json: bool) -> Plan | None:
    from recap.audit.record import RecordError, read_record
    from recap.audit.state import place_states
    from recap.fit.plan import plan_of_record

    try:
        events, kept = read_record(folder)
    except RecordError as fault:
        refuse_one("record-unusable", str(fault), str(folder / "record.db"), None, as_json=as_json)
    if not kept:
        return None
    states = place_states(events)
    done = () if everything else {key for key, state in states.items() if state.fitted and state.checked}
    return plan_of_record(bench.sets, bench.caplists, kept, events, done)


def _worked_out(bench: Bench, *, as_json: bool) -> Plan:
    from recap.fit.plan import plan_of_order
    from recap.order.run import run_order

    run = run_order(bench)
    if not as_json:
        tell(run.diagnostics)
    stop_on_errors(run.diagnostics, as_json=as_json)
    shown = run.report if run.report.order is not None or run.part is None else run.part
    return plan_of_order(run.report.groups, shown.order, "order worked out now, not kept")


def write_file(path: Path, content: bytes, *, force: bool, as_json: bool = False) -> None:
    """Write one file whole; refuse to replace one unless ``force``. The name goes to standard error."""
    from recap.files import write_atomically, write_new

    refuse_if_there(path, force=force, as_json=as_json)
    try:
        (write_atomically if force else write_new)(path, content)
    except FileExistsError:  # another command was quicker
        _refuse_taken(path, as_json=as_json)
    except OSError as fault:
        refuse_one("not-writable", f"the file can't be written: {fault}", str(path), ROOM, as_json=as_json)
    typer.echo(f"wrote {path}", err=True)


def refuse_if_there(path: Path, *, force: bool, as_json: bool = False) -> None:
    """End the run where a file of that name is there, unless ``force``: before the work on it, and after."""
    if not force and (path.exists() or path.is_symlink()):
        _refuse_taken(path, as_json=as_json)


def _refuse_taken(path: Path, *, as_json: bool) -> NoReturn:
    message = f"{path} is there already"
    refuse_one("would-overwrite", message, str(path), "name another file, or add --force", as_json=as_json)
