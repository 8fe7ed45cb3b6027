"""Any capacitor list to positions: the one door for files and for pasted text.

The flow: lines or cells with their place (``recap.read``, :mod:`grids`) → tokens (:mod:`tokens`) → drafts
(:mod:`records`, :mod:`rows`) → positions (:mod:`positions`) → checks over the whole list (:mod:`checks`).
The ledger (:mod:`ledger`) sees to it that no line is lost on the way.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING, Final

from recap.diagnostics import Diagnostic, Severity, Source, error, has_errors
from recap.normalise import (
    all_but,
    bare_cells,
    can_sections,
    captions,
    cell_legends,
    channels,
    checks,
    grids,
    heading_stack,
    homeless,
    labelled,
    legends,
    multiplied,
    page_tables,
    sentences,
    sheets,
    side_columns,
    speakers,
    stated_totals,
    stored,
    style,
    summaries,
    turned_tables,
    volts_over,
)
from recap.normalise.clean import fold
from recap.normalise.ledger import Fate, Ledger
from recap.normalise.lines import TextReader
from recap.normalise.positions import Context
from recap.normalise.surroundings import around
from recap.normalise.words import NEUTRAL, TITLE_WORDS
from recap.normalise.wrappings import bracketed, quoted, unwrapped
from recap.read.delimited import choose_delimiter, parse_delimited, split_lines
from recap.read.sniff import MAX_LINE, is_workbook
from recap.read.tables import read_tables, read_text

if TYPE_CHECKING:
    from collections.abc import Sequence

    from recap.model import Position
    from recap.read.cells import Row, Table

Read = "tuple[tuple[Position, ...], list[Diagnostic]]"


def read_cap_list(path: Path | str) -> tuple[tuple[Position, ...], list[Diagnostic]]:
    """Read a list from a file (csv, tsv, xlsx, txt, md); errors mean that nothing of it is to be used."""
    path = Path(path)
    if is_workbook(path):
        tables, found = read_tables(path)
        if has_errors(found):
            return (), found
        return _settled(_read_book(tables, path), found)
    text, found = read_text(path)
    if text is None or has_errors(found):
        return (), found
    positions, told = _read_text(text, str(path), path.suffix.lower())
    return positions, found + told


def read_cap_text(text: str, name: str) -> tuple[tuple[Position, ...], list[Diagnostic]]:
    """Read a list from text; ``name`` stands as the file in every place."""
    return _read_text(text, name, "")


def _read_text(text: str, name: str, suffix: str) -> tuple[tuple[Position, ...], list[Diagnostic]]:
    if "\x00" in text:
        return (), [
            error(
                "file-has-nul", "the text has a NUL character, which no list has", Source(name), "save it again as text"
            )
        ]
    if suffix in {".csv", ".tsv"} and (found := _as_table(text, name, suffix)) is not None:
        return found
    lines = split_lines(text)
    fault = _too_much(lines, name)
    if fault is not None:
        return (), [fault]
    quoted_rows = quoted(lines)
    lines, joined = bracketed(can_sections.lettered(unwrapped(bare_cells.parted(channels.in_capitals(lines)))))
    ledger = Ledger(name)
    reader = TextReader(ledger, replace(style.survey(lines), legend=legends.survey(lines)))
    reader.quoted = quoted_rows
    reader.speakers = speakers.tagged(lines)
    fields = labelled.Finder(lines, name)
    columns = side_columns.survey(lines)
    at = 0
    while at < len(lines):
        if at in joined:
            ledger.with_row([at + 1])
            at += 1
            continue
        block = grids.find_block(lines, at, name, fields) if lines[at].strip() else None
        if block is None:
            for piece in side_columns.pieces(lines[at], columns.get(at, ())):
                reader.line(at + 1, piece, around(lines, at))
            at += 1
        else:
            _read_block(block, reader)
            _account(block, lines, ledger)
            at = block.last + 1
    reader.close()
    ledger.close(enumerate(lines, start=1))
    return _settled([ledger], [])


def _read_block(block: grids.Block, reader: TextReader) -> None:
    """Read a table among lines; its caption is a heading that ends with it."""
    reader.flush()
    if block.caption is not None and block.caption[1]:
        captions.begin(reader, *block.caption)
    _read_rows(block.rows, reader, headed=block.headed)
    reader.ledger.labelled = reader.ledger.labelled or block.headed
    captions.end(reader)
    for row, text in block.outside:
        reader.line(row, text)


def _account(block: grids.Block, lines: Sequence[str], ledger: Ledger) -> None:
    """Enter the lines of a block that hold no row of their own: frames, and cells on lines below their row's first."""
    begun = sorted(row.source.row for row in block.rows if row.source.row is not None)
    for number in range(block.first + 1, block.last + 2):
        if number in ledger.fates:
            continue
        text = lines[number - 1].strip()
        if block.caption is not None and number > block.caption[0] and not (begun and number > begun[0]) and text:
            ledger.fates[number] = Fate.HEADING
            continue
        drawn = set(text) <= set("{|}-+=: ") or text.startswith(("{|", "|-", "|+"))
        if drawn or page_tables.is_frame(text):
            ledger.layout(number)
        elif begun and number > begun[0]:
            ledger.fates[number] = ledger.fates.get(max(row for row in begun if row < number), Fate.LAYOUT)


def _as_table(text: str, name: str, suffix: str) -> tuple[tuple[Position, ...], list[Diagnostic]] | None:
    """Read a delimited file whole, which also gives cells that run over lines; None where it is none."""
    delimiter = "\t" if suffix == ".tsv" and "\t" in text else choose_delimiter(text)
    if delimiter is None:
        return None
    table, found = parse_delimited(text, name, delimiter)
    if has_errors(found):
        return (), found
    width = max((len(row.cells) for row in table.rows), default=0)
    headed = sheets.has_header(table.rows[:60])
    if width < 2 or not headed or labelled.opens(text, name):  # noqa: PLR2004 - one column is free text
        return None
    return _settled([_read_table(table, name, None).ledger], found)


LONGEST_LIST: Final = 50_000
"""Lines or rows; far above any list, and still read in half a minute."""


def _too_long(file: str, sheet: str | None) -> Diagnostic:
    message = f"more than {LONGEST_LIST:,} lines: no capacitor list is that long"
    return error("list-too-long", message, Source(file, sheet), "is it the right file? Otherwise split it")


def _too_much(lines: list[str], name: str) -> Diagnostic | None:
    if len(lines) > LONGEST_LIST:
        return _too_long(name, None)
    long = next((at for at, line in enumerate(lines) if len(line) > MAX_LINE), None)
    if long is None:
        return None
    message = f"a line of {len(lines[long]):,} characters; the longest that is read has {MAX_LINE:,}"
    return error("line-too-long", message, Source(name, row=long + 1), "break the line up")


_DEFAULT_SHEETS: Final = re.compile(
    r"(?:sheet|tabelle|feuil(?:le)?|foglio|hoja|blad|table|tab|page|seite)\s*\d*", re.IGNORECASE
)


def _read_book(tables: tuple[Table, ...], path: Path) -> list[Ledger]:
    filled = [table for table in tables if any(row.cells for row in table.rows)]
    legend = tuple(pair for table in filled for pair in cell_legends.in_table(table.rows).legend)
    ledgers: list[Ledger] = []
    said: list[heading_stack.Heading] = []
    of_kinds: list[Context] = []
    for table in filled:
        board = table.name if len(filled) > 1 and _names_board(table.name) else None
        over = said if board is None else [*said, _board(board)]
        reader = _read_table(table, str(path), table.name, over, Throughout(tuple(of_kinds), legend))
        if not reader.ledger.positions:  # a sheet in front that says what holds for all
            said += [heading for heading in reader.stack.open if heading.general]
            of_kinds += reader.finisher.of_kinds[len(of_kinds) :]
        ledgers.append(reader.ledger)
    return ledgers


def _board(name: str) -> heading_stack.Heading:
    return heading_stack.Heading(Context(board=name), 0)


def _names_board(name: str) -> bool:
    words = {fold(word) for word in re.findall(r"[^\W\d_]+", name)}
    return (
        not _DEFAULT_SHEETS.fullmatch(name.strip()) and bool(words) and not words & TITLE_WORDS and not words <= NEUTRAL
    )


@dataclass(frozen=True, slots=True)
class Throughout:
    """What holds for all sheets of a book: what is said of kinds of parts, and what its marks mean."""

    of_kinds: tuple[Context, ...] = ()
    legend: legends.Legend = ()


NOTHING_SAID: Final = Throughout()


def _read_table(
    table: Table,
    file: str,
    sheet: str | None,
    above: Sequence[heading_stack.Heading] = (),
    said: Throughout = NOTHING_SAID,
) -> TextReader:
    """Read a table; ``above`` are headings that hold over all of it, ``said`` is what its book says of all sheets."""
    ledger = Ledger(file, sheet)
    reader = TextReader(ledger, style.Style(legend=said.legend))
    if sum(1 for row in table.rows if row.cells) > LONGEST_LIST:
        ledger.diagnostics.append(_too_long(file, sheet))
        return reader
    for heading in above:
        reader.stack.push(heading)
    reader.finisher.of_kinds += said.of_kinds
    _read_rows(table.rows, reader)
    reader.close()
    ledger.close(
        (row.source.row or at, " | ".join(cell.text for cell in row.cells))
        for at, row in enumerate(table.rows, start=1)
    )
    return reader


def _read_rows(rows: Sequence[Row], reader: TextReader, *, headed: bool = False) -> None:
    """Read a table: a stored list by its own plain rules, any other by its headers."""
    if rows and stored.is_stored([cell.text for cell in rows[0].cells]):
        stored.read_stored(rows, reader.ledger)
        reader.ledger.stored = True
    else:
        sheets.read_rows(turned_tables.upright(rows) or rows, reader, headed=headed)


def _settled(ledgers: list[Ledger], found: list[Diagnostic]) -> tuple[tuple[Position, ...], list[Diagnostic]]:
    """Check over the whole list and put the diagnostics into the order of the rows."""
    faults = [d for ledger in ledgers for d in ledger.diagnostics if d.severity is Severity.ERROR]
    if faults:
        return (), found + faults
    positions = [position for ledger in ledgers for position in ledger.positions]
    guessed: list[Diagnostic] = []
    if not any(ledger.stored for ledger in ledgers):  # in a stored list the column of doubts alone says what is open
        for check in (
            checks.misread_letters,
            checks.severed,
            checks.shop_numbers,
            checks.numbers_in_front,
            checks.unplaced,
            checks.repeated_elsewhere,
            homeless.listed_again,
            checks.grouped,
            checks.millifarads,
            lambda listed: volts_over.below(listed, ledgers),
            lambda listed: all_but.doubted(listed, ledgers),
            lambda listed: summaries.once(listed, ledgers),
            lambda listed: summaries.said_again(listed, ledgers),
            lambda listed: sentences.settle(listed, ledgers),
        ):
            positions, said_of = check(positions)
            guessed += said_of
    positions, told = checks.twice(positions)
    told = guessed + told
    if not any(ledger.stored for ledger in ledgers):
        told += stated_totals.differing(positions, ledgers)
    order = {ledger.sheet: at for at, ledger in enumerate(ledgers)}
    spoken = {said.source for said in guessed if said.code == "prose-names-part"}  # no positions, so nothing is missing
    told += [
        said
        for ledger in ledgers
        for said in ledger.diagnostics
        if said.code != "value-missing" or said.source not in spoken
    ]
    if not any(ledger.stored for ledger in ledgers):
        positions, told = multiplied.said_once(positions, told)
    told.sort(key=lambda d: (order.get(d.source.sheet, 0), d.source.row or 0))
    said = list(dict.fromkeys(found + told))  # a line may say the same of each of a hundred places
    if not positions and not has_errors(said):
        file = Source(ledgers[0].file) if ledgers else Source("?")
        said.append(
            Diagnostic(
                Severity.ERROR, "list-empty", "no capacitor was found in this list", file, "is it the right file?"
            )
        )
    return tuple(positions), said
