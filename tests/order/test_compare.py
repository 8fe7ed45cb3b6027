"""Other ways to buy the same, worked by hand beside each check (own arithmetic)."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

from recap.model import DRAWER, DrawerPart, Group, Kind, Outcome, Placed, Position, Problem, SparesRule, Status
from recap.optimise.solve import solve
from recap.order.compare import Step, alternatives, by_life, by_parcels, lasting, rated_lives, within
from recap.order.explain import explain
from recap.order.plot import plot
from recap.order.prefer import fewer_parcels, longer_life
from tests.optimise.problems import lying, offer, problem, terms

TWO_SHOPS = problem(
    {"a": 2, "b": 1},
    [offer("north", "A1", "1:1.00"), offer("south", "A2", "1:2.10"), offer("south", "B1", "1:0.50")],
    {"a": "A1 A2", "b": "B1"},
    [terms("north", "0:1.00"), terms("south", "0:3.00")],
)
"""north 2 x 1.00 + 1.00 and south 0.50 + 3.00 = 6.50; all at south 4.20 + 0.50 + 3.00 = 7.70."""


def group(name: str, *places: tuple[str, str]) -> Group:
    return Group(name, Position(value_uF=Decimal(1)), tuple(Placed(s, Position(ref=r)) for s, r in places))


GROUPS = (group("a", ("one", "C1"), ("two", "C1")), group("b", ("two", "C2")))


def best(given: Problem) -> Outcome:
    found = solve(given)
    assert found.order is not None
    return found


def test_each_way_to_buy_is_a_whole_order_with_its_own_postage() -> None:
    order = best(TWO_SHOPS).order
    assert order is not None
    table = {a.name: (a.total, a.parcels, a.lines) for a in alternatives(TWO_SHOPS, order, GROUPS, SparesRule(), solve)}
    assert table == {
        "this order": (Decimal("6.50"), 2, 2),
        "one parcel: the best single supplier": (Decimal("7.70"), 1, 2),
        "cheapest part, line by line": (Decimal("6.50"), 2, 2),
        # set one: 1.00 + 1.00 at north; set two: 1.00 + 1.00 at north and 0.50 + 3.00 at south
        "each set ordered on its own": (Decimal("7.50"), 3, 3),
    }


def test_line_by_line_is_priced_with_the_true_terms_and_says_where_it_misses_a_minimum() -> None:
    demanding = replace(TWO_SHOPS, suppliers={**TWO_SHOPS.suppliers, "north": terms("north", "0:1.00", minimum="2.50")})
    order = best(demanding).order
    assert order is not None
    found = {a.name: a for a in alternatives(demanding, order, GROUPS, SparesRule(), solve)}
    assert found["cheapest part, line by line"].total == Decimal("6.50")
    assert found["cheapest part, line by line"].note == "below the minimum order of north"


def test_what_one_set_takes_from_the_drawer_is_gone_for_the_next() -> None:
    given = problem(
        {"a": 2}, [offer("north", "A1", "1:1.00")], {"a": "A1"}, [terms("north", "0:5.00")], drawer=[lying("A1", 1)]
    )
    order = best(given).order
    assert order is not None
    assert order.total == Decimal("6.00")
    found = {a.name: a for a in alternatives(given, order, GROUPS[:1], SparesRule(), solve)}
    # the first set uses the drawer's piece and costs nothing, the second pays 1.00 + 5.00
    assert found["each set ordered on its own"].total == Decimal("6.00")


def test_every_set_on_its_own_has_its_own_spares() -> None:
    given = replace(TWO_SHOPS, needs=tuple(replace(need, pieces=need.pieces + 1) for need in TWO_SHOPS.needs))
    order = best(given).order
    assert order is not None
    found = {a.name: a for a in alternatives(given, order, GROUPS, SparesRule(pieces=1), solve)}
    # one: 2 x A1 at north 3.00; two: 2 x A1 at north 3.00 and 2 x B1 at south 1.00 + 3.00
    assert found["each set ordered on its own"].total == Decimal("10.00")


def test_parcels_are_counted_up_and_more_of_them_never_cost_more() -> None:
    totals = [step.outcome.order.total for step in by_parcels(TWO_SHOPS, 2, solve) if step.outcome.order]
    assert totals == [Decimal("7.70"), Decimal("6.50")]


LIVES = problem(
    {"a": 1},
    [
        replace(offer("north", "A1", "1:1.00", life_h=Decimal(2000)), kind=Kind.ELECTROLYTIC),
        replace(offer("north", "A2", "1:1.10", life_h=Decimal(5000)), kind=Kind.ELECTROLYTIC),
        replace(offer("north", "A3", "1:3.00", life_h=Decimal(10000)), kind=Kind.ELECTROLYTIC),
    ],
    {"a": "A1 A2 A3"},
    [terms("north")],
)


def test_longer_rated_life_costs_what_it_costs() -> None:
    assert rated_lives(LIVES) == (Decimal(2000), Decimal(5000), Decimal(10000))
    totals = [step.outcome.order.total for step in by_life(LIVES, rated_lives(LIVES), solve) if step.outcome.order]
    assert totals == [Decimal("1.00"), Decimal("1.10"), Decimal("3.00")]


def test_where_no_part_lasts_so_long_the_longest_lasting_one_is_taken() -> None:
    wet = [
        replace(offer("north", number, "1:1.00", life_h=life and Decimal(life)), kind=Kind.ELECTROLYTIC)
        for number, life in (("A1", 2000), ("A2", 5000), ("B1", 1000), ("B2", 2000), ("C1", None))
    ]
    given = problem({"a": 1, "b": 1, "c": 1}, wet, {"a": "A1 A2", "b": "B1 B2", "c": "C1"}, [terms("north")])
    assert lasting(given, Decimal(5000)).suits == {"a": (1,), "b": (3,), "c": (4,)}
    assert lasting(given, Decimal(2000)).suits == {"a": (0, 1), "b": (3,), "c": (4,)}


def test_film_parts_have_no_rated_life_to_miss() -> None:
    film = replace(LIVES, offers=tuple(replace(o, kind=Kind.FILM, life_h=None) for o in LIVES.offers))
    assert lasting(film, Decimal(10000)).suits == film.suits


def test_ten_percent_more_buys_five_thousand_hours_and_not_a_cent_beyond() -> None:
    outcome, hours = longer_life(LIVES, best(LIVES), Decimal(10), solve)
    assert hours == Decimal(5000)
    assert outcome.order is not None
    assert outcome.order.total == Decimal("1.10")
    assert longer_life(LIVES, best(LIVES), Decimal("9.99"), solve)[1] == Decimal(2000)


def test_fewer_parcels_are_taken_only_within_the_percent_allowed() -> None:
    cheapest = best(TWO_SHOPS)
    _, same = fewer_parcels(TWO_SHOPS, cheapest, Decimal(18), solve)
    assert same is cheapest
    _, one = fewer_parcels(TWO_SHOPS, cheapest, Decimal(19), solve)
    assert one.order is not None
    assert (len(one.order.suppliers), one.order.total) == (1, Decimal("7.70"))


def test_time_spent_is_spent_for_all_comparisons_together() -> None:
    assert within(0.0)(TWO_SHOPS).order is None


def test_pieces_over_are_explained_by_the_price_break_that_made_them_cheaper() -> None:
    given = problem({"a": 9}, [offer("north", "A1", "1:1.00 10:0.50")], {"a": "A1"}, [terms("north")])
    order = best(given).order
    assert order is not None
    (over,) = explain(given, order).over
    assert (over.pieces, over.reason) == (1, "10 pieces cost 5.00, 9 would cost 9.00: the price break is cheaper")


def test_pieces_over_are_explained_by_the_postage_step_they_reach() -> None:
    given = problem({"a": 9}, [offer("north", "A1", "1:1.00")], {"a": "A1"}, [terms("north", "0:6.00 10:0")])
    order = best(given).order
    assert order is not None
    (over,) = explain(given, order).over
    assert over.reason == "lifts the parcel to the next shipping step, which saves 6.00 EUR"


def test_a_multiple_that_forces_more_is_named() -> None:
    given = problem({"a": 3}, [offer("north", "A1", "5:1.00", multiple=5)], {"a": "A1"}, [terms("north")])
    order = best(given).order
    assert order is not None
    (over,) = explain(given, order).over
    assert (over.pieces, over.reason) == (2, "sold from 5 pieces, in steps of 5")


def test_candidates_are_shown_with_the_lot_that_covers_the_need_and_its_cost() -> None:
    order = best(TWO_SHOPS).order
    assert order is not None
    why = {w.group: w for w in explain(TWO_SHOPS, order).groups}
    assert [(c.part.number, c.lot, c.cost, c.taken) for c in why["a"].candidates] == [
        ("A1", 2, Decimal("2.00"), 2),
        ("A2", 2, Decimal("4.20"), 0),
    ]


def test_the_drawing_is_made_in_both_formats_and_marks_what_cannot_be_had() -> None:
    impossible = replace(LIVES, suits={"a": ()})
    steps = (*by_life(LIVES, rated_lives(LIVES), solve), *by_life(impossible, [Decimal(1)], solve))
    parcels = by_parcels(TWO_SHOPS, 2, solve)
    drawn = plot(parcels, steps, "EUR", "svg")
    assert b"<svg" in drawn
    assert b"<!-- no order -->" in drawn
    assert plot(parcels, steps, "EUR", "png").startswith(b"\x89PNG")


def test_what_took_too_long_is_not_called_impossible() -> None:
    late = Step(Decimal(1), Outcome(Status.FEASIBLE))
    never = Step(Decimal(2), Outcome(Status.IMPOSSIBLE))
    found = Step(Decimal(3), replace(solve(TWO_SHOPS), status=Status.FEASIBLE))
    drawn = plot([late, never, found], [], "EUR", "svg")
    assert b"<!-- not worked out in time -->" in drawn
    assert b"<!-- no order -->" in drawn
    assert b"<!-- hollow: the best found in time, not proven -->" in drawn


def test_the_cheapest_order_of_all_is_not_sought_again() -> None:
    best = solve(TWO_SHOPS)
    assert best.order is not None
    asked: list[int] = []

    def one(problem: Problem) -> Outcome:
        asked.append(problem.max_suppliers)
        return solve(problem)

    steps = by_parcels(TWO_SHOPS, 2, one, best)
    assert [step.outcome.order and step.outcome.order.total for step in steps] == [
        step.outcome.order and step.outcome.order.total for step in by_parcels(TWO_SHOPS, 2, solve)
    ]
    assert asked == list(range(1, len(best.order.suppliers)))
    by_parcels(replace(TWO_SHOPS, max_suppliers=1), 2, one, best)
    assert asked[-2:] == [1, 2]  # an order under another condition says nothing of these


def test_within_enough_time_an_order_is_found() -> None:
    """Without a limit, and with one that is far away."""
    for seconds in (None, 600.0):
        found = within(seconds)(TWO_SHOPS)
        assert found.order is not None
        assert (found.status, found.order.total) == (Status.OPTIMAL, Decimal("6.50"))


def test_only_wet_parts_of_stated_life_have_rated_lives() -> None:
    film = replace(offer("north", "F", "1:1.00", life_h=Decimal(100000)), kind=Kind.FILM)
    wet = replace(offer("north", "E", "1:1.00", life_h=Decimal(2000)), kind=Kind.ELECTROLYTIC)
    bipolar = replace(offer("north", "B", "1:1.00", life_h=Decimal(1000)), kind=Kind.BIPOLAR)
    silent = replace(offer("north", "S", "1:1.00", life_h=None), kind=Kind.ELECTROLYTIC)
    given = problem({"a": 1}, [film, wet, bipolar, silent], {"a": "F E B S"}, [terms("north")])
    assert rated_lives(given) == (Decimal(1000), Decimal(2000))
    # what can't dry out lasts longest, whatever its data sheet says; what states no life counts as the shortest
    assert lasting(given, Decimal(2000)).suits == {"a": (0, 1)}
    assert lasting(given, Decimal(1000)).suits == {"a": (0, 1, 2)}
    only = problem({"a": 1}, [silent, bipolar], {"a": "S B"}, [terms("north")])
    assert lasting(only, Decimal(5000)).suits == {"a": (1,)}


def test_what_lies_in_the_drawer_lasts_as_long_as_it_is_rated_for() -> None:
    def kept(number: str, hours: int) -> DrawerPart:
        part = replace(offer("north", number, "1:1.00", life_h=Decimal(hours)), kind=Kind.ELECTROLYTIC)
        return DrawerPart(replace(part, supplier=DRAWER, prices=()), 5)

    given = replace(LIVES, drawer=(kept("D2", 2000), kept("D5", 5000)), drawer_suits={"a": (0, 1)})
    assert lasting(given, Decimal(2000)).drawer_suits == {"a": (0, 1)}
    assert lasting(given, Decimal(5000)).drawer_suits == {"a": (1,)}
    assert lasting(given, Decimal(10000)).drawer_suits == {"a": ()}


def test_parcels_beyond_those_of_the_best_order_are_not_sought_unless_it_is_unproven_or_limited() -> None:
    asked: list[int] = []

    def one(given: Problem) -> Outcome:
        asked.append(given.max_suppliers)
        return solve(given)

    cheapest = best(TWO_SHOPS)
    assert [step.outcome is cheapest for step in by_parcels(TWO_SHOPS, 3, one, cheapest)] == [False, True, True]
    assert asked == [1]
    asked.clear()
    by_parcels(TWO_SHOPS, 2, one, replace(cheapest, status=Status.FEASIBLE))
    assert asked == [1, 2]
    asked.clear()
    by_parcels(replace(TWO_SHOPS, max_suppliers=2), 2, one, cheapest)
    assert asked == [1, 2]
    asked.clear()
    by_parcels(TWO_SHOPS, 2, one, Outcome(Status.IMPOSSIBLE))
    assert asked == [1, 2]
