"""A tiny bench folder that is in order, to be put out of order in one place at a time. All names are invented."""

from __future__ import annotations

from typing import TYPE_CHECKING

from recap.bench import Bench, load_bench
from recap.codes import register
from recap.diagnostics import Diagnostic, Severity

if TYPE_CHECKING:
    from pathlib import Path

FILES = {
    "bench.toml": 'currency = "EUR"\n',
    "caplists/K7.csv": (
        "ref,value,volts,mount,kind,board\n"
        "C1,47 µF,16,radial,electrolytic,PSU\n"
        "C2,10 µF,50,radial,electrolytic,AUDIO\n"
    ),
    "sets.csv": "set,chassis,boards,job,note\nS1,K7,,full,\nS2,K7,PSU,full,\n",
    "catalogs/pellworth.csv": (
        "part,maker,value,volts,temp,life,mount,kind,prices\n"
        "P-47-25,Ombrel,47,25,105,2000,radial,electrolytic,1:0.42 10:0.31\n"
        "P-10-50,Ombrel,10,50,105,2000,radial,electrolytic,1:0.20\n"
    ),
    "catalogs/suppliers.csv": "supplier,currency,rate,shipping\npellworth,EUR,1,0:5.90 50:0\n",
}  # fmt: skip


def make(folder: Path, change: dict[str, str | bytes | None]) -> Path:
    """Write the bench with some files replaced, added, or (None) left out."""
    for name, content in {**FILES, **change}.items():
        if content is None:
            continue
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(content if isinstance(content, bytes) else content.encode())
    return folder


def load(folder: Path, change: dict[str, str | bytes | None] | None = None) -> tuple[Bench, list[Diagnostic]]:
    """Load the bench so changed; every code told is a registered one."""
    bench, told = load_bench(make(folder, change or {}))
    assert {d.code for d in told} <= set(register())
    return bench, told


def errors(folder: Path, change: dict[str, str | bytes | None]) -> list[tuple[str, str, int | None, str | None]]:
    """Return code, file, row and column of every error; each tells what to do."""
    _, told = load(folder, change)
    found = [d for d in told if d.severity is Severity.ERROR]
    assert all(d.message and d.hint for d in found), found
    return [(d.code, d.source.file.removeprefix(f"{folder}/"), d.source.row, d.source.column) for d in found]


def warnings(folder: Path, change: dict[str, str | bytes | None]) -> list[tuple[str, int | None, str | None]]:
    """Return code, row and column of every warning of a bench that loads."""
    _, told = load(folder, change)
    assert not [d for d in told if d.severity is Severity.ERROR], told
    return [(d.code, d.source.row, d.source.column) for d in told if d.severity is Severity.WARNING]
