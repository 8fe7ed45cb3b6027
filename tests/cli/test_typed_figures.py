"""Figures typed at the command line and what comes of them: case temperatures, times, pieces. Own arithmetic beside."""

from __future__ import annotations

import json
import shlex
from typing import TYPE_CHECKING, Any

import pytest
from typer.testing import CliRunner

from recap.cli import app

if TYPE_CHECKING:
    from pathlib import Path


def answer(*words: str) -> dict[str, Any]:
    result = CliRunner().invoke(app, [*words, "--json"])
    assert result.exit_code == 0, result.output
    found = json.loads(result.stdout)
    assert isinstance(found, dict)
    return found


@pytest.mark.parametrize(
    ("line", "ambient"),
    [
        # Ta = Tc - ΔT/α (Rubycon, Lifetime calculation formula, section 2); ΔT = 5 K x the ripple's share squared.
        # Half the ripple: 1.25 K; a case of 10 mm: α 1.1; without a size the largest, 1.6
        ("2000h 105C 35V 800mA 10x20 --case 62C --ripple 400mA", 60.86),
        ("2000h 105C 35V 800mA 10x20 --case 62C --ripple-ratio 0.5", 60.86),
        ("2000h 105C 35V 800mA 10x20 --case 62C --ripple 800mA", 57.45),
        ("2000h 105C 35V 800mA 10x20 --case 62C --ripple 800mA --rise 10K", 52.91),
        ("2000h 105C 35V 800mA 16x20 --case 62C --ripple 800mA", 57.83),
        ("2000h 105C 35V 800mA --case 62C --ripple 400mA", 61.22),
        ("2000h 105C --case 62C", 62.0),  # where no ripple is stated the case may be no warmer than what is around it
    ],
)
def test_a_case_temperature_stands_for_the_one_around_it(line: str, ambient: float) -> None:
    assert answer("life", *shlex.split(line))["inputs"]["ambient_C"] == ambient


def test_currents_of_several_frequencies_count_as_one_at_the_rating_s() -> None:
    """300 mA at 100 Hz and 500 at 10 kHz (1.22 times as much may flow there, Vishay 056/057): √(300² + 410²) of 800."""
    words = "2000h 105C 35V 800mA --ambient 50C --ripple 300mA@100Hz --ripple 500mA@10kHz"
    ratio = answer("life", *words.split())["inputs"]["ripple_ratio"]
    assert ratio == pytest.approx((300**2 + (500 / 1.22) ** 2) ** 0.5 / 800, rel=1e-3)


@pytest.mark.parametrize("name", ["--ripple 400mA --ripple-ratio 0.5", "--operating 20V --voltage-ratio 0.8"])
def test_a_load_is_stated_once(name: str) -> None:
    words = shlex.split(f"life 2000h 105C 35V 800mA --ambient 50C {name}")
    assert CliRunner().invoke(app, words).exit_code == 2


@pytest.mark.parametrize(("within", "seconds"), [("500ms", 0.5), ("5s", 5), ("5", 5), ("2min", 120), ("0,5 s", 0.5)])
def test_times_are_read_with_their_units(within: str, seconds: float) -> None:
    assert answer("discharge", "220uF", "400V", "--within", within)["seconds"] == pytest.approx(seconds)


# --- the drawer ------------------------------------------------------------------------------------

HEADER = "part,value,volts,mount,kind,qty\n"


@pytest.fixture
def edited(tmp_path: Path) -> Path:
    """Nine and six lay there, two and one were taken; then the file was edited to seven and five."""
    folder = tmp_path / "bench"
    assert CliRunner().invoke(app, ["new", str(folder)]).exit_code == 0
    lying = folder / "drawer.csv"
    lying.write_text(f"{HEADER}A-47,47 µF,25,radial,electrolytic,9\nB-10,10 µF,50,radial,electrolytic,6\n", "utf-8")
    answer("drawer", str(folder), "--move", "A-47=-2", "--move", "B-10=-1", "--why", "lent")
    lying.write_text(f"{HEADER}A-47,47 µF,25,radial,electrolytic,7\nB-10,10 µF,50,radial,electrolytic,5\n", "utf-8")
    return folder


def lying(found: dict[str, Any]) -> dict[str, tuple[int, bool]]:
    return {part["part"]: (part["qty"], part["unsettled"]) for part in found["parts"]}


@pytest.mark.parametrize(
    ("words", "expected"),
    [
        # until it is settled the smaller counts: 7 - 2 and 5 - 1
        ("", {"A-47": (5, True), "B-10": (4, True)}),
        ("--counted A-47", {"A-47": (7, False), "B-10": (4, True)}),
        ("--corrected A-47", {"A-47": (5, False), "B-10": (4, True)}),
        ("--counted all", {"A-47": (7, False), "B-10": (5, False)}),
        ("--corrected all", {"A-47": (5, False), "B-10": (4, False)}),
        ("--counted A-47 --corrected B-10", {"A-47": (7, False), "B-10": (4, False)}),
    ],
)
def test_what_an_edited_file_means_is_settled_part_by_part(
    words: str, expected: dict[str, tuple[int, bool]], edited: Path
) -> None:
    assert lying(answer("drawer", str(edited), *words.split())) == expected


@pytest.mark.parametrize("words", ["--counted C-22", "--corrected A-47,B-10", "--move A-47"])
def test_what_the_drawer_does_not_know_settles_nothing(words: str, edited: Path) -> None:
    assert CliRunner().invoke(app, ["drawer", str(edited), *words.split()]).exit_code == 2
    assert lying(answer("drawer", str(edited))) == {"A-47": (5, True), "B-10": (4, True)}
