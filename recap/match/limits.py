"""Every number a matching rule uses, each with its source, and how a bench's settings lay over them.

A number is ``published`` (the text names what was read), ``common practice`` (a fact of the trade
that no single source owns) or ``from memory``. The defaults themselves stand in
:class:`recap.model.Limits`; here is why they are what they are.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from decimal import Decimal
from typing import TYPE_CHECKING, Any

from recap.model import Citation, Kind, Limits, Role

if TYPE_CHECKING:
    from collections.abc import Mapping

    from recap.model import Settings

PUBLISHED = "published"
PRACTICE = "common practice"
MEMORY = "from memory"

PITCH_SAME = Decimal("0.5")
"""Lead spacings that differ by no more than this, in mm, are the same."""
PITCH_SQUEEZE = Decimal("1.0")
"""Leads wider than the holes by no more than this, in mm, can be pressed in, with care."""
LEAD_REACH = Decimal(30)
"""Span in mm between two holes that an uncut radial part's leads still bridge."""

EXACT_ROLES = frozenset({Role.TIMING, Role.DEFLECTION})
"""Roles that accept their own value only; no setting widens them."""

ROLE_LIMITS: Mapping[Role, Mapping[str, Decimal]] = {
    Role.SMOOTHING: {"capacitance_care": Decimal("2.0")},
    Role.TIMING: dict.fromkeys(("capacitance_low", "capacitance_high", "capacitance_care"), Decimal(1)),
    Role.DEFLECTION: dict.fromkeys(("capacitance_low", "capacitance_high", "capacitance_care"), Decimal(1)),
}
"""Defaults that differ for one role; ``[rules.ROLE]`` overrides them, ``[rules]`` doesn't."""

_DRAWING = "drawing of a radial series (SU, dtsheet.com/model/1530872)"
_MAKERS_ADVICE = "makers' advice to work at 70-80 % of the rating (chinafoai.com guide; dgyouchen.com, 2020-08-04)"

SOURCES: Mapping[str, Citation] = {
    "kind": Citation(PRACTICE, "what may stand in for what, by construction"),
    "kind_polar": Citation(PUBLISHED, "Vishay 038 RSU: an aluminium electrolytic bears at most 1 V in reverse"),
    "capacitance_low": Citation(PRACTICE, "never less than the old nominal value"),
    "capacitance_high": Citation(PRACTICE, "within the usual ±20 % tolerance (letter M of IEC 60062)"),
    "capacitance_care": Citation(PRACTICE, "half as much again; twice in smoothing, where charging current grows"),
    "capacitance_exact": Citation(PRACTICE, "a tuned or timed circuit is set by this very value"),
    "capacitance_deflection": Citation(
        PUBLISHED, "21 CFR 1020.10 limits a set's X-rays; makers' service manuals ask for the identical part"
    ),
    "successor": Citation(PUBLISHED, "IEC 60063, E6 series: the value that took the old one's place"),
    "voltage": Citation(PRACTICE, "never below the old rating"),
    "voltage_care": Citation(PRACTICE, "above twice the old rating the part is another class of part"),
    "derating": Citation(PUBLISHED, _MAKERS_ADVICE),
    "operating": Citation(
        PUBLISHED, "Chemi-Con guide, page 4: direct voltage and ripple peak together within the rating"
    ),
    "temperature": Citation(PRACTICE, "never below the old rating"),
    "temp_min": Citation(PRACTICE, "105 °C parts for old sets, whatever they had"),
    "ambient": Citation(PRACTICE, "no part works above its rated temperature"),
    "life_min": Citation(PRACTICE, "2000 h at rated temperature as the least worth the work"),
    "mount": Citation(PRACTICE, "a part is made for one way of mounting"),
    "reach": Citation(PRACTICE, "uncut radial leads are 15 mm and longer"),
    "pitch": Citation(PUBLISHED, f"lead spacing ± 0.5 mm: {_DRAWING}"),
    "pitch_out": Citation(
        PRACTICE, "makers' taped parts of small cases are formed out alike, to 5 mm (KEMET ESY, page 19)"
    ),
    "pitch_squeeze": Citation(PRACTICE, "leads can be pressed together by 1 mm, no more"),
    "size_fits": Citation(PUBLISHED, f"diameter + 0.5 mm at most: {_DRAWING}"),
    "size_care": Citation(PRACTICE, "2 mm more is a matter of what stands beside it"),
    "ripple": Citation(PRACTICE, "never below the old rating"),
    "ripple_low": Citation(PRACTICE, "within a tenth of the old rating, makers' test frequencies differ as much"),
    "safety": Citation(PUBLISHED, "IEC 60384-14, classes X and Y"),
    "safety_value": Citation(PUBLISHED, "IEC 60384-14: the class is proven for the part as marked"),
    "makers_only": Citation(PRACTICE, "the bench's own list of makers"),
    "makers_never": Citation(PRACTICE, "the bench's own list of makers"),
    "profile": Citation(PRACTICE, "the bench's own choice; each profile names its source"),
    "drawer_years": Citation(PRACTICE, "ten years on the shelf; makers ask for a check after two or three"),
}
"""Where each number comes from, by its key in ``bench.toml`` or, for fixed ones, by a name of its own."""


MEANINGS: Mapping[str, str] = {
    "capacitance_low": "least nominal value, as a multiple of the old one",
    "capacitance_high": "most nominal value that fits, as a multiple of the old one",
    "capacitance_care": "most nominal value with care, as a multiple of the old one",
    "voltage_care": "rating above this multiple of the old one: care",
    "derating": "most of its rating a part may work at, where the working voltage is known",
    "temp_min": "least rated temperature, °C",
    "life_min": "least rated life of electrolytic and bipolar parts, h",
    "pitch_out": "leads formed out to wider holes by so much, mm",
    "size_fits": "larger than the old part by so much still fits, mm",
    "size_care": "larger than the old part by so much with care, mm",
    "ripple_low": "least ripple rating with care, as a multiple of the old one",
    "makers_only": "only these makers",
    "makers_never": "never these makers",
    "drawer_years": "a drawer part older than this: care, years",
    "profile": "derating profile, by name",
}
"""What each key of ``[rules]`` in ``bench.toml`` sets."""


@dataclass(frozen=True, slots=True)
class Profile:
    """Voltage derating by kind of part: the most of its rating that a part may work at.

    ``factors`` names only kinds that the source has figures for; for all others the bench's own
    ``derating`` holds. ``headroom_K`` is how far below its rated temperature a part must stay, where
    the source says so.
    """

    name: str
    title: str
    factors: Mapping[Kind, Decimal]
    source: Citation
    headroom_K: Decimal | None = None
    remark: str | None = None


_WET = (Kind.ELECTROLYTIC, Kind.BIPOLAR)

PROFILES: Mapping[str, Profile] = {
    profile.name: profile
    for profile in (
        Profile(
            "home",
            "eight tenths of the rating",
            dict.fromkeys(Kind, Decimal("0.8")),
            Citation(PUBLISHED, _MAKERS_ADVICE),
        ),
        Profile(
            "long-life",
            "seven tenths of the rating, tantalum six, and 10 K below the rated temperature",
            {**dict.fromkeys(_WET, Decimal("0.70")), Kind.TANTALUM: Decimal("0.60")},
            Citation(PUBLISHED, "RAMSTK default stress limits (data/RAMSTK.toml), which names no standard behind them"),
            headroom_K=Decimal(10),
        ),
        Profile(
            "three-quarters",
            "at least a quarter below the rating",
            dict.fromkeys(Kind, Decimal("0.75")),
            Citation(PUBLISHED, "vsalaro.mystrikingly.com, citing NAVSO P-3641A: at least 25 %, better 50 %"),
            remark="a weak source: the Navy document itself was not read",
        ),
        Profile(
            "spaceflight",
            "half the rating for tantalum, six tenths for ceramic and film",
            {Kind.TANTALUM: Decimal("0.50"), Kind.CERAMIC: Decimal("0.60"), Kind.FILM: Decimal("0.60")},
            Citation(
                PUBLISHED,
                "MIL-STD-975M (1994, cancelled), appendix A 3.1, pages A.4-A.5, read as transcribed in another program",
            ),
            remark="they hold up to 70 °C (tantalum), 110 °C (ceramic), 85 °C (film); aluminium is not on the list",
        ),
    )
}
"""Derating profiles a bench chooses with ``[rules] profile = "NAME"``. Names are ours, figures the source's."""


def derating(limits: Limits, kind: Kind) -> tuple[Decimal, Citation]:
    """Return the most of its rating that a part of this kind may work at, and who says so."""
    profile = PROFILES.get(limits.profile or "")
    if profile is not None and kind in profile.factors:
        return profile.factors[kind], profile.source
    if limits.derating != Limits().derating:
        return limits.derating, Citation(PRACTICE, "the bench's own derating")
    return limits.derating, SOURCES["derating"]


@dataclass(frozen=True, slots=True)
class Number:
    """One number in force for one role: its key, its value, who set it, where the default comes from.

    ``set_by`` is a table of ``bench.toml`` (``[rules]``, ``[rules.smoothing]``) or None for a default.
    """

    key: str
    value: object
    set_by: str | None
    source: Citation


def numbers(settings: Settings, role: Role | None) -> tuple[Number, ...]:
    """Return every number in force for positions of one role, in the order of :data:`MEANINGS`."""
    limits = limits_for(settings, role)
    own = settings.rules.get(role, {}) if role is not None else {}
    common = settings.rules.get(None, {})
    of_role = ROLE_LIMITS.get(role, {}) if role is not None else {}
    made = []
    for key in MEANINGS:
        set_by = f"[rules.{role}]" if key in own else "[rules]" if key in common and key not in of_role else None
        made.append(Number(key, getattr(limits, key), set_by, SOURCES[key]))
    return tuple(made)


def limits_for(settings: Settings, role: Role | None) -> Limits:
    """Return the numbers for positions of one role.

    Later ones win: the defaults, ``[rules]``, the role's own defaults (:data:`ROLE_LIMITS`), ``[rules.ROLE]``.
    """
    layers: list[Mapping[str, Any]] = [settings.rules.get(None, {})]
    if role is not None:
        layers += [ROLE_LIMITS.get(role, {}), settings.rules.get(role, {})]
    base = Limits()
    for layer in layers:
        base = replace(base, **layer)
    return base
