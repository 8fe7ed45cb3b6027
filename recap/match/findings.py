"""How a rule says what it found: numbers as people write them, and one maker of findings."""

from __future__ import annotations

from decimal import Context, Decimal
from typing import TYPE_CHECKING

from recap.model import Finding, Verdict
from recap.normalise.writing import plain

if TYPE_CHECKING:
    from recap.model import Citation

FITS, CARE, NO = Verdict.FITS, Verdict.CARE, Verdict.NO
_SHOWN = Context(prec=5)


def ratio(number: Decimal, base: Decimal) -> Decimal | None:
    """Return ``number / base`` to five figures, None for a base of 0. For showing, never for judging."""
    return _SHOWN.divide(number, base).normalize() if base else None


def percent(number: Decimal, base: Decimal) -> str:
    """Return ``number`` as a percentage of ``base``, whole."""
    return f"{100 * number / base:.0f} %" if base else "beyond measure"


def unstated(rule: str, what: str, original: Decimal | str | None, unit: str | None, source: Citation) -> Finding:
    """Return the finding of a rule that needs what the part doesn't state: with care."""
    old = "" if original is None else f"; {original if isinstance(original, str) else plain(original)}"
    asked = f"{old}{f' {unit}' if old and unit else ''} asked for" if old else ""
    reason = f"the part's {what} isn't stated{asked}: look it up before you trust it"
    return Finding(rule, CARE, reason, original, None, None, unit, source)
