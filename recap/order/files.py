"""Write an order's files: one workbook for people, one CSV per supplier for baskets."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from recap.files import write_atomically
from recap.order.baskets import basket, file_names
from recap.order.book import order_book

if TYPE_CHECKING:
    from pathlib import Path

    from recap.order.report import Report

WORKBOOK: Final = "order.xlsx"


@dataclass(frozen=True, slots=True)
class Written:
    """The files written, what must be looked at (sentences), and CSVs of an earlier order still lying there."""

    paths: tuple[Path, ...]
    cautions: tuple[str, ...] = ()
    stale: tuple[Path, ...] = ()


class WouldOverwriteError(Exception):
    """Files of the same names lie there already; carries their paths."""

    def __init__(self, paths: tuple[Path, ...]) -> None:
        """Keep the paths; the text names them."""
        self.paths = paths
        super().__init__("already there: " + ", ".join(str(path) for path in paths))


def write_order_files(folder: Path, report: Report, *, force: bool = False) -> Written:
    """Write ``order.xlsx`` and one ``order-SUPPLIER.csv`` per parcel into ``folder``, made where missing.

    All contents are ready before the first file is written, and each file appears whole or not at all.
    Raises WouldOverwriteError, with nothing written, where a file of that name exists and ``force``
    isn't given; OSError where the folder can't be written.
    """
    parcels = report.order.suppliers if report.order else ()
    baskets = [basket(parcel) for parcel in parcels]
    names = file_names([made.supplier for made in baskets])
    contents: dict[Path, bytes] = {folder / WORKBOOK: order_book(report)}
    contents |= {folder / names[made.supplier]: made.text.encode() for made in baskets}
    there = tuple(path for path in contents if path.exists() or path.is_symlink())
    if there and not force:
        raise WouldOverwriteError(there)
    folder.mkdir(parents=True, exist_ok=True)
    for path, content in contents.items():
        write_atomically(path, content)
    cautions = tuple(
        f"{names[made.supplier]}: type {number!r} by hand; an apostrophe stands before it (or a control character was "
        "taken out) so that a spreadsheet can't run it as a formula."
        for made in baskets
        for number in made.by_hand
    )
    cautions += tuple(
        f"{names[made.supplier]}: a spreadsheet makes a number or a date of {', '.join(made.changeable)} when it opens "
        f"this file; take it from {WORKBOOK} there, or paste from a text editor."
        for made in baskets
        if made.changeable
    )
    stale = tuple(sorted(path for path in folder.glob("order-*.csv") if path not in contents))
    return Written(tuple(contents), cautions, stale)
