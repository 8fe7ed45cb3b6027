"""The commands from order to audit, on one bench folder, as a person would type them."""

from __future__ import annotations

import json
import socket
import sqlite3
from typing import TYPE_CHECKING, Any

import pytest
from typer.testing import CliRunner

from recap.audit.events import EventKind, new_event
from recap.audit.record import open_record, read_record
from recap.cli import app, records
from tests.audit.conftest import OFFERS

if TYPE_CHECKING:
    from pathlib import Path

SPARES = 'currency = "EUR"\n[spares]\npieces = 1\n'


def run(*words: object, status: int = 0) -> str:
    """Run ``recap`` and return what it printed on standard output."""
    result = CliRunner().invoke(app, [str(word) for word in words], env={"COLUMNS": "100", "NO_COLOR": "1"})
    assert result.exit_code == status, result.output + repr(result.exception)
    return result.stdout


def told(*words: object, status: int = 0) -> Any:
    return json.loads(run(*words, "--json", status=status))


@pytest.fixture
def ordered(bench_folder: Path) -> Path:
    """The bench with both sets on the job and their order kept."""
    (bench_folder / "bench.toml").write_text(SPARES, encoding="utf-8")
    (bench_folder / "sets.csv").write_text(
        "set,chassis,boards,job,note\nS1,glimmer,,full,\nS2,glimmer,POWER,full,\n", encoding="utf-8"
    )
    run("order", bench_folder, "--keep")
    return bench_folder


def fit(folder: Path, set_name: str, ref: str, board: str, **data: object) -> str:
    event = new_event(EventKind.IN, set=set_name, board=board, ref=ref, data=data)
    with open_record(folder) as record:
        record.append([event])
    return event.id


def test_goods_come_in_short_then_whole_and_the_spares_lie_in_the_drawer(ordered: Path) -> None:
    owed = {line["part"]: line["owed"] for line in told("receive", ordered)["owed"]}
    assert owed == {"NL-220": 3, "NL-47": 6, "NL-HVT": 1}
    short = told("receive", ordered, "--all", "--line", "NL-47=2")
    assert [(b["part"], b["qty"], b["to_drawer"], b["owed"]) for b in short["booked"]] == [
        ("NL-47", 2, 0, 4),
        ("NL-220", 3, 1, 0),
        ("NL-HVT", 1, 0, 0),
    ]
    run("receive", ordered, "--all")
    assert told("receive", ordered)["owed"] == []
    drawer = {part["part"]: part["qty"] for part in told("drawer", ordered)["parts"]}
    assert drawer == {"NL-220": 1, "NL-47": 2}


def test_the_next_order_counts_on_what_came_over(ordered: Path) -> None:
    run("receive", ordered, "--all")
    (ordered / "bench.toml").write_text('currency = "EUR"\n[spares]\npieces = 0\n', encoding="utf-8")
    again = told("order", ordered)
    bought = {line["part"]: line["qty"] for parcel in again["suppliers"] for line in parcel["lines"]}
    assert bought == {"NL-220": 1, "NL-47": 2, "NL-HVT": 1}
    assert not (ordered / "drawer.csv").exists()


def test_ordering_again_what_is_ordered_already_is_told(ordered: Path) -> None:
    open_orders = [d for d in told("order", ordered)["diagnostics"] if d["code"] == "order-open"]
    assert "covers 6 of the positions" in open_orders[0]["message"]
    run("receive", ordered, "--close")
    assert not any(d["code"] == "order-open" for d in told("order", ordered)["diagnostics"])


def test_two_that_keep_the_same_order_at_the_same_time_keep_it_once(
    bench_folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Both have looked before either keeps it: what is kept twice would be bought twice."""
    looked = records.kept_already

    def and_meanwhile(*words: Any) -> str | None:
        monkeypatch.setattr(records, "kept_already", looked)
        found = looked(*words)
        run("order", bench_folder, "--keep")
        return found

    monkeypatch.setattr(records, "kept_already", and_meanwhile)
    run("order", bench_folder, "--keep", status=1)
    assert len(read_record(bench_folder)[1]) == 1


def test_nothing_is_bought_for_what_is_in_already_unless_asked(ordered: Path) -> None:
    before = {(p["set"], p["ref"]) for g in told("order", ordered)["groups"] for p in g["positions"]}
    set_name, ref = min(place for place in before if place[1])
    board = next(
        p["board"]
        for g in told("order", ordered)["groups"]
        for p in g["positions"]
        if (p["set"], p["ref"]) == (set_name, ref)
    )
    fit(ordered, set_name, ref, board)
    answer = told("order", ordered)
    after = {(p["set"], p["ref"]) for g in answer["groups"] for p in g["positions"]}
    assert before - after == {(set_name, ref)}
    assert "in-already" in [d["code"] for d in answer["diagnostics"]]
    again = told("order", ordered, "--again")
    assert {(p["set"], p["ref"]) for g in again["groups"] for p in g["positions"]} == before


def test_the_bench_page_says_why_it_cannot_be_served(ordered: Path) -> None:
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        run("bench", ordered, "--port", taken.getsockname()[1], status=1)
    run("bench", ordered, "--address", "127.0.0.1", status=2)
    run("bench", ordered, "--cert", ordered / "sets.csv", status=2)
    run("bench", ordered, "--cert", ordered / "sets.csv", "--key", ordered / "sets.csv", status=2)


def test_a_substitute_is_judged_on_the_spot(ordered: Path) -> None:
    refused = told(
        "receive", ordered, "--instead", "NL-47=ZZ-9", "--spec", "ZZ-9=47 uF 16 V 105C radial p2.5", status=1
    )
    assert refused["diagnostics"][0]["code"] == "substitute-refused"
    booked = told(
        "receive", ordered, "--instead", "NL-47=ZZ-9", "--spec", "ZZ-9=47 uF 35 V 105C 5000h radial electrolytic p2.5"
    )
    assert {check["verdict"] for check in booked["checks"]} == {"fits"}
    audited = told("audit", ordered, "S1")
    assert {s["ref"]: s["planned"] for s in audited["suspects"]} == {
        "C1": "NL-220",
        "C2": "ZZ-9",
        "C3": "ZZ-9",
        "C4": "ZZ-9",
    }


def test_an_unknown_substitute_is_refused_with_what_to_do(ordered: Path) -> None:
    refused = told("receive", ordered, "--instead", "NL-47=NOBODY", status=1)
    assert refused["diagnostics"][0]["code"] == "substitute-unknown"
    assert "--spec" in refused["diagnostics"][0]["hint"]


def test_an_edit_of_drawer_csv_is_settled_by_a_word(ordered: Path) -> None:
    header = "part,value,volts,temp,life,mount,kind,pitch,qty,bought\n"
    row = "NL-47,47 µF,25,105,5000,radial,electrolytic,2.5,{},2025-01-01\n"
    (ordered / "drawer.csv").write_text(header + row.format(9), encoding="utf-8")
    run("drawer", ordered, "--move", "NL-47=-2", "--why", "lent")
    assert told("drawer", ordered)["parts"][0]["qty"] == 7
    (ordered / "drawer.csv").write_text(header + row.format(7), encoding="utf-8")
    unsettled = told("drawer", ordered)
    assert (unsettled["parts"][0]["qty"], unsettled["parts"][0]["unsettled"]) == (5, True)
    assert [d["code"] for d in unsettled["diagnostics"]] == ["drawer-edited"]
    assert told("drawer", ordered, "--counted", "NL-47")["parts"][0]["qty"] == 7
    assert "NL-47,47 µF" in (ordered / "drawer.csv").read_text(encoding="utf-8")


def test_audit_history_and_other_work_tell_one_story(ordered: Path) -> None:
    run("receive", ordered, "--all")
    fit(ordered, "S1", "C1", "POWER")
    run("work", ordered, "S1", "borrowed", "sound module", "--with", "S2", "--board", "audio")
    run("work", ordered, "S1", "--hours", "1200", "--per-week", "10")
    run("note", ordered, "S1", "pad lifted, hums", "--ref", "c3", "--by", "K")
    audited = told("audit", ordered, "S1", "--about", "hum on the left channel")
    assert [s["ref"] for s in audited["suspects"]][:2] == ["C1", "C3"]
    assert audited["suspects"][1]["matches"] == ["'channel' goes with the board AUDIO", "noted: pad lifted, hums"]
    assert [s["ref"] for s in told("audit", ordered, "S1", "--board", "POWER")["suspects"]] == ["C1", "C2"]
    assert told("audit", ordered, "S2")["lacks"][0].startswith("sound module: in S1 since ")
    (story,) = told("history", ordered, "S1")["sets"]
    assert (story["in"], story["positions"], story["hours_per_week"]) == (1, 4, 10)
    assert [d["ref"] for d in story["due"]] == ["C1"]
    assert "pad lifted, hums, by K" in run("history", ordered, "S1")
    assert "C1" in run("audit", ordered, "S1")
    assert "S2" in run("history", ordered)


@pytest.mark.parametrize(
    ("words", "status"),
    [
        (("audit", "S9"), 2),
        (("audit", "S1", "--board", "CELLAR"), 2),
        (("audit", "S1", "--since", "yesterday"), 2),
        (("history", "S9"), 2),
        (("note", "S1", "x", "--ref", "C99"), 2),
        (("work", "S1", "borrowed", "module"), 2),
        (("work", "S1", "painted", "blue"), 2),
        (("work", "S1"), 2),
        (("receive", "--line", "NL-47"), 2),
        (("receive", "--line", "NL-47=-3"), 2),
        (("receive", "--order", "1999-01-01-1", "--all"), 1),
        (("receive", "--all", "--supplier", "nobody"), 1),
        (("receive", "--order", "1999-01-01-1"), 1),
        (("receive", "--supplier", "nobody"), 1),
        (("receive", "--close", "--supplier", "norlicht"), 2),
        (("estimate", "--sets", "S9"), 2),
    ],
)
def test_what_makes_no_sense_is_refused(ordered: Path, words: tuple[str, ...], status: int) -> None:
    run(words[0], ordered, *words[1:], status=status)


@pytest.mark.parametrize("spoilt", ["row", "terms", "gone"])
def test_price_lists_spoilt_since_the_order_lock_nothing_of_the_bench_away(ordered: Path, spoilt: str) -> None:
    """Price lists are changed for the next order while sets of the last one are still worked on."""
    offers = ordered / "catalogs" / "Norlicht.csv"
    if spoilt == "row":
        offers.write_text(OFFERS.replace("1:0.50", "abc"), encoding="utf-8")
    elif spoilt == "terms":
        (ordered / "catalogs" / "newshop.csv").write_text(OFFERS, encoding="utf-8")
    else:
        offers.unlink()
    run("receive", ordered, "--all")
    run("note", ordered, "S1", "pad lifted", "--ref", "C1")
    run("work", ordered, "S1", "symptom", "hums")
    for words in (("audit", "S1"), ("history", "S1"), ("drawer",), ("bags",), ("checklist",), ("receive",)):
        run(words[0], ordered, *words[1:])
    for words in (("order",), ("estimate",), ("checklist", "--fresh")):  # these buy, or would
        run(words[0], ordered, *words[1:], status=1)


def test_the_record_goes_out_and_in_and_is_backed_up(ordered: Path, tmp_path: Path) -> None:
    fit(ordered, "S1", "C1", "POWER")
    run("record", "export", ordered, "--out", tmp_path / "out.json")
    run("record", "export", ordered, "--out", tmp_path / "tables")
    run("record", "backup", ordered, "--out", tmp_path / "copy.db")
    run("record", "backup", ordered, "--out", tmp_path / "copy.db", status=1)
    run("record", "export", ordered, "--out", tmp_path / "out.json", status=1)
    other = tmp_path / "other"
    other.mkdir()
    assert "added 1 event, 1 order, 0 photos" in run("record", "import", other, tmp_path / "out.json")
    assert "added 0 events, 0 orders" in run("record", "import", other, tmp_path / "tables")
    assert "sound" in run("record", "check", other)
    (tmp_path / "bad.json").write_text("{}", encoding="utf-8")
    run("record", "import", other, tmp_path / "bad.json", status=1)
    run("record", "backup", tmp_path / "tables", status=2)


def test_a_damaged_record_is_told_by_every_command_and_left_alone(ordered: Path) -> None:
    damaged = b"scribbled over" * 500
    (ordered / "record.db").write_bytes(damaged)
    for words in (("receive",), ("drawer",), ("audit", "S1"), ("history",), ("order",)):
        run(words[0], ordered, *words[1:], status=1)
    assert (ordered / "record.db").read_bytes() == damaged


def test_estimate_compares_and_sums_up(ordered: Path) -> None:
    run("receive", ordered, "--close")  # what is ordered costs nothing more
    found = told("estimate", ordered, "--minutes", "6")
    ways = {(c["set"], c["way"]): c["cost"] for c in found["choices"]}
    assert ways["S1", "leave it"] == "0.00"
    assert float(ways["S1", "everything"]) > float(ways["S1", "suspects only"]) > 0
    assert float(found["together"]["saved"]) > 0
    shown = CliRunner().invoke(app, ["estimate", str(ordered)], env={"COLUMNS": "100", "NO_COLOR": "1"})
    assert "Buying now for all saves" in " ".join(shown.stdout.split())


def test_looking_makes_no_record(bench_folder: Path) -> None:
    for words in (("receive",), ("drawer",), ("audit", "S1"), ("history",)):
        run(words[0], bench_folder, *words[1:])
    assert not (bench_folder / "record.db").exists()


def test_a_newer_record_is_refused(ordered: Path) -> None:
    with sqlite3.connect(ordered / "record.db") as db:
        db.execute("INSERT INTO migrations VALUES ('999-later', '')")
    run("history", ordered, status=1)


def costs(folder: Path) -> dict[tuple[str, str], tuple[str, int, str]]:
    """Return money, parts and hours of an estimate by set and way to go."""
    found = told("estimate", folder)
    return {(way["set"], way["way"]): (way["cost"], way["parts"], way["hours"]) for way in found["choices"]}


def test_what_a_kept_order_has_bought_costs_hours_and_no_money(ordered: Path) -> None:
    """Before and after the parcel comes; an order closed before anything came has bought nothing."""
    whole = {key: way for key, way in costs(ordered).items() if key[1] == "everything"}
    assert {float(cost) for cost, _, _ in whole.values()} == {0.0}
    assert all(parts > 0 and float(hours) > 0 for _, parts, hours in whole.values())
    run("receive", ordered, "--all")
    assert {key: way for key, way in costs(ordered).items() if key[1] == "everything"} == whole


def test_an_order_that_will_not_come_costs_its_money_again(ordered: Path) -> None:
    run("receive", ordered, "--line", "NL-47=2")
    run("receive", ordered, "--close")
    assert all(float(cost) > 0 for (_, way), (cost, _, _) in costs(ordered).items() if way == "everything")
    open_orders = [d for d in told("order", ordered)["diagnostics"] if d["code"] == "order-open"]
    assert "covers 2 of the positions" in open_orders[0]["message"]


def test_a_note_of_several_lines_is_told_on_one(ordered: Path) -> None:
    run("note", ordered, "S1", "pad lifted,\n  wired to R12")
    assert "note: pad lifted, wired to R12\n" in run("history", ordered, "S1")


def test_what_is_owed_is_shown_of_the_order_that_is_named(ordered: Path) -> None:
    """Pieces are counted off against the list shown: it must not hold another order's."""
    (ordered / "extras.csv").unlink()
    (ordered / "sets.csv").write_text("set,chassis,boards,job,note\nS3,glimmer,POWER,full,\n", encoding="utf-8")
    run("order", ordered, "--keep")
    every = told("receive", ordered)["owed"]
    names = sorted({line["order"] for line in every})
    assert len(names) == 2
    for name in names:
        assert told("receive", ordered, "--order", name)["owed"] == [line for line in every if line["order"] == name]
