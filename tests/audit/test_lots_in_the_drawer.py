"""What lies in the drawer lot by lot: the file's rows, what moved since it was counted, what is promised elsewhere."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from recap.audit.codec import encode
from recap.audit.drawer import Balance, balances, effective, noted, settled
from recap.audit.events import Event, EventKind, new_event
from recap.model import DRAWER, DrawerPart
from tests.audit.stories import MONDAY, minutes, part

OLD = part("OLD-47", supplier=DRAWER)
LOTS = (DrawerPart(OLD, 3, date(2012, 1, 1), "box 1"), DrawerPart(OLD, 2, date(2024, 5, 1), "box 2"))


def moved(qty: int, number: str = "OLD-47", seq: int = 0, **more: object) -> Event:
    event = new_event(EventKind.MOVED, minutes(seq), data={"part": number, "qty": qty, **more})
    return replace(event, seq=seq or None)


def counted(rows: dict[str, int], seq: int, *done: str) -> Event:
    return replace(new_event(EventKind.COUNTED, minutes(seq), data={"rows": rows, "settled": list(done)}), seq=seq)


def lots(*events: Event, aside: int = 0, drawer: tuple[DrawerPart, ...] = LOTS) -> list[tuple[str, int, int | None]]:
    """Return number, pieces and year of every lot that is left."""
    found, _ = effective(drawer, (), events, {"OLD-47": aside})
    return [(lying.part.number, lying.qty, lying.bought.year if lying.bought else None) for lying in found]


@pytest.mark.parametrize(
    ("change", "left"),
    [
        (0, [("OLD-47", 3, 2012), ("OLD-47", 2, 2024)]),
        (-1, [("OLD-47", 2, 2012), ("OLD-47", 2, 2024)]),  # the oldest are used up first
        (-3, [("OLD-47", 2, 2024)]),
        (-4, [("OLD-47", 1, 2024)]),
        (-5, []),
        (-9, []),  # never below nothing
        (4, [("OLD-47", 3, 2012), ("OLD-47", 6, 2024)]),  # more than the file says are as new as the newest
    ],
)
def test_the_oldest_pieces_go_first(change: int, left: list[tuple[str, int, int]]) -> None:
    assert lots(moved(change)) == left


def test_what_is_promised_to_another_set_is_not_there() -> None:
    assert lots(aside=4) == [("OLD-47", 1, 2024)]
    assert lots(moved(-2), aside=2) == [("OLD-47", 1, 2024)]
    assert lots(aside=6) == []


def test_a_part_put_in_with_its_data_lies_there_as_that_part() -> None:
    given = part("NEW-10", value="10")
    event = moved(4, "NEW-10", spec=encode(given))
    found, _ = effective((), (), [event], {})
    (lying,) = found
    assert (lying.part.supplier, lying.part.value_uF, lying.part.prices) == (DRAWER, given.value_uF, ())
    assert (lying.qty, lying.bought) == (4, MONDAY.date())
    # without its data it is known by its number alone
    assert lots(moved(2, "ODD-1"), drawer=()) == [("ODD-1", 2, None)]


def test_movements_count_from_the_counting_on_that_settled_them() -> None:
    story = [moved(-1, seq=1), counted({"OLD-47": 5}, 2, "OLD-47"), moved(-2, seq=3)]
    assert balances({"OLD-47": 5}, (), story)["OLD-47"] == Balance("OLD-47", 5, -2, edited=False, seen=5)
    # another part's settling is nothing to this one
    story[1] = counted({"OLD-47": 5}, 2, "ELSE")
    assert balances({"OLD-47": 5}, (), story)["OLD-47"].moved == -3


def test_a_part_that_the_file_no_longer_names_is_at_nothing() -> None:
    assert balances({}, (), [counted({"OLD-47": 5}, 1), moved(2, seq=2)])["OLD-47"] == Balance(
        "OLD-47", 0, 2, edited=True, seen=5
    )


@pytest.mark.parametrize(
    ("in_file", "change", "edited", "qty"),
    [(5, -2, False, 3), (5, -2, True, 3), (5, 2, False, 7), (5, 2, True, 5), (1, -2, False, 0), (1, -2, True, 0)],
)
def test_of_an_edit_that_is_not_settled_the_smaller_number_counts(
    in_file: int, change: int, edited: bool, qty: int
) -> None:
    assert Balance("X", in_file, change, edited, 9 if edited else None).qty == qty


def test_the_file_is_noted_when_it_says_something_new() -> None:
    first = noted({"OLD-47": 5, "GONE": 0}, (), ())
    assert first is not None
    assert first.data == {"rows": {"OLD-47": 5}}
    assert noted({"OLD-47": 5}, (), [first]) is None
    second = noted({"OLD-47": 5, "NEW": 1}, (), [first])
    assert second is not None
    assert second.data["rows"] == {"NEW": 1, "OLD-47": 5}
    assert noted({"OLD-47": 5, "NEW": 1}, (), [first, second]) is None


def test_settling_one_part_leaves_the_other_in_question() -> None:
    story = [counted({"A": 5, "B": 5, "C": 4}, 1), moved(-1, "A", 2), moved(-1, "B", 3)]
    said = settled({"A": 4, "B": 4, "C": 3}, (), story, ["A"], counted=True)
    assert said.data == {"rows": {"A": 4, "B": 5, "C": 3}, "settled": ["A"]}
    assert settled({"A": 4, "B": 4, "C": 3}, (), story, ["A", "B"], counted=False).data == {
        "rows": {"A": 4, "B": 4, "C": 3}
    }
    after = balances({"A": 4, "B": 4, "C": 3}, (), [*story, replace(said, seq=4)])
    assert {name: (b.qty, b.edited) for name, b in after.items()} == {"A": (4, False), "B": (3, True), "C": (3, False)}
