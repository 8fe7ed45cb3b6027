"""What is printed, as lines without the frames of tables: words and figures one space apart."""

from __future__ import annotations

from io import StringIO
from typing import TYPE_CHECKING, Any

from rich.console import Console

if TYPE_CHECKING:
    from collections.abc import Callable


def lines(show: Callable[..., None], *words: Any, **more: Any) -> list[str]:
    """Return what ``show`` prints on a wide terminal."""
    console = Console(width=250, record=True, file=StringIO())
    show(console, *words, **more)
    told = (" ".join(line.split()) for line in console.export_text().splitlines())
    return [line for line in told if line.strip("─ ")]
