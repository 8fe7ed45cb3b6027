"""What was read is kept in a folder beside the bench, each entry under the digest of what it was read from.

A changed file or a changed program finds nothing, so nothing stale can come out. Deleting the folder costs only time;
where it can't be written nothing is kept.
"""

from __future__ import annotations

import contextlib
import hashlib
from dataclasses import replace
from functools import lru_cache
from pathlib import Path
from typing import TYPE_CHECKING, Any

from recap.diagnostics import Diagnostic, Severity, Source
from recap.files import take_away, unfinished_name

if TYPE_CHECKING:
    import mmap
    from collections.abc import Callable, Iterable, Iterator

FOLDER = ".recap-cache"
BLOCK = 2**24
READERS = ("read", "normalise", "bench")
"""Packages whose code decides what an entry holds, together with the modules that all share."""


@lru_cache(maxsize=1)
def _code_digest() -> bytes:
    whole = hashlib.sha256()
    package = Path(__file__).parent.parent
    for folder in (package, *(package / name for name in READERS)):
        for path in sorted(folder.glob("*.py")):
            whole.update(path.read_bytes())
    return whole.digest()


def digest_of(content: bytes) -> str:
    """Return the digest of a file's content, without other threads: at the interpreter's end none may be started."""
    return digest_by(content, map)


def digest_by(content: bytes | mmap.mmap, each: Callable[..., Iterable[bytes]]) -> str:
    """Return a digest of the content, block by block, and of the code that reads it."""
    with memoryview(content) as whole:
        blocks = [whole[start : start + BLOCK] for start in range(0, len(whole), BLOCK)]
        digests = list(each(lambda block: hashlib.sha256(block).digest(), blocks))
        for block in blocks:
            block.release()
        size = len(whole).to_bytes(8)
    return hashlib.sha256(b"".join([_code_digest(), size, *digests])).hexdigest()


def entry_of(folder: Path, path: Path, digest: str, ending: str) -> Path:
    """Return where the entry of a file with this digest is, or would be."""
    return folder / f"{_stem(path)}.{digest[:32]}{ending}"


def entries_of(folder: Path, path: Path, ending: str) -> Iterator[Path]:
    """Yield all entries of files of this name."""
    yield from folder.glob(f"{_stem(path)}.*{ending}")


def _stem(path: Path) -> str:
    """Return a name for the file's entries that no pattern of names takes for a wildcard."""
    return hashlib.sha256(path.name.encode("utf-8", "surrogatepass")).hexdigest()[:16]


def store(folder: Path, path: Path, digest: str, ending: str, write: Callable[[Path], object]) -> None:
    """Have an entry written, all or nothing, and take away older ones of the same file. Raises OSError."""
    folder.mkdir(exist_ok=True)
    (folder / ".gitignore").write_text("*\n", encoding="utf-8")
    target = entry_of(folder, path, digest, ending)
    temporary = unfinished_name(target)
    try:
        write(temporary)
        temporary.replace(target)
    finally:
        take_away(temporary)
    for other in entries_of(folder, path, ending):
        if other != target:
            with contextlib.suppress(FileNotFoundError):
                other.unlink()


def flat(one: Diagnostic) -> list[object]:
    """Return what is told as a list of plain values."""
    place = one.source
    return [one.severity, one.code, one.message, place.file, place.sheet, place.row, place.column, one.hint, one.found]


def unflat(written: list[Any], before: str, now: str) -> Diagnostic:
    """Rebuild it; a copy of the file ``before`` that is read elsewhere is told of under its name of ``now``."""
    severity, code, message, file, sheet, row, column, hint, found = written
    told = Diagnostic(Severity(severity), code, message, Source(file, sheet, row, column), hint, found)
    return replace(told, source=replace(told.source, file=now)) if file == before else told
