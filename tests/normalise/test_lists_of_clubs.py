"""What clubs, forums and offices keep: exports with rare separators, tickets, item numbers, lists in any language.

Each case is a fault once found on a list of this shape; names and numbers are invented. What the reader should make
of them is common practice of the trade.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from recap.normalise.caplist import read_cap_list
from tests.normalise.facts import codes, fact, facts

if TYPE_CHECKING:
    from pathlib import Path


def of_file(path: Path, text: str) -> list[str]:
    path.write_text(text, encoding="utf-8")
    return [fact(position) for position in read_cap_list(path)[0]]


# --- numbers in front ---------------------------------------------------------------------------------


def test_item_numbers_in_front_of_designators_are_none_themselves() -> None:
    """A parts list that goes on from the page before numbers its items from anywhere."""
    text = (
        "101   C101   E. CAPACITOR   10uF  16V\n"
        "102   C102   E. CAPACITOR   4.7uF 25V\n"
        "104   R101   C. RESISTOR    10K   1/4W\n"
        "105   C103   M. CAPACITOR   0.022uF 50V\n"
    )
    assert facts(text) == ["C101 10 µF 16 V electrolytic", "C102 4.7 µF 25 V electrolytic", "C103 22 nF 50 V"]
    assert (3, "other-part") in codes(text)


def test_numbers_without_a_designator_behind_them_are_designators() -> None:
    """Some makers' service sheets leave the C off (common practice)."""
    assert facts("101  10uF 16V\n102  47uF 25V\n103  1uF 50V") == ["101 10 µF 16 V", "102 47 µF 25 V", "103 1 µF 50 V"]


def test_the_first_column_of_a_polish_list_numbers_its_rows(tmp_path: Path) -> None:
    """``Lp.`` (liczba porządkowa) is the row's number; as a lead pitch it doesn't count 1, 2, 3."""
    head = "Lp;Oznaczenie;Pojemność;Napięcie\n"
    rows = "1;C1;10 µF;25 V\n2;C2;47 µF;25 V\n3;C3;1 µF;50 V\n"
    assert of_file(tmp_path / "a.csv", head + rows) == ["C1 10 µF 25 V", "C2 47 µF 25 V", "C3 1 µF 50 V"]
    pitches = "5;C1;10 µF;25 V\n5;C2;47 µF;25 V\n2,5;C3;1 µF;50 V\n"
    assert of_file(tmp_path / "b.csv", head + pitches)[2] == "C3 1 µF 50 V P2.5"


@pytest.mark.parametrize(
    ("line", "expected"),
    [
        ("6 radial electrolytic 10uF 50V", "- x6 10 µF 50 V radial electrolytic"),
        ("2 axial 47uF 16V", "- x2 47 µF 16 V axial"),
        ("4 low esr 100uF 16V", "- x4 100 µF 16 V"),
        ("5 foil 0.1uF 100V RM5", "- x5 0.1 µF 100 V film P5"),
    ],
)
def test_a_count_stands_in_front_of_what_the_parts_are(line: str, expected: str) -> None:
    assert facts(line) == [expected]


def test_what_the_pieces_cost_is_no_value() -> None:
    """On a receipt count times price is the sum; other figures at a line's end are doubted."""
    text = " 10 ELCO RAD 10UF 50V 105C      0.09   0.90\n  2 ELCO AX 2200UF 40V 85C      2.35   4.70\n"
    assert facts(text) == [
        "- x10 10 µF 50 V 105 °C radial electrolytic", "- x2 2200 µF 40 V 85 °C axial electrolytic",
    ]  # fmt: skip
    assert "?number-unread" in facts(" 10 ELCO RAD 10UF 50V 105C      0.09   0.95")[0]


# --- tables of any make -------------------------------------------------------------------------------


@pytest.mark.parametrize("mark", ["|", "^", "~"])
def test_exports_part_their_fields_by_rare_marks(mark: str, tmp_path: Path) -> None:
    rows = [["REF", "DESCRIPTION", "RATING", "LOCATION"], ["C1", "CAP ELECT 100UF", "25V", "PREAMP"]]
    rows += [["C2", "CAP MYLAR .01UF", "100V", "PREAMP"], ["R5", "RES CF 4K7", "1/4W", "PREAMP"]]
    text = "".join(mark.join(f'"{cell}"' for cell in row) + "\n" for row in rows)
    assert of_file(tmp_path / "list.csv", text) == [
        "C1 100 µF 25 V electrolytic @ PREAMP",
        "C2 10 nF 100 V film @ PREAMP",
    ]


def test_headers_that_nobody_knows_over_columns_that_speak_for_themselves(tmp_path: Path) -> None:
    text = 'Qua,Qam,Qul,Qen\nC1,10uF,16V,1\nC2,47uF,25V,1\n"C3,C4",1uF,50V,2\nC5,220uF,16V,1\n'
    assert of_file(tmp_path / "list.csv", text) == [
        "C1 10 µF 16 V", "C2 47 µF 25 V", "C3 1 µF 50 V", "C4 1 µF 50 V", "C5 220 µF 16 V",
    ]  # fmt: skip


def test_an_unknown_column_that_mostly_counts_the_designators_counts_them_all(tmp_path: Path) -> None:
    rows = "".join(f"C{n},10uF,16V,1\n" for n in range(1, 6))
    (*_, last) = of_file(tmp_path / "list.csv", f"Qua,Qam,Qul,Qen\n{rows}C9,47uF,25V,2\n")
    assert last == "C9 47 µF 25 V ?count-mismatch"


def test_cells_of_a_ticket_between_dashes_are_struck_through() -> None:
    text = "|_. Part|_. Value|_. Rating|\n|C3|100uF|10V|\n|-C4-|-100uF-|-10V-|\n|C5|10uF|16V|\n"
    assert facts(text) == ["C3 100 µF 10 V", "C5 10 µF 16 V"]
    assert (3, "not-fitted") in codes(text)


def test_a_column_of_what_to_swap_the_part_for_says_nothing_of_the_part() -> None:
    text = "Pos\tCap\tSwap for\nC1\t22uF 6.3V\tceramic 22uF\nC2\t100uF 4V\ttantalum 100uF\nC3\t10uF 16V\tceramic\n"
    assert facts(text) == ["C1 22 µF 6.3 V", "C2 100 µF 4 V", "C3 10 µF 16 V"]


# --- headings, keys, remarks --------------------------------------------------------------------------


def test_stars_head_the_parts_of_an_outline() -> None:
    assert facts("* Deck DX\n** Record board\nC1 10uF 16V\n** Motor control\nC41 470uF 16V") == [
        "C1 10 µF 16 V @ Record board",
        "C41 470 µF 16 V @ Motor control",
    ]


def test_a_key_of_signs_with_only_blanks_between() -> None:
    text = "* = low impedance   # = bipolar   + = 125 degrees\nC1 47uF 50V *\nC2 1uF 50V #\nC3 470uF 35V +\nC4 22uF 50V"
    assert facts(text) == ["C1 47 µF 50 V", "C2 1 µF 50 V bipolar", "C3 470 µF 35 V 125 °C", "C4 22 µF 50 V"]


def test_a_plus_of_a_key_still_joins_elsewhere() -> None:
    assert facts("# = bipolar + = 125 degrees\nC1 + C2 47uF 50V\nC3 10uF 35V +") == [
        "C1 47 µF 50 V", "C2 47 µF 50 V", "C3 10 µF 35 V 125 °C",
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("line", "board"),
    [
        ("SLOT 1 / LINE AMP / C1 100u 25v", "SLOT 1 / LINE AMP"),
        ("Board 2: C1 100uF 25V", "Board 2"),
        ("PSU / C1 100uF 25V", "PSU"),
    ],
)
def test_a_board_in_front_of_its_parts_may_have_a_number(line: str, board: str) -> None:
    assert facts(f"Rack 3\n\nC9 1uF 50V\n{line}")[1:] == [f"C1 100 µF 25 V @ {board}"]


def test_a_word_for_a_board_in_the_first_line_names_one_in_any_language() -> None:
    assert facts("**Płytka zasilacza**\nC1 - 2200uF/35V") == ["C1 2200 µF 35 V @ Płytka zasilacza"]


def test_who_wrote_what_is_below_names_no_board() -> None:
    assert facts("[Tilda wrote:]\nthe rest of the board from mine:\n\nC3 4.7uF 25V\nC4 47uF 16V") == [
        "C3 4.7 µF 25 V",
        "C4 47 µF 16 V",
    ]


def test_a_bracket_in_a_sentence_that_says_it_of_all() -> None:
    text = "Here is what I counted in the Osmotherley (all radial, 85 degrees):\nC1 10uF 16V\nC2 axial 47uF 25V"
    assert facts(text) == ["C1 10 µF 16 V 85 °C radial", "C2 47 µF 25 V 85 °C axial"]


@pytest.mark.parametrize("said", ["10/50 will do", "10/50 is fine", "22/25 would do"])
def test_a_pair_in_brackets_that_would_do_is_no_second_rating(said: str) -> None:
    assert facts(f"C5 10/16 ({said})")[0].startswith("C5 10 µF 16 V")


def test_a_pair_in_brackets_of_which_nothing_is_said_is_doubted() -> None:
    assert facts("C5 10/16 (22/25)")[0].startswith("C5 ? ?value-conflict")


@pytest.mark.parametrize("lead", ["oh and ", "and ", "also ", "plus "])
def test_afterthoughts_of_short_messages(lead: str) -> None:
    assert facts(f"c1 c2 10/25\n{lead}c17 0.1\n{lead}c18 47uF 16V") == [
        "C1 10 µF 25 V", "C2 10 µF 25 V", "C17 0.1 µF", "C18 47 µF 16 V",
    ]  # fmt: skip


def test_a_can_measured_in_words() -> None:
    assert facts("C401 4700uF 35V 22mm wide 40 high") == ["C401 4700 µF 35 V D22 H40"]


@pytest.mark.parametrize("asked", ["or 330?", "47?", "or 330", "maybe 220"])
def test_a_remark_that_asks_for_another_number_doubts_its_row(asked: str, tmp_path: Path) -> None:
    text = f"Ref;Value;V;Note\nC1;470uF;25;{asked}\nC2;10uF;16;see C4?\n"
    assert of_file(tmp_path / "list.csv", text) == ["C1 470 µF 25 V ?remark-unclear", "C2 10 µF 16 V"]


def test_a_part_that_some_sets_have_is_no_empty_place() -> None:
    assert facts("C5 not used in K50, 1uF 50V in K50E\nC7 10uF 16V - not fitted") == ["C5 1 µF 50 V ?fitted-sometimes"]


def test_measured_figures_under_a_heading_of_their_own() -> None:
    text = (
        "Ref\tOriginal\tOriginal\tMeasured\tMeasured\tFitted\tFitted\nRef\tuF\tV\tuF\tESR\tuF\tV\n"
        "C1\t10\t16\t7.3\t4.1\t10\t50\nC2\t\t50\t33\t1\t33\t50\n"
    )
    assert facts(text) == ["C1 10 µF 16 V", "C2 ? 50 V ?value-missing"]


def test_a_record_at_a_line_s_end_goes_on_below() -> None:
    assert facts("C309 2200uF 35V C310\n1000uF 16V\nC311 1uF 50V") == [
        "C309 2200 µF 35 V", "C310 1000 µF 16 V", "C311 1 µF 50 V",
    ]  # fmt: skip


# --- languages ----------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("line", "expected"),
    [
        ("C1 1 µF 50 V nepolarni", "C1 1 µF 50 V bipolar"),
        ("C1 0,33 µF 63 V folija", "C1 0.33 µF 63 V film"),
        ("C1 4,7uF/50V nepolarizat", "C1 4.7 µF 50 V bipolar"),
        ("C1 4,7 µF 25 V nem polarizált", "C1 4.7 µF 25 V bipolar"),
        ("C1 4,7 µF 50 V no polaritzat", "C1 4.7 µF 50 V bipolar"),
        ("C1 4.7uF 50V 무극성", "C1 4.7 µF 50 V bipolar"),
        ("C1 0.1uF 50V 세라믹", "C1 0.1 µF 50 V ceramic"),
        ("C1 100 nF, polyesteri", "C1 0.1 µF film"),
        ("C1 10 мкФ 25 В неполярний", "C1 10 µF 25 V bipolar"),
    ],
)
def test_words_of_further_languages(line: str, expected: str) -> None:
    assert facts(line) == [expected]


def test_russian_headers_name_their_unit(tmp_path: Path) -> None:
    text = "Поз.;Ёмкость, пФ;Напряжение, В;Кол.\nС1;100;25;1\nС2, С3;1000;25;2\nС4;1000;25;2\nС5;22;25;1\n"
    assert of_file(tmp_path / "list.csv", text) == [
        "C1 100 pF 25 V", "C2 1 nF 25 V", "C3 1 nF 25 V", "C4 1 nF 25 V ?count-mismatch", "C5 22 pF 25 V",
    ]  # fmt: skip


def test_a_greek_word_keeps_its_letters() -> None:
    """``φ`` by itself is the sign for a diameter; in a word it is a letter."""
    text = "Ραδιόφωνο\n\nΠλακέτα τροφοδοσίας:\nC1 2200μF 25V φ16x25"
    assert facts(text) == ["C1 2200 µF 25 V D16 H25 @ Πλακέτα τροφοδοσίας"]
