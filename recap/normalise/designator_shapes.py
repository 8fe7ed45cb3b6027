"""The shapes of designators and of what stands between them in ranges and enumerations, as data.

Common practice of lists, service sheets and layout programs.
"""

from __future__ import annotations

import re

from recap.normalise.later import compiled

_DASH = r"[-–—−‐‑‒~〜]"
_TO_WORDS = r"to|thru|through|bis|hasta|al|fino\s+a|tot|t/m|à|till|jusqu['’]à|a(?=\s+C[A-Z]?-?\d)"
_DESIGNATOR_NEXT = r"(?=[A-Z]{0,3}C[A-Z]{0,2}[-_#]?\d)"
_TO_ABROAD = r"til|do|až|aż|até|ate|по|до"
_AND_ABROAD = (
    r"och|og|oraz|samt|sowie|plus|sekä|ja|és|ve|и|i|ainsi\s+que|as\s+well\s+as|así\s+como|nonché|and\s+also|also"
)
"""Words that mean something else elsewhere: only between two designators that are written in full."""
_TO = (
    rf"(?:\s*(?:{_DASH}{{1,2}}>?|\.{{2,3}}|…|から)\s*|\s+(?:{_TO_WORDS})\s+|\s+(?:{_TO_ABROAD})\s+{_DESIGNATOR_NEXT})"
)
_AND = (
    rf"(?:\s+(?:{_AND_ABROAD})\s+{_DESIGNATOR_NEXT}"
    r"|\s*,\s?-(?=\d)|\s*[,;/&+]\s*(?:and\s+|und\s+|et\s+|or\s+)?|\s+(?:and|und|et|ed?|y|en|u\.?)\s+|\s*\n\s*"
    rf"|\s*[と、]\s*|\s+{_DESIGNATOR_NEXT})"
)

_NOT_VALUE = (
    r"(?!\.?\d|,\d+(?:[.,]\d+)?\s?(?:[µuμnp]F?\b|mm?fd?\b|V\b|/\s?\d)|[A-Za-z]{2}|\s?[µuμnpNP][fF]?\b|\s?(?:mfd|mf|mmfd?|F|V"
    r"|W?V(?:DC|AC)?|WV|mm|mil|pcs?|ea|off)\b"
    r"|\s?(?:volts?|(?:micro|nano|pico)?farads?|VDC|h|hrs?|hours?|mA|A|ohms?|EUR|USD|ct|cents?|years?|yrs?|jahre?|ans|anni|años|jaar)\b|\s?[€$£]|\s?C(?![\w-])|\s?/\s?\d{4}(?!\d)"
    r"|\s?[°º%\"×]|x\s?\d|\sx\s\d|[kKMΩ]\b|\s(?:(?-i:k)|[kM]?Ω)\b|[Vv]\b|[RrµuμnpNP]\d)"
)
FOLLOWS = compiled(
    rf"(?!0[.,]\d|(?:85|105|125|130)C\b)(?P<digits>\d{{1,5}})(?P<suffix>[A-Ea-e]?)(?![OLI|]){_NOT_VALUE}",
    re.IGNORECASE,
)
FOLLOWS_MISREAD = compiled(
    r"(?=\d*[OolI|])(?=[OolI|]*\d)(?P<digits>[0-9OolI|]{2,4})"
    r"(?![\w|.]|,(?!\s|[0-9OolI|]{2,4}(?=[\s,;/]|$)(?!\s?(?:[µun]F?|mfd|V)\b))|\s?[µun]F)"
    rf"(?i:{_NOT_VALUE})"
)
NO_VALUE = compiled(rf"(?!,\d){_NOT_VALUE}", re.IGNORECASE)
LETTER = compiled(r"(?P<suffix>[A-Za-z])(?![A-Za-z0-9])")
TO_RE = compiled(_TO, re.IGNORECASE)
AND_RE = compiled(_AND, re.IGNORECASE)
MARKS = compiled(r"\s?(?P<mark>\*{1,3}|[†‡§¹²³]|\(\*+\)|(?<=\w)[#^+](?=[\s,;:]|$))|\[(?P<note>[0-9a-z])\]")

ITEM = compiled(
    r"(?<![A-Za-z0-9_])(?!ca\.\s?\d|[23]S[A-DJK]\d)(?P<board>(?:A\d{1,2}){1,3}(?=[CRLQUDJ]\d)|(?:a\d{1,2}){1,3}(?=[crlqudj]\d)|\d{0,2})(?P<prefix>[A-Za-z]{1,3})"
    r"(?P<gap>[-_#.:]?|[ ]|\.[ ]|[ ]?[#][ ]?)"
    r"(?P<digits>\d{1,5})(?P<suffix>(?:[A-Za-z](?![A-Za-z0-9])|[.]\d(?![\d.,]))?)(?![A-Za-z0-9]|\.\d)"
)
TOO_LONG = compiled(r"(?P<prefix>[A-Za-z]{1,2})[-_#]?\d{6,}(?![A-Za-z0-9])")
"""``C99999999``: no board has so many places."""
LONG_NUMBER = compiled(r"\d{6,}(?![\w.,])")
LONG_ITEM = compiled(r"(?P<prefix>[A-Z]{4,5})[-_ ]?\d{1,4}(?![A-Za-z0-9])")
MISREAD = compiled(r"(?<![A-Za-z0-9_])(?P<prefix>C)(?P<digits>[0-9OolI|]{1,4})(?P<suffix>[A-Z]?)(?![A-Za-z0-9|])")
MISREAD_IN_FRONT = compiled(
    r"C(?:[ ](?=[OlI|]{0,3}\d|\d{1,3}[OlI|])(?=[0-9]{0,3}[OlI|])(?P<apart>[0-9OlI|]{1,4})|(?P<letters>[OlI|]{2,3}))"
    r"(?=[\s.:=-].{0,80}[\dOlI]\s?(?:[uµnpm]\s?[Ff]|mfd|[Vv](?![a-z])|/\d))",
)
"""``C 1O   47 uF``, ``Cll   22 uF``: a blank, or no figure left; only in front of a value."""
COULD_BE = compiled(r"\d{0,2}[A-Za-z|]{1,5}[-_#.: ]{0,3}\d|C_[A-Z]|C[ ]?[OlI|]")
"""Where this doesn't match neither do the two above, which take longer to say so."""
DIELECTRIC = compiled(r"C[0O]G(?![A-Za-z0-9])", re.IGNORECASE)
"""``C0G`` is a class of ceramic (IEC 60384-8), no designator."""
GOES_ON = compiled(r"-(?!C[A-Z]?-?\d)[A-Za-z0-9]")
FIGURES = frozenset("OoIl")
"""Letters behind a designator's digits that are rather misread digits themselves."""
OCR = str.maketrans("OolI|", "00111")
SIDES = compiled(r"\s\(?(?P<both>[Ll]\s?[/&+]\s?[Rr]|A\s?[/&+]\s?B)\)?(?![A-Za-z0-9/])")
"""``C701 L/R``: one of each channel."""
EXCEPT = compiled(
    r"\(?\b(?:except(?:ing)?(?:\s+for)?|apart\s+from|but\s+not|not(?=\s+C\d)|without|außer|ausser|ausgenommen|ohne|bis\s+auf|sauf|excepté|sans"
    r"|tranne|eccetto|senza|salvo|excepto|menos|sin|exceto|behalve|zonder|utom|undtagen|unntatt|kromě|oprócz|kivéve|кроме)"
    r"\s*:?\s*\(?(?=C[A-Z]?-?\d)",
    re.IGNORECASE,
)
"""``C1-C9 except C7``."""
LIKENED = compiled(r"(?:\b(?:wie|like|as|comme|come|como|als|zoals|siehe|see)|=)$", re.IGNORECASE)
"""Behind one of these a designator may have a blank in it: ``C 107 wie C 106``."""
