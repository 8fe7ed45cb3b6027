"""Check an order against its problem, exactly, in plain integers and decimals, with no solver in sight."""

from __future__ import annotations

from collections import Counter, defaultdict
from typing import TYPE_CHECKING

from recap import money

if TYPE_CHECKING:
    from collections.abc import Mapping

    from recap.model import Order, Problem, SupplierOrder


def faults(problem: Problem, order: Order) -> list[str]:
    """Return in words everything that is wrong with the order; empty where it is legal and priced right."""
    offered = {(part.supplier, part.number): i for i, part in enumerate(problem.offers)}
    found = [fault for parcel in order.suppliers for fault in _parcel_faults(problem, parcel, offered)]
    names = [parcel.terms.supplier for parcel in order.suppliers]
    if len(set(names)) < len(names):
        found.append("a supplier has two parcels")
    if problem.max_suppliers and len(names) > problem.max_suppliers:
        found.append(f"{len(names)} suppliers, at most {problem.max_suppliers} allowed")
    found += _drawer_faults(problem, order)
    found += _group_faults(problem, order, offered)
    found += _spares_faults(problem, order)
    if money.order(order.suppliers, order.drawer).total != order.total:
        found.append("the total is not the sum of the parcels")
    return found


def _parcel_faults(problem: Problem, parcel: SupplierOrder, offered: Mapping[tuple[str, str], int]) -> list[str]:
    found: list[str] = []
    name = parcel.terms.supplier
    if problem.suppliers.get(name) != parcel.terms:
        found.append(f"{name}: not the supplier's terms")
    if not parcel.lines:
        found.append(f"{name}: a parcel without lines")
    if len({line.part.number for line in parcel.lines}) < len(parcel.lines):
        found.append(f"{name}: a part number on two lines")
    for line in parcel.lines:
        place = offered.get((name, line.part.number))
        if place is None or line.part != problem.offers[place]:
            found.append(f"{name} {line.part.number}: not offered")
        elif not money.is_legal(line.part, line.qty):
            found.append(f"{name} {line.part.number}: {line.qty} pieces can't be bought")
        elif money.line(line.part, line.qty, line.uses) != line:
            found.append(f"{name} {line.part.number}: priced wrong")
        if sum(use.qty for use in line.uses) > line.qty:
            found.append(f"{name} {line.part.number}: more used than bought")
    if money.parcel(parcel.terms, parcel.lines) != parcel:
        found.append(f"{name}: the parcel is priced wrong")
    if not money.meets_minimum(parcel.terms, parcel.goods):
        found.append(f"{name}: below the minimum order")
    return found


def _drawer_faults(problem: Problem, order: Order) -> list[str]:
    taken: Counter[int] = Counter()
    found: list[str] = []
    for drawn in order.drawer:
        if drawn.part not in problem.drawer:
            found.append(f"drawer {drawn.part.part.number}: not in the drawer")
            continue
        lot = problem.drawer.index(drawn.part)
        taken[lot] += sum(use.qty for use in drawn.uses)
        if taken[lot] > drawn.part.qty:
            found.append(f"drawer {drawn.part.part.number}: more taken than lies there")
        found += [
            f"drawer {drawn.part.part.number}: does not suit {use.group}"
            for use in drawn.uses
            if lot not in problem.drawer_suits.get(use.group, ())
        ]
    return found


def left_over(problem: Problem, order: Order) -> dict[str, int]:
    """Return, for each group that shares spares, the pieces that suit it and that no group uses, wherever they lie."""
    lines = {(parcel.terms.supplier, line.part.number): line for parcel in order.suppliers for line in parcel.lines}
    bought = {
        i: line.qty - sum(use.qty for use in line.uses)
        for i, part in enumerate(problem.offers)
        if (line := lines.get((part.supplier, part.number))) is not None
    }
    lying = [lot.qty for lot in problem.drawer]
    for drawn in order.drawer:
        lying[problem.drawer.index(drawn.part)] -= sum(use.qty for use in drawn.uses)
    return {
        need.group: sum(bought.get(i, 0) for i in set(problem.suits.get(need.group, ())))
        + sum(lying[i] for i in set(problem.drawer_suits.get(need.group, ())))
        for need in problem.needs
        if need.spares
    }


def _spares_faults(problem: Problem, order: Order) -> list[str]:
    if not any(need.spares for need in problem.needs) or any(d.part not in problem.drawer for d in order.drawer):
        return []
    left = left_over(problem, order)
    return [
        f"{need.group}: {left[need.group]} pieces left over for {need.spares} spares"
        for need in problem.needs
        if need.spares and left[need.group] < need.spares
    ]


def _group_faults(problem: Problem, order: Order, offered: Mapping[tuple[str, str], int]) -> list[str]:
    found: list[str] = []
    got: Counter[str] = Counter()
    numbers: defaultdict[str, set[str]] = defaultdict(set)
    lines: Counter[str] = Counter()
    suits = {need.group: frozenset(problem.suits.get(need.group, ())) for need in problem.needs}
    for line in (line for parcel in order.suppliers for line in parcel.lines):
        for use in line.uses:
            got[use.group] += use.qty
            numbers[use.group].add(line.part.number)
            lines[use.group] += 1
            if offered.get((line.part.supplier, line.part.number)) not in suits.get(use.group, ()):
                found.append(f"{line.part.supplier} {line.part.number}: does not suit {use.group}")
    for drawn in order.drawer:
        for use in drawn.uses:
            got[use.group] += use.qty
            numbers[use.group].add(drawn.part.part.number)
    for need in problem.needs:
        if got[need.group] != need.pieces:
            found.append(f"{need.group}: {got[need.group]} pieces for a need of {need.pieces}")
        if problem.one_part_per_group and (len(numbers[need.group]) > 1 or lines[need.group] > 1):
            found.append(f"{need.group}: more than one part or supplier")
    if extra := set(got) - {need.group for need in problem.needs}:
        found.append(f"pieces for groups that need none: {', '.join(sorted(extra))}")
    return found
