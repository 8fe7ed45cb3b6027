"""The checklist as one HTML file that works offline: nothing is fetched, ticks stay in the browser."""

from __future__ import annotations

import base64
import hashlib
from functools import cache
from importlib.resources import files
from typing import TYPE_CHECKING, Any

from jinja2 import Environment, PackageLoader, StrictUndefined
from markupsafe import Markup

from recap.fit.checklist import BOXES, Checklist, remarks, where
from recap.fit.worklist import NOTHING, sets_of
from recap.order.wording import detail_text, size_text, unbroken, value_text

if TYPE_CHECKING:
    from recap.fit.worklist import Task
    from recap.model import Part, Position


def checklist_html(checklist: Checklist) -> str:
    """Return the checklist as an HTML page; whatever lists and catalogues say is shown as text.

    The page's own style and script are allowed by their hashes, anything else is not: a text that
    got through as script would still not run.
    """
    style, script = _asset("checklist.css"), _asset("checklist.js")
    sections = [
        {"set": section.set, "title": section.title, "rows": [_row(task, checklist) for task in section.tasks]}
        for section in checklist.sections
    ]
    names = sets_of(checklist.sections)
    page: str = (
        _templates()
        .get_template("checklist.html")
        .render(
            style=Markup(style),  # noqa: S704 - our own file
            script=Markup(script),  # noqa: S704 - our own file
            style_hash=_hash(style),
            script_hash=_hash(script),
            sets=list(names),
            sections=sections,
            sections_by_set=names,
            boxes=BOXES,
            cautions=checklist.cautions,
            made_on=checklist.made_on.isoformat(),
            origin=checklist.origin,
            key=_key(checklist),
        )
    )
    return page


def _row(task: Task, checklist: Checklist) -> dict[str, Any]:
    said = tuple(map(unbroken, remarks(task)))
    return {
        "id": f"t{_short(task.set, task.board, task.ref, str(task.part.number if task.part else ''))}",
        "place": where(task, checklist),
        "old_value": unbroken(value_text(task.position)) or "value not stated",
        "old_detail": _detail(task.position),
        "number": task.part.number if task.part else "",
        "new_value": (unbroken(value_text(task.part)) or "value not stated") if task.part else NOTHING,
        "new_detail": _detail(task.part) if task.part else "",
        "source": task.source,
        "polarity": task.polarity,
        "dangers": said[: len(task.dangers)],  # they stand first
        "remarks": said[len(task.dangers) :],
    }


def _detail(thing: Part | Position) -> str:
    return unbroken(", ".join(text for text in (detail_text(thing), size_text(thing)) if text))


def _key(checklist: Checklist) -> str:
    """Return what tells this list's ticks from another's: the places on it and what goes in."""
    return _short(*(f"{t.set}|{t.board}|{t.ref}|{t.new}" for section in checklist.sections for t in section.tasks))


def _short(*words: str) -> str:
    return hashlib.sha256("\x1f".join(sorted(words) if len(words) > 4 else words).encode()).hexdigest()[:16]  # noqa: PLR2004


def _hash(text: str) -> str:
    return base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()


@cache
def _asset(name: str) -> str:
    return (files("recap.fit") / "templates" / name).read_text(encoding="utf-8")


@cache
def _templates() -> Environment:
    loader = PackageLoader("recap.fit")
    return Environment(loader=loader, autoescape=True, undefined=StrictUndefined, trim_blocks=True, lstrip_blocks=True)
