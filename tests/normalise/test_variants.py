"""Lists with a column for each variant of a chassis: every variant's part is a position of its own, on its own board.

The lists are invented after tables in which people put the versions of a chassis beside each other (common practice).
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from recap.normalise.caplist import read_cap_list
from tests.normalise.facts import fact, facts

if TYPE_CHECKING:
    from pathlib import Path

    from recap.diagnostics import Diagnostic

TABLE = (
    "Location,Mono 90,Stereo 95,Remark\n"
    "C1,10µF 25V,22µF 25V,\n"
    "C2,-,100µF 16V,second channel\n"
    "C3,-,-,\n"
    "C4,0.47µF 250V film,0.47µF 250V film,vertical\n"
)


def listed(tmp_path: Path, text: str) -> tuple[list[str], list[Diagnostic]]:
    path = tmp_path / "list.csv"
    path.write_text(text, encoding="utf-8")
    positions, told = read_cap_list(path)
    return [fact(position) for position in positions], told


def test_each_variant_has_its_parts(tmp_path: Path) -> None:
    found, told = listed(tmp_path, TABLE)
    assert found == [
        "C1 10 µF 25 V @ Mono 90",
        "C1 22 µF 25 V @ Stereo 95",
        "C2 100 µF 16 V @ Stereo 95",
        "C4 0.47 µF 250 V film @ Mono 90",
        "C4 0.47 µF 250 V film @ Stereo 95",
    ]
    said = [(d.source.row, d.code) for d in told if d.code != "header-read"]
    assert said == [(1, "variants-apart"), (4, "not-fitted")]


def test_a_heading_between_names_the_board_of_all_variants(tmp_path: Path) -> None:
    found, _ = listed(tmp_path, "Ref,Mk I,Mk II\nPower supply,,\nC1,10µF 25V,22µF 25V\nC2,1µF 50V,1µF 63V\n")
    assert found[:2] == ["C1 10 µF 25 V @ Power supply, Mk I", "C1 22 µF 25 V @ Power supply, Mk II"]


def test_choices_and_sources_of_one_part_are_no_variants(tmp_path: Path) -> None:
    found, _ = listed(tmp_path, "Ref,Choice 1,Choice 2,Note\nC1,10µF 25V,22µF 25V,\nC2,1µF 50V,1µF 50V,\n")
    assert found == ["C1 10 µF 25 V ?columns-disagree", "C2 1 µF 50 V"]


def test_an_empty_cell_s_dash_does_not_make_a_decimal_comma_of_the_next() -> None:
    assert facts("C2,-,-,100µF 16V,second channel") == ["C2 100 µF 16 V"]
    assert facts("C2 ,47µF 63V") == ["C2 0.47 µF 63 V"]


def test_an_item_over_records_that_are_marked_otherwise_is_their_heading() -> None:
    text = "My list\n\n* Alimentatore\n- C1 10uF 16V\n- C2 22uF 16V\n\n* Finale\n- C3 47uF 25V\n"
    assert facts(text) == ["C1 10 µF 16 V @ Alimentatore", "C2 22 µF 16 V @ Alimentatore", "C3 47 µF 25 V @ Finale"]
    assert facts("■ 電源基板\nＣ１　１０μＦ　２５Ｖ\n") == ["C1 10 µF 25 V @ 電源基板"]
    assert facts("List\n\n- Breadboard\nC1 10uF 16V") == ["C1 10 µF 16 V"]
    assert facts("- fuse\n- C1 10uF 16V\n- relay\n- C2 22uF 16V") == ["C1 10 µF 16 V", "C2 22 µF 16 V"]


def test_a_board_s_name_is_without_remarks_in_brackets() -> None:
    card = "=== Channel card (there are four, list is for one) ==="
    assert facts(f"{card}\nC1 10uF 16V") == ["C1 10 µF 16 V @ Channel card"]
    assert facts("CPU BOARD - ceramics (leave):\nC1 0.1uF") == ["C1 0.1 µF ceramic @ CPU BOARD ?left-alone"]
    assert facts("CAPACITORS (power supply and chassis)\nC1 10uF 16V") == ["C1 10 µF 16 V @ power supply and chassis"]
