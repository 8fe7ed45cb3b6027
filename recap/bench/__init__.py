"""The bench folder and all it holds, read and checked: the one entrance for commands, page and tests."""

from __future__ import annotations

from recap.bench.load import Bench, load_bench

__all__ = ["Bench", "load_bench"]
