"""A set's story in the terminal and as JSON."""

from __future__ import annotations

from itertools import groupby
from typing import TYPE_CHECKING, Any

from rich.text import Text

from recap.audit.events import document_of_event, stamp
from recap.audit.story import in_words
from recap.show.documents import number
from recap.show.tables import plain_table
from recap.show.terminal import counted

if TYPE_CHECKING:
    from collections.abc import Sequence

    from rich.console import Console

    from recap.audit.chronicle import Chronicle
    from recap.audit.due import Due

SOONEST = 8


def print_overview(console: Console, told: Sequence[Chronicle]) -> None:
    """Print a line per set."""
    table = plain_table()
    for title in ("set", "in", "checked", "last work", "at the bench", "first due"):
        table.add_column(title)
    for one in told:
        last = one.events[-1].when.astimezone().date().isoformat() if one.events else "never"
        minutes = sum(session.minutes for session in one.sessions)
        table.add_row(
            Text(one.set),
            f"{one.done.fitted} of {one.done.total}",
            str(one.done.checked),
            last,
            f"{minutes // 60} h {minutes % 60:02} min" if minutes else "",
            Text(_when(one.due[0]) if one.due else ""),
        )
    console.print(table)


def print_story(console: Console, one: Chronicle) -> None:
    """Print what happened day by day, then readings of hours, what was lent, and what comes due."""
    head = f"{one.set}: {one.done.fitted} of {one.done.total} in, {one.done.checked} checked"
    console.print(Text(head, style="bold"))
    for day, events in groupby(one.events, key=lambda e: e.when.astimezone().date()):
        console.print(Text(f"\n{day.isoformat()}", style="bold"))
        for event in events:
            other = f"[{event.set}] " if event.set != one.set else ""
            console.print(Text(f"  {event.when.astimezone():%H:%M}  {other}{in_words(event)}"))
    if not one.events:
        console.print("Nothing is recorded.")
    if one.sessions:
        minutes = sum(session.minutes for session in one.sessions)
        spent = f"{counted(len(one.sessions), 'session')}, {minutes // 60} h {minutes % 60:02} min from tick to tick"
        console.print(Text(f"\nAt the bench: {spent}"))
    for line in one.lacks:
        console.print(Text(f"Lacks {line}"))
    _print_due(console, one)


def _print_due(console: Console, one: Chronicle) -> None:
    if not one.due:
        return
    known = "" if one.usage.readings or one.usage.per_week else "; say how much it runs: recap work BENCH SET --hours"
    console.print(Text(f"\nParts due by life estimate, soonest first{known}", style="bold"))
    table = plain_table()
    for title in ("position", "part", "life h", "run h", "due", "model"):
        table.add_column(title, justify="right" if title.endswith(" h") else "left")
    for one_due in one.due[:SOONEST]:
        run = "" if one_due.run_h is None else f"{one_due.run_h:,.0f}"
        table.add_row(
            Text(f"{one_due.key.ref} {one_due.key.board}".strip()),
            Text(one_due.part.number),
            f"{one_due.life_h:,.0f}",
            run,
            Text(_when(one_due)),
            one_due.model,
        )
    console.print(table)


def _when(due: Due) -> str:
    if due.on is not None:
        return due.on.isoformat()
    if due.left_h is None:
        return f"after {due.life_h:,.0f} h"
    return f"in {due.left_h:,.0f} h" if due.left_h >= 0 else f"{-due.left_h:,.0f} h ago"


def history_document(one: Chronicle) -> dict[str, Any]:
    """Return a set's story as JSON."""
    return {
        "set": one.set,
        "positions": one.done.total,
        "out": one.done.out,
        "in": one.done.fitted,
        "checked": one.done.checked,
        "events": [{**document_of_event(e), "text": in_words(e)} for e in one.events],
        "sessions": [
            {"start": stamp(s.start), "end": stamp(s.end), "minutes": s.minutes, "fitted": s.fitted}
            for s in one.sessions
        ],
        "lacks": list(one.lacks),
        "hours_per_week": number(one.usage.per_week),
        "due": [
            {
                "board": d.key.board or None,
                "ref": d.key.ref,
                "part": d.part.number,
                "life_hours": number(d.life_h),
                "model": d.model,
                "hours_run": None if d.run_h is None else round(float(d.run_h), 1),
                "due": d.on.isoformat() if d.on else None,
            }
            for d in one.due
        ],
    }
