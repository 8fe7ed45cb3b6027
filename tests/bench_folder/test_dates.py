"""Days as people write them in drawers and price lists. ISO 8601 for the first; the others are common practice."""

from __future__ import annotations

import pytest

from recap.bench.dates import read_date


@pytest.mark.parametrize(
    ("text", "day"),
    [
        ("2024-03-09", "2024-03-09"),
        ("2024/3/9", "2024-03-09"),
        (" 2024-03-09T14:05 ", "2024-03-09"),
        ("2024-03", "2024-03-01"),
        ("3/2024", "2024-03-01"),
        ("03.2024", "2024-03-01"),
        ("2019", "2019-01-01"),  # the first day: a part is as old as it may be
        ("9.3.2024", "2024-03-09"),
        ("09. 03. 2024", "2024-03-09"),
        ("25/04/2024", "2024-04-25"),
        ("04/25/2024", "2024-04-25"),
        ("25-04-2024", "2024-04-25"),
        ("04/04/2024", "2024-04-04"),
    ],
)
def test_what_has_one_reading_is_read(text: str, day: str) -> None:
    found = read_date(text)
    assert found is not None
    assert found.isoformat() == day


@pytest.mark.parametrize(
    "text",
    ["", "03/04/2024", "31.02.2024", "13/2024", "0/2024", "2024-13", "1850", "24-03", "32/01/2024", "March", "9.3.24"],
)
def test_what_has_two_readings_or_none_is_not(text: str) -> None:
    assert read_date(text) is None
