"""Records with a line for each field, named at its start: ``Ref: C1`` / ``Value: 10uF`` / ``Voltage: 25V``.

Also as indented keys (``C1:`` with ``value: 10uF`` below it) and as bullets. Such records are rows of a table
whose headers are the names; a new one begins at a blank line, a rule, a lesser indentation or a name's second coming.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Final

from recap.diagnostics import Source
from recap.normalise import columns, designators
from recap.normalise.clean import clean, fold, squeeze
from recap.normalise.later import compiled
from recap.read.cells import Cell, Row
from recap.read.delimited import split_lines

if TYPE_CHECKING:
    import re
    from collections.abc import Iterable, Sequence

_FIELD: Final = compiled(
    r"(?P<indent>[\s>]*)(?:(?:[-*•+–]|\d{1,3}[.)])\s+)?[\"'*_]*(?P<name>[^\W\d][^:=|;\t\"*_]{0,30}?)[\"'*_]*\s*"
    r"[:=][\"'*_]*(?P<text>.*)$"
)
_CELLS: Final = compiled(
    r"(?P<indent>[\s>]*+)(?:\|\s*+)?\"?(?P<name>[^\W\d][^:=|;,\t\"*_\d]{0,30}?)\"?\s*[;|\t,]\s*+"
    r"(?P<text>\"[^\"]*+\"|[^;|\t\"]*+)\|?\s*+$"
)
"""A field and what it holds in two cells: ``Ref;C7``."""
_KEY: Final = compiled(
    r"(?P<indent>[\s>]*)(?:[-*•+–]\s+)?[\"'*_]*(?P<refs>[A-Za-z]{1,3}\d[\w ,;/&+-]{0,60}?)[\"'*_]*:?[\"'*_]*\s*$"
)
_BREAK: Final = compiled(r"[\s\-=_*~{}\[\],]*$")
_FURTHER: Final = compiled(r"[,;|]\s*[\"'*_]*(?P<name>[^\W\d][^:=|;,]{0,30}?)[\"'*_]*\s*[:=]")
_REF: Final = "Ref"
MOST_BLANKS: Final = 2
MOST_WORDS: Final = 4
"""A longer name is the beginning of a sentence."""


@dataclass(frozen=True, slots=True)
class _Said:
    """One line: which field it names and what stands behind the name."""

    number: int
    indent: int
    name: str
    text: str

    @property
    def field(self) -> str:
        """Return what the name heads."""
        return columns.understand(self.name, 0).field


@dataclass(slots=True)
class _Gathered:
    """The lines of a block, and before which of them a blank line or a rule stands."""

    lines: list[_Said] = field(default_factory=list)
    parted: set[int] = field(default_factory=set)


@dataclass(slots=True)
class Finder:
    """Finds such records in one text; remembers up to which line there are none, so that none is gathered in vain."""

    lines: Sequence[str]
    name: str
    barren: int = 0

    def find(self, at: int) -> tuple[int, tuple[Row, ...]] | None:
        """Return the last line (0-based) and the rows, header first, of the records that begin on a line, or None."""
        first = _said(self.lines, at) if at >= self.barren else None
        if first is None or first.field in _NO_BEGINNING:
            return None
        block = _gather(self.lines, at, first)
        fields = {said.field for said in block.lines}
        if not (fields & {"value", "text"} and fields & {"ref", "volts", "qty"}):
            self.barren = block.lines[-1].number + 1
            return None
        records = list(_records(block))
        if not any(len({said.field for said in record}) > 1 for record in records):
            if len({said.indent for said in block.lines}) == 1:  # otherwise its later lines may part in another way
                self.barren = block.lines[-1].number + 1
            return None
        return block.lines[-1].number, tuple(_rows(records, at, self.name))


def opens(text: str, name: str) -> bool:
    """Tell whether a text begins with such records."""
    lines = split_lines(text)
    first = next((at for at, line in enumerate(lines) if line.strip()), None)
    return first is not None and Finder(lines, name).find(first) is not None


def without_name(text: str) -> tuple[str, str]:
    """Return what stands behind the name of a field and the name; the text and nothing where it begins with none."""
    match = _FIELD.match(text)
    if match is None or columns.understand(squeeze(match["name"]), 0).field not in columns.STRONG:
        return text, ""
    return match["text"].strip(), match["name"]


_NO_BEGINNING: Final = frozenset(("", "unknown"))


def _said(lines: Sequence[str], at: int) -> _Said | None:
    """Return what a line says of one field; None where it names none, or several."""
    line = lines[at]
    if (key := _KEY.match(line)) is not None:
        return _key(lines, at, key)
    match = _FIELD.match(line) if ":" in line or "=" in line else _cells(line)
    if match is None or len(match["name"].split()) > MOST_WORDS:
        return None
    text = match["text"].strip().rstrip(",").strip("\"'")
    below = lines[at + 1] if at + 1 < len(lines) else ""
    if not text and below.strip() and len(below) - len(below.lstrip(" >")) > len(match["indent"]):
        return None  # ``capacitors:`` over records, no field of one
    further = _FURTHER.search(text)
    if further is not None and columns.understand(squeeze(further["name"]), 0).field in columns.STRONG:
        return None
    return _Said(at, len(match["indent"]), squeeze(clean(match["name"]).text), text)


def _cells(line: str) -> re.Match[str] | None:
    """Return the name of a field and what stands in the cell beside it, where the name is known."""
    match = _CELLS.match(line)
    known = match is not None and columns.understand(squeeze(match["name"]), 0).field in _NAMED
    return match if known else None


_NAMED: Final = columns.STRONG | {"role", "passed over", "item", "done", "measured"}


def _key(lines: Sequence[str], at: int, key: re.Match[str]) -> _Said | None:
    """Return designators that stand alone on their line over named fields, indented or not."""
    below = _FIELD.match(lines[at + 1]) if at + 1 < len(lines) and lines[at + 1].strip() else None
    if below is None or len(below["indent"]) < len(key["indent"]) or designators.read_refs(key["refs"]) is None:
        return None
    known = columns.understand(squeeze(below["name"]), 0).field in columns.STRONG
    return _Said(at, len(key["indent"]), _REF, key["refs"].strip()) if known else None


def _gather(lines: Sequence[str], at: int, first: _Said) -> _Gathered:
    block = _Gathered([first])
    blanks = 0
    for number in range(at + 1, len(lines)):
        if _BREAK.match(lines[number]):
            blanks += not lines[number].strip()
            if blanks > MOST_BLANKS:
                break
            block.parted.add(len(block.lines))
            continue
        said = _said(lines, number)
        if said is None or (said.field == "unknown" and not said.text):
            break  # ``Power board:``: a heading
        blanks = 0
        block.lines.append(said)
    return block


def _records(block: _Gathered) -> Iterable[list[_Said]]:
    """Part the lines: at blank lines and rules, where least is indented of several depths, where a name returns."""
    least = min(said.indent for said in block.lines)
    nested = any(said.indent > least for said in block.lines)
    record: list[_Said] = []
    named: set[str] = set()
    for at, said in enumerate(block.lines):
        if record and (at in block.parted or fold(said.name) in named or (nested and said.indent == least)):
            yield record
            record, named = [], set()
        record.append(said)
        named.add(fold(said.name))
    yield record


def _rows(records: Sequence[Sequence[_Said]], at: int, name: str) -> Iterable[Row]:
    names = {fold(said.name): said.name for record in reversed(records) for said in reversed(record)}
    order = list(dict.fromkeys(fold(said.name) for record in records for said in record))
    place = Source(name, row=at + 1)
    yield Row(tuple(Cell(names[key], place) for key in order), place)
    for record in records:
        told = {fold(said.name): said for said in record}
        place = Source(name, row=record[0].number + 1)
        yield Row(
            tuple(
                Cell(told[key].text, Source(name, row=told[key].number + 1)) if key in told else Cell("", place)
                for key in order
            ),
            place,
        )
