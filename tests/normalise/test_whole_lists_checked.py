"""What only the whole list, or the whole line, shows to be doubtful (common practice throughout)."""

from __future__ import annotations

import pytest

from tests.normalise.facts import facts

THREE = "C1 10uF 16V\nC2 10uF 16V\nC3 10uF 16V\n"


@pytest.mark.parametrize(
    ("line", "expected"),
    [
        ("C1 100pF bipolar", "C1 100 pF"),  # only says that it is no electrolytic
        ("C1 1nF bipolar", "C1 1 nF bipolar ?kind-unlikely"),
        ("C1 47nF electrolytic", "C1 47 nF electrolytic ?kind-unlikely"),
        ("C1 0.1uF electrolytic", "C1 0.1 µF electrolytic"),
        ("C1 0.047uF electrolytic film", "C1 47 nF ?kind-conflict"),
    ],
)
def test_how_small_electrolytics_are(line: str, expected: str) -> None:
    assert facts(line) == [expected]


@pytest.mark.parametrize(
    ("line", "expected"),
    [
        ("C1 47uF 25V XYZ1E470", "C1 47 µF 25 V"),  # 1E is 25 V, 470 is 47 µF
        ("C1 47uF 16V XYZ1E470", "C1 47 µF 16 V ?part-number-contradicts"),
        ("C1 100uF 25V XYZ1E470", "C1 100 µF 25 V ?part-number-contradicts"),
        ("C1 4.7uF 25V XYZ1E4R7", "C1 4.7 µF 25 V"),
        ("C1 47uF XY1E470", "C1 47 µF"),
        ("C1 100uF 1E470", "C1 100 µF"),  # too short for a part number
    ],
)
def test_a_part_number_holds_the_voltage_and_the_value(line: str, expected: str) -> None:
    """Rated voltages in part numbers: two characters, as JIS C 5101 and EIA tables have them (from memory)."""
    assert facts(line) == [expected]


@pytest.mark.parametrize(
    ("lone", "expected"),
    [
        ("22uF film", ["- 22 µF film ?ref-missing"]),
        ("22uF 16V", ["- 22 µF 16 V"]),
        ("2x 22uF", ["- x2 22 µF"]),
        ("10+22uF", ["- 10 µF ?can-sections", "- 22 µF ?can-sections"]),
        ("22uF film\n33uF film", ["- 22 µF film ?ref-missing", "- 33 µF film ?ref-missing"]),
        ("22uF film\n33uF film\n47uF film", ["- 22 µF film", "- 33 µF film", "- 47 µF film"]),  # half have designators
    ],
)
def test_a_value_alone_in_a_list_of_designators(lone: str, expected: list[str]) -> None:
    assert facts(THREE + lone)[3:] == expected


def test_two_designators_make_no_list_of_them() -> None:
    assert facts("C1 10uF 16V\nC2 10uF 16V\n22uF film")[2:] == ["- 22 µF film"]


@pytest.mark.parametrize(
    ("others", "expected"),
    [
        ("C2 4,7 uF 16V", "C1 ? 16 V ?thousands-or-decimal"),
        ("C2 4.7 uF 16V", "C1 1500 µF 16 V"),
        ("C2 4,7 uF 16V\nC3 2.2 uF", "C1 1500 µF 16 V"),
        ("C2 22 uF 16V", "C1 1500 µF 16 V"),
    ],
)
def test_a_comma_before_three_figures_in_a_list_of_decimal_commas(others: str, expected: str) -> None:
    assert facts(f"C1 1,500 uF 16V\n{others}")[0] == expected


@pytest.mark.parametrize(
    ("refs", "doubted"),
    [
        ("C4711 C20815", True),
        ("C9999 C10000", True),
        ("C14711", False),
        ("C4711 C4815", False),  # one board of the four thousands
        ("C1711 C9815", False),
        ("C14711 C14815", False),
        ("C4711 C20815 C5", False),
    ],
)
def test_numbers_of_a_shop_instead_of_designators(refs: str, doubted: bool) -> None:
    found = facts("\n".join(f"{ref} 10uF" for ref in refs.split()))
    assert all(("?ref-unread" in fact) is doubted for fact in found)
    assert len(found) == len(refs.split())


@pytest.mark.parametrize(
    ("lines", "expected"),
    [
        ("C1 10uF 16V\nC1 10uF 16V", ["", "?ref-twice"]),
        ("C1 10uF 16V\nC1 22uF 16V", ["?ref-twice", "?ref-twice"]),
        ("C1 10uF 16V\nC1 10uF 25V\nC1 10uF 16V", ["?ref-twice", "?ref-twice", "?ref-twice"]),
        ("C1 10uF\nC1", ["", "?ref-twice ?value-missing"]),  # a mere mention
        ("c1 10uF 16V\nC1 10uF 16V", ["", "?ref-twice"]),
        ("PSU\nC1 10uF 16V\nAudio\nC1 22uF 16V", ["", ""]),
    ],
)
def test_one_designator_twice(lines: str, expected: list[str]) -> None:
    found = [" ".join(fact.split()[1:]) for fact in facts(lines)]
    assert [" ".join(word for word in fact.split() if word.startswith("?")) for fact in found] == [
        f"? {doubts}" if "value-missing" in doubts else doubts for doubts in expected
    ]


def test_a_value_some_lines_above_designators_without_one() -> None:
    def apart(lines: int) -> str:
        return facts("10uF 16V\n" + "foo\n" * lines + "C1, C2\nC3 10uF")[0]

    assert apart(7) == "- 10 µF 16 V ?ref-missing"
    assert apart(8) == "- 10 µF 16 V"


@pytest.mark.parametrize(
    ("line", "expected"),
    [
        ("4 700 µF 16V C1 C2 C3 C4", "C1 4700 µF 16 V ?count-or-thousands"),  # four of 700, or 4700
        ("4 700 µF 16V C1 C2", "C1 4700 µF 16 V"),
        ("2 200 µF 16V C1 C2", "C1 2200 µF 16 V ?count-or-thousands"),
        ("2 200 µF 16V C1", "C1 2200 µF 16 V"),
        ("4 700 µF 16V", "- 4700 µF 16 V ?count-or-thousands"),
        ("C1 100/16 or 25", "C1 100 µF ?alternatives"),
        ("C1 4.7 or 47, 25 V", "C1 ? 25 V ?alternatives"),
        ("C1 4 7 yF 16V", "C1 ? 16 V ?alternatives ?unit-misread"),
        ("C1 C2 C3 | 3 | 10uF 16V", "C1 10 µF 16 V"),
        ("C1 C2 C3 | 4 | 10uF 16V", "C1 10 µF 16 V ?number-unread"),
        ("10uF 2 C1 C2", "C1 10 µF"),
        ("10uF 16V 102 C1 C2", "C1 10 µF 16 V ?number-unread"),
        ("C1 5/2.5 D5 P2.5", "C1 ? D5 P2.5 ?value-missing"),  # diameter and pitch of the footprint beside
    ],
)
def test_what_designators_and_sizes_tell_of_numbers(line: str, expected: str) -> None:
    assert facts(line)[0] == expected
