"""What a sentence says of all parts but some isn't lost: it is laid on none, and those it speaks of are doubted."""

from __future__ import annotations

import pytest

from tests.normalise.facts import facts

LIST = "C3 10uF 50V\nC4 10uF 50V\nC5 22uF 16V\n"


@pytest.mark.parametrize(
    "sentence",
    [
        "All caps except C4 are bipolar",
        "All bipolar except C4",
        "All are radial, except C4",
        "Alle Elkos außer C4 sind bipolar",
        "All of them 105C except C4",
        "Everything except C4 is axial.",
        "All caps are bipolar (not C4)",
    ],
)
@pytest.mark.parametrize("above", [True, False])
def test_all_but_one_are_doubted(sentence: str, above: bool) -> None:
    found = facts(f"{sentence}\n{LIST}" if above else f"{LIST}{sentence}\n")
    assert [each.split()[0] for each in found if "?remark-unclear" in each] == ["C3", "C5"]


@pytest.mark.parametrize(
    "sentence", ["All done except C4", "I replaced all of them except C4", "All caps are 105C", "C4 is not bipolar"]
)
def test_other_sentences_doubt_no_others(sentence: str) -> None:
    assert not any("?remark-unclear" in each for each in facts(f"{LIST}{sentence}\n") if not each.startswith("C4"))


def test_parts_that_say_it_themselves_are_plain() -> None:
    text = "C3 10uF 50V bipolar\nC4 10uF 50V\nAll caps except C4 are bipolar\n"
    assert facts(text) == ["C3 10 µF 50 V bipolar", "C4 10 µF 50 V"]
