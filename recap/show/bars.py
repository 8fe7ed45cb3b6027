"""Bars for the terminal: always beside their number, so they read without colour and in a pipe."""

from __future__ import annotations

from math import log10

_FULL = "█"
_PARTS = ("", "▏", "▎", "▍", "▌", "▋", "▊", "▉")


def bar(share: float, width: int = 20) -> str:
    """Return a bar for a share of 1, eighths of a letter fine; never longer than ``width``, never below nothing."""
    eighths = round(max(0.0, min(1.0, share)) * width * len(_PARTS))
    whole, rest = divmod(eighths, len(_PARTS))
    return _FULL * whole + _PARTS[rest]


def log_share(value: float, least: float, most: float) -> float:
    """Return where ``value`` lies between two positive ends on a logarithmic scale, 0 to 1."""
    if value <= 0 or least <= 0 or most <= least:
        return 0.0
    return (log10(value) - log10(least)) / (log10(most) - log10(least))
