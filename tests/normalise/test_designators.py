"""Designators in groups: ranges, enumerations, shortened ends. Common practice of parts lists and service manuals.

Letters for capacitors: C, as IEC 60617 and IEEE 315 have it (from memory).
"""

from __future__ import annotations

import pytest

from recap.normalise.caplist import read_cap_text
from recap.normalise.designator_names import is_chip_size
from recap.normalise.designators import (
    LONG_RANGE,
    LONGEST_RANGE,
    begins_with_other_part,
    find_group,
    is_other_part,
    read_refs,
)

GROUPS = [
    ("C1", "C1", ""),
    ("C5, C7, C5", "C5 C7", "ref-twice-in-line"),
    ("C12,13,14", "C12 C13 C14", ""),
    ("C005-C007", "C005 C006 C007", ""),
    ("C9-C5", "C9 C5", "range-backwards"),
    ("C5-C5", "C5", ""),
    # shortened ends: the digits left out are those of the one before
    ("C905-07", "C905 C906 C907", "range-shortened"),
    ("C905/7", "C905 C907", "range-shortened"),
    ("C1205/06", "C1205 C1206", "range-shortened"),
    ("C905, 07", "C905 C907", "range-shortened"),
    ("C705,6,7", "C705 C706 C707", "range-shortened"),
    ("C5 7 9", "C5", ""),
    ("C5; 7", "C5", ""),
    ("C905 - 07", "C905", ""),  # with blanks around the dash it may be a value
    # letters behind the number
    ("C901A/B", "C901A C901B", ""),
    ("C901A/b", "C901A C901B", ""),
    ("C901A, C", "C901A C901C", ""),
    ("C901A-D", "C901A C901B C901C C901D", ""),
    ("C901B-A", "C901B C901A", "range-mixed"),
    ("C901a-C", "C901a C901C", "range-mixed"),
    ("C901, B", "C901", ""),
    ("C901a-c", "C901a C901b C901c", ""),
    ("C901A-b", "C901A C901B", ""),
    ("C901A-A", "C901A", ""),
    ("C901-C901B", "C901 C901B", "range-mixed"),
    ("C901-C903B", "C901 C903B", "range-mixed"),
    ("C203,2O4", "C203 C204", "ref-misread"),  # a letter that a scanner made of a digit
    ("C3, 2l", "C3 C21", "ref-misread"),
    ("C3, 25O", "C3", "ref-unread"),  # longer than what it goes on: a value as well as a designator
    ("C15, 1OuF", "C15", ""),
    ("C15, 1O V", "C15", ""),
    ("C3, C2O5", "C3 C205", "ref-misread"),
    ("C3A-C5B", "C3A C5B", "range-mixed"),  # which letters there are between is not said
    ("C7b to C3x", "C7b C3x", "range-mixed"),
    ("C3A-C3A", "C3A", ""),
    ("C010-12", "C010 C011 C012", ""),
    ("C12-010", "C12", ""),
    ("C10-9", "C10 C11 C12 C13 C14 C15 C16 C17 C18 C19", "range-shortened"),
    ("C9 - 9", "C9", ""),
    ("C9-4", "C9", ""),
    ("C4,3A,B", "C4 C3A C3B", ""),
    ("C3A;B", "C3A", ""),
    ("C9A-", "C9A", ""),
    ("C9A,", "C9A", ""),
    # what may be a value is no place
    ("C409 - 47-100uF", "C409", ""),
    ("C9 - 100/16", "C9", ""),
    ("C9 - 12/16", "C9", ""),
    ("C409-412/5", "C409 C410 C411 C412 C415", "range-shortened"),
    ("c12a/b", "C12A C12B", ""),
    ("C901A B", "C901A", ""),
    # names in place of numbers
    ("C_PS1, C_OUT 10uF", "C_PS1 C_OUT", ""),
]


@pytest.mark.parametrize(("text", "refs", "doubts"), GROUPS, ids=[text for text, *_ in GROUPS])
def test_a_group_of_designators(text: str, refs: str, doubts: str) -> None:
    group = find_group(text)
    assert group is not None
    assert (" ".join(group.refs), " ".join(group.doubts)) == (refs, doubts)


def test_bare_numbers_follow_only_where_no_column_says_otherwise() -> None:
    assert find_group("C1-8, 10") != find_group("C1-8, 10", strict=True)
    group = find_group("C1-8, 10", strict=True)
    assert group is not None
    assert group.refs == ("C1",)


@pytest.mark.parametrize(("text", "bare"), [("C905-908", 0), ("C905 - 908", 3), ("C5/7/9", 2), ("C5/C7", 0)])
def test_numbers_without_a_letter_of_their_own_are_counted(text: str, bare: int) -> None:
    group = find_group(text)
    assert group is not None
    assert group.bare == bare


@pytest.mark.parametrize(
    ("text", "chip"),
    [("C0805", True), ("C_0805", True), (" L1206 ", True), ("C805", False), ("C0806", False), ("C0805X", False)],
)
def test_a_letter_and_a_chip_size_is_a_package(text: str, chip: bool) -> None:
    """EIA sizes in hundredths of an inch; footprints so named are common practice of layout programs."""
    assert is_chip_size(text) is chip


@pytest.mark.parametrize(
    ("text", "other"),
    [("R12", True), ("IC3", True), ("R12, R13", True), ("TRAFO1", True), ("C12", False), ("FOO", False), ("Q", False)],
)
def test_designators_of_other_parts(text: str, other: bool) -> None:
    assert is_other_part(text) is other


@pytest.mark.parametrize(
    ("cell", "refs"),
    [
        ("(C5)", "C5"),
        ("C5-C7 and C9", "C5 C6 C7 C9"),
        ("COUT", "COUT"),
        ("COUT relay", None),
        ("C1uF", None),
        ("PC3", "PC3"),
        ("Q1", None),
        ("[12, 14]", "12 14"),
    ],
)
def test_a_cell_is_designators_or_none(cell: str, refs: str | None) -> None:
    group = read_refs(cell)
    assert (None if group is None else " ".join(group.refs)) == refs


def test_letters_of_other_parts_are_taken_in_a_column_of_designators_only() -> None:
    assert find_group("E5") is None
    group = find_group("E5", any_prefix=True)
    assert group is not None
    assert group.refs == ("E5",)


@pytest.mark.parametrize(
    ("length", "doubts", "kept"),
    [
        (LONG_RANGE, (), LONG_RANGE + 1),
        (LONG_RANGE + 1, ("range-long",), LONG_RANGE + 2),
        (LONGEST_RANGE, ("range-long",), LONGEST_RANGE + 1),
        (LONGEST_RANGE + 1, ("range-absurd",), 2),
    ],
)
def test_a_long_range_is_doubted_and_an_absurd_one_isnt_filled(length: int, doubts: tuple[str, ...], kept: int) -> None:
    group = find_group(f"C1-C{1 + length}")
    assert group is not None
    assert (group.doubts, len(group.refs)) == (doubts, kept)


@pytest.mark.parametrize(("cell", "start", "end"), [("12", 0, 2), ("(12, 14)", 1, 7), (" COUT ", 1, 5), ("(C5)", 1, 3)])
def test_a_group_knows_where_it_stands(cell: str, start: int, end: int) -> None:
    group = read_refs(cell)
    assert group is not None
    assert (group.start, group.end) == (start, end)


@pytest.mark.parametrize(
    ("text", "marks", "rest"),
    [("C3*", ["*"], ""), ("C3**, C4", ["**"], ""), ("C5*2", [], "*2"), ("C7[2] x", ["2"], " x"), ("C7†", ["†"], "")],
)
def test_footnote_marks_are_kept_and_factors_are_none(text: str, marks: list[str], rest: str) -> None:
    group = find_group(text)
    assert group is not None
    assert (list(group.marks), text[group.end :]) == (marks, rest)


@pytest.mark.parametrize(
    ("cell", "other"),
    [("J3 terminal block", True), ("R5 carbon", True), ("C3 electrolytic", False), ("relay 5", False)],
)
def test_a_cell_that_begins_with_another_part(cell: str, other: bool) -> None:
    assert begins_with_other_part(cell) is other


def test_a_class_of_ceramic_is_no_designator() -> None:
    """C0G of IEC 60384-8."""
    assert find_group("C0G") is None
    assert find_group("C0G, C1") is None


@pytest.mark.parametrize(
    ("line", "doubts"), [("C6/1 10uF", ("range-backwards",)), ("C6/7 10uF", ()), ("C6, 1 10uF", ())]
)
def test_a_lower_number_behind_a_stroke_is_doubted(line: str, doubts: tuple[str, ...]) -> None:
    positions, _ = read_cap_text(line, "list.txt")
    assert {one.doubts for one in positions} == {doubts}


def test_a_range_to_a_number_beyond_all_boards_is_doubted() -> None:
    positions, _ = read_cap_text("C5-99999999999999999999 10uF 25V", "list.txt")
    assert [(one.ref, one.doubts) for one in positions] == [("C5", ("range-absurd",))]
