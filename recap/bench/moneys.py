"""Prices in several currencies side by side, and titles that say in which money a list is."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from recap.bench.ladders import currency_fits
from recap.bench.price_heads import currencies_in
from recap.diagnostics import Diagnostic, Source, error, warning

if TYPE_CHECKING:
    from collections.abc import Sequence

    from recap.bench.column_heads import Column


def of_money(columns: Sequence[Column], currency: str | None) -> tuple[list[Column], list[Diagnostic]]:
    """Return the columns with the prices in the supplier's ``currency`` alone, where several stand side by side.

    An error asks which of them counts where none is in it, or it isn't known.
    """
    priced = [one for one in columns if one.price is not None and one.price.currency is not None]
    moneys = list(dict.fromkeys(one.price.currency for one in priced if one.price and one.price.currency))
    bare = {one.price.quantity for one in columns if one.price and one.price.currency is None and one.price.paid}
    bare &= {one.price.quantity for one in priced if one.price}
    if len(moneys) == 1 and bare and currency is not None and not currency_fits(moneys[0], currency):
        return _without(columns, priced), [_not_read(one, currency) for one in priced]
    if len(moneys) < 2:  # noqa: PLR2004 - side by side
        return list(columns), []
    fitting = [money for money in moneys if currency is not None and currency_fits(money, currency)]
    told: list[Diagnostic] = []
    if len(fitting) != 1:
        names = " and ".join(moneys)
        whose = f"the supplier's currency is {currency}" if currency else "the supplier's currency isn't known"
        message = f"prices stand there in {names}, and {whose}"
        hint = f"set it in suppliers.csv to one of {', '.join(moneys)}, or delete the columns that don't count"
        told = [error("currency-unclear", message, priced[0].source, hint, priced[0].text)]
        fitting = moneys[:1]
    others = [one for one in priced if one.price and one.price.currency != fitting[0]]
    told = told or [_not_read(one, fitting[0]) for one in others]
    return _without(columns, others), told


def _without(columns: Sequence[Column], others: Sequence[Column]) -> list[Column]:
    return [replace(one, price=None, role="other money") if one in others else one for one in columns]


def _not_read(one: Column, money: str) -> Diagnostic:
    message = f"{one.text!r} was not read: the prices in {money}, the supplier's currency, were"
    hint = "if these are to be paid, change the currency in suppliers.csv"
    return warning("price-passed-over", message, one.source, hint, one.text)


def titled_money(text: str, place: Source, currency: str | None) -> list[Diagnostic]:
    """Return an error where a line over a list names one currency, and that isn't the supplier's."""
    named = currencies_in(text)
    if currency is None or len(named) != 1 or currency_fits(named[0], currency):
        return []
    message = f"{text[:60]!r} says {named[0]}, and the supplier's currency is {currency}"
    hint = "correct the currency in suppliers.csv; if the prices are in it all the same, correct this line"
    return [error("currency-differs", message, place, hint, named[0])]
