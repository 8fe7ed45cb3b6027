"""Sentences that say what all parts of one value are (``All 10 µF are bipolar``), laid on those parts at the end."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Final

from recap.model import Kind
from recap.normalise.clean import fold
from recap.normalise.particular import KIND_INCLUDES
from recap.normalise.positions import NOWHERE, Context
from recap.normalise.tokens import Sort, Token, tokenise
from recap.normalise.values import plain
from recap.normalise.words import NEUTRAL

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence
    from decimal import Decimal

    from recap.model import Position

_EACH: Final = frozenset("all alle allen tous toutes tutti tutte todos todas every any the die les gli los las".split())
_BEING: Final = frozenset("are is sind sont sono son zijn be must should müssen doivent devono deben moeten".split())
_LETTERS: Final = re.compile(r"[^\W\d_]+")
_SETS: Final = {Sort.KIND: "kind", Sort.MOUNT: "mount", Sort.TEMP: "temp_C", Sort.VOLTS: "volts"}
_IDLE: Final = frozenset("note nb hinweis ones values also".split()) | _BEING


@dataclass(frozen=True, slots=True)
class ValueRule:
    """What is said of all parts of ``value_uF`` (and ``volts``, where the sentence names a voltage)."""

    value_uF: Decimal
    volts: Decimal | None
    sets: Context

    def says(self) -> str:
        """Return the rule in words."""
        stated = [str(word) for word in (self.sets.kind, self.sets.mount) if word is not None]
        stated += [f"{self.sets.temp_C} °C"] if self.sets.temp_C is not None else []
        stated += [f"{plain(self.sets.volts)} V"] if self.sets.volts is not None else []
        rated = f" {plain(self.volts)} V" if self.volts is not None else ""
        return f"said of all of {plain(self.value_uF)} µF{rated}: {', '.join(stated)}"

    def applied(self, position: Position) -> Position:
        """Return the position with what the rule says of it; what it states itself stays."""
        if position.value_uF != self.value_uF or (self.volts is not None and position.volts != self.volts):
            return position
        kind = self.sets.kind
        if kind is not None and position.kind not in {Kind.UNKNOWN, *KIND_INCLUDES.get(kind, set())}:
            kind = None
        return replace(
            position,
            kind=kind or position.kind,
            mount=position.mount or self.sets.mount,
            temp_C=position.temp_C if position.temp_C is not None else self.sets.temp_C,
            volts=position.volts if position.volts is not None else self.sets.volts,
        )


def applied(rules: Iterable[ValueRule], positions: Iterable[Position]) -> list[Position]:
    """Return the positions with what the rules say of them, in the rules' order; one said again says nothing new."""
    by_value: dict[Decimal, list[ValueRule]] = {}
    for rule in rules:
        said = by_value.setdefault(rule.value_uF, [])
        if not said or said[-1] != rule:
            said.append(rule)
    found = []
    for position in positions:
        for rule in by_value.get(position.value_uF, ()) if position.value_uF is not None else ():
            position = rule.applied(position)  # noqa: PLW2901
        found.append(position)
    return found


def read_rule(text: str) -> ValueRule | None:
    """Return the rule that a sentence states, or None where it is none, or says more than plain attributes."""
    if _EACH.isdisjoint(text.lower().split()) or _BEING.isdisjoint(_LETTERS.findall(fold(text))):
        return None
    tokens = [token for token in tokenise(text) if token.sort is not Sort.MARK]
    verb = next((at for at, token in enumerate(tokens) if token.sort is Sort.WORD and token.what in _BEING), None)
    if verb is None:
        return None
    of, stated = tokens[:verb], tokens[verb + 1 :]
    values = [token.what.value for token in of if token.sort is Sort.CAP]
    rated = [token.what.value for token in of if token.sort is Sort.VOLTS]
    each = any(token.sort is Sort.WORD and token.what in _EACH for token in tokens)
    if len(values) != 1 or values[0] is None or len(rated) > 1 or not each or not _idle(of, {Sort.CAP, Sort.VOLTS}):
        return None
    found = {_SETS[t.sort]: t.what.value if t.sort is Sort.VOLTS else t.what for t in stated if t.sort in _SETS}
    if not found or not _idle(stated, set(_SETS)) or sum(t.sort in _SETS for t in stated) != len(found):
        return None
    return ValueRule(values[0], rated[0] if rated else None, replace(NOWHERE, **found))


def _idle(tokens: Sequence[Token], but: set[Sort]) -> bool:
    """Tell whether nothing stands here that means something, ``but`` for these sorts."""
    left = [token for token in tokens if token.sort not in but]
    return all(token.sort is Sort.WORD and token.what in NEUTRAL | _IDLE | _EACH for token in left)
