"""What marks a line as a heading: hashes, frames, underlines, a colon at its end, capitals; and the line without."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Final

from recap.normalise import patterns


@dataclass(frozen=True, slots=True)
class Marked:
    """A line stripped of what marks it as a heading; ``strength`` 0 is none, 2 is unmistakable."""

    text: str
    strength: int
    level: int | None = None


_HASHES: Final = re.compile(r"(?P<marks>#{1,6})\s+(?P<text>.+?)\s*#*$")
_STARS: Final = re.compile(r"(?P<marks>\*{2,6})\s+(?P<text>[^*]+)$")
_WIKI: Final = re.compile(r"(?P<marks>={1,6})\s*(?P<text>[^=].*?)\s*(?P=marks)$")
_FRAMED: Final = re.compile(
    r"(?:[-=_*~+#]{2,}\s*(?P<framed>.*?[^\s:])\s*:?\s*[-=_*~+#]{2,}|\[(?P<bracketed>[^\[\]]{2,60})\]"
    r"|<<?(?P<angled>[^<>]{2,60})>>?|>{1,3}\s?(?P<pointed>[^<>]{2,60}?)\s?<{1,3}|(?:\*|-|=)\s(?P<star>[^*=]{2,60})\s(?:\*|-|=))$"
)


_PART: Final = re.compile(
    r"\d+(?:[.,]\d+)?\s?[RKMΩ]\d*|(?:LM|TDA|NE|TL|2N|2S[A-DJK]|1N|1S|BC|BD|BF|MJE?|TIP|CD|74(?:LS|HC)?|78|79)\d{2,5}[A-Z]{0,3}"
)
"""A resistor's value or a semiconductor's type in capitals heads nothing."""


_LETTERED: Final = re.compile(r"^(?:[A-H]\)|[IVX]{1,4}[.)])\s+(?=[^\W\d_]{2})")
"""``A) Power supply``: a chapter's letter or its Roman number."""


def marked_as(text: str, *, bold: bool = False, underlined: str = "") -> Marked:
    """Return the line without heading marks, and how plainly it is a heading; ``underlined`` with which sign."""
    text = re.sub(r"\s*[._]{3,}$", "", text)
    text = patterns.DATED.sub("", text, count=1) if patterns.DATED.match(text) else text
    text = _LETTERED.sub("", text)
    if text.startswith("(") and text.endswith(")") and text.count("(") == 1:
        text = text[1:-1].strip()
    if match := _HASHES.match(text) or _STARS.match(text) or _WIKI.match(text):
        return Marked(match["text"].rstrip(":").strip(), 2, len(match["marks"]))
    if match := _FRAMED.match(text):
        inner = match["framed"] or match["bracketed"] or match["angled"] or match["pointed"] or match["star"]
        return Marked(inner.strip(" :"), 2)
    if underlined or bold:
        return Marked(text.rstrip(": ").strip(), 2, {"": None, "=": 1}.get(underlined, 2))
    if text.endswith(":") or re.search(r":\s*(?:-|\(.*\))$", text):
        return Marked(text.rstrip(": -").strip(), 1)
    if text.isupper() and len(text) > 2 and not text.endswith((".", "!")) and not _PART.fullmatch(text):  # noqa: PLR2004
        return Marked(text, 1)
    return Marked(text, 0)
