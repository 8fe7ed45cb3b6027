"""An audit in the terminal and as JSON: suspects first, then the other work."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from rich.table import Table
from rich.text import Text

from recap.audit.events import EventKind, stamp
from recap.audit.story import in_words
from recap.model import DRAWER
from recap.order.cautions import SAFETY_LINE
from recap.order.wording import marked_text, value_text
from recap.show.terminal import counted

if TYPE_CHECKING:
    from rich.console import Console

    from recap.audit.events import Event
    from recap.audit.review import Review, Suspect
    from recap.audit.trace import Step

WORTH_A_LOOK = 10
"""Below this rank there is only what any undone or fitting part has."""


NOTHING_ODD = "Nothing in the record speaks against what was fitted; --all lists every position with all known of it."
NOTHING_DONE = (
    "By the record nothing was fitted here yet, so there is no step to doubt. An audit goes over what was ticked on "
    "the bench page; before that measure the old parts (recap measure). --all lists every position."
)


def print_audit(console: Console, found: Review, most: int | None) -> None:
    """Print the suspects by rank, each with what is known of it; ``most`` of them, None: every position."""
    console.print(Text(f"! {SAFETY_LINE}"))
    ranked = [s for s in found.suspects if most is None or s.score >= WORTH_A_LOOK]
    shown = ranked if most is None else ranked[:most]
    head = f"{found.question.set}: {counted(len(ranked), 'position')} to look at, of {len(found.suspects)}"
    if found.question.about:
        head += f", for {found.question.about!r}"
    console.print(Text(head, style="bold"))
    if not ranked:
        done = any(s.step.state.fitted for s in found.suspects)
        console.print(Text(NOTHING_ODD if done else NOTHING_DONE))
    for rank, suspect in enumerate(shown, start=1):
        _print_suspect(console, rank, suspect)
    if len(shown) < len(ranked):
        console.print(Text(f"\n{len(ranked) - len(shown)} more; --all lists every position.", style="dim"))
    if found.lacks:
        console.print(Text("\nLacks", style="bold"))
        for line in found.lacks:
            console.print(Text(f"  {line}"))
    if found.other_work:
        console.print(Text("\nOther work and symptoms", style="bold"))
        for event in found.other_work:
            console.print(Text(f"  {_moment(event)}  {in_words(event)}"))


def _print_suspect(console: Console, rank: int, suspect: Suspect) -> None:
    step = suspect.step
    position = step.position
    listed = marked_text(position) if position is not None else "not in the list"
    role = f", {position.role.value}" if position is not None and position.role else ""
    title = Text(f"\n{rank:>2}. {step.key.ref}", style="bold")
    title.append(f"  {step.key.board or 'no board named'}: {listed}{role}", style="not bold")
    console.print(title)
    lines = [("fault", match.reason) for match in suspect.matches]
    lines += [("look", reason.text) for reason in suspect.reasons]
    touched = step.marked is not None or any(
        step.last(kind) for kind in (EventKind.OUT, EventKind.IN, EventKind.CHECKED)
    )
    lines += [("was", step.marked.text if step.marked else "not noted")] if touched else []
    lines += [("fitted", _fitted(step))]
    lines += [("when", _ticks(step))] if touched else []
    grid = Table.grid(padding=(0, 2, 0, 0))
    for label, text in lines:
        grid.add_row("   ", Text(label, style="dim"), Text(text))
    console.print(grid)


def _fitted(step: Step) -> str:
    if not step.state.fitted:
        return f"nothing; planned is {step.pieces[0].part.number}, {_source(step)}" if step.pieces else "nothing"
    number = step.said or (step.fitted.number if step.fitted else None)
    what = f", {value_text(step.fitted)}" if step.fitted is not None else ""
    return f"{number or 'not said what'}{what}{', ' + _source(step) if step.pieces else ''}"


def _source(step: Step) -> str:
    piece = step.pieces[0]
    if step.said is not None and step.said != piece.part.number:
        return f"instead of {piece.part.number} of order {piece.order}"
    return (
        f"from the drawer, by order {piece.order}"
        if piece.supplier == DRAWER
        else (f"bag of {step.key.set}, {piece.supplier}, order {piece.order}")
    )


def _ticks(step: Step) -> str:
    words = []
    for kind in (EventKind.OUT, EventKind.IN, EventKind.CHECKED):
        tick = step.last(kind)
        if tick is None:
            words.append(f"never {kind.value}")
        else:
            words.append(f"{kind.value} {_moment(tick)}" + (f" by {tick.by}" if tick.by else ""))
    return ", ".join(words)


def _moment(event: Event) -> str:
    return event.when.astimezone().strftime("%Y-%m-%d %H:%M")


def audit_document(found: Review) -> dict[str, Any]:
    """Return the audit as JSON, every position in it, the likeliest first."""
    return {
        "set": found.question.set,
        "about": found.question.about,
        "suspects": [_suspect_document(suspect) for suspect in found.suspects],
        "lacks": list(found.lacks),
        "other_work": [
            {"at": stamp(e.when), "board": e.board, "ref": e.ref, "text": in_words(e)} for e in found.other_work
        ],
    }


def _suspect_document(suspect: Suspect) -> dict[str, Any]:
    step = suspect.step
    piece = step.pieces[0] if step.pieces else None
    return {
        "board": step.key.board or None,
        "ref": step.key.ref,
        "score": suspect.score,
        "reasons": [{"kind": r.kind, "weight": r.weight, "text": r.text} for r in suspect.reasons],
        "matches": [match.reason for match in suspect.matches],
        "listed": None if step.position is None else value_text(step.position),
        "was": step.marked.text if step.marked else None,
        "fitted": None if not step.state.fitted else step.said or (step.fitted.number if step.fitted else None),
        "planned": piece.part.number if piece else None,
        "supplier": piece.supplier if piece else None,
        "order": piece.order if piece else None,
        **{
            kind.value: [{"at": stamp(t.when), "by": t.by} for t in step.state.ticks(kind)]
            for kind in (EventKind.OUT, EventKind.IN, EventKind.CHECKED)
        },
    }
