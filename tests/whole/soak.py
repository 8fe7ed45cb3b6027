"""The whole way of the work on random benches, with faults thrown in: ``python tests/whole/soak.py --count 100``.

Each bench goes through orders, deliveries, the bench page, notes, papers, merged price lists, imported lists, backups
and exports, in random order. At random the process is killed or interrupted, at any time or just while it writes, the
disk is full, the folder can't be written, a file is cut short, emptied or has holes, the clock goes back, two commands
run at once, nobody listens to the answer. After every step: the user's files are as they were, or replaced as asked and
kept beside; the record is sound and holds all it ever confirmed; the page shows what it holds; no file is
half-written; every refusal says why and what to do; what is stopped says what it did before. The exit status tells
whether anything was wrong; a seed gives the same steps again (moments of killing may differ).
"""

from __future__ import annotations

import argparse
import re
import signal
import sys
import time
from collections import Counter
from datetime import timedelta
from itertools import pairwise
from pathlib import Path

if __package__ in {None, ""}:
    sys.path.insert(0, str(Path(__file__).parent.parent.parent))

from tests.whole import faults, keepsakes
from tests.whole.moments import Moments
from tests.whole.soak_page import at_the_bench
from tests.whole.soak_work import Words, Work


class Soak(Work):
    """The work on one bench with faults thrown in."""

    def step(self) -> None:
        """One command with one fault, or none."""
        kinds = {
            "none": (self.plainly, 4), "killed": (self.killed, 1), "killed writing": (self.killed_writing, 3),
            "interrupted": (self.interrupted, 1), "interrupted writing": (self.interrupted_writing, 3),
            "full": (self.full, 1), "small files": (self.small_files, 1), "read-only": (self.read_only, 1),
            "spoilt": (self.spoilt, 2), "two at once": (self.two_at_once, 2), "clock back": (self.clock_back, 1),
            "nobody listens": (self.nobody_listens, 1),
        }  # fmt: skip
        (fault,) = self.dice.choices([*kinds], [weight for _, weight in kinds.values()])
        words = self.words()
        self.did[fault] += 1
        self.did[f"{words[0]} {words[1]}" if words[0] == "record" else words[0]] += 1
        kinds[fault][0](words)
        self.settle()

    def settle(self) -> None:
        """Storing a list over one of another ending may be killed between the two: done then is what recap says."""
        old = self.bench / "caplists" / "found.txt"
        if not (old.exists() and old.with_suffix(".csv").exists()):
            return
        said = faults.run("drawer", self.b)
        if said.status != 1 or not re.search(r"found\.txt is kept as found\.txt\.old\d+, too: delete it", said.err):
            self.wrong.append(f"two lists of one name, and no word which of them may go: {said}")
        self.did["two lists of one name"] += 1
        old.unlink()

    def plainly(self, words: Words) -> None:
        self.check(faults.run(*words))

    def killed(self, words: Words) -> None:
        running = faults.start(*words)
        time.sleep(self.dice.choice([0.01, 0.05, 0.1, 0.2, 0.3, 0.5, 0.8]) * self.dice.random() * 2)
        running.kill()
        self.dead(running.wait())

    def killed_writing(self, words: Words) -> None:
        self.dead(faults.run(*words, moment=self.moment(signal.SIGKILL)))

    def dead(self, done: faults.Outcome) -> None:
        """A process that was killed can't tidy up; what it left is mistaken for nothing, now and later."""
        self.did["killed in time"] += done.status is None
        self.check(done)
        for left in keepsakes.unfinished(self.bench) - self.left:
            if self.dice.random() < 0.5:
                keepsakes.clear(left)
            else:
                self.left.add(left)

    def interrupted(self, words: Words) -> None:
        running = faults.start(*words)
        time.sleep(self.dice.choice([0.05, 0.1, 0.2, 0.3, 0.5, 0.8]) * self.dice.random() * 2)
        running.interrupt()
        self.ended(running.wait())

    def interrupted_writing(self, words: Words) -> None:
        done = faults.run(*words, moment=self.moment(signal.SIGINT))
        self.did["interrupted in time"] += done.status == faults.INTERRUPTED
        self.ended(done)

    def moment(self, number: signal.Signals) -> Moments:
        dice = self.dice
        return Moments(self.disk.home, number, dice.randint(1, dice.choice([6, 12, 25, 50])))

    def clock_back(self, words: Words) -> None:
        done = faults.run(*words, back=timedelta(days=self.dice.randint(1, 4000)))
        self.ended(done)
        if "damaged" in done.err + done.out:
            self.wrong.append(f"the record is called damaged because the clock went back: {done}")

    def full(self, words: Words) -> None:
        with self.disk.full(self.dice.choice([0, 0, 4096, 20_000, 100_000])):
            done = faults.run(*words)
        self.ended(done)

    def small_files(self, words: Words) -> None:
        self.ended(faults.run(*words, largest_file=self.dice.choice([0, 1000, 4096, 30_000, 60_000])))

    def read_only(self, words: Words) -> None:
        with self.disk.read_only():
            done = faults.run(*words)
        self.ended(done)

    def nobody_listens(self, words: Words) -> None:
        running = faults.start(*words)
        running.stop_listening()
        self.ended(running.wait())

    def ended(self, done: faults.Outcome) -> None:
        """A command that ended by itself leaves nothing unfinished behind."""
        self.check(done)
        for left in keepsakes.unfinished(self.bench) - self.left:
            self.wrong.append(f"left behind: {left} by {done}")
            keepsakes.clear(left)

    def spoilt(self, words: Words) -> None:
        """A file as a copy that broke off, or a disk that lost its power, leaves it: never written over."""
        named = [Path(word) for before, word in pairwise(words) if before not in {"--out", "--plot"}]
        names = [self.bench / name for name in self.files] + [path for path in named if path.is_file()] * 3
        if self.held.events and not (self.bench / "record.db-wal").exists():
            names += [self.bench / "record.db"] * 3
        path = self.dice.choice(names)
        whole = path.read_bytes()
        stub, kind = self.spoil(whole)
        self.did[f"spoilt: {kind}"] += 1
        path.write_bytes(stub)
        done = faults.run(*words)
        self.wrong += keepsakes.unclear(done)
        now = [other.read_bytes() for other in path.parent.glob(f"{path.name}*") if other.is_file()]
        if path.name == "record.db":  # where only a hole is in it, what is whole may be used
            if kind != "holes" and path.read_bytes() != stub:
                self.wrong.append(f"record.db, {kind}, was written to by {done}")
            for other in ("record.db-wal", "record.db-shm"):
                (self.bench / other).unlink(missing_ok=True)
        elif stub not in now and not (path.name == keepsakes.GROWS and path.read_bytes().startswith(stub)):
            self.wrong.append(f"{path.name}, {kind}, was written over by {done}")
        path.write_bytes(whole)
        self.check(told=[words])

    def spoil(self, whole: bytes) -> tuple[bytes, str]:
        """A content as it may be left half-written, and the word for that."""
        dice = self.dice
        at = dice.randint(0, max(len(whole) - 1, 0))
        kind = dice.choice(["cut short", "cut short", "emptied", "zeros at its end", "holes"])
        if kind == "cut short":
            return whole[:at], kind
        if kind == "emptied":
            return b"", kind
        if kind == "zeros at its end":
            return whole[:at].ljust(len(whole), b"\0"), kind
        hole = dice.choice([1, 16, 512, 4096])
        at -= at % hole
        return whole[:at] + b"\0" * len(whole[at : at + hole]) + whole[at + hole :], kind

    def two_at_once(self, words: Words) -> None:
        others = self.words() if self.dice.random() < 0.5 else words
        before, orders = self.booked(), len(self.held.orders)
        both = [faults.start(*words), faults.start(*others)]
        self.check(*[running.wait() for running in both])
        if words == others == ("receive", self.b, "--all"):
            self.booked_once(before)
        if words == others and "--keep" in words and len(self.held.orders) > orders + 1:
            self.wrong.append(f"the same order kept twice at once: {words}")

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
            same = found.orders == self.held.orders and found.photos == self.held.photos
            if not same or {key: row[:-1] for key, row in found.events.items()} != plain:
                self.wrong.append(f"export and import of {name} differ: {back}")

    def whole_way(self, steps: int) -> None:
        """The work from the first order to the story, and at the end everything still answers."""
        if self.dice.random() < 0.7:  # else the record begins in the midst of a fault
            self.check(faults.run("order", self.b, "--keep", "--no-compare"))
        for at in range(steps):
            self.step()
            if at % 6 == 2:
                at_the_bench(self)
            if len(self.wrong) > 5:
                return
        if not self.held.events:
            self.check(faults.run("note", self.b, self.a_set(), "nothing yet"))
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
