"""Problems for the optimiser's tests: tiny random ones for the oracle, and short ways to write one down."""

from __future__ import annotations

from decimal import Decimal

from hypothesis import strategies as st

from recap.model import DRAWER, DrawerPart, Kind, Need, Part, PriceBreak, Problem, ShippingTier, SupplierTerms


def ladder(text: str) -> tuple[PriceBreak, ...]:
    """Read ``1:0.42 10:0.31``."""
    return tuple(PriceBreak(int(q), Decimal(p)) for q, p in (step.split(":") for step in text.split()))


def offer(
    supplier: str,
    number: str,
    prices: str,
    *,
    minimum: int = 1,
    multiple: int = 1,
    stock: int | None = None,
    life_h: Decimal | None = None,
) -> Part:
    return Part(supplier, number, prices=ladder(prices), minimum=minimum, multiple=multiple, stock=stock, life_h=life_h)


def terms(supplier: str, shipping: str = "", minimum: str = "0", rate: str = "1", **more: str) -> SupplierTerms:
    tiers = tuple(ShippingTier(Decimal(g), Decimal(c)) for g, c in (tier.split(":") for tier in shipping.split()))
    return SupplierTerms(
        supplier,
        "EUR",
        Decimal(rate),
        tiers,
        Decimal(minimum),
        handling=Decimal(more.get("handling", "0")),
        line_fee=Decimal(more.get("line_fee", "0")),
        duty_percent=Decimal(more.get("duty_percent", "0")),
        tax_percent=Decimal(more.get("tax_percent", "0")),
    )


def lying(number: str, qty: int) -> DrawerPart:
    return DrawerPart(Part(DRAWER, number), qty)


def problem(
    needs: dict[str, int],
    offers: list[Part],
    suits: dict[str, str],
    suppliers: list[SupplierTerms],
    *,
    drawer: list[DrawerPart] | None = None,
    one_part: bool = True,
    max_suppliers: int = 0,
) -> Problem:
    """Make a problem; ``suits`` names part numbers, separated by spaces, for offers and drawer alike."""
    lots = drawer or []
    return Problem(
        needs=tuple(Need(group, pieces) for group, pieces in needs.items()),
        offers=tuple(offers),
        suits={g: tuple(i for i, o in enumerate(offers) if o.number in names.split()) for g, names in suits.items()},
        suppliers={each.supplier: each for each in suppliers},
        drawer=tuple(lots),
        drawer_suits={
            g: tuple(i for i, lot in enumerate(lots) if lot.part.number in names.split()) for g, names in suits.items()
        },
        one_part_per_group=one_part,
        max_suppliers=max_suppliers,
    )


def cheap(problem_of: st.DrawFn, coarse: bool) -> Decimal:
    """Draw a unit price; a coarse one is likely to make orders of the same total."""
    return problem_of(st.sampled_from([Decimal("0.5"), Decimal(1)]) if coarse else amounts("0.35", "2"))


def amounts(least: str, most: str, places: int = 2) -> st.SearchStrategy[Decimal]:
    return st.decimals(Decimal(least), Decimal(most), places=places, allow_nan=False)


@st.composite
def small_problems(draw: st.DrawFn, rising: bool = False, coarse: bool = False) -> Problem:
    """Two or three groups, two suppliers, up to five offers, every kind of term, sometimes a drawer."""
    names = ["A", "B"]
    suppliers = {name: draw(supplier_terms(name, rising, coarse)) for name in names}
    offers = []
    for name in names:
        numbers_offered = draw(st.lists(st.sampled_from(["p", "q", "r"]), min_size=1, max_size=2, unique=True))
        offers += [draw(priced(name, number, rising, coarse)) for number in numbers_offered]
    groups = [f"g{i}" for i in range(draw(st.integers(1, 3)))]
    needs = tuple(Need(g, draw(st.integers(1, 4))) for g in groups)
    numbers = {g: draw(st.sets(st.sampled_from(["p", "q", "r"]), min_size=1)) for g in groups}
    lots = tuple(
        lying(number, draw(st.integers(1, 4)))
        for number in draw(st.lists(st.sampled_from(["p", "q", "s"]), max_size=2, unique=True))
    )
    one_in_six = st.sampled_from([False] * 5 + [True])  # the same number, but too short a lead, or too old
    suits = {g: {i for i, o in enumerate(offers) if o.number in numbers[g] and not draw(one_in_six)} for g in groups}
    keep = sorted(set().union(*suits.values()))
    return Problem(
        needs=needs,
        offers=tuple(offers[i] for i in keep),
        suits={g: tuple(n for n, i in enumerate(keep) if i in suits[g]) for g in groups},
        suppliers=suppliers,
        drawer=lots,
        drawer_suits={
            g: tuple(
                i for i, lot in enumerate(lots) if lot.part.number in numbers[g] | {"s"} and not draw(one_in_six)
            )
            for g in groups
        },
        one_part_per_group=draw(st.booleans()),
        max_suppliers=draw(st.sampled_from([0, 0, 0, 1])),
    )


@st.composite
def supplier_terms(draw: st.DrawFn, name: str, rising: bool, coarse: bool = False) -> SupplierTerms:
    charges = [draw(st.sampled_from([Decimal(0), Decimal(1)]) if coarse else amounts("0", "6")) for _ in range(3)]
    if not rising:
        charges.sort(reverse=True)
    starts = sorted({Decimal(0), draw(amounts("1", "5")), draw(amounts("1", "8", 1))})
    return SupplierTerms(
        name,
        "EUR",
        Decimal(1) if coarse else draw(st.sampled_from([Decimal(1), Decimal("1.17"), Decimal("0.0931")])),
        tuple(ShippingTier(start, charge) for start, charge in zip(starts, charges, strict=False)),
        minimum=draw(st.sampled_from([Decimal(0), Decimal(0), Decimal("2.5"), Decimal(5)])),
        handling=draw(st.sampled_from([Decimal(0), Decimal("0.5")])),
        line_fee=draw(st.sampled_from([Decimal(0), Decimal("0.3")])),
        duty_percent=draw(st.sampled_from([Decimal(0), Decimal("3.7")])),
        tax_percent=draw(st.sampled_from([Decimal(0), Decimal(19)])),
    )


@st.composite
def priced(draw: st.DrawFn, supplier: str, number: str, rising: bool, coarse: bool = False) -> Part:
    breaks = sorted(draw(st.sets(st.sampled_from([1, 2, 3, 5, 8]), min_size=1, max_size=3)))
    prices = [cheap(draw, coarse) for _ in breaks]
    if not rising:
        prices.sort(reverse=True)
    return Part(
        supplier,
        number,
        prices=tuple(PriceBreak(q, p) for q, p in zip(breaks, prices, strict=True)),
        minimum=draw(st.sampled_from([1, 1, 1, 4])),
        multiple=draw(st.sampled_from([1, 1, 1, 2, 3])),
        stock=draw(st.sampled_from([None, None, None, 3, 7])),
        kind=draw(st.sampled_from([Kind.ELECTROLYTIC, Kind.ELECTROLYTIC, Kind.UNKNOWN])),
        life_h=draw(st.sampled_from([None, Decimal(2000), Decimal(5000), Decimal("7000.5")])),
    )


@st.composite
def sharing_problems(draw: st.DrawFn) -> Problem:
    """Two groups with spares that may be shared; quantities and thresholds small enough to try everything."""
    offers = tuple(
        offer(
            name,
            number,
            draw(st.sampled_from(["1:1", "1:0.6", "1:1.3 3:0.7", "2:0.9", "1:0.8 4:0.5"])),
            stock=draw(st.sampled_from([None, None, 2, 4])),
            life_h=draw(st.sampled_from([None, Decimal(2000), Decimal(5000)])),
        )
        for name, number in (("A", "p"), ("A", "q"), ("B", draw(st.sampled_from(["p", "r"]))))
    )
    lots = tuple(lying(n, draw(st.integers(1, 3))) for n in draw(st.sampled_from([(), (), ("p",), ("r",)])))
    numbers = {g: draw(st.sets(st.sampled_from(["p", "q", "r"]), min_size=1)) for g in ("g", "h")}
    suits = {g: tuple(i for i, o in enumerate(offers) if o.number in own) for g, own in numbers.items()}
    keep = sorted({i for rows in suits.values() for i in rows})
    kept = tuple(offers[i] for i in keep)
    return Problem(
        needs=tuple(Need(g, draw(st.integers(1, 2)), draw(st.integers(0, 2))) for g in ("g", "h")),
        offers=kept,
        suits={g: tuple(keep.index(i) for i in rows) for g, rows in suits.items()},
        suppliers={n: terms(n, draw(st.sampled_from(["", "0:1", "0:1 2:0"]))) for n in ("A", "B")},
        drawer=lots,
        drawer_suits={g: tuple(i for i, it in enumerate(lots) if it.part.number in own) for g, own in numbers.items()},
        one_part_per_group=draw(st.booleans()),
        max_suppliers=draw(st.sampled_from([0, 0, 1])),
    )
