"""Text as pasted becomes text as meant: odd spaces, web and Markdown markup, strike-through, footnote figures.

Nothing is interpreted here. What was struck through is cut out and handed back beside the rest.
"""

from __future__ import annotations

import html
import re
import unicodedata
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING, Final

from recap.normalise.decimals import without_exponent
from recap.normalise.later import compiled

if TYPE_CHECKING:
    from collections.abc import Callable

_SPACES: Final = dict.fromkeys(
    map(
        ord,
        "\u00a0\u1680\u2000\u2001\u2002\u2003\u2004\u2005\u2006\u2007\u2008\u2009\u200a\u202f\u205f\u3000\v\f\x1c\x1d\x1e\x1f\x85\u2028\u2029",
    ),
    " ",
)
_NOTHING: Final = dict.fromkeys(
    map(
        ord,
        "\u00ad\u200b\u200c\u200d\u200e\u200f\u2060\ufeff\ufe0e\ufe0f\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069",
    )
)
_DASHES: Final = dict.fromkeys(map(ord, "\u2010\u2011\u2012\u2013\u2014\u2015\u2212\ufe63"), "-")
_SIGNS: Final = {
    ord("\u2044"): "/", ord("\u2215"): "/", ord("\u2019"): "'", ord("\u02bc"): "'", ord("\u2018"): "'",
    ord("\u2032"): "'", ord("\u2033"): '"',
    ord("\u201c"): '"', ord("\u201d"): '"', ord("\u201e"): '"', ord("\u3003"): '"',
    ord("\u03bc"): "\u00b5", ord("\u00d7"): "x", ord("\u2715"): "x", ord("\u2a2f"): "x", ord("\u2573"): "x",
    ord("\u00ba"): "\u00b0",
    ord("\u02da"): "\u00b0", ord("\u2300"): "\u00d8", ord("\u2205"): "\u00d8", ord("\u00f8"): "\u00d8",
    ord("\u2126"): "\u03a9", ord("\u2103"): "\u00b0C", ord("\u338c"): "\u00b5F", ord("\u338b"): "nF",
    ord("\u338a"): "pF", ord("\u2026"): "...",
    ord("\u223c"): "~", ord("\u301c"): "~", ord("\uff5e"): "~",
}  # fmt: skip
_GREAT_MU: Final = compiled("(?<![^\\W\\d_])\u039c(?=\\s?[Ff](?![^\\W_]))")
"""What a spreadsheet makes of ``µF`` in capitals."""
_PHI: Final = compiled("(?<![\u0370-\u03ff])[\u03c6\u03a6](?![\u0370-\u03ff])")
"""The Greek letter by itself is the sign for a diameter."""
_FULL_WIDTH: Final = {code: chr(code - 0xFEE0) for code in range(0xFF01, 0xFF5F)}
_TABLE: Final = {**_FULL_WIDTH, **_SPACES, **_NOTHING, **_DASHES, **_SIGNS}

_MOJIBAKE: Final = (
    ("\u00c2\u00b5", "\u00b5"), ("\u00ce\u00bc", "\u00b5"), ("\u00c2\u00b0", "\u00b0"), ("\u00c3\u00b8", "\u00d8"),
    ("\u00c3\u0098", "\u00d8"),
    ("\u00e2\u0080\u0093", "-"), ("\u00e2\u20ac\u201c", "-"), ("\u00c3\u2014", "x"), ("\u00c2\u00a0", " "),
    ("\u00c2\u00b1", "\u00b1"),
)  # fmt: skip
_MIDDLE_DOT: Final = compiled(r"(?<!\d)[\u00b7\u22c5]|[\u00b7\u22c5](?!\d)")
_HALF_HIGH: Final = compiled(r"(?:(?<=\S\s)|(?<=\s\s))[\u00b7\u22c5](?=\d)|^[\u00b7\u22c5](?=0\d)")
"""``C4 ·01 µF`` of British sheets; at a line's start it marks an item."""
_EMOJI: Final = compiled(
    "[\u2600-\u2614\u2616-\u26ff\u2705\u2713\u2714\u2717\u2718\u274c\u274e\u2b50\u2b55\u2753-\u2757\U0001f000-\U0001faff]"
)
_CYRILLIC_VOLT: Final = compiled(r"(?<=\d)\s?[\u0412\u0432](?![^\W\d_])")
_CYRILLIC_REF: Final = compiled(r"(?<![^\W_])(?:\u0421(?=[-\s]?\d)|\u0441(?=\d))")
"""``16 В`` and ``С12`` in Cyrillic letters that look like V and C."""
_SMALL_O: Final = compiled("(?<=[a-z\u00e6\u00e5])\u00d8(?![A-Z\\d])|\u00d8(?=[a-z\u00e6\u00e5]{3})")
"""Within a word the sign for a diameter is a northern letter: ``Strømforsyning``, ``kjøp``."""
_TERMINAL: Final = compiled(r"\x1b\[[\d;]{0,20}[A-Za-z]")
"""What colours text in a terminal and was copied along."""
_ENTITY: Final = compiled(r"&(?:#\d{1,6}|#x[0-9a-fA-F]{1,5}|[a-zA-Z]{2,8}\d?);")
_TAGS: Final = compiled(
    r"</?(?:b|i|u|em|strong|span|font|sup|sub|small|big|p|div|a|code|tt|br|hr|img|center|li|ul|ol|th|td|tr|table|tbody"
    r"|thead|nobr|h[1-6]|section|article|header|footer|nav|main|aside|dl|dt|dd|pre|blockquote|label|input|button|figure"
    r"|figcaption|caption|colgroup|col|tfoot|html|head|body|meta|link|title|abbr|mark|ins|kbd|samp|var|time|wbr|form)"
    r"\b[^<>]{0,300}>",
    re.IGNORECASE,
)
_HEADING: Final = compiled(
    r"\s*<h(?P<level>[1-6])\b[^<>]{0,300}>(?P<text>[^\n]{0,400}?)</h(?P=level)>\s*", re.IGNORECASE
)
_LINK: Final = compiled(r"!?\[(?P<text>[^\[\]\n]{0,200})\]\((?:[^()\s]|\([^()\s]*\)){0,500}(?:\s\"[^\"]{0,200}\")?\)")
_WIKI_LINK: Final = compiled(
    r"\[\[(?:[^\[\]|\n]{0,200}\|)?(?P<text>[^\[\]|\n]{0,200})\]\]|\[https?://\S{1,300}(?:\s(?P<named>[^\[\]\n]{0,200}))?\]"
)
_BBCELL: Final = compiled(r"\[/?(?:td|th|tr)\]", re.IGNORECASE)
_BBCODE: Final = compiled(
    r"\[/?(?:b|i|u|color|size|font|url|quote|code|list|table|tr|td|center)(?:=[^\[\]]{0,100})?\]", re.IGNORECASE
)
_BRACES: Final = compiled(r"\{(?:color|bgcolor|quote|code|noformat|panel)(?::[^{}|]{0,100})?\}", re.IGNORECASE)
"""Markup of tickets: ``{color:red}220uF{color}``."""
_TICKET_HEADING: Final = compiled(r"h(?P<level>[1-6])\. +(?P<text>\S.*)")
EDIT_LINKS: Final = compiled(
    r"\[\s?(?:edit|bearbeiten|modifier|modifica|editar|bewerken)(?:\s?\|[^\[\]|]{0,30})?\s?\]", re.IGNORECASE
)
"""What a wiki page shows beside its headings and is copied along with them."""
_EMPHASIS: Final = compiled(
    r"(?<![\w*])(?P<mark>\*{1,3}|__)(?=\S)(?P<text>[^*\n]{1,300}?)(?<=\S)(?P=mark)(?![\w*])|`(?P<tick>[^`\n]{1,300})`"
)
_MARKED_WHOLE: Final = compiled(
    r"<(?P<tag>b|u|strong|em)>[^<>\n]{2,90}</(?P=tag)>\s*:?|\[(?P<bb>b|u)\][^\[\]\n]{2,90}\[/(?P=bb)\]\s*:?"
    r"|'''[^'\n]{2,90}'''\s*:?",
    re.IGNORECASE,
)
"""A line that is bold or underlined from its first to its last letter."""
_WIKI_BOLD: Final = compiled(r"'''(?P<text>[^'\n]{1,300})'''")
_STRUCK: Final = compiled(
    r"~~(?P<tilde>[^\n~][^\n]{0,400}?)~~|<(?P<tag>s|del|strike)\b[^<>]{0,100}>(?P<inside>[^\n]{0,400}?)</(?P=tag)>|\[(?P<bb>s|strike)\](?P<bbtext>[^\n]{0,400}?)\[/(?P=bb)\]",
    re.IGNORECASE,
)
_OVERLAY: Final = compiled(r"(?:[^\n]\u0336|[ ](?=[^\n]\u0336))+")
_SUPERSCRIPT: Final = str.maketrans("\u2070\u00b9\u00b2\u00b3\u2074\u2075\u2076\u2077\u2078\u2079", "0123456789")
_RAISED: Final = compiled("[\u2070\u00b9\u00b2\u00b3\u2074-\u2079]+")


REMEMBERED: Final = 200
"""Texts up to this length are remembered for a while; longer ones would fill the memory."""


@dataclass(frozen=True, slots=True)
class Clean:
    """``text`` without what was struck through; ``struck`` is that, joined. ``bold`` where all of it was emphasised."""

    text: str
    struck: str = ""
    bold: bool = False


def clean(raw: str) -> Clean:
    """Return the text as meant. Runs of spaces are kept, because columns may hang on them."""
    return _remembered(raw) if len(raw) <= REMEMBERED else _clean(raw)


@lru_cache(maxsize=4096)
def _remembered(raw: str) -> Clean:
    """Several stages look at the same cell."""
    return _clean(raw)


def _clean(raw: str) -> Clean:
    text = _TERMINAL.sub("", raw) if "\x1b" in raw else raw
    text = _as_meant(text) if "=" in text or "\\" in text else text
    struck: list[str] = []
    if not text.isascii():
        for wrong, right in _MOJIBAKE:
            text = text.replace(wrong, right)
        if "\u0336" in text:
            text = _OVERLAY.sub(lambda m: _cut(m[0].replace("\u0336", ""), struck), text)
        text = unicodedata.normalize("NFC", text)
        if "\u00b7" in text or "\u22c5" in text:
            text = _HALF_HIGH.sub(".", text)
            text = _MIDDLE_DOT.sub(" \u2022 ", text).replace("\u00b7", ".").replace("\u22c5", ".")
        text = _RAISED.sub(lambda m: f"[{m[0].translate(_SUPERSCRIPT)}]", text)
        text = _GREAT_MU.sub("\u00b5", text) if "\u039c" in text else text
        text = _PHI.sub("\u00d8", text) if "\u03c6" in text or "\u03a6" in text else text
        text = _VULGAR.sub(_as_decimal, _EMOJI.sub(" ", text).translate(_TABLE))
        if "\u00d8" in text:
            text = _SMALL_O.sub("\u00f8", text)
        text = _CYRILLIC_REF.sub("C", _CYRILLIC_VOLT.sub("V", text))
    text = _hashed(_TICKET_HEADING, text) if text[:1] == "h" else text
    text = _BRACES.sub("", text) if "{" in text else text
    if "&" in text:
        text = _ENTITY.sub(lambda m: html.unescape(m[0]), text).translate(_TABLE)
    if "~~" in text or "<" in text or "[" in text:
        text = _hashed(_HEADING, text)
        text = _STRUCK.sub(lambda m: _cut(m["tilde"] or m["inside"] or m["bbtext"] or "", struck), text)
        text = _TAGS.sub(" ", text)
        text = _LINK.sub(lambda m: m["text"], text)
        text = _WIKI_LINK.sub(lambda m: m["text"] or m["named"] or " ", text)
        text = _BBCODE.sub("", _BBCELL.sub(" ", text))
        text = EDIT_LINKS.sub(" ", text)
    bold = _MARKED_WHOLE.fullmatch(raw.strip()) is not None
    if "'''" in text:
        text = _WIKI_BOLD.sub(lambda m: m["text"], text)
    if "*" in text or "_" in text or "`" in text:
        bare = text.strip(" |:\t")
        bold = bold or _is_bold(bare)
        for _ in range(2):
            text = _EMPHASIS.sub(lambda m: m["text"] or m["tick"], text)
    text = _ESCAPED.sub(r"\1", text)
    return Clean(without_exponent(text), " ".join(struck).strip(), bold)


def _hashed(pattern: re.Pattern[str], text: str) -> str:
    """Return a heading of other markup as Markdown has it."""
    heading = pattern.fullmatch(text)
    return text if heading is None else f"{'#' * int(heading['level'])} {heading['text'].strip()}"


_ESCAPED: Final = compiled(r"\\([|_*~]|[.+#()\[\]-](?=[\w\s]|$))")
"""What Markdown would take for its own marks (``4\\.7``)."""


def _as_meant(text: str) -> str:
    """Return a line without the escapes of mail (``10=C2=B5F``) and of typesetting (math mode, commands for units)."""
    if _QUOTED_PRINTABLE.search(text):
        text = text.removesuffix("=")
        for escape, meant in _ESCAPES:
            text = text.replace(escape, meant)
    if "\\" in text:
        for pattern, plain in _TYPESET:
            text = pattern.sub(plain, text)
    return text


_QUOTED_PRINTABLE: Final = compiled(r"=C2=B[05]|=(?:B5|CE=BC)F|=20(?=$|\s)|=3D|=E2=80=9|=C3=98")
_ESCAPES: Final = (
    ("=C2=B5", "\u00b5"), ("=CE=BC", "\u00b5"), ("=B5", "\u00b5"), ("=C2=B0", "\u00b0"), ("=C3=98", "\u00d8"),
    ("=E2=80=93", "-"), ("=E2=80=94", "-"), ("=20", " "), ("=3D", "="),
)  # fmt: skip
"""Quoted-printable as mail programs write it (RFC 2045), of what lists hold beyond ASCII."""
_TYPESET: Final[tuple[tuple[re.Pattern[str], str | Callable[[re.Match[str]], str]], ...]] = (
    (
        compiled(r"\\SI\{([\d.,]+)\}\{\\(micro|nano|pico)\\farad\}"),
        lambda m: f"{m[1]} {m[2][0].replace('m', 'µ')}F",
    ),
    (compiled(r"\\SI\{([\d.,]+)\}\{\\volt\}"), r"\1 V"),
    (compiled(r"\\(?:mathrm|text|textrm|rm)\{([^{}]{1,20})\}"), r"\1"),
    (compiled(r"\\(?:textmu|micro|mu)(?![a-z])\s?"), "µ"),
    (compiled(r"\\[,;:! ]|(?<=\d)\$|\$(?=\d)|(?<=[FV])\$"), " "),
)


def _as_decimal(match: re.Match[str]) -> str:
    """Return ``1½`` as 1.5."""
    part = unicodedata.numeric(match["part"])
    return f"{int(match['whole'] or 0) + part:g}"


_VULGAR: Final = compiled(r"(?:(?<![\w.,])(?P<whole>\d{1,3})[ -]?)?(?P<part>[\u00bc-\u00be\u215b-\u215e])")
"""``½ mfd``, ``1¾"``: halves, quarters and eighths in one sign."""


def _is_bold(text: str) -> bool:
    """Tell whether all of a text stands between one pair of emphasis marks."""
    mark = text[:2]
    return len(text) > 4 and mark in {"**", "__"} and text.endswith(mark) and text.count(mark) == 2  # noqa: PLR2004


def _cut(inside: str, struck: list[str]) -> str:
    struck.append(inside.strip())
    return " "


_TICKS: Final = {**dict.fromkeys("✓✔☑✅", "yes"), **dict.fromkeys("✗✘☒❌❎", "no")}


def ticked(text: str) -> str | None:
    """Return what a text says that is nothing but a tick or a cross, else None."""
    return _TICKS.get(text.strip(" \ufe0f"))


def squeeze(text: str) -> str:
    """Return the text with single spaces and none at its ends."""
    return " ".join(text.split())


_QUOTED_CELL: Final = compiled(
    r"(?:^|(?<=[,;\t]))\s*\"(?P<cell>[^\"\n]*[A-Za-z0-9][^\"\n]*)\"\s*(?=(?P<mark>[,;\t])|$)"
)


def without_quotes(text: str) -> str:
    """Take the quotation marks from the cells of a line of delimited text: ``C2,"1,000uF",16V``."""
    if text.count('"') < 2 or not re.search(r"[,;\t]\s*\"|\"\s*[,;\t]", text):  # noqa: PLR2004 - a pair
        return text
    plain = _QUOTED_CELL.sub(lambda m: f" {m['cell']}" + (" " if m["mark"] else ""), text)
    return plain if plain == text else re.sub(r"(?<=\s)([,;])(?=\S)", r"\1 ", plain).strip()


_COMMA_BEHIND: Final = compiled(
    r"[,;](?=\.\d|\d{1,3}[uµnp]\d)|(?<=\d[uµnp]\d)[,;](?=\d)|(?<=\d[uµnp]\d\d)[,;](?=\d)"
    r"|[,;](?=\d)(?:(?<=[A-Za-zµ°)%\"].)(?<!\b[OolI].)|(?<=[,;]-.)|(?<=\d\.\d.)|(?<=\d\.\d\d.))"
)


def part_commas(text: str) -> str:
    """Put a space behind commas that part fields, so that ``470uF,25V`` has no ``,25`` in it."""
    return _COMMA_APART.sub(", ", _COMMA_BEHIND.sub(lambda m: m[0] + " ", text))


_COMMA_APART: Final = compiled(r"(?<=[A-Za-zµ°)]) ,(?=\d+\s?V(?![A-Za-z]))", re.IGNORECASE)
"""``10 µF ,25 V``: a comma on the wrong side of its blank."""


def fold(text: str) -> str:
    """Return the text as words are compared: lower case, accents away."""
    low = text.casefold()
    return low if low.isascii() else _BEYOND_ASCII.sub(_without_accents, low)


_BEYOND_ASCII: Final = compiled(r"[^\x00-\x7f]+")


def _without_accents(match: re.Match[str]) -> str:
    spread = unicodedata.normalize("NFD", match[0])
    return "".join(letter for letter in spread if not unicodedata.combining(letter))
