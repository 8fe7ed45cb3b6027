"""A list as it was read, and what is said of it: lines, pieces, boards, doubts; errors first and nothing uncounted."""

from __future__ import annotations

from io import StringIO

import pytest
from rich.console import Console

from recap.diagnostics import Diagnostic, Source, error, note, warning
from recap.normalise.caplist import read_cap_text
from recap.show.lists import blocking, list_document, print_doubts, print_positions, print_summary
from recap.show.terminal import print_diagnostics
from tests.show.printed import lines

LIST = """\
PSU
C1, C2 2200uF 35V 105C radial 16x25 p7.5
C3 220 16V

AMP
2x 10uF 50V bipolar
C11 47-100uF 25V
"""
POSITIONS, TOLD = read_cap_text(LIST, "forum.txt")


def test_each_line_is_told_as_it_was_read() -> None:
    assert lines(print_positions, POSITIONS) == [
        "line place read as board in doubt",
        "2 C1, C2 2200 µF 35 V 105 °C radial, Ø16 × 25, pitch 7.5 PSU",
        "3 C3 220 µF 16 V PSU unit-missing",
        "6 2 pcs 10 µF 50 V bipolar AMP",
        "7 C11 ? µF 25 V AMP alternatives",
    ]


def test_what_else_a_line_was_read_as_is_shown_too() -> None:
    """What selects the rules and what they judge by: role, working voltage, ripple."""
    listed, _ = read_cap_text("C1 220uF 400V main reservoir, works at 325V\nC2 1000uF 25V 1.2A\n", "list.txt")
    assert lines(print_positions, listed)[1:] == [
        "1 C1 220 µF 400 V, works at 325 V, smoothing",
        "2 C2 1000 µF 25 V, ripple 1200 mA",
    ]


def test_positions_pieces_and_doubts_are_counted() -> None:
    """C1, C2, C3, two without designators, C11: six pieces at five positions."""
    assert lines(print_summary, POSITIONS, TOLD) == [
        "5 positions, 6 pieces, on PSU, AMP",
        "2 positions in doubt: unit-missing (1), alternatives (1)",
    ]
    clean, _ = read_cap_text("C1 10uF 16V\n", "x.txt")
    assert lines(print_summary, clean, ()) == ["1 position, 1 piece", "No doubts: every line reads plainly."]
    assert blocking(POSITIONS) == 2
    assert blocking(clean) == 0


@pytest.mark.parametrize(("boards", "ends"), [(8, "B8"), (9, "B8 …")])
def test_of_many_boards_the_first_eight_are_named(boards: int, ends: str) -> None:
    text = "\n".join(f"## Board B{n}\nC{n} 10uF 16V\n" for n in range(1, boards + 1))
    found, _ = read_cap_text(text, "x.md")
    assert lines(print_summary, found, ())[0].endswith(ends)


def test_a_doubted_line_is_shown_once_with_all_that_is_doubted_of_it() -> None:
    here = Source("x.txt", None, 7)
    told = [
        warning("unit-missing", "no unit", here, "write it", "C7 22 16"),
        note("rule-read", "a rule", Source("x.txt", None, 1)),
        warning("volts-unit-missing", "no volts", here, "write it", "C7 22 16"),
        error("file-empty", "nothing in it", Source("y.txt")),
    ]
    assert lines(print_doubts, told) == [
        "x.txt:7 | C7 22 16",
        "warning: no unit [unit-missing]",
        "warning: no volts [volts-unit-missing]",
        "hint: write it",
        "y.txt",
        "error: nothing in it [file-empty]",
    ]


def test_a_list_as_a_document() -> None:
    found = list_document(POSITIONS, TOLD)
    first, *_, last = found["positions"]
    assert (first["ref"], first["value_uF"], first["volts"], first["temp_C"]) == ("C1", 2200, 35, 105)
    assert (first["diameter_mm"], first["height_mm"], first["pitch_mm"]) == (16, 25, 7.5)
    assert (first["mount"], first["board"], first["row"], first["doubts"]) == ("radial", "PSU", 2, [])
    pair = found["positions"][3]
    assert (pair["ref"], pair["qty"], pair["kind"]) == (None, 2, "bipolar")
    assert (last["value_uF"], last["volts"], last["doubts"]) == (None, 25, ["alternatives"])


# --- messages ------------------------------------------------------------------------------------


def messages(*told: Diagnostic, notes: bool | None = False) -> list[str]:
    console = Console(width=250, record=True, file=StringIO())
    print_diagnostics(told, notes=notes, console=console)
    return [line.strip() for line in console.export_text().splitlines()]


def at(row: int, code: str = "unit-missing", hint: str = "write it") -> Diagnostic:
    return warning(code, f"row {row} has none", Source("x.csv", None, row, "volts"), hint)


def test_errors_come_first_and_notes_are_counted_where_they_are_not_shown() -> None:
    told = (note("a", "first", Source("x")), at(3), note("b", "second", Source("x")), error("c", "bad", Source("x")))
    assert messages(*told) == [
        "x: error: bad [c]",
        "x.csv:3: volts: warning: row 3 has none [unit-missing]",
        "hint: write it",
        "2 notes not shown; --notes lists them.",
    ]
    assert messages(*told[:2])[-1] == "1 note not shown; --notes lists them."
    assert messages(*told, notes=True)[-2:] == ["x: note: first [a]", "x: note: second [b]"]
    assert messages(*told, notes=None)[-1] == "hint: write it"
    assert messages() == []


def test_what_is_said_alike_of_many_rows_is_said_three_times_and_then_counted() -> None:
    """Of rows 2, 4 to 7, 9: three in full, the last three in short; of four all are."""
    told = messages(*(at(row) for row in (9, 2, 4, 5, 6, 7)))
    assert [line for line in told if "warning" in line] == [
        f"x.csv:{row}: volts: warning: row {row} has none [unit-missing]" for row in (9, 2, 4)
    ]
    assert told[-1] == "… and so in 3 rows more of x.csv: 5-7"
    assert messages(*(at(row) for row in (1, 2, 3, 5, 8, 9, 4)))[-1] == "… and so in 4 rows more of x.csv: 4-5, 8-9"
    assert sum("warning" in line for line in messages(*(at(row) for row in range(4)))) == 4
    apart = messages(*(at(row, hint=f"hint {row}") for row in range(6)))
    assert sum("warning" in line for line in apart) == 6
