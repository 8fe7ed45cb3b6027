"""What is handed out: the wheel holds all the tool needs and nothing else, and works where nothing but it is."""

from __future__ import annotations

import ast
import os
import subprocess
import sys
import tarfile
import tomllib
import zipfile
from importlib.metadata import packages_distributions
from pathlib import Path
from typing import Any

import pytest

from tests.whole import licences
from tests.whole.lowest import bounds

ROOT = Path(__file__).parent.parent.parent
PACKAGE = ROOT / "recap"

DATA = {".csv", ".xlsx", ".md", ".toml", ".html", ".css", ".js", ".svg", ".webmanifest", ".typed"}
"""What the wheel holds besides modules: templates, the demo, the guide, the page."""


def project() -> dict[str, Any]:
    stated: dict[str, Any] = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
    return stated


def build(target: str, folder: Path) -> Path:
    done = subprocess.run(
        [sys.executable, "-m", "hatchling", "build", "-t", target, "-d", str(folder)],
        cwd=ROOT, capture_output=True, text=True, check=False, timeout=120,
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    (built,) = folder.iterdir()
    return built


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return build("wheel", tmp_path_factory.mktemp("wheel"))


@pytest.fixture(scope="module")
def names(wheel: Path) -> set[str]:
    with zipfile.ZipFile(wheel) as packed:
        return set(packed.namelist())


@pytest.fixture(scope="module")
def alone(wheel: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The wheel installed by itself, away from the checkout; libraries are those of this environment."""
    target = tmp_path_factory.mktemp("alone")
    command = [sys.executable, "-m", "pip", "install", "--quiet", "--no-deps", "--target", str(target), str(wheel)]
    subprocess.run(command, check=True, timeout=120)
    return target


def recap(alone: Path, folder: Path, *words: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-P", "-m", "recap", *words],
        cwd=folder, env={**os.environ, "PYTHONPATH": str(alone), "NO_COLOR": "1"},
        capture_output=True, text=True, encoding="utf-8", check=False, timeout=120,
    )  # fmt: skip


def own_files(folder: Path) -> set[str]:
    """What git keeps of a folder: a record, a cache or compiled modules that lie in it aren't part of it."""
    listed = subprocess.run(
        ["git", "ls-files", "--cached", "--others", "--exclude-standard", "."],
        cwd=folder, capture_output=True, text=True, check=True,
    )  # fmt: skip
    return {name for name in listed.stdout.splitlines() if (folder / name).exists()}


PICTURES = "pictures/"
"""Of the README, in the demo's folder: no part of a bench."""


def test_every_file_of_the_package_is_in_the_wheel_and_no_other(names: set[str]) -> None:
    wanted = {f"recap/{name}" for name in own_files(PACKAGE)}
    wanted |= {
        f"recap/templates/demo/demo/{name}" for name in own_files(ROOT / "demo") if not name.startswith(PICTURES)
    }
    wanted |= {f"recap/templates/demo/catalogs/{name}" for name in own_files(ROOT / "catalogs")}
    assert {name for name in names if ".dist-info/" not in name} == wanted


def test_the_wheel_holds_what_isn_t_a_module_too(names: set[str]) -> None:
    assert "recap/py.typed" in names
    assert "recap/templates/bench/bench.toml" in names
    assert "recap/templates/demo/demo/bench.toml" in names
    assert "recap/templates/demo/catalogs/suppliers.csv" in names
    assert any(name.startswith("recap/fit/page/static/") for name in names)
    assert any(name.startswith("recap/fit/page/templates/") for name in names)
    assert any(name.startswith("recap/guide/pages/") for name in names)
    assert any(name.endswith(".dist-info/licenses/LICENSE") for name in names)
    stray = {name for name in names if ".dist-info/" not in name and Path(name).suffix not in {".py", *DATA}}
    assert stray == set()


def test_the_source_archive_builds_and_tests_the_same(tmp_path: Path) -> None:
    with tarfile.open(build("sdist", tmp_path)) as packed:
        held = {name.partition("/")[2] for name in packed.getnames()}
    assert {"pyproject.toml", "README.md", "LICENSE", "CHANGELOG.md", "DEVELOPERS.md", "tests/run.sh"} <= held
    assert {"demo/bench.toml", "catalogs/suppliers.csv", "recap/py.typed"} <= held
    assert {name.split("/")[0] for name in held} <= {
        "recap", "demo", "catalogs", "tests", "pyproject.toml", "README.md", "LICENSE", "CHANGELOG.md",
        "DEVELOPERS.md", "PKG-INFO", ".gitignore",
    }  # fmt: skip


def test_the_wheel_alone_orders_the_demo_and_a_new_bench(alone: Path, tmp_path: Path) -> None:
    version = recap(alone, tmp_path, "--version")
    assert version.stdout == f"recap {project()['project']['version']}\n"
    for words in (["new", "mine"], ["new", "--demo", "shown"]):
        made = recap(alone, tmp_path, *words)
        assert made.returncode == 0, made.stderr
        done = recap(alone, tmp_path, "order", words[-1])
        assert done.returncode == 0, done.stderr
        assert "proven" in done.stdout


def test_the_wheel_alone_is_what_was_run(alone: Path, tmp_path: Path) -> None:
    """Guards the test above: without it the checkout could have answered."""
    told = subprocess.run(
        [sys.executable, "-P", "-c", "import recap; print(recap.__file__)"],
        cwd=tmp_path, env={**os.environ, "PYTHONPATH": str(alone)}, capture_output=True, text=True, check=True,
    )  # fmt: skip
    assert Path(told.stdout.strip()).is_relative_to(alone)


def imported(folder: Path) -> set[str]:
    """Top-level names of everything that the modules below a folder import."""
    found: set[str] = set()
    for path in folder.rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Import):
                found |= {alias.name.split(".")[0] for alias in node.names}
            elif isinstance(node, ast.ImportFrom) and node.module and not node.level:
                found.add(node.module.split(".")[0])
    return found - set(sys.stdlib_module_names) - {"recap", "tests"}


def distributions(modules: set[str]) -> set[str]:
    homes = packages_distributions()
    return {homes[name][0].lower().replace("_", "-") for name in modules}


def test_what_is_imported_is_declared_and_what_is_declared_is_imported() -> None:
    assert distributions(imported(PACKAGE)) == set(bounds())


RUN_AS_PROGRAMS = {"hatchling", "mypy", "ruff", "pytest-xdist"}
TYPES_ONLY = {"pandas-stubs", "scipy-stubs", "types-openpyxl"}
BEHIND_A_FACADE = {"httpx"}
"""Starlette's test client is made of it."""


def test_what_the_tests_import_is_declared_for_them() -> None:
    extra = {text.split(">=")[0] for text in project()["project"]["optional-dependencies"]["test"]}
    used = distributions(imported(ROOT / "tests"))
    assert used - set(bounds()) <= extra
    assert extra - used - RUN_AS_PROGRAMS - TYPES_ONLY <= BEHIND_A_FACADE


def test_every_library_has_a_lowest_version_and_one_it_stays_below() -> None:
    assert {name for name, (_, high) in bounds().items() if high is None} == set()


def test_the_table_of_licences_is_the_one_that_the_libraries_state() -> None:
    page = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    start, end = page.index(licences.BEGIN), page.index(licences.END) + len(licences.END)
    shown, made = page[start:end].splitlines(), licences.table().splitlines()
    assert [line.split(" | ")[:3] for line in shown] == [line.split(" | ")[:3] for line in made]
    for ours, theirs in zip(shown[3:-1], made[3:-1], strict=True):
        assert families(ours) & families(theirs), f"{ours}: run python tests/whole/licences.py"


def families(row: str) -> set[str]:
    """BSD for BSD-3-Clause: releases of one library word the same licence more or less exactly."""
    return {word.partition("-")[0] for word in licences.words(row.split(" | ")[3].strip("| "))}


def test_all_that_comes_along_may_be_passed_on() -> None:
    found = licences.come_along()
    assert set(bounds()) <= set(found)
    for name, library in found.items():
        stated = licences.words(licences.licence(library))
        assert stated <= licences.FREE, f"{name}: {licences.licence(library)}"


def test_only_pythons_that_were_tried_are_declared() -> None:
    stated = project()["project"]
    assert stated["requires-python"] == ">=3.11"
    declared = [c for c in stated["classifiers"] if c.startswith("Programming Language :: Python :: 3.")]
    minors = [int(c.rpartition(".")[2]) for c in declared]
    assert minors == [11, 12, 13, 14]
    assert sys.version_info.minor in minors
