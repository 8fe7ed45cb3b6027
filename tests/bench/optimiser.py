"""How long the optimiser takes to the proof, against a plain program with big numbers in CBC; and how that grows.

    python tests/bench/optimiser.py              # the sizes of the README, a few minutes
    python tests/bench/optimiser.py --grow       # by groups, suppliers and offers
    python tests/bench/optimiser.py --plain 60   # give the plain program a minute for each order

Orders are invented (instances.py), the same every time for one seed. Seconds are the processor's, of solving with proof
and preferences among equal totals; where a time limit ended it, the gap that was left stands beside.
"""

from __future__ import annotations

import argparse
import resource
import sys
import time
from pathlib import Path
from statistics import median

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

import pulp

from recap.model import Outcome, Problem, Status
from recap.optimise.solve import solve
from tests.bench.instances import random_order
from tests.bench.plain import program

SIZES = (
    ("60 groups, 6 suppliers, 850 offers", (60, 6, 850), {}),
    ("60 groups, 12 suppliers, thresholds near the spend", (60, 12, 850), {"hard": True}),
    ("300 groups, 12 suppliers, 4000 offers", (300, 12, 4000), {}),
    ("1000 groups, 12 suppliers, 15000 offers", (1000, 12, 15000), {}),
    ("30 groups that may be split, 6 suppliers, 400 offers", (30, 6, 400), {"one_part": False}),
    ("150 groups that may be split, 12 suppliers, 2000 offers", (150, 12, 2000), {"one_part": False}),
)
GROWTH = (
    ("groups", [(groups, 6, 13 * groups) for groups in (15, 30, 60, 120, 240)]),
    ("suppliers", [(60, suppliers, 850) for suppliers in (2, 4, 6, 9, 12)]),
    ("offers", [(60, 6, offers) for offers in (200, 400, 850, 1700, 3400)]),
)


def gap_of(outcome: Outcome) -> str:
    """Say how far an order is from the proof; nothing where it is proven."""
    if outcome.status is Status.OPTIMAL:
        return ""
    if outcome.order is None or outcome.bound is None:
        return " (no order)"
    return f" (gap {(outcome.order.total - outcome.bound) / outcome.order.total:.2%})"


def timed_plain(problem: Problem, limit: float) -> float:
    """Processor seconds that CBC takes on the plain program, the limit at most."""
    lp = program(problem)
    start = resource.getrusage(resource.RUSAGE_CHILDREN).ru_utime
    lp.solve(pulp.PULP_CBC_CMD(msg=False, gapRel=0.0, gapAbs=0.0, timeLimit=limit, timeMode="cpu"))
    return min(resource.getrusage(resource.RUSAGE_CHILDREN).ru_utime - start, limit)


def measure(title: str, size: tuple[int, int, int], options: dict[str, bool], given: argparse.Namespace) -> None:
    """Print one line: each seed's seconds, their median, and the ratio to the plain program."""
    seconds, told, ratios = [], [], []
    for seed in range(given.seeds):
        problem = random_order(*size, seed, **options)
        start = time.process_time()
        outcome = solve(problem, time_limit=given.limit)
        spent = time.process_time() - start
        seconds.append(spent)
        told.append(f"{spent:.2f}{gap_of(outcome)}")
        if given.plain and options.get("one_part", True):
            took = timed_plain(problem, given.plain)
            ratios.append(f"{'over ' if took >= 0.95 * given.plain else ''}{took / spent:.0f}x")
    plain = f"   plain program: {', '.join(ratios)}" if ratios else ""
    sys.stdout.write(f"{title:<58} median {median(seconds):7.2f} s   each {', '.join(told)}{plain}\n")
    sys.stdout.flush()


def main() -> None:
    """Read the arguments and measure."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--seeds", type=int, default=3, help="orders of each size")
    parser.add_argument("--limit", type=float, default=60.0, help="seconds at most for each order")
    parser.add_argument("--plain", type=float, default=0.0, help="seconds for the plain program; 0: leave it out")
    parser.add_argument("--grow", action="store_true", help="measure how time grows instead")
    parser.add_argument("--only", default="", help="sizes whose title holds this text")
    given = parser.parse_args()
    if given.grow:
        for what, sizes in GROWTH:
            for size in sizes:
                measure(f"by {what}: {size[0]} groups, {size[1]} suppliers, {size[2]} offers", size, {}, given)
        return
    for title, size, options in SIZES:
        if given.only in title:
            measure(title, size, dict(options), given)


if __name__ == "__main__":
    main()
