"""Commands on a bench, given in its own folder, needn't name it: ``recap order`` there is ``recap order .``."""

from __future__ import annotations

import contextlib
import inspect
from pathlib import Path
from typing import TYPE_CHECKING, Any

import typer
from typer.models import ArgumentInfo

from recap.cli.answers import Command, typed
from recap.settings import FILE_NAME

if TYPE_CHECKING:
    from typer.core import TyperCommand
    from typer.models import CommandInfo

BENCH = "bench"


def is_bench(folder: Path) -> bool:
    """Tell whether a folder looks like a bench: it has settings or cap lists."""
    return (folder / FILE_NAME).is_file() or (folder / "caplists").is_dir()


class BenchCommand(Command):
    """A command whose first argument is a bench folder, which may be left out inside one."""

    def completed(self, ctx: Any, args: list[str]) -> list[str]:  # noqa: ANN401 - Typer's own or Click's, by version
        """Put the folder one is in before the other arguments, where none is named and it is a bench."""
        if not ctx.resilient_parsing and not {"--help", "-h"} & set(args):
            named = _positional(self, ctx, args)
            if not (named and (Path(named[0]).is_dir() or _is_path(named[0]))):
                if is_bench(Path()):
                    args = [".", *args]
                elif later := next((word for word in named[1:] if is_bench(Path(word))), None):
                    right = f"recap {self.name} {typed(later)} {typed(named[0])}"
                    raise typer.BadParameter(f"the bench folder comes first: {right} …", ctx=ctx, param_hint="BENCH")
                elif not named and (beside := _benches_here()):
                    ways = " or ".join(f"recap {self.name} {typed(one)}" for one in beside)
                    raise typer.BadParameter(f"name the bench folder: {ways}", ctx=ctx, param_hint="BENCH")
        return args


NAMED = 3
"""So many of the benches in this folder are named."""


def _benches_here() -> list[str]:
    """Return the names of the first few benches in the folder one is in."""
    with contextlib.suppress(OSError):
        return sorted(one.name for one in Path().iterdir() if one.is_dir() and is_bench(one))[:NAMED]
    return []


def _is_path(word: str) -> bool:
    """Tell whether a word can only be meant for a folder, there or not."""
    return "/" in word or "\\" in word


def _positional(command: TyperCommand, ctx: Any, args: list[str]) -> list[str]:  # noqa: ANN401 - as above
    """Return the words that are neither options nor their values."""
    ctx.resilient_parsing = True  # what is wrong is said when the line is parsed for good
    found, rest, _ = command.make_parser(ctx).parse_args(list(args))
    ctx.resilient_parsing = False
    words: list[str] = []
    for value in (found.get(p.name or "") for p in command.params if p.param_type_name == "argument"):
        words += [value] if isinstance(value, str) else value if isinstance(value, list | tuple) else []
    return [*words, *rest]


def may_be_left_out(command: CommandInfo) -> None:
    """Let a command do without its first argument where that is a bench folder and required."""
    parameters = inspect.signature(command.callback).parameters if command.callback else {}
    given = parameters[BENCH].default if BENCH in parameters else None
    if isinstance(given, ArgumentInfo) and given.default is ...:
        command.cls = BenchCommand
        given.help = "The bench folder; needn't be named inside one."
