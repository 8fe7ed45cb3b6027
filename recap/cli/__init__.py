"""The command line: parse arguments, call the core, show the answer, choose the exit status.

Each command lives in its own module and imports what is heavy inside its function, so that
``recap --help`` answers at once. Modules are listed in :data:`COMMANDS` in the order of the work.
"""

from __future__ import annotations

import importlib

import typer

app = typer.Typer(
    name="recap",
    no_args_is_help=True,
    rich_markup_mode="rich",
    context_settings={"help_option_names": ["-h", "--help"]},
    help="Capacitor lists of old sets in, one proven cheapest order for all of them out, "
    "and the work at the bench kept straight.",
    epilog="Exit status: 0 done, 1 the input has errors, 2 wrong usage, 3 no order can meet the needs.",
)

COMMANDS: tuple[str, ...] = (
    "new",
    "guide",
    "import_",
    "explain",
    "decode",
    "margin",
    "rules",
    "life",
    "stress",
    "combine",
    "order",
    "catalog",
    "receive",
    "drawer",
    "bags",
    "labels",
    "bench",
    "checklist",
    "measure",
    "discharge",
    "shelf",
    "work",
    "audit",
    "history",
    "estimate",
    "record",
)
"""Modules of this package; each has ``register(app)``."""


def _print_version(wanted: bool) -> None:
    if wanted:
        from importlib.metadata import version

        typer.echo(f"recap {version('recap-workbench')}")
        raise typer.Exit


@app.callback()
def _options(
    version: bool = typer.Option(
        False, "--version", callback=_print_version, is_eager=True, help="Print the version and stop."
    ),
) -> None:
    """Take the options that stand before a command."""


def _register_all() -> None:
    for name in COMMANDS:
        importlib.import_module(f"recap.cli.{name}").register(app)


_register_all()


def main() -> None:
    """Run the command line."""
    app()
