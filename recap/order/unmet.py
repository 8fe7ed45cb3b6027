"""What an order can't cover, in words: nothing fits, or the list is in doubt."""

from __future__ import annotations

from typing import TYPE_CHECKING

from recap.model import Group, Placed
from recap.order.report import NearMiss, UnmetNeed

if TYPE_CHECKING:
    from recap.match.groups import Held
    from recap.match.nearest import Unfit


def unfit_need(unfit: Unfit) -> UnmetNeed:
    """Return what to say of a group that nothing serves."""
    helps = "".join(f"; {h.text}" for h in unfit.helps)
    nearest = tuple(NearMiss(n.part.supplier, n.part.number, n.judgement.verdict, n.reason) for n in unfit.nearest)
    return UnmetNeed(unfit.group.id, unfit.group.need, unfit.reason + helps, nearest, unfit.joined)


def _held_id(held: Held) -> str:
    return f"in doubt: {held.set} {held.position.ref or held.position.text or 'without designator'}"


def held_group(held: Held) -> Group:
    """Return the group that stands for one position kept back because of its doubts."""
    return Group(_held_id(held), held.position, (Placed(held.set, held.position),))


def held_need(held: Held) -> UnmetNeed:
    """Return what to say of a position kept back because of its doubts."""
    reason = f"the list is in doubt here ({', '.join(held.doubts)}): settle it in the cap list"
    return UnmetNeed(_held_id(held), held.position.qty, reason)
