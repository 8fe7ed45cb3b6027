"""The guide's topics, and one page of it as Markdown.

A page stands in ``pages/TOPIC.md``. A line ``{{name}}`` in it is filled in from the data that the program
itself works with (:mod:`recap.guide.reference`), so that no list in the guide can go stale.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import partial
from importlib import resources
from typing import TYPE_CHECKING

from recap.guide import reference
from recap.guide.commands import commands_part

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from recap.guide.commands import Command

_MARK = re.compile(r"^\{\{([a-z-]+)\}\}$", re.MULTILINE)


@dataclass(frozen=True, slots=True)
class Topic:
    """One page: its name on the command line and what it tells."""

    name: str
    tells: str


TOPICS: tuple[Topic, ...] = (
    Topic("tour", "the work from the first list to the last tick, with the commands to type"),
    Topic("commands", "every command with its options"),
    Topic("tables", "every file of a bench folder and every column: meaning, unit, other headers"),
    Topic("catalogues", "how price lists and other tables are read, looked at and merged"),
    Topic("settings", "every key of bench.toml"),
    Topic("doubts", "every code a message may carry: what it means, an example, what to do"),
    Topic("rules", "when a part fits, fits with care, or doesn't; every number and its source"),
    Topic("money", "how an order is priced, and what proven means"),
    Topic("record", "what the tool remembers, and how drawer.csv and the record live together"),
    Topic("safety", "what kills, and what is never substituted"),
    Topic("glossary", "the words this tool uses, each for one thing"),
    Topic("sources", "where every value and formula comes from"),
)
"""Every topic, in the order in which they are listed."""


def page(topic: str, commands: Sequence[Command] = ()) -> str:
    """Return a topic's page as Markdown; ``commands`` fills in the page on commands.

    Raises KeyError where there is no such topic.
    """
    if topic not in {one.name for one in TOPICS}:
        raise KeyError(topic)
    text = (resources.files("recap.guide") / "pages" / f"{topic}.md").read_text(encoding="utf-8")
    parts: dict[str, Callable[[], str]] = {**reference.PARTS, "commands": partial(commands_part, commands)}
    return _MARK.sub(lambda mark: parts[mark[1]](), text)
