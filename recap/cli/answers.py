"""How every command answers when the input has errors or asks for what can't be."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Any, NoReturn

import typer
from typer.core import TyperCommand, TyperGroup

from recap.cli.interrupts import tidy_up
from recap.cli.steps import INPUT_ERRORS
from recap.diagnostics import Diagnostic, Source, error, has_errors
from recap.show.plain import harmless

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path


WrongUsage: type[Any] = typer.BadParameter.__bases__[0]
"""What Typer raises where a command line isn't one: a missing word, an unknown option, a value out of bounds."""
_JSON = "recap: one document is wanted"


def _plain_types(parameters: list[Any]) -> list[Any]:
    """Let a help name no types of the programming language: a switch takes no value, an argument is named already."""
    for one in parameters:
        if getattr(one, "is_flag", False):
            one.metavar = ""
        elif getattr(one, "param_type_name", "") == "argument" and hasattr(one, "display_type_rich"):
            one.display_type_rich = _untold
    return parameters


def _untold(ctx: Any) -> None:  # noqa: ANN401 - Typer brings its own context
    """Return no type."""


class Command(TyperCommand):
    """One command, with a help in the words of the person at the bench."""

    def get_params(self, ctx: Any) -> list[Any]:  # noqa: ANN401
        """Return the options and arguments as a help shows them."""
        return _plain_types(super().get_params(ctx))

    def parse_args(self, ctx: Any, args: list[str]) -> list[str]:  # noqa: ANN401
        """Take the words apart; what is wrong with them is said with what would be right."""
        try:
            return super().parse_args(ctx, self.completed(ctx, [*args]))
        except WrongUsage as fault:
            fault.message = fault.message.removeprefix("Value error, ") + self._meant(fault, args)
            raise

    def completed(self, ctx: Any, args: list[str]) -> list[str]:  # noqa: ANN401, ARG002
        """Return the words with those that may be left out."""
        return args

    def invoke(self, ctx: Any) -> Any:  # noqa: ANN401
        """Run the command, which tidies up where Ctrl-C stops it."""
        tidy_up()
        return super().invoke(ctx)

    def _meant(self, fault: Any, args: list[str]) -> str:  # noqa: ANN401
        """Return what to type instead, where that can be told."""
        said = fault.format_message()
        if "unexpected extra argument" in said and any(p.name == "sets" for p in self.params):
            return f": it is no folder here, and sets stand behind --sets: recap {self.name} --sets A,B"
        if "unexpected extra argument" in said and any(p.name == "substitute" for p in self.params):
            return f'; each part stands in quotation marks: recap {self.name} "470uF 25V" "470uF 35V"'
        text = next((word for word in args if word.startswith("-") and " " in word), None)
        if text is not None and "No such option" in said:
            return f'; a text that begins with - stands last, behind two of them: recap {self.name} … -- "{text}"'
        return ""


class Group(TyperGroup):
    """Several commands under one name, with a help in the same words."""

    def get_params(self, ctx: Any) -> list[Any]:  # noqa: ANN401 - Typer brings its own context
        """Return the options as a help shows them."""
        return _plain_types(super().get_params(ctx))


class Commands(Group):
    """The commands: one that was asked for JSON answers in it even where the command line is wrong."""

    def parse_args(self, ctx: Any, args: list[str]) -> list[str]:  # noqa: ANN401
        """Note whether JSON is wanted before anything can be wrong."""
        ctx.meta[_JSON] = "--json" in args
        try:
            return super().parse_args(ctx, args)
        except WrongUsage as fault:
            _answer_wrong_usage(ctx, fault)
            raise

    def invoke(self, ctx: Any) -> Any:  # noqa: ANN401
        """Run the command; Typer goes on to say on standard error what is wrong, and ends with status 2."""
        try:
            return super().invoke(ctx)
        except WrongUsage as fault:
            _answer_wrong_usage(ctx, fault)
            raise


def _answer_wrong_usage(ctx: Any, fault: Any) -> None:  # noqa: ANN401
    if ctx.meta[_JSON]:
        from recap.show.documents import diagnostics_document, print_document

        hint = getattr(fault, "param_hint", None) or "command line"
        place = Source(hint if isinstance(hint, str) else " ".join(hint))
        told = error("wrong-usage", fault.format_message(), place)
        print_document({"status": "error", "diagnostics": diagnostics_document([told])})


def tell(diagnostics: Sequence[Diagnostic], *, notes: bool | None = None) -> None:
    """Print diagnostics to standard error; ``notes`` is the command's own option, None where it has none."""
    from recap.show.terminal import print_diagnostics

    print_diagnostics(diagnostics, notes=notes)


def advise(text: str) -> None:
    """Say on standard error what may be typed next."""
    typer.echo(harmless(text), err=True)


def typed(word: Path | str) -> str:
    """Return a word as it is typed on a command line, in quotation marks where it has a blank or the like in it."""
    text = str(word)
    return text if _PLAIN.fullmatch(text) else f'"{text}"'


_PLAIN = re.compile(r"[\w./\\:~+,@-]+")
"""What no shell makes anything else of."""

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


ROOM = "make room there, see who may write in its folder, or name another"
"""What to do where something can't be written."""


def refuse_one(
    code: str, message: str, place: str, hint: str | None, *, as_json: bool = False, status: int = INPUT_ERRORS
) -> NoReturn:
    """End the run over a single fault that no table row is to blame for.

    ``hint`` says what to do; it is None only where the message says so itself.
    """
    refuse([error(code, message, Source(place), hint)], as_json=as_json, status=status)
