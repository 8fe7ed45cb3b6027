"""What a meter showed of a part, beside what is printed on it: ``100uF 25V reads 87uF``, ``10uF 16V 8.7uF ESR 2.6``."""

from __future__ import annotations

import re
from decimal import Decimal
from typing import TYPE_CHECKING, Final

from recap.normalise.record_tails import value
from recap.normalise.tokens import Sort, Token

if TYPE_CHECKING:
    from collections.abc import Sequence

    from recap.normalise.fields import Draft

_VALUES: Final = frozenset((Sort.CAP, Sort.PAIR, Sort.SECTIONS))


def unmeasured(tokens: list[Token], draft: Draft) -> list[Token]:
    """Take out what a meter showed where the printed value stands beside it; alone it is kept and doubted."""
    at = next((i for i, token in enumerate(tokens) if token.sort is Sort.MEASURED), None)
    behind = [] if at is None else tokens[at:]
    shown = _shown_beside_esr(tokens) if at is None else next((t for t in behind if t.sort is Sort.CAP), None)
    if at and shown is None and tokens[at - 1].sort is Sort.CAP:
        shown = tokens[at - 1]  # ``(8.7uF measured)``
    if shown is None:
        return tokens
    if sum(1 for token in tokens if token.sort in _VALUES) > 1:
        draft.notes.append(f"measured {shown.text}")
        return [token for token in tokens if token is not shown]
    draft.doubt("looks-measured", f"{shown.text!r} is called measured")
    return tokens


def _shown_beside_esr(tokens: Sequence[Token]) -> Token | None:
    """Return the capacitance behind a whole record on a line with an ESR: what a meter showed, if it may be.

    A capacitor loses capacitance; far more than is printed it never has (common practice).
    """
    valued = [i for i, token in enumerate(tokens) if token.sort in _VALUES]
    if len(valued) != 2:  # noqa: PLR2004 - printed and measured
        return None
    shown = [i for i, token in enumerate(tokens) if _ESR.match(token.text)]
    if not shown or (tokens[shown[0]].sort is Sort.WORD and tokens[shown[0] - 1].what in _LOW):
        return None
    rated = [i for i, token in enumerate(tokens) if token.sort in {Sort.VOLTS, Sort.PAIR}]
    if len(rated) != 1 or not rated[0] < valued[1]:
        return None
    printed, measured = value(tokens[valued[0]]), value(tokens[valued[1]])
    if not isinstance(printed, Decimal) or not isinstance(measured, Decimal):
        return None
    return tokens[valued[1]] if measured <= printed * _MOST_MEASURED else None


_ESR: Final = re.compile(r"esr(?![^\W\d_])|\d+(?:[.,]\d+)?\s?m?(?:R|Ω|ohms?)$", re.IGNORECASE)
_LOW: Final = frozenset("low lower faible basso bassa baja bajo laag lage niedriger niedrig niedrige kleiner".split())
_MOST_MEASURED: Final = Decimal("1.5")


def was_measured(before: Sequence[Token], behind: Sequence[Token]) -> bool:
    """Tell whether ``10 µF 16 V - was 6.1 µF`` tells what a meter showed: no part bears that number."""
    told, was = ([t for t in tokens if t.sort is Sort.CAP] for tokens in (before, behind))
    odd = all({"no-preferred-value", "looks-measured"} & set(token.doubts) for token in was)
    return bool(told) and bool(was) and odd and not any(token.doubts for token in told)
