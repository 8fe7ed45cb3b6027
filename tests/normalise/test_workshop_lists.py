"""What hobbyists and service shops type: parts lists of makers, notebooks, logs, stock lists, pages saved whole.

Each case is a fault once found on a list of this shape; names and numbers are invented. What the reader should make
of them is common practice of the trade.
"""

from __future__ import annotations

import pytest

from tests.normalise.facts import codes, facts

# --- service parts lists ------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("line", "expected"),
    [
        ("C3 CAPACITOR, FXD, CER DI 0.01uF +80-20% 100VDC", "C3 10 nF 100 V ceramic"),
        ("C4 CAPACITOR, FXD, AL ELECT 47uF -10+75% 25VDC", "C4 47 µF 25 V electrolytic"),
        ("A4A1C3 4.7uF 35V tantalum", "A4A1C3 4.7 µF 35 V tantalum"),
        ("C 101    Elko 100 µF / 35 V, stehend        8211-031", "C101 100 µF 35 V radial electrolytic"),
        ("C 103    Folienkond. 0,1 µF / 100 V         8230-100", "C103 0.1 µF 100 V film"),
        ("C 109    Keramik-Kond. 10 nF / 50 V", "C109 10 nF 50 V ceramic"),
        ("C110 Papierkondensator 0,1 µF / 400 V", "C110 0.1 µF 400 V other"),
        ("C5 2n2 styro", "C5 2.2 nF film"),
    ],
)
def test_descriptions_of_parts_lists(line: str, expected: str) -> None:
    assert facts(line) == [expected]


def test_an_order_number_behind_a_value_is_no_range_of_values() -> None:
    assert facts("C1 100-220uF 16V")[0].startswith("C1 ? 16 V ?alternatives")
    assert facts("C1 1000-2200 uF 16V")[0].startswith("C1 ? 16 V ?alternatives")


@pytest.mark.parametrize("said", ["C 107    wie C 106", "C107 wie C106", "C107 same as C106", "C107 = C106"])
def test_the_same_part_as_another_designator_with_a_blank_in_it(said: str) -> None:
    """``106`` must not be read as a code of 10 µF."""
    assert facts(f"C 106    Elko 47 µF / 25 V\n{said}") == [
        "C106 47 µF 25 V electrolytic",
        "C107 47 µF 25 V electrolytic",
    ]


@pytest.mark.parametrize("word", ["NOT ASSIGNED", "entfällt", "supprimé", "vervallen", "soppresso", "suprimido"])
def test_a_place_that_a_list_gave_up_is_no_position(word: str) -> None:
    assert facts(f"C1 10uF 16V\nC2 {word}\nC3 22uF 16V") == ["C1 10 µF 16 V", "C3 22 µF 16 V"]
    assert (2, "not-fitted") in codes(f"C1 10uF 16V\nC2 {word}\nC3 22uF 16V")


def test_headers_that_number_the_designators() -> None:
    text = (
        "Ref. No.\tPart No.\tPart Name & Description\tQ'ty\tRemarks\n"
        "C101\tKXA1C101MB\tELECTROLYTIC 100µF 16V\t1\t\n"
        "C105,106\tKMY1H223JB\tMYLAR 0.022µF 50V\t2\t\n"
    )
    assert facts(text) == ["C101 100 µF 16 V electrolytic", "C105 22 nF 50 V film", "C106 22 nF 50 V film"]


def test_a_capacity_in_centimetres_is_left_to_somebody() -> None:
    """Old sheets count small values in cm of the CGS system (1 cm = 1.11 pF, from memory): no microfarads."""
    assert facts("C15 : mica 200 cm") == ["C15 ? other ?value-missing"]
