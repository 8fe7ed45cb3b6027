"""One bench, saved by other systems: line ends, byte order marks, code pages, backslashes, names with blanks."""

from __future__ import annotations

import unicodedata
from dataclasses import replace
from typing import TYPE_CHECKING

import pytest

from recap.bench import Bench, load_bench
from recap.bench.starter import starter_files
from recap.diagnostics import Severity, Source

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from recap.diagnostics import Diagnostic

NOWHERE = Source("")


def laid_out(folder: Path, change: Callable[[bytes], bytes] = bytes) -> Path:
    for name, data in starter_files().items():
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(change(data))
    return folder


def meaning(bench: Bench) -> tuple[object, ...]:
    """What a bench says, wherever its files lie."""
    return (
        {name: [replace(p, source=NOWHERE, text="") for p in held.positions] for name, held in bench.caplists.items()},
        [replace(unit, source=NOWHERE) for unit in bench.sets],
        {
            name: [replace(held.part(row), source=NOWHERE) for row in range(len(held))]
            for name, held in bench.catalogues.items()
        },
        [(replace(lying.part, source=NOWHERE), lying.qty, lying.place) for lying in bench.drawer],
        [replace(extra, source=NOWHERE) for extra in bench.extras],
        {name: replace(terms, source=NOWHERE) for name, terms in bench.suppliers.items()},
        bench.settings,
    )


def errors(told: list[Diagnostic]) -> list[Diagnostic]:
    return [one for one in told if one.severity is Severity.ERROR]


SAVED: dict[str, Callable[[bytes], bytes]] = {
    "Windows line ends": lambda data: data.replace(b"\n", b"\r\n"),
    "line ends of old Macs": lambda data: data.replace(b"\n", b"\r"),
    "UTF-8 with a byte order mark": lambda data: b"\xef\xbb\xbf" + data,
    "CP1252": lambda data: data.decode("utf-8").encode("cp1252", "replace"),
    "no line end at the end": lambda data: data.rstrip(b"\n"),
    "blank lines at the end": lambda data: data + b"\n\n\n",
}


@pytest.mark.parametrize("how", SAVED)
def test_a_bench_saved_elsewhere_means_the_same(tmp_path: Path, how: str) -> None:
    original, told = load_bench(laid_out(tmp_path / "one"))
    assert errors(told) == []
    other, told = load_bench(laid_out(tmp_path / "two", SAVED[how]))
    assert errors(told) == []
    assert meaning(other) == meaning(original)


def test_a_folder_with_blanks_and_umlauts_in_its_name_is_a_folder(tmp_path: Path) -> None:
    original, _ = load_bench(laid_out(tmp_path / "one"))
    other, told = load_bench(laid_out(tmp_path / "Geräte (alt) & 'neu'" / "µ bench"))
    assert errors(told) == []
    assert meaning(other) == meaning(original)


@pytest.mark.parametrize("written", ["'..\\meine Preise'", '"..\\\\meine Preise"', '"../meine Preise"'])
def test_the_catalogues_are_found_by_a_path_written_on_windows(tmp_path: Path, written: str) -> None:
    bench = laid_out(tmp_path / "one")
    (bench / "catalogs").rename(tmp_path / "meine Preise")
    settings = (bench / "bench.toml").read_text(encoding="utf-8")
    line = next(line for line in settings.splitlines() if line.startswith("catalogs"))
    (bench / "bench.toml").write_text(settings.replace(line, f"catalogs = {written}"), encoding="utf-8")
    loaded, told = load_bench(bench)
    assert errors(told) == []
    assert sorted(loaded.catalogues) == ["mothkettle", "quillbarrow"]


def test_a_backslash_that_toml_forbids_is_explained(tmp_path: Path) -> None:
    """TOML 1.0: in a basic string a backslash begins an escape, and unknown escapes are errors."""
    (tmp_path / "bench.toml").write_text('catalogs = "..\\meine Preise"\n', encoding="utf-8")
    _, told = load_bench(tmp_path)
    assert any(one.code == "settings-broken" and "/" in (one.hint or "") for one in told)


def test_names_from_a_mac_are_those_of_the_tables(tmp_path: Path) -> None:
    """Its file names may have an accent apart from its letter (NFD, Unicode annex 15); to the eye they are the same."""
    folder = laid_out(tmp_path)
    for old, new, table in (("wrenlet", "Küchenradio", "sets.csv"), ("mothkettle", "Möhre", "catalogs/suppliers.csv")):
        (path,) = folder.rglob(f"{old}.csv")
        path.rename(path.with_name(unicodedata.normalize("NFD", f"{new}.csv")))
        text = (folder / table).read_text(encoding="utf-8")
        (folder / table).write_text(text.replace(old, new), encoding="utf-8")
    bench, told = load_bench(folder)
    assert errors(told) == []
    assert "Küchenradio" in bench.caplists
    assert "Möhre" in bench.catalogues
