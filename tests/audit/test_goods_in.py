"""Goods in: short, over, substituted; what is owed; and a drawer that two hands keep."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from typing import TYPE_CHECKING, Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from recap.audit.deliveries import LineKey, lines, plan
from recap.audit.drawer import balances, effective, noted, rows_of, set_aside, settled
from recap.audit.events import Event, EventKind, PlaceKey, new_event
from recap.audit.movements import movements
from recap.audit.receive import Booking, Delivery, book
from recap.diagnostics import Severity
from recap.model import DRAWER, DrawerPart, Extra, Group, Settings
from tests.audit.stories import MONDAY, from_drawer, group, kept, line, minutes, order, part, position, tick

if TYPE_CHECKING:
    from recap.audit.kept import KeptOrder

HRN = part("HRN-47")
PLACES = [("S1", position(f"C{n}")) for n in (1, 2, 3)]
ORDER = kept(order(line(HRN, 5, ("47 µF", 5))), group("47 µF", *PLACES, spares=2))
OLD = part("OLD-47", supplier=DRAWER)
KNOWN = {
    "BIG-47": part("BIG-47", volts="35"),
    "LOW-47": part("LOW-47", volts="16"),
    "WIDE-47": part("WIDE-47", volts="63"),
}


def receive(*events: Event, orders: tuple[KeptOrder, ...] = (ORDER,), **words: Any) -> Booking:
    return book(Delivery(**words), orders, events, Settings(), find=KNOWN.get, when=MONDAY)


def numbered(*events: Event) -> tuple[Event, ...]:
    """Give events the order of arrival that a record would."""
    return tuple(replace(event, seq=n) for n, event in enumerate(events, start=1))


def errors(booking: Booking) -> list[str]:
    return [d.code for d in booking.diagnostics if d.severity is Severity.ERROR]


def codes(booking: Booking) -> list[str]:
    return [d.code for d in booking.diagnostics]


def test_a_whole_delivery_serves_the_places_and_puts_the_spares_into_the_drawer() -> None:
    booking = receive(everything=True)
    (booked,) = booking.booked
    assert (booked.qty, booked.to_drawer, booked.owed) == (5, 2, 0)
    assert [(m.part, m.qty) for m in movements([ORDER], numbered(*booking.events))] == [("HRN-47", 2)]


def test_a_short_delivery_serves_places_first_and_the_rest_is_owed() -> None:
    booking = receive(counts={"HRN-47": 2})
    (booked,) = booking.booked
    assert (booked.to_drawer, booked.owed) == (0, 3)
    later = receive(*booking.events, everything=True)
    assert [(b.qty, b.to_drawer, b.owed) for b in later.booked] == [(3, 2, 0)]


def test_parcels_of_one_order_come_one_by_one() -> None:
    one = order(line(HRN, 5, ("47 µF", 5)))
    other = order(line(part("HRN-100", "100", supplier="pellworth"), 4, ("100 µF", 4)), supplier="pellworth")
    both = kept(replace(one, suppliers=one.suppliers + other.suppliers), group("47 µF", *PLACES, spares=2))
    first = receive(orders=(both,), everything=True, supplier="pellworth")
    assert [(b.key.supplier, b.part, b.qty) for b in first.booked] == [("pellworth", "HRN-100", 4)]
    owed = [(line.key.part, line.owed) for line in lines([both], first.events) if line.owed]
    assert owed == [("HRN-47", 5)]
    named = receive(orders=(both,), counts={"HRN-47": 5}, supplier="pellworth")
    assert errors(named) == ["line-unknown"]  # of another parcel
    unknown = receive(orders=(both,), everything=True, supplier="nobody")
    assert errors(unknown) == ["line-unknown"]
    assert unknown.events == ()


def test_all_but_one_line_can_be_said_in_one_go() -> None:
    two = kept(
        order(line(HRN, 5, ("47 µF", 5)), line(part("HRN-100", "100"), 4, ("100 µF", 4))),
        group("47 µF", *PLACES, spares=2),
    )
    booking = receive(orders=(two,), everything=True, counts={"HRN-47": 0})
    assert [(line.key.part, line.owed) for line in lines([two], booking.events)] == [("HRN-47", 5), ("HRN-100", 0)]


def test_more_than_owed_is_booked_into_the_drawer_and_told() -> None:
    booking = receive(counts={"HRN-47": 7})
    assert codes(booking) == ["more-than-ordered"]
    assert booking.booked[0].to_drawer == 4


def test_a_fitting_substitute_takes_over_the_places_that_still_wait() -> None:
    first = receive(counts={"HRN-47": 1})
    booking = receive(*first.events, instead={"HRN-47": "BIG-47"}, counts={"BIG-47": 3})
    assert errors(booking) == []
    assert [check.place.ref for check in booking.checks] == ["C2", "C3"]
    meant = plan([ORDER], [*first.events, *booking.events]).latest()
    assert {key.ref: pieces[0].part.number for key, pieces in meant.items()} == {
        "C1": "HRN-47",
        "C2": "BIG-47",
        "C3": "BIG-47",
    }
    assert [(b.part, b.to_drawer, b.owed) for b in booking.booked] == [("BIG-47", 1, 1)]


def test_a_substitute_of_lower_voltage_is_refused_and_nothing_is_booked() -> None:
    booking = receive(instead={"HRN-47": "LOW-47"})
    assert errors(booking) == ["substitute-refused"]
    assert "C1" in booking.diagnostics[0].message
    assert booking.events == ()


def test_a_substitute_that_fits_with_care_is_booked_and_told() -> None:
    booking = receive(instead={"HRN-47": "WIDE-47"})
    assert codes(booking) == ["substitute-care"]
    assert booking.booked[0].qty == 5


@pytest.mark.parametrize(
    ("words", "code"),
    [
        ({"order": "2020-01-01-1", "everything": True}, "order-unknown"),
        ({"counts": {"NOPE": 3}}, "line-unknown"),
        ({"instead": {"HRN-47": "NOPE"}}, "substitute-unknown"),
    ],
)
def test_what_makes_no_sense_is_refused(words: dict[str, Any], code: str) -> None:
    assert errors(receive(**words)) == [code]


def test_everything_of_several_orders_must_name_one() -> None:
    other = kept(order(line(HRN, 1, ("47 µF", 1))), group("47 µF", PLACES[0]), name="2025-03-04-1")
    assert errors(receive(orders=(ORDER, other), everything=True)) == ["order-unknown"]
    assert errors(receive(orders=(ORDER, other), everything=True, order="2025-03-04-1")) == []


def test_what_wont_come_is_no_longer_owed_and_an_order_of_which_nothing_came_plans_nothing() -> None:
    booking = receive(close=True)
    assert [line.owed for line in lines([ORDER], booking.events)] == [0]
    assert plan([ORDER], booking.events).latest() == {}


def test_extras_are_not_spares() -> None:
    transformer = part("HVT-1")
    extra = Group("extra: transformer", None, extra=Extra("transformer", 1, ("HVT-1",)))
    placed = kept(order(line(transformer, 1, ("extra: transformer", 1))), extra)
    booking = receive(orders=(placed,), everything=True)
    assert booking.booked[0].to_drawer == 0


DRAWN = kept(
    order(line(HRN, 2, ("47 µF", 2)), drawer=(from_drawer(OLD, 2, ("47 µF", 2)),)), group("47 µF", *PLACES, spares=1)
)


def balance(in_file: dict[str, int], *events: Event, orders: tuple[KeptOrder, ...] = (DRAWN,)) -> dict[str, int]:
    return {number: b.qty for number, b in balances(in_file, orders, numbered(*events)).items()}


def test_fitting_a_part_from_the_drawer_takes_it_out_and_taking_back_the_tick_puts_it_back() -> None:
    fitted = tick(EventKind.IN, "C1")
    assert balance({"OLD-47": 7}, fitted) == {"OLD-47": 6}
    undone = tick(EventKind.UNDONE, "C1", undoes=[fitted.id])
    assert balance({"OLD-47": 7}, fitted, undone) == {"OLD-47": 7}


def test_two_phones_that_tick_the_same_place_take_out_one_piece() -> None:
    assert balance({"OLD-47": 7}, tick(EventKind.IN, "C1"), tick(EventKind.IN, "C1")) == {"OLD-47": 6}


def test_fitting_from_the_bag_leaves_the_drawer_alone() -> None:
    assert balance({"OLD-47": 7}, tick(EventKind.IN, "C3")) == {"OLD-47": 7}


def test_a_place_that_got_another_part_from_the_drawer_frees_its_bought_piece() -> None:
    came = receive(orders=(ORDER,), everything=True).events
    fitted = tick(EventKind.IN, "C2", part="ODD-47")
    assert balance({"ODD-47": 3}, *came, fitted, orders=(ORDER,)) == {"HRN-47": 3, "ODD-47": 2}


def test_an_edit_of_the_file_after_movements_is_told_and_counts_the_smaller_way() -> None:
    seen = noted({"OLD-47": 7}, [DRAWN], ())
    assert seen is not None
    story = numbered(seen, tick(EventKind.IN, "C1"), tick(EventKind.IN, "C2"))
    lying = [DrawerPart(OLD, 5)]
    (there,), (told,) = effective(lying, [DRAWN], story, {})
    assert there.qty == 3
    assert told.code == "drawer-edited"
    assert "said 7" in told.message
    assert "now says 5" in told.message


@pytest.mark.parametrize(("counted", "qty"), [(True, 5), (False, 3)])
def test_the_user_says_whether_the_new_number_includes_what_moved(counted: bool, qty: int) -> None:
    seen = noted({"OLD-47": 7}, [DRAWN], ())
    assert seen is not None
    story = numbered(seen, tick(EventKind.IN, "C1"), tick(EventKind.IN, "C2"))
    said = settled({"OLD-47": 5}, [DRAWN], story, ["OLD-47"], counted=counted)
    after = numbered(*story, said)
    (there,), told = effective([DrawerPart(OLD, 5)], [DRAWN], after, {})
    assert (there.qty, told) == (qty, [])
    back = tick(EventKind.UNDONE, "C1", undoes=[story[1].id])
    assert balance({"OLD-47": 5}, *after, back) == {"OLD-47": qty + 1}


def test_an_edit_before_anything_moved_needs_no_question() -> None:
    seen = noted({"OLD-47": 7}, [DRAWN], ())
    assert seen is not None
    _, told = effective([DrawerPart(OLD, 5)], [DRAWN], numbered(seen), {})
    assert told == []


def test_noting_the_file_again_does_not_settle_an_edit_by_itself() -> None:
    seen = noted({"OLD-47": 7}, [DRAWN], ())
    assert seen is not None
    story = numbered(seen, tick(EventKind.IN, "C1"))
    again = noted({"OLD-47": 5}, [DRAWN], story)
    assert again is None or again.data["rows"] == {"OLD-47": 7}
    _, told = effective([DrawerPart(OLD, 5)], [DRAWN], story, {})
    assert [d.code for d in told] == ["drawer-edited"]


def test_what_came_over_lies_in_the_drawer_as_the_part_it_is() -> None:
    came = numbered(*receive(everything=True).events)
    (lying,), _ = effective([], [ORDER], came, {})
    assert (lying.part.number, lying.part.supplier, lying.qty, lying.part.prices) == ("HRN-47", DRAWER, 2, ())
    assert (lying.part.value_uF, lying.bought) == (Decimal(47), MONDAY.date())


def test_a_kept_orders_pieces_for_sets_no_longer_on_the_job_are_not_promised_twice() -> None:
    assert set_aside([DRAWN], (), on_job=[PlaceKey("S1", "AUDIO", "C1")]) == {"OLD-47": 1}
    assert set_aside([DRAWN], [tick(EventKind.IN, "C2")], on_job=[PlaceKey("S1", "AUDIO", "C1")]) == {}
    (lying,), _ = effective([DrawerPart(OLD, 7)], [DRAWN], (), {"OLD-47": 1})
    assert lying.qty == 6


def test_pieces_moved_by_hand_count() -> None:
    dropped = new_event(EventKind.MOVED, minutes(1), data={"part": "OLD-47", "qty": -1, "why": "dropped"})
    assert balance({"OLD-47": 7}, dropped) == {"OLD-47": 6}


steps = st.lists(
    st.tuples(
        st.sampled_from(["in", "undo", "receive", "move"]), st.sampled_from(["C1", "C2", "C3"]), st.integers(-2, 3)
    ),
    max_size=14,
)


@given(steps)
@settings(max_examples=60, deadline=None)
def test_movements_add_up_to_where_the_pieces_are(story: list[tuple[str, str, int]]) -> None:
    events: list[Event] = []
    for what, ref, count in story:
        if what == "in":
            events.append(tick(EventKind.IN, ref))
        elif what == "undo":
            ids = [e.id for e in events if e.kind is EventKind.IN and e.ref == ref]
            if ids:
                events.append(tick(EventKind.UNDONE, ref, undoes=ids))
        elif what == "receive":
            events += receive(*events, orders=(DRAWN,), counts={"HRN-47": abs(count)}).events
        else:
            events.append(new_event(EventKind.MOVED, MONDAY, data={"part": "OLD-47", "qty": count}))
    told = numbered(*events)
    moved: dict[str, int] = {}
    for movement in movements([DRAWN], told):
        moved[movement.part] = moved.get(movement.part, 0) + movement.qty
    (bought,) = lines([DRAWN], told)
    standing_in = {ref for ref in ("C1", "C2") if _stands(events, ref)}
    by_hand = sum(e.data["qty"] for e in events if e.kind is EventKind.MOVED)
    assert moved.get("OLD-47", 0) == by_hand - len(standing_in)
    assert moved.get("HRN-47", 0) == max(0, bought.received - bought.needed)
    assert bought.key == LineKey("2025-03-03-1", "Norlicht", "HRN-47")


def _stands(events: list[Event], ref: str) -> bool:
    undone = {i for e in events if e.kind is EventKind.UNDONE for i in e.data["undoes"]}
    return any(e.kind is EventKind.IN and e.ref == ref and e.id not in undone for e in events)


def test_rows_of_one_number_add_up() -> None:
    assert rows_of([DrawerPart(OLD, 2), DrawerPart(OLD, 3)]) == {"OLD-47": 5}


MORE = kept(order(line(HRN, 4, ("47 µF", 4))), group("47 µF", *PLACES), when=minutes(600), name="2025-03-04-1")


def came(booking: Booking) -> list[tuple[str, str, int, int]]:
    """Return order, part, pieces that came and pieces still owed, line by line."""
    return [(b.key.order[-4:], b.part, b.qty, b.owed) for b in booking.booked if b.qty]


def test_pieces_serve_the_older_order_first_and_too_many_go_to_the_last() -> None:
    two = (MORE, ORDER)
    assert came(receive(orders=two, counts={"HRN-47": 6})) == [("03-1", "HRN-47", 5, 0), ("04-1", "HRN-47", 1, 3)]
    many = receive(orders=two, counts={"HRN-47": 10})
    assert came(many) == [("03-1", "HRN-47", 5, 0), ("04-1", "HRN-47", 5, 0)]
    assert codes(many) == ["more-than-ordered"]


def test_a_substitute_for_the_rest_comes_behind_the_pieces_ordered() -> None:
    """Nine owed: five came as ordered, which the older order gets; the four of the substitute are the younger's."""
    booking = receive(orders=(ORDER, MORE), counts={"HRN-47": 5}, instead={"HRN-47": "BIG-47"})
    assert codes(booking) == []
    assert came(booking) == [("03-1", "HRN-47", 5, 0), ("04-1", "BIG-47", 4, 0)]


def test_pieces_and_substitutes_together_may_be_too_many() -> None:
    booking = receive(counts={"HRN-47": 3, "BIG-47": 3}, instead={"HRN-47": "BIG-47"})
    assert codes(booking) == ["more-than-ordered"]
    assert "6 came, 5 were owed" in booking.diagnostics[0].message


def test_one_substitute_for_two_parts_is_counted_once() -> None:
    two = kept(
        order(line(HRN, 3, ("47 µF", 3)), line(part("HRN-48"), 4, ("47 µF b", 4))),
        group("47 µF", *PLACES),
        group("47 µF b", *(("S1", position(f"C{n}")) for n in (11, 12, 13, 14))),
    )
    both = {"HRN-47": "BIG-47", "HRN-48": "BIG-47"}
    said = receive(orders=(two,), instead=both, counts={"BIG-47": 5})
    assert [(b.key.part, b.qty, b.owed) for b in said.booked] == [("HRN-47", 3, 0), ("HRN-48", 2, 2)]
    whole = receive(orders=(two,), instead=both)
    assert [(b.key.part, b.qty, b.owed) for b in whole.booked] == [("HRN-47", 3, 0), ("HRN-48", 4, 0)]


def test_a_delivery_for_one_order_leaves_the_other_alone() -> None:
    two = (ORDER, MORE)
    assert came(receive(orders=two, order=MORE.id, counts={"HRN-47": 3})) == [("04-1", "HRN-47", 3, 1)]
    assert came(receive(orders=two, order=MORE.id, everything=True)) == [("04-1", "HRN-47", 4, 0)]


@pytest.mark.parametrize("words", [{"everything": True}, {"close": True}])
def test_what_is_said_of_a_whole_order_must_say_of_which(words: dict[str, Any]) -> None:
    assert errors(receive(orders=(ORDER, MORE), **words)) == ["order-unknown"]
    assert errors(receive(orders=(ORDER, MORE), order=ORDER.id, **words)) == []
    first = receive(orders=(ORDER, MORE), order=ORDER.id, everything=True)
    assert errors(receive(*first.events, orders=(ORDER, MORE), **words)) == []  # only one owes something


def test_to_a_closed_order_nothing_comes() -> None:
    gone = receive(close=True)
    assert errors(receive(*gone.events, counts={"HRN-47": 1})) == ["line-unknown"]
    assert came(receive(*gone.events, orders=(ORDER, MORE), counts={"HRN-47": 6})) == [("04-1", "HRN-47", 6, 0)]
    assert receive(*gone.events, everything=True).events == ()


def test_no_pieces_are_no_delivery() -> None:
    assert receive(counts={"HRN-47": 0}).events == ()


def test_a_substitute_of_what_has_come_already_is_over() -> None:
    first = receive(everything=True)
    later = receive(*first.events, instead={"HRN-47": "BIG-47"}, counts={"BIG-47": 2})
    assert codes(later) == ["more-than-ordered"]
    assert [(b.part, b.qty, b.to_drawer, b.owed) for b in later.booked] == [("BIG-47", 2, 2, 0)]
    assert receive(*first.events, instead={"HRN-47": "BIG-47"}).events == ()
