"""Names that are no kinds, headings of variants, who speaks in a thread, and writings of several countries. Invented.

Old Czech lists count capacitances in pF with prefixes: M of a million (µF), G of a thousand million (common practice of
that trade; SI for the prefixes).
"""

from __future__ import annotations

import pytest

from tests.normalise.facts import facts, read


@pytest.mark.parametrize("name", ["Kestrel Poly-6", "Kestrel Poly 800", "Film scanner FS-2", "Harrow Mica-3"])
def test_a_word_for_a_kind_in_the_name_of_a_set_says_nothing_of_its_parts(name: str) -> None:
    assert facts(f"{name} recap\n\nC1 10uF 16V") == ["C1 10 µF 16 V"]


@pytest.mark.parametrize("title", ["Polyester caps of the Kestrel", "Kestrel recap: film caps", "Film capacitors"])
def test_beside_a_word_for_capacitors_it_does(title: str) -> None:
    assert facts(f"{title}\n\nC1 10nF 100V") == ["C1 10 nF 100 V film"]


@pytest.mark.parametrize(
    ("typed", "fact"),
    [
        ("470uF 16vv", "C1 470 µF 16 V ?volts-unit-missing"),
        ("470uF 25vlots", "C1 470 µF 25 V ?volts-unit-missing"),
        ("470uF 16cv", "C1 470 µF ?number-unread"),
    ],
)
def test_a_mistyped_unit_of_the_voltage_is_never_passed_over(typed: str, fact: str) -> None:
    assert facts(f"C1 {typed}\nC2 1uF 50V")[0] == fact


@pytest.mark.parametrize(
    ("written", "fact"),
    [
        ("5M/15V", "C1 5 µF 15 V"),
        ("0,5M/70V", "C1 0.5 µF 70 V"),
        ("2G/35V", "C1 2000 µF 35 V"),
    ],
)
def test_old_czech_lists_count_in_picofarads(written: str, fact: str) -> None:
    assert facts(f"Zesilovač, přehled součástek\n\nC1 {written}\nC2 10 µF 25 V")[0] == fact


def test_elsewhere_an_m_is_doubted_and_a_g_not_read() -> None:
    assert facts("C1 50M/15V\nC2 10 µF 25 V")[0] == "C1 50 µF 15 V ?unit-missing"
    assert facts("C1 5G/15V\nC2 10 µF 25 V")[0] == "C1 ? 15 V ?value-missing"


def test_a_heading_of_one_variant_names_it_and_common_parts_have_none() -> None:
    text = (
        "KIT FOR THE VECTRONA K19 / K25\n\nValues common to both versions:\n1 x 220uF 200V\n2 x 33uF 160V\n\n"
        "K19 only:\n1 x 22uF 160V\n\nK25 only:\n1 x 47uF 160V"
    )
    assert facts(text) == [
        "- 220 µF 200 V",
        "- x2 33 µF 160 V",
        "- 22 µF 160 V @ K19 only",
        "- 47 µF 160 V @ K25 only",
    ]


THREAD = """[valvefan]
My Stanmore has these on the output board:
C51 47uF 63V
C52 220uF 35V

[rustyvolt]
Mine (serial 3400) differs:
C52 330uF 35V
everything else as above.
"""


def test_a_name_in_brackets_over_what_somebody_says_is_no_board() -> None:
    assert facts(THREAD) == [
        "C51 47 µF 63 V @ output board",
        "C52 220 µF 35 V @ output board ?ref-twice",
        "C52 330 µF 35 V ?ref-twice",
    ]


def test_a_name_in_brackets_over_parts_is_one() -> None:
    assert facts("[PSU]\nC1 10uF 16V\n\n[TUNER]\nC2 1uF 50V") == ["C1 10 µF 16 V @ PSU", "C2 1 µF 50 V @ TUNER"]


def test_a_stage_in_front_of_a_line_ends_the_board_in_front_of_the_line_above() -> None:
    text = "Fuente: C801 220uF 400V, C804 47uF 50V\nVertical: C301 2200uF 35V\nHorizontal: C401 10uF 160V"
    assert facts(text) == [
        "C801 220 µF 400 V @ Fuente",
        "C804 47 µF 50 V @ Fuente",
        "C301 2200 µF 35 V @ Vertical",
        "C401 10 µF 160 V @ Horizontal",
    ]


@pytest.mark.parametrize(
    "aside", ["(don't forget the trimmer)", "(I replaced them all!)", "(not in the export version)"]
)
def test_a_sentence_in_brackets_takes_nothing_from_a_boards_heading(aside: str) -> None:
    assert facts(f"PSU\nC3 1uF 50V\n\nVoice board {aside}\nC1 10uF 16V") == [
        "C3 1 µF 50 V @ PSU",
        "C1 10 µF 16 V @ Voice board",
    ]


@pytest.mark.parametrize(
    "said", ["(need 6 of these boards!)", "(six of them):", "(there are 6 cards)", "(per card, 8 cards in the unit)"]
)
def test_a_heading_that_says_how_many_boards_there_are_is_told(said: str) -> None:
    positions, told = read(f"Voice board {said}\n2x 10uF 16V\n4x 1uF 50V")
    assert positions == ["- x2 10 µF 16 V @ Voice board", "- x4 1 µF 50 V @ Voice board"]
    assert "heading-times" in {each.code for each in told}


def test_all_of_a_class_is_not_all_of_the_list() -> None:
    text = "Electrolytics, all 105°C:\nC1 10uF 25V\n\nTantalums:\nC31 6.8uF 35V"
    assert facts(text) == ["C1 10 µF 25 V 105 °C electrolytic", "C31 6.8 µF 35 V tantalum"]


def test_what_the_old_part_was_made_of_is_its_own() -> None:
    assert facts("C210 - 1uF film (orig. 1uF 50V electrolytic)") == ["C210 1 µF 50 V electrolytic"]


def test_abbreviations_are_explained_without_a_colon_and_beside_each_other() -> None:
    key = "ABBREVIATIONS  CE: electrolytic  CC: ceramic  CQ: film"
    text = f"{key}\n\nC1  CE  470 µF  16V\nC4  CC  100 pF  50V\nC5  CQ  22 nF  50V"
    assert facts(text) == ["C1 470 µF 16 V electrolytic", "C4 100 pF 50 V ceramic", "C5 22 nF 50 V film"]


@pytest.mark.parametrize("sign", ["+", "#", "^", "*", "†"])
def test_a_sign_behind_a_designator_means_what_the_last_lines_say(sign: str) -> None:
    text = f"C1{sign}    10uF 35V\nC2     47uF 35V\nC3{sign}    1uF 50V\n\n{sign}  axial"
    assert facts(text) == ["C1 10 µF 35 V axial", "C2 47 µF 35 V", "C3 1 µF 50 V axial"]


@pytest.mark.parametrize(
    "word",
    ["kutupsuz", "upolariseret", "upolarisert", "niespolaryzowany", "sin polaridad", "apolaire", "διπολικός", "非極性"],
)
def test_further_languages_say_that_a_part_has_no_polarity(word: str) -> None:
    assert facts(f"C1 10 µF 25 V {word}") == ["C1 10 µF 25 V bipolar"]


@pytest.mark.parametrize("word", ["pçs", "pç", "pza", "pzas", "tane"])
def test_further_languages_count_pieces(word: str) -> None:
    assert facts(f"2 {word} - 6800 uF x 63 V\n3 {word} - 10 uF x 25 V") == ["- x2 6800 µF 63 V", "- x3 10 µF 25 V"]


def test_boards_are_named_in_further_languages() -> None:
    assert facts("Магнитофон\n\nБлок питания\nC1 2000 мкФ 50 В\n\nУсилитель воспроизведения\nC11 5 мкФ 15 В") == [
        "C1 2000 µF 50 V @ Блок питания",
        "C11 5 µF 15 V @ Усилитель воспроизведения",
    ]


@pytest.mark.parametrize("written", ["2k2 µF 63V", "2K2uF 63V", "2k2µ/63V"])
def test_a_k_for_the_point_with_the_unit_behind_it_is_thousands_and_doubted(written: str) -> None:
    assert facts(f"C1 {written}\nC2 1uF 50V")[0] == "C1 2200 µF 63 V ?kilo-point"


def test_a_k_without_the_unit_says_nothing() -> None:
    """In old European lists ``2k2`` is 2.2 nF, in others 2200 µF, and on a resistor 2.2 kΩ (common practice)."""
    assert facts("C1 2k2 63V\nC2 1uF 50V")[0] == "C1 ? 63 V ?value-missing"


def test_thousands_of_a_picofarad_are_measured_by_nobody() -> None:
    assert facts("C1 4.700 pF\nC2 1uF 50V")[0] == "C1 4.7 nF ?thousands-or-decimal"
    assert facts("C1 4.700 uF 16V\nC2 1uF 50V")[0] == "C1 ? 16 V ?thousands-or-decimal"


@pytest.mark.parametrize("beside", ["D1", "L2", "H1"])
def test_no_can_is_as_thin_as_the_number_of_a_diode(beside: str) -> None:
    assert facts(f"C1 10uF 16V {beside}\nC2 1uF 50V")[0] == "C1 10 µF 16 V"
    assert facts("C1 10uF 16V D5 L11\nC2 1uF 50V")[0] == "C1 10 µF 16 V D5 H11"


def test_the_page_of_a_book_is_no_lead_pitch() -> None:
    assert facts("p.12 C12 47uF 16V\np.13 C13 10uF 16V") == ["C12 47 µF 16 V", "C13 10 µF 16 V"]


def test_inches_in_sixteenths_are_sizes() -> None:
    """An inch is 25.4 mm exactly: 13/16 of it are 20.6375 mm, and never twenty thousand."""
    assert facts('C2  20 mfd 450 V  axial  13/16" x 2-1/4"') == ["C2 20 µF 450 V axial D20.6380 H57.15"]


PAIRS = "Combo\n\nPSU C1 22/450 C2 22/450 C3 10/450 C4 100/100\nPre C5 25/25 C7 1/50\nReverb C8 25/25 C9 47/63"


def test_among_pairs_of_value_and_voltage_equal_numbers_are_such_a_pair() -> None:
    assert facts(PAIRS) == [
        "C1 22 µF 450 V @ PSU",
        "C2 22 µF 450 V @ PSU",
        "C3 10 µF 450 V @ PSU",
        "C4 100 µF 100 V @ PSU",
        "C5 25 µF 25 V @ Pre",
        "C7 1 µF 50 V @ Pre",
        "C8 25 µF 25 V @ Reverb",
        "C9 47 µF 63 V @ Reverb",
    ]


def test_beside_cans_of_several_sections_they_are_doubted() -> None:
    assert "C4 100 µF 100 V @ PSU ?pair-or-sections" in facts(f"{PAIRS}\nOutput C10 50+50/350 C11 1/50")
