"""The shape of the code, held: one-way imports, modules of one size, heavy libraries in their places."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

PACKAGE = Path(__file__).parent.parent / "recap"

LAYERS = (
    {"diagnostics", "files"},
    {"model", "codes"},
    {"money"},
    {"read"},
    {"normalise"},
    {"settings"},
    {"bench"},
    {"match"},
    {"optimise"},
    {"order"},
    {"audit"},
    {"fit"},
    {"guide"},
    {"show"},
    {"cli"},
)
"""Imports point from a later line to an earlier one, or stay inside one folder."""

HOMES = {
    "pandas": ("read", "match", "bench"),
    "openpyxl": ("read", "normalise", "order", "fit"),
    "pulp": ("optimise",),
    "highspy": ("optimise",),
    "rapidfuzz": ("read", "normalise", "settings", "bench", "audit", "cli"),
    "sqlite3": ("audit",),
    "rich": ("show", "cli"),
    "typer": ("cli",),
    "starlette": ("fit",),
    "uvicorn": ("fit", "cli"),
    "reportlab": ("fit",),
    "matplotlib": ("order", "match", "fit", "show"),
}
"""Where a heavy or narrow library may be imported: the core knows nothing of Typer, HTML or SQLite."""

LONGEST_FILE = 400
NOUNS = {"model.py": 600, "codes.py": 900}
"""Declarations only, kept in one place so that a reader finds them: no logic lives here."""
LONGEST_FUNCTION = 50


def modules() -> list[Path]:
    return sorted(PACKAGE.rglob("*.py"))


def place(path: Path) -> str:
    """The top-level name a module belongs to: its folder, or itself where it lies at the root."""
    parts = path.relative_to(PACKAGE).with_suffix("").parts
    return parts[0]


def rank(name: str) -> int | None:
    return next((i for i, layer in enumerate(LAYERS) if name in layer), None)


def imports(path: Path) -> list[tuple[str, ast.stmt, bool]]:
    """Every import as (dotted name, node, inside a function)."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    inside = {
        id(child)
        for node in ast.walk(tree)
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef)
        for child in ast.walk(node)
    }
    found: list[tuple[str, ast.stmt, bool]] = []
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            found += [(alias.name, node, id(node) in inside) for alias in node.names]
        elif isinstance(node, ast.ImportFrom) and node.module:
            if node.module == "recap":
                found += [(f"recap.{alias.name}", node, id(node) in inside) for alias in node.names]
            else:
                found.append((node.module, node, id(node) in inside))
    return found


@pytest.mark.parametrize("path", modules(), ids=lambda p: str(p.relative_to(PACKAGE)))
def test_imports_point_one_way(path: Path) -> None:
    here = place(path)
    if here in {"__init__", "__main__"}:
        return
    own = rank(here)
    assert own is not None, f"{here} is in no layer: add it to LAYERS"
    for name, _, _ in imports(path):
        if name.startswith("recap."):
            there = name.split(".")[1]
            other = rank(there)
            assert other is not None, f"{path}: {name} is in no layer"
            assert there == here or other < own, f"{path.name} ({here}) must not import {name}"


def test_no_modules_import_each_other_in_a_ring() -> None:
    """Imports for the types alone count, too: who reads one module of a ring must read all of it."""
    names = {".".join(("recap", *path.relative_to(PACKAGE).with_suffix("").parts)): path for path in modules()}
    after: dict[str, set[str]] = {}
    for name, path in names.items():
        after[name] = set()
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.ImportFrom) and node.module:
                whole = {f"{node.module}.{alias.name}" for alias in node.names} & names.keys()
                after[name] |= whole or ({node.module} & names.keys())
    while free := [name for name, others in after.items() if not others & after.keys()]:
        for name in free:
            del after[name]
    assert sorted(after) == []


LATE = {
    "bench/load.py": ["recap.normalise.caplist", "recap.bench.onhand", "recap.bench.onhand"],
    "bench/catalogues.py": ["recap.bench.checked"],
    "bench/fields.py": ["recap.normalise.one_part"],
    "order/run.py": ["recap.order.impossible"],
}
"""What takes long to import and is seldom wanted: readers, where all is kept; reasons, where there is an order."""


@pytest.mark.parametrize("path", modules(), ids=lambda p: str(p.relative_to(PACKAGE)))
def test_no_import_of_ours_is_hidden_in_a_function_outside_the_commands(path: Path) -> None:
    if place(path) in {"cli", "__init__"}:
        return
    hidden = [name for name, _, inside in imports(path) if inside and name.startswith("recap")]
    assert hidden == LATE.get(str(path.relative_to(PACKAGE).as_posix()), [])


@pytest.mark.parametrize("path", modules(), ids=lambda p: str(p.relative_to(PACKAGE)))
def test_libraries_stay_in_their_places(path: Path) -> None:
    for name, _, _ in imports(path):
        homes = HOMES.get(name.split(".")[0])
        if homes is not None:
            assert place(path) in homes, f"{path.name} must not import {name}"


@pytest.mark.parametrize("path", modules(), ids=lambda p: str(p.relative_to(PACKAGE)))
def test_modules_and_functions_stay_small(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    assert len(text.splitlines()) <= NOUNS.get(str(path.relative_to(PACKAGE)), LONGEST_FILE)
    for node in ast.walk(ast.parse(text)):
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
            body = node.body[1:] if ast.get_docstring(node) else node.body
            first = body[0].lineno if body else node.lineno
            assert (node.end_lineno or first) - first < LONGEST_FUNCTION, f"{path.name}: {node.name} is too long"


FOR_TESTS = {"rated_voltage_code", "tolerance_letter", "date_mark", "week_mark", "table_from_text", "open_record"}
"""The way back of some readers, with which tests write what is then read; and the record of a folder."""


def test_what_is_defined_is_used() -> None:
    """A function or class that nothing in the package names is dead, whatever tests say of it."""
    trees = [ast.parse(path.read_text(encoding="utf-8")) for path in modules()]
    used: set[str] = set()
    for tree in trees:
        for node in ast.walk(tree):
            if isinstance(node, ast.Name):
                used.add(node.id)
            elif isinstance(node, ast.Attribute):
                used.add(node.attr)
            elif isinstance(node, ast.Constant) and isinstance(node.value, str):
                used.add(node.value)  # names that are looked up: the library's front door
    defined = {
        node.name
        for tree in trees
        for node in tree.body
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef | ast.ClassDef) and not node.name.startswith("__")
    }
    assert sorted(defined - used - FOR_TESTS) == []
