"""Random old part and new part, at and around every limit, and the bench on which they stand."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from typing import TYPE_CHECKING

from tests.whole.bench_maker import CAPLIST, CATALOGUE, table
from tests.whole.own_files import QUANTITIES, WORDS, Fields

if TYPE_CHECKING:
    import random

ROLES = ["", "", "smoothing", "decoupling", "coupling", "timing", "deflection", "switching", "crossover"]
KINDS = ["", "electrolytic", "bipolar", "tantalum", "film", "ceramic"]
CLASSES = ["x1", "x2", "y1", "y2"]
RATIOS = ["0.8", "0.99", "0.999", "1", "1.001", "1.1", "1.2", "1.201", "1.25", "1.5", "1.501", "1.9", "2", "2.01"]
OLD_AND_NEW = [("25", "22"), ("50", "47"), ("250", "220"), ("500", "470"), ("5", "4.7"), ("25", "24"), ("50", "33")]


def some(dice: random.Random, *texts: str) -> Fraction | None:
    text = dice.choice(texts)
    return Fraction(text) if text else None


def random_pair(dice: random.Random) -> tuple[Fields, Fields]:
    """What the position asks for and what the part says."""
    old = Fields(
        value=some(dice, "1", "4.7", "10", "47", "220", "470", "1000"),
        volts=some(dice, "16", "25", "50", "63", "350"),
        temp=some(dice, "", "85", "105", "125"),
        mount=dice.choice(["", "radial", "radial", "axial", "snap-in"]),
        kind=dice.choice(KINDS),
        pitch=some(dice, "", "2", "5", "7.5"),
        role=dice.choice(ROLES),
    )
    if dice.random() < 0.6:
        old = replace(old, diameter=some(dice, "5", "8", "12.5"), height=some(dice, "16", "20", "25"))
    if dice.random() < 0.4 and old.volts:
        old = replace(old, operating=old.volts * Fraction(dice.choice(["0.5", "0.8", "0.81", "1", "1.1"])))
    if dice.random() < 0.4:
        old = replace(old, ripple=some(dice, "100", "250"))
    new = random_part(dice, old)
    if dice.random() < 0.12:
        old = replace(old, kind="safety", safety=dice.choice(CLASSES))
        safety = dice.choice([*CLASSES, "", ""])
        new = replace(new, value=old.value, kind="safety" if safety else dice.choice(KINDS), safety=safety)
    return old, new


def random_part(dice: random.Random, old: Fields) -> Fields:
    """A part whose fields lie about the limits that the old one sets."""
    assert old.value is not None
    assert old.volts is not None
    new = Fields(
        value=old.value * Fraction(dice.choice(RATIOS)),
        volts=old.volts * Fraction(dice.choice(["0.9", "0.99", "1", "1.25", "1.375", "2", "2.01", "3"])),
        temp=some(dice, "", "85", "104", "105", "105", "105", "125"),
        life=some(dice, "", "1000", "1999", "2000", "2001", "10000"),
        mount=old.mount if dice.random() < 0.7 else dice.choice(["", "radial", "axial", "smd"]),
        kind=old.kind if dice.random() < 0.5 else dice.choice(KINDS),
    )
    if dice.random() < 0.25:
        before, after = dice.choice(OLD_AND_NEW)
        new = replace(new, value=Fraction(after) / Fraction(before) * old.value)
    if old.pitch and dice.random() < 0.9:
        moved = old.pitch + Fraction(dice.choice(["-4", "-3.1", "-3", "-0.6", "-0.5", "0", "0.5", "0.6", "1", "1.1"]))
        new = replace(new, pitch=max(moved, Fraction(1)))
    if old.diameter and old.height and dice.random() < 0.9:
        grown = [Fraction(dice.choice(["-1", "0", "0.5", "0.51", "2", "2.1"])) for _ in range(2)]
        new = replace(new, diameter=old.diameter + grown[0], height=old.height + grown[1])
    if old.ripple and dice.random() < 0.8:
        new = replace(new, ripple=old.ripple * Fraction(dice.choice(["0.89", "0.9", "0.99", "1", "2"])))
    return new


def plain(number: Fraction) -> str:
    """A decimal number without an exponent."""
    text = f"{float(number):.6f}".rstrip("0").rstrip(".")
    assert Fraction(text) == number
    return text


def bench_of(pairs: list[tuple[Fields, Fields]]) -> dict[str, str]:
    """A bench where position C1 stands against part P1, C2 against P2 and so on."""
    places = [row(old) | {"ref": f"C{at}"} for at, (old, _) in enumerate(pairs, 1)]
    parts = [row(new) | {"part": f"P{at}", "prices": "1:0.10"} for at, (_, new) in enumerate(pairs, 1)]
    return {
        "bench.toml": 'currency = "EUR"\ncatalogs = "catalogs"\n[spares]\npieces = 0\n',
        "caplists/finchbox.csv": table(CAPLIST, places),
        "sets.csv": "set,chassis,boards,job,note\nS1,finchbox,,full,\n",
        "catalogs/alderpost.csv": table(CATALOGUE, parts),
        "catalogs/suppliers.csv": "supplier,currency,rate,shipping\nalderpost,EUR,1,0:1\n",
    }


def row(part: Fields) -> dict[str, str]:
    """The stated fields as cells."""
    numbers = {name: plain(told) for name in QUANTITIES if (told := getattr(part, name)) is not None}
    return numbers | {name: getattr(part, name) for name in WORDS}
