"""Which code page a text without mark is stored in: the one by which it says most of what such lists say.

Any bytes are letters in nearly every page, so nothing but the words can tell. Pages by which a text says none of
them aren't thought of.
"""

from __future__ import annotations

import re
from typing import Final

from recap.read.sheet_headers import CENTRAL_WORDS

WESTERN: Final = "cp1252"
_SAMPLE: Final = 16 * 1024
"""So many bytes tell the code page."""
CYRILLIC_WORDS: Final = 2
_CYRILLIC: Final = re.compile(rb"(?<![A-Za-z\x80-\xff])[\xa8\xc0-\xdf]?[\xb8\xe0-\xff]{4,}(?![A-Za-z\x80-\xff])")
_RUSSIAN: Final = (
    r"\d\s?(?:мкф|пф|нф)\b|конденс|\bплат[аы]\b|\bблок|питани|усилит|напряж|номинал|обознач|неполярн|электролит"
    r"|ёмкост|емкост|керамик|тантал|примеч|\bтип\b|\bшт\b|керамич|плёнк|пленк|живленн|підсил|напруг|конденсатор"
)
_JAPANESE: Final = (
    r"電解|無極性|両極性|タンタル|セラミック|マイラ|フィルム|コンデンサ"
    r"|基板|容量|耐圧|部品|電源|個数|備考|[ぁ-んァ-ヴー]{3,}"
)
_CENTRAL: Final = (
    r"označ|počet|nap[eě]t|napäťi|pojemność|pojemno[śs]c|napięci|warto[śs]|częś|zosil[ňn]ova[čc]|zesilova[čc]|součást|súčiast"
    r"|vyteč|v[yý]měn|měnit|průměr|výšk|čísl|řad|ľav|ďalš|žiad|plošn|stojąc|leżąc|osiowy|średni|długo[śs]|wysoko[śs]|ilo[śs][ćc]"
    r"|kondensatorów|płytk|zasilacz|wzmacniacz|nieozn|erősít|tápegység|feszültség|kondenzátor|végfok|érték|előerősít|főpanel"
    r"|količin|kućišt|pojačal|vrijedno|ploč[aei]|napajanj|promijenit|zamijen|kondenzator|bucăți|plăc|sursă|tensiun|bucata"
)
_TELLING: Final[dict[str, str]] = {
    "cp1250": _CENTRAL,
    "cp1253": r"\d\s?μf|πυκνωτ|πλακέτ|πλακετ|τροφοδο|ενισχυ|ηλεκτρολυτ|χωρητικ|τάση|αξονικ|κεραμικ|τεμάχ|\bκαι\b",
    "koi8-r": _RUSSIAN,
    "cp866": _RUSSIAN,
    "cp850": r"\d\s?µf\b",
    "mac-roman": r"\d\s?°\s?[Cc]\b|[a-z]{2}(?:[éèüçêá]|ät)(?:\b|[a-z])",
    "cp932": _JAPANESE,
    "euc_jp": _JAPANESE,
    "cp949": r"용량|내압|수량|비고|부품|전해|무극성|탄탈|세라믹|필름|콘덴서|커패시터|전원|앰프|기판|보드|교체",
    "gb18030": r"电解|电容|无极性|钽|瓷片|薄膜|容量|耐压|数量|备注|位号|编号|电源|主板|板",
}
"""Beginnings of words in lower case, by page, as lists in the languages that use it have them; from memory."""
_BY_CASE: Final = frozenset(("mac-roman",))
"""Read as another page's, a small letter of these is a great one amid small ones."""
_NAMES: Final = {
    "cp1250": "Central European",
    "cp1251": "Cyrillic",
    "cp1252": "Western European",
    "cp1253": "Greek",
    "koi8-r": "Cyrillic",
    "cp866": "Cyrillic of DOS",
    "cp850": "Western European of DOS",
    "mac-roman": "Western European of old Macs",
    "cp932": "Shift JIS, Japanese",
    "euc_jp": "Japanese",
    "cp949": "Korean",
    "gb18030": "Chinese",
}
_PATTERNS: Final = {page: re.compile(words) for page, words in _TELLING.items()}
LEAST: Final = 2
"""One word may stand there by chance."""


def name(page: str) -> str:
    """Return the page as a person knows it: ``CP1253 (Greek)``."""
    return f"{page.upper()} ({_NAMES[page]})"


def told_by_words(data: bytes) -> str:
    """Return the page by which most words of such lists stand in ``data``; the Western one where none is told."""
    sample = data[:_SAMPLE]
    counts = {page: _words(sample, page) for page in _PATTERNS}
    best = max(counts, key=lambda page: counts[page])
    cyrillic = len(_CYRILLIC.findall(sample)) >= CYRILLIC_WORDS
    if counts[best] >= LEAST and (not cyrillic or counts[best] > _count(_RUSSIAN, sample.decode("cp1251", "replace"))):
        return best
    if cyrillic:
        return "cp1251"
    words = re.findall(rb"[A-Za-z\x80-\xff]{3,}", sample)
    telling = {word for word in words if not word.isascii()}
    central, western = (sum(_known(word, page) for word in telling) for page in ("cp1250", WESTERN))
    return "cp1250" if central > western else WESTERN


def _count(words: str, text: str) -> int:
    return len(set(re.findall(words, text.lower())))


def _words(sample: bytes, page: str) -> int:
    """Count the words in the lines that hold letters of the page, which must be letters of it throughout."""
    lines = [line for line in re.split(rb"[\r\n]+", sample) if not line.isascii() and not _is_utf8(line)]
    whole = lines if len(sample) < _SAMPLE else lines[:-1]
    text = "\n".join(line.decode(page, errors="replace") for line in whole)
    if "\ufffd" in text:
        return 0
    text = text if page in _BY_CASE else text.lower()
    return len({match[0] for match in _PATTERNS[page].finditer(text) if _is_of_page(match[0], page)})


def _is_of_page(word: str, page: str) -> bool:
    """Tell whether a word is another one by the Western page."""
    return word.encode(page, "replace").decode(WESTERN, "replace") != word


def _is_utf8(line: bytes) -> bool:
    try:
        line.decode("utf-8")
    except UnicodeDecodeError:
        return False
    return True


def _known(word: bytes, page: str) -> bool:
    return word.decode(page, errors="replace").casefold() in CENTRAL_WORDS
