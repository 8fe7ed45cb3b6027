"""A table's rows in order: titles, header, units, data, headings between, remarks below, in one pass."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import TYPE_CHECKING, Final

from recap.diagnostics import Diagnostic, note, warning
from recap.normalise import (
    boards_beside,
    captions,
    cell_legends,
    cell_marks,
    column_contents,
    columns,
    continued_rows,
    designator_names,
    designators,
    filler_rows,
    further_columns,
    head_rows,
    legends,
    other_parts,
    other_rows,
    ticks,
    unit_rows,
    upright_tables,
    values,
    variants,
    wrapped_cells,
)
from recap.normalise.checks import is_size_pair
from recap.normalise.clean import clean, squeeze
from recap.normalise.further_columns import MOST_DIGITS
from recap.normalise.rows import Memory, read_row
from recap.normalise.second_thoughts import offers
from recap.normalise.surroundings import NOTHING_AROUND, Around, holds_values

if TYPE_CHECKING:
    from collections.abc import Sequence

    from recap.normalise.column import Column
    from recap.normalise.continued_rows import Further
    from recap.normalise.fields import Draft
    from recap.normalise.lines import TextReader
    from recap.read.cells import Cell, Row


def read_rows(rows: Sequence[Row], reader: TextReader, *, headed: bool = False) -> None:
    """Read a table into the reader's ledger; lines that are no rows are read as text.

    ``headed``: the first row is the header, whatever its words are.
    """
    rows = [cell_marks.without_bullet(row) for row in rows]
    if (turned := upright_tables.turned(rows)) is not None:
        _upright(turned, rows, reader)
        return
    told = cell_legends.in_table(rows)
    if told.rows:
        reader.style = replace(reader.style, legend=(*reader.style.legend, *told.legend))
        _tell_legends([rows[at] for at in sorted(told.rows)], reader)
        rows = [row for at, row in enumerate(rows) if at not in told.rows]
    memory: list[Memory] = []
    skip = 0
    for at, row in enumerate(rows):
        if skip:
            skip -= 1
            continue
        number = row.source.row or at + 1
        row = cell_marks.without_rules(row)  # noqa: PLW2901
        texts = [squeeze(clean(cell.text).text) for cell in row.cells]
        if not any(texts) and not any(cell.struck or cell.text for cell in row.cells):
            reader.ledger.blank(number)
        elif _is_header(rows, at) or (headed and not at):
            memory, skip = _begin(rows, at, reader)
        elif not memory and captions.over_parts(rows, at, _is_header):
            reader.flush()
            reader.ledger.heading(number, "heading-read", "names the boards of the lists below", " | ".join(texts))
        elif not memory or _is_line(texts):
            _line(row, number, texts, reader, around=_around(rows, at) if memory else None)
        elif (assembly := _assembly(rows, at, memory[0])) is not None:
            reader.flush()
            captions.assembly(reader, number, assembly, " | ".join(texts))
        else:
            further = continued_rows.below(rows, at, memory[0]) if len(memory) == 1 else []
            row, wrapped = (row, []) if further else wrapped_cells.gathered(rows, at, memory[0])  # noqa: PLW2901
            for part in memory:
                skip = _data(row, number, part, reader, alone=len(memory) == 1, further=further)
            wrapped_cells.account(reader.ledger, number, wrapped)
            skip += len(wrapped)
            if memory[0].variant and number not in reader.ledger.fates:
                reader.ledger.passed(number, "not-fitted", "no variant has a part here", " | ".join(texts))
    reader.flush()


def _tell_legends(rows: Sequence[Row], reader: TextReader) -> None:
    for row in rows:
        shown = " | ".join(cell.text for cell in row.cells if cell.text)
        reader.ledger.apart(row.source.row or 1, "legend-read", legends.says(shown), shown)


def _upright(turned: tuple[Row, Row], rows: Sequence[Row], reader: TextReader) -> None:
    """Read a table that stands upright as the one record it is."""
    reader.flush()
    memory, _ = _begin(turned, 0, reader)
    for part in memory:
        _data(turned[1], turned[1].source.row or 1, part, reader, alone=len(memory) == 1)
    reader.ledger.with_row(row.source.row for row in rows if row.source.row is not None and row.cells)


def _assembly(rows: Sequence[Row], at: int, memory: Memory) -> str | None:
    """Return what a row says of a board whose number the designators below it begin with: ``A2`` over ``A2C1``."""
    place = next((column.index for column in memory.columns if column.field == "ref"), None)
    named = _cell(rows[at], place)
    below = next((text for row in rows[at + 1 : at + 4] if (text := _cell(row, place))), "")
    if not named or not below.startswith(named) or not re.match(r"[A-Z]{1,3}\d", below[len(named) :]):
        return None
    said = [_cell(rows[at], column.index) for column in memory.columns if column.field in {"text", "value", "unknown"}]
    return next((text for text in said if any(map(str.isalpha, text))), None)


def _cell(row: Row, index: int | None) -> str:
    return squeeze(clean(row.cells[index].text).text) if index is not None and index < len(row.cells) else ""


def has_header(rows: Sequence[Row]) -> bool:
    """Tell whether one of the rows is a header."""
    return any(_is_header(rows, at) for at in range(len(rows)))


def _is_header(rows: Sequence[Row], at: int) -> bool:
    texts = _distinct([squeeze(clean(cell.text).text) for cell in rows[at].cells])
    below = rows[at + 1 : at + 1 + head_rows.LOOKED_AT]
    return head_rows.is_header(texts, [[squeeze(clean(cell.text).text) for cell in row.cells] for row in below])


def _distinct(texts: list[str]) -> list[str]:
    """Return the texts without those that only repeat their left neighbour (merged cells)."""
    return [text if i == 0 or text != texts[i - 1] else "" for i, text in enumerate(texts)]


def _is_line(texts: Sequence[str]) -> bool:
    """Tell whether a row is one text over all columns, or a lone remark, heading or footnote."""
    filled = [text for text in texts if text]
    if len(set(filled)) != 1:
        return filler_rows.is_page(filled)
    text = filled[0]
    return designators.find_group(text, 0) is None and values.capacitance(text) is None


def _line(row: Row, number: int, texts: Sequence[str], reader: TextReader, *, around: Around | None) -> None:
    """Read a row that is none of a table as a line; ``around`` is what stands about it in one, else None."""
    filled = [cell.text for cell in row.cells if cell.text]
    if any(cell.struck for cell in row.cells if cell.text):
        reader.ledger.passed(number, "not-fitted", "struck through: no position", " ".join(filled))
        return
    if len(set(filled)) == 1:
        reader.line(number, filled[0], around or NOTHING_AROUND)
        return
    if around is None and not any(texts):
        reader.ledger.blank(number)
        return
    reader.line(number, " ¦ ".join(text for text in filled))


def _around(rows: Sequence[Row], at: int) -> Around:
    """Tell whether a lone cell at a row's start, or one merged over all of it, stands over the records of a table."""
    filled = [index for index, cell in enumerate(rows[at].cells) if cell.text.strip()]
    lone = bool(filled) and filled[0] <= 1
    for row in rows[at + 1 : at + 4]:
        text = " ".join(cell.text for cell in row.cells)
        if holds_values(text):
            return Around(over=True, near=True, lone=lone)
        if text.strip() and not columns.is_header([cell.text for cell in row.cells]):
            break
    return Around(lone=lone)


def _begin(rows: Sequence[Row], at: int, reader: TextReader) -> tuple[list[Memory], int]:
    """Read a header row and what belongs to it; return the column sets and how many rows below are used up."""
    header = [squeeze(clean(cell.text).text) for cell in rows[at].cells]
    over = [cell.text for cell in rows[at - 1].cells] if at else None
    below = _second_header(rows, at)
    if below is not None:
        reader.ledger.heading(
            rows[at].source.row or at + 1, "header-read", "headings over the columns", " | ".join(header)
        )
        over = _carried(header)
        width = max(len(header), len(below))
        header = [(below[i] if i < len(below) else "") or (header[i] if i < len(header) else "") for i in range(width)]
        at += 1
    body: list[Sequence[Cell]] = []
    end = len(rows)
    for below_at, row in enumerate(rows[at + 1 :], start=at + 1):
        texts = [squeeze(clean(cell.text).text) for cell in row.cells]
        if not body and unit_rows.are_units(texts):
            continue
        if columns.is_header(_distinct(texts)):
            end = below_at
            break
        body.append(row.cells)
    planned = columns.plan(header, over, body)
    used = 0
    units = unit_rows.units(rows[at + 1], planned) if at + 1 < len(rows) else None
    if units is not None:
        planned = [unit_rows.with_unit(column, units.get(column.index)) for column in planned]
        reader.ledger.heading(
            rows[at + 1].source.row or at + 2, "units-read", "a row of units", " ".join(units.values())
        )
        used = 1
    used += below is not None
    parted = variants.parted(planned, body)
    _tell(planned, rows[at], reader, frozenset(name for name, _ in parted), body)
    ticks.tell(planned, rows[at], rows[at + 1 : end], reader.ledger)
    groups = frozenset(c.index for c in planned if c.field == "board" and column_contents.heads_groups(c.index, body))
    said = reader.style.blanks_repeat
    if len(parted) > 1:
        _tell_variants([name for name, _ in parted], rows[at], reader)
    each = parted if len(parted) > 1 else [("", part) for part in _side_by_side(planned)]
    boards = captions.of_parts(over, [part for _, part in each]) if len(parted) <= 1 else [""] * len(parted)
    marks = cell_legends.as_marks(reader.style.legend)
    united = any(column.field == "unit" for column in planned)
    return [
        Memory(part, len(planned), said, board=board, united=united, marks=marks, variant=name, groups=groups)
        for (name, part), board in zip(each, boards, strict=True)
    ], used


def _tell_variants(names: Sequence[str], row: Row, reader: TextReader) -> None:
    message = f"a column for each variant, taken for its board: {', '.join(names)}"
    hint = "name the variant that a set is under boards in sets.csv; otherwise the parts of all are bought"
    source = reader.ledger.source(row.source.row or 1)
    reader.ledger.diagnostics.append(warning("variants-apart", message, source, hint))


def _second_header(rows: Sequence[Row], at: int) -> list[str] | None:
    """Return the row below where it, too, is a header (``Original | Replacement`` over ``Value | Volts``)."""
    if at + 1 >= len(rows):
        return None
    texts = [squeeze(clean(cell.text).text) for cell in rows[at + 1].cells]
    above = [squeeze(clean(cell.text).text) for cell in rows[at].cells]
    filled = [text for i, text in enumerate(texts) if text and text not in above[i : i + 1]]  # a cell over both rows
    if len(filled) < 2 or not all(columns.understand(text, 0).field in columns.STRONG for text in filled):  # noqa: PLR2004
        return None
    sides = any(columns.understand(text, 0).side for text in above if text)
    return texts if sides and not any(columns.holds_data(text) for text in filled) else None


def _carried(texts: Sequence[str]) -> list[str]:
    """Carry headings over groups of columns to the right, as merged cells do."""
    found: list[str] = []
    for text in texts:
        found.append(text or (found[-1] if found else ""))
    return found


def _tell(
    planned: Sequence[Column], row: Row, reader: TextReader, named: frozenset[str], body: Sequence[Sequence[Cell]]
) -> None:
    """Say what the columns were taken for; those of ``named`` are variants."""
    number = row.source.row or 1
    shown = " | ".join(cell.text for cell in row.cells)
    reader.ledger.heading(number, "header-read", f"columns: {columns.describe(planned)}", shown)
    unrated = not any(column.field in {"volts", "text"} for column in planned)
    uncounted = not any(column.field in {"qty", "ref"} for column in planned)
    for column in planned:
        if column.field == "unknown" and column.header not in named:
            rated = unrated and further_columns.perhaps_volts(column, body)
            counted = uncounted and column_contents.holds_counts(column.index, body)
            perhaps = "voltages, head the column with V" if rated else "counts, head the column with qty"
            hint = f"if these are {perhaps}" if rated or counted else None
            reader.ledger.diagnostics.append(_unknown(column, reader, number, hint))


def _unknown(column: Column, reader: TextReader, number: int, perhaps: str | None) -> Diagnostic:
    """Say that a header isn't understood; ``perhaps`` says what its cells may be that no other column has."""
    message = f"header {column.header!r} is not understood; its cells were read as remarks"
    source = reader.ledger.source(number, column.header)
    hint = columns.near(column) or perhaps
    return (warning if hint else note)("header-unknown", message, source, hint)


def _side_by_side(planned: list[Column]) -> list[list[Column]]:
    """Part a table that holds two or more lists beside each other (``ref value ref value``)."""
    refs = [i for i, column in enumerate(planned) if column.field == "ref"]
    if len(refs) < 2:  # noqa: PLR2004 - one list
        return [planned]
    fields = [[column.field for column in planned[a:b]] for a, b in zip(refs, [*refs[1:], len(planned)], strict=True)]
    if refs[0] == 0 and all("value" in part or "text" in part for part in fields):
        return [planned[a:b] for a, b in zip(refs, [*refs[1:], len(planned)], strict=True)]
    return [[replace(column, field="text") if i in refs[1:] else column for i, column in enumerate(planned)]]


def _data(
    row: Row, number: int, memory: Memory, reader: TextReader, *, alone: bool, further: Sequence[Further] = ()
) -> int:
    """Read a row into positions; return how many of the rows below (``further``) were its own designators."""
    indexes = {column.index for column in memory.columns}
    texts = [cell.text for i, cell in enumerate(row.cells) if i in indexes]
    if not any(text.strip() for text in texts) and not alone:
        return 0
    if memory.variant and variants.is_empty(row, memory.columns[-1]):
        return 0
    draft = read_row(row.cells, memory, reader.style.unit)
    draft.board = draft.board or memory.board or None
    if memory.variant:
        draft.board = variants.board_of(memory.variant, draft.board or reader.stack.context().board)
    shown = " | ".join(cell.text for cell in row.cells).strip(" |")
    if offers(texts, draft, reader.finisher.by_ref):
        reader.ledger.passed(number, "line-passed-over", "an alternative for parts listed above: passed over", shown)
        return 0
    if _says_nothing(draft, memory) or filler_rows.is_total(texts, draft):
        reader.ledger.no_part(number, shown)
        return 0
    united = reader.style.unit or any(column.field == "value" and column.unit for column in memory.columns)
    said = " | ".join(_cell(row, column.index) for column in memory.columns if column.field not in _UNREAD)
    if other_rows.is_other_part(draft, said, united=bool(united)):
        reader.ledger.other_part(number, shown, plain=bool(draft.refs) or other_parts.is_plain(shown))
        return 0
    if draft.counts and not any(letter.isdigit() for letter in draft.doubts.get("ref-unread", "0")):
        del draft.doubts["ref-unread"]  # ``11 pieces, various``: a count without designators
    if (
        not draft.refs
        and not draft.not_fitted
        and any(column.field == "ref" for column in memory.columns)
        and not draft.counts
    ):
        draft.doubt("ref-missing", "the cell for the designator is empty")
    _weigh_cells(row, memory, draft)
    placed = next((_cell(row, column.index) for column in memory.columns if column.field == "ref"), "")
    below = continued_rows.going_on(draft, placed, further)
    rest = continued_rows.parts(draft, shown, below)
    for part in boards_beside.parted(draft, row, memory.columns, reader.stack.context().board):
        reader.finish(number, shown, part)
    for at, text, part in rest:
        reader.finish(at, text, part)
    return len(below)


def _weigh_cells(row: Row, memory: Memory, draft: Draft) -> None:
    """Doubt a row in whose cells something stands that isn't read there."""
    if draft.has_value and (stray := _stray_designator(row, memory, draft)):
        draft.doubt("ref-unread", f"{stray!r} stands in a column that isn't read as designators")
    if (torn := _torn(row, memory)) is not None:
        draft.doubt("cell-unread", f"{torn!r}: a comma parts it and a cell is left over; perhaps a decimal comma")


def _torn(row: Row, memory: Memory) -> str | None:
    """Return a number of which a decimal comma made two cells, where the row has more cells than the table."""
    if len(row.cells) <= memory.width:
        return None
    valued = [column.index for column in memory.columns if column.field in {"value", "text"}]
    pairs = [(_cell(row, at), _cell(row, at + 1)) for at in valued]
    return next((f"{a},{b}" for a, b in pairs if a.isdecimal() and _FRACTION.match(b)), None)


_FRACTION: Final = re.compile(r"\d{1,3}\s?(?:[uµμnp]F?|mfd)(?![A-Za-z])", re.IGNORECASE)


_UNREAD: Final = frozenset(("passed over", "measured", "done", "item"))
"""What stands in such columns says nothing of which part a row is about."""


_READ: Final = _UNREAD | {"ref", "package", "board", "further ref"}


def _stray_designator(row: Row, memory: Memory, draft: Draft) -> str | None:
    """Return a cell that is nothing but a capacitor's designators and wasn't read as such.

    In a row that has its own only a column that isn't understood may hold further ones.
    """
    for column in memory.columns:
        if column.field in _READ or (draft.refs and (column.field != "unknown" or column.side)):
            continue
        text = _cell(row, column.index)
        group = designators.find_group(text) if text else None
        if group is None or group.end < len(text) or designator_names.is_chip_size(text):
            continue
        if not draft.refs or all(len(re.sub(r"\D", "", ref)) <= MOST_DIGITS for ref in group.refs):
            return text
    return None


def _says_nothing(draft: Draft, memory: Memory) -> bool:
    """Tell whether no part stands in a row: a voltage alone counts only where columns are known to be a part's."""
    if draft.refs or draft.not_fitted or draft.doubts.keys() & {"date-in-cell", "cell-unread"}:
        return False
    if draft.has_value:
        return is_size_pair(draft)
    if draft.volt_texts and draft.words:
        return True  # ``19 lines`` under ``Volts``
    return not draft.volts or not any(column.field in {"ref", "value", "volts"} for column in memory.columns)
