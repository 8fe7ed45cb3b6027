"""What a file is, told from its first bytes, and how much of it may be read at all.

The limits keep a hostile or mistaken file from eating time and memory. They are far above any
real cap list; catalogues have their own way of reading (:mod:`recap.read.catalogues`).
"""

from __future__ import annotations

import stat
from typing import TYPE_CHECKING

from recap.diagnostics import Diagnostic, Source, error
from recap.files import meant_instead

if TYPE_CHECKING:
    from pathlib import Path

MAX_BYTES = 48 * 2**20
MAX_LINE = 200_000
MAX_ROWS = 200_000
MAX_COLUMNS = 2_000
MAX_CELLS = 1_000_000
MAX_WORKBOOK_CELLS = 500_000

WORKBOOK_SUFFIXES = frozenset({".xlsx", ".xlsm"})

_ZIP = (b"PK\x03\x04", b"PK\x05\x06")

MAGIC: tuple[tuple[bytes, str, str], ...] = (
    (b"%PDF", "a PDF", "copy the table out of it into a spreadsheet or text file"),
    (b"\xff\xd8\xff", "a JPEG picture", "type the list, or run it through text recognition first"),
    (b"\x89PNG", "a PNG picture", "type the list, or run it through text recognition first"),
    (b"GIF8", "a GIF picture", "type the list, or run it through text recognition first"),
    (b"II*\x00", "a TIFF picture", "type the list, or run it through text recognition first"),
    (b"MM\x00*", "a TIFF picture", "type the list, or run it through text recognition first"),
    (b"\xd0\xcf\x11\xe0", "an old binary office file (.xls, .doc)", "open it in a spreadsheet and save it as .xlsx"),
    (b"\x1f\x8b", "a gzip archive", "unpack it first"),
    (b"7z\xbc\xaf", "a 7z archive", "unpack it first"),
    (b"Rar!", "a RAR archive", "unpack it first"),
    (b"SQLite format 3", "an SQLite database", "export the table as CSV"),
    (b"\x7fELF", "a program", "name the list instead"),
    (b"{\\rtf", "an RTF document", "save it as plain text"),
)
"""First bytes, what they are the mark of, what to do."""


DOCUMENTS: dict[str, tuple[str, str]] = {
    **dict.fromkeys((".docx", ".docm", ".odt"), ("a text document", "copy the list out of it into a text file")),
    **dict.fromkeys((".ods", ".xlsb"), ("another spreadsheet's file", "open it in a spreadsheet and save it as .xlsx")),
}
"""Endings of what lies in a zip container as workbooks do: what it is, what to do."""


def check_regular(path: Path) -> Diagnostic | None:
    """Return the error where ``path`` is missing, a folder, no plain file, empty, or unreadable."""
    source = Source(str(path))
    try:
        facts = path.stat()
    except FileNotFoundError:
        meant = meant_instead(path)
        hint = f"{meant} is there: write / between folders" if meant else "check the name and the folder"
        return error("file-missing", f"there is no file {path}", source, hint)
    except (OSError, ValueError) as fault:
        return error("file-unreadable", f"{path} can't be read: {fault}", source, "check the name and its permissions")
    if stat.S_ISDIR(facts.st_mode):
        return error("file-is-folder", f"{path} is a folder, a file was expected", source, "name a file in it")
    if not stat.S_ISREG(facts.st_mode):
        return error("file-unreadable", f"{path} is no plain file", source, "name a file on disk")
    if facts.st_size == 0:
        return error("file-empty", f"{path} is empty", source, "fill it, or delete it if it isn't needed")
    return None


def check_type(path: Path, head: bytes) -> Diagnostic | None:
    """Return the error where the first bytes show that this is no text and no workbook, or not what its name says."""
    source = Source(str(path))
    for mark, what, todo in MAGIC:
        if head.startswith(mark):
            return error("file-wrong-type", f"{path.name} is {what}, not a table or a text", source, todo)
    zipped = head.startswith(_ZIP)
    if zipped and (known := DOCUMENTS.get(path.suffix.lower())):
        what, todo = known
        return error("file-wrong-type", f"{path.name} is {what}, not a table or a text", source, todo)
    named_workbook = path.suffix.lower() in WORKBOOK_SUFFIXES
    if zipped and not named_workbook:
        return error(
            "file-wrong-type",
            f"{path.name} is a zip container (a workbook, perhaps), but its name says {path.suffix or 'text'}",
            source,
            "if it is a workbook, give it the ending .xlsx",
        )
    if named_workbook and not zipped:
        return error(
            "workbook-broken",
            f"{path.name} is not a workbook: an .xlsx file is a zip container, this one is not",
            source,
            "save it again as .xlsx, or give it the ending .csv if it is text",
        )
    return None


def is_workbook(path: Path) -> bool:
    """Tell whether the name says workbook; :func:`check_type` has seen that the content agrees."""
    return path.suffix.lower() in WORKBOOK_SUFFIXES
