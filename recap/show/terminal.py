"""The terminal: one console for data (standard output), one for everything else (standard error).

Colour only repeats what words say. Text from users and catalogues is never read as markup.
"""

from __future__ import annotations

from decimal import Decimal
from itertools import pairwise
from typing import TYPE_CHECKING

from rich.console import Console
from rich.segment import Segment
from rich.text import Text

from recap.diagnostics import Diagnostic, Severity
from recap.show.plain import harmless

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from rich.console import ConsoleOptions, RenderableType

_STYLE = {Severity.ERROR: "bold red", Severity.WARNING: "yellow", Severity.NOTE: "dim"}
_ORDER = (Severity.ERROR, Severity.WARNING, Severity.NOTE)
ALIKE_SHOWN = 3
"""Of messages that say the same of many rows of one table, so many are shown; of the rest, the rows."""


class Showing(Console):
    """A console on which no text from a file can command the terminal, be it part of a table or of a message."""

    def render(self, renderable: RenderableType, options: ConsoleOptions | None = None) -> Iterator[Segment]:
        """Yield the segments with their text as it may be shown; Rich's own commands pass."""
        for segment in super().render(renderable, options):
            text = segment.text if segment.control else harmless(segment.text)
            yield segment if text is segment.text else Segment(text, segment.style)


def output() -> Console:
    """Return the console for data."""
    return Showing(highlight=False)


def messages() -> Console:
    """Return the console for diagnostics, progress and advice."""
    return Showing(stderr=True, highlight=False)


def print_diagnostics(
    diagnostics: Iterable[Diagnostic], *, notes: bool | None = False, console: Console | None = None
) -> None:
    """Print errors, then warnings, then notes (or how many there are), each with its place and what to do.

    ``notes``: whether to show notes; None where the user can't ask for them, and so isn't told of any.
    """
    target = console or messages()
    told = sorted(diagnostics, key=lambda d: _ORDER.index(d.severity))
    shown = [d for d in told if notes or d.severity is not Severity.NOTE]
    for alike in _alike(shown):
        told_whole = alike if len(alike) <= ALIKE_SHOWN + 1 else alike[:ALIKE_SHOWN]
        for diagnostic in told_whole:
            target.print(_lines(diagnostic), soft_wrap=True)
        if rest := alike[len(told_whole) :]:
            rows = _row_ranges([d.source.row for d in rest if d.source.row is not None])
            target.print(
                Text(f"    … and so in {len(rest)} rows more of {rest[0].source.file}: {rows}"), soft_wrap=True
            )
    hidden = len(told) - len(shown)
    if hidden and notes is not None:
        target.print(Text(f"{hidden} note{'s' if hidden > 1 else ''} not shown; --notes lists them.", style="dim"))


def _alike(diagnostics: Sequence[Diagnostic]) -> list[list[Diagnostic]]:
    """Return the diagnostics, those together that say the same of different rows, where the first of them stood."""
    found: dict[object, list[Diagnostic]] = {}
    for number, one in enumerate(diagnostics):
        place = one.source
        same = (one.severity, one.code, one.hint, place.file, place.sheet, place.column)
        found.setdefault(number if place.row is None else same, []).append(one)
    return list(found.values())


def _row_ranges(rows: Sequence[int]) -> str:
    """Return row numbers as people write them: ``8-22, 24, 27``."""
    numbers = sorted(set(rows))
    breaks = [at for at, (before, after) in enumerate(pairwise(numbers), start=1) if after > before + 1]
    runs = [numbers[a:b] for a, b in pairwise([0, *breaks, len(numbers)])]
    return ", ".join(f"{run[0]}" if len(run) == 1 else f"{run[0]}-{run[-1]}" for run in runs)


def _lines(diagnostic: Diagnostic) -> Text:
    text = Text(f"{diagnostic.source}: ")
    text.append(diagnostic.severity.value, style=_STYLE[diagnostic.severity])
    text.append(f": {diagnostic.message} [{diagnostic.code}]")
    if diagnostic.found:
        text.append(f"\n    | {diagnostic.found}", style="dim")
    if diagnostic.hint:
        text.append(f"\n    hint: {diagnostic.hint}")
    return text


def hanging(console: Console, lead: str, said: str, style: str = "") -> None:
    """Print ``said`` after ``lead`` (``- ``, ``1. ``), further lines indented to where it began."""
    indent = len(lead)
    for at, line in enumerate(Text(said, style=style).wrap(console, max(console.width - indent, 20))):
        line.rstrip()
        console.print(Text.assemble((lead if not at else " " * indent, style), line), soft_wrap=True)


def counted(number: int, noun: str, plural: str | None = None) -> str:
    """Return ``1 position``, ``3 positions``."""
    return f"{number} {noun if number == 1 else plural or noun + 's'}"


def money(amount: Decimal, currency: str | None = None) -> str:
    """Return an amount as people write it: two places; below 1, as many as its first four figures need.

    The exact amount stands in the JSON; this is for the eye only.
    """
    rounded = round(amount, 2)
    text = f"{rounded:,.2f}" if amount == rounded or abs(amount) >= 1 else f"{Decimal(f'{amount:.4g}').normalize():f}"
    return text if currency is None else f"{text} {currency}"


def total(amount: Decimal, currency: str | None = None) -> str:
    """Return a sum as people pay it: two places; only what would read as nothing keeps its figures."""
    text = f"{amount:,.2f}" if not amount or round(amount, 2) else money(amount)
    return text if currency is None else f"{text} {currency}"


def unit_prices(amounts: Sequence[Decimal]) -> list[str]:
    """Return prices under one another: all with as many places as the one that needs most, from 2 to 4."""
    places = max((min(max(-int(a.normalize().as_tuple().exponent), 2), 4) for a in amounts), default=2)
    return [f"{amount:,.{places}f}" for amount in amounts]


def refs(names: Sequence[str], limit: int = 12) -> str:
    """Return designators joined by commas, shortened with a count when there are many."""
    shown = ", ".join(names[:limit])
    return shown if len(names) <= limit else f"{shown} … ({len(names)} in all)"
