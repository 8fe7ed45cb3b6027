"""The margins of a substitute as a picture in a file."""

from __future__ import annotations

import io
from typing import TYPE_CHECKING, Any, Final

import matplotlib as mpl

from recap.show.margin_view import WORDS, gauge_number

if TYPE_CHECKING:
    from matplotlib.axes import Axes

    from recap.match.margin import Gauge, Margin

FORMATS: Final = ("svg", "png")
_COLOURS: Final = {"fits": "#4c8c4a", "care": "#d9a400", "no": "#b3261e"}
_HATCH: Final = {"fits": "", "care": "//", "no": "xx"}
"""Colours tell verdicts apart, hatching does without colour."""
_MOST: Final = 3.0


def margin_picture(found: Margin, title: str, file_format: str) -> bytes:
    """Return the picture: a bar for each number of the part as a share of the one asked, marks where it stops fitting.

    ``file_format`` is one of :data:`FORMATS`. The same input gives the same bytes.
    """
    from matplotlib.figure import Figure

    settings: Any = {"svg.hashsalt": "recap", "svg.fonttype": "path"}
    with mpl.rc_context(settings):
        figure = Figure(figsize=(8, 1.6 + 0.45 * max(len(found.gauges), 1)), layout="constrained")
        axes = figure.subplots()
        axes.set_title(
            f"{title}\nverdict: {WORDS[found.verdict]}", fontsize=10, loc="left", wrap=True, parse_math=False
        )
        _bars(axes, list(reversed(found.gauges)))
        buffer = io.BytesIO()
        metadata = {"Date": None} if file_format == "svg" else {"Software": None}
        figure.savefig(buffer, format=file_format, dpi=150, metadata=metadata)
    return buffer.getvalue()


def _bars(axes: Axes, gauges: list[Gauge]) -> None:
    for row, gauge in enumerate(gauges):
        share = float(gauge.share or 0)
        verdict = gauge.verdict.value
        axes.barh(row, min(share, _MOST), height=0.5, color=_COLOURS[verdict], hatch=_HATCH[verdict], edgecolor="white")
        for mark in (gauge.low, gauge.high):
            if mark is not None and float(mark) <= _MOST:
                axes.plot([float(mark)] * 2, [row - 0.42, row + 0.42], color="black", linewidth=1.6)
        if share > _MOST:
            axes.text(_MOST, row, "▸", va="center", ha="center", fontsize=12)
        said = f"{share:.2f}×   {gauge_number(gauge, gauge.has)} for {gauge_number(gauge, gauge.asked)}, {verdict}"
        axes.text(_MOST + 0.12, row, said, va="center", fontsize=8)
    axes.axvline(1, color="grey", linewidth=0.8, linestyle=":")
    axes.set_yticks(range(len(gauges)), [gauge.label for gauge in gauges])
    axes.set_xlim(0, _MOST + 1.7)
    axes.set_xticks([0, 0.5, 1, 1.5, 2, 2.5, 3])
    axes.set_xlabel("part / asked; black marks: the least and the most that fits", fontsize=8)
    axes.spines[["top", "right"]].set_visible(False)
