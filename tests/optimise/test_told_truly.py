"""What is said of an order: proven or not, which bound, what was known meanwhile. Own arithmetic beside each check."""

from __future__ import annotations

import time
from dataclasses import replace
from decimal import Decimal
from typing import TYPE_CHECKING

import pytest

from recap.model import DRAWER, DrawerPart, Part, Status, Use
from recap.optimise import branching, columns, program, search, solve, solver, start, ties
from recap.optimise import instance as instances
from recap.optimise.rebuild import Choice
from recap.optimise.solver import Answer, Found
from tests.optimise.problems import offer, problem, terms

if TYPE_CHECKING:
    from recap.model import Problem

EVERY_WAY = pytest.mark.parametrize(("one_part", "solver"), [(True, "highs"), (False, "highs"), (True, "cbc")])

Told = tuple[Decimal | None, Decimal, float]


TWINS = problem(
    {"g": 1, "h": 1},
    [
        offer("A", "low", "1:1.50"),
        offer("A", "high", "1:1.50"),
        offer("A", "both", "1:1.50", life_h=Decimal(2000)),
        offer("A", "dear", "1:1.60", life_h=Decimal(9000)),
    ],
    {"g": "low both dear", "h": "high both"},
    [terms("A", "0:4.90")],
)
"""7.90 in two lines or in one; 8.00 with the part that lasts longer."""
APART = Choice({0: 1, 1: 1}, {(0, 0): 1, (1, 1): 1}, {})
TOGETHER = Choice({2: 2}, {(0, 2): 1, (1, 2): 1}, {})
DEARER = Choice({1: 1, 3: 1}, {(0, 3): 1, (1, 1): 1}, {})


def bags(*, one_part: bool = False, single: str = "0.30", bag: str = "0.20") -> Problem:
    """Twelve pieces: a bag of ten and two single ones are 2.60, twelve single ones 3.60, two bags 4.00."""
    return problem(
        {"g": 12},
        [offer("A", "single", f"1:{single}"), offer("A", "bag", f"10:{bag}", multiple=10)],
        {"g": "single bag"},
        [terms("A")],
        one_part=one_part,
    )


@EVERY_WAY
@pytest.mark.parametrize(
    ("stock", "minimum", "status"),
    [(5, "0", Status.OPTIMAL), (4, "0", Status.IMPOSSIBLE), (5, "5", Status.OPTIMAL), (5, "5.01", Status.IMPOSSIBLE)],
)
def test_stock_and_minimum_order_are_reached_or_there_is_no_order(
    one_part: bool, solver: str, stock: int, minimum: str, status: Status
) -> None:
    """Five pieces of 1.00 are wanted: of four in stock, or where 5.01 must be spent, there is no order."""
    asked = problem(
        {"g": 5, "h": 0},
        [offer("A", "p", "1:1.00", stock=stock)],
        {"g": "p", "h": "p"},
        [terms("A", minimum=minimum)],
        one_part=one_part,
    )
    outcome = solve.solve(asked, solver=solver)
    assert outcome.status is status
    assert (outcome.order is None) is (status is Status.IMPOSSIBLE)


@EVERY_WAY
def test_the_time_told_is_what_it_took(one_part: bool, solver: str) -> None:
    began = time.monotonic()
    outcome = solve.solve(bags(one_part=one_part), solver=solver)
    assert 0 <= outcome.seconds <= time.monotonic() - began
    assert outcome.solver == solver


@EVERY_WAY
def test_preferences_that_were_not_looked_into_are_not_claimed(one_part: bool, solver: str) -> None:
    asked = bags(one_part=one_part)
    plain, preferred = (solve.solve(asked, solver=solver, prefer=prefer) for prefer in (False, True))
    assert plain.order is not None
    assert preferred.order is not None
    assert (plain.status, plain.order.total, plain.preferred) == (Status.OPTIMAL, preferred.order.total, False)
    assert preferred.preferred


@EVERY_WAY
def test_with_time_enough_it_is_proven_and_with_none_nothing_is_claimed(one_part: bool, solver: str) -> None:
    asked = bags(one_part=one_part)
    done = solve.solve(asked, solver=solver, time_limit=120)
    assert done.order is not None
    assert (done.status, done.order.total) == (Status.OPTIMAL, Decimal("3.60" if one_part else "2.60"))
    none = solve.solve(asked, solver=solver, time_limit=0)
    assert (none.status, none.order, none.bound) == (Status.FEASIBLE, None, Decimal(0))


@pytest.mark.parametrize("rate", ["1", "1.17", "0.0931"])
@pytest.mark.parametrize("scale", [1, 40])
def test_a_hair_is_a_cent_of_the_bench_whatever_the_smallest_unit_is(rate: str, scale: int) -> None:
    asked = replace(bags(), suppliers={"A": terms("A", rate=rate)})
    built = instances.build(asked)
    now = time.monotonic()
    patience = solve._patience(built, solve.Manner(), scale)
    assert patience.hair * scale * float(built.unit) == pytest.approx(0.01)
    assert patience.deadline is None
    assert patience.brief is not None
    assert patience.brief > now + 30
    limited = solve._patience(built, solve.Manner(now + 5), scale)  # where the user says how long, that alone counts
    assert (limited.deadline, limited.hair) == (now + 5, 0)
    any_order = solve._patience(built, solve.Manner(now + 5, any_order=True), scale)
    assert any_order.seconds() == pytest.approx(5, abs=1), "until there is an order"
    with pytest.raises(TimeoutError):
        any_order.seconds(1e15, 0.0)


@pytest.mark.parametrize("factor", [1, 1000])
def test_what_is_told_of_a_long_search_is_money_of_the_bench(factor: int) -> None:
    """Orders of many figures are scaled for the solver; best and bound are told in full all the same."""
    single, bag = (f"{Decimal(price) * factor:.6f}" for price in ("0.300001", "0.200001"))
    least = (10 * Decimal("0.200001") + 2 * Decimal("0.300001")) * factor
    asked = bags(single=single, bag=bag)
    told: list[Told] = []
    outcome = solve.solve(asked, progress=lambda *words: told.append(words))
    assert outcome.order is not None
    assert outcome.order.total == least
    assert told
    for best, bound, gap in told:
        assert bound <= least
        assert best is None or least * Decimal("0.999999") <= best <= 12 * Decimal("0.300001") * factor
        assert 0 <= gap <= 1
    assert max(bound for _, bound, _ in told) > least / 2


def cut_short(monkeypatch: pytest.MonkeyPatch, asked: Problem, answer: Answer) -> solve.Outcome:
    """Solve with a search that comes to this answer; its bound is told as a share of the first order's total."""
    built = instances.build(asked)
    first = start.first_choice(built, None)
    assert first is not None

    def search(model: object, patience: object, report: object, known: float) -> Answer:
        return replace(answer, bound=answer.bound * known)

    monkeypatch.setattr(branching, "search_steps", search)
    return solve.solve(asked)


DEAR = bags(single="301.000001", bag="200.000001")
"""One part for all comes to twelve single ones, 3612.000012."""


@pytest.mark.parametrize(("share", "told"), [(0.5, Decimal("1806.000006")), (0.0, Decimal(0)), (-3.0, Decimal(0))])
def test_an_order_that_was_not_proven_has_the_bound_that_was_reached(
    share: float, told: Decimal, monkeypatch: pytest.MonkeyPatch
) -> None:
    outcome = cut_short(monkeypatch, DEAR, Answer(Found.NOTHING, None, share))
    assert outcome.order is not None
    assert (outcome.status, outcome.order.total) == (Status.FEASIBLE, Decimal("3612.000012"))
    assert outcome.bound is not None
    assert told * Decimal("0.99999") <= outcome.bound <= told


def test_no_bound_is_above_the_order_that_it_is_of(monkeypatch: pytest.MonkeyPatch) -> None:
    outcome = cut_short(monkeypatch, DEAR, Answer(Found.NOTHING, None, 1.5))
    assert outcome.order is not None
    assert outcome.bound is not None
    assert Decimal("0.99999") * outcome.order.total <= outcome.bound <= outcome.order.total


def test_where_the_search_finds_nothing_cheaper_the_first_order_is_proven(monkeypatch: pytest.MonkeyPatch) -> None:
    outcome = cut_short(monkeypatch, DEAR, Answer(Found.INFEASIBLE, None, 1.0))
    assert outcome.order is not None
    assert (outcome.status, outcome.order.total, outcome.bound) == (
        Status.OPTIMAL,
        Decimal("3612.000012"),
        Decimal("3612.000012"),
    )


@pytest.mark.parametrize("first", [True, False])
def test_where_the_search_is_at_a_loss_the_solver_does_it_by_itself(
    first: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    """With an order to begin with and without one: a bag and two single ones."""

    def lost(*_: object) -> Answer:
        raise RuntimeError

    monkeypatch.setattr(branching, "search_steps", lost)
    if not first:
        monkeypatch.setattr(start, "first_choice", lambda *_: None)
    outcome = solve.solve(bags())
    assert outcome.order is not None
    assert (outcome.status, outcome.order.total) == (Status.OPTIMAL, Decimal("2.60"))


def test_of_orders_as_cheap_the_better_one_is_kept_and_a_dearer_one_is_refused() -> None:
    contest = ties._contest(instances.build(TWINS), APART, time.monotonic() + 60)
    contest.enter(TOGETHER)
    assert contest.choice == TOGETHER
    contest.enter(APART)  # as cheap, in one line more
    assert contest.choice == TOGETHER
    merits = contest.merits
    with pytest.raises(ties.Undecided):
        contest.enter(DEARER)
    assert (contest.choice, contest.merits) == (TOGETHER, merits)


@pytest.mark.parametrize(
    "answer",
    [
        Answer(Found.FEASIBLE, 7.9, 0.0),
        Answer(Found.NOTHING, None, 0.0),
        Answer(Found.PROVEN, 7.9, 7.9, interrupted=True),
    ],
)
@pytest.mark.parametrize("steps", [False, True])
def test_where_the_search_for_better_ones_was_cut_short_the_order_stands_and_no_preference_is_claimed(
    answer: Answer, steps: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    built = instances.build(TWINS)
    state = search.search(built, columns.build(built), told=lambda *_: None)
    monkeypatch.setattr(solver, "run", lambda *_: answer)
    if steps:
        settled = ties.settle_steps(program.build(built), APART, "highs", time.monotonic() + 60)
    else:
        state.choice = APART
        settled = ties.settle_columns(state, time.monotonic() + 60)
    assert settled == ties.Settled(APART, all=False)


@pytest.mark.parametrize("begun", [APART, TOGETHER])
def test_whichever_order_the_search_came_to_the_preferred_one_is_told(begun: Choice) -> None:
    built = instances.build(TWINS)
    state = search.search(built, columns.build(built), told=lambda *_: None)
    state.choice = begun
    assert ties.settle_columns(state, time.monotonic() + 60) == ties.Settled(TOGETHER, all=True)


@EVERY_WAY
def test_what_comes_out_of_the_drawer_is_no_line_of_an_order(one_part: bool, solver: str) -> None:
    """Sold in twos, one is needed beside the one that lies there and lasts longer: 1.00, one line, as without it."""
    asked = problem(
        {"g": 1, "h": 1},
        [offer("A", "pair", "1:0.50", minimum=2, multiple=2, life_h=Decimal(2000))],
        {"g": "pair old", "h": "pair"},
        [terms("A")],
        drawer=[DrawerPart(Part(DRAWER, "old", life_h=Decimal(9000)), 1)],
        one_part=one_part,
    )
    outcome = solve.solve(asked, solver=solver)
    assert outcome.order is not None
    assert (outcome.order.total, outcome.preferred) == (Decimal("1.00"), True)
    assert [(kept.part.part.number, kept.uses) for kept in outcome.order.drawer] == [("old", (Use("g", 1),))]


@EVERY_WAY
def test_of_orders_of_the_fewest_lines_the_longest_lived_is_told_though_more_lines_would_last_longer(
    one_part: bool, solver: str
) -> None:
    singles = [offer("A", name, "1:1.00", life_h=Decimal(9000)) for name in ("low", "high")]
    hours = {"one": 1000, "two": 2000, "six": 6000, "three": 3000}
    shared = [offer("A", name, "1:1.00", life_h=Decimal(life)) for name, life in hours.items()]
    asked = problem(
        {"g": 1, "h": 1},
        [*singles, *shared],
        {"g": "low one two three six", "h": "high one two three six"},
        [terms("A")],
        one_part=one_part,
    )
    outcome = solve.solve(asked, solver=solver)
    assert outcome.order is not None
    assert outcome.preferred
    (parcel,) = outcome.order.suppliers
    assert [(line.part.number, line.qty) for line in parcel.lines] == [("six", 2)]


def test_a_program_too_large_for_preferences_claims_none(monkeypatch: pytest.MonkeyPatch) -> None:
    built = instances.build(TWINS)
    model = program.build(built)
    model.minimise(model.costs(), 1)
    until = time.monotonic() + 60
    monkeypatch.setattr(ties, "LARGEST", model.lp.numVariables() - 1)
    assert ties.settle_steps(model, APART, "highs", until) == ties.Settled(APART, all=False)
    monkeypatch.setattr(ties, "LARGEST", model.lp.numVariables())
    assert ties.settle_steps(model, APART, "highs", until) == ties.Settled(TOGETHER, all=True)
