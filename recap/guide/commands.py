"""The commands as a part of the guide. What they are is told by the command line, which alone knows."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import groupby
from typing import TYPE_CHECKING

from recap.guide.marks import plain, sentence

if TYPE_CHECKING:
    from collections.abc import Sequence


@dataclass(frozen=True, slots=True)
class Option:
    """An option or argument: how it is written, what it does, the default where one is worth telling."""

    written: str
    does: str
    default: str | None = None


@dataclass(frozen=True, slots=True)
class Command:
    """A command: its step of the work, what it does, its arguments, options and examples."""

    name: str
    step: str
    does: str
    arguments: tuple[Option, ...]
    options: tuple[Option, ...]
    examples: tuple[str, ...]


def commands_part(commands: Sequence[Command]) -> str:
    """Return all commands by the steps of the work."""
    lines: list[str] = []
    for step, those in groupby(commands, key=lambda command: command.step):
        lines += [f"## {step}", ""]
        for command in those:
            lines += _command(command)
    return "\n".join(lines)


def _command(command: Command) -> list[str]:
    asked = " ".join(argument.written for argument in command.arguments)
    lines = [f"### recap {command.name} {plain(asked)}".rstrip(), "", plain(command.does), ""]
    for example in command.examples:
        lines += ["```sh", example, "```", ""]
    for one in (*command.arguments, *command.options):
        default = f" Default: {plain(one.default)}." if one.default else ""
        lines.append(f"- `{one.written}`: {sentence(one.does)}{default}")
    return [*lines, ""]
