"""Rows that a list says to leave: they stay positions, with the words as note, and that is said aloud.

Whether such a part is on the job is for the owner of the set to say. Only where a column or a heading sorts the rows
of a list into those to be done and others, a row of the others is doubted. The wordings are those of people who pass
lists on and of sheets with a column for the state of each part (common practice).
"""

from __future__ import annotations

import pytest

from recap.diagnostics import Severity
from recap.normalise.caplist import read_cap_text
from tests.normalise.facts import codes, facts


@pytest.mark.parametrize(
    "words",
    [
        "ok", "OK.", "(ok)", "- leave", "leave alone", "leave as is", "don't touch", "do not replace", "skip",
        "already replaced", "(already done)", "tested ok", "still ok", "no change", "keep original", "schon getauscht",
        "bereits ersetzt", "nicht tauschen", "bleibt drin", "ne pas toucher", "déjà remplacé", "già sostituito",
        "non toccare", "ya cambiado", "niet vervangen", "i.O.",
    ],
)  # fmt: skip
def test_a_part_that_stays_is_a_position_and_a_note_says_so(words: str) -> None:
    line = f"C11 47uF 25V\nC12 10uF 16V {words}\nC13 1uF 50V\n"
    table = f"Ref | Value | V | Note\nC11 | 47uF | 25 |\nC12 | 10uF | 16 | {words}\nC13 | 1uF | 50 |\n"
    for text, row in ((line, 2), (table, 3)):
        positions, told = read_cap_text(text, "list.txt")
        assert [(p.ref, p.value_uF, p.volts) for p in positions] == [("C11", 47, 25), ("C12", 10, 16), ("C13", 1, 50)]
        assert words.strip("(-) .").casefold() in (positions[1].note or "").casefold()
        assert [(d.source.row, d.severity) for d in told if d.code == "left-alone"] == [(row, Severity.NOTE)]


@pytest.mark.parametrize(
    "words",
    [
        "tantalum ok", "axial ok", "leave room for the heat sink", "new", "replace", "keep away from the coil",
        "no polarity mark", "near the ok lamp", "replaced with 22uF 35V",
    ],
)  # fmt: skip
def test_what_says_something_else_is_no_such_note(words: str) -> None:
    assert "left-alone" not in [code for _, code in codes(f"C11 47uF 25V\nC12 10uF 16V {words}")]


@pytest.mark.parametrize("words", ["leave it unless it is cracked", "a disc, leave that one alone", "leave it if ok"])
def test_a_sentence_that_says_so_among_other_things_is_noted(words: str) -> None:
    assert (2, "left-alone") in codes(f"C11 47uF 25V\nC12 10nF 500V - {words}")


@pytest.mark.parametrize(
    "sentence", ["C1 and C3 are already replaced.", "Don't touch C1 and C3!", "Leave C1, C3 alone"]
)
def test_a_sentence_behind_the_list_says_so_of_those_it_names(sentence: str) -> None:
    text = f"C1 10uF 25V\nC2 47uF 16V\nC3 1uF 50V\n\n{sentence}"
    assert facts(text) == ["C1 10 µF 25 V", "C2 47 µF 16 V", "C3 1 µF 50 V"]
    assert [row for row, code in codes(text) if code == "left-alone"] == [1, 3]


@pytest.mark.parametrize("heading", ["Already replaced:", "Leave these:", "DO NOT TOUCH", "## Schon getauscht"])
def test_a_heading_says_so_of_the_parts_below_it(heading: str) -> None:
    text = f"PSU\nC1 10uF 25V\n\n{heading}\nC2 47uF 16V\n\nStill to do:\nC3 1uF 50V\n\nAudio board\nC4 1uF 50V"
    assert [fact.split(" V ")[1] for fact in facts(text)] == ["@ PSU", "@ PSU ?left-alone", "@ PSU", "@ Audio board"]


def test_a_board_that_was_done_says_so_of_its_parts() -> None:
    found = facts("Main board (already recapped)\nC3 47uF 16V\nAudio board\nC4 47uF 16V")
    assert [fact.endswith("?left-alone") for fact in found] == [True, False]


@pytest.mark.parametrize("header", ["Replace?", "Job", "Action", "Status", "To do", "Tauschen?", "Changer", "Replace"])
@pytest.mark.parametrize("stays", ["no", "leave", "ok", "already replaced", "N", "keep"])
def test_a_column_of_jobs_says_which_parts_stay(header: str, stays: str) -> None:
    text = f"Ref;Value;Volts;{header}\nC1;10uF;25;replace\nC2;47uF;16;{stays}\nC3;1uF;50;yes\nC4;1uF;50;\n"
    assert [fact.split(" V")[1] for fact in facts(text)] == ["", " ?left-alone", "", ""]
    assert not [code for _, code in codes(text) if code == "header-unknown"]


def test_a_place_that_is_empty_is_none_beside_parts_that_stay() -> None:
    text = "Ref;Value;Volts;Job\nC1;10uF;25;leave\nC2;47uF;16;EMPTY\nC3;1uF;50;DNP\nC4;1uF;50;replace\n"
    assert facts(text) == ["C1 10 µF 25 V ?left-alone", "C4 1 µF 50 V"]


def test_ticks_are_named_and_change_nothing() -> None:
    text = "Ref;Value;Volts;Done\nC1;10uF;25;x\nC2;47uF;16;\nC3;1uF;50;yes\nC4;1uF;50;no\n"
    assert facts(text) == ["C1 10 µF 25 V", "C2 47 µF 16 V", "C3 1 µF 50 V", "C4 1 µF 50 V"]
    _, told = read_cap_text(text, "list.txt")
    assert [d.message for d in told if d.code == "ticks-passed-over"] == [
        "column 'Done' marks rows 2, 4; they were read like the others"
    ]


@pytest.mark.parametrize("header", ["Keep", "Leave", "Skip?", "Bleibt"])
def test_a_column_of_parts_to_keep_says_which_stay(header: str) -> None:
    text = f"Ref;Value;Volts;{header}\nC1;10uF;25;x\nC2;47uF;16;\nC3;1uF;50;no\n"
    assert [fact.endswith("?left-alone") for fact in facts(text)] == [True, False, False]
