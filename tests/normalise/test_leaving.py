"""Rows that a list says to leave: they stay positions, with the words as note, and are doubted or warned of.

Whether such a part belongs to the job is for the owner of the set to say. The wordings are those of people who pass
lists on and of sheets with a column for the state of each part (common practice).
"""

from __future__ import annotations

import pytest

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
def test_a_part_that_stays_is_a_position_with_a_doubt_and_its_words(words: str) -> None:
    line = f"C11 47uF 25V\nC12 10uF 16V {words}\nC13 1uF 50V\n"
    table = f"Ref | Value | V | Note\nC11 | 47uF | 25 |\nC12 | 10uF | 16 | {words}\nC13 | 1uF | 50 |\n"
    for text in (line, table):
        positions, _ = read_cap_text(text, "list.txt")
        assert [(p.ref, p.value_uF, p.volts) for p in positions] == [("C11", 47, 25), ("C12", 10, 16), ("C13", 1, 50)]
        assert [p.doubts for p in positions] == [(), ("left-alone",), ()]
        assert words.strip("(-) .").casefold() in (positions[1].note or "").casefold()


@pytest.mark.parametrize(
    "words",
    [
        "tantalum ok", "axial ok", "leave room for the heat sink", "new", "replace", "keep away from the coil",
        "no polarity mark", "near the ok lamp", "replaced with 22uF 35V",
    ],
)  # fmt: skip
def test_what_says_something_else_leaves_no_such_doubt(words: str) -> None:
    assert "left-alone" not in facts(f"C11 47uF 25V\nC12 10uF 16V {words}")[1]


@pytest.mark.parametrize("words", ["leave it unless it is cracked", "a disc, leave that one alone", "leave it if ok"])
def test_a_sentence_that_says_so_among_other_things_is_warned_of(words: str) -> None:
    text = f"C11 47uF 25V\nC12 10nF 500V - {words}"
    assert "left-alone" not in facts(text)[1]
    assert (2, "left-alone") in codes(text)


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
