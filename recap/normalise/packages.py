"""Codes of packages: chip sizes and moulded cases state a mount; a layout library's own codes state nothing plainly.

A package that isn't known is no reason to distrust the rest of the row: it is kept as a note.
"""

from __future__ import annotations

import re
from typing import Final

from recap.model import Mount
from recap.normalise.designator_names import CHIP_SIZES
from recap.normalise.later import compiled

_CHIP: Final = compiled(r"(?:SM[DT]|CAP|CHIP|[CRL])?[\s_-]?(?P<size>\d{4})(?:[\s_-]?[A-Z]{1,8})?", re.IGNORECASE)
_CASE: Final = compiled(
    r"SM[DT]\s?[A-EVXY]|SMC[_-][A-EV]|TANT?[_-][A-EV]|(?:CASE|SIZE)[\s_-][A-EVXY](?:[\s_-]\d{4}(?:-\d{2})?)?"
    r"|EIA[\s-]?\d{4}(?:-\d{2})?|(?:3216|3528|6032|7260|7343)-\d{2}",
    re.IGNORECASE,
)
"""Moulded tantalum cases A to E, V, X, Y (EIA 535BAAC; from memory)."""
_CODED: Final = compiled(
    r"(?:[A-Z]{1,8}[-_]?(?:EU)?[A-Z]?|0)\d{1,3}(?:[.,]\d{1,2})?[-/]\d{1,3}(?:[.,]\d{1,2})?(?:X\d{3})?", re.IGNORECASE
)
"""What layout libraries call their parts (common practice): a code of theirs, not written for readers."""


def mount_of(text: str) -> Mount | None:
    """Return the mount that a package code states; None where it states nothing, as a library's own codes do."""
    bare = text.strip(" ()[]")
    chip = _CHIP.fullmatch(bare)
    return Mount.SMD if (chip is not None and chip["size"] in CHIP_SIZES) or _CASE.fullmatch(bare) else None


def is_library_code(text: str) -> bool:
    """Tell whether a text is a layout library's own code (``E2,5-6``, ``C050-030X075``): no sizes are read from it."""
    return _CODED.fullmatch(text.strip()) is not None


_BODY: Final = compiled(
    r"[A-Z]{2,4}-(?P<how>TH|SMD)_BD(?P<body>\d{1,2}(?:\.\d{1,2})?)(?:-P(?P<pitch>\d{1,2}(?:\.\d{1,2})?))?"
)


def with_body(text: str) -> str:
    """Return what a library's name with a body diameter says (``CAP-TH_BD6.3-P2.50-D1.0``) without its pins' own."""
    match = _BODY.match(text)
    if match is None:
        return text
    pitch = f" P{match['pitch']}mm" if match["pitch"] else ""
    return f"{'SMD ' if match['how'] == 'SMD' else ''}D{match['body']}mm{pitch}"
