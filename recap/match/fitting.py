"""The mechanical rules: mount, lead pitch, size. Signature and meaning as in ``electrical.py``."""

from __future__ import annotations

from typing import TYPE_CHECKING

from recap.match.findings import CARE, FITS, NO, unstated
from recap.match.limits import LEAD_REACH, PITCH_SAME, PITCH_SQUEEZE, SOURCES
from recap.model import Finding, Mount
from recap.normalise.writing import plain

if TYPE_CHECKING:
    from collections.abc import Iterable
    from decimal import Decimal

    from recap.model import Citation, Limits, Part, Position, Verdict


def mount(position: Position, part: Part, limits: Limits) -> Finding | None:  # noqa: ARG001 - one signature for all rules
    """Judge how the part is held. A radial part serves an axial place if its leads reach."""
    old = position.mount
    if old is None:
        return None
    new = part.mount
    if new is None:
        return unstated("mount", "way of mounting", old.value, None, SOURCES["mount"])
    source = SOURCES["mount"]
    if new is old:
        verdict, reason = FITS, f"{new.value}, as before"
    elif old is Mount.AXIAL and new is Mount.RADIAL:
        verdict, reason, source = _radial_for_axial(position.pitch_mm)
    else:
        verdict, reason = NO, f"{new.value} does not go where {old.value} was"
    return Finding("mount", verdict, reason, old.value, new.value, None, None, source)


def _radial_for_axial(span: Decimal | None) -> tuple[Verdict, str, Citation]:
    source = SOURCES["reach"]
    if span is None:
        return CARE, "radial for axial: see that its leads reach both holes, sleeve the long one", source
    if span > LEAD_REACH:
        return NO, f"radial for axial: its leads don't bridge {plain(span)} mm", source
    return CARE, f"radial for axial: its leads must bridge {plain(span)} mm, sleeve the long one", source


def pitch(position: Position, part: Part, limits: Limits) -> Finding | None:
    """Judge the lead spacing against the holes. The margin is part − holes in mm."""
    holes = position.pitch_mm
    if holes is None:
        return None
    leads = part.pitch_mm
    if leads is None:
        return unstated("pitch", "lead spacing", holes, "mm", SOURCES["pitch"])
    out, both = holes - leads, f"leads {plain(leads)} mm, holes {plain(holes)} mm"
    if abs(out) <= PITCH_SAME:
        verdict, reason, source = FITS, f"{both}: straight in", SOURCES["pitch"]
    elif out > limits.pitch_out:
        verdict, source = CARE, SOURCES["pitch_out"]
        reason = f"{both}: to be formed out by {plain(out)} mm, well away from the seal"
    elif out > 0:
        verdict, reason, source = FITS, f"{both}: formed out by {plain(out)} mm", SOURCES["pitch_out"]
    elif -out <= PITCH_SQUEEZE:
        verdict, source = CARE, SOURCES["pitch_squeeze"]
        reason = f"{both}: to be pressed together by {plain(-out)} mm"
    else:
        verdict, reason, source = NO, f"{both}: {plain(-out)} mm too wide for the holes", SOURCES["pitch_squeeze"]
    return Finding("pitch", verdict, reason, holes, leads, leads - holes, "mm", source)


def size(position: Position, part: Part, limits: Limits) -> Finding | None:
    """Judge diameter and height (body length of axial parts). The margin is the room left in the tighter one, mm."""
    if position.diameter_mm is None and position.height_mm is None:
        return None
    pairs = (
        ("diameter", position.diameter_mm, part.diameter_mm),
        ("height", position.height_mm, part.height_mm),
    )
    judged = [_dimension(name, old, new, limits) for name, old, new in pairs if old is not None]
    verdict, _, _, source = max(judged, key=lambda j: j[0].rank)
    reason = "; ".join(words for found, words, _, _ in judged if found is verdict)
    rooms = [room for _, _, room, _ in judged if room is not None]
    before = _written([old for _, old, _ in pairs if old is not None])
    now = _written([new for _, old, new in pairs if old is not None])
    return Finding("size", verdict, reason, before, now, min(rooms, default=None), "mm", source)


def _dimension(
    name: str, old: Decimal, new: Decimal | None, limits: Limits
) -> tuple[Verdict, str, Decimal | None, Citation]:
    if new is None:
        return CARE, f"the part's {name} isn't stated: measure before you trust it", None, SOURCES["size_fits"]
    room, both = old - new, f"{name} {plain(new)} mm for {plain(old)} mm"
    if -room <= limits.size_fits:
        return FITS, both, room, SOURCES["size_fits"]
    if -room <= limits.size_care:
        return CARE, f"{both}: {plain(-room)} mm more, see what stands beside and above", room, SOURCES["size_care"]
    return NO, f"{both}: {plain(-room)} mm more than there was", room, SOURCES["size_care"]


def _written(numbers: Iterable[Decimal | None]) -> str:
    return " × ".join("?" if number is None else plain(number) for number in numbers)
