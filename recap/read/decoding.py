"""Bytes to text: UTF-8 with or without byte order mark, UTF-16/32 with one, CP1252 and its like, and mixtures."""

from __future__ import annotations

import codecs
import re

from recap.diagnostics import Diagnostic, Source, error, note, warning
from recap.read import code_pages

_MARKS: tuple[tuple[bytes, str], ...] = (
    (codecs.BOM_UTF8, "utf-8"),
    (codecs.BOM_UTF32_LE, "utf-32-le"),  # before UTF-16: its mark begins with that of UTF-16
    (codecs.BOM_UTF32_BE, "utf-32-be"),
    (codecs.BOM_UTF16_LE, "utf-16-le"),
    (codecs.BOM_UTF16_BE, "utf-16-be"),
)

_CODES = frozenset(("encoding-cp1250", "encoding-cp1251", "encoding-cp1252"))
_NO_SUCH_LETTER = "[^\u0590-\u08ff\u202b\u202c\u2067\u2069\ufb1d-\ufdff\ufe70-\ufefc\r\n]"
TURNED = re.compile(f"\u202e|[\u202b\u2067](?={_NO_SUCH_LETTER}*[0-9])")
"""An override, or an embedding from right to left whose first figures no letter of such a writing stands in front of
(Unicode Standard Annex 9): ``Trojan source`` of numbers. In lists that are written so the embedding is usual."""
_LINE = re.compile(rb"[^\r\n]*(?:\r\n|\r|\n)|[^\r\n]+")

_RARE_ENDS = re.compile("[\u0085\u2028\u2029]")
"""Next line, line separator, paragraph separator (Unicode Standard, chapter 5.8)."""


def decode(data: bytes, file: str) -> tuple[str | None, list[Diagnostic]]:
    """Return the text of ``data``, or None and the error where it is no text at all.

    A file that isn't UTF-8 throughout is decoded line by line, UTF-8 where a line is that and
    its code page otherwise, because lists are pasted together from several places. Unicode's own line ends count where
    there are no others: the whole file would be one row, and that the header.
    """
    text, told = _decoded(data, file)
    if text is not None and _RARE_ENDS.search(text) and "\n" not in text and "\r" not in text:
        text = _RARE_ENDS.sub("\n", text)
    return text, told


def _decoded(data: bytes, file: str) -> tuple[str | None, list[Diagnostic]]:
    for mark, encoding in _MARKS:
        if data.startswith(mark):
            return _marked(data[len(mark) :], encoding, file)
    if b"\x00" in data:
        return None, [_nul(data, file)]
    try:
        text = data.decode("utf-8")
    except UnicodeDecodeError:
        return _mixed(data, file)
    return text, turned(text, file)


def _marked(data: bytes, encoding: str, file: str) -> tuple[str | None, list[Diagnostic]]:
    try:
        text = data.decode(encoding)
    except UnicodeDecodeError as fault:
        if encoding == "utf-8" and b"\x00" not in data:
            return _mixed(data, file)
        message = f"the file begins as {encoding.upper()} but breaks off being that at byte {fault.start}"
        return None, [error("byte-unreadable", message, Source(file), "save it again as UTF-8")]
    if "\x00" in text:
        return None, [_nul(text.encode(), file)]
    return text, turned(text, file)


def turned(text: str, file: str) -> list[Diagnostic]:
    """Warn of each row, one row once, in which figures aren't shown in the order in which they are read."""
    if not any(mark in text for mark in "\u202b\u202e\u2067"):
        return []
    rows = enumerate(re.split(r"\r\n|\r|\n", text), start=1)
    return [turned_here(line, Source(file, row=row)) for row, line in rows if TURNED.search(line)]


def turned_here(text: str, source: Source) -> Diagnostic:
    """Warn of one place where figures aren't shown in the order in which they are read."""
    message = "characters here turn the direction of writing: an editor may show 47 where 74 stands and was read"
    return warning("text-turned", message, source, "compare it with the source and type it anew", text.strip()[:120])


def _nul(data: bytes, file: str) -> Diagnostic:
    before = data[: data.index(b"\x00")]
    row = len(_LINE.findall(before)) + (1 if not before or before.endswith((b"\n", b"\r")) else 0)
    return error(
        "file-has-nul",
        "the file has a NUL byte, which text never has",
        Source(file, row=max(row, 1)),
        "if it is text, save it again as UTF-8 (UTF-16 needs its byte order mark)",
    )


def _mixed(data: bytes, file: str) -> tuple[str, list[Diagnostic]]:
    page = code_pages.told_by_words(data)
    lines: list[str] = []
    utf8_rows = cp1252_rows = 0
    first_cp1252 = 0
    found: list[Diagnostic] = []
    for row, raw in enumerate(_LINE.findall(data), start=1):
        if raw.isascii():
            lines.append(raw.decode("ascii"))
            continue
        try:
            lines.append(raw.decode("utf-8"))
            utf8_rows += 1
        except UnicodeDecodeError:
            first_cp1252 = first_cp1252 or row
            cp1252_rows += 1
            text = raw.decode(page, errors="replace")
            lines.append(text)
            if "\ufffd" in text:
                found.append(_unreadable(file, row, text))
    if utf8_rows and cp1252_rows:
        message = f"the file mixes encodings: {utf8_rows} lines are UTF-8, {cp1252_rows} {page.upper()} (the first in "
        message += f"row {first_cp1252}); each was read as what it is"
        found.append(warning("encoding-mixed", message, Source(file, row=first_cp1252), "save it again as UTF-8"))
    else:
        code = f"encoding-{page}"
        code = code if code in _CODES else "encoding-by-words"
        found.append(note(code, f"read as {code_pages.name(page)}", Source(file), "UTF-8 is safer"))
    return "".join(lines), found


def _unreadable(file: str, row: int, text: str) -> Diagnostic:
    return warning(
        "byte-unreadable",
        "a byte here is neither UTF-8 nor CP1252; it stands as \N{REPLACEMENT CHARACTER}",
        Source(file, row=row),
        "put the right letter in its place and save as UTF-8",
        text.strip()[:120],
    )
