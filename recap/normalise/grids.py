"""Tables inside text: Markdown and wiki tables, delimited blocks, columns aligned by spaces.

A block is a header line and the lines below it that have its shape. Whatever is not in a block is
free text. Cells keep the row of their line, so places stay true.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Final

from recap.diagnostics import Source
from recap.normalise import aligned, columns, head_rows, labelled, named_fields, page_tables, turned_tables
from recap.normalise.clean import EDIT_LINKS, clean, squeeze
from recap.normalise.head_rows import LOOKED_AT
from recap.normalise.spans import SpannedRow
from recap.read.cells import Cell, Row

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

Splitter = "Callable[[str], list[str]]"

_FRAME: Final = re.compile(r"[\s|:+=\-–—_]*-{2,}[\s|:+=\-–—_]*$|[\s|+=_-]+$")
_NO_HEADER: Final = re.compile(r"\d\s?(?:[uµμnp]F|V\b|mfd)|\bC-?\d", re.IGNORECASE)
"""A line that holds a quantity or a designator heads no table; most lines of a list are told apart by this alone."""
_MARKDOWN_RULE: Final = re.compile(r"\|?\s*:?-+:?\s*(?:\|\s*:?-+:?\s*)+\|?")
_PIPES: Final = re.compile(r"(?<!\\)\|")
_DOUBLE_BARS: Final = re.compile(r"\|\|(?:[^|]+\|\|){2,}")
"""The header of a table in tickets: ``||Ref||Value||``."""
BLANKS: Final = 2
"""So many lines without text may stand between a header and its rows."""
_WIDE: Final = re.compile(r"\t+|\s{2,}")


@dataclass(frozen=True, slots=True)
class Block:
    """Lines ``first`` to ``last`` (0-based, inclusive) as rows of cells. Rows that only draw have no cells."""

    first: int
    last: int
    rows: tuple[Row, ...]
    headed: bool = False
    """A rule below its first line says that this is its header, whatever the words are."""
    caption: tuple[int, str] | None = None
    """What stands over it as its caption, with the number of its line."""
    outside: tuple[tuple[int, str], ...] = ()
    """Text on its lines that stands in no cell."""


def find_block(lines: Sequence[str], at: int, name: str, fields: labelled.Finder) -> Block | None:
    """Return the table that begins at line ``at``, or None where that line heads none."""
    if lines[at].lstrip().startswith("{|"):
        return _wiki(lines, at, name)
    if "<" in lines[at] and (page := page_tables.find(lines, at, name)) is not None:
        return Block(at, page.last, page.rows, headed=page.headed, caption=page.caption, outside=page.outside)
    if turned_tables.may_begin(lines[at], _below(lines, at)) and (turned := _turned(lines, at, name)) is not None:
        return turned
    if (records := named_fields.find(lines, at, name) or fields.find(at)) is not None:
        return Block(at, records[0], records[1], headed=True)
    kinds = (_ruled, _printed, _headed, _explained)
    return next((block for kind in kinds if (block := kind(lines, at, name)) is not None), None)


def _explained(lines: Sequence[str], at: int, name: str) -> Block | None:
    """Return the table below a line that names its columns in passing: ``Tuner 9 (C no. / uF / V)``."""
    match = _NAMED.search(lines[at])
    names = [part.strip() for part in _SLASHES.split(match["names"])] if match is not None else []
    fields = [columns.understand(part, 0).field for part in names]
    if len(names) < FEWEST_NAMED or not set(fields) <= columns.STRONG or not {"ref", "value"} <= set(fields):
        return None
    rows = [_row(lines, at, names, name)]
    last = at
    for number in range(at + 1, len(lines)):
        cells = lines[number].split()
        if not cells and number - last <= BLANKS:
            rows.append(Row((), Source(name, row=number + 1)))
            continue
        if len(cells) != len(names) or not all(map(_FIGURES.fullmatch, cells)):
            break
        rows.append(_row(lines, number, cells, name))
        last = number
    return Block(at, last, tuple(rows[: last - at + 1]), headed=True) if last - at >= FEWEST_NAMED else None


_NAMED: Final = re.compile(r"[(:]\s*(?P<names>[^():]{5,80})\)?\s*:?\s*$")
_SLASHES: Final = re.compile(r"\s*[/|,;]\s*")
_FIGURES: Final = re.compile(r"[A-Za-z]{0,2}\d[\d.,]*[a-zA-Zµ%]{0,3}|[-–?]")
FEWEST_NAMED: Final = 3
"""Fewer columns may be named by chance; so may fewer rows look like theirs."""


def _ruled(lines: Sequence[str], at: int, name: str) -> Block | None:
    """Return the table whose first line a rule underlines, as in Markdown."""
    if not any(map(str.isalpha, lines[at])) or not _is_ruled(lines, at):
        return None
    header = EDIT_LINKS.sub(" ", lines[at]).strip()
    splitter = _by_pipes if header.startswith("|") else _by_inner_pipes
    cells = splitter(header)
    found = _block(lines, at, name, splitter, cells) if len(cells) > 1 else None
    return None if found is None else replace(found, headed=True)


def _is_ruled(lines: Sequence[str], at: int) -> bool:
    """Tell whether a rule of Markdown underlines a line: it heads a table of its own."""
    return at + 1 < len(lines) and _MARKDOWN_RULE.fullmatch(lines[at + 1].strip()) is not None


def _printed(lines: Sequence[str], at: int, name: str) -> Block | None:
    """Return the table whose cells a program printed below their headers."""
    if _NO_HEADER.search(lines[at]) or "|" in lines[at] or "\t" in lines[at]:
        return None
    found = aligned.find(lines, at)
    if found is None:
        return None
    last, cells = found
    rows = (_row(lines, number, cells.get(number, ()), name) for number in range(at, last + 1))
    return Block(at, last, tuple(rows), headed=True)


def _below(lines: Sequence[str], at: int) -> str:
    """Return the next line that holds text and isn't a rule, at most so many blank ones below."""
    near = (line for line in lines[at + 1 : at + 2 + BLANKS] if line.strip() and not _FRAME.fullmatch(line))
    return next(near, "")


def _turned(lines: Sequence[str], at: int, name: str) -> Block | None:
    """Return the table whose parts stand beside each other, or whose voltages head its columns, made upright."""
    lines = lines[: at + turned_tables.MOST_LINES]
    for splitter in (_by_pipes, _by_inner_pipes, _by_tabs, _by_semicolons, _by_commas, _by_width):
        cells = splitter(lines[at])
        corner = splitter is _by_width and bool(cells) and columns.holds_data(cells[0])
        block = _block(lines, at, name, splitter, [""] * corner + cells) if len(cells) > 1 else None
        if block is not None and (rows := turned_tables.upright(block.rows)) is not None:
            return replace(block, rows=rows, headed=True)
    return None


def _headed(lines: Sequence[str], at: int, name: str) -> Block | None:
    """Return the table whose header the words of line ``at`` show."""
    if _NO_HEADER.search(lines[at]) or not any(letter.isalpha() for letter in lines[at]):
        return None
    for splitter in (_by_pipes, _by_inner_pipes, _by_tabs, _by_semicolons, _by_commas, _by_width, _by_words):
        cells = splitter(lines[at])
        if splitter is _by_words and not columns.are_all_known(cells):
            continue
        if len(cells) > 1 and _heads(cells, lines, at, splitter):
            return _block(lines, at, name, splitter, cells)
    return None


def _heads(header: Sequence[str], lines: Sequence[str], at: int, splitter: Callable[[str], list[str]]) -> bool:
    """Tell whether a line, cut into cells, heads those below it that are cut alike."""
    texts = [squeeze(clean(cell).text) for cell in header]
    if columns.is_header(texts):
        return True
    near = lines[at + 1 : at + 1 + LOOKED_AT + BLANKS]
    below = [line for line in near if line.strip() and not _FRAME.fullmatch(line)]
    rows = [[squeeze(clean(cell).text) for cell in splitter(line)] for line in below[:LOOKED_AT]]
    return head_rows.is_header(texts, [row for row in rows if len(row) == len(texts)])


def _by_pipes(line: str) -> list[str]:
    """Cut a line at pipes where it begins with one, as Markdown tables do."""
    text = line.strip()
    if not text.startswith("|"):
        return []
    if _DOUBLE_BARS.fullmatch(text):
        return [part.strip() for part in text[2:-2].split("||")]
    text = text[1:-1] if text.endswith("|") and not text.endswith("\\|") and len(text) > 1 else text[1:]
    return [part.strip().replace("\\|", "|") for part in _PIPES.split(text)]


def _by_inner_pipes(line: str) -> list[str]:
    """Cut a line at pipes between its cells; a pipe at either end means an empty cell there."""
    return [part.strip() for part in _PIPES.split(line)] if "|" in line else []


def _by_tabs(line: str) -> list[str]:
    return [part.strip() for part in line.split("\t")] if "\t" in line else []


def _by_semicolons(line: str) -> list[str]:
    return _quoted(line, ";") if ";" in line else []


def _by_commas(line: str) -> list[str]:
    return _quoted(line, ",") if line.count(",") > 0 else []


def _quoted(line: str, delimiter: str) -> list[str]:
    """Split a line at delimiters outside quotation marks."""
    parts = re.findall(rf'\s*"((?:[^"]|"")*)"\s*(?:{delimiter}|$)|([^{delimiter}]*)(?:{delimiter}|$)', line)
    cells = [(quoted.replace('""', '"') or plain).strip() for quoted, plain in parts]
    return cells[:-1] if cells and not cells[-1] and not line.rstrip().endswith(delimiter) else cells


def _by_width(line: str) -> list[str]:
    return [part for part in _WIDE.split(line.strip()) if part]


def _by_words(line: str) -> list[str]:
    return line.split()


def _block(
    lines: Sequence[str], at: int, name: str, splitter: Callable[[str], list[str]], header: list[str]
) -> Block | None:
    starts = _starts(lines[at], header) if splitter in {_by_width, _by_words} else []
    rows = [_row(lines, at, header, name)]
    outside: list[tuple[int, str]] = []
    last = at
    blanks = 0
    for number in range(at + 1, len(lines)):
        line = lines[number]
        if not line.strip():
            blanks += 1
            if blanks > 1 or splitter is _by_words:
                break
            rows.append(Row((), Source(name, row=number + 1)))
            continue
        if _FRAME.fullmatch(line):
            rows.append(Row((), Source(name, row=number + 1)))
            last = number
            continue
        cells = None if blanks and _is_ruled(lines, number) else _cells(line, splitter, len(header), starts)
        if cells is None:
            break
        blanks = 0
        if splitter is _by_width and (further := _JOINED.fullmatch(cells[-1])) is not None:
            cells = [*cells[:-1], further["own"]]
            outside.append((number + 1, further["further"]))
        rows.append(_row(lines, number, cells, name))
        last = number
    if last == at or not any(row.cells for row in rows[1 : last - at + 1]):
        return None
    return Block(at, last, tuple(rows[: last - at + 1]), outside=tuple(outside))


_JOINED: Final = re.compile(
    r"(?P<own>\d[\w.,]*\s?V(?:DC)?) (?P<further>C[A-Z]?-?\d{1,4}\s.*\d\s?(?:[uµμnp]F|mfd)(?![A-Za-z]).*)", re.IGNORECASE
)
"""``16 V C202 47 uF 25 V``: the next record, which text recognition put behind this one."""


def _row(lines: Sequence[str], number: int, cells: Sequence[str], name: str) -> Row:
    del lines
    source = Source(name, row=number + 1)
    struck = [_STRUCK.fullmatch(text) for text in cells]
    if sum(match is not None for match in struck) < 2:  # noqa: PLR2004 - one may be a dash and a number
        struck = [None] * len(cells)
    marked = zip(cells, struck, strict=True)
    return Row(tuple(Cell(m["text"] if m else text, source, struck=bool(m)) for text, m in marked), source)


_STRUCK: Final = re.compile(r"-(?P<text>[^\W_](?:[^|-]*[^\s|-])?)-")
"""A cell of a ticket's table that is struck through: ``|-C4-|-100uF-|``."""


def _starts(line: str, header: Sequence[str]) -> list[int]:
    """Return where each header begins, for columns aligned by spaces."""
    found: list[int] = []
    at = 0
    expanded = line.expandtabs(8)
    for text in header:
        at = expanded.index(text, at) if text in expanded[at:] else at
        found.append(at)
        at += len(text)
    return found


def _cells(line: str, splitter: Callable[[str], list[str]], width: int, starts: list[int]) -> list[str] | None:
    """Return the cells of one line below the header, or None where the line isn't of the table."""
    cells = splitter(line)
    if splitter is _by_words:
        return cells if len(cells) == width else None
    if splitter is _by_width:
        if len(cells) == width:
            return cells
        lone = len(cells) == 1 and _goes_on(line, starts)
        return _aligned(line, starts) if lone or 1 < len(cells) < width else None
    if splitter is _by_inner_pipes and len(cells) > width and not cells[0]:
        return cells[1:]  # ``| C3 | 10uF`` under ``Ref | Value``
    fewest = 2 if splitter is _by_commas else 1  # no delimiter, no row
    return cells if len(cells) >= fewest else None


def _goes_on(line: str, starts: list[int]) -> bool:
    """Tell whether a lone text goes on with a cell above it: it begins where a later column does."""
    expanded = line.expandtabs(8)
    begins = len(expanded) - len(expanded.lstrip())
    return any(abs(begins - start) <= 1 for start in starts[1:])


def _aligned(line: str, starts: list[int]) -> list[str] | None:
    """Cut a line at the columns of its header; None where a word would be cut."""
    expanded = line.expandtabs(8).rstrip()
    pieces = [(match.start(), match[0]) for match in re.finditer(r"\S+(?:\s\S+)*", expanded)]
    cells = [""] * len(starts)
    for begin, text in pieces:
        middle = begin + 1
        index = max((i for i, start in enumerate(starts) if start <= middle), default=0)
        nearest = min(range(len(starts)), key=lambda i: abs(starts[i] - begin))
        if nearest != index and abs(starts[nearest] - begin) <= 2:  # noqa: PLR2004 - a little out of line
            index = nearest
        if cells[index]:
            return None
        cells[index] = text
    return cells


_ATTRIBUTES: Final = re.compile(r"^[^|\[\]]*=\s*[\"'][^|]*\|(?!\|)")


def _wiki(lines: Sequence[str], at: int, name: str) -> Block | None:
    """Read a wiki table, in which a row may stand on one line or have a line for each cell."""
    rows: list[Row] = []
    row = SpannedRow()
    begun = 0
    caption: tuple[int, str] | None = None
    for number in range(at + 1, len(lines)):
        text = lines[number].strip()
        if text.startswith("{|"):
            return None  # the one above has no end
        if text.startswith(("|-", "|}", "|+")):
            source = Source(name, row=begun)
            if cells := row.end():
                rows.append(Row(tuple(Cell(cell, source) for cell in cells), source))
            begun = 0
            if text.startswith("|}"):
                headed = any(line.lstrip().startswith("!") for line in lines[at + 1 : _row_of(rows) or at])
                return Block(at, number, tuple(rows), headed=headed, caption=caption)
            if text.startswith("|+"):
                caption = (number + 1, _ATTRIBUTES.sub("", text[2:]).strip(" |"))
        elif text.startswith(("|", "!")):
            begun = begun or number + 1
            for part in re.split(r"\|\||!!", text[1:]):
                told = _ATTRIBUTES.match(part)
                row.add(_ATTRIBUTES.sub("", part).strip(), told[0] if told else "")
        elif row.cells and text:
            row.cells[-1] = f"{row.cells[-1]} {text}"
        elif caption is not None and not rows and text:
            caption = (caption[0] if caption[1] else number + 1, f"{caption[1]} {text}".strip())
    return None


def _row_of(rows: Sequence[Row]) -> int | None:
    """Return the line of the first row, counted from 1, or None where there is none."""
    return rows[0].source.row if rows else None
