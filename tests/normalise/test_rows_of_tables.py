"""The row that is told of a part is the one where it stands in the file, however its table is drawn."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from openpyxl import Workbook
from openpyxl.styles import Font

from recap.normalise.caplist import read_cap_list, read_cap_text
from tests.normalise.facts import fact

if TYPE_CHECKING:
    from pathlib import Path

HTML = """\
<table>
<tr><th>Ref</th><th>Value</th><th>Volts</th></tr>
<tr><td>C1</td><td>10uF</td><td>16</td></tr>
<tr>
<td>C2</td>
<td>22uF</td><td>25</td>
</tr>
</table>
C3 47uF 35V
"""
NESTED = """\
<table>
<tr><td>C1</td><td>10uF</td><td>16V</td></tr>
<tr><td>C2</td><td><table><tr><td>22uF</td></tr></table></td><td>25V</td></tr>
</table>
C3 47uF 35V
"""
WIKI = """\
{| class=wikitable
! Ref !! Value !! Volts
|-
| C1 || 10uF || 16
|-
| C2
| 22uF
| 25
|}
C3 47uF 35V
"""
FRAMED = """\
+-----+-------+-------+
| Ref | Value | Volts |
+-----+-------+-------+
| C1  | 10uF  | 16    |
| C2  | 22uF  | 25    |
+-----+-------+-------+
C3 47uF 35V
"""
TWICE = """\
Ref | Value | Volts
C1 | 10uF | 16
C2 | 22uF | 25

Ref | Value | Volts
C3 | 47uF | 35
"""
BLANKS = """\
Ref    Value   Volts  Note
C1     10uF    16     near the
                      transformer
C2     22uF    25
C3     47uF    35
"""


@pytest.mark.parametrize(
    ("text", "rows"),
    [
        (HTML, [3, 4, 9]),
        (NESTED, [2, 3, 5]),
        (WIKI, [4, 6, 10]),
        (FRAMED, [4, 5, 7]),
        (TWICE, [2, 3, 6]),
        (BLANKS, [2, 4, 5]),
        (f"The caps:\n\n{FRAMED}", [6, 7, 9]),
        (f"The caps:\n\n{HTML}", [5, 6, 11]),
    ],
)
def test_each_part_is_told_with_the_line_it_begins_on(text: str, rows: list[int]) -> None:
    found, _ = read_cap_text(text, "list.txt")
    assert [fact(position) for position in found] == ["C1 10 µF 16 V", "C2 22 µF 25 V", "C3 47 µF 35 V"]
    assert [position.source.row for position in found if position.source] == rows


@pytest.mark.parametrize(
    ("cell", "expected"),
    [
        ("A2", []),  # without its designator or its value there is no place to fill
        ("B2", []),
        ("C2", ["C1 10 µF bipolar"]),  # what was struck of the rest isn't stated
        ("D2", ["C1 10 µF 16 V"]),
        ("E2", ["C1 10 µF 16 V bipolar"]),
    ],
)
def test_a_struck_cell_of_a_workbook_says_nothing(cell: str, expected: list[str], tmp_path: Path) -> None:
    book = Workbook()
    sheet = book.active
    assert sheet is not None
    sheet.append(["Ref", "Value", "Volts", "Type", "Note"])
    sheet.append(["C1", "10uF", 16, "bipolar", "x"])
    sheet.append(["C2", "22uF", 25, "", ""])
    sheet[cell].font = Font(strike=True)
    book.save(tmp_path / "list.xlsx")
    found, told = read_cap_list(tmp_path / "list.xlsx")
    assert [fact(position) for position in found] == [*expected, "C2 22 µF 25 V"]
    assert ("not-fitted" in {d.code for d in told}) is not bool(expected)
