"""``recap rules``: the numbers that decide what fits, and where they come from."""

from __future__ import annotations

from pathlib import Path

import typer

from recap.cli.answers import stop_on_errors
from recap.cli.steps import CHECK
from recap.model import Role, Settings


def register(app: typer.Typer) -> None:
    """Add the command."""
    app.command("rules", rich_help_panel=CHECK)(rules)


def rules(
    bench: Path | None = typer.Argument(None, help="The bench folder; without it, the defaults."),
    role: Role | None = typer.Option(None, "--role", help="The numbers for positions of this role."),
    as_json: bool = typer.Option(False, "--json", help="Print the answer as JSON."),
) -> None:
    """Show every number the matching rules use: its value for a bench and role, its meaning, its source.

    Example: recap rules --role smoothing

    Example: recap rules demo
    """
    from recap.match.limits import numbers

    settings = Settings() if bench is None else _settings(bench, as_json=as_json)
    found = numbers(settings, role)
    if as_json:
        from recap.show.documents import print_document
        from recap.show.rules_view import rules_document

        print_document(rules_document(found, role))
        return
    from recap.show.rules_view import print_rules
    from recap.show.terminal import output

    print_rules(output(), found, role)


def _settings(bench: Path, *, as_json: bool) -> Settings:
    from recap.diagnostics import Source, error
    from recap.match.groups import unknown_profiles
    from recap.settings import FILE_NAME, read_settings

    if not bench.is_dir():
        fault = error("file-missing", f"there is no folder {bench}", Source(str(bench)), "name a bench folder")
        stop_on_errors([fault], as_json=as_json)
    settings, told = read_settings(bench / FILE_NAME)
    stop_on_errors([*told, *unknown_profiles(settings)], as_json=as_json)
    return settings
