"""The figures of single parts as they are printed: units, rounding, thousands. Own arithmetic beside each check."""

from __future__ import annotations

import json
import shlex
from decimal import Decimal

import pytest
from typer.testing import CliRunner

from recap.cli import app
from recap.match.margin import Gauge
from recap.model import Verdict
from recap.normalise.values import figures
from recap.show.bars import bar
from recap.show.documents import amount, number
from recap.show.margin_view import gauge_bar
from recap.show.terminal import counted, money, refs, total, unit_prices

RUNNER = CliRunner()


def printed(line: str) -> list[str]:
    """Return the lines that a command prints, words one space apart."""
    result = RUNNER.invoke(app, shlex.split(line), env={"COLUMNS": "250", "NO_COLOR": "1"})
    assert result.exit_code == 0, result.output
    return [" ".join(told.split()) for told in result.stdout.splitlines() if told.strip("─ ")]


@pytest.mark.parametrize(
    ("quantity", "count", "text"),
    [
        ("1326.29", 3, "1,330"),
        ("10000", 4, "10,000"),
        ("423000.49", 4, "423,000"),
        ("9999.6", 4, "10,000"),
        ("44.04", 3, "44"),
        ("0.034483", 3, "0.0345"),
        ("0.10", 3, "0.1"),
        ("0.0000012", 3, "0.0000012"),
        ("0", 3, "0"),
    ],
)
def test_figures_are_never_written_with_an_exponent(quantity: str, count: int, text: str) -> None:
    assert figures(Decimal(quantity), count) == text


def test_small_parts_have_an_esr_of_thousands_of_ohms() -> None:
    """tan d 0.10 / (2 pi x 120 Hz x 0.1 µF) = 1326 Ω (IEC 60384-1); 1.3 and 3 times that are 1724 and 3979 Ω."""
    told = printed("measure '0.1uF 50V' --esr 5000")
    assert "ESR, Ω 5,000 1,330 1,720 3,980 bad" in told
    assert any("(1,330 Ω from tan δ 0.10)" in line for line in told)
    high = printed("measure '0.1uF 50V' --esr 5000 --freq 1kHz")
    assert any("above even 3 × the 120 Hz limit of a new part (1,330 Ω)" in line for line in high)
    tired = printed("measure '0.1uF 50V' --esr 2000 --freq 1kHz")
    assert any("above even 1.3 × the 120 Hz limit of a new part (1,330 Ω)" in line for line in tired)


def test_large_cans_leak_milliamperes() -> None:
    """0.01 CV (KEMET ESL): 10,000 µF at 100 V may leak 10,000 µA, 22,000 µF 22,000 µA; charged with twice that."""
    told = printed("measure '10000uF 100V' --cap 9900 --leak 12000uA")
    assert "leakage, µA 12,000 10,000 10,000 10,000 bad" in told
    assert any("a good part leaks at most 10,000 µA after two minutes at 100 V" in line for line in told)
    steps = printed("shelf 22000uF 100V --bought 2020-06 --on 2026-06-01")
    assert steps[0] == "22000 µF 100 V: re-form (made or bought 2020-06)"
    assert steps[1].startswith("6.0 years in store, more than 2:")
    assert steps[2].startswith("1. Supply at 100 V, through 100 Ω in series, polarity right; limit the supply to 44 mA")
    assert steps[3].startswith("2. Leave it for 1 hour at full voltage; leakage must settle below 22,000 µA")
    assert steps[4].startswith("3. Discharge it through about 100 Ω")  # one ohm for each volt: EIA-815
    assert steps[5].startswith("4. Let it rest 12 to 48 hours")


def test_above_a_hundred_volts_a_part_is_formed_through_a_thousand_ohms() -> None:
    """EIA-815; at least 5 mA: KEMET PEH169."""
    told = printed("shelf 47uF 450V --bought 2020-06 --on 2026-06-01")
    assert told[2].startswith("1. Supply at 450 V, through 1000 Ω in series, polarity right; limit the supply to 5 mA")
    assert told[4].startswith("3. Discharge it through about 450 Ω")


def test_a_discharge_is_told_with_time_energy_and_power() -> None:
    """0.44 s x ln(400/60) = 0.835 s; half of 220 µF x 400² V² = 17.6 J, of 60² V² 0.396 J; 400²/2000 = 80 W, twice 160.

    After each 0.44 s there is 1/e left: 147.2 V, 54.1 V, 19.9 V.
    """
    told = printed("discharge 220uF 400V --resistor 2k")
    assert told[:4] == [
        "220 µF at 400 V through 2 kΩ: 835 ms down to 60 V.",
        "- stored energy 17.6 J; 0.396 J left at the end",
        "- first moment: 0.2 A and 80 W in the resistor",
        "- left there as a bleeder it takes 80 W: choose 160 W or more, rated above 400 V",
    ]
    falling = [line.split(" █")[0] for line in told[5:11]]
    assert falling == ["0 ms 400.0", "440 ms 147.2", "880 ms 54.1", "1.32 s 19.9", "1.76 s 7.3 ▍", "2.2 s 2.7 ▏"]


@pytest.mark.parametrize(
    ("line", "first"),
    [
        # 10 µF x 1 MΩ x ln(400/60) = 18.97 s; 100 µF x 1 MΩ: 189.7 s, 3.16 min; 1000 µF x 100 Ω x ln(63/60) = 4.88 ms
        ("discharge 10uF 400V --resistor 1M", "10 µF at 400 V through 1 MΩ: 19 s down to 60 V."),
        ("discharge 100uF 400V --resistor 1M", "100 µF at 400 V through 1 MΩ: 3.16 min down to 60 V."),
        ("discharge 1000uF 63V --resistor 100", "1000 µF at 63 V through 100 Ω: 4.88 ms down to 60 V."),
        ("discharge 220uF 400V", "220 µF at 400 V through 400 Ω: 167 ms down to 60 V."),  # one ohm for each volt
    ],
)
def test_times_and_resistances_have_the_unit_that_suits_them(line: str, first: str) -> None:
    assert printed(line)[0] == first


def test_life_in_hours_and_years_and_no_more_years_than_makers_stand_for() -> None:
    """2,000 h x 2^5.5 = 90,510 h: 10.3 years of 8,760 h day and night; at 8 hours a day 31, of which 15 are told."""
    assert printed("life 2000h 105C --ambient 50C")[0] == "90,510 hours: 10.3 years day and night."
    lazy = printed("life 2000h 105C --ambient 50C --hours-per-day 8")[0]
    assert lazy == "90,510 hours: 15 years, the most that makers stand for, at 8 hours a day."
    busy = printed("life 2000h 105C --ambient 50C --hours-per-day 20")[0]
    assert busy == "90,510 hours: 12.4 years at 20 hours a day."


def test_every_model_s_hours_stand_there_and_no_more_than_fifteen_years_of_them() -> None:
    """5,000 h at 105 °C would be 452,548 h at 40 °C: makers stand for 131,400 h, 15 years of 8,760."""
    told = printed("life 5000h 105C --ambient 40C")
    assert told[0] == "131,400 hours (capped): 15 years, the most that makers stand for, day and night."
    at = told.index("model takes account of hours of 15 years")
    assert told[at + 1].startswith("> ten-degree ten-degree law: temperature alone 131,400+ ")
    assert any(line.startswith("Cap, ") for line in told)
    asked = '"470uF 25V 105C 2000h 500mA" --ambient 65 --operating 18.75V --ripple 250mA --model three-factor'
    three = printed(f"life {asked}")
    marked = [line for line in three if line.startswith("> ")]
    assert len(marked) == 1
    assert marked[0].startswith("> three-factor")
    assert "85,189" in marked[0]  # own arithmetic on Albertsen's formula
    # 85,189 of 131,400 h are 0.65 of sixteen letters, 10.4
    assert marked[0].count("█") == 10
    assert not any(line.startswith("Cap, ") for line in three)


def test_life_over_a_mixed_duty_is_told_with_the_steady_warmth_that_wears_alike() -> None:
    """24 / (8/64,000 + 16/256,000) = 128,000 h, which is the life at 35 °C; the mean is (8 x 45 + 16 x 25) / 24 °C."""
    told = printed("life 1000h@105C --duty 8h@45C --duty 16h@25C")
    assert told[0] == "128,000 hours: 14.6 years day and night."
    assert told[2:5] == [
        "8 45 64,000",
        "16 25 256,000",
        "It wears like a steady 35.0 °C; the mean is 31.7 °C.",
    ]


def test_stress_is_a_share_of_the_rating_and_each_other_rating_a_multiple_of_now() -> None:
    """20 V of 25 is 0.80, of 35 V 0.57, of 50 V 0.40; what is now is 1.00 in both editions."""
    told = printed("stress 470uF 25V --operating 20")
    assert told[0] == "Stress 0.80 of the rated voltage at 40 °C:"
    at = told.index("rated voltage stress × now, base edition × now, Notice 2 Notice 2")
    assert told[at + 1].startswith("> 25 V 0.80 1.00 1.00 █")
    assert [line.split()[:3] for line in told[at + 2 : at + 4]] == [["35", "V", "0.57"], ["50", "V", "0.40"]]
    beyond = printed("stress 470uF 50V --operating 55V")
    assert "Beyond the rating: not permitted but as a surge of up to 57.5 V, 30 s at most." in beyond
    assert not any("Beyond" in line for line in told)


def test_a_margin_is_told_as_old_new_and_how_many_times() -> None:
    """680 of 470 µF is 1.45 times, 35 of 25 V 1.4; 20 V that it works at are 0.57 of 35 V."""
    told = printed("margin '470uF 25V 85C radial 10x16 p5' '680uF 35V 105C radial 10x20 p5 5000h' --operating 20V")
    assert told[0] == "No: it must not stand in."
    gauges = {}
    for line in told[2:10]:
        words = line.split()
        bar_at = next(at for at, word in enumerate(words) if set(word) & set("█▏▎▍▌▋▊▉·|»"))
        gauges[" ".join(words[:bar_at])] = words[-1]
    assert gauges == {
        "capacitance 470 µF 680 µF": "1.45×",
        "rated voltage 25 V 35 V": "1.4×",
        "working voltage 35 V 20 V": "0.57×",
        "temperature 105 °C 105 °C": "1×",
        "life 2000 h 5000 h": "2.5×",
        "pitch 5 mm 5 mm": "1×",
        "diameter 10 mm 10 mm": "1×",
        "height 16 mm 20 mm": "1.25×",
    }
    rules = [line for line in told if line.startswith(("size no", "capacitance with care", "voltage fits"))]
    assert rules == [
        "size no height 20 mm for 16 mm: 4 mm more than there was",
        "capacitance with care 680 µF is 145 % of the old 470 µF: see that nothing is timed by it",
        "voltage fits 35 V is 140 % of the old rating of 25 V; works at 20 V, 57 % of its 35 V, at most 80 % wanted",
    ]


def test_a_gauge_goes_to_twice_what_was_asked_and_marks_what_fits() -> None:
    """Half of the bar is once; the marks stand at least and most; beyond twice there is an arrow."""

    def drawn(asked: str, has: str, low: str | None, high: str | None) -> str:
        least, most = (each and Decimal(each) for each in (low, high))
        told = Gauge("voltage", "rated voltage", Verdict.FITS, Decimal(asked), Decimal(has), "V", least, most)
        return gauge_bar(told, 8)

    assert drawn("10", "10", "1", "2") == "████|··|"
    assert drawn("10", "5", "1", None) == "██··|···"
    assert drawn("10", "20", "1", "1.5") == "████|█|█"
    assert drawn("10", "20.1", None, None) == "███████»"
    assert drawn("10", "0", "0", "3") == "|·······"


def test_life_in_a_margin_is_told_at_the_warmth_it_was_reckoned_for() -> None:
    """5,000 h at 105 °C are 113,137 h at 60 °C: 12.9 years; day and night unless fewer hours are told."""
    line = "margin '470uF 25V 85C radial' '470uF 35V 105C radial 5000h'"
    told = printed(f"{line} --ambient 60C")
    assert "Life about 113,137 h at 60 °C, 12.9 years day and night, by the model ten-degree." in told
    lazy = printed(f"{line} --ambient 60C --hours-per-day 22")
    assert "Life about 113,137 h at 60 °C, 14.1 years 22 hours a day, by the model ten-degree." in lazy
    assumed = [each for each in printed(line) if each.startswith("Life about")]
    assert "at 45 °C (assumed; --ambient sets it), 15.0 years day and night" in assumed[0]


def test_failure_rates_are_told_by_edition_and_never_mixed() -> None:
    """MIL-HDBK-217F 10.15 and Notice 2, 10.1, own arithmetic: 0.5416 and 0.02366 in a million hours at half rating."""
    line = "stress 1000uF 25V --operating 12.5V --ambient 50C"
    told = printed(line)
    assert told[0] == "Stress 0.50 of the rated voltage at 50 °C:"
    assert "- base edition: 0.5416 failures in a million hours" in told
    assert "- Notice 2: 0.02366 failures in a million hours" in told
    at = told.index("rated voltage stress × now, base edition × now, Notice 2 Notice 2")
    assert told[at + 1].split()[-1] == "█" * 16  # 16 V, the highest of the table
    assert told[at + 2].startswith("> 25 V 0.50 1.00 1.00 ")
    assert told[at + 2].split()[-1] != "█" * 16
    table = json.loads(RUNNER.invoke(app, shlex.split(f"{line} --json")).stdout)["tables"][0]["rows"]
    here = next(row for row in table if row["at"] == "25 V")
    assert here["stress"] == 0.5
    assert here["base_edition"] == pytest.approx(0.54164, rel=1e-4)
    assert here["notice_2"] == pytest.approx(0.023662, rel=1e-3)


# --- how figures are written everywhere ----------------------------------------------------------


@pytest.mark.parametrize(
    ("value", "as_money", "as_total"),
    [
        ("0", "0.00", "0.00"),
        ("12", "12.00", "12.00"),
        ("1234.5", "1,234.50", "1,234.50"),
        ("1.23456", "1.23", "1.23"),
        ("0.31", "0.31", "0.31"),
        ("0.3125", "0.3125", "0.31"),
        ("0.00123456", "0.001235", "0.001235"),  # what would read as nothing keeps its figures
        ("-0.3125", "-0.3125", "-0.31"),
    ],
)
def test_prices_keep_their_figures_and_sums_have_two_places(value: str, as_money: str, as_total: str) -> None:
    assert money(Decimal(value), "EUR") == f"{as_money} EUR"
    assert total(Decimal(value), "EUR") == f"{as_total} EUR"
    assert money(Decimal(value)) == as_money


@pytest.mark.parametrize(
    ("prices", "told"),
    [
        ("0.42 0.3125", ["0.4200", "0.3125"]),
        ("0.42 1", ["0.42", "1.00"]),
        ("0.425 1200", ["0.425", "1,200.000"]),
        ("0.00001 2", ["0.0000", "2.0000"]),
        ("100", ["100.00"]),
        ("", []),
    ],
)
def test_unit_prices_of_a_parcel_have_as_many_places_as_the_finest(prices: str, told: list[str]) -> None:
    assert unit_prices([Decimal(price) for price in prices.split()]) == told


@pytest.mark.parametrize(
    ("value", "told"),
    [("0", "0.00"), ("5", "5.00"), ("1E+2", "100.00"), ("0.3125", "0.3125"), ("0.10", "0.10"), ("7.50000", "7.50")],
)
def test_money_in_documents_is_exact_with_two_places_at_least(value: str, told: str) -> None:
    assert amount(Decimal(value)) == told


def test_numbers_in_documents_are_whole_where_they_are() -> None:
    told = [number(quantity and Decimal(quantity)) for quantity in ("47", "47.0", "4.7", "1E+3", None)]
    assert told == [47, 47, 4.7, 1000, None]
    assert [type(each) for each in told[:3]] == [int, int, float]


def test_counts_are_singular_for_one_alone() -> None:
    told = [counted(n, "piece") for n in (0, 1, 2)] + [counted(1, "of them", "of them"), counted(3, "box", "boxes")]
    assert told == ["0 pieces", "1 piece", "2 pieces", "1 of them", "3 boxes"]


def test_long_lists_of_designators_are_shortened_and_counted() -> None:
    names = [f"C{n}" for n in range(1, 15)]
    assert refs(names[:12]) == ", ".join(names[:12])
    assert refs(names[:13]) == f"{', '.join(names[:12])} … (13 in all)"
    assert refs(names, 2) == "C1, C2 … (14 in all)"


@pytest.mark.parametrize(
    ("share", "drawn"), [(0.0, ""), (-1.0, ""), (0.5, "████"), (0.55, "████▍"), (1.0, "████████"), (9.0, "████████")]
)
def test_a_bar_is_as_long_as_its_share_and_never_longer_than_the_whole(share: float, drawn: str) -> None:
    assert bar(share, 8) == drawn


def test_what_stands_in_for_an_old_value_is_told_section_by_section() -> None:
    """20 µF went, 22 µF of E6 (IEC 60063) took its place: a tenth more."""
    told = printed("combine 20+20+20uF 450V")
    assert told[0] == "sections a, b, c: 3 × 20 µF 450 V -> 22 µF 450 V or more"
    assert "+10 %" in told[1]
    assert printed("combine 500uF 50V")[0] == "500 µF 50 V -> 470 µF 50 V or more"
    assert printed("combine 500uF")[0] == "500 µF -> 470 µF"
    assert printed("combine 40+20uF 450V")[0:3:2] == [
        "section a: 1 × 40 µF 450 V -> 47 µF 450 V or more",
        "section b: 1 × 20 µF 450 V -> 22 µF 450 V or more",
    ]


def test_joined_parts_are_told_with_their_sum_and_the_resistors_across_them() -> None:
    """470 + 33 are 503 µF; two of 220 µF in series 110; at ±20 % one of them takes 480 x 1.2 / 2.0 = 288 V."""
    beside = printed("combine 500uF 50V --join")
    assert any(line.startswith("* parallel, 2 pieces: 470 µF + 33 µF = 503 µF;") for line in beside)
    told = printed("combine 100uF 550V --operating 480V")
    assert "Joined parts, with care:" in told
    series = next(line for line in told if line.startswith("* series, 2 pieces: 2 × 220 µF 350 V in series = 110 µF;"))
    assert "at 480 V a ±20 % spread puts at most 288 V on one piece" in series
    assert any(line.startswith("- 2 resistors of 120 kΩ, 2 W, 350 V or more") for line in told)


def test_a_safety_part_is_told_with_its_caution_and_nothing_joined() -> None:
    told = printed("combine 0.1uF 275V X2 --join")
    assert any("IEC 60384-14" in line for line in told)
    assert "Joined parts, with care:" not in told


@pytest.mark.parametrize(
    ("bought", "years"), [("2024-01-31", "1.0"), ("2024-01-01", "1.1"), ("2024-01", "1.1"), ("2023", "2.1")]
)
def test_years_in_store_are_counted_from_the_day_or_from_the_first_that_it_can_have_been(
    bought: str, years: str
) -> None:
    """Up to the last of January 2025: 366 days, 396, and from the first of January 2023 761."""
    told = printed(f"shelf 47uF 450V --bought {bought} --on 2025-01-31")
    assert told[1].startswith(f"{years} years in store")


@pytest.mark.parametrize(
    ("code", "dated", "years"),
    [
        ("8523", "date code 8523: 1985 week 23", "39.7"),
        # 1985 has 52 weeks by ISO 8601; makers stamp a 53rd all the same
        ("8553", "date code 8553: 1985 week 53", "39.1"),
        ("2004", "date code 2004: 2004 week 20 or 2020 week 04 or 2020-04; the oldest counts", "20.7"),
    ],
)
def test_old_stock_is_dated_by_its_code_and_the_oldest_reading_counts(code: str, dated: str, years: str) -> None:
    told = printed(f"shelf 47uF 450V --date-code {code} --on 2025-01-31")
    assert told[1].startswith(f"{years} years in store")
    assert told[0] == f"47 µF 450 V: replace ({dated})"
