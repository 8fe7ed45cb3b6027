"""Many random benches through the tool and through a solver of our own: ``python tests/whole/campaign.py --count 300``.

Every order's lines are priced again, every rule is looked at, and the total is compared to six decimals. A bench on
which the two differ is kept under ``--keep`` and named; the exit status says whether there was one.
"""

from __future__ import annotations

import argparse
import statistics
import sys
import tempfile
import time
from dataclasses import dataclass, field
from fractions import Fraction
from pathlib import Path
from typing import TYPE_CHECKING, Any

if __package__ in {None, ""}:
    sys.path.insert(0, str(Path(__file__).parent.parent.parent))

from tests.whole import the_tool
from tests.whole.bench_maker import SIZES, SMALL, make, write
from tests.whole.own_files import read_workshop
from tests.whole.own_matching import needs
from tests.whole.own_pricing import Printed, complaints, money_complaints
from tests.whole.own_solver import Best, brute_force, own_optimum

if TYPE_CHECKING:
    from tests.whole.own_files import Workshop
    from tests.whole.own_matching import Need

SIX_DECIMALS = Fraction(1, 2_000_000)


@dataclass(frozen=True)
class Trial:
    """One bench: what was wrong, how it ended, how long the tool took."""

    wrong: list[str]
    ended: str
    seconds: float


@dataclass
class Tally:
    """A campaign so far."""

    seconds: list[float] = field(default_factory=list)
    ended: dict[str, int] = field(default_factory=dict)
    bad: list[str] = field(default_factory=list)


def try_bench(folder: Path, size: str, seconds: float, limit: float = 0) -> Trial:
    """One bench through both; a limit lets the tool stop with an order it has not proven."""
    shop = read_workshop(folder)
    wants = needs(shop)
    answer = the_tool.run("order", str(folder), "--json", *(["--time-limit", str(limit)] if limit else []))
    doc = answer.doc
    if not isinstance(doc, dict) or "suppliers" not in doc:
        return Trial([f"exit {answer.status}: {doc} {answer.said}"[:2000]], "error", answer.seconds)
    if doc["status"] == "impossible":
        return impossible(shop, wants, answer, seconds)
    wrong = complaints(shop, wants, doc)
    if answer.status != 0 or doc["status"] not in ({"optimal", "feasible"} if limit else {"optimal"}):
        wrong.append(f"status {doc['status']}, exit {answer.status}")
    if doc["unmet"]:
        wrong.append(f"an order, and yet unmet: {doc['unmet']}")
    own, trial = optimum(shop, wants, size, seconds), Trial(wrong, doc["status"], answer.seconds)
    return unproven(doc, own, trial) if doc["status"] == "feasible" else compare(doc, own, trial)


def unproven(doc: dict[str, Any], own: Best | None, trial: Trial) -> Trial:
    """An order that is not called the best: its bound must be true."""
    wrong = list(trial.wrong)
    if own is not None and (own.total is None or Fraction(doc["bound"]) > own.total + SIX_DECIMALS):
        wrong.append(f"bound {doc['bound']} of {doc['total']}, ours is {own}")
    return Trial(wrong, trial.ended, trial.seconds)


def compare(doc: dict[str, Any], own: Best | None, trial: Trial) -> Trial:
    """The printed total, parcels and lines against our own."""
    wrong, ended, printed = list(trial.wrong), trial.ended, Fraction(doc["total"])
    if own is None:
        return Trial(wrong, "own solver: no order in time", trial.seconds)
    if own.total is None:
        wrong.append(f"total {doc['total']}, our solver says impossible")
        return Trial(wrong, ended, trial.seconds)
    exact = own.fewest or own.total - Fraction(own.bound) <= SIX_DECIMALS
    if printed > own.total + SIX_DECIMALS:
        wrong.append(f"total {doc['total']}, there is one of {float(own.total):.9f}")
    if printed < own.total - SIX_DECIMALS:
        ended = "own solver: dearer"
        if exact:
            wrong.append(f"total {doc['total']}, below our proven {float(own.total):.9f}")
    elif not exact:
        ended = "optimal, own proof open"
    if abs(Fraction(doc["bound"]) - printed) > SIX_DECIMALS:
        wrong.append(f"bound {doc['bound']} of total {doc['total']}")
    parcels, lines = len(doc["suppliers"]), sum(len(parcel["lines"]) for parcel in doc["suppliers"])
    better_rank = (parcels, lines) > (own.suppliers, own.lines)
    if printed == own.total and better_rank:
        wrong.append(f"{parcels} parcels, {lines} lines; {own.suppliers}, {own.lines} cost the same")
    if printed == own.total and own.fewest and (parcels, lines) < (own.suppliers, own.lines):
        wrong.append(f"{parcels} parcels, {lines} lines; fewer than all of ours")
    return Trial(wrong, ended, trial.seconds)


def optimum(shop: Workshop, wants: list[Need], size: str, seconds: float) -> Best | None:
    """Everything tried where that is possible, else the program."""
    if size in SMALL:
        try:
            return brute_force(shop, wants)
        except OverflowError:
            pass
    return own_optimum(shop, wants, seconds)


def impossible(shop: Workshop, wants: list[Need], answer: the_tool.Answer, seconds: float) -> Trial:
    """No order: ours must agree, and each group that can't be had even alone is named, with a reason."""
    wrong, doc = [], answer.doc
    if answer.status != 3 or doc["total"] is not None or doc["bound"] is not None or doc["suppliers"]:
        wrong.append(f"impossible, and yet exit {answer.status}, total {doc['total']}, {doc['suppliers']}")
    unmet = unmet_of(doc)
    wrong += [f"no reason for {entry['group']}" for entry in doc["unmet"] if not entry.get("reason")]
    if not unmet:
        wrong.append("impossible, and nothing unmet")
    alone = [need for need in wants if can_not_be_had(shop, need, wants)]
    own = Best(None) if alone else own_optimum(shop, wants, seconds)
    if own is not None and own.total is not None:
        wrong.append(f"impossible, and yet there is {own}")
    wrong += [
        f"{need.name} {sorted(need.positions)} can't be had, and is not in unmet"
        for need in alone
        if (need.positions or need.name) not in unmet
    ]
    had = [need for need in wants if (need.positions or need.name) not in unmet]
    wrong += part_order(shop, had, doc.get("part_order"), seconds)
    if len(unmet) > len(alone):
        rest = own_optimum(shop, [need for need in wants if need not in alone], seconds)
        if rest is not None and rest.total is not None:
            wrong.append(f"{len(unmet)} unmet, all but {len(alone)} can be had together: {sorted(map(str, unmet))}")
    return Trial(wrong, "impossible", answer.seconds)


def can_not_be_had(shop: Workshop, need: Need, wants: list[Need]) -> bool:
    """Whether no order at all meets this need, whatever else is bought with it."""
    best = own_optimum(shop, [need], 20)
    if best is not None and best.total is None:
        best = own_optimum(shop, [need], 20, fillers=wants)
    return best is not None and best.total is None


def part_order(shop: Workshop, had: list[Need], part: dict[str, Any] | None, seconds: float) -> list[str]:
    """The cheapest order for what can be had: priced again, and no cheaper one exists."""
    if part is None:
        return ["no part order"] if had else []
    wrong = [f"part order: {line}" for line in money_complaints(Printed(shop, had, part))]
    own = own_optimum(shop, had, seconds)
    if own is not None and own.total is not None and Fraction(part["total"]) > own.total + SIX_DECIMALS:
        wrong.append(f"part order: {part['total']}, there is one of {float(own.total):.9f}")
    return wrong


def unmet_of(doc: dict[str, Any]) -> set[frozenset[tuple[str, str]] | str]:
    """The unmet groups by their positions, extras by their names."""
    where = {
        group["group"]: frozenset((p["set"], p["ref"]) for p in group["positions"] if p.get("ref"))
        for group in [*doc["groups"], *doc["unmet"]]
        if "positions" in group
    }
    return {where.get(entry["group"]) or entry["group"] for entry in doc["unmet"]}


def campaign(size: str, seeds: range, keep: Path, seconds: float, limit: float) -> Tally:
    """All seeds of one size; progress goes to standard error."""
    tally = Tally()
    for seed in seeds:
        folder = write(make(seed, size), Path(tempfile.mkdtemp(dir=keep, prefix=f"{size}-{seed}-")))
        start = time.perf_counter()
        trial = try_bench(folder, size, seconds, limit)
        spent = time.perf_counter() - start
        tally.seconds.append(trial.seconds)
        tally.ended[trial.ended] = tally.ended.get(trial.ended, 0) + 1
        if trial.wrong:
            tally.bad.append(f"{size} {seed}: {folder}")
        sys.stderr.write(f"{size} {seed} {trial.ended} {trial.seconds:.2f} s of {spent:.2f} s\n")
        sys.stderr.writelines(f"    {line}\n" for line in trial.wrong)
        if not trial.wrong:
            discard(folder)
    return tally


def discard(folder: Path) -> None:
    for path in sorted(folder.rglob("*"), reverse=True):
        path.rmdir() if path.is_dir() else path.unlink()
    folder.rmdir()


def main() -> int:
    """The command line."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--count", type=int, default=30, help="benches of each size")
    parser.add_argument("--first", type=int, default=0, help="first seed")
    parser.add_argument("--sizes", default=",".join(SIZES), help="which of " + ", ".join(SIZES))
    parser.add_argument("--seconds", type=float, default=60, help="most time for our own program on one bench")
    parser.add_argument("--limit", type=float, default=0, help="time limit for the tool on one bench; 0: none")
    parser.add_argument("--keep", type=Path, default=None, help="where failing benches stay")
    told = parser.parse_args()
    keep = told.keep or Path(tempfile.mkdtemp(prefix="benches-"))
    keep.mkdir(parents=True, exist_ok=True)
    bad: list[str] = []
    for size in told.sizes.split(","):
        tally = campaign(size, range(told.first, told.first + told.count), keep, told.seconds, told.limit)
        times = sorted(tally.seconds)
        sys.stdout.write(
            f"{size}: {told.count} benches, {len(tally.bad)} differ; {tally.ended}; tool's seconds: "
            f"median {statistics.median(times):.2f}, 90 % {times[int(len(times) * 0.9)]:.2f}, most {times[-1]:.2f}\n"
        )
        bad += tally.bad
    sys.stdout.writelines(f"differs: {line}\n" for line in bad)
    return 1 if bad else 0


if __name__ == "__main__":
    sys.exit(main())
