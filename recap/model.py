"""The nouns of the whole job, as frozen dataclasses.

Units stand in the names (``value_uF``, ``volts``, ``pitch_mm``). ``None`` always means
"not stated": never zero and never a default; defaults are laid over where they are used and
the report says so. Quantities and money are :class:`~decimal.Decimal` from the first
character read; floating point begins inside a solver or a life formula and ends there.
Nothing here reads, judges or prints.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from decimal import Decimal
from enum import StrEnum
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Mapping
    from datetime import date

    from recap.diagnostics import Source


class Kind(StrEnum):
    """What a capacitor is made of, as far as the list says it."""

    ELECTROLYTIC = "electrolytic"
    BIPOLAR = "bipolar"
    TANTALUM = "tantalum"
    FILM = "film"
    CERAMIC = "ceramic"
    SAFETY = "safety"
    OTHER = "other"
    UNKNOWN = "unknown"


class Mount(StrEnum):
    """How a part is held on the board."""

    RADIAL = "radial"
    AXIAL = "axial"
    SNAP_IN = "snap-in"
    SMD = "smd"
    SCREW = "screw"


class Role(StrEnum):
    """What a position does in its circuit; it selects the rules."""

    SMOOTHING = "smoothing"
    DECOUPLING = "decoupling"
    COUPLING = "coupling"
    TIMING = "timing"
    DEFLECTION = "deflection"
    SWITCHING = "switching"
    CROSSOVER = "crossover"


class Verdict(StrEnum):
    """How a part suits a position. Ordered by :attr:`rank`: the worst rule decides."""

    FITS = "fits"
    CARE = "care"
    NO = "no"

    @property
    def rank(self) -> int:
        """0 for fits, 1 for care, 2 for no."""
        return (Verdict.FITS, Verdict.CARE, Verdict.NO).index(self)


@dataclass(frozen=True, slots=True)
class Position:
    """One place on a board (or ``qty`` places without designators) and what it takes.

    ``volts`` is the rating printed in the list, ``operating_V`` the working voltage where
    known. ``volts_ac``: the rating is of alternating voltage, and no safety class is stated.
    ``text`` is the line or row as it stood, for messages.
    """

    ref: str | None = None
    qty: int = 1
    value_uF: Decimal | None = None
    volts: Decimal | None = None
    temp_C: int | None = None
    mount: Mount | None = None
    kind: Kind = Kind.UNKNOWN
    pitch_mm: Decimal | None = None
    diameter_mm: Decimal | None = None
    height_mm: Decimal | None = None
    board: str | None = None
    role: Role | None = None
    operating_V: Decimal | None = None
    ripple_mA: Decimal | None = None
    safety: str | None = None
    volts_ac: bool = False
    note: str | None = None
    doubts: tuple[str, ...] = ()
    source: Source | None = None
    text: str = ""


@dataclass(frozen=True, slots=True)
class CapList:
    """The capacitors of one chassis."""

    chassis: str
    positions: tuple[Position, ...]


@dataclass(frozen=True, slots=True)
class PriceBreak:
    """From ``quantity`` pieces on, every piece of the line costs ``unit_price``."""

    quantity: int
    unit_price: Decimal


@dataclass(frozen=True, slots=True)
class ShippingTier:
    """From ``goods`` (supplier's currency) on, shipping costs ``charge``."""

    goods: Decimal
    charge: Decimal


@dataclass(frozen=True, slots=True)
class Part:
    """A part somebody sells, or that lies in the drawer.

    For a drawer part ``prices`` is empty and ``supplier`` is :data:`DRAWER`.
    ``minimum`` is the least quantity, ``multiple`` the step, ``stock`` the most (None: no limit).
    Prices are in the supplier's currency.
    """

    supplier: str
    number: str
    maker: str | None = None
    series: str | None = None
    value_uF: Decimal | None = None
    tolerance: str | None = None
    volts: Decimal | None = None
    temp_C: int | None = None
    life_h: Decimal | None = None
    mount: Mount | None = None
    kind: Kind = Kind.UNKNOWN
    pitch_mm: Decimal | None = None
    diameter_mm: Decimal | None = None
    height_mm: Decimal | None = None
    ripple_mA: Decimal | None = None
    impedance_ohm: Decimal | None = None
    safety: str | None = None
    minimum: int = 1
    multiple: int = 1
    stock: int | None = None
    prices: tuple[PriceBreak, ...] = ()
    updated: date | None = None
    source: Source | None = None


DRAWER = "drawer"
"""Supplier name of what is already on hand; no catalogue may bear it."""


@dataclass(frozen=True, slots=True)
class DrawerPart:
    """Pieces of one part on hand: how many, since when, and where they lie."""

    part: Part
    qty: int
    bought: date | None = None
    place: str | None = None


@dataclass(frozen=True, slots=True)
class SupplierTerms:
    """What one order with one supplier costs besides the goods, in the supplier's currency.

    ``rate`` is bench currency for one unit of ``currency``; ``duty_percent`` and ``tax_percent`` are percent.
    ``tax_stated``: false where the file has nothing of a tax, which is then taken for none.
    """

    supplier: str
    currency: str
    rate: Decimal
    shipping: tuple[ShippingTier, ...] = ()
    minimum: Decimal = Decimal(0)
    handling: Decimal = Decimal(0)
    line_fee: Decimal = Decimal(0)
    duty_percent: Decimal = Decimal(0)
    tax_percent: Decimal = Decimal(0)
    source: Source | None = None
    tax_stated: bool = True


@dataclass(frozen=True, slots=True)
class SetOnBench:
    """One unit: its chassis, the boards it really has (empty: all), and the job's words."""

    name: str
    chassis: str
    boards: tuple[str, ...] = ()
    job: tuple[str, ...] = ()
    note: str | None = None
    source: Source | None = None


@dataclass(frozen=True, slots=True)
class Extra:
    """Something else to buy in the same order; any of ``parts`` (supplier part numbers) will do."""

    item: str
    qty: int
    parts: tuple[str, ...]
    set: str | None = None
    note: str | None = None
    source: Source | None = None


@dataclass(frozen=True, slots=True)
class SparesRule:
    """How many spares per group; the largest of those given counts."""

    pieces: int = 0
    percent: Decimal = Decimal(0)
    confidence: Decimal = Decimal(0)
    loss: Decimal = Decimal(0)
    share_spares: bool = False


@dataclass(frozen=True, slots=True)
class Limits:
    """The numbers the matching rules use for one role. Defaults and sources: ``match/limits.py``."""

    capacitance_low: Decimal = Decimal("1.0")
    capacitance_high: Decimal = Decimal("1.2")
    capacitance_care: Decimal = Decimal("1.5")
    voltage_care: Decimal = Decimal("2.0")
    derating: Decimal = Decimal("0.8")
    temp_min: int = 105
    life_min: Decimal = Decimal(2000)
    pitch_out: Decimal = Decimal("3.0")
    size_fits: Decimal = Decimal("0.5")
    size_care: Decimal = Decimal("2.0")
    ripple_low: Decimal = Decimal("0.9")
    makers_only: tuple[str, ...] = ()
    makers_never: tuple[str, ...] = ()
    drawer_years: Decimal = Decimal(10)
    profile: str | None = None


@dataclass(frozen=True, slots=True)
class Settings:
    """``bench.toml``, read.

    ``rules`` holds what the ``[rules]`` tables set and nothing else, one mapping from key to value
    (Decimal, int, str or tuple of str) for each role; key ``None`` is ``[rules]`` itself.
    ``match/limits.py`` lays it over the defaults.
    Offers whose ``updated`` lies more than ``offer_days`` back are marked as old; 0 marks none.
    """

    currency: str = "EUR"
    catalogs: str = "catalogs"
    one_part_per_group: bool = True
    use_drawer: bool = True
    allow_care: bool = False
    care_if_needed: bool = False
    max_suppliers: int = 0
    offer_days: int = 365
    spares: SparesRule = field(default_factory=SparesRule)
    rules: Mapping[Role | None, Mapping[str, object]] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Placed:
    """One position in one set."""

    set: str
    position: Position


@dataclass(frozen=True, slots=True)
class Group:
    """All positions, over all sets on the job, that ask for the same thing.

    ``asks`` is a position that stands for all (its ref, board, source don't count). For an extra
    ``asks`` is None and ``extra`` tells what is wanted. ``id`` is short, stable and readable.
    """

    id: str
    asks: Position | None
    placed: tuple[Placed, ...] = ()
    spares: int = 0
    extra: Extra | None = None

    @property
    def positions_count(self) -> int:
        """Pieces needed without spares."""
        if self.extra is not None:
            return self.extra.qty
        return sum(placed.position.qty for placed in self.placed)

    @property
    def need(self) -> int:
        """Pieces needed, spares included."""
        return self.positions_count + self.spares


@dataclass(frozen=True, slots=True)
class Citation:
    """Where a number comes from: ``kind`` is published, common practice, or from memory."""

    kind: str
    text: str


@dataclass(frozen=True, slots=True)
class Finding:
    """What one rule says of one part in one position."""

    rule: str
    verdict: Verdict
    reason: str
    original: Decimal | str | None = None
    substitute: Decimal | str | None = None
    margin: Decimal | None = None
    unit: str | None = None
    source: Citation | None = None


@dataclass(frozen=True, slots=True)
class Judgement:
    """All findings of one part for one position; the worst is the verdict."""

    findings: tuple[Finding, ...]

    @property
    def verdict(self) -> Verdict:
        """The worst finding's verdict; fits where no rule had anything to judge."""
        return max((f.verdict for f in self.findings), key=lambda v: v.rank, default=Verdict.FITS)


@dataclass(frozen=True, slots=True)
class Need:
    """What the optimiser must cover: a group's id and the pieces wanted for it alone.

    ``spares`` are wanted besides, but may be shared: any piece that suits the group and that no group
    uses, bought or in the drawer, counts, whatever other groups count on it as well.
    """

    group: str
    pieces: int
    spares: int = 0


@dataclass(frozen=True, slots=True)
class Problem:
    """An order as plain data; the solver, the exact check and the test oracle all take it.

    ``suits`` maps a group's id to the indexes of ``offers`` that may serve it, ``drawer_suits``
    likewise into ``drawer``. An offer that suits no group is not in ``offers``. Two offers, or an
    offer and a drawer part, are the same part where their ``number`` is the same.
    """

    needs: tuple[Need, ...]
    offers: tuple[Part, ...]
    suits: Mapping[str, tuple[int, ...]]
    suppliers: Mapping[str, SupplierTerms]
    drawer: tuple[DrawerPart, ...] = ()
    drawer_suits: Mapping[str, tuple[int, ...]] = field(default_factory=dict)
    one_part_per_group: bool = True
    max_suppliers: int = 0


@dataclass(frozen=True, slots=True)
class Use:
    """So many pieces of one order line (or of the drawer) for one group."""

    group: str
    qty: int


@dataclass(frozen=True, slots=True)
class OrderLine:
    """One line of one supplier's order, in that supplier's currency. ``uses`` may add up to less than ``qty``."""

    part: Part
    qty: int
    unit_price: Decimal
    goods: Decimal
    uses: tuple[Use, ...]


@dataclass(frozen=True, slots=True)
class SupplierOrder:
    """One parcel. All but ``landed`` in the supplier's currency; ``landed`` in the bench's."""

    terms: SupplierTerms
    lines: tuple[OrderLine, ...]
    goods: Decimal
    shipping: Decimal
    fees: Decimal
    duty: Decimal
    tax: Decimal
    landed: Decimal


@dataclass(frozen=True, slots=True)
class DrawerUse:
    """Pieces taken from the drawer and what for."""

    part: DrawerPart
    uses: tuple[Use, ...]


@dataclass(frozen=True, slots=True)
class Order:
    """What to buy where, what to take from the drawer, and what it costs (bench currency)."""

    suppliers: tuple[SupplierOrder, ...]
    drawer: tuple[DrawerUse, ...]
    total: Decimal


class Status(StrEnum):
    """Whether an order is proven cheapest, the best so far, or can't be."""

    OPTIMAL = "optimal"
    FEASIBLE = "feasible"
    IMPOSSIBLE = "impossible"


@dataclass(frozen=True, slots=True)
class Outcome:
    """What the optimiser found. ``bound``: no order can cost less than this (bench currency).

    ``preferred``: among all orders of this total, this is the one with the fewest suppliers, of those with the fewest
    lines, of those with the longest rated life. False where that could not be settled in time.
    """

    status: Status
    order: Order | None = None
    bound: Decimal | None = None
    solver: str = ""
    seconds: float = 0.0
    preferred: bool = True
