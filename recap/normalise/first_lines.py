"""Whether the first line of a list names it, though it holds a number that is no value: ``Set 128K caps list``."""

from __future__ import annotations

from typing import TYPE_CHECKING

from recap.normalise import headings, line_shapes, other_parts

if TYPE_CHECKING:
    from recap.normalise.record_line import Line


def is_title(line: Line, text: str, *, opens: bool) -> bool:
    """Tell whether a line names the list; ``opens``: nothing but blank lines stands above it."""
    bare = line.has_values and not line.has_refs and other_parts.FARADS.search(text) is None
    dated = bare and other_parts.names_capacitor(text) and line_shapes.DATED_HEADING.search(text) is not None
    return dated or (bare and opens and headings.names_list(text))
