"""The JSON that other programs read: one document on standard output, units in the names, money as exact text."""

from __future__ import annotations

import json
import sys
from decimal import Decimal
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from collections.abc import Iterable

    from recap.diagnostics import Diagnostic


def number(quantity: Decimal | None) -> int | float | None:
    """Return a quantity as a JSON number; whole ones without a decimal point."""
    if quantity is None:
        return None
    return int(quantity) if quantity == quantity.to_integral_value() else float(quantity)


def amount(money: Decimal) -> str:
    """Return money as exact decimal text: no exponent, at least two places, no needless zeros beyond."""
    whole, _, places = f"{money:f}".partition(".")
    return f"{whole}.{places.rstrip('0').ljust(2, '0')}"


def diagnostics_document(diagnostics: Iterable[Diagnostic]) -> list[dict[str, Any]]:
    """Return diagnostics as the interface lists them."""
    return [
        {
            "severity": d.severity.value,
            "code": d.code,
            "message": d.message,
            "file": d.source.file,
            "sheet": d.source.sheet,
            "row": d.source.row,
            "column": d.source.column,
            "found": d.found,
            "hint": d.hint,
        }
        for d in diagnostics
    ]


def print_document(document: object) -> None:
    """Print one JSON document to standard output, UTF-8 whatever the locale.

    A file's name may hold bytes that are no letters: they are escaped, as JSON allows.
    """
    if sys.stdout is None:  # it was closed from the start: nobody wants the answer
        return
    text = json.dumps(document, ensure_ascii=False, indent=2, default=_plain) + "\n"
    sys.stdout.flush()
    sys.stdout.buffer.write(text.encode("utf-8", "backslashreplace"))
    sys.stdout.flush()


def _plain(value: object) -> object:
    if isinstance(value, Decimal):
        return number(value)
    return str(value)
