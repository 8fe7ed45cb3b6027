"""How many spares: published spare-part examples, printed tables of Poisson and binomial sums, exact equality.

``spares_by_confidence`` counts binomially. A Poisson example is put to it as what it is the limit of: very many
pieces, each of them rarely lost, so many in all as the example's mean.
"""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction
from math import comb

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from recap.match.spares import spares_by_confidence, spares_for, survival
from recap.model import SparesRule

MANY = 10_000_000

POISSON = [
    # B. S. Blanchard, exercise on the spare-part nomograph, as set at quesba.com 1515614: 30 parts in use 24 h a day
    # for 90 days, mean time between failures 10,000 h, 95 %: mean 30 * 2160 / 10,000 = 6.48, published answer 11
    ("6.48", "0.95", 11, 0.96678),
    # B. S. Blanchard, text example, from memory: 20 parts, 0.1 failures per 1000 h, 2160 h, 95 %: 8 spares
    ("4.32", "0.95", 8, 0.96751),
    # Barlow and Proschan 1981, set again in Trivedi, ch. 6 (statement: studysoup.com): three systems for 1300, 1500 and
    # 1200 h at 0.002 failures an hour, one common stock of spares, 90 %; the answer is own arithmetic
    ("8", "0.90", 12, 0.93620),
    # A. Birolini, Reliability Engineering, ch. 4, from memory: mean 30, 90 %: 37
    ("30", "0.90", 37, 0.91099),
    # cumulative Poisson sums, as in any printed table; own arithmetic
    ("1", "0.95", 3, 0.98101),
    ("2", "0.95", 5, 0.98344),
    ("5", "0.95", 9, 0.96817),
    ("10", "0.95", 15, 0.95126),
]


@pytest.mark.parametrize(("mean", "confidence", "spares", "reached"), POISSON)
def test_published_poisson_examples(mean: str, confidence: str, spares: int, reached: float) -> None:
    rare = Decimal(mean) / MANY
    assert spares_by_confidence(MANY, Decimal(confidence), rare) == spares
    assert survival(MANY, spares, rare) == pytest.approx(reached, abs=2e-5)
    assert survival(MANY, spares - 1, rare) < float(confidence)


BINOMIAL_SUMS = [(20, "0.05", 0.98410), (50, "0.02", 0.98224), (100, "0.01", 0.98163), (10, "0.1", 0.98720)]
"""Of n pieces at most 3 are lost: cumulative binomial sums, as in any printed table; own arithmetic."""


@pytest.mark.parametrize(("bought", "loss", "chance"), BINOMIAL_SUMS)
def test_sums_of_the_binomial_table(bought: int, loss: str, chance: float) -> None:
    assert survival(bought - 3, 3, Decimal(loss)) == pytest.approx(chance, abs=5e-6)


ORDERED = [(10, "0.05", 12, 0.98043), (20, "0.05", 23, 0.97419), (50, "0.02", 53, 0.97845), (100, "0.01", 103, 0.97976)]
"""Order so many that at least n are good with 95 %: the usual acceptance sum, own arithmetic."""


@pytest.mark.parametrize(("wanted", "loss", "ordered", "chance"), ORDERED)
def test_how_many_to_order_so_that_enough_are_good(wanted: int, loss: str, ordered: int, chance: float) -> None:
    assert wanted + spares_by_confidence(wanted, Decimal("0.95"), Decimal(loss)) == ordered
    assert survival(wanted, ordered - wanted, Decimal(loss)) == pytest.approx(chance, abs=5e-6)


def test_a_probability_that_is_just_reached_is_reached() -> None:
    # one piece, lost with 5 %, survives with exactly 95 %
    assert spares_by_confidence(1, Decimal("0.95"), Decimal("0.05")) == 0
    assert spares_by_confidence(1, Decimal("0.9500000001"), Decimal("0.05")) == 1


@settings(max_examples=60, deadline=None)
@given(st.integers(1, 60), st.integers(1, 40), st.integers(50, 99))
def test_no_fewer_would_do_by_exact_fractions(pieces: int, loss: int, confidence: int) -> None:
    lost = Fraction(loss, 100)

    def enough(spares: int) -> bool:
        bought = pieces + spares
        chance = sum(comb(bought, k) * lost**k * (1 - lost) ** (bought - k) for k in range(spares + 1))
        return chance >= Fraction(confidence, 100)

    found = spares_by_confidence(pieces, Decimal(confidence) / 100, Decimal(loss) / 100)
    assert enough(found)
    assert found == 0 or not enough(found - 1)


def test_the_largest_of_the_three_counts_holds() -> None:
    rule = SparesRule(pieces=1, percent=Decimal(10), confidence=Decimal("0.95"), loss=Decimal("0.05"))
    assert [spares_for(pieces, rule) for pieces in (0, 1, 10, 20, 100)] == [0, 1, 2, 3, 10]


@pytest.mark.parametrize(
    ("pieces", "percent", "spares"),
    [(0, "10", 0), (-3, "10", 0), (1, "10", 1), (10, "10", 1), (11, "10", 2), (200, "0.5", 1), (201, "0.5", 2)],
)
def test_a_percentage_is_rounded_up_to_whole_pieces(pieces: int, percent: str, spares: int) -> None:
    rule = SparesRule(pieces=0, percent=Decimal(percent), confidence=Decimal(0), loss=Decimal(0))
    assert spares_for(pieces, rule) == spares


@pytest.mark.parametrize(("confidence", "loss"), [("0", "0.1"), ("0.95", "0"), ("-1", "0.1"), ("0.95", "-0.1")])
def test_without_confidence_or_loss_no_spares_are_needed(confidence: str, loss: str) -> None:
    assert spares_by_confidence(10, Decimal(confidence), Decimal(loss)) == 0


@pytest.mark.parametrize(("confidence", "loss"), [("1", "0.1"), ("0.95", "1"), ("1.5", "0.1"), ("0.95", "2")])
def test_nothing_makes_certain(confidence: str, loss: str) -> None:
    with pytest.raises(ValueError, match="below 1"):
        spares_by_confidence(10, Decimal(confidence), Decimal(loss))
    assert spares_by_confidence(1, Decimal("0.5"), Decimal("0.5")) == 0  # one of one survives with 0.5
    assert spares_by_confidence(1, Decimal("0.51"), Decimal("0.5")) == 1
