"""The whole way of the work on random benches, with faults thrown in: ``python tests/whole/soak.py --count 100``.

Each bench goes through orders, deliveries, the bench page, notes, papers, merged price lists, imported lists, backups
and exports, in random order. At random the process is killed or interrupted, the disk is full, the folder can't be
written, a file is cut short, the clock goes back, two commands run at once. After every step: the user's files are
as they were, or replaced as asked and kept beside; the record is sound and holds all it ever confirmed; the page shows
what it holds; no file is half-written; every refusal says why. The exit status tells whether anything was wrong; a
seed gives the same steps again (moments of killing differ).
"""

from __future__ import annotations

import argparse
import sys
import time
from collections import Counter
from datetime import timedelta
from pathlib import Path

if __package__ in {None, ""}:
    sys.path.insert(0, str(Path(__file__).parent.parent.parent))

from tests.whole import faults, keepsakes
from tests.whole.soak_page import at_the_bench
from tests.whole.soak_work import Work

FAULTS = (
    "none", "none", "none", "killed", "interrupted", "full", "small files", "read-only", "cut short", "two at once",
    "clock back",
)  # fmt: skip


class Soak(Work):
    """The work on one bench with faults thrown in."""

    def step(self) -> None:
        """One command with one fault, or none."""
        fault = self.dice.choice(FAULTS)
        words = self.words()
        self.did[fault] += 1
        self.did[f"{words[0]} {words[1]}" if words[0] == "record" else words[0]] += 1
        {
            "none": self.plainly, "killed": self.killed, "interrupted": self.interrupted, "full": self.full,
            "small files": self.small_files, "read-only": self.read_only, "cut short": self.cut_short,
            "two at once": self.two_at_once, "clock back": self.clock_back,
        }[fault](words)  # fmt: skip

    def plainly(self, words: tuple[str, ...]) -> None:
        self.check(faults.run(*words))

    def killed(self, words: tuple[str, ...]) -> None:
        running = faults.start(*words)
        time.sleep(self.dice.choice([0.01, 0.05, 0.1, 0.2, 0.3, 0.5, 0.8]) * self.dice.random() * 2)
        running.kill()
        self.check(running.wait())
        for left in keepsakes.unfinished(self.bench):
            left.unlink()  # a process that was killed can't tidy up; nobody mistakes these for anything

    def interrupted(self, words: tuple[str, ...]) -> None:
        running = faults.start(*words)
        time.sleep(self.dice.choice([0.05, 0.1, 0.2, 0.3, 0.5, 0.8]) * self.dice.random() * 2)
        running.interrupt()
        done = running.wait()
        self.check(done)
        self.tidy(done)

    def clock_back(self, words: tuple[str, ...]) -> None:
        self.check(faults.run(*words, back=timedelta(days=self.dice.randint(1, 4000))))

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
            left.unlink()

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
        self.wrong += keepsakes.unclear(done)
        if path.name != "record.db":
            lost = {path.relative_to(self.bench).as_posix(): keepsakes.digest(stub)}
            if keepsakes.files_lost(lost, keepsakes.users_files(self.bench)):
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

    def booked_once(self, before: Counter[tuple[str, str]]) -> None:
        """Two that book all that is owed at the same time book it once."""
        came = self.booked()
        for order, line in self.ordered_lines():
            name = order, f"{line['part']['supplier']} {line['part']['number']}"
            owed = max(int(line["qty"]) - before[name], 0)
            if came[name] - before[name] > owed:
                self.wrong.append(f"booked twice: {name}, {came[name] - before[name]} where {owed} were owed")

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
            found = keepsakes.look_into(other / "record.db")
            plain = {key: row[:-1] for key, row in self.held.events.items()}
            if {key: row[:-1] for key, row in found.events.items()} != plain or found.orders != self.held.orders:
                self.wrong.append(f"export and import of {name} differ: {back}")

    def whole_way(self, steps: int) -> None:
        """The work from the first order to the story, and at the end everything still answers."""
        self.check(faults.run("order", self.b, "--keep", "--no-compare"))
        for at in range(steps):
            self.step()
            if at % 6 == 2:
                at_the_bench(self)
            if len(self.wrong) > 5:
                return
        self.out_and_in()
        for words in (("history", self.b), ("receive", self.b), ("drawer", self.b), ("audit", self.b, self.a_set())):
            done = faults.run(*words)
            self.wrong += keepsakes.unclear(done, (0,))
        self.check()


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
