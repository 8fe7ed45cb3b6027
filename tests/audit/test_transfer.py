"""Out and in again: JSON and CSV lose nothing, import adds once, and a backup is a record."""

from __future__ import annotations

import csv
import hashlib
import io
import json
import os
from dataclasses import replace
from typing import TYPE_CHECKING

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from recap.audit.events import Event, EventKind, document_of_event, new_event
from recap.audit.record import EventConflictError, Record, open_record
from recap.audit.stored_rows import Photo
from recap.audit.transfer import TransferError, bring_in, contents, json_text, read_export, write_csv
from tests.audit.stories import MONDAY, group, line, order, part, position, tick

if TYPE_CHECKING:
    from pathlib import Path


def filled(folder: Path) -> Record:
    folder.mkdir(parents=True, exist_ok=True)
    record = open_record(folder)
    record.append(
        [
            tick(EventKind.OUT, "C1", found="=1+1"),
            new_event(EventKind.IN, set="S1", board="", ref="C2", by="K"),
            new_event(EventKind.NOTE, set="-S2", data={"text": 'two\nlines, "quoted"; µF'}),
        ]
    )
    wanted = order(line(part("NL-47"), 3, ("47 µF", 3)))
    record.keep(wanted, (group("47 µF", ("S1", position("C1"))),), MONDAY, "EUR")
    picture = b"\xff\xd8 picture"
    record.put_photo(Photo(hashlib.sha256(picture).hexdigest(), "image/jpeg", 4, 3, picture))
    return record


def written(record: Record, folder: Path, form: str) -> Path:
    if form == "csv":
        write_csv(contents(record), folder / "out")
        return folder / "out"
    (folder / "out.json").write_text(json_text(contents(record)), encoding="utf-8")
    return folder / "out.json"


def plain(events: tuple[Event, ...]) -> list[Event]:
    return [replace(event, seq=None) for event in events]


@pytest.mark.parametrize("form", ["json", "csv"])
def test_everything_comes_back_once(tmp_path: Path, form: str) -> None:
    with filled(tmp_path / "old") as old, open_record(tmp_path) as new:
        path = written(old, tmp_path, form)
        first = bring_in(read_export(path), new)
        again = bring_in(read_export(path), new)
        assert (first.events, first.orders, first.photos) == (3, 1, 1)
        assert (again.events, again.orders, again.photos) == (0, 0, 0)
        assert plain(new.events()) == plain(old.events())
        assert new.orders() == old.orders()
        assert new.photos() == old.photos()


def test_no_cell_of_the_tables_is_a_formula(tmp_path: Path) -> None:
    with filled(tmp_path / "old") as old:
        folder = written(old, tmp_path, "csv")
    cells = (folder / "events.csv").read_text(encoding="utf-8-sig").replace("\r\n", ",").split('","')
    assert not any(cell.startswith(("=", "-", "+", "@")) for cell in cells)


CHANGED = ("007", "1-2", "1E5", "12.50", "1,5", "TRUE", "false", "MAR1", "3 Sep", "-5", "10:30", "50 %")
"""Names that a spreadsheet makes numbers, dates or truth values of when it opens a CSV (some from memory)."""


@pytest.mark.parametrize("name", CHANGED)
def test_a_name_that_a_spreadsheet_would_change_is_marked_as_text(tmp_path: Path, name: str) -> None:
    with open_record(tmp_path) as record:
        record.append([new_event(EventKind.NOTE, set=name, board=name, data={"text": "as it was"})])
        folder = written(record, tmp_path, "csv")
        assert f'"\'{name}"' in (folder / "events.csv").read_text(encoding="utf-8-sig")
    (event,) = read_export(folder).events
    assert (event.set, event.board) == (name, name)


def saved_again(folder: Path, delimiter: str) -> None:
    """Save the tables as a spreadsheet does: another delimiter, quotation marks only where they must be, no mark."""
    for path in folder.glob("*.csv"):
        rows = list(csv.reader(io.StringIO(path.read_text(encoding="utf-8-sig"), newline="")))
        out = io.StringIO()
        csv.writer(out, delimiter=delimiter, lineterminator="\n").writerows(rows)
        path.write_text(out.getvalue(), encoding="utf-8")


@pytest.mark.parametrize("delimiter", [",", ";", "\t"])
def test_tables_that_a_spreadsheet_saved_again_say_the_same(tmp_path: Path, delimiter: str) -> None:
    with filled(tmp_path / "old") as old, open_record(tmp_path) as new:
        folder = written(old, tmp_path, "csv")
        saved_again(folder, delimiter)
        bring_in(read_export(folder), new)
        assert plain(new.events()) == plain(old.events())
        assert new.orders() == old.orders()


@pytest.mark.parametrize(
    ("was", "becomes", "said"),
    [
        ('"recorded","set"', '"recorded","sets"', "must name the columns id, kind"),
        ('"id","kind"', '"id"', "must name the columns id, kind"),
        ('"note","', '"note","","', "10 cells under 9 columns"),
    ],
)
def test_a_table_that_is_another_is_refused_with_its_file(tmp_path: Path, was: str, becomes: str, said: str) -> None:
    with open_record(tmp_path) as record:
        record.append([new_event(EventKind.NOTE, set="a", data={"text": "hums"})])
        folder = written(record, tmp_path, "csv")
    path = folder / "events.csv"
    path.write_text(path.read_text(encoding="utf-8-sig").replace(was, becomes, 1), encoding="utf-8")
    with pytest.raises(TransferError, match=said):
        read_export(folder)


def test_letters_that_an_older_code_page_lost_are_refused(tmp_path: Path) -> None:
    with open_record(tmp_path) as record:
        record.append([new_event(EventKind.NOTE, set="Brücke", data={"text": "hums"})])
        folder = written(record, tmp_path, "csv")
    path = folder / "events.csv"
    path.write_bytes(path.read_text(encoding="utf-8-sig").encode("cp1252"))
    with pytest.raises(TransferError, match="not UTF-8"):
        read_export(folder)


def test_nothing_is_imported_where_an_id_tells_two_things(tmp_path: Path) -> None:
    with filled(tmp_path / "old") as old, open_record(tmp_path) as new:
        document = json.loads(json_text(contents(old)))
        new.append([replace(old.events()[2], seq=None, set="other")])
        path = tmp_path / "out.json"
        path.write_text(json.dumps(document), encoding="utf-8")
        with pytest.raises(EventConflictError):
            bring_in(read_export(path), new)
        assert len(new.events()) == 1
        assert new.orders() == ()
        assert new.photos() == ()


@pytest.mark.parametrize(
    "text",
    ["", "{}", "[]", "[" * 20_000, '{"format": "recap-record", "version": 99}', '{"format": "recap-record"}', "nul\0"],
)
def test_what_is_no_export_is_refused(tmp_path: Path, text: str) -> None:
    path = tmp_path / "x.json"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(TransferError):
        read_export(path)
    with pytest.raises(TransferError, match=r"events\.csv"):
        read_export(tmp_path)


@pytest.mark.parametrize("where", ["events", "orders"])
def test_half_a_character_in_an_export_is_refused(tmp_path: Path, where: str) -> None:
    """RFC 8259 section 8.2 allows the escape; UTF-8 has no way to write it (RFC 3629 section 3)."""
    with filled(tmp_path / "old") as old:
        path = written(old, tmp_path, "json")
    document = json.loads(path.read_text(encoding="utf-8"))
    place = document["events"][0] if where == "events" else document["orders"][0]["groups"][0]
    place["ref" if where == "events" else "id"] = "C1\ud800"
    path.write_text(json.dumps(document), encoding="utf-8")
    with pytest.raises(TransferError, match="half a character"):
        read_export(path)


@pytest.mark.parametrize("name", ["export.json", "folder/events.csv", "folder/photos/x.1x1.jpg"])
def test_a_pipe_in_the_place_of_an_export_is_refused_and_not_waited_for(tmp_path: Path, name: str) -> None:
    with filled(tmp_path / "old") as old:
        write_csv(contents(old), tmp_path / "folder")
    (tmp_path / name).unlink(missing_ok=True)
    os.mkfifo(tmp_path / name)
    with pytest.raises(TransferError, match="no plain file"):
        read_export(tmp_path / name.partition("/")[0])


def test_an_export_that_broke_off_is_refused_at_every_file(tmp_path: Path) -> None:
    """The process may be killed between any two files: what lies there then must not pass for the whole."""
    with filled(tmp_path / "one") as record:
        files = write_csv(contents(record), tmp_path / "tables")
    for count in range(len(files)):
        folder = tmp_path / f"broken{count}"
        (folder / "photos").mkdir(parents=True)
        for path in files[:count]:
            (folder / path.relative_to(tmp_path / "tables")).write_bytes(path.read_bytes())
        with pytest.raises(TransferError, match="isn't a whole export"):
            read_export(folder)


def test_a_photo_that_was_tampered_with_is_refused(tmp_path: Path) -> None:
    with filled(tmp_path / "old") as old:
        folder = written(old, tmp_path, "csv")
    (photo,) = (folder / "photos").iterdir()
    photo.write_bytes(b"another")
    with pytest.raises(TransferError, match="not what was exported"):
        read_export(folder)


def test_a_backup_is_a_whole_record_taken_while_others_write(tmp_path: Path) -> None:
    with filled(tmp_path) as record:
        record.backup(tmp_path / "copy.db")
        record.append([tick(EventKind.CHECKED, "C1")])
        before = contents(record)
    with Record(tmp_path / "copy.db") as copy:
        assert copy.faults() == ()
        assert copy.events() == before.events[:-1]
        assert copy.orders() == before.orders


texts = st.text(st.characters(exclude_categories=["Cs"]), max_size=25)


@given(st.lists(st.tuples(st.none() | texts, st.none() | texts, st.none() | texts, texts), max_size=4))
@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_any_words_survive_both_forms(
    tmp_path_factory: pytest.TempPathFactory, rows: list[tuple[str | None, str | None, str | None, str]]
) -> None:
    folder = tmp_path_factory.mktemp("words")
    events = [
        new_event(EventKind.NOTE, set=name, board=board, ref=ref, by=text, data={text: text})
        for name, board, ref, text in rows
    ]
    with open_record(folder) as record:
        record.append(events)
        told = [document_of_event(event) for event in record.events()]
        for form in ("json", "csv"):
            read = read_export(written(record, folder, form))
            assert [document_of_event(event) for event in read.events] == told


def test_an_export_without_its_lists_is_refused(tmp_path: Path) -> None:
    with filled(tmp_path) as record:
        document = json.loads(json_text(contents(record)))
    for name in ("events", "orders", "photos"):
        path = tmp_path / "export.json"
        path.write_text(json.dumps({**document, name: {}}), encoding="utf-8")
        with pytest.raises(TransferError, match="no list"):
            read_export(path)
