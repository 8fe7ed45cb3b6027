"""Families of writings met in hasty lists, exports and scans: each table holds a habit in its variants.

The lines are invented after ways of writing met in lists of repairers, service sheets and exports (common practice).
"""

from __future__ import annotations

import pytest

from recap.normalise.caplist import read_cap_text
from tests.normalise.facts import codes, facts


@pytest.mark.parametrize(
    ("line", "fact"),
    [
        ("C1 50V 4.7uF", "C1 4.7 µF 50 V"),
        ("C1 50V4.7uF", "C1 4.7 µF 50 V"),
        ("C1 50V1μF", "C1 1 µF 50 V"),
        ("C1 25V0.47uF", "C1 0.47 µF 25 V"),
        ("C1 63V0,47uF", "C1 0.47 µF 63 V"),
        ("C1 16V1000uF", "C1 1000 µF 16 V"),
        ("C1 6V3 1000uF", "C1 1000 µF 6.3 V"),
        ("C1 6V3/1000uF", "C1 1000 µF 6.3 V"),
        ("C1 100uF 6V3", "C1 100 µF 6.3 V"),
        ("C1 100n50V", "C1 0.1 µF 50 V"),
        ("C1 10u50V", "C1 10 µF 50 V"),
        ("C1 100 мкФ х 50в", "C1 100 µF 50 V"),
        ("C1,2 50V1μF", "C1 1 µF 50 V"),
    ],
)
def test_value_and_voltage_run_together_in_either_order(line: str, fact: str) -> None:
    assert facts(line)[0] == fact


@pytest.mark.parametrize(
    ("line", "volts"),
    [
        ("CAP,FXD,ELCTLT:47UF,20%,25WVDC", 25),
        ("10uF,+75-10%,35V", 35),
        ('10uF 0.5"x1",16V', 16),
        ("10uF (20%),16V", 16),
    ],
)
def test_a_comma_behind_a_percentage_or_an_inch_sign_is_no_decimal_point(line: str, volts: int) -> None:
    assert f" {volts} V" in facts(f"C1 {line}")[0]


@pytest.mark.parametrize(
    ("line", "fact"),
    [
        ("C1 4.7E-6 F 50V", "C1 4.7 µF 50 V"),
        ("C1 1E-5F 25V", "C1 10 µF 25 V"),
        ("C1 1.0E-07 F", "C1 0.1 µF"),
        ("C1 2,2E-9 F 63 V", "C1 2.2 nF 63 V"),
        ("C1 2.2E+1 uF 16V", "C1 22 µF 16 V"),
        ("C1 1E-5 50V", "C1 10 µF 50 V ?unit-missing"),
    ],
)
def test_numbers_with_an_exponent(line: str, fact: str) -> None:
    assert facts(line) == [fact]


@pytest.mark.parametrize("header", ["C (F)", "C [F]", "Value (F)", "Capacitance [F]", "Value in F"])
def test_a_column_in_farads_is_told_from_one_that_lost_its_prefix_by_its_exponents(header: str) -> None:
    assert facts(f"Ref,{header},Volts\nC1,4.7E-6,50\nC2,0.001,25\n") == ["C1 4.7 µF 50 V", "C2 1000 µF 25 V"]
    assert facts(f"Ref,{header},Volts\nC1,47,50\nC2,100,25\n")[0] == "C1 47 µF 50 V ?prefix-missing"


@pytest.mark.parametrize(
    ("header", "cell", "fact"),
    [
        ("Size (1/100 inch)", "50 x 125", "D12.7 H31.75"),
        ("Size (1/1000 in)", "500x1250", "D12.7 H31.75"),
        ("Size (0.01 inch)", "50 x 125", "D12.7 H31.75"),
        ("Size (mil)", "500x1250", "D12.7 H31.75"),
        ("Size (thou)", "500x1250", "D12.7 H31.75"),
        ("Size [inch]", "0.5x1.25", "D12.7 H31.75"),
        ("Size (thou)", "5x11 mm", "D5 H11"),
        ("Diameter (mil)", "500", "D12.7"),
        ("Diameter (1/100 inch)", "50", "D12.7"),
        ("Pitch (0.1 inch)", "2", "P5.08"),
        ("Pitch (1/16 inch)", "2", "P3.1750"),
    ],
)
def test_columns_in_parts_of_an_inch(header: str, cell: str, fact: str) -> None:
    """1 inch is 25.4 mm exactly (international yard and pound agreement, 1959)."""
    assert facts(f"Ref;Value;{header}\nC1;10uF;{cell}\n") == [f"C1 10 µF {fact}"]


def test_units_in_columns_of_their_own_go_with_the_column_in_front() -> None:
    rows = "C1,470,nF,1,kV,5,11,mm\nC2,10,uF,16,V,0.5,1,inch\nC3,22,pF,50,V,,,\n"
    assert facts(f"Ref,Cap,Unit,Voltage,Unit,Dia,Len,Unit\n{rows}") == [
        "C1 0.47 µF 1000 V D5 H11",
        "C2 10 µF 16 V D12.7 H25.4",
        "C3 22 pF 50 V",
    ]


def test_millifarads_are_doubted_beside_microfarads_and_read_as_these_alone() -> None:
    assert facts("C1 2.2 mF 25V\nC2 10uF 16V") == ["C1 2.2 µF 25 V ?milli-or-micro", "C2 10 µF 16 V"]
    assert facts("C1 2.2 mF 25V\nC2 10 mF 16V") == ["C1 2.2 µF 25 V", "C2 10 µF 16 V"]
    assert facts("C1 220 mF 25V\nC2 10uF 16V")[0] == "C1 220 µF 25 V"


@pytest.mark.parametrize(
    ("line", "fact"),
    [
        ("10uF 50V: 3 db", "- x3 10 µF 50 V"),
        ("10uF 50V: 3 ks", "- x3 10 µF 50 V"),
        ("3 шт 10uF 50V", "- x3 10 µF 50 V"),
        ("10uF 50V: 1 stuk", "- 10 µF 50 V"),
        ("10uF 50V - 2 peças", "- x2 10 µF 50 V"),
        ("16V 470μF ×4本", "- x4 470 µF 16 V"),
        ("16V 470μF 4個", "- x4 470 µF 16 V"),
        ("2 pairs of 33uF 16V", "- x4 33 µF 16 V"),
        ("3 Paar 10µF 35V", "- x6 10 µF 35 V"),
        ("0.1uF 50V KS", "- 0.1 µF 50 V film"),
        ("1uF 16V 10 dB", "- 1 µF 16 V"),
    ],
)
def test_counts_in_more_languages(line: str, fact: str) -> None:
    assert facts(line) == [fact]


@pytest.mark.parametrize(
    "line",
    [
        "change from 10uF 16V to 22uF 25V",
        "changed from 10uF 16V to 22uF 25V",
        "from 10uF 16V to 22uF 25V",
        "change 10uF 16V to 22uF 25V",
        "10uF 16V changes to 22uF 25V",
        "10uF 16V change to 22uF 25V",
        "von 10 µF 16 V auf 22 µF 25 V",
        "de 10 µF 16 V à 22 µF 25 V",
        "10uF 16V, I fitted 22uF 25V",
        "10uF 16V i put 25v in",
        "10uF 16V (I put a 25V in)",
    ],
)
def test_what_is_changed_is_the_part_in_the_set(line: str) -> None:
    assert facts(f"C5 {line}") == ["C5 10 µF 16 V"]


@pytest.mark.parametrize("line", ["C45 delete", "C45 deleted", "C45: delete on new boards"])
def test_a_place_that_is_deleted_has_no_part(line: str) -> None:
    assert [fact for fact in facts(f"{line}\nC46 10uF 16V") if fact.startswith("C45") and "?" not in fact] == []


def test_a_part_added_beside_another_is_no_second_part_there() -> None:
    assert facts("C41 add 0.1uF 50V ceramic in parallel with C40\nC42 10uF") == ["C41 0.1 µF 50 V ceramic", "C42 10 µF"]


def test_film_across_a_large_one_is_a_part_of_its_own_kind() -> None:
    small = ["C6a 100 µF 63 V bipolar ?can-sections", "C6b 4.7 µF 63 V film ?can-sections"]
    assert facts("C6 100 uF 63 V bipolar + 4.7 uF film in parallel") == small
    assert facts("C7 100uF 25V + 0.1uF ceramic")[0] == "C7a 100 µF 25 V ?can-sections"


@pytest.mark.parametrize(
    ("line", "sections"),
    [
        ("C1 40/20/20 @ 450/400/25V", ["40 µF 450 V", "20 µF 400 V", "20 µF 25 V"]),
        ("C1 40/20/20 450V", ["40 µF 450 V", "20 µF 450 V", "20 µF 450 V"]),
        ("C1 20-20-20 450V", ["20 µF 450 V"] * 3),
        ("C1 20/20 450V", ["20 µF 450 V"] * 2),
        ("C1 8/16 450V", ["8 µF 450 V", "16 µF 450 V"]),
        ("C1 16-8 450V", ["16 µF 450 V", "8 µF 450 V"]),
        ("C1: 32/32/16 350 volts", ["32 µF 350 V", "32 µF 350 V", "16 µF 350 V"]),
    ],
)
def test_bare_sections_in_front_of_a_high_voltage(line: str, sections: list[str]) -> None:
    assert facts(line) == [f"C1{letter} {said} ?can-sections" for letter, said in zip("abc", sections, strict=False)]


@pytest.mark.parametrize("line", ["C1 10/250V", "C1 100/160", "C1 470/16/105"])
def test_a_value_and_its_rating_are_no_sections(line: str) -> None:
    assert len(facts(line)) == 1


def test_a_value_and_two_ratings_are_no_sections() -> None:
    assert facts("C1 100/16 250V") == ["C1 100 µF ?volts-conflict"]
    assert facts("C1 8-16 450V")[0].count("?") > 0


def test_a_blank_parts_a_bare_value_from_its_voltage_where_no_part_bears_both_together() -> None:
    assert facts("C1 20 450V") == ["C1 20 µF 450 V ?unit-missing"]
    assert facts("C1 0,01µF 1 600 V")[0].startswith("C1 10 nF 1600 V")


@pytest.mark.parametrize(
    ("line", "fact"),
    [
        ("C1 lOOuF lOV", "C1 100 µF 10 V ?ocr-digit"),
        ("C1 47uF SOV", "C1 47 µF 50 V ?ocr-digit"),
        ("C1 47uF SO V", "C1 47 µF 50 V ?ocr-digit"),
        ("C1 47uF BIV", "C1 47 µF"),
        ("C1 47uF SOVTEK", "C1 47 µF"),
    ],
)
def test_ratings_of_which_a_scanner_left_no_digit(line: str, fact: str) -> None:
    assert facts(line) == [fact]


def test_a_description_goes_on_below_designators_and_their_stock_number() -> None:
    text = "C107  Electrolytic,    10-4492\n      non-polar  2.2uF 50V\nC108  Ceramic 100pF 50V  10-6001\n"
    assert facts(text) == ["C107 2.2 µF 50 V bipolar", "C108 100 pF 50 V ceramic"]


@pytest.mark.parametrize(
    "line",
    [
        "C5 V1A cathode bypass 25uF 25V",
        "C5 Q3 emitter 25uF 25V",
        "C5 IC2 supply 25uF 25V",
        "C5 across R12 25uF 25V",
    ],
)
def test_a_neighbour_named_behind_a_designator_says_whose_part_it_is(line: str) -> None:
    assert facts(line) == ["C5 25 µF 25 V"]


def test_unknown_letters_behind_a_designator_stay_doubted() -> None:
    assert facts("C5 E6 10uF 16V") == ["C5 10 µF 16 V ?ref-unread"]


@pytest.mark.parametrize(
    ("line", "refs"),
    [
        ("C5(L) C5(R) 2.2uF/50V", ["C5L", "C5R"]),
        ("C8[R], C9[R] 2.2uF/50V", ["C8R", "C9R"]),
        ("C203 até C205 2.2uF/50V", ["C203", "C204", "C205"]),
    ],
)
def test_designators_in_more_forms(line: str, refs: list[str]) -> None:
    assert facts(line) == [f"{ref} 2.2 µF 50 V" for ref in refs]


@pytest.mark.parametrize("last", ["C99999999", "C123456", "c999999"])
def test_a_range_that_no_board_holds_is_doubted_however_long_its_number(last: str) -> None:
    assert facts(f"C1-{last} 10uF") == ["C1 10 µF ?range-absurd"]


@pytest.mark.parametrize(
    "line",
    ["C10 .0005 mfd variable (tuning)", "C14 10pF trimmer", "C16 padder 600pF", "C12 365 MMFD, VARIABLE, 2 GANG"],
)
def test_what_is_turned_is_no_part_that_a_fixed_one_replaces(line: str) -> None:
    assert facts(line)[0].endswith("?remark-unclear")


@pytest.mark.parametrize("line", ["C17 1nF 50V near the trimmer", "C17 10uF 50V variable supply"])
def test_beside_something_turned_a_part_is_plain(line: str) -> None:
    assert "?" not in facts(line)[0]


@pytest.mark.parametrize(
    ("line", "fact"),
    [
        ("C1 ¼ mfd 400 V", "C1 0.25 µF 400 V"),
        ("C1 1½ mfd", "C1 1.5 µF"),
        ('C1 10uF 1¾" x 3½"', "C1 10 µF D44.45 H88.9"),
    ],
)
def test_fractions_in_one_sign(line: str, fact: str) -> None:
    assert facts(line) == [fact]


@pytest.mark.parametrize(
    ("word", "kind"),
    [
        ("电解", "electrolytic"),
        ("无极性", "bipolar"),
        ("钽", "tantalum"),
        ("薄膜", "film"),
        ("瓷片", "ceramic"),
        ("FOLKO", "film"),
        ("bipolars", "bipolar"),
    ],
)
def test_kinds_in_more_words(word: str, kind: str) -> None:
    assert facts(f"C1 {word} 1uF/50V") == [f"C1 1 µF 50 V {kind}"]


@pytest.mark.parametrize(
    "line",
    [
        "Posted by owlbench",
        "Posté par Grillon42 le 3 mars",
        "Hans-Georg schrieb:",
        "On Friday Ann wrote:",
        "Scritto da Gino",
    ],
)
def test_who_speaks_names_no_board(line: str) -> None:
    assert facts(f"Main board:\nC1 10uF 16V\n\n{line}\nC2 22uF 16V") == ["C1 10 µF 16 V @ Main board", "C2 22 µF 16 V"]


def test_a_quoted_record_that_says_again_what_stands_above_is_no_second_part() -> None:
    again = "Main board:\nC3 470uF 50V\nC4 10uF 16V\n\nPosted by B\n> C3 470uF 50V\nMine is leaking.\n"
    assert facts(again) == ["C3 470 µF 50 V @ Main board", "C4 10 µF 16 V @ Main board"]
    other = facts("C3 470uF 50V\n> C3 470uF 63V\n")
    assert other == ["C3 470 µF 50 V ?ref-twice", "C3 470 µF 63 V ?ref-twice"]


def test_counts_of_part_numbers_in_the_whole_set_count_no_row() -> None:
    table = "Ref,Part No.,Qty,Description\nC1,19-0412,3,10uF 16V\nC2,19-0412,,10uF 16V\nC3,19-0500,2,22uF 16V\n"
    assert facts(table) == ["C1 10 µF 16 V", "C2 10 µF 16 V", "C3 22 µF 16 V"]
    each = "Ref,Part No.,Qty,Description\nC1,19-0412,3,10uF 16V\nC2,19-0500,1,10uF 16V\n"
    assert facts(each)[0] == "C1 10 µF 16 V ?count-mismatch"


def test_instrument_makers_put_the_dielectric_last() -> None:
    assert facts("C1 CAPACITOR-FXD 6.8UF+-10% 35VDC TA") == ["C1 6.8 µF 35 V tantalum"]
    assert facts("C1 CAPACITOR-FXD 4700UF+75-10% 40VDC AL") == ["C1 4700 µF 40 V electrolytic"]
    assert facts("C1 10uF 35V TA") == ["C1 10 µF 35 V"]


def test_numbers_alone_are_told() -> None:
    assert (1, "number-unread") in codes("C1 10uF 16V 7")


@pytest.mark.parametrize(
    ("header", "states"),
    [
        ("NP", "bipolar"),
        ("NP?", "bipolar"),
        ("Bipolar", "bipolar"),
        ("Unpolarised?", "bipolar"),
        ("SMD", "smd"),
        ("Axial", "axial"),
        ("Tantalum?", "tantalum"),
        ("X2", "safety X2"),
    ],
)
@pytest.mark.parametrize(("yes", "no"), [("x", ""), ("yes", "no"), ("Y", "N"), ("1", "0"), ("ja", "nein"), ("✓", "✗")])
def test_a_column_that_is_ticked_says_what_its_header_says(header: str, states: str, yes: str, no: str) -> None:
    table = f"Ref,Value,Volts,{header}\nC1,1uF,275,{yes}\nC2,1uF,275,{no}\nC3,1uF,275,{no}\n"
    assert facts(table) == [f"C1 1 µF 275 V {states}", "C2 1 µF 275 V", "C3 1 µF 275 V"]


@pytest.mark.parametrize("header", ["NP", "Bipolar", "Non-polar", "NP/BP", "Bipolar?"])
def test_one_cell_that_is_no_answer_turns_no_answer_of_the_others_round(header: str) -> None:
    """``Bipolar: no`` says that the part has a polarity, whatever stands below it."""
    table = f"Ref,Value,Volts,{header}\nC1,10uF,50,yes\nC2,10uF,50,no\nC3,10uF,50,?\nC4,10uF,50,tantalum\n"
    assert facts(table) == [
        "C1 10 µF 50 V bipolar",
        "C2 10 µF 50 V",
        "C3 10 µF 50 V ?marked-uncertain",
        "C4 10 µF 50 V tantalum",
    ]


@pytest.mark.parametrize("cell", ["no", "N", "nein", "non"])
@pytest.mark.parametrize("header", ["Type", "Kind", "Polarity"])
def test_no_is_plain_only_where_the_header_asks_whether_a_part_is_polarised(header: str, cell: str) -> None:
    table = f"Ref,Value,Volts,{header}\nC1,10uF,50,{cell}\nC2,10uF,50,electrolytic\n"
    assert facts(table)[0].startswith("C1 10 µF 50 V bipolar ?polarity-no")


@pytest.mark.parametrize(
    ("header", "no"),
    [
        ("Polarised", "no"),
        ("Polarised?", "N"),
        ("Polar", "nein"),
        ("Polarity", "NP"),
        ("Gepolt", "n"),
        ("Polarisé", "non"),
    ],
)
def test_what_is_not_polarised_is_bipolar(header: str, no: str) -> None:
    assert facts(f"Ref,Value,Volts,{header}\nC1,10uF,25,{no}\nC2,10uF,25,yes\n") == [
        "C1 10 µF 25 V bipolar",
        "C2 10 µF 25 V",
    ]


@pytest.mark.parametrize(("header", "free"), [("Fitted", "✗"), ("Fitted", "❌"), ("DNP", "✔"), ("DNP", "✅")])
def test_crosses_and_ticks_tell_what_is_fitted(header: str, free: str) -> None:
    other = {"✗": "✓", "❌": "✅"}.get(free, "")
    assert facts(f"Ref,Value,{header}\nC1,10uF,{other}\nC2,22uF,{free}\n") == ["C1 10 µF"]


@pytest.mark.parametrize("header", ["C", "Cap", "C#", "C No.", "Cap #"])
def test_numbers_under_a_capacitors_letter_are_designators(header: str) -> None:
    assert facts(f"{header},Value,Volts\n1,10uF,16\n2,22uF,25\n5,47uF,50\n") == [
        "C1 10 µF 16 V",
        "C2 22 µF 25 V",
        "C5 47 µF 50 V",
    ]


def test_values_stand_under_a_comment_beside_a_description_that_holds_none() -> None:
    table = "Comment,Description,Designator\n10uF/50V,Electrolytic Capacitor,C1\n100nF,Ceramic,C3\n10k,Resistor,R1\n"
    assert facts(table) == ["C1 10 µF 50 V electrolytic", "C3 0.1 µF ceramic"]


@pytest.mark.parametrize(
    "line", ["I measured 12x25mm", "mine measures 12x25mm", "(I measured 12x25mm)", "ich habe 12x25mm gemessen"]
)
def test_what_is_left_of_a_measurement_is_no_note(line: str) -> None:
    positions, _ = read_cap_text(f"C14 150uF 63V {line}", "list")
    assert [(p.ref, p.diameter_mm, p.height_mm, p.note) for p in positions] == [("C14", 12, 25, None)]


@pytest.mark.parametrize(
    "word", ["except", "except for", "außer", "sauf", "tranne", "salvo", "behalve", "but not", "utom"]
)
def test_what_is_excepted_has_a_value_of_its_own_or_none(word: str) -> None:
    assert facts(f"C1-C3 10uF 16V ({word} C2 = 47uF)") == [
        "C1 10 µF 16 V",
        "C3 10 µF 16 V",
        "C2 47 µF ?remark-unclear",
    ]
    assert facts(f"C1-C3 {word} C2: 10uF 16V")[2] == "C2 ? ?remark-unclear ?value-missing"
    assert facts(f"Ref,Value\nC1-C3 {word} C2,10uF\nC2,47uF\n") == ["C1 10 µF", "C3 10 µF", "C2 47 µF"]


@pytest.mark.parametrize(
    ("line", "fact"),
    [
        ("l000/16", "1000 µF 16 V"),
        ("47/l6", "47 µF 16 V"),
        ("4.7/5O", "4.7 µF 50 V"),
        ("0.47/S0", "0.47 µF 50 V"),
        ("22O/1O", "220 µF 10 V"),
        ("2200/l6V", "2200 µF 16 V"),
        ("1OO / 16", "100 µF 16 V"),
    ],
)
def test_pairs_with_letters_among_their_digits(line: str, fact: str) -> None:
    assert facts(f"C1 {line}") == [f"C1 {fact} ?ocr-digit"]


@pytest.mark.parametrize("line", ["47uF A/B", "47/25 I/O", "47uF 25V L/R", "10uF 16V Z/5"])
def test_letters_with_a_slash_are_no_pair(line: str) -> None:
    assert "ocr-digit" not in facts(f"C1 {line}")[0]


def test_a_rating_that_cannot_be_read_is_told() -> None:
    assert facts("C1 10uF 1GV") == ["C1 10 µF ?number-unread"]


def test_a_scanner_s_letter_for_the_c_of_one_designator() -> None:
    text = "".join(f"C{n} 10uF 16V\n" for n in range(1, 12))
    assert facts(f"{text}G12 10uF 16V\n")[-1] == "C12 10 µF 16 V ?ref-misread"
    assert facts("C1 10uF 16V\nG12 10uF 16V\n")[-1] == "G12 10 µF 16 V"


def test_escapes_of_mail_and_of_typesetting() -> None:
    assert facts("C1 10=B5F 16V\nC2 22=C2=B5F 25V=20\nC3=3D1uF\nC4=10uF=16V\n") == [
        "C1 10 µF 16 V",
        "C2 22 µF 25 V",
        "C3 1 µF",
        "C4 10 µF 16 V",
    ]
    assert facts("C1 $10\\,\\mu\\mathrm{F}$ 16 V\nC2 \\SI{4.7}{\\nano\\farad} \\SI{50}{\\volt}\n") == [
        "C1 10 µF 16 V",
        "C2 4.7 nF 50 V",
    ]
    rows = "[table][tr][td]C1[/td][td]10uF[/td][td]16V[/td][/tr]\n[tr][td]C2[/td][td]22uF[/td][/tr][/table]"
    assert facts(rows) == ["C1 10 µF 16 V", "C2 22 µF"]


@pytest.mark.parametrize("apart", ["    ", " ........ ", ": ", " = ", " - ", ", ", "\t"])
def test_a_number_apart_at_the_end_of_each_value_is_its_count(apart: str) -> None:
    lines = [f"{value}{apart}{count}" for value, count in (("10uF 25V", 12), ("22uF/50V", 4), ("100uF 16V NP", 6))]
    assert facts("\n".join(lines)) == ["- x12 10 µF 25 V", "- x4 22 µF 50 V", "- x6 100 µF 16 V bipolar"]


def test_temperatures_pitches_and_lone_numbers_at_the_end_are_no_counts() -> None:
    assert facts("10uF 25V  85\n10uF 50V  105\n22uF 50V  105") == [
        "- 10 µF 25 V 85 °C",
        "- 10 µF 50 V 105 °C",
        "- 22 µF 50 V 105 °C",
    ]
    alike = facts("10uF 25V  5\n22uF 25V  5\n47uF 25V  5")
    assert all(fact.endswith("?number-unread") for fact in alike)
    assert facts("C1 10uF 25V  5\nC2 22uF 25V  6\nC3 47uF 25V  7")[0].endswith("?number-unread")


@pytest.mark.parametrize("line", ["C1O 10uF 16V", "C1O 10/16", "C1o 10uF 16V"])
def test_a_letter_for_the_last_figure_of_a_designator(line: str) -> None:
    assert facts(line) == ["C10 10 µF 16 V ?ref-misread"]


@pytest.mark.parametrize("volts", ["25 VL", "25VL", "25 V.L.", "25 Vlav"])
def test_italian_working_volts(volts: str) -> None:
    assert facts(f"C1 10 µF {volts}") == ["C1 10 µF 25 V"]


def test_row_numbers_beside_counts_are_no_designators() -> None:
    assert facts("Pos;Stk;Wert;V\n1;4;10 µF;63\n2;1;22 µF;40\nSumme;5;;\n") == ["- x4 10 µF 63 V", "- 22 µF 40 V"]
    assert facts("Pos;Stk;Wert;V\n101;1;10 µF;63\n102;1;22 µF;40\n") == ["101 10 µF 63 V", "102 22 µF 40 V"]


def test_a_title_that_says_only_holds_below_lines_that_are_not_understood() -> None:
    text = "Wexcombe desk, electrolytics only\n\nInput strip, each strip has:\nC1 10uF 16V\n\nMaster:\nC2 22uF 16V\n"
    assert facts(text) == ["C1 10 µF 16 V electrolytic", "C2 22 µF 16 V electrolytic @ Master"]


def test_a_footnote_of_two_sentences_says_what_one_of_them_says() -> None:
    text = "C8* smoothing 8 mfd\nC9 by-pass 0.01 mfd\n* Electrolytic. Values in microfarads.\n"
    assert facts(text) == ["C8 8 µF electrolytic", "C9 10 nF"]


def test_what_may_be_lead_pitches_is_no_column_of_counts() -> None:
    for ends in ((10, 10, 10), (10, 2, 5)):
        lines = [f"{value}uF 200V, {end}" for value, end in zip((470, 10, 100), ends, strict=True)]
        assert all("number-unread" in fact for fact in facts("\n".join(lines)))


def test_values_under_c_stay_values_beside_new_ones() -> None:
    assert facts("C;U;C neu;U neu\n10 µF;16;22 µF;25\n47 µF;25;100 µF;35\n") == ["- 10 µF 16 V", "- 47 µF 25 V"]
    assert "C10" not in " ".join(facts("C;U;C neu\n10;16;22\n47;25;100\n"))


@pytest.mark.parametrize("heading", ["Temp = 105°C", "Tmax = 105 °C", "T = 105 °C", "Type = axial"])
def test_a_name_and_what_holds_for_all_is_no_legend(heading: str) -> None:
    assert (1, "legend-read") not in codes(f"{heading}\nC1 10uF 16V\nC2 22uF 16V")
