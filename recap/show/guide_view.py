"""The guide in the terminal, and its topics as JSON."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from rich.markdown import Markdown
from rich.padding import Padding
from rich.text import Text

from recap.show.tables import plain_table
from recap.show.terminal import output

if TYPE_CHECKING:
    from collections.abc import Sequence

    from recap.guide import Topic

WIDEST = 100
"""Running text in longer lines is hard to read."""


def topics_document(topics: Sequence[Topic]) -> dict[str, Any]:
    """Return the topics and what each tells."""
    return {"topics": [{"topic": one.name, "tells": one.tells} for one in topics]}


def print_topics(topics: Sequence[Topic]) -> None:
    """Print what there is to read about."""
    table = plain_table()
    table.add_column("topic", no_wrap=True)
    table.add_column("what it tells")
    for one in topics:
        table.add_row(Text(one.name), Text(one.tells))
    console = output()
    console.print(table)
    console.print(
        Text("Read one: recap guide tour. Numbers in force on your own bench: recap rules BENCH")
    )


def print_page(markdown: str) -> None:
    """Print a page, no wider than is pleasant to read."""
    console = output()
    page = Padding(Markdown(markdown, hyperlinks=False), 0, expand=False)
    console.print(page, width=min(console.width, WIDEST))
