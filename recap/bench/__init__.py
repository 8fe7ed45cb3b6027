"""The bench folder and all it holds, read and checked: the one entrance for commands, page and tests.

The names below are imported on first use, so that the market can be read while the rest is still being imported.
"""

from __future__ import annotations

import importlib
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from recap.bench.load import Bench, load_bench

__all__ = ["Bench", "load_bench"]


def __getattr__(name: str) -> Any:  # noqa: ANN401 - whatever the name is bound to in its own module
    if name in __all__:
        return getattr(importlib.import_module("recap.bench.load"), name)
    message = f"module 'recap.bench' has no attribute {name!r}"
    raise AttributeError(message)
