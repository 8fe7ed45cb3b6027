"""The commands that judge single parts: what they print, their JSON, their exit statuses, their own examples."""

from __future__ import annotations

import json
import re
import shlex
from pathlib import Path
from typing import Any

import pytest
from typer.testing import CliRunner

from recap.cli import app
from recap.match.condition import Condition

RUNNER = CliRunner()
ROOT = Path(__file__).parents[2]
DEMO = shlex.quote(str(ROOT / "demo"))
"""As it is typed: a checkout may lie in a folder with a blank in its name."""
COMMANDS = ("life", "stress", "combine", "measure", "discharge", "shelf")


def run(line: str, status: int = 0, columns: int = 80) -> str:
    result = RUNNER.invoke(app, shlex.split(line), env={"COLUMNS": str(columns), "NO_COLOR": "1"})
    assert result.exit_code == status, result.output
    return result.stdout


def document(line: str) -> dict[str, Any]:
    found = json.loads(run(f"{line} --json"))
    assert isinstance(found, dict)
    return found


@pytest.mark.parametrize("name", COMMANDS)
def test_every_help_has_an_example_that_runs(name: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(ROOT)
    help_text = " ".join(run(f"{name} --help").split())
    examples = re.findall(rf"Example: (recap {name} .*?)(?= Example:| ╭)", help_text)
    assert examples
    for example in examples:
        run(example.removeprefix("recap "))


def test_life_prints_hours_model_inputs_and_source() -> None:
    # Cosel FAQ a0057: 1,000 h at 105 °C is 64,000 h at 45 °C
    found = document("life 1000h 105C --ambient 45C")
    assert found["hours"] == 64_000
    assert found["model"] == "ten-degree"
    assert found["inputs"]["rated_temp_C"] == 105
    assert "Cosel" in found["source"]


def test_life_takes_a_part_as_a_list_writes_it() -> None:
    found = document(
        'life "470uF 25V 105C 2000h 500mA" --ambient 65 --operating 18.75V --ripple 250mA --model three-factor'
    )
    assert found["hours"] == pytest.approx(85_189, abs=1)  # own arithmetic on Albertsen's formula
    assert {m["model"] for m in found["models"]} == {"ten-degree", "core-rise", "three-factor", "core-voltage"}


def test_life_over_mixed_duty() -> None:
    # Cosel FAQ a0057
    found = document("life 1000h@105C --duty 8h@45C --duty 8h@55C --duty 8h@65C")
    assert found["equivalent_ambient_C"] == pytest.approx(57.2, abs=0.05)


def test_life_says_when_it_is_capped() -> None:
    assert "capped" in run("life 5000h 105C --ambient 40C")
    found = document("life 5000h 105C --ambient 40C")
    assert (found["hours"], found["capped"]) == (131_400, True)


@pytest.mark.parametrize(
    "line",
    [
        "life 1000h 105C",
        "life 1000h 105C --ambient warm",
        "life 1000h --ambient 45",
        "life 1000h 105C --ambient 45 --model hopeful",
        "life 1000h 105C --ambient 45 --ripple 300mA",
        "life 1000h 105C --ambient 45 --duty 8h@45C",
        "measure 470uF 25V",
        "measure 470uF --cap 400",
        "measure 1.000uF 25V --cap 400",
        "measure 470uF 25V film --cap 400",
        "measure 470uF 25V --esr much",
        "measure 470uF 25V --new --esr 0.3",
        "measure 470uF 25V --new --freq 100kHz",
        "life 2000h 105C film --ambient 45",
        "stress 470uF 25V --operating 20 --quality gold",
        "stress 470uF 25V",
        "stress 470nF 50V film --operating 20",
        f"stress glim-1:C999 --bench {DEMO} --operating 20",
        f"stress glim-1:C901 --bench {DEMO} --operating 230",
        f"stress moss-1:C1 --bench {DEMO} --operating 300",
        "combine 50V",
        "combine 50uF --role humming",
        "discharge 220uF 400V --resistor heavy",
        "discharge 220uF 400V --resistor 2k --within 5s",
        "discharge 220uF 400V --resistor 0",
        "shelf",
        "shelf 47uF 450V --date-code ??",
        "shelf 47uF 450V --bought tomorrow",
        "shelf 47uF 450V --bought 2030 --on 2025-01-01",
    ],
)
def test_what_cannot_be_read_is_wrong_usage(line: str) -> None:
    run(line, status=2)


def test_measure_judges_each_quantity_and_the_part() -> None:
    found = document("measure 470uF 25V --cap 410 --esr 0.35")
    assert found["condition"] == "good"
    assert [q["quantity"] for q in found["quantities"]] == ["capacitance", "ESR"]
    assert all(q["source"] for q in found["quantities"])
    assert "Bad: replace it" in run("measure 470uF 25V --cap 150 --esr 3")
    assert "re-form" in run("measure 470uF 25V --cap 470 --leak 900uA")


def test_what_a_new_part_of_a_rating_shows_at_most() -> None:
    # ESR = tan d / (2 pi f C), own arithmetic; tan d 0.16 at 16 V: radial series SU, dtsheet.com 1530872.
    # Leakage 0.01 CV: KEMET ESL. Snap-in 400 V: tan d 0.13 at 100 Hz, EPCOS B41505.
    found = document("measure 1000uF 16V --new --freq 100Hz")
    assert found["new"] == {"tan_delta": 0.16, "esr_ohm": pytest.approx(0.25465, rel=1e-4), "leakage_uA": 160}
    can = document("measure 220uF 400V snap-in --new --freq 100Hz")
    assert (can["size_class"], can["new"]["tan_delta"]) == ("snap-in", 0.13)
    assert "ESR 0.255 Ω at 100 Hz" in run("measure 1000uF 16V --new --freq 100Hz")


def test_esr_and_loss_factor_are_told_from_one_another() -> None:
    # tan d = 2 pi f C ESR (IEC 60384-1): 2 pi · 120 · 410e-6 · 0.35 = 0.1082, and back.
    assert "0.35 Ω at 120 Hz is a tan δ of 0.108" in run("measure 470uF 25V --cap 410 --esr 0.35")
    assert "tan δ 0.108 at 120 Hz is an ESR of 0.349 Ω" in run("measure 470uF 25V --cap 410 --tan 0.108")


def test_measured_words_stand_in_the_answer_without_colour() -> None:
    for condition, line in (
        (Condition.TIRED, "measure 470uF 25V --esr 0.8"),
        (Condition.UNDECIDED, "measure 470uF 25V --esr 0.1 --freq 100kHz"),
    ):
        assert condition.value in run(line).lower()


def test_a_long_line_goes_on_where_it_began() -> None:
    shown = run("combine 20+20+20uF 450V", columns=60).splitlines()
    at = next(n for n, line in enumerate(shown) if line.startswith("- Leave air"))
    assert shown[at + 1].startswith("  ")
    assert max(map(len, shown)) <= 60


def test_stress_keeps_the_editions_apart() -> None:
    # MIL-HDBK-217F 10.15 and Notice 2, 10.1; the numbers are own arithmetic
    found = document("stress 1000uF 25V --operating 12.5V --ambient 50C")
    assert {r["edition"]: r["per_million_hours"] for r in found["rates"]} == {
        "base edition": pytest.approx(0.54164, rel=1e-4),
        "Notice 2": pytest.approx(0.023662, rel=1e-3),
    }
    by_rating = found["tables"][0]["rows"]
    assert [row["notice_2"] for row in by_rating] == sorted((row["notice_2"] for row in by_rating), reverse=True)


def test_stress_takes_a_position_of_a_bench_at_the_voltage_of_its_list() -> None:
    place = f"stress glim-1:C911 --bench {DEMO}"
    listed, told = document(place), document(f"{place} --operating 80V")
    assert listed["inputs"] == {**document("stress 100uF 160V --operating 125V")["inputs"]}
    assert (told["inputs"]["operating_V"], told["inputs"]["stress"]) == (80, 0.5)


def test_beyond_the_rating_the_surge_voltage_is_named() -> None:
    # 1.15 x the rating: EPCOS B41505/B43505, Vishay 28309
    assert document("stress 470uF 50V --operating 55V")["inputs"]["surge_V"] == 57.5
    assert "57.5 V" in run("stress 470uF 50V --operating 55V")
    assert "57.5 V" not in run("stress 470uF 50V --operating 50V")


def test_a_can_is_told_section_by_section() -> None:
    found = document("combine 20+20+20uF 450V")
    assert found["pieces"] == 3
    assert {s["fit_uF"] for s in found["sections"]} == {22}
    assert found["joined"] == []


def test_joined_parts_are_with_care_and_only_where_nothing_single_goes() -> None:
    assert document("combine 500uF 50V")["joined"] == []
    assert {c["verdict"] for c in document("combine 500uF 50V --join")["joined"]} == {"care"}
    series = document("combine 100uF 550V --operating 480V")["joined"][0]
    assert series["joining"] == "series"
    assert series["balancing"]["ohm"] == 120_000


@pytest.mark.parametrize("line", ["combine 0.1uF 275V X2 --join", "combine 10nF 1600V film --role deflection --join"])
def test_safety_and_deflection_parts_get_a_caution_and_no_substitute(line: str) -> None:
    found = document(line)
    assert found["joined"] == []
    assert found["cautions"]
    assert found["sections"][0]["deviation_percent"] == 0


def test_a_bench_says_what_goes_singly_and_what_can_be_joined_of_its_parts() -> None:
    single = document(f"combine 500uF 50V --bench {DEMO}")
    assert single["single"]
    assert single["joined"] == []
    joined = document(f"combine 100uF 550V --bench {DEMO}")
    assert joined["single"] == []
    first = joined["joined"][0]
    assert first["pieces"][0]["supplier"]
    assert (re.fullmatch(r"[A-Z]{3}", first["currency"]) is None) == (first["cost"] is None)
    assert re.search(r"[0-9.]+ [A-Z]{3} for one place", run(f"combine 100uF 550V --bench {DEMO}"))


def test_a_drawer_is_judged_piece_by_piece_the_oldest_first() -> None:
    found = document(f"shelf --bench {DEMO} --on 2026-11-25")["parts"]
    assert [p["years"] for p in found] == sorted((p["years"] for p in found), reverse=True)
    assert found[0]["verdict"] == "replace"
    assert found[-1]["verdict"] == "usable"


def test_discharge_tells_time_power_and_cautions() -> None:
    # 0.44 s · ln(400/60) = 0.835 s (own arithmetic)
    found = document("discharge 220uF 400V --resistor 2k")
    assert found["seconds"] == pytest.approx(0.835, abs=0.0005)
    assert found["peak_W"] == 80
    assert found["cautions"]
    assert found["resistor_rating_W"] == 160
    assert [(one["for"], one["source_kind"]) for one in found["sources"]] == [
        ("safe_V", "from memory"),
        ("resistor_rating_W", "common practice"),
    ]
    assert document("discharge 220uF 400V --within 5s")["seconds"] == pytest.approx(5)
    assert document("discharge 220uF 400V")["resistor_ohm"] == 400  # EIA-815: one ohm for each volt


@pytest.mark.parametrize(
    ("text", "ohm"), [("2k", 2000), ("2k2", 2200), ("470", 470), ("4R7", 4.7), ("1M", 10**6), ("1,5 kΩ", 1500)]
)
def test_resistors_are_read_as_they_are_marked(text: str, ohm: float) -> None:
    # letter as decimal mark: IEC 60062
    assert document(f'discharge 220uF 400V --resistor "{text}"')["resistor_ohm"] == ohm


def test_shelf_counts_years_from_a_date_or_a_code() -> None:
    part = "47uF 450V --on 2025-06-01"
    assert document(f"shelf {part} --bought 2024-06")["parts"][0]["verdict"] == "usable"
    old = document(f"shelf {part} --bought 2020-06-01")["parts"][0]
    assert (old["verdict"], old["reforming"]["resistor_ohm"]) == ("re-form", 1000)  # EIA-815
    coded = document(f"shelf {part} --date-code 1208")["parts"][0]
    assert "2012" in coded["dated"]  # year 2012, week 8: IEC 60062
    assert "the oldest counts" in coded["dated"]  # week 12 of 2008 is possible too
    assert coded["years"] == pytest.approx(17.2)
    assert document(f"shelf {part}")["parts"][0]["verdict"] == "unknown"
