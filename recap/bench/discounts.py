"""Price breaks that are given as a discount: ``Rabatt ab 10`` over ``3 %``, or ``Discount at 100: 10 %``.

They are worked out of the price of one piece, exactly: whether the shop rounds to whole cents can't be known.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import Decimal
from functools import lru_cache
from typing import TYPE_CHECKING

from recap.bench.arrow import strings
from recap.bench.ladders import LadderError, read_ladder
from recap.bench.numerals import ENOUGH, decimal_mark
from recap.bench.texts import combined
from recap.normalise.later import compiled
from recap.read.headers import price_quantity

if TYPE_CHECKING:
    from collections.abc import Sequence

    from recap.bench.texts import TextColumn

_PERCENT = r"(?P<minus>[-−–])?\s?(?P<percent>\d{1,2}(?:[.,]\d{1,2})?)\s?(?:%|percent\b|prozent\b)"
_IN_HEADER = compiled(_PERCENT, re.IGNORECASE)
_IN_CELL = compiled(r"[-−–]?\s?(?P<percent>\d{1,2}(?:[.,]\d{1,2})?)\s?%?")
_WORDS = compiled(
    r"\b(?:(?:mengen|staffel|quantity\s|volume\s)?(?:discount|rabatt|rabat|rabais|remise|sconto|descuento|desconto|korting|sleva"
    r"|alennus|kedvezmény)|less|off)\b(?:\s*(?:in\b)?\s*%)?",
    re.IGNORECASE,
)
"""Words of less to pay, in the languages lists come in."""
_MARKS = frozenset({"x", "yes", "y", "ja", "oui", "si", "sì", "✓", "✔", "+"})
"""What stands where the discount in a header holds."""
_NO_MARKS = frozenset({"", "-", "–", "—", "no", "nein", "non", "0", "0%", "0 %"})


@dataclass(frozen=True, slots=True)
class Discount:
    """What heads a column of discounts: from how many pieces on, and how much, None where the cells say it."""

    quantity: int
    percent: Decimal | None = None


@lru_cache(maxsize=4096)
def discount_head(text: str) -> Discount | None:
    """Return what a header says of a discount, None where it speaks of none.

    A percentage counts beside a word for a discount, or with a minus: ``10+ 5%`` may be a tax.
    """
    rest, word = _cut(_WORDS, text)
    match = _IN_HEADER.search(rest)
    if not word and (match is None or not match["minus"]):
        return None
    percent = _number(match["percent"]) if match else None
    if match:
        rest = rest[: match.start()] + " " + rest[match.end() :]
    quantity = price_quantity(" ".join(re.sub(r"[()\[\]:;,%]", " ", rest).split()))
    return None if quantity is None else Discount(quantity, percent)


def _cut(pattern: re.Pattern[str], text: str) -> tuple[str, bool]:
    rest, count = pattern.subn(" ", text)
    return rest, count > 0


def _number(text: str) -> Decimal:
    return Decimal(text.replace(",", "."))


def holds_prices(texts: Sequence[str], discount: Discount) -> bool:
    """Tell whether the cells below a discount are the prices themselves: ``10+ (-5%)`` over ``0.19``.

    Below one that doesn't say how much it is they must bear money: 0.05 may be what a spreadsheet shows as 5 %.
    """
    stated = [text for text in texts if text.strip().casefold() not in _NO_MARKS]
    try:
        ladders = [read_ladder(text) for text in stated]
    except LadderError:
        return False
    if discount.percent is None:
        return bool(ladders) and all(one.lone and one.currencies for one in ladders)
    share = {discount.percent / 100, 1 - discount.percent / 100}
    prices = {one.steps[0][1] for one in ladders}
    return all(one.lone for one in ladders) and bool(prices - share) and all("%" not in text for text in stated)


def are_percents(texts: Sequence[str], header: str) -> bool:
    """Tell whether the cells below ``Rabatt ab 10`` are percentages: all stated bear the sign, or the header does."""
    stated = [text.strip() for text in texts if text.strip().casefold() not in _NO_MARKS]
    in_head = "%" in header
    return bool(stated) and all(_IN_CELL.fullmatch(text) and (in_head or "%" in text) for text in stated)


def discounted(base: TextColumn, rates: TextColumn, percent: Decimal | None) -> TextColumn:
    """Return the prices under ``rates``, worked out of ``base``; blank where none holds.

    What isn't understood stays as both texts together, which is no price and is told as such. With ``percent`` it is
    the cells' that may say where it holds; where they say nothing at all it holds everywhere.
    """
    mark = decimal_mark(base.texts[:ENOUGH].to_pylist())
    everywhere = percent is not None and all(not str(text).strip() for text in rates.texts.to_pylist())

    def work_out(price: str, rate: str) -> str:
        rate = rate.strip().casefold()
        if not price.strip() or (rate in _NO_MARKS and not (everywhere and not rate)):
            return ""
        less = percent if percent is not None and (everywhere or rate in _MARKS) else _rate(rate, percent)
        try:
            ladder = read_ladder(price, mark)
        except LadderError:
            return price
        if less is None or not ladder.lone:
            return f"{price.strip()} less {rate}"
        written = f"{ladder.steps[0][1] * (100 - less) / 100:f}"
        return written.replace(".", ",") if mark == "," else written

    made = combined([base, rates], work_out)
    return type(made)(rates.header, None, strings(map(str, made.texts.to_pylist())), made.codes)


def _rate(text: str, of_header: Decimal | None) -> Decimal | None:
    match = _IN_CELL.fullmatch(text) if of_header is None else None
    return _number(match["percent"]) if match else None
