"""Read capacitor lists, match them to catalogues, find the proven cheapest order, keep the work straight.

The core is a library; names below are imported on first use, so that ``import recap`` costs nothing::

    import recap

    bench, told = recap.load_bench("demo")
    run = recap.run_order(bench)
    print(run.outcome.status, run.outcome.order.total)
"""

from __future__ import annotations

import importlib
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from recap.bench import Bench, load_bench
    from recap.match.rules import judge
    from recap.normalise.caplist import read_cap_list, read_cap_text
    from recap.normalise.markings import decode
    from recap.order.run import OrderOptions, Run, run_order

_HOMES = {
    "Bench": "recap.bench",
    "OrderOptions": "recap.order.run",
    "Run": "recap.order.run",
    "decode": "recap.normalise.markings",
    "judge": "recap.match.rules",
    "load_bench": "recap.bench",
    "read_cap_list": "recap.normalise.caplist",
    "read_cap_text": "recap.normalise.caplist",
    "run_order": "recap.order.run",
}

__all__ = [
    "Bench",
    "OrderOptions",
    "Run",
    "decode",
    "judge",
    "load_bench",
    "read_cap_list",
    "read_cap_text",
    "run_order",
]


def __getattr__(name: str) -> Any:  # noqa: ANN401 - whatever the name is bound to in its own module
    if name in _HOMES:
        return getattr(importlib.import_module(_HOMES[name]), name)
    message = f"module 'recap' has no attribute {name!r}"
    raise AttributeError(message)


def __dir__() -> list[str]:
    return sorted(__all__)
