"""Every code that the list reader puts on a position or a line is registered, with an example and what to do."""

from __future__ import annotations

import ast
from pathlib import Path

import recap.normalise
from recap.codes import LISTS, register
from recap.normalise.kind_words import KIND_WORDS, MOUNT_WORDS
from tests.normalise.facts import read

FOLDER = Path(recap.normalise.__file__).parent
CALLS = {"doubt": 0, "warn": 1, "passed": 1, "heading": 1, "error": 0, "warning": 0, "note": 0}
"""Calls that name a code, and which argument it is."""


def named() -> set[str]:
    found = set()
    for path in FOLDER.glob("*.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if not isinstance(node, ast.Call):
                continue
            name = node.func.attr if isinstance(node.func, ast.Attribute) else getattr(node.func, "id", "")
            at = CALLS.get(name)
            if at is None or len(node.args) <= at:
                continue
            argument = node.args[at]
            if isinstance(argument, ast.Constant) and isinstance(argument.value, str) and "-" in argument.value:
                found.add(argument.value)
    return found


def test_codes_in_the_source_are_registered() -> None:
    found = named()
    assert len(found) > 30
    assert found - set(register()) == set()


def test_each_code_says_what_it_is_and_what_to_do() -> None:
    for name, code in LISTS.items():
        assert name == name.lower()
        assert " " not in name
        assert code.title, name
        assert code.todo, name


def test_a_misspelt_word_is_doubted_with_its_score_and_the_next_best() -> None:
    found, told = read("C1 10uF 16V axail")
    assert found == ["C1 10 µF 16 V axial ?word-misspelt"]
    assert "80 of 100 alike, asked for 80; next best radial" in told[0].message


def test_a_misspelt_header_is_named_with_its_score() -> None:
    _, told = read("Ref,Value,Voltge\nC1,10uF,16")
    hint = next(d.hint for d in told if d.code == "header-unknown")
    assert hint is not None
    assert "of 100 alike" in hint


def test_no_phrase_hides_a_statement_of_the_other_kind() -> None:
    """``tantalum smd`` as one phrase would state the kind and swallow the mount."""
    for table, other in ((KIND_WORDS, MOUNT_WORDS), (MOUNT_WORDS, KIND_WORDS)):
        for phrase in table:
            if phrase not in other:
                assert not set(phrase.split()) & set(other), phrase
