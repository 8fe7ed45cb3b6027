"""Bars for the terminal: always beside their number, so they read without colour and in a pipe."""

from __future__ import annotations

_FULL = "█"
_PARTS = ("", "▏", "▎", "▍", "▌", "▋", "▊", "▉")


def bar(share: float, width: int = 20) -> str:
    """Return a bar for a share of 1, eighths of a letter fine; never longer than ``width``, never below nothing."""
    eighths = round(max(0.0, min(1.0, share)) * width * len(_PARTS))
    whole, rest = divmod(eighths, len(_PARTS))
    return _FULL * whole + _PARTS[rest]
