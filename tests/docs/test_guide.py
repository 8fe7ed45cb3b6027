"""The guide holds everything there is: every column, setting, code, rule, number, source, command."""

from __future__ import annotations

import ast
import json
import re
from typing import TYPE_CHECKING

import pytest
from typer.testing import CliRunner

from recap import codes
from recap.cli import app
from recap.guide import TOPICS, page, topics
from recap.guide.citations import SUBJECTS
from recap.guide.columns import FILES
from recap.guide.marks import plain
from recap.guide.reference import PARTS, STAGES
from recap.match.limits import MEANINGS, PROFILES, SOURCES
from recap.match.rules import RULES
from recap.model import Kind, Mount, Role, Status, Verdict
from recap.read import vocabulary
from recap.settings import RULES as RULE_KEYS
from recap.settings import SPARES, TOP
from tests.docs import pages

if TYPE_CHECKING:
    from pathlib import Path

PACKAGE = pages.ROOT / "recap"
FOLDER = PACKAGE / "guide" / "pages"


def bold(text: str) -> set[str]:
    return {name.replace("\\", "") for name in re.findall(r"^- \*\*(.+?)\*\*", text, re.MULTILINE)}


def test_every_page_is_a_topic_and_every_part_is_shown() -> None:
    assert {path.stem for path in FOLDER.glob("*.md")} == {topic.name for topic in TOPICS}
    marks = {mark for path in FOLDER.glob("*.md") for mark in re.findall(r"\{\{([a-z-]+)\}\}", path.read_text("utf-8"))}
    assert marks == {*PARTS, "commands"}
    for topic in TOPICS:
        assert "{{" not in pages.documents()[topic.name]


@pytest.mark.parametrize("topic", [topic.name for topic in TOPICS])
def test_pages_fit_a_narrow_terminal_and_a_pipe(topic: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("COLUMNS", "80")
    shown = CliRunner().invoke(app, ["guide", topic])
    assert shown.exit_code == 0
    assert shown.output.strip()
    assert "\x1b" not in shown.output
    assert max(len(line) for line in shown.output.splitlines()) <= 80


def test_every_column_of_every_table_is_told() -> None:
    known = {
        "caplists/CHASSIS.csv": vocabulary.CAP_LIST,
        "catalogs/SUPPLIER.csv": vocabulary.CATALOGUE,
        "catalogs/suppliers.csv": vocabulary.SUPPLIERS,
        "drawer.csv": vocabulary.DRAWER,
        "sets.csv": vocabulary.SETS,
        "extras.csv": vocabulary.EXTRAS,
    }
    assert {file.name for file in FILES} == set(known)
    text = page("tables")
    for file in FILES:
        assert set(file.columns) == set(known[file.name])
        section = text.partition(f"## {file.name}: ")[2].partition("\n## ")[0]
        assert bold(section) == set(file.columns)
        for words in known[file.name].values():
            for word in words:
                assert plain(word) in section


def test_words_that_cells_may_hold_are_told() -> None:
    text = page("tables")
    for word in (*Mount, *Role, *(kind for kind in Kind if kind is not Kind.UNKNOWN)):
        assert word.value in text


def test_every_setting_is_told_with_its_default() -> None:
    assert bold(page("settings")) == {*TOP, *SPARES, *RULE_KEYS}
    for keys in (TOP, SPARES):
        assert all(key.meaning for key in keys.values())
    assert set(RULE_KEYS) == set(MEANINGS)
    assert '`"EUR"` unless set' in page("settings")


def test_every_code_is_told_with_what_to_do() -> None:
    text = page("doubts")
    assert set().union(*(register for _, register in STAGES)) == set(codes.register())
    for _, register in STAGES:
        for name, code in register.items():
            line = next(
                line for line in text.splitlines() if line.startswith(f"- **{name}**: {plain(code.title)[0].upper()}")
            )
            assert ("*Stops buying.*" in line) == code.blocks
            assert "To do: " in line


SAYERS = {"error", "warning", "note", "refuse_one", "tell", "warn", "heading", "doubt", "Diagnostic"}


def codes_said(path: Path) -> set[str]:
    """Codes written out in calls that make a diagnostic or doubt."""
    found = set()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Call):
            name = node.func.attr if isinstance(node.func, ast.Attribute) else getattr(node.func, "id", "")
            if name in SAYERS:
                texts = [arg.value for arg in node.args[:4] if isinstance(arg, ast.Constant)]
                found |= {text for text in texts if isinstance(text, str) and re.fullmatch(r"[a-z]+(-[a-z]+)+", text)}
    return found


def test_every_code_that_is_said_is_explained() -> None:
    said = set().union(*(codes_said(path) for path in PACKAGE.rglob("*.py")))
    assert len(said) > 60
    assert said - set(codes.register()) == set()


def test_every_rule_and_number_is_told_with_its_source() -> None:
    text = page("rules")
    rows = {row.split(" ")[1] for row in re.findall(r"^\| [a-z]+.*$", text, re.MULTILINE)}
    assert {rule.name for rule in RULES} <= rows
    assert bold(text) >= {*MEANINGS, *SOURCES, *Role, *PROFILES}
    for source in SOURCES.values():
        assert plain(source.text)[1:] in text


def test_every_source_named_in_the_code_is_listed() -> None:
    """Read from the code itself: each Citation that stands at the top level of a module."""
    text = page("sources")
    listed = {module.__name__ for _, modules in SUBJECTS for module in modules}
    for path in PACKAGE.rglob("*.py"):
        tree = ast.parse(path.read_text(encoding="utf-8"))
        top = [node for node in tree.body if isinstance(node, ast.Assign | ast.AnnAssign)]
        for call in (node for one in top for node in ast.walk(one) if isinstance(node, ast.Call)):
            if getattr(call.func, "id", "") != "Citation":
                continue
            assert ".".join(path.relative_to(pages.ROOT).with_suffix("").parts) in listed
            if isinstance(call.args[1], ast.Constant):
                assert plain(str(call.args[1].value))[1:].rstrip(".") in text


def test_the_priced_example_is_right() -> None:
    """Reckoned by hand: 12 at 0.096 and 2 at 34.70; shipping 8 from 60; 1.50 and twice 0.05; 2.5 % and 19 %."""
    text = page("money")
    for amount in ("70.552", "= 1.6\n", "1.7638", "81.9158", "15.564002", "89.68141784 EUR"):
        assert amount in text


def test_glossary_is_in_order_and_has_the_words_of_the_screen() -> None:
    words = re.findall(r"^- \*\*(.+?)\*\*", page("glossary"), re.MULTILINE)
    keys = [re.sub(r"\W", "", word).casefold() for word in words]
    assert keys == sorted(keys)
    screen = {"set", "board", "position", "part", "supplier", "drawer", "spares", "group", "verdict", "doubt", "parcel",
              "extra", "job", "role", "kind", "record", "margin", *Status, Verdict.CARE}  # fmt: skip
    assert screen <= set(words)


def test_topics_are_listed_and_a_wrong_one_is_told() -> None:
    listed = CliRunner().invoke(app, ["guide"])
    assert all(topic.name in listed.output for topic in TOPICS)
    wrong = CliRunner().invoke(app, ["guide", "doubt"])
    assert wrong.exit_code == 2
    assert "did you mean doubts?" in wrong.output
    with pytest.raises(KeyError):
        page("prices")


def test_json_and_markdown_give_the_page_itself() -> None:
    document = json.loads(CliRunner().invoke(app, ["guide", "money", "--json"]).stdout)
    assert document == {"topic": "money", "markdown": page("money")}
    assert CliRunner().invoke(app, ["guide", "money", "--markdown"]).stdout.strip() == page("money").strip()
    assert [one["topic"] for one in json.loads(CliRunner().invoke(app, ["guide", "--json"]).stdout)["topics"]] == [
        topic.name for topic in topics.TOPICS
    ]


def test_text_from_data_is_shown_as_it_is() -> None:
    assert plain("max_suppliers [rules] *") == r"max\_suppliers \[rules\] \*"
    assert plain("a_b: `recap drawer --move A_1=2`") == r"a\_b: `recap drawer --move A_1=2`"
