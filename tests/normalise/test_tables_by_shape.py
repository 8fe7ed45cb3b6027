"""Tables and records told by their shape: headings that are values, fields in cells, letter symbols, boards in columns.

The lists are invented after ways in which people write them (common practice).
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from recap.normalise.caplist import read_cap_list
from tests.normalise.facts import fact, facts, read

if TYPE_CHECKING:
    from pathlib import Path


def listed(tmp_path: Path, text: str, name: str = "list.csv") -> list[str]:
    path = tmp_path / name
    path.write_text(text, encoding="utf-8")
    return [fact(position) for position in read_cap_list(path)[0]]


# --- headings that are nothing but a value ------------------------------------------------------


@pytest.mark.parametrize(
    "heading", ["## 10uF 25V", "**10uF 25V**", "== 10uF 25V ==", "10uF 25V:", "- 10uF 25V:", "10uF 25V\n--------"]
)
def test_designators_below_have_the_value_of_their_heading(heading: str) -> None:
    assert facts(f"{heading}\nC3\nC7") == ["C3 10 µF 25 V", "C7 10 µF 25 V"]


@pytest.mark.parametrize("heading", ["## 10uF 25V", "**10uF 25V**", "10uF 25V:"])
def test_a_blank_line_does_not_end_what_a_heading_says(heading: str) -> None:
    assert facts(f"{heading}\n\nC3\n\nC7") == ["C3 10 µF 25 V", "C7 10 µF 25 V"]


def test_a_remark_or_a_voltage_of_its_own_stays_with_its_line() -> None:
    assert facts("## 10 µF\n\n- C3 25V (by the fuse)\n- C7 50V NP") == ["C3 10 µF 25 V", "C7 10 µF 50 V bipolar"]


def test_a_heading_without_designators_below_is_a_part_itself() -> None:
    assert facts("## 10uF 25V\n\n## 22uF 16V\n\nC7 47uF 16V")[:2] == ["- 10 µF 25 V", "- 22 µF 16 V"]


def test_the_count_of_a_heading_is_of_all_below() -> None:
    assert facts("## 47uF 16V (3x)\n- C4\n- C5, C6") == ["C4 47 µF 16 V", "C5 47 µF 16 V", "C6 47 µF 16 V"]
    assert facts("## 47uF 16V (2x)\n- C4\n- C5, C6") == [
        "C4 47 µF 16 V ?count-mismatch",
        "C5 47 µF 16 V ?count-mismatch",
        "C6 47 µF 16 V ?count-mismatch",
    ]


def test_what_follows_a_record_of_its_own_has_no_value_from_above() -> None:
    assert facts("## 10uF 25V\n- C3\n- C4 22uF 16V\n- C5") == [
        "C3 10 µF 25 V",
        "C4 22 µF 16 V",
        "C5 ? ?value-missing",
    ]


# --- a field and its cell on each line ----------------------------------------------------------


@pytest.mark.parametrize("mark", [";", "\t", " | ", ","])
def test_fields_on_lines_of_their_own_make_records(tmp_path: Path, mark: str) -> None:
    text = "Ref;C7\nValue;22 µF\nVoltage;25 V\n\nRef;C8\nValue;2.2 µF\nVoltage;63 V\n".replace(";", mark)
    wanted = ["C7 22 µF 25 V", "C8 2.2 µF 63 V"]
    assert facts(text) == wanted
    assert listed(tmp_path, text, "list.txt") == wanted
    if mark in {";", ","}:
        assert listed(tmp_path, text) == wanted


# --- letter symbols as headers ------------------------------------------------------------------


def test_c_and_u_head_capacitances_and_voltages_where_the_cells_bear_it_out(tmp_path: Path) -> None:
    """The letter symbols of IEC 60027-1, from memory: C for capacitance, U for voltage."""
    assert listed(tmp_path, "Nr;C;U;Bem.\nC1;4700µ;63;\nC2;22µ;6,3;bipolar\n") == [
        "C1 4700 µF 63 V",
        "C2 22 µF 6.3 V bipolar",
    ]
    assert facts("Nr    C        U\nC1    4700µ    63\nC2    22µ      6,3") == ["C1 4700 µF 63 V", "C2 22 µF 6.3 V"]


def test_c_over_designators_heads_these(tmp_path: Path) -> None:
    assert listed(tmp_path, "C,Value,U\nC1,10uF,25\nC2,47uF,16\n") == ["C1 10 µF 25 V", "C2 47 µF 16 V"]


# --- the boards of designators in columns -------------------------------------------------------


def test_each_board_has_its_column_of_designators(tmp_path: Path) -> None:
    text = 'Value,Voltage,Main board,Meter board,Qty\n100uF,16V,"C1, C4",C101,3\n47uF,25V,C2,,1\n1uF,50V,,C102,1\n'
    assert listed(tmp_path, text) == [
        "C1 100 µF 16 V @ Main board",
        "C4 100 µF 16 V @ Main board",
        "C101 100 µF 16 V @ Meter board",
        "C2 47 µF 25 V @ Main board",
        "C102 1 µF 50 V @ Meter board",
    ]


def test_a_count_that_is_none_of_them_is_doubted(tmp_path: Path) -> None:
    text = 'Value,Voltage,Main board,Meter board,Qty\n100uF,16V,"C1, C4",C101,5\n47uF,25V,C2,C103,2\n'
    assert [line.partition(" ?")[2] for line in listed(tmp_path, text)] == ["count-mismatch"] * 3 + ["", ""]


def test_two_names_of_one_part_are_not_two_parts(tmp_path: Path) -> None:
    text = "PCB ref,Schematic ref,Value,Volts\nC1,C101,10uF,25V\nC2,C102,47uF,16V\n"
    found = listed(tmp_path, text)
    assert [line.split(" ", 1)[1] for line in found] == ["10 µF 25 V ?ref-unread", "47 µF 16 V ?ref-unread"]


# --- variants in columns ------------------------------------------------------------------------


def test_variants_in_text_aligned_by_spaces_are_boards() -> None:
    found, told = read("Ref     CL-30        CL-60\nC1      4700/35      4700/63\nC6      -            220/80\n")
    assert found == ["C1 4700 µF 35 V @ CL-30", "C1 4700 µF 63 V @ CL-60", "C6 220 µF 80 V @ CL-60"]
    assert "variants-apart" in {said.code for said in told}


def test_variants_may_share_a_column_of_voltages(tmp_path: Path) -> None:
    assert listed(tmp_path, "Ref,OM-14,OM-20,Volts\nC1,10 uF,22 uF,50\nC2,2.2 uF,,160\n") == [
        "C1 10 µF 50 V @ OM-14",
        "C1 22 µF 50 V @ OM-20",
        "C2 2.2 µF 160 V @ OM-14",
    ]


# --- smaller things -----------------------------------------------------------------------------


def test_designators_on_the_lines_before_keep_their_rows() -> None:
    from recap.normalise.caplist import read_cap_text

    positions, _ = read_cap_text("EC3, EC4,\nEC5,\nEC6 10 MF 50 WV (4)\n", "list.txt")
    assert [(p.ref, p.source.row if p.source else None) for p in positions] == [
        ("EC3", 1), ("EC4", 1), ("EC5", 2), ("EC6", 3)
    ]  # fmt: skip
    assert all(p.value_uF == 10 and p.volts == 50 and not p.doubts for p in positions)


def test_a_word_that_begins_with_a_v_is_no_voltage() -> None:
    assert facts("Radio 5 válvulas, electrolíticos\n250 mmfd mica, C9") == ["C9 250 pF other"]


def test_a_count_in_front_of_its_kind_is_no_voltage() -> None:
    assert facts("1 céramique de 330 pF (C14)\n2 Elkos 10 µF (C1, C2)") == [
        "C14 330 pF ceramic",
        "C1 10 µF electrolytic",
        "C2 10 µF electrolytic",
    ]


def test_a_voltage_in_front_of_a_slash_gives_the_number_behind_it_its_unit() -> None:
    assert facts("C2 50V/2.2") == ["C2 2.2 µF 50 V"]
    assert facts("C2 25V/50") == ["C2 50 µF 25 V ?unit-missing"]  # perhaps two ratings


def test_value_and_voltage_run_together_are_read_and_doubted() -> None:
    assert facts("C14 33µ16") == ["C14 33 µF 16 V ?volts-unit-missing"]
    assert facts("C15 4µ7 16V") == ["C15 4.7 µF 16 V"]


def test_numbers_of_rows_are_no_counts_though_boards_stand_between(tmp_path: Path) -> None:
    text = "#,Pos,Value,Volts\nPower board,,,\n1,C1,10uF,25\n2,C2,47uF,16\nAudio board,,,\n3,C3,1uF,50\n"
    assert listed(tmp_path, text) == [
        "C1 10 µF 25 V @ Power board",
        "C2 47 µF 16 V @ Power board",
        "C3 1 µF 50 V @ Audio board",
    ]
