"""What the soak does on a bench: every command that writes or reads it, at random, with lists to bring in."""

from __future__ import annotations

import csv
import io
import json
import random
import uuid
from collections import Counter
from dataclasses import dataclass, field
from decimal import Decimal
from typing import TYPE_CHECKING, Any

from tests.whole import faults, keepsakes
from tests.whole.bench_maker import make, write

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence
    from pathlib import Path

Words = tuple[str, ...]

POST = "Found on a page:\n\nC1 47uF 25V\nC2, C3 10uF 16V\nC4 - 100/16\nR5 4k7\nC{mark} 22uF 35V\n"
"""A post to import; the designator of its last line tells which one it was."""


@dataclass
class Work:
    """One bench on its disk, what is known of it, and what may be done on it."""

    seed: int
    disk: faults.Disk
    wrong: list[str] = field(default_factory=list)
    did: Counter[str] = field(default_factory=Counter)

    def __post_init__(self) -> None:
        """Lay the bench out and remember it."""
        self.dice = random.Random(f"soak {self.seed}")
        self.bench = self.disk.home / self.dice.choice(["bench", "Bänk №2 – alt"])
        write(make(self.seed, self.dice.choice(["tiny", "tiny", "medium"])), self.bench)
        if self.dice.random() < 0.3:  # a list of the user's, with another ending than a stored one gets
            (self.bench / "caplists" / "found.txt").write_text("C1 1uF 50V\n", encoding="utf-8")
        (self.bench / "out").mkdir()
        self.files = keepsakes.users_files(self.bench)
        self.held = keepsakes.Remembered()
        self.written: keepsakes.Files = {}
        self.left: set[Path] = set()
        self.whole: set[tuple[str, int, int]] = set()
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

    def booked(self) -> Counter[tuple[str, str]]:
        """Pieces that came, by order and part."""
        came: Counter[tuple[str, str]] = Counter()
        for row in self.held.events.values():
            if row[0] == "received":
                data = json.loads(str(row[7]))
                came[data["order"], f"{data['supplier']} {data['part']}"] += int(data["qty"])
        return came

    def import_a_post(self) -> Words:
        """Store a post's list under a name that may be taken."""
        self.names += 1
        post = self.disk.home / f"post-C{9000 + self.names}.txt"
        post.write_text(POST.format(mark=9000 + self.names), encoding="utf-8")
        told = "import", str(post), "--bench", self.b, "--chassis", "found"
        further = [("--force",)] * 5 + [("--force", "--json"), (), ("--force", "--sets", f"found-{self.names}")]
        return *told, *self.dice.choice(further)

    def merge_prices(self) -> Words:
        """Lay a shop's new price list over the old one: other prices, a part less, a part more."""
        dice = self.dice
        shop = dice.choice(keepsakes.shops(self.bench))
        columns, rows = keepsakes.price_rows(shop)
        self.names += 1
        for row in rows:
            if dice.random() < 0.5:
                row["prices"] = f"1:{Decimal(dice.randint(5, 400)) / 100}"
                row["minimum"] = row["multiple"] = ""
        gone = dice.randint(0, len(rows) - 1)
        rows = [row for at, row in enumerate(rows) if at != gone or dice.random() < 0.5]
        rows.append({"part": f"NEW-{self.names}", "value": "33 µF", "volts": "63", "prices": "1:0.27"})
        out = io.StringIO()
        writer = csv.DictWriter(out, columns, restval="", lineterminator="\n")
        writer.writeheader()
        writer.writerows(rows)
        new = self.disk.home / f"prices{self.names}.csv"
        new.write_text(out.getvalue(), encoding="utf-8")
        how = dice.choice([("--yes",), ("--yes",), ("--yes", "--drop-gone"), ("--yes", "--json"), ()])
        return "catalog", self.b, shop.stem, "--merge", str(new), *how

    def import_the_record(self) -> Words:
        """Bring in an export of this very record, of which nothing is new, or what another machine recorded."""
        exports = sorted((self.bench / "out").glob("n*.json"))
        exports += [path for path in (self.bench / "out").glob("n*") if path.is_dir()]
        if exports and self.dice.random() < 0.6:
            return "record", "import", self.b, str(self.dice.choice(exports))
        self.names += 1
        other = self.disk.home / f"other-machine{self.names}.json"
        identity, day = str(uuid.UUID(int=self.dice.getrandbits(128), version=4)), "2024-02-03T04:05:06+00:00"
        told = {"id": identity, "kind": "note", "set": self.a_set(), "at": day, "recorded": day, "data": {"text": "µ"}}
        document = {"format": "recap-record", "version": 1, "events": [told], "orders": [], "photos": []}
        other.write_text(json.dumps(document), encoding="utf-8")
        return "record", "import", self.b, str(other)

    def a_paper(self) -> Words:
        """A name that a file bears already, with leave to replace it or without."""
        kinds = {".pdf": "labels", ".html": "checklist", ".xlsx": "bags", ".svg": "order"}
        there = sorted(path for path in (self.bench / "out").glob("n*") if path.suffix in kinds)
        if not there:
            return "bags", self.b, "--out", self.new_name(".xlsx")
        path = self.dice.choice(there)
        option = ("--no-compare", "--plot") if path.suffix == ".svg" else ("--out",)
        leave = ("--force",) if self.dice.random() < 0.6 else ()
        return kinds[path.suffix], self.b, *option, str(path), *leave

    def a_new_bench(self) -> Words:
        """A bench folder, into a folder that may be there already."""
        folder = self.bench / "out" / f"new{self.dice.randint(1, 3)}"
        return "new", str(folder), *self.dice.choice([(), ("--demo",), ("--empty",), ("--empty", "--json")])

    def a_place(self) -> tuple[str, str, str]:
        """Set, board and designator of a position."""
        with (self.bench / "sets.csv").open(encoding="utf-8", newline="") as file:
            row = self.dice.choice([*csv.DictReader(file)])
        with (self.bench / "caplists" / f"{row['chassis']}.csv").open(encoding="utf-8", newline="") as file:
            place = self.dice.choice([*csv.DictReader(file)])
        return row["set"], place.get("board", ""), place.get("ref", "C1")

    def words(self) -> Words:
        """A command of the work, at random."""
        command = self.dice.choice([*self.buying(), *self.goods_in(), *self.papers(), *self.looking_back()])
        return command() if callable(command) else command

    def buying(self) -> list[Words | Callable[[], Words]]:
        b, out = self.b, str(self.bench / "out" / "order")
        return [
            ("order", b, "--keep", "--no-compare"),
            ("order", b, "--keep", "--accept-doubts", "--care", "--split", "--compare", "--json"),
            lambda: ("order", b, "--no-compare", "--json", "--keep", "--out", self.new_name("")),
            ("order", b, "--no-compare", "--why", "--out", out, "--force"),
            lambda: ("order", b, "--no-compare", "--plot", self.new_name(self.dice.choice([".svg", ".png"]))),
            ("catalog", b, "--json"),
            self.merge_prices,
            self.merge_prices,
            self.import_a_post,
            self.import_a_post,
            self.a_new_bench,
        ]

    def goods_in(self) -> list[Words | Callable[[], Words]]:
        b, dice, part = self.b, self.dice, self.a_part()
        return [
            ("receive", b, "--all"),
            ("receive", b, "--all", "--line", f"{part}={dice.randint(0, 3)}"),
            ("receive", b, "--line", f"{part}={dice.randint(1, 9)}"),
            ("receive", b, "--instead", f"{part}=SUB-1", "--spec", "SUB-1=47uF 25V 105C radial 5x11 p2 5000h"),
            ("receive", b, "--close", "--json"),
            ("drawer", b, "--move", f"{part}={dice.choice(['-1', '2'])}", "--why", "counted"),
            ("drawer", b, "--counted", "all"),
            ("drawer", b, "--corrected", "all", "--json"),
        ]

    def papers(self) -> list[Words | Callable[[], Words]]:
        b, dice = self.b, self.dice
        return [
            lambda: ("bags", b, "--out", self.new_name(".xlsx")),
            lambda: ("labels", b, "--out", self.new_name(".pdf")),
            lambda: ("checklist", b, "--out", self.new_name(dice.choice([".pdf", ".html", ".xlsx"]))),
            lambda: ("margin", "--bench", b, "--plot", self.new_name(".svg")),
            self.a_paper,
            self.a_paper,
            ("bags", b, "--json"),
            ("checklist", b, "--by", "part", "--json"),
        ]

    def looking_back(self) -> list[Words | Callable[[], Words]]:
        b, dice, unit = self.b, self.dice, self.a_set()
        place = self.a_place()
        return [
            ("note", b, unit, "pad lifted", "--on", "2019-05-01"),
            ("note", b, place[0], "cracked", *(("--board", place[1]) if place[1] else ()), "--ref", place[2]),
            ("work", b, unit, "borrowed", "sound module", "--with", self.a_set(), "--by", "Wenna"),
            ("work", b, unit, "symptom", "hum", "--hours", str(dice.randint(1, 9000))),
            ("audit", b, unit, "--json"),
            ("audit", b, unit, "--about", "hum"),
            ("history", b, unit, "--json"),
            ("estimate", b, "--sets", unit, "--json"),
            ("shelf", "--bench", b, "--json"),
            lambda: ("record", "backup", b, "--out", self.new_name(".db")),
            lambda: ("record", "export", b, "--out", self.new_name(dice.choice([".json", ""]))),
            lambda: ("record", "export", b, "--out", str(self.bench / dice.choice([*self.written, "out/export"]))),
            self.import_the_record,
            self.import_the_record,
            ("record", "check", b),
            ("rules", b, "--json"),
        ]

    def check(self, *done: faults.Outcome, alone: bool = True, told: Sequence[Words] = ()) -> None:
        """Look after everything; what is new in the record is held to from now on.

        ``alone``: nothing else wrote to the record meanwhile; ``told``: commands whose outcome was looked at already.
        """
        told = [*told, *(one.words for one in done)]
        for one in done:
            self.wrong += keepsakes.unclear(one)
        files, papers = keepsakes.users_files(self.bench), keepsakes.papers(self.bench)
        now = keepsakes.look_into(self.bench / "record.db")
        lost = keepsakes.files_lost(self.files, files) + keepsakes.papers_lost(self.written, papers, self.bench, told)
        lost += keepsakes.half_written(self.bench / "out", self.whole) + keepsakes.nothing_lost(self.held, now)
        self.wrong += [f"after {told}: {text}" for text in lost]
        for one in done:
            if len(done) == 1 or not any("--drop-gone" in words for words in told):
                self.wrong += keepsakes.not_kept(one, now, self.bench)
            self.wrong += keepsakes.backup_lacks(one, self.held)
        if len(done) == 1:
            changed = keepsakes.changed({**self.files, **self.written}, {**files, **papers})
            changed += ["record.db"] if now != self.held and alone else []
            self.wrong += keepsakes.unsaid(done[0], changed)
        self.held, self.files, self.written = now, files, papers
