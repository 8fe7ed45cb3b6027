"""From a solver's choice, in whole pieces, back to an order priced by :mod:`recap.money`."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from recap import money
from recap.model import DrawerUse, Use

if TYPE_CHECKING:
    from recap.model import Order, OrderLine
    from recap.optimise.instance import Instance


@dataclass(frozen=True, slots=True)
class Choice:
    """What is bought and for whom: pieces per offer, per (group, offer), and per (group, drawer lot)."""

    bought: dict[int, int]
    uses: dict[tuple[int, int], int]
    taken: dict[tuple[int, int], int] = field(default_factory=dict)


def order_of(instance: Instance, choice: Choice) -> Order:
    """Price the choice. Raises ValueError where a quantity can't be bought at all."""
    problem = instance.problem
    uses: defaultdict[int, list[Use]] = defaultdict(list)
    for (group, offer), pieces in sorted(choice.uses.items()):
        if pieces:
            uses[offer].append(Use(problem.needs[group].group, pieces))
    lines: defaultdict[str, list[OrderLine]] = defaultdict(list)
    for offer, quantity in sorted(choice.bought.items()):
        if quantity:
            part = problem.offers[offer]
            lines[part.supplier].append(money.line(part, quantity, uses[offer]))
    drawn: defaultdict[int, list[Use]] = defaultdict(list)
    for (group, lot), pieces in sorted(choice.taken.items()):
        if pieces:
            drawn[lot].append(Use(problem.needs[group].group, pieces))
    return money.order(
        [money.parcel(problem.suppliers[name], lines[name]) for name in sorted(lines)],
        [DrawerUse(problem.drawer[lot], tuple(each)) for lot, each in sorted(drawn.items())],
    )
