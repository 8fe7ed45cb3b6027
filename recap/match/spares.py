"""How many spares a need calls for: pieces, percent, or a probability that enough survive.

Statistics: each of the n + s pieces bought is lost or spoilt independently with probability
``loss``; the fewest spares s are sought with

    P(X <= s) >= confidence,   X ~ Binomial(n + s, loss)

that is, at least n pieces survive with that probability. The distribution is SciPy's; where it
comes so close to the confidence that floating point can't tell (n = 1, loss 5 %, confidence 95 %:
0.95 against 0.95) the sum is done again in exact fractions, and equality is enough.
"""

from __future__ import annotations

from decimal import ROUND_CEILING, Decimal
from fractions import Fraction
from math import comb
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from recap.model import SparesRule

NEAR = 1e-9
"""Closer than this to the confidence, the exact sum decides."""


def spares_for(pieces: int, rule: SparesRule) -> int:
    """Return the spares for ``pieces`` wanted: the largest of the rule's three counts; 0 where nothing is wanted.

    Raises ValueError where no number of spares can give the confidence asked for.
    """
    if pieces <= 0:
        return 0
    by_percent = int((pieces * rule.percent / 100).to_integral_value(ROUND_CEILING))
    return max(rule.pieces, by_percent, spares_by_confidence(pieces, rule.confidence, rule.loss))


def spares_by_confidence(pieces: int, confidence: Decimal, loss: Decimal) -> int:
    """Return the fewest spares so that ``pieces`` of all survive with probability ``confidence``."""
    if confidence <= 0 or loss <= 0:
        return 0
    if confidence >= 1 or loss >= 1:
        raise ValueError("confidence and loss must be below 1: no number of spares makes certain")
    enough = 1
    while not _survives(pieces, enough, confidence, loss):
        enough *= 2
    short = -1
    while enough - short > 1:
        middle = (enough + short) // 2
        if _survives(pieces, middle, confidence, loss):
            enough = middle
        else:
            short = middle
    return enough


def survival(pieces: int, spares: int, loss: Decimal) -> float:
    """Return the probability that at least ``pieces`` of ``pieces + spares`` survive."""
    from scipy.stats import binom

    return float(binom.cdf(spares, pieces + spares, float(loss)))


def _survives(pieces: int, spares: int, confidence: Decimal, loss: Decimal) -> bool:
    chance = survival(pieces, spares, loss)
    if abs(chance - float(confidence)) > NEAR:
        return chance > float(confidence)
    lost = Fraction(loss)
    bought = pieces + spares
    exact = sum(comb(bought, k) * lost**k * (1 - lost) ** (bought - k) for k in range(spares + 1))
    return exact >= Fraction(confidence)
