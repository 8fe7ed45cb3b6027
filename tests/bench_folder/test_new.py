"""``recap new``: the example bench works as it is, and nothing that exists is touched."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING

from typer.testing import CliRunner

from recap.bench import load_bench
from recap.bench.starter import demo_files, starter_files
from recap.cli import app
from recap.diagnostics import Severity
from recap.settings import RULES, SPARES, TOP

if TYPE_CHECKING:
    from pathlib import Path

RUN = CliRunner()


def test_the_example_bench_orders_at_once(tmp_path: Path) -> None:
    folder = tmp_path / "mybench"
    made = RUN.invoke(app, ["new", str(folder)])
    assert made.exit_code == 0, made.output
    bench, told = load_bench(folder)
    assert [d for d in told if d.severity is not Severity.NOTE] == []
    assert (len(bench.sets), len(bench.caplists), len(bench.catalogues)) == (3, 2, 2)
    done = RUN.invoke(app, ["order", str(folder), "--json"])
    assert done.exit_code == 0, done.output
    document = json.loads(done.stdout)
    assert (document["status"], document["unmet"]) == ("optimal", [])


def test_the_demo_bench_is_whole_in_one_folder(tmp_path: Path) -> None:
    folder = tmp_path / "demo"
    made = RUN.invoke(app, ["new", str(folder), "--demo", "--json"])
    assert made.exit_code == 0, made.output
    assert set(json.loads(made.stdout)["files"]) == set(demo_files())
    bench, told = load_bench(folder)
    assert [d for d in told if d.severity is Severity.ERROR] == []
    assert (len(bench.sets), len(bench.catalogues)) == (6, 3)
    assert all(str(folder) in catalogue.file for catalogue in bench.catalogues.values())


def test_nothing_that_exists_is_touched(tmp_path: Path) -> None:
    (tmp_path / "sets.csv").write_text("mine")
    made = RUN.invoke(app, ["new", str(tmp_path)])
    assert made.exit_code == 1
    assert "sets.csv is there already" in made.output
    assert [path.name for path in tmp_path.iterdir()] == ["sets.csv"]
    assert (tmp_path / "sets.csv").read_text() == "mine"


def test_other_files_in_the_folder_do_not_matter(tmp_path: Path) -> None:
    (tmp_path / "photo.jpg").write_bytes(b"x")
    assert RUN.invoke(app, ["new", str(tmp_path)]).exit_code == 0
    assert (tmp_path / "photo.jpg").read_bytes() == b"x"
    assert (tmp_path / "caplists" / "wrenlet.csv").exists()


def test_a_file_is_no_folder(tmp_path: Path) -> None:
    (tmp_path / "file").touch()
    assert RUN.invoke(app, ["new", str(tmp_path / "file")]).exit_code == 1


def test_every_setting_is_shown_and_explained() -> None:
    text = starter_files()["bench.toml"].decode()
    for name in (*TOP, *SPARES, *RULES):
        line = next((line for line in text.splitlines() if line.lstrip("# ").startswith(f"{name} =")), "")
        assert "#" in line.lstrip("# "), name
