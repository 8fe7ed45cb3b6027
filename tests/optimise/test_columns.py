"""Columns and merits, worked by hand: which sets of groups an offer is listed for, and what speaks for an order."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from typing import TYPE_CHECKING

import pytest

from recap.model import Kind
from recap.optimise import columns, instance, merits
from recap.optimise.columns import Column, sets_of
from recap.optimise.rebuild import Choice
from tests.optimise.problems import lying, offer, problem, terms

if TYPE_CHECKING:
    from recap.model import Part, Problem

D = Decimal
CENTS = {"handling": "0.01"}
"""So that one unit of money is a cent in every case here."""


def listed(asked: Problem) -> list[tuple[int, tuple[int, ...], int, int, int]]:
    """Offer, groups, goods in cents, pieces bought, pieces drawn."""
    found = columns.build(instance.build(asked)).all
    return [(c.offer, c.groups, c.goods, c.quantity, c.drawn) for c in found]


def test_every_set_of_groups_once() -> None:
    assert sets_of((4, 7, 9)) == [(4,), (7,), (4, 7), (9,), (4, 9), (7, 9), (4, 7, 9)]
    assert sets_of(()) == []


def test_a_quote_is_the_cheapest_way_to_have_so_many() -> None:
    built = instance.build(
        problem({"g": 12}, [offer("A", "p", "1:0.30 10:0.25", multiple=2)], {"g": "p"}, [terms("A", **CENTS)])
    )
    quotes = {pieces: columns.quote(built.offers[0], pieces) for pieces in (0, 1, 2, 7, 9, 10, 11, 12, 13)}
    assert quotes == {
        0: (60, 2),
        1: (60, 2),
        2: (60, 2),
        7: (240, 8),
        9: (250, 10),  # five pairs at 0.25 for ten rather than at 0.30
        10: (250, 10),
        11: (300, 12),
        12: (300, 12),
        13: None,
    }


def test_a_break_above_what_is_wanted_may_be_the_cheapest() -> None:
    """Eight at 0.30 are 2.40, ten at 0.20 are 2.00; six at 0.30 are 1.80; of equals the fewer pieces."""
    given = problem({"g": 12}, [offer("A", "p", "1:0.30 10:0.20")], {"g": "p"}, [terms("A", **CENTS)])
    (built,) = instance.build(given).offers
    assert [columns.quote(built, pieces) for pieces in (6, 8, 10)] == [(180, 6), (200, 10), (200, 10)]
    (level,) = instance.build(replace(given, offers=(offer("A", "p", "1:0.30 10:0.27"),))).offers
    assert columns.quote(level, 9) == (270, 9)


@pytest.mark.parametrize(
    ("part", "mergeable"),
    [
        (offer("A", "p", "1:0.30 3:0.25"), True),
        (offer("A", "p", "1:0.30 3:0.30"), True),
        (offer("A", "p", "1:0.30 3:0.35"), False),
        (offer("A", "p", "1:0.30", stock=5), True),
        (offer("A", "p", "1:0.30", stock=4), False),
    ],
)
def test_needs_may_be_bought_apart_where_prices_do_not_rise_and_there_is_enough(part: Part, mergeable: bool) -> None:
    asked = problem({"g": 2, "h": 3}, [part], {"g": "p", "h": "p"}, [terms("A")])
    built = instance.build(asked)
    assert columns.is_mergeable(built, built.offers[0]) is mergeable
    assert columns.build(built).mergeable == (mergeable,)


def test_sets_are_listed_only_where_they_are_cheaper_together() -> None:
    plain = problem({"g": 2, "h": 3}, [offer("A", "p", "1:0.30")], {"g": "p", "h": "p"}, [terms("A", **CENTS)])
    assert listed(plain) == [(0, (0,), 60, 2, 0), (0, (1,), 90, 3, 0)]
    broken = replace(plain, offers=(offer("A", "p", "1:0.30 5:0.20"),))
    assert listed(broken) == [(0, (0,), 60, 2, 0), (0, (1,), 90, 3, 0), (0, (0, 1), 100, 5, 0)]
    for rate in ("1", "1.17"):
        fee = replace(plain, suppliers={"A": terms("A", rate=rate, line_fee="0.10", **CENTS)})
        assert listed(fee) == [(0, (0,), 60, 2, 0), (0, (1,), 90, 3, 0), (0, (0, 1), 150, 5, 0)]
    short = replace(plain, offers=(offer("A", "p", "1:0.30", stock=4),))  # not to be merged: all that can be bought
    assert listed(short) == [(0, (0,), 60, 2, 0), (0, (1,), 90, 3, 0)]


def test_three_groups_together_only_where_no_two_parts_of_them_are_as_cheap() -> None:
    needs = {"g": 1, "h": 1, "k": 1}
    asked = problem(needs, [offer("A", "p", "1:0.30")], dict.fromkeys(needs, "p"), [terms("A", **CENTS)])
    assert [row[1] for row in listed(asked)] == [(0,), (1,), (2,)]
    broken = replace(asked, offers=(offer("A", "p", "1:0.30 3:0.20"),))
    assert [row[1] for row in listed(broken)] == [(0,), (1,), (2,), (0, 1, 2)]
    pairs = replace(asked, offers=(offer("A", "p", "1:0.30", multiple=2),))
    assert [row[1] for row in listed(pairs)] == [(0,), (1,), (2,), (0, 1), (0, 2), (1, 2)]


def both_or_apart(both: str, of: dict[str, str]) -> bool:
    """Tell whether the offer for both groups is listed for both, beside one for each at 0.40."""
    offers = [offer("A", "p", "1:0.40"), offer("A", "q", "1:0.40"), offer("A", "both", f"1:{both}")]
    asked = problem({"g": 1, "h": 1}, offers, {"g": "p both", "h": "q both"}, [terms("A", **of)])
    return (2, (0, 1)) in {(row[0], row[1]) for row in listed(asked)}


@pytest.mark.parametrize(
    ("both", "of", "expected"),
    [
        ("0.50", CENTS, False),
        ("0.50", {"rate": "1.17"}, False),
        ("0.39", {"rate": "1.17"}, False),  # not even alone: it serves each group for less
        ("0.42", {"line_fee": "0.05"}, True),  # 0.84 and one fee for 0.80 and two
        ("0.42", {"line_fee": "0.04"}, False),  # as dear
        ("0.42", {"line_fee": "0.05", "rate": "1.17"}, True),
        ("0.42", {"line_fee": "0.04", "rate": "1.17"}, False),
        # towards a minimum order one line is as much in goods, and a fee less
        ("0.50", {"line_fee": "0.04", "minimum": "1"}, True),
        ("0.50", {"minimum": "1"}, False),
    ],
)
def test_a_part_for_two_groups_is_listed_where_two_parts_are_not_as_cheap(
    both: str, of: dict[str, str], expected: bool
) -> None:
    assert both_or_apart(both, of) is expected


def test_a_break_reached_together_is_listed_in_any_money() -> None:
    needs = {"g": "p", "h": "p"}
    asked = problem({"g": 2, "h": 3}, [offer("A", "p", "1:0.30 5:0.20")], needs, [terms("A", rate="1.17", **CENTS)])
    assert (0, (0, 1), 100, 5, 0) in listed(asked)


def test_of_two_offers_for_the_same_groups_the_cheaper_is_listed() -> None:
    asked = problem(
        {"g": 2},
        [offer("A", "p", "1:0.30"), offer("A", "q", "1:0.29"), offer("B", "r", "1:0.50")],
        {"g": "p q r"},
        [terms("A", **CENTS), terms("B", **CENTS)],
    )
    assert listed(asked) == [(1, (0,), 58, 2, 0), (2, (0,), 100, 2, 0)]
    scarce = replace(asked, offers=(*asked.offers[:2], replace(asked.offers[2], supplier="A", stock=1)))
    assert listed(scarce) == [(1, (0,), 58, 2, 0)]


def test_what_lies_in_the_drawer_is_drawn_piece_by_piece_or_wholly() -> None:
    asked = problem(
        {"g": 3}, [offer("A", "p", "1:0.30")], {"g": "p"}, [terms("A", **CENTS)], drawer=[lying("p", 2), lying("q", 9)]
    )
    assert listed(asked) == [(0, (0,), 90, 3, 0), (0, (0,), 60, 2, 1), (0, (0,), 30, 1, 2)]
    one = replace(asked, drawer=(lying("p", 1), lying("q", 9)))
    assert listed(one) == [(0, (0,), 90, 3, 0), (0, (0,), 60, 2, 1)]
    enough = replace(asked, drawer=(lying("p", 3), lying("q", 9)))
    assert listed(enough) == [(0, (0,), 90, 3, 0), (-1, (0,), 0, 0, 3), (0, (0,), 60, 2, 1), (0, (0,), 30, 1, 2)]
    reel = replace(asked, offers=(offer("A", "p", "1:0.30", multiple=2),))  # one of two drawn saves a pair, two no more
    assert listed(reel) == [(0, (0,), 120, 4, 0), (0, (0,), 60, 2, 1)]


def test_a_number_that_lies_in_two_places_is_refused() -> None:
    asked = problem(
        {"g": 1}, [offer("A", "p", "1:0.30")], {"g": "p"}, [terms("A")], drawer=[lying("p", 1), lying("p", 2)]
    )
    with pytest.raises(ValueError, match="p lies in the drawer more than once"):
        columns.build(instance.build(asked))


@pytest.mark.parametrize(("groups", "refused"), [(columns.WIDEST, False), (columns.WIDEST + 1, True)])
def test_an_offer_for_too_many_groups_is_refused(groups: int, refused: bool) -> None:
    names = {f"g{i}": "p" for i in range(groups)}
    built = instance.build(problem(dict.fromkeys(names, 1), [offer("A", "p", "1:0.30")], names, [terms("A")]))
    if refused:
        with pytest.raises(ValueError, match="p suits 11 groups"):
            columns.build(built)
    else:
        assert len(columns.build(built).all) == groups


def test_merits_count_suppliers_lines_and_the_hours_of_what_is_fitted() -> None:
    offers = [
        offer("A", "p", "1:1", life_h=D(2000)),
        offer("A", "q", "1:1", life_h=D("7000.5")),
        offer("B", "p", "1:1"),  # the same part as A's: 2000 h there, so 2000 h here
        replace(offer("B", "film", "1:1", life_h=D(100_000)), kind=Kind.FILM),  # dries out nowhere
        replace(offer("B", "bipolar", "1:1", life_h=D(1000)), kind=Kind.BIPOLAR),
    ]
    asked = problem(
        {"g": 3, "h": 2}, offers, {"g": "p q", "h": "p film bipolar"}, [terms("A"), terms("B")], drawer=[lying("q", 1)]
    )
    built = instance.build(asked)
    lives = merits.lives_of(built)
    assert lives.offer == (4000, 14001, 4000, 0, 2000)  # in half hours
    assert lives.lot == (14001,)
    choice = Choice({0: 3, 1: 0, 4: 2}, {(0, 0): 2, (1, 4): 2}, {(0, 0): 1})
    assert merits.merits_of(built, lives, choice) == (2, 2, -(2 * 4000 + 2 * 2000 + 14001))


def test_lives_have_their_greatest_common_measure_as_unit() -> None:
    offers = [offer("A", "p", "1:1", life_h=D(2000)), offer("A", "q", "1:1", life_h=D(5000)), offer("A", "r", "1:1")]
    built = instance.build(problem({"g": 1}, offers, {"g": "p q r"}, [terms("A")]))
    assert merits.lives_of(built).offer == (2, 5, 0)
    none = instance.build(problem({"g": 1}, offers[2:], {"g": "r"}, [terms("A")]))
    assert merits.lives_of(none).offer == (0,)


def test_a_column_names_its_lot() -> None:
    asked = problem({"g": 2}, [offer("A", "p", "1:0.30")], {"g": "p"}, [terms("A", **CENTS)], drawer=[lying("p", 2)])
    found = columns.build(instance.build(asked)).all
    assert found[0].lot == -1
    assert found == (Column(0, 0, (0,), 60, 2), Column(-1, -1, (0,), 0, 0, 0, 2), Column(0, 0, (0,), 30, 1, 0, 1))
