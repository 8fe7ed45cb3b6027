"""Letters for terminals and pipes that lack those of the trade: ``47 uF`` where ``47 µF`` can't be written.

Nothing is dropped: a sign without a stand-in becomes ``?``. JSON and files are UTF-8 and never come here.
"""

from __future__ import annotations

import codecs
import re
import sys
import unicodedata
from io import TextIOWrapper

NAME = "recap-plain"

_COMMANDING = re.compile(r"[\x00-\x08\x0b-\x1f\x7f-\x9f\u061c\u200e\u200f\u2028-\u202e\u2066-\u2069]")
"""Characters that a terminal obeys instead of showing: escapes, and those that turn the reading direction."""

_WORDS = {
    "µ": "u", "μ": "u", "Ω": "ohm", "\u2126": "ohm", "δ": "delta", "°": "deg", "Ø": "dia ", "ø": "dia ", "×": "x",
    "·": "*", "±": "+/-", "≥": ">=", "≤": "<=", "≈": "~", "≠": "!=", "√": "sqrt ", "→": "->", "←": "<-", "…": "...",
    "−": "-", "–": "-", "—": "-", "‘": "'", "’": "'", "“": '"', "”": '"', "„": '"', "«": '"', "»": '"', "•": "*",
    "€": "EUR", "£": "GBP", "ß": "ss", "æ": "ae", "Æ": "AE", "œ": "oe", "Œ": "OE", "ł": "l", "Ł": "L", "đ": "d",
    "Đ": "D", "✓": "[x]", "☐": "[ ]", "▁": "_", "▂": "_", "▃": "=", "▄": "=", "▅": "=", "▆": "#", "▇": "#",
    "█": "#", "░": ".",
}  # fmt: skip


def harmless(text: str) -> str:
    """Return text as it may reach a terminal: characters that would command it become U+FFFD."""
    return _COMMANDING.sub("\ufffd", text)


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
