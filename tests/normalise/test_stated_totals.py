"""What a list says of how many capacitors it holds is held against what stands in it. Invented, common practice."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from recap.normalise.caplist import read_cap_list
from tests.normalise.facts import read

if TYPE_CHECKING:
    from pathlib import Path

RECORDS = "C1, C2 10uF 25V\nC3 47uF 16V\nC4 2200uF 35V\n"


def differing(text: str) -> list[int | None]:
    return [said.source.row for said in read(text)[1] if said.code == "total-differs"]


@pytest.mark.parametrize(
    "said", ["The {} caps of the kit:", "Amplifier (holds {} capacitors):", "# Amplifier, {} caps"]
)
def test_a_number_over_the_list(said: str) -> None:
    assert differing(f"{said.format(4)}\n\n{RECORDS}") == []
    assert differing(f"{said.format(5)}\n\n{RECORDS}") == [1]


@pytest.mark.parametrize(
    "said",
    ["Total: {}", "Total {} pieces", "{} caps in total", "Gesamt: {} Stück", "Razem {} szt.", "Totale {} pezzi"],
)
def test_a_number_below_the_list(said: str) -> None:
    assert differing(f"{RECORDS}\n{said.format(4)}") == []
    assert differing(f"{RECORDS}\n{said.format(5)}") == [5]


def test_a_row_of_totals(tmp_path: Path) -> None:
    table = 'Ref,Value,Volts,Qty\n"C1, C2",10uF,25,2\nC3,47uF,16,1\nTotal,,,{}\n'
    for total, wanted in ((3, []), (4, ["total-differs"])):
        path = tmp_path / f"{total}.csv"
        path.write_text(table.format(total), encoding="utf-8")
        assert [said.code for said in read_cap_list(path)[1] if said.code == "total-differs"] == wanted


def test_each_board_may_have_its_own() -> None:
    boards = "Amplifier\n\nPSU (2 caps)\nC1 10uF 25V\nC2 10uF 25V\n\nAudio board (1 cap)\nC11 47uF 16V\n\nTotal: 3\n"
    assert differing(boards) == []


def test_the_sections_of_a_can_are_one_part_or_several() -> None:
    for total in (2, 3):
        assert differing(f"The {total} caps:\nC1 32+32uF 350V\nC2 10uF 25V\n") == []


def test_electrolytics_may_be_counted_alone() -> None:
    assert differing("C1 10uF 25V electrolytic\nC2 10nF 63V film\nC3 47uF 16V electrolytic\nTotal elkos: 2\n") == []


@pytest.mark.parametrize(
    "text",
    [
        "I replaced 3 caps so far",
        "Total cost 31 €",
        "about 20 caps in total",
        "3 more caps in total",
        "Tessera 500 capacitors",
        "Total 7 pieces per channel",
        "total power 50 W",
    ],
)
def test_numbers_that_count_no_list(text: str) -> None:
    assert differing(f"{text}\n\n{RECORDS}") == []


def test_a_line_that_says_one_thing_of_many_places_is_told_once() -> None:
    found, told = read("C1 47 " * 150)
    assert len(found) == 150
    assert sorted(said.code for said in told) == ["ref-twice", "unit-missing"]
