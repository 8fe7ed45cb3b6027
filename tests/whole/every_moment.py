"""Commands stopped at every moment of their writing, one after the other: ``python tests/whole/every_moment.py``.

The soak throws dice; this leaves nothing out. Each command that writes is killed, and interrupted as by Ctrl-C, at the
first moment, at the second, and so on until it comes to its end (``moments.py`` tells what a moment is), each time on
the same bench. What must hold then is what the soak asks after every step; and done again, the command succeeds, or
says that it was done.
"""

from __future__ import annotations

import argparse
import shutil
import signal
import sys
from pathlib import Path

if __package__ in {None, ""}:
    sys.path.insert(0, str(Path(__file__).parent.parent.parent))

from tests.whole import faults, keepsakes
from tests.whole.moments import Moments
from tests.whole.soak import Soak
from tests.whole.soak_work import POST, Words

DONE_ALREADY = ("order-twice", "would-overwrite", "file-exists", "list-exists", "nothing-owed")
"""What a command may say when it is done again after it was stopped."""


class Stopped(Soak):
    """One bench, laid out anew for each moment."""

    def lay_out(self) -> None:
        """Keep an order and a few papers, and a copy of all that."""
        (self.bench / "caplists" / "found.txt").write_text("C1 1uF 50V\n", encoding="utf-8")
        for words in (("order", self.b, "--keep", "--no-compare"), ("labels", self.b, "--out", f"{self.b}/out/l.pdf")):
            self.wrong += keepsakes.unclear(faults.run(*words), (0,))
        self.saved = self.disk.home / "saved"
        shutil.copytree(self.bench, self.saved)

    def back(self) -> None:
        """Put everything back as it was saved."""
        shutil.rmtree(self.bench)
        shutil.copytree(self.saved, self.bench)
        self.left = set()
        self.held = keepsakes.look_into(self.bench / "record.db")
        self.files, self.written = keepsakes.users_files(self.bench), keepsakes.papers(self.bench)

    def commands(self) -> dict[str, Words]:
        """Every command that writes."""
        b, unit, part = self.b, self.a_set(), self.a_part()
        post = self.disk.home / "post-C9001.txt"
        post.write_text(POST.format(mark=9001), encoding="utf-8")
        found = "import", str(post), "--bench", b, "--chassis"
        export = str(self.disk.home / "export.json")
        faults.run("note", b, unit, "what another machine recorded")
        faults.run("record", "export", b, "--out", export)
        return {
            "order kept": ("order", b, "--keep", "--no-compare", "--spares", "3"),
            "order in files": ("order", b, "--no-compare", "--out", f"{b}/out/order", "--plot", f"{b}/out/o.svg"),
            "goods in": ("receive", b, "--all"),
            "drawer": ("drawer", b, "--move", f"{part}=2", "--why", "counted"),
            "note": ("note", b, unit, "pad lifted"),
            "work": ("work", b, unit, "symptom", "hum", "--hours", "12"),
            "list": (*found, "new", "--sets", "new-1"),
            "list in the place of another": (*found, "found", "--force"),
            "prices": (*self.merge_prices()[:5], "--yes"),
            "paper": ("checklist", b, "--out", f"{b}/out/new.html"),
            "paper in the place of another": ("labels", b, "--out", f"{b}/out/l.pdf", "--force"),
            "backup": ("record", "backup", b, "--out", f"{b}/out/copy.db"),
            "export": ("record", "export", b, "--out", f"{b}/out/copy.json"),
            "export as tables": ("record", "export", b, "--out", f"{b}/out/copy"),
            "import of a record": ("record", "import", b, export),
            "new bench": ("new", f"{b}/out/bench", "--empty"),
        }

    def at_each(self, words: Words, number: signal.Signals) -> int:
        """Stop the command at one moment after the other; return how many there are."""
        nth = 0
        while True:
            nth += 1
            self.back()
            done = faults.run(*words, moment=Moments(self.disk.home, number, nth))
            stopped = done.status is None if number is signal.SIGKILL else done.status == faults.INTERRUPTED
            self.dead(done) if number is signal.SIGKILL else self.ended(done)
            again = faults.run(*words)
            self.check(again)
            if again.status != 0 and not any(f"[{code}]" in again.err for code in DONE_ALREADY):
                self.wrong.append(f"after {number.name} at moment {nth} it can't be done again: {again}")
            if not stopped or self.wrong:
                return nth - 1


def main() -> int:
    """Try every command, or those named; the status is 1 where anything was wrong."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--seed", type=int, default=1, help="of the bench")
    parser.add_argument("names", nargs="*", help="which commands; none: all")
    asked = parser.parse_args()
    faults.preload()
    disk, bad = faults.Disk(), 0
    try:
        one = Stopped(asked.seed, disk)
        one.lay_out()
        one.back()
        commands = one.commands()
        for name in asked.names or commands:
            counts = [one.at_each(commands[name], number) for number in (signal.SIGKILL, signal.SIGINT)]
            sys.stdout.write(f"{name}: {counts[0]} moments to be killed, {counts[1]} to be interrupted\n")
            sys.stdout.flush()
            sys.stdout.writelines(f"{text}\n" for text in one.wrong)
            bad += bool(one.wrong)
            one.wrong = []
    finally:
        disk.close()
    return int(bool(bad))


if __name__ == "__main__":
    sys.exit(main())
