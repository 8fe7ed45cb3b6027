"""What the header of a price column says: from which quantity, of how many pieces, in which money, with tax or not."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import lru_cache

from recap.normalise.later import compiled
from recap.read.headers import YEAR, price_quantity
from recap.read.sheet_words import CURRENCIES, NOT_PAID, PIECE_WORDS, PRICE_NOUNS, PRICE_WORDS, TAXED, UNTAXED

_PIECES = r"(?:pcs?|pieces?|pce|stk|stück|st|ea|units?|pz|pezzi|pi[eè]ces?|uds?|unidades|stuks|szt|ks|db|kpl|off)?"
_FOR = r"(?:per|je|pro|pour|par|al|por|za|(?<!\d)/)"
_MONTH = (
    r"(?:jan|gen|ene|feb|fév|fev|mar|mär|maa|apr|avr|abr|ma[iyj]|mag|ju[nl]|juin|juil|giu|lug|aug|ao[uû]|ago|sep|set"
    r"|o[ck]t|out|ott|nov|de[czs]|déc|dic)"
)
_COUNT = rf"(?:[1-9]\d{{0,2}}(?:[.,' ]000)+|[1-9]\d{{0,5}})(?!\d|[.,'/-]\d|\s?V\b|(?:\.|st|nd|rd|th)?\s{_MONTH})"
"""So many pieces, not a day: ``Preise per 10.03.2025``, ``per 10 March``."""
PER = compiled(
    rf"\(?\s*(?:{_FOR})\s*(?P<pieces>{_COUNT}|(?:a )?hundred|hundert|cent|cento|cien|honderd|thousand|tausend|mille"
    rf"|pair|paar|dozen|dutzend|douzaine|dozzina|docena|dozijn"
    rf"|mil|duizend|tsd|(?-i:[CM])(?![a-z]))\s*{_PIECES}\b\.?\s*\)?"
    r"|(?P<percent>(?<!\d)(?<!\d\s)%\s*(?:stk\b|st\b|o\b)?|‰)",
    re.IGNORECASE,
)
"""``per 100``, ``je 1.000 Stück``, ``/10``: of how many pieces a price is."""
_PIECE = compiled(
    r"(?:1\s*)?(?:pcs?|pieces?|pce|c62|h87|stk|stück|st|ea|each|units?|pz|pezz[io]|pi[eè]ces?|uds?|unidad(?:es)?|stuks?|szt|ks|db|kpl)?",
    re.IGNORECASE,
)
_SO_MANY = compiled(
    r"(?:per|je|pro|pour|/)?\s*(?P<pieces>\d{1,6})\s*(?:pcs?|pieces?|stk|stück|st|ea|units?|x)?", re.IGNORECASE
)
_WORDS = {
    "hundred": 100, "a hundred": 100, "hundert": 100, "cent": 100, "cento": 100, "cien": 100, "honderd": 100, "c": 100,
    "thousand": 1000, "a thousand": 1000, "tausend": 1000, "mille": 1000, "mil": 1000, "duizend": 1000,
    "tsd": 1000, "m": 1000,
    "hun": 100, "hd": 100, "cen": 100, "tho": 1000, "thou": 1000, "t3": 1000, "dozen": 12, "dutzend": 12, "dzn": 12,
    "pair": 2, "paar": 2, "pr": 2, "douzaine": 12, "dozzina": 12, "docena": 12, "dozijn": 12,
}  # fmt: skip
"""Words and codes of so many pieces; CEN, DZN, MIL, PR and T3 are those of UN/ECE Recommendation 20."""
_EACH = compiled(
    r"\bc/u\b\.?|(?:per|je|pro|pour|par|al|por|za|/)\s*\.?(?:pcs?|pieces?|pce|stk|stück|st|ea|each|unit|pz|pezzo|pi[eè]ce|ud|unidad|stuk|szt|ks|db|kpl)\b\.?",
    re.IGNORECASE,
)
_PACK = compiled(
    r"(?:per|je|pro|pour|par|al|por|/)\s*\.?(?:pack|packs|pkg|pkt|package|packet|bag|reel|lot|set|bundle|vpe|packung|pckg|beutel|rolle|gebinde"
    r"|paquet|sachet|confezione|conf|busta|paquete|bolsa|zak|verpakking|opak|opakowanie|förp|pakke|balení)\b\.?"
    r"|\b(?:pack|bag|lot|vpe) price\b|\bpackungspreis\b"
    r"|(?<=prezzo) +conf\w*\.?|(?<=prix) +(?:du |le |par )?(?:lot|paquet|sachet)"
    r"|(?<=precio) +(?:paquete|caja)|(?<=preis) +(?:vpe|ve|pack\w*)",
    re.IGNORECASE,
)
_PACK_OF = compiled(
    r"(?:per|je|pro|pour|par|al|por|/)?\s*\b(?:pack|packet|bag|reel|lot|set|bundle|packung|beutel|rolle|gebinde|paquet|sachet|confezione"
    r"|busta|paquete|bolsa|zak)\s*(?:of|à|von|zu|de|da|di|van)?\s*(?P<behind>[2-9]|\d{2,5})\b"
    r"|\b(?P<before>[2-9]|\d{2,5})\s?-?(?:er|pcs?\.?|stk\.?|pieces?)?[- ]?"
    r"(?:pack|packet|bag|reel|lot|set|packung|beutel|rolle)\b",
    re.IGNORECASE,
)
"""``per pack of 10``, ``10er Packung``."""
_MONEY = compiled(r"€|£|\$|¥|₺|₴|(?<![^\W\d_])(?:[^\W\d_]{2,5}\$?|us\$|kr\.|fr\.)(?![^\W\d_])", re.IGNORECASE)
CENTS = 100
_CENT_WORDS = r"(?:euro-?)?(?:cents?|(?-i:[Cc]ts?)|centen|centimes?|centesimi|céntimos|cêntimos|pence|öre|øre|groszach)"
_IN_CENTS = compiled(rf"(?<!per )(?<!par )(?:\b(?:in|en|em|i|w)\s+)?\b{_CENT_WORDS}\b\.?|¢|(?-i:\(p\))", re.IGNORECASE)
IN_CENTS = compiled(rf"\b(?:in|en|em|i|w)\s+{_CENT_WORDS}\b|[(\[]{_CENT_WORDS}[)\]]", re.IGNORECASE)
"""``Preise in Cent``: prices in hundredths of the money. ``CT`` in capitals is cut tape."""
_QUANTITIES = frozenset("qty quantity quantities menge quantité quantità cantidad aantal antal of for ab from".split())
_OTHER_PRICES = frozenset({"was", "rrp", "msrp", "uvp", "listenpreis", "listino", "adviesprijs"})
_UP = compiled(
    r"(?P<qty>\d{1,6})\s*(?:up|upwards|(?:or|and) (?:more|over|above|up)|und mehr"
    r"|\+|plus|et plus|et \+|e più|y más|en meer|oder mehr|och mer|i "
    r"więcej"
    r"|(?:to|bis|à|a|al|tot|til|do)\s*\d{1,6})",
    re.IGNORECASE,
)


_UP_TO = compiled(
    r"(?:<|≤|<=|\bup to\b|\bunder\b|\bbelow\b|\bless than\b|\bbis(?: zu)?\b|\bunter\b"
    r"|\bjusqu['’]à\b|\bfino a\b|\bhasta\b|\btot\b)"
    r"\s*\d{1,6}\s*(?:pcs?|pieces?|stk|stück|st|pz|uds?|stuks)?\.?",
    re.IGNORECASE,
)
"""``bis 9``, ``< 10``: from one piece on."""


@dataclass(frozen=True, slots=True)
class PriceHead:
    """What heads a column of prices.

    ``quantity``: from how many pieces on, None where it isn't said. ``per``: the prices are those of so many pieces;
    ``cents``: in hundredths of the money; ``pack``: of a pack. ``taxed``: with the tax (True), without (False).
    ``paid``: False of a list price or an old one. ``each``: the header says that a price is one piece's.
    """

    quantity: int | None = None
    per: int = 1
    pack: bool = False
    taxed: bool | None = None
    currency: str | None = None
    paid: bool = True
    cents: bool = False
    each: bool = False

    @property
    def divisor(self) -> int:
        """By what the numbers below are to be divided for the price of one piece."""
        return self.per * (CENTS if self.cents else 1)


@lru_cache(maxsize=4096)
def price_head(text: str) -> PriceHead | None:
    """Return what the header ``text`` says of prices, None where it heads none."""
    quantity = price_quantity(text)
    if quantity is not None:
        return PriceHead(quantity)
    rest, taxed = _tax(text)
    packed = _PACK_OF.search(rest)
    if packed is not None:
        rest = rest[: packed.start()] + " price " + rest[packed.end() :]
    rest, per = _per(rest)
    rest, pack = _cut(_PACK, rest)
    rest, each = _cut(_EACH, rest)
    each = each or PER.search(text) is not None  # ``par 1``
    rest, cents = _cut(_IN_CENTS, rest)
    rest, currency = _currency(rest)
    quantity, rest = _quantity(YEAR.sub(" ", rest))
    words = set(re.findall(r"[^\W\d_]+", rest.casefold()))
    if re.search(r"\d", rest) or not words <= PRICE_WORDS | NOT_PAID:
        return None
    counted = quantity is not None and words <= _QUANTITIES
    noun = bool(words & (PRICE_NOUNS | _OTHER_PRICES)) or (each and not words)
    if not (noun or pack or counted or ((currency or cents) and not words)):
        return None
    if packed is not None:
        per = int(packed["behind"] or packed["before"])
        quantity = quantity or per
    each = per == 1 and not pack and (each or bool(words & PIECE_WORDS))
    return PriceHead(quantity, per, pack, taxed, currency, not words & NOT_PAID, cents, each)


def _tax(text: str) -> tuple[str, bool | None]:
    text = _ONE_WORD.sub(r"\g<tax> preis", text)
    without, out = _cut(UNTAXED, text)
    if out:
        return without, False
    within, taxed = _cut(TAXED, text)
    return within, True if taxed else None


_ONE_WORD = compiled(r"\b(?P<tax>netto|brutto)preis\b", re.IGNORECASE)


def _cut(pattern: re.Pattern[str], text: str) -> tuple[str, bool]:
    cut, count = pattern.subn(" ", text)
    return cut, count > 0


def _per(text: str) -> tuple[str, int]:
    match = PER.search(text)
    if match is None:
        return text, 1
    return text[: match.start()] + " " + text[match.end() :], pieces_of(match)


def pieces_of(match: re.Match[str]) -> int:
    """Return the pieces that a match of :data:`PER` names."""
    if match["percent"]:
        return 1000 if match["percent"] == "‰" or match["percent"].endswith("o") else 100
    word = match["pieces"].casefold()
    return _WORDS[word] if word in _WORDS else int(re.sub(r"\D", "", word))


def pieces_of_cell(text: str) -> int | None:
    """Return of how many pieces a cell says that a price is (``100 Stk``, ``C``, ``pcs``), None of other text."""
    word = text.strip().casefold().rstrip(".")
    if not word or _PIECE.fullmatch(word):
        return 1
    match = _SO_MANY.fullmatch(word)
    if match is not None:
        return int(match["pieces"]) or None
    return _WORDS.get(word)


def _currency(text: str) -> tuple[str, str | None]:
    for match in _MONEY.finditer(text):
        found = CURRENCIES.get(match[0].casefold())
        if found is not None:
            return text[: match.start()] + " " + text[match.end() :], found
    return text, None


def currencies_in(text: str) -> list[str]:
    """Return the currencies that a line names: by signs, codes in capitals, and words that can be nothing else."""
    found = [CURRENCIES.get(match[0].casefold()) for match in _MONEY.finditer(text) if _is_money(match[0])]
    return list(dict.fromkeys(money for money in found if money is not None))


def _is_money(word: str) -> bool:
    code = len(word) == 3 and word.isupper() and word not in {"TRY", "RON", "LEI"}  # noqa: PLR2004 - ISO 4217
    return not word.isalpha() or code or not word.isascii() or word.casefold() in {"euro", "euros"}


def _quantity(text: str) -> tuple[int | None, str]:
    if (match := _UP.search(text)) is not None:
        return int(match["qty"]), text[: match.start()] + text[match.end() :]
    if (match := _UP_TO.search(text)) is not None:
        return 1, text[: match.start()] + text[match.end() :]
    bare = " ".join(re.sub(r"[()\[\]:,;]", " ", text).split())
    found = price_quantity(bare)
    if found is not None:
        return found, ""
    words = bare.split()
    for take in (1, 2, 3):
        # the quantity last or first: ``Preis ab 100``, ``10+ Preis``
        for part, others in ((words[-take:], words[:-take]), (words[:take], words[take:])):
            found = price_quantity(" ".join(part))
            if found is not None and not re.search(r"\d", " ".join(others)):
                return found, " ".join(others)
    return None, text
