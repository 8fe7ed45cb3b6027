"""The record: nothing confirmed is lost, nothing counts twice, nothing is changed afterwards."""

from __future__ import annotations

import random
import sqlite3
import subprocess
import sys
import threading
import time
from dataclasses import replace
from datetime import UTC, datetime
from decimal import Decimal
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from recap.audit.codec import DocumentError, decode, encode
from recap.audit.deliveries import plan
from recap.audit.events import Event, EventError, EventKind, document_of_event, event_from_document, new_event
from recap.audit.kept import KeptOrder, assignments
from recap.audit.record import EventConflictError, Record, RecordError, open_record, read_record
from recap.audit.schema import MIGRATIONS
from recap.model import DRAWER, PriceBreak
from tests.audit.stories import MONDAY, from_drawer, group, kept, line, order, part, position, tick


def keep_order(folder: Path, *kept: Any) -> str:
    with open_record(folder) as record:
        return record.keep(*kept)


def test_a_tick_delivered_twice_counts_once(tmp_path: Path) -> None:
    event = tick(EventKind.IN, "C12")
    with open_record(tmp_path) as record:
        first = record.append([event])
        again = record.append([event, tick(EventKind.CHECKED, "C12")])
        assert [e.kind for e in record.events()] == [EventKind.IN, EventKind.CHECKED]
    assert first[0].seq == again[0].seq


def test_the_same_id_with_another_content_is_refused_and_nothing_of_the_batch_is_added(tmp_path: Path) -> None:
    event = tick(EventKind.IN, "C12")
    with open_record(tmp_path) as record:
        record.append([event])
        with pytest.raises(EventConflictError):
            record.append([tick(EventKind.OUT, "C99"), replace(event, ref="C13")])
        assert [e.ref for e in record.events()] == ["C12"]


def test_events_and_orders_cannot_be_changed_or_removed(tmp_path: Path) -> None:
    with open_record(tmp_path) as record:
        record.append([tick(EventKind.IN, "C12")])
    keep_order(tmp_path, order(line(part("NL-47"), 2, ("47 µF", 2))), (), MONDAY)
    with sqlite3.connect(tmp_path / "record.db") as db:
        for statement in (
            "UPDATE events SET ref = 'C13'",
            "DELETE FROM events",
            "UPDATE orders SET kept = ''",
            "DELETE FROM orders",
        ):
            with pytest.raises(sqlite3.IntegrityError, match="never"):
                db.execute(statement)


def test_every_migration_is_applied_once_and_named(tmp_path: Path) -> None:
    for _ in range(2):
        with open_record(tmp_path) as record:
            assert record.faults() == ()
    with sqlite3.connect(tmp_path / "record.db") as db:
        names = [row[0] for row in db.execute("SELECT name FROM migrations ORDER BY rowid")]
    assert names == [name for name, _ in MIGRATIONS]


def test_a_record_of_a_newer_version_is_left_alone(tmp_path: Path) -> None:
    with open_record(tmp_path):
        pass
    with sqlite3.connect(tmp_path / "record.db") as db:
        db.execute("INSERT INTO migrations VALUES ('999-later', '')")
    with pytest.raises(RecordError, match="newer version"):
        open_record(tmp_path)


def test_a_database_of_another_program_is_refused_and_kept(tmp_path: Path) -> None:
    path = tmp_path / "record.db"
    other = sqlite3.connect(path)
    other.execute("CREATE TABLE recipes (name TEXT)")
    other.commit()
    other.close()
    before = path.read_bytes()
    with pytest.raises(RecordError, match="another program"):
        open_record(tmp_path)
    assert path.read_bytes() == before


def test_a_file_that_is_no_record_is_refused_and_kept(tmp_path: Path) -> None:
    path = tmp_path / "record.db"
    path.write_bytes(b"not a database, but perhaps dear to somebody" * 100)
    before = path.read_bytes()
    with pytest.raises(RecordError, match="can't be opened"):
        Record(path)
    assert path.read_bytes() == before


def test_writing_is_durable_and_readers_need_not_wait(tmp_path: Path) -> None:
    with open_record(tmp_path):
        db = sqlite3.connect(tmp_path / "record.db")
        assert db.execute("PRAGMA journal_mode").fetchone()[0] == "wal"
        db.close()


def test_a_writer_killed_at_any_moment_loses_no_confirmed_tick(tmp_path: Path) -> None:
    confirmed: list[str] = []
    chance = random.Random(7)
    end = time.monotonic() + 90
    kills = 0
    while (kills < 12 or len(confirmed) <= 50) and time.monotonic() < end:
        writers = [
            subprocess.Popen(
                [sys.executable, "-m", "tests.audit.killed_writer", str(tmp_path), f"phone {n}"],
                stdout=subprocess.PIPE,
                text=True,
                cwd=Path(__file__).parents[2],
            )
            for n in range(2)
        ]
        for writer in writers:
            assert writer.stdout is not None
            confirmed.append(writer.stdout.readline().strip())
        time.sleep(chance.uniform(0.0, 0.15))
        for writer in writers:
            writer.kill()
            rest, _ = writer.communicate()
            # A line without its end was cut by the kill: its tick was never shown as confirmed.
            confirmed += [text.strip() for text in rest.splitlines(keepends=True) if text.endswith("\n")]
            kills += 1
        with open_record(tmp_path) as record:
            assert record.faults() == ()
            there = {event.id for event in record.events()}
        assert set(confirmed) <= there
    assert kills >= 12
    assert len(confirmed) > 50


def test_many_threads_may_write_through_one_record(tmp_path: Path) -> None:
    with open_record(tmp_path) as record:
        threads = [
            threading.Thread(target=lambda: [record.append([tick(EventKind.IN, f"C{n}")]) for n in range(10)])
            for _ in range(4)
        ]
        for thread in threads:
            thread.start()
        for thread in threads:
            thread.join()
        assert [event.seq for event in record.events()] == list(range(1, 41))


def test_a_device_clock_ahead_of_time_does_not_date_the_work_into_the_future(tmp_path: Path) -> None:
    event = tick(EventKind.IN, "C1", at=60)
    with open_record(tmp_path) as record:
        (there,) = record.append([event], now=MONDAY)
    assert there.when == MONDAY
    assert there.at == event.at


def test_an_order_is_kept_whole_under_a_date_and_a_number(tmp_path: Path) -> None:
    wanted = order(line(part("NL-47", pitch_mm=Decimal("2.50")), 3, ("47 µF 25 V", 3)))
    groups = (group("47 µF 25 V", ("S1", position("C1", operating_V=Decimal("18.2"), doubts=("unit-missing",)))),)
    first = keep_order(tmp_path, wanted, groups, MONDAY, "EUR")
    second = keep_order(tmp_path, wanted, groups, MONDAY, "EUR")
    assert (first, second) == ("2025-03-03-1", "2025-03-03-2")
    _, orders = read_record(tmp_path)
    assert orders[0] == KeptOrder(first, MONDAY, wanted, groups, "EUR")


def test_no_record_is_made_by_looking(tmp_path: Path) -> None:
    assert read_record(tmp_path) == ((), ())
    assert list(tmp_path.iterdir()) == []


def test_positions_get_the_drawers_pieces_first_then_the_bought_ones() -> None:
    places = [("S1", position("C10")), ("S1", position("C2")), ("S0", position("C7"))]
    wanted = order(
        line(part("NL-47"), 4, ("47 µF", 3)), drawer=(from_drawer(part("OLD-47", supplier=DRAWER), 1, ("47 µF", 1)),)
    )
    got = assignments(kept(wanted, group("47 µF", *places, spares=1)))
    assert [(a.place.set, a.place.ref, a.part.number, a.supplier) for a in got] == [
        ("S0", "C7", "OLD-47", DRAWER),
        ("S1", "C2", "NL-47", "Norlicht"),
        ("S1", "C10", "NL-47", "Norlicht"),
    ]


def test_places_without_designators_get_as_many_pieces_as_they_count() -> None:
    wanted = order(
        line(part("NL-47"), 3, ("47 µF", 3)), drawer=(from_drawer(part("OLD-47", supplier=DRAWER), 1, ("47 µF", 1)),)
    )
    got = assignments(kept(wanted, group("47 µF", ("S1", position(None, qty=4)))))
    assert [(a.place.ref, a.part.number, a.qty) for a in got] == [
        ("47 µF 25 V ×4", "OLD-47", 1),
        ("47 µF 25 V ×4", "NL-47", 3),
    ]


def test_the_latest_order_that_names_a_position_decides_what_it_gets() -> None:
    place = group("47 µF", ("S1", position("C1")))
    old = kept(order(line(part("NL-47"), 1, ("47 µF", 1))), place)
    new = kept(order(line(part("BF-47"), 1, ("47 µF", 1))), place, when=datetime(2025, 4, 1, tzinfo=UTC), name="n")
    (pieces,) = plan([new, old], ()).latest().values()
    assert [p.part.number for p in pieces] == ["BF-47"]


@pytest.mark.parametrize(
    ("document", "why"),
    [
        ([], "JSON object"),
        ({"id": "x", "kind": "in", "at": "2025-03-03T09:00:00Z"}, "UUID"),
        ({"id": str(new_event(EventKind.IN).id), "kind": "burnt", "at": "2025-03-03"}, "no such kind"),
        ({"id": str(new_event(EventKind.IN).id), "kind": "in", "at": "yesterday"}, "not a time"),
        ({"id": str(new_event(EventKind.IN).id), "kind": "in", "at": "2025-03-03", "ref": "C" * 9999}, "at most"),
        ({"id": str(new_event(EventKind.IN).id), "kind": "in", "at": "2025-03-03", "data": 3}, "JSON object"),
    ],
)
def test_what_is_no_event_is_refused_with_the_reason(document: object, why: str) -> None:
    with pytest.raises(EventError, match=why):
        event_from_document(document)


texts = st.text(st.characters(exclude_categories=["Cs"]), max_size=30)


@given(
    kind=st.sampled_from(EventKind),
    at=st.datetimes(datetime(1971, 1, 1), datetime(2100, 1, 1), timezones=st.just(UTC)),  # noqa: DTZ001
    words=st.lists(st.none() | texts, min_size=4, max_size=4),
    data=st.dictionaries(texts, texts | st.integers(-(2**40), 2**40) | st.booleans() | st.none(), max_size=4),
)
@settings(max_examples=80, deadline=None)
def test_any_event_survives_being_written_down(
    kind: EventKind, at: datetime, words: list[str | None], data: dict[str, object]
) -> None:
    event = Event(new_event(kind).id, kind, at, words[0], words[1], words[2], words[3], data)
    assert event_from_document(document_of_event(event)) == event
    with TemporaryDirectory() as folder, open_record(Path(folder)) as record:
        (there,) = record.append([event])
        assert record.events() == (there,)
        assert replace(there, seq=None, recorded=None) == event


@given(st.decimals(allow_nan=False, allow_infinity=False, places=6), st.none() | texts)
@settings(max_examples=60, deadline=None)
def test_a_kept_position_keeps_every_digit(number: Decimal, note: str | None) -> None:
    there = position("C1", operating_V=number, note=note)
    back = decode(type(there), encode(there))
    assert back == there
    assert str(back.operating_V) == str(number)


@pytest.mark.parametrize("share", [0.3, 0.6, 0.9])
def test_a_record_cut_short_is_refused_in_words_and_left_as_it_is(tmp_path: Path, share: float) -> None:
    path = tmp_path / "record.db"
    with Record(path) as record:
        record.append([new_event(EventKind.NOTE, set="S1", data={"text": "hum " * 100}) for _ in range(60)])
    whole = path.read_bytes()
    stub = whole[: int(len(whole) * share)]
    path.write_bytes(stub)
    with pytest.raises(RecordError, match=r"damaged.*backup"):
        Record(path)
    assert path.read_bytes() == stub


@pytest.mark.parametrize("number", ["NaN", "Infinity", "1e999999999", "0e-999999999", "x", "", 0.1, True, [1], None])
def test_a_number_that_cannot_be_counted_with_is_no_part_of_a_document(number: object) -> None:
    with pytest.raises(DocumentError):
        decode(PriceBreak, {"quantity": 1, "unit_price": number})


@pytest.mark.parametrize("number", ["0.10", "1E+3", "0E-34", "0.123456789012345678901234567890"])
def test_a_number_comes_back_with_every_digit(number: str) -> None:
    assert str(decode(PriceBreak, {"quantity": 1, "unit_price": number}).unit_price) == number
