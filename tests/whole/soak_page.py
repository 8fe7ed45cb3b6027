"""The soak at the bench page: ticks, taking back, readings, notes, pins, photos, while disks fill and processes die."""

from __future__ import annotations

import hashlib
import io
import json
import time
import urllib.error
import urllib.parse
import urllib.request
import uuid
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from typing import TYPE_CHECKING, Any

from tests.whole import faults

if TYPE_CHECKING:
    from collections.abc import Iterator

    from recap.audit.events import PlaceKey
    from tests.whole.soak_work import Work

TICKS = ("out", "in", "checked")
Told = dict[str, Any]


@dataclass
class Phone:
    """A phone before the page, and what the page told it is recorded."""

    work: Work
    address: str
    keys: list[PlaceKey]
    ticked: list[Told] = field(default_factory=list)
    confirmed: list[str] = field(default_factory=list)
    photos: list[str] = field(default_factory=list)

    def send(self, path: str, content: bytes, kind: str) -> Any:
        """What the page answers; None where it says why not."""
        origin = {"content-type": kind, "origin": self.address.rstrip("/")}
        request = urllib.request.Request(f"{self.address}{path}", content, origin)
        try:
            with urllib.request.urlopen(request, timeout=120) as answer:
                return json.load(answer)
        except urllib.error.HTTPError as refused:
            if not str(json.load(refused).get("reason", "")).strip():
                self.work.wrong.append(f"refused without a reason: {path} {refused}")
            return None

    def tell(self, events: list[Told]) -> None:
        """Send events; those that are recorded count from now on."""
        answer = self.send("api/events", json.dumps({"events": events}).encode(), "application/json")
        for event, result in zip(events, answer["results"] if answer else [], strict=False):
            if result["status"] == "recorded":
                self.confirmed.append(result["id"])
                self.ticked += [event] if event["kind"] in TICKS else []
            elif not result.get("reason"):
                self.work.wrong.append(f"refused without a reason: {event}")

    def photograph(self) -> None:
        """Send a photo of a board."""
        from PIL import Image

        shade = tuple(self.work.dice.randint(0, 255) for _ in range(3))
        picture = io.BytesIO()
        Image.new("RGB", (400, 300), shade).save(picture, "JPEG")
        key = self.work.dice.choice(self.keys)
        where = urllib.parse.urlencode({"set": key.set, "board": key.board})
        answer = self.send(f"api/photo?{where}", picture.getvalue(), "image/jpeg")
        self.photos += [answer["photo"]] if answer else []

    def event(self) -> Told:
        """Something that is told at random; a tick taken back names one that was recorded."""
        dice = self.work.dice
        key = dice.choice(self.keys)
        kind = dice.choice([*TICKS, *TICKS, "undone", "undone", "measured", "note", "pinned", "work"])
        data: Told = {}
        if kind == "undone":
            if not self.ticked:
                kind = "out"
            else:
                tick = dice.choice(self.ticked)
                data = {"undoes": [tick["id"]]}
                return _event("undone", (tick["set"], tick["board"], tick["ref"]), data)
        elif kind == "measured":
            data = {"quantity": "capacitance", "value": "41,5", "unit": "µF", "of": "old"}
        elif kind == "pinned":
            data = {"x": round(dice.random(), 3), "y": 0.5}
        elif kind in {"note", "work"}:
            data = {"text": "Elko ausgelaufen – µ", **({"what": "repaired"} if kind == "work" else {})}
        return _event(kind, key, data)

    def look(self) -> None:
        """Compare what the page shows with what plain SQL and a few lines of our own make of the record."""
        for name in sorted({key.set for key in self.keys}):
            with urllib.request.urlopen(f"{self.address}api/set/{urllib.parse.quote(name, safe='')}") as answer:
                shown = json.load(answer)["places"]
            ticks = {
                (place, kind): {tick["id"] for tick in state[kind]}
                for place, state in shown.items()
                for kind in TICKS
                if state[kind]
            }
            if ticks != (meant := standing(self.work, name)):
                self.work.wrong.append(f"the page shows {ticks} for {name}, the record says {meant}")
        for digest in self.photos:
            with urllib.request.urlopen(f"{self.address}photo/{digest}.jpg") as answer:
                if hashlib.sha256(answer.read()).hexdigest() != digest:
                    self.work.wrong.append(f"photo {digest} comes back as another")


def _event(kind: str, place: tuple[str, str, str], data: Told) -> Told:
    at = datetime.now(UTC) - timedelta(minutes=5)
    return {"id": str(uuid.uuid4()), "kind": kind, "by": "phone", "at": at.isoformat(), "set": place[0],
            "board": place[1], "ref": place[2], "data": data}  # fmt: skip


def standing(work: Work, name: str) -> dict[tuple[str, str], set[str]]:
    """The ticks of a set that nobody took back, by place and stage."""
    from tests.whole.keepsakes import look_into

    rows = look_into(work.bench / "record.db").events
    back = {
        identity
        for row in rows.values()
        if row[0] == "undone"
        for identity in json.loads(str(row[7])).get("undoes", ())
    }
    found: dict[tuple[str, str], set[str]] = {}
    for identity, (kind, _, _, set_name, board, ref, *_) in rows.items():
        if kind in TICKS and set_name == name and identity not in back:
            found.setdefault((f"{board or ''}\n{ref}", str(kind)), set()).add(identity)
    return found


def keys_of(work: Work) -> list[PlaceKey]:
    """The positions on the job."""
    from recap.audit.places import places_of
    from recap.bench import load_bench

    bench, _ = load_bench(work.bench)
    return [p.key for unit in bench.sets for p in places_of(unit, bench.caplists[unit.chassis], {}) if p.on_job]


@contextmanager
def page(work: Work) -> Iterator[tuple[faults.Running, str]]:
    """The bench page, served."""
    running = faults.start("bench", work.b, "--port", "0")
    end = time.monotonic() + 300
    while not (address := running.text("out").strip()) and time.monotonic() < end:
        time.sleep(0.02)
    try:
        yield running, address.splitlines()[0] if address else ""
    finally:
        running.interrupt() if work.dice.random() < 0.5 else running.kill()
        done = running.wait()
        work.check(done, alone=False)
        if done.status not in {None, 0}:
            work.wrong.append(f"the page didn't stop as it should: {done}")


def at_the_bench(work: Work) -> None:
    """Work through the page, whose process is killed in the midst of it; some things are sent twice."""
    keys = keys_of(work)
    if not keys:
        return
    with page(work) as (running, address):
        if not address:
            work.wrong.append(f"the page didn't start: {running.text('err')}")
            return
        phone = Phone(work, address, keys)
        for _ in range(work.dice.randint(1, 6)):
            batch = [phone.event() for _ in range(work.dice.randint(1, 5))]
            trouble(work, phone, batch)
            if work.dice.random() < 0.3:
                phone.tell(batch)
        phone.look()
        try:
            if work.dice.random() < 0.5:
                running.kill()
            phone.tell([phone.event()])
        except OSError:
            pass
    work.did["told"] += len(phone.confirmed)
    work.did["photos"] += len(phone.photos)
    work.wrong += [f"{told} was confirmed and is lost" for told in phone.confirmed if told not in work.held.events]


def trouble(work: Work, phone: Phone, batch: list[Told]) -> None:
    """Tell it, with the disk full, another phone or another command at work meanwhile, or without."""
    what = work.dice.choice(["none", "none", "full", "photo", "beside", "two phones"])
    if what == "full":
        with work.disk.full(work.dice.choice([0, 4096, 40_000])):
            phone.tell(batch)
            phone.photograph()
    elif what == "two phones":  # the answer to the first never came, so the same is told again, at the same time
        with ThreadPoolExecutor() as both:
            list(both.map(phone.tell, [batch, batch]))
    elif what == "photo":
        phone.photograph()
        phone.tell(batch)
    elif what == "beside":
        running = faults.start(*work.words())
        phone.tell(batch)
        work.check(running.wait(), alone=False)
    else:
        phone.tell(batch)
