"""Legends in cells of a table or on a sheet of their own (``NP = bipolar | * = 105 °C``), and their use in its rows."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from recap.normalise import legends
from recap.normalise.clean import clean, squeeze

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from recap.read.cells import Row

_MARK: Final = re.compile(rf"[(\[]?(?P<mark>[A-Za-z]{{1,4}}|[{re.escape(legends.SIGNS)}]{{1,3}})[)\]]?")
_LABEL: Final = re.compile(
    r"(?:legend|legenda|key|codes?|marks?|symbols?|abbreviations?|legende|abkürzungen|zeichenerklärung|légende|leyenda|leggenda"
    r"|vysvětlivky|objaśnienia|teckenförklaring|jelmagyarázat|обозначения|凡例|图例)\s*:?",
    re.IGNORECASE,
)
_APART: Final = re.compile(r"[\s,;/+&]+")
_CLAUSES: Final = re.compile(r"\s*[,;()\[\]]\s*")
_SIGNED: Final = re.compile(rf"(?P<text>.*[\w)°%])\s?(?P<mark>[{re.escape(legends.SIGNS)}]{{1,3}})")
LEGENDED: Final = frozenset(
    ("text", "unknown", "", "kind", "mount", "package", "part", "note", "role", "temp", "safety")
)
"""Fields of columns in which letters may be marks; signs may be marks in any."""


@dataclass(frozen=True, slots=True)
class Told:
    """What the legends of a table explain, and which of its rows (by index) they fill."""

    legend: legends.Legend = ()
    rows: frozenset[int] = frozenset()


def in_table(rows: Sequence[Row]) -> Told:
    """Return the legends of a table: rows of nothing but explanations, or of a mark and its meaning in two cells.

    Of the latter one alone could be anything: it counts below another, or below a row that says that it is a legend.
    """
    explained: dict[int, legends.Legend] = {}
    paired: dict[int, legends.Legend] = {}
    labels: set[int] = set()
    for at, row in enumerate(rows):
        filled = [cell.text for cell in row.cells if cell.text]
        if sum(map(len, filled)) > legends.LONGEST or not _may_explain(filled):
            continue
        texts = [text for cell in row.cells if (text := squeeze(clean(cell.text).text).strip("= "))]
        label = bool(texts) and _LABEL.fullmatch(texts[0]) is not None
        if label:
            texts = texts[1:]
        if label and not texts:
            labels.add(at)
        elif (legend := _explained(texts)) is not None:
            explained[at] = legend
        elif (pair := _pair(texts)) is not None:
            (explained if label else paired)[at] = pair
    for at, pair in paired.items():
        if at - 1 in labels | explained.keys() | paired.keys() or at + 1 in paired:
            explained[at] = pair
    found = tuple(pair for at in sorted(explained) for pair in explained[at])
    return Told(found, frozenset(explained) | {at for at in labels if at + 1 in explained})


def _may_explain(filled: Sequence[str]) -> bool:
    """Tell whether a row may be a legend, before anything is made of it."""
    return 0 < len(filled) <= FEW_CELLS or any(sign in text for text in filled[:2] for sign in _EXPLAINING)


FEW_CELLS: Final = 3
_EXPLAINING: Final = ("=", ":", " - ", "means", "stands", "steht", "bedeutet")


def _explained(texts: Sequence[str]) -> legends.Legend | None:
    """Return what a row explains all of whose cells are explanations; one alone is a line and read as such."""
    if len(texts) < legends.FEWEST and not (texts and "=" in texts[0]):
        return None
    return legends.read(", ".join(texts))


def _pair(texts: Sequence[str]) -> legends.Legend | None:
    match = _MARK.fullmatch(texts[0]) if len(texts) == 2 else None  # noqa: PLR2004 - a mark and its meaning
    return ((match["mark"], texts[1]),) if match is not None and legends.states(texts[1]) else None


def as_marks(legend: legends.Legend) -> dict[str, str]:
    """Return a legend as cells use it: marks without brackets."""
    return {mark.strip("()"): meaning for mark, meaning in legend}


def spelt_out(text: str, marks: Mapping[str, str], field: str) -> tuple[str, str]:
    """Return a cell without its marks, and what these mean; ``field`` is what its column holds."""
    if not text or not marks:
        return text, ""
    signed = _SIGNED.fullmatch(text) if field != "ref" else None
    if signed is not None and signed["mark"] in marks:
        rest, meaning = spelt_out(signed["text"], marks, field)
        return rest, f"{meaning} {marks[signed['mark']]}".strip()
    pieces = [piece for piece in _APART.split(text.strip("()[] ")) if piece]
    if pieces and all(piece in marks for piece in pieces) and (field in LEGENDED or pieces[0][0] in legends.SIGNS):
        return "", ", ".join(marks[piece] for piece in pieces)
    if field not in LEGENDED:
        return text, ""
    clauses = _CLAUSES.split(text)
    told = [clause for clause in clauses if clause in marks]
    rest = ", ".join(clause for clause in clauses if clause and clause not in marks)
    return (rest, ", ".join(marks[clause] for clause in told)) if told else (text, "")
