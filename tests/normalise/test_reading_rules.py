"""The reading rules, one line of a list and what a careful reader takes from it (common practice of the trade)."""

from __future__ import annotations

import pytest

from tests.normalise.facts import codes, facts


@pytest.mark.parametrize(
    ("line", "expected"),
    [
        ("C12 - 10uF 50V (radial, bipolar)", ["C12 10 µF 50 V radial bipolar"]),
        ("C401/402 100/16", ["C401 100 µF 16 V", "C402 100 µF 16 V"]),
        ("2x 47uF 25V", ["- x2 47 µF 25 V"]),
        ("3 x 1000µF / 35V 105° 12.5x20", ["- x3 1000 µF 35 V 105 °C D12.5 H20"]),
        ("10uF 16V: C3, C7, C9-C11", [f"C{n} 10 µF 16 V" for n in (3, 7, 9, 10, 11)]),
        ("C5..C8 4u7 63V", [f"C{n} 4.7 µF 63 V" for n in (5, 6, 7, 8)]),
        ("C104–107 100n", [f"C{n} 0.1 µF" for n in (104, 105, 106, 107)]),
        ("C59 - C61 1/50", [f"C{n} 1 µF 50 V" for n in (59, 60, 61)]),
        ("C10A-C 22µ 16V", [f"C10{s} 22 µF 16 V" for s in "ABC"]),
        ("c10* 2,2 µF 50 V", ["C10 2.2 µF 50 V"]),
        ("C-10 2,2 µF 50 V", ["C10 2.2 µF 50 V"]),
        ("C 010 2,2 µF 50 V", ["C010 2.2 µF 50 V"]),
        ("C12, 47, 25V", ["C12 47 µF 25 V ?unit-missing"]),
        ("C7 8 MFD 450 WVDC axial", ["C7 8 µF 450 V axial"]),
        ("C27 200 mmf.", ["C27 200 pF"]),
        ("C21 10,000uF 25V", ["C21 10000 µF 25 V"]),
        ("C13 1000u6V3", ["C13 1000 µF 6.3 V"]),
        ("C4 100uF/25V/105", ["C4 100 µF 25 V 105 °C"]),
        ("C1 47uF25V", ["C1 47 µF 25 V"]),
        ("C122 470uF,25V,105C,10x12.5,5mm pitch", ["C122 470 µF 25 V 105 °C D10 H12.5 P5"]),
        ('C124 10uF 450V 0.5" x 1.25" axial', ["C124 10 µF 450 V axial D12.7 H31.75"]),
        ("C127 10uF 25V 200 mil", ["C127 10 µF 25 V P5.08"]),
        ("C37 22uF 16 VDC, 85 °C, Ø 5 × 11 mm, RM 2 mm", ["C37 22 µF 16 V 85 °C D5 H11 P2"]),
        ("C1 10u 25V CP_Radial_D8.0mm_P3.50mm", ["C1 10 µF 25 V radial D8 P3.5"]),
        ("C20 0,1uF X2 275V~", ["C20 0.1 µF 275 V safety X2"]),
        ("C5 bis C6 Elko 100µF/16V 105°C stehend", [f"C{n} 100 µF 16 V 105 °C radial electrolytic" for n in (5, 6)]),
        ("C13 condensateur chimique 10 µF 63 V", ["C13 10 µF 63 V electrolytic"]),
        ("C13 en C14 1µF 63V ongepolariseerd", [f"C{n} 1 µF 63 V bipolar" for n in (13, 14)]),
        ("C21, C22 = 2 x 22uF 16V", ["C21 22 µF 16 V", "C22 22 µF 16 V"]),
    ],
)
def test_a_line_means(line: str, expected: list[str]) -> None:
    assert facts(line) == expected


@pytest.mark.parametrize(
    ("line", "expected"),
    [
        ("C11 100uF 25/50 V", "C11 100 µF ?alternatives"),
        ("C16 1.000uF 10V", "C16 ? 10 V ?thousands-or-decimal"),
        ("C10 10uF, 10V or 16V?", "C10 10 µF ?alternatives"),
        ("C409 - 47-100uF 25V", "C409 ? 25 V ?alternatives"),
        ("C17 10uF 16V electrolytic or tantalum", "C17 10 µF 16 V ?kind-conflict"),
        ("C9 10uF 22uF 16V", "C9 ? 16 V ?value-conflict"),
        ("C30 ??? 16V", "C30 ? 16 V ?marked-uncertain ?value-missing"),
        ("C28 100m 16V", "C28 ? 16 V ?milli-or-micro"),
        ("C9 25V radial", "C9 ? 25 V radial ?value-missing"),
    ],
)
def test_what_cannot_be_decided_is_empty_and_doubted(line: str, expected: str) -> None:
    assert facts(line) == [expected]


@pytest.mark.parametrize(
    ("line", "expected"),
    [
        ("C77 l00uF 2SV", "C77 100 µF 25 V ?ocr-digit"),
        ("C77 lOOuF 25V", "C77 100 µF 25 V ?ocr-digit"),
        ("C77 47OuF 1 0V", "C77 470 µF 10 V ?ocr-digit"),
        ("Cl03 22uF 16V", "C103 22 µF 16 V ?ref-misread"),
        ("C106 2.2yF 50V", "C106 2.2 µF 50 V ?unit-misread"),
        ("C26 178.3nF", "C26 0.1783 µF ?looks-measured"),
        ("C27 46uF 16V", "C27 46 µF 16 V ?no-preferred-value"),
        ("C3 Elko 47nF 25V", "C3 47 nF 25 V electrolytic ?kind-unlikely"),
        ("C3 3x 47uF 25V", "C3 47 µF 25 V ?count-mismatch"),
        ("C315 330uF 25V QQW1V331M", "C315 330 µF 25 V ?part-number-contradicts"),
        ("C40 100-16V", "C40 100 µF 16 V ?unit-missing"),
    ],
)
def test_where_one_reading_is_first_it_is_taken_and_doubted(line: str, expected: str) -> None:
    assert facts(line) == [expected]


def test_a_can_is_one_position_for_each_section() -> None:
    assert facts("C1 50+50µF 350V") == ["C1a 50 µF 350 V ?can-sections", "C1b 50 µF 350 V ?can-sections"]
    assert facts("C5 20/20/20 mfd 450/450/25 V")[2] == "C5c 20 µF 25 V ?can-sections"
    assert facts("C901A/B 32+16 µF 350V") == ["C901A 32 µF 350 V ?can-sections", "C901B 16 µF 350 V ?can-sections"]
    assert facts("C8 2x50µF 350V")[1] == "C8b 50 µF 350 V ?can-sections"


@pytest.mark.parametrize(
    "line",
    [
        "C4 1000uF 16V -> 2200uF 16V", "C4 1000uF 16V (replace with 2200uF 16V)",
        "Replace C4 (1000uF 16V) with 2200uF 25V",
        "C4 use 2200uF 25V instead of 1000uF 16V", "C4 1000µF 16V ersetzen durch 2200µF 25V",
        "C4 2200uF 25V (originally 1000uF 16V)", "C4 1000uF 16V, upgrade to 25V",
    ],
)  # fmt: skip
def test_the_part_in_the_set_counts_and_the_suggestion_is_a_note(line: str) -> None:
    assert facts(line) == ["C4 1000 µF 16 V"]


def test_headings_hold_until_the_next_of_their_rank_and_the_line_overrides() -> None:
    text = """All caps radial 105°C

    POWER BOARD
    Axial:
    C1 100uF 25V
    C2 100uF 25V radial
    AUDIO BOARD (bipolar)
    C3 1uF 50V
    """
    assert facts(text) == [
        "C1 100 µF 25 V 105 °C axial @ POWER BOARD",
        "C2 100 µF 25 V 105 °C radial @ POWER BOARD",
        "C3 1 µF 50 V 105 °C radial bipolar @ AUDIO BOARD",
    ]


def test_a_title_names_no_board() -> None:
    assert facts("Quarndon 40 amplifier capacitor list\nC1 1uF 50V") == ["C1 1 µF 50 V"]
    assert facts("Elkoliste Wendtal 12\nC1 1uF 50V") == ["C1 1 µF 50 V electrolytic"]


def test_dittos_repeat_what_the_line_does_not_say() -> None:
    text = 'C1 100uF 16V\nC2 " "\nC3 47uF "\nC4 do. 50V\nC5 wie C1'
    assert facts(text) == [
        "C1 100 µF 16 V", "C2 100 µF 16 V", "C3 47 µF 16 V", "C4 47 µF 50 V", "C5 100 µF 16 V",
    ]  # fmt: skip


def test_footnotes_are_laid_on_what_bears_their_mark() -> None:
    assert facts("C1* 1uF 50V\nC2 1uF 50V\n\n* non polar") == ["C1 1 µF 50 V bipolar", "C2 1 µF 50 V"]


def test_what_is_not_fitted_is_no_position() -> None:
    text = "C1 EMPTY\nC2 47uF DNP\n~~C3 47uF 25V~~\nC4 nicht bestückt\nC5 1uF"
    assert facts(text) == ["C5 1 µF"]
    assert codes(text)[:4] == [(1, "not-fitted"), (2, "not-fitted"), (3, "not-fitted"), (4, "not-fitted")]


def test_other_parts_and_prose_are_named_and_passed_over() -> None:
    text = "R12 4k7\nIC3 TDA9999\nD5 1N0001\nThanks for looking at this list!\nDon't forget C320, it's a 100uF.\nC1 1uF"
    assert facts(text) == ["C1 1 µF"]
    assert [code for _, code in codes(text)] == ["other-part"] * 3 + ["line-passed-over", "prose-names-part"]


def test_lists_may_stand_upright_or_run_on() -> None:
    assert facts("C1\n100uF\n16V\nradial\nC2, C3\n10uF\n50V") == [
        "C1 100 µF 16 V radial", "C2 10 µF 50 V", "C3 10 µF 50 V",
    ]  # fmt: skip
    assert facts("47µF 50V: C20, C21,\n C22") == [f"C{n} 47 µF 50 V" for n in (20, 21, 22)]


def test_a_designator_that_occurs_twice_is_doubted() -> None:
    assert facts("C1 1uF 50V\nC1 1uF 50V") == ["C1 1 µF 50 V", "C1 1 µF 50 V ?ref-twice"]
    assert facts("C1 1uF\nC1 10uF") == ["C1 1 µF ?ref-twice", "C1 10 µF ?ref-twice"]
    assert facts("PSU:\nC1 1uF\nAUDIO:\nC1 10uF") == ["C1 1 µF @ PSU", "C1 10 µF @ AUDIO"]


def test_a_kind_is_never_guessed_from_the_value() -> None:
    assert facts("C1 4700uF 63V polarised") == ["C1 4700 µF 63 V"]


def test_remarks_with_a_doubt_in_them_set_nothing() -> None:
    table = "Ref | Value | Note\nC1 | 10uF 16V | was axial on early boards\nC2 | 10uF 16V | non-polar"
    assert facts(table) == ["C1 10 µF 16 V ?remark-unclear", "C2 10 µF 16 V bipolar"]


@pytest.mark.parametrize("count", ["2 pcs", "2 Stk", "2 off", "2x", "2 -", "Qty 2", "(2)"])
def test_counts_in_front(count: str) -> None:
    assert facts(f"{count} 470uF 16V") == ["- x2 470 µF 16 V"]


@pytest.mark.parametrize(
    ("line", "expected"),
    [
        ("C501.........47uF.........16V", ["C501 47 µF 16 V"]),
        ("C7=C8=10uF 16V", ["C7 10 µF 16 V", "C8 10 µF 16 V"]),
        ("C60 20µF 450V + 10µF 350V", ["C60a 20 µF 450 V ?can-sections", "C60b 10 µF 350 V ?can-sections"]),
        ("E125C, E126C - 47uF 16V", ["E125C 47 µF 16 V", "E126C 47 µF 16 V"]),
        ("C5 measured 8.3uF (marked 10uF 25V)", ["C5 10 µF 25 V"]),
        ("C10 5 µF 4V Tropfen-Tantal", ["C10 5 µF 4 V tantalum"]),
        ("PSU: C1 100uF 16V, C2 47uF 25V NP", ["C1 100 µF 16 V @ PSU", "C2 47 µF 25 V bipolar @ PSU"]),
        ("2x 10uF 16V, 3x 47uF 25V", ["- x2 10 µF 16 V", "- x3 47 µF 25 V"]),
        ("4.7uF 50V (C23 & C24), 1uF 50V (C25)", ["C23 4.7 µF 50 V", "C24 4.7 µF 50 V", "C25 1 µF 50 V"]),
        ("C28 2500pF 250V~ Y", ["C28 2500 pF 250 V safety Y"]),
        ("C301 1-234-567-11 ELECT 100MF 20% 16V", ["C301 100 µF 16 V electrolytic"]),
        ("C9 film, not electrolytic, 0.1uF", ["C9 0.1 µF film"]),
    ],
)
def test_further_writings(line: str, expected: list[str]) -> None:
    assert [fact.replace("2.5 nF", "2500 pF") for fact in facts(line)] == expected


@pytest.mark.parametrize(
    "line", ["C7 looks like 100uF 25V", "C9 I think 220uF 10V", "C10 vermutlich 47uF", "C8 either 10uF 16V, faded"]
)
def test_what_the_list_calls_uncertain_is_doubted(line: str) -> None:
    assert "?marked-uncertain" in facts(line)[0]


def test_a_heading_that_is_not_understood_ends_what_the_one_before_said() -> None:
    text = "Tantalum:\nC1 1uF 35V\nUnder the shield, hard to reach:\nC2 10uF 16V"
    assert facts(text) == ["C1 1 µF 35 V tantalum", "C2 10 µF 16 V"]


def test_a_line_may_give_the_unit_of_all_bare_values() -> None:
    assert facts("All values in µF\nC1 10 16V\nC2 4.7 50V") == ["C1 10 µF 16 V", "C2 4.7 µF 50 V"]


def test_a_heading_does_not_make_a_small_value_electrolytic() -> None:
    assert facts("Electrolytics:\nC1 10uF 16V\nC2 2500pF 630V") == [
        "C1 10 µF 16 V electrolytic",
        "C2 2.5 nF 630 V ?kind-unlikely",
    ]


def test_designators_may_be_numbers_where_the_list_shows_it() -> None:
    assert facts("2501 10µF 63V\n2502 47µF 25V\n2503 220nF") == ["2501 10 µF 63 V", "2502 47 µF 25 V", "2503 0.22 µF"]


def test_numbers_that_count_the_lines_are_no_counts() -> None:
    five = "1 10uF 16V\n2 22uF 16V\n3 47uF 16V\n4 100uF 16V\n5 1uF 50V"
    assert facts(five)[1:3] == ["- 22 µF 16 V", "- 47 µF 16 V"]


def test_so_few_that_they_may_be_counts_are_doubted() -> None:
    assert facts("1 10uF 16V\n2 22uF 16V\n3 47uF 16V")[1] == "- 22 µF 16 V ?number-unread"
    assert facts("1 of 10uF 16V\n2 of 22uF 16V\n3 of 47uF 16V")[1] == "- x2 22 µF 16 V"
    assert facts("1 pcs 10uF 16V\n2 pcs 22uF 16V\n3 pcs 47uF 16V")[1] == "- x2 22 µF 16 V"


def test_a_count_in_front_of_three_digits_is_told_by_the_other_lines() -> None:
    assert facts("3x 47uF 16V\n2 200uF 16V")[1] == "- x2 200 µF 16 V"
    assert facts("2 200uF 16V") == ["- 2200 µF 16 V ?count-or-thousands"]
