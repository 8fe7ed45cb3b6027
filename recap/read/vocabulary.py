"""The words that head columns, as data: canonical field to the spellings people use for it.

English first, then German, French, Italian, Spanish, Dutch, then signs of the trade. Accents,
case, hyphens and full stops don't count (:func:`recap.read.headers.key`), so one spelling of each
is enough; umlauts also match when written ae, oe, ue. A word belongs to one field of a table only.
"""

from __future__ import annotations

Vocabulary = dict[str, tuple[str, ...]]

# fmt: off

_VALUE = (
    "value", "val", "capacitance", "cap", "capacity", "cap value", "nominal value", "nominal capacitance",
    "rated capacitance", "capacitance value", "farad", "farads", "microfarad", "microfarads", "mfd", "µf", "nf", "pf",
    "mf", "Wert", "Kapazität", "Nennkapazität", "Kapazitätswert", "Nennwert",
    "valeur", "capacité", "valeur nominale", "capacité nominale",
    "valore", "capacità", "capacità nominale", "valore nominale",
    "valor", "capacidad", "capacitancia", "valor nominal",
    "waarde", "capaciteit",
)
_VOLTS = (
    "volts", "volt", "voltage", "v", "wv", "wvdc", "vdc", "dcv", "dcwv", "vw", "rated voltage", "voltage rating",
    "working voltage", "voltage rated", "volt rating", "max voltage", "nominal voltage", "rated volts",
    "rated v", "v rated", "v dc", "ur", "un", "kv", "kilovolt", "kilovolts",
    "Spannung", "Nennspannung", "Spannungsfestigkeit", "Spg",
    "tension", "tension nominale", "tension de service",
    "tensione", "tensione nominale", "tensione di lavoro", "tens lav", "v lav", "v lavoro",
    "tensión", "voltaje", "tensión nominal", "voltaje nominal",
    "spanning", "werkspanning", "nominale spanning",
)
_TEMP = (
    "temp", "temperature", "temp rating", "rated temperature", "temperature rating", "max temp", "max temperature",
    "maximum temperature", "temp max", "°c", "deg c", "degc", "category temperature", "operating temperature",
    "Temperatur", "Grenztemperatur", "max Temperatur", "Temperaturbereich",
    "température", "température max",
    "temperatura", "temperatura max", "temperatura massima", "temperatura máxima",
    "temperatuur", "max temperatuur",
)
_MOUNT = (
    "mount", "mounting", "mounting type", "mounting style", "lead type", "leads", "lead style", "construction",
    "termination", "form", "orientation", "lead form", "style",
    "Bauform", "Montage", "Montageart", "Anschluss", "Anschlüsse", "Anschlussart", "Ausführung",
    "boîtier", "type de montage", "sorties",
    "montaggio", "terminali", "esecuzione",
    "montaje", "tipo de montaje", "terminales",
    "bouwvorm", "uitvoering", "aansluiting", "aansluitingen", "montagewijze",
)
_KIND = (
    "kind", "type", "cap type", "capacitor type", "dielectric", "technology", "material", "polarity", "polarisation",
    "Art", "Typ", "Dielektrikum", "Technologie", "Kondensatortyp", "Kondensatorart",
    "genre", "type de condensateur", "diélectrique",
    "tipo", "tipo di condensatore", "dielettrico",
    "tipo de condensador", "dieléctrico", "tecnología",
    "soort", "diëlektricum",
)
_PITCH = (
    "pitch", "lead spacing", "lead pitch", "spacing", "ls", "pin pitch", "pin spacing", "lead space", "hole spacing",
    "p",
    "Raster", "RM", "Rastermaß", "Anschlussraster", "Beinabstand",
    "pas", "entraxe", "écartement", "écart", "espacement",
    "passo", "interasse",
    "paso", "separación", "separación de terminales",
    "steek", "pootafstand",
)
_DIAMETER = (
    "diameter", "dia", "diam", "ø", "d", "width", "case diameter", "body diameter", "outer diameter", "od",
    "Durchmesser", "Durchm",
    "diamètre", "diametro", "diámetro", "middellijn",
)
_HEIGHT = (
    "height", "length", "h", "l", "body length", "case height", "case length", "body height", "max height", "len",
    "Höhe", "Länge", "Bauhöhe", "Körperlänge",
    "hauteur", "longueur",
    "altezza", "lunghezza",
    "altura", "longitud", "alto",
    "hoogte", "lengte",
)
_RIPPLE = (
    "ripple", "ripple current", "rated ripple", "rated ripple current", "ripple ma", "iac", "ir", "ma", "max ripple",
    "Rippelstrom", "Ripplestrom", "Wechselstrom", "Welligkeitsstrom",
    "courant d'ondulation", "ondulation", "courant ondulatoire",
    "corrente di ripple", "corrente di ondulazione",
    "corriente de rizado", "rizado",
    "rimpelstroom",
)
_SAFETY = (
    "safety", "safety class", "class", "x/y class", "xy class", "x/y", "approval class",
    "Sicherheitsklasse", "Klasse", "Entstörklasse",
    "classe", "classe de sécurité", "classe di sicurezza",
    "clase", "clase de seguridad",
    "veiligheidsklasse", "klasse",
)
_NOTE = (
    "note", "notes", "remark", "remarks", "comment", "comments", "info", "annotation",
    "Bemerkung", "Bemerkungen", "Anmerkung", "Anmerkungen", "Notiz", "Notizen", "Hinweis", "Kommentar",
    "remarque", "remarques", "commentaire", "commentaires",
    "nota", "osservazioni", "commento", "annotazioni",
    "notas", "observaciones", "comentario", "comentarios",
    "opmerking", "opmerkingen", "notitie",
)
_QTY = (
    "qty", "quantity", "quant", "count", "pcs", "pieces", "number of", "amount", "no of", "how many", "#",
    "Menge", "Anzahl", "Stück", "Stk", "Stückzahl",
    "quantité", "qté", "nombre",
    "quantità", "qta", "pezzi", "pz",
    "cantidad", "cant", "unidades",
    "aantal", "stuks", "hoeveelheid",
)
_OPERATING = (
    "operating", "operating voltage", "actual voltage", "circuit voltage", "measured voltage", "in circuit voltage",
    "schematic voltage", "voltage in circuit", "voltage actual", "voltage operating", "volts operating",
    "Betriebsspannung", "Arbeitsspannung", "gemessene Spannung",
    "tension mesurée", "tension réelle", "tension de fonctionnement",
    "tensione misurata", "tensione di esercizio", "tensione reale",
    "tensión de trabajo", "tensión medida", "voltaje de trabajo",
    "bedrijfsspanning", "gemeten spanning",
)
_BOARD = (
    "board", "pcb", "module", "assembly", "section", "location", "circuit board", "panel", "unit board", "block",
    "Platine", "Leiterplatte", "Baugruppe", "Modul", "Karte",
    "carte", "platine", "circuit",
    "scheda", "piastra", "modulo",
    "placa", "tarjeta", "módulo",
    "print", "printplaat", "kaart",
)
_ROLE = (
    "role", "function", "use", "purpose", "application", "job of it",
    "Funktion", "Aufgabe", "Verwendung", "Rolle", "Einsatz",
    "fonction", "rôle", "usage",
    "funzione", "ruolo", "impiego",
    "función", "uso", "papel",
    "functie", "rol", "toepassing",
)
_REF = (
    "ref", "refs", "reference", "references", "designator", "designators", "ref des", "refdes",
    "reference designator",
    "position", "positions", "component", "part ref", "cap no", "id", "schematic ref", "location ref", "c no",
    "cap #",
    "Bauteil", "Bezeichner", "Pos", "Positionen", "Referenz", "Bauteilnummer", "Kondensator",
    "repère", "référence", "repères", "composant", "condensateur",
    "riferimento", "posizione", "componente", "condensatore", "sigla",
    "referencia", "posición", "condensador",
    "positie", "referentie", "onderdeel",
)
_PART = (
    "part", "part number", "part no", "order number", "order no", "order code", "sku", "stock code", "article",
    "article number", "item number", "item no", "product code", "code", "supplier part", "supplier part number",
    "part nr", "pn", "p/n", "catalogue number", "catalog number", "catalogue no", "mpn", "part code",
    "stock no", "stock number", "article no", "our ref", "our part no", "product no", "product number", "item code",
    "Bestellnummer", "Bestellnr", "Best Nr", "Artikel", "Artikelnummer", "Artikelnr", "Art Nr", "Teilenummer", "Teil",
    "code article", "numéro de pièce", "référence article", "n° article",
    "codice", "codice articolo", "articolo",
    "código", "artículo", "número de pieza",
    "bestelnummer", "artikelcode", "bestelcode",
)
_MAKER = (
    "maker", "manufacturer", "mfr", "mfg", "brand", "make", "manuf", "producer",
    "Hersteller", "Marke", "Fabrikat",
    "fabricant", "marque", "fabbricante", "produttore", "marca", "fabricante", "fabrikant", "merk",
)
_SERIES = (
    "series", "family", "range", "product series", "product family",
    "Serie", "Baureihe", "Reihe", "série", "gamme", "gamma", "familia", "reeks",
)
_TOLERANCE = (
    "tolerance", "tol", "toler", "%", "Toleranz", "tolérance", "tolleranza", "tolerancia", "tolerantie",
)
_LIFE = (
    "life", "lifetime", "life time", "endurance", "load life", "useful life", "hours", "hrs", "life hours",
    "rated life",
    "life at temp", "h life",
    "Lebensdauer", "Stunden", "Betriebsstunden",
    "durée de vie", "heures", "endurance heures",
    "durata", "vita", "vita utile", "ore",
    "vida", "vida útil", "horas", "duración",
    "levensduur", "uren",
)
_IMPEDANCE = (
    "impedance", "z", "esr", "impedance max", "max impedance", "ω", "ohm", "ohms", "mω",
    "Impedanz", "Scheinwiderstand", "impédance", "impedenza", "impedancia", "impedantie",
)
_MINIMUM = (
    "minimum", "min", "moq", "min qty", "minimum quantity", "minimum order quantity", "min order", "min order qty",
    "least quantity",
    "Mindestmenge", "Mindestbestellmenge", "Mindestabnahme",
    "quantité minimale", "minimum de commande", "quantità minima", "cantidad mínima", "mínimo", "minimo",
    "minimale afname", "minimumafname",
)
_MULTIPLE = (
    "multiple", "multiples", "pack", "pack size", "packing unit", "order multiple", "package quantity", "per pack",
    "step",
    "pack qty", "increment", "spq", "bag of",
    "VPE", "Verpackungseinheit", "Packung", "Stück pro Packung", "Vielfaches",
    "conditionnement", "multiple de", "lot", "confezione", "multiplo", "múltiplo", "paquete", "envase",
    "verpakkingseenheid", "veelvoud",
)
_STOCK = (
    "stock", "in stock", "available", "availability", "qty in stock", "on hand", "stock qty", "qty available",
    "available quantity", "qty avail", "avail", "inventory", "stock level",
    "Bestand", "Lager", "Lagerbestand", "verfügbar", "Lagermenge", "auf Lager",
    "en stock", "disponible", "disponibilité", "giacenza", "disponibile", "disponibilità", "existencias",
    "disponibilidad", "voorraad", "beschikbaar", "op voorraad",
)
_PRICES = (
    "prices", "price", "unit price", "price each", "price breaks", "price break", "price list", "each", "pricing",
    "price per piece", "cost", "unit cost", "price table", "price per unit",
    "Preise", "Preis", "Staffelpreise", "Stückpreis", "Einzelpreis", "Staffel", "Preisstaffel",
    "prix", "prix unitaire", "tarif", "prix dégressifs",
    "prezzo", "prezzi", "prezzo unitario", "prezzi scaglionati",
    "precio", "precios", "precio unitario", "prijs", "prijzen", "stuksprijs", "staffelprijzen",
)
_UPDATED = (
    "updated", "update", "date", "as of", "last updated", "price date", "valid from", "last update", "date updated",
    "Stand", "Datum", "aktualisiert", "Preisstand", "mise à jour", "mis à jour", "aggiornato", "data",
    "aggiornamento",
    "actualizado", "fecha", "bijgewerkt",
)

CAP_LIST: Vocabulary = {
    "ref": _REF,
    "qty": _QTY,
    "value": _VALUE,
    "volts": _VOLTS,
    "temp": _TEMP,
    "mount": _MOUNT,
    "kind": _KIND,
    "pitch": _PITCH,
    "diameter": _DIAMETER,
    "height": _HEIGHT,
    "board": _BOARD,
    "role": _ROLE,
    "operating": _OPERATING,
    "ripple": _RIPPLE,
    "safety": _SAFETY,
    "note": _NOTE,
}

CATALOGUE: Vocabulary = {
    "part": _PART,
    "maker": _MAKER,
    "series": _SERIES,
    "value": _VALUE,
    "tolerance": _TOLERANCE,
    "volts": _VOLTS,
    "temp": _TEMP,
    "life": _LIFE,
    "mount": _MOUNT,
    "kind": _KIND,
    "pitch": _PITCH,
    "diameter": _DIAMETER,
    "height": _HEIGHT,
    "ripple": _RIPPLE,
    "impedance": _IMPEDANCE,
    "safety": _SAFETY,
    "minimum": _MINIMUM,
    "multiple": _MULTIPLE,
    "stock": _STOCK,
    "prices": _PRICES,
    "updated": _UPDATED,
}

SIZE = (
    "size", "case size", "can size", "body size", "dimensions", "d x l", "dxl", "ø x l", "øxl", "d x h", "dxh", "ø x h",
    "øxh", "d x l mm", "ø x l mm", "øxl mm", "d x h mm", "ø x h mm", "case d x l", "size d x l", "case dxl", "size dxl",
    "size mm", "diameter x length", "diameter x height", "dia x length", "dimensions mm", "Abmessungen",
    "Abmessung", "Maße", "Größe", "Baugröße", "Bechergröße", "dimensioni",
    "dimensiones", "tamaño", "taille", "afmetingen", "maten",
)
"""Headers of the column in which diameter and length stand together: ``6.3 x 11``."""

DRAWER: Vocabulary = {
    **{field: words for field, words in CATALOGUE.items() if field not in {"minimum", "multiple", "prices",
    "updated"}},
    "minimum": ("minimum", "moq"),
    "multiple": ("multiple",),
    "prices": _PRICES,
    "updated": ("updated",),
    "qty": tuple(word for word in _QTY if word != "number of"),
    "size": SIZE,
    "description": (
        "description", "what", "what it is", "contents", "Bezeichnung", "Beschreibung", "désignation", "descrizione",
        "descripción", "omschrijving",
    ),
    "bought": (
        "bought", "date", "date bought", "purchased", "purchase date", "bought on", "since", "year", "date code",
        "gekauft", "gekauft am", "Kaufdatum", "Datum", "acheté", "date d'achat", "acquistato", "data", "data acquisto",
        "comprado", "fecha", "fecha de compra", "gekocht", "aankoopdatum",
    ),
    "place": (
        "place", "location", "where", "box", "drawer", "bin", "shelf", "tray",
        "Ort", "Platz", "Fach", "Schublade", "Lagerort", "Kiste", "emplacement", "lieu", "tiroir", "posto", "luogo",
        "cassetto", "lugar", "ubicación", "cajón", "plaats", "locatie", "la", "vak",
    ),
}
DRAWER["stock"] = ("stock limit",)
"""A stock column in a drawer could only mean its quantity, so words for stock are not understood as a limit there."""

SETS: Vocabulary = {
    "set": (
        "set", "unit", "name", "tag", "set name", "device", "label",
        "Gerät", "Satz", "Name", "Bezeichnung", "appareil", "nom", "apparecchio", "nome", "unità", "aparato",
        "equipo",
        "nombre", "unidad", "toestel", "apparaat", "naam",
    ),
    "chassis": (
        "chassis", "model", "list", "cap list", "caplist", "type",
        "Modell", "Fahrgestell", "Typ", "Liste", "châssis", "modèle", "telaio", "modello", "chasis", "modelo",
        "lijst",
    ),
    "boards": ("boards", *_BOARD, "Platinen", "cartes", "schede", "placas", "printen", "boards fitted", "variant"),
    "job": (
        "job", "jobs", "work", "task", "to do", "todo", "what to do",
        "Auftrag", "Arbeit", "zu tun", "travail", "à faire", "lavoro", "da fare", "trabajo", "tarea", "werk",
        "opdracht",
        "klus", "te doen",
    ),
    "note": _NOTE,
}

EXTRAS: Vocabulary = {
    "item": (
        "item", "what", "name", "description", "thing", "article",
        "Gegenstand", "Artikel", "Bezeichnung", "Beschreibung", "Was", "objet", "désignation", "description",
        "oggetto",
        "descrizione", "artículo", "descripción", "omschrijving", "naam",
    ),
    "qty": _QTY,
    "set": (
        "set", "unit", "for", "for set", "device", "Gerät", "Satz", "für", "appareil", "pour", "apparecchio", "per",
        "aparato", "para", "toestel", "voor",
    ),
    "part": (
        "part", "parts", "part number", "part numbers", "part no", "order number", "order numbers", "order code",
        "sku",
        "supplier part number", "code", "Bestellnummer", "Bestellnummern", "Teilenummer", "référence", "références",
        "codice", "código", "bestelnummer",
    ),
    "note": _NOTE,
}

SUPPLIERS: Vocabulary = {
    "supplier": (
        "supplier", "shop", "vendor", "seller", "name", "distributor", "source", "dealer",
        "Lieferant", "Händler", "Anbieter", "fournisseur", "vendeur", "fornitore", "negozio", "proveedor", "tienda",
        "leverancier", "winkel",
    ),
    "currency": ("currency", "curr", "Währung", "devise", "monnaie", "valuta", "moneda", "divisa", "munt"),
    "rate": (
        "rate", "exchange rate", "conversion", "fx", "fx rate", "Kurs", "Wechselkurs", "taux", "taux de change",
        "cours", "cambio", "tasso", "tasso di cambio", "tipo de cambio", "tasa", "koers", "wisselkoers",
    ),
    "shipping": (
        "shipping", "postage", "delivery", "freight", "carriage", "shipping cost", "shipping tiers", "p&p",
        "Versand", "Versandkosten", "Porto", "Fracht", "port", "frais de port", "livraison", "spedizione",
        "spese di spedizione", "envío", "gastos de envío", "porte", "verzending", "verzendkosten",
    ),
    "minimum": (
        "minimum", "minimum order", "min order", "minimum order value", "min", "mov", "minimum goods",
        "min order value", "Mindestbestellwert", "Mindestbestellung", "Mindestwert", "minimum de commande",
        "commande minimale", "minimo",
        "ordine minimo", "mínimo", "pedido mínimo", "minimum bestelling", "minimale bestelwaarde",
    ),
    "handling": (
        "handling", "handling fee", "order fee", "handling charge", "per order", "Bearbeitung", "Bearbeitungsgebühr",
        "Pauschale", "frais de dossier", "frais de traitement", "gestione", "spese di gestione", "gestión",
        "gastos de gestión", "behandeling", "behandelingskosten", "administratiekosten",
    ),
    "line_fee": (
        "line fee", "fee per line", "per line", "line charge", "Positionsgebühr", "Gebühr je Position", "je Position",
        "frais par ligne", "par ligne", "costo per riga", "per riga", "cargo por línea", "por línea",
        "kosten per regel", "per regel",
    ),
    "duty": (
        "duty", "customs", "import duty", "customs duty", "duty %", "duty percent", "Zoll", "Zollsatz", "Einfuhrzoll",
        "douane", "droits", "droits de douane", "dazio", "dogana", "arancel", "aduana", "invoerrechten",
    ),
    "tax": (
        "tax", "vat", "sales tax", "gst", "tax %", "vat %", "tax percent", "MwSt", "USt", "Mehrwertsteuer",
        "Umsatzsteuer", "Steuer", "tva", "taxe", "iva", "imposta", "impuesto", "btw", "belasting",
    ),
}

DESCRIPTION = (
    "description", "product", "product name", "product description", "item description", "name", "title", "details",
    "Bezeichnung", "Artikelbezeichnung", "Beschreibung", "Artikeltext", "Produkt",
    "désignation", "descrizione", "descripción", "omschrijving", "benaming",
)
"""Headers of the column in which a price list says in words what a part is."""

PASSED_OVER = (
    "description", "datasheet", "data sheet", "link", "url", "image", "picture", "photo", "category", "rohs",
    "status", "package", "packaging", "case", "lead time", "weight", "country of origin", "barcode", "ean", "line",
    "row", "nr", "no",
    "Beschreibung", "Datenblatt", "Bild", "Verpackung", "Gewicht", "Lieferzeit", "Kategorie",
    "fiche technique", "lien", "image", "poids", "immagine", "peso", "scheda tecnica", "enlace", "imagen",
    "hoja de datos", "afbeelding", "gewicht", "omschrijving",
)
"""Headers of columns that are known to hold nothing this job uses; they are named in a note."""
