"""``recap explain``: what a code means and what to do about it."""

from __future__ import annotations

import typer

from recap.cli import completion
from recap.cli.answers import refuse_one
from recap.cli.steps import START, USAGE


def register(app: typer.Typer) -> None:
    """Add the command."""
    app.command("explain", rich_help_panel=START)(explain)


def explain(
    code: str | None = typer.Argument(
        None,
        autocompletion=completion.codes,
        help="A code as printed at the end of a message; without it, all of them.",
    ),
    as_json: bool = typer.Option(False, "--json", help="Print the answer as JSON."),
) -> None:
    """Say what a doubt or a message code means, with an example and what to do.

    Example: recap explain unit-missing
    """
    from recap.codes import register as codes

    known = codes()
    if code is not None and code not in known:
        from difflib import get_close_matches

        near = get_close_matches(code, known, 1)
        hint = f"did you mean {near[0]}?" if near else "recap explain, without a code, lists them all"
        refuse_one("unknown-code", f"no code is called {code!r}", "explain", hint, as_json=as_json, status=USAGE)
    chosen = {code: known[code]} if code else known
    if as_json:
        from recap.show.documents import print_document

        print_document(
            {
                name: {"title": c.title, "example": c.example, "todo": c.todo, "blocks": c.blocks}
                for name, c in chosen.items()
            }
        )
        return
    from recap.show.codes import print_codes

    print_codes(chosen)
