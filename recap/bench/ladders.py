"""Prices by quantity and shipping by goods value: ``1:0.42 10:0.31 100:0.19``.

Between the pairs may stand spaces, semicolons or bars; prices may bear a currency; a lone number is
the price from the first piece on. All of a text is accounted for or it is refused.
"""

from __future__ import annotations

import itertools
import re
from dataclasses import dataclass
from decimal import Decimal

from recap.bench.numerals import decimal_number, whole_number
from recap.model import PriceBreak, ShippingTier
from recap.normalise.later import compiled
from recap.read.sheet_words import CURRENCIES

CURRENCY_SIGNS = {"€": "EUR", "£": "GBP", "¥": "JPY", "$": "USD"}
"""A sign and the currency it usually stands for; ``$`` also for others, see :func:`currency_fits`."""

_KRONER = frozenset({"SEK", "NOK", "DKK", "ISK"})
_DOLLARS = frozenset({"USD", "CAD", "AUD", "NZD", "HKD", "SGD", "TWD", "MXN"})
_YENS = frozenset({"JPY", "CNY"})
_NUMBER = r"-?(?:\d[\d.,'’]*\d|\d|[.,]\d+)(?:[eE][+-]?\d{1,2})?"
_CURRENCY = r"[€£¥$₺₴]|(?!per|pcs|pce|stk|pro)[A-Z]{3}|zł|zl|kr\.?|Kč|Ft|Fr\."
_MONEY = rf"(?P<pricesign>{_CURRENCY})?\s*(?P<price>{_NUMBER})\s*(?P<priceafter>{_CURRENCY})?"
_PAIR = compiled(
    r"\s*(?P<quantity>-?\d[\d.,'’]*\d|-?\d)\s*(?:\+|[-–]\s*\d+)?\s*(?:pcs?|stk|stück|st|x)?\.?(?:\s*[:=@]\s*|(?<=\+)\s+|\s+(?=[€£$]))"
    + _MONEY
    + r"(?:\s+per\s+(?P<per>[1-9]\d{0,5})(?!\d))?(?P<end>\s*[;|/]\s*|\s*,\s+|\s+|\s*$)",
    re.IGNORECASE,
)
_STEP = r"[1-9][0-9]{0,8}:(?:0|[1-9][0-9]{0,11})(?:\.[0-9]{1,9})?"
_SIMPLE = compiled(rf"(?:{_STEP} )*{_STEP}")
_CLOCK = compiled(r"\s*(?:\d+:)?(?:0\d:\d\d|\d\d:0\d)(?:[.,]\d+)?\s*")
"""A time of day, one of whose fields is filled up with a zero, as nobody writes a quantity or a price."""
_THREE_DIGITS = compiled(r"[1-9][0-9]{0,2}[.,][0-9]{3}")
_EXPONENT = compiled(r"[0-9]+(?:\.[0-9]+)?[eE][+-]?[0-9]{1,2}")
_LONE = compiled(r"\s*" + _MONEY + r"\s*", re.IGNORECASE)
_LEAD = compiled(r"\s*" + _MONEY + r"\s*(?:[;|/,]|\s)\s*(?=\d+\s*(?:\+|pcs?|stk)?\s*[:=@])", re.IGNORECASE)
"""A price for one piece in front of those for more: ``€0.32 / 10+: €0.26``."""
_EACH = compiled(
    r"\s*(?:/|per|je|pro|pour|la|al|por|per)?\s*(?:each|ea|pce?|pc|stk|stück|st|piece|unit|pezzo|pz|pi[eè]ce|ud|stuk|szt|ks|db)\.?\s*$",
    re.IGNORECASE,
)
_ABOUT = compiled(r"^\s*(?:~|≈|ca\.?|approx\.?|about|circa|etwa|env\.?)\s*(?=\D{0,4}\d)|\s*[~*†]+\s*$", re.IGNORECASE)
_PER = compiled(
    r"^(?P<price>.*\d.*?)\s*(?P<word>per|je|pro|pour|à|/)\s*(?P<pieces>[1-9]\d{0,5})\s*(?:pcs?|stk|stück|st|pieces?)?\.?\s*$",
    re.IGNORECASE,
)
_WHOLE = compiled(
    rf"\s*(?P<pricesign>{_CURRENCY})?\s*(?P<amount>\d{{1,6}})[.,]\s?[-–—]{{1,2}}\s*(?P<priceafter>{_CURRENCY})?\s*",
    re.IGNORECASE,
)
"""``3,-`` and ``3.--``: whole amounts as they are written where German is spoken."""
_PENCE = compiled(r"\s*(?P<count>\d{1,4})\s?(?P<unit>p|ct|cts|cents?|¢)\.?\s*", re.IGNORECASE)


MOST_MONEY = Decimal(10**12)
"""More than this nothing costs; with exponents numbers could be written that no sum can be made of."""
FINEST = 40
"""Nor does anybody reckon in more decimals; all amounts of an order are multiples of the smallest."""
LONGEST_ODD = 200
"""A price alone with words beside it is no longer; to look for one in a long text takes time without end."""
MOST_PIECES = 999_999_999
"""From more pieces on nobody has a price; a number beyond is a slip, and more than is counted with."""


class LadderError(ValueError):
    """Why a text is no ladder: the code, what is wrong, what to do."""

    def __init__(self, code: str, message: str, hint: str) -> None:
        """Keep the three; the message is the exception's text."""
        super().__init__(message)
        self.code, self.message, self.hint = code, message, hint


@dataclass(frozen=True, slots=True)
class Ladder:
    """Steps of a ladder as exact numbers, and the currency marks that stood beside prices.

    ``doubt`` is what a person should look at: a price that is only about so much, or perhaps of several pieces.
    """

    steps: tuple[tuple[Decimal, Decimal], ...]
    currencies: frozenset[str] = frozenset()
    lone: bool = False
    doubt: str | None = None


def read_ladder(text: str, mark: str | None = None) -> Ladder:
    """Return the steps of ``text`` in the order given; raises :class:`LadderError` where any of it is not a step."""
    if _CLOCK.fullmatch(text):
        message = f"a spreadsheet made the time of day {text.strip()!r} of a price: the price and its quantity are lost"
        raise LadderError("cell-is-date", message, "format the column as text, type 1:0.42 again; or write 0.42 alone")
    lone = _LONE.fullmatch(text)
    if lone is not None:
        return Ladder(((Decimal(0), _price(lone["price"], mark, text)),), _signs(lone), lone=True)
    odd = _odd(text, mark) if len(text) <= LONGEST_ODD else None
    if odd is not None:
        return odd
    lead = _LEAD.match(text)
    steps: list[tuple[Decimal, Decimal]] = []
    signs: frozenset[str] = frozenset()
    at = 0
    if lead is not None:
        steps, signs, at = [(Decimal(1), _price(lead["price"], mark, text))], _signs(lead), lead.end()
    while at < len(text.rstrip()):
        match = _PAIR.match(text, at)
        if match is None:
            rest = text[at:].strip()[:40]
            message = f"{rest!r} is no price: expected pairs quantity:price"
            raise LadderError("price-unreadable", message, "write 1:0.42 10:0.31")
        price = _price(match["price"], mark, text)
        steps.append((_count(match["quantity"], mark), _shared(price, match["per"])))
        signs |= _signs(match)
        at = match.end()
    if not steps:
        raise LadderError("price-missing", "no price", "write 1:0.42, or delete the row")
    return Ladder(tuple(steps), signs)


def _count(quantity: str, mark: str | None) -> Decimal:
    if quantity.startswith("-"):
        raise LadderError("price-unreadable", f"a negative quantity {quantity}", "write 1:0.42 10:0.31")
    number = decimal_number(quantity, mark)
    count = number if number is not None else whole_number(quantity, _other(mark, quantity))
    if count is None:
        raise LadderError("price-unreadable", f"quantity {quantity!r} has two readings", "write it plainly: 1000")
    return Decimal(count)


def _shared(price: Decimal, pieces: str | None) -> Decimal:
    """Return the price of one piece; raises where it has no end in decimals."""
    if pieces is None:
        return price
    each = price / Decimal(pieces)
    if each * Decimal(pieces) != price:
        message = f"{price} for {pieces} pieces is no price a piece that ends"
        raise LadderError("price-unreadable", message, "write the price of one piece as it is charged")
    return each


def _odd(text: str, mark: str | None) -> Ladder | None:
    """Read a price with something beside it: each, about, pence, of so many pieces; None of any other text."""
    pence = _PENCE.fullmatch(text)
    if pence is not None:
        signs = frozenset({"£"} if pence["unit"].lower() == "p" else ())
        return Ladder(((Decimal(0), Decimal(pence["count"]) / 100),), signs, lone=True)
    whole = _WHOLE.fullmatch(text)
    if whole is not None:
        return Ladder(((Decimal(0), Decimal(whole["amount"])),), _signs(whole), lone=True)
    plain = _ABOUT.sub("", text)
    doubt = None
    if plain != text:
        doubt = f"{text.strip()[:40]!r} may be only about that price, or have a footnote; it was taken"
    each = _EACH.sub("", plain)
    match = _PER.fullmatch(plain)
    found = _LONE.fullmatch(match["price"] if match else each)
    if found is None:
        return None
    price = _price(found["price"], mark, text)
    if match is not None:
        price = _shared(price, match["pieces"])
        if match["word"] in {"/", "à"}:
            doubt = f"{text.strip()[:40]!r} was read as the price of {match['pieces']} pieces"
    return Ladder(((Decimal(0), price),), _signs(found), lone=True, doubt=doubt)


def _other(mark: str | None, quantity: str) -> str | None:
    """Return the mark by which ``1.000`` is a thousand: nobody sells 1.000 pieces meaning one."""
    if mark is not None:
        return mark
    return "," if "." in quantity else "."


def _price(text: str, mark: str | None, whole: str) -> Decimal:
    if text.startswith("-"):
        message = f"a negative price {text}"
        raise LadderError("price-negative", message, "prices are 0 or more; credit notes don't belong here")
    price = money(text, mark)
    if price is None:
        message = f"price {text!r} in {whole.strip()[:40]!r} has two readings, or none"
        raise LadderError("price-unreadable", message, "write it with a decimal point: 1.25")
    return price


def money(text: str, mark: str | None = None) -> Decimal | None:
    """Return an unsigned amount of money, None where ``text`` is none, has two readings or is beyond all money.

    Money in tables is written with a decimal point (``1.250`` is one and a quarter) unless the column
    is seen to use the comma; the other mark before three digits is never taken for grouping.
    """
    text = "0" + text if text[:1] in {".", ","} else text
    if _EXPONENT.fullmatch(text):
        amount: Decimal | None = Decimal(text)
    elif _THREE_DIGITS.fullmatch(text):
        point = "." if "." in text else ","
        amount = Decimal(text.replace(",", ".")) if point == (mark or ".") else None
    else:
        amount = decimal_number(text, mark)
    if amount is None or amount > MOST_MONEY or -int(amount.as_tuple().exponent) > FINEST:
        return None
    return amount


def _signs(match: re.Match[str]) -> frozenset[str]:
    signs = (sign for sign in (match["pricesign"], match["priceafter"]) if sign)
    known = CURRENCIES
    return frozenset(sign if sign in CURRENCY_SIGNS else known.get(sign.casefold(), sign.upper()) for sign in signs)


def currency_fits(sign: str, currency: str) -> bool:
    """Tell whether prices marked ``sign`` can be in ``currency``."""
    if sign == "$":
        return currency in _DOLLARS
    if sign == "kr":
        return currency in _KRONER
    if sign == "¥":
        return currency in _YENS
    return CURRENCY_SIGNS.get(sign, sign) == currency


def price_breaks(ladder: Ladder, least: int = 1) -> tuple[PriceBreak, ...]:
    """Return the ladder as price breaks; a lone price holds from ``least`` pieces on.

    Raises :class:`LadderError` where a quantity is no whole number of 1 or more, or quantities don't rise.
    """
    if ladder.lone:
        return (PriceBreak(max(least, 1), ladder.steps[0][1]),)
    for quantity, _ in ladder.steps:
        if quantity != quantity.to_integral_value() or quantity < 1:
            message = f"prices from {quantity} pieces on: quantities are whole numbers from 1"
            raise LadderError("price-unreadable", message, "write 1:0.42 10:0.31")
        if quantity > MOST_PIECES:
            message = f"prices from {str(quantity)[:40]} pieces on: nobody has so many"
            raise LadderError("price-unreadable", message, "write 1:0.42 10:0.31")
    for (low, _), (high, _) in itertools.pairwise(ladder.steps):
        if high <= low:
            message = f"the price table is out of order: {high} pieces after {low}"
            raise LadderError("price-order", message, "list each quantity once, rising")
    return tuple(PriceBreak(int(quantity), price) for quantity, price in ladder.steps)


def simple_breaks(text: str, mark: str | None = None) -> tuple[PriceBreak, ...] | None:
    """Return what :func:`read_ladder` and :func:`price_breaks` make of the plainest writing, some ten times faster.

    None where the text is written in any other way than ``1:0.42 10:0.31``, or its quantities don't rise.
    """
    if mark == "," or _SIMPLE.fullmatch(text) is None:
        return None
    made = []
    below = 0
    for step in text.split(" "):
        quantity, _, price = step.partition(":")
        count = int(quantity)
        if count <= below:
            return None
        made.append(PriceBreak(count, Decimal(price)))
        below = count
    return tuple(made)


def dearer_break(breaks: tuple[PriceBreak, ...]) -> tuple[PriceBreak, PriceBreak] | None:
    """Return the first two neighbours of which the larger quantity costs more a piece."""
    pairs = itertools.pairwise(breaks)
    return next(((low, high) for low, high in pairs if high.unit_price > low.unit_price), None)


def shipping_tiers(text: str, mark: str | None = None) -> tuple[ShippingTier, ...]:
    """Return what shipping costs by goods value; a number alone in front is charged from 0 on, blank means free.

    Raises :class:`LadderError` where the tiers don't begin at 0 or don't rise.
    """
    if not text.strip():
        return ()
    ladder = read_ladder(text, mark)
    if ladder.doubt is not None:  # ``1/2``
        raise LadderError("price-unreadable", f"{text.strip()[:40]!r} has two readings", "write 5.90, or 0:5.90 50:0")
    if ladder.lone:
        return (ShippingTier(Decimal(0), ladder.steps[0][1]),)
    first = Decimal(0) if _LEAD.match(text) else ladder.steps[0][0]
    tiers = tuple(ShippingTier(first if not at else goods, charge) for at, (goods, charge) in enumerate(ladder.steps))
    if tiers[0].goods != 0:
        message = f"shipping is stated from {tiers[0].goods} on, but not below"
        raise LadderError("shipping-order", message, f"begin at 0: 0:5.90 {tiers[0].goods}:{tiers[0].charge}")
    for low, high in itertools.pairwise(tiers):
        if high.goods <= low.goods:
            message = f"the shipping tiers are out of order: {high.goods} after {low.goods}"
            raise LadderError("shipping-order", message, "list each goods value once, rising")
    return tiers
