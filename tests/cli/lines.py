"""The command lines there are, as the program itself knows them."""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING, Any

import typer

from recap.cli import app

if TYPE_CHECKING:
    from collections.abc import Iterator


@cache
def commands() -> dict[str, Any]:
    """Every command by its words, in the order of the help."""

    def walk(command: Any, words: tuple[str, ...]) -> Iterator[tuple[str, Any]]:
        if hasattr(command, "commands"):
            for name, child in command.commands.items():
                yield from walk(child, (*words, name))
        else:
            yield " ".join(words), command

    return dict(walk(typer.main.get_command(app), ()))


def examples() -> list[str]:
    """The lines after ``Example:`` of every help, in the order of the helps."""
    return [
        line.strip().removeprefix("Example:").strip()
        for command in commands().values()
        for line in command.help.splitlines()
        if line.strip().startswith("Example:")
    ]
