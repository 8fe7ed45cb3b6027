"""What the documents say that can be held to the program: commands, options, files, links."""

from __future__ import annotations

import re
import shlex
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import typer

from recap.cli import app
from recap.cli.guide import told
from recap.guide import TOPICS, page

ROOT = Path(__file__).parent.parent.parent
ROOT_COMMAND: Any = typer.main.get_command(app)

_FENCE = re.compile(r"^```([^\n]*)\n(.*?)^```$", re.MULTILINE | re.DOTALL)
_INLINE = re.compile(r"`([^`]+)`", re.DOTALL)
_LINK = re.compile(r"\]\((?!https?:)([^)#]+)\)|src=\"([^\"]+)\"")


@dataclass(frozen=True)
class Block:
    """A fenced block: the words behind its fence, and what stands in it."""

    info: str
    body: str


def documents() -> dict[str, str]:
    """Every document a user reads, by name, as it is shown."""
    texts = {name: (ROOT / f"{name}.md").read_text(encoding="utf-8") for name in ("README", "DEVELOPERS", "CHANGELOG")}
    commands = tuple(told(ROOT_COMMAND))
    return texts | {topic.name: page(topic.name, commands) for topic in TOPICS}


def blocks(text: str) -> list[Block]:
    return [Block(match[1].strip(), match[2]) for match in _FENCE.finditer(text)]


def shell_lines(text: str) -> list[str]:
    return [line for block in blocks(text) if block.info == "sh" for line in block.body.splitlines() if line.strip()]


def named_files(text: str) -> dict[str, str]:
    """Files that a document shows whole: their name stands behind the fence."""
    return {block.info.split()[1]: block.body for block in blocks(text) if re.fullmatch(r"text \S+", block.info)}


def inline(text: str) -> list[str]:
    """Everything between single backticks, lines joined."""
    return [" ".join(match.split()) for match in _INLINE.findall(_FENCE.sub("", text))]


def links(text: str) -> list[str]:
    return [one or other for one, other in _LINK.findall(text)]


def command_of(line: str) -> tuple[str, Any, list[str]]:
    """The command that ``recap WORDS`` names, and the words behind it. Raises LookupError where there is none."""
    words = shlex.split(line.replace("…", ""))[1:]
    found, name = ROOT_COMMAND, ""
    while hasattr(found, "commands") and words and not words[0].startswith("-"):
        name = f"{name} {words[0]}".strip()
        if words[0] not in found.commands:
            raise LookupError(f"there is no command recap {name}")
        found = found.commands[words.pop(0)]
    return name, found, words


def options_of(command: Any) -> set[str]:
    own = {name for one in command.params for name in (*one.opts, *one.secondary_opts)}
    return own | {"--help", "-h"}


def every_option() -> set[str]:
    found = options_of(ROOT_COMMAND)
    waiting = list(ROOT_COMMAND.commands.values())
    while waiting:
        command = waiting.pop()
        found |= options_of(command)
        waiting += getattr(command, "commands", {}).values()
    return found
