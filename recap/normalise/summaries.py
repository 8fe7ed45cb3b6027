"""Quantities that say again what the designators say: a summary is counted once, what looks like one is doubted."""

from __future__ import annotations

import re
from collections import Counter
from dataclasses import dataclass
from itertools import groupby
from typing import TYPE_CHECKING, Final

from recap.diagnostics import Diagnostic, note, warning
from recap.normalise.checks import lay
from recap.normalise.clean import fold
from recap.normalise.form_headings import heads_totals
from recap.normalise.heading_marks import marked_as
from recap.normalise.values import plain

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence
    from decimal import Decimal

    from recap.diagnostics import Source
    from recap.model import Position
    from recap.normalise.ledger import Ledger

_SUMMARISING: Final = frozenset(
    fold(word)
    for word in (
        "summary sum total totals overall quantities shopping order buy needed together zusammenfassung summe gesamt "
        "mengen bestellung bestellliste einkaufsliste insgesamt récapitulatif résumé totaux commande quantités achats "
        "riepilogo totale totali ordine quantità acquisti resumen totales pedido cantidades compra samenvatting totaal "
        "bestelling bestellijst boodschappenlijst aantallen"
    ).split()
)
"""Words of a heading under which the parts listed above (or below) are added up."""
ENOUGH: Final = 3
"""So many lines that each name a part listed already are no chance."""


@dataclass(frozen=True, slots=True)
class _Named:
    """What the positions with designators add up to."""

    values: Counter[Decimal | None]
    rated: Counter[tuple[Decimal | None, Decimal | None]]
    boards: frozenset[str | None]

    def count(self, entry: Position) -> int:
        """Return how many of them have what ``entry`` states."""
        return self.values[entry.value_uF] if entry.volts is None else self.rated[entry.value_uF, entry.volts]


def once(positions: Sequence[Position], ledgers: Sequence[Ledger]) -> tuple[list[Position], list[Diagnostic]]:
    """Take out summaries that agree with the designators; doubt those that don't, and what may be one."""
    listed = [position for position in positions if position.ref is not None]
    if not listed or len(listed) == len(positions):
        return list(positions), []
    rated = Counter((position.value_uF, position.volts) for position in listed)
    named = _Named(Counter(p.value_uF for p in listed), rated, frozenset(p.board for p in listed))
    said = {ledger.sheet: _said(ledger) for ledger in ledgers}
    kept: list[Position] = []
    told: list[Diagnostic] = []
    before: Position | None = None
    for loose, part in groupby(positions, key=lambda position: position.ref is None):
        run = list(part)
        verdict = _verdict(run, named, headed=_is_headed(run[0], before, said)) if loose else ""
        if loose and headed_by_total(run[0], before, said):
            below = [entry for entry in run if entry.board == run[0].board]
            told += [_total(entry, entry.source, named) for entry in below if entry.source is not None]
            kept += run[len(below) :]
        elif verdict == "summary":
            told += [note("line-passed-over", _REPEATED, p.source, found=p.text[:200]) for p in run if p.source]
        else:
            kept += _doubted(run, told) if verdict == "doubt" else run
        before = run[-1]
    return kept, told


def _total(entry: Position, source: Source, named: _Named) -> Diagnostic:
    """Return what is said of a line under ``Totals``: it is no position; where it doesn't agree somebody must look."""
    found, count = entry.text[:200], named.count(entry)
    if entry.qty == count:
        return note("line-passed-over", _REPEATED, source, found=found)
    message = (
        f"stands under totals, but {count} such pieces are listed with designators; it was not taken for positions"
    )
    hint = "if these are parts of their own, put them under a heading of their own"
    return warning("counted-twice", message, source, hint, found)


_REPEATED: Final = "adds up what is listed with designators: counted once"


def _said(ledger: Ledger) -> dict[int, str]:
    """Return what stands on the lines that were told about, by row."""
    return {d.source.row: d.found for d in ledger.diagnostics if d.source.row is not None and d.found is not None}


def _is_headed(first: Position, before: Position | None, said: Mapping[str | None, Mapping[int, str]]) -> bool:
    """Tell whether a line between the last position and this one, or the name of the sheet, says that parts add up."""
    if before is None or first.source is None or first.source.row is None:
        return False
    sheet, row = first.source.sheet, first.source.row
    above = before.source.row if before.source is not None and before.source.sheet == sheet else None
    if above is None and sheet is not None and _sums_up(sheet):
        return True
    return any(_sums_up(said.get(sheet, {}).get(at, "")) for at in range((above or 0) + 1, row))


def headed_by_total(first: Position, before: Position | None, said: Mapping[str | None, Mapping[int, str]]) -> bool:
    """Tell whether the last line told of above a run of loose positions says that they are totals, and nothing else."""
    if before is None or before.source is None or first.source is None or first.source.row is None:
        return False
    if before.source.sheet != first.source.sheet or before.source.row is None or first.ref is not None:
        return False
    lines = said.get(first.source.sheet, {})
    between = [lines[at] for at in range(before.source.row + 1, first.source.row) if at in lines]
    return any(heads_totals(marked_as(text).text) for text in between[-2:])


def _sums_up(text: str) -> bool:
    words = re.findall(r"[^\W\d_]+", text)
    return len(words) <= 8 and not re.search(r"\d", text) and bool({fold(w) for w in words} & _SUMMARISING)  # noqa: PLR2004


def _verdict(run: Sequence[Position], named: _Named, *, headed: bool) -> str:
    """Return ``summary`` where a heading and every number say so, ``doubt`` where it looks like one, else nothing."""
    if not headed and not {position.board for position in run} <= named.boards:
        return ""  # another board's parts
    counted = [named.count(entry) for entry in run]
    agree = all(entry.qty == count for entry, count in zip(run, counted, strict=True))
    whole = agree and sum(counted) == named.values.total() and named.values[None] == 0
    if headed:
        return "summary" if whole else "doubt"
    again = len(run) >= ENOUGH and all(counted) and all(position.volts is not None for position in run)
    return "doubt" if whole or again else ""


def _doubted(run: list[Position], told: list[Diagnostic]) -> list[Position]:
    chosen = []
    for at, position in enumerate(run):
        value = "?" if position.value_uF is None else plain(position.value_uF)
        chosen.append(
            (at, f"{position.qty} pieces of {value} µF without designators, and designators listed beside them")
        )
    hint = "delete these lines if they only add up the list, or name their designators"
    told += lay(run, chosen, "counted-twice", hint)
    return run


def said_again(positions: Sequence[Position], ledgers: Sequence[Ledger]) -> tuple[list[Position], list[Diagnostic]]:
    """Doubt what says again what one part is: a page of its data in several blocks, with one designator at most."""
    listed = list(positions)
    one = len({p.value_uF for p in listed}) == 1 and len({p.volts for p in listed} - {None}) <= 1
    named = [at for at, p in enumerate(listed) if p.ref is not None]
    if len(listed) < 2 or not one or len(named) > 1 or not any(ledger.labelled for ledger in ledgers):  # noqa: PLR2004
        return listed, []
    best = named[0] if named else max(range(len(listed)), key=lambda at: (listed[at].volts is not None, -at))
    first = listed[best].source
    if first is None:
        return listed, []
    message = f"perhaps the same part as in row {first.row}: one page may say it several times"
    again = [(at, message) for at in range(len(listed)) if at != best]
    return listed, lay(listed, again, "counted-twice", "delete what says it again")
