"""Text from the code's data as Markdown that shows it as it is."""

from __future__ import annotations

import re

_CODE = re.compile(r"(`[^`\n]+`)")
_SPECIAL = re.compile(r"([\\`*_\[\]<>~|])")


def plain(text: str) -> str:
    """Return ``text`` with every sign that Markdown would take for its own made harmless; `code` stays code."""
    pieces = _CODE.split(text)
    return "".join(piece if at % 2 else _SPECIAL.sub(r"\\\1", piece) for at, piece in enumerate(pieces))


def code(text: str) -> str:
    """Return ``text`` as code, whatever backticks are in it."""
    fence = "`"
    while fence in text:
        fence += "`"
    pad = " " if text.startswith("`") or text.endswith("`") else ""
    return f"{fence}{pad}{text}{pad}{fence}"


def sentence(text: str) -> str:
    """Return ``text`` begun with a capital, ended with a stop, and harmless."""
    text = text.strip()
    begun = text[:1].upper() + text[1:] if text[1:2] != "." else text
    return plain(begun if begun.endswith((".", "?", "!", ":", "…")) else f"{begun}.")
