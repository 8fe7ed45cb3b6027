"""What the commands share that read or write the record: opening it, and what users write as ``NAME=WORD``."""

from __future__ import annotations

from contextlib import contextmanager
from typing import TYPE_CHECKING

from recap.cli.answers import refuse_one, stop_on_errors, tell_of_bench
from recap.cli.steps import USAGE

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Sequence
    from pathlib import Path

    from recap.audit.events import Event, PlaceKey
    from recap.audit.kept import KeptOrder
    from recap.audit.record import Record
    from recap.bench import Bench
    from recap.diagnostics import Diagnostic
    from recap.model import Order, Position


def load(folder: Path, *, prices: bool = False, as_json: bool = False) -> Bench:
    """Return the bench; the run ends where its files have errors, those of price lists only with ``prices``.

    What was bought and fitted stands in the record: a price list that was changed since must not lock it away.
    """
    return load_and_said(folder, prices=prices, as_json=as_json)[0]


def load_and_said(
    folder: Path, *, prices: bool = False, as_json: bool = False
) -> tuple[Bench, list[Diagnostic]]:
    """Return the bench as :func:`load` does, and what its files say, which is shown where no JSON is asked for."""
    from recap.bench import load_bench

    loaded, told = load_bench(folder) if prices else load_without_prices(folder)[:2]
    stop_on_errors(told, as_json=as_json)
    if not as_json:
        tell_of_bench(told)
    return loaded, told


def load_without_prices(folder: Path) -> tuple[Bench, list[Diagnostic], list[Diagnostic]]:
    """Return the bench and what its files say, errors of price lists as warnings only; and these as they were."""
    from dataclasses import replace

    from recap.bench import load_bench
    from recap.bench.market import Market, read_market
    from recap.diagnostics import Severity

    spoilt: list[Diagnostic] = []

    def offered() -> Market:
        market = read_market(folder)
        spoilt.extend(one for one in market.told if one.severity is Severity.ERROR)
        return market._replace(told=[replace(one, severity=Severity.WARNING) for one in spoilt])

    loaded, told = load_bench(folder, offered)
    return loaded, told, spoilt


@contextmanager
def opened(folder: Path, *, to_read: bool = False, as_json: bool = False) -> Iterator[Record]:
    """Open the record, for writing or ``to_read``; the run ends where it can't be used, then or later."""
    from recap.audit.record import FILE_NAME, EventConflictError, Record, RecordError

    try:
        with Record(folder / FILE_NAME, to_read=to_read) as record:
            yield record
    except EventConflictError:
        raise
    except RecordError as fault:
        refuse_one("record-unusable", str(fault), str(folder), None, as_json=as_json)


def read(folder: Path, *, as_json: bool = False) -> tuple[tuple[Event, ...], tuple[KeptOrder, ...]]:
    """Return what the record tells, making none where there is none."""
    from recap.audit.record import RecordError, read_record

    try:
        return read_record(folder)
    except RecordError as fault:
        refuse_one("record-unusable", str(fault), str(folder), None, as_json=as_json)


def on_hand(bench: Bench, *, as_json: bool = False) -> tuple[Bench, list[Diagnostic]]:
    """Return the bench with its drawer as file and record together tell it, and what must be settled about it."""
    from recap.audit.on_hand import with_drawer_on_hand
    from recap.audit.record import RecordError

    try:
        return with_drawer_on_hand(bench)
    except RecordError as fault:
        refuse_one("record-unusable", str(fault), str(bench.folder), None, as_json=as_json)


def ordered_already(bench: Bench) -> list[Diagnostic]:
    """Return warnings of positions that a kept order covers already."""
    from recap.audit import on_hand as kept

    return kept.ordered_already(bench)


def paid(bench: Bench, sets: Sequence[str]) -> tuple[Bench, frozenset[PlaceKey], list[Diagnostic]]:
    """Return the bench without extras that are bought, the places of these sets that are, and a note of each order."""
    from recap.audit.on_hand import bought_already, without_bought_extras

    return without_bought_extras(bench), *bought_already(bench, sets)


def kept_already(events: Sequence[Event], orders: Sequence[KeptOrder], order: Order) -> str | None:
    """Return the name of a kept order of just the same lines of which something is still owed."""
    from recap.audit.deliveries import lines

    owing = {line.key.order for line in lines(orders, events) if line.owed}
    return next((kept.id for kept in orders if kept.id in owing and _bought(kept.order) == _bought(order)), None)


def _bought(order: Order) -> set[tuple[str, str, int]]:
    return {(parcel.terms.supplier, line.part.number, line.qty) for parcel in order.suppliers for line in parcel.lines}


def not_in_yet(
    bench: Bench, only_sets: frozenset[str] | None
) -> tuple[Callable[[str, Position], bool], list[Diagnostic]]:
    """Return a test for positions whose new part is in already, and what to tell of them."""
    from recap.audit.kept import place_key
    from recap.audit.on_hand import already_in

    there, told = already_in(bench, only_sets)
    return lambda name, position: place_key(name, position) in there, told


_EXAMPLES = {
    "--line": "--line PART=12",
    "--instead": "--instead OLDPART=NEWPART",
    "--spec": '--spec "NEWPART=47uF 25V 105C radial 5x11 p2"',
    "--move": "--move PART=-1",
}


def pairs(words: Sequence[str] | None, option: str, *, as_json: bool = False) -> dict[str, str]:
    """Return what ``NAME=WORD`` options say; the last ``=`` parts them, but for --spec, where the first one does."""
    found: dict[str, str] = {}
    for word in words or ():
        name, sign, value = word.rpartition("=") if option != "--spec" else word.partition("=")
        if not sign or not name.strip() or not value.strip():
            hint = f"such as {_EXAMPLES[option]}"
            refuse_one("wrong-usage", f"not NAME=WORD: {word!r}", option, hint, as_json=as_json, status=USAGE)
        found[name.strip()] = value.strip()
    return found


def counts(words: Sequence[str] | None, option: str, *, signed: bool = False, as_json: bool = False) -> dict[str, int]:
    """Return what ``PART=QTY`` options say."""
    found: dict[str, int] = {}
    for part, text in pairs(words, option, as_json=as_json).items():
        digits = text.removeprefix("+").removeprefix("-") if signed else text
        if not digits.isascii() or not digits.isdecimal() or len(digits) > 7:  # noqa: PLR2004 - ten million pieces
            hint = f"such as {_EXAMPLES[option]}"
            refuse_one("wrong-usage", f"not a count: {text!r}", option, hint, as_json=as_json, status=USAGE)
        found[part] = int(text)
    return found
