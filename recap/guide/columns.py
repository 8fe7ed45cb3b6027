"""What each column of each file means: the words of the guide for the fields of ``read/vocabulary.py``."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from recap.model import Kind, Mount, Role
from recap.read import sheet_headers, vocabulary

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping


@dataclass(frozen=True, slots=True)
class Column:
    """One column: its meaning, the unit of a bare number, an example of what stands in a cell."""

    meaning: str
    unit: str | None = None
    example: str | None = None
    needed: bool = False


@dataclass(frozen=True, slots=True)
class File:
    """One file of the bench folder and its columns; ``words`` are the headers it is recognised by."""

    name: str
    holds: str
    columns: Mapping[str, Column]
    words: Mapping[str, tuple[str, ...]]


def _one_of(names: Iterable[str]) -> str:
    return "one of " + ", ".join(names)


_KINDS = _one_of(kind.value for kind in Kind if kind is not Kind.UNKNOWN)
_MOUNTS = _one_of(mount.value for mount in Mount)
_ROLES = _one_of(role.value for role in Role)

CAP_LIST: Final[dict[str, Column]] = {
    "ref": Column("designators of the positions: one, a list, a range", example="C1, C3, C5-C8, C901A/B"),
    "qty": Column("pieces; where it is blank, as many as there are designators", example="4"),
    "value": Column("capacitance; the sections of a can joined by +", "µF, doubted", "4u7, 4,7 µF, 470 nF, 50+50µF"),
    "volts": Column("rated voltage, as printed on the old part", "V", "16 V, 6v3"),
    "temp": Column("rated temperature", "°C", "105"),
    "mount": Column(f"way of mounting: {_MOUNTS}", example="radial"),
    "kind": Column(f"what it is made of: {_KINDS}", example="bipolar, NP, Elko"),
    "pitch": Column("distance of the leads", "mm", '5 mm, 0.2"'),
    "diameter": Column("diameter of the can", "mm", "12,5"),
    "height": Column("height over the board; of an axial part, the length of its body", "mm", "20"),
    "board": Column("the board it stands on, as sets.csv names it", example="POWER"),
    "role": Column(f"what it does in its circuit, where known; it selects the rules: {_ROLES}", example="smoothing"),
    "operating": Column("working voltage, measured or read off the schematic, where known", "V", "325"),
    "ripple": Column("ripple current, as the old part is rated for", "mA", "1500, 1.5 A"),
    "safety": Column("class of a safety part", example="X2, Y1"),
    "note": Column("anything else; it stands on checklist and page", example="bottom fold-over when dry"),
}

CATALOGUE: Final[dict[str, Column]] = {
    "part": Column("the supplier's part number; the same text is the same part, whoever sells it", needed=True),
    "maker": Column("who makes it; makers_only and makers_never go by it"),
    "series": Column("the maker's series"),
    "value": Column("capacitance; without one a row is only met by extras", "µF", "470 nF"),
    "tolerance": Column("tolerance of the capacitance", example="±20 %, M"),
    "volts": Column("rated voltage", "V"),
    "temp": Column("rated temperature", "°C"),
    "life": Column("rated life at the rated temperature", "h", "2000 h"),
    "mount": Column(f"way of mounting: {_MOUNTS}"),
    "kind": Column(f"what it is made of: {_KINDS}"),
    "pitch": Column("distance of the leads", "mm"),
    "diameter": Column("diameter", "mm"),
    "height": Column("height; of an axial part, the length of its body", "mm"),
    "ripple": Column("rated ripple current", "mA"),
    "impedance": Column("impedance", "Ω"),
    "safety": Column("class of a safety part", example="X2"),
    "minimum": Column("least quantity; blank: the first quantity of prices", "pieces"),
    "multiple": Column("quantities come in multiples of this; blank: 1", "pieces"),
    "stock": Column("the most that can be bought; blank: no limit", "pieces"),
    "prices": Column(
        "unit price by quantity, for all pieces of the line; or a column for each quantity, headed 1, 10, 100",
        "supplier's currency",
        "1:0.42 10:0.31 100:0.19",
    ),
    "updated": Column("the day the row was true", example="2025-03-01"),
}

DRAWER: Final[dict[str, Column]] = {
    **{name: column for name, column in CATALOGUE.items() if name not in {"minimum", "multiple", "stock", "updated"}},
    "part": Column("number printed on the bag; the same text as in a catalogue is the same part"),
    "prices": Column("not used: what lies there is paid"),
    "minimum": Column("not used"),
    "multiple": Column("not used"),
    "stock": Column("not used"),
    "updated": Column("not used"),
    "qty": Column("pieces that lie there", "pieces", needed=True),
    "size": Column("diameter and height together, instead of a column for each", example="6.3x11"),
    "description": Column("the part in words, for what has no column of its own", example="47uF 25V 105C radial 5x11"),
    "bought": Column("the day it was bought; old parts are judged by it", example="2024-11-20, 2019-06"),
    "place": Column("where it lies", example="box 2"),
}

SETS: Final[dict[str, Column]] = {
    "set": Column("name of the set, yours to choose", example="glim-1", needed=True),
    "chassis": Column("its chassis: the name of a file in caplists, without its ending", needed=True),
    "boards": Column("the boards this set really has, spaces between; blank: all in the list", example="POWER MAIN"),
    "job": Column(
        "what is to be done, in words with spaces between: full, none, a board, a designator; "
        "with - in front it takes away",
        example="full -C905, POWER C331",
    ),
    "note": Column("anything else"),
}

EXTRAS: Final[dict[str, Column]] = {
    "item": Column("what it is", example="mains switch", needed=True),
    "qty": Column("pieces; without the column 1", "pieces"),
    "set": Column("for which set; blank: for the bench"),
    "part": Column("part numbers in catalogues, spaces between: any of them will do", needed=True),
    "note": Column("anything else"),
}

SUPPLIERS: Final[dict[str, Column]] = {
    "supplier": Column("its name: that of a file in catalogs, without its ending", needed=True),
    "currency": Column("currency of its prices and of all amounts in this row", example="EUR"),
    "rate": Column("what one unit of it costs in the bench's currency; blank where they are the same", example="0.92"),
    "shipping": Column("what sending costs, by goods value: from that value on so much", example="0:6.90 40:3.90 80:0"),
    "minimum": Column("least goods value of an order", "supplier's currency"),
    "handling": Column("fee for each order", "supplier's currency"),
    "line_fee": Column("fee for each line of an order", "supplier's currency"),
    "duty": Column("duty on the goods", "percent", "2.5"),
    "tax": Column("tax on goods, shipping, fees and duty", "percent", "19"),
}

FILES: Final[tuple[File, ...]] = (
    File("caplists/CHASSIS.csv", "the capacitors of one chassis", CAP_LIST, vocabulary.CAP_LIST),
    File("sets.csv", "the sets on the bench", SETS, vocabulary.SETS),
    File("catalogs/SUPPLIER.csv", "what one supplier sells", CATALOGUE, sheet_headers.PRICE_SHEET),
    File("catalogs/suppliers.csv", "the terms of each supplier", SUPPLIERS, vocabulary.SUPPLIERS),
    File("drawer.csv", "parts on hand", DRAWER, vocabulary.DRAWER),
    File("extras.csv", "other parts to buy in the same order", EXTRAS, vocabulary.EXTRAS),
)
"""Every table of a bench folder, in the order in which a person fills them in."""
