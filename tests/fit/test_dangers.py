"""What is dangerous at a place, and how the new part must stand: by the list, by the part, at the edges."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import date
from decimal import Decimal
from typing import Any

import pytest

from recap.fit.checklist import checklist, runs, where
from recap.fit.dangers import dangers
from recap.fit.labels import SHEETS
from recap.fit.worklist import NOTHING, part_key, polarity_mark, task
from recap.model import Kind, Mount, Part, Position, Role, Settings
from recap.order.allot import Allotment
from tests.audit.stories import part, position


@pytest.mark.parametrize(
    ("asked", "words"),
    [
        ({}, []),
        ({"volts": Decimal(60)}, []),  # IEC 62368-1: up to 60 V direct voltage is no danger to touch (from memory)
        ({"volts": Decimal(63)}, ["May hold 63 V"]),
        ({"volts": Decimal(400)}, ["May hold 400 V"]),
        ({"volts": Decimal(400), "operating_V": Decimal(310)}, ["May hold 310 V"]),
        ({"volts": Decimal(400), "operating_V": Decimal(42)}, []),  # the voltage there is what counts
        ({"volts": Decimal(50), "operating_V": Decimal("60.1")}, ["May hold 60.1 V"]),
        ({"safety": "X2"}, ["Safety part X2: same class only"]),
        ({"kind": Kind.SAFETY}, ["Safety part: same class only"]),
        ({"safety": "Y1", "volts": Decimal(250)}, ["May hold 250 V", "Safety part Y1: same class only"]),
        ({"role": Role.DEFLECTION, "volts": Decimal(1600)}, ["May hold 1600 V", "Tuned deflection part"]),
        ({"role": Role.COUPLING}, []),
    ],
)
def test_dangers_the_deadliest_first(asked: dict[str, Any], words: list[str]) -> None:
    found = dangers(replace(Position(ref="C1", value_uF=Decimal(1)), **asked))
    assert len(found) == len(words)
    assert all(said.startswith(word) for said, word in zip(found, words, strict=True))


@pytest.mark.parametrize(
    ("listed", "fitted", "words"),
    [
        ((Kind.ELECTROLYTIC, Mount.AXIAL), None, "band = minus"),
        ((Kind.ELECTROLYTIC, Mount.RADIAL), None, "stripe = minus"),
        ((Kind.ELECTROLYTIC, Mount.AXIAL), (Kind.ELECTROLYTIC, Mount.RADIAL), "stripe = minus"),
        ((Kind.ELECTROLYTIC, Mount.RADIAL), (Kind.ELECTROLYTIC, Mount.AXIAL), "band = minus"),
        ((Kind.ELECTROLYTIC, Mount.AXIAL), (Kind.ELECTROLYTIC, None), "band = minus"),
        ((Kind.ELECTROLYTIC, Mount.AXIAL), (Kind.UNKNOWN, None), "band = minus"),
        ((Kind.ELECTROLYTIC, Mount.RADIAL), (Kind.TANTALUM, Mount.RADIAL), "bar = PLUS"),
        ((Kind.TANTALUM, Mount.RADIAL), (Kind.ELECTROLYTIC, Mount.RADIAL), "stripe = minus"),
        ((Kind.TANTALUM, Mount.AXIAL), (Kind.TANTALUM, Mount.AXIAL), "bar = PLUS"),
        ((Kind.ELECTROLYTIC, Mount.RADIAL), (Kind.BIPOLAR, Mount.RADIAL), "bipolar: no polarity"),
        ((Kind.UNKNOWN, None), (Kind.UNKNOWN, None), "polarity not known"),
        ((Kind.UNKNOWN, None), None, "polarity not known"),
    ],
)
def test_the_mark_is_that_of_the_new_part_and_of_the_list_where_it_is_not_known(
    listed: tuple[Kind, Mount | None], fitted: tuple[Kind, Mount | None] | None, words: str
) -> None:
    asked = replace(position("C1"), kind=listed[0], mount=listed[1])
    new = None if fitted is None else replace(part("X"), kind=fitted[0], mount=fitted[1])
    assert polarity_mark(asked, new).startswith(words)


def test_parts_go_by_value_then_voltage_then_number_and_none_comes_last() -> None:
    given: list[Part | None] = [
        None,
        replace(part("Z"), value_uF=None),
        part("B", "47", "25"),
        part("A", "47", "25"),
        part("C", "47", "16"),
        replace(part("D", "47"), volts=None),
        part("E", "4.7", "100"),
        replace(part("Y"), value_uF=None, volts=None),
    ]
    ordered = [one.number if one else "-" for one in sorted(given, key=part_key)]
    assert ordered == ["E", "D", "C", "A", "B", "Y", "Z", "-"]


def of(ref: str | None, qty: int = 1, asked_qty: int = 1, **asked: Any) -> Allotment:
    place = replace(position(ref), qty=asked_qty, **asked)
    return Allotment("S1", place, "47 µF", qty, part("HRN-47"), "Norlicht")


def test_a_place_that_nobody_serves_says_so_and_where_its_piece_comes_from() -> None:
    served = task(of("C1"), Settings())
    assert (served.source, served.board, served.qty) == ("Norlicht", "AUDIO", 1)
    lacking = task(replace(of("C1", board=None), part=None, supplier=None), Settings())
    assert (lacking.source, lacking.board, lacking.new) == ("", "no board named", NOTHING)


def test_places_stand_together_where_all_but_the_place_is_the_same() -> None:
    def told(most: int | None, *given: Allotment) -> list[list[str]]:
        tasks = [task(one, Settings()) for one in given]
        (section,) = checklist(tasks, date(2025, 3, 3), "now").sections
        return [[each.ref for each in run] for run in runs(section, most)]

    alike = [of(f"C{n}") for n in (1, 2, 3, 4, 5)]
    assert told(None, *alike) == [["C1", "C2", "C3", "C4", "C5"]]
    assert told(2, *alike) == [["C1", "C2"], ["C3", "C4"], ["C5"]]
    assert told(1, *alike[:2]) == [["C1"], ["C2"]]
    # a note, a danger or another polarity is said at its own place
    assert told(None, of("C1"), of("C2", note="hot"), of("C3")) == [["C1"], ["C2"], ["C3"]]
    assert told(None, of("C1"), of("C2", safety="X2")) == [["C1"], ["C2"]]
    assert told(None, of("C1"), replace(of("C2"), supplier="Elsewhere")) == [["C1"], ["C2"]]


@pytest.mark.parametrize(
    ("one", "board", "by_part"),
    [
        (of("C1"), "C1", "C1 (AUDIO)"),
        (of("C1", 2), "C1, 2 of them", "C1 (AUDIO), 2 of them"),
        (of(None, 3, 3), "47 µF 25 V ×3", "47 µF 25 V ×3 (AUDIO)"),
        (of(None, 2, 3), "47 µF 25 V ×3, 2 of them", "47 µF 25 V ×3 (AUDIO), 2 of them"),
        (of(None, 1, 3), "47 µF 25 V ×3, 1 of them", "47 µF 25 V ×3 (AUDIO), 1 of them"),
    ],
)
def test_how_a_place_is_called(one: Allotment, board: str, by_part: str) -> None:
    tasks = [task(one, Settings())]
    day = date(2025, 3, 3)
    assert where(tasks[0], checklist(tasks, day, "now")) == board
    assert where(tasks[0], checklist(tasks, day, "now", part_by_part=True)) == by_part


def test_sheets_have_the_labels_that_their_names_say() -> None:
    """A4 is 210 mm by 297 mm (ISO 216), Letter 8.5 in by 11 in (ANSI/ASME Y14.1, from memory)."""
    assert SHEETS["a4"].page_mm == (210, 297)
    assert SHEETS["letter"].page_mm == pytest.approx((8.5 * 25.4, 11 * 25.4))
    for sheet in SHEETS.values():
        assert sheet.page_mm == SHEETS["a4" if sheet.name.startswith("a4") else "letter"].page_mm
        match = re.search(r"(\d+) × (\d+) (?:labels )?of ([\d.]+) × ([\d.]+) mm", sheet.description)
        assert match is not None, sheet.description
        columns, rows, width, height = (float(number) for number in match.groups())
        assert (sheet.columns, sheet.rows) == (columns, rows)
        assert sheet.label_mm == pytest.approx((width, height), abs=0.05)
        assert sheet.place(0) == sheet.corner_mm
        assert sheet.place(sheet.columns)[0] == sheet.corner_mm[0]
