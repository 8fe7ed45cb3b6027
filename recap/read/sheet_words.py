"""What stands in the cells and lines of suppliers' own price sheets, as data: common practice of shops."""

from __future__ import annotations

import re

PRICE_WORDS = frozenset(
    (
        "cut tape v ved vid bei bij um ud aantal ab aktion al angebot antal at break breaks cantidad cena "
        "ceny cost costs db dollar dollars ea each einkaufspreis einzelpreis ek ep euro euros for from für "
        "hinta ht in je kpl kr kroner kronor ks la le meer mehr menge mengen more net neu new "
        "nouveau now nowa nuevo nuovo of offer order our pc pce pcs per pezzo piece pieces pièce pounds "
        "precio precios preis preise prezzi prezzo preço preços price prices pricing prijs prijzen pris "
        "priser prix pro qty quantities quantity quantità quantité sale special staffel staffelpreis "
        "staffelpreise sterling stk stuksprijs styckpris stykpris stück stückpreis szt tarif the ttc unidad "
        "unit unitaire unitario unité verkaufspreis vk volume your zloty zł ár"
    ).split()
)
"""Words of which the header of a price column is made, beside quantities, taxes and currencies."""
PRICE_NOUNS = frozenset(
    (
        "cena ceny cost each einkaufspreis einzelpreis ek ep hinta precio precios preis preise "
        "prezzi prezzo preço preços price prices pricing prijs prijzen pris priser prix staffel staffelpreis "
        "staffelpreise stuksprijs styckpris stykpris stückpreis tarif verkaufspreis vk ár"
    ).split()
)
"""One of these makes a header a price's."""
PIECE_WORDS = frozenset(
    (
        "each ea einzelpreis kpl ks pc pce pcs pezzo piece pieces pièce stk stuksprijs styckpris stykpris stück "
        "stückpreis szt unidad unit unitaire unitario unité"
    ).split()
)
"""One of these says that the price is one piece's."""
NOT_PAID = frozenset(
    (
        "adviesprijs alt alter ancien anterior before conseillé früher katalog list listen listenpreis listino "
        "msrp old previous retail rrp tidigare uvp vecchio vorher was"
    ).split()
)
"""Words of a price that is not the one paid today."""

_TAX = r"(?:vat|mwst|mehrwertsteuer|ust|umsatzsteuer|tva|iva|btw|moms|gst|dph|áfa|alv|mva|taxe?s?|sales tax|steuer|kdv)"
_IN = r"(?:incl?|inkl|inclusive|including|mit|avec|con|met|med|s|z|inc)"
_OUT = (
    r"(?:excl?|exkl|exclusive|excluding|ex|zzgl|zuzügl|ohne|plus|hors|senza|sin|más|zonder|without|eks|bez|utan|uden"
    r"|uten|\+)"
)
TAXED = re.compile(
    rf"\bc/\s*{_TAX}\b|\b{_IN}\b\.?\s*(?:of\s+)?(?:\d+\s*%\s*)?{_TAX}\b\.?|\b{_TAX}\b\.?\s*(?:incl|inkl|incluid|inclus|compris|compres|included)\w*\.?"
    r"|\bt\.?t\.?c\b\.?|\bbrutto(?:preis)?\b|\bbruto\b|\bgross\b|\blord[oi]\b",
    re.IGNORECASE,
)
"""What says that a price has the tax in it."""
UNTAXED = re.compile(
    rf"\bs/\s*{_TAX}\b|(?:\b|(?=\+)){_OUT}(?:\b|(?<=\+))\.?\s*(?:\d+\s*%\s*)?{_TAX}\b\.?|\b{_TAX}\b\.?\s*(?:excl|exkl|esclus|exclu"
    rf"|no incl|non compris|not incl)\w*\.?"
    r"|\bh\.?t\b\.?|\bnett?o?(?:preis)?\b|\bnetti\b|\bneto\b",
    re.IGNORECASE,
)
"""What says that a price has no tax in it."""

PRICE_TITLE = re.compile(
    r"\b(?:price|preis|prix|prezz[io]|listino|preci|precio|preço|prij[sz]|tarif|cen[aynuí]|pris|hinn?a|hinnat|árlist|árak)"
    r"|€|£|価格|单价",
    re.IGNORECASE,
)
"""How the words begin by which a line says that prices follow: ``Price list``, ``Preise in EUR``, ``Ceník``."""

CURRENCIES = {
    "€": "EUR", "eur": "EUR", "euro": "EUR", "euros": "EUR", "£": "GBP", "gbp": "GBP", "usd": "USD", "us$": "USD",
    "$": "$", "¥": "¥", "chf": "CHF", "sfr": "CHF", "fr.": "CHF", "zł": "PLN", "pln": "PLN", "zl": "PLN",
    "kč": "CZK", "czk": "CZK", "ft": "HUF", "huf": "HUF", "sek": "SEK", "nok": "NOK", "dkk": "DKK", "kr": "kr",
    "kr.": "kr", "jpy": "JPY", "cad": "CAD", "aud": "AUD", "nzd": "NZD", "lei": "RON", "ron": "RON", "hkd": "HKD",
    "cny": "CNY", "rmb": "CNY", "try": "TRY", "₺": "TRY", "uah": "UAH", "₴": "UAH", "bgn": "BGN",
}  # fmt: skip
"""Signs and words of money, and the currency each stands for; ``$``, ``¥`` and ``kr`` stand for several."""

NO_PRICE = re.compile(
    r"(?:[-–—/?.]+|n/?a|none|tba|tbc|tbd|poa|p\.o\.a\.?|call|call us|call for price|ask|quote|no quote|no bid|nq|rfq"
    r"|(?:price )?(?:on"
    r"|upon|by) (?:request|application|enquiry|inquiry)"
    r"|please (?:ask|call|enquire)|a\.? ?a\.?|(?:preis )?auf anfrage|anfrage|anfragen|nicht lieferbar|(?:prix )?sur "
    r"demande"
    r"|nous consulter|su richiesta|a richiesta|bajo pedido|a consultar|consultar|op aanvraag|na zapytanie|zapytaj"
    r"|na dotaz"
    r"|på förfrågan|på forespørsel|på forespørgsel|sob consulta|kysy|sold out|out of stock|ausverkauft|vergriffen"
    r"|esaurito|agotado|épuisé|uitverkocht|entfällt|discontinued|obsolete|eol)[ .!]*",
    re.IGNORECASE,
)
"""What stands in the place of a price that nobody has."""
FROM_PRICE = re.compile(
    r"(?:from|starting (?:at|from)|as low as|ab|à partir de|dès|a partire da|a partir de|desde|vanaf|od|från"
    r"|fra)\b\s*\D{0,4}\d.*",
    re.IGNORECASE,
)
"""``from 0.22``: the price of a quantity that isn't said."""

STOCKED = frozenset(
    (
        "plenty|lots|ausreichend|genügend|genug|reichlich|suffisant|sufficiente|suficiente|voldoende|"
        "ships today|"
        "ab lager|ano|auf lager|available|beschikbaar|disponibile|disponibili|disponibilità immediata|disponible|"
        "dostępne|dostępny|em estoque|em stock|en almacén|en existencia|en stock|ex stock|i lager|in magazzino|"
        "in stock|instock|ja|lager|lagernd|lieferbar|many|na stanie|ok|op voorraad|oui|plenty in stock|på lager|"
        "raktáron|si|skladem|sofort|sofort lieferbar|stock|sì|sí|tak|unbegrenzt|unbeschränkt|unlimited|verfügbar|"
        "voorradig|vorrätig|w magazynie|yes|✓|✔|○|◯|あり|有|在庫あり|现货|有货"
    ).split("|")
)
"""In stock, and nothing is said of how many."""
SOLD_OUT = frozenset(
    (
        "nej|nei|nie|não|ne|nem|"
        "agotada|agotado|ausverkauft|brak|discontinued|elfogyott|en rupture|eol|esaurita|esauriti|esaurito|"
        "esgotado|gone|ikke på lager|indisponible|leer|nein|není skladem|nicht lieferbar|nicht verfügbar|"
        "nicht vorrätig|niedostępny|niet leverbaar|niet op voorraad|no|no disponible|non|non disponibile|none|"
        "none left|obsolete|out of stock|rupture|rupture de stock|sin existencias|sin stock|slut|slutsåld|"
        "no longer available|not available|unavailable|nicht mehr lieferbar|nicht mehr verfügbar|plus disponible|"
        "non più disponibile|ya no disponible|niet meer leverbaar|"
        "sold out|udsolgt|uitverkocht|utsolgt|vergriffen|vyprodáno|wyprzedane|épuisé"
        "|×|✗|✘|なし|無|在庫なし|売り切れ|完売|缺货|无货"
    ).split("|")
)
"""None is left."""
TO_ORDER = re.compile(
    r"call(?: us)?|ask(?: us)?|(?:on |by )?(?:request|enquiry|inquiry)|tbc|tba"
    r"|(?:on|to|by) (?:back ?)?order(?:\s*[:=]?\s*\d+)?|back ?order(?:ed)?|special order"
    r"|(?:auf )?bestellung|bestellt|bestellbar"
    r"|nachbestellt|auf anfrage|anfrage|im zulauf|sur commande|sur demande|sur devis"
    r"|su ordinazione|su ordine|su richiesta|in arrivo|bajo pedido|por encargo|sobre pedido|op bestelling|op "
    r"aanvraag|in bestelling|na zamówienie|na objednávku"
    r"|beställningsvara|på bestilling|rendelésre|sob encomenda|due|due in|expected|poa|limited|low stock|few "
    r"left|wenige|few|pochi|poco"
    r"|(?:ca\.?|approx\.?|~)?\s*\d+(?:\s?[-–]\s?\d+)?\s?(?:days?|weeks?|wks?|months?|tage?n?|wochen?|monate?|jours?|semaines?|giorni|settimane|días|semanas|dagen|weken|dni|tygodni\w*|dagar|veckor)",
    re.IGNORECASE,
)
"""Perhaps to be had; how many, or when, is not said."""

LESS_OR_MORE = re.compile(
    r"discount|rebate|reduction|\b(?:off|less|minus)\b|surcharge|rabatt|nachlass|abzüg|abzgl|skonto|zuschlag|aufschlag"
    r"|aufpreis|remise|réduction|majoration|sconto|maggiorazione|descuento|recargo|korting|toeslag|rabat|upust|sleva"
    r"|kedvezmény|desconto|alennus",
    re.IGNORECASE,
)
"""Words of a line that lays a percentage on all prices, or takes one off."""

TOTALS = re.compile(
    r"(?:total|totals|sub-?total|sum|summe|zwischensumme|gesamt|gesamtsumme|anzahl positionen|totale|totali|somme"
    r"|sous-total|suma|totaal|razem|summa|celkem|összesen)\b",
    re.IGNORECASE,
)
"""How a row begins that counts or adds up others."""
PAGES = re.compile(
    r"(?:continued|fortsetzung|suite|segue|continúa|vervolg)\b.*|.*\b(?:page|seite|pagina|página|sida|side|strona|blatt)\s*\d+.*",
    re.IGNORECASE,
)
"""A line that only a printed page needs."""

MINIMUM_ORDER = re.compile(
    r"\b(?:mindestbestell\w*|mindestauftrag\w*|minimum order|min\.? order|minimum de commande|commande minimum"
    r"|ordine minimo|pedido mínimo|minimum ?bestel\w*|minsta order\w*|zamówienie minimalne)",
    re.IGNORECASE,
)
"""A line that speaks of the least value of an order."""
SHIPPING = re.compile(
    r"\b(?:versand\w*|porto\w*|postage|shipping|p&p|carriage|frais de port|livraison|spedizione"
    r"|spese di spedizione|envío|gastos de envío|verzend\w*|frakt\w*|fragt|wysyłk\w*|poštovn\w*)",
    re.IGNORECASE,
)
"""A line that speaks of what sending costs."""
