"""One CSV per supplier for pasting into a basket, and file names made safe from supplier names.

A basket wants the part number exactly as the catalogue has it; a spreadsheet that opens the same
file takes a cell that begins with ``= + - @`` (or a tab or line break before them) for a formula.
Both are met like this: a number that begins harmlessly, as nearly all do, is written byte for byte,
quoted only where it must be. One that begins with such a sign gets an apostrophe in front, the
spreadsheets' own mark for text, and is named in a caution, because a basket may not take it that
way: the true number stands in the workbook. Delimiters of any common kind inside a number are
quoted, so that a program set to another delimiter can't cut a formula out of its middle.
"""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    from collections.abc import Sequence

    from recap.model import SupplierOrder

FORMULA_STARTS: Final = "=+-@\t\r\n＝＋－＠"
"""First characters that spreadsheet programs read as the start of a formula, full-width forms included."""

_FORMULA = re.compile(rf"[\s\x00-\x1f\x7f\u200b-\u200f\u2060\ufeff]*[{re.escape(FORMULA_STARTS)}]")
"""Such a start, whatever can't be seen in front of it."""

_MONTHS = "jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec"
_CHANGED = re.compile(
    r"0\d+|\d{16,}|\d+(\.\d+)?E\d+|\d{1,2}[-/.]\d{1,2}([-/.]\d{2,4})?" + rf"|({_MONTHS})[-. ]?\d{{1,4}}", re.IGNORECASE
)
"""Part numbers that spreadsheets change: 0012, over 15 digits, 1E5, 3/10 (tried in one); 3-10, MAR1 (from memory)."""

_MUST_QUOTE = re.compile(r'[,;|\t"\r\n]|^\s|\s$')
_CONTROL = re.compile(r"[\x00-\x1f\x7f]+")
_UNSAFE = re.compile(r"[^\w.-]+")
_LONGEST_NAME = 60


@dataclass(frozen=True, slots=True)
class Basket:
    """One supplier's CSV: its text, and part numbers to be typed by hand because they were altered.

    ``changeable``: written as they are, but a spreadsheet that opens the file would show and save them otherwise.
    """

    supplier: str
    text: str
    by_hand: tuple[str, ...] = ()
    changeable: tuple[str, ...] = ()


def basket(parcel: SupplierOrder) -> Basket:
    """Return the lines of one parcel as CSV: a header, then part number and quantity."""
    rows, altered = ["part,quantity"], []
    for line in parcel.lines:
        field = basket_field(line.part.number)
        if field.strip('"').replace('""', '"') != line.part.number:
            altered.append(line.part.number)
        rows.append(f"{field},{line.qty}")
    changeable = [line.part.number for line in parcel.lines if _CHANGED.fullmatch(line.part.number)]
    return Basket(parcel.terms.supplier, "\r\n".join([*rows, ""]), tuple(altered), tuple(changeable))


def basket_field(number: str) -> str:
    """Return a part number as one CSV field that no spreadsheet takes for a formula."""
    text = _CONTROL.sub(" ", number)
    if _FORMULA.match(number):
        text = f"'{text}"
    if _MUST_QUOTE.search(text):
        return '"' + text.replace('"', '""') + '"'
    return text


def file_stem(name: str) -> str:
    """Return a file name's stem made of letters, digits, ``-``, ``_`` and ``.`` only; never a path, never hidden.

    ``../../etc/passwd`` becomes ``etc-passwd``. A name with nothing usable becomes ``supplier``.
    """
    plain = unicodedata.normalize("NFKC", name)
    clean = re.sub(r"\.{2,}", ".", _UNSAFE.sub("-", plain)).strip("-._ ")
    return clean[:_LONGEST_NAME].rstrip("-._ ") or "supplier"


def file_names(suppliers: Sequence[str]) -> dict[str, str]:
    """Return a CSV's file name for each supplier, unlike each other even where case doesn't count."""
    names: dict[str, str] = {}
    taken: set[str] = set()
    for supplier in suppliers:
        stem, number = f"order-{file_stem(supplier)}", 2
        name = f"{stem}.csv"
        while name.casefold() in taken:
            name, number = f"{stem}-{number}.csv", number + 1
        taken.add(name.casefold())
        names[supplier] = name
    return names
