"""``recap margin``: two typed parts, a place and a part of a bench, a whole bench."""

from __future__ import annotations

import json
import shlex
from typing import TYPE_CHECKING, Any

import pytest
from typer.testing import CliRunner

from recap.cli import app

if TYPE_CHECKING:
    from pathlib import Path

RUNNER = CliRunner()
OLD = '"470uF 25V 85C radial electrolytic 10x16 p5"'
NEW = '"470uF 35V 105C radial electrolytic 10x16 p5 5000h 1200mA"'


def run(line: str, status: int = 0) -> str:
    result = RUNNER.invoke(app, ["margin", *shlex.split(line)], env={"COLUMNS": "80", "NO_COLOR": "1"})
    assert result.exit_code == status, result.output
    return result.stdout if status == 0 else result.output


def document(line: str) -> dict[str, Any]:
    found = json.loads(run(f"{line} --json"))
    assert isinstance(found, dict)
    return found


def verdicts(found: dict[str, Any]) -> dict[str, str]:
    return {rule["rule"]: rule["verdict"] for rule in found["rules"]}


def test_two_parts_as_in_a_list_line() -> None:
    found = document(f"{OLD} {NEW}")
    assert found["verdict"] == "fits"
    assert list(verdicts(found)) == [
        "kind", "capacitance", "voltage", "temperature", "life", "mount", "pitch", "size",
    ]  # fmt: skip


def test_the_options_stand_over_the_line() -> None:
    line = f"{OLD} {NEW} --operating 30V --ripple 1300mA --ambient 110C --role timing"
    found = verdicts(document(line))
    assert (found["voltage"], found["ripple"], found["ambient"]) == ("care", "care", "no")
    assert verdicts(document('"10uF 25V" "11uF 25V 105C" --role timing'))["capacitance"] == "no"
    assert verdicts(document('"10uF 25V" "11uF 25V 105C"'))["capacitance"] == "fits"
    # RAMSTK default stress limits: aluminium at most 0.70 of its rating; 25.5 of 35 V are 0.73
    assert verdicts(document(f"{OLD} {NEW} --operating 25.5V"))["voltage"] == "fits"
    assert verdicts(document(f"{OLD} {NEW} --operating 25.5V --profile long-life"))["voltage"] == "care"


def test_the_terminal_says_verdict_reasons_and_sources_without_colour_or_overflow() -> None:
    shown = run(f"{OLD} {NEW} --operating 20V --ambient 60C")
    assert shown.startswith("It fits.")
    assert "\x1b[" not in shown
    assert all(len(line) <= 80 for line in shown.splitlines())
    for word in ("rated voltage", "1.4×", "published", "common", "Life about", "hours by ten-degree: Cosel"):
        assert word in shown


def test_safety_parts_are_never_replaced_by_plain_ones_and_the_cautions_are_shown() -> None:
    shown = run('"0.1uF X2 275V" "0.1uF film 400V 105C"')
    assert shown.startswith("No:")
    assert "IEC 60384-14" in shown
    assert "Mains, charged capacitors and picture tubes kill" in " ".join(shown.split())


@pytest.mark.parametrize(
    "line",
    [
        OLD,
        f"{OLD} {NEW} --role heater",
        f"{OLD} {NEW} --profile hme",
        f"{OLD} {NEW} --operating loud",
        f"{OLD} {NEW} --plot picture.jpg",
        f"{OLD} {NEW} --model magic",
        '"1.000uF 25V" "1000uF 25V"',
        '"50+50uF 350V" "47uF 400V 105C"',
        '"nothing" "47uF 400V 105C"',
    ],
)
def test_wrong_usage(line: str) -> None:
    run(line, status=2)


def test_a_picture_is_not_overwritten_unasked(tmp_path: Path) -> None:
    target = tmp_path / "m.svg"
    run(f"{OLD} {NEW} --plot {target}")
    before = target.read_bytes()
    assert before.startswith(b"<?xml")
    run(f"{OLD} {NEW} --plot {target}", status=2)
    run(f'{OLD} "470uF 50V 105C" --plot {target} --force')
    assert target.read_bytes() != before


def test_the_picture_of_a_whole_order_names_every_part(bench: Path, tmp_path: Path) -> None:
    found = json.loads(run(f"--bench {bench} --json"))
    from recap.show import margin_plot

    drawn: list[str] = []
    kept = margin_plot._bars
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(margin_plot, "_bars", lambda axes, rows: (drawn.extend(r.label for r in rows), kept(axes, rows)))
        run(f"--bench {bench} --plot {tmp_path / 'all.png'}")
    assert (tmp_path / "all.png").read_bytes().startswith(b"\x89PNG")
    assert drawn == [f"{part['group']} ← {part['part']}" for part in reversed(found["parts"])]


@pytest.fixture
def bench(tmp_path: Path) -> Path:
    """A bench of one set, two shops and a drawer, all invented."""
    files = {
        "bench.toml": 'currency = "EUR"\nallow_care = true\n[rules]\ntemp_min = 105\n',
        "sets.csv": "set,chassis,boards,job,note\nS1,K7,,full,\n",
        "caplists/K7.csv": (
            "ref,value,volts,temp,mount,kind,pitch,diameter,height,board,role\n"
            "C1,47µF,25,85,radial,electrolytic,2.5,6.3,11,MAIN,\n"
            "C2,100µF,16,85,radial,electrolytic,2.5,6.3,11,MAIN,\n"
        ),
        "catalogs/suppliers.csv": (
            "supplier,currency,rate,shipping,minimum,handling,line_fee,duty,tax\nfernlight,EUR,1,0:3.00,0,0,0,0,0\n"
        ),
        "catalogs/fernlight.csv": (
            "part,maker,value,volts,temp,life,mount,kind,pitch,diameter,height,prices\n"
            "FL-47,Quillstone,47µF,35,105,5000,radial,electrolytic,2.5,6.3,11,1:0.20\n"
            "FL-100,Quillstone,100µF,35,105,2000,radial,electrolytic,2.5,6.3,11,1:0.30\n"
        ),
    }
    for name, text in files.items():
        path = tmp_path / name
        path.parent.mkdir(exist_ok=True)
        path.write_text(text, encoding="utf-8")
    return tmp_path


def test_a_place_and_a_part_of_a_bench(bench: Path) -> None:
    for place in ("S1:C1", "K7:C1", "s1:c-1"):
        assert document(f"--bench {bench} {place} FL-47")["verdict"] == "fits"
    assert document(f"--bench {bench} S1:C2 FL-47")["verdict"] == "no"
    assert document(f'--bench {bench} S1:C1 "47uF 63V 105C radial electrolytic 5000h 6.3x11 p2.5"')["verdict"] == "care"


def test_of_several_of_one_number_the_worst_counts(bench: Path) -> None:
    (bench / "drawer.csv").write_text(
        "part,value,volts,temp,life,mount,kind,pitch,diameter,height,qty,bought\n"
        "FL-47,47µF,35,105,5000,radial,electrolytic,2.5,6.3,11,3,2005-06-01\n",
        encoding="utf-8",
    )
    found = document(f"--bench {bench} S1:C1 FL-47")
    assert (found["verdict"], verdicts(found)["drawer"]) == ("care", "care")


def test_a_place_that_is_not_there(bench: Path) -> None:
    for place in ("S1:C9", "S9:C1", "C1"):
        run(f"--bench {bench} {place} FL-47", status=2)


def test_a_whole_bench_the_worst_first(bench: Path) -> None:
    found = document(f"--bench {bench}")
    assert [(one["part"], one["verdict"], one["places"]) for one in found["parts"]] == [
        ("FL-100", "care", ["S1:C2"]),  # 35 V is more than twice 16 V
        ("FL-47", "fits", ["S1:C1"]),
    ]
    assert found["unmet"] == []
    shown = run(f"--bench {bench}")
    assert shown.index("FL-100") < shown.index("FL-47")
    assert all(len(line) <= 80 for line in shown.splitlines())


def test_one_place_of_the_order(bench: Path) -> None:
    assert [one["part"] for one in document(f"--bench {bench} S1:C2")["parts"]] == ["FL-100"]
    run(f"--bench {bench} S1:C9", status=2)


def test_a_bench_with_errors_stops(bench: Path) -> None:
    (bench / "bench.toml").write_text("[rules]\ntemp_mn = 85\n", encoding="utf-8")
    run(f"--bench {bench}", status=1)
