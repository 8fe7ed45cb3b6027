"""The command line: parse arguments, call the core, show the answer, choose the exit status.

Each command lives in its own module and imports what is heavy inside its function, so that
``recap --help`` answers at once. Modules are listed in :data:`COMMANDS` in the order of the work.
"""

from __future__ import annotations

import contextlib
import gc
import importlib
import inspect
import os
import sys
from typing import TYPE_CHECKING, NoReturn

import typer
from typer.models import ArgumentInfo, OptionInfo

from recap.cli.answers import Command, Commands
from recap.cli.here import may_be_left_out
from recap.cli.interrupts import end_at_once, tidy_up
from recap.cli.steps import INPUT_ERRORS, USAGE
from recap.files import forget_written, written
from recap.show.plain import harmless, prepare_streams

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    app: typer.Typer

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
TELLS_OF_ALL = "guide"
"""The command that shows the others too."""


def _print_version(wanted: bool) -> None:
    if wanted:
        from importlib.metadata import version

        typer.echo(f"recap {version('recap-workbench')}")
        raise typer.Exit


def _options(
    version: bool = typer.Option(
        False, "--version", callback=_print_version, is_eager=True, help="Print the version and stop."
    ),
) -> None:
    """Take the options that stand before a command."""


def _with_commands(names: Iterable[str]) -> typer.Typer:
    """Return the command line with the commands of these modules."""
    made = typer.Typer(
        name="recap",
        cls=Commands,
        no_args_is_help=True,
        rich_markup_mode="rich",
        pretty_exceptions_show_locals=False,
        context_settings={"help_option_names": ["-h", "--help"]},
        help="Capacitor lists of old sets in, one proven cheapest order for all of them out, "
        "and the work at the bench kept straight.",
        epilog="Exit status: 0 done, 1 the input has errors, 2 wrong usage, 3 no order can meet the needs.",
    )
    made.callback()(_options)
    for name in names:
        importlib.import_module(f"recap.cli.{name}").register(made)
    _name_values(made)
    return made


def _called(arguments: Sequence[str]) -> Iterable[str]:
    """Return the module of the command that the arguments begin with; all of them where they begin with none.

    Typer makes ready every option of every command that it is given, which takes longer than many a command.
    """
    module = {name.rstrip("_"): name for name in COMMANDS}.get(arguments[0] if arguments else "")
    return COMMANDS if module in {None, TELLS_OF_ALL} else (module,)


INTERRUPTED = 130
"""What shells give for a command that Ctrl-C ended."""

METAVARS = {"bool": "", "Path": "PATH", "int": "N", "float": "NUMBER"}
"""How a help names the value of an option, by its type; text is called as the option is, a switch takes none."""
SAID = {"about": "TEXT", "why": "TEXT", "since": "DAY", "on": "DAY", "by": "NAME", "bought": "DAY"}
"""How it names text where that says more than the option's own name."""


def _flowing(text: str) -> str:
    """Return a text whose lines end only where paragraphs do, so that each terminal breaks them by its own width."""
    return "\n\n".join(" ".join(paragraph.split()) for paragraph in text.split("\n\n"))


def _name_values(commands: typer.Typer) -> None:
    """Give every option and argument a name for its value, where its own module gives none; see also ``here``.

    The help of every command is its docstring.
    """
    for group in commands.registered_groups:
        if group.typer_instance is not None:
            _name_values(group.typer_instance)
    for command in commands.registered_commands:
        command.cls = Command
        may_be_left_out(command)
        command.help = _flowing(inspect.getdoc(command.callback) or "")
        parameters = inspect.signature(command.callback).parameters if command.callback else {}
        for name, parameter in parameters.items():
            kind = str(parameter.annotation).removesuffix(" | None")
            given = parameter.default
            if isinstance(given, OptionInfo) and given.metavar is None:
                own = SAID.get(name, name.upper()) if kind in {"str", "list[str]"} else None
                given.metavar = METAVARS.get(kind, own)
            elif isinstance(given, ArgumentInfo) and given.metavar is None and not kind.startswith("list"):
                given.metavar = name.upper()


def __getattr__(name: str) -> typer.Typer:
    """Return ``app``, the command line with all commands, made when it is asked for."""
    if name != "app":
        message = f"module 'recap.cli' has no attribute {name!r}"
        raise AttributeError(message)
    globals()["app"] = made = _with_commands(COMMANDS)
    return made


WIDEST = 500
"""Columns of a terminal at most; lines are filled up to their end, which takes a gigabyte where many are claimed."""


def _settle_surroundings() -> None:
    """Take from the environment what libraries would stumble over; pictures go to files, not to a window."""
    os.environ["MPLBACKEND"] = "agg"
    claimed = os.environ.get("COLUMNS", "")
    if claimed.isdecimal() and (len(claimed) > len(str(WIDEST)) or int(claimed) > WIDEST):
        os.environ["COLUMNS"] = str(WIDEST)


def main() -> None:
    """Run the command line.

    Commands answer for the files they read and write; what is left is the output itself: a full disk
    behind a redirection, a folder that went away.
    """
    _settle_surroundings()
    prepare_streams()
    forget_written()
    end_at_once()
    try:
        _with_commands(_called(sys.argv[1:]))()
    except OSError as fault:
        what = f": {fault.filename}" if fault.filename else ""
        if "--json" in sys.argv:
            _answer_in_json(f"can't go on: {fault.strerror or fault}", str(fault.filename or "recap"))
        _give_up(f"recap can't go on: {fault.strerror or fault}{what}; see to that, and do it again")
    except KeyboardInterrupt:  # when the command is done: while it runs, Typer ends it
        sys.stderr.write("Aborted!\n")
        _tell_what_stays()
        sys.exit(INTERRUPTED)
    except SystemExit as end:
        if sys.stdout is not None:
            try:
                sys.stdout.flush()
            except OSError as fault:
                _give_up(f"recap can't write its answer: {fault.strerror or fault}")
        if end.code in {INPUT_ERRORS, USAGE, INTERRUPTED}:
            _tell_what_stays()
        raise
    finally:
        tidy_up()
        gc.freeze()  # what is left of the work goes with the process: it need not be searched for garbage first


STAYS_SHOWN = 5


def _tell_what_stays() -> None:
    """Name what was written before the command was stopped or refused: nobody need do that again, or look for it."""
    names = [str(path) for path in written()]
    if names:
        more = f" and {len(names) - STAYS_SHOWN} more" if len(names) > STAYS_SHOWN else ""
        said = f"Written before that, and it stays: {', '.join(names[:STAYS_SHOWN])}{more}."
        with contextlib.suppress(OSError):
            sys.stderr.write(f"{harmless(said)} Look there before you do it again.\n")


def _answer_in_json(message: str, place: str) -> None:
    """Print the one document that was asked for, as far as the output still takes any."""
    from recap.cli.answers import refuse_one

    with contextlib.suppress(OSError, typer.Exit):
        refuse_one("file-unreadable", message, place, "check its permissions", as_json=True)


def _give_up(message: str) -> NoReturn:
    """End with one line and status 1; what still waits to be written to a broken output is let go."""
    with contextlib.suppress(OSError):
        sys.stderr.write(f"{message}\n")
    _tell_what_stays()
    with contextlib.suppress(OSError):
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
    sys.exit(INPUT_ERRORS)
