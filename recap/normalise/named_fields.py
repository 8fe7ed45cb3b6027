"""Records on one line whose fields are named, as programs write them: objects, templates of wikis, statements.

``{"ref": "C1", "value": "10uF"}``, ``{{cap|ref=C1|value=10uF}}``, ``INSERT INTO c (ref, value) VALUES ('C1', '1u')``.
Lines of one manner below each other are rows of a table whose headers are the names.
"""

from __future__ import annotations

import json
import re
from typing import TYPE_CHECKING, Final

from recap.diagnostics import Source
from recap.normalise import columns
from recap.normalise.later import compiled
from recap.read.cells import Cell, Row

if TYPE_CHECKING:
    from collections.abc import Sequence

Fields = dict[str, str]

_TEMPLATE: Final = compiled(r"\s*\{\{\s*[\w -]{1,40}\|(?P<inside>[^{}]{3,1000})\}\}\s*")
_STATEMENT: Final = compiled(
    r"\s*insert\s+(?:or\s+\w+\s+)?into\s+[\w.`\"\[\]]{1,80}\s*\((?P<names>[^()]{3,500})\)\s*values\s*(?P<rows>.*)",
    re.IGNORECASE,
)
_ROW: Final = compiled(r"\s*\((?P<values>.{3,1000}?)\)\s*[,;]?\s*")
_VALUE: Final = compiled(r"\s*(?:'(?P<quoted>(?:[^']|'')*)'|\"(?P<double>[^\"]*)\"|(?P<bare>[^,'\"]*))\s*(?:,|$)")
_LONGEST: Final = 2000


def find(lines: Sequence[str], at: int, name: str) -> tuple[int, tuple[Row, ...]] | None:
    """Return the last line (0-based) and the rows, header first, of the records that begin on a line, or None."""
    records: list[tuple[int, Fields]] = []
    last, names = at, None
    for number in range(at, len(lines)):
        line = lines[number]
        if line.strip() in {"", "[", "]", "],", "];"} and records:
            continue
        found, names = _read(line, names)
        if found is None:
            break
        records += [(number, fields) for fields in found]
        last = number
    if not records or not all(_tells(fields) for _, fields in records):
        return None
    return last, _rows(records, name)


def _tells(fields: Fields) -> bool:
    """Tell whether a record names a part: by its designator, or a count, and by what it is."""
    heads = {columns.understand(key, 0).field for key in fields}
    return bool(heads & {"ref", "qty"}) and bool(heads & {"value", "text"})


def _read(line: str, names: list[str] | None) -> tuple[list[Fields] | None, list[str] | None]:
    """Return the records of a line, None where it holds none, and the columns of a statement that goes on below."""
    text = line.strip()
    if len(text) > _LONGEST:
        return None, None
    if (statement := _STATEMENT.fullmatch(text)) is not None:
        names = [part.strip(" `\"'[]") for part in statement["names"].split(",")]
        return _values(statement["rows"], names), names
    if names is not None and text.startswith("("):
        return _values(text, names), names
    if text.startswith("{{"):
        return _template(text), None
    if text.startswith("{") and text.rstrip(",").endswith("}"):
        return _object(text.rstrip(",")), None
    return None, None


def _values(text: str, names: list[str]) -> list[Fields] | None:
    found = []
    at = 0
    while at < len(text):
        row = _ROW.match(text, at)
        if row is None:
            return None
        told = [match for match in _VALUE.finditer(row["values"]) if match.end() > match.start()]
        if len(told) != len(names):
            return None
        found.append({key: _plain(match) for key, match in zip(names, told, strict=True)})
        at = row.end()
    return found


def _plain(match: re.Match[str]) -> str:
    quoted, double, bare = match["quoted"], match["double"], match["bare"]
    if quoted is not None:
        return str(quoted).replace("''", "'").strip()
    text = str(double if double is not None else bare).strip()
    return "" if text.upper() == "NULL" else text


def _template(text: str) -> list[Fields] | None:
    match = _TEMPLATE.fullmatch(text)
    pieces = [piece.partition("=") for piece in match["inside"].split("|")] if match is not None else []
    if not pieces or not all(sign for _, sign, _ in pieces):
        return None
    return [{key.strip(): value.strip() for key, _, value in pieces}]


def _object(text: str) -> list[Fields] | None:
    try:
        told = json.loads(text, parse_int=str, parse_float=str)
    except (ValueError, RecursionError):
        return None
    if not isinstance(told, dict) or any(isinstance(value, dict) for value in told.values()):
        return None
    return [{str(key): _said(value) for key, value in told.items()}]


def _said(value: object) -> str:
    if isinstance(value, list):
        return ", ".join(_said(each) for each in value)
    return "" if value is None else str(value)


def _rows(records: Sequence[tuple[int, Fields]], name: str) -> tuple[Row, ...]:
    order = list(dict.fromkeys(key for _, fields in records for key in fields))
    places = [Source(name, row=number + 1) for number, _ in records]
    head = Row(tuple(Cell(key, places[0]) for key in order), places[0])
    rows = [
        Row(tuple(Cell(fields.get(key, ""), place) for key in order), place)
        for place, (_, fields) in zip(places, records, strict=True)
    ]
    return (head, *rows)
