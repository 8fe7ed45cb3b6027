"""Parts and positions in words: units, sizes, and what must not be mistaken for another part."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

import pytest

from recap.model import Kind, Mount, Position
from recap.order.wording import brief_text, detail_text, marked_text, size_text, thing_text, value_text


def asked(value: str | None = None, volts: str | None = None, **rest: Any) -> Position:
    sizes = {name: Decimal(rest[name]) for name in ("diameter_mm", "height_mm", "pitch_mm") if name in rest}
    return Position(value_uF=value and Decimal(value), volts=volts and Decimal(volts), **(rest | sizes))


@pytest.mark.parametrize(
    ("position", "text"),
    [
        (asked(), ""),
        (asked("47", "25"), "47 µF 25 V"),
        (asked("47.0", "6.30"), "47 µF 6.3 V"),
        (asked("0.047", "630"), "47 nF 630 V"),
        (asked("1000"), "1000 µF"),
        (asked(None, "25"), "? µF 25 V"),
    ],
)
def test_value_and_voltage(position: Position, text: str) -> None:
    assert value_text(position) == text


@pytest.mark.parametrize(
    ("sizes", "text"),
    [
        ({}, ""),
        ({"diameter_mm": "6.3", "height_mm": "11"}, "Ø6.3 × 11"),
        ({"diameter_mm": "10.0", "height_mm": "20", "pitch_mm": "5"}, "Ø10 × 20, pitch 5"),
        ({"diameter_mm": "8"}, "Ø8"),
        ({"height_mm": "11"}, "height 11"),
        ({"height_mm": "29", "mount": Mount.AXIAL}, "length 29"),
        ({"height_mm": "29", "mount": Mount.RADIAL}, "height 29"),
        ({"pitch_mm": "2.5"}, "pitch 2.5"),
    ],
)
def test_sizes_in_millimetres(sizes: dict[str, Any], text: str) -> None:
    assert size_text(asked("47", "25", **sizes)) == text


@pytest.mark.parametrize(
    ("rest", "marked", "brief", "thing"),
    [
        ({}, "47 µF 25 V", "47 µF 25 V", "47 µF 25 V"),
        ({"kind": Kind.ELECTROLYTIC}, "47 µF 25 V", "47 µF 25 V", "47 µF 25 V electrolytic"),
        ({"kind": Kind.OTHER}, "47 µF 25 V", "47 µF 25 V", "47 µF 25 V"),
        # a bipolar part in place of a polar one does no harm, the other way round it bursts
        ({"kind": Kind.BIPOLAR}, "47 µF 25 V bipolar", "47 µF 25 V bipolar", "47 µF 25 V bipolar"),
        ({"kind": Kind.TANTALUM}, "47 µF 25 V tantalum", "47 µF 25 V tantalum", "47 µF 25 V tantalum"),
        (
            {"kind": Kind.ELECTROLYTIC, "mount": Mount.RADIAL, "temp_C": 105, "diameter_mm": "5", "height_mm": "11"},
            "47 µF 25 V",
            "47 µF 25 V radial 5×11",
            "47 µF 25 V 105 °C radial electrolytic",
        ),
        (
            {"kind": Kind.BIPOLAR, "mount": Mount.AXIAL, "diameter_mm": "5"},
            "47 µF 25 V bipolar",
            "47 µF 25 V axial bipolar",
            "47 µF 25 V axial bipolar",
        ),
        (
            {"kind": Kind.SAFETY, "safety": "X2"},
            "47 µF 25 V X2",
            "47 µF 25 V X2",
            "47 µF 25 V safety X2",
        ),
    ],
)
def test_kind_and_class_stand_where_they_must_not_be_mistaken(
    rest: dict[str, Any], marked: str, brief: str, thing: str
) -> None:
    position = asked("47", "25", **rest)
    assert (marked_text(position), brief_text(position), thing_text(position)) == (marked, brief, thing)


def test_what_is_not_stated_is_said_not_to_be() -> None:
    assert thing_text(asked()) == "not stated"
    assert detail_text(asked("47", "25")) == ""
    assert detail_text(asked(temp_C=0, mount=Mount.SMD)) == "0 °C smd"
