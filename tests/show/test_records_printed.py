"""What is told of goods in, the drawer, new price lists and estimates: pieces, money, signs. Own arithmetic beside."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from typing import Any

import pytest

from recap.audit.deliveries import LineKey
from recap.audit.drawer import Balance
from recap.audit.estimate import Choice, Purchase
from recap.audit.pace import Pace
from recap.audit.receive import Booked, Booking
from recap.bench.merge import Change, Merge, What
from recap.bench.shelves import Shelf
from recap.match.coverage import Cover
from recap.model import DRAWER, DrawerPart, Part, PriceBreak
from recap.show.catalogue_view import Stock, print_merge, print_stock, print_summary
from recap.show.drawer_view import drawer_document, print_drawer
from recap.show.estimate_view import estimate_document, print_estimate
from recap.show.receive_view import print_booking, receive_document
from tests.order.sample import AXIAL_GROUP, RADIAL_GROUP, part
from tests.show.printed import lines

EUR_20 = Decimal(20)


# --- the drawer ----------------------------------------------------------------------------------


def drawer_rows(*known: Balance, aside: dict[str, int] | None = None) -> list[str]:
    lying = [DrawerPart(part("A-1", DRAWER), 7, date(2024, 5, 1), "box 2")]
    return lines(print_drawer, {balance.part: balance for balance in known}, lying, aside or {})


def test_the_drawer_tells_what_the_file_says_what_moved_and_what_is_there() -> None:
    """Five in the file and two that came are seven; of three one was taken; what didn't move has no sign."""
    told = drawer_rows(Balance("A-1", 5, 2), Balance("B-2", 3, -1), Balance("C-3", 4, 0))
    assert told[:4] == [
        "part what it is in file moved there",
        "A-1 47 µF 35 V radial 6.3×11 5 +2 7",
        "B-2 3 -1 2",
        "C-3 4 4",
    ]
    assert not any(line.startswith("set aside") for line in told)


def test_a_file_that_changed_after_a_movement_counts_with_the_smaller_number_until_it_is_settled() -> None:
    told = drawer_rows(Balance("A-1", 5, 2, edited=True), Balance("B-2", 3, -2, edited=True), Balance("C-3", 1, 0))
    assert told[1:4] == ["A-1 47 µF 35 V radial 6.3×11 5 +2 5 settle it", "B-2 3 -2 1 settle it", "C-3 1 1"]


def test_what_a_kept_order_means_for_other_sets_is_told_apart() -> None:
    told = drawer_rows(Balance("A-1", 5, 2), Balance("B-2", 3, 0), aside={"A-1": 4})
    assert told[:3] == [
        "part what it is in file moved there set aside",
        "A-1 47 µF 35 V radial 6.3×11 5 +2 7 4",
        "B-2 3 3",
    ]
    assert any(line.startswith("set aside:") for line in told)


def test_the_drawers_document_counts_the_same() -> None:
    known = {b.part: b for b in (Balance("A-1", 5, 2), Balance("B-2", 3, -4, edited=True))}
    found = drawer_document(known, [], {"A-1": 4}, ())["parts"]
    counts = [(p["part"], p["in_file"], p["moved"], p["qty"], p["set_aside"], p["unsettled"]) for p in found]
    assert counts == [("A-1", 5, 2, 7, 4, False), ("B-2", 3, -4, 0, 0, True)]  # never below nothing


# --- goods in ------------------------------------------------------------------------------------


def booked(part_number: str, qty: int, to_drawer: int, owed: int) -> Booked:
    return Booked(LineKey("o1", "shop-a", "A-1"), part_number, qty, to_drawer, owed)


def test_what_came_stands_with_what_is_spare_and_what_is_owed() -> None:
    told = lines(print_booking, Booking((), (booked("A-1", 6, 2, 0), booked("B-9", 3, 0, 4)), (), ()))
    assert told == [
        "Booked",
        "order supplier part came spare owed",
        "o1 shop-a A-1 6 2 0",
        "o1 shop-a B-9 for A-1 3 0 4",
        "spare: more than the sets need; it goes to the drawer.",
    ]
    plain = lines(print_booking, Booking((), (booked("A-1", 6, 0, 0),), (), ()))
    assert not any(line.startswith("spare:") for line in plain)


def test_goods_in_as_a_document() -> None:
    found = receive_document(Booking((), (booked("B-9", 3, 1, 4),), (), ()), ())
    assert found["status"] == "booked"
    assert found["booked"] == [
        {"order": "o1", "supplier": "shop-a", "line": "A-1", "part": "B-9", "qty": 3, "to_drawer": 1, "owed": 4}
    ]
    assert receive_document(None, ())["status"] == "shown"


# --- price lists ---------------------------------------------------------------------------------


def priced(number: str, *breaks: tuple[int, str], stock: int | None = None) -> Part:
    return part(number, prices=tuple(PriceBreak(q, Decimal(p)) for q, p in breaks), stock=stock)


def merged(*changes: Change, unchanged: int = 0, drop_gone: bool = False, parts: int = 9) -> list[str]:
    given = Merge(changes, tuple(priced(f"P{n}", (1, "1")) for n in range(parts)), unchanged, differs=True)
    return [line.replace("47 µF 35 V 105 °C radial electrolytic", "…") for line in lines(
        print_merge, given, drop_gone=drop_gone
    )]  # fmt: skip


@pytest.mark.parametrize(
    ("what", "old", "new", "told"),
    [
        # 0.42 -> 0.525 is a quarter more; 0.42 -> 0.315 a quarter less
        (What.DEARER, [(1, "0.42")], [(1, "0.525")], "A-1 … 0.42 0.525 (+25 %)"),
        (What.CHEAPER, [(1, "0.42")], [(1, "0.315")], "A-1 … 0.42 0.315 (-25 %)"),
        (What.CHEAPER, [(1, "1"), (10, "0.40")], [(1, "1"), (10, "0.30")], "A-1 … 0.40 from 10 0.30 from 10 (-25 %)"),
        (What.DEARER, [(1, "0.00")], [(1, "0.50")], "A-1 … 0.00 0.50"),
    ],
)
def test_a_price_that_changed_stands_before_and_now_with_the_percent(
    what: What, old: list[tuple[int, str]], new: list[tuple[int, str]], told: str
) -> None:
    assert merged(Change(what, priced("A-1", *old), priced("A-1", *new)))[2] == told


def test_what_is_new_what_is_gone_and_what_stock_became() -> None:
    once = (1, "0.42")
    told = merged(
        Change(What.ADDED, None, priced("N-1", once)),
        Change(What.GONE, priced("G-1", once), None),
        Change(What.GONE, priced("G-2", once), None),
        Change(What.STOCK, priced("S-1", once, stock=40), priced("S-1", once, stock=0)),
        Change(What.STOCK, priced("S-2", once), priced("S-2", once, stock=5)),
        unchanged=1,
    )
    heads = "part what it is before now"
    shown = [
        "added: 1 part",
        heads,
        "N-1 … 0.42",
        "gone: 2 parts, kept as they were; --drop-gone takes them out",
        heads,
        "G-1 … 0.42",
        "G-2 … 0.42",
        "stock: 2 parts",
        heads,
        "S-1 … 40 there 0 there",
        "S-2 … no limit 5 there",
        "1 part unchanged; 9 parts in the merged list.",
    ]
    assert " ".join(told) == " ".join(shown)  # a title is as wide as its table
    dropped = merged(Change(What.GONE, priced("G-1", once), None), drop_gone=True)
    assert dropped[0] == "gone: 1 part, taken out"


def test_of_many_changes_the_first_fifteen_are_shown_and_the_rest_counted() -> None:
    def told(count: int) -> list[str]:
        return merged(*(Change(What.ADDED, None, priced(f"N-{n}", (1, "1"))) for n in range(count)))

    assert sum(line.startswith("N-") for line in told(15)) == 15
    assert not any(line.startswith("…") for line in told(15))
    assert sum(line.startswith("N-") for line in told(18)) == 15
    assert "… and 3 more (--json lists all)" in told(18)


STOCK = Stock(
    "shop-a",
    "shop-a.csv",
    "EUR",
    1234,
    (
        Shelf(Decimal("4.7"), Decimal(50), 3),
        Shelf(Decimal("4.7"), Decimal(63), 1),
        Shelf(Decimal(100), None, 2),
        Shelf(None, None, 1228),
    ),
    (priced("A-1", (1, "0.42")),),
    date(2024, 5, 1),
    (),
)
COVERS = (
    Cover(RADIAL_GROUP, ("shop-a", "shop-b"), drawer=False),
    Cover(AXIAL_GROUP, ("shop-b",), drawer=True),
)


def test_a_summary_counts_offers_values_voltages_and_groups_served() -> None:
    told = lines(print_summary, [STOCK], COVERS)
    assert told[:2] == [
        "supplier offers values volts old odd serves oldest",
        "shop-a 1,234 2 2 1 0 1 of 2 2024-05-01",
    ]
    at = told.index("Only one supplier has a fitting part for 1 group:")
    assert told[at + 1 : at + 3] == [
        "0.47 µF 350 V axial, 3 pieces (shop-b) (in the drawer)",
        "Every group on the job is offered somewhere.",
    ]


def test_a_group_that_no_catalogue_serves_is_named_and_nothing_else_claimed() -> None:
    told = lines(print_summary, [STOCK], [Cover(RADIAL_GROUP, (), drawer=False)])
    at = told.index("No catalogue has a fitting part for 1 group:")
    assert told[at + 1] == "47 µF 25 V radial, 5 pieces"
    assert not any("Every group" in line for line in told)


def test_one_catalogue_is_told_by_value_and_voltage() -> None:
    told = lines(print_stock, STOCK, COVERS)
    assert told[:5] == [
        "shop-a: 1234 offers, prices in EUR",
        "value offers by rated voltage",
        "4.7 µF 4 50 V ×3, 63 V",
        "100 µF 2 not stated ×2",
        "not stated 1,228 not stated ×1228",
    ]
    assert "It has a part for 1 of 2 groups on the job." in told
    assert "lacking: 0.47 µF 350 V axial, 3 pieces" in told
    assert "1 offer older than the bench's offer_days:" in told


# --- estimates -----------------------------------------------------------------------------------


def choice(name: str, set_name: str = "wren-a", **more: Any) -> Choice:
    known: dict[str, Any] = {"parts": 3, "cost": Decimal("12.5"), "hours": Decimal("0.55")}
    return Choice(set_name, name, **(known | more))


def test_each_way_to_go_has_parts_money_and_hours() -> None:
    found = [
        choice("leave it", parts=0, cost=Decimal(0), hours=Decimal(0)),
        choice("suspects only", proven=False),
        choice("everything", parts=40, cost=None, hours=Decimal("4.25"), without=40, proven=False),
        choice("leave it", "wren-b", parts=0, cost=Decimal(0), hours=Decimal(0)),
    ]
    told = lines(print_estimate, found, None, Pace(), "EUR")
    assert told[:5] == [
        "set way to go parts EUR hours",
        "wren-a leave it 0 0.00 0.0",
        "suspects only 3 12.50 0.6 the best found in the time",
        "everything 40 none to be had 4.2 without 40 that can't be had",
        "wren-b leave it 0 0.00 0.0",
    ]


def test_where_the_hours_come_from_is_told() -> None:
    (told,) = lines(print_estimate, [], None, Pace(Decimal("5.5"), Decimal(15), 41), "EUR")[-1:]
    words = "Hours: 5.5 minutes per part (learnt from 41 parts in the record), 15 to open and close a set."
    assert told == words
    (plain,) = lines(print_estimate, [], None, Pace(Decimal(4), Decimal(15)), "EUR")[-1:]
    assert plain == "Hours: 4 minutes per part (not learnt from the record), 15 to open and close a set."


@pytest.mark.parametrize(
    ("together", "apart", "words"),
    [
        # as dear is no saving of less than nothing
        (EUR_20, EUR_20, "one set after the other: 20.00 EUR. Buying now for all saves 0.00 EUR."),
        (EUR_20, None, None),
        (None, EUR_20, None),
    ],
)
def test_buying_for_all_is_compared_only_with_both_at_hand(
    together: Decimal | None, apart: Decimal | None, words: str | None
) -> None:
    told = lines(print_estimate, [], Purchase(("a", "b", "c"), together, apart), Pace(), "EUR")
    compared = [line for line in told if line.startswith("Everything for all 3 sets in one order")]
    assert len(compared) == (words is not None)
    assert words is None or compared[0].endswith(words)


def test_an_estimate_as_a_document() -> None:
    bought = Purchase(("a", "b"), Decimal(12), EUR_20, proven=False)
    found = estimate_document([choice("everything", without=2)], bought, Pace(Decimal(4), Decimal(15), 41), "EUR")
    assert (found["minutes_per_part"], found["minutes_per_set"], found["learnt_from"]) == (4, 15, 41)
    (one,) = found["choices"]
    assert (one["parts"], one["cost"], one["hours"], one["proven"], one["without"]) == (3, "12.50", 0.55, True, 2)
    assert found["together"] == {
        "sets": ["a", "b"], "cost": "12.00", "one_by_one": "20.00", "saved": "8.00", "proven": False,
    }  # fmt: skip
