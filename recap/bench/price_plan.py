"""The price columns of a list together: which quantity each is for, which of them count, and what is told of them."""

from __future__ import annotations

import itertools
import re
from dataclasses import dataclass, replace
from decimal import Decimal
from typing import TYPE_CHECKING

from recap.bench.header_rows import BREAK_KEYS
from recap.bench.ladders import LadderError, read_ladder
from recap.bench.layout import PriceColumns
from recap.bench.price_heads import PriceHead, price_head
from recap.diagnostics import Diagnostic, Source, error, note, warning
from recap.read.headers import key

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from recap.bench.discounts import Discount

_ONLY_A_BREAK = frozenset(map(key, (
    "staffel", "staffelmenge", "ab", "ab menge", "ab stück", "ab stk", "ab anzahl", "menge ab", "from", "break",
    "price break", "qty break", "break qty",
    "quantity break", "à partir de", "desde", "vanaf", "från",
)))  # fmt: skip
"""Headers that mean a price's quantity and never a stock."""
_TOGETHER = re.compile(r"\bfor\b|\bfür\b|\bpour\b|\bpcs?\b|\bpieces\b|\bstk\b|\bstück\b|\bst\b", re.IGNORECASE)
"""``Price for 10``: of each of ten, or of ten."""
CHEAPEST = Decimal("0.2")
"""Nobody sells ten together for less than two cost."""
_NUMBERED = re.compile(r"(?P<word>.*?\D)\s*(?P<number>\d{1,2})")


@dataclass(frozen=True, slots=True)
class Heading:
    """One column that is headed as prices."""

    at: int
    text: str
    source: Source
    head: PriceHead


def pairs_of(texts: Sequence[str], cells: Mapping[int, Sequence[str]]) -> tuple[tuple[int, int], ...]:
    """Return the columns of quantities that are each followed by that of their prices.

    One such pair alone counts only where its header can mean nothing but a price's quantity, and holds whole numbers.
    """
    found: list[tuple[int, int]] = []
    for at in range(len(texts) - 1):
        (word, number), (after, other) = _numbered(texts[at]), _numbered(texts[at + 1])
        head = price_head(after)
        if key(word) in BREAK_KEYS and number == other and head is not None and head.quantity is None:
            found.append((at, at + 1))
    if len(found) == 1:
        at = found[0][0]
        whole = [text.strip().rstrip("+") for text in cells.get(at, ()) if text.strip()]
        if key(_numbered(texts[at])[0]) not in _ONLY_A_BREAK or not whole or not all(map(str.isdecimal, whole)):
            return ()
    return tuple(found)


def _numbered(text: str) -> tuple[str, str]:
    match = _NUMBERED.fullmatch(text.strip())
    return (match["word"].strip(" #-_"), match["number"]) if match else (text, "")


def price_plan(
    headings: Sequence[Heading],
    pairs: tuple[tuple[int, int], ...],
    cells: Mapping[int, Sequence[str]],
    row: Source,
    texts: Sequence[str],
) -> tuple[PriceColumns, list[Diagnostic]]:
    """Return which columns hold the prices that are paid, and what is to be told of them."""
    if pairs:
        return _beside_pairs(headings, pairs, row, texts)
    headings, told = _that_count(headings)
    headings, said = _each_or_together(headings, cells)
    told += said
    by_quantity: dict[int, Heading] = {}
    lone: list[Heading] = []
    for one in headings:
        quantity = _from(one.head, headings)
        if quantity is None:
            lone.append(one)
        elif quantity in by_quantity:
            told.append(_twice(f"two columns hold prices from {quantity} pieces on", one))
        else:
            by_quantity[quantity] = one
    told += [
        _twice(f"two columns mean prices: {lone[0].text!r} and {one.text!r}; the first was read", one)
        for one in lone[1:]
    ]
    if len(by_quantity) > 2 and sorted(by_quantity) == list(range(1, len(by_quantity) + 1)):  # noqa: PLR2004 - 1, 2, 3
        named = [one for one in by_quantity.values() if not one.text.isdecimal()]
        told += [_classes(one) for one in named[:1]]
    if len(headings) == 1 and by_quantity and _TOGETHER.search(headings[0].text):
        told += [_together(one) for one in by_quantity.values() if one.head.per == 1 and one.head.quantity != 1]
    if lone and by_quantity:
        if min(by_quantity) > 1 and not any(":" in text for text in cells.get(lone[0].at, ())):
            by_quantity[1] = lone.pop(0)
        else:
            message = "prices stand in a column of their own and in columns by quantity; which count is not clear"
            told.append(error("header-twice", message, row, "delete or rename one kind"))
    used = [*by_quantity.values(), *lone[:1]]
    told += [_divided(one.text, one.head, one.source) for one in used if one.head.divisor > 1]
    breaks = tuple(sorted((quantity, one.at) for quantity, one in by_quantity.items()))
    per = {one.at: one.head.divisor for one in used if one.head.divisor > 1}
    return PriceColumns(breaks, (), lone[0].at if lone else None, per), told


def _beside_pairs(
    headings: Sequence[Heading], pairs: tuple[tuple[int, int], ...], row: Source, texts: Sequence[str]
) -> tuple[PriceColumns, list[Diagnostic]]:
    """Return the columns of quantities with their prices, and the one beside them that has the price of one piece."""
    heads = {at: head for _, at in pairs if (head := price_head(_numbered(texts[at])[0])) is not None}
    taxed = {head.taxed for head in heads.values()}
    single = [one for one in headings if one.head.paid and not one.head.pack and one.head.taxed in taxed]
    why = "prices with their quantities stand beside it, which were read"
    told = [_left_out(one, why) for one in headings if one not in single]
    by_quantity = [one for one in single if one.head.quantity not in {None, 1}]
    if len(single) > 1 or by_quantity:
        message = f"prices stand under {single[-1].text!r} and with quantities beside them; which count is not clear"
        told.append(error("header-twice", message, row, "delete or rename one kind", single[-1].text))
        single = []
    heads |= {one.at: one.head for one in single}
    several = {at: head for at, head in heads.items() if head.divisor > 1}
    per = {at: head.divisor for at, head in several.items()}
    told += [_divided(texts[at], head, row) for at, head in several.items()]
    return PriceColumns(pairs=pairs, lone=single[0].at if single else None, per=per), told


def with_discounts(
    prices: PriceColumns, columns: Sequence[tuple[Discount, int, Source]], texts: Sequence[str]
) -> tuple[PriceColumns, list[Diagnostic]]:
    """Return the price columns with those of discounts, which are worked out of the price of one piece."""
    base = prices.lone if prices.lone is not None else dict(prices.breaks).get(1)
    taken = {1, *(quantity for quantity, _ in prices.breaks)}
    used: list[tuple[Discount, int]] = []
    told: list[Diagnostic] = []
    for discount, at, place in columns:
        if base is None or discount.quantity in taken:
            message = f"the discount under {texts[at]!r} can't be laid over the prices; its column was not read"
            hint = "give a column of prices from that quantity on: 10+"
            told.append(warning("header-unknown", message, place, hint, texts[at]))
            continue
        taken.add(discount.quantity)
        used.append((discount, at))
        less = "each row's percentage" if discount.percent is None else f"{discount.percent} %"
        message = (
            f"prices from {discount.quantity} pieces on were worked out: {texts[base]!r} less {less}, exact, unrounded"
        )
        hint = f"where the shop rounds to whole cents, give a column {discount.quantity}+ with its prices"
        told.append(warning("price-discount", message, place, hint, texts[at]))
    return replace(prices, discounts=tuple(used)), told


def _from(head: PriceHead, headings: Sequence[Heading]) -> int | None:
    """Return the quantity a column's prices hold from: the one it names, or, where several name pieces, as many."""
    if head.quantity is not None:
        return head.quantity
    if len({one.head.per for one in headings}) > 1 and all(one.head.quantity is None for one in headings):
        return head.per
    return None


def _that_count(headings: Sequence[Heading]) -> tuple[list[Heading], list[Diagnostic]]:
    """Leave out list prices and old ones beside the price that is paid, and prices with tax beside those without."""
    told: list[Diagnostic] = []
    kept = list(headings)
    paid = [one for one in kept if one.head.paid]
    if paid and len(paid) < len(kept):
        told += [_left_out(one, f"{one.text!r} is not the price that is paid") for one in kept if not one.head.paid]
        kept = paid
    told += [_unpaid(one) for one in kept[:1] if not one.head.paid]
    single = [one for one in kept if not one.head.pack]
    if single and len(single) < len(kept):
        why = "the price of a pack stands beside that of one piece, which was read"
        told += [_left_out(one, why) for one in kept if one.head.pack]
        kept = single
    untaxed = [one for one in kept if one.head.taxed is not True]
    if any(one.head.taxed is False for one in untaxed) and len(untaxed) < len(kept):
        why = "prices stand there with the tax and without; those without were read, and suppliers.csv adds its tax"
        told += [_left_out(one, why) for one in kept if one.head.taxed]
        kept = untaxed
    return kept, told


def _each_or_together(
    headings: Sequence[Heading], cells: Mapping[int, Sequence[str]]
) -> tuple[list[Heading], list[Diagnostic]]:
    """Tell ``par 1``, ``par 10``, ``par 100`` over prices of one piece from those over prices of ten, by the prices.

    Of one piece they don't rise from column to column; of ten together they are several times that of one.
    """
    counted = sorted((one for one in headings if one.head.quantity is None), key=lambda one: one.head.per)
    if len(counted) < 2 or counted[-1].head.per == 1 or len({one.head.per for one in counted}) < len(counted):  # noqa: PLR2004
        return list(headings), []
    ratios = [
        (high / low, Decimal(wide.head.per) / narrow.head.per)
        for narrow, wide in itertools.pairwise(counted)
        for low, high in zip(_prices(cells, narrow.at), _prices(cells, wide.at), strict=False)
        if low and high
    ]
    if all(ratio <= 1 for ratio, _ in ratios):
        single = {one.at: replace(one, head=replace(one.head, quantity=one.head.per, per=1)) for one in counted}
        return [single.get(one.at, one) for one in headings], []
    if all(ratio > 1 and ratio >= CHEAPEST * steps for ratio, steps in ratios):
        return list(headings), []
    one = counted[-1]
    message = f"the prices under {one.text!r} are neither clearly those of one piece nor those of {one.head.per}"
    hint = f"head it {one.head.per}+ where each piece costs that, or Price per {one.head.per}"
    return list(headings), [error("price-per-unclear", message, one.source, hint, one.text)]


def _prices(cells: Mapping[int, Sequence[str]], at: int) -> list[Decimal | None]:
    return [_price(text) for text in cells.get(at, ())]


def _price(text: str) -> Decimal | None:
    try:
        ladder = read_ladder(text)
    except LadderError:
        return None
    return ladder.steps[0][1] if ladder.lone else None


def _unpaid(one: Heading) -> Diagnostic:
    message = f"{one.text!r} names a list price or an old one, and no other was understood: it was read"
    return warning("price-not-paid", message, one.source, "head the column that holds what is paid: price", one.text)


def _left_out(one: Heading, why: str) -> Diagnostic:
    return warning("price-passed-over", why, one.source, "if it is the one to be paid, delete the other", one.text)


def _twice(message: str, one: Heading) -> Diagnostic:
    return error("header-twice", message, one.source, "delete or rename one", one.text)


def _classes(one: Heading) -> Diagnostic:
    message = f"{one.text!r} and the prices beside it may be from 1, 2, 3 pieces on, or prices of several classes"
    hint = "head them by quantity alone (1, 10, 100), or leave one price column"
    return error("price-breaks-unclear", message, one.source, hint, one.text)


def _together(one: Heading) -> Diagnostic:
    message = f"the prices under {one.text!r} may be those of all pieces together; they were taken for those of each"
    hint = f"if they are, head them: Price per {one.head.quantity}"
    return warning("price-doubted", message, one.source, hint, one.text)


def _divided(text: str, head: PriceHead, place: Source) -> Diagnostic:
    said = [f"those of {head.per} pieces"] if head.per > 1 else []
    said += ["in hundredths of the currency"] if head.cents else []
    message = f"the prices under {text!r} are {' and '.join(said)}; they were divided by {head.divisor}"
    hint = "where pieces are only sold by so many, say so in a column multiple"
    return note("price-per", message, place, hint, text)
