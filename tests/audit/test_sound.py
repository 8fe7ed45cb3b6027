"""What comes into the record from outside can be read ever after: the record only grows, so nothing could mend it."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

import pytest
from typer.testing import CliRunner

from recap.audit.events import EventError, EventKind, event_from_document, new_event, stamp
from recap.audit.sound import checked
from recap.cli import app
from tests.audit.stories import MONDAY

if TYPE_CHECKING:
    from pathlib import Path

UNSOUND: list[tuple[str, dict[str, Any]]] = [
    ("received", {"part": "A", "supplier": "north", "order": "1"}),
    ("received", {"part": "A", "qty": "some"}),
    ("received", {"part": "A", "qty": 0}),
    ("received", {"part": ["A"], "qty": 1}),
    ("received", {"part": "A", "qty": 1, "instead_of": "B", "spec": {"supplier": "north"}}),
    ("received", {"part": "A", "qty": 1, "spec": {"supplier": "north", "number": "A", "volts": "NaN"}}),
    ("moved", {"qty": 1}),
    ("moved", {"part": "A", "qty": True}),
    ("moved", {"part": "A", "qty": 10**20}),
    ("counted", {}),
    ("counted", {"rows": "A"}),
    ("counted", {"rows": {"A": -1}}),
    ("counted", {"rows": {"A": 1}, "settled": 3}),
    ("measured", {"quantity": "capacitance"}),
    ("measured", {"value": "4,7"}),
    ("measured", {"value": "1e999999"}),
    ("hours", {"hours": "many"}),
    ("hours", {"per_week": -1}),
    ("photo", {"width": 4, "height": 3}),
    ("photo", {"photo": "00", "width": 0}),
    ("pinned", {"x": 0.5}),
    ("pinned", {"x": 0.5, "y": 2}),
    ("undone", {"undoes": "abc"}),
    ("work", {"what": "borrowed", "text": "module", "with": ["wren-b"]}),
    ("in", {"part": 7}),
]
SOUND: list[tuple[str, dict[str, Any]]] = [
    ("out", {}),
    ("in", {"part": "A"}),
    ("checked", {}),
    ("undone", {"undoes": ["abc"]}),
    ("measured", {"quantity": "esr", "value": "0.35", "unit": "Ω", "of": "old"}),
    ("note", {"text": "pad lifted"}),
    ("work", {"what": "borrowed", "text": "sound module", "with": "wren-b"}),
    ("hours", {"hours": "1200", "per_week": "5"}),
    ("received", {"part": "A", "supplier": "north", "order": "1", "qty": 3}),
    ("closed", {"order": "1"}),
    ("moved", {"part": "A", "qty": -2, "why": "dropped"}),
    ("counted", {"rows": {"A": 3}, "settled": ["A"]}),
    ("photo", {"photo": "00ff", "width": 400, "height": 300}),
    ("pinned", {"x": 0.25, "y": 1}),
    ("pinned", {}),
]


@pytest.mark.parametrize(("kind", "data"), UNSOUND)
def test_what_could_never_be_read_again_is_refused(kind: str, data: dict[str, Any]) -> None:
    with pytest.raises(EventError, match=kind):
        checked(new_event(EventKind(kind), MONDAY, set="wren-a", data=data))


def test_every_kind_as_the_program_writes_it_is_sound() -> None:
    assert {kind for kind, _ in SOUND} == {kind.value for kind in EventKind}
    for kind, data in SOUND:
        event = new_event(EventKind(kind), MONDAY, set="wren-a", board="", ref="C1", data=data)
        assert checked(event) is event


@pytest.mark.parametrize("year", ["0001", "0999", "1899"])
def test_a_time_that_could_not_be_read_back_is_none(year: str) -> None:
    document = {"id": "2bb11d5f-d7b5-496a-adce-172887d19cd6", "kind": "note", "at": f"{year}-03-01T12:00:00Z"}
    with pytest.raises(EventError, match="not a time"):
        event_from_document(document)
    assert stamp(event_from_document({**document, "at": "1970-01-01T00:00:00Z"}).at) == "1970-01-01T00:00:00.000000Z"


@pytest.mark.parametrize("spoilt", ['{"qty": null}', '{"qty": NaN}', '{"qty": 1e999}'])
def test_an_export_with_an_unsound_event_is_refused_whole_and_nothing_breaks(tmp_path: Path, spoilt: str) -> None:
    folder, export = tmp_path / "b", tmp_path / "x.json"

    def recap(*words: str) -> Any:
        return CliRunner().invoke(app, [word.replace("BENCH", str(folder)) for word in words])

    assert recap("new", "BENCH").exit_code == 0
    moved = {"id": "2bb11d5f-d7b5-496a-adce-172887d19cd6", "kind": "moved", "at": "2025-03-01T12:00:00Z"}
    text = json.dumps({"format": "recap-record", "version": 1, "photos": [], "orders": [], "events": [moved]})
    export.write_text(text.replace('"kind"', f'"data": {{"part": "A", {spoilt[1:-1]}}}, "kind"'))
    done = recap("record", "import", "BENCH", str(export))
    assert done.exit_code == 1
    assert "x.json" in done.stderr
    for line in ("drawer BENCH", "history BENCH wren-a", "receive BENCH", "bags BENCH"):
        assert recap(*line.split()).exit_code == 0, line
