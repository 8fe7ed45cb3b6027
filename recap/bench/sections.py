"""Rows of a price list that are no offers: headings over the rows below them, totals, the lines of a printed page."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from recap.bench.facts import both_sorts, facts
from recap.bench.price_heads import CENTS, IN_CENTS, PER, pieces_of
from recap.diagnostics import Diagnostic, Severity, Source, error, note, warning
from recap.read.sheet_words import LESS_OR_MORE, MINIMUM_ORDER, PAGES, SHIPPING, TAXED, TOTALS, UNTAXED

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

TERMS_SAID = "terms-in-list"
"""The code of a line that speaks of terms."""
_WORD = re.compile(r"[^\W\d_]{3}")
_NUMBER_LIKE = re.compile(r"(?=\S*\d)\S+")
_PER_TITLE = re.compile(
    r"\b(?:prices?|preise?|prix|prezz[io]|precios?|prijzen|prijs|ceny|cena|pris(?:er)?)\b", re.IGNORECASE
)

_PERCENT = re.compile(
    r"\d\s?(?:%|percent\b|per cent\b|prozent\b|v\.\s?h\.|pour cent\b|por ciento\b|procent)", re.IGNORECASE
)


def lone_text(cells: Sequence[str]) -> str | None:
    """Return the one text of a row that has no other (it may fill several merged cells), None of any other row."""
    if len(cells) - cells.count("") > 1 and len(set(cells) - {""}) > 1:
        return None
    return next((text for text in cells if text), None)


@dataclass(slots=True)
class Sections:
    """What headings have said of the rows that come, and what is to be told of them."""

    file: str
    sheet: str | None
    above: Mapping[str, str] = field(default_factory=dict)
    told: list[Diagnostic] = field(default_factory=list)
    _stack: list[Mapping[str, str]] = field(default_factory=list)
    _open: bool = False
    _said_at: int | None = None
    stated: dict[str, str] = field(default_factory=dict)

    def __post_init__(self) -> None:
        """Begin with what the titles say."""
        self.stated = dict(self.above)

    def takes(self, row: int, cells: Sequence[str]) -> bool:
        """Tell whether a row is no offer; what it says of the rows below is then in :attr:`stated`."""
        text = lone_text(cells)
        if text is None:
            return self._total(row, cells)
        found = dict(facts(text))
        if not found and not _WORD.search(text):
            return False
        merged = len(cells) - cells.count("") > 1
        if not found and not merged and _NUMBER_LIKE.fullmatch(text):
            return False  # a part number without anything else
        place = Source(self.file, self.sheet, row)
        if PAGES.fullmatch(text) or TOTALS.match(text):
            self.told.append(note("row-passed-over", f"{text[:60]!r} was taken for no offer", place, found=text[:80]))
            return True
        if about_prices(text, place, self.told) or (not found and about_terms(text, place, self.told)):
            return True
        self._heading(text, found, place)
        return True

    def offer(self) -> None:
        """Take note that an offer stands below the last heading."""
        self._open = False

    def _heading(self, text: str, found: Mapping[str, str], place: Source) -> None:
        if not self._open:  # a heading directly below another is of a lower rank than that
            higher = self._stack[:-1]
            self._stack = higher if higher and not any(set(found) & set(one) for one in higher) else []
        self._stack.append(found)
        self._open = True
        self.stated = {**self.above}
        for one in self._stack:
            self.stated |= one
        if found:
            said = ", ".join(f"{name} {value}" for name, value in found.items())
            message = f"{text[:60]!r} was taken for a heading: the rows below it are {said}"
            self.told.append(
                note("heading-carried", message, place, "a cell of a row's own counts before it", text[:80])
            )
        if both_sorts(text):
            message = f"{text[:60]!r} names polar and bipolar parts: no kind was taken from it for the rows below"
            hint = "give the rows a column for the kind, or each sort a heading of its own"
            self.told.append(note("heading-both", message, place, hint, text[:80]))
        elif not found:
            message = f"{text[:60]!r} was taken for a heading that says nothing of the parts below it"
            self.told.append(
                note("heading-idle", message, place, "if it does, give the rows a column for it", text[:80])
            )

    def _total(self, row: int, cells: Sequence[str]) -> bool:
        filled = [text for text in cells if text]
        if not TOTALS.match(filled[0]) or len(filled) > 3:  # noqa: PLR2004 - an offer has more to say
            return False
        text = " | ".join(filled)[:60]
        place = Source(self.file, self.sheet, row)
        self.told.append(note("row-passed-over", f"{text!r} was taken for no offer", place, found=text))
        return True


def pieces_in(text: str) -> int:
    """Return by what a line says that prices are to be divided (so many pieces, cents), 1 where it says nothing."""
    if not _PER_TITLE.search(text):
        return 1
    match = PER.search(text)
    return (1 if match is None else pieces_of(match)) * (CENTS if IN_CENTS.search(text) else 1)


def about_prices(text: str, place: Source, told: list[Diagnostic]) -> bool:
    """Tell of a line that says something of all prices; of how many pieces they are must stand in the header."""
    changed = about_changes(text, place, told)
    if not _PER_TITLE.search(text):
        return changed
    if pieces_in(text) > 1:
        message = f"{text[:60]!r} says of how many pieces the prices are, or in which coin"
        hint = "put it into the header of the price column: Price per 100, Price in cents; and delete this line"
        told.append(error("price-per-unclear", message, place, hint, text[:80]))
        return True
    taxed = taxed_by(text)
    if taxed is not None:
        message = f"{text[:60]!r}: the prices are {'with the tax' if taxed else 'without tax'}"
        on_top = "write the percent that comes on top as tax in suppliers.csv, or 0 where you pay none"
        hint = "leave tax blank in suppliers.csv" if taxed else on_top
        told.append(Diagnostic(Severity.NOTE, "price-tax", message, place, hint, text[:80]))
        return True
    return changed


def taxed_by(text: str) -> bool | None:
    """Return whether a line says that prices are with the tax, or without; None where it says nothing of tax."""
    if UNTAXED.search(text):
        return False
    return True if TAXED.search(text) else None


def about_changes(text: str, place: Source, told: list[Diagnostic]) -> bool:
    """Tell of a line that lays a percentage on all prices, or takes one off; tax is no such thing."""
    rest = UNTAXED.sub(" ", TAXED.sub(" ", text))
    if _PERCENT.search(rest) is None or not (_PER_TITLE.search(rest) or LESS_OR_MORE.search(rest)):
        return False
    message = f"{text[:60]!r} says that the prices are changed by so much; they were read as they stand"
    hint = "write the prices that are paid into the column, and delete this line"
    told.append(warning("price-changed", message, place, hint, text[:80]))
    return True


def about_terms(text: str, place: Source, told: list[Diagnostic]) -> bool:
    """Tell of a line that says something of the supplier's terms, which stand in ``suppliers.csv``."""
    column = "minimum" if MINIMUM_ORDER.search(text) else "shipping" if SHIPPING.search(text) else None
    if column is None or not re.search(r"\d", text):
        return False
    message = f"{text[:60]!r} speaks of the supplier's terms, not of a part"
    told.append(note(TERMS_SAID, message, place, f"write it in suppliers.csv, column {column}", text[:80]))
    return True
