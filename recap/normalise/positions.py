"""A draft becomes positions: one reading of each quantity or none, headings laid under, every doubt told.

Where a line states a quantity twice and differently the field stays empty and the position is
doubted; nothing is chosen in silence.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field, replace
from decimal import Decimal
from typing import TYPE_CHECKING, Final, TypeVar

from recap import codes
from recap.diagnostics import Diagnostic, Severity, Source, warning
from recap.model import Kind, Mount, Position
from recap.normalise import can_sections, record_sizes, values
from recap.normalise.particular import KIND_INCLUDES, MOUNT_INCLUDES, particular
from recap.normalise.tokens import Sort
from recap.normalise.values import plain

if TYPE_CHECKING:
    from recap.model import Role
    from recap.normalise.fields import Draft
    from recap.normalise.values import Reading


@dataclass(frozen=True, slots=True)
class Context:
    """What headings say of the lines below them."""

    board: str | None = None
    mount: Mount | None = None
    kind: Kind | None = None
    temp_C: int | None = None
    volts: Decimal | None = None
    role: Role | None = None
    safety: str | None = None
    pitch_mm: Decimal | None = None
    others: bool | None = None
    """Whether the parts below are no capacitors."""
    stays: bool | None = None
    """Whether the parts below are to be left alone, or were replaced already."""


_T = TypeVar("_T")

NOWHERE: Final = Context()


@dataclass(slots=True)
class Built:
    """Positions made of one draft and what is to be said of them."""

    positions: list[Position] = field(default_factory=list)
    diagnostics: list[Diagnostic] = field(default_factory=list)


SECTION_LETTERS: Final = "abcdefghijklmnop"
MOST_PIECES: Final = 2000
"""A count above this is no count of parts in a set."""


def build(draft: Draft, context: Context, source: Source, text: str) -> Built:
    """Return the positions of ``draft``: one for each designator, or one with a count where there are none."""
    if context.stays:
        draft.doubt("left-alone", "the heading says so")
    can_sections.counted(draft)
    can_sections.descending(draft)
    _dashed_pair(draft)
    value, volts = _value(draft), _volts(draft, context)
    stated = _kind(draft, context)
    context = _of_kind(context, stated)
    temp = _one(draft, "temp", draft.temps) or (None if draft.temps else context.temp_C)
    mount = _mount(draft, context)
    ripple = _one(draft, "ripple", draft.ripple)
    diameter, height, pitch = record_sizes.settled(draft, mount, stated)
    if pitch is None and not draft.sizes and mount in {None, Mount.RADIAL}:
        pitch = context.pitch_mm
    kind = _inherited(stated, value, draft)
    _check_count(draft)
    if not draft.has_value and not draft.sections:
        draft.doubt("value-missing")
    if kind in {Kind.CERAMIC, Kind.FILM, Kind.SAFETY}:
        draft.doubts.pop("three-digit-code", None)  # only electrolytics' part numbers count the code in µF
    safety = _safety(draft) or (context.safety if kind is Kind.SAFETY else None)
    alternating = safety is None and volts is not None and any(reading.ac for reading in draft.volts)
    position = Position(
        ref=draft.refs[0] if draft.refs else None,
        qty=draft.counts[0] if draft.counts and not draft.refs else 1,
        value_uF=value,
        volts=volts,
        temp_C=temp,
        mount=mount,
        kind=kind,
        pitch_mm=pitch,
        diameter_mm=diameter,
        height_mm=height,
        board=draft.board or context.board,
        role=draft.roles[0] if draft.roles else context.role,
        operating_V=draft.operating,
        ripple_mA=ripple,
        safety=safety,
        volts_ac=alternating,
        note=_note(draft),
        doubts=tuple(sorted(draft.doubts)),
        source=source,
        text=text,
    )
    built = Built(_spread(position, draft))
    built.diagnostics = _said(draft, source, text)
    return built


def _said(draft: Draft, source: Source, text: str) -> list[Diagnostic]:
    """Return what is said of a draft: its doubts, and what is only noted."""
    said = sorted(draft.doubts.items())
    noted = sorted((code, message) for code, message in draft.noted.items() if code not in draft.doubts)
    doubted = [_told(code, message, source, text, _unit_to_write(code, draft)) for code, message in said]
    return doubted + [
        replace(_told(code, message, source, text, None), severity=Severity.NOTE) for code, message in noted
    ]


def _of_kind(context: Context, kind: Kind) -> Context:
    """Return the context without what a heading says of another kind: ``all electrolytics radial`` over a film one."""
    if context.kind is None or kind in {Kind.UNKNOWN, context.kind} or {kind, context.kind} <= _WET:
        return context
    return replace(context, mount=None, temp_C=None, pitch_mm=None)


_WET: Final = frozenset((Kind.ELECTROLYTIC, Kind.BIPOLAR))


def filled(position: Position, said: Context) -> Position:
    """Return the position with what is said of all parts of its kind, where nothing else says it."""
    if position.kind is Kind.UNKNOWN or _of_kind(said, position.kind) != said:
        return position
    return replace(
        position,
        mount=position.mount or said.mount,
        temp_C=position.temp_C if position.temp_C is not None else said.temp_C,
    )


def _inherited(kind: Kind, value: Decimal | None, draft: Draft) -> Kind:
    """Doubt a heading's electrolytic over a value that no electrolytic has; the kind is then not taken."""
    small = value is not None and value < SMALL_ELECTROLYTIC_UF
    if draft.kinds or not small or kind not in {Kind.ELECTROLYTIC, Kind.BIPOLAR}:
        return kind
    if kind is Kind.ELECTROLYTIC:  # “non-polarised” over 47 nF only says that it isn't an electrolytic
        draft.doubt("kind-unlikely", "the heading says electrolytic, the value is too small for one")
    return Kind.UNKNOWN


SMALL_ELECTROLYTIC_UF: Final = Decimal("0.09")
"""No aluminium electrolytic of 47 nF is made (common practice): n was written, or read, for µ."""


def _told(code: str, message: str, source: Source, text: str, hint: str | None) -> Diagnostic:
    known = codes.LISTS.get(code)
    title = known.title if known else code
    said = f"{title}: {message}" if message else title
    return warning(code, said, source, hint or (known.todo if known else None), text.strip()[:200] or None)


def _unit_to_write(code: str, draft: Draft) -> str | None:
    """Return what to do about a number without a unit, with the line's own number; None for any other doubt."""
    if code == "unit-missing":
        reading = next((r for r in draft.caps if "unit-missing" in r.doubts and r.value is not None), None)
        choices = () if reading is None or reading.value is None else (reading.readings or (reading.value,))
        return f"write the unit: {' or '.join(map(values.format_capacitance, choices))}" if choices else None
    if code == "volts-unit-missing":
        rated = next((r.value for r in draft.volts if r.value is not None), None)
        return None if rated is None else f"write the unit: {plain(rated)} V"
    return None


def _spread(position: Position, draft: Draft) -> list[Position]:
    """Make one position for each designator and each section of a can; ``position`` is that of the first designator."""
    if not draft.sections:
        return [position, *(replace(position, ref=ref) for ref in draft.refs[1:])]
    rated = can_sections.rated(draft)
    if len(draft.sections) == len(draft.refs) > 1:  # C901A/B 50+50 µF: each section has its designator
        each: list[Decimal | None] = [*rated] if rated else [position.volts] * len(draft.refs)
        named = zip(draft.refs, draft.sections, each, strict=True)
        return [replace(position, ref=r, value_uF=value, volts=v) for r, value, v in named]
    if can_sections.named_apart(draft.refs):  # C2A, B, C, D over three sections: which is whose isn't known
        return [replace(position, ref=ref, value_uF=None, volts=None) for ref in draft.refs]
    made: list[Position] = []
    refs: list[str | None] = [*draft.refs] or [None]
    for ref in refs:
        for index, value in enumerate(draft.sections):
            name = None if ref is None else f"{ref}{SECTION_LETTERS[index]}"
            volts = rated[index] if rated else position.volts
            made.append(replace(position, ref=name, value_uF=value, volts=volts))
        if draft.last_kind is not None:
            made[-1] = replace(made[-1], kind=draft.last_kind)
    return made


def _dashed_pair(draft: Draft) -> None:
    """Read ``100-16V`` as 100 µF 16 V where no other value stands on the line, and doubt it."""
    if draft.has_value or len(draft.volts) != 1 or draft.volts[0].value is not None:
        return
    match = re.fullmatch(
        r"([\d.,]+)\s?-\s?([\d.,]+)\s?V(?:DC)?", draft.volt_texts[0] if draft.volt_texts else "", re.IGNORECASE
    )
    if match is None:
        return
    value, volts = values.capacitance(match[1]), values.voltage(match[2], bare=True)
    if value is None or volts is None or value.value is None or volts.value is None or value.value <= volts.value:
        return
    draft.caps, draft.volts = [value], [volts]
    draft.doubts.pop("alternatives", None)
    draft.doubt("unit-missing", f"{match[0]!r} is read as {plain(value.value)} µF {plain(volts.value)} V")


def _value(draft: Draft) -> Decimal | None:
    if draft.sections:
        if draft.caps:
            draft.doubt("value-conflict", "sections of a can and another capacitance stand here")
        draft.doubt("can-sections", f"{' + '.join(plain(s) for s in draft.sections)} µF in one can")
        return None
    return _reading(draft, "value", draft.caps)


def _volts(draft: Draft, context: Context) -> Decimal | None:
    if not draft.volts:
        if context.volts is not None:
            draft.doubts.pop("volts-whose", None)
        return context.volts
    if can_sections.rated(draft):
        return None
    return _reading(draft, "volts", draft.volts)


def _reading(draft: Draft, name: str, readings: list[Reading]) -> Decimal | None:
    """Return the one value that all readings agree on; otherwise None, and the doubt is told."""
    for reading in readings:
        for code in reading.doubts:
            draft.doubt(code, _choices(reading))
    distinct = list(dict.fromkeys(reading.value for reading in readings))
    if len(distinct) > 1:
        said = " or ".join("unclear" if value is None else plain(value) for value in distinct)
        draft.doubt(f"{name}-conflict", f"{said} on one line")
        return None
    return distinct[0] if distinct else None


def _choices(reading: Reading) -> str:
    if len(reading.readings) < 2:  # noqa: PLR2004 - one is no choice
        return "" if reading.value is None else f"read as {plain(reading.value)}"
    named = " or ".join(plain(value) for value in reading.readings)
    return named if reading.value is None else f"{named}; read as {plain(reading.value)}"


def _one(draft: Draft, name: str, stated: list[_T]) -> _T | None:
    distinct = list(dict.fromkeys(stated))
    if len(distinct) > 1:
        draft.doubt(f"{name}-conflict", " or ".join(map(str, distinct)) + " on one line")
        return None
    return distinct[0] if distinct else None


def _mount(draft: Draft, context: Context) -> Mount | None:
    if not draft.mounts:
        return context.mount
    return particular(set(draft.mounts), MOUNT_INCLUDES) or _one(draft, "mount", draft.mounts)


def _kind(draft: Draft, context: Context) -> Kind:
    stated = set(draft.kinds)
    if draft.safety:
        stated.add(Kind.SAFETY)
    if not stated:
        return context.kind or Kind.UNKNOWN
    if Sort.KIND not in draft.either and (meant := particular(stated, KIND_INCLUDES)) is not None:
        return meant
    if len(stated) > 1 or Sort.KIND in draft.either:
        draft.doubt("kind-conflict", " or ".join(sorted(stated)) + " on one line")
        return Kind.UNKNOWN
    found = stated.pop()
    # a line's "electrolytic" below a heading "bipolar" is no change of mind
    if context.kind in KIND_INCLUDES and found in KIND_INCLUDES[context.kind]:
        return context.kind
    return found


def _safety(draft: Draft) -> str | None:
    distinct = list(dict.fromkeys(draft.safety))
    if len(distinct) > 1:
        return "/".join(distinct)
    return distinct[0] if distinct else None


def _check_count(draft: Draft) -> None:
    counts = list(dict.fromkeys(draft.counts))
    if len(counts) > 1 and counts[0] != len(draft.refs):
        draft.doubt("count-conflict", " or ".join(map(str, counts)) + " on one line")
    if counts and counts[0] > MOST_PIECES:
        draft.doubt("count-implausible", f"{counts[0]} pieces")
    if counts == [len(draft.refs)] and "," not in draft.doubts.get("range-shortened", ","):
        del draft.doubts["range-shortened"]  # ``C60-3``, 4 pieces; ``C705,6`` would be two either way
    if counts and draft.refs and counts[0] != len(draft.refs):
        one = "designator" if len(draft.refs) == 1 else "designators"
        pieces = f"{counts[0]} {'piece' if counts[0] == 1 else 'pieces'}"
        draft.doubt("count-mismatch", f"{pieces}, but {len(draft.refs)} {one} ({', '.join(draft.refs[:8])})")


def _note(draft: Draft) -> str | None:
    parts = list(draft.notes)
    if draft.suggestion:
        parts.append(f"suggested: {draft.suggestion}")
    return "; ".join(dict.fromkeys(part for part in parts if part)) or None
