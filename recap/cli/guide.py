"""``recap guide``: the user's guide, on the terminal."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Any

import typer

from recap.cli import completion
from recap.cli.answers import refuse_one
from recap.cli.steps import START, USAGE

if TYPE_CHECKING:
    from collections.abc import Iterator

    from recap.guide.commands import Command, Option


def register(app: typer.Typer) -> None:
    """Add the command."""
    app.command("guide", rich_help_panel=START)(guide)


def guide(
    context: typer.Context,
    topic: str | None = typer.Argument(
        None, autocompletion=completion.topics, help="What to read about; without it, the list of topics."
    ),
    markdown: bool = typer.Option(False, "--markdown", help="Print the page as Markdown, to keep or print it."),
    as_json: bool = typer.Option(False, "--json", help="Print the page, or the topics, as JSON."),
) -> None:
    """Read the guide: the work in order, every table column, doubt, rule, number and source.

    Example: recap guide tour

    Example: recap guide tables --markdown
    """
    from recap.guide import TOPICS, page

    names = [one.name for one in TOPICS]
    if topic is not None and topic not in names:
        from difflib import get_close_matches

        near = get_close_matches(topic, names, 1)
        hint = (f"did you mean {near[0]}? " if near else "") + "the topics are: " + ", ".join(names)
        refuse_one("unknown-topic", f"no topic is called {topic!r}", "guide", hint, as_json=as_json, status=USAGE)
    from recap.show.guide_view import print_page, print_topics, topics_document

    if topic is None:
        _answer(topics_document(TOPICS)) if as_json else print_topics(TOPICS)
        return
    root: Any = context.find_root().command
    text = page(topic, tuple(told(root)) if topic == "commands" else ())
    if as_json:
        _answer({"topic": topic, "markdown": text})
    elif markdown:
        typer.echo(text)
    else:
        print_page(text)


def _answer(document: dict[str, Any]) -> None:
    from recap.show.documents import print_document

    print_document(document)


def told(root: Any, prefix: str = "", step: str = "") -> Iterator[Command]:  # noqa: ANN401 - Typer's own classes
    """Yield what the guide says of every command below ``root``, a group's commands one by one."""
    from recap.guide.commands import Command

    for name, command in root.commands.items():
        panel = step or command.rich_help_panel or ""
        if hasattr(command, "commands"):
            yield from told(command, f"{prefix}{name} ", panel)
            continue
        does, examples = _parted(command.help or "")
        options = [_option(one) for one in command.params if one.param_type_name == "option" and not one.hidden]
        arguments = [_argument(one) for one in command.params if one.param_type_name == "argument"]
        yield Command(f"{prefix}{name}", panel, does, tuple(arguments), tuple(options), examples)


def _parted(text: str) -> tuple[str, tuple[str, ...]]:
    """Return a command's help without its examples, and the examples."""
    paragraphs = [" ".join(paragraph.split()) for paragraph in re.split(r"\n\s*\n", text.replace("\b", ""))]
    examples = [p.removeprefix("Example:").strip() for p in paragraphs if p.startswith("Example:")]
    return " ".join(p for p in paragraphs if p and not p.startswith("Example:")), tuple(examples)


def _option(one: Any) -> Option:  # noqa: ANN401
    from recap.guide.commands import Option

    names = ", ".join([*one.opts, *one.secondary_opts])
    value = "" if one.is_flag else f" {(one.metavar or one.opts[0].lstrip('-')).upper()}"
    default = one.default if isinstance(one.default, int | float | str) and not one.is_flag else None
    return Option(names + value, one.help or "", None if default is None else str(getattr(default, "value", default)))


def _argument(one: Any) -> Option:  # noqa: ANN401
    from recap.guide.commands import Option

    name = (one.metavar or one.name).strip("[]{}").upper() + ("..." if one.nargs == -1 else "")
    return Option(name if one.required else f"[{name}]", one.help or "")
