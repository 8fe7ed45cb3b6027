"""Can the substitute physically go in, and how: lead pitch by case, forming, room over the vent.

The rules of ``fitting.py`` give the verdict; this says in words what the hands have to do. mm throughout.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from typing import TYPE_CHECKING, Final

from recap.match.limits import PITCH_SAME, PITCH_SQUEEZE
from recap.model import Citation, Mount
from recap.normalise.writing import plain

if TYPE_CHECKING:
    from recap.model import Part, Position


@dataclass(frozen=True, slots=True)
class Leads:
    """What leads a radial case of this diameter has: spacing and wire."""

    diameter_mm: Decimal
    pitch_mm: Decimal
    wire_mm: Decimal
    source: Citation


_SU: Final = Citation("published", "drawing of a radial series (SU, dtsheet.com 1530872)")
_ESY: Final = Citation("published", "KEMET ESY, page 19 (4 mm case); Illinois Capacitor list of lead spacings")
_MEMORY: Final = Citation("from memory", "leaded radial cases of 20 mm and more")

RADIAL_LEADS: Final = tuple(
    Leads(Decimal(case), Decimal(pitch), Decimal(wire), source)
    for case, pitch, wire, source in (
        ("4", "1.5", "0.45", _ESY),
        ("5", "2.0", "0.5", _SU),
        ("6.3", "2.5", "0.5", _SU),
        ("8", "3.5", "0.6", _SU),
        ("10", "5.0", "0.6", _SU),
        ("12.5", "5.0", "0.6", _SU),
        ("16", "7.5", "0.8", _SU),
        ("18", "7.5", "0.8", _SU),
        ("20", "10.0", "0.8", _MEMORY),
        ("22", "10.0", "0.8", _MEMORY),
        ("25", "12.5", "0.8", _MEMORY),
    )
)
SNAP_IN_PITCH: Final = Decimal(10)
SNAP_IN_SOURCE: Final = Citation("published", "snap-in series TS-U, page 2: holes 10.0 mm apart, 2.0 mm wide")

CASE_TOLERANCE: Final = Decimal("0.5")
FORMING_CLEAR: Final = (Decimal(1), Decimal(2))
FORMING_SOURCE: Final = Citation(
    "published",
    "DigiKey TechForum 435: leave 1 to 2 mm between body and first bend; leads that would slope more than 30° "
    "must be formed, not splayed",
)
SEAL_SOURCE: Final = Citation("published", "Vishay 128 SAL: do not bend at the seal, nor after soldering")
TAN_30: Final = Decimal("0.57735")

AXIAL_BEND: Final = Decimal(2)
AXIAL_SOURCE: Final = Citation("from memory", "IEC 61760 practice: bend an axial lead 1.5 to 2 mm from the weld")

VENT: Final = ((Decimal(16), Decimal(2)), (Decimal(40), Decimal(3)))
VENT_LARGEST: Final = Decimal(5)
VENT_SOURCE: Final = Citation(
    "published", "KEMET A4006 (ESC), page 10: over 2 mm to 16 mm case, 3 mm to 40 mm, 5 mm above"
)


@dataclass(frozen=True, slots=True)
class Fitting:
    """Whether the part goes in; ``possible`` None: measure first. ``steps`` stand in working order."""

    possible: bool | None
    steps: tuple[str, ...]
    sources: tuple[Citation, ...] = ()


def usual_leads(diameter_mm: Decimal) -> Leads | None:
    """Return the leads that a radial case of this diameter usually has; None where no standard case is so near."""
    near = min(RADIAL_LEADS, key=lambda row: abs(row.diameter_mm - diameter_mm))
    return near if abs(near.diameter_mm - diameter_mm) <= CASE_TOLERANCE else None


def vent_clearance_mm(diameter_mm: Decimal) -> Decimal:
    """Return the free room to leave over the vent."""
    return next((room for largest, room in VENT if diameter_mm <= largest), VENT_LARGEST)


def standing_height(sideways_mm: Decimal) -> Decimal:
    """Return how far off the board a body stands whose unformed leads each go this far sideways at 30°, to 0.1 mm."""
    return round(FORMING_CLEAR[0] + sideways_mm / TAN_30, 1)


def least_axial_span(length_mm: Decimal) -> Decimal:
    """Return the least distance of the holes for an axial body lying flat, both leads bent by the book."""
    return length_mm + 2 * AXIAL_BEND


def physical_fit(position: Position, part: Part) -> Fitting:
    """Say whether ``part`` goes into ``position`` and what has to be done, by mount, pitch and length."""
    old = position.mount or part.mount
    if old is Mount.AXIAL and part.mount is Mount.AXIAL:
        found = _axial(position, part)
    elif old is Mount.AXIAL and part.mount is Mount.RADIAL:
        found = _radial_for_axial(position)
    elif old in {Mount.RADIAL, None} and part.mount in {Mount.RADIAL, None}:
        found = _radial(position, part)
    elif old is Mount.SNAP_IN and part.mount is Mount.SNAP_IN:
        found = _snap_in(position, part)
    elif old is part.mount or part.mount is None:
        found = Fitting(True if old is part.mount else None, ())
    else:
        found = Fitting(False, (f"a {part.mount} part does not go where a {old} part was",))
    heavier, taller = _heavier_leads(position, part), _taller(position, part)
    sources = found.sources + (_case_sources(position, part) if heavier else ()) + ((VENT_SOURCE,) if taller else ())
    return Fitting(found.possible, found.steps + heavier + taller, tuple(dict.fromkeys(sources)))


def forming_note(position: Position, part: Part) -> str | None:
    """Return what has to be done to the leads, in one line; None where the part goes straight in."""
    return "; ".join(physical_fit(position, part).steps) or None


def _case_sources(*parts: Position | Part) -> tuple[Citation, ...]:
    """Return where the usual leads of these cases come from."""
    rows = [None if part.diameter_mm is None else usual_leads(part.diameter_mm) for part in parts]
    return tuple(row.source for row in rows if row is not None)


def _pitch(stated: Decimal | None, diameter: Decimal | None) -> tuple[Decimal | None, bool]:
    """Return a pitch and whether it was only inferred from the case."""
    if stated is not None or diameter is None:
        return stated, False
    usual = usual_leads(diameter)
    return (None, False) if usual is None else (usual.pitch_mm, True)


def _radial(position: Position, part: Part) -> Fitting:
    holes, holes_guessed = _pitch(position.pitch_mm, position.diameter_mm)
    leads, leads_guessed = _pitch(part.pitch_mm, part.diameter_mm)
    if holes is None or leads is None:
        return Fitting(None, () if position.pitch_mm is None else ("measure the part's lead spacing",))
    out = holes - leads
    if abs(out) <= PITCH_SAME:
        return Fitting(True, ())
    guess = ""
    if holes_guessed or leads_guessed:
        which = "both spacings" if holes_guessed and leads_guessed else "holes" if holes_guessed else "leads"
        guess = f" ({which} by the usual spacing of the case: measure)"
    each = abs(out) / 2
    cases = _case_sources(*[one for one, guess in ((position, holes_guessed), (part, leads_guessed)) if guess])
    both = f"leads {plain(leads)} mm, holes {plain(holes)} mm{guess}"
    if out > 0:
        step = (
            f"{both}: form each lead out by {plain(each)} mm, first bend at least {plain(FORMING_CLEAR[0])} mm, "
            f"better {plain(FORMING_CLEAR[1])} mm, from the body, or splay them with the body "
            f"{plain(standing_height(each))} mm off the board (no steeper than 30°)"
        )
        return Fitting(True, (step,), (*cases, FORMING_SOURCE, SEAL_SOURCE))
    if -out <= PITCH_SQUEEZE:
        step = f"{both}: form each lead in by {plain(each)} mm; hold the lead at the body while bending"
        return Fitting(True, (step,), (*cases, FORMING_SOURCE, SEAL_SOURCE))
    return Fitting(False, (f"{both}: {plain(-out)} mm too wide to press together",), (*cases, FORMING_SOURCE))


def _snap_in(position: Position, part: Part) -> Fitting:
    holes = position.pitch_mm or SNAP_IN_PITCH
    pins = part.pitch_mm or SNAP_IN_PITCH
    if abs(holes - pins) <= PITCH_SAME:
        return Fitting(True, ())
    step = f"pins {plain(pins)} mm, holes {plain(holes)} mm: snap-in pins can't be formed"
    return Fitting(False, (step,), (SNAP_IN_SOURCE,))


def _axial(position: Position, part: Part) -> Fitting:
    span, length = position.pitch_mm, part.height_mm
    if span is None or length is None:
        if position.height_mm is not None and length is not None and length > position.height_mm + PITCH_SAME:
            more = plain(length - position.height_mm)
            return Fitting(None, (f"body {more} mm longer than the old one: see that it lies between the holes",))
        return Fitting(None, ())
    least = least_axial_span(length)
    if span >= least:
        return Fitting(True, ())
    if span > length:
        step = (
            f"body {plain(length)} mm, holes {plain(span)} mm apart: less than {plain(AXIAL_BEND)} mm of straight lead "
            "at each end; lift the body off the board and bend the leads down in a loop"
        )
        return Fitting(None, (step,), (AXIAL_SOURCE,))
    step = f"body {plain(length)} mm does not lie between holes {plain(span)} mm apart: stand it up, long lead sleeved"
    return Fitting(None, (step,), (AXIAL_SOURCE,))


def _radial_for_axial(position: Position) -> Fitting:
    span = "both holes" if position.pitch_mm is None else f"holes {plain(position.pitch_mm)} mm apart"
    step = (
        f"radial for axial, {span}: stand it at one hole, lead the other wire across in sleeving, first bend at least "
        f"{plain(FORMING_CLEAR[0])} mm from the body; tie or glue the body; mind that the stripe marks minus"
    )
    return Fitting(True, (step,), (FORMING_SOURCE, SEAL_SOURCE))


def _taller(position: Position, part: Part) -> tuple[str, ...]:
    """Remind of the room over the vent where the part stands taller than the old one."""
    old, new = position.height_mm, part.height_mm
    if old is None or new is None or new <= old or part.mount not in {Mount.RADIAL, Mount.SNAP_IN}:
        return ()
    if part.diameter_mm is None or position.mount is Mount.AXIAL:
        return ()
    room = plain(vent_clearance_mm(part.diameter_mm))
    return (f"{plain(new - old)} mm taller than the old one: keep {room} mm free over its vent",)


def _heavier_leads(position: Position, part: Part) -> tuple[str, ...]:
    """Warn of thicker wire than the board's holes were drilled for."""
    if position.diameter_mm is None or part.diameter_mm is None or part.mount is not Mount.RADIAL:
        return ()
    old, new = usual_leads(position.diameter_mm), usual_leads(part.diameter_mm)
    if old is None or new is None or new.wire_mm <= old.wire_mm + Decimal("0.1"):
        return ()
    return (
        f"leads {plain(new.wire_mm)} mm thick where {plain(old.wire_mm)} mm is usual: see that the holes take them",
    )
