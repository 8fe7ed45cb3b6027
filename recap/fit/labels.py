"""Labels for bags: the geometry of label sheets, and what stands on each label."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from recap.fit.page.workshop import board_address, place_address
from recap.model import DRAWER
from recap.order.allot import natural
from recap.order.wording import marked_text

if TYPE_CHECKING:
    from recap.fit.bags import Compartment, Content, Sorting


@dataclass(frozen=True, slots=True)
class LabelSheet:
    """Where the labels lie on a sheet; mm, from the upper left corner. ``cut`` asks for cut marks."""

    name: str
    description: str
    page_mm: tuple[float, float]
    columns: int
    rows: int
    label_mm: tuple[float, float]
    corner_mm: tuple[float, float]
    gap_mm: tuple[float, float] = (0.0, 0.0)
    cut: bool = False

    @property
    def count(self) -> int:
        """Labels on one sheet."""
        return self.columns * self.rows

    def place(self, index: int) -> tuple[float, float]:
        """Return the upper left corner of label ``index`` of a sheet, row by row; mm."""
        row, column = divmod(index, self.columns)
        return (
            self.corner_mm[0] + column * (self.label_mm[0] + self.gap_mm[0]),
            self.corner_mm[1] + row * (self.label_mm[1] + self.gap_mm[1]),
        )


A4_MM: Final = (210.0, 297.0)
LETTER_MM: Final = (215.9, 279.4)

SHEETS: Final = {
    sheet.name: sheet
    for sheet in (
        LabelSheet("a4-3x8", "A4, 3 × 8 labels of 70 × 37 mm", A4_MM, 3, 8, (70.0, 37.0), (0.0, 0.5)),
        LabelSheet(
            "a4-2x7", "A4, 2 × 7 labels of 99.1 × 38.1 mm", A4_MM, 2, 7, (99.1, 38.1), (4.65, 15.15), (2.5, 0.0)
        ),
        LabelSheet(
            "letter-3x10",
            "Letter, 3 × 10 labels of 66.7 × 25.4 mm",
            LETTER_MM,
            3,
            10,
            (66.675, 25.4),
            (4.7625, 12.7),
            (3.175, 0.0),
        ),
        LabelSheet(
            "a4", "plain A4 with cut marks, 3 × 7 of 60 × 38 mm", A4_MM, 3, 7, (60.0, 38.0), (15.0, 15.5), cut=True
        ),
        LabelSheet(
            "letter",
            "plain Letter with cut marks, 3 × 6 of 62 × 40 mm",
            LETTER_MM,
            3,
            6,
            (62.0, 40.0),
            (14.95, 19.7),
            cut=True,
        ),
    )
}
"""Usual sheets, by geometry alone: whoever's sheet has this geometry fits. Common practice; measure yours."""


@dataclass(frozen=True, slots=True)
class Label:
    """One label: a part for one board of one set. ``address`` is the place that the QR code opens, empty for none."""

    set: str
    board: str
    value: str
    qty: int
    refs: tuple[str, ...]
    part: str
    address: str = ""


def labels(sorting: Sorting, base: str = "") -> tuple[Label, ...]:
    """Return a label for every part of every board, then for extras and for what goes into the drawer.

    ``base`` is the address of the bench page (``http://192.168.1.20:8470``); without it there are no QR codes.
    """
    root = base.rstrip("/")
    found: list[Label] = []
    for bag in sorting.bags:
        for compartment in bag.compartments:
            found += [
                Label(
                    bag.set,
                    compartment.title,
                    value,
                    qty,
                    refs,
                    number,
                    _address(root, bag.set, compartment.board, refs),
                )
                for number, value, qty, refs in _by_part(compartment)
            ]
        found += [
            Label(bag.set, "other parts", piece.extra.item, piece.qty, (), piece.part.number)
            for piece in bag.extras
            if piece.part is not None
        ]
    found += [
        Label("no set", "other parts", piece.extra.item, piece.qty, (), piece.part.number)
        for piece in sorting.extras
        if piece.part is not None
    ]
    found += [
        Label(DRAWER, "spares", marked_text(left.part), left.qty, (), left.part.number) for left in sorting.leftovers
    ]
    return tuple(found)


def _by_part(compartment: Compartment) -> list[tuple[str, str, int, tuple[str, ...]]]:
    """Return part, value, pieces and designators: pieces of one part share a label, wherever they come from."""
    alike: dict[str, list[Content]] = {}
    for content in compartment.contents:
        if content.part is not None:
            alike.setdefault(content.part.number, []).append(content)
    found = []
    for number, members in alike.items():
        refs = sorted({ref for content in members for ref in content.refs}, key=natural)
        found.append((number, members[0].value, sum(content.qty for content in members), tuple(refs)))
    return found


def _address(root: str, bag: str, board: str, refs: tuple[str, ...]) -> str:
    """Return where the label's first designator is on the page.

    Places without designators are told by their value, in several words: the board will do.
    """
    if not root:
        return ""
    named = refs and " " not in refs[0]
    return root + (place_address(bag, board, refs[0]) if named else board_address(bag, board))
