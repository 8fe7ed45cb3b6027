"""How long a whole order takes on a large catalogue, against pandas reading the same files.

    python tests/bench/catalogue.py --rows 1000000 --groups 300 --suppliers 12

Makes an invented bench in a temporary folder and times ``recap order`` as a person calls it, first
with nothing kept from before, then again; and a Python that does nothing but read the same files
with ``pandas.read_csv``. Prints seconds, their ratios and the most memory used; with ``--grow`` for several
numbers of rows. On a shared machine seconds of the processors tell more than those on the clock.
"""

from __future__ import annotations

import argparse
import compileall
import random
import resource
import subprocess
import sys
import tempfile
import time
from dataclasses import dataclass
from pathlib import Path

import recap

VALUES = [f"{m * 10**e:g}" for e in range(-1, 4) for m in (1, 1.5, 2.2, 3.3, 4.7, 6.8)]
VOLTS = ["6.3", "10", "16", "25", "35", "50", "63", "100", "160", "200", "250", "350", "400", "450"]
HEADER = (
    "part,maker,series,value,tolerance,volts,temp,life,mount,kind,pitch,diameter,height,ripple,impedance,safety,"
    "minimum,multiple,stock,prices,updated"
)


def row(number: int, chance: random.Random, asked: tuple[str, str] | None) -> str:
    """One invented offer: of what is ``asked`` (µF, V), or one that stands in the same catalogue and suits nobody."""
    if asked is not None:
        value, volts, temp, life, mount, kind = *asked, "105", chance.choice(["2000", "5000"]), "radial", "electrolytic"
    else:
        value, volts = chance.choice(VALUES), chance.choice(VOLTS)
        temp, life = chance.choice(["85", "105", "125"]), chance.choice(["1000", "2000", "5000", "10000"])
        mount, kind = chance.choice([("smd", "electrolytic"), ("axial", "electrolytic"), ("radial", "ceramic")])
    price = chance.uniform(0.05, 3)
    ladder = f"1:{price:.3f} 10:{price * 0.8:.3f} 100:{price * 0.6:.3f} 1000:{price * 0.45:.4f}"
    size = chance.choice(["2,5,11", "2.5,6.3,11", "3.5,8,12", "5,10,16", "5,12.5,20", "7.5,16,25"])
    return (
        f"PN-{number:07d},Maker {number % 20},Series {number % 100},"
        f"{value},20 %,{volts},{temp},{life},{mount},{kind},"
        f"{size},{chance.randint(50, 3000)},{chance.randint(10, 999) / 1000},,1,{chance.choice([1, 1, 1, 5, 10])},"
        f"{chance.randint(0, 20000)},{ladder},2025-{chance.randint(1, 12):02d}-{chance.randint(1, 28):02d}\n"
    )


def make(folder: Path, rows: int, groups: int, suppliers: int, suiting: int) -> list[Path]:
    """Write the bench, ``suiting`` offers made for each group among its rows; returns its catalogues."""
    chance = random.Random(rows + groups)
    for name in ("caplists", "catalogs"):
        (folder / name).mkdir(parents=True)
    (folder / "bench.toml").write_text('currency = "EUR"\n', encoding="utf-8")
    pairs = [(value, volts) for value in VALUES for volts in VOLTS]
    asked = chance.sample(pairs, min(groups, len(pairs)))
    lines = [f"C{i},{value} µF,{volts},radial,electrolytic\n" for i, (value, volts) in enumerate(asked, start=1)]
    text = "ref,value,volts,mount,kind\n" + "".join(lines)
    (folder / "caplists" / "crane.csv").write_text(text, encoding="utf-8")
    (folder / "sets.csv").write_text("set,chassis,job\nS1,crane,full\nS2,crane,full\n", encoding="utf-8")
    terms = ["supplier,currency,rate,shipping,minimum\n"]
    paths = []
    every = max(rows // max(len(asked) * suiting, 1), 1)
    for one in range(suppliers):
        terms.append(f"shop{one},EUR,1,0:{4 + one % 5}.90 {60 + 10 * (one % 4)}:0,{10 * (one % 3)}\n")
        path = folder / "catalogs" / f"shop{one}.csv"
        with path.open("w", encoding="utf-8") as file:
            file.write(HEADER + "\n")
            for number in range(one, rows, suppliers):
                wanted = chance.choice(asked) if number // suppliers % every == 0 else None
                file.write(row(number, chance, wanted))
        paths.append(path)
    (folder / "catalogs" / "suppliers.csv").write_text("".join(terms), encoding="utf-8")
    return paths


READ = "import sys, pandas\nfor path in sys.argv[1:]: pandas.read_csv(path)"


@dataclass(frozen=True)
class Taken:
    """Seconds on the clock and of the processors that a program took, start of the interpreter included."""

    clock: float
    processors: float

    def __str__(self) -> str:
        """Both, processors first."""
        return f"{self.processors:6.2f} s ({self.clock:6.2f} on the clock)"


def timed(arguments: list[str], times: int = 1) -> Taken:
    """Run Python so many times; what it took where it took the fewest seconds of the processors."""
    found = []
    for _ in range(times):
        before, start = resource.getrusage(resource.RUSAGE_CHILDREN), time.perf_counter()
        done = subprocess.run([sys.executable, *arguments], check=False, capture_output=True, text=True)
        if done.returncode not in {0, 3}:
            sys.exit(done.stdout[-2000:] + done.stderr[-2000:])
        clock, after = time.perf_counter() - start, resource.getrusage(resource.RUSAGE_CHILDREN)
        found.append(Taken(clock, after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime))
    return min(found, key=lambda taken: taken.processors)


def measure(rows: int, groups: int, suppliers: int, suiting: int) -> None:
    """Print one line of the table."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name) / "bench"
        paths = make(folder, rows, groups, suppliers, suiting)
        order = ["-m", "recap", "order", str(folder), "--json"]
        first = timed(order)
        most = resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss / 1024
        plain = timed(["-c", READ, *map(str, paths)], 3)
        again = timed(order, 3)
    sys.stdout.write(
        f"{rows:>9,} rows {groups:>4} groups {suppliers:>3} suppliers   read_csv {plain}\n"
        f"   order, first {first} {first.processors / plain.processors:4.1f}x   at most {most:,.0f} MB\n"
        f"   order, again {again} {again.processors / plain.processors:4.1f}x\n"
    )


def main() -> None:
    """Read the arguments and measure."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--rows", type=int, default=1_000_000)
    parser.add_argument("--groups", type=int, default=300)
    parser.add_argument("--suppliers", type=int, default=12)
    parser.add_argument("--suiting", type=int, default=14, help="offers made for each group")
    parser.add_argument("--grow", action="store_true", help="also a tenth and a third of the rows")
    given = parser.parse_args()
    compileall.compile_dir(str(Path(recap.__file__).parent), quiet=1)  # as an installation does, whatever is set here
    for rows in (given.rows // 10, given.rows // 3, given.rows) if given.grow else (given.rows,):
        measure(rows, given.groups, given.suppliers, given.suiting)


if __name__ == "__main__":
    main()
