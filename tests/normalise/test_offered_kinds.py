"""What would do, too, is not what a part is; a part that is called polar and bipolar is asked about. Invented lists.

A polar part where a bipolar one belongs fails: no kind is taken where a line says both.
"""

from __future__ import annotations

import pytest

from tests.normalise.facts import facts


@pytest.mark.parametrize(
    "said", ["(film ok)", "(film works)", "film would be better", "film possible", "Folie möglich", "film possibile"]
)
def test_a_kind_that_would_do_is_not_that_of_the_part(said: str) -> None:
    assert facts(f"C1 1uF 50V {said}\nC2 1uF 50V") == ["C1 1 µF 50 V", "C2 1 µF 50 V"]


def test_beside_its_own_kind_the_part_keeps_that() -> None:
    assert facts("C1 1uF 50V electrolytic (film ok)\nC2 1uF 50V")[0] == "C1 1 µF 50 V electrolytic"


def test_what_a_tester_found_offers_nothing() -> None:
    assert facts("C1 1uF 50V film ok\nC2 1uF 50V")[0] == "C1 1 µF 50 V film"


def test_a_choice_behind_or_is_doubted() -> None:
    assert facts("C1 10uF 50V or bipolar\nC2 1uF 50V")[0] == "C1 10 µF 50 V ?remark-unclear"


def test_polar_and_bipolar_on_one_line_is_neither() -> None:
    line = "C1 10uF 50V (bipolar on schematic, polar on my board)"
    assert facts(f"{line}\nC2 1uF 50V")[0] == "C1 10 µF 50 V ?kind-conflict"


@pytest.mark.parametrize("said", ["(not polarised)", "- do not use a polar one", ", never a polar one"])
def test_what_is_denied_is_no_conflict(said: str) -> None:
    assert facts(f"C1 10uF 50V bipolar {said}\nC2 1uF 50V")[0].startswith("C1 10 µF 50 V bipolar")


@pytest.mark.parametrize(
    ("written", "fact"), [("10nJ 63V", "10 nF 63 V"), ("100nK 63V", "0.1 µF 63 V"), ("47uM 16V", "47 µF 16 V")]
)
def test_a_letter_of_tolerance_follows_a_short_unit(written: str, fact: str) -> None:
    """J is 5 %, K 10 %, M 20 % (IEC 60062)."""
    assert facts(f"C1 {written}\nC2 1uF 50V")[0] == f"C1 {fact}"


def test_an_inductance_is_none() -> None:
    assert facts("C1 10nH\nC2 1uF 50V")[0] == "C1 ? ?value-missing"
