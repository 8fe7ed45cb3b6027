"""Voltages that name a supply or a neighbour (``next to the 5 V regulator``, ``+12 V rail``) and rate no part.

Where a record has a rating of its own they say nothing against it. Where it has none, a voltage of usual supplies
beside such a word is no rating either, and the record is doubted unless its words plainly speak of another part.
"""

from __future__ import annotations

from decimal import Decimal
from itertools import pairwise
from typing import TYPE_CHECKING, Final

from recap.normalise.clean import fold
from recap.normalise.tokens import Sort

if TYPE_CHECKING:
    from collections.abc import Sequence

    from recap.normalise.fields import Draft
    from recap.normalise.tokens import Token

_NOUNS: Final = frozenset(
    fold(word)
    for word in (
        "rail rails regulator regulators reg relay relays supply supplies line lines bus transformer psu battery motor "
        "lamp adapter feed track zener schiene regler relais versorgung leitung trafo transformator netzteil lampe "
        "ligne régulateur alimentation transformateur linea regolatore alimentazione trasformatore relè línea "
        "regulador alimentación transformador relé lijn regelaar voeding rail"
    ).split()
)
"""Beside one of these a voltage is that of a supply, or of another part."""
_SURGES: Final = frozenset(
    map(fold, "surge peak spitze spitzenspannung stoßspannung crête cresta pico piek impuls".split())
)
"""Words for the voltage that a part bears for a moment, above its rating."""
_LEADING: Final = frozenset(
    fold(word)
    for word in (
        "the near to on for from by beside behind under across at filters feeds der dem den die das an am auf für von "
        "neben hinter bei unter le la du sur pour près il lo al del sul per su el de en con het op bij naast voor"
    ).split()
)
"""In front of such a voltage one of these tells where the part is."""
SUPPLIES: Final = frozenset(map(Decimal, ("1.8", "3.3", "5", "9", "12", "15", "18", "24", "28", "48")))
"""Usual supply voltages that few capacitors have for a rating (common practice)."""
_GROUNDS: Final = frozenset("gnd agnd dgnd pgnd ground masse massa masa vss".split())
"""Beside one of these ``+5V`` is the other net that a part is connected to."""
_RATED: Final = frozenset((Sort.VOLTS, Sort.PAIR))


def without(tokens: list[Token], draft: Draft, *, rated: bool = False) -> list[Token]:
    """Make asides of the voltages of supplies; ``rated`` tells that the record's own rating stands elsewhere."""
    if not any(token.sort is Sort.VOLTS for token in tokens):
        return tokens
    ratings = sum(token.sort in _RATED for token in tokens)
    nets = any(token.text.casefold().rstrip(".,;") in _GROUNDS for token in tokens)
    kept = list(tokens)
    for at, token in enumerate(tokens):
        if token.sort is not Sort.VOLTS or token.what.value is None:
            continue
        if _names_net(tokens, at):
            kept[at] = token._replace(sort=Sort.ASIDE, what=None, doubts=())
            ratings -= 1
            continue
        if _is_surge(tokens, at):
            kept[at] = token._replace(sort=Sort.ASIDE, what=None, doubts=())
            ratings -= 1
            continue
        signed = _is_signed(tokens, at)
        named = _is_noun(tokens, at + 1) or _is_noun(tokens, at - 1)
        led = at > 0 and tokens[at - 1].sort is Sort.WORD and tokens[at - 1].what in _LEADING
        others = rated or ratings > 1
        if not (named and (led or others or signed or token.what.value in SUPPLIES)) and not signed:
            continue
        kept[at] = token._replace(sort=Sort.ASIDE, what=None, doubts=())
        ratings -= 1
        if not others and not (led and named) and not (signed and nets):
            draft.doubt("rail-voltage", repr(token.text))
    return kept


def _is_noun(tokens: Sequence[Token], at: int) -> bool:
    return 0 <= at < len(tokens) and tokens[at].sort is Sort.WORD and tokens[at].what in _NOUNS


def _is_surge(tokens: Sequence[Token], at: int) -> bool:
    """Tell whether a voltage is the surge of a part whose rating, a lower one, stands beside it."""
    beside = [token for token in (*tokens[max(at - 1, 0) : at], *tokens[at + 1 : at + 2]) if token.sort is Sort.WORD]
    if not any(token.what in _SURGES for token in beside):
        return False
    others = (token.what.value for token in tokens if token.sort is Sort.VOLTS)
    return any(volts is not None and volts < tokens[at].what.value for volts in others)


def _is_signed(tokens: Sequence[Token], at: int) -> bool:
    """Tell whether a plus sign stands at a voltage and joins it to nothing: ``, +12V`` and no ``16V+12V``."""
    plus = tokens[at - 1] if at else None
    if plus is None or plus.text != "+" or plus.end != tokens[at].start:
        return False
    return at == 1 or tokens[at - 2].end < plus.start or tokens[at - 2].text in {"(", ",", "-", ":"}


def _names_net(tokens: Sequence[Token], at: int) -> bool:
    """Tell whether a voltage begins the name of a net: ``5V_SERVO``."""
    behind = tokens[at + 1] if at + 1 < len(tokens) else None
    return behind is not None and behind.text.startswith("_") and behind.start == tokens[at].end


def behind_pairs(tokens: list[Token]) -> list[Token]:
    """Leave out voltages in words behind ``100 µF, 10 V``: they are rails and inputs (``at the 5 V side``)."""
    plain = [at for at, token in enumerate(tokens) if token.sort is not Sort.MARK]
    pairs = [b for a, b in pairwise(plain) if tokens[a].sort is Sort.CAP and tokens[b].sort is Sort.VOLTS]
    if not pairs:
        return tokens
    worded = next((at for at in range(pairs[0], len(tokens)) if tokens[at].sort is Sort.WORD), len(tokens))
    return [token for at, token in enumerate(tokens) if at < worded or token.sort is not Sort.VOLTS]


def below_ratings(tokens: list[Token], draft: Draft) -> list[Token]:
    """Leave out the voltage of a supply below the rating in words that say nothing of the part (``Buffer 5 V``)."""
    rated = [reading.value for reading in draft.volts if reading.value is not None]
    told = {token.sort for token in tokens}
    if not rated or Sort.WORD not in told or told & _DESCRIBING:
        return tokens
    return [t for t in tokens if t.sort is not Sort.VOLTS or t.what.value is None or not _supplies(t.what.value, rated)]


def _supplies(volts: Decimal, rated: Sequence[Decimal]) -> bool:
    return volts in SUPPLIES and all(volts < rating for rating in rated)


_DESCRIBING: Final = frozenset((Sort.CAP, Sort.PAIR, Sort.SECTIONS, Sort.KIND))
