"""Properties of the reader: every line accounted for, nothing raised whatever stands there, form without weight."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from recap.diagnostics import Diagnostic, Severity
from recap.normalise.caplist import read_cap_list, read_cap_text
from recap.normalise.values import UNITS
from tests.normalise.facts import facts

if TYPE_CHECKING:
    from collections.abc import Iterable

    from recap.model import Position

CORPUS = sorted((Path(__file__).parent.parent / "corpus").glob("*.txt"))
LINES = sorted({line for path in CORPUS for line in path.read_bytes().decode("utf-8", "replace").splitlines() if line})
NOISE = "C123456789uFµnpVx/-–+.,;:|()[]{}*\"' \t~#=<>&°Ø±?!Ωäéï0Ol\u00a0\u200b\u0336_`\\"

lines = st.sampled_from(LINES)
noise = st.text(st.sampled_from(NOISE), max_size=60)
few = settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])


@st.composite
def mutated(draw: st.DrawFn) -> str:
    """A line of a real list with a few letters put in, taken out or changed."""
    line = list(draw(lines))
    for _ in range(draw(st.integers(0, 4))):
        at = draw(st.integers(0, len(line)))
        letter = draw(st.sampled_from(NOISE))
        line[at : at + draw(st.integers(0, 1))] = draw(st.sampled_from([[letter], []]))
    return "".join(line)


texts = st.lists(st.one_of(lines, mutated(), noise), max_size=12).map("\n".join)


def unaccounted(text: str, positions: Iterable[Position], told: Iterable[Diagnostic]) -> list[int]:
    """Rows with something on them that neither a position nor a diagnostic names."""
    named = {p.source.row for p in positions if p.source} | {d.source.row for d in told}
    rows = text.replace("\r\n", "\n").replace("\r", "\n").split("\n")
    return [n for n, row in enumerate(rows, start=1) if any(c.isalnum() for c in row) and n not in named]


@few
@given(texts)
def test_no_line_is_left_without_a_trace(text: str) -> None:
    positions, told = read_cap_text(text, "list.txt")
    assert "line-unread" not in {d.code for d in told}
    rows = text.split("\n")
    # a line that went into another's record, or holds only a table's frame, has no row of its own
    joined = " ".join(p.text for p in positions)
    for row in unaccounted(text, positions, told):
        words = [word for word in rows[row - 1].split() if word.isalnum()]
        assert all(word in joined or word in "".join(rows) for word in words)


@few
@given(st.text(max_size=300))
def test_no_text_makes_the_reader_raise(text: str) -> None:
    positions, told = read_cap_text(text, "list.txt")
    assert positions or any(d.severity is Severity.ERROR for d in told)


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(data=st.binary(max_size=300), suffix=st.sampled_from([".csv", ".tsv", ".txt", ".md", ".xlsx"]))
def test_no_bytes_make_the_reader_raise(data: bytes, suffix: str, tmp_path: Path) -> None:
    path = tmp_path / f"list{suffix}"
    path.write_bytes(data)
    positions, told = read_cap_list(path)
    assert positions or any(d.severity is Severity.ERROR for d in told)


values = st.sampled_from(["1", "2.2", "4.7", "10", "22", "47", "100", "220", "470", "1000"])
volts = st.sampled_from(["6.3", "10", "16", "25", "35", "50", "63", "100"])
units = st.sampled_from(["uF", "µF", " µF", "MFD", " mfd", "mf", "UF", "u"])
volt_units = st.sampled_from(["V", " V", "v", " volts", "WV", " VDC"])
joints = st.sampled_from([" ", "/", ", ", " - ", " @ "])
firsts = st.sampled_from([" ", ": ", " - ", " = ", "  ", "\t", ", "])


@few
@given(st.integers(1, 999), values, volts, st.tuples(firsts, units, joints, volt_units))
def test_usual_writings_of_one_part_mean_the_same(
    number: int, value: str, rating: str, writing: tuple[str, str, str, str]
) -> None:
    first, unit, joint, volt = writing
    line = f"C{number}{first}{value}{unit}{joint}{rating}{volt}"
    assert facts(line) == facts(f"C{number} {value} µF {rating} V")


@few
@given(
    st.integers(1, 500), st.integers(1, 25), st.sampled_from(["-", " - ", "–", "..", " to ", " bis ", " thru ", "~"])
)
def test_ranges_name_every_place_between_their_ends(first: int, more: int, dash: str) -> None:
    found = facts(f"C{first}{dash}C{first + more} 10uF 16V")
    assert [fact.split()[0] for fact in found] == [f"C{n}" for n in range(first, first + more + 1)]


@few
@given(
    st.lists(st.integers(1, 99), min_size=1, max_size=8, unique=True),
    st.sampled_from([", ", ",", "/", " & ", "; ", " "]),
)
def test_enumerations_name_each_place_once(numbers: list[int], separator: str) -> None:
    refs = separator.join(f"C{n}" for n in numbers)
    assert [fact.split()[0] for fact in facts(f"{refs} 10uF 16V")] == [f"C{n}" for n in numbers]


@few
@given(st.permutations(["C1 10uF 16V", "C2 4.7uF 50V NP", "C3 100uF 25V axial", "C4 2200uF 35V 16x25"]))
def test_the_order_of_lines_changes_nothing(order: list[str]) -> None:
    assert sorted(facts("\n".join(order))) == sorted(fact for line in order for fact in facts(line))


@few
@given(st.sampled_from(["\n", "\r\n", "\r"]), st.sampled_from([",", ";", "\t"]))
def test_line_ends_and_delimiters_change_nothing(end: str, delimiter: str) -> None:
    rows = [["Ref", "Value", "Voltage"], ["C1", "10uF", "16V"], ["C2", "4u7", "50V"]]
    assert facts(end.join(delimiter.join(row) for row in rows)) == ["C1 10 µF 16 V", "C2 4.7 µF 50 V"]


def test_every_unit_of_the_table_is_read_in_a_line() -> None:
    for unit, factor in UNITS.items():
        if not unit.isascii() or unit in {"nano", "micro", "mikro"}:
            continue
        read = read_cap_text(f"C1 22{unit if len(unit) == 1 else ' ' + unit} 50V", "list.txt")[0]
        assert read[0].value_uF == 22 * factor, unit
