"""Positions and parts of a bench by the names people give them: ``SET:REF``, ``CHASSIS:REF``, a part number."""

from __future__ import annotations

from typing import TYPE_CHECKING

from recap.match.jobs import on_set, squeeze

if TYPE_CHECKING:
    from recap.bench import Bench
    from recap.model import DrawerPart, Part, Position


def positions_at(bench: Bench, place: str) -> tuple[Position, ...]:
    """Return the positions that ``SET:REF`` or ``CHASSIS:REF`` names: several for the sections of a can, else one.

    Raises LookupError, in words, where no set or chassis, or no position of it, has the name.
    """
    owner, colon, ref = place.rpartition(":")
    if not colon or not owner or not ref:
        raise LookupError(f"{place!r} is no SET:REF or CHASSIS:REF")
    positions = _positions_of(bench, owner)
    wanted = squeeze(ref)
    exact = tuple(p for p in positions if squeeze(p.ref) == wanted)
    found = exact or tuple(p for p in positions if p.ref and p.ref[-1:].islower() and squeeze(p.ref[:-1]) == wanted)
    if not found:
        raise LookupError(f"{owner} has no position {ref}")
    return found


def _positions_of(bench: Bench, owner: str) -> tuple[Position, ...]:
    chassis = {name.casefold(): caplist for name, caplist in bench.caplists.items()}
    for one in bench.sets:
        if one.name.casefold() == owner.casefold() and one.chassis.casefold() in chassis:
            return on_set(one, chassis[one.chassis.casefold()])
    if owner.casefold() in chassis:
        return chassis[owner.casefold()].positions
    known = ", ".join([*(one.name for one in bench.sets), *bench.caplists])
    raise LookupError(f"no set and no chassis is called {owner!r}; there are: {known}")


def offers_numbered(bench: Bench, number: str) -> tuple[Part, ...]:
    """Return every catalogue row with this part number, in catalogue order; none where nobody offers it."""
    found: list[Part] = []
    for catalogue in bench.catalogues.values():
        found += [catalogue.part(row) for rows in catalogue.rows_of([number]).values() for row in rows]
    return tuple(found)


def kept_numbered(bench: Bench, number: str) -> tuple[DrawerPart, ...]:
    """Return what lies in the drawer under this part number."""
    return tuple(kept for kept in bench.drawer if kept.part.number == number.strip())
