"""Prices by quantity, one cell each: what is read, and why the rest is refused. Common practice of price lists."""

from __future__ import annotations

import re
from decimal import Decimal

import pytest

from recap.bench.ladders import (
    LadderError,
    currency_fits,
    dearer_break,
    price_breaks,
    read_ladder,
    shipping_tiers,
    simple_breaks,
)


@pytest.mark.parametrize(
    ("text", "mark", "steps"),
    [
        ("1:0.42 10:0.31", None, {1: "0.42", 10: "0.31"}),
        ("1:1.250", ".", {1: "1.250"}),
        ("1:0.42 1.000:0.3", None, {1: "0.42", 1000: "0.3"}),  # no quantity is a fraction: the point groups thousands
        ("1:0.42 1,000:0.3", None, {1: "0.42", 1000: "0.3"}),
        ("1:1000000000000", None, {1: "1000000000000"}),
    ],
)
def test_a_ladder_is_read_as_it_stands(text: str, mark: str | None, steps: dict[int, str]) -> None:
    found = price_breaks(read_ladder(text, mark))
    assert {step.quantity: step.unit_price for step in found} == {q: Decimal(price) for q, price in steps.items()}


@pytest.mark.parametrize(
    ("text", "least", "price", "signs"),
    [
        ("0.42", 1, "0.42", ()),
        ("0.42", 0, "0.42", ()),  # nobody sells none
        ("0.42", 10, "0.42", ()),  # sold from ten on, as another column says
        ("42p", 1, "0.42", ("£",)),  # pence
        ("42 ct", 1, "0.42", ()),  # cents are of several currencies
        ("3,-", 1, "3", ()),
    ],
)
def test_a_lone_price_holds_from_the_least_quantity_on(text: str, least: int, price: str, signs: tuple[str]) -> None:
    ladder = read_ladder(text)
    (step,) = price_breaks(ladder, least)
    assert (step.quantity, step.unit_price) == (max(least, 1), Decimal(price))
    assert ladder.currencies == set(signs)


@pytest.mark.parametrize(
    ("text", "mark", "code", "said"),
    [
        ("", None, "price-missing", "no price"),
        ("1,250", None, "price-unreadable", "'1,250' has two readings"),  # one and a quarter, or a thousand
        ("1:1.250", ",", "price-unreadable", "'1.250' in '1:1.250' has two readings"),
        ("1:1000000000001", None, "price-unreadable", "two readings, or none"),  # beyond all money
        ("1:-0.42", None, "price-negative", "a negative price -0.42"),
        ("-1:0.42", None, "price-unreadable", "a negative quantity -1"),
        ("0:0.42", None, "price-unreadable", "from 0 pieces on"),
        ("2.5:0.42", None, "price-unreadable", "from 2.5 pieces on"),
        ("1:0.42 10:", None, "price-unreadable", "'10:' is no price"),
        ("1:0.42 10:0.40 5:0.3", None, "price-order", "5 pieces after 10"),
        ("1:0.42 1:0.40", None, "price-order", "1 pieces after 1"),
        ("1:0.42 1000000000:0.1", None, "price-unreadable", "nobody has so many"),
    ],
)
def test_what_is_no_ladder_is_refused_with_the_reason(text: str, mark: str | None, code: str, said: str) -> None:
    with pytest.raises(LadderError, match=re.escape(said)) as refused:
        price_breaks(read_ladder(text, mark))
    assert refused.value.code == code
    assert refused.value.message == str(refused.value)
    assert refused.value.hint


@pytest.mark.parametrize("text", ["1:0.42", "1:0.42 10:0.31", "10:0.31 1:0.42", "1:0,42", "0.42", "1:.42", "0:0.42"])
def test_the_quick_way_says_what_the_exact_one_says_or_nothing(text: str) -> None:
    quick = simple_breaks(text)
    assert quick is None or quick == price_breaks(read_ladder(text))
    assert (quick is not None) == (text in {"1:0.42", "1:0.42 10:0.31"})


def test_quantities_that_do_not_rise_are_left_to_the_exact_way() -> None:
    assert simple_breaks("1:0.42 10:0.31 10:0.30") is None
    assert simple_breaks("10:0.31 1:0.42") is None


def test_a_price_that_rises_with_the_quantity_is_shown_with_the_one_before() -> None:
    low, high = dearer_break(price_breaks(read_ladder("1:0.42 10:0.31 50:0.33 100:0.35"))) or (None, None)
    assert low is not None
    assert high is not None
    assert (low.quantity, high.quantity) == (10, 50)
    assert dearer_break(price_breaks(read_ladder("1:0.42 10:0.42"))) is None


@pytest.mark.parametrize(
    ("text", "tiers"),
    [
        ("", {}),
        ("  ", {}),
        ("5.90", {"0": "5.90"}),
        ("5.90 50:3.50 100:0", {"0": "5.90", "50": "3.50", "100": "0"}),
        ("0:5.90 49.50:0", {"0": "5.90", "49.50": "0"}),
    ],
)
def test_shipping_begins_at_no_goods(text: str, tiers: dict[str, str]) -> None:
    assert {t.goods: t.charge for t in shipping_tiers(text)} == {Decimal(g): Decimal(c) for g, c in tiers.items()}


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("1:5.90 50:0", "from 1 on, but not below"),
        ("0:5.90 50:3 50:0", "50 after 50"),
        ("0:5.90 50:3 20:0", "20 after 50"),
    ],
)
def test_shipping_that_leaves_a_gap_or_turns_back_is_refused(text: str, said: str) -> None:
    with pytest.raises(LadderError, match=said) as refused:
        shipping_tiers(text)
    assert refused.value.code == "shipping-order"


@pytest.mark.parametrize(
    ("sign", "currency", "fits"),
    [
        ("€", "EUR", True), ("€", "USD", False), ("£", "GBP", True),
        ("$", "USD", True), ("$", "AUD", True), ("$", "EUR", False),  # one sign for several dollars
        ("kr", "SEK", True), ("kr", "DKK", True), ("kr", "EUR", False),
        ("¥", "JPY", True), ("¥", "CNY", True), ("¥", "USD", False),
        ("CHF", "CHF", True), ("CHF", "EUR", False),
    ],
)  # fmt: skip
def test_a_sign_of_money_fits_the_currencies_that_bear_it(sign: str, currency: str, fits: bool) -> None:
    """ISO 4217 names the currencies; which sign stands for which is common usage."""
    assert currency_fits(sign, currency) == fits
