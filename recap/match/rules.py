"""The table of rules, and the judge: may this part stand in for that one, and why.

A new rule is one function ``(position, part, limits) -> Finding | None`` and one row in
:data:`RULES`. The row names the fields that the function reads; the search through catalogues
judges their distinct values only, with the same function, so nothing is stated twice.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from recap.match import electrical, fitting, protection
from recap.model import Judgement

if TYPE_CHECKING:
    from collections.abc import Callable

    from recap.model import Finding, Limits, Part, Position


@dataclass(frozen=True, slots=True)
class Rule:
    """One rule. ``asks`` and ``reads`` are the fields of position and part that its answer depends on.

    It looks at the part only where the position states something to judge by: an answer given
    without a look holds for every part, and spares the search a column.
    ``apart``: the pairs (asked field, read field) may be judged one by one, the worst of them being the answer.
    """

    name: str
    judge: Callable[[Position, Part, Limits], Finding | None]
    asks: tuple[str, ...]
    reads: tuple[str, ...]
    apart: bool = False


RULES: tuple[Rule, ...] = (
    Rule("kind", electrical.kind, ("safety", "kind"), ("safety", "kind")),
    Rule("capacitance", electrical.capacitance, ("value_uF", "role", "safety", "kind"), ("value_uF",)),
    Rule("voltage", electrical.voltage, ("volts", "operating_V", "kind"), ("volts", "kind")),
    Rule("temperature", electrical.temperature, ("temp_C", "kind"), ("temp_C", "kind")),
    Rule("life", electrical.life, ("kind",), ("life_h", "kind")),
    Rule("mount", fitting.mount, ("mount", "pitch_mm"), ("mount",)),
    Rule("pitch", fitting.pitch, ("pitch_mm",), ("pitch_mm",)),
    Rule("size", fitting.size, ("diameter_mm", "height_mm"), ("diameter_mm", "height_mm"), apart=True),
    Rule("ripple", electrical.ripple, ("ripple_mA", "role"), ("ripple_mA",)),
    Rule("safety", protection.safety, ("safety", "kind", "volts", "volts_ac"), ("safety", "kind")),
    Rule("makers", protection.makers, (), ("maker",)),
)
"""Every rule, in the order in which they are shown."""


def judge(
    position: Position, part: Part, limits: Limits, *, bought: date | None = None, today: date | None = None
) -> Judgement:
    """Return what every rule says of this part in this position; the worst is the verdict.

    ``bought`` is for parts from the drawer: when they were bought, judged against ``today``.
    """
    findings = [found for rule in RULES if (found := rule.judge(position, part, limits)) is not None]
    if bought is not None:
        day = today or date.today()  # noqa: DTZ011 - the user's own calendar day
        findings.append(protection.drawer_age(bought, day, limits))
    return Judgement(tuple(findings))
