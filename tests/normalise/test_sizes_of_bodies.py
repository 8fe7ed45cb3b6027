"""Sizes behind a record: diameter, height and lead pitch in mm whatever the unit, and doubts where they don't tell.

25.4 mm to the inch and 0.0254 to the mil are exact by definition.
"""

from __future__ import annotations

import pytest

from tests.normalise.facts import facts


@pytest.mark.parametrize(
    ("size", "read"),
    [
        ("5x11", "D5 H11"),
        ("12,5x20", "D12.5 H20"),
        ('0.3" x 0.5"', "D7.62 H12.7"),
        ('1/2" x 1"', "D12.7 H25.4"),
        ("1 cm x 2 cm", "D10 H20"),
        ("1x2cm", "D10 H20"),  # one unit behind both
        ("10mm x 1in", "D10 H25.4"),  # and each its own
        ("10 mm x 2 cm", "D10 H20"),
        ("Ø10 x 16", "D10 H16"),
        ("10Ø x 16", "D10 H16"),
        ("H20 x D10", "D10 H20"),
        ("L25 x D10", "D10 H25"),
        ("20 long x 10 dia", "D10 H20"),
        ("10x20x5", "D10 H20 P5"),
        ("D10 x L25 x P5", "D10 H25 P5"),
        ("D5 H11 P2", "D5 H11 P2"),
        ("10x16mm p5mm", "D10 H16 P5"),
        ("5 x 11 mm, RM 2,5", "D5 H11 P2.5"),
        ("8x12 3.5mm", "D8 H12 P3.5"),  # beside a body a length below its diameter is the pitch
        ("RM5", "P5"),
        ("LS 0.2in", "P5.08"),
        ("200mil", "P5.08"),
        ('0.1" pitch', "P2.54"),
        ("axial 25x10", "axial D10 H25"),  # an axial body is longer than thick
        ("axial 10x25", "axial D10 H25"),
        ("snap-in 30x40 10mm", "snap-in D30 H40 P10"),
        ("3x5", "D3 H5"),
        ("H150mm", "H150"),
    ],
)
def test_sizes_are_millimetres(size: str, read: str) -> None:
    assert facts(f"C1 10uF 16V {size}") == [f"C1 10 µF 16 V {read}"]


@pytest.mark.parametrize(
    ("size", "read"),
    [
        ("0.5x1", "?size-unit-unclear"),  # millimetres of no part, or inches
        ("2.9x2.5", "?size-unit-unclear"),
        ("5x11x15", "?size-unclear"),  # no lead pitch is wider than the body
        ("5x8x9", "?size-unclear"),
        ("10x12x11", "?size-unclear"),
        ("8x12 15mm", "D8 H12 ?size-unclear"),
        ("radial 25x10", "radial D25 H10 ?size-reversed"),
    ],
)
def test_what_a_size_does_not_tell_is_doubted(size: str, read: str) -> None:
    assert facts(f"C1 10uF 16V {size}") == [f"C1 10 µF 16 V {read}"]


@pytest.mark.parametrize("size", ["H150", "D130"])
def test_a_bare_number_larger_than_any_body_is_no_size(size: str) -> None:
    assert facts(f"C1 10uF 16V {size}") == ["C1 10 µF 16 V"]
