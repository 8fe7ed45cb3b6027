"""Patterns that are compiled on first use: there are many, some take long, and one list needs only a few of them."""

from __future__ import annotations

import re
from typing import Any, cast


class _Later:
    """Stands for a pattern; from the first use on it has the compiled one's methods as its own."""

    def __init__(self, pattern: str, flags: int) -> None:
        self.pattern = pattern
        self._flags = flags

    def __getattr__(self, name: str) -> Any:  # noqa: ANN401 - what a compiled pattern has under the name
        found = getattr(re.compile(self.pattern, self._flags), name)
        setattr(self, name, found)
        return found


def compiled(pattern: str, flags: int = 0) -> re.Pattern[str]:
    """Return what serves as ``re.compile(pattern, flags)`` where its methods are called."""
    return cast("re.Pattern[str]", _Later(pattern, flags))
