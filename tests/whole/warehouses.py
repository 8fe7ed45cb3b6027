"""Warehouse location written as a bench: a supplier with fixed shipping for each site, one extra for each customer.

``python tests/whole/warehouses.py cap71.txt 932615.750`` takes a file in the form of J. E. Beasley's OR-Library
(sites and customers; capacity and fixed cost of each site; then for each customer its demand and its cost from each
site), orders it and compares the total with the published optimum (``uncapopt``: cap71 932615.750, cap72 977799.400,
cap73 1010641.450, cap74 1034976.975). The files are not kept here.
"""

from __future__ import annotations

import itertools
import sys
import tempfile
from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path

if __package__ in {None, ""}:
    sys.path.insert(0, str(Path(__file__).parent.parent.parent))

from tests.whole import the_tool
from tests.whole.bench_maker import write


@dataclass(frozen=True)
class Sites:
    """Fixed cost of each site, and for each customer the cost from each site, as they are written."""

    fixed: tuple[str, ...]
    costs: tuple[tuple[str, ...], ...]


def read_sites(text: str) -> Sites:
    """An OR-Library file; capacities and demands are passed over, for the problem without capacities."""
    words = iter(text.split())
    sites, customers = int(next(words)), int(next(words))
    fixed = [(next(words), next(words))[1] for _ in range(sites)]
    costs = []
    for _ in range(customers):
        next(words)
        costs.append(tuple(amount(next(words)) for _ in range(sites)))
    return Sites(tuple(amount(cost) for cost in fixed), tuple(costs))


def amount(word: str) -> str:
    """``7500.`` and ``.00000`` as a price list writes them."""
    whole, _, part = word.partition(".")
    return f"{whole or '0'}.{part or '0'}"


def bench_of(told: Sites) -> dict[str, str]:
    """The bench whose best order is the best set of sites."""
    numbers = range(len(told.fixed))
    files = {
        "bench.toml": 'currency = "EUR"\ncatalogs = "catalogs"\n[spares]\npieces = 0\n',
        "caplists/idle.csv": "ref,value,volts,kind,mount\nC1,47 µF,25,electrolytic,radial\n",
        "sets.csv": "set,chassis,boards,job,note\nS1,idle,,none,\n",
        "extras.csv": "item,qty,set,part,note\n"
        + "".join(f"customer {c},1,,{' '.join(f'F{s}C{c}' for s in numbers)},\n" for c in range(len(told.costs))),
        "catalogs/suppliers.csv": "supplier,currency,rate,shipping,minimum,handling,line_fee,duty,tax\n"
        + "".join(f"site{s},EUR,1,0:{told.fixed[s]},0,0,0,0,0\n" for s in numbers),
    }
    for s in numbers:
        lines = "".join(f"F{s}C{c},other,1:{cost[s]}\n" for c, cost in enumerate(told.costs))
        files[f"catalogs/site{s}.csv"] = f"part,kind,prices\n{lines}"
    return files


def best_by_trying(told: Sites) -> Fraction:
    """The least cost over all sets of sites."""
    fixed = [Fraction(cost) for cost in told.fixed]
    costs = [[Fraction(cost) for cost in row] for row in told.costs]
    sets = itertools.chain.from_iterable(
        itertools.combinations(range(len(fixed)), size) for size in range(1, len(fixed) + 1)
    )
    return min(
        sum((fixed[s] for s in chosen), Fraction(0)) + sum((min(row[s] for s in chosen) for row in costs), Fraction(0))
        for chosen in sets
    )


def main(path: str, published: str) -> int:
    """Order the file's bench and compare."""
    with tempfile.TemporaryDirectory() as folder:
        bench = write(bench_of(read_sites(Path(path).read_text(encoding="ascii"))), Path(folder))
        answer = the_tool.run("order", str(bench), "--json")
    found, status = answer.doc["total"], answer.doc["status"]
    sys.stdout.write(f"{path}: {status}, {found}; published {published}; {answer.seconds:.1f} s\n")
    return 0 if abs(Fraction(found) - Fraction(published)) <= Fraction(1, 1000) else 1


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
