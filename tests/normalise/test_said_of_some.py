"""What is said in brackets behind one designator of several is not silently said of all; nor is C102 a hundred pieces.

Lists name an odd one out in this way: common practice of forum posts and service notes.
"""

from __future__ import annotations

import pytest

from tests.normalise.facts import codes, facts


@pytest.mark.parametrize(
    ("line", "doubt"),
    [
        ("22uF 25V: C3 (bipolar), C4", "remark-unclear"),
        ("22uF 25V: C3, C4 (bipolar), C5", "remark-unclear"),
        ("22uF 25V - C3 (NP), C4, C5", "remark-unclear"),
        ("C3 (NP), C4 22uF 25V", "remark-unclear"),
        ("C3 (bipolar), C4: 22uF 25V", "remark-unclear"),
        ("22uF: C3 (50V), C4", "remark-unclear"),
        ("22uF 25V: C3 (axial), C4", "remark-unclear"),
        ("22uF 25V: C3 (105C), C4", "remark-unclear"),
        ("22uF 25V: C3 (bipolar), C4 (axial)", "remark-unclear"),
        ("C3 [bipolar], C4 22uF 25V", "remark-unclear"),
        ('C3 "bipolar", C4 22uF 25V', "remark-unclear"),
        ("C3 bipolar, C4 22uF 25V", "remark-unclear"),
        ("C3, C4 (C4 is bipolar) 22uF 25V", "remark-unclear"),
        ('Ref,Value,Volts\n"C3 (bipolar), C4",22uF,25\n', "remark-unclear"),
        ('Ref,Value,Volts\n"C3 [axial], C4, C5",22uF,25\n', "remark-unclear"),
        ('Ref,Value,Volts\n"C3 (DNP), C4",22uF,25\n', "fitted-sometimes"),
        ("10uF 16V: C1, C2 (not fitted), C3", "fitted-sometimes"),
        ("10uF 16V: C1 (DNP), C2", "fitted-sometimes"),
    ],
)
def test_a_bracket_behind_some_designators_leaves_all_of_them_in_doubt(line: str, doubt: str) -> None:
    found = facts(line)
    assert len(found) >= 2
    assert all(f"?{doubt}" in each for each in found)


@pytest.mark.parametrize(
    ("line", "expected"),
    [
        ("22uF 25V: C3, C4 (bipolar)", ["C3 22 µF 25 V bipolar", "C4 22 µF 25 V bipolar"]),
        ("C3, C4 (bipolar) 22uF 25V", ["C3 22 µF 25 V bipolar", "C4 22 µF 25 V bipolar"]),
        ("22uF 25V: C3 (bipolar), C4 (bipolar)", ["C3 22 µF 25 V bipolar", "C4 22 µF 25 V bipolar"]),
        ("C3 bipolar, C4 bipolar 22uF 25V", ["C3 22 µF 25 V bipolar", "C4 22 µF 25 V bipolar"]),
        ('Ref,Value,Volts\n"C3, C4 (NP)",22uF,25\n', ["C3 22 µF 25 V bipolar", "C4 22 µF 25 V bipolar"]),
        ("Ref,Value,Volts\nC3 (NP),22uF,25\nC4,22uF,25\n", ["C3 22 µF 25 V bipolar", "C4 22 µF 25 V"]),
        ("C3 (bipolar) 22uF 25V, C4 10uF 16V", ["C3 22 µF 25 V bipolar", "C4 10 µF 16 V"]),
        ("C3 22uF 25V (bipolar), C4 10uF 16V", ["C3 22 µF 25 V bipolar", "C4 10 µF 16 V"]),
        ("22uF 25V: C3 (input), C4 (output)", ["C3 22 µF 25 V", "C4 22 µF 25 V"]),
    ],
)
def test_what_stands_behind_all_of_them_or_behind_one_record_is_plain(line: str, expected: list[str]) -> None:
    assert facts(line) == expected


@pytest.mark.parametrize(
    ("text", "doubted"),
    [
        ("C101 220 µF 35 V\n102 100 µF 16 V\n103 47 µF 25 V", ["102", "103"]),
        ("C101 220uF 35V\nC102 10uF 50V\n103 47uF 25V\nC104 1uF 50V", ["103"]),
        ("C101 220uF 35V\n112 47uF 25V", ["112"]),
        ("C9 10uF 50V\n10 22uF 25V\n11 47uF 16V", ["10", "11"]),
    ],
)
def test_a_number_that_goes_on_with_the_designators_is_no_plain_count(text: str, doubted: list[str]) -> None:
    """``103 47uF 25V`` below ``C102`` would buy a hundred and three pieces."""
    found = facts(text)
    assert [each.split()[1] for each in found if "?count-or-ref" in each] == [f"x{number}" for number in doubted]
    assert [code for _, code in codes(text)].count("count-or-ref") == len(doubted)


@pytest.mark.parametrize(
    "text",
    [
        "12 10uF 50V\n150 22uF 25V",
        "C9 10uF 50V\n10x 22uF 25V",
        "C9 10uF 50V\n4 22uF 25V",
        "C101 10uF 50V\n2 22uF 25V",
        "C101 10uF 50V\n200x 22uF 25V",
        "220uF 35V C101\n3 pcs 10uF 50V",
    ],
)
def test_counts_are_counts_where_they_say_so_or_no_designator_leads_up_to_them(text: str) -> None:
    assert not any("count-or-ref" in each for each in facts(text))
