"""What is said about input: where, how bad, under which stable code, and what to do.

Functions return ``(result, diagnostics)``; nothing global collects. Exceptions are for bugs and
for the outside world. Every code is registered in :mod:`recap.codes` with its paragraph.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable


class Severity(StrEnum):
    """Errors stop a run, warnings must be looked at, notes are for the record."""

    ERROR = "error"
    WARNING = "warning"
    NOTE = "note"


@dataclass(frozen=True, slots=True)
class Source:
    """Where something was read. ``row`` is 1-based as the user's editor or spreadsheet counts."""

    file: str
    sheet: str | None = None
    row: int | None = None
    column: str | None = None

    def __str__(self) -> str:
        """Render as ``file [sheet]:row: column`` with what is known."""
        place = self.file if self.sheet is None else f"{self.file} [{self.sheet}]"
        if self.row is not None:
            place = f"{place}:{self.row}"
        return place if self.column is None else f"{place}: {self.column}"


@dataclass(frozen=True, slots=True)
class Diagnostic:
    """One thing to say: ``message`` tells what was read and what is wrong, ``hint`` what to do."""

    severity: Severity
    code: str
    message: str
    source: Source
    hint: str | None = None
    found: str | None = None


def error(code: str, message: str, source: Source, hint: str | None = None, found: str | None = None) -> Diagnostic:
    """Return an error: the run must not go on to write anything."""
    return Diagnostic(Severity.ERROR, code, message, source, hint, found)


def warning(code: str, message: str, source: Source, hint: str | None = None, found: str | None = None) -> Diagnostic:
    """Return a warning: a person must look before trusting the line."""
    return Diagnostic(Severity.WARNING, code, message, source, hint, found)


def note(code: str, message: str, source: Source, hint: str | None = None, found: str | None = None) -> Diagnostic:
    """Return a note: nothing is wrong, but something was passed over or assumed."""
    return Diagnostic(Severity.NOTE, code, message, source, hint, found)


def has_errors(diagnostics: Iterable[Diagnostic]) -> bool:
    """Tell whether any of these stops the run."""
    return any(d.severity is Severity.ERROR for d in diagnostics)
