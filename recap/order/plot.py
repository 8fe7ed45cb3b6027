"""The order's total against the number of parcels and against rated life, drawn so that a person can choose."""

from __future__ import annotations

from io import BytesIO
from typing import TYPE_CHECKING

from recap.model import Status

if TYPE_CHECKING:
    from collections.abc import Sequence

    from matplotlib.axes import Axes

    from recap.order.compare import Step

FORMATS = ("svg", "png")


def plot(parcels: Sequence[Step], lives: Sequence[Step], currency: str, form: str) -> bytes:
    """Return the drawing as SVG or PNG. Steps without an order are marked as impossible or unfinished."""
    from matplotlib.figure import Figure

    figure = Figure(figsize=(9, 4.2), layout="constrained")
    left, right = figure.subplots(1, 2)
    _draw(left, parcels, "parcels, at most", currency)
    _draw(right, lives, "rated life of electrolytics, at least, h (where so sold)", currency)
    figure.suptitle("What fewer parcels or longer rated life cost")
    made = BytesIO()
    figure.savefig(made, format=form, dpi=150, metadata={"Date": None} if form == "svg" else None)
    return made.getvalue()


def _draw(axes: Axes, steps: Sequence[Step], label: str, currency: str) -> None:
    there = [(i, step.outcome.order.total) for i, step in enumerate(steps) if step.outcome.order is not None]
    axes.set_xlabel(label)
    axes.set_ylabel(f"total, {currency}")
    axes.set_xticks(range(len(steps)), [f"{step.at.normalize():f}" for step in steps], rotation=30)
    axes.set_xlim(-0.5, max(len(steps), 1) - 0.5)  # those without an order have their place too
    axes.grid(visible=True, axis="y", linewidth=0.4)
    if there:
        axes.plot([i for i, _ in there], [float(total) for _, total in there], "ko-", linewidth=1)
        for i, total in there:
            behind = {"facecolor": "white", "edgecolor": "none", "pad": 1}  # the line would cross it
            at = (i, float(total))
            axes.annotate(f"{total:.2f}", at, textcoords="offset points", xytext=(0, 8), ha="center", bbox=behind)
        unproven = [i for i, _ in there if steps[i].outcome.status is not Status.OPTIMAL]
        if unproven:
            heights = [float(total) for i, total in there if i in unproven]
            axes.plot(unproven, heights, "o", color="black", markerfacecolor="white")
            axes.set_title("hollow: the best found in time, not proven", fontsize=9)
        axes.margins(y=0.2)
    for i, step in enumerate(steps):
        if step.outcome.order is None:
            words = "no order" if step.outcome.status is Status.IMPOSSIBLE else "not worked out in time"
            axes.annotate(words, (i, 0.02), xycoords=("data", "axes fraction"), ha="center", rotation=90)
    if not steps:
        axes.text(0.5, 0.5, "nothing to compare", ha="center", transform=axes.transAxes)
