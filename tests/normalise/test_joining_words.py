"""Words between designators, sections of a can that stand below each other, headings that name designators.

The lists are invented (common practice); the words are those of each language, from memory.
"""

from __future__ import annotations

import pytest

from tests.normalise.facts import facts, read


@pytest.mark.parametrize(
    "word", "and|und|et|e|y|en|og|och|oraz|i|és|и|ja|sowie|plus|as well as|ainsi que|and also".split("|")
)
@pytest.mark.parametrize("line", ["C5 {} C8 100uF 16V", "C5 {} C8: 100uF 16V", "100uF 16V C5 {} C8"])
def test_words_that_join_two(word: str, line: str) -> None:
    assert facts(line.format(word)) == ["C5 100 µF 16 V", "C8 100 µF 16 V"]


@pytest.mark.parametrize("word", ["to", "bis", "till", "til", "do", "až", "по", "から", "a", "al", "tot"])
@pytest.mark.parametrize("line", ["C5 {} C7 100uF 16V", "C5 {} C7: 100uF 16V", "100uF 16V C5 {} C7"])
def test_words_that_make_a_range(word: str, line: str) -> None:
    assert facts(line.format(word)) == ["C5 100 µF 16 V", "C6 100 µF 16 V", "C7 100 µF 16 V"]


def test_in_czech_a_joins() -> None:
    assert facts("Seznam, měněno:\nC5 a C7 100uF 16V") == ["C5 100 µF 16 V", "C7 100 µF 16 V"]


@pytest.mark.parametrize("line", ["C5 xyz C8 100uF 16V", "100uF 16V C5 xyz C8"])
def test_an_unknown_word_between_designators_is_doubted(line: str) -> None:
    assert all("?" in fact for fact in facts(line))


def test_a_neighbour_that_is_named_is_no_doubt() -> None:
    assert facts("C5 near C8 100uF 16V") == ["C5 100 µF 16 V"]


def test_letters_apart_are_sections_of_a_can() -> None:
    assert facts("C-1   A  40 mfd 450 v\nC-1   B  20 mfd 450 v\nC-2   A  16 mfd 350 v\n      B  8 mfd 350 v") == [
        "C1A 40 µF 450 V",
        "C1B 20 µF 450 V",
        "C2A 16 µF 350 V",
        "C2B 8 µF 350 V",
    ]


def test_a_lone_letter_says_nothing() -> None:
    assert facts("C5 A 10 mfd 25V\nC6 47 mfd 25V") == ["C5 10 µF 25 V", "C6 47 µF 25 V"]


def test_a_heading_may_say_which_designators_it_holds() -> None:
    found, told = read("# Some amplifier\n## Regulator (C1-C9)\n- C1 10uF 25V\n- C9 47uF 16V\n")
    assert found == ["C1 10 µF 25 V @ Regulator", "C9 47 µF 16 V @ Regulator"]
    assert not [said for said in told if said.severity.name == "WARNING"]


def test_designators_that_only_a_heading_names_are_told() -> None:
    found, told = read("# Some amplifier\n## Regulator (C1, C9)\n100uF 25V\n")
    assert found == ["- 100 µF 25 V @ Regulator"]
    assert [(said.code, said.source.row) for said in told if said.severity.name == "WARNING"] == [
        ("prose-names-part", 2)
    ]


@pytest.mark.parametrize("text", ['1/2" x 1 1/4"', '1/2" x 1-1/4"', "1/2 in x 1-1/4 in"])
def test_mixed_fractions_of_an_inch(text: str) -> None:
    """One inch is 25.4 mm, by definition."""
    assert facts(f"C2 100 uF 50 V axial, {text}") == ["C2 100 µF 50 V axial D12.7 H31.75"]


def test_a_northern_letter_in_a_word_is_no_diameter() -> None:
    assert facts("Forsterker 30\n\nStrømforsyning:\nC1 100uF 25V ø10x16") == ["C1 100 µF 25 V D10 H16 @ Strømforsyning"]


@pytest.mark.parametrize("refs", ["C203,2O4,205", "C203, 2O4, 2O5", "C2O3,204,205"])
@pytest.mark.parametrize("line", ["{} 100uF 16V", "100uF 16V {}"])
def test_letters_among_the_figures_of_an_enumeration(refs: str, line: str) -> None:
    assert facts(line.format(refs)) == [f"C{n} 100 µF 16 V ?ref-misread" for n in (203, 204, 205)]


def test_an_enumeration_that_counts_up_is_no_value() -> None:
    assert facts("C203, 204, 205") == [f"C{n} ? ?value-missing" for n in (203, 204, 205)]
    assert facts("C203, 104") == ["C203 0.1 µF"]


def test_a_figure_among_letters_that_nothing_reads_is_doubted() -> None:
    assert facts("C203 1OO 47uF") == ["C203 47 µF ?number-unread"]
