"""The register of codes, held: what is said is registered, what is registered is said, and each helps the user on."""

from __future__ import annotations

import ast
import re
from collections import Counter
from functools import cache
from pathlib import Path

import pytest

from recap import codes

PACKAGE = Path(__file__).parent.parent / "recap"
REGISTERED = codes.register()
TABLES = (codes.FILES, codes.LISTS, codes.BENCH, codes.ORDER, codes.WORK)
SAYING = {"error": 0, "warning": 0, "note": 0, "refuse_one": 0, "Diagnostic": 1}
"""Which argument of these calls is the code."""
TAIL = re.compile(r"-[a-z]{4,}")
KEBAB = re.compile(r"[a-z]+(?:-[a-z]+)+")
NOT_CODES = {"content-length", "same-origin", "referrer-policy", "permissions-policy", "recap-record", "snap-in",
             "core-voltage", "no-store"}  # fmt: skip
"""Words that end like a code and are none."""


@cache
def trees() -> dict[str, ast.Module]:
    """Every module but the register, by its path."""
    paths = [path for path in sorted(PACKAGE.rglob("*.py")) if path != PACKAGE / "codes.py"]
    return {str(path.relative_to(PACKAGE)): ast.parse(path.read_text(encoding="utf-8")) for path in paths}


def called(node: ast.Call) -> str:
    if isinstance(node.func, ast.Name):
        return node.func.id
    return node.func.attr if isinstance(node.func, ast.Attribute) else ""


def said() -> dict[str, str]:
    """Codes written at a call that says something, with the place."""
    found = {}
    for name, tree in trees().items():
        for node in ast.walk(tree):
            if isinstance(node, ast.Call) and (index := SAYING.get(called(node))) is not None:
                argument = node.args[index] if len(node.args) > index else None
                if isinstance(argument, ast.Constant):
                    found[str(argument.value)] = f"{name}:{node.lineno}"
    return found


def literals() -> dict[str, str]:
    """Every text written in the package, with a place."""
    return {
        node.value: f"{name}:{node.lineno}"
        for name, tree in trees().items()
        for node in ast.walk(tree)
        if isinstance(node, ast.Constant) and isinstance(node.value, str)
    }


def put_together() -> list[re.Pattern[str]]:
    """Texts with a gap, as f"{field}-conflict", as patterns."""
    found = []
    for tree in trees().values():
        for node in ast.walk(tree):
            if isinstance(node, ast.JoinedStr) and any(
                TAIL.fullmatch(str(getattr(p, "value", ""))) for p in node.values
            ):
                parts = [re.escape(str(p.value)) if isinstance(p, ast.Constant) else "[a-z]+" for p in node.values]
                found.append(re.compile("".join(parts)))
    return found


def test_every_code_that_is_said_is_registered() -> None:
    assert {code: place for code, place in said().items() if code not in REGISTERED} == {}


def test_every_word_that_looks_like_a_code_is_registered() -> None:
    """Doubts reach a position by many ways; what ends as codes do (-missing, -unknown ...) is one or is named above."""
    endings = {code.rpartition("-")[2] for code in REGISTERED if "-" in code}
    looks = {
        text: place
        for text, place in literals().items()
        if KEBAB.fullmatch(text) and text.rpartition("-")[2] in endings and text not in NOT_CODES
    }
    assert {text: place for text, place in looks.items() if text not in REGISTERED} == {}


def test_every_registered_code_is_said_somewhere() -> None:
    written, patterns = literals(), put_together()
    never = [code for code in REGISTERED if code not in written and not any(p.fullmatch(code) for p in patterns)]
    assert never == []


def test_no_code_stands_in_two_tables() -> None:
    counted = Counter(code for table in TABLES for code in table)
    assert {code: n for code, n in counted.items() if n > 1} == {}


@pytest.mark.parametrize("code", REGISTERED)
def test_each_code_has_a_name_an_example_and_what_to_do(code: str) -> None:
    entry = REGISTERED[code]
    assert re.fullmatch(r"[a-z]+(?:-[a-z0-9]+)*", code)
    assert entry.title.strip()
    assert entry.example.strip()
    assert entry.todo.strip()
