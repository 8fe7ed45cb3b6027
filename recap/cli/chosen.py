"""The sets a command is asked about, written the same way everywhere: ``--sets A,B``, and again if wanted."""

from __future__ import annotations

from typing import TYPE_CHECKING

import typer

if TYPE_CHECKING:
    from collections.abc import Sequence

SETS: list[str] | None = typer.Option(None, "--sets", help="Only these sets: A,B.")


def set_names(words: Sequence[str] | None) -> tuple[str, ...]:
    """Return the names in the order given, each once; none means all sets."""
    named = [name.strip() for word in words or () for name in word.split(",")]
    return tuple(dict.fromkeys(name for name in named if name))
