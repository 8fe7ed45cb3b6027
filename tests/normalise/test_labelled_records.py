"""Records with a line for each field: forms, notes, indented keys. Each is a row, the names are its headers.

What must not happen is that the voltage of one record is laid on the next.
"""

from __future__ import annotations

import pytest

from tests.normalise.facts import codes, facts, read

FORM = "Ref: C1\nValue: 10uF\nVoltage: 25V\n\nRef: C2\nValue: 22uF\nVoltage: 16V"


@pytest.mark.parametrize(
    "text",
    [
        FORM,
        FORM.replace(":", " ="),
        FORM.replace("\n\n", "\n"),
        FORM.replace("\n\n", "\n---\n"),
        FORM.replace("Ref", "**Ref**").replace("Value", "**Value**"),
        "- Ref: C1\n- Value: 10uF\n- Voltage: 25V\n\n- Ref: C2\n- Value: 22uF\n- Voltage: 16V",
        "- ref: C1\n  value: 10uF\n  voltage: 25V\n- ref: C2\n  value: 22uF\n  voltage: 16V",
        "C1:\n  value: 10uF\n  voltage: 25V\nC2:\n  value: 22uF\n  voltage: 16V",
        "C1\n  Value: 10uF\n  Voltage: 25V\nC2\n  Value: 22uF\n  Voltage: 16V",
        '[{\n"ref": "C1",\n"value": "10uF",\n"volts": "25V"\n},\n{\n"ref": "C2",\n"value": "22uF",\n"volts": "16V"\n}]',
    ],
)
def test_a_line_for_each_field_is_one_record(text: str) -> None:
    assert facts(text) == ["C1 10 µF 25 V", "C2 22 µF 16 V"]


def test_what_one_record_says_is_not_laid_on_the_next() -> None:
    text = "C1:\n  value: 10uF\n  voltage: 25V\n  mount: axial\n\nC2:\n  value: 22uF"
    assert facts(text) == ["C1 10 µF 25 V axial", "C2 22 µF"]


def test_a_record_torn_by_a_blank_line_is_doubted_not_mended() -> None:
    assert facts("Ref: C1\nVoltage: 25V\n\nValue: 10uF\nRef: C2") == ["C1 ? 25 V ?value-missing", "C2 10 µF"]


def test_other_languages_name_their_fields_and_bare_numbers_stay_doubted() -> None:
    text = "Position: C1\nWert: 10\nSpannung: 25\nTyp: Elko radial\n\nPosition: C2\nWert: 22 µF\nSpannung: 16"
    assert facts(text) == ["C1 10 µF 25 V radial electrolytic ?unit-missing", "C2 22 µF 16 V"]


def test_headings_over_such_records_hold_below_them() -> None:
    below = "  C1:\n    value: {} uF\n    voltage: 25V\n"
    text = f"Power supply:\n{below.format(10)}Main board:\n{below.format(47)}"
    assert facts(text) == ["C1 10 µF 25 V @ Power supply", "C1 47 µF 25 V @ Main board"]


def test_values_without_designators_take_their_own_fields() -> None:
    assert facts("10uF\nVoltage: 25V\n22uF\nVoltage: 16V") == ["- 10 µF 25 V", "- 22 µF 16 V"]


def test_named_lines_over_an_ordinary_list_stay_headings() -> None:
    assert facts("Board: PSU\nType: radial\n\nC1 10uF 16V") == ["C1 10 µF 16 V radial @ PSU"]


def test_a_name_that_is_not_known_is_kept_as_a_remark_and_said() -> None:
    found, told = read("Ref: C1\nValue: 10uF\nColour: blue")
    assert found == ["C1 10 µF"]
    assert "header-unknown" in [d.code for d in told]


@pytest.mark.parametrize(
    "caption", ["|+ Video board", "|+\nVideo board", '|+ class="x" | Video board', "|+ Video\nboard"]
)
def test_a_wiki_table_s_caption_names_the_board_wherever_its_lines_break(caption: str) -> None:
    text = f"{{|\n{caption}\n|-\n! Ref !! Value\n|-\n| C1 || 10uF 16V\n|}}"
    assert facts(text) == ["C1 10 µF 16 V @ Video board"]
    assert "line-unread" not in [code for _, code in codes(text)]


def test_a_page_table_s_caption_and_cells_may_run_over_lines() -> None:
    text = (
        "<table>\n<caption>Power\nboard</caption>\n<tr>\n<th>Ref</th>\n<th>Value</th>\n</tr>\n"
        "<tr>\n<td>\nC2,\nC3\n</td>\n<td>\n22uF\n25V\n</td>\n</tr>\n</table>"
    )
    assert facts(text) == ["C2 22 µF 25 V @ Power board", "C3 22 µF 25 V @ Power board"]
    assert "line-unread" not in [code for _, code in codes(text)]
