"""Letters for terminals and pipes that lack those of the trade: ``47 uF`` where ``47 µF`` can't be written.

Nothing is dropped: a sign without a stand-in becomes ``?``. JSON and files are UTF-8 and never come here.
"""

from __future__ import annotations

import codecs
import sys
import unicodedata
from io import TextIOWrapper

NAME = "recap-plain"

_WORDS = {
    "µ": "u", "μ": "u", "Ω": "ohm", "\u2126": "ohm", "δ": "delta", "°": "deg", "Ø": "dia ", "ø": "dia ", "×": "x",
    "·": "*", "±": "+/-", "≥": ">=", "≤": "<=", "≈": "~", "≠": "!=", "√": "sqrt ", "→": "->", "←": "<-", "…": "...",
    "−": "-", "–": "-", "—": "-", "‘": "'", "’": "'", "“": '"', "”": '"', "„": '"', "«": '"', "»": '"', "•": "*",
    "€": "EUR", "£": "GBP", "ß": "ss", "æ": "ae", "Æ": "AE", "œ": "oe", "Œ": "OE", "ł": "l", "Ł": "L", "đ": "d",
    "Đ": "D", "✓": "[x]", "☐": "[ ]", "▁": "_", "▂": "_", "▃": "=", "▄": "=", "▅": "=", "▆": "#", "▇": "#",
    "█": "#", "░": ".",
}  # fmt: skip


def plain(text: str) -> str:
    """Return text in ASCII: the table's words, letters without their accents, lines of tables, else ``?``."""
    return "".join(_plain(char) for char in text)


def _plain(char: str) -> str:
    if char in _WORDS:
        return _WORDS[char]
    name = unicodedata.name(char, "")
    if name.startswith("BOX DRAWINGS"):
        return "-" if name.endswith("HORIZONTAL") else "|" if name.endswith("VERTICAL") else "+"
    bare = unicodedata.normalize("NFKD", char).encode("ascii", "ignore").decode("ascii")
    return bare or "?"


def _stand_in(fault: UnicodeError) -> tuple[str, int]:
    if not isinstance(fault, UnicodeEncodeError):
        raise fault
    return plain(fault.object[fault.start : fault.end]), fault.end


def prepare_streams() -> None:
    """Let standard output and error write stand-ins for what their encoding lacks, instead of failing."""
    codecs.register_error(NAME, _stand_in)
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, TextIOWrapper):
            stream.reconfigure(errors=NAME)
