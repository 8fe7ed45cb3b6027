"""Numbers of another channel in brackets, boards that are named in passing, spares, items of a shopping list. Invented.

Makers often number the right channel a hundred higher, in brackets behind the left one (common practice of sheets).
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from recap.normalise.caplist import read_cap_list
from tests.normalise.facts import fact, facts, read

if TYPE_CHECKING:
    from pathlib import Path


def listed(tmp_path: Path, *cells: str) -> list[str]:
    path = tmp_path / "list.csv"
    path.write_text("\n".join(["Ref;Value;Volt", *(f"{cell};1u;50" for cell in cells)]), encoding="utf-8")
    return [fact(position) for position in read_cap_list(path)[0]]


@pytest.mark.parametrize("cell", ["C103(203)", "C103 (203)", "C103[203]", "C103 (C203)", "C103 (R: C203)", "C103/203"])
def test_the_other_channel_in_brackets_is_a_place_of_its_own(tmp_path: Path, cell: str) -> None:
    assert listed(tmp_path, cell, "C9") == ["C103 1 µF 50 V", "C203 1 µF 50 V", "C9 1 µF 50 V"]


def test_so_it_is_for_each_of_several_and_with_more_channels_than_two(tmp_path: Path) -> None:
    assert listed(tmp_path, "C111(211), C112(212)") == [f"C{n} 1 µF 50 V" for n in (111, 211, 112, 212)]
    assert listed(tmp_path, "C108 (208, 308)") == [f"C{n} 1 µF 50 V" for n in (108, 208, 308)]


@pytest.mark.parametrize("cell", ["C110(30)", "C106(2)", "C107 [3]"])
def test_any_other_number_in_brackets_is_asked_about(tmp_path: Path, cell: str) -> None:
    assert listed(tmp_path, cell)[0].endswith("?ref-unread")


def test_how_many_designators_stand_there_may_stand_behind_them(tmp_path: Path) -> None:
    assert listed(tmp_path, '"C1, C2 (2)"') == ["C1 1 µF 50 V", "C2 1 µF 50 V"]


@pytest.mark.parametrize("side", ["R", "right", "rechts", "droite"])
def test_a_side_named_in_brackets_loses_no_designator(side: str) -> None:
    assert facts(f"C103 ({side}: C203) 1uF 50V") == ["C103 1 µF 50 V", "C203 1 µF 50 V"]


@pytest.mark.parametrize(
    ("heading", "board"),
    [
        ("Tuner: careful with the coils", "Tuner"),
        ("**Tuner**: careful with the coils", "Tuner"),
        ("On the front panel:", "front panel"),
        ("B) Tuner", "Tuner"),
        ("II. Tuner", "Tuner"),
        ("Tuner (1 cap)", "Tuner"),
    ],
)
def test_the_board_above_ends_where_the_next_is_named(heading: str, board: str) -> None:
    assert facts(f"PSU\nC1 10uF 16V\nC2 22uF 16V\n\n{heading}\nC3 1uF 50V") == [
        "C1 10 µF 16 V @ PSU",
        "C2 22 µF 16 V @ PSU",
        f"C3 1 µF 50 V @ {board}",
    ]


@pytest.mark.parametrize("none", ["-", "none", "n/a", "keine", "?"])
def test_a_label_without_a_name_ends_it_too(none: str) -> None:
    assert facts(f"Board: PSU\nC1 10uF 16V\nBoard: {none}\nC9 1uF 50V") == ["C1 10 µF 16 V @ PSU", "C9 1 µF 50 V"]


def test_spares_beside_a_list_of_places_are_doubted() -> None:
    assert facts("C1 10uF 16V\nC2 22uF 16V\nSpares: 10x 10uF 16V, 5x 22uF 16V")[2:] == [
        "- x10 10 µF 16 V ?remark-unclear",
        "- x5 22 µF 16 V ?remark-unclear",
    ]


def test_an_item_of_a_shopping_list_heads_nothing() -> None:
    positions, told = read("10x 10uF 16V\n1x relay 24V\n2x relay 12V\n3x 0.1uF 50V\n4x 1uF 63V")
    assert positions == ["- x10 10 µF 16 V", "- x3 0.1 µF 50 V", "- x4 1 µF 63 V"]
    assert "heading-times" not in {each.code for each in told}


@pytest.mark.parametrize("said", ["or 22uF 25V in later sets", "(or 22uF 25V)", "oder 22uF 35V", "ou 22uF 25V"])
def test_another_value_on_the_line_below_is_no_part_and_leaves_the_one_above_in_doubt(said: str) -> None:
    assert facts(f"C1, C2 10uF 25V\n   {said}\nC3 47uF 25V") == [
        "C1 10 µF 25 V ?remark-unclear",
        "C2 10 µF 25 V ?remark-unclear",
        "C3 47 µF 25 V",
    ]


def test_up_to_a_serial_number_nothing_was_measured() -> None:
    assert facts("C3 1uF 50V up to serial 1000, then 2.2uF 50V\nC4 1uF 50V")[0] == "C3 ? 50 V ?value-conflict"


def test_a_resistor_beside_a_capacitor_is_no_section_of_a_can() -> None:
    assert facts("C3 0.1uF + 47R snubber\nC4 1uF 50V")[0] == "C3 0.1 µF"
    assert facts("C3 50+50uF 350V radial\nC4 1uF 50V")[0] == "C3a 50 µF 350 V radial ?can-sections"


def test_a_preposition_in_front_takes_nothing_from_a_boards_name() -> None:
    assert facts("Main board\nC1 10uF 16V\n\nFor the tuner:\nC3 1uF 50V")[1] == "C3 1 µF 50 V @ tuner"


@pytest.mark.parametrize(
    "said",
    [
        "(all x2 for stereo)",
        "each monoblock:",
        "Crossover (one speaker - buy double for a pair)",
        "Per channel:",
        "je Kanal:",
        "par voie :",
    ],
)
def test_quantities_of_one_of_several_are_told(said: str) -> None:
    assert "heading-times" in {each.code for each in read(f"{said}\n1x 10uF 16V\n2x 47uF 25V")[1]}


@pytest.mark.parametrize(
    "said", ["For BOTH channels (already doubled):", "beide Kanäle schon gezählt", "Amp kit", "Lift one side first"]
)
def test_quantities_of_all_of_them_are_not(said: str) -> None:
    assert "heading-times" not in {each.code for each in read(f"{said}\n1x 10uF 16V\n2x 47uF 25V")[1]}


def test_a_sum_below_names_no_group_of_its_own(tmp_path: Path) -> None:
    path = tmp_path / "list.csv"
    rows = "Main;C1;100uF 16V;1\n;C3;47uF 25V;1\nSub;C1;0.1uF 63V;1\n;C4;10uF 50V;1\nTotal;;;4"
    path.write_text(f"Location;Part;Spec;Qty\n{rows}", encoding="utf-8")
    assert [p.board for p in read_cap_list(path)[0]] == ["Main", "Main", "Sub", "Sub"]
