"""Further habits of lists: whose a column is, two ratings of one part, counts in other words, rows that run on.

The lines are invented after ways of writing met in lists of repairers and in parts lists of makers (common practice).
"""

from __future__ import annotations

import pytest

from recap.diagnostics import Severity
from recap.model import Kind
from recap.normalise.caplist import read_cap_text
from tests.normalise.facts import codes, facts, read


def test_as_built_is_the_original_and_suggested_is_kept_as_a_note() -> None:
    table = "Ref,As built,As built V,Suggested,Suggested V\nC1,500µF,50,470µF,63\nC2,25µF,,22µF,50\n"
    assert facts(table) == ["C1 500 µF 50 V", "C2 25 µF"]


def test_fitted_is_the_set_s_own_unless_an_original_stands_beside_it() -> None:
    assert facts("Ref,Fitted µF,Fitted V\nC1,47,25\n") == ["C1 47 µF 25 V"]
    beside = "Ref,Original µF,Original V,Fitted µF,Fitted V\nC1,33,16,47,25\nC2,,16,100,25\n"
    assert facts(beside) == ["C1 33 µF 16 V", "C2 ? 16 V ?value-missing"]


def test_values_in_a_column_of_comments_are_found_where_most_capacitors_have_one() -> None:
    board = "Designators,Comment,Footprint\nR1,10k,0805\nR2,10k,0805\nR3,1k,0805\nC1,1000u/35V,RADIAL_D12.5_P5.0\n"
    assert facts(board + "U1,regulator,TO220\nC2,100n,0805\n") == [
        "C1 1000 µF 35 V radial D12.5 P5",
        "C2 0.1 µF smd",
    ]


def test_what_a_meter_showed_is_no_value_whatever_its_unit() -> None:
    table = "Part | Nominal | Rated | Measured µF | ESR Ω\nC1 | 6.8 µF | 35 V | 6.9 / 7.0 | 1.1 / 1.2\n"
    assert facts(table) == ["C1 6.8 µF 35 V"]
    assert not [code for _, code in codes(table) if code != "header-read"]


@pytest.mark.parametrize("kind", ["MKT", "MKP", "MKC", "FKP", "KP"])
def test_a_voltage_behind_a_film_type_is_its_voltage(kind: str) -> None:
    assert facts(f"C3 0.1uF {kind} 100 V") == ["C3 0.1 µF 100 V film"]
    assert facts(f"C3 {kind} 0.1uF 100 V") == ["C3 0.1 µF 100 V film"]
    assert facts(f"C3 {kind} 10 0.1uF 100 V") == ["C3 0.1 µF 100 V film"]


def test_of_a_direct_and_an_alternating_rating_the_direct_one_is_the_rated_voltage() -> None:
    """IEC 60384-1 rates capacitors for DC or AC; both on one part are for either use, and lists compare DC ratings."""
    assert facts("C4 1.5uF 250 VDC / 160 VAC") == ["C4 1.5 µF 250 V"]
    assert facts("C4 1.5uF 160V~/250V=") == ["C4 1.5 µF 250 V"]
    assert facts("C4 0.1uF X2 275VAC/560VDC") == ["C4 0.1 µF 275 V safety X2"]
    assert facts("C4 1.5uF 250/160V") == ["C4 1.5 µF ?alternatives"]
    assert facts("C4 1.5uF 100VDC/250VAC") == ["C4 1.5 µF ?alternatives"]  # no part bears more AC than DC


@pytest.mark.parametrize(
    ("line", "fact"),
    [
        ("C1 10kuF 63V", "C1 10000 µF 63 V"),
        ("C1 10 kµF 63V", "C1 10000 µF 63 V"),
        ("c16 r47 35v tant", "C16 0.47 µF 35 V tantalum"),
        ("C3 l µF 35 V", "C3 1 µF 35 V ?ocr-digit"),
        ("half a dozen 470uF 25V", "- x6 470 µF 25 V"),
        ("12 @ 22uF 16V", "- x12 22 µF 16 V"),
    ],
)
def test_further_writings_of_values_and_counts(line: str, fact: str) -> None:
    assert facts(line) == [fact]


def test_a_diode_s_type_is_no_capacitance() -> None:
    assert facts("C1 10uF 16V\n2 x 1N-type diodes for the reset circuit") == ["C1 10 µF 16 V"]


def test_a_shortened_range_is_plain_where_the_count_confirms_it() -> None:
    assert facts("Ref,Qty,Value\nC60-3,4,33uF\n") == [f"C{n} 33 µF" for n in (60, 61, 62, 63)]
    assert facts("C705,6 10µF 50V x2")[0] == "C705 10 µF 50 V ?range-shortened"
    assert facts("Ref,Qty,Value\nC60-3,2,33uF\n")[0] == "C60 33 µF ?count-mismatch ?range-shortened"


def test_only_what_can_t_be_read_is_uncertain_not_what_can_t_be_reached() -> None:
    assert facts("C7 220uF 10V, can't reach it") == ["C7 220 µF 10 V"]
    assert facts("C7 220uF 10V, can't read the voltage") == ["C7 220 µF 10 V ?marked-uncertain"]


def test_what_is_replaced_anyway_does_not_stay_and_a_value_not_to_be_changed_says_nothing() -> None:
    assert facts("C3 2.2uF 50V BP, ok, replace anyway") == ["C3 2.2 µF 50 V bipolar"]
    assert codes("C8 8.2nF 1.6kV, never change the value") == []


@pytest.mark.parametrize("word", ["brak", "não montado", "未実装", "pads only"])
def test_places_left_empty_in_further_languages(word: str) -> None:
    assert facts(f"C1 10uF 16V\nC2 {word}\nC3 22uF 16V") == ["C1 10 µF 16 V", "C3 22 µF 16 V"]


def test_a_description_that_runs_on_does_not_end_the_table() -> None:
    table = (
        "REF    TOL      WVDC   VALUE     DESCRIPTION\n"
        "C009   10%      100    1 UF      CAP FILM, NON-INDUCTIVE,\n"
        "                                 SEE NOTE 4\n"
        "C010   -10+50%  40     1500 UF   CAP ALUM ELEC\n"
        "*END OF RUN*    19 LINES\n"
    )
    assert facts(table) == ["C009 1 µF 100 V film", "C010 1500 µF 40 V electrolytic"]


SHEET = """\
CONDENSERS                        CONDENSERS (cont.)               RESISTORS
C1   .0005 mfd  mica              C14  .1 mfd   350V               R1   220,000 ohms
C2   200 mmfd                     C15  .01 mfd  1000V              R2   47,000 ohms
C3   .1 mfd     350V              C16  50 mfd   12 WV              R3   2.2 megohms
C4   .05 mfd    500V              VC1  2-gang, 500 mmfd            L1   aerial coil
C5   100 mmfd                                                      T1   output, 45:1
"""


def test_columns_of_other_parts_beside_those_of_capacitors_say_nothing_of_them() -> None:
    found, told = read(SHEET)
    assert found == [
        "C1 500 pF other", "C14 0.1 µF 350 V", "C2 200 pF", "C15 10 nF 1000 V", "C3 0.1 µF 350 V", "C16 50 µF 12 V",
        "C4 50 nF 500 V", "C5 100 pF",
    ]  # fmt: skip
    assert not [d for d in told if d.severity is not Severity.NOTE]


def test_designators_of_two_channels_beside_each_other_share_what_stands_behind_them() -> None:
    lines = "C1   C21   10uF 16V\nC2   C22   22uF 16V\nC3   C23   47uF 25V\n"
    assert [fact.split()[0] for fact in facts(lines)] == ["C1", "C21", "C2", "C22", "C3", "C23"]
    sized = "C1  10uF 16V   D5  L11\nC2  22uF 16V   D6  L12\nC3  47uF 25V   D8  L13\n"
    assert facts(sized)[0] == "C1 10 µF 16 V D5 H11"


def test_a_capacitor_that_is_turned_is_passed_over_where_it_has_no_value() -> None:
    assert facts("C1 variable, part of gang\nC2 0.1 MFD 350 V") == ["C2 0.1 µF 350 V"]
    assert facts("C14 trimmer, 3-30 MMFD") == ["C14 ? other ?alternatives"]


@pytest.mark.parametrize("place", ["near the trimmer", "behind a ceramic one", "neben dem Elko", "sotto il poliestere"])
def test_what_stands_beside_a_part_says_nothing_of_it(place: str) -> None:
    assert facts(f"C1 47uF 16V {place}") == ["C1 47 µF 16 V"]
    assert facts(f"Ref,Value,V,Note\nC1,47uF,16,{place}\n") == ["C1 47 µF 16 V"]


def test_a_value_made_up_of_several_parts_is_one_position_and_doubted() -> None:
    assert facts("C1 72 µF NP 50V (two in parallel: 50 + 22)") == [
        "C1 72 µF 50 V bipolar ?count-mismatch ?no-preferred-value"
    ]
    assert [fact.split()[0] for fact in facts("C1 50 + 22 µF 350V")] == ["C1a", "C1b"]


def test_a_lone_length_of_a_film_part_is_its_lead_pitch_where_it_is_one_of_theirs() -> None:
    assert facts("20 pcs. 10n 100V MKT 5mm") == ["- x20 10 nF 100 V film P5"]
    assert facts("C1 10n 100V MKT 13mm") == ["C1 10 nF 100 V film ?size-unclear"]
    assert facts("C1 10uF 100V 5mm") == ["C1 10 µF 100 V ?size-unclear"]


def test_fields_on_lines_of_their_own_may_end_in_a_remark() -> None:
    text = "Ref\nValue\nVoltage\nNotes\n\nC1\n1000µF\n35V\nmain filter\n\nC2\n4.7µF\n50V\nbipolar, see note\n"
    assert facts(text) == ["C1 1000 µF 35 V", "C2 4.7 µF 50 V bipolar"]


def test_a_remark_of_one_word_vertical_names_a_stage() -> None:
    table = "Ref,Value,V,Remark\nC1,10uF,25,vertical\nC2,10uF,25,axial\n"
    assert facts(table) == ["C1 10 µF 25 V", "C2 10 µF 25 V axial"]


def test_voltages_in_a_column_of_kilovolts() -> None:
    for head in ("kV", "Voltage (kV)", "Spannung kV"):
        table = f"Ref;nF;{head}\nC1;10;0,63\nC2;1;2\nC3;2,2;1,6\n"
        assert [fact.split("F ")[1] for fact in facts(table)] == ["630 V", "2000 V", "1600 V"], head


def test_a_board_joined_to_designators_holds_for_these_alone() -> None:
    found = facts("PSU-C1, PSU-C2 10uF 16V\n- AMP.C7: 22uF 25V\nC9 1uF 50V\nElko-C10 10uF\nIC1-C6 0.1uF")
    assert found == [
        "C1 10 µF 16 V @ PSU", "C2 10 µF 16 V @ PSU", "C7 22 µF 25 V @ AMP", "C9 1 µF 50 V",
        "C10 10 µF electrolytic", "C6 0.1 µF",
    ]  # fmt: skip
    table = 'Designator,Value\n"PSU-C1, PSU-C2",47uF\nPRE-C6,1uF\n'
    assert facts(table) == ["C1 47 µF @ PSU", "C2 47 µF @ PSU", "C6 1 µF @ PRE"]


def test_a_tolerance_of_two_sides_is_no_second_section() -> None:
    for tolerance in ("+50/-10%", "+50 -10 %", "-10/+50%", "-10+50%"):
        assert facts(f"C1 2200uF {tolerance} 63V") == ["C1 2200 µF 63 V"], tolerance


def test_what_is_called_measured_behind_the_figure_is_no_second_value() -> None:
    assert facts("C12 10uF 25V (8.7uF measured, ESR 4)") == ["C12 10 µF 25 V"]


def test_tolerance_letters_behind_capital_units() -> None:
    assert facts("C210 CER 22P J 50V\nC211 CER 10N K 50V") == ["C210 22 pF 50 V ceramic", "C211 10 nF 50 V ceramic"]


def test_a_heading_of_a_kind_with_a_remark_states_the_kind() -> None:
    found = facts("## Film (leave unless cracked)\n\nC30 47nF 100V\n\n## Capacitors (power supply)\n\nC31 10uF 16V")
    assert found[0] in {"C30 47 nF 100 V film", "C30 47 nF 100 V film ?left-alone"}
    assert found[1].startswith("C31 10 µF 16 V @ power supply")


@pytest.mark.parametrize(
    ("line", "fact"),
    [
        ("C3 - 10 or 22uF, 16V", "C3 ? 16 V ?alternatives"),
        ("C7 - about 200uF, 10V", "C7 200 µF 10 V ?marked-uncertain"),
        ("C8 ca. 0.1uF 100V", "C8 0.1 µF 100 V ?marked-uncertain"),
        ("C2 0.0 1µF 600V", "C2 10 nF 600 V ?ocr-digit"),
        ("C1 O,1µF 400V", "C1 0.1 µF 400 V ?ocr-digit"),
        ("C4 470uF 40V was down to 90uF", "C4 470 µF 40 V"),
        ("C6 47uF 35V body 6.5mm by 18mm", "C6 47 µF 35 V D6.5 H18"),
        ("C3 10uF 50V (H 11, D 5, P 2)", "C3 10 µF 50 V D5 H11 P2"),
    ],
)
def test_what_people_write_of_worn_parts_and_scanners_of_print(line: str, fact: str) -> None:
    assert facts(line) == [fact]


def test_a_spaced_range_stays_one() -> None:
    assert [fact.split()[0] for fact in facts("C5 - C7 10uF\nC8 - 10 22uF 16V")] == [f"C{n}" for n in range(5, 11)]


def test_a_place_whose_marking_nobody_can_read_is_a_position() -> None:
    assert facts("C6 1uF 50V\nC12 - cannot read, size of C6") == [
        "C6 1 µF 50 V",
        "C12 ? ?marked-uncertain ?value-missing",
    ]


def test_a_tone_control_is_a_board_and_no_regulator() -> None:
    found = facts("Netzteil:\nC1 10uF 16V\n\nKlangregler:\nC10 22uF 16V")
    assert found == ["C1 10 µF 16 V @ Netzteil", "C10 22 µF 16 V @ Klangregler"]


def test_a_bare_number_under_was_is_doubted_where_the_row_says_otherwise() -> None:
    table = "Ref,uF,V,Was\nC1,47,25,22\nC2,10,16,\nC3,10,16,16\n"
    assert facts(table) == ["C1 47 µF 25 V ?original-unclear", "C2 10 µF 16 V", "C3 10 µF 16 V"]


@pytest.mark.parametrize("resistor", ["R5 220k", "R5: 4.7 kohm", "R7 is 1M", "R5 = 100 Ω"])
def test_a_resistor_behind_a_record_is_no_lead_pitch(resistor: str) -> None:
    assert facts(f"C1 100uF 400V, bleeder {resistor}") == ["C1 100 µF 400 V"]
    assert facts("C1 100uF 25V R5") == ["C1 100 µF 25 V P5"]


@pytest.mark.parametrize(
    "beside", [", see D4 and L3", " near P3", " H5 hole", " by D8 diode", " + L2 100uH", " / D1 1N4148", " next to R4"]
)
def test_other_parts_named_beside_a_record_are_no_sizes(beside: str) -> None:
    assert facts(f"C1 100uF 25V{beside}") == ["C1 100 µF 25 V"]


@pytest.mark.parametrize("order", ["D8 L12 axial", "axial D8 L12", "axial, D8, L12"])
def test_letters_of_sizes_are_sizes(order: str) -> None:
    assert facts(f"C1 10uF 25V {order}") == ["C1 10 µF 25 V axial D8 H12"]


def test_counts_for_several_boards_are_said_once() -> None:
    rows = 'ref,value,volts,qty\n"C1, C2",47uF,25,{}\nC3,10uF,50,2\n"C4-C6",22uF,16,6\n'
    positions, told = read_cap_text(rows.format(4), "list.csv")
    assert [d.code for d in told if d.severity is Severity.WARNING] == ["counts-multiplied"]
    assert [(one.ref, one.qty, one.doubts) for one in positions] == [(f"C{n}", 1, ()) for n in range(1, 7)]
    positions, told = read_cap_text(rows.format(2), "list.csv")  # one that matches: the others are wrong by themselves
    assert [bool(one.doubts) for one in positions] == [False, False, True, True, True, True]


@pytest.mark.parametrize("mark", ["Step 1:", "Schritt 1:", "Étape 1 :", "Passo 1."])
def test_the_number_of_a_step_is_no_part(mark: str) -> None:
    text = "\n".join((f"{mark} C1 47uF 25V", f"{mark.replace('1', '2')} C5 100uF 16V"))
    positions, _ = read_cap_text(text, "list.txt")
    assert [(one.ref, one.doubts) for one in positions] == [("C1", ()), ("C5", ())]


@pytest.mark.parametrize(
    ("line", "doubts"),
    [
        ("C9 10uF 250V at connector X3", ("count-or-class",)), ("C9 10uF 250V X2 pin 3", ("count-or-class",)),
        ("C9 0.1uF X2 275V", ()), ("C9 0.1uF 250V~ X1/Y2", ()), ("C9 4.7nF Y1 250V", ()),
    ],
)  # fmt: skip
def test_a_class_beside_a_connector_is_doubted_and_stays_one(line: str, doubts: tuple[str, ...]) -> None:
    """IEC 60384-14 has X1, X2, X3, Y1, Y2, Y4 (from memory); a class must never be lost."""
    (position,), _ = read_cap_text(line, "list.txt")
    assert (position.kind, position.doubts) == (Kind.SAFETY, doubts)
    assert position.safety is not None


@pytest.mark.parametrize(
    ("line", "doubts"),
    [
        ("C5 10uF 63V 11x5 radial", ("size-reversed",)), ("C5 10uF 63V 5x11 radial", ()),
        ("C5 10uF 63V 12x5 electrolytic", ("size-reversed",)), ("C5 100nF 63V 13x5 film", ()),
    ],
)  # fmt: skip
def test_a_size_with_the_height_first_is_kept_and_doubted(line: str, doubts: tuple[str, ...]) -> None:
    """Sizes of cans are written diameter first (makers' lists, common practice)."""
    (position,), told = read_cap_text(line, "list.txt")
    assert position.doubts == doubts
    assert not any("none taken" in one.message for one in told)
