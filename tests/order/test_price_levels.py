"""A supplier far dearer or cheaper than all others is named: what a spreadsheet or a wrong rate did to its prices."""

from __future__ import annotations

from decimal import Decimal
from typing import TYPE_CHECKING

import pytest

from recap.model import Need, PriceBreak, Problem
from recap.order.levels import out_of_scale
from tests.order.sample import part, terms

if TYPE_CHECKING:
    from recap.diagnostics import Diagnostic


def told(prices: dict[str, list[str]], rates: dict[str, str] | None = None) -> list[Diagnostic]:
    """Return what is said of suppliers that ask these prices for the same groups, the first for the first one."""
    groups = max(map(len, prices.values()))
    offers, suits = [], {f"g{at}": () for at in range(groups)}
    for supplier, asked in prices.items():
        for at, price in enumerate(asked):
            suits[f"g{at}"] = (*suits[f"g{at}"], len(offers))
            offers.append(part(f"{supplier}-{at}", supplier, prices=(PriceBreak(1, Decimal(price)),)))
    known = {name: terms(name, rate=(rates or {}).get(name, "1")) for name in prices}
    return out_of_scale(Problem(tuple(Need(f"g{at}", 2) for at in range(groups)), tuple(offers), suits, known))


def test_prices_whose_point_was_taken_for_one_of_thousands() -> None:
    """0.096, 0.112 and 0.144 opened by a spreadsheet set to German, whose point groups thousands."""
    (found,) = told({"alder": ["96", "112", "144"], "birch": ["0.12", "0.15", "0.18"]})
    assert found.code == "price-level"
    assert found.message == "alder asks about 800 times as much as the others for the same 3 groups"


def test_a_rate_written_the_wrong_way_round() -> None:
    """160 to the euro is a rate of 0.00625; written as 160 the shop seems 25,600 times as dear."""
    asked = {"alder": ["19", "24", "29"], "birch": ["0.12", "0.15", "0.18"]}
    assert told(asked, {"alder": "0.00625"}) == []
    (found,) = told(asked, {"alder": "160"})
    assert "alder asks about 25600 times as much" in found.message


def test_of_three_the_one_that_differs_is_named_even_where_it_is_cheap() -> None:
    (found,) = told({"alder": ["0.001"] * 3, "birch": ["0.10"] * 3, "cedar": ["0.12"] * 3})
    assert found.message == "alder asks about 110 times less than the others for the same 3 groups"


@pytest.mark.parametrize(
    "prices",
    [
        {"alder": ["0.10", "0.50", "2.00"], "birch": ["1.00", "0.60", "0.20"]},
        {"alder": ["2.90"] * 3, "birch": ["0.10"] * 3},
        {"alder": ["96", "112"], "birch": ["0.12", "0.15"]},
        {"alder": ["96", "0.11", "0.14"], "birch": ["0.12", "0.15", "0.18"]},
        {"alder": ["0"] * 3, "birch": ["0.10"] * 3},
        {"alder": ["96"] * 3},
    ],
    ids=["alike", "29 times", "two groups only", "one odd price", "free of charge", "one supplier"],
)
def test_what_may_be_so_is_left_alone(prices: dict[str, list[str]]) -> None:
    assert told(prices) == []
