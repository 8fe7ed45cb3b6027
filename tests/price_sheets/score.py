"""Score the reader of price lists on those beside this file: ``score.py [NAME ...] [--faults]``."""

from __future__ import annotations

import argparse
import csv
import re
import shutil
import sys
import tempfile
from dataclasses import dataclass, field
from decimal import Decimal
from pathlib import Path
from typing import TYPE_CHECKING

from recap.bench.market import read_market
from recap.diagnostics import Diagnostic, Severity
from recap.model import Kind

if TYPE_CHECKING:
    from collections.abc import Iterable

    from recap.bench.offers import Catalogue
    from recap.model import Part

HERE = Path(__file__).parent
FIELDS = (
    "part", "value", "volts", "temp", "life", "mount", "kind", "pitch", "diameter", "height", "safety", "prices",
    "minimum", "multiple", "stock",
)  # fmt: skip


MONEY = {
    "distributor_book": "GBP", "surplus_bins": "GBP", "hand_list": "GBP", "export_pairs": "USD", "cennik": "PLN",
    "prislista": "SEK", "esr_list": "USD",
    "warehouse": "GBP", "web_table": "GBP", "katalog_cz": "CZK", "lagerliste_dk": "DKK",
    "quote_sheet": "USD", "forum_offer": "GBP", "tokyo_style": "JPY", "valve_shop": "GBP",
    "hurtownia": "PLN", "market_seller": "GBP", "uom_codes": "USD", "eshop_cz": "CZK",
    "pence": "GBP", "vat_in_cells": "GBP", "so_many_for": "GBP", "lots": "GBP", "kilo_heads": "USD", "broker": "USD",
    "per_in_cell": "USD", "arlista": "HUF", "oferta_ro": "RON",
}  # fmt: skip
"""The currency of each list that isn't in euros."""


@dataclass(slots=True)
class Score:
    """What the reader made of one price list, or of all."""

    name: str
    rows: int = 0
    right: int = 0
    told: int = 0
    silent: list[str] = field(default_factory=list)
    missing: list[str] = field(default_factory=list)
    crying: list[str] = field(default_factory=list)
    faults: list[str] = field(default_factory=list)
    refused: bool = False

    def add(self, other: Score) -> None:
        """Count what the other has, too."""
        for key, value in vars_of(other).items():
            if key not in {"name", "refused"}:
                setattr(self, key, getattr(self, key) + value)


def vars_of(score: Score) -> dict[str, object]:
    """Return the figures and lists of a score by name."""
    return {name: getattr(score, name) for name in Score.__slots__}


def sheets() -> list[Path]:
    """Return the price lists that have a truth beside them."""
    truths = {path.name.removesuffix(".truth.csv") for path in HERE.glob("*.truth.csv")}
    lists = [path for path in sorted(HERE.iterdir()) if path.suffix in {".csv", ".tsv", ".txt", ".xlsx"}]
    return [path for path in lists if path.stem in truths]


def truth_of(path: Path) -> list[dict[str, str]]:
    """Return what is true of each row of the price list."""
    with path.with_name(f"{path.stem}.truth.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def read(path: Path) -> tuple[Catalogue | None, list[Diagnostic]]:
    """Return the price list as a bench has it that buys there, in the list's own money and with no tax."""
    with tempfile.TemporaryDirectory() as folder:
        bench = Path(folder)
        (bench / "catalogs").mkdir()
        (bench / "bench.toml").write_text('currency = "EUR"\n', encoding="utf-8")
        terms = f"supplier,currency,rate\n{path.stem},{MONEY.get(path.stem, 'EUR')},1\n"
        (bench / "catalogs" / "suppliers.csv").write_text(terms, encoding="utf-8")
        shutil.copy(path, bench / "catalogs" / path.name)
        market = read_market(bench)
    return market.catalogues.get(path.stem), market.told


def score(path: Path) -> Score:
    """Read one price list as the catalogue of a supplier and compare with its truth."""
    found, told = read(path)
    parts = [found.part(row) for row in range(len(found))] if found is not None else []
    by_row: dict[int | None, list[Part]] = {}
    for part in parts:
        by_row.setdefault(part.source.row if part.source else None, []).append(part)
    result = Score(path.name)
    result.faults = [f"{path.name}: {d.severity.value} {d.code} {d.source.row}: {d.message}" for d in told]
    whole = [d for d in told if d.severity is Severity.ERROR]
    result.refused = bool(whole)
    truths = truth_of(path)
    first = int(truths[0]["row"])
    of_all = any(d.severity is Severity.WARNING and d.source.row is not None and d.source.row < first for d in told)
    for truth in truths:
        row = int(truth["row"])
        said = _of_row(told, row) or (found is None and bool(whole))
        # what must be told of every row may be told once, at the header
        part = _taken_out(by_row.get(row, []), truth)
        _judge(result, truth, part, said=said or (truth["told"] == "!" and of_all))
    for row, left in by_row.items():
        result.silent += [f"{path.name}:{row} invented {part.number!r}" for part in left]
    return result


def _taken_out(parts: list[Part], truth: dict[str, str]) -> Part | None:
    """Take that part of a row out which the truth speaks of: of several, the one of its value and voltage."""
    same = [part for part in parts if all(_holds(truth[name], facts(part)[name]) for name in ("value", "volts"))]
    part = next(iter(same if len(parts) > 1 else parts), None)
    if part is not None:
        parts.remove(part)
    return part


def _of_row(told: Iterable[Diagnostic], row: int) -> bool:
    """Tell whether a person is sent to this row: by its own number, or by one in a message of several rows."""
    return any(
        d.source.row == row or str(row) in re.findall(r"\d+", " ".join(re.findall(r"\brows? [\d, and…-]+", d.message)))
        for d in told
    )


def _judge(result: Score, truth: dict[str, str], part: Part | None, *, said: bool) -> None:
    result.rows += 1
    place, told = f"{result.name}:{truth['row']}", truth["told"]
    if part is None:
        may_be_out = told == "out" or "" in truth["prices"].split("|")
        if said and may_be_out:
            result.right += 1
        else:
            (result.missing if said else result.silent).append(f"{place} left out")
        result.told += said
        return
    if told == "out" and result.refused and said:
        result.right += 1  # it stands there still, but nothing is bought before the error named is mended
        result.told += 1
        return
    if told == "out":
        (result.missing if said else result.silent).append(f"{place} taken: {part.number} {part.prices}")
        return
    has = facts(part)
    wrong = [name for name in FIELDS if not _holds(truth[name], has[name])]
    stated = [name for name in wrong if has[name]]
    if told == "!" and not said:
        result.silent.append(f"{place} must be told")
    elif stated and not said:
        result.silent += [f"{place} {name} {has[name]!r}, not {truth[name]!r}" for name in stated]
    elif wrong:
        result.missing += [f"{place} {name} {has[name]!r}, not {truth[name]!r}" for name in wrong]
    elif said and not told:
        result.crying.append(place)
        result.right += 1
    else:
        result.right += 1
    result.told += said


def facts(part: Part) -> dict[str, str]:
    """Return what a part states as the truth writes it."""
    least = part.prices[0].quantity
    return {
        "part": part.number,
        "value": _plain(part.value_uF),
        "volts": _plain(part.volts),
        "temp": _plain(part.temp_C),
        "life": _plain(part.life_h),
        "mount": part.mount.value if part.mount else "",
        "kind": "" if part.kind is Kind.UNKNOWN else part.kind.value,
        "pitch": _plain(part.pitch_mm),
        "diameter": _plain(part.diameter_mm),
        "height": _plain(part.height_mm),
        "safety": part.safety or "",
        "prices": " ".join(f"{step.quantity}:{_plain(step.unit_price)}" for step in part.prices),
        "minimum": "" if part.minimum == least else str(part.minimum),  # what the first price says already
        "multiple": "" if part.multiple == 1 else str(part.multiple),
        "stock": _plain(part.stock),
    }


def _plain(number: Decimal | int | None) -> str:
    return "" if number is None else f"{Decimal(number).normalize():f}"


def _holds(truth: str, has: str) -> bool:
    readings = truth.split("|")
    return "*" in readings or has in readings


def main() -> int:
    """Print the score of each price list, and with ``--faults`` what is wrong; 1 where anything is."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("names", nargs="*", help="lists to score; default: all")
    parser.add_argument("--faults", action="store_true", help="print every disagreement and all that is told")
    asked = parser.parse_args()
    total = Score("all")
    out = [f"{'list':24} rows right told silent missing crying"]
    for path in sheets():
        if asked.names and path.stem not in asked.names:
            continue
        one = score(path)
        total.add(one)
        out.append(_line(one))
        if asked.faults:
            out += [f"    {line}" for line in (*one.silent, *one.missing, *one.crying, *one.faults)]
    out.append(_line(total))
    sys.stdout.write("\n".join(out) + "\n")
    return int(total.right < total.rows)


def _line(one: Score) -> str:
    figures = (one.rows, one.right, one.told, len(one.silent), len(one.missing), len(one.crying))
    return f"{one.name:24}" + "".join(f"{figure:5}" for figure in figures)


if __name__ == "__main__":
    sys.exit(main())
