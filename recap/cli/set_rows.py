"""Rows for sets in ``sets.csv``, written by ``recap import --sets``: added at the end, all else left as it is."""

from __future__ import annotations

import csv
import io
from typing import TYPE_CHECKING

from recap.cli.answers import refuse_one, typed

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

HEADER = ("set", "chassis", "boards", "job", "note")


def with_rows(bench: Path, names: Sequence[str], chassis: str, *, as_json: bool = False) -> bytes | None:
    """Return ``sets.csv`` with a row for each set, its job full; None where all of them are there already.

    The run ends where the file isn't one that a row can simply be added to, or a set of that name has another chassis.
    """
    path = bench / "sets.csv"
    other = next((p for p in (bench / "sets.tsv", bench / "sets.xlsx") if p.exists()), None)
    content = path.read_bytes() if path.exists() else b""
    encoding, delimiter, rows = _as_it_is(content)
    if other is not None or not encoding:
        hint = "; ".join(f"set {name}, chassis {chassis}, job full" for name in names)
        message = f"recap adds rows only to a sets.csv that is headed {','.join(HEADER)}"
        refuse_one("file-unwritable", message, str(other or path), f"add the row yourself: {hint}", as_json=as_json)
    known = {row[0].strip().casefold(): row[1].strip() for row in rows[1:] if len(row) > 1}
    for name in names:
        there = known.get(name.casefold())
        if there is not None and there.casefold() != chassis.casefold():
            message = f"set {name} is a {there} already"
            refuse_one("set-twice", message, str(path), "give each set a name of its own", as_json=as_json)
    new = [name for name in names if name.casefold() not in known]
    if not new:
        return None
    end = "\r\n" if b"\r\n" in content else "\n"
    made = io.StringIO()
    writer = csv.writer(made, delimiter=delimiter, lineterminator=end)
    if not rows:
        writer.writerow(HEADER)
    writer.writerows((name, chassis, "", "full", "") for name in new)
    joined = b"" if not content or content.endswith((b"\n", b"\r")) else end.encode()
    try:
        return content + joined + made.getvalue().encode(encoding)
    except UnicodeEncodeError:
        message = "its encoding, CP1252, lacks letters of the new row"
        refuse_one("file-unwritable", message, str(path), "save it as UTF-8 first", as_json=as_json)


def _as_it_is(content: bytes) -> tuple[str, str, list[list[str]]]:
    """Return encoding, delimiter and rows of ``sets.csv`` as a spreadsheet may have saved it; no encoding: another one.

    Remarks and blank rows are left out.
    """
    try:
        encoding, text = "utf-8", content.decode("utf-8-sig")
    except UnicodeDecodeError:
        encoding, text = "cp1252", content.decode("cp1252", errors="replace")
    for delimiter in ",;\t":
        read = csv.reader(io.StringIO(text, newline=""), delimiter=delimiter)
        rows = [row for row in read if any(row) and not row[0].startswith("#")]
        if not rows or tuple(cell.strip().casefold() for cell in rows[0])[: len(HEADER)] == HEADER:
            return encoding, delimiter, rows
    return "", ",", []


def next_step(bench: Path, chassis: str) -> str:
    """Return what is to be done after a list was stored: sets of it, price lists, or the order."""
    from recap.cli.completion import chassis_of_sets, sellers

    if chassis.casefold() not in {name.casefold() for name in chassis_of_sets(bench)}:
        return (
            f"Next: a row for each set of it in {bench / 'sets.csv'}, such as  {chassis}-1,{chassis},,full,\n"
            "      (recap import with --sets NAME writes it)"
        )
    if not any(sellers(bench)):
        folder = bench / "catalogs"
        return f"Next: each shop's price list into {folder}, and a row for the shop in suppliers.csv there"
    return f"Next: recap order {typed(bench)}"
