"""Make a bench folder to start from: a small invented scenario that works, or the demo bench whole."""

from __future__ import annotations

import os
import re
import shutil
from importlib import resources
from pathlib import Path
from typing import TYPE_CHECKING

from recap.diagnostics import Diagnostic, Source, error
from recap.files import noting, unfinished_name

if TYPE_CHECKING:
    from collections.abc import Mapping
    from importlib.resources.abc import Traversable

_PACKAGE = "recap"
_CATALOGS_LINE = re.compile(rb'^catalogs\s*=\s*"\.\./catalogs"\s*(#.*)?$', re.MULTILINE)

_OWN_PRICES = {b"offer_days = 0   ": b"offer_days = 365 ", b", for these are made up": b""}
"""The example's prices are made up and don't age; those of a bench that is filled do."""

_NOT_THE_DEMO = (".", "record.db", "orders/", "pictures/")
"""What may lie in the demo's folder without being part of it."""


def starter_files() -> dict[str, bytes]:
    """Return the commented example bench: contents by path from the bench folder."""
    return _contents(resources.files(_PACKAGE) / "templates" / "bench")


def empty_files() -> dict[str, bytes]:
    """Return the files of a bench with nothing on it: settings, and tables of remarks and headers, to be filled."""
    kept = {"bench.toml", "sets.csv", "drawer.csv", "extras.csv", "catalogs/suppliers.csv"}
    files = {name: data for name, data in starter_files().items() if name in kept}
    settings = files.pop("bench.toml")
    for example, own in _OWN_PRICES.items():
        settings = settings.replace(example, own)
    return {"bench.toml": settings, **{name: _head(data) for name, data in files.items()}}


def _head(table: bytes) -> bytes:
    """Return a table's remarks and its row of headers."""
    lines = table.splitlines(keepends=True)
    header = next(at for at, line in enumerate(lines) if not line.startswith(b"#"))
    return b"".join(lines[: header + 1])


def demo_files() -> dict[str, bytes]:
    """Return the demo bench with its catalogues inside the folder.

    In an installed package they lie in it, in a checkout beside it.
    """
    packed = resources.files(_PACKAGE) / "templates" / "demo"
    beside = Path(str(resources.files(_PACKAGE))).parent
    home: Traversable = packed if packed.is_dir() else beside
    files = _contents(home / "demo")
    files = {name: data for name, data in files.items() if not name.startswith(_NOT_THE_DEMO)}
    files |= {f"catalogs/{name}": data for name, data in _contents(home / "catalogs").items()}
    files["bench.toml"] = _CATALOGS_LINE.sub(b'catalogs = "catalogs"', files["bench.toml"])
    return files


def _contents(folder: Traversable, prefix: str = "") -> dict[str, bytes]:
    found: dict[str, bytes] = {}
    for item in sorted(folder.iterdir(), key=lambda entry: entry.name):
        if item.name.startswith(".") or item.name == "__pycache__":
            continue
        if item.is_dir():
            found |= _contents(item, f"{prefix}{item.name}/")
        else:
            found[prefix + item.name] = item.read_bytes()
    return found


def write_starter(folder: Path, files: Mapping[str, bytes]) -> list[Diagnostic]:
    """Write ``files`` below ``folder``; nothing at all where any of them is there already.

    Raises OSError where the folder can't be written.
    """
    if folder.exists() and not folder.is_dir():
        return [error("bench-no-folder", f"{folder} is a file", Source(str(folder)), "name a folder")]
    there = [name for name in files if (folder / name).exists()]
    if there:
        hint = "name another folder; nothing was written"
        return [error("file-exists", f"{name} is there already", Source(str(folder / name)), hint) for name in there]
    folder.parent.mkdir(parents=True, exist_ok=True)
    made = unfinished_name(folder)
    try:
        made.mkdir(0o700)
        for name, data in files.items():
            (made / name).parent.mkdir(parents=True, exist_ok=True)
            (made / name).write_bytes(data)
        if folder.exists():
            _move_into(made, folder, files)
        else:
            made.chmod(0o777 & ~_umask())
            with noting(folder, made):
                made.rename(folder)
    finally:
        shutil.rmtree(made, ignore_errors=True)
    return []


def _move_into(made: Path, folder: Path, files: Mapping[str, bytes]) -> None:
    for name in files:
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        with noting(folder / name, made / name):
            (made / name).rename(folder / name)


def _umask() -> int:
    current = os.umask(0)
    os.umask(current)
    return current
