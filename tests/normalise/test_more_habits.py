"""Habits of lists beyond the common ones: what a line's end says of all, the rest of a list, words of more languages.

The lines are invented after ways of writing met in lists of repairers (common practice).
"""

from __future__ import annotations

import pytest

from tests.normalise.facts import facts, read


@pytest.mark.parametrize(
    ("line", "volts"),
    [
        ("C1 (1000 µF) et C2 (470 µF), 25 V tous les deux", "25 V"),
        ("C1 1000uF, C2 470uF, both 25V", "25 V"),
        ("C1 = 1000uF and C2 = 470uF (both 25V)", "25 V"),
        ("C1 1000uF / C2 470uF @ 25V each", "25 V"),
        ("C1 1000 µF und C2 470 µF; je 25 V", "25 V"),
        ("C1 1000 µF, C2 470 µF, beide 16 V", "16 V"),
        ("C1 1000 µF e C2 470 µF, tutti da 25 V", "25 V"),
        ("C1 1000 µF y C2 470 µF: ambos de 25 V", "25 V"),
        ("C1 1000 µF en C2 470 µF, allebei 25 V", "25 V"),
    ],
)
def test_a_voltage_said_of_both_is_laid_on_both(line: str, volts: str) -> None:
    assert facts(line) == [f"C1 1000 µF {volts}", f"C2 470 µF {volts}"]


def test_what_each_has_of_its_own_stays() -> None:
    assert facts("C1 10uF 16V, C2 22uF 25V, both axial") == ["C1 10 µF 16 V axial", "C2 22 µF 25 V axial"]
    assert facts("C1 10uF, C2 47uF, C3 1uF all 16V radial")[0] == "C1 10 µF 16 V radial"


def test_a_voltage_behind_several_values_is_doubted_where_nothing_says_whose_it_is() -> None:
    assert facts("C1 10uF, C2 22uF 25V") == ["C1 10 µF ?volts-whose", "C2 22 µF 25 V"]
    assert facts("C1 10nF ceramic, C2 22uF 25V") == ["C1 10 nF ceramic", "C2 22 µF 25 V"]
    assert facts("All 25V:\nC1 10uF, C2 22uF 35V") == ["C1 10 µF 25 V", "C2 22 µF 35 V"]


@pytest.mark.parametrize(
    "rest",
    ["Others:", "The rest:", "All other capacitors:", "Autres :", "Sonstige:", "Übrige Elkos:", "Altri:", "Otros:",
     "Overige condensatoren:", "Övriga:", "Pozostałe:"],
)  # fmt: skip
def test_the_rest_of_a_list_is_not_what_the_heading_above_said(rest: str) -> None:
    found = facts(f"Bipolar, axial:\nC1 1uF 50V\n\n{rest}\nC2 10uF 16V")
    assert found[0] == "C1 1 µF 50 V axial bipolar"
    assert found[1] in {"C2 10 µF 16 V", "C2 10 µF 16 V electrolytic"}  # “Elkos” says so


def test_the_rest_of_a_board_stays_on_it() -> None:
    found = facts("PSU board\nBipolar:\nC1 1uF 50V\nOther caps\nC2 10uF 16V\nOther radials:\nC3 10uF 16V")
    assert found[1:] == ["C2 10 µF 16 V @ PSU board", "C3 10 µF 16 V radial @ PSU board"]


def test_a_class_of_parts_ends_with_the_next_board_but_what_is_said_of_all_boards_holds() -> None:
    assert facts("Axial:\nC1 1uF 50V\nMain board:\nC2 10uF 16V")[1] == "C2 10 µF 16 V @ Main board"
    assert facts("Axial:\nMain board:\nC2 10uF 16V") == ["C2 10 µF 16 V axial @ Main board"]
    assert facts("All axial:\nC1 1uF 50V\nMain board:\nC2 10uF 16V")[1] == "C2 10 µF 16 V axial @ Main board"


def test_other_parts_end_what_was_said_of_capacitors() -> None:
    assert facts("Tantalum:\nC1 1uF 35V\nDiodes:\nD1 1N4148\nC2 10uF 16V")[1] == "C2 10 µF 16 V"


@pytest.mark.parametrize(
    ("line", "fact"),
    [
        ("1x 100", "- 100 µF ?unit-missing"),
        ("3 x 4.7", "- x3 4.7 µF ?unit-missing"),
        ("(2) 33", "- x2 33 µF ?unit-missing"),
        ("qty 3: 220", "- x3 220 µF ?unit-missing"),
        ("6 off 2.2", "- x6 2.2 µF ?unit-missing"),
        ("3x 470 50V", "- x3 470 µF 50 V ?unit-missing"),
        ("470 50V", "- 470 µF 50 V ?unit-missing"),
        ("100 16V radial", "- 100 µF 16 V radial ?unit-missing"),
        ("2 x 0.33", "- x2 0.33 µF"),
    ],
)
def test_a_bare_value_in_a_kit_is_read_and_doubted(line: str, fact: str) -> None:
    assert facts(f"4 x 10uF 25V\n2x 47uF 16V\n{line}\n")[2:] == [fact]


@pytest.mark.parametrize("line", ["2x 7805", "2 x 1k", "3x BC547", "2x 10 ohm", "1x 40-pin socket", "3x 555"])
def test_other_parts_in_a_kit_are_no_values(line: str) -> None:
    assert facts(f"4 x 10uF 25V\n2x 47uF 16V\n{line}\n")[2:] == []


def test_where_counts_stand_behind_the_value_comes_first() -> None:
    assert facts("10uF x 4\n22uF x 2\n100 x 3\n")[2] == "- x3 100 µF ?unit-missing"


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ("elektrolityczny, stojący", "radial electrolytic"),
        ("elektrolityczne osiowe", "axial electrolytic"),
        ("foliowy", "film"),
        ("ceramiczny", "ceramic"),
        ("tantalowy", "tantalum"),
        ("bipolarny, leżący", "axial bipolar"),
        ("opolär", "bipolar"),
        ("elektrolyt, axiell", "axial electrolytic"),
        ("keramisk", "ceramic"),
        ("upolær", "bipolar"),
        ("keraaminen", "ceramic"),
        ("tantaali", "tantalum"),
        ("elektrolyytti, aksiaalinen", "axial electrolytic"),
        ("elektrolytický radiální", "radial electrolytic"),
        ("nepolární", "bipolar"),
        ("svitkový", "film"),
        ("eletrolítico axial", "axial electrolytic"),
        ("não polarizado", "bipolar"),
        ("cerâmico", "ceramic"),
        ("kerámia", "ceramic"),
        ("bipoláris, álló", "radial bipolar"),
        ("電解", "electrolytic"),
        ("無極性電解コンデンサ", "bipolar"),
        ("積層セラミックコンデンサ", "ceramic"),
        ("フィルム", "film"),
        ("タンタル", "tantalum"),
        ("электролитический", "electrolytic"),
        ("неполярный", "bipolar"),
        ("плёночный", "film"),
        ("PP", "film"),
        ("MKP", "film"),
        ("PET", "film"),
        ("KP", "film"),
    ],
)
def test_kind_and_mount_are_read_in_more_languages_without_suspicion(words: str, said: str) -> None:
    assert facts(f"C1 2.2uF 50V {words}") == [f"C1 2.2 µF 50 V {said}"]


def test_film_stays_film_under_a_remark_on_all_electrolytics() -> None:
    found = facts("All electrolytics are 105C radial unless noted\nC1 10uF 50V\nC2 0.39uF 400V PP\nC3 8200pF 1.6kV PP")
    assert [fact.split()[-1] for fact in found] == ["electrolytic", "film", "film"]


@pytest.mark.parametrize(
    "header",
    [
        "部品番号\t種類\t容量(μF)\t耐圧(V)\t数量\t備考",
        "Oznaczenie\tTyp\tPojemność (µF)\tNapięcie (V)\tIlość\tUwagi",
        "Beteckning\tTyp\tKapacitans (µF)\tSpänning (V)\tAntal\tAnmärkning",
        "Označení\tDruh\tKapacita µF\tNapětí V\tKs\tPoznámka",
        "Referência\tTipo\tCapacitância (uF)\tTensão (V)\tQuantidade\tObservações",
        "Обозначение\tТип\tЁмкость (µF)\tНапряжение (V)\tКол-во\tПримечание",
        "Tunnus\tTyyppi\tKapasitanssi [uF]\tJännite [V]\tKpl\tHuomautus",
    ],
)
def test_headers_with_units_in_more_languages(header: str) -> None:
    assert facts(f"{header}\nC1\t\t10\t16\t1\t\nC2\t\t0.1\t100\t1\t\n") == ["C1 10 µF 16 V", "C2 0.1 µF 100 V"]


def test_cyrillic_letters_that_look_like_latin_ones() -> None:
    assert facts("С12 10 мкФ 16 В") == ["C12 10 µF 16 V"]


def row(note: str) -> str:
    head = "Ref | Value | Volts | Type | Notes\n---|---|---|---|---\n"
    return facts(f"{head}C5 | 100µF | 16V | Radial electrolytic | {note}")[0]


@pytest.mark.parametrize(
    "note",
    ["polymer 100µF 16V is fine here", "polymer: 330µF 16V, 8x9", "film 100µF/25V, 10x20", "or tantalum", "tantalum OK",
     "ceramic would do", "SMD possible too", "oder axial", "max. 8mm wide"],
)  # fmt: skip
def test_what_would_do_too_says_nothing_of_the_part(note: str) -> None:
    assert row(note) == "C5 100 µF 16 V radial electrolytic"


def test_a_note_that_states_the_part_is_taken() -> None:
    assert row("bipolar!") == "C5 100 µF 16 V radial bipolar"
    assert row("8x12, 105°C") == "C5 100 µF 16 V 105 °C radial electrolytic D8 H12"


@pytest.mark.parametrize(
    "remark",
    ["(this is C531 on early sets)", "(C531 on early sets)", ", see C531", "next to C531", "(called C531 elsewhere)"],
)
def test_a_designator_that_is_only_spoken_of_is_no_position(remark: str) -> None:
    assert facts(f"C530 220uF 16V {remark}") == ["C530 220 µF 16 V"]


def test_a_designator_that_shares_the_line_is_a_position() -> None:
    assert facts("C1 10uF 16V and C2")[1] == "C2 ? ?value-missing"
    assert facts("C1 10uF 16V (also C2)")[1] == "C2 ? ?value-missing"
    assert facts("C1 10uF 16V C2 do.")[1] == "C2 10 µF 16 V"


def test_another_part_beside_a_capacitor_is_left_out() -> None:
    assert facts("C305  CERAMIC 100PF 50V K     R301  CARBON 100 1/4W J") == ["C305 100 pF 50 V ceramic"]
    assert facts("C306  ELECT 10UF 16V     R302  4.7K") == ["C306 10 µF 16 V electrolytic"]
    assert facts("C310  10UF 16V    C311 22UF 25V") == ["C310 10 µF 16 V", "C311 22 µF 25 V"]
    assert facts("C313  R47 35V tantalum") == ["C313 0.47 µF 35 V tantalum"]


@pytest.mark.parametrize(
    ("text", "size"),
    [
        ("longueur 45 mm", "H45"),
        ("corpo lungo 30 mm", "H30"),
        ("lengte 30 mm", "H30"),
        ("pas de 7,5 mm", "P7.5"),
        ("passo di 7,5 mm", "P7.5"),
        ("lead spacing of 5 mm", "P5"),
        ("średnica 10", "D10"),
        ("fi 8", "D8"),
    ],
)
def test_lengths_in_words(text: str, size: str) -> None:
    assert facts(f"C1 100 µF 25 V, {text}") == [f"C1 100 µF 25 V {size}"]


@pytest.mark.parametrize(
    "title", ["Recap order for the Example 40 synth (2 boards)", "Capacitor list for all boards of the Example 12"]
)
def test_a_title_that_counts_the_boards_names_none(title: str) -> None:
    assert facts(f"{title}\n\nC1 10uF 16V") == ["C1 10 µF 16 V"]


def test_a_sum_below_a_table_is_no_position() -> None:
    assert facts("Board,Ref,Value (µF),Volts\nMain,C1,10,16\nMain,C2,22,16\n,Total,22,\n") == [
        "C1 10 µF 16 V @ Main",
        "C2 22 µF 16 V @ Main",
    ]


def test_a_tiny_unpolarised_part_is_no_electrolytic_and_messages_name_it_in_its_unit() -> None:
    assert facts("C1 22pF unpolarized") == ["C1 22 pF"]
    _, told = read("C1 470pF electrolytic")
    assert "an electrolytic of 470 pF" in told[0].message


def test_quoted_cells_without_a_header_keep_their_commas_apart() -> None:
    assert facts('C1,100uF,16V\nC2,"4,70uF",16V\nC3,"2,2uF",50V\n"C4","0,1uF","63V","radial, 5x11"') == [
        "C1 100 µF 16 V",
        "C2 4.7 µF 16 V",
        "C3 2.2 µF 50 V",
        "C4 0.1 µF 63 V radial D5 H11",
    ]


def test_a_comma_on_the_wrong_side_of_its_blank_is_no_decimal() -> None:
    assert facts("C1 10uF ,16V") == ["C1 10 µF 16 V"]


def test_a_rating_below_a_volt_is_doubted() -> None:
    assert facts("C1 10uF .16V") == ["C1 10 µF 0.16 V ?odd-voltage"]


@pytest.mark.parametrize(
    "text", ["(D x H: 5 x 11 mm)", "DxH 5x11", "HxD 11x5", "L x D = 11 x 5 mm", "Ø x L: 5 x 11", "H x Ø: 11 x 5"]
)
def test_a_legend_says_which_length_is_which(text: str) -> None:
    assert facts(f"C1 10uF 16V {text}")[0].startswith("C1 10 µF 16 V D5 H11")


@pytest.mark.parametrize(
    ("line", "fact"),
    [
        ("zwei Stück 100µF 25V", "- x2 100 µF 25 V"),
        ("drei 47µF 16V", "- x3 47 µF 16 V"),
        ("two axial 470uF 10V", "- x2 470 µF 10 V axial"),
        ("deux condensateurs 4,7 µF 63 V", "- x2 4.7 µF 63 V"),
        ("due da 10 µF 50 V", "- x2 10 µF 50 V"),
        ("100uF 16V - three pieces", "- x3 100 µF 16 V"),
        ("a couple of 10uF 25V", "- 10 µF 25 V ?marked-uncertain"),
        ("ein paar 1µF", "- 1 µF ?marked-uncertain"),
    ],
)
def test_counts_in_words_are_counts_and_loose_ones_are_doubted(line: str, fact: str) -> None:
    assert facts(f"1x 22uF 16V\n{line}\n")[1:] == [fact]


def test_a_number_word_beside_designators_counts_nothing() -> None:
    assert facts("C1 10uF 25V one of the bad ones") == ["C1 10 µF 25 V"]


@pytest.mark.parametrize("line", ["C5 dual 20uF 450V", "C5 twin 20uF 450V", "C5 20µF 450V, two sections"])
def test_a_lone_value_of_a_can_of_several_sections_is_doubted(line: str) -> None:
    assert facts(line) == ["C5 20 µF 450 V ?remark-unclear"]


def test_about_before_a_value_is_no_designator() -> None:
    assert facts("C11 ca. 22µF?") == ["C11 22 µF ?marked-uncertain"]


@pytest.mark.parametrize(
    "text",
    [
        "C1: 10uF\n    16V\nC2: 22uF\n    25V",
        "C1 10uF\n16V\nC2 22uF\n25V",
        "- C1: 10uF\n  - 16V\n- C2: 22uF\n  - 25V",
    ],
)
def test_a_voltage_below_its_record_heads_nothing(text: str) -> None:
    assert facts(text) == ["C1 10 µF 16 V", "C2 22 µF 25 V"]


def test_a_voltage_above_records_heads_them() -> None:
    assert facts("16V\nC1 10uF\n25V\nC2 22uF") == ["C1 10 µF 16 V", "C2 22 µF 25 V"]
    assert facts("C1 10uF 10V\n  Radial:\n  C2 22uF")[1] == "C2 22 µF radial"


def test_indented_attributes_belong_to_the_record_above() -> None:
    found = facts("C1 10uF 16V\n   radial, 105C\nC2 22uF 25V\n   5x11\nC3 1uF 50V")
    assert found == ["C1 10 µF 16 V 105 °C radial", "C2 22 µF 25 V D5 H11", "C3 1 µF 50 V"]


@pytest.mark.parametrize("line", ["C2 2 in parallel 1000uF 50V", "C2 1000uF 50V, two in parallel"])
def test_parts_beside_each_other_at_one_place_are_doubted(line: str) -> None:
    assert facts(line) == ["C2 1000 µF 50 V ?count-mismatch"]


@pytest.mark.parametrize("name", ["ELKO1", "KON3", "COND4:"])
def test_a_name_that_may_be_a_designator_is_not_lost_in_silence(name: str) -> None:
    assert facts(f"{name} 10uF 16V") == ["- 10 µF 16 V ?ref-unread"]


@pytest.mark.parametrize(
    "line",
    ["C8 10uF 16V between R5 and R6", "C8 near D5 10uF 16V", "C8 10uF 16V (across R9)", "C8 10uF 16V, Q1 2SC1815"],
)
def test_neighbours_are_neither_sizes_nor_records(line: str) -> None:
    assert facts(line) == ["C8 10 µF 16 V"]


def test_types_and_resistors_in_capitals_name_no_board() -> None:
    assert facts("LM7805\n1N4148\n0.1uF 50V x3\n470R\n33p ceramic x2") == ["- x3 0.1 µF 50 V", "- x2 33 pF ceramic"]


@pytest.mark.parametrize("end", ["polarised ones", "Polarized", "Gepolt:", "Polarised electrolytics"])
def test_polarised_parts_end_those_without_polarity(end: str) -> None:
    assert "bipolar" not in facts(f"Bipolar:\nC1 1uF 50V\n{end}\nC2 10uF 16V")[1]


@pytest.mark.parametrize("end", ["Through hole caps:", "THT:", "leaded"])
def test_leaded_parts_end_those_on_the_surface(end: str) -> None:
    assert facts(f"SMD:\nC1 1uF 50V\n{end}\nC2 10uF 16V")[1] == "C2 10 µF 16 V"


def test_a_heading_of_a_safety_class_states_it() -> None:
    found = facts("X2 safety caps:\nC1 100nF 275V\nElkos:\nC2 10uF 16V")
    assert found == ["C1 0.1 µF 275 V safety X2", "C2 10 µF 16 V electrolytic"]


def test_two_boards_on_one_line() -> None:
    assert facts("PSU: C1 10uF 16V; C2 22uF 25V. Audio: C3 1uF 50V") == [
        "C1 10 µF 16 V @ PSU",
        "C2 22 µF 25 V @ PSU",
        "C3 1 µF 50 V @ Audio",
    ]


def test_thousands_in_a_list_of_decimal_commas_are_doubted() -> None:
    assert facts("C1 1,500uF 16V\nC2 4,7uF 50V")[0] == "C1 ? 16 V ?thousands-or-decimal"
    assert facts("C1 1,500uF 16V\nC2 4.7uF 50V")[0] == "C1 1500 µF 16 V"


@pytest.mark.parametrize("line", ["10uF 16V - 4", "10uF 16V: 4", "10uF 16V, 4", "10uF 16V ....... 4", "10uF 16V [4]"])
def test_a_number_at_the_end_is_the_count_and_doubted(line: str) -> None:
    assert facts(line) == ["- x4 10 µF 16 V ?number-unread"]


@pytest.mark.parametrize("line", ["0)]", "4)]", ")]}4", "4)))"])
def test_a_number_among_brackets_alone_is_no_record(line: str) -> None:
    assert facts(line) == []


def test_an_asterisk_is_a_times_sign_behind_a_unit() -> None:
    assert facts("10uF@16V*4\n100nF*10") == ["- x4 10 µF 16 V", "- x10 0.1 µF"]
    assert facts("C170* 10uF 16V") == ["C170 10 µF 16 V"]


def test_a_place_called_free_in_front_is_free_and_one_free_in_some_sets_is_doubted() -> None:
    assert facts("C1 1uF 16V\nDNP: C9 10uF") == ["C1 1 µF 16 V"]
    assert facts("C1 1uF 16V\nC9 10uF 16V DNP") == ["C1 1 µF 16 V"]
    assert facts("C9 10uF (not fitted on EU sets)") == ["C9 10 µF ?fitted-sometimes"]
    assert facts("C9 47µF 16V nicht bestückt bei früher Serie") == ["C9 47 µF 16 V ?fitted-sometimes"]


def test_a_designator_over_its_named_fields() -> None:
    text = "C5\nValue: 47uF\nVoltage: 16V\n\nC6\nValue: 10uF\nVoltage: 25V"
    assert facts(text) == ["C5 47 µF 16 V", "C6 10 µF 25 V"]


@pytest.mark.parametrize("either", ["50 o 63 V", "50 oder 63 V", "50 ou 63 V", "50 of 63 V"])
def test_two_voltages_are_a_choice_in_every_language(either: str) -> None:
    assert facts(f"C8 10 µF {either}") == ["C8 10 µF ?alternatives"]


def test_the_same_in_the_middle_of_a_line() -> None:
    assert facts("C1: 10uF 16V, C2: same, C3: 22uF 25V") == ["C1 10 µF 16 V", "C2 10 µF 16 V", "C3 22 µF 25 V"]


def test_words_among_designators_leave_open_whose_the_value_is() -> None:
    assert facts("C4 10uF 16V, C5 ok, C6 22uF 25V")[1:] == [
        "C5 22 µF 25 V ?remark-unclear",
        "C6 22 µF 25 V ?remark-unclear",
    ]
    assert facts("C7 (left channel), C8 (right channel): 10uF 16V") == ["C7 10 µF 16 V", "C8 10 µF 16 V"]


@pytest.mark.parametrize("times", ["times 2", "by 2", "mal 2"])
def test_times_in_words_behind_a_value(times: str) -> None:
    assert facts(f"220uF 16V {times}") == ["- x2 220 µF 16 V ?number-unread"]


def test_a_bare_number_beside_a_part_without_designator_is_never_lost_in_silence() -> None:
    assert facts("470uF 10V red one 3") == ["- 470 µF 10 V ?number-unread"]


@pytest.mark.parametrize("line", ["Keyboard: no electrolytics", "No axials here", "(keine Elkos)"])
def test_what_a_heading_denies_holds_nowhere(line: str) -> None:
    assert facts(f"{line}\nPSU: C1 2200uF 25V") == ["C1 2200 µF 25 V @ PSU"]


@pytest.mark.parametrize("least", ["or better", "or higher", "oder höher", "ou plus", "o superiore", "or more"])
def test_or_better_behind_a_rating_leaves_it_and_the_count_as_they_are(least: str) -> None:
    assert facts(f"22uF (16V {least}, 2.5mm pitch): 2x") == ["- x2 22 µF 16 V P2.5"]
    assert facts(f"C5 22uF 16V {least}, radial") == ["C5 22 µF 16 V radial"]


def test_a_bracketed_remark_ends_with_its_bracket() -> None:
    assert facts("22uF (use 25V types instead): 2x") == ["- x2 22 µF"]
    assert facts("10uF 16V (use 22uF 25V): C3, C4") == ["C3 10 µF 16 V", "C4 10 µF 16 V"]


def test_headings_of_capacitors_among_those_of_other_parts_state_what_they_state() -> None:
    text = (
        "**SMD resistors (0805):**\n- 10k: 4x\n\n**SMD caps (0805) (25V or better):**\n- 100n: 12x\n\n"
        "**Electrolytics:**\n- 22uF (16V or better, 2.5mm pitch): 2x\n"
    )
    assert facts(text) == ["- x12 0.1 µF 25 V smd", "- x2 22 µF 16 V electrolytic P2.5"]
    text = "Resistors\n====\n10k R1\n\nCapacitors (Ceramic 0402 SMD)\n====\n100nF C1"
    assert facts(text) == ["C1 0.1 µF smd ceramic"]


def test_a_diodes_number_written_apart_is_no_nanofarad() -> None:
    assert facts("Schottkydiode 1N 5822 (40 V, 3 A, DO-201AD)\nC1 10uF 16V") == ["C1 10 µF 16 V"]
    assert facts("C5 1N 100V film") == ["C5 1 nF 100 V film"]


@pytest.mark.parametrize(
    "told",
    ["3,5mm Beinabstand", "Beinchenabstand 3,5mm", "Pinabstand 3,5 mm", "3,5 mm Anschlussabstand", "Lochabstand: 3,5"],
)
def test_german_words_for_the_lead_pitch(told: str) -> None:
    assert facts(f"C1 Elko 100 µF 35V {told}") == ["C1 100 µF 35 V electrolytic P3.5"]


def test_a_schematics_sheet_is_no_board() -> None:
    text = "Assembly variant:\n\nPart   Value     Library   Sheet\n\nC1     10u       rcl       1\n"
    assert facts(text) == ["C1 10 µF"]


def test_sections_of_other_parts_in_several_languages_name_no_board() -> None:
    text = (
        "| Onderdeel | Waarde / Beschrijving |\n|---|---|\n| **IC's & Actief** | |\n| QX55 | NPN |\n"
        "| **Relais & Connectoren** | |\n| G5 | Relais 5V |\n| **Condensatoren** | |\n| 100nF | 50V X7R |\n"
    )
    assert facts(text) == ["- 0.1 µF 50 V ceramic"]
    table = "| Description | Value | Quantity |\n|---|---|---|\n| Op Amp | QX074 | 2 |\n| Cap | 10uF | 2 |"
    assert facts(table) == ["- x2 10 µF"]


def test_a_voltage_mark_inside_a_longer_number_is_none() -> None:
    assert facts("C1 1uF 50V K420C105K5R5QA") == ["C1 1 µF 50 V"]


def test_the_two_sizes_of_a_chip_are_no_capacitance_and_voltage() -> None:
    assert facts("Main board electrolytics (SMD) 1206/3216.\nC1 33uF 6.3V")[-1] == "C1 33 µF 6.3 V"
    assert len(facts("Main board electrolytics (SMD) 1206/3216.\nC1 33uF 6.3V")) == 1


def test_numbers_of_rows_beside_a_column_of_counts_are_no_counts() -> None:
    table = "| # | Bauteil | Anzahl |\n|---|---|---|\n| 11 | Elko 470µF / 25V | 1 |\n| 13 | Elko 100µF / 10V | 7 |"
    assert facts(table) == ["- 470 µF 25 V electrolytic", "- x7 100 µF 10 V electrolytic"]


def test_a_column_headed_position_may_hold_descriptions() -> None:
    table = "| Position | Menge |\n|---|---|\n| Widerstand 1,0 kΩ | 10 |\n| Elko 470 µF/25 V radial | 2 |"
    assert facts(table) == ["- x2 470 µF 25 V radial electrolytic"]


def test_a_boards_name_has_no_number_of_a_chapter_and_no_bracketed_remark() -> None:
    text = "## 7. Power Supply\n\nC1 100µF 63V\n\n## Audio Board 55-62 [These fit great!]\n\nC1 47uF 4V\n"
    assert facts(text) == ["C1 100 µF 63 V @ Power Supply", "C1 47 µF 4 V @ Audio Board 55-62"]


def test_a_further_column_of_values_is_what_replaced_them() -> None:
    text = (
        "C1\t33uF\t6.3V \t\t\t47uF/16V 1210 (X5R)\nC5\t22uF\t35V \t\t22uF, 50V, 105C, 5000 Hour\n"
        "C6\t100uF\t6.3V \t6x5\t\t100uF/6.3V/7000 Hour\nC7\t47uF\t4V \t\t4x5\n"
    )
    assert facts(text) == ["C1 33 µF 6.3 V", "C5 22 µF 35 V", "C6 100 µF 6.3 V D6 H5", "C7 47 µF 4 V D4 H5"]


def test_one_line_with_a_value_far_behind_it_is_no_habit() -> None:
    assert facts("C1 33uF 6.3V     47uF 16V\nC2 10uF 16V") == ["C1 ? ?value-conflict ?volts-conflict", "C2 10 µF 16 V"]
