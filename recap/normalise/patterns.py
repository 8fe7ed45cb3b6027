"""The shapes of what stands in a list line, as data: one pattern for each sort of token.

A pattern only finds where something stands; what it means is read by the modules for quantities.
An alternation of many words stands behind a look at its first letter: most places have none of them, and that is
told at once rather than word by word.
All patterns expect text cleaned by :mod:`recap.normalise.clean` (one kind of dash, space, micro sign).
"""

from __future__ import annotations

import re
from typing import Final

from recap.normalise import words
from recap.normalise.later import compiled
from recap.normalise.values import UNITS

NUMBER: Final = r"(?:\d{1,3}(?:[,.']\d{3})+(?:[.,]\d+)?|\d{1,6}(?:[.,]\d+)?|(?<![A-Za-zµ°\d).,])[.,]\d+)"
GROUPED: Final = r"\d{1,3}(?: \d{3})+(?:[.,]\d+)?"
"""Thousands apart by spaces: only together with a unit."""

_LONG_UNITS: Final = "|".join(
    re.escape(unit).replace("u", "[uµ]").replace(r"\.", r"\.?")
    for unit in sorted(UNITS, key=len, reverse=True)
    if len(unit) > 1
)
_LETTERS: Final = "A-Za-zÀ-ÖØ-öø-ɏ"
"""Latin ones, accents too: before one, a unit is the beginning of a word (``5 válvulas``). Others do follow units."""
_END: Final = rf"(?![{_LETTERS}])"
UNIT: Final = (
    rf"(?=[uµmnpkFмнп])(?:(?:[uµ]\s?Fd?|{_LONG_UNITS})(?![{_LETTERS}µ])|[uµnp](?=[GJKM](?![A-Za-z0-9]))|[uµnp](?![{_LETTERS}0-9µ]|\s?=\s?\d|/(?:st|stuk|stk|pcs?|pz|ks|szt)\b)|[uµ](?=\d+\s?V)|[np](?=\d{{2,4}}\s?V)"
    rf"|F(?![{_LETTERS}0-9]))"
)
VOLT_UNIT: Final = (
    rf"(?=[VWD])(?:V\s?DC\s?W{_END}|V\s?C[AC]{_END}|V(?:olts?)?\.?\s?(?:AC|DC|A\.C\.|D\.C\.){_END}"
    rf"|W\.?\s?V\.?(?:\s?(?:DC|AC))?{_END}|VW{_END}|V\.?L(?:av)?\.?{_END}|DCWV|volts?{_END}|volt(?:ios|i|ov)?|wolt(?:y|a|ów|ow)?{_END}|V[~=]?{_END})"
)
_MISREAD: Final = r"(?=[OolI|SBZ.,]*\d|\d)[0-9OolI|SBZ][0-9OolI|SBZ.,]*"
_MISREAD_LOW: Final = r"(?:L(?=\d)|(?=[OolI|SsBZ.,]*\d|\d)[0-9OolI|SsBZ])[0-9OolI|SsBZ.,]*"
_DOUBTED: Final = r"(?:\s?\(\?+\)|\?+)?"
_LETTER_CODE: Final = r"(?:\d{1,4}[uUµnNpPmR]\d{1,3}|[nµpu]\d{1,3}|R\d{2,3})[fF]?(?![A-Za-z0-9]|[.,]\d)"
_BANDED_CODE: Final = r"(?:\d{1,4}[uUµnNpPmR]\d{1,3}|[nµpu]\d{1,3}|R\d{2,3}|[1-9]\d[1-9])[GHJKMZ](?![A-Za-z0-9]|[.,]\d)"
"""``4n7J``, ``104K``: a code and the letter of its tolerance."""
_R_CODE: Final = r"(?:\d{1,3}R\d{1,2}|R\d{1,3})"
"""``4R7 µF``: an R for the decimal point, and the unit as well."""
_K_CODE: Final = rf"\d{{1,3}}k\d{{1,2}}\s?[uµ]F?(?![{_LETTERS}0-9])"
"""``2k2 µF``: thousands of µF."""
_BAND: Final = r"(?:\s?[JKMZ](?![A-Za-z0-9]))?"

_EXPONENT: Final = rf"\d{{1,3}}(?:[.,]\d{{1,4}})?E[-+]\d{{1,2}}(?:\s?{UNIT}|(?![A-Za-z0-9]|[.,]\d))"
"""``4.7E-6 F``, as programs write it."""
CAPACITANCE: Final = compiled(
    rf"(?:[~≈]\s?)?(?:{_EXPONENT}|(?:{NUMBER}|{GROUPED})\s?\??\s?(?:k\s?(?=[uµ]F))?{UNIT}{_BAND}|{_R_CODE}\s?{UNIT}|{_K_CODE}|{_BANDED_CODE}"
    rf"|{_LETTER_CODE}{_BAND}){_DOUBTED}",
    re.IGNORECASE,
)
CAPACITANCE_MISREAD: Final = compiled(
    rf"(?<![A-Za-z0-9])(?:(?<![.,])[.,])?{_MISREAD}\s?(?:[uµ]\s?Fd?|mfd?|nF|pF)(?![A-Za-z])", re.IGNORECASE
)
CAPACITANCES: Final = compiled(
    rf"(?:{NUMBER}\s?(?:{UNIT})?|{_LETTER_CODE})(?:\s?(?=[-~/.obt])(?:-|~|/|\.\.+|\bor\b|\boder\b|\bou\b|\bo\b|\bof\b|\bbis\b"
    rf"|\bto\b)\s?"
    rf"(?:{NUMBER}\s?{UNIT}|{_LETTER_CODE})){{1,3}}\??",
    re.IGNORECASE,
)
"""``47-100uF``, ``47uF or 100uF``."""
MILLI_OR_MICRO: Final = compiled(r"\d{1,5}(?:[.,]\d)?m(?![A-Za-z0-9])")
SECTIONS: Final = compiled(
    rf"(?:{_LETTER_CODE}|{NUMBER}\s?(?:{UNIT})?)(?:\s?(?P<mark>[+/-])\s?(?:{_LETTER_CODE}|{NUMBER}\s?(?:{UNIT})?))(?:\s?(?P=mark)\s?(?:{_LETTER_CODE}|{NUMBER}\s?(?:{UNIT})?)){{0,4}}(?![\d.,]*\s?(?:[VA°%Ω]|R(?![A-Za-z])|ohms?|[-+/]\s?-?\s?\d{{1,3}}\s?%)"
    rf"|\s?(?P=mark)\s?\d+(?:[.,]\d+)?(?![\d.,]|\s?(?:{VOLT_UNIT})))",
    re.IGNORECASE,
)
SECTIONS_BY_X: Final = compiled(rf"{NUMBER}(?:\s?[x×]\s?{NUMBER}){{2,4}}\s?{UNIT}", re.IGNORECASE)
"""``20x20x20 mfd``: with a unit of capacitance these are no sizes."""
LETTERS_ONLY: Final = compiled(
    r"(?<![A-Za-z0-9])(?P<digits>[lI|SBZ][OolI|SBZ]{1,4}|[.,][OolI|SBZ]{1,4}|[lI])\s?(?P<unit>[uµ][Ff]|mfd|MFD)(?![A-Za-z])"
)
"""A number of which text recognition left no digit: ``lOOuF``."""
PAIR_MISREAD: Final = compiled(
    r"(?<![A-Za-z0-9.,/-])(?=[\dOolI|SBZ.,/ ]*[OolI|SBZ])"
    r"(?P<value>(?=[OolI|SBZ]{0,3}\d)[\dOolI|SBZ]{1,5}(?:[.,][\dOolI|SBZ]{1,3})?)\s?/\s?"
    r"(?P<volts>(?=[OolI|SBZ]?\d|[lI|SBZ][OolI|SBZ])[\dOolI|SBZ]{1,3})\s?V?(?![A-Za-z0-9/|])"
)
"""``l000/16``, ``0.47/S0``: a pair with letters among its digits, as scanners misread them."""
CAPACITANCE_TORN: Final = compiled(
    r"(?P<a>0[.,]0{0,3}|[1-9]\d{0,3}(?= 0{1,2}\s?[uµ]F)) (?P<b>\d{1,3}\s?[uµ]F)(?![A-Za-z])"
)
"""A value torn apart by a scanner: ``0.0 1µF``, ``10 0µF``."""
ODD_UNIT: Final = compiled(rf"(?P<number>{NUMBER})\s?(?:[uµ][PE]|[yj]F|\|jF|jiF|liF|/iF|[uµ]l?F|MDF|mdf)(?![A-Za-z])")
"""What text recognition makes of µF."""

_VOLTS: Final = rf"(?:{NUMBER}|\d{{1,3}} \d{{3}})\s?k?{VOLT_UNIT}"
_VOLT_CODE: Final = r"\d{1,3}k?[vV]\d(?:DC)?(?![A-Za-z0-9µ]|\.\d|,\d|\s?[uµnp]F)"
"""``6V3``; in ``50V1µF`` and ``25V4.7µF`` the voltage stands in front and ends at its letter."""
_OR: Final = r"\s?(?=[-/~.|obt])(?:/|-|~|\.\.+|\||\bor\b|\boder\b|\bou\b|\bo\b|\bof\b|\bbis\b|\bto\b)\s?"
VOLTAGES: Final = compiled(
    rf"{NUMBER}\s?(?:{VOLT_UNIT})?\??(?:{_OR}{NUMBER}\s?(?:{VOLT_UNIT})?\??){{0,2}}{_OR}{NUMBER}\s?{VOLT_UNIT}\??",
    re.IGNORECASE,
)
VOLTAGE_LIST: Final = compiled(
    rf"{NUMBER}(?:\s?(?P<mark>[/-])\s?{NUMBER})(?:\s?(?P=mark)\s?{NUMBER}){{1,3}}\s?{VOLT_UNIT}", re.IGNORECASE
)
"""``450/450/25 V``: the voltages of a can's sections."""
VOLTAGE: Final = compiled(rf"(?:(?:DC|AC)\s?)?(?:{_VOLT_CODE}|{_VOLTS}){_DOUBTED}", re.IGNORECASE)
VOLTAGE_MISREAD: Final = compiled(rf"(?<![A-Za-z0-9]){_MISREAD_LOW}\s?(?:[Vv](?:DC|dc)?|VOLTS?|[Vv]olts?)(?![^\W_])")
VOLTAGE_LETTERS: Final = compiled(
    r"(?<![A-Za-z0-9])[lI|SBZ][OolI|SBZ]{1,2}\s?(?:[Vv](?:DC|dc)?|VOLTS?|[Vv]olts?)(?![^\W_])"
)
"""A number of which text recognition left no digit: ``lOV``, ``SO V``."""
VOLTAGE_TORN: Final = compiled(r"(?P<a>\d) (?P<b>[0OolI\d]) ?V(?![A-Za-z0-9])")
"""A number torn apart by a scanner: ``1 0V``."""
VOLTAGE_FRONT: Final = compiled(
    rf"(?:W\.?V\.?(?:DC)?|VDC|volt(?:s|age)?|Spannung|tension|rated"
    rf"|U(?=\s?[:=]))[\"']?\s?[:=]?\s?(?P<number>{NUMBER})(?:\s?{VOLT_UNIT})?(?![\w])",
    re.IGNORECASE,
)
PAIR: Final = compiled(
    rf"(?:{_K_CODE}|{NUMBER}\s?(?:{UNIT})?|{_LETTER_CODE}|{NUMBER}\s?V)\s?[/@]\s?(?:\d{{1,4}}[vV]\d|{NUMBER}\s?(?:k?{VOLT_UNIT}"
    rf"|{UNIT})?)\??(?!\s?kV|(?!NP|BP)[A-Za-z0-9]|\.\d|,\d|\s?W(?:atts?)?(?![A-Za-z]))",
    re.IGNORECASE,
)

TEMPERATURE: Final = compiled(
    r"(?:(?:-\s?\d{2}\s?(?:°\s?C?|C)?\s?(?:\.{2,3}|/|to|bis|~|-|à|a|(?=\+))\s?)\+?(?P<top>\d{2,3})\s?(?:°|º"
    r"|deg(?:rees?)?\.?)?\s?C?(?![A-Za-z0-9])"
    r"|\+?(?P<deg>\d{2,3})\s?(?:°|º|˚|\*C|'C|\^C|oC\b|deg(?:rees?)?\b\.?|grad(?:en|i|os)?\b|degrés?\b|graus\b|gr\.)\s?(?:C(?![A-Za-z0-9])|celsius"
    r"|centigrade)?"
    r"|\+?(?P<plain>\d{2,3})\s?C(?![A-Za-z0-9]|-(?!(?:radial|axial|smd|snap)))"
    r"|T\s?=?\s?(?P<tee>85|105|125)(?![\d.]))",
    re.IGNORECASE,
)
RATED_TEMPERATURES: Final = frozenset(
    (55, 60, 65, 70, 75, 80, 85, 90, 95, 100, 105, 110, 115, 120, 125, 130, 135, 140, 145, 150, 155, 175, 200)
)

TOLERANCE: Final = compiled(
    rf"(?:±|\+/?-|\+-)\s?{NUMBER}\s?%?|[-+]\s?\d{{1,3}}\s?%?\s?[/+-]*\s?[-+]?\s?\d{{1,3}}\s?%|{NUMBER}\s?%|\((?:±"
    rf"|\+/-).{{1,8}}\)"
)
_MONTH: Final = (
    r"(?:jan(?:uary?)?|feb(?:ruary?)?|m[aä]r(?:z|ch)?|apr(?:il)?|ma[iy]|june?|juni|july?|juli|aug(?:ust)?"
    r"|sept?(?:ember)?"
    r"|o[ck]t(?:ober)?|nov(?:ember)?|de[cz](?:ember)?)\.?(?![a-z])"
)
_CLOCK: Final = r"\s\d{1,2}:\d{2}(?::\d{2})?(?:\s?[AP]M)?"
_NO_UNIT: Final = r"(?![\d.,]|\s?(?:[uµnp]F|V|mfd|mm))"
DATE: Final = compiled(
    rf"(?=\d{{1,4}}[-. /]|[a-zä]{{3,9}}\.?[- ]\d)"  # nearly nothing goes on so: the rest need not be tried
    rf"(?:\d{{4}}-\d{{2}}-\d{{2}}(?:[ T]\d{{2}}:\d{{2}}(?::\d{{2}})?)?|\d{{1,2}}[-. ]{{1,2}}{_MONTH}(?:[-. "
    rf"]\d{{2,4}})?(?!\d)"
    rf"|(?:0?[1-9]|1[0-2])/(?!2000)(?:19[3-9]|20[0-4])\d{_NO_UNIT}"
    rf"|(?:19[3-9]|20[0-4])\d/(?:0?[1-9]|1[0-2])/(?:0[1-9]|[12]\d|3[01])(?!\d)(?:{_CLOCK})?"
    rf"|\d{{1,2}}/\d{{1,2}}/\d{{2}}{_CLOCK}"
    rf"|{_MONTH}[- ]\d{{1,4}}{_NO_UNIT}|\d{{1,2}}/\d{{1,2}}/\d{{4}}|\d{{1,2}}\.\d{{1,2}}\.\d{{4}}"
    r"|(?:0[1-9]([/.])\d{1,2}|\d{1,2}([/.])0[1-9])(?:\1|\2)\d{2}(?![\d.,]|\s?(?:[uµnp]F|V|mfd|mm)))",
    re.IGNORECASE,
)
"""Of dates with a year of two figures only those with a zero in front of day or month, which no value has."""
DATED: Final = compiled(rf"(?:{DATE.pattern})\s*[:,-]?\s+(?=\S)", re.IGNORECASE)
"""A diary's day in front of what its line says."""

COUNT_FRONT: Final = compiled(
    r"(?P<count>\d{1,4})\s?[x×*](?![A-Za-z0-9])\s?|(?P<tight>\d{1,4})\s?[x×*]\s?(?=[\d.,µ])", re.IGNORECASE
)
COUNT_LEADING: Final = compiled(r"(?P<count>[1-9]\d{0,2})(?:\s(?P<dash>[-:@]\s)?)(?=[\d.,µ])")
COUNT_BEHIND: Final = compiled(
    rf"(?<![\w.])(?:[x×]\s?(?P<count>\d{{1,3}})[本個ケ只个枚]?(?!\w|[.,]\d|-\w|\s?[x×*]\s?\d|\s?(?:kV\b|{VOLT_UNIT}))"
    r"|\(\s?[x×]?\s?(?P<bracketed>\d{1,3})\s?[x×]?\s?\)"
    r"|(?P<trail>\d{1,3})[x×](?=\s*(?:$|[,;)])))|(?<=[FVfv])\*\s?(?P<starred>\d{1,3})(?![\w.,]|\s?[x×*])",
    re.IGNORECASE,
)
_COUNTING: Final = [word for word in words.COUNT_WORDS if len(word) > 1 or word > "\u3000"]
_COUNT_WORDS: Final = "|".join(word if "\\" in word else re.escape(word) for word in _COUNTING)
COUNT_LETTERS: Final = "".join(sorted({word[0] for word in words.COUNT_WORDS}))
COUNT_WORD: Final = compiled(
    rf"(?P<count>\d{{1,4}})\s?(?=[{COUNT_LETTERS}])(?:{_COUNT_WORDS})(?![A-Za-z])\.?"
    r"|(?:(?:lot|pack|set|bag|bundle|pkg)s? of"
    r"|qty|quantity|quant|anzahl|menge|stück|stk|qté|quantità|cantidad|aantal|q'ty)"
    r"\.?\s?[:=.]?\s?(?P<behind>\d{1,4})"
    r"(?![\d.,]*\s?[A-Za-zµ/])",
    re.IGNORECASE,
)

SAFETY: Final = compiled(words.SAFETY_CLASS)
URL: Final = compiled(r"(?:https?://|www\.)[^\s<>\"']+|<?[\w.+-]+@[\w-]+\.[\w.]+>?", re.IGNORECASE)
RIPPLE: Final = compiled(rf"(?P<number>{NUMBER})\s?(?P<unit>m?A)(?:\s?(?:rms|eff|pp))?(?![A-Za-z0-9])")
ASIDE: Final = compiled(
    rf"{NUMBER}\s?(?=[A-ZµΩω€$£])(?:(?:h|hrs?|hours?|std\.?|stunden|heures|ore|horas|uren)(?![A-Za-z0-9])"
    r"|m?(?:Ω|ω|ohms?)(?![A-Za-z])|[kMG]?Hz|(?:€|EUR|USD|GBP|\$|£|cents?|ct)(?![A-Za-z])|[mµunk]?H(?![A-Za-z0-9])"
    rf"|W(?:atts?)?(?![A-Za-z0-9])|-?gang(?:ed)?(?![A-Za-z])|(?:kg|g|dB|ms|s|min|cm)(?![A-Za-z0-9]))|\d/{NUMBER}\s?W(?:atts?)?(?![A-Za-z0-9])"
    rf"|[€$£]\s?{NUMBER}|\bdate\s?codes?\s?[:=]?\s?\w+|#[0-9a-f]{{6}}\b",
    re.IGNORECASE,
)
"""Life, ESR, frequency, price, inductance, power: told apart so that they are taken for nothing else."""
ESR: Final = compiled(
    rf"ESR\s?[:=]?\s?(?:(?:is|of|at|von|bei)\s)?[<>~]?\s?{NUMBER}\s?(?:m?(?:Ω|ω|ohms?|R))?(?![A-Za-z0-9µ]|[.,]\d|\s?(?:[uµnp]F?|mfd|mf)\b)",
    re.IGNORECASE,
)
"""What a meter showed of the series resistance, with or without its unit: ``ESR 3.2``."""
OPERATING: Final = compiled(
    rf"(?:(?:sits|sees|gets|runs|works|operates|carries|liegt|läuft|steht|arbeitet|travaille|tourne|lavora|trabaja|draait|werkt)"
    r"(?:\s(?:at|with|on|an|mit|auf|bei|à|sous|a|con|op|bij))?|(?:sitting|running|working|operating)\s(?:at|with|on)"
    r"|operating(?:\svoltage)?\s?[:=]?|in[- ]circuit\s?[:=]?|Betriebsspannung\s?[:=]?)"
    rf"\s?(?:(?:about|only|around|ca\.?|nur|etwa)\s)?(?P<number>{NUMBER})\s?(?P<kilo>k)?{VOLT_UNIT}",
    re.IGNORECASE,
)
"""The voltage that a part has in the set, which is no rating: ``sits at 21 V``, ``operating 325 V``.

``Working 450 V`` isn't it: many write the rating so.
"""
RESISTANCE: Final = compiled(r"\d+(?:[.,]\d+)?\s?[kKM](?:\d|Ω|ohms?)?(?![A-Za-z0-9])|\d+[kKM]\d+(?![A-Za-z0-9])")

REPLACED: Final = compiled(words.REPLACEMENT_CUES, re.IGNORECASE)
LIKE: Final = compiled(
    r"(?:\b(?:same\s+(?:as|like)|(?:identical|equal)\s+(?:to|with)|as|like|wie|(?:gleich|identisch)\s+(?:wie|mit)|comme"
    r"|identique\s+à|(?:le\s+)?même\s+que|come|uguale\s+a|identic[oa]\s+a|como|igual\s+(?:que|a)|(?:lo\s+)?mismo\s+que"
    r"|idéntico\s+a|als|zoals|zie|gelijk\s+aan|hetzelfde\s+als|idem|dito|ditto|siehe|see|vgl\.?|vedi|vea|véase|ver"
    r"|voir)\b\s*(?:bei\s+|for\s+|que\s+|als\s+|wie\s+|as\s+)?|=\s*)(?=(?:A\d{1,2})*[A-Z]{0,2}C[A-Z]?[- ]?\d)",
    re.IGNORECASE,
)
"""``C304 wie C303``: the record of another designator counts."""
MEASURED: Final = compiled(words.MEASURED, re.IGNORECASE)
TO_CHECK: Final = compiled(words.TO_CHECK, re.IGNORECASE)
CANNOT_READ: Final = compiled(words.CANNOT_READ, re.IGNORECASE)
_STATE: Final = (
    "dead|bad|leak|open\\b|short|bulg|fine|ok|good|dry|dried|gone|missing|replaced|hot|crack|swollen|blown|burn|fault|fried"
)
"""How a part was, which says nothing of its value."""
ORIGINAL: Final = compiled(
    rf"(?:\bwas\b(?!\s+(?:down|only|measur|reading|up|{_STATE})\w*)|\bwere\b|\boriginal(?:ly|e|es|wert|i|mente)?\b"
    r"|\borig\b\.?|\binstead of\b|\bstatt\b|\banstatt\b"
    r"|\bau lieu de\b|\binvece di\b|\bal posto di\b|\ben vez de\b|\ben lugar de\b|\bem vez de\b|\bno lugar de\b"
    r"|\bzamiast\b|\bistället för\b|\bi stedet for\b|\bmísto\b|\bвместо\b"
    r"|\bin plaats van\b|\bvorher\b|\bpreviously\b|\bformerly\b|\bold\s?[:=]|\balt\s?[:=]|\bfactory\b"
    r"|\bd'origine\b|\borigine\b|\boriginalmente\b|<-{1,2}|<=|←)\s?[:=]?",
    re.IGNORECASE,
)
WITH: Final = compiled(r"\b(?:with|by|mit|durch|par|con|door|to)\b", re.IGNORECASE)
DITTO: Final = compiled(
    r"(?<!\S)(?:-{0,2}\s?(?:\"|''|``|”|“|„|〃|″|′′)\s?-{0,2}|(?:ditto|dito|dto|idem)\b\.?"
    r"(?!\s+(?:as\s|que\s|als\s|wie\s)?C[A-Z]?[- ]?\d)"
    r"|do(?:\.|(?=\s*$|\s*[,;|)]|\s+\d))|same as above"
    r"|same(?=\s*(?:$|[,;|)]))|wie oben|id\.|s\.\s?o\.)(?=\s|$|[,;|)])",
    re.IGNORECASE,
)
CODE: Final = compiled(
    r"(?=[A-Za-z0-9./-]*[A-Za-z])(?=[A-Za-z0-9./-]*\d)[A-Za-z0-9][A-Za-z0-9./-]{3,39}(?![A-Za-z0-9])"
)
"""A part number or a type mark."""
CYRILLIC_TYPE: Final = compiled(r"[КKЭИ][А-Я]{0,2}\d{0,2}-\d{1,2}[А-Яа-я]?(?![\w.,])")
"""A type mark of old capacitors in Cyrillic letters (``К50-16``, ``КМ-6``): letter, group, number (from memory)."""
STOCK_NUMBER: Final = compiled(
    r"(?i)(?=[\d-]{8,20}(?!\d))\d{1,5}-\d{2,5}-\d{1,6}(?:-\d+)*(?![\dA-Za-z]|-\d|\s?[uµ]?[fF]|\s?mfd|\s?V)|\d{4} \d{3} "
    r"\d{4,5}(?![\dA-Za-z])|(?<=\s)\d{4,6}-\d{3,6}(?![\dA-Za-z-]|\s?[uµnp]?F|\s?mfd|\s?V)"
)
"""Order numbers of digits only: ``1-234-567-11``, ``1234 567 89012``, ``8211-031`` (never first on its line)."""
STOCK_ALONE: Final = compiled(r"(?<=\s)\d{2,3}-\d{4,6}(?![\dA-Za-z-]|[.,]\d|\s?[uµnp]?F|\s?mfd|\s?V)")
"""``10-4492`` on a line that has no value (yet)."""
STOCK_IN_CLASS: Final = compiled(
    r"(?<=[\s.|])\d{2,3}-(?=[OolI|SBZ]{0,2}\d)[0-9OolI|SBZR]{4,6}[A-Z]?(?![\dA-Za-z-]|\s?[uµnp]?F|\s?mfd|\s?V)"
)
"""A class and a number in it (``41-2210``), in which a scanner may have misread a digit."""
RATED: Final = compiled(r"[\dOolI]\s?(?:k?V|WV|VDC|W\.V\.)(?![A-Za-z])")
"""A voltage: what stands behind it is none."""
FILM_TYPE: Final = compiled(
    r"(?:MK[CHPST]|FK[PS]|MMK[PST]?|KP|KS)[ -]?\d{1,4}(?![A-Za-z0-9.,]|\s?(?:[uµnp]F|mfd|k?V|volts?|W\.?V|mm|%|/\s?\d))"
)
"""Type marks of film capacitors with their number (``MKS2``, ``MKP 10``); a quantity behind one has its own."""
COMPOUND: Final = compiled(
    r"[^\W\d_]{3,}(?P<last>elkos?|tantal|kerko)(?![^\W\d_])"
    r"|(?P<first>[^\W\d_]{4,}?)-?kond(?:\.|ensator(?:en)?)?(?![^\W\d_])",
    re.IGNORECASE,
)
"""German compounds, told by their last part or by what stands before ``kondensator`` or ``Kond.``."""
PLAIN_NUMBER: Final = compiled(rf"{NUMBER}(?![A-Za-z0-9µ]|\.\d)")
"""Never the front of a number cut at its point: ``4.7q`` is no 4."""
WORD: Final = compiled(r"[^\W\d_][\w'’.-]*|\d+[\w'’.-]*|_+")
ORDINAL: Final = compiled(
    r"\s*(?:(?P<n>(?!0[.])\d{1,3})[.)](?!\d)\s+|#(?P<m>\d{1,3})[:.)\s]\s*|(?P<letter>[a-z])\)\s+"
    r"|(?i:item|line|entry|zeile)\s?[:#]?\s?\d{1,4}\s*[:.)-]?\s+(?=C[A-Z]?-?\d)"
    r"|(?i:step|schritt|étape|etape|passo|paso|stap|krok|steg)\s?\d{1,3}\s?[:.)]\s+)"
)
BULLET: Final = compiled(r"\s*(?:[-–—*•‣◦▪▫■□●○►▶»>→➔➜+·✓✔☐☑☒✗✘]|\[[ xX✓]?\]|o(?=\s+[A-Z]))\s+")
CHIP: Final = compiled(
    r"(?:SM[DT][\s_-]?(?P<size>\d{4})|\((?P<bracketed>\d{4})\)"
    r"|(?P<named>\d{4})(?=\s?(?:SM[DT]|MLCC|[XY][5-8][RSTUV]|NP0|C0G)\b|\s*$|[\s,;|)](?!\s?[/x×])))"
    r"(?![\w.,]*\d|\s?(?:[uµnp]F?|m?fd|V|h(?:rs?|ours?)?|pcs?)(?![A-Za-z]))",
    re.IGNORECASE,
)
"""The size of a chip part (EIA), which must be a known one."""
SURFACE: Final = compiled(
    r"(?<![A-Za-z])(?:SM[DT]|MLCC|chip|[XY][5-8][RSTUV]|NP0|C0G|чип|CMS)(?![A-Za-z])", re.IGNORECASE
)
