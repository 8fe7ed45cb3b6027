"""The canonical list out and in again: the same in every format, and doubts that stay until they are settled."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from typing import TYPE_CHECKING

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from recap.model import Kind, Mount, Position, Role
from recap.normalise.canonical import COLUMNS, rows_of, write_cap_list
from recap.normalise.caplist import read_cap_list

if TYPE_CHECKING:
    from pathlib import Path

FORMATS = (".csv", ".tsv", ".xlsx", ".md")


def lengths() -> st.SearchStrategy[Decimal | None]:
    return st.none() | st.integers(1, 2000).map(lambda n: Decimal(n) / 10).map(_neat)


def _neat(value: Decimal) -> Decimal:
    return value.quantize(Decimal(1)) if value == value.to_integral_value() else value.normalize()


words = st.text(st.characters(categories=("L", "N", "P", "S", "Zs")), min_size=1, max_size=20).map(
    lambda text: " ".join(text.split())
).filter(bool)  # fmt: skip
capacitances = st.sampled_from(
    "0.000047 0.001 0.0047 0.01 0.1 0.47 1 2.2 4.7 10 47 100 470 1000 2200 10000".split()
).map(Decimal)
positions = st.builds(
    Position,
    ref=st.none() | st.from_regex(r"C[1-9][0-9]{0,3}[A-Ca-c]?", fullmatch=True),
    qty=st.integers(1, 99),
    value_uF=capacitances,
    volts=st.none() | st.sampled_from("2.5 6.3 16 25 50 63 100 450".split()).map(Decimal),
    temp_C=st.none() | st.sampled_from([85, 105, 125]),
    mount=st.none() | st.sampled_from(list(Mount)),
    kind=st.sampled_from(list(Kind)),
    pitch_mm=lengths(),
    diameter_mm=lengths(),
    height_mm=lengths(),
    board=st.none() | words,
    role=st.none() | st.sampled_from(list(Role)),
    volts_ac=st.booleans(),
    operating_V=st.none() | st.sampled_from([Decimal(12), Decimal("4.5"), Decimal(325)]),
    ripple_mA=st.none() | st.integers(1, 5000).map(Decimal),
    safety=st.none() | st.sampled_from(["X2", "Y1", "X1/Y2"]),
    note=st.none() | words,
    doubts=st.lists(st.sampled_from(["ocr-digit", "unit-missing", "alternatives"]), unique=True).map(
        lambda codes: tuple(sorted(codes))
    ),
)


def sensible(position: Position) -> Position:
    """A position as the reader makes them: one piece where it has a designator, axial bodies longer than thick."""
    position = replace(position, qty=1) if position.ref else position
    if position.safety:
        position = replace(position, kind=Kind.SAFETY)
    if position.safety or position.volts is None:
        position = replace(position, volts_ac=False)
    d, h = position.diameter_mm, position.height_mm
    if position.mount is Mount.AXIAL and d is not None and h is not None and d > h:
        position = replace(position, diameter_mm=h, height_mm=d)
    return position


def distinct(found: list[Position]) -> list[Position]:
    refs: set[str] = set()
    kept = []
    for position in found:
        key = (position.ref or "").upper()
        if not key or key not in refs:
            kept.append(sensible(position))
        refs.add(key)
    return kept


def bare(found: tuple[Position, ...] | list[Position]) -> list[Position]:
    return [replace(position, source=None, text="") for position in found]


@settings(
    max_examples=40, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow]
)
@given(listed=st.lists(positions, min_size=1, max_size=5).map(distinct), suffix=st.sampled_from(FORMATS))
def test_out_and_in_again_is_the_same(listed: list[Position], suffix: str, tmp_path: Path) -> None:
    path = tmp_path / f"list{suffix}"
    write_cap_list(listed, path)
    back, _ = read_cap_list(path)
    assert bare(back) == bare(listed)


@pytest.mark.parametrize("suffix", FORMATS)
@pytest.mark.parametrize("said", ["\\|", "a|b", "a\\", "'=1", "\\\\| x"])
def test_marks_of_a_format_in_a_note_come_back(said: str, suffix: str, tmp_path: Path) -> None:
    path = tmp_path / f"list{suffix}"
    write_cap_list([Position(ref="C1", value_uF=Decimal(47), note=said)], path)
    assert read_cap_list(path)[0][0].note == said


def test_the_columns_are_those_of_the_interface() -> None:
    rows = rows_of([Position(ref="C1", value_uF=Decimal("4.7"))])
    assert tuple(rows[0]) == COLUMNS
    assert rows[1][:3] == ["C1", "1", "4.7 µF"]


def test_doubts_are_a_column_of_their_own_that_goes_away(tmp_path: Path) -> None:
    path = tmp_path / "list.csv"
    write_cap_list([Position(ref="C1", value_uF=Decimal(46), doubts=("no-preferred-value",)), Position(ref="C2")], path)
    text = path.read_text(encoding="utf-8")
    assert text.splitlines()[0].endswith(",doubts")
    assert read_cap_list(path)[0][0].doubts == ("no-preferred-value",)
    path.write_text(text.replace("no-preferred-value", ""), encoding="utf-8")  # the user has settled it
    assert read_cap_list(path)[0][0].doubts == ()


def test_a_value_that_is_missing_is_doubted_in_a_stored_list_too(tmp_path: Path) -> None:
    path = tmp_path / "list.csv"
    write_cap_list([Position(ref="C1", volts=Decimal(16), doubts=("alternatives",))], path)
    path.write_text(path.read_text(encoding="utf-8").replace("alternatives", ""), encoding="utf-8")
    assert read_cap_list(path)[0][0].doubts == ("value-missing",)


def test_a_formula_in_a_note_stays_text(tmp_path: Path) -> None:
    path = tmp_path / "list.xlsx"
    write_cap_list([Position(ref="C1", value_uF=Decimal(1), note="=1+1")], path)
    assert read_cap_list(path)[0][0].note == "=1+1"


def test_another_ending_is_refused(tmp_path: Path) -> None:
    with pytest.raises(ValueError, match="is none of them"):
        write_cap_list([Position()], tmp_path / "list.docx")


def test_a_flat_can_is_settled_where_its_sizes_have_columns_of_their_own(tmp_path: Path) -> None:
    path = tmp_path / "list.csv"
    flat = Position(
        ref="C1", value_uF=Decimal(10), mount=Mount.RADIAL, diameter_mm=Decimal(18), height_mm=Decimal("5.5")
    )
    write_cap_list([flat], path)
    assert read_cap_list(path)[0][0].doubts == ()
