"""A decoded marking in the terminal and as JSON."""

from __future__ import annotations

from itertools import groupby
from typing import TYPE_CHECKING, Any

from rich.text import Text

from recap.show.documents import diagnostics_document
from recap.show.tables import plain_table

if TYPE_CHECKING:
    from collections.abc import Sequence

    from rich.console import Console

    from recap.diagnostics import Diagnostic
    from recap.normalise.mark_meanings import MarkingReading
    from recap.normalise.markings import Decoded


def marks_document(marking: str, decoded: Decoded, told: Sequence[Diagnostic] = ()) -> dict[str, Any]:
    """Return every reading, the likeliest first: farads, volts, percent (or low and high), ISO dates."""
    return {
        "marking": marking,
        "readings": [
            {
                "kind": reading.kind,
                "value": _value(reading),
                "unit": reading.unit,
                "text": reading.text,
                "source": reading.source,
                "mark": reading.mark,
                "likelihood": reading.rank + 1,
                "hint": reading.hint,
            }
            for reading in decoded.readings
        ],
        "unread": list(decoded.unread),
        "diagnostics": diagnostics_document(told),
    }


def _value(reading: MarkingReading) -> float | str | list[float]:
    if isinstance(reading.value, tuple):
        return [float(end) for end in reading.value]
    return reading.value if isinstance(reading.value, str) else float(reading.value)


def print_marks(console: Console, decoded: Decoded) -> None:
    """Print a line per reading, dates that differ only by their cycle on one line."""
    table = plain_table()
    for heading in ("mark", "kind", "may be", "because"):
        table.add_column(heading)
    for _, alike in groupby(decoded.readings, key=_line):
        readings = list(alike)
        first = readings[0]
        because = first.source if first.hint is None else f"{first.hint}; {first.source}"
        values = ", ".join(dict.fromkeys(reading.text for reading in readings))
        table.add_row(Text(first.mark), first.kind, Text(values, style="bold"), Text(because))
    console.print(table)
    kinds = [(reading.mark, reading.kind) for reading in decoded.readings]
    if len({mark for mark, _ in kinds}) < len(kinds):
        console.print(
            Text(
                "A mark with several lines can be read in several ways, the likeliest first. "
                "The part's kind, size and age decide, or a meter."
            )
        )


def _line(reading: MarkingReading) -> tuple[str, ...]:
    cycle = "" if reading.kind == "date" else reading.text
    return (reading.mark, reading.kind, reading.source, reading.hint or "", cycle)
