"""Lines as people type them, put together at random: what is read is what was meant, or the line is doubted.

The pieces are ways of writing met in lists of repairers (common practice): separators, units, counts, and what stands
at a line's end and must not change its value, voltage or count.
"""

from __future__ import annotations

from decimal import Decimal
from typing import TYPE_CHECKING

from hypothesis import given, settings
from hypothesis import strategies as st

from recap.diagnostics import Severity
from recap.normalise.caplist import read_cap_text

if TYPE_CHECKING:
    from collections.abc import Callable

VALUES = "1 2.2 3.3 4.7 10 22 47 100 220 330 470 1000 2200 4700 0.47".split()
VOLTS = "6.3 10 16 25 35 50 63 100 160 250 400 450".split()
UNITS = ["uF", "µF", " uF", " µF", "u", "µ", "UF", " MFD", "mfd", " mF", "MF"]
VOLT_UNITS = ["V", " V", "v", "VDC", " VDC", " volts", "WV"]
STARTS = ["", "- ", "* ", "• ", "[ ] ", "- [ ] ", "☐ ", "✓ ", "1. ", "1) ", "> "]
JOINTS = [" ", "  ", ", ", "; ", " - ", " – ", ": ", "\t", " | ", "/", " / ", " @ ", "   ", " · "]
ENDS = """|radial|axial|105C|105°C|85 C|low ESR|5x11|6.3 x 11 mm|10x16|RM5|Ø8|P=2.5|bipolar|NP|0,12 €|$0.25|Art. 12345
(leaky)|ok|ESR 3.2|±20%|R7 nearby|near IC5|(coupling)|Nr. 7|rev B|2021|page 12|-40..105°C|5000h|850mA|ripple 850 mA|h=12
d=8|8mm|D8 L12|see note 1|pin 3|Q5 side|2nd from left|ESR=0.5Ω|3.5%|12/2021|J12 A|10 Jahre alt"""
REFS: list[Callable[[int], str]] = [
    lambda n: f"C{n}",
    lambda n: f"C{n}, C{n + 1}",
    lambda n: f"C{n}/C{n + 1}",
    lambda n: f"C{n}-C{n + 1}",
    lambda n: f"C{n} & C{n + 1}",
]
COUNTS = "{n}x {line}|{n} x {line}|{n} pcs {line}|{n}× {line}|{line} x{n}|{line} ({n})|{line} {n} Stk".split("|")
any_of = st.sampled_from


def read(line: str) -> tuple[list[tuple[str | None, int, Decimal | None, Decimal | None]], bool]:
    """Return what is read of one line, and whether anything of it is doubted."""
    positions, told = read_cap_text(line, "line")
    doubted = any(p.doubts for p in positions) or any(d.severity is not Severity.NOTE for d in told)
    return [(p.ref, p.qty, p.value_uF, p.volts) for p in positions], doubted


@settings(max_examples=200, derandomize=True)
@given(st.data())
def test_a_line_with_designators_is_read_or_doubted(data: st.DataObject) -> None:
    value, volts, n = data.draw(any_of(VALUES)), data.draw(any_of(VOLTS)), data.draw(st.integers(1, 300))
    named = data.draw(any_of(REFS))(n)
    shown = value.replace(".", data.draw(any_of(".,"))) + data.draw(any_of(UNITS))
    rated = volts + data.draw(any_of(VOLT_UNITS))
    order = data.draw(any_of([(named, shown, rated), (named, rated, shown), (shown, rated, named)]))
    first, second = data.draw(any_of(JOINTS)), data.draw(any_of(JOINTS))
    end = data.draw(any_of(ENDS.replace("\n", "|").split("|")))
    line = f"{data.draw(any_of(STARTS))}{order[0]}{first}{order[1]}{second}{order[2]} {end}".rstrip()
    found, doubted = read(line)
    refs = [f"C{n}"] if named == f"C{n}" else [f"C{n}", f"C{n + 1}"]
    assert doubted or found == [(ref, 1, Decimal(value), Decimal(volts)) for ref in refs], line


@settings(max_examples=150, derandomize=True)
@given(st.data())
def test_a_line_with_a_count_is_read_or_doubted(data: st.DataObject) -> None:
    value, volts, n = data.draw(any_of(VALUES)), data.draw(any_of(VOLTS)), data.draw(st.integers(1, 12))
    shown = value.replace(".", data.draw(any_of(".,"))) + data.draw(any_of(UNITS))
    rated = volts + data.draw(any_of(VOLT_UNITS))
    both = f"{shown}{data.draw(any_of(JOINTS))}{rated}"
    if data.draw(st.booleans()):
        both = f"{rated}{data.draw(any_of(JOINTS))}{shown}"
    line = data.draw(any_of(STARTS)) + data.draw(any_of(COUNTS)).format(n=n, line=both)
    found, doubted = read(line)
    assert doubted or found == [(None, n, Decimal(value), Decimal(volts))], line
