"""Each supplier's terms: ``suppliers.csv`` to :class:`~recap.model.SupplierTerms`."""

from __future__ import annotations

import re
from decimal import Decimal
from typing import TYPE_CHECKING

from recap.bench.ladders import LadderError, currency_fits, money, shipping_tiers
from recap.bench.records import read_records
from recap.diagnostics import Diagnostic, error, warning
from recap.files import composed
from recap.model import DRAWER, ShippingTier, SupplierTerms
from recap.read.vocabulary import SUPPLIERS

if TYPE_CHECKING:
    from pathlib import Path

    from recap.bench.records import Record, Records

_CURRENCY = re.compile(r"[A-Z]{3}")
_SIGNS = {"€": "EUR", "£": "GBP", "$": "USD"}
_AMOUNT = re.compile(r"(?P<before>[€£¥$]|[A-Za-z]{3})?\s*(?P<amount>-?[\d.,]+)\s*(?P<after>[€£¥$]|[A-Za-z]{3})?")
_PERCENT = re.compile(r"(?P<amount>-?[\d.,]+)\s*%?")
MOST_PERCENT = 1000
NOTHING = frozenset({"", "-", "–", "—", "none", "no", "n/a", "free", "frei", "kein", "keine"})


def read_terms(path: Path, bench_currency: str) -> tuple[dict[str, SupplierTerms], list[Diagnostic]]:
    """Return the terms by supplier; rows with errors are left out, each error told at its cell."""
    records, told = read_records(path, SUPPLIERS, ("supplier",))
    terms: dict[str, SupplierTerms] = {}
    for record in records.rows:
        name = composed(record.text("supplier"))
        if not name:
            message = "the row names no supplier"
            told.append(error("supplier-missing", message, record.place("supplier"), "type its name"))
            continue
        if name.casefold() == DRAWER:
            message = f"{DRAWER!r} means what is on hand; no supplier can be called that"
            told.append(error("supplier-reserved", message, record.place("supplier"), "rename it", name))
            continue
        twin = next((other for other in terms if other.casefold() == name.casefold()), None)
        if twin is not None:
            message = f"supplier {name!r} stands in row {_row(terms[twin])} too"
            told.append(error("supplier-twice", message, record.place("supplier"), "delete one of the rows", name))
            continue
        one, said = _terms(record, records, name, bench_currency)
        told += said
        terms[name] = one
    return terms, told


def _row(terms: SupplierTerms) -> int | None:
    return terms.source.row if terms.source is not None else None


def _terms(record: Record, records: Records, name: str, bench_currency: str) -> tuple[SupplierTerms, list[Diagnostic]]:
    told: list[Diagnostic] = []
    currency = _SIGNS.get(record.text("currency"), record.text("currency").upper()) or bench_currency
    if not _CURRENCY.fullmatch(currency):
        message = f"currency {record.text('currency')!r} is no code of three letters"
        told.append(error("currency-wrong", message, record.place("currency"), "write EUR, USD, GBP …", currency))
    tiers: tuple[ShippingTier, ...] = ()
    shipping = record.text("shipping")
    try:
        tiers = shipping_tiers("" if shipping.casefold() in NOTHING else shipping, records.mark("shipping"))
    except LadderError as fault:
        told.append(error(fault.code, fault.message, record.place("shipping"), fault.hint, shipping[:80]))
    amounts = {}
    for field in ("minimum", "handling", "line_fee"):
        amounts[field], said = _amount(record, records, field, currency)
        told += said
    percents = {}
    for field in ("duty", "tax"):
        percents[field], said = _percent(record, records, field)
        told += said
    rate, said = _rate(record, records, currency, bench_currency)
    told += said
    one = SupplierTerms(
        name, currency, rate, tiers, amounts["minimum"], amounts["handling"], amounts["line_fee"],
        percents["duty"], percents["tax"], record.source, tax_stated=bool(record.text("tax")),
    )  # fmt: skip
    return one, told


def _amount(record: Record, records: Records, field: str, currency: str) -> tuple[Decimal, list[Diagnostic]]:
    text = record.text(field)
    if text.casefold() in NOTHING:
        return Decimal(0), []
    match = _AMOUNT.fullmatch(text)
    amount = money(match["amount"].lstrip("-"), records.mark(field)) if match else None
    place = record.place(field)
    if match is None or amount is None:
        message = f"{field} {text[:40]!r} is no amount of money, or has two readings"
        return Decimal(0), [error("amount-wrong", message, place, "write it with a decimal point: 12.50", text[:80])]
    if match["amount"].startswith("-"):
        message = f"{field} is negative: {text[:40]}"
        return Decimal(0), [error("amount-negative", message, place, "write 0 or more", text[:80])]
    sign = (match["before"] or match["after"] or "").upper()
    if sign and not currency_fits(sign, currency):
        message = f"{field} {text!r} bears another currency than the supplier's, {currency}"
        return Decimal(0), [error("currency-differs", message, place, f"write it in {currency}", text[:80])]
    return amount, []


def _percent(record: Record, records: Records, field: str) -> tuple[Decimal, list[Diagnostic]]:
    text = record.text(field)
    if text.casefold() in NOTHING:
        return Decimal(0), []
    match = _PERCENT.fullmatch(text)
    amount = money(match["amount"].lstrip("-"), records.mark(field)) if match else None
    place = record.place(field)
    if match is None or amount is None or match["amount"].startswith("-") or amount > MOST_PERCENT:
        message = f"{field} must be a percentage of 0 or more, found {text[:40]!r}"
        return Decimal(0), [error("percent-wrong", message, place, "write 19 for 19 %", text[:80])]
    if 0 < amount < 1 and "%" not in text:
        message = f"{field} {text} is read as {text} percent, less than one in a hundred"
        return amount, [warning("percent-small", message, place, f"if {amount * 100:f} % is meant, write that", text)]
    return amount, []


def _rate(record: Record, records: Records, currency: str, bench_currency: str) -> tuple[Decimal, list[Diagnostic]]:
    text = record.text("rate")
    place = record.place("rate")
    if not text:
        if currency == bench_currency:
            return Decimal(1), []
        message = f"there is no rate for {currency}: the bench reckons in {bench_currency}"
        hint = f"write what one {currency} costs in {bench_currency}"
        return Decimal(1), [error("rate-missing", message, place, hint)]
    rate = money(text, records.mark("rate"))
    if rate is None or rate <= 0:
        message = f"rate must be a number above 0, found {text[:40]!r}"
        hint = f"write what one {currency} costs in {bench_currency}"
        return Decimal(1), [error("rate-wrong", message, place, hint, text)]
    if currency == bench_currency and rate != 1:
        message = f"the rate of {currency} to itself is 1, found {text}"
        return Decimal(1), [error("rate-wrong", message, place, "write 1, or correct the currency", text)]
    return rate, []
