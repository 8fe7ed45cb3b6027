"""From jobs to groups: what is bought for, and what counts as the same thing."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from recap.match.groups import Work, gather, groups
from recap.match.jobs import on_job
from recap.model import CapList, Extra, Kind, Mount, Position, Role, SetOnBench, Settings, SparesRule
from tests.match.shelf import BenchByHand

D = Decimal


def at(ref: str | None, board: str | None = None, **stated: Any) -> Position:
    asked: dict[str, Any] = {
        "value_uF": D(47),
        "volts": D(25),
        "mount": Mount.RADIAL,
        "kind": Kind.ELECTROLYTIC,
    } | stated
    return Position(ref=ref, board=board, **asked)


CHASSIS = CapList(
    "K7",
    (
        at("C101", "AUDIO"),
        at("C102", "AUDIO"),
        at("C331", "PSU"),
        at("C905", "PSU"),
        at("C12a"),
        at("C12b"),
        at(None, "PSU"),
    ),
)


def chosen(job: str, boards: str = "") -> list[str]:
    one = SetOnBench("S1", "K7", tuple(boards.split()), tuple(job.split()))
    return [p.ref or "-" for p in on_job(one, CHASSIS)[0]]


EVERYTHING = ["C101", "C102", "C331", "C905", "C12a", "C12b", "-"]


@pytest.mark.parametrize(
    ("job", "expected"),
    [
        ("full", EVERYTHING),
        ("FULL", EVERYTHING),
        ("none", []),
        ("", EVERYTHING),
        ("full -C905", ["C101", "C102", "C331", "C12a", "C12b", "-"]),
        ("-C905 full", ["C101", "C102", "C331", "C12a", "C12b", "-"]),
        ("-C905", ["C101", "C102", "C331", "C12a", "C12b", "-"]),
        ("PSU", ["C331", "C905", "-"]),
        ("psu C101", ["C101", "C331", "C905", "-"]),
        ("PSU C331", ["C331", "C905", "-"]),
        ("full -AUDIO", ["C331", "C905", "C12a", "C12b", "-"]),
        ("full -PSU C331", ["C101", "C102", "C331", "C12a", "C12b"]),
        ("C331 full -PSU", ["C101", "C102", "C331", "C12a", "C12b"]),
        ("none C-905", ["C905"]),
        ("C101-C102", ["C101", "C102"]),
        ("C12", ["C12a", "C12b"]),
        ("c12a", ["C12a"]),
        ("C331 -C331", []),
    ],
)
def test_the_words_of_a_job(job: str, expected: list[str]) -> None:
    assert chosen(job) == expected


def test_only_the_boards_that_the_set_has() -> None:
    assert chosen("full", boards="PSU") == ["C331", "C905", "C12a", "C12b", "-"]
    assert chosen("C101", boards="PSU") == []


def test_words_that_name_nothing_come_out() -> None:
    one = SetOnBench("S1", "K7", (), ("full", "-C999", "TUNER"))
    assert on_job(one, CHASSIS)[1] == ("-C999", "TUNER")


@settings(max_examples=60, deadline=None)
@given(st.permutations(["full", "-PSU", "C331", "-C101", "AUDIO"]))
def test_the_order_of_the_words_does_not_matter(words: list[str]) -> None:
    assert chosen(" ".join(words)) == ["C102", "C331", "C12a", "C12b"]


def bench(*positions: Position, **more: Any) -> BenchByHand:
    names = more.pop("sets", ("S1",))
    return BenchByHand(
        sets=tuple(SetOnBench(name, "K7", (), ("full",)) for name in names),
        caplists={"K7": CapList("K7", positions)},
        **more,
    )


def work(given_bench: BenchByHand, **more: Any) -> Work:
    return gather(given_bench, **more)  # type: ignore[arg-type]


def summary(made: Work) -> list[tuple[str, int]]:
    return [(g.id, g.need) for g in made.groups]


def test_the_same_thing_over_several_sets_is_one_group() -> None:
    made = work(bench(at("C1"), at("C2", value_uF=D("47.0")), sets=("S1", "S2")))
    assert summary(made) == [("47 µF 25 V radial", 4)]
    assert [(p.set, p.position.ref) for p in made.groups[0].placed] == [
        ("S1", "C1"),
        ("S1", "C2"),
        ("S2", "C1"),
        ("S2", "C2"),
    ]


@pytest.mark.parametrize(
    ("differs", "names"),
    [
        ({"volts": D(16)}, ["47 µF 16 V radial", "47 µF 25 V radial"]),
        ({"temp_C": 105}, ["47 µF 25 V radial 105 °C", "47 µF 25 V radial no temperature"]),
        ({"kind": Kind.BIPOLAR}, ["47 µF 25 V radial", "47 µF 25 V radial bipolar"]),
        ({"role": Role.TIMING}, ["47 µF 25 V radial no role", "47 µF 25 V radial timing"]),
        ({"pitch_mm": D(5)}, ["47 µF 25 V radial no pitch", "47 µF 25 V radial pitch 5"]),
        ({"diameter_mm": D("6.3")}, ["47 µF 25 V radial no size", "47 µF 25 V radial Ø6.3"]),
        ({"operating_V": D(20)}, ["47 µF 25 V radial no working voltage", "47 µF 25 V radial works at 20 V"]),
        ({"ripple_mA": D(90)}, ["47 µF 25 V radial no ripple", "47 µF 25 V radial ripple 90 mA"]),
        ({"safety": "X2"}, ["47 µF 25 V radial", "47 µF 25 V radial X2"]),
    ],
)
def test_whatever_changes_the_acceptable_parts_parts_the_groups(differs: dict[str, Any], names: list[str]) -> None:
    assert [name for name, _ in summary(work(bench(at("C1"), at("C2", **differs))))] == names


def test_what_is_a_positions_own_does_not_part_groups() -> None:
    made = work(bench(at("C1", "A", note="hot"), at("C2", "B"), at(None, qty=3)))
    assert summary(made) == [("47 µF 25 V radial", 5)]
    asks = made.groups[0].asks
    assert asks is not None
    assert (asks.ref, asks.board, asks.note, asks.qty) == (None, None, None, 1)


def test_spares_are_counted_for_the_group_and_not_for_extras() -> None:
    spares = Settings(spares=SparesRule(pieces=1, percent=D(50)))
    extra = Extra("connector", 2, ("CN-1", "CN-2"))
    made = work(bench(at("C1"), at("C2"), at("C3"), settings=spares, extras=(extra,)))
    assert summary(made) == [("47 µF 25 V radial", 5), ("extra: connector", 2)]


def test_extras_of_one_name_are_told_apart() -> None:
    extras = (Extra("fuse", 1, ("F1",), "S1"), Extra("fuse", 2, ("F1",), "S2"), Extra("fuse", 3, ("F1",), "S2"))
    made = work(bench(sets=("S1", "S2"), extras=extras))
    assert summary(made) == [("extra: fuse for S1", 1), ("extra: fuse for S2", 2), ("extra: fuse for S2 (2)", 3)]


def test_only_the_sets_asked_for() -> None:
    extras = (Extra("fuse", 1, ("F1",), "S1"), Extra("knob", 1, ("K",), "S2"), Extra("solder", 1, ("SN",)))
    made = work(bench(at("C1"), sets=("S1", "S2"), extras=extras), only_sets=frozenset({"S2"}))
    assert summary(made) == [("47 µF 25 V radial", 1), ("extra: knob", 1), ("extra: solder", 1)]
    assert [d.code for d in work(bench(), only_sets=frozenset({"S9"})).diagnostics] == ["set-unknown"]


def test_doubted_positions_are_kept_back_until_accepted() -> None:
    doubted = at("C1", doubts=("unit-missing",))
    harmless = at("C2", doubts=())
    made = work(bench(doubted, harmless))
    assert summary(made) == [("47 µF 25 V radial", 1)]
    assert [(h.set, h.position.ref, h.doubts) for h in made.held] == [("S1", "C1", ("unit-missing",))]
    assert summary(work(bench(doubted, harmless), accept_doubts=True)) == [("47 µF 25 V radial", 2)]


def test_a_position_without_a_capacitance_is_never_bought_for() -> None:
    for accept in (False, True):
        made = work(bench(at("C1", value_uF=None)), accept_doubts=accept)
        assert (made.groups, [h.doubts for h in made.held]) == ((), [("value-missing",)])


def test_what_is_said_about_sets() -> None:
    by_hand = bench(at("C1"))
    blank, astray = SetOnBench("S2", "K7"), SetOnBench("S3", "K9", (), ("full",))
    odd = SetOnBench("S4", "k7", (), ("C1", "X9"))
    by_hand.sets = (blank, astray, odd)
    made = work(by_hand)
    assert [d.code for d in made.diagnostics] == ["job-blank", "set-without-list", "job-word-unmatched"]
    assert summary(made) == [("47 µF 25 V radial", 2)]


def test_a_derating_profile_that_does_not_exist_is_an_error() -> None:
    rules: dict[Role | None, dict[str, object]] = {None: {"profile": "hme"}}
    found = groups(bench(at("C1"), settings=Settings(rules=rules)))[1]  # type: ignore[arg-type]
    assert [(d.code, d.severity.value) for d in found] == [("profile-unknown", "error")]


@settings(max_examples=40, deadline=None)
@given(
    st.lists(
        st.tuples(
            st.sampled_from([D("0.47"), D(47), D(470), D("0.1")]),
            st.sampled_from([None, D(16), D("6.3")]),
            st.sampled_from([None, *Mount]),
            st.sampled_from([None, D(5), D("7.5")]),
            st.sampled_from([None, Role.TIMING]),
            st.integers(1, 3),
        ),
        max_size=25,
    )
)
def test_no_piece_is_lost_and_no_name_is_given_twice(rows: list[tuple[Any, ...]]) -> None:
    positions = [
        replace(at(f"C{i}"), value_uF=value, volts=volts, mount=mount, pitch_mm=pitch, role=role, qty=qty)
        for i, (value, volts, mount, pitch, role, qty) in enumerate(rows)
    ]
    made = work(bench(*positions))
    assert sum(g.positions_count for g in made.groups) == sum(row[-1] for row in rows)
    assert len({g.id for g in made.groups}) == len(made.groups) == len({row[:-1] for row in rows})
