"""How every command answers when the input has errors or asks for what can't be."""

from __future__ import annotations

from typing import TYPE_CHECKING, NoReturn

import typer

from recap.cli.steps import INPUT_ERRORS
from recap.diagnostics import Diagnostic, Source, error, has_errors

if TYPE_CHECKING:
    from collections.abc import Sequence


def tell(diagnostics: Sequence[Diagnostic], *, notes: bool | None = None) -> None:
    """Print diagnostics to standard error; ``notes`` is the command's own option, None where it has none."""
    from recap.show.terminal import print_diagnostics

    print_diagnostics(diagnostics, notes=notes)


def advise(text: str) -> None:
    """Say on standard error what may be typed next."""
    typer.echo(text, err=True)


WHEN_BUYING = frozenset({"can-sections"})
"""Remarks that matter when parts are bought: import and order say them, the other commands needn't."""


def tell_of_bench(diagnostics: Sequence[Diagnostic]) -> None:
    """Print what a bench's files say for a command that buys nothing."""
    tell([diagnostic for diagnostic in diagnostics if diagnostic.code not in WHEN_BUYING])


def stop_on_errors(diagnostics: Sequence[Diagnostic], *, as_json: bool = False) -> None:
    """End the run with status 1 where any diagnostic is an error; all of them are shown together."""
    if has_errors(diagnostics):
        refuse(diagnostics, as_json=as_json)


def refuse(diagnostics: Sequence[Diagnostic], *, as_json: bool = False, status: int = INPUT_ERRORS) -> NoReturn:
    """Show diagnostics (as the one JSON document with ``as_json``) and end the run with ``status``."""
    if as_json:
        from recap.show.documents import diagnostics_document, print_document

        print_document({"status": "error", "diagnostics": diagnostics_document(diagnostics)})
    else:
        tell(diagnostics)
    raise typer.Exit(status)


def refuse_one(
    code: str, message: str, place: str, hint: str | None = None, *, as_json: bool = False, status: int = INPUT_ERRORS
) -> NoReturn:
    """End the run over a single fault that no table row is to blame for."""
    refuse([error(code, message, Source(place), hint)], as_json=as_json, status=status)
