"""The sizes of one part, as all that stands on its line says: diameter, height and lead pitch, or none of them."""

from __future__ import annotations

from decimal import Decimal
from typing import TYPE_CHECKING, Final

from recap.model import Kind, Mount
from recap.normalise.sizes import Size
from recap.normalise.values import plain

if TYPE_CHECKING:
    from recap.normalise.fields import Draft

FLAT: Final = Decimal("1.5")
WIDE_MM: Final = 11
"""Radial cans so wide are not so flat (common practice: 5x11, 13x23): length and diameter may stand in reverse."""


def settled(draft: Draft, mount: Mount | None, kind: Kind) -> tuple[Decimal | None, Decimal | None, Decimal | None]:
    """Return diameter, height and pitch in mm, none of them where the sizes on the line contradict each other."""
    if not draft.sizes:
        return None, None, None
    found: dict[str, Decimal] = {}
    boxed = kind in {Kind.FILM, Kind.SAFETY, Kind.CERAMIC}
    round_body = mount is Mount.AXIAL or any(size.diameter for size in draft.sizes)
    for size in draft.sizes:
        if mount is Mount.SMD and size.pitch and size.diameter and size.diameter == size.height:
            size = Size(size.diameter, size.pitch)  # noqa: PLW2901 - ``6.6x6.6x5.4``: the square base and the height
        if boxed and size.pitch and size.diameter and size.height and size.diameter > size.height:
            continue  # length, width and height of a box
        for name in ("diameter", "height", "pitch"):
            value = getattr(size, name)
            if value is None or (name == "height" and size.along and boxed and not round_body):
                continue
            if found.get(name, value) != value:
                draft.doubt("size-conflict", f"{name} {plain(found[name])} or {plain(value)} mm on one line")
                found[name] = value
            found.setdefault(name, value)
    _place_lone(found, draft, mount, boxed=boxed)
    conflict = "size-conflict" in draft.doubts
    diameter, height = found.get("diameter"), found.get("height")
    round_can = mount is Mount.RADIAL and not boxed
    round_can = round_can or (mount is None and kind in {Kind.ELECTROLYTIC, Kind.BIPOLAR})
    if round_can and diameter and height and diameter > FLAT * height and diameter >= WIDE_MM:
        draft.doubt("size-reversed", f"{plain(diameter)} mm wide, {plain(height)} mm high")
    if mount is Mount.AXIAL and diameter and height and diameter > height:
        diameter, height = height, diameter  # of an axial part the body is always longer than thick
    return (None, None, None) if conflict else (diameter, height, found.get("pitch"))


SNAP_IN_PITCH: Final = Decimal(10)
"""Snap-in cans stand on leads 10 mm apart (common practice), and none is so thin."""


BOX_PITCHES: Final = frozenset(map(Decimal, ("5", "7.5", "10", "15", "22.5", "27.5", "37.5")))
"""Film capacitors are called by these, their lead pitches in mm (common practice): ``10n 100V MKT 5mm``."""


def _place_lone(found: dict[str, Decimal], draft: Draft, mount: Mount | None, *, boxed: bool) -> None:
    """Take a length that nothing names for the pitch where the body is known and wider; otherwise doubt it."""
    lone = list(dict.fromkeys(size.lone for size in draft.sizes if size.lone is not None))
    if not lone:
        return
    body = found.get("diameter")
    if mount is Mount.SNAP_IN and lone == [SNAP_IN_PITCH] and "pitch" not in found:
        found["pitch"] = lone[0]
        return
    if boxed and not found and len(lone) == 1 and lone[0] in BOX_PITCHES and mount in {None, Mount.RADIAL}:
        found["pitch"] = lone[0]
        return
    whole = mount is not Mount.SMD and "height" in found and "pitch" not in found
    if whole and len(lone) == 1 and body is not None and lone[0] < body:
        found["pitch"] = lone[0]
    elif not set(lone) <= set(found.values()):
        draft.doubt("size-unclear", ", ".join(f"{plain(size)} mm" for size in lone))
