"""How long a heading holds: till the next of its own sort, and what was said under a board ends with the board.

Lists are built so by whoever writes them: common practice. A bipolar place that a heading doesn't reach would be given
a polar part, and a voltage that reaches too far a part that bursts.
"""

from __future__ import annotations

import pytest

from tests.normalise.facts import facts

PLAIN = "C1 10uF 16V\n"


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        # what is said of all holds under every board
        (
            "All radial, 105C\n\nPSU\nC1 10uF 16V\n\nAMP\nC2 22uF 25V\n",
            ["C1 10 µF 16 V 105 °C radial @ PSU", "C2 22 µF 25 V 105 °C radial @ AMP"],
        ),
        (
            "All axial\nC1 10uF 16V\n\nPSU board\nC2 22uF 25V\n",
            ["C1 10 µF 16 V axial", "C2 22 µF 25 V axial @ PSU board"],
        ),
        # what is said under a board ends with it
        ("PSU\nAxial\nC1 10uF 16V\n\nAMP\nC2 22uF 25V\n", ["C1 10 µF 16 V axial @ PSU", "C2 22 µF 25 V @ AMP"]),
        (
            "PSU board\nall axial\nC1 10uF 16V\n\nAMP board\nC2 22uF 25V\n",
            ["C1 10 µF 16 V axial @ PSU board", "C2 22 µF 25 V @ AMP board"],
        ),
        (
            "PSU board\nC1 10uF 16V\nBipolar\nC2 22uF 25V\nAMP board\nC3 1uF 50V\n",
            ["C1 10 µF 16 V @ PSU board", "C2 22 µF 25 V bipolar @ PSU board", "C3 1 µF 50 V @ AMP board"],
        ),
        (
            "PSU board\n25 V\nC1 10uF\n16 V\nC2 22uF\nAMP board\nC3 1uF\n",
            ["C1 10 µF 25 V @ PSU board", "C2 22 µF 16 V @ PSU board", "C3 1 µF @ AMP board"],
        ),
        # a class that has its records ends before a board
        ("Axial\nC1 10uF 16V\n\nPSU board\nC2 22uF 25V\n", ["C1 10 µF 16 V axial", "C2 22 µF 25 V @ PSU board"]),
        # … and before the next class, whatever else it said
        ("SMD, 25 V\nC1 10uF\n\nRadial, 50 V\nC2 22uF\n", ["C1 10 µF 25 V smd", "C2 22 µF 50 V radial"]),
        ("25 V:\nC1 10uF\nSMD:\nC2 22uF\n", ["C1 10 µF 25 V", "C2 22 µF smd"]),
        ("Axial:\nC1 10uF 16V\n\nRadial:\nC2 22uF 25V\n", ["C1 10 µF 16 V axial", "C2 22 µF 25 V radial"]),
        # the rest is what the heading above isn't of
        ("Bipolar\nC1 10uF 16V\n\nOthers\nC2 22uF 25V\n", ["C1 10 µF 16 V bipolar", "C2 22 µF 25 V"]),
        (
            "PSU board\nBipolar\nC1 10uF 16V\nThe rest\nC2 22uF 25V\n",
            ["C1 10 µF 16 V bipolar @ PSU board", "C2 22 µF 25 V @ PSU board"],
        ),
        # depth that the text shows counts before everything
        (
            "## PSU\n### Axial\nC1 10uF 16V\n### Radial\nC2 1uF 50V\n## AMP\nC3 22uF 25V\n",
            ["C1 10 µF 16 V axial @ PSU", "C2 1 µF 50 V radial @ PSU", "C3 22 µF 25 V @ AMP"],
        ),
        (
            "# Amplifier\n## PSU board\nC1 10uF 16V\n# Tuner\nC2 22uF 25V\n",
            ["C1 10 µF 16 V @ PSU board", "C2 22 µF 25 V @ Tuner"],
        ),
    ],
)
def test_a_heading_holds_as_long_as_its_writer_means(text: str, expected: list[str]) -> None:
    assert facts(text) == expected


@pytest.mark.parametrize("heading", ["Keyboard: no electrolytics", "No bipolar caps here", "Audio board: no tantalums"])
def test_what_a_heading_denies_is_stated_of_no_part(heading: str) -> None:
    (found,) = facts(f"{heading}\n{PLAIN}")
    assert found.startswith("C1 10 µF 16 V")
    assert not {"electrolytic", "bipolar", "tantalum"} & set(found.split("@")[0].split())


@pytest.mark.parametrize(
    ("heading", "volts"),
    [
        ("PSU (all 35 V)", "35 V"),
        ("35V rail", None),  # what the supply gives
        ("PSU 12V", None),
        ("Section 2: 35V caps", "35 V"),
        ("35 V:", "35 V"),
    ],
)
def test_the_voltage_of_a_supply_is_no_rating_and_that_of_the_parts_is(heading: str, volts: str | None) -> None:
    first, second = facts(f"{heading}\nC1 1000uF\nC2 470uF 16V\n")
    assert first.split(" @")[0] == " ".join(["C1 1000 µF", *([volts] if volts else [])])
    assert second.startswith("C2 470 µF 16 V")
