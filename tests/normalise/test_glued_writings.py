"""Fields that stand close together: commas, dots, crosses and letters between them. Invented lines, common practice."""

from __future__ import annotations

import pytest

from tests.normalise.facts import facts


@pytest.mark.parametrize(
    ("line", "wanted"),
    [
        ("C12,.1uF,25V", "C12 0.1 µF 25 V"),
        ("C12,.0022 mfd,160 VDC", "C12 2.2 nF 160 V"),
        ("C12;.47uF;50V", "C12 0.47 µF 50 V"),
        ("C12,4u7,6.3 volts", "C12 4.7 µF 6.3 V"),
        ("C12,22u,16V", "C12 22 µF 16 V"),
        ("C12->4u7 50 volt", "C12 4.7 µF 50 V"),
        ("C12->22 microfarads 16V", "C12 22 µF 16 V"),
        ("C12 4.7µF x 1 kV", "C12 4.7 µF 1000 V"),
        ("C12 100 µF x 16 V", "C12 100 µF 16 V"),
        ("C5a, M, 2200u, 40 V", "C5a 2200 µF 40 V"),
        ("C05, 105C, 100 MFD, 40 VDC", "C05 100 µF 40 V 105 °C"),
        ("C5 low ESR .22 mfd 400 VDC", "C5 0.22 µF 400 V"),
        ("C5 5x11 100 MFD 63 V", "C5 100 µF 63 V D5 H11"),
        ("C5a, p5, 4,7 µF, 6.3 V", "C5a 4.7 µF 6.3 V P5"),
        ("2C5, x1, 4,7 µF, 100WV", "2C5 4.7 µF 100 V"),
        ("p5 CE5 1u0 25V", "CE5 1 µF 25 V"),
        ("C5 was dead 47uF 25V", "C5 47 µF 25 V"),
    ],
)
def test_one_part(line: str, wanted: str) -> None:
    assert facts(line) == [wanted]


@pytest.mark.parametrize(
    ("line", "refs"),
    [
        ("C501-3 K 10uF 16V", ["C501", "C502", "C503"]),
        ("10uF 16V: C5,6 M", ["C5", "C6"]),
        ("C501-3 x1 10uF 16V", ["C501", "C502", "C503"]),
        ("C501-3 - 10uF 16V", ["C501", "C502", "C503"]),
        ("C901A/B 10uF 16V", ["C901A", "C901B"]),
    ],
)
def test_no_designator_is_lost(line: str, refs: list[str]) -> None:
    found = facts(line)
    assert [fact.split()[0] for fact in found] == refs
    assert all("10 µF 16 V" in fact for fact in found)


@pytest.mark.parametrize("line", ["C12...47 µF 16V", "C12...1uF 16V", "C12...0022 mfd 16V"])
def test_dots_that_may_end_in_a_point_are_doubted(line: str) -> None:
    assert all("leader-or-point" in fact for fact in facts(line))


@pytest.mark.parametrize(
    "line", ["C12 ..... 47 µF 16V", "C12 ..... .47 µF 16V", "C12...100 µF 16V", "C12....4u7 16V", "C12.......47uF 16V"]
)
def test_dots_that_can_not_are_plain(line: str) -> None:
    assert not any("?" in fact for fact in facts(line))
