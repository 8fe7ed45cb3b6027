"""The margins of a substitute, or of all that an order takes, as a picture in a file."""

from __future__ import annotations

import io
from typing import TYPE_CHECKING, Any, Final, NamedTuple

import matplotlib as mpl

from recap.show.margin_view import WORDS, gauge_number

if TYPE_CHECKING:
    from collections.abc import Sequence
    from decimal import Decimal

    from matplotlib.axes import Axes

    from recap.match.gauges import Gauge
    from recap.match.margin import Margin
    from recap.model import Verdict
    from recap.order.margins import Chosen

FORMATS: Final = ("svg", "png")
_COLOURS: Final = {"fits": "#4c8c4a", "care": "#d9a400", "no": "#b3261e"}
_HATCH: Final = {"fits": "", "care": "//", "no": "xx"}
"""Colours tell verdicts apart, hatching does without colour."""
_MOST: Final = 3.0
MANY: Final = 12
"""With so many bars the names beside them are long, and the picture is wider."""


class Bar(NamedTuple):
    """One line of a picture: a share of what was asked, where it stops fitting, and what is said of it."""

    label: str
    share: Decimal | None
    low: Decimal | None
    high: Decimal | None
    verdict: Verdict
    said: str


def margin_picture(found: Margin, title: str, file_format: str) -> bytes:
    """Return the picture: a bar for each number of the part as a share of the one asked, marks where it stops fitting.

    ``file_format`` is one of :data:`FORMATS`. The same input gives the same bytes.
    """
    rows = [
        Bar(gauge.label, gauge.share, gauge.low, gauge.high, gauge.verdict, f"{_numbers(gauge)}, {gauge.verdict}")
        for gauge in reversed(found.gauges)
    ]
    return _picture(f"{title}\nverdict: {WORDS[found.verdict]}", rows, file_format)


def order_picture(chosen: Sequence[Chosen], title: str, file_format: str) -> bytes:
    """Return the picture of a whole order: for each part its number with the least room, the worst part on top."""
    rows = []
    for one in reversed(chosen):
        found, gauge = one.margin, one.margin.narrowest
        label = f"{one.group.id} ← {found.part.number}"
        if gauge is None:
            rows.append(Bar(label, None, None, None, found.verdict, f"no number to weigh, {found.verdict}"))
        else:
            said = f"{found.verdict}; least room: {gauge.label}, {_numbers(gauge)}"
            rows.append(Bar(label, gauge.share, gauge.low, gauge.high, found.verdict, said))
    return _picture(title, rows, file_format)


def _numbers(gauge: Gauge) -> str:
    return f"{gauge_number(gauge, gauge.has)} for {gauge_number(gauge, gauge.asked)}"


def _picture(title: str, rows: Sequence[Bar], file_format: str) -> bytes:
    from matplotlib.figure import Figure

    settings: Any = {"svg.hashsalt": "recap", "svg.fonttype": "path"}
    with mpl.rc_context(settings):
        wide, high = (8, 0.45) if len(rows) < MANY else (12, 0.3)
        figure = Figure(figsize=(wide, 1.6 + high * max(len(rows), 1)), layout="constrained")
        axes = figure.subplots()
        axes.set_title(title, fontsize=10, loc="left", wrap=True, parse_math=False)
        _bars(axes, rows)
        buffer = io.BytesIO()
        metadata = {"Date": None} if file_format == "svg" else {"Software": None}
        figure.savefig(buffer, format=file_format, dpi=150, metadata=metadata)
    return buffer.getvalue()


def _bars(axes: Axes, rows: Sequence[Bar]) -> None:
    for at, row in enumerate(rows):
        share = float(row.share or 0)
        verdict = row.verdict.value
        axes.barh(at, min(share, _MOST), height=0.5, color=_COLOURS[verdict], hatch=_HATCH[verdict], edgecolor="white")
        for mark in (row.low, row.high):
            if mark is not None and float(mark) <= _MOST:
                axes.plot([float(mark)] * 2, [at - 0.42, at + 0.42], color="black", linewidth=1.6)
        if share > _MOST:
            axes.text(_MOST, at, "▸", va="center", ha="center", fontsize=12)
        said = row.said if row.share is None else f"{share:.2f}×   {row.said}"
        axes.text(_MOST + 0.12, at, said, va="center", fontsize=8, parse_math=False)
    axes.axvline(1, color="grey", linewidth=0.8, linestyle=":")
    axes.set_yticks(range(len(rows)), [row.label for row in rows], parse_math=False)
    axes.set_ylim(-0.7, max(len(rows), 1) - 0.3)
    axes.set_xlim(0, _MOST + 2)
    axes.set_xticks([0, 0.5, 1, 1.5, 2, 2.5, 3])
    axes.set_xlabel("part / asked; black marks: the least and the most that fits", fontsize=8)
    axes.spines[["top", "right"]].set_visible(False)
