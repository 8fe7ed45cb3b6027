"""One part written in one line, as on a command line: ``470uF 25V 105C radial 10x16 p5 5000h``.

Read like a line of a list, with the rated life besides, which no list of a set's capacitors has.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from recap.diagnostics import Source
from recap.normalise import quantities
from recap.normalise.fields import Draft, settle_numbers, take
from recap.normalise.positions import NOWHERE, build
from recap.normalise.tokens import tokenise

if TYPE_CHECKING:
    from decimal import Decimal

    from recap.diagnostics import Diagnostic
    from recap.model import Position

_LIFE: Final = re.compile(r"(?<![0-9A-Za-z.,])[0-9][0-9.,]*\s?k?(?:h|hrs?|hours?)(?![A-Za-z])", re.IGNORECASE)
_HARMLESS: Final = frozenset({"can-sections", "value-missing"})


@dataclass(frozen=True, slots=True)
class OnePart:
    """What was read: one position for each section of a can, the life in hours, and what is doubted."""

    positions: tuple[Position, ...]
    life_h: Decimal | None
    doubts: tuple[str, ...]
    diagnostics: tuple[Diagnostic, ...]


def read_part(text: str, name: str = "the command line") -> OnePart:
    """Read one part; never raises. Sections of a can and a missing value are no doubts here.

    ``doubts`` has the other codes: whoever typed the line can settle them at once. A life that can't
    be read, or two of them, is the doubt ``life-conflict``.
    """
    lives = [quantities.hours(found) for found in _LIFE.findall(text)]
    settled = [life.value for life in lives if life is not None and life.value is not None and not life.doubts]
    draft = Draft()
    take(draft, tokenise(_LIFE.sub(" ", text).replace("@", " ")))
    settle_numbers(draft)
    built = build(draft, NOWHERE, Source(name), text.strip())
    doubts = [code for position in built.positions for code in position.doubts if code not in _HARMLESS]
    if len(settled) < len(lives) or len(set(settled)) > 1:
        doubts.append("life-conflict")
    told = tuple(d for d in built.diagnostics if d.code not in _HARMLESS)
    return OnePart(
        tuple(built.positions), settled[0] if len(settled) == 1 else None, tuple(dict.fromkeys(doubts)), told
    )
