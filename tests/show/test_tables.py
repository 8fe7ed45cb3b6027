"""Tables where the terminal is narrow: lines end between words, and never between a number and its unit."""

from __future__ import annotations

import re
from io import StringIO

import pytest
from rich.console import Console
from rich.text import Text

from recap.show.tables import plain_table
from tests.cli.test_check_commands import run

QUANTITIES = ("0.22 µF 275 V X2", "1000 µF 25 V 105 °C, Ø10 × 20", "2.2 kΩ 0.4 mA 5000 h 81 % 7.5 mm", "47 uF 4.7 kohm")
SPLIT = re.compile(r"\d\|(?:[µun]F|V|°C|×|k?Ω|kohm|mA|h|%|mm)(?!\w)|×\|")


@pytest.mark.parametrize("width", range(24, 60))
@pytest.mark.parametrize("kind", [str, Text])
def test_no_line_ends_between_a_number_and_its_unit(width: int, kind: type) -> None:
    table = plain_table()
    table.add_column("place", no_wrap=True)
    table.add_column("read as")
    for at, text in enumerate(QUANTITIES):
        table.add_row(f"C{at}", kind(text))
    console = Console(width=width, file=StringIO(), record=True)
    console.print(table)
    rows = console.export_text().splitlines()[3:]
    told = [line[7:].strip() for line in rows if line[7:].strip()]
    assert SPLIT.search("|".join(told)) is None
    assert " ".join(" ".join(told).split()) == " ".join(QUANTITIES)  # and no sign of how it is done


def test_styles_stay_on_their_letters() -> None:
    table = plain_table(headed=False)
    table.add_column("")
    table.add_row(Text("47 µF ").append("25 V", style="bold"))
    console = Console(width=40, file=StringIO(), force_terminal=True, color_system="standard")
    console.print(table)
    assert "\x1b[1m25 V\x1b[0m" in console.file.getvalue()  # type: ignore[attr-defined]


def test_a_heading_keeps_its_letters_together_at_sixty_columns() -> None:
    told = run('stress "100uF 35V 105C" --operating 20V', columns=60)
    assert re.search(r"^ temperature\s+stress", told, re.MULTILINE)
