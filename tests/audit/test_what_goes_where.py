"""Which pieces a place is meant to get, by what came and by when; and what moves in the drawer for it."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

import pytest

from recap.audit.deliveries import Line, LineKey, dealt_out, lines, plan
from recap.audit.events import Event, EventKind, PlaceKey, new_event
from recap.audit.movements import movements
from recap.model import DRAWER
from tests.audit.stories import MONDAY, from_drawer, group, kept, line, minutes, order, part, position, tick

if TYPE_CHECKING:
    from recap.audit.kept import KeptOrder

C1, C2, C3 = (("S1", position(f"C{n}")) for n in (1, 2, 3))
OLD = part("OLD-47", supplier=DRAWER)


def bought(number: str, at: float, *places: Any, name: str, qty: int = 3) -> KeptOrder:
    """An order of ``qty`` pieces for some places, kept so many minutes into Monday."""
    return kept(order(line(part(number), qty, ("47 µF", qty))), group("47 µF", *places), when=minutes(at), name=name)


def came(name: str, number: str, qty: int, at: float = 0, **more: Any) -> Event:
    data = {"order": name, "supplier": "Norlicht", "part": number, "qty": qty, **more}
    return new_event(EventKind.RECEIVED, minutes(at), data=data)


def closed(name: str, at: float = 0) -> Event:
    return new_event(EventKind.CLOSED, minutes(at), data={"order": name})


def meant(found: dict[PlaceKey, Any]) -> dict[str, list[tuple[str, int]]]:
    return {key.ref: [(piece.part.number, piece.qty) for piece in pieces] for key, pieces in found.items()}


FIRST = bought("A-47", 0, C1, C2, C3, name="first")
SECOND = bought("B-47", 60, C1, C2, name="second", qty=2)
HERE = PlaceKey("S1", "AUDIO", "C1")


@pytest.mark.parametrize(
    ("at", "number"),
    [(-5, "A-47"), (0, "A-47"), (59, "A-47"), (60, "B-47"), (999, "B-47")],
)
def test_a_place_gets_what_the_latest_order_of_that_moment_said(at: float, number: str) -> None:
    """Before the first order was kept, what that one says."""
    pieces = plan([SECOND, FIRST], []).at(HERE, minutes(at))
    assert [piece.part.number for piece in pieces] == [number]


def test_a_place_of_no_order_gets_nothing() -> None:
    assert plan([FIRST], []).at(PlaceKey("S1", "AUDIO", "C9"), MONDAY) == ()


def test_the_latest_order_counts_place_by_place() -> None:
    assert meant(plan([FIRST, SECOND], []).latest()) == {"C1": [("B-47", 1)], "C2": [("B-47", 1)], "C3": [("A-47", 1)]}


def test_an_order_of_which_nothing_came_before_it_was_closed_plans_nothing() -> None:
    assert meant(plan([FIRST, SECOND], [closed("second")]).latest())["C1"] == [("A-47", 1)]
    # one piece came: what it was for stays its place
    one = [came("second", "B-47", 1), closed("second", 5)]
    assert meant(plan([FIRST, SECOND], one).latest())["C1"] == [("B-47", 1)]


def test_one_line_that_came_keeps_an_order_in_force() -> None:
    both = kept(
        order(line(part("A-47"), 1, ("47 µF", 1)), line(part("A-100", "100"), 1, ("100 µF", 1))),
        group("47 µF", C1),
        group("100 µF", C2),
        name="both",
    )
    found = plan([both], [came("both", "A-100", 1), closed("both", 5)]).latest()
    assert meant(found) == {"C1": [("A-47", 1)], "C2": [("A-100", 1)]}


def test_an_order_that_takes_all_from_the_drawer_has_no_lines_and_is_in_force() -> None:
    drawn = kept(order(drawer=(from_drawer(OLD, 1, ("47 µF", 1)),)), group("47 µF", C1), name="drawn")
    assert lines([drawn], []) == ()
    assert meant(plan([drawn], []).latest()) == {"C1": [("OLD-47", 1)]}


def test_a_substitute_takes_the_places_behind_the_pieces_ordered() -> None:
    """One ordered piece came, then one substitute: the third place waits for the part that was ordered."""
    events = [came("first", "A-47", 1), came("first", "X-47", 1, 5, instead_of="A-47")]
    assert meant(plan([FIRST], events).latest()) == {"C1": [("A-47", 1)], "C2": [("X-47", 1)], "C3": [("A-47", 1)]}
    (only,) = lines([FIRST], events)
    assert [(a.part.number, a.part.supplier, a.qty) for a in only.arrivals] == [
        ("A-47", "Norlicht", 1),
        ("X-47", "Norlicht", 1),
    ]
    assert (only.received, only.owed) == (2, 1)


def test_a_place_of_several_pieces_may_get_both_parts() -> None:
    four = ("S1", replace(position(None), qty=4))
    given = bought("A-47", 0, four, name="four", qty=5)
    events = [came("four", "A-47", 1), came("four", "X-47", 2, 5, instead_of="A-47")]
    (pieces,) = plan([given], events).latest().values()
    assert [(piece.part.number, piece.qty) for piece in pieces] == [("A-47", 1), ("X-47", 2), ("A-47", 1)]
    (only,) = lines([given], [*events, came("four", "A-47", 3, 9)])
    assert [(arrival.part.number, arrival.qty) for arrival in dealt_out(only)[1]] == [("A-47", 2)]
    assert only.owed == 0


def test_pieces_needed_are_those_of_places_and_of_extras() -> None:
    (only,) = lines([bought("A-47", 0, C1, C2, name="spare", qty=5)], [])
    assert (only.ordered, only.needed, only.for_extras) == (5, 2, 0)
    alone = Line(LineKey("x", "Norlicht", "SW"), part("SW"), 3, (), for_extras=2)
    assert (alone.needed, alone.owed) == (2, 3)


def test_a_closed_order_or_another_event_of_a_part_brings_no_pieces() -> None:
    data = {"order": "first", "supplier": "Norlicht", "part": "A-47", "qty": 2}
    moved = new_event(EventKind.MOVED, MONDAY, data=data)
    (only,) = lines([FIRST], [moved, closed("first")])
    assert (only.received, only.owed, only.closed) == (0, 0, True)


def moves(orders: list[KeptOrder], *events: Event) -> list[tuple[int, str, int]]:
    return [(move.seq, move.part, move.qty) for move in movements(orders, events)]


def test_movements_have_the_numbers_of_their_events() -> None:
    drawn = kept(order(drawer=(from_drawer(OLD, 1, ("47 µF", 1)),)), group("47 µF", C1), name="drawn")
    event = tick(EventKind.IN, "C1", 10)
    assert moves([drawn], tick(EventKind.OUT, "C1"), event) == [(2, "OLD-47", -1)]
    assert moves([drawn], replace(event, seq=41)) == [(41, "OLD-47", -1)]


def test_taking_back_a_tick_moves_its_piece_back_once() -> None:
    drawn = kept(order(drawer=(from_drawer(OLD, 1, ("47 µF", 1)),)), group("47 µF", C1), name="drawn")
    event = tick(EventKind.IN, "C1", 10)
    undone = new_event(EventKind.UNDONE, minutes(11), data={"undoes": [event.id]})
    assert moves([drawn], event, undone) == [(1, "OLD-47", -1), (2, "OLD-47", 1)]
    assert moves([drawn], event, undone, undone) == [(1, "OLD-47", -1), (2, "OLD-47", 1)]
    # what is taken back before it arrives (two phones) moves nothing
    assert moves([drawn], undone, event) == []


def test_pieces_over_move_with_deliveries_and_closing() -> None:
    spare = bought("A-47", 0, C1, name="spare", qty=4)
    assert moves([spare], came("spare", "A-47", 1), came("spare", "A-47", 3, 5)) == [(2, "A-47", 3)]
    two = moves([spare], came("spare", "A-47", 2), closed("spare", 5))
    assert two == [(1, "A-47", 1)]


def test_a_part_from_elsewhere_frees_the_piece_that_was_meant() -> None:
    """X-47 comes out of the drawer for C1; the piece that came for C1 is over until the tick is taken back."""
    given = bought("A-47", 0, C1, C2, name="given", qty=2)
    here = came("given", "A-47", 2)
    event = tick(EventKind.IN, "C1", 10, part="X-47")
    undone = new_event(EventKind.UNDONE, minutes(11), data={"undoes": [event.id]})
    assert moves([given], here, event, undone) == [
        (2, "A-47", 1),
        (2, "X-47", -1),
        (3, "A-47", -1),
        (3, "X-47", 1),
    ]
