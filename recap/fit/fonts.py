"""Fonts for printed pages that have µ, Ω, Ø, × and ☐: DejaVu Sans, which matplotlib brings along.

Nothing is bundled and nothing of matplotlib is loaded: only its folder of fonts is used.
"""

from __future__ import annotations

from functools import cache
from importlib.util import find_spec
from pathlib import Path
from typing import Final

from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont

PLAIN: Final = "RecapSans"
BOLD: Final = "RecapSans-Bold"


@cache
def register_fonts() -> frozenset[int]:
    """Make the fonts known to reportlab; return the code points that both can show."""
    folder = font_folder()
    shown: set[int] = set()
    for name, file in ((PLAIN, "DejaVuSans.ttf"), (BOLD, "DejaVuSans-Bold.ttf")):
        font = TTFont(name, str(folder / file))
        pdfmetrics.registerFont(font)
        points = set(font.face.charToGlyph)
        shown = points if not shown else shown & points
    pdfmetrics.registerFontFamily(PLAIN, normal=PLAIN, bold=BOLD, italic=PLAIN, boldItalic=BOLD)
    return frozenset(shown)


def font_folder() -> Path:
    """Return the folder of fonts inside the installed matplotlib."""
    spec = find_spec("matplotlib")
    assert spec is not None
    assert spec.origin is not None
    return Path(spec.origin).parent / "mpl-data" / "fonts" / "ttf"


def printable(text: str) -> str:
    """Return text in which what the font can't show, control characters too, is a visible ``?``."""
    shown = register_fonts()
    return "".join(char if char == "\n" or ord(char) in shown else "?" for char in text)


_NOTHING_SEEN: Final = 0.01
"""Points that no eye sees and no printer draws."""


def shortened(text: str, font: str, size: float, width: float) -> str:
    """Return text cut with ``…`` to fit ``width`` points; whole where it fits.

    A text whose size was chosen to fill the width fills it but for the last figures of the reckoning.
    """
    clean = printable(text).replace("\n", " ")
    if pdfmetrics.stringWidth(clean, font, size) <= width + _NOTHING_SEEN:
        return clean
    while clean and pdfmetrics.stringWidth(clean + "…", font, size) > width:
        clean = clean[:-1]
    return clean + "…"
