"""What the titles over a price list's header say of all its rows."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from recap.bench.dates import read_date
from recap.bench.facts import facts
from recap.bench.moneys import titled_money
from recap.bench.sections import about_changes, about_prices, about_terms, lone_text, pieces_in
from recap.diagnostics import Diagnostic, note, warning
from recap.normalise.later import compiled
from recap.read.sheet_words import PRICE_TITLE

if TYPE_CHECKING:
    from collections.abc import Sequence
    from datetime import date

    from recap.read.cells import Row


_AS_OF = compiled(
    r"\b(?:stand|as of|as at|valid from|effective(?: from)?|gültig (?:ab|seit)|valable (?:au|dès le)|état au|updated"
    r"|last update|aggiornat[oa] al|actualizado al?|geldig vanaf|date|datum"
    r"|(?:preise|preisliste|prices?|price list|prix|tarif|prezzi|listino|precios|tarifa|prijzen|prijslijst"
    r"|ceník|cennik|prislista)"
    r"\s+(?:per|ab|vom|from|of|at|au|du|al|del|van|z|od|från))"
    r"\s*:?\s*(?P<date>\d{4}-\d{2}-\d{2}|\d{1,2}\.\s?\d{1,2}\.\s?\d{4}|\d{1,2}/\d{1,2}/\d{4})(?!\d)",
    re.IGNORECASE,
)
"""``Stand: 01.03.2025``, ``Preise per 10.03.2025``: from when the prices are."""


def _as_of(text: str) -> date | None:
    """Return the day from which a title says that all prices are; by it old offers are told."""
    match = _AS_OF.search(text)
    return None if match is None else read_date(match["date"])


def stated_above(rows: Sequence[Row], currency: str | None = None) -> tuple[dict[str, str], int, list[Diagnostic]]:
    """Return the fields that titles state of all rows (kind, mounting, temperature, date), and what is to be told.

    And of how many pieces they say the prices are, else 1. ``currency`` is the supplier's.
    """
    stated: dict[str, str] = {}
    pieces = 1
    told: list[Diagnostic] = []
    for row in rows:
        text = lone_text([cell.text for cell in row.cells]) if row.cells else None
        if text is None or text.startswith("#"):
            continue
        if PRICE_TITLE.search(text):
            told += titled_money(text, row.source, currency)
        per = pieces_in(text)
        if per > 1:
            pieces = per
            message = f"the title {text[:60]!r} says that all prices are those of {per} pieces, or in so small a coin"
            message += f"; they were divided by {per}"
            hint = f"if so, head the price: Price per {per}, or Price in cents"
            told.append(warning("price-per-title", message, row.source, hint, text[:80]))
            about_changes(text, row.source, told)
        else:
            _ = about_prices(text, row.source, told) or about_terms(text, row.source, told)
        found = {name: value for name, value in facts(text) if name in {"kind", "mount", "temp"}}
        if "kind" not in found and len(found) < 2:  # noqa: PLR2004 - ``Axial GmbH`` is a name
            found = {}
        if (day := _as_of(text)) is not None:
            found["updated"] = day.isoformat()
        if not found:
            continue
        said = ", ".join(f"{name} {value}" for name, value in found.items())
        message = f"the title {text[:60]!r} says of all rows: {said}"
        told.append(note("heading-carried", message, row.source, "cells and headings below count before it", text[:80]))
        stated |= found
    return stated, pieces, told
