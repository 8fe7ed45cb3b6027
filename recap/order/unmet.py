"""What an order can't cover, in words: nothing fits, the list is in doubt, or there is too little for all."""

from __future__ import annotations

from typing import TYPE_CHECKING

from recap.match.nearest import ALLOW_CARE
from recap.model import DRAWER, Group, Placed
from recap.order.report import NearMiss, UnmetNeed

if TYPE_CHECKING:
    from recap.match.groups import Held
    from recap.match.nearest import Near, Unfit
    from recap.model import Problem, Verdict
    from recap.order.impossible import Impossible

HURRIED = "the time was too short to try everything"
"""Said where there may be more ways out, or groups that could be had."""


def unfit_need(unfit: Unfit) -> UnmetNeed:
    """Return what to say of a group that nothing serves."""
    helps = "".join(f"; {h.text}" for h in unfit.helps)
    nearest = tuple(
        NearMiss(n.part.supplier, n.part.number, n.judgement.verdict, n.reason, _gist(n)) for n in unfit.nearest
    )
    return UnmetNeed(
        unfit.group.id,
        unfit.group.need,
        unfit.reason + helps,
        nearest,
        unfit.joined,
        short=unfit.reason,
        eases=tuple(h.text for h in unfit.helps if h.key != ALLOW_CARE),
        care=any(h.key == ALLOW_CARE for h in unfit.helps),
    )


def _gist(near: Near) -> str:
    return "; ".join(f"{f.rule}: {f.reason}" for f in near.against if f.verdict is near.judgement.verdict)


def near_misses(need: UnmetNeed, *, brief: bool = False) -> tuple[tuple[str, str], ...]:
    """Return the parts that came near, those that fail alike together: their names and verdict, and why in words.

    The part that the reason tells of already is left out; those like it fail "likewise". ``brief`` names
    only those of the best verdict, and of each only the worst that speaks against it.
    """
    best = min((miss.verdict.rank for miss in need.nearest), default=0)
    alike: dict[tuple[Verdict, str], list[str]] = {}
    for miss in need.nearest:
        if brief and miss.verdict.rank > best:
            continue
        told = miss.number in need.reason
        reason = (miss.gist if brief else "") or miss.reason
        names = alike.setdefault((miss.verdict, "" if miss.reason in need.reason else reason), [])
        name = miss.number if miss.supplier == DRAWER and miss.number.startswith(DRAWER) else None
        names += [] if told else [name or f"{miss.supplier} {miss.number}"]
    return tuple(
        (f"{', '.join(names)} ({verdict})", reason or "likewise") for (verdict, reason), names in alike.items() if names
    )


IN_DOUBT = "in doubt: "
"""How the name of what is kept back because of a doubt begins."""


def _held_id(held: Held) -> str:
    return f"{IN_DOUBT}{held.set} {held.position.ref or held.position.text or 'without designator'}"


def held_group(held: Held) -> Group:
    """Return the group that stands for one position kept back because of its doubts."""
    return Group(_held_id(held), held.position, (Placed(held.set, held.position),))


def held_need(held: Held) -> UnmetNeed:
    """Return what to say of a position kept back because of its doubts."""
    reason = f"the list is in doubt here ({', '.join(held.doubts)}): settle it in the cap list"
    return UnmetNeed(_held_id(held), held.position.qty, reason)


def together_needs(why: Impossible, problem: Problem, *, care: bool = False) -> list[UnmetNeed]:
    """Return what to say of groups that parts fit, but that the order can't cover: too little, or not with the rest.

    ``care``: parts that fit only with care are allowed already.
    """
    pieces = {need.group: need.pieces + need.spares for need in problem.needs}
    short = {found.group: found for found in why.shortages}
    found_ways = [f"{way.text} (total {way.total:.2f}{'' if way.proven else ' or less'})" for way in why.ways]
    found_ways = found_ways or ["no single change was found that helps"]
    ways = "; ".join([*found_ways, *([HURRIED] if why.hurried else [])])
    left = [*([] if care else ["with --care"]), *(["with --split"] if problem.one_part_per_group else [])]
    more = f"more parts come in {', '.join([*left, ''])}{'or ' if left else ''}with another shop's price list"
    told = []
    for group in why.left_out:
        found = short.get(group)
        reason = (
            f"parts fit, but not together with the rest of the order: {ways}"
            if found is None
            else f"{pieces[group]} wanted, but {found.reason}; {more}"
        )
        told.append(UnmetNeed(group, pieces[group], reason))
    return told
