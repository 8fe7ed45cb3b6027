"""A set's story as it is printed: how far the work is, hours and minutes, what comes due. Own arithmetic beside."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from typing import TYPE_CHECKING

import pytest
from typer.testing import CliRunner

from recap.audit.chronicle import Chronicle
from recap.audit.due import Due, Usage
from recap.audit.events import EventKind, PlaceKey
from recap.audit.pace import Session
from recap.audit.state import Progress
from recap.cli import app
from recap.show.history_view import history_document, print_overview, print_story
from tests.audit.stories import minutes, part, tick
from tests.show.printed import lines

if TYPE_CHECKING:
    from pathlib import Path

RUNNER = CliRunner()


def session(start: float, end: float) -> Session:
    return Session("S1", minutes(start), minutes(end), 3)


def due(ref: str = "C1", life: str = "90510", run: str | None = None, on: date | None = None) -> Due:
    return Due(PlaceKey("S1", "AUDIO", ref), part("HRN-47"), Decimal(life), "ten-degree", run and Decimal(run), on)


def story(*sessions: Session, dues: tuple[Due, ...] = (), usage: Usage | None = None) -> Chronicle:
    events = (tick(EventKind.IN, "C1", 0), tick(EventKind.CHECKED, "C1", 5))
    return Chronicle("S1", Progress(11, 5, 4, 2), events, sessions, (), usage or Usage(), dues)


@pytest.mark.parametrize(
    ("sessions", "overview", "told"),
    [
        ((session(0, 125),), "2 h 05 min", "At the bench: 1 session, 2 h 05 min from tick to tick"),
        ((session(0, 50), session(200, 270)), "2 h 00 min", "At the bench: 2 sessions, 2 h 00 min from tick to tick"),
        ((session(0, 59),), "0 h 59 min", "At the bench: 1 session, 0 h 59 min from tick to tick"),
    ],
)
def test_the_time_at_the_bench_is_told_in_hours_and_minutes(
    sessions: tuple[Session, ...], overview: str, told: str
) -> None:
    _, line = lines(print_overview, [story(*sessions)])
    assert line == f"S1 4 of 11 2 2025-03-03 {overview}"
    assert told in lines(print_story, story(*sessions))


def test_a_set_without_work_is_told_so() -> None:
    idle = Chronicle("S2", Progress(7, 0, 0, 0), (), (), (), Usage(), ())
    assert lines(print_overview, [idle])[1] == "S2 0 of 7 0 never"
    assert lines(print_story, idle) == ["S2: 0 of 7 in, 0 checked", "Nothing is recorded."]


@pytest.mark.parametrize(
    ("given", "run", "when"),
    [
        (due(), "", "after 90,510 h"),
        (due(run="510"), "510", "in 90,000 h"),
        (due(life="2000", run="2350"), "2,350", "350 h ago"),
        (due(life="2000", run="2000"), "2,000", "in 0 h"),
        (due(run="510", on=date(2031, 4, 5)), "510", "2031-04-05"),
    ],
)
def test_what_comes_due_is_told_by_the_day_or_by_the_hours(given: Due, run: str, when: str) -> None:
    """Life less what it has run: 90,510 - 510 are 90,000 h left; 2,350 of 2,000 h are 350 too many."""
    told = lines(print_story, story(dues=(given,)))
    words = f"C1 AUDIO HRN-47 {given.life_h:,} {run} {when} ten-degree"
    assert " ".join(words.split()) in told
    assert lines(print_overview, [story(dues=(given,))])[1].endswith(when)


def test_how_much_it_runs_is_asked_for_only_where_nobody_said() -> None:
    asked = "Parts due by life estimate, soonest first; say how much it runs: recap work BENCH SET --hours"
    assert asked in lines(print_story, story(dues=(due(),)))
    weekly = story(dues=(due(),), usage=Usage(per_week=Decimal(10)))
    assert "Parts due by life estimate, soonest first" in lines(print_story, weekly)


def test_of_many_that_come_due_the_first_eight_are_shown_and_the_document_has_all() -> None:
    many = story(session(0, 125), dues=tuple(due(f"C{n}") for n in range(1, 12)))
    assert sum("HRN-47" in line for line in lines(print_story, many)) == 8
    found = history_document(many)
    assert (found["positions"], found["out"], found["in"], found["checked"]) == (11, 5, 4, 2)
    assert len(found["due"]) == 11
    assert found["sessions"][0]["minutes"] == 125


def test_a_due_part_as_a_document() -> None:
    given = due(run="510.04", on=date(2031, 4, 5))
    (found,) = history_document(story(dues=(given,), usage=Usage(per_week=Decimal("10.5"))))["due"]
    assert (found["life_hours"], found["hours_run"], found["due"]) == (90510, 510.0, "2031-04-05")
    (silent,) = history_document(story(dues=(due(),)))["due"]
    assert (silent["hours_run"], silent["due"]) == (None, None)


@pytest.mark.parametrize(
    ("words", "told"),
    [
        ("--hours 123456.78", "has run 123456.78 h"),  # every figure of the meter
        ("--hours 1200", "has run 1200 h"),
        ("--hours 0.5", "has run 0.5 h"),
    ],
)
def test_what_the_hour_meter_shows_is_recorded_as_it_was_typed(words: str, told: str, tmp_path: Path) -> None:
    folder = str(tmp_path / "bench")
    assert RUNNER.invoke(app, ["new", folder]).exit_code == 0
    done = RUNNER.invoke(app, ["work", folder, "wren-a", *words.split()])
    assert done.stdout == f"recorded: wren-a, {told}\n"
    assert f"  {told}" in RUNNER.invoke(app, ["history", folder, "wren-a"]).stdout


@pytest.mark.parametrize("hours", ["inf", "nan", "-1", "1000001"])
def test_what_no_hour_meter_shows_is_not_recorded(hours: str, tmp_path: Path) -> None:
    folder = str(tmp_path / "bench")
    assert RUNNER.invoke(app, ["new", folder]).exit_code == 0
    assert RUNNER.invoke(app, ["work", folder, "wren-a", "--hours", hours]).exit_code == 2
    assert "Nothing is recorded." in RUNNER.invoke(app, ["history", folder, "wren-a"]).stdout
