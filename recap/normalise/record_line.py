"""One line of text taken apart into the records that it holds."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from recap.normalise.fields import Draft


@dataclass(slots=True)
class Line:
    """One line taken apart: its drafts, and what shape it had."""

    drafts: list[Draft] = field(default_factory=list)
    refs_first: bool = False
    has_refs: bool = False
    has_values: bool = False
    foreign: str = ""
    foreign_first: bool = False
    lead: list[str] = field(default_factory=list)
    adds: bool = False
    """A word in front of its designators says that they belong to the list, too: ``add C51, 10uF 63V``."""
    valued: bool = False
    """A bare number stands right behind the designators that open it, as values do."""
    chatter: int = 0
    hedged: bool = False
    unread: bool = False
    """It says that what stands on the part can't be read."""
