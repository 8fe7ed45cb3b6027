"""What stands beside a list and speaks of parts in it: corrections, other owners' findings, footnotes.

A list and a later sentence are two statements about one part. Nothing decides between them but the part itself, so
the listed value stays and the position is doubted; a sentence that agrees says nothing new.
"""

from __future__ import annotations

import pytest

from tests.normalise.facts import codes, facts, read

LISTED = "C21 47uF 25V\nC22 10uF 16V\nC23 100uF 35V\n"


@pytest.mark.parametrize(
    "sentence",
    [
        "Some sets of this type have 100uF at C21",
        "In later sets C21 was changed from 47uF to 68uF",
        "Is C21 really 25V? Mine has 50V written on it.",
        "for C21 I noted 25V, the other channel says 16V??",
        "Nachtrag: C21 hat bei mir 35 V",
        "Nota: nello schema C21 è 33 uF, vedete voi",
        "I'm not sure about C21, the print is gone",
    ],
)
def test_a_sentence_that_speaks_against_a_position_makes_it_doubted(sentence: str) -> None:
    found = facts(LISTED + "\n" + sentence)
    assert found == ["C21 47 µF 25 V ?remark-unclear", "C22 10 µF 16 V", "C23 100 µF 35 V"]


@pytest.mark.parametrize(
    "sentence",
    [
        "C21 was dead in all the sets I have had",
        "edit: yes C21 is 47uF 25V",
        "Errata: the old table had C21 at 50V, 25V is right.",
        "I replaced C21 with 100uF 50V, works fine",
        "I put 35V parts in at C21 and C22",
        "someone told me that his has another one at C21, mine is fine",
    ],
)
def test_a_sentence_that_agrees_or_tells_what_was_fitted_doubts_nothing(sentence: str) -> None:
    assert facts(LISTED + "\n" + sentence) == ["C21 47 µF 25 V", "C22 10 µF 16 V", "C23 100 µF 35 V"]


def test_the_doubt_names_the_row_and_what_stands_there() -> None:
    told = read(LISTED + "\nMine has 50V at C23")[1]
    doubt = next(d for d in told if d.code == "remark-unclear")
    assert doubt.source.row == 3
    assert "row 5 says 50 V of C23, listed with 35 V" in doubt.message


@pytest.mark.parametrize(
    ("sentence", "expected"),
    [
        ("edit: C21 is 35V, I had the loupe upside down", "C21 47 µF 35 V ?corrected"),
        ("Errata: the parts list is wrong, C21 is 470uF", "C21 470 µF 25 V ?corrected"),
        ("typo: C21 should be 35V", "C21 47 µF 35 V ?corrected"),
        ("C21 is actually 220uF", "C21 220 µF 25 V ?corrected"),
        ("C21 should be 35V, not 25V.", "C21 47 µF 35 V ?corrected"),
        ("Sorry, mistake. C21 is 22uF 50V", "C21 22 µF 50 V ?corrected"),
        ("Korrektur: C21 hat 220 µF", "C21 220 µF 25 V ?corrected"),
        ("Tippfehler! C21 ist 35 V", "C21 47 µF 35 V ?corrected"),
        ("Erreur : C21 est de 220 µF", "C21 220 µF 25 V ?corrected"),
        ("rettifica: C21 è da 220 µF", "C21 220 µF 25 V ?corrected"),
    ],
)
def test_a_plain_correction_is_taken_and_doubted(sentence: str, expected: str) -> None:
    for text in (f"{LISTED}\n{sentence}", f"{sentence}\n\n{LISTED}"):
        assert facts(text) == [expected, "C22 10 µF 16 V", "C23 100 µF 35 V"]


@pytest.mark.parametrize(
    "sentence",
    [
        "correction: C21 was changed to 68uF in later sets",
        "edit: on mine C21 is 35V",
        "C21 was 100uF",
        "C21 should be 35V",
        "typo: C21 is 35V or 50V",
        "C21 is 100uF",
        "C21 must be a bipolar one",
        "error: perhaps C21 is 470uF",
    ],
)
def test_what_corrects_nothing_plainly_leaves_the_listed_value_with_a_doubt(sentence: str) -> None:
    assert facts(f"{LISTED}\n{sentence}") == ["C21 47 µF 25 V ?remark-unclear", "C22 10 µF 16 V", "C23 100 µF 35 V"]


def test_a_correction_that_is_taken_back_corrects_nothing() -> None:
    chat = "oh wait, C21 is 35V not 25V\nno, ignore that, it was the other board"
    assert facts(f"{LISTED}\n{chat}")[0] == "C21 47 µF 25 V ?remark-unclear"


def test_a_correction_gives_what_was_missing() -> None:
    assert facts("C1 10uF 25V\nC2 35V\nC3 1uF 50V\noops: C2 is 100uF")[1] == "C2 100 µF 35 V ?corrected"


def test_on_another_board_the_same_words_list_another_part() -> None:
    found = facts("Board A\nC5 100uF 16V\nBoard B\nC5 is 220uF 25V")
    assert found == ["C5 100 µF 16 V @ Board A", "C5 220 µF 25 V @ Board B"]


def test_what_a_part_was_is_doubted_where_nothing_says_what_it_is() -> None:
    assert facts("C5 was 100uF\nC6 10uF 16V") == ["C5 100 µF ?original-unclear", "C6 10 µF 16 V"]
    assert facts("C5 was 100uF 16V, now 220uF 16V")[0] == "C5 100 µF 16 V"


def test_a_sheet_of_notes_speaks_of_the_list_on_another_sheet() -> None:
    note = "| Ref | Value | V |\n|---|---|---|\n| C1 | 10uF | 16 |\n\nNotes\n\nC1 reads 22uF on closer look"
    assert facts(note) == ["C1 10 µF 16 V ?remark-unclear"]


def test_a_sentence_about_a_listed_part_is_no_further_position() -> None:
    """On a list without boards a designator stands for one part; a comment that names it again adds none."""
    comments = "anna: in my deck C6 has 35 V on its sleeve\nbert: thanks, C6 10 µF 50 V is in mine"
    text = f"C5 47 µF 16 V\nC6 10 µF 50 V\n\nComments\n{comments}"
    assert facts(text) == ["C5 47 µF 16 V", "C6 10 µF 50 V ?remark-unclear"]


def test_a_sentence_that_names_another_value_is_warned_of_at_its_own_row_too() -> None:
    text = "C5 47 µF 16 V\nC6 10 µF 50 V\n\nyes, I install 100 µF 25 V at C5 as a rule"
    assert facts(text) == ["C5 47 µF 16 V", "C6 10 µF 50 V"]
    assert codes(text) == [(4, "prose-names-part")]


def test_designators_that_recur_on_another_board_are_positions() -> None:
    text = "Left board\nC1 10uF 25V\nC2 22uF 25V\nRight board\nC1 10uF 25V\nC2 47uF 25V near the big relay on the side"
    assert [fact.split(" @ ")[1] for fact in facts(text)] == ["Left board", "Left board", "Right board", "Right board"]


def test_an_item_that_begins_with_its_designator_stays_a_position() -> None:
    found = facts("- C5 10uF 25V input side of the left amp\n- C5 47uF 25V output side of the right amp, by the relay")
    assert found == ["C5 10 µF 25 V ?ref-twice", "C5 47 µF 25 V ?ref-twice"]


@pytest.mark.parametrize(
    ("line", "expected"),
    [
        ("PS: forgot C24, 33uF 10V", "C24 33 µF 10 V"),
        ("Issue B and later: add C24, 33uF 10V, across ZD1", "C24 33 µF 10 V ?fitted-sometimes"),
    ],
)
def test_what_a_sentence_adds_is_a_position(line: str, expected: str) -> None:
    assert expected in facts(LISTED + "\n" + line)


def test_a_heading_with_a_remark_on_another_board_in_brackets_is_a_heading() -> None:
    heading = "Power amp left (the right one is the same, C201 etc., not listed):"
    text = f"Hello all,\nthe list so far.\n\n{heading}\nC101 1µF 50V\nC102 47µF 16V"
    assert facts(text) == ["C101 1 µF 50 V @ Power amp left", "C102 47 µF 16 V @ Power amp left"]


def test_modifications_and_comments_are_no_boards() -> None:
    text = "Main board\nC1 10uF 25V\n\nMODIFICATIONS\n1. From issue C on C1 is 22uF"
    assert facts(text) == ["C1 10 µF 25 V @ Main board ?remark-unclear"]
    assert (4, "line-passed-over") in codes(text)
