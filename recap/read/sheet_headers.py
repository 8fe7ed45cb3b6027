"""The words of suppliers' own price sheets' headers beside those of plain tables, as data: common practice of shops.

Spelled as :func:`recap.read.headers.key` compares them: case, accents and full stops don't count.
"""

from __future__ import annotations

from recap.read.vocabulary import CATALOGUE, Vocabulary

# fmt: off

MORE_HEADERS: dict[str, tuple[str, ...]] = {
    "part": (
        "nummer", "number", "typ nr", "type no", "typnummer", "typenbezeichnung", "型番", "品番", "部品番号", "型号",
        "料号", "ref",
        "reference", "référence", "réf", "referenz", "referencia", "riferimento",
        "item", "bin", "bin no", "lot no", "symbol",
        "mfr part no", "mfr part number", "mfr no", "maker part", "mfg part no", "mfg part number",
        "référence fabricant", "codice produttore", "referencia fabricante",
        "manufacturer part number", "manufacturer part no",
        "manufacturer part", "hersteller nr", "herstellernummer", "Bestell Nr", "Bestellcode",
        "Katalognummer",
        "numer katalogowy", "indeks", "kod", "Artikelnr", "varenr", "varenummer", "tuotenumero", "cikkszám",
        "objednací číslo", "kód", "referência", "art no", "prod no", "stock ref", "bestelnr", "artikelnr",
        "art nummer", "part #", "item #", "order #", "stock #", "cat #", "sku #", "art #",
        "listing id", "item id", "article id", "product id", "offer id", "variant id", "artikel id",
        "produkt id", "id produit", "id articolo", "id artículo",
    ),
    "value": (
        "容量", "静電容量", "电容量", "电容", "cap nom", "Kap", "pojemność", "kapacitans", "kapacitet", "kapacita",
        "kapacitás", "capacitância", "kapasitanssi", "kapasitans", "nominal cap", "cn", "cr",
        "c nenn", "c nom",
    ),
    "volts": (
        "電圧", "耐圧", "定格電圧", "电压", "耐压", "napięcie", "spänning", "spænding", "spenning", "napětí",
        "feszültség", "tensão", "jännite", "u nenn", "vn", "vr", "vac", "v ac",
        "rated volt", "voltage dc", "voltage ac",
        "märkspänning", "Nennspannung UR", "tension de travail", "tension service",
    ),
    "temp": (
        "温度", "定格温度", "tmax", "t max", "teplota", "hőmérséklet", "lämpötila", "max temperatur",
        "arbetstemperatur", "temp range", "temperature range", "temperaturområde", "zakres temperatur",
    ),
    "life": (
        "寿命", "żywotność", "trwałość", "livslängd", "levetid", "životnost", "élettartam",
        "käyttöikä", "lifespan",
        "life span", "service life", "load life hours", "Nutzungsdauer",
    ),
    "mount": (
        "montaż", "montering", "montáž", "provedení", "utförande", "udførelse", "asennus",
        "beszerelés", "montagem",
    ),
    "kind": (
        "rodzaj", "druh", "típus", "tyyppi", "slag", "typu",
    ),
    "pitch": (
        "rozstaw", "rozteč", "delning", "bendelning", "ben afstand", "benafstand",
        "lábtávolság", "passo terminais",
        "raster mm", "pin distance", "lead distance", "pitch p",
    ),
    "diameter": (
        "średnica", "průměr", "átmérő", "diâmetro", "halkaisija", "diam D",
    ),
    "height": (
        "wysokość", "długość", "výška", "délka", "magasság", "hossz", "höjd", "längd",
        "højde", "længde", "høyde",
        "lengde", "comprimento", "korkeus", "pituus", "height seated", "seated height",
    ),
    "minimum": (
        "mindest", "min menge", "minst", "minsta antal", "min antal", "min stk", "pedido minimo", "from qty",
    ),
    "multiple": (
        "reel qty", "qty per reel", "conf", "pz conf", "pezzi per confezione", "pkg qty",
        "unidad de venta", "ud de venta", "qté par sachet", "quantité par sachet", "pcs par sachet",
        "pièces par sachet",
        "pz per conf", "stück pro beutel", "stk pro beutel", "qty per bag", "qty per pack", "stuks per zak",
        "pkg", "pkg size", "package qty",
        "VE", "Verp Einheit", "VPE Stk", "mult", "pack of", "pcs per pack", "pieces per pack", "qty per pack",
        "Inhalt", "Inhalt Stk", "per bag", "unité de vente", "opakowanie", "förpackning", "pakke", "balení",
        "csomag", "pcs pack", "stk pack", "std pack", "std pack qty", "standard pack", "standard package", "spq",
        "standard pack qty", "standard pack quantity", "std pkg",
    ),
    "stock": (
        "lagernd", "vorrätig", "vorrat", "in voorraad", "auf lager stk",
        "在庫", "库存", "Lagerstand", "Lagermenge", "left", "qty left", "quantity left", "remaining", "how many",
        "stok", "dispo", "lieferbar", "Lieferbarkeit", "Verfügbarkeit", "Verfügbare Menge", "lagersaldo",
        "lagerstatus", "på lager", "i lager", "skladem", "sklad", "készlet", "estoque", "ilość",
        "ilość w magazynie", "stan", "stan magazynowy", "dostępność", "varasto", "quantity available",
        "free", "frei", "free stock", "available stock", "stock level", "stock on hand", "freier Bestand",
        "frei verfügbar",
        "beschikbaarheid", "stocks", "disponibili", "unidades disponibles",
    ),
    "tolerance": (
        "tolerancja", "tolerans", "toleranssi", "tolerância", "tűrés",
    ),
    "maker": (
        "メーカー", "厂家", "producent", "tillverkare", "výrobce", "gyártó", "valmistaja", "fabrikant merk",
        "producer name",
    ),
    "series": (
        "シリーズ", "系列", "seria", "serien", "řada", "sorozat", "sarja",
    ),
    "prices": (
        "単価", "価格", "单价", "价格", "EP", "Einzelpreis netto", "your price", "our price",
        "net price", "sale price",
        "price ea", "ea",
    ),
}
"""Headers of price lists beside the vocabulary's own."""

PRICE_SHEET: Vocabulary = {field: (*words, *MORE_HEADERS.get(field, ())) for field, words in CATALOGUE.items()}
"""All headers that a price list's columns are known by."""

CENTRAL_WORDS = frozenset((
    "axiális", "bezbiegunowy", "bipoláris", "cikkszám", "dostępność", "délka", "długość",
    "elektrolitkondenzátor",
    "elektrolytický", "feszültség", "gyártó", "hőmérséklet", "ilość", "kapacitás", "keramický", "kondenzátor",
    "készlet", "kód", "leírás", "leżący", "lábtávolság", "magasság", "megnevezés", "množství",
    "montaż", "montáž",
    "méret", "napięcia", "napięcie", "napětí", "název", "osiowy", "osový", "označení",
    "pojemności", "pojemność",
    "průměr", "radiális", "rozměry", "rozteč", "skladem", "stojący", "svitkový", "trwałość",
    "tűrés", "výrobce",
    "výška", "wysokość", "zamówienie", "złoty", "átmérő", "élettartam", "číslo", "řada",
    "średnica", "żywotność",
    "životnost",
))
"""Words with letters of their own from lists in Polish, Czech and Hungarian, by which their code page is known."""

MAKERS_NUMBERS = (
    "mpn", "mfr part no", "mfr part number", "mfr no", "manufacturer part number", "manufacturer part no",
    "manufacturer part", "hersteller nr", "herstellernummer", "maker part", "maker no",
    "mfg part no", "mfg part number",
    "référence fabricant", "codice produttore", "referencia fabricante",
)
"""Headers of the maker's own part numbers, which stand beside the supplier's."""

MULTIPLES = (
    "multiple", "multiples", "order multiple", "step", "increment", "spq", "Vielfaches", "multiple de", "multiplo",
    "múltiplo", "veelvoud",
)
"""Headers of so many as can be ordered at a time, which say nothing of a pack with a price of its own."""

SIZES = (
    "case", "body", "can", "body mm", "case mm", "package", "package size", "size dimension", "physical size",
    "d l", "d h", "wymiary", "storlek", "rozměry", "rozmer", "méret", "dimensões", "størrelse", "mått", "mål",
    "koko", "obudowa", "Gehäuse", "サイズ", "寸法", "外形寸法", "尺寸", "boîtier", "afmeting", "dimensione", "formato",
    "dimension", "dim", "Abm", "mitat", "b x h x l", "w x h x l", "l x w x h", "l x b x h",
    "l x h x b", "size d l",
)
"""Headers beside the vocabulary's own under which the size may stand, if the cells are sizes."""

DESCRIPTIONS = (
    "item description", "text", "part description", "nazwa", "opis", "benämning",
    "beskrivning", "beskrivelse",
    "betegnelse", "popis", "název", "megnevezés", "leírás", "descrição", "designação", "kuvaus", "nimike",
    "libellé", "Kurztext", "Produktbezeichnung", "Artikelbeschreibung", "denominazione", "denominación",
    "product title", "specification", "specifications", "spec",
)
"""Headers beside the vocabulary's own of the column that says in words what a part is."""

PIECES_PRICED = (
    "pe", "preiseinheit", "price unit", "pricing unit", "price per qty", "unité de prix",
    "prijs per", "preis pro",
    "preis je", "preis pro stk", "per", "prezzo per", "uom qty", "price basis", "prisenhet", "prijseenheid",
)
"""Headers of a column that says for how many pieces the price of its row is: 1, 10, 100, 1000."""

UNITS_SOLD = (
    "einheit", "unit", "uom", "me", "mengeneinheit", "unit of measure", "sales unit",
    "verkaufseinheit", "unité",
    "unità",
)
"""Headers of a column in which pieces or hundreds stand: of how many a price is, or nothing but ``pcs``."""

MONEY_COLUMNS = (
    "currency", "curr", "ccy", "währung", "whg", "valuta", "devise", "moneda", "divisa", "waluta", "monnaie",
)
"""Headers of a column that says row by row in which money a price is."""

NOT_NEEDED = (
    "pos", "position", "mwst", "mwst %", "ust", "vat", "vat %",
    "vat rate", "tva", "iva", "btw", "hs code", "zolltarifnummer", "warengruppe", "gruppe", "group", "eccn",
    "reach", "photo", "bild", "seite", "page", "lead time",
    "lieferzeit", "condition", "zustand", "foto", "fotos", "pictures", "thumbnail", "lead time wks", "lead time weeks",
    "lead time days", "termin dostawy", "délai", "delivery time", "leveringstijd", "levertijd", "plazo", "restock date",
    "restock", "wiederverfügbar", "mwst satz", "steuersatz", "tax rate", "weight g", "hmotnost", "hmotnost g",
    "gewicht g", "on order", "bestellt", "in bestellung", "reserved", "reserviert", "allocated", "en commande",
    "réservé", "in ordine", "riservato", "reservado", "en pedido", "in bestelling", "gereserveerd",
    "tan δ", "tan d", "df",
    "d/c", "date code", "datecode", "l/t",
    "gtin", "ean code", "created", "produktlink",
)
"""Headers of price sheets that hold nothing this job uses."""

COUNTS = ("qty", "quantity", "menge", "anzahl", "quantité", "qté", "quantità", "cantidad", "aantal", "ilość", "antal")
"""Headers of so many pieces: in stock, where the least and the multiple have columns of their own."""

BREAK_QUANTITIES = (
    "qty", "quantity", "break", "qty break", "quantity break", "break qty", "from", "at qty", "min qty",
    "price break", "menge", "ab", "ab stück", "ab stk", "ab anzahl", "menge ab", "ab menge",
    "staffel", "staffelmenge", "stk", "stück", "anzahl", "quantité",
    "à partir de", "qté", "quantità", "da", "cantidad", "desde", "aantal", "vanaf", "ilość", "antal", "från",
)
"""Headers of a column of quantities, where a column of the prices that hold from them follows."""

# fmt: on
