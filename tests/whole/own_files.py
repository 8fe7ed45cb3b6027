"""A bench folder read a second time, by plain code of its own: only the canonical headers, only plain numbers.

Nothing of the project's package is imported here: whoever checks the order must not share its readers.
"""

from __future__ import annotations

import csv
import re
import tomllib
from dataclasses import dataclass, field
from fractions import Fraction
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from pathlib import Path

NUMBER = re.compile(r"[0-9]+(\.[0-9]+)?")


@dataclass(frozen=True)
class Fields:
    """What a position or a part states: µF, V, °C, h, mm, mA; None or blank is not stated."""

    value: Fraction | None = None
    volts: Fraction | None = None
    temp: Fraction | None = None
    life: Fraction | None = None
    pitch: Fraction | None = None
    diameter: Fraction | None = None
    height: Fraction | None = None
    ripple: Fraction | None = None
    operating: Fraction | None = None
    mount: str = ""
    kind: str = ""
    safety: str = ""
    role: str = ""
    maker: str = ""


QUANTITIES = ("value", "volts", "temp", "life", "pitch", "diameter", "height", "ripple", "operating")
WORDS = ("mount", "kind", "safety", "role", "maker")


@dataclass(frozen=True)
class Place:
    """One designator of a cap list."""

    ref: str
    board: str
    asks: Fields


@dataclass(frozen=True)
class Offer:
    """One row of one supplier's catalogue; the ladder is (from quantity, unit price)."""

    supplier: str
    number: str
    says: Fields
    ladder: tuple[tuple[int, Fraction], ...]
    minimum: int
    multiple: int
    stock: int | None

    def least(self) -> int:
        """The smallest quantity that can be bought at all."""
        floor = max(self.minimum, self.ladder[0][0], 1)
        return -(-floor // self.multiple) * self.multiple

    def legal(self, qty: int) -> bool:
        """Whether exactly so many can be bought."""
        return qty >= self.least() and qty % self.multiple == 0 and (self.stock is None or qty <= self.stock)

    def price(self, qty: int) -> Fraction:
        """The unit price for the whole line."""
        return next(price for least, price in reversed(self.ladder) if qty >= least)


@dataclass(frozen=True)
class Terms:
    """One supplier's terms; duty and tax as fractions of one."""

    rate: Fraction
    shipping: tuple[tuple[Fraction, Fraction], ...]
    minimum: Fraction
    handling: Fraction
    line_fee: Fraction
    duty: Fraction
    tax: Fraction


@dataclass(frozen=True)
class Lot:
    """One row of the drawer."""

    number: str
    qty: int
    bought: str
    says: Fields


@dataclass(frozen=True)
class Extra:
    """Another thing to buy."""

    item: str
    qty: int
    owner: str
    numbers: tuple[str, ...]


@dataclass(frozen=True)
class Workshop:
    """A whole bench folder."""

    settings: dict[str, Any]
    lists: dict[str, tuple[Place, ...]]
    sets: tuple[dict[str, str], ...]
    offers: tuple[Offer, ...]
    terms: dict[str, Terms]
    drawer: tuple[Lot, ...] = ()
    extras: tuple[Extra, ...] = field(default=())


def number(text: str) -> Fraction | None:
    """The number a cell begins with; the unit behind it is the column's own."""
    found = NUMBER.match(text.strip())
    return Fraction(found.group()) if found else None


def rows(path: Path) -> list[dict[str, str]]:
    """A comma-separated file as dicts; missing file = no rows."""
    if not path.exists():
        return []
    with path.open(encoding="utf-8", newline="") as stream:
        return [{key: (cell or "").strip() for key, cell in row.items() if key} for row in csv.DictReader(stream)]


def fields(row: dict[str, str]) -> Fields:
    """The electrical and mechanical cells of a row."""
    told: dict[str, Any] = {name: number(row.get(name, "")) for name in QUANTITIES}
    told |= {name: row.get(name, "").lower() for name in WORDS}
    return Fields(**told)


def ladder(text: str) -> tuple[tuple[Fraction, Fraction], ...]:
    """`0:5.90 50:3.50` as pairs."""
    pairs = [step.split(":") for step in text.split()]
    return tuple((Fraction(least), Fraction(price)) for least, price in pairs)


def offer(supplier: str, row: dict[str, str]) -> Offer:
    """One catalogue row."""
    steps = tuple((int(least), price) for least, price in ladder(row["prices"]))
    return Offer(
        supplier=supplier,
        number=row["part"],
        says=fields(row),
        ladder=steps,
        minimum=int(row.get("minimum") or steps[0][0]),
        multiple=int(row.get("multiple") or 1),
        stock=int(row["stock"]) if row.get("stock") else None,
    )


def terms(row: dict[str, str]) -> Terms:
    """One row of the suppliers' terms."""

    def amount(name: str, default: int = 0) -> Fraction:
        return Fraction(row.get(name) or default)

    return Terms(
        rate=amount("rate", 1),
        shipping=ladder(row.get("shipping") or "0:0"),
        minimum=amount("minimum"),
        handling=amount("handling"),
        line_fee=amount("line_fee"),
        duty=amount("duty") / 100,
        tax=amount("tax") / 100,
    )


def designators(text: str) -> list[str]:
    """`C1, C3-C5` as C1 C3 C4 C5."""
    found: list[str] = []
    for piece in text.replace(",", " ").split():
        first, _, last = piece.partition("-")
        if last:
            found += [f"C{i}" for i in range(int(first[1:]), int(last[1:]) + 1)]
        else:
            found.append(first)
    return found


def places(path: Path) -> tuple[Place, ...]:
    """A cap list, one place per designator."""
    return tuple(Place(ref, row.get("board", ""), fields(row)) for row in rows(path) for ref in designators(row["ref"]))


def read_workshop(folder: Path) -> Workshop:
    """The folder's files, as they were written."""
    settings = tomllib.loads((folder / "bench.toml").read_text(encoding="utf-8"))
    shelf = folder / settings["catalogs"]
    known = {row["supplier"]: terms(row) for row in rows(shelf / "suppliers.csv")}
    return Workshop(
        settings=settings,
        lists={path.stem: places(path) for path in sorted((folder / "caplists").glob("*.csv"))},
        sets=tuple(rows(folder / "sets.csv")),
        offers=tuple(offer(name, row) for name in known for row in rows(shelf / f"{name}.csv")),
        terms=known,
        drawer=tuple(
            Lot(row["part"], int(row["qty"]), row.get("bought", ""), fields(row)) for row in rows(folder / "drawer.csv")
        ),
        extras=tuple(
            Extra(row["item"], int(row["qty"]), row.get("set", ""), tuple(row["part"].split()))
            for row in rows(folder / "extras.csv")
        ),
    )
