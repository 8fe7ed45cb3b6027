"""Headings that only their form shows: a short line over records names their board, whatever its words are.

Lists part their boards in these ways: common practice of forum posts, wikis, service sheets and spreadsheets.
"""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from recap.normalise.caplist import read_cap_text

ABOVE = "Main board\n\nC1 10uF 16V\nC2 22uF 25V\n\n"
BELOW = "\n\nC11 10uF 16V\nC12 22uF 25V\n"


def boards(between: str) -> list[str | None]:
    """Return the boards of the two positions below a line that stands between two runs of records."""
    positions, _ = read_cap_text(ABOVE + between + BELOW, "list.txt")
    assert [p.ref for p in positions] == ["C1", "C2", "C11", "C12"]
    assert [p.board for p in positions[:2]] == ["Main board", "Main board"]
    return [p.board for p in positions[2:]]


@pytest.mark.parametrize(
    ("heading", "board"),
    [
        ("A2 VERTICAL\n-----------", "A2 VERTICAL"),
        ("A3 SWEEP\n========", "A3 SWEEP"),
        ("VERTICAL\n--------", "VERTICAL"),
        ("Vertical:", "Vertical"),
        ("Son :", "Son"),
        ("## Previo de fono", "Previo de fono"),
        ("== Étage de sortie ==", "Étage de sortie"),
        ("<u>Charger</u>", "Charger"),
        ("<b>Charger</b>:", "Charger"),
        ("[b]Charger[/b]", "Charger"),
        ("'''Charger'''", "Charger"),
        ("**Charger:**", "Charger"),
        ("*Charger*", "Charger"),
        ("- Charger", "Charger"),
        ("**Power board (two versions, see below)**", "Power board"),
        ("Preamplificatore", "Preamplificatore"),
        ("Klangregelung", "Klangregelung"),
        ("Tuner & IF", "Tuner & IF"),
        ("Endst. links:", "Endst. links"),
        ("TONKOPF-VERSTÄRKER", "TONKOPF-VERSTÄRKER"),
    ],
)
def test_a_short_line_marked_as_a_heading_names_the_board(heading: str, board: str) -> None:
    assert boards(heading) == [board, board]


@pytest.mark.parametrize(
    "remark",
    [
        "**Check polarity before you pull anything!**",
        "Check polarity first",
        "Replaced already:",
        "Hope this helps",
        "Thanks!",
        "Note:",
        "Page 2",
        "Total",
        "OK",
        "BE CAREFUL",
        "LOW ESR ONLY",
        "Photo 3",
        "I replaced these:",
        "**Optional**",
        "Missing in my set:",
        "Model 62 adds:",
        "Transistors",
    ],
)
def test_a_remark_names_no_board(remark: str) -> None:
    assert boards(remark) == ["Main board", "Main board"]


@pytest.mark.parametrize(
    "heading",
    ["From the upper left of the case downwards:", "+12V rail:", "For what is in front:", "Deflection - see photo:"],
)
def test_a_heading_not_understood_is_never_silent(heading: str) -> None:
    positions, told = read_cap_text(f"{ABOVE}{heading}{BELOW}", "list.txt")
    said = [d for d in told if d.code == "heading-unclear"]
    assert [d.source.row for d in said if d.source] == [6]
    assert "'Main board' goes on below it" in said[0].message
    assert positions[-1].board == "Main board"


@pytest.mark.parametrize(
    ("row", "board"),
    [
        ("Preamplificatore\t\t\t", "Preamplificatore"),
        ("\tTuner\t\t", "Tuner"),
        ("Étage de sortie\t\t\t", "Étage de sortie"),
        ("** Charger **\t\t\t", "Charger"),
        ("Section 3\t\t\t", "Section 3"),
        ("Carte B (arrière)\t\t\t", "Carte B (arrière)"),
        ("Check polarity\t\t\t", None),
        ("\t\t\told stock", None),
        ("Total\t\t\t", None),
    ],
)
def test_the_only_filled_cell_of_a_row_over_records_names_the_board(row: str, board: str | None) -> None:
    head = "Ref\tValue\tVolts\tNote\nC1\t10uF\t16V\t\nC2\t22uF\t16V\t\n"
    positions, _ = read_cap_text(f"{head}{row}\nC11\t10uF\t16V\t\nC12\t22uF\t16V\t\n", "list.txt")
    assert [p.board for p in positions] == [None, None, board, board]


@given(
    st.text(alphabet="BDGKLMNPRSTWZ", min_size=4, max_size=10), st.sampled_from(["{}:", "**{}**", "## {}", "<u>{}</u>"])
)
def test_any_unknown_word_in_the_form_of_a_heading_ends_the_board_above(word: str, form: str) -> None:
    found = read_cap_text(ABOVE + form.format(word) + BELOW, "list.txt")
    said = {d.code for d in found[1] if d.source is not None and d.source.row == 6}
    assert found[0][-1].board == word or "heading-unclear" in said or "other-part" in said


@pytest.mark.parametrize("name", ["IF", "Motor / system control", "Tuner & decoder", "RGB drive"])
@pytest.mark.parametrize("blank", ["\n", ""])
def test_a_name_that_nothing_marks_is_taken_between_records(name: str, blank: str) -> None:
    text = f"Power supply:\nC1 100uF 25V\nC2 220uF 16V\n{blank}{name}\nC11 47uF 16V\nC12 10uF 25V\n"
    positions, _ = read_cap_text(text, "list.txt")
    assert [(each.ref, each.board) for each in positions] == [
        ("C1", "Power supply"),
        ("C2", "Power supply"),
        ("C11", name),
        ("C12", name),
    ]


def test_a_line_that_may_be_a_heading_is_not_passed_over_in_silence() -> None:
    """Four words that nothing marks: they may name a board or remark on something. The user is asked."""
    text = "Power supply:\nC1 100uF 25V\nC2 220uF 16V\nCassette deck motor drive\nC11 47uF 16V\n"
    _, told = read_cap_text(text, "list.txt")
    (unclear,) = [each for each in told if each.code == "heading-unclear"]
    assert (unclear.source.row, "'Power supply' goes on below it" in unclear.message) == (4, True)
