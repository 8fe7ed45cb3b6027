"""Descriptions that go on in the next line, counts in catalogues, and what stands beside a part in columns. Invented.

How printed parts lists wrap and what they head their columns with is common practice of service literature.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from recap.diagnostics import Severity
from recap.normalise.caplist import read_cap_list
from tests.normalise.facts import fact, facts, read

if TYPE_CHECKING:
    from pathlib import Path

PRINT = """SYMBOL   DESCRIPTION                                   PART NO.
-------  --------------------------------------------  ------------
C2001    CAPACITOR, FIXED, ELECTROLYTIC:               62-44120-01
         100 uF, 25 V
C2002    CAPACITOR, FIXED, TANTALUM: 15 uF 10%,        62-44121-07
         20 V
CR2001   DIODE, ZENER,                                 62-45110-00
         5.1 V
C2003    CAPACITOR, FIXED, ELECTROLYTIC: 3300 uF,      62-44120-19
         16 V, RADIAL LEADS
C2004    SAME AS C2001                                 62-44120-01
"""


def listed(tmp_path: Path, text: str) -> list[str]:
    path = tmp_path / "list.csv"
    path.write_text(text, encoding="utf-8")
    return [fact(position) for position in read_cap_list(path)[0]]


def test_the_rest_of_a_description_is_its_parts_and_heads_nothing() -> None:
    wrapped = [
        "C2001 100 µF 25 V electrolytic",
        "C2002 15 µF 20 V tantalum",
        "C2003 3300 µF 16 V radial electrolytic",
    ]
    assert facts(PRINT) == [*wrapped, "C2004 100 µF 25 V electrolytic"]
    assert facts("\n".join(PRINT.splitlines()[2:-1])) == wrapped  # without its header, too


def test_a_voltage_alone_under_a_value_is_its_own_where_those_below_have_theirs() -> None:
    text = (
        "Ref    Description         Part no.\n"
        "C1     CAP ELEC 100 uF     12-34\n       25 V\nC2     CAP ELEC 10 uF 16 V 12-35\n"
    )
    assert facts(text) == ["C1 100 µF 25 V electrolytic", "C2 10 µF 16 V electrolytic"]


def test_a_voltage_alone_over_values_without_one_still_heads_them() -> None:
    text = (
        "Ref    Description         Part no.\n"
        "C1     CAP ELEC 100 uF 10V 12-34\n       25 V\nC2     CAP ELEC 10 uF      12-35\n"
    )
    assert facts(text) == ["C1 100 µF 10 V electrolytic", "C2 10 µF 25 V electrolytic"]


def test_cells_of_a_saved_sheet_wrap_as_well(tmp_path: Path) -> None:
    text = 'Ref,Description,Stock no.\nC1,"Electrolytic, 47 uF,",12\n,"35 V, axial",\nC2,Film 0.1 uF,13\n'
    assert listed(tmp_path, text) == ["C1 47 µF 35 V axial electrolytic", "C2 0.1 µF film"]


CATALOGUE = """ Cap.   Rated    Case size    Ripple      Part No.       {}
 µF     V DC     D x L mm     mA 100 Hz
  10     63      6.5 x 18       70        AX063-010         6
  47     40      8.0 x 18      165        AX040-047         2
 220     25      10 x 18       380        AX025-220         4
"""


@pytest.mark.parametrize("header", ["Required", "Req'd", "Wanted", "To order"])
def test_a_catalogue_page_used_as_an_order_form_counts_its_parts(header: str) -> None:
    assert facts(CATALOGUE.format(header)) == [
        "- x6 10 µF 63 V D6.5 H18",
        "- x2 47 µF 40 V D8 H18",
        "- x4 220 µF 25 V D10 H18",
    ]


def test_whole_numbers_that_nothing_counts_by_are_asked_for() -> None:
    positions, told = read(CATALOGUE.format("Quux"))
    assert [line.split()[1] for line in positions] == ["10", "47", "220"]  # one piece each
    asked = [said for said in told if said.code == "header-unknown" and said.severity is Severity.WARNING]
    assert len(asked) == 1
    assert asked[0].hint == "if these are counts, head the column with qty"


def test_what_is_printed_on_a_part_is_a_remark_where_its_value_stands_beside_it(tmp_path: Path) -> None:
    text = "Ref,Marking,Value,V\nC1,475V,4.7µF,35\nC2,47 16V,47µF,16\n"
    assert listed(tmp_path, text) == ["C1 4.7 µF 35 V", "C2 47 µF 16 V"]
    assert listed(tmp_path, "Ref,Marking,V\nC1,4.7µF,35\nC2,47µF,16\n") == ["C1 4.7 µF 35 V", "C2 47 µF 16 V"]


@pytest.mark.parametrize(("old", "new"), [("Was", "Now"), ("Before", "After"), ("Vorher", "Jetzt"), ("Avant", "Après")])
def test_of_two_columns_the_older_one_is_the_part(old: str, new: str) -> None:
    rows = "C412     1uF 50V              2.2uF 100V\nC418     47uF 16V 85C         47uF 25V 105C\n"
    assert facts(f"Ref      {old}                  {new}\n{rows}") == ["C412 1 µF 50 V", "C418 47 µF 16 V 85 °C"]


def test_a_column_for_what_parts_are_for_names_boards_only_where_it_holds_such_names(tmp_path: Path) -> None:
    text = "Cap,Volts,pcs,For\n100µF,16,4,Driver board\n47µF,25,2,Rectifier\n"
    assert listed(tmp_path, text) == ["- x4 100 µF 16 V @ Driver board", "- x2 47 µF 25 V @ Rectifier"]
    assert listed(tmp_path, "Cap,Volts,pcs,For\n100µF,16,4,me\n47µF,25,2,Tom\n") == [
        "- x4 100 µF 16 V",
        "- x2 47 µF 25 V",
    ]
