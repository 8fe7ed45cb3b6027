"""What goes on below: designators of a narrow cell, boards in front of lines, channels that are the same. Invented."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from recap.normalise.caplist import read_cap_list
from tests.normalise.facts import fact, facts, read

if TYPE_CHECKING:
    from pathlib import Path

TABLE = """Qty,Value,Voltage,Location
3,10uF,35V,C1 C2 C4
2,220uF,16V,C7
,,,C8
5,1uF,50V,C10 C11
,,,C12
,,,C13 C14
1,47uF,25V,C20
"""


def listed(tmp_path: Path, text: str) -> list[str]:
    path = tmp_path / "list.csv"
    path.write_text(text, encoding="utf-8")
    return [fact(position) for position in read_cap_list(path)[0]]


def test_a_count_tells_that_rows_of_designators_go_on(tmp_path: Path) -> None:
    assert listed(tmp_path, TABLE) == [
        *(f"C{n} 10 µF 35 V" for n in (1, 2, 4)),
        *(f"C{n} 220 µF 16 V" for n in (7, 8)),
        *(f"C{n} 1 µF 50 V" for n in (10, 11, 12, 13, 14)),
        "C20 47 µF 25 V",
    ]


def test_so_does_a_comma(tmp_path: Path) -> None:
    assert listed(tmp_path, 'Value,Voltage,Ref\n10uF,35V,"C1, C2,"\n,,C3\n47uF,16V,C4\n,,C5\n') == [
        *(f"C{n} 10 µF 35 V" for n in (1, 2, 3)),
        "C4 47 µF 16 V",
        "C5 ? ?value-missing",  # nothing says that it goes on
    ]


def test_names_in_front_of_lines_are_boards_like_the_first() -> None:
    lines = "Power supply: C1 10uF 25V, C2 22uF 16V\nPlayback: C101 47uF 10V\nRecord: C111 1uF 50V"
    assert facts(f"Tape deck\n\n{lines}") == [
        "C1 10 µF 25 V @ Power supply",
        "C2 22 µF 16 V @ Power supply",
        "C101 47 µF 10 V @ Playback",
        "C111 1 µF 50 V @ Record",
    ]


@pytest.mark.parametrize(
    "said",
    [
        "Right channel: same as above",
        "Right amp - same as left",
        "Rechter Kanal wie links",
        "Canal droit : idem",
        "Right channel identical",
        "Canale destro uguale",
        "Repeat for channel B",
    ],
)
def test_parts_that_are_only_said_to_be_the_same_are_told(said: str) -> None:
    found, told = read(f"Amp\n\nLeft channel\nC1 10uF 25V\nC2 22uF 16V\n\n{said}\n")
    assert len(found) == 2
    assert [(d.code, d.severity.name, d.source.row) for d in told if d.code == "parts-repeated"] == [
        ("parts-repeated", "WARNING", 7)
    ]


@pytest.mark.parametrize(
    "said", ["Yes, both the same here.", "Clean the right side at the same time", "Not the same board"]
)
def test_other_sentences_are_not(said: str) -> None:
    assert "parts-repeated" not in {d.code for d in read(f"Amp\n\nC1 10uF 25V\nC2 22uF 16V\n\n{said}\n")[1]}


def test_a_stage_called_vertical_says_nothing_of_leads() -> None:
    assert facts("Vertical section\n C402 1/50 NP\nHorizontal section\n C502 4.7/160") == [
        "C402 1 µF 50 V bipolar @ Vertical section",
        "C502 4.7 µF 160 V @ Horizontal section",
    ]
    assert facts("Vertical caps\nC402 1/50")[0] == "C402 1 µF 50 V radial"


def test_numbered_boards_are_headings_and_no_parts() -> None:
    assert facts("PCB1:\n10µF/25V: C2 C3\nPCB2 (front panel):\n47µF/10V: C2") == [
        "C2 10 µF 25 V @ PCB1",
        "C3 10 µF 25 V @ PCB1",
        "C2 47 µF 10 V @ PCB2 (front panel)",
    ]


def test_a_unit_said_behind_the_list_is_that_of_its_bare_values() -> None:
    table = "Ref   Value  V\nC1    22     16\nC2    0.47   50\n"
    assert facts(f"{table}\nAll values uF.") == ["C1 22 µF 16 V", "C2 0.47 µF 50 V"]
    assert facts(table)[0] == "C1 22 µF 16 V ?unit-missing"


def test_an_at_sign_makes_a_pair_as_a_slash_does() -> None:
    assert facts("C1 100 @ 25\nC4 25 @ 25\nC7 .002 @ 1.6kv") == ["C1 100 µF 25 V", "C4 25 µF 25 V", "C7 2 nF 1600 V"]


def test_numbered_items_are_no_parts() -> None:
    assert facts("item: 001  C101  cap el 47u 16v  qty 1\nItem 2: C105 2n2 100v") == [
        "C101 47 µF 16 V",
        "C105 2.2 nF 100 V",
    ]


def test_a_spelt_number_among_other_words_is_the_count_and_doubted() -> None:
    assert facts("Kit\n\ntwo 470uF 10V caps\nthe two big filters 6800uF 71V") == [
        "- x2 470 µF 10 V",
        "- x2 6800 µF 71 V ?number-unread",
    ]


def test_a_day_in_a_heading_is_no_part() -> None:
    assert facts("CAPS REPLACED 3/14:\nC101 47/50") == ["C101 47 µF 50 V"]


def test_a_japanese_section_may_open_the_list() -> None:
    assert facts("電源部\nC902 470μF 35V\nアンプ部\nC501 10μF/50V") == [
        "C902 470 µF 35 V @ 電源部",
        "C501 10 µF 50 V @ アンプ部",
    ]
