"""``recap decode``: what the characters on a part can mean."""

from __future__ import annotations

import typer

from recap.cli.answers import tell
from recap.cli.steps import INPUT_ERRORS, READ
from recap.diagnostics import Diagnostic, Source, error, warning


def register(app: typer.Typer) -> None:
    """Add the command."""
    app.command("decode", rich_help_panel=READ)(decode)


def decode(
    marking: list[str] = typer.Argument(help="What is printed on the part, with or without quotes."),
    as_json: bool = typer.Option(False, "--json", help="Print the answer as JSON."),
) -> None:
    """Read a capacitor's marking: value, tolerance, voltage, date, in every way that is possible.

    Example: recap decode 475K 1H
    """
    from recap.normalise.markings import decode_marks
    from recap.show.marks import marks_document, print_marks

    text = " ".join(marking)
    decoded = decode_marks(text)
    told = [
        _unread(mark, text, last=not decoded.readings) for mark in decoded.unread or (() if decoded.readings else ("",))
    ]
    if as_json:
        from recap.show.documents import print_document

        print_document(marks_document(text, decoded, told))
    else:
        from recap.show.terminal import output

        if decoded.readings:
            print_marks(output(), decoded)
        tell(told)
    if not decoded.readings:
        raise typer.Exit(INPUT_ERRORS)


def _unread(mark: str, marking: str, *, last: bool) -> Diagnostic:
    """Say that no table knows a mark; an error where it is all there is."""
    say = error if last else warning
    hint = "is a letter misread, or is it a maker's own mark? A value needs figures: 475, 4u7, 4.7uF"
    return say("unknown-mark", f"no table of capacitor marks knows {mark!r}", Source("decode"), hint, marking or None)
