"""The whole way of the work on random benches, with faults thrown in: ``python tests/whole/soak.py --count 100``.

Each bench goes through orders, deliveries, ticks, notes, papers, backups and imports, in random order. At random
the process is killed, the disk is full, the folder can't be written, a file is cut short, the clock goes
back, two commands run at once. After every step: the user's files are as they were, the record is sound
and holds all it ever confirmed, no file is half-written, every refusal says why. The exit status tells
whether anything was wrong; a seed gives the same steps again (moments of killing differ).
"""

from __future__ import annotations

import argparse
import json
import random
import re
import sys
import time
import urllib.request
import uuid
from collections import Counter
from contextlib import contextmanager
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import TYPE_CHECKING, Any

if __package__ in {None, ""}:
    sys.path.insert(0, str(Path(__file__).parent.parent.parent))

from tests.whole import faults, keepsakes
from tests.whole.bench_maker import make, write

if TYPE_CHECKING:
    from collections.abc import Iterator

FORUM = "Found on a page:\n\nC1 47uF 25V\nC2, C3 10uF 16V\nC4 - 100/16\nR5 4k7\n"
WELL = (0, 1, 2, 3)
FAULTS = ("none", "none", "none", "killed", "full", "small files", "read-only", "cut short", "two at once")


@dataclass
class Soak:
    """One bench on its disk, and what is known of it."""

    seed: int
    disk: faults.Disk
    wrong: list[str] = field(default_factory=list)
    did: Counter[str] = field(default_factory=Counter)

    def __post_init__(self) -> None:
        """Lay the bench out and remember it."""
        self.dice = random.Random(f"soak {self.seed}")
        self.bench = self.disk.home / "bench"
        write(make(self.seed, self.dice.choice(["tiny", "tiny", "medium"])), self.bench)
        (self.disk.home / "post.txt").write_text(FORUM, encoding="utf-8")
        (self.bench / "out").mkdir()
        self.files = keepsakes.users_files(self.bench)
        self.held = keepsakes.Remembered()
        self.names = 0

    @property
    def b(self) -> str:
        return str(self.bench)

    def new_name(self, ending: str) -> str:
        self.names += 1
        return str(self.bench / "out" / f"n{self.names}{ending}")

    def a_set(self) -> str:
        lines = (self.bench / "sets.csv").read_text(encoding="utf-8").splitlines()
        names = [line.split(",")[0] for line in lines[1:]]
        return self.dice.choice(names)

    def a_part(self) -> str:
        owed = [line["part"]["number"] for _, line in self.ordered_lines()]
        return self.dice.choice(owed) if owed else "nothing"

    def ordered_lines(self) -> list[tuple[str, dict[str, Any]]]:
        """Every line of every kept order, with the order's id."""
        return [
            (order, line)
            for order, text in self.held.orders.items()
            for supplier in json.loads(text)["order"]["suppliers"]
            for line in supplier["lines"]
        ]

    def words(self) -> tuple[str, ...]:
        """A command of the work, at random."""
        dice, b = self.dice, self.b
        part = self.a_part()
        choices: list[tuple[str, ...]] = [
            ("order", b, "--keep", "--no-compare"),
            ("order", b, "--no-compare", "--json"),
            ("order", b, "--no-compare", "--out", str(self.bench / "out" / "order"), "--force"),
            ("receive", b, "--all"),
            ("receive", b, "--all", "--line", f"{part}={dice.randint(0, 3)}"),
            ("receive", b, "--line", f"{part}={dice.randint(1, 9)}"),
            ("receive", b, "--instead", f"{part}=SUB-1", "--spec", "SUB-1=47uF 25V 105C radial 5x11 p2 5000h"),
            ("receive", b, "--close", "--json"),
            ("drawer", b, "--move", f"{part}={dice.choice(['-1', '2'])}", "--why", "counted"),
            ("drawer", b, "--counted", "all"),
            ("note", b, self.a_set(), "pad lifted", "--on", "2019-05-01"),
            ("work", b, self.a_set(), "symptom", "hum", "--hours", str(dice.randint(1, 9000))),
            ("bags", b, "--out", self.new_name(".xlsx")),
            ("labels", b, "--out", self.new_name(".pdf")),
            ("checklist", b, "--out", self.new_name(dice.choice([".pdf", ".html", ".xlsx"]))),
            ("audit", b, self.a_set(), "--json"),
            ("history", b, self.a_set(), "--json"),
            ("record", "backup", b, "--out", self.new_name(".db")),
            ("record", "export", b, "--out", self.new_name(dice.choice([".json", ""]))),
            ("record", "check", b),
            ("import", str(self.disk.home / "post.txt"), "--bench", b, "--chassis", "found", "--force"),
            ("new", str(self.bench / "out" / "new")),
        ]
        return dice.choice(choices)

    def check(self, *done: faults.Outcome) -> None:
        """Look after everything; what is new in the record is held to from now on."""
        for one in done:
            self.wrong += keepsakes.unclear(one, WELL)
        files = keepsakes.users_files(self.bench)
        for name, digest in self.files.items():
            if files.get(name) != digest and not name.startswith("caplists/found"):
                self.wrong.append(f"{name} lost or changed by {[one.words for one in done]}")
        now = keepsakes.look_into(self.bench)
        self.wrong += keepsakes.nothing_lost(self.held, now)
        self.wrong += [
            f"after {[one.words for one in done]}: {text}" for text in keepsakes.half_written(self.bench / "out")
        ]
        for one in done:
            self.wrong += self.not_kept(one, now)
        self.held, self.files = now, files

    def not_kept(self, done: faults.Outcome, now: keepsakes.Remembered) -> list[str]:
        """What a command said it had kept, and the record doesn't hold."""
        said = re.findall(r"kept in the record as order ([\d-]+)", done.err)
        return [f"said and not kept: {done}"] if not {*said} <= {*now.orders} else []

    def step(self) -> None:
        """One command with one fault, or none."""
        fault = self.dice.choice(FAULTS)
        words = self.words()
        self.did[fault] += 1
        self.did[f"{words[0]} {words[1]}" if words[0] == "record" else words[0]] += 1
        {
            "none": self.plainly, "killed": self.killed, "full": self.full, "small files": self.small_files,
            "read-only": self.read_only, "cut short": self.cut_short, "two at once": self.two_at_once,
        }[fault](words)  # fmt: skip

    def plainly(self, words: tuple[str, ...]) -> None:
        self.check(faults.run(*words))

    def killed(self, words: tuple[str, ...]) -> None:
        running = faults.start(*words)
        time.sleep(self.dice.choice([0.01, 0.05, 0.1, 0.2, 0.3, 0.5, 0.8]) * self.dice.random() * 2)
        running.kill()
        self.check(running.wait())
        for left in keepsakes.unfinished(self.bench):
            Path(left).unlink()  # a process that was killed can't tidy up; nobody mistakes these for anything

    def full(self, words: tuple[str, ...]) -> None:
        with self.disk.full(self.dice.choice([0, 0, 4096, 20_000, 100_000])):
            done = faults.run(*words)
        self.check(done)
        self.tidy(done)

    def small_files(self, words: tuple[str, ...]) -> None:
        done = faults.run(*words, largest_file=self.dice.choice([0, 1000, 4096, 30_000, 60_000]))
        self.check(done)
        self.tidy(done)

    def read_only(self, words: tuple[str, ...]) -> None:
        with self.disk.read_only():
            done = faults.run(*words)
        self.check(done)
        self.tidy(done)

    def tidy(self, done: faults.Outcome) -> None:
        """A command that ended by itself leaves nothing unfinished behind."""
        for left in keepsakes.unfinished(self.bench):
            self.wrong.append(f"left behind: {left} by {done}")
            Path(left).unlink()

    def cut_short(self, words: tuple[str, ...]) -> None:
        """A file of the bench as a copy that broke off leaves it."""
        names = [name for name in self.files if (self.bench / name).exists()]
        names += ["record.db"] if self.held.events and not (self.bench / "record.db-wal").exists() else []
        path = self.bench / self.dice.choice(names)
        whole = path.read_bytes()
        stub = whole[: self.dice.randint(0, max(len(whole) - 1, 0))]
        path.write_bytes(stub)
        beside = {name: self.bench / name for name in ("record.db-wal", "record.db-shm")}
        done = faults.run(*words)
        self.wrong += keepsakes.unclear(done, WELL)
        if path.name != "record.db":
            if path.read_bytes() != stub and "found" not in path.name:
                self.wrong.append(f"{path.name}, cut short, was written over by {done}")
        else:
            for other in beside.values():
                other.unlink(missing_ok=True)
        path.write_bytes(whole)
        self.check()

    def two_at_once(self, words: tuple[str, ...]) -> None:
        others = self.words() if self.dice.random() < 0.5 else words
        before = self.booked()
        both = [faults.start(*words), faults.start(*others)]
        self.check(*[running.wait() for running in both])
        if words == others == ("receive", self.b, "--all"):
            self.booked_once(before)

    def booked(self) -> Counter[tuple[str, str]]:
        """Pieces that came, by order and part."""
        came: Counter[tuple[str, str]] = Counter()
        for row in self.held.events.values():
            if row[0] == "received":
                data = json.loads(str(row[7]))
                came[data["order"], f"{data['supplier']} {data['part']}"] += int(data["qty"])
        return came

    def booked_once(self, before: Counter[tuple[str, str]]) -> None:
        """Two that book all that is owed at the same time book it once."""
        came = self.booked()
        for order, line in self.ordered_lines():
            name = order, f"{line['part']['supplier']} {line['part']['number']}"
            owed = max(int(line["qty"]) - before[name], 0)
            if came[name] - before[name] > owed:
                self.wrong.append(f"booked twice: {name}, {came[name] - before[name]} where {owed} were owed")

    def clock_back(self) -> None:
        """Events and an order that a clock put back by years gives their times."""
        from recap.audit.events import EventKind, new_event
        from recap.audit.record import open_record

        before = datetime.now(UTC) - timedelta(days=self.dice.randint(1, 4000))
        with open_record(self.bench) as record:
            record.append([new_event(EventKind.NOTE, before, set=self.a_set(), data={"text": "early"})], before)
            kept = record.orders()
            if kept:
                record.keep(kept[0].order, kept[0].groups, before, kept[0].currency)
        self.did["clock back"] += 1
        self.check(faults.run("history", self.b), faults.run("receive", self.b))

    @contextmanager
    def page(self) -> Iterator[tuple[faults.Running, str]]:
        """The bench page, served."""
        running = faults.start("bench", self.b, "--port", "0")
        end = time.monotonic() + 300
        while not (address := running.text("out").strip()) and time.monotonic() < end:
            time.sleep(0.02)
        try:
            yield running, address.splitlines()[0] if address else ""
        finally:
            running.kill()
            self.check(running.wait())

    def ticks(self) -> None:
        """Ticks through the page, whose process is killed in their midst; some are sent twice."""
        confirmed: list[str] = []
        with self.page() as (running, address):
            if not address:
                self.wrong.append(f"the page didn't start: {running.text('err')}")
                return
            last = self.dice.randint(1, 6)
            for at, batch in enumerate(self.batches(last + 1)):
                if at == last:
                    running.kill()
                try:
                    confirmed += post(address, batch)
                    if self.dice.random() < 0.3:
                        confirmed += post(address, batch)
                except OSError:
                    break
        self.did["ticks"] += len(confirmed)
        self.wrong += [f"tick {tick} was confirmed and is lost" for tick in confirmed if tick not in self.held.events]

    def batches(self, count: int) -> list[list[dict[str, Any]]]:
        """Batches of ticks on positions of the bench."""
        from recap.audit.places import places_of
        from recap.bench import load_bench

        bench, _ = load_bench(self.bench)
        keys = [p.key for unit in bench.sets for p in places_of(unit, bench.caplists[unit.chassis], {}) if p.on_job]
        made = []
        for _ in range(count):
            chosen = [self.dice.choice(keys) for _ in range(self.dice.randint(1, 5))] if keys else []
            made.append([
                {"id": str(uuid.uuid4()), "kind": self.dice.choice(["out", "in", "checked"]), "by": "phone",
                 "at": datetime.now(UTC).isoformat(), "set": key.set, "board": key.board, "ref": key.ref}
                for key in chosen
            ])  # fmt: skip
        return made

    def out_and_in(self) -> None:
        """Export into a file and a folder, import into an empty bench: the same record."""
        for ending in (".json", ""):
            name = self.new_name(ending)
            told = faults.run("record", "export", self.b, "--out", name)
            self.check(told)
            if told.status != 0:
                continue
            other = self.disk.home / f"other{self.names}"
            other.mkdir()
            back = faults.run("record", "import", str(other), name)
            self.wrong += keepsakes.unclear(back, (0,))
            found = keepsakes.look_into(other)
            plain = {key: row[:-1] for key, row in self.held.events.items()}
            if {key: row[:-1] for key, row in found.events.items()} != plain or found.orders != self.held.orders:
                self.wrong.append(f"export and import of {name} differ: {back}")

    def whole_way(self, steps: int) -> None:
        """The work from the first order to the story, and at the end everything still answers."""
        self.check(faults.run("order", self.b, "--keep", "--no-compare"))
        for at in range(steps):
            self.step()
            if at % 6 == 2:
                self.ticks()
            if at % 9 == 4:
                self.clock_back()
            if len(self.wrong) > 5:
                return
        self.out_and_in()
        for words in (("history", self.b), ("receive", self.b), ("drawer", self.b), ("audit", self.b, self.a_set())):
            done = faults.run(*words)
            self.wrong += keepsakes.unclear(done, (0,))
        self.check()


def post(address: str, events: list[dict[str, Any]]) -> list[str]:
    """The ids of the events that the page says are recorded."""
    request = urllib.request.Request(
        f"{address}api/events",
        json.dumps({"events": events}).encode(),
        {"content-type": "application/json", "origin": address.rstrip("/")},
    )
    with urllib.request.urlopen(request, timeout=120) as answer:
        results = json.load(answer)["results"]
    return [result["id"] for result in results if result["status"] == "recorded"]


def soak(seed: int, steps: int) -> Soak:
    """One bench on a disk of its own."""
    disk = faults.Disk()
    try:
        one = Soak(seed, disk)
        one.whole_way(steps)
        return one
    finally:
        disk.close()


def main() -> int:
    """Soak as many benches as asked for; the status is 1 where anything was wrong."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--count", type=int, default=20, help="benches")
    parser.add_argument("--seed", type=int, default=1, help="of the first bench")
    parser.add_argument("--steps", type=int, default=25, help="commands on each bench")
    asked = parser.parse_args()
    faults.preload()
    did: Counter[str] = Counter()
    bad = 0
    for done, seed in enumerate(range(asked.seed, asked.seed + asked.count)):
        one = soak(seed, asked.steps)
        did += one.did
        bad += bool(one.wrong)
        for text in one.wrong[:6]:
            sys.stdout.write(f"seed {seed}: {text}\n")
        sys.stdout.flush()
        if done % 20 == 19:
            sys.stderr.write(f"{done + 1} benches, {bad} with something wrong\n")
    sys.stdout.write(f"{asked.count} benches, {bad} with something wrong; {dict(did.most_common())}\n")
    return int(bool(bad))


if __name__ == "__main__":
    sys.exit(main())
